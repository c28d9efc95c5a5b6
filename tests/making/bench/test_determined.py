"""The proof of a sheet: what it leaves open is found, and nothing else is."""

from dataclasses import replace

import cadquery as cq
import numpy as np
import pytest

import parts
from parts.core.drawing import Datum, Diameter, Drawn, Hole, Linear, Marks, Radius, View, run_of
from parts.making.bench.determined import left_open
from parts.making.bench.files import sharp_solids
from parts.making.bench.levels import rounded
from parts.strength.section.outline import Loop

X, Y, Z = np.eye(3)


def block():
    """A block 60 x 40 x 10 with a corner at the origin, a hole of 8 and one corner rounded by 5."""
    solid = cq.Workplane("XY").box(60, 40, 10, centered=False)
    solid = solid.edges("|Z").edges(">X and >Y").fillet(5.0)
    hole = cq.Workplane("XY").center(20, 15).circle(4).extrude(10)
    return solid.cut(hole).val()


SIZES = {
    "length": Linear("length", (0, 0, 10), (60, 0, 10), X, 60.0),
    "width": Linear("width", (0, 0, 10), (0, 40, 10), Y, 40.0),
    "height": Linear("height", (0, 0, 0), (0, 0, 10), Z, 10.0),
    "hole, x": Linear("hole, x", (0, 0, 10), (20, 15, 10), X, 20.0),
    "hole, y": Linear("hole, y", (0, 0, 10), (20, 15, 10), Y, 15.0),
    "corner": Radius("corner", (55, 35, 10), Z, (X + Y) / np.sqrt(2.0), 5.0),
}
HOLE = Hole("hole", (20, 15, 10), -Z, 8.0, through=10.0)


def sheet(sizes, holes=(HOLE,), **more):
    marks = Marks(tuple(sizes), tuple(holes), **more)
    return Drawn(X, Y, (View("front"), View("top")), marks, Datum((0, 0, 10), "corner"))


def test_a_whole_sheet_leaves_nothing_open():
    assert left_open(sheet(SIZES.values()), block()) == []


@pytest.mark.parametrize("name", SIZES)
def test_each_dimension_that_is_left_out_is_missed(name):
    rest = [size for key, size in SIZES.items() if key != name]
    assert left_open(sheet(rest), block()), name


@pytest.mark.parametrize("noise", [-1e-12, 1e-12])
def test_half_a_thousandth_is_one_level_whatever_its_noise(noise):
    # Ears whose inner faces stand 17.975 / 2 off the middle: one of the two was not found where the other is mirrored.
    assert rounded(8.9875 + noise) == rounded(8.9875) == -rounded(-8.9875 + noise)


def test_a_hole_that_is_not_called_out_is_missed():
    missing = left_open(sheet(SIZES.values(), ()), block())
    assert ["radius" in one.missing for one in missing] == [True]


def test_a_length_said_twice_is_found():
    # 20 to the hole and 40 on to the end make the length of 60 that stands there already.
    again = Linear("hole to the end", (20, 15, 10), (60, 15, 10), X, 40.0)
    found = left_open(sheet([*SIZES.values(), again]), block())
    assert [one.what for one in found] == ["the dimension 'hole to the end'"]
    bracketed = replace(again, reference=True)
    assert left_open(sheet([*SIZES.values(), bracketed]), block()) == []


def test_a_length_to_where_an_arc_begins_is_found():
    tangent = Linear("to the rounded corner", (0, 40, 10), (55, 40, 10), X, 55.0)
    found = left_open(sheet([*SIZES.values(), tangent]), block())
    assert [one.what for one in found] == ["the dimension 'to the rounded corner'"]
    assert "to measure from" in found[0].missing


def test_a_face_aslant_needs_two_places_or_its_angle():
    solid = cq.Workplane("XY").polyline([(0, 0), (50, 0), (30, 20), (0, 20)]).close().extrude(8)
    base = [
        Linear("foot", (0, 0, 8), (50, 0, 8), X, 50.0),
        Linear("height", (0, 0, 8), (0, 20, 8), Y, 20.0),
        Linear("thickness", (0, 0, 0), (0, 0, 8), Z, 8.0),
    ]
    assert len(left_open(sheet(base, ()), solid.val())) == 1
    top = Linear("top", (0, 20, 8), (30, 20, 8), X, 30.0)
    assert left_open(sheet([*base, top], ()), solid.val()) == []


def test_a_table_of_a_profile_states_its_lines_and_arcs():
    # A half round of radius 10 on a flat: bulge 1 is half a turn.
    loop = Loop(np.array([(0.0, 0.0), (20.0, 0.0)]), np.array([0.0, 1.0]))
    solid = cq.Workplane("XY").moveTo(0, 0).lineTo(20, 0).threePointArc((10, 10), (0, 0)).close()
    solid = solid.extrude(5).val()
    high = Linear("thickness", (0, 0, 0), (0, 0, 5), Z, 5.0)
    assert left_open(sheet([high], ()), solid)
    assert left_open(sheet([high], (), profiles=(run_of("outline", loop, 5.0),)), solid) == []


@pytest.fixture(scope="module")
def clevis():
    part = parts.load("params/hc-107-brake-rod-clevis.yaml")
    return part, sharp_solids(part)["part"]


def test_the_sheet_of_a_clevis_needs_every_dimension(clevis):
    part, solid = clevis
    drawn = part.drawn()[0]
    assert left_open(drawn, solid) == []
    for one in drawn.marks.dimensions:
        # A nose of full radius and the width of its ears each say the other.
        full = one.name in ("nose", "width of the ears")
        sized = isinstance(one, Linear | Diameter | Radius)
        if sized and not full and not getattr(one, "reference", False):
            rest = tuple(other for other in drawn.marks.dimensions if other is not one)
            marks = replace(drawn.marks, dimensions=rest)
            assert left_open(replace(drawn, marks=marks), solid), one.name
