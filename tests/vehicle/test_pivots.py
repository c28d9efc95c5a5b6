"""A lever and the pivot of its bracket state one joint; what does not fit is refused when the lever is read."""

from pathlib import Path

import pytest

from parts.inputs.problems import InputError
from parts.vehicle.build import Build
from parts.vehicle.space.pivots import pivot_misfits

DEMO = Path(__file__).parents[2] / "params"
BUILD, PEDAL, SHIFT = "build.yaml", "hc-113-brake-pedal.yaml", "hc-114-shift-lever.yaml"
BRACKET = "hc-105-foot-bracket-right.yaml"


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
        (SHIFT, "{of: HC-104, value: shift.shoulder}", "13 mm", "journal", "13 mm, and its pivot 14 mm"),
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
        (BRACKET, "  height: 18\n", "  height: 28\n", "stop", "which passes it"),
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
        "throat": {"type": "blade", "thickness": "15 mm", "end": "12 mm"}, "pin": {"bolt": "AN6", "nut": "slotted"},
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
    bolted = Footpeg.model_validate(Footpeg.examples[2]).shank
    assert [path for path, *_ in _in_fork(bolted, held, "HC-104")] == [("shank", "type")]
