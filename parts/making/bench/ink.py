"""What a sheet is drawn with: lines, arcs, letters and filled patches, on layers by purpose.

Places are on the paper [mm], x to the right and y up; angles in radians, counter-clockwise.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from types import MappingProxyType
from typing import Literal

import numpy as np

from parts.making.bench.font import font_of

Anchor = Literal["left", "middle", "right"]

CAPITAL = 0.718
"""Height of a capital of Helvetica per unit of its size; Adobe's font metrics, file Helvetica.afm."""
DESCENDER = 0.207
"""How far its letters hang below the line; the same file."""


@dataclass(frozen=True)
class Layer:
    """How a layer's lines look: width and dashes [mm of paper], and its colour index in a DXF."""

    width: float
    dashes: tuple[float, ...] = ()
    colour: int = 7


LAYERS: Mapping[str, Layer] = MappingProxyType(
    {
        # Two widths in the ratio 2:1, as ISO 128-2 has them for mechanical drawings.
        "outline": Layer(0.5),
        "hidden": Layer(0.25, (2.5, 1.0), 3),
        "centre": Layer(0.18, (7.0, 1.2, 0.8, 1.2), 1),
        "cutting": Layer(0.25, (7.0, 1.2, 0.8, 1.2), 6),
        "thread": Layer(0.18, (), 4),
        "hatch": Layer(0.13, (), 8),
        "pictorial": Layer(0.25, (), 7),
        "dimension": Layer(0.18, (), 5),
        "lettering": Layer(0.25, (), 7),
        "frame": Layer(0.5, (), 7),
        "table": Layer(0.18, (), 7),
        "warning": Layer(0.7, (), 8),
    }
)


@dataclass(frozen=True)
class Line:
    """A line through points, shape (n, 2)."""

    points: np.ndarray
    layer: str
    closed: bool = False

    def moved(self, by: np.ndarray) -> Line:
        return replace(self, points=self.points + by)

    def path(self) -> np.ndarray:
        return np.vstack([self.points, self.points[:1]]) if self.closed else self.points


@dataclass(frozen=True)
class Arc:
    """An arc from `start` counter-clockwise to `stop`; a whole circle where they are a turn apart."""

    centre: np.ndarray
    radius: float
    start: float
    stop: float
    layer: str

    @property
    def whole(self) -> bool:
        return self.stop - self.start > 2.0 * np.pi - 1e-6

    def moved(self, by: np.ndarray) -> Arc:
        return replace(self, centre=self.centre + by)

    def path(self) -> np.ndarray:
        count = max(4, int(np.ceil((self.stop - self.start) / np.radians(7.5))) + 1)
        t = np.linspace(self.start, self.stop, count)
        return self.centre + self.radius * np.stack([np.cos(t), np.sin(t)], axis=-1)


@dataclass(frozen=True)
class Letters:
    """One line of text; `height` is that of its capitals [mm]."""

    text: str
    at: np.ndarray
    height: float
    angle: float = 0.0
    anchor: Anchor = "left"
    layer: str = "lettering"
    bold: bool = False

    @property
    def width(self) -> float:
        return width(self.text, self.height, self.bold)

    def moved(self, by: np.ndarray) -> Letters:
        return replace(self, at=self.at + by)

    def path(self) -> np.ndarray:
        """The corners of its box."""
        run = self.width
        left = {"left": 0.0, "middle": -run / 2.0, "right": -run}[self.anchor]
        low, high = -DESCENDER / CAPITAL * self.height, self.height
        c, s = np.cos(self.angle), np.sin(self.angle)
        corners = np.array([(left, low), (left + run, low), (left + run, high), (left, high)])
        return self.at + corners @ np.array([(c, s), (-s, c)])


@dataclass(frozen=True)
class Patch:
    """A filled figure through points, shape (n, 2)."""

    points: np.ndarray
    layer: str

    def moved(self, by: np.ndarray) -> Patch:
        return replace(self, points=self.points + by)

    def path(self) -> np.ndarray:
        return self.points


Ink = Line | Arc | Letters | Patch


def line(layer: str, *points: tuple[float, float] | np.ndarray) -> Line:
    """A line through places."""
    return Line(np.array(points, float), layer)


def box(layer: str, x: float, y: float, wide: float, high: float) -> Line:
    """A rectangle from its lower left corner."""
    corners = [(x, y), (x + wide, y), (x + wide, y + high), (x, y + high)]
    return Line(np.array(corners, float), layer, closed=True)


def circle(layer: str, centre: np.ndarray, radius: float) -> Arc:
    """A whole circle."""
    return Arc(np.asarray(centre, float), float(radius), 0.0, 2.0 * np.pi, layer)


def extent(ink: list[Ink]) -> tuple[np.ndarray, np.ndarray]:
    """Lower left and upper right corner of everything."""
    every = np.vstack([one.path() for one in ink])
    return every.min(axis=0), every.max(axis=0)


@lru_cache(4096)
def width(text: str, height: float, bold: bool = False) -> float:
    """Width of a line of text whose capitals are `height` high [mm]."""
    font = font_of(text, bold)
    return sum(_advance(letter, font) for letter in text) / 1000.0 * height / CAPITAL


@cache
def _advance(letter: str, font: str) -> float:
    from reportlab.pdfbase.pdfmetrics import stringWidth

    return float(stringWidth(letter, font, 1000.0))


def plain(text: str) -> str:
    """Text with signs spelled out that drawings elsewhere may not show."""
    for fancy, simple in _SIMPLER.items():
        text = text.replace(fancy, simple)
    return text


_SIMPLER = {
    "≤": "at most ",
    "≥": "at least ",
    "−": "-",
    "⌀": "Ø",
    "′": "'",
    "″": '"',
    "σ": "stress",
}
