"""The rear end of a build: its linkage from hardpoints, and what it does through the travel."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any

import numpy as np

from parts.core.check import Check, governing
from parts.core.freebody import Balance
from parts.families.torsion_arm.torsion_bar import shear_share
from parts.standards.materials.materials import material
from parts.vehicle.file.rear_entries import RearEndEntry, TurnbuckleEntry
from parts.vehicle.loads.statics import Held
from parts.vehicle.loads.vehicle import Vehicle
from parts.vehicle.rear_end.clocking import Setting, nearest_settings
from parts.vehicle.rear_end.damper import Damper, DamperMotion, damper_motion
from parts.vehicle.rear_end.linkage import Linkage
from parts.vehicle.rear_end.motion import Motion
from parts.vehicle.rear_end.ride import Adjustment, Rest, Turnbuckle, adjustment, rest
from parts.vehicle.rear_end.suspension import (
    RearEnd,
    Response,
    arm_angle_for_preload,
    free_bodies,
    response,
    shear_check,
    unwound_check,
)

STATIONS = 45
"""Positions of the wheel that the rear end is solved at [-]."""
AT_REST = "rear wheel at rest, rider seated"
"""The position of the wheel with the rider on, by name."""
SWING_ARM, WHEEL = "swing arm", "wheel"
BODIES = (SWING_ARM, WHEEL, "link", "arm", "bar")
"""Bodies of a rear end, by the names that parts give them."""


POINTS = ("pivot", "axle", "pick_up", "arm_end", "bar")
"""Hardpoints of a rear end, as the linkage names them."""
LinkRange = Callable[[], TurnbuckleEntry | None]


def no_range() -> None:
    """The range of a link that cannot be set."""


@dataclass(frozen=True)
class Rear:
    """A rear end solved through its travel.

    Attributes:
        entry: as the file states it.
        end: linkage and bar.
        vehicle: masses; None where the file states none, and then there is no position at rest.
        damper: its mounts as drawn; None where the file states none.
        link_range: gives the range of the link as the file states it, None for none. It is asked for late: it may
            come from a part that takes a value of this rear end.
        within: tolerance of its hardpoints [mm], by the name that the entry gives their place in the rear end.
        length: that its link is set to [mm]; None as drawn.
    """

    entry: RearEndEntry
    end: RearEnd
    vehicle: Vehicle | None
    damper: Damper | None = None
    link_range: LinkRange = field(default=no_range, repr=False, compare=False)
    within: Mapping[str, float] = field(default_factory=dict)
    length: float | None = None
    _known: dict[tuple[float, float | None], Response] = field(
        default_factory=dict, repr=False, compare=False
    )

    def with_bar(self, end: RearEnd) -> Rear:
        """The same with another bar, and linkage, of the same metal."""
        bar = self.entry.bar.model_copy(
            update={
                "diameter": float(end.bar.diameter),
                "bore": float(end.bar.bore),
                "length": float(end.bar.length),
            }
        )
        return replace(self, entry=self.entry.model_copy(update={"bar": bar}), end=end, _known={})

    @cached_property
    def whole(self) -> Response:
        """The response through the travel."""
        return response(self.end, np.linspace(0.0, self.entry.travel, STATIONS), self.length)

    @cached_property
    def loads(self) -> np.ndarray:
        """What the spring carries at rest without and with the rider [N]; empty without a vehicle."""
        if self.vehicle is None:
            return np.zeros(0)
        return np.array([self.vehicle.rear_sprung_load(rider=who) for who in (False, True)])

    @cached_property
    def rests(self) -> Rest | None:
        """At rest without and with the rider."""
        return rest(self.end, self.loads) if len(self.loads) else None

    @cached_property
    def positions(self) -> Mapping[str, float]:
        """The positions of the wheel that give load cases [mm of travel]."""
        found = {"rear wheel at full droop": 0.0}
        if self.rests is not None:
            found[AT_REST] = float(self.rests.travel[1])
        return {**found, "rear wheel at full bump": float(self.entry.travel)}

    def at(self, travel: float, length: float | None = None) -> Response:
        """The response at one position of the wheel [mm], with a link of another length [mm]."""
        key = travel, self.length if length is None else length
        if key not in self._known:
            self._known[key] = response(self.end, *key)
        return self._known[key]

    def worst(self, travel: float) -> tuple[Response, str]:
        """What the parts must bear at one position of the wheel [mm], and where it is.

        The link is set as its range allows and the bar is wound up most; on top comes what the tolerance of the
        hardpoints may add, each coordinate off by all of it and to the worse side.
        """
        found = [(self.at(travel, length), said) for said, length in self.lengths.items()]
        now, said = max(found, key=lambda one: abs(float(one[0].torque)))
        share = 1.0 + max(
            self.tolerance(travel, said, of) / size
            if (size := abs(float(getattr(now, of))))
            else 0.0
            for of in ("torque", "link_force")
        )
        forces = ("torque", "link_force", "wheel_force")
        return now._replace(**{name: getattr(now, name) * share for name in forces}), said

    def set_otherwise(self, signs: np.ndarray) -> Iterator[tuple[Rear, str]]:
        """The rear end with its link set to each of its lengths, all coordinates of its hardpoints off at once.

        Args:
            signs: of each of `each_off`, to which side it is off by its tolerance.

        Yields:
            Each, and how its link is set; the rear end itself where nothing is off.
        """
        drawn, places = self.end.linkage, {}
        if self._off is not None:
            for name in POINTS:
                place = np.asarray(getattr(drawn, name), float)
                places[name] = place + signs @ (np.asarray(getattr(self._off, name)) - place)
        end = self.end._replace(linkage=replace(drawn, **places))
        for said, length in self.lengths.items():
            if length is None and not places:
                yield self, said
            else:
                long = float(drawn.drawn_length if length is None else length)
                yield replace(self, end=end, length=long, _known={}), said

    @cached_property
    def each_off(self) -> Rear | None:
        """The rear end with one coordinate of its hardpoints off by its tolerance, each in turn along the first axis,
        link as drawn; None where nothing is off."""
        if self._off is None:
            return None
        long = float(self.end.linkage.drawn_length)
        return replace(self, end=self.end._replace(linkage=self._off), length=long, _known={})

    @property
    def drawn(self) -> dict[str, np.ndarray]:
        """Places of its hardpoints as drawn [mm]."""
        entry, linkage = self.entry, self.end.linkage
        named = (entry.pivot, entry.axle, entry.pick_up, entry.arm_end, entry.bar_line)
        return {
            at: np.asarray(getattr(linkage, name), float)
            for at, name in zip(named, POINTS, strict=True)
        }

    def tolerance(self, travel: float, said: str, of: str = "torque") -> float:
        """How far the bar's torque [N*mm], or the link's force [N], may be off by the tolerance of the hardpoints.

        It is the sum over their coordinates.

        Args:
            travel: position of the wheel [mm].
            said: length of the link, as `lengths` names it.
            of: `torque` or `link_force`.
        """
        length, off = self.lengths[said], self._off
        if off is None:
            return 0.0
        long = self.end.linkage.drawn_length if length is None else length
        other = response(self.end._replace(linkage=off), travel, long)
        return float(np.sum(np.abs(getattr(other, of) - getattr(self.at(travel, length), of))))

    def swept(self, said: str) -> float:
        """Greatest range of the link's force between full droop and full bump [N], with what the tolerance of the
        hardpoints may add.

        Args:
            said: length of the link, as `lengths` names it.
        """
        length, off = self.lengths[said], self._off
        ends = np.array([0.0, float(self.entry.travel)])
        force = np.asarray(response(self.end, ends, length).link_force)
        found = float(force[1] - force[0])
        if off is None:
            return abs(found)
        long = self.end.linkage.drawn_length if length is None else length
        others = np.asarray(
            response(self.end._replace(linkage=off), ends[:, None], long).link_force
        )
        return abs(found) + float(np.sum(np.abs(others[1] - others[0] - found)))

    @cached_property
    def _off(self) -> Linkage | None:
        """The linkage with each coordinate of its hardpoints off by its tolerance, one at a time; None without."""
        drawn, tolerances = self.end.linkage, self.within
        moves = [(name, axis) for name, d in tolerances.items() if d > 0.0 for axis in range(3)]
        if not moves:
            return None
        places = {
            name: np.tile(np.asarray(getattr(drawn, name), float), (len(moves), 1))
            for name in POINTS
        }
        for i, (name, axis) in enumerate(moves):
            places[name][i, axis] += tolerances[name]
        return replace(drawn, **places)

    def moved(self, motion: Motion) -> dict[str, np.ndarray]:
        """Places of the hardpoints that move [mm]."""
        entry = self.entry
        found = {
            entry.axle: np.asarray(motion.axle),
            entry.pick_up: np.asarray(motion.pick_up),
            entry.arm_end: np.asarray(motion.arm_end),
        }
        if entry.damper is not None and self.damper is not None:
            mount = self.end.linkage.swing_arm.turned(self.damper.on_swing_arm, motion.swing)
            found[entry.damper.on_swing_arm] = mount
        return found

    def held(self, now: Response) -> tuple[tuple[Held, ...], tuple[Balance, ...]]:
        """What acts on the bodies at their hardpoints, and the balance of each."""
        entry, balances = self.entry, free_bodies(self.end, now)
        points = {
            "swing arm": (entry.axle, entry.pick_up, entry.pivot),
            "link": (entry.pick_up, entry.arm_end),
            "arm": (entry.arm_end,),
        }
        return (
            tuple(
                Held(one.body, at, np.asarray(act.force), np.asarray(act.moment, float), act.by)
                for one in balances
                for act, at in zip(one.acting, points.get(one.body, ()), strict=False)
            ),
            balances,
        )

    @cached_property
    def damped(self) -> DamperMotion | None:
        """The damper through the travel; None where the file states none."""
        if self.damper is None:
            return None
        known = self.whole.motion
        return damper_motion(self.end.linkage, self.damper, known.travel, known)

    @cached_property
    def shear(self) -> Check:
        """The bar's worst shear against its allowable, link as drawn."""
        return self.shear_of(self.whole, "travel")

    def shear_of(self, found: Response, case: str) -> Check:
        """The bar's worst shear in a response through the travel; `case` says what that is."""
        bar = self.entry.bar
        metal = material(bar.material.name, thickness_mm=bar.diameter)
        share = shear_share(metal, bar.preset)
        return shear_check(self.end, found, metal.ultimate_strength, share, case=case)

    def worst_check(
        self,
        measure: Callable[[Response], Any],
        of: Callable[[Response, str, float], Check],
    ) -> Check:
        """The check at the length of the link that uses most of what is allowed.

        Args:
            measure: what is greatest where the check is at its worst.
            of: the check of a response through the travel, with its place there as the load case, and by how much the
                tolerance of the hardpoints may turn the bar's torque off there [N*mm].
        """
        found = []
        for said, one in self.settings.items():
            # Rounded, so that what stays alike is told where it begins.
            place = int(np.argmax(np.round(measure(one), 9)))
            travel = float(np.asarray(one.motion.travel)[place])
            off = self.tolerance(travel, said)
            found.append(of(one, f"{travel:.0f} mm of travel, {said}", off))
        worst = governing(found)
        assert worst is not None
        return worst

    @cached_property
    def greatest_shear(self) -> Check:
        """The bar's worst shear over the link's range and the tolerance of the hardpoints."""

        def sheared(found: Response, case: str, off: float) -> Check:
            return self.shear_of(found._replace(torque=np.abs(found.torque) + off), case)

        return self.worst_check(lambda found: np.abs(found.shear), sheared)

    @cached_property
    def least_wound(self) -> Check:
        """How little a bar that is preset stays wound, over the same."""

        def let_off(found: Response, case: str, off: float) -> Check:
            return unwound_check(found._replace(twist=found.twist - off / self.end.bar.rate), case)

        return self.worst_check(lambda found: -found.twist, let_off)

    @cached_property
    def turnbuckle(self) -> Turnbuckle | None:
        """The link's range about its length as drawn."""
        one = self.link_range()
        if one is None:
            return None
        length = float(self.end.linkage.drawn_length)
        return Turnbuckle(length, one.per_turn, one.shortest, one.longest)

    @property
    def lengths(self) -> Mapping[str, float | None]:
        """Lengths of the link that it can be set to, by name: as drawn, and both ends of its range [mm]."""
        found: dict[str, float | None] = {"link as drawn": None}
        if self.turnbuckle is not None:
            found["link at its shortest"] = self.turnbuckle.shortest
            found["link at its longest"] = self.turnbuckle.longest
        return found

    @cached_property
    def settings(self) -> Mapping[str, Response]:
        """The response through the travel with each of these lengths."""
        travel = self.whole.motion.travel
        return {
            said: self.whole if length is None else response(self.end, travel, length)
            for said, length in self.lengths.items()
        }

    @cached_property
    def adjusted(self) -> Adjustment | None:
        """What whole turns of the turnbuckle do to sag and height."""
        if self.turnbuckle is None or not len(self.loads):
            return None
        low, high = (int(turns) for turns in self.turnbuckle.turns)
        return adjustment(self.end, self.turnbuckle, np.arange(low, high + 1), self.loads)

    @cached_property
    def clocked(self) -> tuple[Setting, ...]:
        """The ways to clock the bar that come nearest to the preload, from a bar that is free as drawn."""
        teeth = self.entry.teeth
        if teeth is None:
            return ()
        free = RearEnd(self.end.linkage, self.end.bar, 0.0)
        wanted = float(arm_angle_for_preload(free, self.end.preload))
        return nearest_settings(wanted, teeth.anchor, teeth.arm)
