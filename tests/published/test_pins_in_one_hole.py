"""Pins pressed into one hole and bent: the formula of the German texts on machine elements, as printed."""

from evidence import example

from parts.strength.pinned import stop_pin


@example(
    method="parts.strength.pinned.stop_pin.mouth_pressure",
    source="Roloff/Matek, Maschinenelemente, ch. 9: p_max = F (6 l + 4 s)/(d s²) with l = 25, s = 15, d = 10 and "
    "F = 1000 N; from memory",
    published=1000.0 * (6.0 * 25.0 + 4.0 * 15.0) / (10.0 * 15.0**2),
    unit="MPa",
    tolerance=1e-9,
    why="the printed formula, worked",
)
def test_a_peg_with_a_load_outside():
    return stop_pin.mouth_pressure(1000.0, 25.0, 10.0, 15.0)


@example(
    method="parts.strength.pinned.stop_pin.one_ear_moment",
    source="Shigley, Table A-9, case 11: fixed and propped, load at the middle, 3 F l/16",
    published=3.0 * 6000.0 * 24.0 / 16.0,
    unit="N*mm",
    tolerance=1e-9,
    why="the printed formula, worked",
)
def test_a_bolt_whose_far_ear_fits():
    return stop_pin.one_ear_moment(6000.0, 0.0, 12.0, 24.0, 205.0e3 * 201.1)
