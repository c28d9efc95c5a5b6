"""Rod ends: sections by integration, forces by superposition, swing by turning the outline."""

import doctest

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.strength.pinned import rod_end

HEAD = {"T": 10.3, "D": 25.4}


def test_examples_in_the_docstrings():
    assert doctest.testmod(rod_end).failed == 0


def test_round_head_is_the_integral_of_its_chords():
    D, T, K = 25.4, 10.3, 19.0
    z = (np.arange(100_000) + 0.5) / 100_000 * T - T / 2.0
    chords = (np.sqrt(D**2 - 4.0 * z**2) - K).sum() * T / z.size
    # Midpoint rule on a smooth curve.
    assert rod_end.head_area_round(D, T, K) == pytest.approx(chords, rel=1e-8)
    assert rod_end.head_area_round(D, T, K) < rod_end.head_area_flat(D, T, K)


def test_a_cavity_as_large_as_the_head_leaves_nothing():
    assert rod_end.head_area_flat(20.0, 10.0, 21.0) == 0.0
    assert not rod_end.head_area_flat.holds(D=20.0, T=10.0, K=21.0)
    assert np.isnan(rod_end.head_area_round(10.0, 12.0, 5.0))
    assert rod_end.shank_capacity(5.0, 600.0, 5.0) == 0.0


def test_misaligned_force_at_its_two_ends():
    L, d3, sigma = 40.0, 8.16, 600.0
    assert rod_end.misaligned_capacity(0.0, L, d3, sigma) == pytest.approx(
        rod_end.shank_capacity(d3, sigma), rel=1e-12
    )
    cantilever = sigma * np.pi * d3**3 / (32.0 * L)
    assert rod_end.misaligned_capacity(np.pi / 2.0, L, d3, sigma) == pytest.approx(
        cantilever, rel=1e-12
    )
    assert np.isnan(rod_end.misaligned_capacity(-0.1, L, d3, sigma))


@given(st.floats(0.0, np.pi / 2.0), st.floats(5.0, 80.0), st.floats(0.0, 4.0))
def test_the_force_found_brings_the_root_to_its_strength(beta, L, h):
    F = rod_end.misaligned_capacity(beta, L, 8.16, 600.0, h)
    stress = rod_end.shank_stress(F * np.cos(beta), F * np.sin(beta), L, 8.16, h)
    assert stress == pytest.approx(600.0, rel=1e-12)


def test_a_moment_beside_may_lie_in_the_plane_of_the_side_force():
    """A load off the axis bends in whatever plane the ball happens to stand: the root bears both together."""
    root = np.pi / 32.0 * 8.16**3
    stress = rod_end.shank_stress(0.0, 100.0, 40.0, 8.16, M=-3000.0)
    assert stress == pytest.approx(7000.0 / root, rel=1e-12)


def rotated(points: np.ndarray, angle: float) -> np.ndarray:
    """Points (r, z) of the head after a swing."""
    turn = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    return points @ turn


def first_touch(touches) -> float:
    """Smallest angle at which something touches, by bisection."""
    low, high = 0.0, np.pi / 2.0
    for _ in range(60):
        middle = (low + high) / 2.0
        low, high = (low, middle) if touches(middle) else (middle, high)
    return high


@pytest.mark.parametrize("G", [10.8, 14.0, 19.0, 24.0])
def test_swing_between_long_ears_by_turning_the_outline(G):
    T, D = HEAD["T"], HEAD["D"]
    corner = np.array([[D / 2.0, T / 2.0]])
    square = first_touch(lambda a: rotated(corner, a)[0, 1] > G / 2.0)
    assert rod_end.swing_between_ears_square(G, **HEAD) == pytest.approx(square, abs=1e-12)
    edge = np.arcsin(T / D)
    ball_corner = D / 2.0 * np.array([[np.cos(edge), np.sin(edge)]])
    round_head = first_touch(lambda a: rotated(ball_corner, a)[0, 1] > G / 2.0)
    assert rod_end.swing_between_ears(G, **HEAD) == pytest.approx(round_head, abs=1e-12)
    assert rod_end.swing_between_ears_square(G, **HEAD) < rod_end.swing_between_ears(G, **HEAD)


@pytest.mark.parametrize("R", [4.0, 9.0, 11.0, 12.5, 14.0, 30.0])
def test_swing_between_short_ears_by_turning_the_outline(R):
    T, D, G = HEAD["T"], HEAD["D"], 14.0
    face = np.column_stack([np.linspace(0.0, D / 2.0, 20_001), np.full(20_001, T / 2.0)])
    side = np.column_stack([np.full(2_001, D / 2.0), np.linspace(-T / 2.0, T / 2.0, 2_001)])
    outline = np.vstack([face, side])

    def touches(angle):
        at = rotated(outline, angle)
        return bool(((at[:, 0] <= R) & (at[:, 1] > G / 2.0)).any())

    # The ear is met between two points of the outline, 6e-4 mm apart, 9 mm from the axis.
    assert rod_end.swing_at_ear_rim(G, **HEAD, R=R) == pytest.approx(first_touch(touches), abs=2e-4)


def test_swing_at_the_shoulder_by_turning_the_rim():
    S, T, E = 13.0, 10.3, 19.0
    edge = np.arcsin(T / E)
    rim = E / 2.0 * np.array([[np.cos(edge), np.sin(edge)]])
    touch = first_touch(lambda a: rotated(rim, a)[0, 0] < S / 2.0)
    assert rod_end.swing_at_shoulder(S, T, E) == pytest.approx(touch, abs=1e-12)


def test_the_balls_own_face_gives_the_form_with_its_width():
    E, T, W = 19.0, 10.3, 12.7
    assert rod_end.swing_at_shoulder(np.sqrt(E**2 - W**2), T, E) == pytest.approx(
        np.arcsin(W / E) - np.arcsin(T / E), rel=1e-12
    )


def test_no_swing_without_a_gap_and_no_number_where_the_head_passes():
    assert rod_end.swing_between_ears(10.0, **HEAD) == 0.0
    assert rod_end.swing_between_ears_square(10.3, **HEAD) == pytest.approx(0.0, abs=1e-15)
    assert np.isnan(rod_end.swing_between_ears(26.0, **HEAD))
    assert np.isnan(rod_end.swing_between_ears_square(28.0, **HEAD))
    assert np.isnan(rod_end.swing_at_shoulder(20.0, 10.3, 19.0))


def test_arrays_broadcast():
    beta = np.radians(np.linspace(0.0, 30.0, 4))
    L = np.array([[20.0], [40.0]])
    F = rod_end.misaligned_capacity(beta, L, 8.16, 600.0)
    assert F.shape == (2, 4)
    assert (np.diff(F, axis=1) < 0.0).all()
    assert rod_end.swing_at_ear_rim(14.0, **HEAD, R=np.array([9.0, 30.0])).shape == (2,)
