"""What the shop would send a blank back for: holes, webs and corners against the thickness, and the sheet."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from parts.core.blank import Blank
from parts.core.rules import Rule, at_least, at_most
from parts.core.shop import Cutting
from parts.making.flat.profile import LEAST_WEB, Cut, Profile, least_hole, webs
from parts.strength.section.outline import Loop

RANGE_1 = (0.05, 0.003)
RANGE_2 = (0.15, 0.007)
"""Slope of a thermally cut edge: u = a + b t [mm]; ISO 9013, ranges 1 and 2 of its perpendicularity
tolerance; from memory."""
JET_TAPER = 0.1
"""Slope of an edge cut by water, each side, at a speed for good quality [mm]; common practice, no source."""
LASER_LIMIT, LASER_LIMIT_LIGHT = 20.0, 12.0
"""Thickness of steel, and of aluminium and titanium, above which few shops cut by laser [mm]; common practice,
no source."""
WATER_WEB = 6.0
"""Web that no thickness makes too narrow for water, which pushes little and heats nothing [mm]; common
practice, no source."""
SHARP = np.radians(20.0)
"""An inside corner that turns by more than this is taken for sharp [rad]."""


def findings(
    blank: Blank, cutting: Cutting, made: Profile, *, light: bool, size: tuple[float, float]
) -> list[Rule]:
    """Every rule of cutting, met or not, with the place it applies to.

    Args:
        blank: the blank.
        cutting: how it is cut.
        made: what is cut.
        light: aluminium or titanium, which reflect or burn.
        size: length and height of the blank as it would lie on the sheet [mm].

    Returns:
        The rules; the field of each is the place.
    """
    return [
        *_holes(blank, cutting, made),
        *_narrowest(blank, cutting, made),
        *_corners(made.cuts),
        *_stock(blank, cutting, light=light, size=size),
    ]


def _holes(blank: Blank, cutting: Cutting, made: Profile) -> Iterator[Rule]:
    for cut in made.cuts:
        if cut.centre is not None:
            yield at_least(
                "flat.hole", f"{cut.name} at {_at(cut.centre)}", cut.diameter,
                least_hole(cutting, blank.thickness),
                f"a hole this small against the thickness comes out ragged and tapered by {cutting.process}",
                "drill it, or make it larger",
            )  # fmt: skip


def _narrowest(blank: Blank, cutting: Cutting, made: Profile) -> Iterator[Rule]:
    found = sorted(webs(made.cuts), key=lambda web: web.width)
    least = LEAST_WEB[cutting.process] * blank.thickness
    if cutting.process == "waterjet":
        least = min(least, WATER_WEB)
    for web in found[:1] + [one for one in found[1:] if one.width < least]:
        yield at_least(
            "flat.web", f"web between {web.first} and {web.second} at {_at(web.at)}", web.width,
            least,
            "so narrow a web bends or burns away while it is cut", "move the cuts apart",
        )  # fmt: skip


def _corners(cuts: tuple[Cut, ...]) -> Iterator[Rule]:
    for cut in cuts:
        for at, turn in sharp_corners(cut.loop):
            yield at_most(
                "flat.corner", f"{cut.name}, inside corner at {at[0]:.1f}, {at[1]:.1f}", turn, SHARP,
                "a sharp inside corner is where a crack begins", "give it a radius", "deg",
            )  # fmt: skip


def sharp_corners(loop: Loop) -> Iterator[tuple[np.ndarray, float]]:
    """Corners where the metal, left of the loop, turns back on itself: places and angles [rad]."""
    ends, half = loop.ends, 2.0 * np.arctan(loop.bulge)
    chord = ends - loop.points
    way = np.arctan2(chord[:, 1], chord[:, 0])
    arrive, leave = way + half, way - half
    turn = np.roll(leave, -1) - arrive
    turn = (turn + np.pi) % (2.0 * np.pi) - np.pi
    for at, angle in zip(ends, turn, strict=True):
        if angle < -SHARP:
            yield at, float(-angle)


def _stock(
    blank: Blank, cutting: Cutting, *, light: bool, size: tuple[float, float]
) -> Iterator[Rule]:
    if cutting.process == "laser":
        yield at_most(
            "flat.laser", "the sheet", blank.thickness, LASER_LIMIT_LIGHT if light else LASER_LIMIT,
            "few shops cut this thickness by laser (common practice, no source)", "have it cut by water",
        )  # fmt: skip
    sheet = sorted(float(v) - 2.0 * cutting.spacing for v in cutting.sheet)
    for name, one, room in zip(("height", "length"), sorted(size), sheet, strict=True):
        yield at_most(
            "flat.sheet", f"the sheet, {name}", one, room, "the blank does not fit on the sheet",
            "state a larger sheet under cutting",
        )  # fmt: skip


def taper_note(cutting: Cutting, thickness: float) -> str:
    """How far the cut edge leans, in words."""
    if cutting.process == "waterjet":
        return (
            f"Edges cut by water lean by about {JET_TAPER:g} mm a side over the thickness (common practice, no "
            "source): holes are smaller at the bottom. Nothing is bored, reamed or tapped by the jet."
        )
    one, two = (a + b * thickness for a, b in (RANGE_1, RANGE_2))
    return (
        f"Edges cut by laser may lean by {one:.2f} mm in range 1 and {two:.2f} mm in range 2 of ISO 9013 (from "
        "memory); the edge is hard or oxidised, so clean it before welding, and drill before you tap."
    )


def _at(place: tuple[float, float]) -> str:
    return f"{place[0]:.1f}, {place[1]:.1f}"
