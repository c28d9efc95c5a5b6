"""The tool of a splined bore: one tooth space turned round the axis is the whole bore."""

import io

import cadquery as cq
import numpy as np
import pytest
from OCP.BRepTools import BRepTools

from parts.features.bar_bore.spline_tool import OVER, spline_tool, splined
from parts.shapes.profile import cone
from parts.standards.splines.splines import spline


def area(form):
    """Area of a bore by its sampled outline: half the sum of cross products [mm2]."""
    space = form.internal_space(points=60)
    a, b, c = (np.array(p) for p in space.fillet)
    # An arc through three points is run as its two chords' shares of the circle about its centre.
    m = 2.0 * np.array([b - a, c - a])
    centre = np.linalg.solve(m, np.array([b @ b - a @ a, c @ c - a @ a]))
    angles = np.unwrap([np.arctan2(*(p - centre)[::-1]) for p in (a, b, c)])
    arc = centre + np.linalg.norm(a - centre) * np.array(
        [(np.cos(t), np.sin(t)) for t in np.linspace(angles[0], angles[2], 200)]
    )
    half = np.concatenate([np.array(space.flank), arc])
    x, y = half[:, 0], half[:, 1]
    wedge = np.sum(x[:-1] * y[1:] - x[1:] * y[:-1])
    end = np.arctan2(y[-1], x[-1])
    root = np.hypot(x[-1], y[-1]) ** 2 * abs(end)
    tip = np.hypot(x[0], y[0]) ** 2 * (np.pi / form.teeth - np.arctan2(y[0], x[0]))
    return form.teeth * (abs(wedge) + root + tip)


@pytest.mark.parametrize("name", ["8 teeth 1/2 in", "48 teeth 1 in", "20T m1 flat"])
def test_tool_fills_the_outline_of_the_form(name):
    form = spline(name)
    tool = spline_tool(form, 10.0, 0.0)
    assert tool.isValid()
    assert tool.Volume() == pytest.approx(area(form) * (10.0 + 2.0 * OVER), rel=2e-5)


@pytest.mark.parametrize(
    "lead_in",
    [pytest.param(0.3, marks=pytest.mark.slow), 4.0],
    ids=["shallow", "deeper than the teeth"],
)
def test_chamfers_are_those_of_cones_through_all_teeth(lead_in):
    form, width = spline("8 teeth 1/2 in"), 12.0
    low, half = float(form.minor_internal), width / 2.0
    wide = low + 2.0 * (lead_in + OVER)
    whole = cq.Workplane(obj=spline_tool(form, width, 0.0))
    for ends in (
        (wide, low, -half - OVER, -half + lead_in),
        (low, wide, half - lead_in, half + OVER),
    ):
        whole = whole.union(cone(*ends))
    tool = spline_tool(form, width, lead_in)
    assert tool.isValid()
    assert tool.Volume() == pytest.approx(whole.val().Volume(), rel=1e-7)
    assert len(tool.Faces()) == len(whole.val().Faces())


@pytest.mark.parametrize("lead_in", [0.0, 1.2])
def test_walls_sewn_into_a_hub_leave_what_cutting_leaves(lead_in):
    form, width = spline("20T m1 flat"), 12.0
    hub = cq.Workplane(origin=(0, 0, -6.0)).circle(22.0).extrude(12.0)
    sewn = splined(hub.val(), form, width, lead_in, 5.0)
    tool = spline_tool(form, width, lead_in).rotate(cq.Vector(), cq.Vector(0, 0, 1), 5.0)
    cut = hub.cut(cq.Workplane(obj=tool)).val()
    assert sewn.isValid() and len(sewn.Faces()) == len(cut.Faces())
    assert sewn.Volume() == pytest.approx(cut.Volume(), rel=1e-12)
    assert sewn.cut(cut).Volume() == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("open_to_it", ["a hole across", "a stepped end"])
def test_a_bore_that_meets_more_than_two_flat_ends_is_cut(open_to_it):
    hub = cq.Workplane(origin=(0, 0, -6.0)).circle(22.0).extrude(12.0)
    if open_to_it == "a hole across":
        hub = hub.cut(cq.Workplane("YZ").circle(2.0).extrude(30.0))
    else:
        hub = hub.cut(cq.Workplane(origin=(0, 0, 5.0)).circle(8.0).extrude(2.0))
    assert splined(hub.val(), spline("20T m1 flat"), 12.0, 0.5, 0.0) is None


@pytest.mark.parametrize("name", ["8 teeth 1/2 in", "20T m1 flat"])
def test_a_tool_has_the_same_bytes_each_time(name):
    """Prints of a splined arm differed from run to run: the kernel kept either of two vertices a hair apart."""
    written = set()
    for _ in range(8):
        text = io.BytesIO()
        BRepTools.Write_s(spline_tool(spline(name), 10.0, 0.0).wrapped, text)
        written.add(text.getvalue())
    assert len(written) == 1
