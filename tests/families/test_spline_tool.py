"""The tool of a splined bore: one tooth space turned round the axis is the whole bore."""

import cadquery as cq
import numpy as np
import pytest

from parts.features.bar_bore.spline_tool import OVER, spline_tool
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
