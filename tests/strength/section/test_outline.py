"""Outlines: what a constructor promises, and that an operation leaves a figure's measures alone."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parts.strength.section.figures import (
    annulus,
    circle,
    rectangle,
    regular_polygon,
    round_with_flats,
    rounded_rectangle,
)
from parts.strength.section.outline import Boundary, Loop
from parts.strength.section.properties import properties

EXACT = 1e-12
"""Rounding only."""

lengths = st.floats(0.5, 80.0)


@given(b=lengths, h=lengths, y=st.floats(-50, 50), z=st.floats(-50, 50))
@settings(max_examples=20)
def test_rectangle(b, h, y, z):
    s = properties(rectangle(b, h, (y, z)))
    assert s.area == pytest.approx(b * h, rel=EXACT)
    assert (s.y, s.z) == pytest.approx((y, z), abs=1e-11)
    assert s.Iyy == pytest.approx(b * h**3 / 12, rel=1e-10)
    assert s.Izz == pytest.approx(h * b**3 / 12, rel=1e-10)


def test_rounded_rectangle_loses_its_corners():
    r = np.array([0.0, 1.0, 3.0])
    s = properties(rounded_rectangle(20.0, 12.0, r))
    assert s.area == pytest.approx(20 * 12 - (4 - np.pi) * r**2, rel=EXACT)
    assert s.perimeter == pytest.approx(2 * (20 + 12) - (8 - 2 * np.pi) * r, rel=EXACT)


def test_rounded_rectangle_ends_as_a_disc():
    assert properties(rounded_rectangle(10, 10, 99)).area == pytest.approx(np.pi * 25, rel=EXACT)


def test_regular_polygon_is_measured_across_its_flats():
    n, s = 6, 17.0
    hexagon = properties(regular_polygon(s, n))
    assert hexagon.area == pytest.approx(n * (s / 2) ** 2 * np.tan(np.pi / n), rel=EXACT)
    assert hexagon.y_max == pytest.approx(s / 2)  # a flat faces +y
    assert hexagon.z_max == pytest.approx(s / np.sqrt(3))


@pytest.mark.parametrize("flats", [2, 4, 6])
def test_flats_take_circular_segments_off_a_disc(flats):
    d, a = 20.0, 18.5
    w = 2 * np.arccos(a / d)
    segment = (d / 2) ** 2 / 2 * (w - np.sin(w))
    area = properties(round_with_flats(d, a, flats)).area
    assert area == pytest.approx(np.pi * d * d / 4 - flats * segment, rel=EXACT)


def test_flats_outside_the_disc_leave_it_and_flats_that_meet_make_a_polygon():
    assert properties(round_with_flats(20.0, 25.0)).area == pytest.approx(np.pi * 100, rel=EXACT)
    met = properties(round_with_flats(20.0, 8.0, 6)).area
    assert met == pytest.approx(properties(regular_polygon(8.0, 6)).area, rel=EXACT)


def test_an_odd_number_of_flats_is_refused():
    with pytest.raises(ValueError, match="opposite pairs: 3 flats"):
        round_with_flats(20.0, 18.0, 3)


def test_a_loop_wants_one_bulge_per_point():
    with pytest.raises(ValueError, match="one bulge per point"):
        Loop(np.zeros((4, 2)), np.zeros(3))


def test_mirrored_and_reversed_keep_the_material_on_the_left():
    figure = annulus(20, 8).minus(rectangle(1, 2, (7, 0))).moved(3, 1)
    assert properties(figure.mirrored()).area == pytest.approx(properties(figure).area, rel=EXACT)
    assert properties(figure.mirrored()).y == pytest.approx(-properties(figure).y, rel=EXACT)
    back = Loop(figure.loops[0].reversed().reversed().points, figure.loops[0].bulge)
    np.testing.assert_array_equal(back.points, figure.loops[0].points)


def test_pick_takes_one_of_many():
    many = annulus(np.array([[20.0], [30.0]]), np.array([4.0, 6.0, 8.0]))
    assert many.shape == (2, 3)
    one = many.pick((1, 2))
    assert one.shape == ()
    assert properties(one).area == pytest.approx(np.pi / 4 * (30**2 - 8**2), rel=EXACT)


def test_no_breadth_gives_no_stiffness_and_no_nan():
    figure = rectangle(np.array([0.0, 4.0]), 10.0) + rectangle(0.0, 0.0, (3, 3))
    s = properties(figure)
    for value in vars(s).values():
        assert np.all(np.isfinite(value))
    assert s.area[0] == 0.0
    assert s.area[1] == pytest.approx(40.0)


def test_boundary_is_one_figure():
    with pytest.raises(ValueError, match="one figure"):
        circle(np.array([1.0, 2.0])).boundary()
    assert isinstance(circle(3.0).boundary(), Boundary)
