"""What every sheet says of a part that does not hold: nobody is to make it by mistake."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING

import numpy as np

from parts.core.figures import figure
from parts.making.bench.ink import Ink, Line
from parts.making.lettering import extent, strokes

if TYPE_CHECKING:
    from parts.core.search.result import Result

WIDTH = 100
WORDS = "DOES NOT HOLD"
ACROSS = 0.62
"""Share of the diagonal of a sheet that the words take [-]."""


def shortfall(result: Result) -> str:
    """What falls short and by how much, in one sentence; empty where every check holds."""
    short = [one for one in result.checks if not one.ok]
    if not short:
        return ""
    worst = result.governing or short[0]
    more = f"; {len(short)} checks fall short" if len(short) > 1 else ""
    return (
        f"{WORDS}: {worst.name}, factor {figure(worst.factor)} where {figure(worst.required)} is "
        f"required{more}. Do not make it for use."
    )


def warned(text: str, result: Result) -> str:
    """A sheet of text that begins with what falls short."""
    said = shortfall(result)
    return "\n".join([*textwrap.wrap(said, WIDTH), "", text]) if said else text


def across(size: tuple[float, float], result: Result) -> list[Ink]:
    """The words across a sheet [mm], from corner to corner; nothing where every check holds."""
    if not shortfall(result):
        return []
    wide, high = size
    turn = np.arctan2(high, wide)
    height = ACROSS * float(np.hypot(wide, high)) / extent([WORDS], 1.0)[0]
    c, s = np.cos(turn), np.sin(turn)
    middle = np.array([wide, high]) / 2.0
    return [
        Line(middle + stroke @ np.array([(c, s), (-s, c)]), "warning")
        for stroke in strokes([WORDS], height)
    ]
