"""A lever and the pivot of its bracket state one joint; what does not fit is refused when the lever is read."""

from pathlib import Path

import numpy as np
import pytest

from parts.inputs.problems import InputError
from parts.vehicle.build import Build
from parts.vehicle.space.pivots import pivot_misfits

DEMO = Path(__file__).parents[2] / "params"
BUILD, PEDAL, SHIFT = "build.yaml", "hc-113-brake-pedal.yaml", "hc-114-shift-lever.yaml"
BRACKET = "hc-105-foot-bracket-right.yaml"
HINGE = "    hinge: pedal pivot\n"


def changed(folder, changes):
    """The demo with words of its files exchanged."""
    for path in DEMO.rglob("*.yaml"):
        copy = folder / path.relative_to(DEMO)
        copy.parent.mkdir(exist_ok=True)
        text = path.read_text()
        for old, new in changes.get(path.name, {}).items():
            assert old in text
            text = text.replace(old, new)
        copy.write_text(text)
    return Build(folder / BUILD)


def test_the_demos_levers_sit_on_their_pivots():
    build = Build(DEMO / BUILD)
    assert [*pivot_misfits(build, "HC-113"), *pivot_misfits(build, "HC-114")] == []


@pytest.mark.parametrize(
    ("file", "old", "new", "field", "says"),
    [
        (PEDAL, "{of: HC-105, value: pedal.spacer}", "3 mm", "spacer", "states 3 mm, and its pivot 4 mm"),
        (PEDAL, "{of: HC-105, value: pedal.bearing}", "6003-2RS", "bearing", "17 x 35 x 10 mm"),
        (PEDAL, "{of: HC-105, value: pedal.thrust}", "AXK 2542", "thrust", "20 x 35 mm"),
        (SHIFT, "{of: HC-104, value: shift.shoulder}", "13 mm", "journal", "13 mm, and its pivot 15 mm"),
        (SHIFT, "length: 24 mm", "length: 30 mm", "length", "30 mm wide"),
    ],
)  # fmt: skip
def test_another_size_is_refused_where_it_stands(tmp_path, file, old, new, field, says):
    build = changed(tmp_path, {file: {old: new}})
    with pytest.raises(InputError) as told:
        build.part("HC-113" if file == PEDAL else "HC-114")
    (problem,) = told.value.problems
    assert says in problem.wrong
    assert problem.field == f"hub.pivot.{field}" and Path(problem.file).name == file
    lines = (tmp_path / file).read_text().splitlines()
    assert new.removeprefix("length: ") in lines[problem.line - 1]


def test_a_bush_does_not_go_on_a_stub_for_bearings(tmp_path):
    moved = {
        "shift: shift pivot}": "shift: pedal pivot}",
        "pivot: shift pivot, toe": "pivot: pedal pivot, toe",
    }
    build = changed(tmp_path, {BUILD: moved})
    found = [one for one in pivot_misfits(build, "HC-114") if "HC-105" in one.wrong]
    assert [one.field for one in found] == ["hub.pivot.type"]
    assert "a hub on a bush does not go on a stub" in found[0].wrong


@pytest.mark.parametrize(
    ("file", "old", "new", "field", "says"),
    [
        (BRACKET, "at: {point: pedal stop}", "at: [78, 52]", "stop.radius", "stands 20.8 mm out along the arm"),
        (PEDAL, "{of: HC-105, value: stop.shoulder}", "20 mm", "stop", "move the post"),
        (BUILD, "offset: [43.1, 3.3, 23.5]", "offset: [43.1, -6.7, 23.5]", "stop", "which passes it"),
        (BRACKET, "at: {point: pedal spring}", "at: [24, -16]", "spring.anchor", "20.0 mm from there"),
    ],
)  # fmt: skip
def test_a_post_or_pin_elsewhere_is_refused(tmp_path, file, old, new, field, says):
    """The stop of HC-105 once stood at 78, 52: 16 ahead of the pivot and 56 over it, where no pedal strikes it."""
    build = changed(tmp_path, {file: {old: new}})
    found = [*pivot_misfits(build, "HC-113")]
    assert [one.field for one in found] == [field]
    assert says in f"{found[0].wrong}; {found[0].right}"


def test_a_peg_and_its_fork_state_one_joint():
    """The fork of a bracket for a tongue of 15 on a 3/8 in pin, its floor 15 behind it, 31 over the plate."""
    from parts.families.foot_bracket.family import FootControlBracket
    from parts.families.footpeg.family import Footpeg
    from parts.vehicle.space.pivots import _in_fork

    ears = {
        "thickness": "8 mm", "width": "30 mm", "depth": "15 mm", "corner": "2 mm", "floor_thickness": "16 mm",
        "throat": {"type": "blade", "thickness": "15 mm", "end": "12 mm"},
        "pin": {"bolt": "AN6", "nut": "slotted", "beyond": "18 mm"},
    }  # fmt: skip
    fork = {"type": "clevised", "at": ["-35 mm", "48 mm"], "height": "90 mm", "ears": ears}
    held = FootControlBracket.model_validate({**FootControlBracket.example, "peg": fork}).peg
    folding = Footpeg.examples[3]
    fits = Footpeg.model_validate({**folding, "shank": folding["shank"] | {"over": "31 mm"}}).shank
    assert [*_in_fork(fits, held, "HC-104")] == []
    off = Footpeg.model_validate(folding).shank
    assert [(path, wrong) for path, wrong, _ in _in_fork(off, held, "HC-104")] == [
        (("shank", "over"), "the peg states 34 mm, and HC-104 has 31 mm: its pin over the plate")
    ]
    plate = Footpeg.model_validate(Footpeg.examples[4]).shank
    assert [path for path, *_ in _in_fork(plate, held, "HC-104")] == [
        ("shank", "eye", "width"), ("shank", "eye", "pin"), ("shank", "over")
    ]  # fmt: skip
    bolted = Footpeg.model_validate(Footpeg.examples[2]).shank
    assert [path for path, *_ in _in_fork(bolted, held, "HC-104")] == [("shank", "type")]


def test_the_bracket_bears_the_stop_and_the_spring_of_its_pedal():
    """A kick of 0.42 of 85 kg lifts the pad 115 ahead; with the spring's 72 N it goes to the post, 45 along the arm."""
    build = Build(DEMO / BUILD)
    pull = float(build.bare("HC-113").facts()["greatest pull of the return spring"][0])
    cases = {one["name"]: one["forces"] for one in build.loads("HC-105")}
    on = {one["at"]: np.array([float(v.split()[0]) for v in one["force"]])
          for one in cases["boot lifts the brake pedal"]}  # fmt: skip
    arm, post, lug = np.array([115.0, 10.0]), np.array([43.1, 23.5]), np.array([-32.6, 15.2])
    way = np.array([-38.0, -32.0]) - lug
    way /= np.linalg.norm(way)
    turn = 0.42 * 85.0 * 9.80665 * 115.0 + pull * (lug[0] * way[1] - lug[1] * way[0])
    out = post @ arm / np.linalg.norm(arm)
    assert np.linalg.norm(on["stop"]) == pytest.approx(turn / out, rel=1e-6)
    assert np.linalg.norm(on["spring"]) == pytest.approx(pull, rel=1e-6)
    assert on["spring"][:2] == pytest.approx(-pull * way)
    assert not on["master cylinder"].any()  # a rod with a stop beside it is not pulled
    panic = [forces for name, forces in cases.items() if name.startswith("brake pedal panic")]
    assert [any(one["at"] == "spring" for one in forces) for forces in panic] == [False, True]


@pytest.mark.parametrize(
    ("old", "new", "field", "says"),
    [
        (HINGE, f"{HINGE}    axis: [seat, pedal pivt]\n", "bodies.brake pedal.axis[2]", "nearest is `pedal pivot`"),
        ("body: pedal spring lug", "body: pedal spring lag", "bodies.brake pedal.spring.body", "pedal spring lug"),
        ("stop: {at: pedal stop", "stop: {at: kick lever pad", "bodies.brake pedal.stop.at", "on the frame"),
        ("value: greatest pull of the return spring", "value: pull", "bodies.brake pedal.spring.pull.value", "force"),
        ("tail: {hinge:", "tail: {axis: forward, hinge:", "bodies.tail.axis", "a pair of links"),
        (HINGE, f"{HINGE}    axis: [0, 0, 0]\n", "cases[4]", "no direction"),
        (HINGE, f"{HINGE}    axis: forward\n", "cases[4]", "points at the hinge"),
    ],
)  # fmt: skip
def test_what_holds_a_lever_wrongly_is_refused(tmp_path, old, new, field, says):
    build = changed(tmp_path, {BUILD: {old: new}})
    with pytest.raises(InputError) as told:
        _ = build.ends
    found = [one for one in told.value.problems if one.field == field]
    assert found and says in str(found[0]), told.value
