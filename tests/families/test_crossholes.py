"""Cross holes in bored bars: sections against areas worked by hand."""

import numpy as np
import pytest

from parts.features.bung.stretches import Outside, hole_break, through_hole, wall_hole
from parts.strength.section.properties import properties

EXACT = 1e-12
"""Closed forms against the same floating-point arithmetic: rounding only."""
OUTSIDES = {
    "round": Outside("round", 20.0),
    "flatted": Outside("flatted", 20.0, 16.0),
    "hex": Outside("hex", 0.0, 19.0),
}
BORE, HOLE = 11.0, 6.0


def strip_of_circle(d, h):
    """Area of a disc within h of a diameter: 2 (h sqrt(r^2 - h^2) + r^2 asin(h/r))."""
    r = d / 2.0
    return 2.0 * (h * np.sqrt(r**2 - h**2) + r**2 * np.arcsin(h / r))


def strip_of(outside, h):
    if outside.kind == "round":
        return strip_of_circle(outside.diameter, h)
    return 2.0 * h * outside.flats  # the slot runs from flat to flat


@pytest.mark.parametrize("kind", OUTSIDES)
@pytest.mark.parametrize("off", [0.0, 1.5, 2.9])
def test_a_hole_takes_its_slot_from_the_walls(kind, off):
    outside = OUTSIDES[kind]
    h = np.sqrt(HOLE**2 / 4.0 - off**2)
    whole = properties(outside.bored(BORE)).area
    taken = strip_of(outside, h) - strip_of_circle(BORE, h)
    both = properties(through_hole(outside, BORE, HOLE, np.asarray(off)))
    one = properties(wall_hole(outside, BORE, HOLE, np.asarray(off)))
    assert both.area == pytest.approx(whole - taken, rel=EXACT)
    assert one.area == pytest.approx(whole - taken / 2.0, rel=EXACT)
    # Through both walls the section stays symmetric; through the one at +y its centroid moves away.
    assert both.y == pytest.approx(0.0, abs=1e-12) and both.z == pytest.approx(0.0, abs=1e-12)
    assert one.y < -0.1 and one.z == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("kind", OUTSIDES)
def test_sections_of_many_stations_equal_one_at_a_time(kind):
    off = np.array([-2.9, 0.0, 1.0])
    many = properties(wall_hole(OUTSIDES[kind], BORE, HOLE, off))
    for i, one in enumerate(off):
        alone = properties(wall_hole(OUTSIDES[kind], BORE, HOLE, np.asarray(one)))
        assert many.Iyy[i] == pytest.approx(float(alone.Iyy), rel=EXACT)
        assert many.Izz[i] == pytest.approx(float(alone.Izz), rel=EXACT)


def test_sizes_across():
    assert OUTSIDES["hex"].corner == pytest.approx(19.0 * 2.0 / np.sqrt(3.0))
    assert OUTSIDES["hex"].flat_width() == pytest.approx(19.0 / np.sqrt(3.0))
    assert OUTSIDES["flatted"].flat_width() == pytest.approx(2.0 * np.sqrt(10.0**2 - 8.0**2))
    assert OUTSIDES["round"].across == 20.0


def test_the_edge_break_of_a_small_hole_stays_small():
    assert hole_break(1.0, 6.0) == 0.5
    assert hole_break(0.4, 6.0) == 0.4
