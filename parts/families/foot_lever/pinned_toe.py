"""A toe with a steel peg pressed into it, and a spring pin across the peg."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Annotated, Any, Literal

import numpy as np
from pydantic import AfterValidator, Field, model_validator

from parts.core.check import Check, check
from parts.core.clearances import Clearance, of_limits
from parts.core.fatigue_places import Detail, Spot, demand_of
from parts.core.feature import Answers, Modes
from parts.core.group import Group
from parts.core.loads import LoadCase, Required
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.foot_lever.toe_boss import BEYOND, PeggedToe
from parts.features.arm.tip import AtTip
from parts.features.pins.post import bar_modes, hole_modes
from parts.features.press.fit import FINE, FitPair, freed
from parts.features.press.pressed import Pressed
from parts.features.thread.threaded import DRILL_POINT
from parts.inputs.designations import MaterialName
from parts.inputs.quantities import PositiveLength
from parts.standards.fasteners.pins import SpringPin, spring_pin
from parts.standards.fits.fits import Fit, fit
from parts.standards.fits.iso286 import class_limits
from parts.strength.method import work
from parts.strength.pinned import pin as pins
from parts.strength.pinned import stop_pin

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Hole, Marks


X, Y, Z = np.eye(3)
ACROSS = "toe peg at its cross pin"


def _known(designation: str) -> str:
    """A spring pin that its table holds."""
    return spring_pin(designation).designation


Cross = Annotated[str, Field(max_length=40, examples=["ISO 8752 3 x 20"]), AfterValidator(_known)]


class PinnedToe(Group, PeggedToe, Answers[AtTip]):
    """A boss with a steel peg pressed into it."""

    type: Literal["pinned"] = Field(
        "pinned", description="A boss with a steel peg pressed into it."
    )
    diameter: PositiveLength = Field(description="Outside diameter of the boss.")
    width: PositiveLength = Field(description="Width of the boss along the pivot.")
    peg: PositiveLength = Field(description="Diameter of the peg.")
    peg_material: MaterialName = Field(description="Material of the peg.")
    fit: FitPair = Field("H7/r6", description="Fit of the peg in the boss.")
    cross_pin: Cross | None = Field(
        None,
        description="A spring pin through the peg, from the tip in along the arm, as ISO 8752 3 x 20; none where left "
        "out.",
    )
    height_of_foot: PositiveLength = Field(
        description="From the face of the boss to where the foot bears."
    )
    side: Literal["away", "inward"] = Field(
        "away",
        description="The face that the peg stands on: away from the bracket, or toward it.",
    )

    @model_validator(mode="after")
    def _has_a_fit_of_the_standard(self) -> PinnedToe:
        _ = self._in_hole
        return self

    @property
    def across_peg(self) -> SpringPin | None:
        """The cross pin, by its table."""
        return None if self.cross_pin is None else spring_pin(self.cross_pin)

    @property
    def _in_hole(self) -> Fit:
        return fit(self.fit, float(np.max(self.peg)))

    def _pressed(self, site: AtTip) -> Pressed:
        wall = (self.diameter - self.peg) / 2.0
        return Pressed("toe peg", self.peg, 0.0 * np.asarray(self.peg, float), wall, self.width, site.metal,
            self.peg_material, self.fit)  # fmt: skip

    def rules(self, site: AtTip) -> Iterator[Rule]:
        yield from self.boss_rules(site)
        yield at_least(
            "toe.seat", f"{site.field}.width", self.width, self.peg,
            "a pressed peg works loose in a hole this shallow (one diameter, pressed: common practice, no source)",
            "widen the boss, or take a thinner peg",
        )  # fmt: skip
        if (of := self.across_peg) is not None:
            yield at_most(
                "toe.cross_pin", f"{site.field}.cross_pin", of.nominal, self.peg / 3.0,
                "the cross pin takes more than a third of the peg (common practice, no source)", "take a thinner pin",
            )  # fmt: skip
            least = (self.diameter + self.peg) / 2.0 + of.nominal
            yield at_least(
                "toe.cross_short", f"{site.field}.cross_pin", of.length, least,
                "the cross pin does not reach a diameter into the boss behind the peg", "take a longer pin",
            )  # fmt: skip
            yield at_most(
                "toe.cross_long", f"{site.field}.cross_pin", of.length, least + 3.0 * of.nominal,
                "the cross pin's hole runs on into the arm", "take a shorter pin",
            )  # fmt: skip

    def kinds(self, site: AtTip) -> Sequence[Kind]:
        kept = (
            {}
            if self.across_peg is None
            else {"pulled out": "a cross pin keeps it, whose shear is checked"}
        )
        found = [Kind("post", "toe peg"), Kind("pressed pin", "toe peg", left_out=kept)]
        return [*found, Kind("pinned peg", "toe peg")] if kept else found

    def modes(self, site: AtTip, case: LoadCase) -> Iterator[Check]:
        required = site.required(case)
        force, moment = self.at_face(site, case)
        V = np.hypot(force[..., 0], force[..., 1])
        M = np.hypot(moment[..., 0], moment[..., 1])
        # The peg bends most a little below the face, where the hole has taken up the force.
        buried = work(stop_pin.buried_moment, V=V, h=M / np.where(V > 0.0, V, 1.0), L=self.width)
        bent = np.maximum(buried.value, M)[..., None] * X + moment * Z
        # What pulls the peg out, with what turns it in its hole, at its rim.
        drawn = np.hypot(force[..., 2], 2.0 * moment[..., 2] / self.peg)
        yield from bar_modes(
            "toe peg", self.peg_material, self.peg, force, bent, case.name, required
        )
        yield from hole_modes(
            "toe peg", site.metal, self.peg, self.width, force, moment, case.name, required
        )
        if self.across_peg is None:
            yield self._pressed(site).drawn_out(drawn, case.name, required)
            return
        yield check(
            "toe peg, its cross pin sheared", "shear", load_case=case.name, demand=drawn, unit="N",
            capacity=self.across_peg.double_shear, required=required.on_ultimate,
            note="least double shear of ISO 8752; the press is counted for nothing",
        )  # fmt: skip
        yield from self._across_modes(self.across_peg.nominal, force, moment, case, required)

    def _across_modes(
        self, hole: Any, force: Any, moment: Any, case: LoadCase, required: Required
    ) -> Iterator[Check]:
        """The peg at the hole of its cross pin, half way down: half of what bends it at the face is left there."""
        left = (
            np.abs(moment) / 2.0
            + np.abs(force)[..., (1, 0, 2)] * np.asarray(self.width)[..., None] / 8.0
        )
        plain_way = work(pins.bending_stress, M=left[..., 0], D=self.peg)
        drilled = work(pins.drilled_bending_stress, M=left[..., 1], D=self.peg, d=hole)
        metal = self.peg_material
        for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
            yield check(
                f"{ACROSS}, {kind}", "bending", load_case=case.name, demand=plain_way.value + drilled.value,
                capacity=strength, unit="MPa", required=factor,
                note="what pushes along the arm bends it where the hole comes out; pressed by its hole as a straight "
                "line has it, M/2 + V L/8 half way down",
            )  # fmt: skip

    def details(self, site: AtTip, modes: Modes) -> Sequence[Detail]:
        stress = demand_of(modes, "toe peg, bending at the root")
        found = [Spot("toe peg, root", self.peg_material, stress, self.peg, 2.0,
                      note="pressed into its hole: Peterson, press fits, about 2; from memory")]  # fmt: skip
        if self.across_peg is None:
            return found
        drilled = demand_of(modes, f"{ACROSS}, yield")
        across = Spot("toe peg, cross pin", self.peg_material, drilled, self.peg, 2.2,
                      note="hole across a round, on what it leaves: Peterson, up to 2.2; from memory")  # fmt: skip
        return [*found, across]

    def standing(self, site: AtTip) -> Iterator[Check]:
        """The boss about the peg at the tightest of its fit."""
        return self._pressed(site).modes()

    def clearances(self, site: AtTip) -> Sequence[Clearance]:
        pair = self._in_hole
        return [Clearance("toe: peg in its boss", f"{site.field}.fit", (of_limits("hole", pair.hole),),
            (of_limits("peg", pair.shaft),), "choose a tighter fit", goes="either")]  # fmt: skip

    def cautions(self, site: AtTip) -> Sequence[str]:
        return freed("the peg of the toe", self._in_hole)

    def facts(self, site: AtTip) -> Mapping[str, tuple[Any, str]]:
        return self._pressed(site).facts()

    def touching(self, site: AtTip) -> Mapping[str, str]:
        return {f"peg, {self.peg_material.name}": self.peg_material.galvanic_family}

    def bought(self, site: AtTip) -> Sequence[Bought]:
        long = float(np.max(self.width + self.height_of_foot * (1.0 + BEYOND)))
        made = f"peg {float(self.peg):.4g} x {long:.4g} mm, {self.peg_material.name}"
        found, of = [Bought(made, 1, f"toe, {self.fit}")], self.across_peg
        return (
            found
            if of is None
            else [*found, Bought(f"spring pin {of.designation}", 1, "toe", of.source)]
        )

    def across(self) -> cq.Workplane | None:
        """What the cross pin's hole takes out of the boss, in the axes of the toe; None without."""
        from parts.shapes.profile import cone, cylinder

        if self.across_peg is None:
            return None
        r, d = float(self.diameter) / 2.0, self.across_peg.nominal
        low, point = r - self.across_peg.length, d / 2.0 * float(DRILL_POINT)
        return cylinder(d, low, r + 1.0, "x").union(cone(0.0, d, low - point, low, "x"))

    def marks(self, site: AtTip) -> Marks:
        from parts.core.drawing import Hole, Marks

        half, of = float(self.width) / 2.0, self._in_hole.hole
        hole = Hole(
            "toe", (0, 0, half), -Z, float(self.peg), through=2 * half, fit=of.tolerance_class, limits=of.sizes,
            callout=f"{FINE}\nfor a pressed peg, {self.fit}",
        )  # fmt: skip
        return self.outside() + Marks(
            (), (hole, *self._cross_hole()), notes=tuple(self._cross_note())
        )

    def _cross_note(self) -> Iterator[str]:
        if (of := self.across_peg) is not None:
            yield (
                f"Toe: with the peg in its place drill for spring pin {of.designation} from the tip in along the "
                "arm, square to the peg, at half the width of the boss."
            )

    def _cross_hole(self) -> Iterator[Hole]:
        from parts.core.drawing import Hole

        if self.across_peg is None:
            return
        r, of = float(self.diameter) / 2.0, class_limits("H12", self.across_peg.nominal)
        yield Hole("cross pin", (r, 0, 0), -X, self.across_peg.nominal, depth=float(self.across_peg.length),
            fit=of.tolerance_class, limits=of.sizes, noted=True, when="with the peg in its place")  # fmt: skip
