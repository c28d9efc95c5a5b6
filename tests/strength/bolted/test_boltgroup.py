"""Bolt groups: equilibrium for any pattern, closed forms, and loads a pattern cannot carry."""

import doctest

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as hnp

from parts.strength.bolted import group
from parts.strength.method import work

SQUARE = np.array([[-50.0, -50.0], [50.0, -50.0], [50.0, 50.0], [-50.0, 50.0]])
PATTERN = np.array([[0.0, 0.0], [30.0, 4.0], [55.0, 41.0], [-12.0, 60.0], [17.0, 25.0]])
AREAS = np.array([36.6, 36.6, 20.1, 58.0, 36.6])

numbers = st.floats(-1e3, 1e3, allow_subnormal=False)
vectors = hnp.arrays(float, 3, elements=numbers)


def test_examples_in_the_docstrings():
    assert doctest.testmod(group).failed == 0


@given(vectors, vectors, vectors)
def test_reactions_balance_any_load(F, M, point):
    bolts = group.bolt_reactions(PATTERN, F, M, point, AREAS)
    at = np.column_stack([PATTERN, np.zeros(len(PATTERN))])
    # Sums of a few products of numbers below 1e6: rounding only.
    np.testing.assert_allclose(bolts.sum(0), F, atol=1e-8)
    np.testing.assert_allclose(np.cross(at, bolts).sum(0), M + np.cross(point, F), atol=1e-6)


def test_larger_bolts_take_more():
    even = group.elastic_shear(PATTERN, 0.0, 1000.0, *group.centroid(PATTERN, AREAS), A=AREAS)
    np.testing.assert_allclose(even[:, 1], 1000.0 * AREAS / AREAS.sum(), rtol=1e-12)


@given(hnp.arrays(float, (5, 2), elements=st.floats(-80.0, 80.0)), st.floats(0.0, 6.28), numbers)
@settings(max_examples=50)
def test_softening_bolts_carry_at_least_the_elastic_group(xy, angle, arm):
    # Bolts of a real pattern do not touch.
    distance = np.linalg.norm(xy[:, None] - xy[None], axis=-1) + 100.0 * np.eye(5)
    assume(distance.min() > 5.0)
    load = (np.cos(angle), np.sin(angle), arm, 0.3 * arm)
    C = group.instantaneous_centre_coefficient(xy, *load)
    spent = (1.0 - np.exp(-3.4)) ** 0.55
    assert 0.0 < C <= 5 * spent + 1e-9
    elastic = 1.0 / np.linalg.norm(group.elastic_shear(xy, *load), axis=-1).max()
    # Softening shares the load more evenly, so the ultimate group carries at least the elastic one
    # with its farthest bolt at the same force.
    assert spent * elastic * (1.0 - 1e-4) <= C


@pytest.mark.parametrize("e", [10.0, 50.0, 300.0])
def test_two_bolts_have_a_closed_form(e):
    a = 38.1
    # By symmetry both bolts are spent; the centre lies a²/e behind them.
    x0 = a**2 / e
    closed = 2.0 * (1.0 - np.exp(-3.4)) ** 0.55 * x0 / np.hypot(x0, a)
    C = group.instantaneous_centre_coefficient(np.array([[0.0, -a], [0.0, a]]), 0.0, -1.0, e, 0.0)
    assert pytest.approx(closed, rel=1e-6) == C


def test_a_force_through_the_centroid_spends_all_bolts():
    C = group.instantaneous_centre_coefficient(SQUARE, 3.0, 4.0, 0.0, 0.0)
    assert pytest.approx(4.0 * (1.0 - np.exp(-3.4)) ** 0.55, rel=1e-9) == C


def test_no_force_has_no_coefficient():
    worked = work(group.instantaneous_centre_coefficient, xy=SQUARE, Fx=0.0, Fy=0.0, x=1.0, y=0.0)
    assert np.isnan(worked.value)
    assert not worked.in_range


def test_bolts_in_one_line_carry_a_moment_only_along_it():
    line = np.array([[0.0, -20.0], [0.0, 20.0]])
    np.testing.assert_allclose(
        group.tension_about_centroid(line, 0.0, 4.0e4, 0.0), [-1000.0, 1000.0]
    )
    assert np.isnan(group.tension_about_centroid(line, 0.0, 0.0, 4.0e4)).all()
    slope = line @ np.array([[0.6, 0.8], [-0.8, 0.6]])
    moment = 4.0e4 * np.array([0.6, 0.8])
    np.testing.assert_allclose(
        group.tension_about_centroid(slope, 0.0, moment[0], moment[1]), [-1000.0, 1000.0]
    )
    worked = work(
        group.bolt_reactions,
        xy=line,
        F=np.zeros(3),
        M=np.array([0.0, 1.0, 0.0]),
        point=np.zeros(3),
    )
    assert not worked.in_range


def test_one_bolt_carries_force_and_no_moment():
    one = np.array([[10.0, 10.0]])
    np.testing.assert_allclose(group.elastic_shear(one, 5.0, 6.0, 10.0, 10.0), [[5.0, 6.0]])
    assert np.isnan(group.elastic_shear(one, 5.0, 6.0, 20.0, 10.0)).all()
    np.testing.assert_allclose(group.tension_about_centroid(one, 7.0, 0.0, 0.0), [7.0])
    assert np.isnan(group.tension_about_centroid(one, 7.0, 1.0, 0.0)).all()


def test_pivot_on_the_edge_balances_the_moment():
    h = np.array([15.0, 15.0, 90.0, 90.0])
    N = group.tension_about_edge(h, 2.0e6, np.array([36.6, 36.6, 58.0, 58.0]))
    assert (N * h).sum() == pytest.approx(2.0e6)
    assert not group.tension_about_edge.holds(h=np.array([-5.0, 20.0]), M=1.0)


def test_many_load_cases_at_once():
    F = np.random.default_rng(7).normal(size=(3, 40, 3)) * 1000.0
    bolts = group.bolt_reactions(SQUARE, F, np.zeros(3), np.array([0.0, 120.0, 40.0]))
    assert bolts.shape == (3, 40, 4, 3)
    one = group.bolt_reactions(SQUARE, F[1, 5], np.zeros(3), np.array([0.0, 120.0, 40.0]))
    np.testing.assert_allclose(bolts[1, 5], one, rtol=1e-12, atol=1e-9)
    wider = SQUARE * np.linspace(1.0, 2.0, 4)[:, None, None]
    C = group.instantaneous_centre_coefficient(wider, 0.0, 1.0, np.array([[100.0], [200.0]]), 0.0)
    assert C.shape == (2, 4)
    assert (np.diff(C, axis=1) > 0.0).all()
