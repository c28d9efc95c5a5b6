"""A bought rod end on a link: how far it reaches, how deep it screws in, how it swings, and what it bears."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import Any, Literal, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.fatigue_places import Detail, demand_of, thread_spot
from parts.core.group import Group
from parts.core.loads import Required
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.features.bolts.hardware import LOOSE_PIN, SPIGOT_WALL, male_class, swing, swing_rule
from parts.inputs.designations import MaterialName, RodEndName
from parts.inputs.quantities import (
    Angle,
    NonNegativeLength,
    PositiveForce,
    PositiveLength,
    PositiveMoment,
)
from parts.standards.materials.materials import Material, material
from parts.standards.rod_ends.rod_ends import RATING_NOTE, JamNut, jam_nut
from parts.standards.threads.threads import Thread
from parts.strength.bolted import joint
from parts.strength.bolted import thread as screw
from parts.strength.columns import link
from parts.strength.method import Worked, work
from parts.strength.pinned import rod_end as rodend

JAM_SHARE = 0.25
"""Bite of a jam nut over what yields its shank, where no torque is given [-]; common practice, no source."""
NUT_FACTOR = 0.2
"""Torque over bite and diameter, dry or lightly oiled threads [-]; common practice, no source."""
SCATTER = 0.35
"""How far the bite may differ from what the torque says [-]; common practice for a torque wrench, no source."""
NUT_CHAMFERS = 0.5
"""What both chamfers take from the thread of a jam nut, in pitches [-]; common practice, no source."""


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


class JamNutLock(Group):
    """The jam nut of an end and how tight it is."""

    torque: PositiveMoment | None = Field(
        None,
        description="Tightening torque; left out, that of a bite of a quarter of what yields the shank.",
    )

    def bite(self, thread: Thread, yield_strength: Any) -> Worked:
        """Force [N] with which the nut presses on the body."""
        return work(
            joint.preload_by_nut_factor,
            T=self.tightening(thread, yield_strength),
            d=thread.major,
            K=NUT_FACTOR,
        )

    def tightening(self, thread: Thread, yield_strength: Any) -> Any:
        """Torque [N*mm]."""
        if self.torque is not None:
            return self.torque
        force = JAM_SHARE * yield_strength * thread.stress_area
        return joint.torque_by_nut_factor(force, thread.major, NUT_FACTOR)


class RodEndEnd(Group):
    """A male rod end, bought in, with its jam nut, and what it works in."""

    type: Literal["rod end"] = Field("rod end", description="A bought rod end with its jam nut.")
    rod_end: RodEndName = Field(description="The rod end by its designation, male, with its hand.")
    shank: PositiveLength | None = Field(
        None, description="Pin to the end of the shank as measured, where it is not the table's."
    )
    thread_length: PositiveLength | None = Field(
        None, description="Full thread on the shank as measured, where it is not the table's."
    )
    steel: MaterialName = Field(
        "1018 cold drawn",
        validate_default=True,
        description="Material of the rod end's body, for what its maker's rating does not cover.",
    )
    rating: PositiveForce | None = Field(
        None, description="The maker's static radial rating; a generic one is worked out without."
    )
    jam_nut: JamNutLock = Field(default_factory=JamNutLock, description="The jam nut.")
    spacer: NonNegativeLength = Field(
        0.0, description="Length of the spacer on each side of the ball; 0 for none."
    )
    spacers: Literal["plain", "high misalignment"] = Field(
        "plain",
        description="Plain spacers on a bolt that fills the ball, or stepped ones for a thinner bolt.",
    )
    bolt: PositiveLength | None = Field(
        None, description="Diameter of the bolt through the ball; the ball's bore where left out."
    )
    swing_needed: Angle = Field(0.0, description="Swing to one side that the joint must have.")

    @property
    def thread(self) -> Thread:
        """The thread of the shank, and so of the body."""
        return self.rod_end.thread

    @cached_property
    def nut(self) -> JamNut:
        return jam_nut(self.thread.designation)

    @property
    def reach(self) -> Any:
        """Pin to the tip of the shank [mm]."""
        return self.rod_end.length if self.shank is None else self.shank

    @property
    def full_thread(self) -> Any:
        """Full thread, counted from the tip [mm]."""
        return self.rod_end.thread_length if self.thread_length is None else self.thread_length

    @property
    def gap(self) -> Any:
        """Room between the ears of its clevis [mm]."""
        return self.rod_end.ball_width + 2.0 * self.spacer

    @property
    def bolt_diameter(self) -> Any:
        """Diameter of the bolt through the ball [mm]."""
        return self.rod_end.bore if self.bolt is None else self.bolt

    def swing(self) -> Any:
        """Swing to one side before the head meets an ear or the race a shoulder [rad]."""
        return swing(self.rod_end, self.gap)

    def rules(self, field: str) -> Iterator[Rule]:
        """Rules of the end by itself; `field` is its dotted path."""
        r = self.rod_end
        yield at_least(
            "end.male", f"{field}.rod_end", 1.0 if r.gender == "male" else 0.0, 1.0,
            "a female rod end does not screw into the body", "choose a male rod end", "",
        )  # fmt: skip
        yield at_least(
            "end.head", f"{field}.thread_length", self.reach, self.full_thread + r.head_diameter / 2.0,
            "so much thread would run into the eye of the rod end", "measure thread and shank again",
        )  # fmt: skip
        yield swing_rule(f"{field}.swing_needed", r, self.gap, self.swing_needed)
        yield male_class(f"{field}.rod_end", r.thread)
        bolt = np.asarray(self.bolt_diameter, float)
        if self.spacers == "plain":
            yield at_most(
                "end.bolt", f"{field}.bolt", bolt, r.bore + 0.01, "the bolt does not enter the ball",
                "choose a thinner bolt or a larger rod end",
            )  # fmt: skip
            yield at_least(
                "end.loose", f"{field}.bolt", bolt, r.bore - LOOSE_PIN,
                "the bolt rattles in the ball (common practice, no source)",
                "choose a bolt that fills the ball, or high misalignment spacers that sleeve it",
            )  # fmt: skip
            return
        yield at_most(
            "end.spigot", f"{field}.bolt", bolt, r.bore - 2.0 * SPIGOT_WALL,
            "the spigot of the spacer would have less than 1 mm of wall",
            "state a thinner bolt, or choose a larger rod end",
        )  # fmt: skip
        yield at_least(
            "end.collar", f"{field}.spacer", self.spacer, 1.0,
            "a high misalignment spacer needs a collar outside the ball", "give it a length of 1 mm or more",
        )  # fmt: skip

    def details(self, name: str, link: Material, modes: Any) -> Sequence[Detail]:
        """The thread of the shank; `modes` gives the part's checks under a load case."""
        stress = demand_of(modes, f"{name} shank")
        return [thread_spot(f"{name} shank", self.thread, material(self.steel.name), stress)]

    def facts(self, name: str) -> dict[str, tuple[Any, str]]:
        """Swing left and the jam nut's torque."""
        left = np.degrees(np.asarray(self.swing(), float) - self.swing_needed)
        torque = self.jam_nut.tightening(self.thread, material(self.steel.name).yield_strength)
        return {
            f"swing to one side at end {name}": (np.degrees(self.swing()), "deg"),
            f"swing left over what is needed at end {name}": (left, "deg"),
            f"jam nut torque at end {name}": (torque / 1000.0, "N*m"),
        }

    def bought(self, name: str) -> list[Bought]:
        """The rod end, its jam nut, and its spacers."""
        r, fits = self.rod_end, f"end {name}"
        measured = ""
        if self.shank is not None or self.thread_length is not None:
            reach, full = float(self.reach), float(self.full_thread)
            measured = f", shank {reach:g} mm from the pin, {full:g} mm of it threaded"
        found = [
            Bought(f"rod end {r.designation}{measured}", 1, fits, r.source),
            Bought(f"jam nut {self.thread.designation}", 1, fits, self.nut.source),
        ]
        if np.any(np.asarray(self.spacer) > 0.0):
            face, long, bolt = (
                float(x) for x in (r.face_diameter, self.spacer, self.bolt_diameter)
            )
            size = f"{face:.4g} mm over its shoulder, {long:.4g} mm long, for a {bolt:.4g} mm bolt"
            kind = "spacer" if self.spacers == "plain" else "high misalignment spacer"
            found.append(Bought(f"{kind} {size}", 2, f"{fits}, one on each side of the ball"))
        return found

    def kinds(self, name: str) -> list[Kind]:
        """What can fail of it."""
        return [Kind("rod end", name), Kind("jam nut", name)]

    def modes(
        self, name: str, force: EndForce, bow: Any, free: Any, case: str, required: Required
    ) -> Iterator[Check]:
        """Head, race, shank and jam nut.

        Args:
            name: prefix of the checks' names.
            force: what the pin does to the end.
            bow: moment on the shank from the load's eccentricity [N*mm], a number or worked.
            free: length of shank between the ball's centre and the jam nut at the longest [mm].
            case: name of the load case.
            required: the factors asked for.

        Returns:
            The checks.
        """
        yield from self._head(name, force, case, required)
        t, steel = self.thread, material(self.steel.name)
        yield check(
            f"{name} shank", "bent shank", load_case=case, unit="MPa", required=required.on_yield,
            demand=work(
                rodend.shank_stress, N=force.pull, V=force.sideways, L=free, d3=t.minor_external, M=bow
            ),
            capacity=steel.yield_strength, note="at the longest, held at the jam nut",
        )  # fmt: skip
        strengths = (steel.yield_strength, steel.shear_ultimate)
        yield from jam_modes(name, self.jam_nut, t, *strengths, force, case, required)

    def _head(self, name: str, force: EndForce, case: str, required: Required) -> Iterator[Check]:
        r, sigma = self.rod_end, material(self.steel.name).yield_strength
        on: dict[str, Any] = {"load_case": case, "unit": "N", "required": required.on_yield}
        size = {"D": r.head_diameter, "T": r.head_width, "K": r.ball_diameter}
        flat, ball = work(rodend.head_area_flat, **size), work(rodend.head_area_round, **size)
        area = flat if np.all(flat.value <= ball.value) else ball
        head = work(rodend.head_capacity, A=area, sigma=sigma)
        race = work(rodend.race_capacity, E=r.ball_diameter, T=r.head_width, p=sigma)
        least = np.minimum(head.value, race.value)
        if self.rating is not None:
            yield check(
                f"{name} head, maker's rating", "rod end head", demand=force.radial, capacity=self.rating, **on
            )  # fmt: skip
            least = self.rating
        else:
            yield check(
                f"{name} head", "rod end head", demand=force.radial, capacity=head, note=RATING_NOTE, **on
            )  # fmt: skip
            yield check(
                f"{name} race", "rod end race", demand=force.radial, capacity=race, note=RATING_NOTE, **on
            )  # fmt: skip
        if np.any(np.asarray(force.along_pin) != 0.0):
            yield check(
                f"{name} ball along the pin", "rod end ball", demand=np.abs(force.along_pin),
                capacity=work(rodend.axial_capacity, C_0=least), **on,
            )  # fmt: skip


def jam_modes(
    name: str,
    lock: JamNutLock,
    thread: Thread,
    yield_strength: Any,
    shear: Any,
    force: EndForce,
    case: str,
    required: Required,
) -> Iterator[Check]:
    """The jam nut: whether it can be tightened so, keeps its bite under a pull, and bears a push on top of it.

    Args:
        name: prefix of the checks' names.
        lock: how it is tightened.
        thread: the thread of the shank.
        yield_strength: of the shank [MPa].
        shear: shear strength of shank and nut [MPa].
        force: what acts on the end.
        case: name of the load case.
        required: the factors asked for.

    Returns:
        The checks.
    """
    nut = jam_nut(thread.designation)
    bite = lock.bite(thread, yield_strength)
    most = work(joint.greatest_preload, F=bite, scatter=SCATTER)
    own, other = thread.external(), thread.internal()
    area = work(
        screw.external_strip_area, p=thread.pitch, L_e=nut.height - NUT_CHAMFERS * thread.pitch,
        D1_max=other.minor_max, d2_min=own.pitch_min,
    )  # fmt: skip
    limit = work(
        joint.jam_preload_limit,
        A_n=area,
        tau_n=shear,
        A_s=thread.stress_area,
        sigma_p=yield_strength,
    )
    on: dict[str, Any] = {"load_case": case, "unit": "N"}
    yield check(
        f"{name} jam nut, tightening", "jam nut", demand=most, capacity=limit, required=1.0,
        note=f"bite at its greatest, {SCATTER:.0%} over; the nut taken as strong as the shank", **on,
    )  # fmt: skip
    pull, push = np.maximum(force.pull, 0.0), np.maximum(-np.asarray(force.pull), 0.0)
    if np.any(pull > 0.0):
        yield check(
            f"{name} jam nut, bite", "jam nut lets go", required=1.0, capacity=bite,
            demand=work(joint.jam_preload_needed, P=pull), note="a jam nut that lets go backs off", **on,
        )  # fmt: skip
        whole = work(rodend.shank_capacity, d3=thread.minor_external, sigma=yield_strength)
        yield check(
            f"{name} shank beside its jam nut", "thread tension", required=required.on_yield, demand=pull,
            capacity=work(link.left_by_preload, F_0=whole, F_j=most),
            note="yield of the shank less the greatest bite of its jam nut: the whole pull adds to it", **on,
        )  # fmt: skip
    if np.any(push > 0.0):
        strip = work(screw.strip_capacity, A=area, tau=shear)
        yield check(
            f"{name} jam nut, strip", "thread strip", required=required.on_ultimate, demand=push,
            capacity=work(link.left_by_preload, F_0=strip, F_j=most),
            note="strip of its few threads less its greatest bite: the whole push adds to it", **on,
        )  # fmt: skip
