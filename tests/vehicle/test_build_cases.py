"""Load cases that a build states: chain, damper and kick lever, how often a load comes, and what is wrong with them."""

import numpy as np
import pytest
from builds import BUILD, DEMO, refused, with_rear_end, write

from parts.inputs.problems import InputError
from parts.vehicle.build import Build
from parts.vehicle.file.loading import build_of
from parts.vehicle.loads.vehicle_cases import chain_run

SPROCKETS = """hardpoints:
  back: {from: axle, offset: [0, 62, 0]}
  front: {at: [72, 62, 428]}
  top: {at: [-245, 60, 720]}
  low: {at: [-330, 60, 400]}
"""
STOPS = "  preload: 3.4 deg\n", "  preload: 3.4 deg\n  stops: {on_frame: top, on_swing_arm: low}\n"
CHAIN = (
    "chain: {rear_sprocket: back, front_sprocket: front, rear_radius: 121.4, front_radius: 33.2}\n"
)


def with_cases(*cases, chain=CHAIN):
    listed = "".join(f"  - {one}\n" for one in cases)
    cases = "\nparts:", f"\n{chain}cases:\n{listed}parts:"
    return with_rear_end(cases, ("hardpoints:\n", SPROCKETS), STOPS)


def case_of(build, name):
    (found,) = [one for one in build.cases if one.name == name]
    return found


def test_the_chain_pulls_both_sprockets_with_what_lifts_the_front_wheel(tmp_path):
    text = with_cases("{type: acceleration}").replace(
        "swing arm: bought", "front: gearbox, top: lug, swing arm: bought"
    )
    build = Build(write(tmp_path, text))
    case = case_of(build, "acceleration")
    on = {one.point: one for one in case.held if one.by == "chain"}
    # S = m g x / h and F = S r_t / r_s; the grip of 1.2 would give more.
    rest = build.rear.at(build.rear.positions["rear wheel at rest, rider seated"]).motion.axle
    x = (120.0 * 184.0 - 85.0 * 40.0) / 205.0 - rest[0]
    h = (120.0 * 520.0 + 85.0 * 980.0) / 205.0 - (rest[2] - 320.0)
    pull = 205.0 * 9.80665 * x / h * 320.0 / 121.4
    assert np.linalg.norm(on["back"].force) == pytest.approx(pull, rel=1e-9)
    assert on["back"].force == pytest.approx(-on["front"].force)
    *_, way = chain_run(case.points["back"], build.points["front"], 121.4, 33.2)
    assert on["back"].force / pull == pytest.approx(way) and way[0] > 0.95
    assert (on["back"].body, on["front"].body) == ("wheel", "frame")


def test_the_kick_lever_takes_twice_the_rider(tmp_path):
    build = Build(write(tmp_path, with_cases("{type: kick lever, at: front}")))
    (one,) = case_of(build, "kick start").held
    assert one.force == pytest.approx([0.0, 0.0, -2.0 * 85.0 * 9.80665])


def test_a_passenger_lands_on_his_own_weight(tmp_path):
    text = with_cases(
        "{type: passenger, at: front}", "{type: passenger, name: pillion, at: front, factor: 2}"
    )
    text = text.replace("rider_mass: 85 kg,", "rider_mass: 85 kg, passenger_mass: 70 kg,")
    build = Build(write(tmp_path, text))
    for name, factor in (("passenger lands on his seat", 3.0), ("pillion", 2.0)):
        (one,) = case_of(build, name).held
        assert one.force == pytest.approx([0.0, 0.0, -factor * 70.0 * 9.80665])


def damped(loads):
    mounts = "hardpoints:\n  top: {at: [-245, 60, 720]}\n  low: {at: [-330, 60, 400]}\n"
    damper = f"  damper: {{on_frame: top, on_swing_arm: low, loads: [{loads}]}}\n"
    preload = "  preload: 3.4 deg\n"
    return with_rear_end(("hardpoints:\n", mounts), (preload, preload + damper))


def test_the_damper_loads_its_own_mounts(tmp_path):
    loads = "{name: closes, rate: 1.4, velocity: 1500}, {name: opens, way: opening, force: 1.6 kN}"
    build = Build(write(tmp_path, damped(loads)))
    for name, force, sign in (("closes", 1.4 * 1500.0, 1.0), ("opens", 1600.0, -1.0)):
        case = case_of(build, name)
        on = {one.point: one.force for one in case.held}
        assert np.linalg.norm(on["top"]) == pytest.approx(force)
        assert on["top"] == pytest.approx(-on["low"])
        # Pressed together it pushes its mounts apart: the frame's up, the swing arm's down.
        assert np.sign(on["top"][2]) == sign
        assert not any(one.error for one in case.balances)
        # The wheel stands at rest, so the mount on the swing arm is higher than drawn at full droop.
        assert case.points["low"][2] > build.points["low"][2]
    # The spring's own cases do not feel it.
    assert "damper" not in {one.by for one in case_of(build, "rear wheel at full bump").held}


@pytest.mark.parametrize(
    ("text", "field", "words"),
    [
        (with_cases("{type: acceleration}", chain=""), "cases[1].type", "does not state its chain"),
        (with_cases("{type: seat, at: back, slope: 3}"), "cases[1].slope", "is no key here"),
        (with_cases("{type: acceleration}", chain=CHAIN.replace("front,", "frnt,")), "chain.front_sprocket",
         "nearest is `front`"),
        (with_cases("{type: acceleration}", chain=CHAIN.replace("121.4", "600")), "cases[1]", "they touch"),
        (with_cases("{type: climbing, slope: 44 deg}"), "cases[1].slope", "steeper than it can climb"),
        (with_cases("{type: rear brake}"), "cases[1].type", "does not state its rear brake"),
        (with_cases("{type: front brake}"), "cases[1].type", "states no front end"),
        (with_cases("{type: landing, height: 300}"), "cases[1].type", "rate of the tyres is not stated"),
        (with_cases("{type: passenger, at: back}"), "cases[1]", "carries no passenger"),
        (with_cases("{type: fall, at: pivot, gives: 30}"), "cases[1].at", "does not reach the ground"),
        (with_cases("{type: engine vibration, speed: 8000}"), "cases[1].type", "what shakes in its engine"),
        (with_cases("{type: kick lever, at: back, factr: 2}"), "cases[1].factr", "nearest is `factor`"),
        (with_cases("{type: kik lever, at: back}"), "cases[1].type", "`kick lever`"),
        (with_cases("{type: stated, name: x, at: back, force: 3 mm}"), "cases[1].force", "N"),
        (with_cases("{type: stated, name: x, at: back, force: 3 N, also: [{at: bak, force: 1 N}]}"),
         "cases[1].also[1].at", "nearest is `back`"),
        (with_cases("{type: stated, name: x, at: back, force: 3 N, also: [{at: back}]}"),
         "cases[1].also[1].force", "missing"),
        (with_cases("{type: seat, at: back, spectrum: {blocks: []}}"), "cases[1].spectrum.blocks", ""),
        (with_cases("{type: seat, at: back, spectrum: {blocks: [{cycles: 10, share: 1.5}]}}"),
         "cases[1].spectrum.blocks[1].share", "1"),
        (damped("{name: closes}"), "rear_end.damper.loads[1]", "needs its force, or its rate and velocity"),
        (damped("{name: closes, force: 2 kN, rate: 1.4, velocity: 3}"), "rear_end.damper.loads[1]", "and not both"),
        (damped("{name: closes, force: 2 kN}, {name: closes, force: 3 kN}"), "cases", "called 'closes'"),
        (BUILD.replace("four: {from: three, offset: [0, 0, 32]", "four: {from: three, offset: [0, 0, 0]"),
         "parts[2].place", "three and four coincide; move one"),
        (BUILD.replace("units: mm\n", "unit: mm\n"), "unit", "nearest is `units`"),
        (BUILD.replace("units: mm\n", ""), "hardpoints.one.within", "or declare `units: mm` at the top"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_once_with_its_place(tmp_path, text, field, words):
    problems = refused(write(tmp_path, text))
    told = [one for one in problems if one.field == field or one.field.startswith(f"{field}.")]
    assert told and len({one.field for one in told}) == len(told), [str(one) for one in problems]
    assert words in str(told[0]) and told[0].line > 0
    others = [one for one in problems if one not in told]
    # Without units every bare length of the file is wrong; else there is one problem.
    assert not others or "unit" in words


@pytest.mark.parametrize(
    ("old", "new", "field", "words"),
    [
        # Statics: 120 kg at 184 mm and 85 kg at -40 mm, the axle at -486 mm.
        ("wheelbase: 1340", "wheelbase: 13.4", "vehicle.wheelbase", "must be more than 670 mm"),
        ("machine: {at: [184,", "machine: {at: [-500,", "vehicle.machine_centre", "14 mm behind the rear axle"),
        ("rider: {at: [-40,", "rider: {at: [-2000,", "vehicle.rider_centre", "machine and rider lies"),
        ("[0, 0, 0], within: 1}", "[0, 0, 0], within: 1000}", "hardpoints.one.within", "at most 100 mm"),
    ],
)  # fmt: skip
def test_a_slip_of_the_unit_is_told_at_its_own_field(tmp_path, old, new, field, words):
    (problem,) = refused(write(tmp_path, with_rear_end((old, new))))
    assert problem.field == field and problem.line > 0
    assert words in f"{problem.wrong}; {problem.right}"


def test_a_file_without_units_is_not_told_value_by_value(tmp_path):
    with pytest.raises(InputError) as caught:
        _ = Build(write(tmp_path, BUILD.replace("units: mm\n", "")))
    lines = str(caught.value).splitlines()
    assert len(caught.value.problems) > 5 and len(lines) == 4
    more = len(caught.value.problems) - 3
    assert lines[-1].startswith(f"{tmp_path}/build.yaml: {more} more values have no unit: lines ")


def test_a_load_point_beside_its_hardpoint_carries_the_moment_too(tmp_path):
    # The hardpoint of the load lies 10 mm aside (y) of where the pin sits: r x F = (0, 10, 0) x (0, 0, -200).
    text = BUILD.replace(
        "place: {origin: one, x: forward, z: up}",
        "place: {origin: one, x: forward, z: up}\n    points: {pin: one}\n    carries: {pin: beside}",
        1,
    ).replace("parts:", "cases: [{type: stated, name: hung, at: beside, force: 200 N}]\nparts:")
    text = text.replace("  three:", "  beside: {from: one, offset: [0, 10, 0]}\n  three:", 1)
    build = Build(write(tmp_path, text))
    (case,) = build.part("A").loads
    (load,) = case.forces
    assert load.at == "pin" and tuple(load.force) == (0.0, 0.0, -200.0)
    assert tuple(load.moment) == (-2000.0, 0.0, 0.0)
    (problem,) = refused(
        write(tmp_path, text.replace("carries: {pin: beside}", "carries: {end: beside}"))
    )
    assert "`end` has no place among the points of this part" in str(problem)


def test_how_often_a_load_comes_goes_to_the_parts_that_it_loads(tmp_path):
    blocks = "{blocks: [{cycles: 500, what: counted}, {cycles: 20000, share: 0.4}], ratio: -0.2}"
    text = BUILD.replace(
        "place: {origin: one, x: forward, z: up}",
        "place: {origin: one, x: forward, z: up}\n    points: {pin: one}", 1,
    ).replace(
        "parts:",
        f'cases: [{{type: stated, name: hung, at: one, force: 200 N, spectrum: {blocks}}}]\nparts:',
    )  # fmt: skip
    part = Build(write(tmp_path, text)).part("A")
    (case,) = part.loads
    assert [(one.cycles, one.share) for one in case.spectrum] == [(500.0, 1.0), (20000.0, 0.4)]
    assert case.ratio == -0.2
    assert any(one.mode == "fatigue" for one in part.check().checks)


def test_the_demo_checks_arm_and_link_against_fatigue():
    build = build_of(DEMO)
    for name in ("HC-103", "HC-106"):
        part = build.part(name)
        (bump,) = [case for case in part.loads if case.spectrum]
        assert bump.name == "rear wheel at full bump"
        found = [one for one in part.check().checks if one.mode == "fatigue"]
        assert len(found) >= 4 and all(one.ok for one in found)
