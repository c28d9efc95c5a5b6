"""Blind rivet nuts that the base's bolts screw into, set in the sheet or tube that it stands on."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.group import Group
from parts.core.loads import LoadCase, Required
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


class RivetNuts(Group):
    """Rivet nuts of steel, one for each bolt of the base."""

    sheet: PositiveLength = Field(
        description="Thickness of the sheet or wall that they are set in."
    )
    material: MaterialName = Field(description="Material of that sheet.")

    def nut(self, thread: Thread) -> RivetNut:
        """The rivet nut of a thread."""
        return rivet_nut(thread)

    def rules(self, bolts: PadBolts, under_head: Any) -> Iterator[Rule]:
        """Rules of the sheet that they grip, and of the bolts' length."""
        of = bolts.of_thread
        assert of is not None
        nut, field = self.nut(of), "base.into"
        low, high = nut.sheet
        for kind, code, limit in ((at_least, "thin", low), (at_most, "thick", high)):
            yield kind(f"rivet_nut.{code}", f"{field}.sheet", self.sheet, limit,
                f"no rivet nut {of.basic} grips such a sheet (from memory)",
                "choose another size, or nuts behind it")  # fmt: skip
        if bolts.bolt is not None and bolts.bolt.length > 0.0:
            needs = under_head + self.below(of) + of.major
            yield at_least("rivet_nut.short", "base.bolts.bolt", bolts.bolt.length, needs,
                "the bolt does not reach a diameter into the rivet nut's thread", "take a longer bolt")  # fmt: skip

    def below(self, thread: Thread) -> Any:
        """From the head of a nut through the sheet and its folded collar to its thread [mm]."""
        nut = self.nut(thread)
        return nut.head + self.sheet + 2.0 * nut.wall

    def collar(self, thread: Thread) -> Any:
        """Pull at which the collar gives [N]."""
        nut = self.nut(thread)
        mean = nut.hole - nut.wall
        return work(sheet.collar_load, D=mean, t=nut.wall, S_y=_metal().yield_strength)

    def tightened(self, bolts: PadBolts) -> Any:
        """The stress to a share of which the bolts are tightened, in place of `proof`: less than set the nut [MPa]."""
        of = bolts.of_thread
        assert of is not None
        most = TIGHTENED * plain(self.collar(of)) / (1.0 + SCATTER)
        return np.minimum(bolts.proof, most / (PROOF_SHARE * bolts.area))

    def _torn_out(self, thread: Thread) -> Worked:
        """Pull at which a nut tears out of its sheet [N]."""
        hole = self.nut(thread).hole
        return work(
            sheet.pull_through_load, d_m=hole, t=self.sheet, F_u=self.material.ultimate_strength
        )

    def held(self, bolts: PadBolts) -> Any:
        """Pull that a nut bears in its sheet [N]."""
        of = bolts.of_thread
        assert of is not None
        return np.minimum(plain(self._torn_out(of)), plain(self.collar(of)))

    def modes(
        self, bolts: PadBolts, each: Any, case: LoadCase, required: Required
    ) -> Iterator[Check]:
        """What pulls a nut out, and what its body presses on; `each` as `bolt_modes` takes it."""
        of = bolts.of_thread
        assert of is not None
        nut, on = self.nut(of), partial(check, load_case=case.name)
        pull = np.maximum(each[..., 2], 0.0).max(axis=-1)
        shear = np.hypot(each[..., 0], each[..., 1]).max(axis=-1)
        yield on("rivet nut, torn out of its sheet", "pull through", unit="N", demand=pull,
            required=required.on_ultimate, capacity=self._torn_out(of),
            note="round its hole; the collar is wider")  # fmt: skip
        yield on("rivet nut, its collar gives", "pull through", unit="N", demand=pull, required=required.on_yield,
            capacity=self.collar(of), note="by sizes from memory; its maker's figure governs")  # fmt: skip
        yield from strip_modes("rivet nut", of, bolts.strengths.shear, _metal(), nut.thread_length, pull, case.name,
            required, nut.hole)  # fmt: skip
        pressed = work(lug.bearing_stress, P=shear, D_p=nut.hole, t=self.sheet)
        m = self.material
        for kind, strength, factor in required.both(m.bearing_yield_ed15, m.bearing_ultimate_ed15):
            yield on(f"rivet nut, bearing on its sheet, {kind}", "bearing", unit="MPa", demand=pressed,
                capacity=strength, required=factor, note="its hole a diameter and a half from every edge")  # fmt: skip


def _metal() -> Material:
    return material(SOFTEST, thickness_mm=10.0)
