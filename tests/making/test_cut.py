"""Cuts through B-rep solids against closed forms, and against an independent section library."""

import cadquery as cq
import numpy as np
import pytest
from numpy.testing import assert_allclose

from parts.shapes.cut import contour, cut
from parts.strength.section.outline import Boundary
from parts.strength.section.properties import properties

FRAME = np.eye(3)
ACROSS_Z = np.array([[0.0, 0.0, 1.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])
EXACT = 1e-9  # the curves are integrated, not sampled into chords: only rounding is left


def joined(regions):
    return Boundary(tuple(loop for region in regions for loop in region.boundary.loops))


def test_square_cut_of_a_tube_is_an_annulus():
    tube = cq.Workplane("YZ").circle(10).circle(7).extrude(50)
    found = properties(joined(cut(tube, (20, 0, 0), FRAME)))
    assert_allclose(found.area, np.pi * (10**2 - 7**2), rtol=EXACT)
    assert_allclose(found.Iyy, np.pi / 4 * (10**4 - 7**4), rtol=EXACT)


def test_slanted_cut_of_a_bar_is_an_ellipse():
    bar = cq.Workplane("YZ").circle(10).extrude(80)
    slant = np.radians(35.0)
    axes = np.array(
        [[np.cos(slant), 0, np.sin(slant)], [0, 1, 0], [-np.sin(slant), 0, np.cos(slant)]]
    )
    found = properties(joined(cut(bar, (40, 0, 0), axes)))
    a, b = 10 / np.cos(slant), 10.0  # the long half axis lies along the plane's z
    assert_allclose(found.area, np.pi * a * b, rtol=EXACT)
    assert_allclose(found.Iyy, np.pi / 4 * b * a**3, rtol=EXACT)
    assert_allclose(found.Izz, np.pi / 4 * a * b**3, rtol=EXACT)


def test_every_region_of_a_fork_is_found_and_sorted():
    fork = cq.Workplane().box(40, 20, 30).cut(cq.Workplane().box(40, 20, 10).translate((10, 0, 0)))
    regions = cut(fork, (5, 0, 0), FRAME)
    assert [tuple(np.round(r.middle, 9)) for r in regions] == [(0.0, -10.0), (0.0, 10.0)]
    upper = contour(regions, (-10, 5), (10, 15))
    assert_allclose(properties(upper).area, 20 * 10, rtol=EXACT)


def test_a_plane_beside_the_solid_cuts_nothing():
    assert cut(cq.Workplane().box(1, 1, 1), (5, 0, 0), FRAME) == []


@pytest.mark.slow
def test_a_free_curve_against_sectionproperties():
    from sectionproperties.analysis import Section
    from sectionproperties.pre import Geometry
    from shapely import Polygon

    points = [(0, 0), (30, 0), (34, 18), (16, 26), (-2, 15)]
    bar = cq.Workplane("XY").spline(points, periodic=True).close().extrude(40)
    boundary = joined(cut(bar, (0, 0, 20), ACROSS_Z))
    found = properties(boundary)
    ring = np.concatenate(
        [c.at(np.linspace(0, 1, 4000, endpoint=False))[0] for c in boundary.loops[0]]
    )
    geometry = Geometry(Polygon(ring))
    geometry.create_mesh(mesh_sizes=[50.0])
    section = Section(geometry)
    section.calculate_geometric_properties()
    # 4000 chords stand for the curve there: an area error of the order of (2 pi / 4000)^2 / 6.
    assert_allclose(found.area, section.get_area(), rtol=1e-6)
    ixx, iyy, ixy = section.get_ic()
    assert_allclose([found.Iyy, found.Izz, found.Iyz], [ixx, iyy, ixy], rtol=2e-6)


@pytest.mark.parametrize("scale", [0.01, 1.0, 100.0])
def test_size_does_not_matter(scale):
    block = cq.Workplane().box(4 * scale, 2 * scale, 3 * scale)
    found = properties(joined(cut(block, (0, 0, 0), FRAME)))
    assert_allclose(found.Iyy, (2 * scale) * (3 * scale) ** 3 / 12, rtol=EXACT)
