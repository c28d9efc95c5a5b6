"""Parts at their places: volumes, twins, what strikes what, what cannot be put together, and stock."""

import csv
import io
import re

import cadquery as cq
import numpy as np
import pytest
import yaml
from builds import BUILD, DEMO, copied, write

from parts.making.step import step_bytes
from parts.making.stock import csv_bytes, orders
from parts.standards.materials.materials import material
from parts.vehicle.build import Build
from parts.vehicle.file.places import MIRROR
from parts.vehicle.space.access import cannot_be_put_together
from parts.vehicle.space.assembly import Standing, assembly, pieces, twin, weights
from parts.vehicle.space.cylinders import Cylinder
from parts.vehicle.space.interference import clashes, positions

STEEL = material("4130 normalized")
NEAR = """
build: near
units: mm
hardpoints:
  one: {at: [0, 60, 0]}
  two: {at: [0, 60, 40]}
  far: {at: [0, 60, 400]}
  tip: {at: [30, 60, 0]}
  other tip: {at: [30, 60, 400]}
parts:
  - file: a.yaml
    place: {origin: one, x: forward, z: up}
    sides: both
  - file: b.yaml
    place: {origin: far, x: forward, z: up}
"""
LENGTHS = {"a.yaml": "{distance: [one, tip]}", "b.yaml": "{distance: [far, other tip]}"}


@pytest.fixture(scope="module")
def build(tmp_path_factory):
    return Build(write(tmp_path_factory.mktemp("near"), NEAR, LENGTHS))


@pytest.fixture(scope="module")
def built(build):
    return {name: build.part(name) for name in build.names}


def block(part, name, low, high, cylinder=None, steel=STEEL, side=""):
    size = np.subtract(high, low)
    shape = (
        cq.Workplane()
        .box(*map(float, size), centered=False)
        .translate(tuple(map(float, low)))
        .val()
    )
    return Standing(part, name, side, shape, None if cylinder else steel, cylinder)


def test_a_twin_mirrors_volume_and_centre_of_mass(build, built):
    frames = next(iter(positions(build))).frames
    found = {one.instance: one for one in weights(assembly(build, built), frames)}
    assert set(found) == {"A", "A mirrored", "B"}
    assert found["A"].mass == pytest.approx(
        built["A"].pieces[0].solid.val().Volume() * built["A"].metal.density
    )
    assert found["A mirrored"].mass == pytest.approx(found["A"].mass, rel=1e-9)
    # 1e-6 mm: the kernel's integration.
    assert found["A mirrored"].centre == pytest.approx(found["A"].centre * MIRROR, abs=1e-6)


def test_the_assembly_comes_back_from_its_file_in_place(build, built, tmp_path):
    frames = next(iter(positions(build))).frames
    standing = assembly(build, built)
    file = tmp_path / "near.step"
    file.write_bytes(step_bytes("near", pieces(standing, frames)))
    assert file.read_bytes() == step_bytes("near", pieces(standing, frames))
    back = cq.importers.importStep(str(file)).solids().vals()
    assert len(back) == len(standing)
    total = sum(one.shape.Volume() for one in standing)
    # 1e-6: what the file rounds.
    assert sum(one.Volume() for one in back) == pytest.approx(total, rel=1e-6)
    low = min(one.BoundingBox().ymin for one in back)
    here = twin(frames["A"])
    assert low == pytest.approx(min(
        one.shape.moved(cq.Location(cq.Plane(tuple(here.origin), tuple(here.axes[0]), tuple(here.axes[2]))))
        .BoundingBox().ymin for one in standing if one.side
    ), abs=1e-4)  # fmt: skip


def found_between(build, a, b):
    return clashes(build, (a, b), list(positions(build))[:1])


def test_common_volume_and_clearance_are_those_of_blocks(build):
    # B stands 400 mm above A: a block from 0 to 10 of A, and one of B from -400 + gap upwards.
    lower = block("A", "block", (0, 0, 0), (10, 10, 10))
    for top, volume, distance in ((8.0, 200.0, 0.0), (12.0, 0.0, 2.0)):
        upper = block("B", "block", (0, 0, -400.0 + top), (10, 10, -380.0))
        (one,) = found_between(build, lower, upper)
        assert one.volume == pytest.approx(volume, rel=1e-6)
        assert one.distance == pytest.approx(distance, abs=1e-6)
    apart = block("B", "block", (0, 0, -400.0 + 14.0), (10, 10, -380.0))
    assert found_between(build, lower, apart) == ()


def test_hardware_strikes_parts_but_not_hardware(build):
    pin = Cylinder("pin", "pin", np.array([0, 0, 0.0]), np.array([0, 0, 10.0]), 5.0)
    upper = block("B", "pin", (0, 0, -395.0), (10, 10, -380.0), pin)
    assert len(found_between(build, block("A", "block", (0, 0, 0), (10, 10, 10)), upper)) == 1
    assert found_between(build, block("A", "pin", (0, 0, 0), (10, 10, 10), pin), upper) == ()


def test_a_bolt_between_walls_cannot_be_put_in(build):
    frames = next(iter(positions(build))).frames
    pin = Cylinder("pin", "pin", np.array([0, 0, -10.0]), np.array([0, 0, 10.0]), 8.0)
    bolt = Standing(
        "A", "pin", "", cq.Solid.makeCylinder(4.0, 20.0, cq.Vector(0, 0, -10)), None, pin
    )

    def walls(low, high):
        found = []
        if low:
            found.append(block("B", "floor", (-50, -50, -430.0), (50, 50, -420.0)))
        if high:
            found.append(block("B", "roof", (-50, -50, -380.0), (50, 50, -370.0)))
        return tuple(found)

    (sentence,) = cannot_be_put_together((bolt, *walls(True, True)), frames)
    assert "A, pin cannot be put in: B, roof and B, floor are in the way" in sentence
    assert cannot_be_put_together((bolt, *walls(True, False)), frames) == ()
    post = block("B", "post", (10, -5, -391.0), (14, 5, -380.0))
    (sentence,) = cannot_be_put_together((bolt, post), frames)
    assert sentence == "a wrench on the head of A, pin cannot turn: B, post is in the way"


def test_stock_holds_the_part_and_its_waste_adds_up(build, built):
    found = orders(built, {"A": 2, "B": 1})
    assert [(one.part, one.quantity) for one in found] == [("A", 2), ("B", 1)]
    for one in found:
        box = built[one.part].pieces[0].solid.val().BoundingBox()
        long = max(box.xlen, box.ylen, box.zlen)
        assert max(one.cut.length, one.cut.width) > long
        assert 0.0 < one.waste < 1.0
        assert one.finished == pytest.approx(one.bought * (1.0 - one.waste), rel=1e-12)
    rows = list(csv.DictReader(io.StringIO(csv_bytes(found).decode())))
    assert rows[0]["stock"].startswith(("round", "hex", "square", "flat", "plate"))


def test_the_positions_go_through_travel_and_adjustment(tmp_path):
    from builds import with_rear_end

    path = write(tmp_path, with_rear_end())
    rear = Build(path)
    names = [one.name for one in positions(rear)]
    assert names[0] == "as drawn" and len(names) == 1 + 3 * 5
    assert "at 110 mm of travel, link at its shortest" in names
    assert "clearance" not in BUILD and rear.entry.clearance == 3.0


def envelopes_of(**more):
    from parts.families.foot_bracket.family import FootControlBracket
    from parts.inputs.reading import read_text
    from parts.vehicle.space.envelopes import envelopes

    lines = yaml.safe_dump({**dict(FootControlBracket.example), **more})
    part = read_text(lines, {"foot-control bracket": FootControlBracket})
    return part, {one.name: one for one in envelopes(part)}


def test_bolts_of_a_bracket_stand_in_their_holes():
    part, found = envelopes_of()
    for k, mount in enumerate(part.mounts, 1):
        bolt, head = found[f"mount {k} bolt"], found[f"mount {k} bolt head"]
        assert tuple(bolt.start[:2]) == tuple(bolt.end[:2]) == mount.at
        # From one diameter inside the frame to the plate's outer face, where the head sits.
        assert (bolt.start[2], bolt.end[2]) == (-8.0, 16.0) and bolt.diameter == 8.0
        assert head.start[2] == 16.0 and bolt.kind == "screw"
    peg = found["peg"]
    # From the face of its boss, 8 mm over a plate of 16 mm, to where the load acts, 80 mm over the plate.
    assert (peg.start[2], peg.end[2], peg.diameter) == (24.0, 96.0, 30.0)
    assert np.allclose(peg.end, part.points()["peg"])


def test_a_left_bracket_has_its_hardware_on_its_own_outer_face():
    part, found = envelopes_of(hand="left")
    assert np.allclose(found["peg"].end, part.points()["peg"]) and found["peg"].end[2] == -96.0
    assert found["mount 1 bolt"].start[2] == 8.0


def test_a_head_in_a_counterbore_sits_deeper():
    mounts = [
        {"at": ["0 mm", "0 mm"], "thread": "M8", "hole": {"type": "counterbored", "depth": "6 mm"}},
        {"at": ["75 mm", "10 mm"], "thread": "M8", "hole": {"type": "tapped"}},
        {"at": ["20 mm", "85 mm"], "thread": "M8"},
    ]
    _, found = envelopes_of(mounts=mounts)
    assert found["mount 1 bolt head"].start[2] == 10.0
    # A socket head by ISO 4762: 13 mm for M8; one and a half diameters are 12.
    assert found["mount 1 bolt head"].diameter == 12.0
    assert "mount 2 bolt head" not in found and found["mount 2 bolt"].kind == "shank"


def test_bearings_of_a_stub_stand_on_it_one_behind_the_other():
    pedal = {"type": "stub", "at": ["100 mm", "60 mm"], "bearing": "6202-2RS", "thrust": "AXK 2035", "spacer": "4 mm",
             "boss": {"diameter": "38 mm", "outer": "4 mm", "fillet": "2 mm"},
             "retention": {"type": "bolt", "thread": "M6", "depth": "14 mm"}}  # fmt: skip
    part, found = envelopes_of(pedal=pedal)
    one, two, thrust = (found[f"pedal {n}"] for n in ("bearing 1", "bearing 2", "thrust bearing"))
    # ISO 15: 6202 is 35 mm outside and 11 mm wide.
    assert one.diameter == two.diameter == 35.0
    assert one.end[2] - one.start[2] == pytest.approx(11.0)
    assert two.start[2] - one.end[2] == pytest.approx(4.0)
    assert thrust.start[2] == 20.0 and thrust.end[2] <= one.start[2]
    # Midway between both is where the pedal's load acts.
    assert (one.start[2] + two.end[2]) / 2.0 == pytest.approx(float(part.points()["pedal"][2]))


def test_a_screw_goes_in_from_its_head_alone(build):
    frames = next(iter(positions(build))).frames
    cylinder = Cylinder("bolt", "screw", np.array([0, 0, -10.0]), np.array([0, 0, 10.0]), 8.0)
    bolt = Standing(
        "A", "bolt", "", cq.Solid.makeCylinder(4.0, 20.0, cq.Vector(0, 0, -10)), None, cylinder
    )
    floor = block("B", "floor", (-50, -50, -430.0), (50, 50, -420.0))
    roof = block("B", "roof", (-50, -50, -380.0), (50, 50, -370.0))
    assert cannot_be_put_together((bolt, floor), frames) == ()
    (sentence,) = cannot_be_put_together((bolt, roof), frames)
    assert sentence == "A, bolt cannot be put in: B, roof is in the way"


def test_the_made_clevis_of_a_link_has_its_pin():
    import parts
    from parts.vehicle.space.envelopes import envelopes

    strut = parts.load(DEMO.parent / "hc-102-subframe-link.yaml")
    found = {one.name: one for one in envelopes(strut)}
    pin_, ears = found["end a pin"], strut.end_a.ears
    assert np.allclose((pin_.start + pin_.end) / 2.0, strut.points()["end a"])
    assert np.linalg.norm(pin_.end - pin_.start) == pytest.approx(float(ears.height))
    assert "end b eye" in found


def test_a_peg_that_is_a_part_of_the_build_takes_the_place_of_what_the_bracket_stands_in_for_it(
    tmp_path,
):
    """The post of HC-105's peg stands for what is clamped there: HC-116, where the build has it."""
    drops = re.compile(r"  - file: hc-11[56].*\n(?:    .*\n)+")
    path = copied(tmp_path)
    whole = Build(path)
    path.write_text(drops.sub("", path.read_text()))
    without = Build(path)

    def posts(build):
        found = assembly(build, {"HC-105": build.bare("HC-105")}, made={"HC-105": []})
        return {one.name for one in found if one.cylinder.kind == "post"}

    assert "peg" not in posts(whole) and "peg" in posts(without)
