"""Where a lever turns: a stub for two bearings, a bearing seat, or a boss for a shoulder bolt."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from typing import TYPE_CHECKING, Annotated, Any, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.clearances import Clearance, of_class, of_limits, within
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule, at_least
from parts.core.ways import Kind
from parts.families.foot_bracket.screw_post import ScrewPost
from parts.families.foot_bracket.stub import StubPivot
from parts.features.bearing_seat.strength import bearing_modes, groove_modes
from parts.features.bolts.hardware import (
    LEAST_SEAT_WALL,
    SEAT_WALL_SHARE,
    circlip_rules,
    seat_rules,
    seated,
)
from parts.features.plate.fixture import (
    Bore,
    Boss,
    Fixture,
    Turn,
    about,
    foot_of,
    over_plate,
    pad_radius,
    steps_of,
    under_plate,
)
from parts.features.plate.on_plate import OnPlate, along_z
from parts.features.plate.plate_feature import AtPoint
from parts.features.plate.roots import NEAT, plate_kind, rim_stress
from parts.features.plate.section.rims import Rim
from parts.features.press.fit import (
    AXIAL,
    CIRCLIP_THIN,
    RING_CLASS,
    RING_NARROW,
    HoleClass,
    freed,
    grooved,
)
from parts.features.press.pressed import Pressed
from parts.inputs.designations import BearingName
from parts.inputs.quantities import NonNegativeLength, Point2, PositiveLength
from parts.standards.fasteners.circlips import Circlip, circlip
from parts.standards.fits.fits import fit
from parts.standards.fits.iso286 import Limits, class_limits
from parts.standards.materials.materials import Material, material
from parts.strength.bearings import axial
from parts.strength.bearings import ball_bearing as ball
from parts.strength.method import work
from parts.strength.pinned import lug
from parts.strength.vectors import cross

if TYPE_CHECKING:
    from parts.core.drawing import Marks
    from parts.core.supports import Applied

RING = "4130 Q&T 125 ksi"
"""Steel that stands for that of a bearing's ring, which is stronger and as stiff."""
LEAST_LIP = 2.0
"""Least thickness of the lip that a bearing seats on [mm]; common practice, no source."""


class SeatPivot(Group, AtPoint):
    """A seat in the bracket for one or two ball bearings, with a lip behind them."""

    type: Literal["seat"] = Field(
        "seat",
        description="A seat in the bracket for one or two ball bearings, with a lip behind them.",
    )
    at: Point2 = Field(description="Where the pivot is.")
    bearing: BearingName = Field(description="The bearing by its designation, as 6202-2RS.")
    count: Literal[1, 2] = Field(1, description="Bearings in the seat.")
    lip: PositiveLength | None = Field(
        None,
        description="Bore of the lip that the outer ring seats on; as wide as the ring allows where left out.",
    )
    retention: Literal["circlip", "press"] = Field(
        "circlip", description="A circlip in the bore by DIN 472, or the press fit alone."
    )
    fit: HoleClass | None = Field(
        None,
        description="ISO 286 class of the seat; where left out K7 with a circlip, N7 where the press fit alone "
        "holds the ring: one step tighter than in steel, for light alloy; common practice, no source.",
    )
    height: NonNegativeLength = Field(
        0.0, description="From the outer face of the plate to where the lever loads the shaft."
    )
    boss: Boss | None = Field(None, description="A boss about the seat.")

    @property
    def clip(self) -> Circlip | None:
        """The circlip in the bore."""
        return circlip(self.bearing.outside, "bore") if self.retention == "circlip" else None

    @model_validator(mode="after")
    def _has_circlip_and_fits_of_the_standards(self) -> SeatPivot:
        self.fitted()
        return self

    @property
    def seat_class(self) -> str:
        """ISO 286 class of the seat. The outer ring stands; what lies loose in light alloy hammers itself looser."""
        return self.fit or ("N7" if self.clip is None else "K7")

    def fitted(self) -> Mapping[str, Limits]:
        """Limits of what is bored to a fit, by name.

        Raises:
            ValueError: the standards have no such fit or circlip at this diameter.
        """
        seat = class_limits(self.seat_class, self.bearing.outside)
        return {"seat": seat} | grooved(self.clip)

    @property
    def lip_bore(self) -> Any:
        """Bore of the lip [mm]."""
        return self.bearing.abutment().housing_max if self.lip is None else self.lip

    @property
    def depth(self) -> Any:
        """Depth of the seat from its mouth to the lip [mm]."""
        clip = self.clip
        kept = 0.0 if clip is None else clip.groove_width + clip.edge_margin
        return self.count * self.bearing.width + kept

    def low(self) -> Any:
        return under_plate(self.boss)

    def base(self) -> Any:
        return over_plate(self.boss)

    def load_height(self, thickness: Any) -> Any:
        return thickness + self.height

    def _steps(self, thickness: Any) -> tuple[Turn, ...]:
        face, clip, D = thickness + self.base(), self.clip, self.bearing.outside
        floor = face - self.depth
        lip = Turn(self.low(), floor, self.lip_bore)
        if clip is None:
            return lip, Turn(floor, face, D)
        groove = face - clip.edge_margin - clip.groove_width
        return (
            lip, Turn(floor, groove, D), Turn(groove, groove + clip.groove_width, clip.groove),
            Turn(groove + clip.groove_width, face, D),
        )  # fmt: skip

    @property
    def widest(self) -> Any:
        """Largest diameter cut [mm]."""
        return self.bearing.outside if self.clip is None else self.clip.groove

    def fixture(self, site: OnPlate) -> Fixture:
        outer, inner = steps_of(self.boss, site.thickness)
        pad = pad_radius(
            hole=self.widest,
            wall=site.plate.wall,
            foot=foot_of(self.boss),
            seat=0.0,
            edge_break=site.edge_break,
        )
        bores = (Bore(self._steps(site.thickness)),)
        return Fixture(
            site.name, site.field, self.at, pad, self.widest / 2.0, 0.0, outer, inner, bores
        )

    def marks(self, site: OnPlate) -> Marks:
        from parts.families.foot_bracket.seat_marks import seat_marks
        from parts.features.plate.pattern_marks import square_to_the_face

        marks = seat_marks(self.fixture(site), site, self.fitted(), self.bearing)
        return square_to_the_face(marks, site.name, self.fitted()["seat"].tolerance)

    def applied(self, site: OnPlate, case: LoadCase) -> Sequence[Applied]:
        """What acts on the wall of the seat."""
        fixture = self.fixture(site)
        return site.pressed(site.round_patch(fixture, fixture.bores[0].steps[1]), case)

    def rims(self, site: OnPlate) -> Sequence[Rim]:
        of, d = f"{site.name} seat, bearing, yield", self.bearing.outside
        room = about(self.boss, site.pad(self.fixture(site)))
        own = rim_stress(partial(self.modes, site), of, d, room, NEAT)
        return (Rim(self.at, d / 2.0, own),)

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        field, thickness, plate = site.field, site.thickness, site.plate
        room = thickness + self.base() - self.low()
        yield at_least(
            "seat.lip", f"{field}.bearing", room - self.depth, LEAST_LIP,
            "bearings, circlip and its wall leave no lip behind them in this plate",
            "thicken the plate, add a boss, or take a narrower bearing",
        )  # fmt: skip
        if self.clip is None:
            ring = class_limits(RING_CLASS, self.bearing.outside)
            yield at_least(
                "seat.press", f"{field}.fit", ring.mean - self.fitted()["seat"].mean, 0.0,
                "in the middle of both tolerances the ring is loose in its seat, and nothing else holds it "
                "(common practice, no source)",
                "choose a tighter fit, as N7, or a circlip",
            )  # fmt: skip
        around = self.widest + 2.0 * plate.wall if self.boss is None else self.boss.diameter
        yield from seat_rules(
            f"{field}.bearing", self.bearing, around, count=self.count, depth=self.depth,
            shoulder=self.lip_bore,
        )  # fmt: skip
        if self.clip is not None:
            rings = self.count * self.bearing.width
            yield from circlip_rules(
                f"{field}.bearing", self.clip, self.bearing.outside, rings, self.depth
            )
        if self.boss is not None:
            yield from self.boss.rules(f"{field}.boss", self.widest, plate.wall, site.edge_break)

    def kinds(self, site: OnPlate) -> Sequence[Kind]:
        name = site.name
        held = "rolling bearing", "bearing seat", "seat in a plate"
        return [*(Kind(kind, name) for kind in held), plate_kind(name, boss=False)]

    def modes(self, site: OnPlate, case: LoadCase) -> Iterator[Check]:
        name, metal, thickness = site.name, site.metal, site.thickness
        force, moment = site.felt(case)
        required = site.required(case)
        length = self.count * self.bearing.width
        top = 0.0 if self.clip is None else self.clip.groove_width + self.clip.edge_margin
        middle = moment - cross(along_z(-(top + length / 2.0)), force)
        yield from bearing_modes(
            name, self.bearing, self.count, self.bearing.width, force, middle, case.name, required
        )
        V, M = np.hypot(force[..., 0], force[..., 1]), np.hypot(middle[..., 0], middle[..., 1])
        pressure = work(
            lug.bearing_stress, P=V + 6.0 * M / length, D_p=self.bearing.outside, t=length
        )
        yield check(
            f"{name} seat, bearing, yield", "bearing", load_case=case.name, demand=pressure,
            capacity=metal.bearing_yield_ed15, unit="MPa", required=required.on_yield,
            note="P = V + 6 M/L: the pressure at the end of the seat",
        )  # fmt: skip
        off = np.maximum(force[..., 2], 0.0)
        if self.clip is not None:
            yield from groove_modes(name, metal, self.clip, off, case.name, required)
        else:
            wall = np.maximum(LEAST_SEAT_WALL, SEAT_WALL_SHARE * self.bearing.outside)
            yield self._pressed(name, metal, wall).drawn_out(off, case.name, required)
        lip = thickness + self.base() - self.low() - self.depth
        yield check(
            f"{name} lip, sheared off", "shear", load_case=case.name, demand=np.maximum(-force[..., 2], 0.0),
            capacity=work(
                axial.land_shear_load, d_g=self.bearing.outside, n=lip, tau=metal.shear_ultimate
            ),
            unit="N", required=required.on_ultimate,
        )  # fmt: skip

    def _pressed(self, name: str, metal: Material, wall: Any) -> Pressed:
        of = self.bearing
        if self.boss is not None:
            wall = (self.boss.diameter - self.widest) / 2.0
        race = ball.generic_pitch(of.bore, of.outside) + ball.generic_ball(of.bore, of.outside)
        return Pressed(
            f"{name} bearing", of.outside, race, wall, self.count * of.width, metal, material(RING),
            f"{self.seat_class}/{RING_CLASS}",
        )  # fmt: skip

    def standing(self, site: OnPlate) -> Iterator[Check]:
        """The metal about the ring at the tightest of its fit."""
        yield from self._pressed(site.name, site.metal, site.plate.wall).modes()

    def standing_on(self) -> tuple[Any, Any]:
        """Diameter of what the bearings press on in the plate, and the root fillet of a boss [mm]."""
        return (self.bearing.outside, None) if self.boss is None else self.boss.standing_on()

    def clearances(self, site: OnPlate) -> Sequence[Clearance]:
        """The rings in their seat, and between lip and circlip."""
        of, field = self.bearing, f"{site.field}.bearing"
        seat = of_limits("seat", self.fitted()["seat"])
        ring = of_class("outer ring", RING_CLASS, of.outside)
        found = [
            Clearance(
                f"{site.name}: bearing in its seat", f"{site.field}.fit", (seat,), (ring,), "choose another fit",
                goes="either",
            )
        ]  # fmt: skip
        if self.clip is not None:
            # The groove's outer side is measured from the floor; the circlip lies against it.
            rings = self.count * of.width
            room = within(
                "floor to the groove's outer side",
                rings + self.clip.groove_width,
                0.0,
                AXIAL,
                "as drawn",
            )
            wide = within("rings", rings, self.count * RING_NARROW, 0.0, "their maker")
            clip = within("circlip", self.clip.thickness, CIRCLIP_THIN, 0.0, "its maker")
            found.append(
                Clearance(
                    f"{site.name}: rings under the circlip",
                    field,
                    (room,),
                    (wide, clip),
                    "deepen the seat",
                )
            )
        return found

    def cautions(self, site: OnPlate) -> Sequence[str]:
        """What else must hold a ring that the press fit alone may leave free."""
        if self.clip is not None:
            return ()
        pair = fit(f"{self.seat_class}/{RING_CLASS}", self.bearing.outside)
        return freed(f"bearing {self.bearing.designation} in its seat", pair)

    def touching(self, site: OnPlate) -> dict[str, str]:
        return seated(self.bearing, self.clip)

    def bought(self, site: OnPlate) -> Sequence[Bought]:
        found = [Bought(self.bearing.designation, self.count, site.name, self.bearing.source)]
        if self.clip is not None:
            found.append(Bought(self.clip.designation, 1, site.name, self.clip.source))
        return found


class TappedPivot(ScrewPost):
    """A boss tapped for a shoulder bolt on which the lever turns."""

    type: Literal["tapped"] = Field(  # type: ignore[assignment]
        "tapped", description="A boss tapped for a shoulder bolt on which the lever turns."
    )

    def bought(self, site: OnPlate) -> Sequence[Bought]:
        return (Bought(f"{self.named} shoulder bolt", 1, site.name),)


Pivot = Annotated[StubPivot | SeatPivot | TappedPivot, Field(discriminator="type")]
"""Where a lever turns."""
