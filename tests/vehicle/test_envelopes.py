"""Bolts, nuts, spacers and pegs of mount plates and foot levers, where they stand: by hand from what files state."""

import cadquery as cq
import numpy as np
import pytest
from builds import DEMO

from parts.families.foot_lever.family import PEDAL, SHIFT, FootLever
from parts.families.mount_plate.family import MountPlate
from parts.vehicle.file.loading import build_of
from parts.vehicle.space.assembly import Standing, _second, solid_of
from parts.vehicle.space.envelopes import envelopes
from parts.vehicle.space.interference import clashes, positions
from tests.stated import changed, part_of

ALONE, *_, PAIR = MountPlate.examples


def of(part):
    return {one.name: one for one in envelopes(part)}


def heights(one):
    return pytest.approx((one.start[2], one.end[2]))


def test_a_bolt_of_an_engine_plate_goes_through_lug_or_tab_to_its_nut():
    found = of(part_of(MountPlate, ALONE))
    # Plate 10, lug 12: an M10 of 22 mm between head and nut, 0.7 diameters tall and 1.8 wide.
    assert heights(found["engine 1 bolt"]) == (0.0, 22.0)
    assert heights(found["engine 1 bolt head"]) == (22.0, 29.0)
    assert heights(found["engine 1 bolt nut"]) == (-7.0, 0.0)
    assert found["engine 1 bolt nut"].diameter == pytest.approx(18.0)
    # An M8 through plate and a tab of 4.
    assert heights(found["mount 2 bolt"]) == (-4.0, 10.0)
    assert heights(found["mount 2 bolt nut"]) == (-4.0 - 5.6, -4.0)
    assert found["mount 2 bolt"].start[:2] == pytest.approx([110.0, 10.0])
    tapped = of(part_of(MountPlate, changed(ALONE, engine__0__tapped_lug=True)))
    assert "engine 1 bolt nut" not in tapped
    assert heights(tapped["engine 1 bolt head"]) == (0.0, -7.0)


def test_bolts_of_a_pair_go_through_both_plates_and_spacers_stand_between():
    part = part_of(MountPlate, PAIR)
    found = of(part)
    # Plates of 8, 40 apart, tabs of 4 on the far sides: from -4 to 60.
    assert heights(found["mount 1 bolt"]) == (-4.0, 60.0)
    assert heights(found["mount 1 spacer"]) == (8.0, 48.0)
    assert heights(found["engine 2 bolt"]) == (0.0, 56.0)
    # The lug hangs between the plates, in the middle of them, and turns neither.
    assert part.points()["engine 1"][2] == pytest.approx(28.0)
    assert not [
        one for one in part.check().checks if "turned about" in one.name and one.demand > 0.0
    ]


@pytest.mark.parametrize(
    ("clocking", "head"),
    # Bar at (-55, 35), bolt 27 off it; ear 16 and half a slit of 2 to the face, 0.5 of spot facing. Turned by 20
    # degrees: 27 (0.9397, 0.3420) and 16.5 (-0.3420, 0.9397).
    [(0.0, (-55 - 27, 35 + 16.5)), (20.0, (-55 - 25.37 - 5.64, 35 - 9.23 + 15.51))],
)
def test_pinch_bolts_stand_across_the_slit_of_a_clamp(clocking, head):
    clamped = next(
        one
        for one in MountPlate.examples
        if one.get("anchor", {}).get("bore", {}).get("type") == "clamp"
    )
    part = part_of(MountPlate, changed(clamped, anchor__bore__clocking=f"{clocking} deg"))
    bolt, top = (of(part)[name] for name in ("pinch bolt 1", "pinch bolt 1 head"))
    assert bolt.end[:2] == pytest.approx(head, abs=0.01)
    # M8x35 in the middle of a plate of 20; the head of a socket screw is 13 wide.
    assert np.linalg.norm(bolt.end - bolt.start) == pytest.approx(35.0)
    assert heights(bolt) == (10.0, 10.0) and top.diameter == pytest.approx(13.0)


def test_the_second_plate_of_a_pair_stands_beyond_the_lugs():
    part = part_of(MountPlate, PAIR)
    one = Standing("P", "plate", "", part.pieces[0].solid.val(), part.metal, None, "known")
    box = _second(one, float(part.second)).shape.BoundingBox()
    assert (box.zmin, box.zmax) == pytest.approx((48.0, 56.0), abs=1e-6)
    assert _second(one, float(part.second)).told() != one.told()


def test_the_peg_of_a_pedal_and_the_pin_of_its_rod():
    part = part_of(FootLever, PEDAL)
    found, foot = of(part), part.points()["toe"]
    tall = float(part.toe.height_of_foot)
    assert found["toe peg"].start == pytest.approx(foot - [0, 0, tall])
    assert found["toe peg"].end == pytest.approx(foot - [0, 0, -tall / 2.0])
    assert found["toe bolt"].start[2] == pytest.approx(foot[2] - tall - float(part.toe.width))
    end = part.rod.end
    grip = float(end.width) + 2.0 * float(end.pin.ear + end.pin.gap)
    assert found["rod pin"].end[2] - found["rod pin"].start[2] == pytest.approx(grip)
    forked = part_of(FootLever, SHIFT)
    assert of(forked)["rod pin"].diameter == pytest.approx(6.0)


def test_a_plate_before_a_nut_is_struck():
    build = build_of(DEMO)
    part, here = build.bare("HC-120"), list(positions(build))[:1]
    assert part.points()["engine 1"][2] == pytest.approx(29.0)
    # The head of a bolt of the frame beyond the second plate: 62 + 7 from the first one's face.
    head = of(part)["mount 3 bolt head"]
    assert heights(head) == (62.0, 69.0)
    there = build.frame("HC-120").out(np.array([0.0, -52.0, 66.0]))
    assert there == pytest.approx([228.0, 29.0 - 66.0, 322.0 - 52.0])
    other = build.frame("HC-104")
    block = cq.Solid.makeSphere(6.0, cq.Vector(*map(float, other.into(there))))
    own = Standing("HC-120", head.name, "", solid_of(head), None, head)
    (one,) = clashes(build, (own, Standing("HC-104", "block", "", block, part.metal)), here)
    assert one.volume > 100.0 and "mount 3 bolt head" in str(one)
