"""One bolt under shear and tension, and a round bar under all at once, against their closed forms."""

import numpy as np
import pytest

from parts.strength.bolted.plate import elliptical_use
from parts.strength.section.bar import round_bar_stress

ROUNDING = 1e-12


def test_shear_and_tension_lie_on_the_ellipse():
    angle = np.linspace(0.0, np.pi / 2, 7)
    on = elliptical_use(5000.0 * np.sin(angle), 3000.0 * np.cos(angle), 5000.0, 3000.0)
    assert on == pytest.approx(np.ones(7), rel=ROUNDING)
    assert elliptical_use(0.0, 1500.0, 5000.0, 3000.0) == pytest.approx(0.5, rel=ROUNDING)


def test_round_bar_under_each_load_alone():
    d = 12.0
    area, modulus = np.pi * d**2 / 4, np.pi * d**3 / 32
    assert round_bar_stress(-2000.0, 0.0, 0.0, d) == pytest.approx(2000.0 / area, rel=ROUNDING)
    assert round_bar_stress(0.0, 9000.0, 0.0, d) == pytest.approx(9000.0 / modulus, rel=ROUNDING)
    twist = round_bar_stress(0.0, 0.0, 9000.0, d)
    assert twist == pytest.approx(np.sqrt(3.0) * 9000.0 / (2.0 * modulus), rel=ROUNDING)


def test_round_bar_under_all_is_von_mises():
    parts = [round_bar_stress(*load, 12.0) for load in ((2e3, 0, 0), (0, 9e3, 0), (0, 0, 7e3))]
    expected = np.hypot(parts[0] + parts[1], parts[2])
    assert round_bar_stress(2e3, 9e3, 7e3, 12.0) == pytest.approx(expected, rel=ROUNDING)
