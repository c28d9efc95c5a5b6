"""The inspection sheet: limits and instruments of a clevis, worked by hand."""

import csv
import io
from dataclasses import replace

import numpy as np
import pytest

import parts
from parts.core.drawing import Drawn, Hole, Linear, Marks
from parts.making.bench.balloons import Numbered, _outline, _places, numbers, runs
from parts.making.bench.field import Field, letters_box
from parts.making.bench.ink import Letters
from parts.making.bench.inspection import inspection_csv, inspection_pages, items
from parts.making.bench.legible import unreadable
from parts.making.bench.sheet import OfPiece, draw, note_blocks
from parts.making.bench.weld_sheet import weld_drawn


@pytest.fixture(scope="module")
def clevis():
    part = parts.load("params/hc-107-brake-rod-clevis.yaml")
    return part, part.drawn()[0]


def test_limits_are_those_of_the_fit_or_of_the_general_tolerance(clevis):
    rows = {one.name: one for one in items(*clevis)}
    # ISO 2768-1 table 1, class m: over 6 up to 30 mm it is 0.2 either way, over 3 up to 6 it is 0.1.
    assert (rows["back of the body"].low, rows["back of the body"].high) == pytest.approx(
        (21.8, 22.2)
    )
    ear = rows["thickness of an ear"]
    assert (ear.low, ear.high, ear.count) == (pytest.approx(4.9), pytest.approx(5.1), 2)
    # The pedal's blade is 7 mm, with 0.3 mm of clearance; ISO 286-2, H11 over 6 up to 10 mm: 90 micrometres.
    assert (rows["throat"].low, rows["throat"].high) == pytest.approx((7.3, 7.39))
    assert np.isnan(rows["tapped boss"].low) and rows["tapped boss"].tool == "thread gauge"
    assert "over the ears" not in rows


def test_an_instrument_reads_to_a_tenth_of_what_is_allowed(clevis):
    part, drawn = clevis
    limits = {
        "caliper": (9.9, 10.1),
        "micrometer": (9.99, 10.01),
        "comparator, gauge blocks": (10.0, 10.01),
    }
    for tool, ends in limits.items():
        size = Linear("length", (0, 0, 0), (10, 0, 0), (1, 0, 0), 10.0, fit="js", limits=ends)
        assert [one.tool for one in items(part, replace(drawn, marks=Marks((size,))))] == [tool]


def test_the_table_reads_back_and_has_room_for_what_is_measured(clevis):
    rows = items(*clevis)
    table = list(csv.DictReader(io.StringIO(inspection_csv(clevis[0], rows).decode())))
    assert [int(row["no"]) for row in table] == list(range(1, len(rows) + 1))
    assert {row["measured_mm"] for row in table} == {""}
    throat = next(row for row in table if row["dimension"] == "throat")
    assert (throat["least_mm"], throat["greatest_mm"]) == ("7.300", "7.390")


def test_a_counterbore_has_rows_of_its_own():
    """A peg's bore Ø22 x 79 decides whether it holds: its width and depth are measured, not its bolt hole alone."""
    hole = Hole(
        "bolt",
        (0, 0, 0),
        (0, 0, -1),
        13.5,
        through=92.0,
        counterbore=(22.0, 79.0),
        countersink=15.0,
    )
    part = parts.load("params/hc-107-brake-rod-clevis.yaml")
    drawn = Drawn((1, 0, 0), (0, 1, 0), (), Marks(holes=(hole, hole)))
    rows = items(part, drawn)
    # ISO 2768-1 table 1, class m: over 6 up to 30 mm it is 0.2 either way, over 30 up to 120 mm 0.3.
    assert [(one.nominal, round(one.high - one.nominal, 6)) for one in rows[:4]] == [
        (13.5, 0.2), (22.0, 0.2), (79.0, 0.3), (15.0, 0.2)
    ]  # fmt: skip
    assert [one.number for one in rows] == [1, 2, 3, 4, 5, 6, 7, 8]
    assert numbers(drawn)[id(hole)] == (5, 6, 7, 8)


def test_every_row_stands_on_a_page(clevis):
    rows = items(*clevis)
    pages = inspection_pages(*clevis, rows)
    said = [one.text for _, ink in pages for one in ink if isinstance(one, Letters)]
    assert all(str(one.number) in said for one in rows)


def test_a_sheet_has_five_cautions_at_most():
    part = parts.load("params/hc-103-torsion-arm.yaml")
    heading, said = note_blocks(part, part.drawn()[0], OfPiece(part.metal, 0.8))[-1]
    assert heading == "CAUTIONS" and len(said) == 5
    # By turns what the part is and what its metal is: the spline's size over pins, hydrogen in hard steel.
    assert "between pins" in said[0] and "hydrogen" in said[1]
    assert "qualified person" in said[-1] and "more cautions" in said[-1]
    # A strut of titanium: its machinist is told of chips that burn, its welder of argon before that.
    strut = parts.load("params/hc-102-subframe-link.yaml")
    for drawn, first in (
        (strut.drawn()[0], "zinc"),
        (weld_drawn(strut, strut.weldment()), "argon"),
    ):
        _, said = note_blocks(strut, drawn, OfPiece(strut.metal, 0.2))[-1]
        assert first in said[0]


def test_every_row_has_its_balloon_on_the_drawing(clevis):
    part, drawn = clevis
    solid = part.pieces[0].solid.val()
    sheet = draw(part, drawn, solid, OfPiece(part.metal, 0.02))
    shown = [one.text for one in sheet.ink if isinstance(one, Letters)]
    # A hole has a row for its size, its depth and its countersink, all in one balloon: the tapped boss the last three.
    assert unreadable(sheet.ink) == []
    for rows in numbers(drawn).values():
        if rows:
            assert runs(rows) in shown
    assert runs((4, 7, 8, 9)) == "4,7-9" and "16-18" in shown
    throat = next(row.number for row in items(part, drawn) if row.name == "throat")
    words = next(one for one in sheet.ink if isinstance(one, Letters) and "7.3 H11" in one.text)
    balloon = next(one for one in sheet.ink if isinstance(one, Letters) and one.text == str(throat))
    assert np.linalg.norm(words.path() - balloon.path().mean(axis=0), axis=1).min() < 10.0


@pytest.mark.parametrize("angle", [0.0, np.pi / 2.0])
def test_a_wide_balloon_touches_its_words_or_a_line_joins_them(angle):
    """One drawn off a corner by half its width stood nearer to the words of another."""
    words = Letters(Numbered("slot in its middle", (23,)), np.array([40.0, 30.0]), 2.5, angle)
    box, near = letters_box(words, 0.0), 0
    axes = np.array([[np.cos(angle), np.sin(angle)], [-np.sin(angle), np.cos(angle)]])
    for letters, start, end in _places(Field(), words, "23-25,43"):
        corners = _outline(letters).points
        outline = np.linspace(corners, np.roll(corners, -1, axis=0), 40).reshape(-1, 2)
        gap = np.linalg.norm(
            np.maximum(np.abs((outline - box.middle) @ axes.T) - box.half, 0.0), axis=1
        ).min()
        if start is None:
            near += 1
            assert gap < 2.0
        else:
            assert np.linalg.norm(outline - end, axis=1).min() < 0.5
    assert near == 12
