"""Torsion-bar arm: every option built and held against its sections, and its numbers worked by hand."""

from __future__ import annotations

from math import cos, pi, radians, sin, sqrt, tan

import numpy as np
import pytest
from by_turns import by_turns
from hypothesis import HealthCheck, given, settings
from pydantic import ValidationError
from stated import is_sound, worst_difference
from torsion_arms import (
    CLAMP,
    SPLINE,
    VARIANTS,
    arm,
    arms,
    stated,
)

from parts.core.part import Part
from parts.families.torsion_arm.family import TorsionArm
from parts.inputs.variants import with_values
from parts.making.model import NUDGE, SHARP, SOFTENED, model
from parts.strength.shafts import spline as dudley
from parts.strength.shafts import torsion_bar

STATIONS = (NUDGE, 0.37, 1.0 - NUDGE)


def made(name: str, sharp: bool = False) -> TorsionArm:
    return arm(**VARIANTS[name], **({"edge_break": 0} if sharp else {}))


def named(part: Part, case: int = 0) -> dict:
    """The checks of one load case by name."""
    return {one.name: one for one in part.modes(part.loads[case])}


def fact(part: Part, name: str) -> float:
    return float(part.facts()[name][0])


LONG = (
    "spline",
    "parallel and sharp",
    "cranked the other way, pocketed",
    "cranked and tapered",
    "bushed eye",
    "tapped without relief",
    "square",
    "pocketed",
    "eye for a spherical bearing",
    "hex",
    "clevis",
    "tapped",
    "clamp, relieved and turned",
)
"""Variants whose like another one builds too, or whose sharp sections are held below; the example has a spline too."""


@pytest.mark.parametrize(
    "name",
    [
        pytest.param(name, marks=[pytest.mark.slow] if name in LONG else [])
        for name in VARIANTS
        if name != "hollow preset bar"
    ],
)
def test_every_option_builds_one_sound_solid_that_is_the_one_checked(name):
    part = made(name)
    assert len(model(part).cuts) == len(part.loads)
    assert is_sound(part)
    assert worst_difference(part, STATIONS[::2]) < SOFTENED


# The bores of the hub lie outside every section of the load path: one of them stands for all.
SHARP_ARMS = [
    name for name in VARIANTS if name not in ("spline", "square", "clamp", "hollow preset bar")
]


@pytest.mark.parametrize("name", by_turns(SHARP_ARMS, of=5))
def test_without_edge_breaks_sections_agree_to_rounding(name):
    assert worst_difference(made(name, sharp=True), STATIONS) < SHARP


@pytest.mark.slow
@given(arms())
@settings(max_examples=5, deadline=None, suppress_health_check=list(HealthCheck))
def test_whatever_passes_the_rules_can_be_made(part):
    _can_be_made(part)


@pytest.mark.slow
@given(arms())
@settings(max_examples=150, deadline=None, suppress_health_check=list(HealthCheck))
def test_whatever_passes_the_rules_can_be_made_at_length(part):
    _can_be_made(part)


def _can_be_made(part: TorsionArm | None) -> None:
    if part is None:
        return
    assert is_sound(part)
    assert worst_difference(part, STATIONS) < (SOFTENED if part.edge_break > 0.0 else SHARP)


def test_arm_bends_as_a_cantilever():
    part = made("parallel and sharp", sharp=True)
    lever = part.arm.length - part.hub.diameter / 2.0
    modulus = 20.0 * 30.0**2 / 6.0
    assert named(part)["arm bending at the hub, yield"].demand == pytest.approx(
        5000.0 * lever / modulus
    )
    # The exact peak adds the shear of the force at the rim: a touch over plain bending, never under.
    (worst,) = part.check().criticals
    assert 1.0 <= worst.stress.von_mises / (5000.0 * lever / modulus) < 1.01


def test_cranked_arm_is_twisted_by_its_offset():
    part = made("cranked and tapered")
    scan = next(one for one in part.check().scans if one.span.name == "arm")
    x = scan.span.place(scan.t)[:, 0]
    rise = 20.0 - 20.0 / part.blade.reach * x
    np.testing.assert_allclose(np.ravel(scan.resultants.T), -5000.0 * rise, atol=1e-6)


def test_bar_rate_twist_and_stress_are_those_of_a_round_shaft():
    part = made("hex")
    bar, G, L = part.bar, part.bar.metal.G, part.arm.length
    J = pi * 21.0**4 / 32.0
    rate = G * J / 700.0
    assert fact(part, "bar rate") == pytest.approx(rate * pi / 180.0 / 1000.0)
    still = 1500.0 * L / rate
    bump = still + np.arcsin(50.0 / L)
    droop = still - np.arcsin(30.0 / L)
    assert fact(part, "twist at full bump") == pytest.approx(np.degrees(bump))
    assert fact(part, "twist at full droop") == pytest.approx(np.degrees(droop))
    torque = rate * bump
    checks = named(part)
    assert checks["bar shear at full bump"].demand == pytest.approx(16.0 * torque / (pi * 21.0**3))
    assert checks["bar shear"].demand == pytest.approx(16.0 * 5000.0 * L / (pi * 21.0**3))
    # Shigley, Table 10-6 (from memory): half of the tensile strength for hardened and tempered steel.
    assert checks["bar shear"].capacity == pytest.approx(0.5 * bar.metal.ultimate_strength)
    assert fact(part, "rate at the arm's end, static position") == pytest.approx(rate / L**2)
    turned = np.arcsin(50.0 / L)
    assert fact(part, "force at the arm's end at full bump") == pytest.approx(
        torque / (L * cos(turned))
    )


def test_hollow_preset_bar_on_travel_by_angle():
    part = made("hollow preset bar")
    J = pi * (21.0**4 - 10.0**4) / 32.0
    rate = part.bar.metal.G * J / 700.0
    bump = 1500.0 * part.arm.length / rate + radians(14.0)
    assert fact(part, "torque at full bump") == pytest.approx(rate * bump / 1000.0)
    assert fact(part, "shear stress at full bump") == pytest.approx(rate * bump * 10.5 / J)
    assert named(part)["bar shear"].capacity == pytest.approx(
        0.65 * part.bar.metal.ultimate_strength
    )
    assert any("preset" in line for line in part.cautions())


def test_static_angle_changes_the_rate_at_the_end():
    part = arm(bar__static_angle="-20 deg")
    k, L, phi = part.bar.rate, part.arm.length, radians(-20.0)
    theta = 1500.0 * L * cos(phi) / k
    # Derivative of P = k theta/(L cos phi) by L sin phi.
    expected = k * (1.0 + theta * tan(phi)) / (L * cos(phi)) ** 2
    assert fact(part, "rate at the arm's end, static position") == pytest.approx(expected)


def test_bending_of_a_parallel_arm_gives_the_cantilever_s_rate():
    part = made("parallel and sharp", sharp=True)
    E, inertia = part.metal.E, 20.0 * 30.0**3 / 12.0
    far, near = part.arm.length - part.blade.start, part.arm.length - part.blade.end
    # Only the stretch between the rims bends; stations are straight between, which costs 1e-4.
    expected = 3.0 * E * inertia / (far**3 - near**3)
    assert fact(part, "rate of the arm's own bending") == pytest.approx(expected, rel=2e-4)
    bar = fact(part, "rate at the arm's end, static position")
    both = fact(part, "rate at the arm's end with the arm's bending")
    assert 1.0 / both == pytest.approx(
        1.0 / bar + 1.0 / fact(part, "rate of the arm's own bending")
    )


def test_spline_is_held_by_dudley_s_stresses():
    part = made("spline")
    T, D, N, L = 5000.0 * part.arm.length, 25.4, 16, 36.0 - 1.6
    checks = named(part)
    # uniform source, light shock: K_a 1.2; 1e4 cycles: K_f 1; 0.001 rad over 34 mm: K_m 1.
    teeth = 1.2 * 4.0 * T / (D * N * L * (pi * D / (2.0 * N)))
    assert checks["spline teeth, shear, in service"].demand == pytest.approx(teeth)
    s = part.hub.bore.spline
    depth = (s.major_external - s.minor_internal) / 2.0
    pressure = 1.2 * 2.0 * T / (D * N * L * depth)
    assert checks["spline flanks, pressure, yield"].demand == pytest.approx(pressure)
    assert checks["spline flanks, pressure, in service"].demand == pytest.approx(pressure / 9.0)
    wall = (50.0 - s.major_internal) / 2.0
    burst = 1.2 * (T * tan(radians(30.0)) / (pi * D * wall * L) + 4.0 * T / (1.5 * D**2 * L))
    assert checks["spline hub, bursting, in service"].demand == pytest.approx(burst)
    # 160 ksi is 320 HB by 3.45 MPa each: the row of 302 to 351 HB.
    assert checks["spline teeth, shear, in service"].capacity == dudley.allowable(
        "302-351 HB", "shear"
    )
    end = checks["bar end in the hub, shear"]
    # Machinery's Handbook: the shaft under the teeth takes the same K_a as they do.
    assert end.demand == pytest.approx(1.2 * 16.0 * T / (pi * s.minor_external**3))
    assert (end.inputs["K_a"], end.inputs["K_f"]) == (1.2, 1.0)


@pytest.mark.parametrize(
    ("change", "value", "name", "times"),
    [
        ("shock", "heavy shock", "spline teeth, shear, in service", 1.8 / 1.2),
        ("shock", "heavy shock", "bar end in the hub, shear", 1.8 / 1.2),
        ("cycles", 1e5, "spline teeth, shear, in service", 1.0 / 0.5),
        ("misalignment", 0.004, "spline teeth, shear, in service", 2.0),
        ("seating", "loose", "spline flanks, pressure, in service", 9.0),
    ],
)
def test_spline_factors_come_from_the_published_tables(change, value, name, times):
    usual, changed = made("spline"), arm(hub__bore={**SPLINE, change: value})
    assert named(changed)[name].demand == pytest.approx(times * named(usual)[name].demand)


def test_reversing_torque_and_stated_hardness():
    usual = arm(hub__bore={**SPLINE, "cycles": 1e6})
    both = arm(hub__bore={**SPLINE, "cycles": 1e6, "reversing": True, "hardness": "58-63 HRC"})
    name = "spline teeth, shear, in service"
    assert named(both)[name].demand == pytest.approx(named(usual)[name].demand * 0.4 / 0.3)
    assert named(both)[name].capacity == dudley.allowable("58-63 HRC", "shear")


def test_aluminium_hub_has_no_published_spline_allowable_and_says_so():
    part = arm(hub__bore=SPLINE, material="7075-T6", form="plate")
    assert not [name for name in named(part) if name.startswith("spline") and "in service" in name]
    assert named(part)["spline teeth, shear, yield"].capacity == part.metal.shear_yield
    assert any("160 HB" in line for line in part.cautions())


@pytest.mark.parametrize("name, n", [("hex", 6), ("square", 4)])
def test_flats_press_and_burst(name, n):
    part = made(name)
    T, L, relief = 5000.0 * part.arm.length, 36.0 - 1.6, 3.0
    s = 22.0 * tan(pi / n) - relief
    wall = part.hub.diameter / 2.0 - (22.05 / cos(pi / n) + relief) / 2.0
    checks = named(part)
    assert checks["bore flats, pressure"].demand == pytest.approx(12.0 * T / (n * s**2 * L))
    assert checks["bore flats, hoop stress"].demand == pytest.approx(
        3.0 * T / (2.0 * pi * s * L * wall)
    )
    share = {4: 0.208, 6: 0.188}[n]
    assert checks["bar end in the hub, shear"].demand == pytest.approx(T / (share * 22.0**3))


def test_bored_flats_of_a_hollow_bar_are_weaker_than_solid_ones():
    solid, hollow = made("hex"), arm(bar__bore="10 mm")
    name = "bar end in the hub, shear"
    grown = named(hollow)[name].demand / named(solid)[name].demand
    # A hexagon's torsion constant is 0.115 AF^4 (Roark, from memory); the bore's share is 0.098 d^4.
    assert grown > 1.0 / (1.0 - 0.098 / 0.1154 * (10.0 / 22.0) ** 4)


def closing_by_hand(hub: float, free: float, e: float, E: float) -> float:
    """Pull [N] that bends a hub of 36 mm, bored 24.02 H7, round a bar of 24 h6: moments F (e - R cos φ) along the ring.

    Clearance 0.02 + 0.021 + 0.013 (ISO 286: H7 and h6 of 18 to 30 mm).
    """
    wall, R = (hub - 24.02) / 2.0, (hub + 24.02) / 4.0
    lever = e - R * np.cos(np.linspace(0.0, free, 20001))
    step = free / 20000
    once, twice = np.trapezoid(lever, dx=step), np.trapezoid(lever**2, dx=step)
    return 0.054 * E * 36.0 * wall**3 / 12.0 * once / (2.0 * R**2 * twice)


def settled_by_hand(A_s: float, E: float) -> float:
    """Preload [N] that an M8 loses in an ear of 14 mm less 0.5, slit 2 mm: 3 + 4.5 + 2.5 µm of settling (VDI 2230)."""
    k_b = A_s * 205e3 / (13.5 + 2.0 + 4.0)
    reach = 13.5 * tan(radians(30.0))
    k_m = pi * E * 8.0 * tan(radians(30.0)) / (2.0 * np.log(5.0 * (reach + 4.0) / (reach + 20.0)))
    return 0.010 * k_b * k_m / (k_b + k_m)


@pytest.mark.parametrize(
    ("field", "value"), [("scatter", 0.0), ("friction", 0.3), ("nut_factor", 0.06)]
)
def test_a_clamp_is_not_typed_firmer_than_a_shop_can_trust(field, value):
    """No wrench brings every bolt to its mean, no bare bar grips by 0.3, no oil turns by a third of the torque."""
    bore = made("clamp, relieved and turned").hub.bore
    with pytest.raises(ValidationError) as refused:
        type(bore).model_validate(bore.model_dump() | {field: value})
    assert (field,) in [one["loc"] for one in refused.value.errors()]


def test_clamp_holds_by_friction_of_what_is_left_of_its_preload():
    part = made("clamp, relieved and turned")
    bolt, E = part.hub.bore.bolt, part.metal.E
    preload = 0.7 * bolt.proof_load
    wall = (54.0 - (24.02 + 1.5 * 4.0)) / 2.0
    hinge = 27.0 - wall / 2.0
    # The arm of 40 mm holds the ring over its whole half; the slit is turned toward it by 30 degrees.
    closing = closing_by_hand(54.0, pi - pi / 2.0 - pi / 6.0, 30.0, E)
    least = preload * (1.0 - 0.25) - settled_by_hand(bolt.thread.stress_area, E) - closing
    grip = least * (1.0 + 30.0 / hinge)
    checks = named(part)
    assert closing > preload / 3.0
    assert checks["clamp, slip"].capacity == pytest.approx(0.12 * grip * 24.0, rel=2e-3)
    assert checks["pinch bolt, preload"].demand == pytest.approx(1.25 * preload)
    assert checks["pinch bolt, preload"].capacity == pytest.approx(970.0 * bolt.thread.stress_area)
    pull = 1.25 * preload * 30.0 / hinge / (wall * 36.0)
    torque = float(abs(part.torque(part.loads[0])))
    walls = torque * 6.0 * 54.0 / (36.0 * (54.0**3 - (24.0 + 0.02 + 1.5 * 4.0) ** 3))
    assert checks["clamp hinge, tension"].demand == pytest.approx(pull + walls, rel=2e-3)
    root = 30.0 - sqrt(27.0**2 - 15.0**2)
    bent = 6.0 * 1.25 * preload * root / (36.0 * 14.0**2)
    assert checks["clamp ear, bending"].demand == pytest.approx(bent)
    # The head of 13 mm over a hole of 9 mm.
    under = 1.25 * preload / (pi / 4.0 * (13.0**2 - 9.0**2))
    assert checks["under the pinch bolt's head"].demand == pytest.approx(under)
    assert fact(part, "tightening torque of the pinch bolts") == pytest.approx(
        0.18 * preload * 8.0 / 1000.0
    )
    assert checks["bar end in the hub, shear"].demand == pytest.approx(
        16.0 * 5000.0 * part.arm.length / (pi * 24.0**3)
    )


def test_more_bolts_grip_more_and_err_together():
    one = arm(hub__bore={**CLAMP, "count": 1}, hub__diameter="52 mm")
    two = made("clamp")
    # One wrench errs on both alike, and the hub is bent round its bar once: two bolts grip twice and that much more.
    wall = (52.0 - 24.02) / 2.0
    closing = closing_by_hand(52.0, pi / 2.0, 30.0, two.metal.E)
    more = 0.12 * 24.0 * closing * (1.0 + 30.0 / (26.0 - wall / 2.0))
    single, double = (named(part)["clamp, slip"].capacity for part in (one, two))
    assert double - 2.0 * single == pytest.approx(more, rel=2e-3)


def test_hub_walls_carry_the_whole_torque():
    part = made("clamp")
    modulus = 36.0 * (52.0**3 - 24.02**3) / (6.0 * 52.0)
    check = named(part)["hub walls beside the bore, yield"]
    assert check.demand == pytest.approx(5000.0 * part.arm.length / modulus)


def test_eye_and_pin_by_hand():
    part = made("hex")
    checks = named(part)
    # Both sides carry: arm of the moment is t1/2 + t2/4 + gap (Bruhn; see parts.strength.pinned.pin).
    moment = 5000.0 / 2.0 * (8.0 / 2.0 + 20.0 / 4.0 + 0.2)
    assert checks["eye pin, bending, yield"].demand == pytest.approx(32.0 * moment / (pi * 12.0**3))
    assert checks["eye pin, shear"].demand == pytest.approx(5000.0 / (2.0 * pi * 6.0**2))
    assert checks["eye bearing, yield"].demand == pytest.approx(5000.0 / (12.0 * 20.0))
    assert checks["eye shear-out"].capacity == pytest.approx(
        2.0 * 20.0 * (18.0 - 12.05 / 2.0) * part.metal.shear_ultimate
    )


def test_bush_and_bearing_press_on_their_own_diameters():
    bushed, ball = made("bushed eye"), made("eye for a spherical bearing")
    assert named(bushed)["eye bearing, yield"].demand == pytest.approx(5000.0 / (16.0 * 20.0))
    assert "eye bush bearing, ultimate" in named(bushed)
    bearing = ball.end.bore.bearing
    assert named(ball)["eye bearing, yield"].demand == pytest.approx(
        5000.0 / (bearing.outside * bearing.ring_width)
    )
    assert named(ball)["eye pin, shear"].demand == pytest.approx(5000.0 / (pi * 6.0**2))
    assert bearing.designation in [one.designation for one in ball.bought()]


def test_rod_end_is_bent_by_the_load_across_it():
    part = made("tapped")
    thread = part.end.rod_end.thread
    d3 = thread.major - 1.226869 * thread.pitch  # root diameter of ISO 724 threads
    nut = 26.0 - part.end.bent_length
    assert nut == pytest.approx(6.0)  # ISO 4035, M12
    rubbed = 0.2 * 5000.0 * part.end.rod_end.ball_diameter / 2.0
    stress = 32.0 * (5000.0 * 26.0 + rubbed) / (pi * d3**3)
    checks = named(part)
    assert checks["rod end shank, yield"].demand == pytest.approx(stress, rel=1e-4)
    # Both threads are pulled on one side by the moment at the mouth of the hole: 4 M/d2.
    pull = 4.0 * (5000.0 * 26.0 + rubbed) / (12.0 - 0.649519 * thread.pitch)
    assert checks["rod end female thread strip"].demand == pytest.approx(pull, rel=1e-4)


def test_spline_tooth_stands_where_its_clocking_says():
    import cadquery as cq

    part = made("spline")
    hub = part.hub
    s, solid = hub.bore.spline, hub.bore.cut_from(hub.solid(0.5), float(hub.width)).val()

    def metal(angle: float) -> bool:
        r = s.pitch_diameter / 2.0
        return solid.isInside(cq.Vector(r * cos(angle), r * sin(angle), 0.0))

    turn, half = radians(7.0), pi / s.teeth
    # The bar's reference tooth fills a space of the hub; half a pitch on stands a tooth of the hub.
    assert not metal(turn) and metal(turn + half) and metal(turn - half)
    lead = s.minor_internal / 2.0 + 0.3
    tooth = turn + half
    assert solid.isInside(cq.Vector(lead * cos(tooth), lead * sin(tooth), 0.0))
    assert not solid.isInside(cq.Vector(lead * cos(tooth), lead * sin(tooth), 17.9))
    assert fact(part, "clocking of the reference tooth") == pytest.approx(7.0)


def test_a_moved_dimension_makes_another_part():
    short, long = made("hex"), arm(arm__length="200 mm", edge_break=0)
    assert long.pieces[0].solid.val().BoundingBox().xmax == pytest.approx(200.0 + 18.0)
    assert named(long)["bar shear"].demand == pytest.approx(
        200.0 / 180.0 * named(short)["bar shear"].demand
    )
    assert fact(long, "rate at the arm's end, static position") < fact(
        short, "rate at the arm's end, static position"
    )


def test_a_load_case_short_of_full_bump_is_named():
    assert not any("full bump" in line for line in made("hex").cautions())
    weak = arm(loads=[{"name": "ride", "forces": [{"at": "end", "force": ["0 N", "1 kN", "0 N"]}]}])
    assert any("not checked at full bump" in line for line in weak.cautions())


ARRAYS = {
    "arm.length": [170.0, 180.0, 210.0],
    "arm.thickness": [16.0, 18.0, 20.0],
    "hub.diameter": [50.0, 54.0, 60.0],
    "bar.diameter": [17.0, 20.0, 21.0],
}


@pytest.mark.parametrize(
    "name", ["spline", "hex", "clamp", "pocketed", "clevis", "tapped", "bushed eye"]
)
def test_arrays_give_what_single_values_give(name):
    part = made(name)
    many = with_values(part, {path: np.array(values) for path, values in ARRAYS.items()})
    for i in range(3):
        one = with_values(part, {path: values[i] for path, values in ARRAYS.items()})
        for rule, single in zip(many.rules(), one.rules(), strict=True):
            assert rule.code == single.code
            assert np.broadcast_to(rule.ok, 3)[i] == single.ok
        for check, single in zip(many.modes(part.loads[0]), one.modes(part.loads[0]), strict=True):
            np.testing.assert_allclose(
                np.broadcast_to(check.factor, 3)[i], single.factor, rtol=1e-9
            )
        for (name_, (value, _)), (single, _) in zip(
            many.facts().items(), one.facts().values(), strict=True
        ):
            np.testing.assert_allclose(
                np.broadcast_to(value, 3)[i], single, rtol=1e-9, err_msg=name_
            )


def test_demonstration_arm_holds_all_its_loads():
    import parts

    part = parts.load("params/hc-103-torsion-arm.yaml")
    result = part.check()
    assert result.ok
    # What governs keeps a little in hand over what it must have, and no more than twice that.
    one = result.governing
    assert 1.0 <= one.factor / one.required < 2.0
    assert part.name == "HC-103"


def test_the_stock_of_the_example_is_as_thick_as_hub_and_end():
    part = TorsionArm.model_validate(dict(TorsionArm.example))
    assert part.stock_thickness() == pytest.approx(36.0)


def test_every_field_has_a_line_in_the_schema():
    def lines(schema: dict) -> None:
        for name, field in schema.get("properties", {}).items():
            group = field.get("$ref", "").rpartition("/")[2]
            assert field.get("description") or whole["$defs"][group]["description"], name
        for inner in schema.get("$defs", {}).values():
            lines(inner)

    whole = TorsionArm.model_json_schema()
    lines(whole)


def test_stated_energy_is_the_work_of_the_spring():
    part = made("hex")
    k = part.bar.rate
    bump, _ = part.bar.twists(part.arm.length)
    still = part.bar.static_twist(part.arm.length)
    work = torsion_bar.stored_energy(k, bump) - torsion_bar.stored_energy(k, still)
    assert fact(part, "energy from static to full bump") == pytest.approx(work / 1000.0)
    assert stated()["arm"]["length"] == "180 mm"
