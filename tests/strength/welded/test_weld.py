"""Welds as lines: tabulated properties, equilibrium, and the two methods against each other."""

import doctest

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp

from parts.strength.method import work
from parts.strength.welded import line as weldline
from parts.strength.welded import weld
from parts.strength.welded.line import arc, line, polyline

vectors = hnp.arrays(float, 3, elements=st.floats(-1e3, 1e3, allow_subnormal=False))
B, D = 37.0, 64.0
CORNERS = [[0.0, 0.0], [B, 0.0], [B, D], [0.0, D]]
# Simpson's rule with 48 steps round a full circle is off by (2π/48)⁴/180 at most.
ARC = (2.0 * np.pi / weldline.ARC_STEPS) ** 4 / 180.0


@pytest.mark.parametrize("module", [weld, weldline])
def test_examples_in_the_docstrings(module):
    assert doctest.testmod(module).failed == 0


# Unit properties as tabulated: Shigley, Tables 9-1 and 9-2; Blodgett, 7.4, Table 5. Straight lines
# are integrated exactly, so only rounding is allowed.
@pytest.mark.parametrize(
    ("path", "I_x", "J"),
    [
        (polyline(CORNERS, closed=True), D**2 * (3 * B + D) / 6, (B + D) ** 3 / 6),
        (line(*CORNERS[1:3]) + line(CORNERS[3], CORNERS[0]), D**3 / 6, D * (3 * B**2 + D**2) / 6),
        (line(*CORNERS[:2]) + line(*CORNERS[2:]), B * D**2 / 2, B * (3 * D**2 + B**2) / 6),
        (
            polyline([CORNERS[i] for i in (1, 0, 3, 2)]),
            D**2 * (6 * B + D) / 12,
            (8 * B**3 + 6 * B * D**2 + D**3) / 12 - B**4 / (2 * B + D),
        ),
        (
            polyline([CORNERS[i] for i in (1, 0, 3)]),
            D**3 * (4 * B + D) / (12 * (B + D)),
            ((B + D) ** 4 - 6 * B**2 * D**2) / (12 * (B + D)),
        ),
    ],
    ids=["box", "two uprights", "two flats", "channel", "angle"],
)
def test_tabulated_properties(path, I_x, J):
    tensor = weldline.unit_inertia(path)
    assert tensor[0, 0] == pytest.approx(I_x, rel=1e-12)
    assert tensor[2, 2] == pytest.approx(J, rel=1e-12)


def test_arcs_close_and_have_their_length():
    ring = arc([3.0, 4.0], [13.0, 4.0], 2.0 * np.pi)
    assert weldline.length(ring) == pytest.approx(20.0 * np.pi, rel=1e-12)
    np.testing.assert_allclose(weldline.centroid(ring), [3.0, 4.0, 0.0], atol=10.0 * ARC)
    halves = arc([0.0, 0.0], [10.0, 0.0], np.pi) + arc([0.0, 0.0], [-10.0, 0.0], np.pi)
    assert weldline.unit_inertia(halves)[0, 0] == pytest.approx(np.pi * 1e3, rel=ARC)
    half = arc([0.0, 0.0], [10.0, 0.0], np.pi)
    assert weldline.centroid(half)[1] == pytest.approx(2.0 * 10.0 / np.pi, rel=ARC)
    tangent = np.linalg.norm(half.along, axis=-1)
    np.testing.assert_allclose(tangent, 1.0, rtol=1e-12)
    np.testing.assert_allclose((half.along * half.points).sum(-1), 0.0, atol=1e-12)


@given(vectors, vectors, vectors)
def test_the_weld_balances_any_load(F, M, point):
    path = polyline(
        [[0.0, 0.0, 0.0], [40.0, 0.0, 0.0], [40.0, 30.0, 0.0], [40.0, 30.0, 25.0]]
    ) + arc([40.0, 0.0, 0.0], [50.0, 0.0, 0.0], 2.0, axis=np.array([0.0, 1.0, 0.0]))
    q = weld.line_force(path, F, M, point) * path.lengths[:, None]
    # Moments reach 2e6 N·mm: rounding.
    np.testing.assert_allclose(q.sum(0), F, atol=1e-6)
    np.testing.assert_allclose(np.cross(path.points, q).sum(0), M + np.cross(point, F), atol=1e-4)


def test_a_single_line_takes_no_torque_about_itself():
    path = line([0.0, 0.0], [50.0, 0.0])
    load = {"path": path, "F": np.zeros(3), "point": np.zeros(3)}
    assert np.isnan(weld.line_force(M=np.array([1.0, 0.0, 0.0]), **load)).all()
    assert not work(weld.line_force, M=np.array([1.0, 0.0, 0.0]), **load).in_range
    # Bent about z: q = 6 M / L² at the ends, square to the line.
    q = weld.line_force(M=np.array([0.0, 0.0, 5000.0]), **load)
    np.testing.assert_allclose(q[[0, -1], 1], [-12.0, 12.0])


def test_many_loads_at_once():
    path = polyline(CORNERS, closed=True)
    F = np.random.default_rng(3).normal(size=(4, 5, 3))
    q = weld.line_force(path, F, np.zeros(3), np.array([0.0, 0.0, 80.0]))
    assert q.shape == (4, 5, 12, 3)
    one = weld.line_force(path, F[2, 3], np.zeros(3), np.array([0.0, 0.0, 80.0]))
    np.testing.assert_allclose(q[2, 3], one, rtol=1e-12, atol=1e-15)
    rings = arc(
        [0.0, 0.0], np.stack([np.linspace(8.0, 20.0, 6), np.zeros(6)], axis=-1), 2.0 * np.pi
    )
    assert weldline.length(rings).shape == (6,)
    assert weld.throat_stress(
        weld.line_force(rings, F[0, 0], np.zeros(3), np.zeros(3)), 5.0
    ).shape == (
        6,
        weldline.ARC_STEPS + 1,
    )


@given(vectors)
def test_directional_method_lies_between_its_two_pure_cases(q):
    x, z = np.array([1.0, 0.0, 0.0]), np.array([0.0, 0.0, 1.0])
    a = 4.0
    stress = weld.directional_stress(q, x, z, a)
    size = np.linalg.norm(q) / a
    # Transverse √2 to √3, lengthwise √3 of the force over the throat.
    assert np.sqrt(2.0) * size * (1 - 1e-9) <= stress <= np.sqrt(3.0) * size * (1 + 1e-9)
    # So the simplified method never allows more.
    assert stress / weld.directional_strength(360.0, 0.8) <= (
        size / weld.simplified_strength(360.0, 0.8) * (1 + 1e-9)
    )


@given(vectors)
def test_normal_stress_on_the_throat_stays_below_its_own_limit(q):
    sigma = (np.abs(q[1]) + np.abs(q[2])) / np.sqrt(2.0) / 4.0
    x, z = np.array([1.0, 0.0, 0.0]), np.array([0.0, 0.0, 1.0])
    assert sigma <= weld.directional_stress(q, x, z, 4.0) / np.sqrt(3.0) + 1e-9


def test_tube_forms_bound_the_general_line():
    d, N, V, M, T = 25.0, 4.0e3, 1.5e3, 6.0e4, 2.0e4
    ring = arc([0.0, 0.0], [d / 2, 0.0], 2.0 * np.pi)
    q = weld.line_force(ring, np.array([0.0, V, N]), np.array([M, 0.0, T]), np.zeros(3))
    assert weld.tube_fillet_force(d, N, V, M, T) >= np.linalg.norm(q, axis=-1).max()
    for load in ([N, 0.0, 0.0, 0.0], [0.0, 0.0, M, 0.0], [0.0, 0.0, 0.0, T]):
        n, _, m, t = load
        q = weld.line_force(ring, np.array([0.0, 0.0, n]), np.array([m, 0.0, t]), np.zeros(3))
        assert weld.tube_fillet_force(d, *load) == pytest.approx(
            np.linalg.norm(q, axis=-1).max(), rel=ARC
        )


def test_thin_tube_butt_weld_is_the_line_over_the_wall():
    # A wall of a thousandth of the diameter differs from a line by about that share.
    D, t = 100.0, 0.1
    line_q = weld.tube_fillet_force(D - t, 0.0, 0.0, 1.0e5, 0.0)
    assert weld.tube_butt_stress(D, t, 0.0, 0.0, 1.0e5, 0.0) == pytest.approx(line_q / t, rel=2e-3)
    twist = weld.tube_fillet_force(D - t, 0.0, 0.0, 0.0, 1.0e5)
    assert weld.tube_butt_stress(D, t, 0.0, 0.0, 0.0, 1.0e5) == pytest.approx(
        np.sqrt(3.0) * twist / t, rel=2e-3
    )


def test_small_plugs_count_as_their_ring_and_thin_throats_are_told():
    ring = 200.0 * np.pi * (6.0 - 1.0) * 2.0 / np.sqrt(2.0)
    assert weld.plug_capacity(6.0, 2.0, 200.0) == pytest.approx(ring, rel=1e-12)
    assert weld.plug_capacity(3.0, 3.0, 200.0) == pytest.approx(200.0 * np.pi / 4.0 * 9.0)
    assert not weld.plug_capacity.holds(D=6.0, t=2.0, tau=200.0)
    assert weld.least_length(6.0) == 36.0
    q, x, z = np.zeros(3), np.array([1.0, 0.0, 0.0]), np.array([0.0, 0.0, 1.0])
    assert not weld.directional_stress.holds(q=q, along=x, normal=z, a=2.0)


def test_the_weakest_of_throat_leg_and_part_governs():
    h, t = 5.0, np.array([1.0, 20.0, 20.0])
    S_w, haz = np.array([300.0, 100.0, 300.0]), np.array([200.0, 200.0, 120.0])
    expected = [1.0 * 350.0 / np.sqrt(3.0), 100.0 * h / np.sqrt(2.0), 120.0 * h]
    np.testing.assert_allclose(weld.fillet_capacity(h, t, S_w, haz, 350.0), expected, rtol=1e-12)


def test_variants_of_a_path_in_one_call():
    scale = np.linspace(1.0, 2.0, 5)
    many = polyline(np.array(CORNERS) * scale[:, None, None], closed=True)
    J = weldline.unit_inertia(many)[:, 2, 2]
    np.testing.assert_allclose(J, (B + D) ** 3 / 6 * scale**3, rtol=1e-12)
    one = line([0.0, 0.0, 10.0], [5.0, 0.0, 10.0])
    assert (many + one).lengths.shape == (5, 15)


def test_an_arc_run_backwards_points_backwards():
    there = arc([0.0, 0.0], [10.0, 0.0], 1.2)
    back = arc([0.0, 0.0], there.points[-1], -1.2)
    np.testing.assert_allclose(back.points[::-1], there.points, atol=1e-12)
    np.testing.assert_allclose(back.along[::-1], -there.along, atol=1e-12)
    assert weldline.length(back) == pytest.approx(12.0, rel=1e-12)
