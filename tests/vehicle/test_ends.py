"""Loads end on a part or on something that is named; parts sit where the build says, along their hinges."""

import re

import numpy as np
import pytest
from builds import DEMO, copied, parts_as_checked, refused, with_rear_end, write
from command import oneoff

from parts.folders.build_data import build_page_data
from parts.folders.build_files import bought
from parts.folders.records import record
from parts.vehicle.build import Build
from parts.vehicle.checks import check_build, with_solids
from parts.vehicle.file.loading import build_of
from parts.vehicle.space.interference import Clash

LOST = [
    # What is changed in the demo build, the field that is told, and words of the message.
    (("    points: {end: link on arm}\n", ""), "rear_end.arm_end", "on `arm` at `link on arm`, and no part"),
    (("    points: {pin: seat mount}\n", ""), "bodies.tail.link", "no load of `tail` reaches HC-101"),
    (("toe: shift toe, ", ""), "cases[", "on `shift lever` at `shift toe`, and no part"),
    (("tab: strut foot, ", ""), "cases[", "on the frame at `strut foot`"),
    (("pick_up: link on swing arm\n  arm_end: link on arm", "pick_up: link on arm\n  arm_end: link on swing arm"),
     "rear_end.arm_end", "on `arm` at `link on swing arm`, and no part"),
    (("pivot: swing arm pivot\n  axle: rear axle", "pivot: rear axle\n  axle: swing arm pivot"),
     "vehicle.rear_axle", "mm from `swing arm pivot`"),
    (("rear_axle: rear axle", "rear_axle: swing arm pivot"), "vehicle.rear_axle", "mm from `rear axle`"),
    (("at: seat, factor", "at: seat mount, factor"), "cases[1].at", "`seat mount` sits on `tail`"),
    (("points: {peg: left peg,", "points: {pegg: left peg,"), "parts[4].points.pegg", "no load point `pegg`"),
    (("  swing arm: of the donor", "  swimg arm: of the donor"), "not_modelled.swimg arm", "nearest is `swing arm`"),
    (("  swing arm pivot: bosses on the frame", "  frame: all of it"), "not_modelled.frame", "one by one"),
    (("  - {type: seat, at: seat, factor: 3.5}", "  - {type: kick lever, name: other, at: kick lever pad}",
      "at: seat rail, force: 1.6", "at: headstock joint, force: 1.6",
      "at: seat rail, force: 1.4", "at: headstock joint, force: 1.4"),
     "bodies.tail.loaded_at", "no load case reaches `tail`"),
    (("links:\n", "links:\n  stay: {frame: tail hinge, body: seat}\n"), "links.stay", "holds no body"),
    (("file: hc-104-foot-bracket-left.yaml\n    place: {origin: \"lower engine bolt, left\"",
      "file: hc-104-foot-bracket-left.yaml\n    place: {origin: \"lower engine bolt, right\""),
     "parts[4].place", "is for the left side"),
    (("file: hc-104-foot-bracket-left.yaml\n    place: {origin: \"lower engine bolt, left\", x: forward",
      "file: hc-104-foot-bracket-left.yaml\n    place: {origin: \"lower engine bolt, left\", x: rearward"),
     "parts[4].place", "faces the middle"),
    (("teeth: {anchor: 53, arm: 54}", "teeth: {anchor: 53, arm: 48}"), "parts[3]", "54 teeth"),
    (("teeth: {anchor: 53, arm: 54}", "teeth: {anchor: 54, arm: 54}"), "parts[17]", "53 teeth"),
    (("type: engine vibration, speed: 8000", "type: engine vibration, speed: 8600"), "parts[21]", "turns at 8600"),
]  # fmt: skip


@pytest.mark.parametrize(("change", "field", "words"), LOST)
def test_what_ends_nowhere_is_an_error_at_its_place(tmp_path, change, field, words):
    told = [
        one
        for one in refused(copied(tmp_path, *zip(change[::2], change[1::2], strict=True)))
        if words in str(one)
        and (one.field == field or field in ("bodies.tail.link", one.field[:6]))
    ]
    assert told and told[0].line > 0, refused(tmp_path / "build.yaml")


def test_a_part_alone_is_not_checked_without_the_loads_it_lost(tmp_path):
    copied(tmp_path, LOST[0][0])
    run = oneoff("check", tmp_path / "hc-103-torsion-arm.yaml")
    assert run.returncode == 2


def test_every_force_of_a_case_is_taken_by_a_part_or_by_what_is_named():
    build = build_of(DEMO)
    for case in build.cases:
        ends = build.ends[case.name]
        assert len(ends) == sum(
            bool(np.any(np.abs([*one.force, *one.moment]) > 1e-6)) and not (one.mirrored or one.also)
            for one in case.held
        )  # fmt: skip
        assert all(bool(one.takers) != bool(one.not_modelled) for one in ends)
    (peg,) = build.ends["standing on the left peg at landing"]
    assert peg.takers == (("HC-104", "peg"), ("HC-115", "foot")) and peg.body == "frame"


@pytest.mark.parametrize(
    ("old", "new", "name", "demand"),
    [
        # The pedal's pivot 8 mm farther forward than the bracket has it.
        ("pedal pivot: {from: \"lower engine bolt, right\", offset: [62, -47.3, -4]}",
         "pedal pivot: {from: \"lower engine bolt, right\", offset: [70, -47.3, -4]}",
         "HC-105, pedal at pedal pivot", 8.0),
        # The lever's eye 10.5 mm aside of the cylinder over 116 mm: atan(10.5 / 116) = 5.17 degrees.
        ("offset: [-10, 2.5, 44.3]", "offset: [-10, -8, 44.3]", "HC-107, axis at pin along the hinge of brake pedal",
         np.degrees(np.arctan2(10.5, 116.0))),
    ],
)  # fmt: skip
def test_a_part_off_its_place_falls_short(tmp_path, old, new, name, demand):
    path = off_its_place(tmp_path, old, new)
    found = check_build(Build(path))
    short = {one.name: float(one.demand) for one in found.checks if not one.ok}
    assert short[name] == pytest.approx(demand, rel=1e-6)


@pytest.mark.slow
def test_a_part_off_its_place_gives_status_1(tmp_path):
    path = off_its_place(tmp_path, "offset: [-10, 2.5, 44.3]", "offset: [-10, -8, 44.3]")
    with parts_as_checked():
        run = oneoff("check", path)
    assert run.returncode == 1 and "HC-107" in run.stdout


def off_its_place(folder, old, new):
    """The demo build with a hardpoint moved, and the part at it left where it was drawn."""
    path = copied(folder)
    if "pivot" in old:
        # The bracket keeps the place that it was drawn with.
        bracket = folder / "hc-105-foot-bracket-right.yaml"
        bracket.write_text(bracket.read_text().replace("at: {point: pedal pivot}", "at: [62, -4]"))
    else:
        lever = folder / "hc-113-brake-pedal.yaml"
        crank = "{offset: pedal pivot, from: pedal lever eye, along: y}"
        assert crank in lever.read_text()
        lever.write_text(lever.read_text().replace(crank, "-2.5 mm"))
    path.write_text(path.read_text().replace(old, new))
    assert new in path.read_text()
    return path


def test_metal_in_metal_and_a_bolt_that_cannot_be_put_in_fall_short_and_a_small_gap_does_not():
    found = check_build(build_of(DEMO))
    gap = Clash("one", "other", "as drawn", 1.0, 0.0)
    assert found.ok and with_solids(found, [gap], []).ok
    deep = Clash("one", "other", "as drawn", 0.0, 353.0)
    struck = with_solids(found, [deep], [])
    assert not struck.ok and float(struck.governing.demand) == 353.0
    assert not with_solids(found, [], ["a pin cannot be put in"]).ok


def test_each_case_lists_what_it_passes_and_each_part_what_reaches_it(tmp_path):
    build = build_of(DEMO)
    parts = {"HC-103": build.part("HC-103")}
    records = {"HC-103": record(build, "HC-103", parts["HC-103"].check(), "")}
    data = build_page_data(build, parts, records)
    (seat,) = [case for case in data["cases"] if case["name"] == "seat landing"]
    passed = {(one["body"], one["joint"]): one for one in seat["passes"]}
    assert passed["seat strut", "strut foot"]["parts"] == ["HC-102, end a"]
    assert passed["frame", "strut foot"]["parts"] == ["HC-109, tab"]
    assert passed["frame", "tail hinge"]["parts"] == ["HC-124, b", "HC-125, end"]
    (arm,) = [one for one in data["parts"] if one["name"] == "HC-103"]
    assert {"case": "chain snatch", "joint": "link on arm", "at": "end"} in arm["reached_by"]
    (kicked,) = [one for one in data["loads_end"] if "kick lever pad on engine" in one]
    assert (
        "not modelled (of the donor): up to 11810 N, in fall on kick lever pad; less in kick start"
        in kicked
    )
    assert data["uses"]["HC-103"]["rear wheel at full bump"] > 0.5


def test_the_terminal_names_what_loads_end_on(tmp_path):
    run = oneoff("check", write(tmp_path, with_rear_end()))
    said = " ".join(run.stdout.partition("Loads that end on what is not modelled")[2].split())
    # A link bears at one end what it bears at the other.
    found = re.findall(
        r"(?:pick up|arm end) on link, not modelled \(bought\): "
        r"up to (\d+) N, in rear wheel at full bump; less in",
        said,
    )
    assert len(found) == 2 and found[0] == found[1] and float(found[0]) > 1000.0


@pytest.mark.slow
def test_the_terminal_names_what_loads_of_the_demo_end_on():
    with parts_as_checked():
        run = oneoff("check", DEMO)
    said = " ".join(run.stdout.split())
    assert "Loads that end on what is not modelled" in said
    assert (
        "gearbox shaft arm on shift rod, not modelled (of the donor): up to 990 N, in missed gear; less in"
        in said
    )


def test_a_bracket_takes_from_its_build_what_the_build_knows(tmp_path):
    # The right peg is moved 6 mm outwards and 4 mm down: plate, peg and load follow, and no number is typed twice.
    path = copied(
        tmp_path, ("offset: [28, -108, 72]", "offset: [28, -114, 68]"), ("[0, 74, 0]", "[0, 80, 0]")
    )
    build = Build(path)
    part = build.part("HC-105")
    assert part.points()["peg"] == pytest.approx([28.0, 68.0, 114.0])
    (landing,) = [one for one in part.loads if one.name.startswith("standing on the right peg")]
    # 85 kg * 9.80665 * 2.5 along (-0.144, -1, 0) of the bracket, whose x points forward and y up.
    force = 85.0 * 9.80665 * 2.5 / np.hypot(0.144, 1.0)
    assert landing.forces[0].force == pytest.approx([-0.144 * force, -force, 0.0])
    assert check_build(build).ok
    # The gusset under the seat follows the tubes that it joins: a stay 20 mm lower at 300 mm opens 75.0 to 71.2 deg.
    path.write_text(path.read_text().replace("offset: [-299.8, 0, 11]", "offset: [-299.8, 0, -9]"))
    gusset = Build(path).part("HC-109")
    assert np.degrees(gusset.angle) == pytest.approx(71.18, abs=0.05)


def test_spacers_of_a_joint_that_two_parts_share_are_bought_once():
    build = build_of(DEMO)
    lines = bought(build, {name: build.part(name) for name in build.names})
    spacers = [one for one in lines if "spacer" in one.designation]
    # One rod end at the top of each strut, two on the ride-height link, a spacer on each side of a ball;
    # one at each of four bolts of the frame between the engine plates.
    assert sum(one.quantity for one in spacers) == 2 * (2 * 1 + 2) + 4
