"""Edges seen, hidden lines and hatching against figures known by heart."""

import cadquery as cq
import numpy as np
import pytest

from parts.making.bench.frames import along, beside, frame
from parts.making.bench.ink import Arc, Line
from parts.making.bench.projection import hatch, look, look_into

FRONT = frame((1, 0, 0), (0, 1, 0))


def run(curves):
    return sum(
        c.radius * (c.stop - c.start) if isinstance(c, Arc) else
        np.linalg.norm(np.diff(c.points, axis=0), axis=1).sum()
        for c in curves
    )  # fmt: skip


def test_a_drilled_block_is_a_rectangle_and_a_circle():
    block = cq.Workplane().box(40, 30, 10).faces(">Z").workplane().hole(12).val()
    seen = look(block, FRONT, hidden=True)
    assert run(seen.visible) == pytest.approx(2 * (40 + 30) + np.pi * 12, rel=1e-6)
    from_above = look(block, beside(FRONT, "top"), hidden=True)
    assert run(from_above.visible) == pytest.approx(2 * (40 + 10), rel=1e-6)
    # Hidden: both sides of the bore.
    hidden = [c for c in from_above.hidden if isinstance(c, Line) and np.ptp(c.points[:, 0]) < 1e-9]
    assert {round(float(c.points[0, 0]), 6) for c in hidden} >= {-6.0, 6.0}


def test_a_block_hides_what_stands_behind_it():
    body = cq.Workplane().box(40, 30, 10).union(
        cq.Workplane().box(10, 10, 10).translate((0, 0, -10))
    )  # fmt: skip
    assert run(look(body.val(), FRONT).visible) == pytest.approx(2 * (40 + 30), rel=1e-6)
    behind = look(body.val(), beside(FRONT, "back")).visible
    assert run(behind) == pytest.approx(2 * (40 + 30) + 4 * 10, rel=1e-6)


def test_arcs_stay_arcs():
    plate = cq.Workplane().slot2D(40, 12).extrude(5).val()
    arcs = [c for c in look(plate, FRONT).visible if isinstance(c, Arc)]
    assert len(arcs) == 2
    for arc in arcs:
        assert arc.radius == pytest.approx(6.0)
        assert arc.stop - arc.start == pytest.approx(np.pi)
        middle = arc.centre + 6.0 * np.array(
            [np.cos((arc.start + arc.stop) / 2), np.sin((arc.start + arc.stop) / 2)]
        )
        assert abs(middle[0]) == pytest.approx(20.0)  # it bulges outward


@pytest.mark.parametrize("away", [(0, 0, 0), (300, 0, -40)])
def test_a_section_shows_the_bore_and_hatches_the_metal(away):
    ring = cq.Workplane().circle(20).circle(12).extrude(30).val().translate(cq.Vector(*away))
    seen = look_into(ring, beside(FRONT, "top"), (0, 0, 0))
    # The outline of both walls and the two ends of the bore behind the cut.
    assert run(seen.visible) == pytest.approx(2 * (40 + 30) + 2 * 30, rel=1e-6)
    assert len(seen.cut) == 2
    spacing = 0.5
    lines = [ends for loops in seen.cut for ends in hatch(loops, spacing)]
    area = sum(np.linalg.norm(b - a) for a, b in lines) * spacing
    # Two walls of 8 x 30; the error is half a line at each end.
    assert area == pytest.approx(2 * 8 * 30, rel=0.02)
    for a, b in lines:
        assert (b - a)[0] == pytest.approx((b - a)[1])  # at 45 degrees, as ISO 128-3 has it


@pytest.mark.parametrize(
    ("side", "toward"),
    [
        ("front", (0, 0, 1)), ("top", (0, 1, 0)), ("bottom", (0, -1, 0)),
        ("right", (1, 0, 0)), ("left", (-1, 0, 0)), ("back", (0, 0, -1)),
    ],
)  # fmt: skip
def test_each_side_is_looked_at_from_there(side, toward):
    assert beside(FRONT, side).toward == pytest.approx(np.array(toward, float))


def test_axes_askew_are_refused():
    with pytest.raises(ValueError, match="square"):
        frame((1, 0, 0), (1, 1, 0))


@pytest.mark.parametrize(
    "lean, words",
    [
        ((0.0, 1.5), "front, its top raised 1.50°"),
        ((-2.9, 0.0), "front, its left side raised 2.90°"),
    ],
)
def test_a_view_a_little_aslant_says_which_edge_a_wedge_raises(lean, words):
    """An edge stands higher toward the eye by the sine of the lean."""
    x, y = np.sin(np.radians(lean))
    toward = np.array([x, y, np.sqrt(1.0 - x * x - y * y)])
    said, view = along(FRONT, -toward)
    assert said == words
    assert view.toward == pytest.approx(toward)
    assert float(view.up @ view.right) == pytest.approx(0.0, abs=1e-12)


def test_the_cope_on_a_saddle_of_almost_its_own_diameter_is_drawn_where_it_lies():
    # Its curve has some 200 poles, with which hiding lines takes half a minute; drawn with fewer it stays on
    # the saddle, which is a circle as seen along its axis.
    bar = cq.Workplane("YZ").circle(15.0).extrude(60)
    coped = bar.cut(cq.Workplane("XY").circle(15.5).extrude(50, both=True)).val()
    seen = [c.path() for c in look(coped, FRONT).visible]
    curve = np.vstack([p for p in seen if p[:, 0].max() < 16.0])
    assert np.abs(np.hypot(*curve.T) - 15.5).max() < 0.01
    assert np.ptp(curve[:, 1]) == pytest.approx(30.0, abs=0.05)


def test_an_end_sawn_aslant_is_round_as_seen_along_its_tube():
    bar = cq.Workplane("YZ").circle(15.0).extrude(60)
    sawn = bar.cut(cq.Workplane("XY").box(60, 200, 60).rotate((0, 0, 0), (0, 0, 1), 30).val())
    seen = look(sawn.val(), frame((0, -1, 0), (0, 0, 1))).visible
    chords = [one.path() for one in seen if isinstance(one, Line)]
    middles = np.vstack([(path[1:] + path[:-1]) / 2.0 for path in chords])
    assert np.abs(np.hypot(*middles.T) - 15.0).max() < 0.011
