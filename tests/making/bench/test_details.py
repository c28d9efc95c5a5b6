"""Details of crowded views and breaks of long ones, on blocks whose places are known."""

import cadquery as cq
import numpy as np
import pytest

from parts.core.drawing import Diameter, Drawn, Linear, Marks, View
from parts.making.bench.arrangement import arranged
from parts.making.bench.breaks import GAP, broken
from parts.making.bench.details import clipped, detailed, larger
from parts.making.bench.ink import Line
from parts.making.bench.looks import Around, looks

X, Y, Z = np.eye(3)


def test_heights_in_the_midst_of_a_view_stand_in_details():
    """Two grooves across a bar of 200, 40 and 160 from its end: their lines would run over 40 mm of it and more."""
    bar = cq.Workplane().box(200, 20, 20, centered=False)
    for x in (50, 145):
        bar = bar.cut(cq.Workplane().box(5, 20, 8, centered=False).translate((x, 0, 12)))
    heights = [
        Linear(f"{name} {x}", (x, 0, low), (x, 0, high), Z, high - low)
        for x in (50, 145) for name, low, high in (("depth", 12, 20), ("floor", 0, 12))
    ]  # fmt: skip
    end = Linear("height", (200, 0, 0), (200, 0, 20), Z, 20.0)
    views = looks(Drawn(X, Z, (View("front"),), Marks()), bar.val())
    shown, given = detailed(views, [(*heights, end)])
    assert [one.letter for one in shown] == ["", "A", "B"]
    assert given == [(end,), tuple(heights[:2]), tuple(heights[2:])]
    for view in shown[1:]:
        ends = np.concatenate([one.path() for one in view.seen.visible])
        off = np.linalg.norm(ends - view.around.middle, axis=1)
        assert off.max() <= view.around.radius + 1e-9 < 24.0
    # One groove alone is no crowd, and at the end of a bar lines are short.
    assert detailed(views, [(*heights[:2], end)])[1] == [(*heights[:2], end)]


def test_a_line_is_clipped_at_a_circle():
    around = Around(np.array([0.0, 3.0]), 5.0, 0)
    # 3-4-5: a line along the axis, 3 below the middle, lies in it from -4 to 4.
    assert clipped(np.array([-9.0, 0.0]), np.array([9.0, 0.0]), around) == pytest.approx(
        np.array([[-4.0, 0.0], [4.0, 0.0]])
    )
    assert clipped(np.array([-9.0, -3.0]), np.array([9.0, -3.0]), around) is None
    assert [larger(scale) for scale in (0.2, 0.5, 1.0, 2.0)] == [0.5, 1.0, 2.0, 5.0]


def test_details_stand_beside_or_above_the_views():
    line = [Line(np.array([(0.0, 0.0), (200.0, 50.0)]), "outline")]
    small = [Line(np.array([(-20.0, -20.0), (20.0, 20.0)]), "outline")]
    placed = arranged(["front"], [line, small, small], "third angle")
    # Above: 200 wide and 50 + 9 + 40 high; beside them it would be 249 wide.
    assert placed.size == (200.0, 99.0)
    assert placed.origins[2][0] - placed.origins[1][0] == pytest.approx(49.0)


@pytest.mark.parametrize("side", [1.0, -1.0])
def test_a_long_bar_is_broken_where_nothing_happens(side):
    """Ø20 x 600 with heads Ø30 x 20: its frame moves the far head, and no direction."""
    bar = cq.Workplane("YZ").circle(10).extrude(600 * side)
    for x in (0, 580):
        bar = bar.union(
            cq.Workplane("YZ").circle(15).extrude(20 * side).translate((x * side, 0, 0))
        )
    long = Linear("length", (0, 0, 0), (600 * side, 0, 0), X, 600.0)
    marks = Marks((long, Diameter("shank", (300 * side, 0, 0), X, 20.0)))
    drawn = Drawn(X, Z, (View("front"), View("top", cut=(0, 0, 0)), View("left")), marks)
    front, top, left = broken(drawn, looks(drawn, bar.val()))
    # The shank runs from 20 to 580, 560 long: 15 % stay at each end, 70 % go, 1.5 % of the whole stay open.
    gone = 0.7 * 560.0 - GAP * 603.0
    assert front.frame.flat((600 * side, 0, 5)) == pytest.approx(
        [side * (600 - gone), 5.0], abs=2.0 * GAP
    )
    assert front.frame.flat((side, 0, 0)) == pytest.approx([side, 0.0])
    assert np.abs(front.frame.flat(X)) == pytest.approx([1.0, 0.0])
    for view in (front, top):
        body = [one for one in view.seen.visible if one.layer == "outline"]
        run = np.concatenate([one.path() for one in body])[:, 0]
        assert np.ptp(run) == pytest.approx(600 - gone, abs=2.0 * GAP)
        inside = np.abs(run) > 20 + 0.15 * 560 + 0.01
        assert np.all(np.abs(run[inside]) > 20 + 0.15 * 560 + GAP * 590)
        assert sum(one.layer == "pictorial" for one in view.seen.visible) == 2
    assert len(top.seen.cut) == 2 and not hasattr(left.frame, "gap")
    middles = [np.mean(loops[0][:, 0]) for loops in top.seen.cut]
    assert abs(middles[0] - middles[1]) > 100.0


def test_what_changes_along_a_part_is_not_left_out():
    cone = cq.Workplane(obj=cq.Solid.makeCone(20, 8, 600, dir=cq.Vector(1, 0, 0)))
    drawn = Drawn(X, Z, (View("front"),), Marks())
    assert broken(drawn, looks(drawn, cone.val())) is None
