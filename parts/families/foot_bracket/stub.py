"""A stub turned from the plate for two sealed ball bearings and a needle thrust bearing below them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check
from parts.core.clearances import Clearance, of_class, of_limits, within
from parts.core.fatigue_places import Spot
from parts.core.feature import Modes
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.foot_bracket.post_strength import boss_modes, boss_root
from parts.families.foot_bracket.retention import BoltedOn, Retention, Seated, SnappedOn
from parts.features.bearing_seat.strength import bearing_modes, groove_modes, turning_rules
from parts.features.bolts.hardware import seated
from parts.features.mounts.shouldered import bolt_kind
from parts.features.pins.post import bar_modes
from parts.features.plate.fixture import (
    Bore,
    Boss,
    Fixture,
    Turn,
    fillet_rule,
    foot_of,
    over_plate,
    pad_radius,
    steps_of,
)
from parts.features.plate.on_plate import OnPlate, along_z
from parts.features.plate.plate_feature import AtPoint
from parts.features.plate.roots import root_spot
from parts.features.press.fit import (
    AXIAL,
    CIRCLIP_THIN,
    RING_BORE,
    RING_NARROW,
    SPACER_CLASS,
    ShaftClass,
    grooved,
)
from parts.inputs.designations import BearingName, ThrustName
from parts.inputs.quantities import NonNegativeLength, Point2, PositiveLength
from parts.standards.fasteners.circlips import Circlip, circlip
from parts.standards.fits.iso286 import Limits, class_limits
from parts.strength.vectors import cross

if TYPE_CHECKING:
    from parts.core.drawing import Marks
    from parts.core.supports import Applied

CLAMPED = 0.4
"""How far the journal stays below the outer inner ring, so that the washer clamps the ring [mm]: two rings may each be
0.12 mm narrow (ISO 492, normal class; from memory), and the journal 0.1 mm long."""
THRUST_BORE = 0.033
"""What the bore of a thrust washer may be larger than its row [mm]: about H8; from memory."""
RUNNING = 0.3
"""Clearance of the lever's hub over its thrust washers [mm]; common practice, no source."""
LONG = 5.0
"""A turned step longer than this bears load; the land beyond a circlip is shorter [mm]."""


class StubPivot(Group, AtPoint):
    """A stub turned from the plate that carries two sealed ball bearings in the lever's hub."""

    type: Literal["stub"] = Field(
        "stub",
        description="A stub turned from the plate that carries two ball bearings in the lever's hub.",
    )
    at: Point2 = Field(description="Where the pivot is.")
    bearing: BearingName = Field(description="The two bearings by their designation, as 6202-2RS.")
    spacer: NonNegativeLength = Field(
        0.0, description="Length of the spacer between the inner rings."
    )
    thrust: ThrustName | None = Field(
        None,
        description="Needle thrust bearing between plate and hub, as AXK 2035; none where left out.",
    )
    collar: PositiveLength | None = Field(
        None,
        description="Diameter of the collar that the inner ring seats on; the thrust bore where left out.",
    )
    collar_height: PositiveLength = Field(
        1.5, description="Height of the collar where no thrust bearing sets it."
    )
    collar_fillet: NonNegativeLength = Field(
        0.0, description="Root fillet of the collar on the plate; the thrust washer must clear it."
    )
    fillet: NonNegativeLength = Field(0.3, description="Fillet of the journal at the collar.")
    fit: ShaftClass = Field(
        "h6",
        description="ISO 286 class of the journal; h6 where the inner ring stands and slides on, as makers of "
        "bearings give: common practice, no source.",
    )
    collar_fit: ShaftClass = Field(
        "h8",
        description="ISO 286 class of the collar under a thrust bearing, which it centres; h8 as makers of needle "
        "thrust bearings give: from memory.",
    )
    retention: Retention = Field(description="What keeps the bearings on the stub.")
    boss: Boss | None = Field(None, description="A boss under the stub.")

    @property
    def collar_diameter(self) -> Any:
        """Diameter of the collar [mm]."""
        if self.collar is not None:
            return self.collar
        return self.bearing.abutment().shaft_min if self.thrust is None else self.thrust.bore

    @property
    def rise(self) -> Any:
        """Height of the collar: thrust bearing, washers and running clearance [mm]."""
        return self.collar_height if self.thrust is None else self.thrust.stack() + RUNNING

    @property
    def stack(self) -> Any:
        """Length of both inner rings and the spacer [mm]."""
        return 2.0 * self.bearing.width + self.spacer

    @property
    def clip(self) -> Circlip | None:
        """The circlip on the stub."""
        return (
            circlip(self.bearing.bore, "shaft") if isinstance(self.retention, SnappedOn) else None
        )

    @model_validator(mode="after")
    def _has_circlip_and_fits_of_the_standards(self) -> StubPivot:
        self.fitted()
        return self

    def fitted(self) -> Mapping[str, Limits]:
        """Limits of what is turned to a fit, by name.

        Raises:
            ValueError: the standards have no such fit or circlip at this diameter.
        """
        found = {"journal": class_limits(self.fit, self.bearing.bore)}
        if self.thrust is not None:
            found["collar"] = class_limits(self.collar_fit, float(self.collar_diameter))
        return found | grooved(self.clip)

    def base(self) -> Any:
        return over_plate(self.boss)

    @property
    def height(self) -> Any:
        """From the outer face of the plate to the middle of the bearings [mm]."""
        return self.base() + self.rise + self.stack / 2.0

    def load_height(self, thickness: Any) -> Any:
        return thickness + self.height

    @property
    def spread(self) -> Any:
        """Distance of the two bearings' middles [mm]."""
        return self.bearing.width + self.spacer

    def _journal(self, foot: Any) -> tuple[tuple[Turn, ...], Any]:
        """Steps of the journal from its foot, and where it ends."""
        d, clip = self.bearing.bore, self.clip
        if clip is None:
            end = foot + self.stack - CLAMPED
            return (Turn(foot, end, d, self.fillet),), end
        groove, after = foot + self.stack, foot + self.stack + clip.groove_width
        end = after + clip.edge_margin
        return (
            Turn(foot, groove, d, self.fillet),
            Turn(groove, after, clip.groove),
            Turn(after, end, d),
        ), end

    def fixture(self, site: OnPlate) -> Fixture:
        boss, face = self.boss, site.thickness + self.base()
        journal, end = self._journal(face + self.rise)
        collar = Turn(face, face + self.rise, self.collar_diameter, self.collar_fillet)
        on_boss, inner = steps_of(boss, site.thickness)
        bores: tuple[Bore, ...] = ()
        if isinstance(self.retention, BoltedOn):
            hole = Turn(end - self.retention.drilled, end, self.retention.thread.minor_internal)
            bores = (Bore((hole,), open_low=False, point=True),)
        washer, foot = 0.0, foot_of(boss)
        if boss is None:
            washer = 0.0 if self.thrust is None else self.thrust.outside / 2.0
            foot = self.collar_diameter / 2.0 + self.collar_fillet
        pad = pad_radius(
            hole=0.0, wall=site.plate.wall, foot=foot, seat=washer, edge_break=site.edge_break
        )
        steps = (*on_boss, collar, *journal)
        return Fixture(site.name, site.field, self.at, pad, 0.0, washer, steps, inner, bores)

    def marks(self, site: OnPlate) -> Marks:
        from parts.families.foot_bracket.stub_marks import stub_marks
        from parts.features.plate.pattern_marks import square_to_the_face

        marks = stub_marks(
            self.fixture(site), site, self.fitted(), self.bearing, self.base() + self.rise, self.clip, self.retention
        )  # fmt: skip
        return square_to_the_face(marks, site.name, self.fitted()["journal"].tolerance)

    def applied(self, site: OnPlate, case: LoadCase) -> Sequence[Applied]:
        """What acts on the journal."""
        steps = self.fixture(site).outer
        journal = next(one for one in reversed(steps) if float(one.high - one.low) > LONG)
        return site.pressed(site.round_patch(self.fixture(site), journal, journal.fillet), case)

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        field, edge_break = site.field, site.edge_break
        seat = self.bearing.abutment()
        yield at_least(
            "stub.shoulder", f"{field}.collar", self.collar_diameter, seat.shaft_min,
            f"the collar does not reach the inner ring of {self.bearing.designation} past its chamfer",
            "choose a larger collar or thrust bore",
        )  # fmt: skip
        yield at_most(
            "stub.seal", f"{field}.collar", self.collar_diameter, seat.shaft_max,
            f"the collar rubs the seal of {self.bearing.designation}", "choose a smaller collar or thrust bore",
        )  # fmt: skip
        yield at_most(
            "stub.fillet", f"{field}.fillet", self.fillet, seat.fillet_max,
            "the fillet is larger than the ring's chamfer, so that the ring would not seat",
            "lessen the fillet",
        )  # fmt: skip
        yield fillet_rule(f"{field}.fillet", self.fillet)
        yield fillet_rule(f"{field}.collar_fillet", self.collar_fillet)
        yield from self._thrust_rules(field, edge_break)
        if self.boss is not None:
            yield from self.boss.rules(
                f"{field}.boss", self.collar_diameter, edge_break, edge_break
            )
        if isinstance(self.retention, BoltedOn):
            room = self.stack + self.rise + self.base()
            yield from self.retention.rules(f"{field}.retention", self.bearing.bore, room)
        yield from turning_rules(site.twists(), "z")

    def _thrust_rules(self, field: str, edge_break: Any) -> Iterator[Rule]:
        if self.thrust is None:
            yield at_least(
                "stub.collar_height", f"{field}.collar_height", self.collar_height,
                self.collar_fillet + edge_break + 0.5,
                "the hub of the lever would touch the plate or the fillet of the collar", "raise the collar",
            )  # fmt: skip
            return
        yield at_most(
            "stub.thrust", f"{field}.collar", self.collar_diameter, self.thrust.bore,
            f"{self.thrust.designation} does not go over the collar", "choose a larger thrust bearing",
        )  # fmt: skip
        yield at_most(
            "stub.root", f"{field}.collar_fillet", self.collar_fillet, 0.3,
            "the thrust washer, whose bore is the collar, would ride on the fillet "
            "(washer chamfer 0.3 mm: common practice, no source)",
            "leave the fillet out, and let the boss have it",
        )  # fmt: skip
        if self.boss is not None:
            yield at_least(
                "stub.washer", f"{field}.boss.diameter", self.boss.diameter,
                self.thrust.outside + 2.0 * edge_break,
                "the thrust washer overhangs the boss that it runs on", "make the boss larger",
            )  # fmt: skip

    def kinds(self, site: OnPlate) -> Sequence[Kind]:
        name = site.name
        kinds = "stub axle", "rolling bearing", "boss on a plate"
        found = [Kind(kind, name) for kind in kinds]
        if isinstance(self.retention, BoltedOn):
            found += [
                bolt_kind(f"{name} retaining", head=False),
                Kind("tapped hole", f"{name} retaining"),
            ]
        return found

    def modes(self, site: OnPlate, case: LoadCase) -> Iterator[Check]:
        name, metal = site.name, site.metal
        force, moment = site.felt(case)
        required = site.required(case)
        foot = moment - cross(along_z(self.rise), force)
        bore = self._bore_at_foot() if isinstance(self.retention, BoltedOn) else None
        under = case.name, required
        yield from bar_modes(f"{name} journal", metal, self.bearing.bore, force, foot, *under, bore)
        yield from bar_modes(f"{name} collar", metal, self.collar_diameter, force, moment, *under)
        if self.boss is not None:
            yield from boss_modes(name, metal, self.boss, 0.0, force, moment, *under)
        off = np.maximum(force[..., 2], 0.0)
        if isinstance(self.retention, BoltedOn):
            ring = self.bearing.abutment().shaft_max
            seat = Seated(self.bearing.bore, ring, self.stack, self.spacer)
            yield from self.retention.modes(site, off, case, seat)
        elif self.clip is not None:
            yield from groove_modes(name, metal, self.clip, self.bearing, off, *under)
        middle = moment - cross(along_z(self.rise + self.stack / 2.0), force)
        yield from bearing_modes(name, self.bearing, 2, self.spread, force, middle, *under)

    def standing_on(self) -> tuple[Any, Any]:
        """Diameter of what stands on the plate, and its root fillet [mm]."""
        if self.boss is not None:
            return self.boss.standing_on()
        return self.collar_diameter, self.collar_fillet

    def details(self, site: OnPlate, modes: Modes) -> Sequence[Spot]:
        """The roots of journal, collar and boss, for their own fatigue."""
        name, metal = site.name, site.metal
        bore, collar = self.bearing.bore, self.collar_diameter
        journal, foot = (f"{name} {part}, bending at the root" for part in ("journal", "collar"))
        found = [
            root_spot(f"{name} journal, root", metal, modes, journal, bore, self.fillet),
            root_spot(f"{name} collar, root", metal, modes, foot, collar, self.collar_fillet),
        ]
        return found if self.boss is None else [*found, boss_root(name, metal, modes, self.boss)]

    def _bore_at_foot(self) -> Any:
        """Bore of the journal at its foot: that of the thread where the thread reaches so deep [mm]."""
        assert isinstance(self.retention, BoltedOn)
        reaches = self.retention.bottom >= self.stack - CLAMPED
        return np.where(reaches, self.retention.thread.major, 0.0)

    def standing(self, site: OnPlate) -> Iterator[Check]:
        """The thread in the stub at the greatest preload."""
        name, metal = site.name, site.metal
        if isinstance(self.retention, BoltedOn):
            of = self.retention
            yield from of.tightened_modes(f"{name} retaining", metal, of.depth)

    def touching(self, site: OnPlate) -> dict[str, str]:
        screwed = self.retention.touching(site) if isinstance(self.retention, BoltedOn) else {}
        return seated(self.bearing, self.clip) | screwed

    def clearances(self, site: OnPlate) -> Sequence[Clearance]:
        """The rings on their journal, how far the journal stays below them, and a thrust bearing on its collar."""
        of, name, fitted = self.bearing, site.name, self.fitted()
        bore = within("bore of the ring", of.bore, RING_BORE, 0.0, "its maker")
        journal = of_limits("journal", fitted["journal"])
        found = [
            Clearance(
                f"{name}: bearings on the journal", f"{site.field}.fit", (bore,), (journal,), "choose another fit",
                goes="either",
            )
        ]  # fmt: skip
        rings = within("rings", 2.0 * of.width, 2.0 * RING_NARROW, 0.0, "their maker")
        spacers = (
            (of_class("spacer", SPACER_CLASS, self.spacer),)
            if np.any(np.asarray(self.spacer) > 0.0)
            else ()
        )
        if self.clip is None:
            long = within("journal", self.stack - CLAMPED, AXIAL, 0.0, "as drawn")
            joint, how = f"{name}: washer clamps the rings past the journal", "lengthen the spacer"
            found.append(Clearance(joint, f"{site.field}.spacer", (rings, *spacers), (long,), how))
        else:
            room = within(
                "collar to the groove's outer side",
                self.stack + self.clip.groove_width,
                0.0,
                AXIAL,
                "as drawn",
            )
            clip = within("circlip", self.clip.thickness, CIRCLIP_THIN, 0.0, "its maker")
            joint, how = f"{name}: rings under the circlip", "shorten the spacer"
            found.append(
                Clearance(joint, f"{site.field}.spacer", (room,), (rings, *spacers, clip), how)
            )
        if self.thrust is not None:
            washer = within(
                "bore of the thrust washer", self.thrust.bore, 0.0, THRUST_BORE, "its maker"
            )
            collar = of_limits("collar", fitted["collar"])
            joint, how = f"{name}: thrust bearing on its collar", "choose a looser collar_fit"
            found.append(Clearance(joint, f"{site.field}.collar_fit", (washer,), (collar,), how))
        return found

    def bought(self, site: OnPlate) -> Sequence[Bought]:
        name, of, clip = site.name, self.thrust, self.clip
        found = [Bought(self.bearing.designation, 2, name, self.bearing.source)]
        if of is not None:
            found.append(Bought(f"{of.designation} with two thin washers", 1, name, of.source))
        if clip is not None:
            found.append(Bought(clip.designation, 1, name, clip.source))
        elif isinstance(self.retention, BoltedOn):
            bolt = f"{self.retention.named} bolt and washer"
            found.append(Bought(bolt, 1, name))
        return found
