"""The plots along the load path, read back from the drawing and held against what was scanned."""

import re

import numpy as np
import pytest
from pages import read
from parts_shown import fork_shown

from parts.report.page.loadpath import (
    LEFT,
    PANEL,
    RIGHT,
    TOP,
    WIDE,
    Mark,
    stretch_figure,
    stretches,
    ticks,
)


@pytest.fixture(scope="module")
def result():
    return fork_shown().made.result


@pytest.fixture(scope="module")
def shank(result):
    """The stretch along the shank."""
    return max(stretches(result.scans), key=lambda one: len(one.scans))


@pytest.mark.parametrize(
    ("high", "most"), [(1.0, 4), (0.037, 8), (9999.0, 4), (15.46, 8), (264.9, 4)]
)
def test_ticks_are_round_and_few(high, most):
    found = ticks(0.0, high, most)
    step = found[1] - found[0]
    assert found[0] == 0.0 and found[-1] <= high < found[-1] + step * (1 + 1e-9)
    assert 2 <= len(found) <= most + 1
    assert round(step / 10.0 ** np.floor(np.log10(step) + 1e-9), 6) in (1, 2, 5)


def test_every_scan_is_in_one_stretch_and_stretches_run_on(result):
    found = stretches(result.scans)
    assert [one for s in found for one in s.scans] == list(result.scans)
    for one in found:
        for before, after in zip(one.scans, one.scans[1:], strict=False):
            assert np.allclose(before.span.end, after.span.start, atol=1e-6)
        assert np.all(np.diff(one.along) >= 0)


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
    assert np.allclose(
        shank.scans[0].span.place(0.0)
        + np.asarray(worst.span.axes)[0] * 0.0
        + (worst.place - shank.scans[0].span.place(0.0)),
        worst.place,
    )
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
