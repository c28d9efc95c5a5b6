"""How a piece is held and loaded where it touches its neighbours: what finite elements need beside the solid.

A family states it from its own dimensions: the bores that take pins, the annuli that bolts clamp, the edges
that are welded. Nothing here imports CAD; the proof finds the faces on the finished solid.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Literal, NamedTuple

import numpy as np

from parts.core.loads import Action


class NotProved(Exception):
    """The family, or this option of it, does not state how it is held; the message says which."""


@dataclass(frozen=True)
class Round:
    """The wall of a bore or the outside of a shaft, between two stations along its axis.

    `centre` is a place on the axis, `axis` its direction, `diameter` that of the wall; `low` and `high` bound
    the stretch along the axis from the centre [mm].
    """

    centre: Any
    axis: Any
    diameter: float
    low: float
    high: float


@dataclass(frozen=True)
class Flat:
    """A ring on a flat face, as a washer or a bolt's head clamps it: radii [mm] about a centre."""

    centre: Any
    normal: Any
    outer: float
    inner: float = 0.0


@dataclass(frozen=True)
class Rectangle:
    """What of a flat face lies within a rectangle about a centre: `along` is the direction of its length, `long` and
    `wide` are what it measures [mm]."""

    centre: Any
    normal: Any
    along: Any
    long: float
    wide: float

    @property
    def axes(self) -> np.ndarray:
        """Along, across and square to it, as rows."""
        along, normal = (
            np.asarray(v, float) / np.linalg.norm(v) for v in (self.along, self.normal)
        )
        return np.stack([along, np.cross(normal, along), normal])

    @property
    def corners(self) -> np.ndarray:
        """Its corners in turn [mm], (4, 3)."""
        half = 0.5 * np.array([(1, 1), (-1, 1), (-1, -1), (1, -1)]) * (self.long, self.wide)
        return np.asarray(np.asarray(self.centre, float) + half @ self.axes[:2])


@dataclass(frozen=True)
class Whole:
    """The whole faces that pass through these places [mm], as the edge of a plate that is welded."""

    places: Sequence[Any]


@dataclass(frozen=True)
class Along:
    """The narrow faces along a line, as a weld leaves them: all that lie within `reach` [mm] of it."""

    places: Any
    reach: float


def longer(places: Any, by: float) -> np.ndarray:
    """The line of a weld that stops short of both ends of its edge, as long as the edge.

    Args:
        places: places along the weld [mm], shape (n, 3).
        by: how far it stops short [mm].

    Returns:
        The places, each farther from the middle in proportion.
    """
    at = np.asarray(places, float)
    off = at - at.mean(axis=0)
    way = np.linalg.svd(off)[2][0]
    along = off @ way
    return np.asarray(at + np.outer(along * by / np.abs(along).max(), way))


Patch = Round | Flat | Rectangle | Whole | Along


def reach(patch: Patch, normal: Any) -> tuple[float, float]:
    """From where to where a patch reaches along a direction [mm]."""
    n = np.asarray(normal, float)
    if isinstance(patch, Round | Flat):
        axis = np.asarray(patch.axis if isinstance(patch, Round) else patch.normal, float)
        along = float(axis @ n / np.linalg.norm(axis))
        middle, aside = (
            float(np.asarray(patch.centre, float) @ n),
            float(np.sqrt(max(1.0 - along**2, 0.0))),
        )
        if isinstance(patch, Flat):
            return middle - patch.outer * aside, middle + patch.outer * aside
        ends, r = sorted((along * patch.low, along * patch.high)), patch.diameter / 2.0 * aside
        return float(middle + ends[0] - r), float(middle + ends[1] + r)
    levels = np.asarray(patch.corners if isinstance(patch, Rectangle) else patch.places, float) @ n
    return float(levels.min()), float(levels.max())


SLIDING = 1e-3
"""Stiffness of a clamped ring in its plane, as a share of that square to it [-]: bolts stand in their holes with play
of some tenths of a millimetre, and the stretch of a bent plate's face, some hundredths, slides away under them. Held
fast, it would make forces between the bolts that no load asks for."""


@dataclass(frozen=True)
class Support:
    """Where the piece is held.

    It rests on springs all over its patches, of `stiffness` [N/mm^3]: what a layer of the piece's own material
    `layer` [mm] deep would give. `ways` are the directions held: all of them, those of the plane square to an
    axis, or that of an axis alone. `slides_on` is the normal of a face that slides under clamping: in its plane the
    springs have `SLIDING` of their stiffness.
    """

    name: str
    patches: tuple[Patch, ...]
    layer: float
    ways: Literal["all", "across", "along"] = "all"
    axis: Any = (0.0, 0.0, 1.0)
    slides_on: Any = None


@dataclass(frozen=True)
class Applied:
    """What acts on patches: `bearing` presses half a round wall by a cosine, `spread` acts all over, and `flats`
    presses flat faces square to themselves, by their distance from where the moment turns, as a polygon bar does. What
    stands there in use `covers` the face about a round patch as far as this radius [mm]."""

    name: str
    patches: tuple[Patch, ...]
    actions: tuple[Action, ...]
    how: Literal["bearing", "spread", "flats"] = "spread"
    covers: float = 0.0


class OnBolt(NamedTuple):
    """What a piece does to a bolt by the hand calculation: `shear` square to its axis and `pull` along it [N]; `away`
    is the direction in which the piece pulls it."""

    shear: float
    pull: float
    away: Any


@dataclass(frozen=True)
class Held:
    """One piece under one load case.

    `path` names the spans from the supports to the loads, of a kind of part whose deflection the theory of bars is
    known to give within a tenth; it is empty for any other. `bolts` gives, by support, what the hand calculation finds
    on it. `slender` asks for the buckling factor; `guides` hold the piece as well then, as a neighbour that loads it
    keeps its edge from swaying. `bored` are walls to which
    the solid is bored out first, as a spline is to its major diameter.
    """

    piece: str
    supports: tuple[Support, ...]
    applied: tuple[Applied, ...]
    path: tuple[str, ...] = ()
    bolts: Mapping[str, OnBolt] = field(default_factory=dict)
    slender: bool = False
    guides: tuple[Support, ...] = ()
    bored: tuple[Round, ...] = ()
    notes: tuple[str, ...] = ()


def turned(loads: Sequence[Applied], turn: Any, at: Any) -> tuple[Applied, ...]:
    """Loads on round walls and flat rings in the axes of a feature, put into those of its part.

    Args:
        loads: the loads.
        turn: rotation (3, 3): its columns are the feature's axes in the part.
        at: where the feature's origin lies [mm].

    Returns:
        The loads.
    """
    R, origin = np.asarray(turn, float), np.asarray(at, float)

    def there(one: Action) -> Action:
        return Action(R @ np.asarray(one.at, float) + origin, R @ one.force, R @ one.moment)

    return tuple(
        replace(
            one,
            patches=_walls(one.patches, R, origin),
            actions=tuple(there(a) for a in one.actions),
        )
        for one in loads
    )


def held_in(supports: Sequence[Support], turn: Any, at: Any) -> tuple[Support, ...]:
    """Supports on round walls, likewise."""
    R, origin = np.asarray(turn, float), np.asarray(at, float)
    return tuple(replace(one, patches=_walls(one.patches, R, origin)) for one in supports)


def _walls(patches: Sequence[Patch], turn: np.ndarray, at: np.ndarray) -> tuple[Patch, ...]:
    found: list[Patch] = []
    for one in patches:
        if not isinstance(one, Round | Flat):
            raise TypeError("only round walls and flat rings are put into other axes")
        place = turn @ np.asarray(one.centre, float) + at
        if isinstance(one, Flat):
            found.append(replace(one, centre=place, normal=turn @ np.asarray(one.normal, float)))
        else:
            found.append(replace(one, centre=place, axis=turn @ np.asarray(one.axis, float)))
    return tuple(found)
