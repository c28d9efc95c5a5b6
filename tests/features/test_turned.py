"""Turned steps: their solid against their outlines, flats, fillets and tapped holes."""

import numpy as np
import pytest

from parts.features.thread import threaded
from parts.features.thread.turned import Step, solid
from parts.shapes.cut import contour, cut
from parts.standards.threads.threads import thread
from parts.strength.section.properties import properties

AXES = np.eye(3)
STEPS = [
    Step("head", 0.0, 8.0, 24.0, flats=20.0, sides=6),
    Step("fillet in", 8.0, 11.0, 24.0, 18.0, fillet=True),
    Step("neck", 11.0, 20.0, 18.0, flats=15.0),
    Step("taper", 20.0, 24.0, 18.0, 14.0),
    Step("fillet out", 24.0, 26.0, 14.0, 18.0, fillet=True),
    Step("collar", 26.0, 30.0, 18.0, flats=15.0, sides=4),
]


@pytest.fixture(scope="module")
def turned():
    return solid(STEPS)


@pytest.mark.parametrize("step", STEPS, ids=lambda step: step.name)
@pytest.mark.parametrize("t", [0.1, 0.5, 0.9])
def test_the_solid_is_cut_as_the_outline_says(turned, step, t):
    place = (step.low + t * step.length, 0.0, 0.0)
    found = properties(contour(cut(turned, place, AXES), (-13, -13), (13, 13)))
    expected = properties(step.outline(np.asarray(t)))
    for name in ("area", "Iyy", "Izz"):
        # Both are exact for lines and arcs; the kernel's own tolerance remains.
        assert getattr(found, name) == pytest.approx(float(getattr(expected, name)), rel=1e-7)


def test_flats_face_y():
    flat = properties(Step("neck", 0.0, 1.0, 18.0, flats=15.0).outline(np.asarray(0.5)))
    assert flat.Izz < flat.Iyy


def test_a_fillet_leaves_the_small_diameter_along_the_axis():
    inward = Step("fillet", 0.0, 3.0, 24.0, 18.0, fillet=True)
    outward = Step("fillet", 0.0, 3.0, 18.0, 24.0, fillet=True)
    t = np.linspace(0.0, 1.0, 7)
    # A circle of radius 3 about the point 3 off the small end's surface.
    across = 24.0 - 2.0 * np.sqrt(9.0 - (3.0 * (1.0 - t)) ** 2)
    assert inward.outside(t) == pytest.approx(across, rel=1e-12)
    assert outward.outside(1.0 - t) == pytest.approx(across, rel=1e-12)


@pytest.mark.parametrize("relief", [True, False])
def test_a_tapped_hole_removes_what_the_shop_cuts(relief):
    m8 = thread("M8")
    tool = threaded.tapped_hole(m8, 14.0, relief=relief, through=False, edge_break=0.0)
    box = tool.val().BoundingBox()
    assert -box.xmin == pytest.approx(threaded.blind_depth(m8, 14.0, relief=relief), abs=1e-5)
    # The countersink reaches the major diameter at the mouth, 1 mm inside the tool's own end.
    assert box.ymax == pytest.approx(
        max(m8.major / 2.0 + 1.0, m8.relief("internal").diameter / 2.0), abs=1e-5
    )
