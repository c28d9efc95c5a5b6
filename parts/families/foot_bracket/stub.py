"""A stub turned from the plate for two sealed ball bearings and a needle thrust bearing below them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.clearances import Clearance, of_class, of_limits, within
from parts.core.fatigue_places import Spot
from parts.core.feature import Answers, Modes
from parts.core.group import Group
from parts.core.loads import LoadCase, Required
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.foot_bracket.fixture import Bore, Boss, Fixture, Turn, fillet_rule, pad_radius
from parts.families.foot_bracket.local import root_spot
from parts.families.foot_bracket.on_plate import OnPlate
from parts.families.foot_bracket.posts import bar_modes, boss_modes, boss_root
from parts.families.foot_bracket.stud import Threaded, bolt_kind
from parts.features.bolts.hardware import seated
from parts.features.press.fit import (
    AXIAL,
    CIRCLIP_THIN,
    RING_BORE,
    RING_NARROW,
    SPACER_CLASS,
    ShaftClass,
    grooved,
)
from parts.features.thread.threaded import DRILL_POINT
from parts.inputs.designations import BearingName, ThrustName
from parts.inputs.quantities import NonNegativeLength, Point2, PositiveLength
from parts.standards.fasteners.circlips import Circlip, circlip
from parts.standards.fits.iso286 import Limits, class_limits
from parts.standards.materials.materials import Material
from parts.strength.bearings import axial
from parts.strength.bearings import ball_bearing as ball
from parts.strength.bearings import moment as tilted
from parts.strength.method import work
from parts.strength.pinned import pin as pins
from parts.strength.vectors import cross

CLAMPED = 0.4
"""How far the journal stays below the outer inner ring, so that the washer clamps the ring [mm]: two rings may each be
0.12 mm narrow (ISO 492, normal class; from memory), and the journal 0.1 mm long."""
LEAD, LEAST_LEAD = 3.0, 2.0
"""Pitches that a hole is drilled beyond its full thread, and the fewest, for the lead of a bottoming tap; common
practice, no source."""
THRUST_BORE = 0.033
"""What the bore of a thrust washer may be larger than its row [mm]: about H8; from memory."""
RUNNING = 0.3
"""Clearance of the lever's hub over its thrust washers [mm]; common practice, no source."""


def bearing_modes(
    name: str,
    part: Any,
    count: int,
    spread: Any,
    force: Any,
    moment: Any,
    case: str,
    required: Required,
) -> Iterator[Check]:
    """Static load of the worst of one or two ball bearings.

    `force` and `moment` act at the middle of the pair; two bearings `spread` apart share the force, and a
    couple loads one more than the other. A single one bears the moment in itself.
    """
    radial, along = np.hypot(force[..., 0], force[..., 1]) / count, np.abs(force[..., 2])
    M = np.hypot(moment[..., 0], moment[..., 1])
    if count == 2:
        load = work(ball.static_equivalent, F_r=radial + M / spread, F_a=along)
    else:
        pitch = work(ball.generic_pitch, d=part.bore, D=part.outside)
        load = work(tilted.static_equivalent, F_r=radial, F_a=along, M=M, D_pw=pitch)
    rating = work(ball.generic_static_rating, d=part.bore, D=part.outside)
    yield check(
        f"{name} bearing, static load", "bearing rating", load_case=case, demand=load,
        capacity=rating, unit="N",
        required=1.0,
        note="generic rating: the maker's governs; S_0 of 1 is asked of a bearing that swings (ISO 76)",
    )  # fmt: skip


def groove_modes(
    name: str, metal: Material, clip: Circlip, thrust: Any, case: str, required: Required
) -> Iterator[Check]:
    """The groove of a circlip under the thrust that it holds: its wall yields, and the land beyond it shears."""
    shallow = clip.groove_limits()[0]
    d_g = shallow.min if clip.side == "bore" else shallow.max
    yield check(
        f"{name} circlip groove, yield", "circlip groove", load_case=case, demand=thrust,
        capacity=work(
            axial.groove_load, d=clip.nominal, d_g=d_g, R=metal.yield_strength, n=clip.edge_margin
        ),
        unit="N", required=required.on_yield, note="what pushes has a square edge",
    )  # fmt: skip
    yield check(
        f"{name} circlip groove, land sheared off", "circlip groove", load_case=case, demand=thrust,
        capacity=work(axial.land_shear_load, d_g=d_g, n=clip.edge_margin, tau=metal.shear_ultimate),
        unit="N", required=required.on_ultimate,
    )  # fmt: skip


class BoltedOn(Threaded):
    """A bolt and washer in the end of the stub."""

    type: Literal["bolt"] = Field("bolt", description="A bolt and washer in the end of the stub.")
    depth: PositiveLength = Field(description="Depth of full thread in the stub.")
    drill: PositiveLength | None = Field(
        None,
        description="Depth of the drilled hole to its full diameter; three pitches beyond the thread where left out.",
    )

    @property
    def drilled(self) -> Any:
        """Depth of the hole to its full diameter [mm]."""
        return self.depth + LEAD * self.thread.pitch if self.drill is None else self.drill

    @property
    def bottom(self) -> Any:
        """Depth of the hole to the tip of the drill's point [mm]."""
        return self.drilled + self.thread.minor_internal / 2.0 * DRILL_POINT


class SnappedOn(Group):
    """A circlip on the stub, DIN 471."""

    type: Literal["circlip"] = Field("circlip", description="A circlip on the stub, DIN 471.")


Retention = Annotated[BoltedOn | SnappedOn, Field(discriminator="type")]


class StubPivot(Group, Answers[OnPlate]):
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
        """Height over the outer face of the plate at which the stub is rooted [mm]."""
        return 0.0 if self.boss is None else self.boss.outer

    @property
    def height(self) -> Any:
        """From the outer face of the plate to the middle of the bearings [mm]."""
        return self.base() + self.rise + self.stack / 2.0

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

    def fixture(self, name: str, field: str, thickness: Any, wall: Any, edge_break: Any) -> Fixture:
        boss, face = self.boss, thickness + self.base()
        foot = face + self.rise
        journal, end = self._journal(foot)
        steps = (Turn(face, foot, self.collar_diameter, self.collar_fillet), *journal)
        bores: tuple[Bore, ...] = ()
        if isinstance(self.retention, BoltedOn):
            hole = Turn(end - self.retention.drilled, end, self.retention.thread.minor_internal)
            bores = (Bore((hole,), open_low=False, point=True),)
        washer = 0.0 if self.thrust is None else self.thrust.outside / 2.0
        standing = self.collar_diameter / 2.0 + self.collar_fillet
        if boss is not None:
            steps = (*boss.outer_steps(thickness), *steps)
            standing = boss.diameter / 2.0 + boss.fillet
        return Fixture(
            name, field, self.at,
            pad_radius(
                hole=0.0, wall=wall, foot=standing, seat=washer if boss is None else 0.0, edge_break=edge_break
            ),
            0.0, washer if boss is None else 0.0,
            outer=steps, inner=() if boss is None else boss.inner_steps(), bores=bores,
        )  # fmt: skip

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
            yield from self._bolt_rules(field, self.retention)

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

    def _bolt_rules(self, field: str, kept: BoltedOn) -> Iterator[Rule]:
        bore = kept.thread.major
        yield at_least(
            "stub.wall", f"{field}.retention.thread", (self.bearing.bore - bore) / 2.0,
            np.maximum(0.15 * self.bearing.bore, 2.0),
            "the wall of the stub about its thread is too thin (0.15 diameters: common practice, no source)",
            "choose a smaller thread",
        )  # fmt: skip
        yield at_least(
            "stub.thread", f"{field}.retention.depth", kept.depth, kept.thread.major,
            "the thread holds less than one diameter", "deepen it",
        )  # fmt: skip
        yield at_least(
            "stub.drill", f"{field}.retention.drill", kept.drilled, kept.depth + LEAST_LEAD * kept.thread.pitch,
            "the tap would meet the bottom of the hole before the thread is cut so deep (two pitches: common "
            "practice, no source)",
            "drill deeper, or shorten the thread",
        )  # fmt: skip
        yield at_most(
            "stub.depth", f"{field}.retention.depth", kept.bottom, self.stack + self.rise + self.base(),
            "the hole runs on into the plate", "shorten the thread",
        )  # fmt: skip

    def kinds(self, site: OnPlate) -> Sequence[Kind]:
        """What can fail of it and of the plate about it."""
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
        if isinstance(self.retention, BoltedOn):
            yield from _tube_modes(
                name,
                metal,
                self.bearing.bore,
                self._bore_at_foot(),
                force,
                foot,
                case.name,
                required,
            )
        else:
            yield from bar_modes(
                f"{name} journal", metal, self.bearing.bore, force, foot, case.name, required
            )
        yield from bar_modes(
            f"{name} collar", metal, self.collar_diameter, force, moment, case.name, required
        )
        if self.boss is not None:
            yield from boss_modes(name, metal, self.boss, 0.0, force, moment, case.name, required)
        off = np.maximum(force[..., 2], 0.0)
        if isinstance(self.retention, BoltedOn):
            none = np.zeros_like(off)
            yield from self.retention.bolt_modes(
                f"{name} retaining", off, none, case.name, required
            )
            yield self.retention.seated_mode(f"{name} retaining", off, case.name, required)
            yield from self.retention.strip_modes(
                f"{name} retaining", metal, self.retention.depth, off, case.name, required
            )
        elif self.clip is not None:
            yield from groove_modes(name, metal, self.clip, off, case.name, required)
        middle = moment - cross(along_z(self.rise + self.stack / 2.0), force)
        yield from bearing_modes(
            name, self.bearing, 2, self.spread, force, middle, case.name, required
        )

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
        """The surface of what sits on it, by name."""
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
        """What is bought for it."""
        name, of, clip = site.name, self.thrust, self.clip
        found = [Bought(self.bearing.designation, 2, name, self.bearing.source)]
        if of is not None:
            found.append(Bought(f"{of.designation} with two thin washers", 1, name, of.source))
        if clip is not None:
            found.append(Bought(clip.designation, 1, name, clip.source))
        elif isinstance(self.retention, BoltedOn):
            bolt = f"{self.retention.thread.basic} {self.retention.bolt_class} bolt and washer"
            found.append(Bought(bolt, 1, name))
        return found


def along_z(height: Any) -> Any:
    """A vector along z [mm]."""
    zero = np.zeros_like(np.asarray(height, float))
    return np.stack([zero, zero, np.asarray(height, float)], axis=-1)


def _tube_modes(
    name: str,
    metal: Material,
    D: Any,
    d: Any,
    force: Any,
    moment: Any,
    case: str,
    required: Required,
) -> Iterator[Check]:
    """A journal bored for its retaining bolt, at its foot."""
    M, V = np.hypot(moment[..., 0], moment[..., 1]), np.hypot(force[..., 0], force[..., 1])
    yield check(
        f"{name} journal, bending at the root", "bending", load_case=case,
        demand=work(pins.bending_stress, M=M, D=D, d=d), capacity=metal.yield_strength, unit="MPa",
        required=required.on_yield,
    )  # fmt: skip
    use = work(
        pins.shear_and_bending, V=V, V_u=work(pins.shear_load, D=D, F_s=metal.shear_ultimate, n=1.0, d=d),
        M=M, M_u=work(pins.bending_moment_capacity, D=D, F=metal.ultimate_strength, d=d),
    )  # fmt: skip
    yield check(
        f"{name} journal, shear and bending at the root", "shear and bending", load_case=case, demand=use,
        capacity=1.0, unit="-", required=required.on_ultimate,
    )  # fmt: skip
