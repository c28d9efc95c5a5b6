"""Where a lever turns: a stub for two bearings, a bearing seat, or a boss for a shoulder bolt."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Annotated, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check
from parts.core.clearances import Clearance
from parts.core.feature import Modes
from parts.core.loads import LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule, at_least
from parts.core.ways import Kind
from parts.families.foot_bracket.screw_post import ScrewPost
from parts.families.foot_bracket.stub import StubPivot
from parts.features.bearing_seat.seat import LEAST_LIP, Seat
from parts.features.bearing_seat.strength import ring_in, turning_rules
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
from parts.features.plate.on_plate import OnPlate
from parts.features.plate.plate_feature import AtPoint
from parts.features.plate.roots import NEAT, plate_kind, rim_stress
from parts.features.plate.section.rims import Rim
from parts.features.press.pressed import Pressed
from parts.inputs.quantities import NonNegativeLength, Point2
from parts.standards.materials.materials import Material

if TYPE_CHECKING:
    from parts.core.drawing import Marks
    from parts.core.supports import Applied


class SeatPivot(Seat, AtPoint):
    """A seat in the bracket for one or two ball bearings, with a lip behind them."""

    type: Literal["seat"] = Field(
        "seat",
        description="A seat in the bracket for one or two ball bearings, with a lip behind them.",
    )
    at: Point2 = Field(description="Where the pivot is.")
    height: NonNegativeLength = Field(
        0.0, description="From the outer face of the plate to where the lever loads the shaft."
    )
    boss: Boss | None = Field(None, description="A boss about the seat.")

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

    def rims(self, site: OnPlate, modes: Modes) -> Sequence[Rim]:
        of, d = f"{site.name} seat, bearing, yield", self.bearing.outside
        room = about(self.boss, site.pad(self.fixture(site)))
        own = rim_stress(modes, of, d, room, NEAT)
        return (Rim(self.at, d / 2.0, own),)

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        field, thickness, plate = site.field, site.thickness, site.plate
        room = thickness + self.base() - self.low()
        yield at_least(
            "seat.lip", f"{field}.bearing", room - self.depth, LEAST_LIP,
            "bearings, circlip and its wall leave no lip behind them in this plate",
            "thicken the plate, add a boss, or take a narrower bearing",
        )  # fmt: skip
        yield from self.press_rules(field)
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
        yield from turning_rules(site.twists(), "z")

    def kinds(self, site: OnPlate) -> Sequence[Kind]:
        name = site.name
        held = "rolling bearing", "bearing seat", "seat in a plate"
        return [*(Kind(kind, name) for kind in held), plate_kind(name, boss=False)]

    def modes(self, site: OnPlate, case: LoadCase) -> Iterator[Check]:
        name, metal, thickness = site.name, site.metal, site.thickness
        force, moment = site.felt(case)
        required = site.required(case)
        lip = thickness + self.base() - self.low() - self.depth
        wall = np.maximum(LEAST_SEAT_WALL, SEAT_WALL_SHARE * self.bearing.outside)
        press = self._pressed(name, metal, wall)
        yield from self.seat_modes(name, metal, press, lip, force, moment, case.name, required)

    def _pressed(self, name: str, metal: Material, wall: Any) -> Pressed:
        if self.boss is not None:
            wall = (self.boss.diameter - self.widest) / 2.0
        return ring_in(f"{name} bearing", self.bearing, self.count, wall, metal, self.seat_class)

    def standing(self, site: OnPlate) -> Iterator[Check]:
        """The metal about the ring at the tightest of its fit."""
        yield from self._pressed(site.name, site.metal, site.plate.wall).modes()

    def standing_on(self) -> tuple[Any, Any]:
        """Diameter of what the bearings press on in the plate, and the root fillet of a boss [mm]."""
        return (self.bearing.outside, None) if self.boss is None else self.boss.standing_on()

    def clearances(self, site: OnPlate) -> Sequence[Clearance]:
        """The rings in their seat, and between lip and circlip."""
        return self.seat_clearances(site.name, site.field)

    def cautions(self, site: OnPlate) -> Sequence[str]:
        """What else must hold a ring that the press fit alone may leave free."""
        return self.seat_cautions()

    def touching(self, site: OnPlate) -> dict[str, str]:
        return seated(self.bearing, self.clip)

    def bought(self, site: OnPlate) -> Sequence[Bought]:
        return self.seat_bought(site.name)


class TappedPivot(ScrewPost):
    """A boss tapped for a shoulder bolt on which the lever turns."""

    type: Literal["tapped"] = Field(  # type: ignore[assignment]
        "tapped", description="A boss tapped for a shoulder bolt on which the lever turns."
    )

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        yield from super().rules(site)
        yield from turning_rules(site.twists(), "z")

    def bought(self, site: OnPlate) -> Sequence[Bought]:
        return (Bought(f"{self.named} shoulder bolt", 1, site.name),)


Pivot = Annotated[StubPivot | SeatPivot | TappedPivot, Field(discriminator="type")]
"""Where a lever turns."""
