"""A bolt that clamps a shouldered piece against a face: a footpeg, a lever's shoulder bolt, a stop."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.feature import Site
from parts.core.group import Group
from parts.core.loads import LoadCase, Required
from parts.core.part import Bought
from parts.core.rules import Rule, at_least
from parts.features.bolts.hardware import surface_of
from parts.features.bolts.lengths import of_size
from parts.features.bolts.pattern import strengths_of, tightened_as
from parts.features.bolts.tired import tired_bolt
from parts.features.bolts.torque import PROOF_SHARE, SCATTER
from parts.features.pins.bought_pin import BoltSize, row_of
from parts.features.thread.threaded import LEAST_FRICTION, NO_TWIST, strip_strengths
from parts.inputs.designations import ThreadName
from parts.standards.fasteners.bolt_form import BoltClass, bolt_class
from parts.standards.materials.materials import Material
from parts.strength.bolted import joint, plate
from parts.strength.bolted import thread as strip
from parts.strength.bolted.split_clamp import head_pressure
from parts.strength.bolted.threads_loaded import moment_as_pull
from parts.strength.method import Worked, work

STRONG_BOLT = 830.0
"""Bolts over this tensile strength [MPa] are counted with the lower share in shear."""
SHEAR_SOURCE = (
    "EN 1993-1-8:2005, table 3.4, thread in shear: 0.6 to class 8.8, 0.5 above, from memory"
)
CREEPS = 0.75
"""Pressure under a head at which soft metal creeps away, and the preload with it, in tensile strengths [-]: the least
share that VDI 2230-1:2003, Table A9, prints for any metal of its list."""
LEAST_IN_LIGHT_METAL = 1.5
"""Engagement in diameters that a tapped hole of light alloy needs; common practice, no source."""


class Threaded(Group):
    """A thread and the class of its bolt."""

    bolt: BoltSize | None = Field(
        None,
        description="The bolt by its size and class without its length, as M8 10.9 or 3/8-24 grade 8, in place of "
        "`thread` and `bolt_class`.",
    )
    thread: ThreadName = Field(
        None,  # type: ignore[assignment]
        description="Thread of the bolt, as M8 or 3/8-24 UNF, where `bolt` does not name it.",
    )
    bolt_class: str = Field(
        "8.8", max_length=20, description="Property class or grade of the bolt, as 8.8 or grade 8."
    )

    @model_validator(mode="before")
    @classmethod
    def _takes_what_its_bolt_states(cls, data: Any) -> Any:
        if not isinstance(data, Mapping):
            return data
        if not data.get("bolt"):
            if data.get("thread") is None:
                raise ValueError(
                    "no `thread`; name the bolt, as in `bolt: M8 10.9`, or state `thread`"
                )
            return data
        if said := [name for name in ("thread", "bolt_class") if data.get(name) is not None]:
            raise ValueError(
                f"a `bolt` states its own {' and '.join(said).replace('_', ' ')}: leave that out"
            )
        of = row_of(of_size, data["bolt"])
        if of is None:
            return {**data, "thread": "M8"}
        return {**data, "thread": of.thread.designation, "bolt_class": of.strength.name}

    @model_validator(mode="after")
    def _is_a_class(self) -> Threaded:
        _ = self.strength
        return self

    def given(self) -> frozenset[str]:
        return frozenset(("thread", "bolt_class")) if self.bolt else frozenset()

    @property
    def named(self) -> str:
        """Thread and class of the bolt, and its head where that is no hexagon."""
        if self.bolt and self.strength.proof is None:  # an aircraft bolt is ordered by its number
            return self.bolt
        head = of_size(self.bolt).head if self.bolt else "hex"
        return f"{self.thread.basic} {self.bolt_class}" + ("" if head == "hex" else f" {head}")

    def bought_open(self, fits: str, here: str, kind: str = "bolt") -> Bought:
        """The line of the bill for a bolt whose length the part cannot know, because it holds something else too.

        Args:
            fits: what it is for.
            here: what of this part it goes through.
            kind: of bolt.
        """
        return Bought(f"{self.named} {kind}, length open", 1, f"{fits}, {here}")

    @property
    def strength(self) -> BoltClass:
        """Strength of the bolt."""
        return (
            of_size(self.bolt).strength if self.bolt else bolt_class(self.bolt_class, self.thread)
        )

    def touching(self, site: Any) -> dict[str, str]:
        """The surface of the bolt, by name."""
        return {f"bolts of class {self.bolt_class}": surface_of(self.bolt_class)}

    @property
    def shear_ultimate(self) -> float:
        """Shear strength of the bolt with its thread in the shear plane [MPa]; see SHEAR_SOURCE."""
        ultimate = self.strength.ultimate
        return (0.6 if ultimate <= STRONG_BOLT else 0.5) * ultimate

    def shear_load(self) -> float:
        """Shear [N] that the bolt bears with its thread in the plane."""
        return float(self.shear_ultimate * self.thread.stress_area)

    def bolt_modes(
        self, name: str, tension: Any, shear: Any, case: str, required: Required, note: str = ""
    ) -> Iterator[Check]:
        """The bolt under tension and shear together, and its tension against the proof load."""
        of, strength = self.thread, strengths_of(self.strength)
        area = strip.stress_area_unified if of.is_inch else strip.stress_area_iso
        tensile = work(area, d=of.major, p=of.pitch)
        use = work(
            plate.elliptical_use, T=tension, V=shear, T_u=strength.ultimate * tensile.value,
            V_u=self.shear_ultimate * tensile.value,
        )  # fmt: skip
        yield check(
            f"{name} bolt, tension and shear", "bolt", load_case=case, demand=use, capacity=1.0, unit="-",
            required=required.on_ultimate,
            note=f"class {self.strength.name}; shear strength by {SHEAR_SOURCE}" + (f"; {note}" if note else ""),
        )  # fmt: skip
        proof = self.strength.proof or strength.on_yield
        pull = tension.value if hasattr(tension, "value") else tension
        yield check(
            f"{name} bolt, proof load", "bolt", load_case=case, demand=np.maximum(pull, 0.0),
            capacity=proof * tensile.value, unit="N", required=required.on_yield,
            note="" if self.strength.proof else "its table states none: its yield, taken as a share of its ultimate",
        )  # fmt: skip

    @property
    def preload(self) -> float:
        """What the bolt is tightened to in the mean [N]; see `tightened_as`."""
        return float(PROOF_SHARE * self.tightened_to * self.thread.stress_area)

    @property
    def tightened_to(self) -> float:
        """The stress to a share of which it is tightened [MPa]."""
        return tightened_as(self.strength, self.thread)

    @property
    def _tightened_how(self) -> str:
        if self.strength.proof is None:
            return (
                "tightened by the published torque of an aircraft nut, in the middle of its range"
            )
        return "tightened to three quarters of the proof load"

    def least_preload(self, loss: Any = 0.0) -> Worked:
        """The preload that is sure to be there [N]: the least that the wrench gives, less what settling takes."""
        return work(joint.least_preload, F=self.preload, scatter=SCATTER, loss=loss)

    def seated_mode(
        self, name: str, pull: Any, case: str, required: Required, loss: Any = 0.0
    ) -> Check:
        """The joint against opening: what the bolt clamps would rock, and the bolt would bend with it."""
        return check(
            f"{name} joint, opening at the least preload", "joint opening", load_case=case, demand=pull,
            capacity=self.least_preload(loss), unit="N", required=required.on_yield,
            note=f"{self._tightened_how}, the wrench 35 % off",
        )  # fmt: skip

    def shut_modes(
        self,
        name: str,
        pull: Any,
        moment: Any,
        ring: tuple[Any, Any],
        case: LoadCase,
        loss: Any = 0.0,
    ) -> Iterator[Check]:
        """The joint closed all round under a load that comes and goes; nothing where the case states no spectrum.

        One that gaps on one side bends its bolt at every load.

        Args:
            name: of the bolt.
            pull: off the face [N].
            moment: that tilts it [N*mm].
            ring: outside and inside diameter of the face that bears [mm].
            case: the load case.
            loss: what settling takes of the preload [N].

        Returns:
            One check.
        """
        if not case.spectrum:
            return
        yield check(
            f"{name} joint, opening at the least preload on one side", "joint opening", load_case=case.name, unit="N",
            demand=work(
                joint.closing_preload, N=np.maximum(pull, 0.0), M=moment, D=ring[0], d=ring[1],
                s=max(block.share for block in case.spectrum),
            ),
            capacity=self.least_preload(loss), required=1.0,
            note=f"under the largest block of the spectrum; {self._tightened_how}, the wrench 35 % off",
        )  # fmt: skip

    def turned_mode(
        self,
        name: str,
        pull: Any,
        twist: Any,
        ring: tuple[Any, Any],
        case: LoadCase,
        required: Required,
        loss: Any = 0.0,
    ) -> Check:
        """A twist about the bolt that turns what it clamps, and unscrews it one way: friction of the face holds it.

        Args:
            name: of the bolt.
            pull: off the face [N].
            twist: about the bolt [N*mm].
            ring: outside and inside diameter of the face that bears [mm].
            case: the load case.
            required: the factors asked for.
            loss: what settling takes of the preload [N].
        """
        twist, off = np.abs(twist), required.on_yield * np.maximum(pull, 0.0)
        clamped = np.maximum(self.least_preload(loss).value - off, 0.0)
        return check(
            f"{name} joint, turned on its face", "unscrewing", load_case=case.name, unit="N*mm",
            demand=np.where(twist > NO_TWIST, twist, 0.0), required=required.on_yield,
            capacity=work(joint.face_friction, F=clamped, mu=LEAST_FRICTION, D=ring[0], d=ring[1]),
            note=f"{self._tightened_how}, the wrench 35 % off; the pull times its factor taken off; the shear is the "
            "bolt's",
        )  # fmt: skip

    def tired_modes(
        self,
        name: str,
        pull: Any,
        case: LoadCase,
        site: Site,
        felt: Any = 1.0,
        loss: Any = 0.0,
        bent: Any = 0.0,
    ) -> Iterator[Check]:
        """The bolt's thread under a pull that comes and goes: `tired_bolt`, less what settling takes [N]."""
        yield from tired_bolt(
            name, self.thread, self.least_preload(loss), pull, case, site, felt, bent
        )

    @property
    def most_preload(self) -> Worked:
        """The greatest that the wrench may pull the bolt to [N]."""
        return work(joint.greatest_preload, F=self.preload, scatter=SCATTER)

    def tightened_modes(self, name: str, metal: Material, engagement: Any) -> Iterator[Check]:
        """The thread tapped in the part while the bolt is tightened."""
        _, tapped = strip_strengths(
            self.thread, engagement, self.shear_ultimate, metal.shear_ultimate
        )
        yield check(
            f"{name} tapped thread, stripped by tightening", "thread strip", load_case="", unit="N",
            demand=self.most_preload, capacity=tapped, required=1.0,
            note=f"{self._tightened_how}, the wrench 35 % over",
        )  # fmt: skip

    def pressed_mode(
        self, name: str, under: str, metal: Material, outside: Any, inside: Any
    ) -> Check:
        """The metal under a head, washer or shoulder at the greatest preload."""
        return check(
            f"{name}, pressure under the {under}", "head pressure", load_case="", unit="MPa",
            demand=work(head_pressure, F=self.most_preload, d_w=outside, d_h=inside),
            capacity=CREEPS * metal.ultimate_strength, required=1.0,
            note=f"{CREEPS:g} of the tensile strength, the least share that VDI 2230-1:2003, Table A9, prints for any "
            "metal of its list",
        )  # fmt: skip

    def strip_modes(
        self,
        name: str,
        metal: Material,
        engagement: Any,
        tension: Any,
        case: str,
        required: Required,
        how: str = "strip",
    ) -> Iterator[Check]:
        """Stripping of the thread tapped in the part, and of the bolt's, at minimum material."""
        bolt, tapped = strip_strengths(
            self.thread, engagement, self.shear_ultimate, metal.shear_ultimate
        )
        for side, strength in (("tapped", tapped), ("bolt", bolt)):
            yield check(
                f"{name} {side} thread, {how}", "thread strip", load_case=case, demand=tension,
                capacity=strength, unit="N", required=required.on_ultimate,
            )  # fmt: skip

    def pull_out_modes(
        self, name: str, metal: Material, engagement: Any, force: Any, moment: Any, case: str,
        required: Required,
    ) -> Iterator[Check]:  # fmt: skip
        """The thread pulled out on one side by the moment at its mouth, as of a screw that has come loose."""
        pull = work(
            moment_as_pull, N=np.maximum(force[..., 2], 0.0), M=np.hypot(moment[..., 0], moment[..., 1]),
            d2=self.thread.pitch_diameter,
        )  # fmt: skip
        yield from self.strip_modes(
            name, metal, engagement, pull, case, required, "pulled out by its moment"
        )

    def engagement_rule(self, field: str, engagement: Any, metal: Material) -> Rule:
        """The least thread engaged, more in light alloy than in steel."""
        share = 1.0 if metal.shear_ultimate > 450.0 else LEAST_IN_LIGHT_METAL
        return at_least(
            "thread.engagement", field, engagement, share * self.thread.major,
            f"{self.thread.basic} tapped in this metal needs {share:g} diameters of thread "
            "(common practice, no source)",
            "thicken the plate, add a boss, or choose a smaller thread",
        )  # fmt: skip
