"""The back of a body that a shank stands on, and what every shank says.

A shank begins at the flat back of the body and runs toward -x; distances along it are measured from that
face. Each kind states its rules, its load path, its checks, its drawing and its solid.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar, NamedTuple

import numpy as np

from parts.core.feature import Actions, Answers, Site, no_actions
from parts.core.group import Group
from parts.core.loadpath import smooth
from parts.core.loads import Action, resultant
from parts.core.rules import Rule, at_least, at_most
from parts.features.section.notches import turned_fillet
from parts.features.thread.roots import WIDE_BACK, behind_floor
from parts.features.thread.turned import Step
from parts.standards.fasteners.wrenches import nearest_wrench
from parts.standards.materials.materials import Material

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.loadpath import Notch
    from parts.core.supports import Round

FLATS_LEAST = 8.0
"""Length of wrench flats that a spanner can hold [mm]; common practice, no source."""
WRENCH_SLACK = 0.15
"""How far flats may be from a wrench's size [mm]; common practice, no source."""
MOVES = "Ream the pin hole after welding: the ears move with the heat."
ROOM = 0.2
"""How far round shapes keep from the edges of the back that they stand on [mm]."""


class Body(NamedTuple):
    """The back of the body that a shank stands on: `width` along y, `height` along z [mm].

    `back` is its distance behind the pin [mm], `floor` the metal before it, `clocking` the turn of the
    shank about x [rad]. `apart` is the distance between the middles of the ears; where it is left out they are taken
    to stand at the edges of the back. A body that is not `forked` is solid behind its back.
    """

    width: Any
    height: Any
    back: Any
    floor: Any
    edge_break: Any
    root_fillet: Any
    clocking: Any
    apart: Any = None
    forked: bool = True

    def root(self, fillet: Any, diameter: Any, before: Any = 0.0) -> Notch:
        """The notch of a round on the back, which feels the ears bend the floor; `before` is more metal [mm]."""
        if not self.forked:
            return turned_fillet(WIDE_BACK * diameter, diameter, fillet)
        apart = self.height if self.apart is None else self.apart
        return behind_floor(fillet, diameter, self.floor + before, apart, self.width)

    def behind(self, distance: Any) -> np.ndarray:
        """The place on the axis of the shank, a distance behind the back [mm]."""
        x = -(np.asarray(self.back, float) + np.asarray(distance, float))
        return np.stack([x, 0.0 * x, 0.0 * x], axis=-1)

    def wall(self, diameter: Any, low: Any, high: Any) -> Round:
        """A round wall about the shank, between two distances behind the back [mm]."""
        from parts.core.supports import Round

        at = np.array([-float(self.back), 0.0, 0.0])
        return Round(at, (-1.0, 0.0, 0.0), float(diameter), float(low), float(high))

    def carried(self, actions: Sequence[Action], distance: Any) -> tuple[np.ndarray, np.ndarray]:
        """Force [N] and moment [N*mm] of actions about the axis, a distance behind the back [mm]."""
        return resultant(actions, self.behind(distance))

    def holds(self, field: str, diameter: Any, or_else: str = "") -> Iterator[Rule]:
        """The back is large enough for a round shape with its root fillet, across the ears and over both of them;
        `or_else` is what else would help."""
        edges = 2.0 * self.edge_break + ROOM
        yield at_most(
            "clevis.shoulder", field, diameter + 2.0 * self.root_fillet, self.width - edges,
            "with its root fillet it is larger than the ears are wide",
            f"widen the ears, or lessen it or the root fillet{or_else}",
        )  # fmt: skip
        yield at_most(
            "clevis.shoulder_thick", field, diameter + 2.0 * self.root_fillet, self.height - edges,
            "with its root fillet it is larger than the body is thick, over both ears and the gap between them",
            f"thicken the ears or widen the gap, or lessen it or the root fillet{or_else}",
        )  # fmt: skip


def flats_rules(field: str, flats: Any, diameter: Any, length: Any) -> Iterator[Rule]:
    """Rules of a pair of wrench flats `length` long on a round of a diameter [mm]."""
    yield at_most(
        "flats.wide", f"{field}.flats", flats, 0.97 * diameter,
        "flats this far apart cut too little for a wrench to hold", "lessen the distance across flats",
    )  # fmt: skip
    yield at_least(
        "flats.deep", f"{field}.flats", flats, 0.6 * diameter,
        "flats this deep leave too little of the round (common practice, no source)",
        "widen the distance across flats",
    )  # fmt: skip
    yield at_least(
        "flats.short", f"{field}.length", length, FLATS_LEAST,
        "a wrench needs flats 8 mm long beyond the root fillet (common practice, no source)", "lengthen it",
    )  # fmt: skip
    made = nearest_wrench(flats)
    size = np.asarray(made).ravel()[0]
    yield at_most(
        "flats.wrench", f"{field}.flats", np.abs(flats - made), WRENCH_SLACK,
        "no wrench is made for these flats", f"make them {size:.4g} mm ({size / 25.4:.4f} in) across",
    )  # fmt: skip


def root_steps(name: str, fillet: Any, diameter: Any) -> list[Step]:
    """The fillet between the back of the body and a round of a diameter [mm]; none where it is 0."""
    if not np.any(np.asarray(fillet) > 0.0):
        return []
    root = turned_fillet(WIDE_BACK * diameter, diameter, fillet)
    return [
        Step(name, 0.0 * fillet, fillet, diameter + 2.0 * fillet, diameter, fillet=True, notch=root)
    ]


def rooted(steps: Sequence[Step], body: Body) -> list[Step]:
    """The steps on the back of a body, the first with the notch of a root behind its floor: sharp without a fillet."""
    first, *others = steps
    if first.fillet:
        return [first._replace(notch=body.root(first.length, first.end_diameter)), *others]
    return [first._replace(notch=body.root(0.0, first.diameter)), *others]


@dataclass(frozen=True, kw_only=True)
class OnBody(Site):
    """A shank on the back of a body.

    `pins` is what the pin does; with the friction of what swings there that is `actions`, and `reversing` the part that
    changes its sign with every swing.
    """

    body: Body
    pins: Actions = no_actions
    reversing: Actions = no_actions


class Shank(Group, Answers[OnBody]):
    """What a fork stands on, whatever its kind."""

    bored: ClassVar[bool] = False
    """Whether a drawing cuts it along its axis."""
    seen_from_its_end: ClassVar[bool] = False
    """Whether its end shows what no other view does."""
    backs_ears: ClassVar[bool] = True
    """Whether the back of the body has edges of its own, all round."""
    welded: ClassVar[bool] = False
    """Whether a weld beside it softens the body."""
    open_back: ClassVar[bool] = False
    """Whether the body runs on into it, so that its back has no edges to break."""
    filleted: ClassVar[bool] = True
    """Whether the root fillet of the part is its own."""

    def backs(self, body: Body) -> Any:
        """How far from the middle it backs the floor of the throat [mm]; from side to side where it says nothing."""
        return np.inf

    def body_end(self, body: Body) -> Any:
        """How far behind the pin the body keeps its section [mm]."""
        return body.back - body.edge_break

    def body_notch(self, body: Body, start: Any) -> Callable[[Any], Notch]:
        """What raises the stress in the body from a start behind the pin [mm] to its end."""
        return smooth

    def fork_back(self, body: Body) -> float | None:
        """How far behind the pin the uncut body must reach [mm]; to its back where None."""
        return None

    def join(self, fork: cq.Workplane, body: Body) -> cq.Workplane:
        """The fork with it."""
        raise NotImplementedError


def placed(shank: cq.Workplane, body: Body) -> cq.Workplane:
    """A shank made along +x, turned to stand behind the back of the body and clocked about x."""
    turned_back = shank.rotate((0, 0, 0), (0, 0, 1), 180.0)
    clocked = turned_back.rotate((0, 0, 0), (1, 0, 0), float(np.degrees(body.clocking)))
    return clocked.translate((-float(body.back), 0, 0))


def thread_facts(thread: Any, engagement: Any) -> dict[str, tuple[Any, str]]:
    return {
        "thread engagement": (engagement / thread.major, "diameters"),
        "change of length per turn": (thread.pitch, "mm"),
    }


def mating(made: Material | None) -> dict[str, str]:
    return {} if made is None else {f"mating thread, {made.name}": made.galvanic_family}
