"""What the elements carry across a section, and the highest stress that the hand calculation knows."""

from dataclasses import replace

import numpy as np
import pytest
from options import options
from proof_parts import drawn

from parts.core.loads import LoadCase
from parts.core.part import Piece
from parts.proof import hand
from parts.proof.cutting import _crossed, free_body
from parts.proof.peaks import within
from parts.proof.piece import stated
from parts.proof.records import Beside
from parts.proof.refine import Aim, settle

pytest.importorskip("ngsolve", reason="needs the extra `proof`")
ROUGH = Aim(error=0.5, steps=1)


def test_coarse_curved_elements_carry_what_statics_asks():
    # A gusset with a hollow free edge: elements of some 10 mm, curved, whose middles lie beyond the ends of the cut.
    _, part = drawn("gusset plate", 1)
    case, piece = part.loads[0], part.pieces[0]
    held = replace(part.held(case)[0], slender=False)
    looked = hand.looked_at(part.check(), piece.name)
    one = hand.sections(looked)[0].critical
    _, _, mesh, setup, _ = stated(piece, [held], ROUGH)
    solved = settle(mesh, setup, ROUGH).solved
    middle = (float(one.section.y), float(one.section.z))
    fe = free_body(solved, 0, one.place, one.span.axes, middle, *hand.outline_box(one.section))
    for name, value in fe.items():
        assert value == pytest.approx(float(getattr(one.resultants, name)), rel=1e-6, abs=1e-3), (
            name
        )


def test_an_element_is_placed_by_where_the_plane_cuts_it():
    # One corner at x = 1 over three at x = -3: the plane cuts the three edges at a quarter from the one.
    corners = np.array([[(1.0, 0, 0), (-3.0, 4, 0), (-3.0, 0, 4), (-3.0, 4, 4)]])
    assert _crossed(corners)[0] == pytest.approx((2 / 3, 2 / 3))


def test_the_highest_stress_may_stand_where_metal_is_stronger():
    # A welded tube of 22.2 mm with a wall of 1.65 mm bent at its middle: beside the weld the soft metal governs, the
    # highest stress stands at the middle, by hand N / A + M c / I.
    side, pull = (172.0, 108.0), 3200.0
    forces = [
        {"at": "end b", "force": (pull, 0.0, 0.0)},
        {"at": "middle", "force": (0.0, *side)},
    ]
    part = options("adjustable link")["hex on the shoulder"].model_copy(
        update={"loads": [LoadCase.model_validate({"name": "pull, knocked", "forces": forces})]}
    )
    looked = hand.looked_at(part.check(), "tube")
    critical, most = hand.sections(looked)[0].critical, hand.highest(looked, 0)
    assert critical.span.name == "tube near the weld"
    outside, bore = 22.225, 22.225 - 2 * 1.651
    area, inertia = np.pi / 4 * (outside**2 - bore**2), np.pi / 64 * (outside**4 - bore**4)
    # As drawn 320 mm from pin to pin, each pin bearing half of the force at the middle; at the longest the lever is
    # 4 mm longer. The pull stands off the axis by 0.5 mm. Both of these in any plane: across the corners of a hex
    # that bends 2 / sqrt(3) as much as square to its flats.
    knock = np.hypot(*side) / 2
    bending = knock * 160.0 + (knock * 4.0 + pull * 0.5) * 2 / np.sqrt(3)
    by_hand = pull / area + bending * outside / 2 / inertia
    assert most.span.name == "tube" and abs(most.place[0]) < 1.0
    assert float(most.stress.von_mises) == pytest.approx(by_hand, rel=1e-3)


def test_the_root_of_a_boss_is_judged_by_itself_and_not_as_a_hole_in_the_plate():
    # The section through a peg's boss is counted with the notch of a small hole; what stands on the root of the boss is
    # held against the fillet's own factor.
    _, part = drawn("foot-control bracket", 5)
    result, piece, case = part.check(), Piece("part", part.metal, None), part.loads[0]
    places = hand.spots(result, piece, case)
    root = next(one for one in places if one.name == "peg, root on the plate")
    middle, way, radius = root.around
    x, y = (float(v) for v in part.peg.at)
    boss, fillet = float(part.peg.boss.diameter), float(part.peg.boss.fillet)
    assert [*middle] == [x, y, 0.0] and [*way] == [0.0, 0.0, 1.0]
    assert boss / 2.0 + fillet < radius < boss
    inside = np.array([(x + boss / 2.0 + fillet, y, 20.0), (x, y - 2.0 * boss, 20.0)])
    assert within(inside, *root.around).tolist() == [True, False]
    looked = hand.looked_at(result, "part")
    assert all(root.around in one.apart for one in hand.notches(looked, 0, places))
    beside = next(one for one in result.checks if one.name == "peg, plate beside it, yield")
    assert root.peak > 2.0 * float(beside.demand)
    assert hand.worst_known(result, piece, case, [], places, looked)[0] == root.name


def test_a_hand_value_that_is_no_number_is_never_on_the_safe_side():
    for kind in ("notch", "buckling factor"):
        one = Beside("somewhere", np.nan, 100.0, "MPa", 0.9, 1.1, "", kind)
        assert one.unsafe and not one.ok
