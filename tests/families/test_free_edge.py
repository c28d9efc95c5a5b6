"""Free edges: tangent to both toes, as deep as asked, and the tab's fillets tangent to edge and tab."""

import itertools

import numpy as np
import pytest
from numpy.testing import assert_allclose

from parts.families.gusset.free_edge import FreeEdge, Stub
from parts.strength.section.outline import arc_at

FIRST, LAST, TOE = np.array([100.0, 6.0]), np.array([10.0, 90.0]), 6.0
DIPS = [None, 12.0, -12.0]


@pytest.mark.parametrize("dip", DIPS)
def test_the_edge_touches_both_toes_and_dips_as_asked(dip):
    edge = FreeEdge(FIRST, LAST, TOE, dip)
    for centre, touch in zip((FIRST, LAST), edge.tangents, strict=True):
        assert_allclose(np.linalg.norm(touch - centre), TOE)
        assert_allclose(edge.distance(centre), TOE, rtol=1e-9)
    assert_allclose(edge.height(edge.chord / 2.0), TOE - (dip or 0.0))


@pytest.mark.parametrize("dip", DIPS)
def test_a_ray_ends_on_the_edge_and_the_length_is_the_arcs(dip):
    edge = FreeEdge(FIRST, LAST, TOE, dip)
    ray = np.array([0.7, 0.6]) / np.hypot(0.7, 0.6)
    end = edge.reach(np.zeros(2), ray) * ray
    assert_allclose(edge.distance(end), 0.0, atol=1e-9)
    ((start, bulge),) = edge.corners()
    points, _ = arc_at(start, edge.tangents[1], np.asarray(bulge), np.linspace(0.0, 1.0, 2001))
    steps = np.linalg.norm(np.diff(points, axis=0), axis=1).sum()
    assert_allclose(edge.length, steps, rtol=1e-6)  # chords of two thousand steps
    assert_allclose(edge.distance(points[1000]), 0.0, atol=1e-9)


@pytest.mark.parametrize("dip", DIPS)
def test_the_fillets_of_a_tab_are_smooth(dip):
    bare = FreeEdge(FIRST, LAST, TOE, dip)
    x = 0.45 * bare.chord
    edge = FreeEdge(FIRST, LAST, TOE, dip, Stub(x, 12.0, bare.height(x) + 20.0, 7.0))
    rows = edge.corners()
    ends = [*(p for p, _ in rows[1:]), edge.tangents[1]]
    heads = []
    for (start, bulge), end in zip(rows, ends, strict=True):
        _, slope = arc_at(start, end, np.asarray(bulge, float), np.array([0.0, 1.0]))
        heads.append(slope / np.linalg.norm(slope, axis=-1, keepdims=True))
    for before, after in itertools.pairwise(heads):
        assert_allclose(before[1], after[0], atol=1e-9)
