"""Shigley's Mechanical Engineering Design (9th ed.), chapter 6: fatigue. Examples quoted from memory."""

from evidence import example

from parts.strength import fatigue, mean_stress
from parts.strength import notch_sensitivity as ns
from parts.strength.notch_sensitivity import KSI

BOOK = "Shigley's Mechanical Engineering Design, 9th ed., Example {}, from memory"


@example(
    method="parts.strength.fatigue.strength_at",
    source=BOOK.format("6-2"),
    published=64.6,
    unit="ksi",
    tolerance=1e-3,
    why="printed to three figures",
)
def test_strength_at_ten_thousand_cycles():
    return fatigue.strength_at(1e4, S_ut=90 * KSI, S_e=45 * KSI, f=0.86) / KSI


@example(
    method="parts.strength.fatigue.cycles_at",
    source=BOOK.format("6-2"),
    published=77_500.0,
    unit="cycles",
    tolerance=1e-2,
    why="the book rounds the exponent to three figures",
)
def test_life_at_55_ksi():
    return fatigue.cycles_at(55 * KSI, S_ut=90 * KSI, S_e=45 * KSI, f=0.86)


@example(
    method="parts.strength.fatigue.surface_factor",
    source=BOOK.format("6-3"),
    published=0.860,
    unit="-",
    tolerance=1e-3,
    why="printed to three figures",
)
def test_machined_surface_of_520_mpa_steel():
    return fatigue.surface_factor(520.0, "machined or cold-drawn")


@example(
    method="parts.strength.fatigue.size_factor",
    source=BOOK.format("6-4"),
    published=0.858,
    unit="-",
    tolerance=4e-3,
    why="the book takes (d/7.62)^-0.107, the metric form rounds 1.2427 to 1.24",
)
def test_size_factor_of_a_rotating_shaft():
    return fatigue.size_factor(32.0)


@example(
    method="parts.strength.fatigue.size_factor",
    source=BOOK.format("6-4"),
    published=0.954,
    unit="-",
    tolerance=4e-3,
    why="the book takes (d/7.62)^-0.107, the metric form rounds 1.2427 to 1.24",
)
def test_size_factor_of_a_shaft_that_does_not_turn():
    return fatigue.size_factor(fatigue.equivalent_diameter_round(32.0))


@example(
    method="parts.strength.notch_sensitivity.fatigue_factor",
    source=BOOK.format("6-6"),
    published=1.55,
    unit="-",
    tolerance=4e-3,
    why="printed to three figures",
)
def test_fatigue_factor_of_a_filleted_shoulder():
    q = ns.neuber(ns.neuber_root_bending(690.0), 3.0)
    return ns.fatigue_factor(1.65, q)


@example(
    method="parts.strength.notch_sensitivity.neuber_root_bending",
    source=BOOK.format("6-6"),
    published=0.313,
    unit="√mm",
    tolerance=4e-3,
    why="printed to three figures from 100 ksi; 690 MPa is 100.07 ksi",
)
def test_neubers_constant_of_690_mpa_steel():
    return ns.neuber_root_bending(690.0)


@example(
    method="parts.strength.fatigue.endurance_limit",
    source=BOOK.format("6-8"),
    published=16.3,
    unit="ksi",
    tolerance=4e-3,
    why="printed to three figures",
)
def test_endurance_limit_of_a_machined_bar_in_reversed_axial_load():
    S_ut = 49 * KSI
    return (
        fatigue.endurance_limit(
            fatigue.specimen_limit(S_ut),
            k_a=fatigue.surface_factor(S_ut, "machined or cold-drawn"),
            k_c=fatigue.LOAD_FACTORS["axial"],
            k_e=fatigue.reliability_factor(fatigue.reliability_z(99)),
        )
        / KSI
    )


@example(
    method="parts.strength.fatigue.strength_at",
    source=BOOK.format("6-8"),
    published=23.9,
    unit="ksi",
    tolerance=4e-3,
    why="printed to three figures",
)
def test_strength_at_seventy_thousand_cycles():
    return fatigue.strength_at(7e4, S_ut=49 * KSI, S_e=16.3 * KSI, f=0.9) / KSI


BAR = {"s_a": 8.38 * KSI, "s_m": 8.38 * KSI, "S_e": 33.9 * KSI, "S_ut": 100 * KSI}


@example(
    method="parts.strength.mean_stress.gerber_factor",
    source=BOOK.format("6-11"),
    published=3.66,
    unit="-",
    tolerance=2e-3,
    why="printed to three figures",
)
def test_gerber_factor_of_a_pulled_bar():
    return mean_stress.gerber_factor(**BAR)


@example(
    method="parts.strength.mean_stress.first_cycle_yield_factor",
    source=BOOK.format("6-11"),
    published=5.01,
    unit="-",
    tolerance=2e-3,
    why="printed to three figures",
)
def test_yield_factor_of_a_pulled_bar():
    return mean_stress.first_cycle_yield_factor(BAR["s_a"], BAR["s_m"], 84 * KSI)
