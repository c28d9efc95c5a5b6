"""What a flat plate between two tubes is, whichever way it stands: its frame, outline, edges and cuts."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple, Protocol

import numpy as np

from parts.core.rules import Rule, at_least, at_most
from parts.families.gusset.free_edge import FreeEdge, dot, left_of, times
from parts.features.weld.plate_edge import Joint
from parts.strength.section.outline import Outline

LEAST_ANGLE, MOST_ANGLE = np.radians(20.0), np.radians(160.0)
LEAST_THICKNESS = 0.8
THICK_OF_WALL = 2.0
"""Thickness of the plate over the thinnest tube wall, at most: common practice, no source."""
MOST_GAP = 1.0


class Setting(NamedTuple):
    """What the plate fits: outside radii of the tubes [mm], the angle between their axes [rad], the
    plate's thickness, the gap left for the weld and the radius of the toes [mm]."""

    radius_a: Any
    radius_b: Any
    angle: Any
    thickness: Any
    gap: Any
    toe: Any


def setting_rules(angle: Any, setting: Setting, thin: Any, edge_break: Any) -> Iterator[Rule]:
    """Rules of angle, thickness, gap and toes; `thin` is the thinnest wall of the tubes [mm]."""
    yield at_least(
        "gusset.angle", "angle", angle, LEAST_ANGLE,
        "tubes this nearly side by side leave no corner for a plate", "measure the angle between the legs",
        "deg",
    )  # fmt: skip
    yield at_most(
        "gusset.angle_flat", "angle", angle, MOST_ANGLE,
        "tubes this nearly in line need no gusset", "measure the angle between the legs", "deg",
    )  # fmt: skip
    yield at_least(
        "gusset.thin", "thickness", setting.thickness, LEAST_THICKNESS,
        "a plate this thin cannot be welded to a tube without burning away; it looks like the wrong unit",
        "check the unit of this value",
    )  # fmt: skip
    yield at_most(
        "gusset.thick", "thickness", setting.thickness, THICK_OF_WALL * thin,
        "the plate is so much thicker than the tube's wall that the tube tears beside the weld (twice the "
        "thinnest wall: common practice, no source)",
        "use thinner plate, or a tube with a thicker wall",
    )  # fmt: skip
    yield at_most(
        "gusset.gap", "gap", setting.gap, np.minimum(MOST_GAP, 0.5 * setting.thickness),
        "so wide a gap falls through when it is welded (half the thickness or 1 mm: common practice, no "
        "source)",
        "fit the plate more closely",
    )  # fmt: skip
    yield at_least(
        "gusset.toe", "toe_radius", setting.toe, np.maximum(1.5 * setting.thickness, 3.0),
        "a toe this sharp melts away and starts a crack (1.5 times the thickness: common practice, no "
        "source)",
        "give the toes a larger radius",
    )  # fmt: skip
    yield at_most(
        "gusset.toe_large", "toe_radius", setting.toe, 40.0,
        "no toe is this large; it looks like the wrong unit", "check the unit of this value",
    )  # fmt: skip
    yield at_most(
        "gusset.break", "edge_break", edge_break, setting.thickness / 4.0,
        "the chamfers would eat the edges of the plate", "lessen it to a quarter of the thickness",
    )  # fmt: skip


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

    def crossings(self, shares: Sequence[float]) -> Sequence[Cut]:
        """Cuts square to a strip between two welds, by how far along it; none where it is no strip."""
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
    def leg_ratio(self) -> Any:
        """Longer over shorter leg of a plate in a corner, 1 of a strip [-]."""
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

    @property
    def across(self) -> bool:
        """Whether it stands across the tubes."""
        ...

    @property
    def measured_from(self) -> Any:
        """Where a drawing measures the places of holes from (..., 2) [mm]."""
        ...

    @property
    def origin_words(self) -> str:
        """What its origin is on the bench."""
        ...

    def seat(self) -> Any:
        """Where tube B's load acts: a place (..., 3) on its axis, in the plane of the tubes."""
        ...
