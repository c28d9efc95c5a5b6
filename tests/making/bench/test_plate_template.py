"""Templates of plates: every point of the outline at full size on some page, and pages that lie on each other."""

import io
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader

import parts
from parts.making.bench.ink import Arc, Letters, Line, line
from parts.making.bench.legible import unreadable
from parts.making.bench.pdf import pdf_bytes
from parts.making.bench.plate_template import (
    FOOT,
    HEAD,
    MARGIN,
    OVERLAP,
    PAD,
    STEP,
    dense,
    template_pages,
)

PAGE = (210.0, 297.0)
ROOM = np.array(PAGE) - np.array([2 * MARGIN, FOOT + HEAD])


@pytest.fixture(scope="module", params=["hc-104", "hc-108", "hc-109"])
def plate(request):
    (path,) = Path("params").glob(f"{request.param}*.yaml")
    part = parts.load(path)
    (blank, *_) = part.blanks()
    return part, blank, list(template_pages(part, blank, part.name, PAGE))


def corners(blank, pages):
    """The lower left corner of each page on the blank, by the rule that pages overlap by `OVERLAP`."""
    low, high = (np.asarray(v, float) for v in blank.outline.box())
    low, high = low - PAD, high + PAD
    counts = [1, 1]
    for i in (0, 1):
        while low[i] + counts[i] * (ROOM[i] - OVERLAP) + OVERLAP < high[i] - 1e-9:
            counts[i] += 1
    found = [low + (ROOM - OVERLAP) * (c, r) for r in range(counts[1]) for c in range(counts[0])]
    assert len(found) == len(pages)
    return found


def outlines(ink):
    return np.vstack(
        [one.path() for one in ink if isinstance(one, Line) and one.layer == "outline"]
    )


def test_every_point_of_the_outline_is_on_a_page_at_full_size(plate):
    _, blank, pages = plate
    shown = np.vstack(
        [
            outlines(ink) - np.array([MARGIN, FOOT]) + corner
            for (_, ink), corner in zip(pages, corners(blank, pages), strict=True)
            if any(isinstance(one, Line) and one.layer == "outline" for one in ink)
        ]
    )
    for loop in blank.outline.loops:
        points = dense(loop)
        away = np.linalg.norm(points[:, None] - shown[None], axis=-1).min(axis=1)
        assert away.max() < 2.5 * STEP  # at a page's edge half a step may be left out


def test_holes_are_punched_where_the_blank_has_them(plate):
    _, blank, pages = plate
    marks = np.vstack(
        [
            np.array([one.centre for one in ink if isinstance(one, Arc) and one.radius == 0.4]).reshape(-1, 2)
            - np.array([MARGIN, FOOT]) + corner
            for (_, ink), corner in zip(pages, corners(blank, pages), strict=True)
        ]
    )  # fmt: skip
    for hole in blank.holes:
        assert np.linalg.norm(marks - np.asarray(hole.centre, float), axis=1).min() < 1e-9


def test_pages_that_overlap_show_the_same_crosses(plate):
    _, blank, pages = plate
    found = []
    for (_, ink), corner in zip(pages, corners(blank, pages), strict=True):
        arms = [
            one.points.mean(axis=0) - np.array([MARGIN, FOOT]) + corner
            for one in ink
            if isinstance(one, Line) and one.layer == "dimension" and one.points[0][1] > FOOT
        ]
        found.append({tuple(np.round(p, 6)) for p in arms})
    if len(pages) > 1:
        shared = [one for one in found[0] if one in found[1]]
        assert len(shared) >= 2


def test_each_page_says_what_it_is_and_how_long_100_mm_are(plate):
    part, _, pages = plate
    pdf = PdfReader(io.BytesIO(pdf_bytes(pages, "template")))
    assert len(pdf.pages) == len(pages)
    for page, (size, ink) in zip(pdf.pages, pages, strict=True):
        box = [float(v) * 25.4 / 72.0 for v in (page.mediabox.width, page.mediabox.height)]
        assert box == pytest.approx(size, abs=0.01)
        text = page.extract_text()
        assert part.name in text and "check line: 100 mm exactly" in text
        check = [
            one
            for one in ink
            if isinstance(one, Line) and one.layer == "dimension" and one.points[0][1] < FOOT
        ]
        longest = sorted(float(np.ptp(one.points[:, 0])) for one in check)[-2:]
        assert longest == pytest.approx([100.0, 101.6])
    assert pdf.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"] == "/None"


def test_words_of_a_template_can_be_read():
    (path,) = Path("params").glob("hc-109*.yaml")
    part = parts.load(path)
    for _, ink in template_pages(part, part.blanks()[0], part.name, PAGE):
        assert min(one.height for one in ink if isinstance(one, Letters)) >= 2.5
        words = [one for one in ink if isinstance(one, Letters)]
        assert not unreadable([*words, line("table", (0.0, 0.0), (1.0, 0.0))])
