"""The plots along the load path, read back from the drawing and held against what was scanned."""

import re

import numpy as np
import pytest
from pages import read
from parts_shown import fork_shown

from parts.core.loadpath import Span
from parts.core.loads import Action, LoadCase, PointLoad
from parts.core.search.look import scan
from parts.report.page.loadpath import (
    LEFT,
    PANEL,
    RIGHT,
    TOP,
    WIDE,
    Mark,
    stretch_figure,
)
from parts.report.page.stretch import stretches
from parts.report.page.svg import ticks
from parts.standards.materials.materials import material
from parts.strength.section.figures import circle


@pytest.fixture(scope="module")
def result():
    return fork_shown().made.result


@pytest.fixture(scope="module")
def shank(result):
    """The stretch along the shank."""
    found = stretches(result.scans)
    return next(one for one in found if any("neck" in scan.span.name for scan in one.scans))


@pytest.mark.parametrize(
    ("high", "most"), [(1.0, 4), (0.037, 8), (9999.0, 4), (15.46, 8), (264.9, 4)]
)
def test_ticks_are_round_and_few(high, most):
    found = ticks(0.0, high, most)
    step = found[1] - found[0]
    assert found[0] == 0.0 and found[-1] <= high < found[-1] + step * (1 + 1e-9)
    assert 2 <= len(found) <= most + 1
    assert round(step / 10.0 ** np.floor(np.log10(step) + 1e-9), 6) in (1, 2, 5)


def test_every_scan_is_in_one_stretch_and_stretches_lie_on_lines(result):
    found = stretches(result.scans)
    inside = [one for s in found for one in s.scans]
    assert len(inside) == len(result.scans)
    assert {id(one) for one in inside} == {id(one) for one in result.scans}
    for one in found:
        begin = np.asarray(one.scans[0].span.start)
        for held, offset in zip(one.scans, one.offsets, strict=True):
            assert np.linalg.norm(held.span.start - begin) == pytest.approx(offset, abs=1e-3)
        assert np.all(np.diff(one.along) >= -1e-9)


def looked_at(*spans):
    """Scans of round bars of 10 mm in pull, from x to x, at a height, on a side of the part."""
    case = LoadCase(name="pull", forces=[PointLoad(at="end", force=(1000.0, 0.0, 0.0))])
    made = [
        Span(
            name=f"{start} to {end}", start=(start, 0.0, z), end=(end, 0.0, z), axes=np.diag([side, side, 1.0]),
            outline=lambda t: circle(np.full(np.shape(t), 10.0)), material=material("6061-T6"),
            actions=lambda case: [Action((100.0, 0.0, 0.0), case.forces[0].force)], stations=3,
        )
        for start, end, z, side in spans
    ]  # fmt: skip
    return [scan(one, [case]) for one in made]


def offsets(*spans):
    return [tuple(np.round(one.offsets, 6)) for one in stretches(looked_at(*spans))]


def test_spans_on_one_line_are_one_stretch_in_order_whatever_the_gap():
    assert offsets((0, 10, 0, 1), (10, 12, 0, 1), (15, 20, 0, 1)) == [(0, 10, 15)]
    assert offsets((15, 20, 0, 1), (0, 10, 0, 1)) == [(0, 15)]
    one = stretches(looked_at((0, 10, 0, 1), (10, 12, 0, 1), (15, 20, 0, 1)))[0]
    assert one.pieces() == [slice(0, 6), slice(6, 9)]
    assert list(one.along) == [0, 5, 10, 10, 11, 12, 15, 17.5, 20]
    assert one.length == 20
    assert [name for _, _, name in one.named()] == ["0 to 10", "10 to 12", "15 to 20"]


@pytest.mark.parametrize(
    "other", [(20, 30, 5, 1), (20, 30, 0, -1), (5, 30, 0, 1), (0, 10, 0, 1), (30, 20, 0, 1)],
    ids=["beside", "seen from the other side", "overlapping", "twin", "the other way"],
)  # fmt: skip
def test_what_is_not_one_behind_the_other_is_plotted_by_itself(other):
    assert len(offsets((0, 10, 0, 1), other)) == 2


def test_single_sections_are_points_and_one_alone_is_a_table():
    one = stretches(looked_at((0, 0, 0, 1), (7, 7, 0, 1), (20, 20, 0, 1)))[0]
    figure = read(stretch_figure(one, [], 1).encode())
    drawn = figure.all("svg")[0]
    assert len([c for c in drawn.all("circle") if c.attributes["class"] == "station"]) == 4 * 3
    assert len([p for p in drawn.all("path") if p.attributes["class"] == "between"]) == 4 * 2
    assert [row[0] for row in figure.all("table")[0].rows()[1:]] == ["0", "7", "20"]
    (alone,) = stretches(looked_at((7, 7, 0, 1)))
    figure = read(stretch_figure(alone, [Mark(1, 0.0, 12.7)], 1).encode())
    assert not [svg for svg in figure.all("svg") if svg.attributes.get("class") == "chart"]
    (values,) = figure.all("table")[0].rows()[1:]
    # A round bar: A = pi d^2/4; in pull alone the stress is N/A.
    assert float(values[1]) == pytest.approx(np.pi * 25, rel=1e-3)
    assert float(values[-1]) == pytest.approx(1000 / (np.pi * 25), rel=1e-3)
    assert "Critical for load case 1 at 0 mm with 12.7 MPa" in figure.text


def curve(svg, panel, place):
    """A curve of a panel in the values of its axes, by the grid lines and their numbers."""
    whole = [one for one in svg.walk() if one.name in ("path", "text", "circle")]
    top = TOP + panel * (PANEL + 26.0)
    labels = [
        (float(one.attributes["y"]) - 4.0, float(one.text.replace(" ", "")))
        for one in whole
        if one.name == "text"
        and one.attributes["text-anchor"] == "end"
        and top - 1 <= float(one.attributes["y"]) - 4.0 <= top + PANEL + 1
    ]
    (y0, v0), *_, (y1, v1) = labels
    drawn = [
        one
        for one in whole
        if one.attributes.get("class") == "curve" and "M0 5" not in one.attributes["d"]
    ]
    inside = [
        one
        for one in drawn
        if top - 0.1
        <= float(re.findall(r"[ ,]?([\d.]+)(?=L|$)", one.attributes["d"])[0])
        <= top + PANEL + 0.1
    ]
    pairs = re.findall(r"([\d.]+) ([\d.]+)", inside[place].attributes["d"])
    xy = np.array(pairs, float)
    return xy[:, 0], v0 + (xy[:, 1] - y0) / (y1 - y0) * (v1 - v0)


def test_the_curves_are_what_was_scanned(shank):
    svg = read(stretch_figure(shank, [], 1).encode()).all("svg")[0]
    x, area = curve(svg, 0, 0)
    expected = shank.of(lambda s: s.section.area)
    # Drawn to a tenth of a dot on a panel of 120: 1e-3 of its height.
    assert area == pytest.approx(expected, abs=1.5e-3 * expected.max())
    assert (x - LEFT) / (WIDE - LEFT - RIGHT) * shank.along[-1] == pytest.approx(
        shank.along, abs=0.02
    )
    for case in range(2):
        _, stress = curve(svg, 2, case)
        expected = shank.of(lambda s, k=case: s.stress[k])
        assert stress == pytest.approx(expected, abs=2.5e-3 * shank.of(lambda s: s.stress).max())


def test_a_critical_section_is_marked_where_it_lies_in_all_panels(shank, result):
    worst = next(one for one in result.criticals if shank.place_of(one) is not None)
    place = shank.place_of(worst)
    assert place == pytest.approx(np.linalg.norm(worst.place - shank.scans[0].span.place(0.0)))
    svg = read(stretch_figure(shank, [Mark(2, place, 99.0)], 1).encode()).all("svg")[0]
    (line,) = [one for one in svg.all("path") if one.attributes.get("class") == "critical"]
    x = float(re.match(r"M([\d.]+)", line.attributes["d"])[1])
    assert (x - LEFT) / (WIDE - LEFT - RIGHT) * shank.along[-1] == pytest.approx(place, abs=0.02)
    assert any(one.text == "critical 2" for one in svg.all("text"))
    (dot,) = svg.all("circle")
    assert float(dot.attributes["cx"]) == pytest.approx(x, abs=0.1)


def test_load_cases_differ_by_more_than_colour(shank):
    figure = read(stretch_figure(shank, [], 1).encode())
    keys = figure.all("ol")[0]
    assert [li.text.strip() for li in keys.all("li")] == ["1 landing", "2 <b>rebound</b>"]
    dashes = [p.attributes.get("stroke-dasharray") for p in keys.all("path")]
    assert len(set(dashes)) == 2
    described = figure.all("desc")[0].text
    assert "load case 1: from" in described and "load case 2: from" in described


def test_the_numbers_stand_beside_it(shank):
    rows = read(stretch_figure(shank, [], 1).encode()).all("table")[0].rows()
    assert rows[0][:2] == ["mm along", "A, mm²"] and rows[0][-1] == "stress, case 2, MPa"
    assert float(rows[1][1]) == pytest.approx(
        float(shank.of(lambda s: s.section.area)[0]), rel=1e-3
    )
    assert float(rows[-1][0]) == pytest.approx(float(shank.along[-1]), rel=1e-3)


def test_the_outline_lies_beneath_to_scale(shank):
    svg = read(stretch_figure(shank, [], 1).encode()).all("svg")[0]
    (edge,) = [one for one in svg.all("path") if one.attributes.get("class") == "edges"]
    xy = np.array(re.findall(r"([\d.]+) ([\d.]+)", edge.attributes["d"]), float)
    scale = (WIDE - LEFT - RIGHT) / shank.length
    across = max(
        np.max(shank.of(lambda s: s.section.y + s.section.y_max))
        - np.min(shank.of(lambda s: s.section.y + s.section.y_min)),
        np.max(shank.of(lambda s: s.section.z + s.section.z_max))
        - np.min(shank.of(lambda s: s.section.z + s.section.z_min)),
    )
    assert np.ptp(xy[:, 1]) == pytest.approx(across * min(scale, PANEL / across), abs=0.2)
    assert np.ptp(xy[:, 0]) == pytest.approx(WIDE - LEFT - RIGHT, abs=0.2)
