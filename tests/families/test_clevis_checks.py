"""The checks of a clevis worked by hand, and for many variants at once."""

import numpy as np
import pytest
from clevises import CORNERS, EARS, SHANKS, case_of, checks, clevis
from stated import same_one_at_a_time

from parts.core.freebody import balance
from parts.core.loads import point_actions
from parts.core.search.look import scan
from parts.inputs.variants import with_values
from parts.standards.threads.threads import thread

EXACT = 1e-9
"""Closed forms against the same floating-point arithmetic: rounding only."""


SMOOTH = {"friction": 0.0}
"""Nothing rubs, so that a case by hand is that of the load alone."""


def nearer(part):
    """Share of the nearer ear with all the side play on the other side: two supports of a beam."""
    half, middle = part.ears.throat.clearance / 2, part.ears.middle
    return (middle + half) / (2 * middle)


SHARP_EDGES = {"edge_break": "0 mm", "root_fillet": "0 mm"}


def test_ear_and_pin_by_hand():
    part = clevis("male thread")
    ears, metal, pin = part.ears, part.metal, part.ears.pin
    pull, d, t = 8000.0, 9.525, 6.0
    found = checks(part, (pull, 0.0, 0.0))
    assert 0.5 < nearer(part) < 0.51
    pull *= 2 * nearer(part)
    assert found["ear pin, shear"].demand == pytest.approx(pull / 2 / (np.pi * d**2 / 4), rel=EXACT)
    arm = t / 2 + (ears.throat.width - ears.throat.tongue) / 2 + ears.throat.tongue / 4
    moment = pull / 2 * arm
    assert found["ear pin, bending, yield"].demand == pytest.approx(
        32 * moment / (np.pi * d**3), rel=EXACT
    )
    assert found["ear net section, yield"].demand == pytest.approx(
        pull / 2 / ((22 - d) * t), rel=EXACT
    )
    assert found["ear bearing, yield"].demand == pytest.approx(pull / 2 / (d * t), rel=EXACT)
    # Edge distance 11/9.525 of a diameter: below 1.5, in proportion.
    assert found["ear bearing, ultimate"].capacity == pytest.approx(
        metal.bearing_ultimate_ed15 * 11 / d / 1.5, rel=EXACT
    )
    side = found["ear shear-out through the side"]
    assert side.demand == 0.0
    assert side.factor == np.inf
    y = d / 2 * np.sin(np.radians(40))
    plane = np.sqrt(11.0**2 - y**2) - d / 2 * np.cos(np.radians(40))
    out = found["ear shear-out through the nose"]
    assert out.factor == pytest.approx(2 * t * plane * metal.shear_ultimate / (pull / 2), rel=EXACT)
    v, m = (
        pull / 2 / (np.pi * d**2 / 4 * pin.material.shear_ultimate),
        moment / found["ear pin, bending, ultimate"].capacity,
    )
    assert found["ear pin, shear with bending"].demand == pytest.approx(np.hypot(v, m), rel=EXACT)


def test_one_ear_takes_side_force_and_couple():
    part = clevis("male thread", **SMOOTH)
    ears = part.ears
    apart = ears.throat.width + ears.thickness
    by_couple = checks(part, moment=(0.0, 8000.0 * nearer(part) * apart, 0.0))["ear pin, shear"]
    by_pull = checks(part, (8000.0, 0.0, 0.0))["ear pin, shear"]
    assert by_couple.demand == pytest.approx(by_pull.demand, rel=EXACT)
    side = checks(part, (0.0, 0.0, -500.0))["ear side bending, yield"]
    long = ears.depth - ears.corner
    assert side.demand == pytest.approx(
        6 * 500.0 * long / (ears.width * ears.thickness**2), rel=EXACT
    )


def test_push_neither_tears_the_nose_nor_pulls_the_net_section():
    found = checks(clevis("male thread"), (-8000.0, 0.0, 0.0))
    assert found["ear shear-out through the nose"].factor == np.inf
    assert found["ear net section, ultimate"].factor == np.inf
    assert found["ear bearing, yield"].demand > 0.0


def test_bush_bears_on_the_pin_and_in_the_ear():
    part = clevis(**EARS["bushed"])
    found = checks(part, (8000.0, 0.0, 0.0))
    ear = 8000.0 * nearer(part)
    assert found["ear bearing, yield"].demand == pytest.approx(ear / (13.0 * 6.0), rel=EXACT)
    assert found["ear bush bearing, yield"].demand == pytest.approx(ear / (9.525 * 6.0), rel=EXACT)
    bush = part.ears.pin.hole.material
    assert found["ear bush bearing, ultimate"].capacity == pytest.approx(
        1.304 * bush.yield_strength * 9.525 * 6.0, rel=EXACT
    )


def test_thread_of_a_tapped_ear_lies_in_the_shear_plane():
    """3 kN on a bolt that has the far ear's 0.1 mm to use up: a cantilever, and all of its shear in the thread."""
    part = clevis(**EARS["tapped ear"])
    of, width, made = thread("3/8-24 UNF"), part.ears.throat.width, part.ears.pin.material
    s, w = (width + part.ears.throat.clearance) / 2, width + 8.0 / 2
    EI = made.E * np.pi / 64 * 9.525**4
    far = max(3000 * s**2 * (3 * w - s) / (2 * w**3) - 3 * EI * 0.1 / w**3, 0.0)
    assert far == 0.0  # the gap is still open
    found = checks(part, (3000.0, 0.0, 0.0))
    root = of.minor_external
    assert found["ear pin, shear"].demand == pytest.approx(3000 / (np.pi * root**2 / 4), rel=EXACT)
    # The shear has died out L/k below the face, k = 3 + 6 h/L.
    k = 3 + 6 * s / 8.0
    moment = 3000 * (s + 8.0 / (2 * k) - 8.0 / (6 * k**2))
    bent = found["ear pin, bent at the tapped ear, yield"]
    assert bent.demand == pytest.approx(32 * moment / (np.pi * root**3), rel=EXACT)
    mouth = found["ear thread at the mouth bearing, yield"]
    pressed = 3000 / (of.pitch_diameter * 8.0) * 4 + 6 * 3000 * s / (of.pitch_diameter * 8.0**2)
    assert mouth.demand == pytest.approx(pressed, rel=EXACT)
    # All of it, not half, tears at the tapped ear.
    assert found["ear shear-out through the nose"].demand == pytest.approx(3000.0, rel=EXACT)


def test_ear_by_bth_1_by_hand():
    """ASME BTH-1, 3-3.3, on one ear 22 x 6 with a reamed bore of 9.525, pulled toward a round nose."""
    part = clevis("male thread")
    metal, d, t, w = part.metal, 9.525, 6.0, 22.0
    found = checks(part, (8000.0, 0.0, 0.0))
    F_u, F_y, b_e = metal.ultimate_strength, metal.yield_strength, (w - d) / 2
    wide = min(b_e, 0.6 * b_e * F_u / F_y * np.sqrt(d / b_e), 4 * t)
    assert found["ear tension, BTH-1"].capacity == pytest.approx(F_u * 2 * t * wide, rel=EXACT)
    split = 1.13 * (11 - d / 2) + 0.92 * b_e / (1 + b_e / d)
    assert found["ear splitting, BTH-1"].capacity == pytest.approx(F_u * split * t, rel=EXACT)
    y = d / 2 * np.sin(np.radians(55))
    plane = np.sqrt(11**2 - y**2) - d / 2 * np.cos(np.radians(55))
    assert found["ear shear-out, BTH-1"].capacity == pytest.approx(
        0.7 * F_u * 2 * t * plane, rel=EXACT
    )
    assert found["ear bearing, BTH-1"].capacity == pytest.approx(1.25 * F_y * d * t, rel=EXACT)
    assert {
        found[f"ear {mode}, BTH-1"].required for mode in ("tension", "splitting", "shear-out")
    } == {2.4}
    assert found["ear bearing, BTH-1"].required == 2.0
    assert all("BTH-1" in found[f"ear {mode}, BTH-1"].source for mode in ("tension", "bearing"))


def test_a_loose_pin_loses_strength_by_bth_1():
    part = clevis(**EARS["clearance hole"])
    tight, slack = (
        checks(p, (8000.0, 0.0, 0.0))["ear tension, BTH-1"].capacity for p in (clevis(), part)
    )
    kept = 1 - 0.275 * np.sqrt(1 - (9.525 / 9.725) ** 2)
    b = [(22 - bore) / 2 for bore in (9.525, 9.725)]
    F = part.metal.ultimate_strength / part.metal.yield_strength
    wide = [
        min(x, 0.6 * x * F * np.sqrt(bore / x)) for x, bore in zip(b, (9.525, 9.725), strict=True)
    ]
    assert slack / tight == pytest.approx(kept * wide[1] / wide[0], rel=EXACT)


def test_a_pin_that_turns_in_its_ears_bears_half():
    """0.63 for 1.25 F_y D t: a blade on a pin that turns in the ears, under load."""
    blade = clevis(**EARS["blade"])
    found = checks(blade, (8000.0, 0.0, 0.0))["ear bearing, BTH-1"]
    assert found.capacity == pytest.approx(
        0.63 * blade.metal.yield_strength * 9.525 * 8.0, rel=EXACT
    )


def test_a_slanting_pull_by_the_air_force_by_hand():
    """P = 1/((cos/P_au)^1.6 + (sin/P_tu)^1.6)^(1/1.6), its two loads as shown beside it."""
    part = clevis("male thread")
    found = checks(part, (8000.0, 6000.0, 0.0))
    along = found["ear lug along, Air Force"]
    across = found["ear lug across, Air Force"]
    slant = found["ear lug slanting, Air Force"]
    cos, sin = 0.8, 0.6
    expected = ((cos / along.capacity) ** 1.6 + (sin / across.capacity) ** 1.6) ** (-1 / 1.6)
    assert slant.capacity == pytest.approx(expected, rel=EXACT)
    assert slant.demand == pytest.approx(10000 * nearer(part), rel=EXACT)
    assert "AFFDL-TR-69-42" in along.source


def test_male_thread_by_hand():
    part = clevis("male thread", **SMOOTH)
    found = checks(part, (5000.0, 100.0, 0.0))
    # ISO 898-1:2013, 9.1.6.1: A_s = π/4 (d − 0.9382 p)².
    area = np.pi / 4 * (12 - 0.9382 * 1.5) ** 2
    assert found["shank thread, yield"].demand == pytest.approx(5000 / area, rel=1e-4)
    arm = part.ears.back + thread("M12x1.5").relief("external").total_width
    round_bar = np.sqrt(4 / np.pi * area)
    stress = 5000 / area + 32 * 100 * arm / (np.pi * round_bar**3)
    # The factor 0.9382 is rounded to four places in the standard.
    assert found["shank thread, pull with bending, yield"].demand == pytest.approx(stress, rel=1e-4)
    # The mate's aluminium strips before the clevis's steel.
    assert found["shank female thread strip"].factor < found["shank male thread strip"].factor


def test_flanks_that_bend_take_from_both_threads():
    """Alexander, SAE 770420: flanks bend under each other, the stronger thread's more for its share."""
    found = checks(clevis("male thread"), (5000.0, 100.0, 0.0))
    male, female = (found[f"shank {side} thread strip"] for side in ("male", "female"))
    plain = {one.name: one.steps[-1] for one in (male, female)}
    own = {k: step.inputs["tau"] * step.inputs["A"].value for k, step in plain.items()}
    R = own[female.name] / own[male.name]
    assert R < 1.0  # the aluminium mate is the weaker
    assert male.capacity == pytest.approx(0.897 * own[male.name], rel=EXACT)
    weak = min(0.728 + 1.769 * R - 2.896 * R**2 + 1.296 * R**3, 1.0)
    assert female.capacity == pytest.approx(weak * own[female.name], rel=EXACT)


def test_boss_by_hand():
    part = clevis("female thread")
    groove = thread("M8").relief("internal").diameter
    found = checks(part, (-4000.0, 0.0, 0.0))
    assert found["shank boss, yield"].demand == pytest.approx(
        4000 / (np.pi / 4 * (14**2 - groove**2)), rel=EXACT
    )
    # Alexander's swelling of a boss: s = D/d = 14/8 gives 3.8 s − s² − 2.61.
    s = 14 / 8
    strip = found["shank female thread strip"]
    wide = checks(with_values(part, {"shank.flats": 40.0}), (-4000.0, 0.0, 0.0))[
        "shank female thread strip"
    ]
    assert strip.capacity / wide.capacity == pytest.approx(3.8 * s - s**2 - 2.61, rel=EXACT)


def test_spigot_weld_and_rosettes_by_hand():
    part = clevis("spigot", **SMOOTH)
    outside, wall = 15.875, 1.651
    throat = 1.5
    area = np.pi / 4 * (outside**2 - (outside - 2 * throat) ** 2)
    found = checks(part, (6000.0, 0.0, 0.0))
    assert found["spigot weld, yield"].demand == pytest.approx(6000 / area, rel=EXACT)
    zone = part.metal.beside_weld("ER70S-2", wall)
    assert found["spigot weld, yield"].capacity == zone.yield_strength < part.metal.yield_strength
    plugs, butt = 2 * np.pi / 4 * 10**2, np.pi * throat * (outside - throat)
    each = found["spigot rosette, shear"]
    assert each.demand == pytest.approx(6000 * plugs / (plugs + butt) / 2, rel=EXACT)
    assert each.capacity == pytest.approx(
        zone.ultimate_strength / np.sqrt(3) * np.pi / 4 * 10**2, rel=EXACT
    )


@pytest.mark.parametrize("shank", ["spigot", "foot"])
def test_metal_near_a_weld_counts_as_welded(shank):
    part = clevis(shank)
    by_name = {span.name: span.material for span in part.spans()}
    assert by_name["body"].yield_strength < part.metal.yield_strength
    far = clevis(
        shank, ears__depth="70 mm", **({"shank__distance": 105} if shank == "foot" else {})
    )
    checks_far = checks(far, (1000.0, 0.0, 0.0))
    assert checks_far["ear net section, yield"].capacity == far.metal.yield_strength


def test_bolts_of_a_pad_by_hand():
    part = clevis("pad", **SMOOTH)
    area = thread("M6").stress_area
    pull = checks(part, (8000.0, 0.0, 0.0))
    assert pull["pad bolt, tension, yield"].demand == pytest.approx(8000 / 4 / area, rel=EXACT)
    assert (
        pull["pad bolt, tension, yield"].capacity == 640.0
    )  # ISO 898-1, class 8.8 up to M16: 640 MPa
    side = checks(part, (0.0, 1000.0, 0.0))
    arm = part.ears.back + 8.0
    assert side["pad bolt, tension, yield"].demand == pytest.approx(
        1000 * arm / (4 * 20) / area, rel=EXACT
    )
    assert side["pad bolt, shear"].demand == pytest.approx(1000 / 4 / area, rel=EXACT)
    twist = checks(part, moment=(40000.0, 0.0, 0.0))
    reach = np.hypot(*CORNERS[0])
    assert twist["pad bolt, shear"].demand == pytest.approx(40000 / (4 * reach) / area, rel=EXACT)
    bend = pull["pad bending along y, yield"]
    assert bend.demand == pytest.approx(6 * 2 * 2000 * (20 - 11) / (70 * 8**2), rel=EXACT)


def test_pad_bolts_turn_with_the_clocking():
    # A quarter turn swaps the spacings across which a side force tips the pad.
    straight, turned = (
        clevis("pad", **SMOOTH),
        with_values(clevis("pad", **SMOOTH), {"clocking": np.pi / 2}),
    )
    one, other = (
        checks(p, (0.0, 1000.0, 0.0))["pad bolt, tension, yield"].demand for p in (straight, turned)
    )
    assert one / other == pytest.approx(25 / 20, rel=EXACT)


def test_foot_weld_by_hand():
    part = clevis("foot", **SMOOTH)
    both = checks(part, (6000.0, 0.0, 0.0))
    found = both["foot weld, ultimate"]
    # A pull through the centroid of the weld spreads evenly.
    assert found.demand == pytest.approx(6000 / part.shank.path(part.body).lengths.sum(), rel=1e-6)
    ultimate = min(
        part.metal.beside_weld().ultimate_strength,
        part.shank.tube_material.beside_weld("", part.shank.tube.wall_mm).ultimate_strength,
    )
    wall = part.shank.tube.wall_mm
    leg = ultimate / np.sqrt(3) * min(3.0 / np.sqrt(2), wall)
    assert found.capacity == pytest.approx(leg, rel=EXACT)
    beside = min(
        part.metal.beside_weld().yield_strength,
        part.shank.tube_material.beside_weld("", wall).yield_strength,
    )
    assert both["foot weld, yield"].capacity == pytest.approx(leg * beside / ultimate, rel=EXACT)


def test_the_wall_under_a_foot_by_hand():
    """EN 1993-1-8, Table 7.3, by hand: a plate along the tube and one across it, 4130 tube 38.1 x 2.413."""
    part = clevis("foot", **SMOOTH)
    d0, t0 = 38.1, 2.413
    zone = part.shank.tube_material.beside_weld("", t0)
    f_y = zone.yield_strength * (1.0 if zone.yield_strength <= 355 else 0.9)
    k = 1 - 0.3 * 2 / 3 * (1 + 2 / 3)
    wide, long = part.ears.width, part.ears.height
    along = 5 * k * f_y * t0**2 * (1 + 0.25 * long / d0)
    beta = wide / d0
    across = k * f_y * t0**2 * min(4 + 20 * beta**2, 5 / (1 - 0.81 * beta))
    found = checks(part, (6000.0, 0.0, 0.0))["tube wall under the foot"]
    assert found.demand == pytest.approx(6000 / max(along, across), rel=1e-9)
    # Across the tube a side force along the tube's axis, z, rocks it lengthwise about the tube's top.
    side = checks(part, (0.0, 0.0, 800.0))["tube wall under the foot"]
    assert side.demand == pytest.approx(800 * (55 - d0 / 2) / (0.8 * long * along), rel=1e-9)


def test_the_floor_bends_over_the_shank():
    part = clevis("male thread without undercut", **SHARP_EDGES)
    (floor,) = [span for span in part.spans() if "floor" in span.name]
    found = scan(floor, [case_of((4000.0, 0.0, 0.0))], np.array([0.0]))
    middle = (part.ears.throat.width + part.ears.thickness) / 2
    arm = middle - part.shank.thread.major / 2
    assert abs(found.resultants.Mz[0, 0]) == pytest.approx(4000 * nearer(part) * arm, rel=EXACT)
    assert found.section.area[0] == pytest.approx(22.0 * 8.0, rel=EXACT)
    assert not [s for s in clevis("male thread with neck").spans() if "floor" in s.name]


def test_two_bolts_in_one_line_rock_on_the_edge_of_the_pad():
    """The pad presses over its half beside the bolts, from nothing at their line to its most at the edge."""
    part = clevis("pad", shank__at=[[0, -25], [0, 25]], **SMOOTH)
    found = checks(part, (0.0, 500.0, 0.0))
    lever = 2 / 3 * (60 / 2 - 0.5)
    moment = 500 * (part.ears.back + 8.0)
    pull = found["pad bolt, tension, yield"].demand * thread("M6").stress_area
    assert pull == pytest.approx(moment / lever / 2, rel=EXACT)
    bent = found["pad bending along y, yield"].demand
    assert bent == pytest.approx(6 * moment / lever * (lever - 11) / (70 * 8**2), rel=EXACT)
    assert balance("clevis", [*point_actions(case_of((0.0, 500.0, 0.0)), part.points()),
                              *part.holding(case_of((0.0, 500.0, 0.0)))]).ok  # fmt: skip


VARIED = {
    "ears.thickness": [5.5, 6.0, 7.0],
    "ears.width": [21.0, 22.0, 24.0],
    "ears.depth": [20.0, 22.0, 25.0],
    "ears.pin.diameter": [9.4, 9.5, 9.525],
    "edge_break": [0.3, 0.4, 0.5],
    "root_fillet": [0.5, 1.0, 1.5],
    "clocking": [0.0, 0.1, 0.2],
}


@pytest.mark.parametrize("shank", SHANKS)
def test_arrays_equal_one_at_a_time(shank):
    case = case_of((3000.0, 500.0, -200.0), (100.0, 2000.0, 300.0))
    same_one_at_a_time(clevis(shank), VARIED, case)
