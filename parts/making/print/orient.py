"""How a print stands on the bed: which side up, what hangs over, and where its holes then lie."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from parts.core.drawing import Hole
from parts.making.print.settings import Settings
from parts.making.stl import triangles

ON_BED = 0.05
"""Facets whose corners all lie this near to the lowest point stand on the bed [mm]."""
SLENDER = 8.0
"""A print holds on the bed where it is no taller than this many times the side of the square that it stands on;
common practice, no source."""
FOOTHOLD = 4.0
"""How much worse a missing foothold is than an overhang of the same area; common practice, no source."""
TIPS = 12.0
"""A print tips over where it is taller than this many times its width; common practice, no source."""
LINE = 25.0
"""A print that touches the bed with less than this [mm^2] lies on a line, and all of it stands on support."""
TURNS = np.radians(np.arange(0.0, 91.0, 5.0))
DIRECTIONS = {
    "+x": (1.0, 0.0, 0.0),
    "-x": (-1.0, 0.0, 0.0),
    "+y": (0.0, 1.0, 0.0),
    "-y": (0.0, -1.0, 0.0),
    "+z": (0.0, 0.0, 1.0),
    "-z": (0.0, 0.0, -1.0),
}
FINE = 0.01
SAME = 1.0 - 1e-6


@dataclass(frozen=True)
class Stand:
    """One way to stand a print.

    `up` is the direction of the part that points up. Some of its area hangs over and some stands on the bed [mm^2]; the
    size is that of its box as it stands [mm].
    """

    name: str
    up: np.ndarray
    overhang: float
    contact: float
    size: np.ndarray

    @property
    def axes(self) -> np.ndarray:
        """Rows: the printer's x, y and z in the part's axes."""
        aside = np.eye(3)[int(np.argmin(np.abs(self.up)))]
        # The printer's x lies along that axis of the part which is nearest to level.
        x = aside - (aside @ self.up) * self.up
        x /= np.linalg.norm(x)
        return np.array([x, np.cross(self.up, x), self.up])

    def fits(self, bed: Sequence[float]) -> bool:
        """True where the box goes on the bed, turned if need be."""
        return self.turn(bed) is not None

    def turn(self, bed: Sequence[float]) -> float | None:
        """Least angle about the upright by which the box fits on the bed [rad]; None where it does not."""
        wide, deep, high = (float(v) for v in self.size)
        c, s = np.cos(TURNS), np.sin(TURNS)
        fits = (wide * c + deep * s <= bed[0]) & (wide * s + deep * c <= bed[1]) & (high <= bed[2])
        return float(TURNS[int(np.argmax(fits))]) if fits.any() else None

    @property
    def cost(self) -> float:
        """What is weighed: the area hanging over, the foothold that is missing, and a little for height."""
        wide, deep, high = (float(v) for v in self.size)
        missing = max(0.0, (high / SLENDER) ** 2 - self.contact)
        tips = 0.2 * high**2 if high > TIPS * min(wide, deep) else 0.0
        rolls = 0.5 * wide * deep if self.contact < LINE else 0.0
        return self.overhang + FOOTHOLD * missing + tips + rolls + 0.2 * high


def stands(solid: Any, printed: Settings) -> list[Stand]:
    """Ways to stand a solid, the best first; the one that the settings ask for alone where they do.

    Args:
        solid: a CadQuery shape in the part's axes.
        printed: the settings.

    Returns:
        The ways: those that fit on the bed come first.
    """
    places, corners = triangles(solid, 0.2, 0.4)
    found = [
        _stand(name, np.asarray(up), places[corners], printed.overhang)
        for name, up in _ways(solid, printed.up)
    ]
    return sorted(found, key=lambda one: (not one.fits(printed.bed), round(one.cost, 3)))


def _ways(solid: Any, asked: str | None) -> Iterator[tuple[str, np.ndarray]]:
    if asked is not None:
        yield asked, np.array(DIRECTIONS[asked])
        return
    for name, way in DIRECTIONS.items():
        yield name, np.array(way)
    flats = [face for face in solid.Faces() if face.geomType() == "PLANE"]
    largest = max((face.Area() for face in flats), default=0.0)
    known = [np.array(way) for way in DIRECTIONS.values()]
    for face in flats:
        up = -np.array(face.normalAt().toTuple())
        if face.Area() > 0.2 * largest and all(float(up @ one) < SAME for one in known):
            known.append(up)
            yield f"({up[0]:.3f}, {up[1]:.3f}, {up[2]:.3f})", up


def _stand(name: str, up: np.ndarray, facets: np.ndarray, lean: float) -> Stand:
    cross = np.cross(facets[:, 1] - facets[:, 0], facets[:, 2] - facets[:, 0])
    area = np.linalg.norm(cross, axis=1) / 2.0
    down = -(cross @ up) / np.where(area > 0.0, 2.0 * area, 1.0)
    level = facets @ up
    bed = (level.max(axis=1) < level.min() + ON_BED) & (down > 0.99)
    over = (down > np.sin(lean) + 1e-6) & ~bed
    made = Stand(name, up, float(area[over].sum()), float(area[bed].sum()), np.zeros(3))
    turned = facets.reshape(-1, 3) @ made.axes.T
    return replace(made, size=turned.max(axis=0) - turned.min(axis=0))


@dataclass(frozen=True)
class Frame:
    """From the part's axes to the printer's: rows `axes`, then moved by `shift` [mm]."""

    axes: np.ndarray
    shift: np.ndarray

    def holes(self, holes: Sequence[Hole]) -> list[Hole]:
        """Holes as they lie on the printer."""
        return [
            replace(
                hole,
                place=tuple(self.axes @ np.asarray(hole.place, float) + self.shift),
                axis=tuple(self.axes @ np.asarray(hole.axis, float)),
            )
            for hole in holes
        ]


def stood(solid: Any, stand: Stand) -> tuple[Any, Frame]:
    """The solid as it stands, its box in the corner of the bed, and how it came there."""
    import cadquery as cq

    axes = stand.axes
    plane = cq.Plane((0.0, 0.0, 0.0), tuple(map(float, axes[0])), tuple(map(float, axes[2])))
    turned = solid.moved(cq.Location(plane).inverse)
    shift = -extent(turned)[0]
    return turned.moved(cq.Location(cq.Vector(*map(float, shift)))), Frame(axes, shift)


def extent(solid: Any) -> tuple[np.ndarray, np.ndarray]:
    """Low and high corner of a solid's box [mm], by a fine mesh: the kernel's own box is too wide."""
    places, _ = triangles(solid, FINE, 0.1)
    return places.min(axis=0), places.max(axis=0)


def cornered(solid: Any) -> Any:
    """The solid moved so that its box stands in the corner of the bed."""
    import cadquery as cq

    return solid.moved(cq.Location(cq.Vector(*map(float, -extent(solid)[0]))))
