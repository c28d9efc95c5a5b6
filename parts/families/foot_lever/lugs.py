"""Lugs of a lever: a short arm with a hole, for the hook of its spring or for the switch of its brake light."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, ClassVar

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.feature import Answers
from parts.core.group import Group
from parts.core.loads import Action, LoadCase, resultant
from parts.core.rules import Rule
from parts.core.ways import Kind
from parts.families.foot_lever.toe_boss import Toe
from parts.features.arm.arm import Arm
from parts.features.arm.tip import AtTip
from parts.features.section.notches import edge_hole
from parts.inputs.quantities import Angle, PositiveForce, PositiveLength
from parts.strength.method import work
from parts.strength.pinned import lug

if TYPE_CHECKING:
    from parts.core.drawing import Marks
    from parts.core.loadpath import Notch
    from parts.core.supports import Applied

Z = np.eye(3)[2]


class HookEnd(Group, Toe, Answers[AtTip]):
    """The round end of a lug, with a hole for a hook."""

    called: ClassVar[str] = "spring lug"

    diameter: PositiveLength = Field(description="Outside diameter of the end.")
    width: PositiveLength = Field(description="Width of the end along the pivot.")
    bore: PositiveLength = Field(description="Hole for the hook.")

    @property
    def hole(self) -> Any:
        return self.bore

    @property
    def drilled(self) -> Any:
        return self.bore

    @property
    def notch(self) -> Notch:
        return edge_hole(self.bore)

    @property
    def foot(self) -> float:
        """z of where it is pulled [mm]: its middle."""
        return 0.0

    def rules(self, site: AtTip) -> Iterator[Rule]:
        return self.boss_rules(site)

    def kinds(self, site: AtTip) -> Sequence[Kind]:
        return [Kind("hooked hole", self.called)]

    def modes(self, site: AtTip, case: LoadCase) -> Iterator[Check]:
        """The hole torn, torn out and crushed by the hook, each by the whole pull."""
        metal, required, name = site.metal, site.required(case), self.called
        force, _ = resultant(site.actions(case), np.zeros(3))
        P = np.linalg.norm(force, axis=-1)
        d, t, R = self.bore, self.width, self.diameter / 2.0
        net = work(lug.net_section_stress, P=P, w=self.diameter, D_h=d, t=t)
        for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
            yield check(
                f"{name} torn beside its hole, {kind}", "net tension", load_case=case.name, demand=net,
                capacity=strength, unit="MPa", required=factor,
            )  # fmt: skip
        yield check(
            f"{name} torn out", "shear-out", load_case=case.name, demand=P, unit="N", required=required.on_ultimate,
            capacity=work(lug.tear_out_load, R=R, D_h=d, t=t, F_s=metal.shear_ultimate),
        )  # fmt: skip
        # A hook touches a round wire's width of the edge, and beds in: half the width of the lug is counted.
        yield check(
            f"{name} crushed by its hook, yield", "bearing", load_case=case.name, unit="MPa",
            demand=work(lug.bearing_stress, P=P, D_p=d, t=t / 2.0), capacity=metal.bearing_yield_ed15,
            required=required.on_yield, note="half the width counts: the hook is round (common practice, no source)",
        )  # fmt: skip

    def hooked(self, pull: Sequence[Action]) -> Sequence[Applied]:
        """A pull on the wall of its hole, for finite elements."""
        from parts.core.supports import Applied, Round

        half = float(self.width) / 2.0
        wall = Round(np.zeros(3), Z, float(self.bore), -half, half)
        return (Applied(self.called, (wall,), tuple(pull), "bearing"),)

    def marks(self, site: AtTip) -> Marks:
        from parts.core.drawing import Hole, Marks

        half = float(self.width) / 2.0
        hole = Hole(self.called, (0, 0, half), -Z, float(self.bore), through=2 * half)
        return self.outside() + Marks((), (hole,))


class SwitchEnd(HookEnd):
    """The round end of a tab, with a hole for a switch."""

    called: ClassVar[str] = "switch tab"


class Lug(Arm):
    """A short arm with a hole at its end, for the hook of a spring."""

    angle: Angle = Field(description="From the arm to the lug, about the pivot's direction z.")
    end: HookEnd = Field(description="Its round end, and the hole in it.")


class SwitchTab(Arm):
    """A short arm with a hole at its end, that pulls a switch."""

    angle: Angle = Field(description="From the arm to the tab, about the pivot's direction z.")
    end: SwitchEnd = Field(description="Its round end, and the hole in it.")
    force: PositiveForce = Field(
        20.0, description="Pull of the switch; 20 N is common practice, no source."
    )
