"""The flat blank of a gusset: as the sheet is cut, before anything is pressed, bored or tapped."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.core.blank import Blank, BlankHole
from parts.families.gusset.form import Form
from parts.families.gusset.rim import FlaredRim, Hole, PlainRim, blank_circles
from parts.features.pins.pin import Pin
from parts.strength.section.outline import Outline


def blank_outline(form: Form, holes: Sequence[Hole], bores: Sequence[Outline]) -> Outline:
    """The flat blank in the plate's own x and y [mm]: outer contour, then holes, as they are cut before any rim is
    flared. Its x runs along tube A from the inner corner, or, across, from tube A's axis to tube B's."""
    flat = form.outer()
    for one in holes:
        hole = blank_circles([one])
        assert hole is not None
        flat = flat.minus(hole)
    for bore in bores:
        flat = flat.minus(bore)
    return flat


def gusset_blank(
    form: Form, holes: Sequence[Hole], rim: PlainRim | FlaredRim, tab: tuple[Any, Pin] | None,
    thickness: float, pieces: tuple[str, ...],
) -> Blank:  # fmt: skip
    """The blank of a gusset.

    Args:
        form: the plate.
        holes: its lightening holes.
        rim: their rims.
        tab: place of the tab's hole on the plate, and its pin; None where there is no tab.
        thickness: of the sheet [mm].
        pieces: the pieces that are cut alike.

    Returns:
        The blank.
    """
    found = [_lightening(i, hole, rim, thickness) for i, hole in enumerate(holes, 1)]
    bends = []
    if isinstance(rim, FlaredRim):
        for i, hole in enumerate(holes, 1):
            bends.append(
                f"hole {i}: flare the rim {float(rim.height):.2f} mm high at "
                f"{np.degrees(float(rim.angle)):.0f} deg, inside radius {float(rim.bend_radius):.2f} mm, "
                f"toward the {rim.toward}; opening "
                f"{float(hole.opening):.2f} mm when done, flat beyond {float(hole.outer):.2f} mm"
            )
        if len(pieces) > 1:
            bends.append(
                f"{pieces[-1]} is the mirror image: turn its blank over before flaring, engraving underneath"
            )
    if tab is not None:
        centre, pin = tab
        found.append(BlankHole("tab hole", _pair(centre), float(pin.bore), pin.after_cutting))
    frame = form.frame
    return Blank(
        form.outer(), float(thickness), tuple(frame.origin), tuple(frame.x), tuple(frame.y),
        tuple(found), pieces, tuple(bends),
    )  # fmt: skip


def _lightening(i: int, hole: Hole, rim: PlainRim | FlaredRim, thickness: float) -> BlankHole:
    wide = None
    if isinstance(rim, FlaredRim):
        # The outer face of the bend, about a centre one bend radius above the plate, crosses the middle here.
        big, rise = float(rim.bend_radius) + thickness, float(rim.bend_radius) + thickness / 2.0
        wide = float(hole.outer) - 2.0 * float(np.sqrt(big**2 - rise**2))
    return BlankHole(f"lightening hole {i}", _pair(hole.centre), float(hole.blank), "", wide)


def _pair(centre: Any) -> tuple[float, float]:
    return float(centre[..., 0]), float(centre[..., 1])
