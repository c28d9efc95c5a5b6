"""A drawing that says what the solid does not have is found out."""

from dataclasses import replace

import cadquery as cq
import numpy as np
import pytest

from parts.core.drawing import Angle, Callout, Diameter, Hole, Linear, Marks, Radius
from parts.making.bench.measured import measured

X, Y, Z = np.eye(3)


@pytest.fixture(scope="module")
def block():
    """40 x 30 x 10 mm, a 12 mm hole 5 mm off the middle, corners of 4 mm."""
    body = cq.Workplane().box(40, 30, 10).edges("|Z").fillet(4.0)
    body = body.cut(cq.Workplane().circle(6).extrude(40, both=True).translate((5, 0, 0)))
    return body.val()


def only(mark, solid):
    marks = Marks((mark,)) if not isinstance(mark, Hole) else Marks(holes=(mark,))
    return measured(marks, solid)


GOOD = [
    Linear("length", (-20, 0, 0), (20, 0, 0), X, 40.0),
    Linear("to the hole", (-20, 0, 0), (5, 0, 0), X, 25.0),
    Linear("middle to the hole", (0, 0, 0), (5, 0, 0), X, 5.0),
    Diameter("hole", (5, 0, 5), Z, 12.0),
    Radius("corner", (16, 11, 5), Z, (X + Y) / np.sqrt(2.0), 4.0),
    Angle("corner", (-20, -15, 5), X, Y, np.pi / 2.0),
    Hole("hole", (5, 0, 5), -Z, 12.0, through=10.0),
    Callout("words", (20, 0, 0), "{0}", (Linear("length", (-20, 0, 0), (20, 0, 0), X, 40.0),)),
]


@pytest.mark.parametrize("mark", GOOD, ids=lambda m: f"{type(m).__name__} {m.name}")
def test_what_is_true_is_found_true(mark, block):
    found = only(mark, block)
    assert found and all(one.ok for one in found)


@pytest.mark.parametrize("mark", GOOD[:6], ids=lambda m: f"{type(m).__name__} {m.name}")
def test_a_wrong_value_is_found_out(mark, block):
    assert not all(one.ok for one in only(replace(mark, value=mark.value + 0.01), block))


def test_a_place_that_is_not_on_the_solid_is_found_out(block):
    # Value and places agree with each other, but not with the solid: the end is taken 1 mm inside.
    wrong = Linear("length", (-20, 0, 0), (19, 0, 0), X, 39.0)
    assert not all(one.ok for one in only(wrong, block))
    assert not all(one.ok for one in only(Diameter("hole", (6, 0, 5), Z, 12.0), block))
    assert not all(one.ok for one in only(Hole("hole", (5, 0, 4), -Z, 12.0, through=10.0), block))


def test_a_blind_hole_is_measured_to_its_full_diameter():
    body = cq.Workplane().box(40, 30, 30).cut(cq.Workplane().workplane(15).circle(4).extrude(-18))
    hole = Hole("blind", (0, 0, 15), -Z, 8.0, depth=18.0)
    assert all(one.ok for one in only(hole, body.val()))
    assert not all(one.ok for one in only(replace(hole, depth=17.5), body.val()))


def test_a_fillet_round_a_shank_is_measured_as_a_torus():
    sketch = cq.Workplane().moveTo(0, 0).lineTo(20, 0).lineTo(20, 5).lineTo(2, 5)
    low = 2.0 * np.sqrt(0.5)
    hollow = sketch.threePointArc((2 - low, 7 - low), (0, 7))
    body = hollow.close().revolve(360, (0, 0, 0), (1, 0, 0)).val()
    mark = Radius("root", (2, 7, 0), Z, (-X - Y) / np.sqrt(2.0), 2.0)
    (found,) = only(mark, body)
    assert found.found == pytest.approx(2.0, abs=1e-6)


def test_a_tapered_side_is_measured_at_its_station():
    # Half width 10 - x/10: at x = 30 the width is 14.
    body = cq.Workplane().polyline([(0, -10), (50, -5), (50, 5), (0, 10)]).close().extrude(5).val()
    mark = Linear("width", (30, -7, 2), (30, 7, 2), Y, 14.0)
    assert all(one.ok for one in only(mark, body))
    assert not all(one.ok for one in only(replace(mark, start=(30, -7.01, 2), value=14.01), body))


def test_places_are_measured_from_the_middle_of_a_slot():
    """The slot's ends are 12 mm apart and 6 mm across: its middle bears no axis of its own."""
    slot = cq.Workplane().box(60, 40, 10).cut(cq.Workplane().slot2D(18, 6).extrude(30, both=True))
    mark = Linear("x", (0, 0, 5), (30, 0, 5), X, 30.0)
    assert all(one.ok for one in only(mark, slot.val()))
    aside = replace(mark, start=(1.0, 0, 5), value=29.0)
    assert not all(one.ok for one in only(aside, slot.val()))


@pytest.mark.parametrize("stated", [10.0, 12.0])
def test_an_angle_from_an_axis_needs_no_edge_along_it(stated):
    block = cq.Workplane().box(40, 20, 5).rotate((0, 0, 0), (0, 0, 1), 10.0).val()
    turn = np.radians(stated)
    way = (np.cos(turn), np.sin(turn), 0.0)
    one = Angle("turn", (0, 0, 0), (1, 0, 0), way, turn, from_axis=True)
    (found,) = measured(Marks((one,)), block)
    assert found.found == pytest.approx(np.radians(10.0)) and found.ok == (stated == 10.0)
