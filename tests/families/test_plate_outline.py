"""Outline and windows of a plate: closed forms, and the figure measured by an independent library."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, unary_union

from parts.features.plate import outline as plates
from parts.features.plate.figure import figure
from parts.features.plate.loops import distance, sampled
from parts.features.plate.outline import Pads, Tangent, Webs
from parts.strength.section.outline import Outline
from parts.strength.section.properties import properties

WEBS = Webs(width=9.0, corner=4.0, waist=20.0)
STRAIGHT = Webs(width=9.0, corner=4.0, waist=20.0, waisted=False)
FACETS = 120  # of an arc handed to shapely
CHORDS = 2e-3  # mm: sag of a chord of r = 22 and 150 degrees in 120: r (2.6/120)^2/8 = 1.3e-3


def pads(*rows: tuple[float, float, float]) -> Pads:
    table = np.array(rows, float)
    return Pads(table[:, :2], table[:, 2])


def area(loop) -> float:
    return float(properties(Outline((loop,))).area)


def polygon(loop) -> Polygon:
    return Polygon(sampled(loop, FACETS))


def test_straight_outline_of_equal_pads_is_the_hull_grown_by_the_radius() -> None:
    loop = plates.outline(pads((0, 0, 10), (80, 0, 10), (30, 60, 10)), STRAIGHT, [])
    triangle = 80.0 * 60.0 / 2.0
    perimeter = 80.0 + np.hypot(30.0, 60.0) + np.hypot(50.0, 60.0)
    assert area(loop) == pytest.approx(triangle + perimeter * 10.0 + np.pi * 100.0, rel=1e-12)


def test_straight_outline_of_unequal_pads_is_the_hull_of_the_discs() -> None:
    some = pads((0, 0, 22), (80, 5, 9), (30, 70, 13), (40, 20, 8), (-30, 30, 11))
    discs = [
        Point(c).buffer(r, quad_segs=2000) for c, r in zip(some.centres, some.radii, strict=True)
    ]
    loop = plates.outline(some, STRAIGHT, [])
    # Polygons of 8000 sides lack pi^2/6 (4/8000)^2 of a disc's area, some 4e-7.
    assert area(loop) == pytest.approx(unary_union(discs).convex_hull.area, rel=1e-6)


def test_three_pads_in_a_row_share_one_tangent() -> None:
    sides = plates.hull(pads((0, 0, 10), (40, 0, 10), (80, 0, 10)))
    assert [(side.i, side.j) for side in sides] == [(2, 0), (0, 2)] or [
        (side.i, side.j) for side in sides
    ] == [(0, 2), (2, 0)]


@pytest.mark.parametrize("r, s", [(14.0, 14.0), (22.0, 11.0), (9.0, 25.0)])
def test_a_waist_touches_both_pads_and_leaves_half_a_web(r: float, s: float) -> None:
    some = pads((0, 0, r), (90, 0, s), (40, 95, 12))
    waist = plates.waisted(
        some, WEBS, [(0, 1, 2)], next(t for t in plates.hull(some) if (t.i, t.j) == (0, 1))
    )
    assert waist.centre is not None
    assert np.hypot(*(waist.centre - some.centres[0])) == pytest.approx(r + waist.radius, rel=1e-12)
    assert np.hypot(*(waist.centre - some.centres[1])) == pytest.approx(s + waist.radius, rel=1e-12)
    # The line between the points is y = 0, the arc bulges up to it from below.
    assert -waist.centre[1] - waist.radius == pytest.approx(WEBS.width / 2.0, rel=1e-9)


def test_a_waist_stays_off_a_pad_that_stands_near_the_edge() -> None:
    some = pads((0, 0, 14), (120, 0, 14), (60, 8, 12), (60, 90, 12))
    mesh = plates.triangles(some.centres)
    side = next(t for t in plates.hull(some) if (t.i, t.j) == (0, 1))
    waist = plates.waisted(some, WEBS, mesh, side)
    assert waist.centre is not None
    assert np.hypot(*(waist.centre - some.centres[2])) >= waist.radius + 12.0 - 1e-9


def test_no_waist_where_the_pads_are_no_wider_than_the_web() -> None:
    some = pads((0, 0, 4.5), (90, 0, 4.5), (40, 95, 4.5))
    side = plates.hull(some)[0]
    assert plates.waisted(some, WEBS, [(0, 1, 2)], side) == Tangent(side.i, side.j, side.outward)


def test_a_rectangle_is_split_once_and_the_same_way_every_time() -> None:
    corners = np.array([[0.0, 0.0], [60.0, 0.0], [60.0, 40.0], [0.0, 40.0]])
    first = plates.triangles(corners)
    assert len(first) == 2
    assert plates.triangles(corners + 1000.0) == first


@st.composite
def places(draw: st.DrawFn) -> Pads:
    """Four to eight pads, each at least a little apart from the others."""
    count = draw(st.integers(4, 8))
    at = st.floats(-90.0, 90.0).map(lambda v: round(v, 2))
    rows = [(draw(at), draw(at), draw(st.floats(6.0, 22.0))) for _ in range(count)]
    made = pads(*rows)
    gaps = np.hypot(*np.moveaxis(made.centres[:, None] - made.centres[None], -1, 0))
    apart = gaps - np.maximum.outer(made.radii, made.radii)
    assume(np.all(apart[~np.eye(count, dtype=bool)] > 4.0))
    return made


@settings(max_examples=30, deadline=None)
@given(places())
def test_delaunay_circles_are_empty_and_the_triangles_fill_the_hull(some: Pads) -> None:
    mesh = plates.triangles(some.centres)
    total = 0.0
    for a, b, c in mesh:
        p, q, r = some.centres[[a, b, c]]
        twice = np.linalg.det(np.array([q - p, r - p]))
        assert twice > 0.0
        total += twice / 2.0
        system = 2.0 * np.array([q - p, r - p])
        centre = np.linalg.solve(system, [q @ q - p @ p, r @ r - p @ p])
        off = np.hypot(*(some.centres - centre).T)
        assert np.min(off) >= off[a] * (
            1.0 - 1e-4
        )  # the lift that breaks ties shifts a circle by less
    hull = Polygon(some.centres[list(range(len(some)))]).convex_hull
    # Slivers below a millionth of the square of the size are left out.
    assert total == pytest.approx(
        unary_union([Point(c) for c in some.centres]).convex_hull.area, rel=1e-4
    )
    assert hull.area <= total * (1.0 + 1e-4)


@settings(max_examples=30, deadline=None)
@given(places(), st.floats(7.0, 14.0), st.floats(3.0, 6.0), st.booleans())
def test_webs_and_walls_are_kept_wherever_the_points_are(
    some: Pads, web: float, corner: float, waisted: bool
) -> None:
    wide = Pads(some.centres, np.maximum(some.radii, web / 2.0 + 0.5))
    found = figure(wide, Webs(web, corner, 20.0, True, waisted))
    outer = polygon(found.outer)
    assert outer.is_valid
    windows = [polygon(window) for window in found.windows]
    for k, window in enumerate(windows):
        assert window.is_valid
        assert outer.contains(window)
        assert window.distance(outer.exterior) >= web - CHORDS
        for other in windows[:k]:
            assert window.distance(other) >= web - CHORDS
        for centre, radius in zip(wide.centres, wide.radii, strict=True):
            assert window.distance(Point(centre)) >= radius - CHORDS
    for centre, radius in zip(wide.centres, wide.radii, strict=True):
        assert outer.exterior.distance(Point(centre)) >= radius - CHORDS


@settings(max_examples=30, deadline=None)
@given(places())
def test_corners_are_round(some: Pads) -> None:
    """No corner is sharper than the cutter: neighbouring segments meet tangentially everywhere."""
    found = figure(some, WEBS)
    for loop in (found.outer, *found.windows):
        curves = loop.curves()
        for one, after in zip(curves, [*curves[1:], curves[0]], strict=True):
            leave, enter = one.at(np.array([1.0]))[1][0], after.at(np.array([0.0]))[1][0]
            cosine = leave @ enter / np.hypot(*leave) / np.hypot(*enter)
            assert cosine == pytest.approx(1.0, abs=1e-6)
    for window in found.windows:
        for curve in window.curves():
            if curve.bulge > 1e-9:
                chord = np.hypot(*(curve.end - curve.start))
                assert chord / 2.0 / np.sin(2.0 * np.arctan(curve.bulge)) == pytest.approx(
                    WEBS.corner, rel=1e-6
                )


def test_a_triangle_under_the_load_path_stays_solid() -> None:
    some = pads((0, 0, 12), (100, 0, 12), (0, 90, 12), (110, 85, 12))
    free = figure(some, WEBS)
    # The mesh holds one diagonal; the load runs along the other, across both triangles.
    shared = {frozenset((a, b)) for t in free.mesh for a, b in zip(t, (*t[1:], t[0]), strict=True)}
    diagonal = (0, 3) if frozenset((1, 2)) in shared else (1, 2)
    along = (1, 2) if diagonal == (0, 3) else (0, 3)
    assert len(free.windows) == 2
    assert len(figure(some, WEBS, [diagonal]).windows) == 0
    assert len(figure(some, WEBS, [along]).windows) == 2


def test_distance_from_a_loop_is_exact() -> None:
    loop = plates.outline(pads((0, 0, 10), (40, 0, 10), (20, 40, 10)), STRAIGHT, [])
    points = np.array([[20.0, 0.0], [20.0, -15.0], [0.0, 0.0], [-20.0, -15.0]])
    expected = [10.0, 5.0, 10.0, np.hypot(20.0, 15.0) - 10.0]
    assert distance(points, loop) == pytest.approx(expected, rel=1e-12)
