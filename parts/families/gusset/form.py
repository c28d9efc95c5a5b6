"""What a flat plate between two tubes is, whichever way it stands: its frame, outline, edges and cuts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple, Protocol

import numpy as np

from parts.families.gusset.free_edge import FreeEdge, dot, left_of, times
from parts.features.weld.plate_edge import Joint
from parts.strength.section.outline import Outline


class Setting(NamedTuple):
    """What the plate fits: outside radii of the tubes [mm], the angle between their axes [rad], the
    plate's thickness, the gap left for the weld and the radius of the toes [mm]."""

    radius_a: Any
    radius_b: Any
    angle: Any
    thickness: Any
    gap: Any
    toe: Any


class Frame(NamedTuple):
    """Where the plate's x, y and normal lie in the part: each of shape (..., 3)."""

    origin: Any
    x: Any
    y: Any
    normal: Any

    def place(self, flat: Any, z: Any = 0.0) -> Any:
        """A place (..., 3) [mm] of the part from the plate's x and y (..., 2), `z` off its middle."""
        return np.asarray(self.origin, float) + self.direction(flat) + times(z, self.normal)

    def direction(self, flat: Any) -> Any:
        """A direction (..., 3) of the part from one in the plate (..., 2)."""
        flat = np.asarray(flat, float)
        return times(flat[..., 0], self.x) + times(flat[..., 1], self.y)


class Cut(NamedTuple):
    """A straight cut across the plate that parts tube A's edge from tube B's.

    It starts at `start` (..., 2) and runs along `along`, metal from `low` to `high` [mm]; tube B's side
    lies to its left. `low_lean` and `high_lean` are the cosines of the angles at which it meets the edges.
    """

    name: str
    start: Any
    along: Any
    low: Any
    high: Any
    low_lean: Any = 1.0
    high_lean: Any = 1.0

    def at(self, distance: Any) -> Any:
        """The place at a distance along the cut (..., 2) [mm]."""
        return np.asarray(self.start, float) + times(distance, self.along)

    def across(self, centre: Any) -> tuple[Any, Any]:
        """Where a place lies: distance along the cut, and off it toward tube B [mm]."""
        away = np.subtract(centre, self.start)
        return dot(away, self.along), dot(away, left_of(self.along))


class Form(Protocol):
    """A plate by its dimensions."""

    @property
    def frame(self) -> Frame: ...

    def outer(self) -> Outline:
        """The outer contour in the plate's x and y."""
        ...

    def body(self) -> Outline:
        """The contour before any notch is cut."""
        ...

    def notches(self) -> Sequence[Outline]:
        """What is cut out of the body for the tubes."""
        ...

    def free_edges(self) -> Sequence[FreeEdge]:
        """The edges that are not welded; the first may carry a tab."""
        ...

    def cuts(self, holes: Sequence[Any]) -> Sequence[Cut]:
        """Cuts that part tube A's edge from tube B's, one through each of the places `holes` among them."""
        ...

    def clearance(self, centre: Any) -> Any:
        """Least distance of a place from the plate's outline [mm], any tab left out."""
        ...

    def largest(self, count: int, web: Any) -> Sequence[tuple[Any, Any]]:
        """Centres and radii of the largest holes that leave a web to every edge and between them."""
        ...

    def joints(self, stop: Any) -> tuple[Joint, Joint]:
        """The welded edges at tubes A and B, `stop` left unwelded at each end [mm]."""
        ...

    def panel(self) -> tuple[Any, Any, Any] | None:
        """The plate as a triangle held on two sides: length of its free side, height above it [mm], and the angle
        between the others [rad]; None where it is a strip between two welds."""
        ...

    @property
    def built_in(self) -> float:
        """Effective over free length of the plate as a strut between the tubes [-]."""
        ...

    def strut(self) -> Any:
        """Free length of the plate as a strut between the tubes [mm]."""
        ...

    def span_of_tab(self) -> Any:
        """Width of plate behind the free edge that can take a tab's pull [mm]."""
        ...

    def seat(self) -> Any:
        """Where tube B's load acts: a place (..., 3) on its axis, in the plane of the tubes."""
        ...
