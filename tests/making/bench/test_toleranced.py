"""Geometric tolerances: their zones from the bolts and the fits, and their frames on a sheet."""

from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest

import parts
from parts.core.drawing import DatumFeature, Marks, Zone
from parts.features.press.fit import place_zone
from parts.making.bench.field import Field
from parts.making.bench.figures import Figures
from parts.making.bench.ink import Arc, Letters, Line, Patch, extent, line
from parts.making.bench.inspection import items
from parts.making.bench.leaders import Pointer, block, place_pointers
from parts.making.bench.legible import unreadable
from parts.making.bench.toleranced import HIGH, Frame, frames, place_datum

SIGNS = ["position", "perpendicularity", "parallelism", "coaxiality"]


@pytest.fixture(scope="module")
def demo():
    found = {
        path.stem[:6].upper(): parts.load(path) for path in Path("params").glob("hc-10[1-5]*.yaml")
    }
    return {name: (part, part.drawn()) for name, part in found.items()}


def test_the_zone_of_a_bolt_is_that_of_the_standard():
    """ASME Y14.5M-1994, B3 and B4: fasteners of 6 mm, holes of 6.44 mm: 0.44 floating, 0.22 fixed; from memory."""
    assert place_zone(6.44, 6.0, fixed=False) == pytest.approx(0.44)
    assert place_zone(6.44, 6.0, fixed=True) == pytest.approx(0.22)
    assert place_zone(9.0, 8.007, fixed=True) == pytest.approx(0.49)  # rounded down, never up


def zones_of(drawn):
    marks = (*drawn.marks.holes, *drawn.marks.dimensions)
    return {mark.name: mark for mark in marks if getattr(mark, "zones", ())}


def test_a_bracket_is_held_by_its_face_and_its_first_two_mounts(demo):
    """HC-104: M10 (10.0) into the frame through 11.0: 0.5; M8 through 9.0 and 8.4 to a nut: 1.0 and 0.4."""
    (sheet,) = demo["HC-104"][1]
    zones = zones_of(sheet)
    assert zones["mount 1"].zones == (Zone("perpendicularity", 0.5, ("A",)),)
    assert zones["slot of mount 2"].zones == (Zone("position", 1.0, ("A", "B"), round=False),)
    assert zones["mount 3"].zones == (Zone("position", 0.4, ("A", "B", "C")),)
    assert [zones[name].datum for name in ("mount 1", "slot of mount 2", "mount 3")] == [
        "B",
        "C",
        "",
    ]
    (face,) = sheet.marks.datums
    assert face.letter == "A" and face.start[2] == face.end[2]
    assert np.asarray(face.out) @ np.array([0, 0, 1]) == pytest.approx(
        1.0
    )  # the left hand: z toward the frame


def test_bores_that_carry_bearings_and_pins_are_square_within_their_fits(demo):
    """ISO 286-2: h6 at 15 mm 11 µm; H7 at 9.5 and 10 mm 15 µm; H12 at 6.4 mm 150 µm."""
    pedal = zones_of(demo["HC-105"][1][0])["pedal, over the face"]
    assert pedal.zones == (Zone("perpendicularity", 0.011, ("A",)),)
    assert zones_of(demo["HC-101"][1][0])["pin hole"].zones[0].value == pytest.approx(0.015)
    assert zones_of(demo["HC-103"][1][0])["pin hole"].zones[0].value == pytest.approx(0.015)


def test_ends_of_a_link_and_a_splined_hub_have_zones(demo):
    """The column check counts a load 0.5 mm off the axis: half of it may be the body's, a zone of 0.5 mm across."""
    link = parts.load("params/hc-106-shock-link-turnbuckle.yaml")
    (body,) = link.drawn()
    ends = [hole for hole in body.marks.holes if hole.thread is not None]
    assert [hole.datum for hole in ends] == ["A", ""]
    assert [one.zones for one in ends] == [
        (),
        (Zone("coaxiality", float(link.eccentricity), ("A",)),),
    ]
    (arm,) = demo["HC-103"][1]
    (spline,) = [one for one in arm.marks.dimensions if one.name == "spline"]
    assert [(one.characteristic, one.datums) for one in spline.zones] == [
        ("perpendicularity", ("A",))
    ]


def test_every_datum_that_a_frame_names_is_on_its_sheet(demo):
    for _, sheets in demo.values():
        for sheet in sheets:
            named = {
                letter
                for mark in zones_of(sheet).values()
                for zone in mark.zones
                for letter in zone.datums
            }
            marks = (*sheet.marks.holes, *sheet.marks.dimensions)
            there = {one.letter for one in sheet.marks.datums} | {
                getattr(mark, "datum", "") for mark in marks
            }
            assert named <= there


def test_zones_are_rows_of_the_inspection_sheet(demo):
    part, (sheet,) = demo["HC-104"]
    rows = {row.name: row for row in items(part, sheet)}
    row = rows["position of mount 3"]
    assert (row.low, row.high) == (0.0, 0.4) and row.words == "Ø0.4 to A, B, C"
    numbers = [row.number for row in items(part, sheet)]
    assert all(b == a + 1 for a, b in pairwise(numbers))


def test_the_pattern_closes_at_its_worst(demo):
    """Both holes off by their zones, the bolt at its greatest: just room, HC-104's slot and counterbore too."""
    both = [one for one in demo["HC-104"][0].clearances() if "out of place" in one.joint]
    assert len(both) == 3
    for one in both:
        assert one.least == pytest.approx(0.0, abs=0.01) and one.least >= -1e-9


@pytest.mark.parametrize("sign", [*SIGNS, "datum"])
@pytest.mark.parametrize("hand", [1.0, -1.0])
def test_frames_can_be_read_and_stand_under_the_words(sign, hand):
    cells = ("B",) if sign == "datum" else ("Ø0.015", "A", "B", "C")
    ink = block(
        ("Ø9 H13 through", "+0.220 / 0", Frame(sign, cells), "both ears"), np.zeros(2), hand
    )
    assert unreadable(ink) == []
    low, high = extent(ink)
    assert (low[0] >= -1e-9) if hand > 0.0 else (high[0] <= 1e-9)
    letters = [one for one in ink if isinstance(one, Letters)]
    assert {one.height for one in letters} == {2.5}
    assert [one.text for one in letters] == ["Ø9 H13 through", "+0.220 / 0", *cells, "both ears"]


def test_signs_are_drawn_as_the_standard_has_them():
    """ISO 1101: position a circle with a cross, perpendicularity two lines, parallelism two, coaxiality two circles."""
    drawn = {sign: Frame(sign, ()).ink(0.0, 0.0)[1:] for sign in SIGNS}
    count = {sign: (sum(isinstance(i, Arc) for i in ink), sum(isinstance(i, Line) for i in ink))
             for sign, ink in drawn.items()}  # fmt: skip
    assert count == {
        "position": (1, 2),
        "perpendicularity": (0, 2),
        "parallelism": (0, 2),
        "coaxiality": (2, 0),
    }
    one, other = (ink.points[1] - ink.points[0] for ink in drawn["perpendicularity"])
    assert one @ other == pytest.approx(0.0)
    for ink in drawn.values():
        low, high = extent(list(ink))
        assert np.all(low > 0.0) and np.all(high < HIGH)


def test_a_zone_is_written_in_the_units_of_the_sheet():
    zone = (Zone("position", 0.254, ("A",)),)
    assert frames(zone, "", Figures("in"))[0].cells == ("Ø0.0100", "A")
    assert frames(zone, "B", Figures("mm"))[1] == Frame("datum", ("B",))


def test_a_datum_stands_on_its_face_and_clear_of_lines():
    there = Field()
    edge = np.array([(0.0, 0.0), (40.0, 0.0)])
    there.draw(line("outline", *edge))
    there.draw(line("dimension", (0.0, -9.0), (40.0, -9.0)))
    assert place_datum(there, "A", (edge[0], edge[1]), np.array([0.0, -1.0]))
    assert unreadable(there.ink) == []
    (triangle,) = (one for one in there.ink if isinstance(one, Patch))
    assert np.sort(triangle.points[:, 1])[-2:] == pytest.approx([0.0, 0.0])
    (letter,) = (one for one in there.ink if isinstance(one, Letters))
    assert letter.text == "A" and letter.at[1] < 0.0


def test_a_leader_keeps_room_for_its_frame():
    there = Field()
    there.draw(line("outline", (0, 0), (60, 0)))
    touch = tuple((np.array([30.0, 0.0]), np.array([c, s])) for c, s in ((0.7, 0.71), (-0.7, 0.71)))
    frame = Frame("position", ("Ø0.4", "A"))
    assert (
        place_pointers(
            there, [Pointer("a", touch, ("Ø8", frame)), Pointer("b", touch, ("Ø9", frame))]
        )
        == []
    )
    assert unreadable(there.ink) == []


def test_datums_move_with_their_feature():
    one = DatumFeature("A", (0, 0, 1), (2, 0, 1), (0, 0, 1))
    turn = np.array([(0, 1, 0), (-1, 0, 0), (0, 0, 1)], float)
    (moved,) = Marks(datums=(one,)).moved((5, 0, 0), turn).datums
    assert moved.start == pytest.approx([5, 0, 1]) and moved.end == pytest.approx([5, 2, 1])
    assert moved.out == pytest.approx([0, 0, 1])
