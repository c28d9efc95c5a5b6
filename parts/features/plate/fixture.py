"""What one point of a plate carries: round steps that stand on its faces, bores through them, and its pad.

Both the layers of a section and the solid follow from the same turned steps, whose axis is z. The plate lies
between z = 0, its inner face, and its thickness.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.core.rules import Rule, at_least, at_most, none_or_at_least
from parts.features.plate.outline import Ears
from parts.features.plate.section.layers import Flare, Layer, Prism
from parts.features.thread.threaded import DRILL_POINT
from parts.inputs.quantities import NonNegativeLength, PositiveLength
from parts.strength.section.figures import circle
from parts.strength.section.outline import Loop

if TYPE_CHECKING:
    import cadquery as cq

OVER = 1.0
"""How far a tool runs past an open end [mm]."""
FINEST = 0.05
"""Smallest chamfer or fillet that is made at all [mm]; common practice, no source."""
MARGIN = 0.2
"""Flat that stays between a root fillet and the edge break of the outline [mm]."""
LEAST_RING = 1.5
"""Width of a clamped ring at the least, where finite elements hold or load it [mm]."""
TALLEST = 1.5
"""Height of a boss in its diameters beyond which it is a post; common practice, no source."""


class Turn(NamedTuple):
    """A round step about z from `low` to `high` [mm]; `fillet` is the hollow radius at its foot."""

    low: Any
    high: Any
    diameter: Any
    fillet: Any = 0.0


class Bore(NamedTuple):
    """A hole of round steps from bottom to top, without gaps; open or closed at each end.

    `point` adds a drill's point to a closed bottom.
    """

    steps: tuple[Turn, ...]
    open_low: bool = True
    open_high: bool = True
    point: bool = False

    @property
    def widest(self) -> Any:
        """Largest radius [mm]."""
        return np.maximum.reduce([np.asarray(step.diameter, float) / 2.0 for step in self.steps])


@dataclass(frozen=True)
class Block:
    """What stands on the outer face and is not round: it fits in a disc of `radius` and is `height` tall [mm].

    `solids(thickness, edge_break)` makes it and its root fillets, the plate's inner face in z = 0 and its
    own middle on the axis z.
    """

    radius: Any
    height: Any
    solids: Callable[[float, float], Sequence[cq.Workplane]]


class Fixture(NamedTuple):
    """A point of the plate: what stands on it, what is bored, the pad that it asks for.

    `outer` steps stand on the outer face, the first at the face; `inner` steps under the inner face, the first
    at the face. `slot` is cut through all in place of a bore. `teeth` is the profile that `broached` gives a bore
    besides; its tool stands about the middle of what is cut. `ears` stand out of the pad at the plate's edge,
    `opened` is what `broached` cuts of them, and `parted` the same in the middle of the plate. `pad` is the radius of
    the pad, `edge` that of the metal cut away, `seat` that of the head or washer that sits on it [mm].
    """

    name: str
    field: str
    at: tuple[Any, Any]
    pad: Any
    edge: Any
    seat: Any = 0.0
    outer: tuple[Turn, ...] = ()
    inner: tuple[Turn, ...] = ()
    bores: tuple[Bore, ...] = ()
    slot: Loop | None = None
    block: Block | None = None
    teeth: Loop | None = None
    broached: Callable[[], cq.Workplane] | None = None
    ears: Ears | None = None
    opened: tuple[Prism, ...] = ()
    parted: tuple[Loop, ...] = ()

    def foot(self, side: tuple[Turn, ...]) -> Any:
        """Radius that what stands on one side takes up on the face [mm]."""
        return side[0].diameter / 2.0 + side[0].fillet if side else np.zeros(())

    def beyond_foot(self, at: Any) -> Any:
        """From a place on the plate to the foot of what stands on its outer face [mm]."""
        away = np.hypot(np.subtract(at[0], self.at[0]), np.subtract(at[1], self.at[1]))
        return away - self.foot(self.outer)

    def taken(self, side: tuple[Turn, ...], edge_break: Any) -> Any:
        """Radius on one face that nothing else may stand on [mm]."""
        return np.maximum(np.maximum(self.foot(side), self.seat), self.edge + edge_break)

    def layers(self, thickness: Any, edge_break: float) -> Iterator[Layer]:
        """What it adds to the plate: steps, then root fillets."""
        for side, face, up in ((self.outer, thickness, True), (self.inner, 0.0, False)):
            for step, after in zip_longest(side, side[1:]):
                edge = _step_break(step, after, edge_break)
                yield Prism(
                    self._circle(step.diameter), step.low, step.high, True, edge, (not up, up)
                )
            if side and float(side[0].fillet) > 0.0:
                radius = float(side[0].diameter) / 2.0
                yield Flare(self.place, radius, float(side[0].fillet), face, up)

    def cuts(self, low: Any, high: Any, edge_break: float) -> Iterator[Prism]:
        """What it cuts away between the lowest and the highest face of the part."""
        for bore in self.bores:
            for k, step in enumerate(bore.steps):
                broken = bore.open_low and k == 0, bore.open_high and k == len(bore.steps) - 1
                edge = edge_break if any(broken) else 0.0
                yield Prism(self._circle(step.diameter), step.low, step.high, False, edge, broken)
        for through in (self.slot, self.teeth):
            if through is not None:
                yield Prism(through, low - OVER, high + OVER, False)
        yield from self.opened

    @property
    def place(self) -> tuple[float, float]:
        return float(self.at[0]), float(self.at[1])

    def _circle(self, diameter: Any) -> Loop:
        return circle(float(diameter), self.place).loops[0]

    def standing(self, thickness: float, edge_break: float) -> list[cq.Workplane]:
        """The solids that stand on the plate; their roots reach to the middle of it."""
        middle = thickness / 2.0
        found = []
        if self.outer:
            found.append(self._turned(self.outer, thickness, middle, edge_break, 1.0))
        if self.inner:
            found.append(self._turned(self.inner, 0.0, middle, edge_break, -1.0))
        if self.block is not None:
            found += [self._moved(solid) for solid in self.block.solids(thickness, edge_break)]
        return found

    def _turned(
        self, steps: Sequence[Turn], face: float, root: float, edge_break: float, up: float
    ) -> cq.Workplane:
        """Revolve a stack, its profile walked from the axis at `root` out, up and back to the axis."""
        foot = float(self.foot(tuple(steps)))
        walk: list[Any] = [(0.0, root), (foot, root), (foot, face)]
        for step, after in zip_longest(steps, steps[1:]):
            far = float(step.high if up > 0.0 else step.low)
            near = float(step.low if up > 0.0 else step.high)
            radius, r = float(step.diameter) / 2.0, float(step.fillet)
            if r > 0.0:
                c = r * (1.0 - np.sqrt(0.5))
                walk += [(radius + r, near), ((radius + c, near + up * c), (radius, near + up * r))]
            else:
                walk.append((radius, near))
            b = _step_break(step, after, edge_break)
            walk += [(radius, far - up * b), (radius - b, far)]
            if after is None:
                walk.append((0.0, far))
        return self._moved(_revolved(walk))

    def tools(self, low: float, high: float, edge_break: float) -> list[cq.Workplane]:
        """What is cut away."""
        from parts.shapes.profile import prism
        from parts.strength.section.outline import Outline

        found = [self._moved(_revolved(_bore_walk(bore, edge_break))) for bore in self.bores]
        if self.slot is not None:
            found.append(prism(Outline((self.slot,)), low - OVER, high + OVER))
        if self.broached is not None:
            found.append(self._moved(self.broached()))
        return found

    def _moved(self, solid: cq.Workplane) -> cq.Workplane:
        return solid.translate((*self.place, 0.0))


def _step_break(step: Turn, after: Turn | None, edge_break: float) -> float:
    """Chamfer at the far end of a step [mm]: half of what the next step leaves free, at most."""
    inside = 0.0 if after is None else float(after.diameter) / 2.0 + float(after.fillet)
    return max(min(edge_break, (float(step.diameter) / 2.0 - inside) / 2.0), 0.0)


def _bore_walk(bore: Bore, edge_break: float) -> list[Any]:
    first, last = bore.steps[0], bore.steps[-1]
    low, high, r = float(first.low), float(last.high), float(first.diameter) / 2.0
    walk: list[Any]
    if bore.open_low:
        walk = [
            (0.0, low - OVER),
            (r + edge_break + OVER if edge_break else r, low - OVER),
            (r, low + edge_break),
        ]
    else:
        walk = [(0.0, low - (r * DRILL_POINT if bore.point else 0.0)), (r, low)]
    for k, step in enumerate(bore.steps):
        r = float(step.diameter) / 2.0
        walk += [(r, float(step.low))] if k else []
        walk.append((r, float(step.high)))
    if bore.open_high:
        walk[-1] = (r, high - edge_break)
        walk += [(r + edge_break + OVER if edge_break else r, high + OVER), (0.0, high + OVER)]
    else:
        walk.append((0.0, high))
    return walk


def _revolved(walk: Sequence[Any]) -> cq.Workplane:
    """Revolve a profile in (r, z) about z; an entry is a corner, or a middle and an end of an arc."""
    from parts.shapes.workplane import Workplane

    here = walk[0]
    sketch = Workplane("XZ").moveTo(*here)
    for entry in walk[1:]:
        arc = isinstance(entry[0], tuple)
        end = entry[1] if arc else entry
        if np.hypot(end[0] - here[0], end[1] - here[1]) < 1e-9:
            continue
        sketch = sketch.threePointArc(*entry) if arc else sketch.lineTo(*end)
        here = end
    return sketch.close().revolve(360.0, (0, 0, 0), (0, 1, 0))


class Boss(Group):
    """A round boss on one or both faces of the plate."""

    diameter: PositiveLength = Field(description="Diameter of the boss.")
    outer: NonNegativeLength = Field(0.0, description="Height over the outer face of the plate.")
    inner: NonNegativeLength = Field(
        0.0, description="Height under the inner face, toward the frame."
    )
    fillet: NonNegativeLength = Field(
        2.0, description="Root fillet where it stands on the plate; 0 leaves it sharp."
    )

    def outer_steps(self, thickness: Any) -> tuple[Turn, ...]:
        """What stands on the outer face."""
        if not np.any(np.asarray(self.outer) > 0.0):
            return ()
        return (Turn(thickness, thickness + self.outer, self.diameter, self.fillet),)

    def inner_steps(self) -> tuple[Turn, ...]:
        """What stands under the inner face."""
        if not np.any(np.asarray(self.inner) > 0.0):
            return ()
        return (Turn(-self.inner, 0.0 * self.inner, self.diameter, self.fillet),)

    def standing_on(self) -> tuple[Any, Any]:
        """Its diameter and its root fillet [mm]."""
        return self.diameter, self.fillet

    def rules(self, field: str, hole: Any, wall: Any, edge_break: Any) -> Iterator[Rule]:
        """Rules of the boss about a hole of some diameter."""
        yield at_least(
            "boss.wall", f"{field}.diameter", (self.diameter - hole) / 2.0, wall,
            "the boss has less wall about its hole than the plate keeps", "make the boss larger",
        )  # fmt: skip
        yield fillet_rule(f"{field}.fillet", self.fillet)
        for side, height in (("outer", self.outer), ("inner", self.inner)):
            if np.any(np.asarray(height) > 0.0):
                yield at_least(
                    "boss.height", f"{field}.{side}", height, self.fillet + 2.0 * edge_break + 0.1,
                    "the root fillet and the edge break take more than the height of the boss",
                    "raise the boss, or lessen its fillet",
                )  # fmt: skip
            yield at_most(
                "boss.tall", f"{field}.{side}", height, TALLEST * self.diameter,
                "what stands on a boss this tall bends its root as a post (one and a half diameters: common "
                "practice, no source)",
                "lower the boss, or make it larger",
            )  # fmt: skip
        yield at_most(
            "boss.large", f"{field}.diameter", self.diameter, 120.0,
            "no boss of a foot control is this large; it looks like the wrong unit",
            "check the unit of this value",
        )  # fmt: skip


def about(boss: Boss | None, pad: Any) -> Any:
    """Twice the least distance from the middle of a hole in a boss to its edge [mm]: of a boss that stands over the
    plate its own, else of the pad."""
    return 2.0 * pad if boss is None else np.where(boss.outer > 0.0, boss.diameter, 2.0 * pad)


def over_plate(boss: Boss | None) -> Any:
    """Height of its face over the outer face of the plate [mm]; nil without a boss."""
    return 0.0 if boss is None else boss.outer


def under_plate(boss: Boss | None) -> Any:
    """Height of the face toward the frame, from the inner face of the plate [mm]."""
    return 0.0 if boss is None else -boss.inner


def foot_of(boss: Boss | None) -> Any:
    """Radius that a boss and its fillet take up on the plate [mm]."""
    return 0.0 if boss is None else boss.diameter / 2.0 + boss.fillet


def steps_of(boss: Boss | None, thickness: Any) -> tuple[tuple[Turn, ...], tuple[Turn, ...]]:
    """What stands on the outer face of a plate, and under its inner face."""
    return ((), ()) if boss is None else (boss.outer_steps(thickness), boss.inner_steps())


def fillet_rule(field: str, fillet: Any) -> Rule:
    """A fillet that is made at all."""
    return none_or_at_least(
        "fillet.fine", field, fillet, FINEST, "no shop makes a fillet this fine",
        "enlarge it, or state 0 for a sharp root",
    )  # fmt: skip


def pad_radius(*, hole: Any, wall: Any, foot: Any, seat: Any, edge_break: Any) -> Any:
    """Radius of the pad [mm]: wall about the hole, foot of a boss and seat of a head all fit on it."""
    standing = np.where(np.asarray(foot) > 0.0, foot + edge_break + MARGIN, 0.0)
    seated = np.where(np.asarray(seat) > 0.0, seat + edge_break, 0.0)
    return np.maximum(hole / 2.0 + wall, np.maximum(standing, seated))
