"""The section on the page: to scale, whole, and with its axes where they lie."""

import re

import numpy as np
import pytest
from parts_shown import fork_shown

from parts.report.page.section import chains, scale_for, scale_text, section_figure
from parts.strength.section.figures import annulus, rectangle


def test_scales_are_those_of_drawings_and_leave_room():
    """ISO 5455:1979 recommends 1, 2 and 5 times powers of ten, both ways."""
    for size in np.geomspace(0.5, 4000, 40):
        scale = scale_for(size, size / 2)
        power = 10.0 ** np.floor(np.log10(scale) + 1e-9)
        assert round(scale / power, 6) in (1, 2, 5)
        assert scale * size <= 84.0
    assert (scale_text(5.0), scale_text(1.0), scale_text(0.2)) == ("5 : 1", "1 : 1", "1 : 5")


def test_lines_take_their_ends_and_arcs_many_points():
    (corners,) = chains(rectangle(20, 10).boundary())
    assert sorted(map(tuple, corners)) == [(-10, -5), (-10, 5), (10, -5), (10, 5)]
    outer, inner = chains(annulus(20, 12).boundary())
    assert np.allclose(np.hypot(*outer.T), 10) and np.allclose(np.hypot(*inner.T), 6)


def shoelace(points):
    x, y = points.T
    return float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) / 2)


@pytest.fixture(scope="module")
def cut():
    return fork_shown().made.cuts[0]


def test_the_hatched_figure_measures_what_the_table_states(cut):
    svg = section_figure(cut, 3, "a section")
    scale = float(re.search(r"scale ([\d.]+) : 1", svg)[1])
    (d,) = re.findall(r'<path d="([^"]+)" class="metal"', svg)
    loops = [
        np.array([[float(v) for v in point.split()] for point in loop.strip("MZ").split("L")])
        for loop in re.findall(r"M[^Z]+Z", d)
    ]
    area = abs(sum(shoelace(loop) for loop in loops)) / scale**2
    # A whole circle by 60 chords is smaller by (2 pi/60)^2/6; all others lose less.
    assert area == pytest.approx(float(cut.section.area), rel=1.01 * (2 * np.pi / 60) ** 2 / 6)
    width, unit = re.search(r'width="([\d.]+)(mm)"', svg).groups()
    box = re.search(r'viewBox="0 0 ([\d.]+) ', svg)[1]
    assert unit == "mm" and float(width) == float(
        box
    )  # a millimetre of the drawing is one on paper


def test_it_says_itself_and_its_ids_are_its_own(cut):
    svg = section_figure(cut, 3, "a <section>")
    assert "a &lt;section&gt;</desc>" in svg
    assert 'aria-labelledby="section-3-title section-3-desc"' in svg
    assert 'id="hatch-3"' in svg and "url(#hatch-3)" in svg
