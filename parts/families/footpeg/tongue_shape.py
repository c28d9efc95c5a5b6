"""The tongue of a folding footpeg as it is drawn and made."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Callout, Marks, Side
    from parts.features.arm.tip import AtTip
    from parts.features.eye.eye import Eye
    from parts.features.thread.body import Body

X, Y, Z = np.eye(3)
IN_EYE = np.array([[-1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, 1.0, 0.0]])
"""Rows: the eye's x, y and z (its pin) in the axes of the peg."""
CORNER = 2.0
"""Broken off both upright edges of the heel, past the corner radii of the throat [mm]; common practice, no source."""


def tongue_marks(eye: Eye, pin_at: np.ndarray, in_eye: AtTip) -> Marks:
    """What a drawing says of a tongue whose eye's pin stands there [mm]."""
    from parts.core.drawing import Linear, Marks, Radius

    r, half = float(eye.rim), float(eye.width) / 2.0
    at = np.asarray(pin_at, float)
    bore = Marks((), tuple(replace(one, view="top") for one in eye.marks(in_eye).holes))
    sizes: tuple[Any, ...] = (
        Radius("end of the tongue", at + half * Y, Y, (Z - X) / np.sqrt(2.0), r, view="top"),
        Linear("shoulder to the pin", (0, half, 0), at + half * Y, X, -float(at[0]), view="front"),
        Linear("height of the tongue", at - r * Z, at + r * Z, Z, 2.0 * r, view="top"),
        Linear("thickness of the tongue", at - half * Y, at + half * Y, Y, 2.0 * half, view="front"),
        Linear("pin to the heel", at - r * X - 0.5 * r * Z, at, X, r, view="top"),
    )  # fmt: skip
    note = (
        "The half of the tongue that ends round about its pin stands up as it is ridden; the square half below is "
        "its heel."
    )
    return Marks((*sizes, heel_callout(at, r, half, "front")), notes=(note,)) + bore.moved(
        at, IN_EYE
    )


def heel_callout(at: np.ndarray, r: float, half: float, view: Side) -> Callout:
    """What a drawing says of the heel's corners: the pin stands at a place, its end r behind it, half as thick [mm]."""
    from parts.core.drawing import Callout, Linear

    low = at - r * X - 0.5 * r * Z
    corner, flat = low + CORNER * X + half * Y, half - CORNER
    return Callout(
        "corners of the heel", corner, "both upright edges of the end broken, heel and round\n{0} along, {1} left flat",
        (Linear("corner of the heel", low + flat * Y, corner, X, CORNER),
         Linear("flat of the heel", low - flat * Y, low + flat * Y, Y, 2.0 * flat)), view=view,
    )  # fmt: skip


def tongue_end(reach: float, r: float, half: float) -> cq.Workplane:
    """The end of a tongue, round above the pin and square below it; both its upright edges are broken over the whole
    height, past the corner radii of the throat, in which they stand."""
    from parts.features.section.outlines import figure
    from parts.shapes.profile import cylinder, prism
    from parts.shapes.workplane import Workplane

    block = Workplane("XY").box(r, 2.0 * half, r).translate((-reach - r / 2.0, 0.0, -r / 2.0))
    whole = cylinder(2.0 * r, -half, half, "y", (-reach, 0.0, 0.0)).union(block)
    far, over = -reach - r, CORNER + 1.0
    for side in (1.0, -1.0):
        corners = [
            (far - 1.0, side * (half - over)),
            (far + over, side * (half + 1.0)),
            (far - 1.0, side * (half + 1.0)),
        ]
        whole = whole.cut(prism(figure(corners), -r - 1.0, r + 1.0))
    return whole


def tongue_joined(made: cq.Workplane, body: Body, eye: Eye, reach: float) -> cq.Workplane:
    """The tongue before the shoulder, round above the pin and square below it, bored."""
    from parts.shapes.profile import broken_hole
    from parts.shapes.workplane import Workplane

    r, half = float(eye.rim), float(eye.width) / 2.0

    def block(low: float, high: float, bottom: float, top: float) -> cq.Workplane:
        flat = Workplane("XY").box(high - low, 2.0 * half, top - bottom)
        return flat.translate(((low + high) / 2.0, 0.0, (bottom + top) / 2.0))

    whole = block(-reach, float(body.edge_break), -r, r)
    whole = whole.union(tongue_end(reach, r, half))
    bore = float(eye.bore_diameter)
    hole = broken_hole(bore, -half, half, float(body.edge_break), "y", (-reach, 0.0, 0.0))
    return made.union(whole).cut(hole)
