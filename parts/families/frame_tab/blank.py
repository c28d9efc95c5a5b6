"""The flat blank of a frame tab: its outline with the root hollowed to its tube, its holes, and where it is bent."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.core.blank import Blank, BlankHole, Fold
from parts.families.frame_tab.shape import TabShape
from parts.features.section.outlines import figure
from parts.strength.section.outline import Outline


def tab_blank(tab: TabShape) -> Blank:
    """The blank, in the x and y of the part."""
    strip, R, half = tab.strip, float(tab.on.depth), float(tab.width) / 2.0
    at, tip = R + float(strip.flat(tab.reach)), R + float(strip.flat(tab.reach + tab.end))
    holes = tuple(
        BlankHole(name, (at, float(place[1])), float(tab.bore), tab.pin.after_cutting)
        for name, place in tab.points().items()
    )
    folds, bends = [], []
    for turn, (_, end) in zip(strip.turns, strip.bends(), strict=True):
        middle = float(strip.flat(end) - strip.allowance(turn) / 2.0)
        folds.append(Fold((R + middle, -half), (R + middle, half), True))
        bends.append(
            f"bend: {np.degrees(float(turn.angle)):.1f} deg up, inside radius {float(turn.radius):.2f} mm, line "
            f"{middle:.2f} mm from the root"
        )
    bent = _outline(tab, _root(tab), R + float(tab.reach + tab.end)) if folds else None
    return Blank(
        _outline(tab, R, tip), float(tab.thickness), (0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0), holes,
        bends=tuple(bends), folds=tuple(folds), bent=bent,
    )  # fmt: skip


def _outline(tab: TabShape, root: float, tip: float) -> Outline:
    """From the middle of the root to the end; across a round tube the root is hollow, as its wall is round."""
    half, r, q = float(tab.width) / 2.0, float(tab.rounded), float(np.tan(np.pi / 8.0))
    hollow = 0.0
    if tab.stands == "across":
        root = float(tab.on.rise(half))
        hollow = -float(
            np.tan(np.arcsin((1.0 - tab.on.wall[2]) * half / float(tab.on.depth)) / 2.0)
        )
    end: list[tuple[Any, Any]] = [(tip, -half), (tip, half)]
    turns = [0.0, 0.0]
    if r > 0.0:
        end = [(tip - r, -half), (tip, r - half), (tip, half - r), (tip - r, half)]
        turns = [q, 0.0, q, 0.0]
    return figure([(root, -half), *end, (root, half)], [0.0, *turns, hollow])


def _root(tab: TabShape) -> float:
    """The mean over the thickness of how far the root stands off the axis of the tube [mm]."""
    R, h = float(tab.on.depth), float(tab.thickness) / 2.0
    if tab.on.wall[2] or tab.stands == "across":
        return R
    return (h * float(np.sqrt(R**2 - h**2)) + R**2 * float(np.arcsin(h / R))) / (2.0 * h)
