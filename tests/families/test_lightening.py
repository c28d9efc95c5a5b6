"""Flared rims against Pappus's theorem and the die-maker's formula for the blank."""

import re
import warnings

import numpy as np
import pytest
from gussets import FLARE, broken
from numpy.testing import assert_allclose

from parts.families.gusset.rim import FlaredRim, Hole, ring
from parts.strength.section.properties import properties

T = 2.0


def rim(angle, height=4.0, radius=5.0, **changes):
    return FlaredRim(height=height, angle=np.degrees(angle), bend_radius=radius, **changes)


def hole(flare, opening=30.0):
    outer = opening + 2.0 * flare.spread(T)
    return Hole(np.zeros(2), opening, outer, outer - 2.0 * flare.developed(T))


@pytest.mark.parametrize("degrees", [30.0, 45.0, 70.0])
def test_the_rim_has_the_volume_that_pappus_gives(degrees):
    a, r = np.radians(degrees), 5.0
    flare = rim(a)
    one = hole(flare)
    big, run = r + T, flare.straight()
    start = one.outer / 2.0
    bend = a / 2.0 * (big**2 - r**2)
    # Centroid of a sector of a ring: 2/3 (R³ - r³)/(R² - r²) sin(a/2)/(a/2) from its centre.
    arm = 2.0 / 3.0 * (big**3 - r**3) / (big**2 - r**2) * np.sin(a / 2.0) / (a / 2.0)
    at_bend = start - arm * np.sin(a / 2.0)
    at_cone = start - (r + T / 2.0) * np.sin(a) - run / 2.0 * np.cos(a)
    volume = 2.0 * np.pi * (bend * at_bend + run * T * at_cone)
    solid = ring(flare, one, T).val()
    assert solid.isValid()
    assert_allclose(solid.Volume(), volume, rtol=1e-9)
    assert_allclose(properties(flare.meridian(one.outer, T)).area, bend + run * T, rtol=1e-9)


def test_the_rim_stands_as_high_as_asked_and_leaves_the_opening():
    flare = rim(np.pi / 4.0)
    for toward, sign in (("front", 1.0), ("back", -1.0)):
        box = ring(flare.model_copy(update={"toward": toward}), hole(flare), T).val().BoundingBox()
        ends = sorted([sign * (T / 2.0 + 4.0), -sign * T / 2.0])
        assert_allclose([box.zmin, box.zmax], ends, atol=1e-6)
    points = flare.meridian(hole(flare).outer, T).loops[0].points
    assert_allclose(points[:, 0].min(), 15.0)


def test_the_blank_of_an_upright_flange_is_the_die_makers():
    # d = D - 2 (H - 0.43 R - 0.72 T) for a flange at right angles, D its mean diameter, H its height from the
    # plate's far face: the common formula of die design, from memory. Its two figures are rounded: 2 - pi/2 and
    # 1.5 - pi/4 to within 0.001 R and 0.006 T on each side.
    flare = rim(np.pi / 2.0, height=9.0, radius=5.0)
    one = hole(flare)
    mean = one.outer - 2.0 * 5.0 - T
    blank = mean - 2.0 * ((9.0 + T) - 0.43 * 5.0 - 0.72 * T)
    assert_allclose(one.blank, blank, atol=2.0 * (0.001 * 5.0 + 0.006 * T))


def test_a_flatter_cone_stretches_the_edge_less():
    steep, flat = rim(np.radians(60.0)), rim(np.radians(35.0))
    assert 0.0 < flat.stretch(30.0, T) < steep.stretch(30.0, T)
    one = hole(steep)
    edge = one.opening + T * np.sin(
        steep.angle
    )  # diameter of the edge on the middle of the thickness
    assert_allclose(steep.stretch(30.0, T), edge / one.blank - 1.0, rtol=1e-12)


@pytest.mark.parametrize("angle", ["0 deg", "-20 deg"])
def test_an_angle_that_is_none_is_refused_for_itself_alone(angle):
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        said = broken(holes={"type": "largest", "web": 8, "rim": {**FLARE, "angle": angle}})
    assert "holes.rim.angle" in said
    assert "holes.rim.height" not in said and not re.search(r"\b(inf|nan)\b", said)
