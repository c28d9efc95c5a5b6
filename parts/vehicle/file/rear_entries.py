"""The rear end of a build's file: bar, turnbuckle, damper, stops, bumps, and what is wanted of them."""

from __future__ import annotations

from typing import Literal

from pydantic import Field

from parts.core.group import Group
from parts.families.torsion_arm.torsion_bar import SpringMaterial
from parts.inputs.quantities import (
    Angle,
    NonNegativeLength,
    PositiveForce,
    PositiveLength,
    PositiveRatio,
)
from parts.vehicle.file.case_entries import Direction, SpectrumEntry


class BarEntry(Group):
    """The torsion bar."""

    diameter: PositiveLength = Field(description="Of the length that twists.")
    bore: NonNegativeLength = Field(0.0, description="Of a hollow bar; 0 for a solid one.")
    length: PositiveLength = Field(description="That twists.")
    material: SpringMaterial = Field(description="Of the bar, with its condition.")
    preset: bool = Field(False, description="Whether it was twisted past yield once.")


class TeethEntry(Group):
    """Teeth of the bar's two splines."""

    anchor: int = Field(ge=1, le=400, description="Teeth of the spline at the anchor.")
    arm: int = Field(ge=1, le=400, description="Teeth of the spline at the arm.")


class TurnbuckleEntry(Group):
    """The range of the link."""

    shortest: PositiveLength = Field(description="Pin to pin at its shortest.")
    longest: PositiveLength = Field(description="Pin to pin at its longest.")
    per_turn: PositiveLength = Field(description="Longer for each turn.")


class DamperLoadEntry(Group):
    """A load of the damper on its mounts: given, or from its rate at a velocity."""

    name: str = Field(
        min_length=1,
        max_length=80,
        description="Name of the load case, as in `damper closes fast`.",
    )
    way: Literal["closing", "opening"] = Field(
        "closing", description="Whether the damper is pressed together or drawn apart."
    )
    force: PositiveForce | None = Field(None, description="Force of the damper, where it is given.")
    rate: PositiveRatio | None = Field(
        None, description="Force for each mm/s of its rod, in N*s/mm, where the force is not given."
    )
    velocity: PositiveRatio | None = Field(
        None, description="Velocity of its rod in mm/s, where the force is not given."
    )


class DamperEntry(Group):
    """The damper: its mounts, and the loads that it puts on them."""

    on_frame: str = Field(description="Hardpoint of the mount on the frame.")
    on_swing_arm: str = Field(description="Hardpoint of the mount on the swing arm.")
    loads: list[DamperLoadEntry] = Field(
        default_factory=list,
        max_length=10,
        description="Load cases of its own; it carries no spring.",
    )


class StopsEntry(Group):
    """Where the bump stop and the stop at full droop act: along the line between two hardpoints."""

    on_frame: str = Field(description="Hardpoint on the frame.")
    on_swing_arm: str = Field(description="Hardpoint on the swing arm.")


class BumpsEntry(SpectrumEntry):
    """How often the rear wheel strikes full bump."""

    ratio: float | None = Field(  # type: ignore[assignment]
        None,
        ge=-1.0,
        lt=1.0,
        description="Least over greatest load of the link in a cycle; left out, that of the solved full droop and full "
        "bump.",
    )


class WantedEntry(Group):
    """The ride that is wanted, for which bars of stock are proposed."""

    wheel_rate: PositiveRatio = Field(description="At the wheel at rest with the rider, in N/mm.")
    sag: PositiveLength = Field(description="Travel at rest with the rider, from full droop.")
    shortest: PositiveLength = Field(200.0, description="Least active length of the bar.")
    longest: PositiveLength = Field(600.0, description="Greatest active length that has room.")
    arms: list[PositiveLength] = Field(
        default_factory=list, max_length=50, description="Other lengths of the arm to consider."
    )


class RearEndEntry(Group):
    """A torsion-bar rear end: hardpoints by name, drawn in one position of the wheel."""

    pivot: str = Field(description="Hardpoint on the swing arm's axis.")
    axle: str = Field(description="Hardpoint of the wheel's centre.")
    pick_up: str = Field(description="Hardpoint of the link's joint on the swing arm.")
    arm_end: str = Field(description="Hardpoint of the link's joint on the torsion arm.")
    bar_line: str = Field(description="Hardpoint on the bar's centre line.")
    anchor: str | None = Field(
        None,
        description="Hardpoint where the bar's far end is held against turning; that of its line where left out.",
    )
    bar_along: Direction | None = Field(
        None, description="Direction of the bar; crosswise where left out."
    )
    pick_up_pin: Direction | None = Field(
        None,
        description="Direction of the bolt through the link's joint on the swing arm; crosswise where left out.",
    )
    arm_pin: Direction | None = Field(
        None,
        description="Direction of the bolt through the link's joint on the arm; that of the bar where left out.",
    )
    travel: PositiveLength = Field(description="Of the wheel, from full droop to full bump.")
    drawn_at: NonNegativeLength = Field(
        0.0, description="Travel at which the hardpoints were measured."
    )
    bar: BarEntry = Field(description="The torsion bar.")
    preload: Angle = Field(
        0.0, description="Twist of the bar as drawn, positive the way bump winds it up."
    )
    teeth: TeethEntry | None = Field(None, description="Teeth of both splines, for clocking.")
    turnbuckle: TurnbuckleEntry | None = Field(None, description="Range of the link.")
    damper: DamperEntry | None = Field(None, description="Where the damper stands.")
    stops: StopsEntry | None = Field(
        None, description="The stops of its travel; left out, they are in the damper."
    )
    strike: PositiveRatio = Field(
        3.0,
        description="Wheel load at the strike over that at rest; 3 is common practice, no source.",
    )
    wanted: WantedEntry | None = Field(
        None, description="The ride that is wanted; the page then shows which bars would give it."
    )
    bumps: BumpsEntry | None = Field(
        None,
        description="Bumps that its parts bear, as shares of the load at full bump; left out, that is a rare peak.",
    )
