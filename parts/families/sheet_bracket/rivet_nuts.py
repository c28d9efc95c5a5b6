"""Blind rivet nuts that bolts screw into: of the base in what it stands on, of a leg in its own sheet."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any, Literal, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.group import Group
from parts.core.loads import LoadCase, Required
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.features.bolts.pattern import PadBolts
from parts.features.bolts.torque import PROOF_SHARE, SCATTER
from parts.features.thread.threaded import strip_modes
from parts.inputs.designations import MaterialName
from parts.inputs.quantities import PositiveLength
from parts.standards.fasteners.rivet_nuts import RivetNut, rivet_nut
from parts.standards.materials.materials import Material, material
from parts.standards.threads.threads import Thread
from parts.strength.method import Worked, plain, work
from parts.strength.pinned import lug
from parts.strength.plates import sheet

SOFTEST = "S235JR"
"""Steel that stands in for that of rivet nuts, which is no softer; from memory."""
TIGHTENED = 2.5
"""Greatest preload over the load that unfolds a collar [-]. A bolt pulls its nut as setting did, which pressed the fold
flat at some three times that load (M6: 12 kN); from memory."""


class SetNut(NamedTuple):
    """A rivet nut of steel in a sheet: what it is called, its thread, the sheet's thickness [mm] and metal."""

    name: str
    thread: Thread
    sheet: Any
    metal: Material

    @property
    def nut(self) -> RivetNut:
        """The nut itself."""
        return rivet_nut(self.thread)

    @property
    def below(self) -> Any:
        """From its head through the sheet and its folded collar to its thread [mm]."""
        return self.nut.head + self.sheet + 2.0 * self.nut.wall

    @property
    def collar(self) -> Worked:
        """Pull at which the collar gives [N]."""
        mean = self.nut.hole - self.nut.wall
        return work(sheet.collar_load, D=mean, t=self.nut.wall, S_y=_metal().yield_strength)

    @property
    def torn_out(self) -> Worked:
        """Pull at which it tears out of its sheet [N]."""
        return work(
            sheet.pull_through_load, d_m=self.nut.hole, t=self.sheet,
            F_u=self.metal.ultimate_strength,
        )  # fmt: skip

    @property
    def held(self) -> Any:
        """Pull that it bears in its sheet [N]."""
        return np.minimum(plain(self.torn_out), plain(self.collar))

    def tightened(self, proof: Any, area: Any) -> Any:
        """The stress to a share of which its bolt is tightened, in place of `proof`: less than set the nut [MPa]."""
        most = TIGHTENED * plain(self.collar) / (1.0 + SCATTER)
        return np.minimum(proof, most / (PROOF_SHARE * area))

    def rules(self, field: str) -> Iterator[Rule]:
        """Rules of the sheet that it grips; `field` states its thickness."""
        low, high = self.nut.sheet
        for kind, code, limit in ((at_least, "thin", low), (at_most, "thick", high)):
            yield kind(f"rivet_nut.{code}", field, self.sheet, limit,
                f"no rivet nut {self.thread.basic} grips such a sheet (from memory)",
                "choose another size, or nuts behind it")  # fmt: skip

    def modes(
        self, male: Any, pull: Any, shear: Any, case: LoadCase, required: Required
    ) -> Iterator[Check]:
        """What pulls it out, and what its body presses on.

        Args:
            male: ultimate shear strength of its bolt [MPa].
            pull: on the worst nut [N].
            shear: on the worst nut [N].
            case: the load case.
            required: the factors asked for.
        """
        nut, on, m, name = self.nut, partial(check, load_case=case.name), self.metal, self.name
        yield on(f"{name}, torn out of its sheet", "pull through", unit="N", demand=pull,
            required=required.on_ultimate, capacity=self.torn_out,
            note="round its hole; the collar is wider")  # fmt: skip
        yield on(f"{name}, its collar gives", "pull through", unit="N", demand=pull, required=required.on_yield,
            capacity=self.collar, note="by sizes from memory; its maker's figure governs")  # fmt: skip
        yield from strip_modes(
            name,
            self.thread,
            male,
            _metal(),
            nut.thread_length,
            pull,
            case.name,
            required,
            nut.hole,
        )
        pressed = work(lug.bearing_stress, P=shear, D_p=nut.hole, t=self.sheet)
        for kind, strength, factor in required.both(m.bearing_yield_ed15, m.bearing_ultimate_ed15):
            yield on(f"{name}, bearing on its sheet, {kind}", "bearing", unit="MPa", demand=pressed,
                capacity=strength, required=factor, note="its hole a diameter and a half from every edge")  # fmt: skip

    def bought(self, count: int, fits: str) -> Bought:
        """It by size and hole."""
        nut = self.nut
        words = f"rivet nut {self.thread.basic}, steel, flat head, hole {nut.hole:g} mm"
        return Bought(words, count, fits, nut.source)


class RivetNutHole(Group):
    """A hole with a rivet nut set in it, for a bolt from the nut's head."""

    type: Literal["rivet nut"] = Field(
        "rivet nut",
        description="A rivet nut set in the leg, for a bolt that holds something against its head.",
    )


class RivetNuts(Group):
    """Rivet nuts of steel, one for each bolt of the base."""

    sheet: PositiveLength = Field(
        description="Thickness of the sheet or wall that they are set in."
    )
    material: MaterialName = Field(description="Material of that sheet.")

    def of(self, thread: Thread) -> SetNut:
        """One of them."""
        return SetNut("rivet nut", thread, self.sheet, self.material)

    def on(self, bolts: PadBolts) -> SetNut:
        """One of them on its bolt, which has a thread."""
        assert bolts.of_thread is not None
        return self.of(bolts.of_thread)

    def rules(self, bolts: PadBolts, under_head: Any) -> Iterator[Rule]:
        """Rules of the sheet that they grip, and of the bolts' length."""
        one = self.on(bolts)
        yield from one.rules("base.into.sheet")
        if bolts.bolt is not None and bolts.bolt.length > 0.0:
            needs = under_head + one.below + one.thread.major
            yield at_least("rivet_nut.short", "base.bolts.bolt", bolts.bolt.length, needs,
                "the bolt does not reach a diameter into the rivet nut's thread", "take a longer bolt")  # fmt: skip

    def modes(
        self, bolts: PadBolts, each: Any, case: LoadCase, required: Required
    ) -> Iterator[Check]:
        """What pulls a nut out, and what its body presses on; `each` as `bolt_modes` takes it."""
        pull = np.maximum(each[..., 2], 0.0).max(axis=-1)
        shear = np.hypot(each[..., 0], each[..., 1]).max(axis=-1)
        yield from self.on(bolts).modes(bolts.strengths.shear, pull, shear, case, required)


def _metal() -> Material:
    return material(SOFTEST, thickness_mm=10.0)
