"""Statics of a link between two pins: the reactions to what a load case applies, and what its ends feel."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Literal, NamedTuple

import numpy as np

from parts.core.freebody import Acting, reacting
from parts.core.loads import Action, LoadCase, PointLoad, point_actions, resultant
from parts.core.rules import Rule, at_most
from parts.inputs.document import dotted

BALANCE = 1e-6
"""How far two opposite forces may differ and still balance [-]: rounding of units."""

Joint = Literal["ball", "pin"]
"""What an end turns in: a ball, which carries no moment, or a pin along z, which carries none about itself."""


class EndForce(NamedTuple):
    """What the pin of an end does to it: along the link, across it and along the pin [N]."""

    pull: Any
    across: Any
    along_pin: Any

    @property
    def radial(self) -> Any:
        """Square to the pin [N]."""
        return np.hypot(self.pull, self.across)

    @property
    def sideways(self) -> Any:
        """Square to the link, which bends its shank [N]."""
        return np.hypot(self.across, self.along_pin)

    @property
    def whole(self) -> Any:
        """The force in all [N]."""
        return np.hypot(self.pull, self.sideways)


@dataclass(frozen=True)
class Borne:
    """A link under one load case, held by its pins: every action upon it, reactions included.

    A force along the link at one end is reacted at the other; forces across it at both ends, as on a simple
    beam. A couple at an end is reacted by forces at both. `couple` is the sum of the stated moments [N*mm], `long` the
    length pin to pin and `lengths` those between which it may be set [mm].
    """

    a: Action
    b: Action
    middle: Action
    couple: Any
    long: Any
    lengths: tuple[Any, ...]

    def beyond(self, side: float) -> tuple[Action, ...]:
        """What acts on the +x side of a section left (side -1) or right (side +1) of the middle."""
        return (self.b, self.middle) if side < 0.0 else (self.b,)

    @cached_property
    def push(self) -> Any:
        """Largest compression along the link [N]."""
        halves = (-self._pull(self.beyond(side)) for side in (-1.0, 1.0))
        return np.maximum(0.0, np.maximum(*halves))

    @cached_property
    def pull(self) -> Any:
        """Largest tension along the link [N]."""
        return np.maximum(0.0, np.maximum(*(self._pull(self.beyond(side)) for side in (-1.0, 1.0))))

    @staticmethod
    def _pull(actions: tuple[Action, ...]) -> Any:
        return resultant(actions, np.zeros(3))[0][..., 0]

    @cached_property
    def twist(self) -> Any:
        """Largest torque along the link [N*mm]."""
        halves = (resultant(self.beyond(side), np.zeros(3))[1][..., 0] for side in (-1.0, 1.0))
        return np.maximum(*(np.abs(torque) for torque in halves))

    def holding(self, case: LoadCase, points: Mapping[str, Any]) -> tuple[Acting, ...]:
        """What the pins do against the loads of the case."""
        found = []
        for name, all_of_it in (("end a", self.a), ("end b", self.b)):
            force, moment = resultant(point_actions(case, points, [name]), points[name])
            rest = (force - all_of_it.force, moment - np.asarray(all_of_it.moment))
            found.append(reacting(f"pin of {name}", points[name], rest))
        return tuple(found)

    @property
    def sideways(self) -> Any:
        """Force across the link at its middle [N]."""
        return np.hypot(self.middle.force[..., 1], self.middle.force[..., 2])

    def on_end(self, i: int) -> EndForce:
        """What the pin does to an end, at whichever length it is most: a couple pushes harder on a shorter arm."""
        return self._on_ends[i]

    @cached_property
    def _on_ends(self) -> tuple[EndForce, EndForce]:
        return self._on_end(0), self._on_end(1)

    def _on_end(self, i: int) -> EndForce:
        force, way = (self.a, self.b)[i].force, 1.0 if i else -1.0
        across, along_pin = force[..., 1], force[..., 2]
        for length in self.lengths:
            arm = way * (1.0 / np.asarray(length, float) - 1.0 / self.long)
            across = _greater(across, force[..., 1] - self.couple[..., 2] * arm)
            along_pin = _greater(along_pin, force[..., 2] + self.couple[..., 1] * arm)
        return EndForce(force[..., 0] * way, across, along_pin)


def _greater(one: Any, other: Any) -> Any:
    return np.where(np.abs(other) > np.abs(one), other, one)


def borne(case: LoadCase, points: Mapping[str, Any], lengths: tuple[Any, ...] = ()) -> Borne:
    """Find the reactions of a link under a load case.

    Args:
        case: the load case.
        points: the places of "end a", "end b" and "middle" [mm].
        lengths: those between which it may be set, pin to pin [mm].

    Returns:
        The link with everything that acts upon it.
    """
    loads = {name: resultant(point_actions(case, points, [name]), points[name]) for name in points}
    every = point_actions(case, points)
    a, b = np.asarray(points["end a"], float), np.asarray(points["end b"], float)
    force, moment = resultant(every, a)
    span = (b - a)[..., 0]
    f_a, f_b = loads["end a"][0], loads["end b"][0]
    m_a, m_b = loads["end a"][1], loads["end b"][1]
    at_a = (f_a[..., 0] == 0.0) & (f_b[..., 0] != 0.0)
    twist_at_a = (m_a[..., 0] == 0.0) & (m_b[..., 0] != 0.0)
    zero = 0.0 * moment[..., 0] * span
    r_b = np.stack(
        [np.where(at_a, 0.0, -force[..., 0]) + zero, -moment[..., 2] / span, moment[..., 1] / span],
        axis=-1,
    )
    r_a = np.stack([-force[..., i] - r_b[..., i] for i in range(3)], axis=-1)
    t_b = np.where(twist_at_a, 0.0, -moment[..., 0])
    twist = np.array([1.0, 0.0, 0.0])
    return Borne(
        Action(a, f_a + r_a, m_a + (-moment[..., 0] - t_b)[..., None] * twist),
        Action(b, f_b + r_b, m_b + t_b[..., None] * twist),
        Action(np.asarray(points["middle"], float), *loads["middle"]),
        sum(one[1] for one in loads.values()),
        span,
        lengths,
    )


def load_rules(loads: list[LoadCase], joints: tuple[Joint, Joint]) -> Iterator[Rule]:
    """Rules that hold the load cases against what pins and balls can bear.

    Args:
        loads: the load cases.
        joints: what a and b turn in.

    Returns:
        One rule for each thing that would not stand in balance.
    """
    for i, case in enumerate(loads):
        both = [load for load in case.forces if load.at in ("end a", "end b")]
        pulls = {
            at: sum(load.force[0] for load in both if load.at == at) for at in ("end a", "end b")
        }
        rest = sum(load.force[0] for load in case.forces)
        one_end = np.logical_or(*(np.asarray(pull) == 0.0 for pull in pulls.values()))
        yield at_most(
            "link.balance", dotted(("loads", i, "forces")), np.where(one_end, 0.0, np.abs(rest)),
            BALANCE * sum(np.abs(pull) for pull in pulls.values()),
            "the forces along the link at its two ends do not balance",
            "state the force at one end, the other reacts it; or make them equal and opposite", "N",
        )  # fmt: skip
        for k, load in enumerate(case.forces):
            yield from _moment_rules(dotted(("loads", i, "forces", k, "moment")), load, joints)


def _moment_rules(field: str, load: PointLoad, joints: tuple[Joint, Joint]) -> Iterator[Rule]:
    """What a stated moment may be, by what the ends turn in."""
    at = {"end a": joints[0], "end b": joints[1]}.get(load.at)
    turning = np.hypot(np.hypot(load.moment[0], load.moment[1]), load.moment[2])
    if at == "ball":
        yield at_most(
            "link.ball", field, turning, 0.0,
            "the ball of a rod end carries no moment", "leave the moment out", "N*mm",
        )  # fmt: skip
        return
    if at == "pin":
        yield at_most(
            "link.pin", field, np.abs(load.moment[2]), 0.0,
            "the end turns freely about its pin, along z: nothing takes a moment about it",
            "leave the moment about z out", "N*mm",
        )  # fmt: skip
    if "ball" in joints:
        yield at_most(
            "link.twist", field, np.abs(load.moment[0]), 0.0,
            "nothing holds the link against twist while one of its ends turns in a ball",
            "leave the twist out", "N*mm",
        )  # fmt: skip
