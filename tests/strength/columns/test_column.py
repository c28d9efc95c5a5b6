"""Columns: closed forms, limits that must be met, and finite differences for the stepped one."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.linalg import eigh, solve_banded
from scipy.optimize import brentq

from parts.strength.columns import column, wrinkling

EXACT = 1e-12  # round-off only
E = 205_000.0
# A 20 x 2 tube.
A = np.pi / 4.0 * (20.0**2 - 16.0**2)
I_e = np.pi / 64.0 * (20.0**4 - 16.0**4)
SQUASH = A * 350.0


def test_long_columns_are_eulers_and_short_ones_squash():
    load = column.johnson_euler_load(E=E, A=A, I_min=I_e, L=np.array([1e-6, 5000.0]), F_cy=350.0)
    assert load[0] == pytest.approx(SQUASH, rel=1e-9)
    assert load[1] == column.euler_load(E=E, I_min=I_e, L=5000.0)


def test_cantilever_is_a_quarter_of_pinned():
    L = column.effective_length(L_0=300.0, K=column.CANTILEVER)
    assert column.euler_load(E, I_e, L) == pytest.approx(column.euler_load(E, I_e, 300.0) / 4.0)


def test_fixed_and_pinned_length_is_that_of_tan_u_equal_u():
    u = brentq(lambda x: np.sin(x) - x * np.cos(x), 4.0, 4.6)
    assert pytest.approx(np.pi / u, abs=5e-4) == column.FIXED_PINNED  # three figures


@given(L=st.floats(20.0, 3000.0), e=st.floats(0.0, 50.0), F=st.floats(50.0, 1500.0))
def test_secant_load_brings_the_worst_fibre_to_yield(L, e, F):
    P = column.secant_load(E=E, A=A, I_e=I_e, c=10.0, e=e, L=L, F=F)
    assert min(A * F, column.euler_load(E, I_e, L)) * (1 + 1e-12) >= P
    if e > 1e-3:
        stress = column.secant_stress(P=P, E=E, A=A, I_e=I_e, c=10.0, e=e, L=L)
        # Round-off in P is magnified where P comes close to the buckling load.
        assert stress == pytest.approx(F, rel=1e-4)


def test_secant_without_eccentricity_is_the_lesser_of_squash_and_euler():
    L = np.array([50.0, 2000.0])
    P = column.secant_load(E=E, A=A, I_e=I_e, c=10.0, e=0.0, L=L, F=350.0)
    np.testing.assert_allclose(P, [SQUASH, column.euler_load(E, I_e, 2000.0)], rtol=1e-12)


def test_above_the_buckling_load_nothing_is_finite():
    P_E = column.euler_load(E, I_e, 800.0)
    assert column.secant_stress(P=P_E, E=E, A=A, I_e=I_e, c=10.0, e=1.0, L=800.0) == np.inf
    assert column.uniform_load_moment(q=1.0, L=800.0, P=1.1 * P_E, P_E=P_E) == np.inf
    assert column.middle_load_moment(F=1.0, L=800.0, P=1.1 * P_E, P_E=P_E) == np.inf
    assert column.bow_moment(P=1.1 * P_E, a=1.0, P_E=P_E) == np.inf


@given(L=st.floats(20.0, 3000.0), a=st.floats(0.0, 20.0))
def test_perry_robertson_brings_the_worst_fibre_to_yield(L, a):
    P_E = column.euler_load(E, I_e, L)
    eta = column.bow_factor(a=a, c=10.0, A=A, I_e=I_e)
    P = column.perry_robertson_load(P_E=P_E, A=A, F_y=350.0, eta=eta)
    if a > 1e-3:
        stress = P / A + column.bow_moment(P=P, a=a, P_E=P_E) * 10.0 / I_e
        assert stress == pytest.approx(350.0, rel=1e-6)  # 1 - P/P_E loses digits near buckling
    else:
        assert min(SQUASH, P_E) * (1 + 1e-9) >= P


def test_stepped_column_of_one_size_is_eulers():
    load = column.stepped_load(1e9, 30.0, 1e9, 200.0, 1e9, 70.0)
    assert load == pytest.approx(np.pi**2 * 1e9 / 300.0**2, rel=1e-10)


def test_stepped_column_with_alike_ends_meets_the_printed_condition():
    EI_1, EI_2, L_1, L_2 = 2e8, 9e8, 40.0, 250.0
    P = column.stepped_load(EI_1, L_1, EI_2, L_2, EI_1, L_1)
    k_1, k_2 = np.sqrt(P / EI_1), np.sqrt(P / EI_2)
    assert np.tan(k_1 * L_1) * np.tan(k_2 * L_2 / 2.0) == pytest.approx(k_1 / k_2, rel=1e-9)


def finite_element_buckling(EI, length, per_piece=40):
    """Cubic beam elements with the consistent geometric stiffness, pinned ends."""
    sizes = np.repeat(np.divide(length, per_piece), per_piece)
    stiff = np.repeat(EI, per_piece)
    n = 2 * (len(sizes) + 1)
    K, G = np.zeros((n, n)), np.zeros((n, n))
    for i, (h, s) in enumerate(zip(sizes, stiff, strict=True)):
        at = slice(2 * i, 2 * i + 4)
        K[at, at] += (
            s
            / h**3
            * np.array(
                [
                    [12, 6 * h, -12, 6 * h],
                    [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                    [-12, -6 * h, 12, -6 * h],
                    [6 * h, 2 * h * h, -6 * h, 4 * h * h],
                ]
            )
        )
        G[at, at] += (
            1.0
            / (30.0 * h)
            * np.array(
                [
                    [36, 3 * h, -36, 3 * h],
                    [3 * h, 4 * h * h, -3 * h, -h * h],
                    [-36, -3 * h, 36, -3 * h],
                    [3 * h, -h * h, -3 * h, 4 * h * h],
                ]
            )
        )
    free = [i for i in range(n) if i not in (0, n - 2)]
    inverse = eigh(G[np.ix_(free, free)], K[np.ix_(free, free)], eigvals_only=True)
    return 1.0 / inverse[-1]


@pytest.mark.parametrize(
    ("EI", "length"),
    [
        ((2e8, 9e8, 1e8), (45.0, 260.0, 30.0)),
        ((9e8, 1e8, 9e8), (100.0, 80.0, 50.0)),
        ((1e7, 1e10, 1e7), (10.0, 400.0, 60.0)),
    ],
)
def test_stepped_column_of_unlike_ends_agrees_with_finite_elements(EI, length):
    load = column.stepped_load(EI[0], length[0], EI[1], length[1], EI[2], length[2])
    assert load == pytest.approx(finite_element_buckling(EI, length), rel=1e-6)


def test_stepped_columns_broadcast():
    L_1 = np.array([10.0, 30.0, 60.0])
    many = column.stepped_load(2e8, L_1, 9e8, 200.0, 2e8, L_1)
    one = [column.stepped_load(2e8, x, 9e8, 200.0, 2e8, x) for x in L_1]
    np.testing.assert_allclose(many, one, rtol=1e-13)


@pytest.mark.parametrize("share", [0.0, 0.3, 0.9])
def test_side_load_moments_agree_with_the_differential_equation(share):
    P_E, L = column.euler_load(E, I_e, 600.0), 600.0
    P, n = share * P_E, 2000
    h = L / n
    x = h * np.arange(1, n)
    y_uniform = solve_deflection(P, h, n, 0.5 * 1.0 * x * (L - x))
    M = 1.0 * L**2 / 8.0 + P * y_uniform[n // 2 - 1]
    # Central differences: error of order (h/L)² magnified by 1/(1 - share).
    assert column.uniform_load_moment(q=1.0, L=L, P=P, P_E=P_E) == pytest.approx(M, rel=2e-5)
    y_middle = solve_deflection(P, h, n, 0.5 * 40.0 * np.minimum(x, L - x))
    M = 40.0 * L / 4.0 + P * y_middle[n // 2 - 1]
    assert column.middle_load_moment(F=40.0, L=L, P=P, P_E=P_E) == pytest.approx(M, rel=2e-5)


def solve_deflection(P, h, n, M_0):
    """Solve E I y'' + P y = -M_0 with y = 0 at both ends by central differences."""
    EI = E * I_e
    band = np.zeros((3, n - 1))
    band[0, 1:], band[1], band[2, :-1] = EI / h**2, P - 2.0 * EI / h**2, EI / h**2
    return solve_banded((1, 1), band, -M_0)


def test_a_link_weighs_what_it_weighs():
    # 0.7 kg over 500 mm at 4 g: 0.7 x 9.80665 x 4 = 27.46 N in all.
    q = column.inertia_load(m=0.7 / 500.0, n=4.0)
    assert q * 500.0 == pytest.approx(0.7 * 9.80665 * 4.0, rel=EXACT)


def test_wall_of_a_stocky_tube_yields_and_of_a_foil_wrinkles():
    stocky = wrinkling.wall_buckling_stress(E=E, r=9.0, t=2.0, F_cy=350.0)
    assert 0.95 * 350.0 < stocky < 350.0
    foil = wrinkling.wall_buckling_stress(E=E, r=500.0, t=0.5, F_cy=350.0)
    ideal = E * 0.5 / 500.0 / np.sqrt(3.0 * 0.91)
    # knock-down at r/t = 1000: 1 - 0.901 (1 - exp(-1.976))
    assert foil == pytest.approx(ideal * (1.0 - 0.901 * (1.0 - np.exp(-np.sqrt(1000.0) / 16.0))))
    assert np.isnan(wrinkling.wall_buckling_stress(E=E, r=1600.0, t=1.0, F_cy=350.0))
    assert not wrinkling.wall_buckling_stress.holds(E=E, r=1600.0, t=1.0, F_cy=350.0)
