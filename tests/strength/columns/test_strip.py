"""A strip held at both ends buckles as closed forms say, and a hole weakens it as a stepped column."""

import numpy as np
import pytest

from parts.strength.columns import strip
from parts.strength.columns.strip import strip_use

EVEN = np.ones(25)
EI, GJ, L = 6.83e6 * EVEN, 10.5e6 * EVEN, 100.0


def test_a_strip_buckles_as_a_built_in_column_and_topples_under_even_moment():
    # Timoshenko & Gere, sections 2.2 (4π² EI/L²) and 6.3 (ends that cannot turn: 2π √(EI GJ)/L).
    push = 4.0 * np.pi**2 * 6.83e6 / L**2
    moment = 2.0 * np.pi * np.sqrt(6.83e6 * 10.5e6) / L
    assert 1.0 <= strip_use(EI, GJ, L, push * EVEN, 0.0 * EVEN) <= 1.01
    assert 1.0 <= strip_use(EI, GJ, L, 0.0 * EVEN, moment * EVEN) <= 1.01
    # Both at once: u (u - N/N_cr) = (M/M_cr)².
    both = strip_use(EI, GJ, L, 0.5 * push * EVEN, 0.5 * moment * EVEN)
    assert both == pytest.approx(0.25 + np.hypot(0.25, 0.5), rel=0.01)
    assert strip_use(EI, GJ, L, -push * EVEN, 0.0 * EVEN) == 0.0


@pytest.mark.parametrize("a", [0.5, 0.25])
def test_a_push_beside_a_bar_that_twists_turns_it_over(a):
    # Held against twist at both ends, turned at a: GJ/L (1/a + 1/(1 - a)) a radian.
    stiff = 10.5e6 / L * (1.0 / a + 1.0 / (1.0 - a))
    found = strip_use(EI, GJ, L, 0.0 * EVEN, 0.0 * EVEN, Qe=stiff, a=a)
    assert found == pytest.approx(1.0, rel=1e-6)


def test_a_soft_middle_buckles_as_a_stepped_column(share=0.25, soft=0.4):
    # Built in, soft over the middle half: by small steps from its end to the middle, where it is to lie level;
    # no shear acts, so that the moment is the end's less push times deflection.
    def moved(P, steps=4000):
        """Slope at the middle of half a column that leaves its end straight, with moment and no shear, by steps."""
        h, w, turn = 0.5 * L / steps, 0.0, 0.0
        for i in range(steps):
            stiff = 6.83e6 * (soft if (i + 0.5) / steps > 1.0 - 2.0 * share else 1.0)
            turn += h * (1.0 - P * w) / stiff
            w += h * turn
        return turn

    low, high = 1e3, 27e3
    for _ in range(40):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if moved(middle) > 0.0 else (low, middle)
    weak = np.where(np.abs(strip.stations() - 0.5) <= share + 1e-9, soft, 1.0)
    found = strip_use(weak * EI, GJ, L, low * EVEN, 0.0 * EVEN)
    assert 1.0 <= found <= 1.05


def test_many_strips_at_once():
    many = strip_use(
        np.ones((5, 1, 1)) * EI, GJ, L, 1e3 * EVEN, 2e4 * EVEN, Qe=np.ones((5, 3)), a=0.3
    )
    assert many.shape == (5, 3)
    np.testing.assert_allclose(many, strip_use(EI, GJ, L, 1e3 * EVEN, 2e4 * EVEN, Qe=1.0, a=0.3))
