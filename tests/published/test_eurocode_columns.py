"""EN 1993-1-1:2005, 6.3.1: reduction factors χ of the buckling curves.

From memory of the factors as tabulated to four places by the ECCS.
"""

import pytest
from evidence import example

from parts.strength import column

TABLE = {  # (α, λ): χ
    (0.13, 1.0): 0.7253,
    (0.21, 1.0): 0.6656,
    (0.34, 1.0): 0.5970,
    (0.49, 1.0): 0.5399,
    (0.76, 1.0): 0.4671,
    (0.21, 0.5): 0.9243,
    (0.34, 0.5): 0.8842,
    (0.49, 0.5): 0.8430,
}


def chi(alpha, slenderness):
    return column.european_curve_load(P_E=1.0 / slenderness**2, A=1.0, F_y=1.0, alpha=alpha)


@pytest.mark.parametrize(("alpha", "slenderness"), TABLE)
def test_buckling_curves(alpha, slenderness):
    # printed to four places
    assert chi(alpha, slenderness) == pytest.approx(TABLE[alpha, slenderness], abs=6e-5)


@example(
    method="parts.strength.column.european_curve_load",
    source="EN 1993-1-1:2005, 6.3.1.2, curve c at λ = 1.0, from memory",
    published=0.5399,
    unit="-",
    tolerance=2e-4,
    why="printed to four places",
)
def test_cold_formed_tube_at_slenderness_one():
    return chi(0.49, 1.0)
