"""What a build file says: hardpoints, vehicle, rear end, bodies, load cases, and parts with their places."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Field, field_validator, model_validator

from parts.core.group import Group
from parts.inputs.designations import TubeName
from parts.inputs.names import PartName
from parts.inputs.quantities import (
    NonNegativeForce,
    NonNegativeLength,
    NonNegativeMass,
    Point3,
    PositiveForce,
    PositiveLength,
    PositiveMass,
    PositiveRatio,
)
from parts.vehicle.file.car_entry import CarEntry
from parts.vehicle.file.case_entries import CaseEntry, Direction
from parts.vehicle.file.rear_entries import RearEndEntry

ROUGHEST = 100.0
"""Tolerance beyond which a point was not measured [mm]; common practice, no source."""


class HardpointEntry(Group):
    """A named point in vehicle axes, measured, or set off from another one."""

    at: Point3 | None = Field(None, description="Where it is: x forward, y left, z up.")
    of: str | None = Field(
        None,
        alias="from",
        description="The hardpoint that it is stated from, where it is not measured itself.",
    )
    offset: Point3 | None = Field(None, description="How far it lies from that one.")
    within: NonNegativeLength = Field(
        0.0, description="The tolerance that it was measured to; 0 where it is drawn."
    )

    @field_validator("within")
    @classmethod
    def _measured(cls, value: float) -> float:
        if value > ROUGHEST:
            raise ValueError(
                f"a point known to {value:g} mm was not measured; write at most {ROUGHEST:g} mm (common practice, no "
                "source), and check the unit"
            )
        return value


def _origin(value: Any) -> Any:
    several = isinstance(value, list) and len(value) > 1
    if isinstance(value, str) or (several and all(isinstance(v, str) for v in value)):
        return value
    raise ValueError(
        "this is no place; write the name of a hardpoint, or two of them in a list for the middle between them"
    )


Origin = Annotated[Any, AfterValidator(_origin)]


class PlaceEntry(Group):
    """Where a part sits: its origin, and two of its axes."""

    origin: Origin = Field(
        description="Hardpoint at the part's origin, or two for the middle between them."
    )
    offset: Point3 = Field(
        (0.0, 0.0, 0.0), description="Of the origin from there, in vehicle axes."
    )
    x: Direction | None = Field(None, description="Direction of the part's x.")
    y: Direction | None = Field(None, description="Direction of the part's y.")
    z: Direction | None = Field(None, description="Direction of the part's z.")
    hold: Literal["x", "y", "z"] = Field(
        "x", description="The axis that holds exactly where the two are not square to each other."
    )


class PartEntry(Group):
    """A part of the build."""

    file: str = Field(min_length=1, description="The part's own file, beside this one.")
    place: PlaceEntry | None = Field(
        None, description="Where it sits; left out, it is not assembled."
    )
    sides: Literal["one", "both"] = Field(
        "one", description="Whether a mirrored twin sits on the vehicle's other side."
    )
    body: str = Field(
        "frame", description="The body that it belongs to; `frame`, or one of the bodies and links."
    )
    points: dict[str, str] = Field(
        default_factory=dict, description="Hardpoint that each load point of the part sits at."
    )
    carries: dict[str, str] = Field(
        default_factory=dict,
        description="Hardpoint whose loads act on a load point that sits beside it, as on a tab in single shear "
        "beside a rod end; their moment about the load point comes with them.",
    )
    shares_space_with: list[str] = Field(
        default_factory=list,
        description="Parts whose solids or hardware it is meant to cut into, as thread and nut do.",
    )
    bought_with_another: list[str] = Field(
        default_factory=list,
        description="What its hardware fits, as in `the throat`, that another part's bill holds already.",
    )


class VehicleEntry(Group):
    """Masses and where they sit."""

    machine_mass: PositiveMass = Field(description="Machine ready to ride, without the rider.")
    machine_centre: str = Field(description="Hardpoint of the machine's centre of mass.")
    rider_mass: NonNegativeMass = Field(description="Rider dressed to ride.")
    rider_centre: str = Field(description="Hardpoint of the seated rider's centre of mass.")
    wheelbase: PositiveLength = Field(description="Between the axles.")
    rear_axle: str = Field(description="Hardpoint of the rear axle.")
    tyre_radius: PositiveLength = Field(description="Of the rear tyre under load.")
    rear_unsprung: NonNegativeMass = Field(
        0.0, description="Wheel, brake and the share of the swing arm that move with it."
    )
    passenger_mass: NonNegativeMass = Field(0.0, description="Passenger dressed to ride.")
    grip: PositiveRatio = Field(
        1.2,
        description="Force of a tyre along the ground over its load; 1.2 is common practice, no source.",
    )
    third_wheel: str | None = Field(
        None,
        description="Hardpoint where a third wheel stands on the ground, as that of a sidecar.",
    )
    tyre_rate: PositiveRatio | None = Field(
        None, description="Of a tyre, in N/mm; landings and bumps at speed need it."
    )


class LinkEntry(Group):
    """A link between the frame and a body."""

    frame: str = Field(description="Hardpoint of its joint on the frame.")
    body: str = Field(description="Hardpoint of its joint on the body.")
    sides: Literal["one", "both"] = Field(
        "one", description="Whether a twin, mirrored, shares the load on the other side."
    )


class SpringEntry(Group):
    """An extension spring that brings a lever back to its stop."""

    body: str = Field(description="Hardpoint on the lever that it hooks into.")
    frame: str = Field(description="Hardpoint on the frame that it hooks on.")
    pull: PositiveForce = Field(description="Its greatest pull, at full travel.")


class PostEntry(Group):
    """The post of the frame that a lever comes back to; it pushes square to the arm that meets it."""

    at: str = Field(description="Hardpoint of the post.")
    arm: str = Field(description="Hardpoint that the arm which meets it runs to from the hinge.")


class BodyEntry(Group):
    """A body on a hinge and a link, or an equal pair of links; or one that six links hold, as an upright."""

    hinge: str | None = Field(None, description="Hardpoint of its hinge.")
    axis: Direction | None = Field(
        None, description="Direction of its hinge; crosswise where left out."
    )
    spring: SpringEntry | None = Field(None, description="What brings it back, as a lever.")
    stop: PostEntry | None = Field(
        None, description="What takes a load that turns it back, as a lever, in place of its link."
    )
    link: str | None = Field(None, description="The link that holds it on that hinge.")
    links: list[str] = Field(
        default_factory=list,
        max_length=6,
        description="The six links that hold it without a hinge: as wishbones, tie rod and spring hold an upright.",
    )
    loaded_at: list[str] = Field(
        min_length=1, description="Hardpoints on it that load cases act at."
    )
    mass: NonNegativeMass = Field(
        0.0,
        description="Its mass with what rides in it, of the machine's; what holds it then bears its weight and inertia "
        "in every case of the whole machine.",
    )
    centre: str | None = Field(None, description="Hardpoint of its centre of mass.")

    @model_validator(mode="after")
    def _has_a_place_for_its_mass(self) -> BodyEntry:
        if (self.mass > 0.0) != (self.centre is not None):
            raise ValueError(
                "a body with a mass of its own states `mass:` and `centre:`, or neither"
            )
        return self

    @property
    def acted_on_at(self) -> tuple[str, ...]:
        """Hardpoints at which load cases or its own mass act."""
        return (*self.loaded_at, *filter(None, [self.centre]))


class ChainEntry(Group):
    """The chain between gearbox and rear wheel."""

    rear_sprocket: str = Field(description="Hardpoint of the middle of the rear sprocket.")
    front_sprocket: str = Field(description="Hardpoint of the middle of the front sprocket.")
    rear_radius: PositiveLength = Field(description="Pitch radius of the rear sprocket.")
    front_radius: PositiveLength = Field(description="Pitch radius of the front sprocket.")


class TorqueArmEntry(Group):
    """A rod that holds a brake's carrier, which floats on the axle."""

    carrier: str = Field(description="Hardpoint of its joint on the carrier.")
    frame: str = Field(description="Hardpoint of its joint on the frame.")


class RearBrakeEntry(Group):
    """The rear brake."""

    caliper: str = Field(description="Hardpoint between its pads.")
    torque_arm: TorqueArmEntry | None = Field(
        None,
        description="What holds its carrier; left out, the carrier sits fast on the swing arm.",
    )


class TubeEntry(Group):
    """A tube that runs from the headstock to a node of the frame."""

    end: str = Field(description="Hardpoint of its far end.")
    tube: TubeName = Field(description="Outside diameter and wall.")


class CornerEntry(Group):
    """The corner behind the headstock, stiffened by a gusset on each rail."""

    down_tube: TubeEntry = Field(description="Of one rail.")
    top_tube: TubeEntry = Field(description="Of one rail.")
    gusset: str = Field(description="Hardpoint on the top tube that the gusset takes its load at.")
    rails: int = Field(
        1, ge=1, le=2, description="1 with one down tube in the middle, 2 with a rail each side."
    )


class FrontEndEntry(Group):
    """Fork and front wheel, as far as the frame feels them."""

    axle: str = Field(description="Hardpoint of the front axle.")
    headstock: str = Field(description="Hardpoint in the middle of the head tube.")
    unsprung: NonNegativeMass = Field(0.0, description="Wheel, brake and the sliders of the fork.")
    travel: NonNegativeLength = Field(0.0, description="Of the fork, square to the ground.")
    bump_force: NonNegativeForce = Field(
        0.0, description="Of the fork's springs at the wheel at full bump, rising evenly to it."
    )
    loaded_at: list[str] = Field(
        default_factory=list, description="Hardpoints on it that load cases act at, as a bar end."
    )
    corner: CornerEntry | None = Field(None, description="What its gussets stiffen.")


class EngineEntry(Group):
    """The engine, as the frame holds it."""

    mounts: list[str] = Field(
        min_length=3, max_length=12, description="Hardpoints that hold it, not all in one line."
    )
    loaded_at: list[str] = Field(
        default_factory=list,
        description="Hardpoints on it that load cases act at, as a kick lever.",
    )
    mass: NonNegativeMass = Field(
        0.0,
        description="Its mass; its mounts then bear its weight and inertia in every case of the whole machine.",
    )
    centre: str | None = Field(None, description="Hardpoint of its centre of mass.")
    crank: str | None = Field(None, description="Hardpoint of the middle of its crank.")
    reciprocating: NonNegativeMass = Field(
        0.0, description="Piston with rings and pin, and a third of the rod."
    )
    stroke: NonNegativeLength = Field(0.0, description="Of the piston.")
    rod: NonNegativeLength = Field(0.0, description="Length of the rod between its eyes.")
    balanced: float = Field(
        0.5, ge=0.0, le=1.0, description="Share of the first order that the crank's webs balance."
    )
    cylinder: Direction = Field("up", description="Direction of the cylinder.")


class SprungFile(Group):
    """What of a build file the rear end moves by."""

    rear_end: RearEndEntry | None = None
    vehicle: VehicleEntry | None = None


class BuildFile(Group):
    """A build: several parts as one vehicle."""

    build: PartName = Field(description="Name of the build; it names the output folder.")
    title: str = Field("", max_length=80, description="What is being built.")
    survey: str = Field(
        "", description="File of readings beside this one; their points are hardpoints too."
    )
    hardpoints: dict[str, HardpointEntry] = Field(
        default_factory=dict,
        description="Named points in vehicle axes (ISO 8855): x forward, y left, z up.",
    )
    vehicle: VehicleEntry | None = Field(None, description="Masses and where they sit.")
    car: CarEntry | None = Field(
        None, description="A car by its basics, where the build is one corner of it."
    )
    rear_end: RearEndEntry | None = Field(None, description="The torsion-bar rear end.")
    front_end: FrontEndEntry | None = Field(None, description="Fork and headstock.")
    chain: ChainEntry | None = Field(None, description="The chain.")
    rear_brake: RearBrakeEntry | None = Field(None, description="The rear brake.")
    engine: EngineEntry | None = Field(None, description="The engine and its mounts.")
    frame: list[list[str]] = Field(
        default_factory=list,
        max_length=60,
        description="Tubes of the frame that are no parts, each as the hardpoints along it; they are drawn as lines.",
    )
    links: dict[str, LinkEntry] = Field(default_factory=dict, description="Links, by name.")
    bodies: dict[str, BodyEntry] = Field(
        default_factory=dict, description="Bodies on a hinge and a link, by name."
    )
    cases: list[CaseEntry] = Field(
        default_factory=list, max_length=50, description="Load cases of the vehicle."
    )
    not_modelled: dict[str, str] = Field(
        default_factory=dict,
        description="What takes loads that no part of the build does, by hardpoint, or by body for all of it: "
        "`swing arm: of the donor machine`.",
    )
    clearance: NonNegativeLength = Field(
        3.0,
        description="Gap between parts below which it is reported; 3 mm is common practice, no source.",
    )
    parts: list[PartEntry] = Field(min_length=1, max_length=200, description="The parts.")
