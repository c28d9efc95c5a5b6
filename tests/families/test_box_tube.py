"""Rectangular tubes sawn to flat faces: pairs by hand, the weld against lines summed up, its cut against the solid."""

import numpy as np
import pytest
from box_legs import HOLDS, LEG, SHORT, SOFT, ULTIMATE, leg_on, named
from pydantic import ValidationError

from parts.core.tube_ends import CORNER, place_round
from parts.families.coped_tube.family import CopedTube
from parts.making.flat.unrolled import unrolled
from parts.strength.columns.wrinkling import flat_wall_buckling_stress
from parts.strength.welded.box_end import box_fillet_force, box_peak
from parts.strength.welded.tube_joint import face_peak

FACE = {"type": "on a box", "tube": "60 x 60 x 3 mm", "leg": "3 mm"}
leg = leg_on(FACE)


@pytest.mark.parametrize(("pull", "ok"), [(12_100.0, SHORT), (11_800.0, HOLDS)])
def test_the_face_is_pulled_out(pull, ok):
    # EN 1993-1-8, Table 7.11, 40 along and 25 across a face of 60: η = 0.667, β = 0.417; k_n = 1.3 - 0.4·0.5/0.417
    # = 0.82; 0.82·0.9·358.5·9·(2.286 + 5.237) = 17.9 kN over 1.5.
    found = named(leg((pull, 0, 0)), "end a, wall of the other tube")
    free, kept = 1.0 - 25.0 / 60.0, 1.3 - 0.4 * 0.5 * 60.0 / 25.0
    bears = kept * 0.9 * SOFT * 9.0 * (2.0 * 40.0 / 60.0 / free + 4.0 / np.sqrt(free))
    assert found.demand == pytest.approx(pull / bears, rel=1e-4)
    assert found.ok == ok


@pytest.mark.parametrize(("way", "aside", "ok"), [("along", 1440.0, SHORT), ("along", 1420.0, HOLDS),
                                                  ("across", 1070.0, SHORT), ("across", 1055.0, HOLDS)])  # fmt: skip
def test_it_rocks_on_the_face(way, aside, ok):
    # Table 7.14 on 200 mm: along h (1/(2 η) + 2/√(1 - β) + η/(1 - β)) = 40·(0.75 + 2.619 + 1.143) = 180; across
    # h (1 + β)/(2 (1 - β)) + √(2·60·25·(1 + β)/(1 - β)) = 48.6 + 85.4 = 134; times 0.82·322.7·9 = 2376 N.
    force = (0, aside, 0) if way == "along" else (0, 0, aside)
    found = named(leg(force, b={"type": "square"}), "end a, wall of the other tube")
    beta, eta = 25.0 / 60.0, 40.0 / 60.0
    wider = (1.0 + beta) / (1.0 - beta)
    shape = {
        "along": 40.0 * (1.0 / (2.0 * eta) + 2.0 / np.sqrt(1.0 - beta) + eta / (1.0 - beta)),
        "across": 40.0 * wider / 2.0 + np.sqrt(2.0 * 60.0 * 25.0 * wider),
    }[way]
    bears = (1.3 - 0.2 / beta) * 0.9 * SOFT * 9.0 * shape
    assert found.demand == pytest.approx(aside * 200.0 / bears, rel=1e-4)
    assert found.ok == ok


@pytest.mark.parametrize(("pull", "ok"), [(19_100.0, SHORT), (18_800.0, HOLDS)])
def test_its_weld_breaks_where_the_face_is_stiff(pull, ok):
    # A wall of 4 on one of 4, 80 wide: 10·4/80 = a half of 40 counts, F/(2·40 + 2·20). At 45° the toe opens by 135:
    # throat 3.2·cos 67.5° = 1.225, at 0.6·482.6 MPa 354.6 N/mm over 2.25.
    end = FACE | {"tube": "80 x 80 x 4 mm", "leg": "3.2 mm", "angle": "45 deg"}
    part = leg((pull, 0, 0), a=end, b=end, tube="40 x 40 x 4 mm", length="300 mm")
    found = named(part, "end a, weld, ultimate")
    assert found.demand == pytest.approx(pull / 120.0, rel=1e-6)
    assert found.capacity == pytest.approx(3.2 * np.sin(np.pi / 8.0) * 0.6 * ULTIMATE, rel=1e-3)
    assert found.ok == ok


@pytest.mark.parametrize(("pull", "ok"), [(39_500.0, SHORT), (38_800.0, HOLDS)])
def test_it_tears_a_piece_out_of_the_face(pull, ok):
    # F/(80 + 25) on one plane of 3 mm at 322.7/√3: 558.9 N/mm over 1.5.
    found = named(leg((pull, 0, 0)), "end a, wall of the other tube torn out")
    assert found.demand * 2.0 == pytest.approx(pull / 105.0, rel=1e-6)
    assert found.capacity * 2.0 == pytest.approx(3.0 * 0.9 * SOFT / np.sqrt(3.0), rel=1e-4)
    assert found.ok == ok


@pytest.mark.parametrize(("pull", "ok"), [(38_500.0, SHORT), (38_000.0, HOLDS)])
def test_the_tube_yields_beside_a_weld_on_a_soft_face(pull, ok):
    # A wall of 2 on one of 2, 60 wide: 10·2/60, a third of 30 counts: F/(2·30 + 2·10) in 2 mm; 358.5 over 1.5.
    end = FACE | {"tube": "60 x 60 x 2 mm"}
    part = leg((pull, 0, 0), a=end, b=end, tube="30 x 30 x 2 mm")
    found = named(part, "end a, tube beside the weld, yield")
    assert found.demand == pytest.approx(pull / 80.0 / 2.0, rel=1e-6)
    assert found.ok == ok


def second(b, h, t):
    """Second moment about the side b of a tube, its corners rounded by 2 t outside and t inside [mm^4]."""

    def solid(b, h, r):
        # What a corner lacks of a square of side r: 0.2146 r², its middle 0.2234 r from both sides.
        return b * h**3 / 12.0 - 4.0 * (
            0.00755 * r**4 + 0.2146 * r**2 * (h / 2.0 - 0.2234 * r) ** 2
        )

    return solid(b, h, 2.0 * t) - solid(b - 2.0 * t, h - 2.0 * t, t)


@pytest.mark.parametrize(("push", "ok"), [(4_700.0, SHORT), (4_500.0, HOLDS)])
def test_it_buckles_its_weaker_way(push, ok):
    # 15 deep: pi²·199948·I/900² = 10.35 kN over 2.25.
    end = FACE | {"tube": "36 x 36 x 2 mm"}
    found = named(
        leg((-push, 0, 0), a=end, b=end, tube="30 x 15 x 1.5 mm", length="900 mm"), "tube, buckling"
    )
    euler = np.pi**2 * 199_948.0 * second(30.0, 15.0, 1.5) / 900.0**2
    assert found.capacity == pytest.approx(euler, rel=2e-3)
    assert found.ok == ok


@pytest.mark.parametrize(("times", "ok"), [(3.6, SHORT), (3.4, HOLDS)])
def test_both_ways_of_bending_meet_in_a_corner(times, ok):
    # 300 N along the side of 40 and 400 N along that of 25, 200 mm away: 300·200/W_z + 400·200/W_y; over 1.5.
    part = leg((0, 300.0 * times, 400.0 * times), b={"type": "square"})
    W_y, W_z = second(40.0, 25.0, 2.0) / 12.5, second(25.0, 40.0, 2.0) / 20.0
    found = named(part, "tube, pushed and bent")
    assert found.demand == pytest.approx(times * (300.0 / W_z + 400.0 / W_y) * 200.0, rel=2e-3)
    assert found.ok == ok


@pytest.mark.parametrize(("couple", "ok"), [(500.0, SHORT), (480.0, HOLDS)])
def test_a_vent_leaves_less_of_it(couple, ok):
    # 6 mm of its wall of 2 at 19 from the axis, softened: 12 of 233.7 mm² move the middle by 1.03 and take 4570 mm⁴.
    load = {"name": "load", "forces": [{"at": "b", "moment": [0, 0, f"{couple} N m"]}]}
    part = CopedTube.model_validate({**LEG, "length": "200 mm", "a": FACE, "b": {"type": "square"}, "loads": [load],
        "vent": {"at": "71 mm", "diameter": "6 mm"}})  # fmt: skip
    area = 2.0 * 65.0 * 2.0 - 16.0 - (4.0 - np.pi) * 12.0
    shift = 12.0 * 19.0 / (area - 12.0)
    left = second(25.0, 40.0, 2.0) - 12.0 * 19.0**2 - 6.0 * 2.0**3 / 12.0 - (area - 12.0) * shift**2
    found = named(part, "critical section, yield")
    assert found.demand == pytest.approx(couple * 1e3 * (20.0 + shift) / left, rel=2e-3)
    assert found.ok == ok
    (vent,) = [one for one in part.spans() if one.name == "vent hole"]
    assert vent.notch(0.5).K_t == pytest.approx(3.0)


@pytest.mark.parametrize(("push", "ok"), [(98_000.0, SHORT), (97_000.0, HOLDS)])
def test_a_slack_wall_folds(push, ok):
    # 68 between the middles of its walls, 2 thick: 4·0.9038·199948·(2/68)² with ν 0.32 and Johnson over 517 MPa.
    end = FACE | {"tube": "100 x 100 x 5 mm"}
    part = leg((-push, 0, 0), a=end, b=end, tube="70 x 70 x 2 mm", bow=0)
    found = named(part, "tube wall wrinkling")
    nu = part.metal.poisson
    elastic = 4.0 * np.pi**2 / (12.0 * (1.0 - nu**2)) * 199_948.0 * (2.0 / 68.0) ** 2
    assert found.capacity == pytest.approx(517.107 * (1.0 - 517.107 / (4.0 * elastic)), rel=1e-4)
    assert found.ok == ok


@pytest.mark.parametrize(("cycles", "ok"), [(70_000, SHORT), (67_000, HOLDS)])
def test_the_toe_cracks_where_the_face_bends(cycles, ok):
    # L = 57, a = 16, τ counted as 0.75: 1.4·7.5·0.75·16·41/(57·3) = 30.2 times 1000/A. Class 90 over 1.35, four lives.
    part = leg((1000, 0, 0), spectrum=[{"cycles": cycles}], ratio=0)
    area = 2.0 * (40.0 + 25.0) * 2.0 - 16.0 - (4.0 - np.pi) * (16.0 - 4.0) + 0.0
    stress = 1.4 * 7.5 * 0.75 * 16.0 * 41.0 / (57.0 * 3.0) * 1000.0 / area
    found = named(part, "fatigue, end a, toe")
    assert found.factor == pytest.approx(2e6 * (90.0 / 1.35 / stress) ** 3 / cycles, rel=0.02)
    assert found.ok == ok


@pytest.mark.parametrize("slack", [10.0, 16.0, 25.0])
@pytest.mark.parametrize("beta", [0.4, 0.5, 0.6, 0.7, 0.8])
def test_its_peak_lies_above_that_of_the_design_guide(beta, slack):
    # CIDECT Design Guide 8, T joints of square tubes: lines B, C, D of the chord and A and E of the tube, in pull and
    # bent along the chord, the tube's own times 1.4 for a fillet; from memory. A round tube takes π/4 of them.
    g = slack
    pull = (
        (0.143 - 0.204 * beta + 0.064 * beta**2) * g ** (1.377 + 1.715 * beta - 1.103 * beta**2),
        (0.077 - 0.129 * beta + 0.061 * beta**2 - 0.0003 * g) * g ** (1.565 + 1.874 * beta - 1.028 * beta**2),
        (0.208 - 0.387 * beta + 0.209 * beta**2) * g ** (0.925 + 2.389 * beta - 1.881 * beta**2),
    )  # fmt: skip
    bent = (
        (-0.011 + 0.085 * beta - 0.073 * beta**2) * g ** (1.722 + 1.151 * beta - 0.697 * beta**2),
        (0.952 - 3.062 * beta + 2.382 * beta**2 + 0.0228 * g) * g ** (-0.690 + 5.817 * beta - 4.685 * beta**2),
        (-0.054 + 0.332 * beta - 0.258 * beta**2) * g ** (2.084 - 1.062 * beta + 0.527 * beta**2),
    )  # fmt: skip
    own = (
        1.4 * (0.013 + 0.693 * beta - 0.278 * beta**2) * g ** (0.790 + 1.898 * beta - 2.109 * beta**2),
        1.4 * (0.390 - 1.054 * beta + 1.115 * beta**2) * g ** (-0.154 + 4.555 * beta - 3.809 * beta**2),
    )  # fmt: skip
    b0, side = 3.0 * slack, 3.0 * slack * beta
    for tau in (0.25, 0.5, 1.0):
        guide = max(*(k * tau**0.75 for k in (*pull, *bent)), *own)
        assert box_peak(side, side, b0, 3.0, 3.0 * tau) >= guide
        assert face_peak(b0, 3.0, side, 3.0 * tau) >= np.pi / 4.0 * guide


def test_its_weld_is_the_sum_of_its_lines():
    # Walls along whole, of those across two quarters at their ends: F/L, M c/I of the lines themselves; whole, it is
    # Shigley's Table 9-2, I_u = d²/6 (3 b + d).
    b, h, b_e = 30.0, 40.0, 15.0
    ends = np.concatenate([np.linspace(-15.0, -7.5, 2001), np.linspace(7.5, 15.0, 2001)])
    x = np.concatenate(
        [np.linspace(-20.0, 20.0, 4001)] * 2 + [np.full_like(ends, s) for s in (-20.0, 20.0)]
    )
    y = np.concatenate([np.full(4001, -15.0), np.full(4001, 15.0), ends, ends])
    d = np.concatenate([np.full(8002, 40.0 / 4001.0), np.full(2 * ends.size, 7.5 / 2001.0)])
    along, across = np.sum(x**2 * d) / 20.0, np.sum(y**2 * d) / 15.0
    assert box_fillet_force(b, h, b_e, 0, 0, 1e5, 0, 0) == pytest.approx(1e5 / along, rel=2e-3)
    assert box_fillet_force(b, h, b_e, 0, 0, 0, 1e5, 0) == pytest.approx(1e5 / across, rel=2e-3)
    shigley = 40.0**2 / 6.0 * (3.0 * b + 40.0) / 20.0
    assert box_fillet_force(b, h, b, 0, 0, 1e5, 0, 0) == pytest.approx(1e5 / shigley, rel=1e-9)


def test_a_long_plate_buckles_as_timoshenko_has_it():
    # Theory of Elastic Stability: k = 4, 3.615 E (t/b)² at ν = 0.3.
    found = flat_wall_buckling_stress(200e3, 100.0, 1.0, 1e5)
    assert found == pytest.approx(3.615 * 200e3 / 100.0**2, rel=1e-3)


def test_its_end_is_a_plane_on_the_solid_and_on_the_unrolled_tube():
    import cadquery as cq

    part = leg(
        a=FACE | {"angle": "60 deg", "turn": "90 deg", "tube": "60 x 60 x 3 mm"},
        tube="40 x 25 x 2 mm",
    )
    solid = part.pieces[0].solid.val()
    assert solid.isValid() and len(solid.Solids()) == 1
    shell = cq.Compound.makeCompound(solid.Faces())
    for i, below in ((0, 0.0), (0, 2.0), (1, 0.0)):
        for place in part.edge(i, below)[::24]:
            assert shell.distance(cq.Vertex.makeVertex(*map(float, place))) < 1e-5
    # 12.5 of its depth to one side, 10.5 to the other, where the wall's inner edge is the longer.
    points = unrolled(part.to_cut)[0]
    assert points[:, 1].max() == pytest.approx((30.5 + 6.25) / np.sin(np.pi / 3.0), abs=1e-6)
    assert points[:, 1].min() == pytest.approx((30.5 - 5.25) / np.sin(np.pi / 3.0), abs=1e-6)
    assert points[-1, 0] == pytest.approx(2.0 * (40.0 + 25.0) - 8.0 * 4.0 + 2.0 * np.pi * 4.0)


def test_the_way_round_it_is_as_long_as_it_is():
    turn = np.linspace(0.0, 2.0 * np.pi, 20001)
    y, z = place_round(40.0, 2.0, 25.0, turn)
    steps = np.hypot(np.diff(y), np.diff(z))
    assert steps.sum() == pytest.approx(130.0 - (8.0 - 2.0 * np.pi) * CORNER * 2.0, rel=1e-6)
    assert steps.max() == pytest.approx(steps.min(), rel=1e-3)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"a": FACE | {"turn": "30 deg"}}, "sides along and across its neighbour"),
        ({"tube": "60 x 25 x 2 mm"}, "so flat a tube"),
        ({"tube": "40 x 25 x 1 mm"}, "so thin a wall"),
        ({"vent": {"at": "70 mm", "diameter": "7 mm"}}, "a vent this large"),
        ({"vent": {"at": "40 mm"}}, "beside the weld of end a"),
        ({"tube": "round 25 mm"}, "no tube"),
        ({"a": FACE | {"turn": "90 deg", "tube": "48 x 48 x 3 mm"}}, "side walls"),
    ],
)
def test_what_cannot_be_made_is_told(changes, says):
    with pytest.raises(ValidationError, match=says):
        leg(**changes)
