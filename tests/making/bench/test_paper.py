"""The title block and the words of a sheet: legible whatever they say, in the units asked for."""

import numpy as np
import pytest

from parts.core.drawing import Callout, Hole
from parts.making.bench.coordinates import page_number
from parts.making.bench.figures import Figures
from parts.making.bench.ink import Letters, line
from parts.making.bench.legible import unreadable
from parts.making.bench.paper import Paper, TitleBlock, notes_ink, shortened, title_ink
from parts.making.bench.score import score
from parts.making.bench.sheet import DrawnSheet, tolerance_words
from parts.making.bench.words import callout_words, hole_words

LEAST = 2.5
"""ISO 3098-1: 2.5 mm is the least nominal height that is used on sheets up to A1."""
PAPERS = [Paper("A4"), Paper("A4", landscape=False), Paper("A3"), Paper("letter")]


def title(units="mm", **said):
    usual = {
        "title": "Seat strut clevis", "number": "HC-101", "revision": "A", "material": "7075-T6",
        "finish": "as machined", "mass": "0.091 kg", "scale": "2:1", "sheet": "A3  1/2",
        "units": Figures(units).unit, "tolerance": tuple(tolerance_words("ISO 2768-mK", Figures(units))),
        "surface": "Ra 3.2 µm", "projection": "third angle", "piece": "bung-a", "quantity": "2", "hand": "left",
    }  # fmt: skip
    return TitleBlock(**(usual | said))


@pytest.mark.parametrize("paper", PAPERS, ids=str)
@pytest.mark.parametrize("units", ["mm", "in", "both"])
@pytest.mark.parametrize(
    "said",
    [
        {},
        {
            "title": "Foot bracket on the right-hand side with peg, pedal and master cylinder, welded"
        },
        {"title": "W" * 80, "number": "HC-" + "1" * 60, "material": "M" * 60, "finish": "f" * 80},
        {"piece": "a piece with a name that no cell holds", "mass": "123.456 kg [272.17 lb]"},
    ],
    ids=["usual", "two lines", "too long", "long cells"],
)
def test_the_title_block_can_be_read_whatever_it_says(paper, units, said):
    ink = title_ink(paper, title(units, **said))
    assert unreadable(ink) == []
    letters = [one for one in ink if isinstance(one, Letters)]
    assert min(one.height for one in letters) >= LEAST
    low, high = (
        np.min([one.path().min(axis=0) for one in letters], axis=0),
        np.max([one.path().max(axis=0) for one in letters], axis=0),
    )
    x, y, wide, tall = paper.inside
    assert low[0] > x and low[1] > y and high[0] < x + wide and high[1] < y + tall


@pytest.mark.parametrize("units", ["mm", "in", "both"])
def test_the_general_tolerances_are_written_out(units):
    texts = [one.text for one in title_ink(Paper("A3"), title(units)) if isinstance(one, Letters)]
    rows = list(tolerance_words("ISO 2768-mK", Figures(units)))
    assert len(rows) == 4 and set(rows) <= set(texts)


def test_notes_are_as_high_as_the_standard_asks():
    ink, _ = notes_ink(0.0, 200.0, 150.0, [("NOTES", ["Break outside edges. " * 20])])
    assert {one.height for one in ink} == {LEAST}


def test_what_is_too_long_is_cut_off_and_says_so():
    assert shortened("x" * 100, 30.0, 2.5).endswith("...")
    assert shortened("short", 30.0, 2.5) == "short"


def test_a_sheet_and_its_pages_are_counted():
    """One page follows the sheet: it is 1 of 2, and the page 2 of 2."""
    page = ((210.0, 297.0), [line("table", (0, 0), (1, 1))])
    bare = DrawnSheet(Paper("A3"), (), 1.0, (), (page,), title(sheet=""))
    sheet = bare.numbered(1, 2)
    texts = [one.text for one in sheet.ink if isinstance(one, Letters)]
    assert "A3  1/2" in texts
    assert sheet.more[0][1][-1].text == page_number(page[0], 2, 2).text == "sheet 2/2"


def test_words_of_an_inch_sheet_are_in_inches():
    """1 in is 25.4 mm: words state lengths in mm, and a sheet turns them."""
    inch, both = Figures("in"), Figures("both")
    assert (
        inch.said("rosettes of 6.35 mm, 25.4 mm from its end")
        == "rosettes of 0.250 in, 1.000 in from its end"
    )
    assert (
        inch.said("2.94 to 3.00 mm long (h11), M8x1.25") == "0.116 to 0.118 in long (h11), M8x1.25"
    )
    assert both.said("cut 25.4 mm") == "cut 25.4 mm [1.000 in]"
    assert Figures("mm").said("cut 25.4 mm") == "cut 25.4 mm"
    assert callout_words(Callout("c", (0, 0, 0), "weld prep 2.54 mm × 45°"), inch) == (
        "weld prep 0.100 in × 45°",
    )
    hole = Hole("h", (0, 0, 0), (0, 0, 1), 25.4, callout="for a pin 25.4 mm long")
    assert hole_words(hole, 1, inch) == ("Ø1.000 through", "for a pin 1.000 in long")


def test_a_score_counts_what_crosses():
    """Two dimension lines that cross once, of one arrow each by hand: half a crossing a dimension."""
    from parts.making.bench.ink import Patch

    arrow = Patch(np.array([(0, 0), (1, 0), (0, 1)], float), "dimension")
    across = [
        line("dimension", (0, 0), (10, 10)),
        line("dimension", (0, 10), (10, 0)),
        arrow,
        arrow,
    ]
    beside = [line("dimension", (0, 0), (10, 0)), line("dimension", (0, 5), (10, 5)), arrow, arrow]
    frame = (0.0, 0.0, 100.0, 100.0)
    bad, good = (score([view], view, frame) for view in (across, beside))
    assert (bad.crossed, good.crossed) == (0.5, 0.0)
    assert bad.total > good.total
    words = Letters("over it", np.array([2.0, 4.0]), 2.5)
    assert score([across], [*across, words], frame).total == float("inf")
