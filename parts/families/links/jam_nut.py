"""The jam nut of a link's end: how tight it is, what its bite holds, and what it takes from shank and body."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.ways import Kind
from parts.families.links.sites import AtEnd
from parts.inputs.quantities import PositiveMoment
from parts.standards.fasteners.jam_nuts import JamNut, jam_nut
from parts.standards.threads.threads import Thread
from parts.strength.bolted import jam_nut as jam
from parts.strength.bolted import joint, stripping, tightening
from parts.strength.columns import link
from parts.strength.method import Worked, work
from parts.strength.pinned import rod_end as rodend
from parts.strength.section import bar

JAM_SHARE = 0.25
"""Bite of a jam nut over what yields its shank, where no torque is given [-]; common practice, no source."""
NUT_FACTOR = 0.2
"""Torque over that bite and diameter [-]: Shigley, Table 8-15, zinc plated or as received; from memory."""
SLIPPERY, DRY = 0.08, 0.20
"""Friction of thread and face, least and greatest [-]: oiled or plated, and dry; common practice, no source."""
WRENCH = 0.1
"""How far a wrench on a nut errs, its friction apart [-]; common practice, no source."""
SETTLED = 0.2
"""Bite that a short thick joint loses as it settles, as a share [-]; common practice, no source."""
NUT_CHAMFERS = 0.5
"""What both chamfers take from the thread of a jam nut, in pitches [-]; common practice, no source."""
NUT_FACE = 0.95
"""Outside of the face that a jam nut bears on, over its width across flats [-]: least in ISO 4035; from memory."""


NO_TORQUE = Kind(
    "jam nut",
    left_out={"unscrewed by torque": "no load case twists the link, or a ball lets it turn"},
)


class JamNutLock(Group):
    """The jam nut of an end and how tight it is."""

    torque: PositiveMoment | None = Field(
        None,
        description="Tightening torque; left out, that of a bite of a quarter of what yields the shank.",
    )

    def tightening(self, thread: Thread, yield_strength: Any) -> Any:
        """Torque [N*mm]."""
        if self.torque is not None:
            return self.torque
        force = JAM_SHARE * yield_strength * thread.stress_area
        return tightening.torque_by_nut_factor(force, thread.major, NUT_FACTOR)

    def kind(self, site: AtEnd) -> Kind:
        """What can fail of it."""
        return replace(NO_TORQUE, at=site.name)

    def modes(self, site: AtEnd, case: LoadCase) -> Iterator[Check]:
        """Whether it can be tightened so, keeps its bite under a pull and a torque, and bears a push on top of it.

        Args:
            site: the end that it locks.
            case: the load case.

        Returns:
            The checks.
        """
        of = _Locked(self, site)
        load, required = site.load(case), site.required(case)
        pull = np.maximum(load.force.pull, 0.0)
        push = np.maximum(-np.asarray(load.force.pull), 0.0)
        on: dict[str, Any] = {"load_case": case.name, "unit": "N"}
        name, metal = site.name, site.male
        yield check(
            f"{name} jam nut, tightening", "jam nut", demand=of.most, capacity=of.limit, required=1.0,
            note=f"bite at its greatest, friction {SLIPPERY:g}; the nut taken as strong as the shank", **on,
        )  # fmt: skip
        yield check(
            f"{name} face under its jam nut", "bearing", load_case=case.name, unit="MPa", required=1.0,
            demand=work(bar.direct_stress, F=work(joint.bolt_force, F_i=of.most, P=push, C=1.0), A=of.face_area),
            capacity=site.female().bearing_yield_ed15, note="greatest bite, and a push on top of it",
        )  # fmt: skip
        if np.any(pull > 0.0):
            yield check(
                f"{name} jam nut, bite", "jam nut lets go", required=1.0, capacity=of.least,
                demand=work(joint.jam_preload_needed, P=pull),
                note=f"bite at its least, friction {DRY:g}; a jam nut that lets go backs off", **on,
            )  # fmt: skip
            whole = work(
                rodend.shank_capacity, d3=of.thread.minor_external, sigma=metal.yield_strength
            )
            yield check(
                f"{name} shank beside its jam nut", "thread tension", required=required.on_yield, demand=pull,
                capacity=work(link.left_by_preload, F_0=whole, F_j=of.most),
                note="yield of the shank less the greatest bite of its jam nut: the whole pull adds to it", **on,
            )  # fmt: skip
        if np.any(push > 0.0):
            strip = work(stripping.strip_capacity, A=of.strip_area, tau=metal.shear_ultimate)
            yield check(
                f"{name} jam nut, strip", "thread strip", required=required.on_ultimate, demand=push,
                capacity=work(link.left_by_preload, F_0=strip, F_j=of.most),
                note="strip of its few threads less its greatest bite: the whole push adds to it", **on,
            )  # fmt: skip
        if np.any(np.asarray(load.twist) > 0.0):
            yield check(
                f"{name} jam nut, torque", "unscrewing", load_case=case.name, unit="N*mm",
                required=required.on_yield, demand=load.twist, capacity=of.holds,
                note=f"friction {SLIPPERY:g}; of the two threads a torque unscrews one, whatever their hands",
            )  # fmt: skip


class _Locked:
    """A jam nut on its thread and against its body."""

    def __init__(self, lock: JamNutLock, site: AtEnd) -> None:
        end = site.link.ends[site.i]
        self.thread, self.nut, self.metal = end.thread, end.nut, site.male
        self.torque = lock.tightening(self.thread, self.metal.yield_strength)
        inside = self.thread.major + 2.0 * site.edge_break
        outside = np.minimum(NUT_FACE * self.nut.across_flats, site.face - 2.0 * site.edge_break)
        self.face_area = np.pi / 4.0 * (np.square(outside) - np.square(inside))
        self.turns: dict[str, Any] = {
            "d2": self.thread.pitch_diameter, "p": self.thread.pitch, "D_b": 0.5 * (inside + outside)
        }  # fmt: skip

    @property
    def least(self) -> Worked:
        """Bite that can be counted on [N]."""
        firm = work(
            jam.least_bite, T=self.torque, mu_most=DRY, scatter=WRENCH, **self.turns
        )  # fmt: skip
        return work(joint.least_preload, F=firm, scatter=SETTLED)

    @property
    def most(self) -> Worked:
        """Greatest bite [N]."""
        slippery = work(
            tightening.preload_by_friction,
            T=self.torque,
            mu_t=SLIPPERY,
            mu_b=SLIPPERY,
            **self.turns,
        )
        return work(joint.greatest_preload, F=slippery, scatter=WRENCH)

    @property
    def holds(self) -> Worked:
        """Torque along the link that it holds [N*mm]."""
        return work(
            jam.torque_held, T=self.torque, mu=SLIPPERY, scatter=WRENCH, loss=SETTLED, **self.turns
        )

    @property
    def strip_area(self) -> Worked:
        """Area at which the shank's thread strips in the nut [mm^2]."""
        own, other, pitch = self.thread.external(), self.thread.internal(), self.thread.pitch
        return work(
            stripping.external_strip_area, p=pitch, L_e=self.nut.height - NUT_CHAMFERS * pitch,
            D1_max=other.minor_max, d2_min=own.pitch_min,
        )  # fmt: skip

    @property
    def limit(self) -> Worked:
        """Largest bite that its threads and the shank bear [N]."""
        return work(
            joint.jam_preload_limit, A_n=self.strip_area, tau_n=self.metal.shear_ultimate,
            A_s=self.thread.stress_area, sigma_p=self.metal.yield_strength,
        )  # fmt: skip


def nut_of(thread: Thread) -> JamNut:
    """The jam nut of a thread."""
    return jam_nut(thread.designation)
