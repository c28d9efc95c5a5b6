"""What a build file says of its load cases: a type each, with what that type needs beside the data of the vehicle."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, Field

from parts.core.group import Group
from parts.core.loads import Block, Required
from parts.inputs.designations import MaterialName
from parts.inputs.document import Path_
from parts.inputs.quantities import (
    Angle,
    NonNegativeForce,
    NonNegativeLength,
    PositiveForce,
    PositiveLength,
    PositiveRatio,
)
from parts.vehicle.file.places import DIRECTIONS


def _direction(value: Any) -> Any:
    words = ", ".join(DIRECTIONS)
    if isinstance(value, str) and value in DIRECTIONS:
        return value
    if isinstance(value, list) and len(value) == 2 and all(isinstance(v, str) for v in value):
        return value
    if isinstance(value, list) and len(value) == 3 and not any(isinstance(v, str) for v in value):
        return value
    raise ValueError(
        f"this is no direction; write one of {words}, two hardpoints as in [strut foot, seat mount], or three "
        "bare numbers"
    )


Direction = Annotated[Any, AfterValidator(_direction)]
Wheel = Literal["rear", "front"]


def _named_in(path: Path_, way: Any) -> Iterator[tuple[Path_, str]]:
    """The hardpoints that a direction names, each with its path."""
    if isinstance(way, list) and isinstance(way[0], str):
        yield from (((*path, i), one) for i, one in enumerate(way))


class BlockEntry(Block):
    """A block of cycles of a load case of the vehicle."""

    what: str = Field(
        "",
        max_length=120,
        description="What comes so often and where the number is from, as in `landings a season, counted`.",
    )


class SpectrumEntry(Group):
    """How often a load case of the vehicle comes; parts that it loads are checked against fatigue."""

    blocks: list[BlockEntry] = Field(
        min_length=1,
        max_length=100,
        description="Blocks of cycles that the parts bear in their life.",
    )
    ratio: float = Field(
        0.0,
        ge=-1.0,
        lt=1.0,
        description="Least over greatest load in a cycle: 0 comes down to nothing, -1 reverses.",
    )


class Case(Group):
    """What every load case may say."""

    name: str = Field("", max_length=80, description="Its name, where it is not the usual one.")
    spectrum: SpectrumEntry | None = Field(
        None, description="How often it comes; left out, it is a rare peak."
    )
    required: Required | None = Field(
        None,
        description="Factors asked in this case, as of a fall that nobody rides; left out, those of each part.",
    )

    def hardpoints(self) -> Iterator[tuple[Path_, str]]:
        """The hardpoints that it names, each with its path in the case."""
        at = getattr(self, "at", None)
        if isinstance(at, str):
            yield ("at",), at
        elif isinstance(at, list):
            yield from ((("at", i), one) for i, one in enumerate(at))
        bends = getattr(self, "bends", None)
        ways: list[tuple[Path_, Any]] = [
            (("direction",), getattr(self, "direction", None)),
            (("bends", "along"), getattr(bends, "along", None)),
        ]
        for path, way in ways:
            yield from _named_in(path, way)


class RiderCase(Case):
    """The rider's or the passenger's weight times a factor at a hardpoint."""

    type: Literal[
        "one peg", "seat", "passenger", "brake pedal", "kick lever", "shift lever", "boot"
    ] = Field(description="What the rider, or a passenger, does with his weight or a share of it.")
    at: str = Field(description="Hardpoint that the load acts at.")
    factor: PositiveRatio | None = Field(
        None, description="On that weight, where it is not that of common practice."
    )
    direction: Direction | None = Field(
        None, description="Of the load; straight down where left out."
    )


class StatedForce(Group):
    """A force beside the first one of a load case of the builder's own."""

    at: str = Field(description="Hardpoint that it acts at.")
    force: PositiveForce = Field(description="The load.")
    direction: Direction | None = Field(
        None, description="Of the load; straight down where left out."
    )


class StatedCase(Case):
    """Forces of the builder's own."""

    type: Literal["stated"] = Field(description="Forces of your own.")
    name: str = Field(min_length=1, max_length=80, description="Its name.")
    at: str = Field(description="Hardpoint that it acts at.")
    force: PositiveForce = Field(description="The load.")
    direction: Direction | None = Field(
        None, description="Of the load; straight down where left out."
    )
    also: list[StatedForce] = Field(
        default_factory=list, max_length=20, description="Forces that act at the same time."
    )

    def hardpoints(self) -> Iterator[tuple[Path_, str]]:
        """The hardpoints that it names, those of the forces beside the first too."""
        yield from super().hardpoints()
        for i, one in enumerate(self.also):
            yield ("also", i, "at"), one.at
            yield from _named_in(("also", i, "direction"), one.direction)

    def forces(self) -> Iterator[tuple[str, float, Any]]:
        """Each force of it: its hardpoint, its size [N] and its direction."""
        yield self.at, self.force, self.direction
        yield from ((one.at, one.force, one.direction) for one in self.also)


class AccelerationCase(Case):
    """Full drive: to the lift of the front wheel, or to the grip of the rear one if that comes first."""

    type: Literal["acceleration"] = Field(description="Full drive, to the front wheel's lift.")
    share: PositiveRatio = Field(1.0, description="Of that drive.")
    slope: Angle = Field(0.0, description="Of the ground, uphill positive.")


class ClimbingCase(Case):
    """A steady climb."""

    type: Literal["climbing"] = Field(description="A steady climb.")
    slope: Angle = Field(description="Of the ground.")


class SnatchCase(Case):
    """The chain snatches: its pull at full drive times a factor; the ground gives no more than that drive."""

    type: Literal["chain snatch"] = Field(description="The slack of the chain is taken up at once.")
    factor: PositiveRatio = Field(
        1.5,
        description="On the pull at full drive; 1.5 is common practice, no source.",
    )


class ReverseCase(Case):
    """The engine brakes through the lower run of the chain, to the grip of the rear wheel."""

    type: Literal["reverse torque"] = Field(description="The engine brakes through the chain.")
    factor: PositiveRatio = Field(1.0, description="On the pull of the lower run, for snatch.")


class BrakeCase(Case):
    """One brake alone: the front one to the lift of the rear wheel, either to the grip of its wheel."""

    type: Literal["front brake", "rear brake"] = Field(description="One brake alone, pulled hard.")
    share: PositiveRatio = Field(1.0, description="Of the force at that limit.")


class CorneringCase(Case):
    """A steady turn."""

    type: Literal["cornering"] = Field(description="A steady turn.")
    lateral: PositiveRatio = Field(description="Acceleration to the side over that of gravity.")
    lean: Angle | None = Field(
        None,
        description="Of the machine; left out, it leans with the load, and none acts sideways on it. 0 for a car.",
    )


class ThreeWheelsCase(Case):
    """A machine on three wheels that brakes, turns, or stands; each tyre gives along the ground as its load is."""

    type: Literal["three wheels"] = Field(
        description="A machine on three wheels that brakes, turns, or stands."
    )
    braking: float = Field(
        0.0, ge=0.0, le=2.0, description="Slowing down over the acceleration of gravity."
    )
    left: float = Field(
        0.0,
        ge=-2.0,
        le=2.0,
        description="Acceleration to the left over that of gravity; negative to the right.",
    )


class CarCornerCase(Case):
    """One corner of a car that speeds up, brakes, turns, or meets a bump."""

    type: Literal["car corner"] = Field(
        description="One corner of a car that speeds up, brakes, turns, or meets a bump."
    )
    driving: float = Field(
        0.0,
        ge=-3.0,
        le=3.0,
        description="Speeding up by the engine over the acceleration of gravity; negative where the engine brakes.",
    )
    braking: float = Field(
        0.0,
        ge=0.0,
        le=3.0,
        description="Slowing down by brakes at the wheels over the acceleration of gravity.",
    )
    left: float = Field(
        0.0,
        ge=-3.0,
        le=3.0,
        description="Acceleration to the left over that of gravity; negative to the right.",
    )
    bump: float = Field(
        1.0,
        ge=1.0,
        le=10.0,
        description="Times the wheel's load, upward alone; 3 for a bump is common practice, no source.",
    )


class SideLoadCase(Case):
    """A wheel slides sideways into a rut or a kerb."""

    type: Literal["side load"] = Field(description="A wheel slides sideways into a rut or a kerb.")
    wheel: Wheel = Field(description="Which wheel.")
    factor: PositiveRatio = Field(
        1.0, description="On the wheel's load at rest; 1 is common practice, no source."
    )


class LandingCase(Case):
    """The machine drops from a height."""

    type: Literal["landing"] = Field(description="The machine drops from a height.")
    height: PositiveLength = Field(description="That the wheels drop, from full droop.")
    wheels: Literal["both", "rear", "front"] = Field(
        "both",
        description="Which land; one alone takes the share that it carries at rest. A third wheel lands with both.",
    )
    lean: Angle = Field(0.0, description="Of the machine over to one side.")
    rider: Literal["seated", "standing"] = Field(
        "seated", description="A standing rider's legs take him: he loads the pegs by himself."
    )
    damping: NonNegativeForce = Field(
        0.0, description="Mean force of the damper at its rod through the stroke, off its curve."
    )
    fork_damping: NonNegativeForce = Field(
        0.0, description="The same of the fork, at the front wheel."
    )


class BumpCase(Case):
    """A wheel rolls onto a ramp at speed."""

    type: Literal["bump at speed"] = Field(description="A wheel rolls onto a ramp at speed.")
    wheel: Wheel = Field(description="Which wheel.")
    speed: PositiveRatio = Field(description="In m/s.")
    ramp: Angle = Field(description="Of the face that the wheel meets, from the level.")


class HungCase(Case):
    """The machine without its rider hangs on a hoist, or is held by straps."""

    type: Literal["lifting", "tie-down"] = Field(
        description="The machine hangs on a hoist, or is held by straps on a trailer."
    )
    at: list[str] = Field(min_length=1, max_length=8, description="Hardpoints that hold it.")
    factor: PositiveRatio | None = Field(
        None,
        description="On its weight: 2 for a hoist, common practice, no source; 0.8 for straps, EN 12195-1.",
    )
    direction: Direction | None = Field(
        None, description="In which its mass pulls: down on a hoist, forward on a trailer."
    )


class BendsEntry(Group):
    """A round bar or tube that bends where the machine falls on it, and so spares what holds it."""

    diameter: PositiveLength = Field(description="Outside.")
    bore: NonNegativeLength = Field(0.0, description="Of a tube; 0 for a bar.")
    material: MaterialName = Field(description="Its metal.")
    lever: PositiveLength = Field(description="From where it bends to where it strikes.")
    along: Direction = Field("left", description="The way from there to where it strikes.")


class FallCase(Case):
    """The machine without its rider falls over from standing onto one point."""

    type: Literal["fall"] = Field(
        description="It falls over onto a peg, a lever or the end of the bar."
    )
    at: str = Field(description="Hardpoint that strikes the ground.")
    gives: PositiveLength = Field(
        description="How far ground and metal give way: on tarmac or rock a centimetre or two."
    )
    bends: BendsEntry | None = Field(
        None, description="What bends first there, so that no more than this goes on."
    )


class EngineCase(Case):
    """The inertia of piston and crank, by its orders."""

    type: Literal["engine vibration"] = Field(description="Inertia of piston and crank, by orders.")
    speed: PositiveRatio = Field(description="Of the crank, in 1/min.")


CaseEntry = Annotated[
    RiderCase
    | StatedCase
    | AccelerationCase
    | ClimbingCase
    | SnatchCase
    | ReverseCase
    | BrakeCase
    | CorneringCase
    | ThreeWheelsCase
    | CarCornerCase
    | SideLoadCase
    | LandingCase
    | BumpCase
    | HungCase
    | FallCase
    | EngineCase,
    Field(discriminator="type"),
]
"""A load case of the vehicle, by its type."""
