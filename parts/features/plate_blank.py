"""The flat blank of a plate: as the sheet is cut, before anything is pressed, bored or tapped."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.blank import Blank, BlankHole
from parts.features.fixture import Bore, Fixture
from parts.features.lightening import FlaredRim, Hole, PlainRim
from parts.features.pinhole import BushedHole, Pin, ReamedHole
from parts.features.pinhole import TappedHole as TappedEar
from parts.features.plate_form import Form
from parts.strength.outline import Loop, Outline


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
        found.append(BlankHole("tab hole", _pair(centre), float(pin.bore), _after(pin)))
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


def _after(pin: Pin) -> str:
    hole = pin.hole
    if isinstance(hole, ReamedHole):
        return f"reamed {hole.fit}"
    if isinstance(hole, BushedHole):
        return f"bored {hole.fit.split('/')[0]} for a bush"
    if isinstance(hole, TappedEar):
        return f"tapped {hole.thread.designation}"
    return ""


def bracket_blank(
    outer: Loop,
    windows: Sequence[Loop],
    fixtures: Sequence[Fixture],
    thickness: float,
    stock: float,
    sign: float,
) -> Blank:
    """The blank of a bracket: profile and windows cut through the whole stock, the rest milled after.

    Args:
        outer: outer contour.
        windows: lightening windows.
        fixtures: the points of the plate.
        thickness: of the finished plate [mm].
        stock: thickness of the stock, from the lowest boss to the highest [mm].
        sign: sense of z toward the foot.

    Returns:
        The blank.
    """
    figure = Outline((outer,))
    for window in windows:
        figure = figure.minus(Outline((window,)))
    notes, holes = [], []
    for one in fixtures:
        if one.slot is not None:
            figure = figure.minus(Outline((one.slot,)))
        holes += [hole for bore in one.bores for hole in _bored(one, bore, thickness)]
    if stock > thickness + 1e-9:
        notes.append(
            f"cut from {stock:.2f} mm stock; what stands on the plate is milled out of it, "
            f"down to {thickness:.2f} mm"
        )
    notes.append("leave the taper of the cut for the cutter: the profile is finished on the mill")
    return Blank(
        figure, stock, (0.0, 0.0, sign * thickness / 2.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0),
        tuple(holes), ("part",), (), tuple(notes),
    )  # fmt: skip


def _bored(one: Fixture, bore: Bore, thickness: float) -> list[BlankHole]:
    """A hole that goes through the plate, as it is where it crosses the middle of it."""
    low, high = float(bore.steps[0].low), float(bore.steps[-1].high)
    if not (bore.open_low and bore.open_high) or low > 1e-9 or high < thickness - 1e-9:
        return []
    least = min(float(step.diameter) for step in bore.steps)
    middle = next(step for step in bore.steps if float(step.high) >= thickness / 2.0)
    return [
        BlankHole(one.name, one.place, least, "drilled or bored to size", float(middle.diameter))
    ]
