"""How a piece is held and loaded where it touches its neighbours: what finite elements need beside the solid.

A family states it from its own dimensions: the bores that take pins, the annuli that bolts clamp, the edges
that are welded. Nothing here imports CAD; the proof finds the faces on the finished solid.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from parts.loads import Action


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
class Whole:
    """The whole faces that pass through these places [mm], as the edge of a plate that is welded."""

    places: Sequence[Any]


Patch = Round | Flat | Whole


@dataclass(frozen=True)
class Support:
    """Where the piece is held.

    It rests on springs all over its patches, of `stiffness` [N/mm^3]: what a layer of the piece's own material
    `layer` [mm] deep would give. `ways` are the directions held: all of them, those of the plane square to an
    axis, or that of an axis alone.
    """

    name: str
    patches: tuple[Patch, ...]
    layer: float
    ways: Literal["all", "across", "along"] = "all"
    axis: Any = (0.0, 0.0, 1.0)


@dataclass(frozen=True)
class Applied:
    """What acts on patches: `bearing` presses half a round wall by a cosine, `spread` acts all over."""

    name: str
    patches: tuple[Patch, ...]
    actions: tuple[Action, ...]
    how: Literal["bearing", "spread"] = "spread"


@dataclass(frozen=True)
class Held:
    """One piece under one load case.

    `path` names the spans from the supports to the loads, with how many alike bear side by side; `deflects` names
    the load whose patch moves, in the sense of its force. `bolts` gives, by support, the force [N] of the
    support on the piece by the hand calculation. `slender` asks for the buckling factor. `peak_on` names the
    spans whose notched stress the hand calculation states.
    """

    piece: str
    supports: tuple[Support, ...]
    applied: tuple[Applied, ...]
    path: Mapping[str, int] = field(default_factory=dict)
    deflects: str = ""
    bolts: Mapping[str, Any] = field(default_factory=dict)
    slender: bool = False
    notes: tuple[str, ...] = ()
