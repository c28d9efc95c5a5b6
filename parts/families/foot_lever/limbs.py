"""The limbs of a foot lever: legs between hub, knees and ends, each in axes of its own.

Each leg runs along its own +x from the middle of its hub or knee; its z is that of the lever.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Any

import numpy as np
from pydantic import Field

from parts.core.feature import Actions
from parts.core.group import Group
from parts.core.loads import seen_from
from parts.families.foot_lever.lugs import HookEnd, Lug, SwitchTab
from parts.families.foot_lever.pinned_toe import PinnedToe
from parts.families.foot_lever.tapped_toe import TappedToe
from parts.families.foot_lever.toe import AnyToe
from parts.families.foot_lever.welded_toe import WeldedToe
from parts.features.arm.arm import Arm
from parts.features.arm.blade import Blade
from parts.features.arm.clevis_end import ClevisEnd
from parts.features.arm.leg import STIFF, Leg, Rooted
from parts.features.arm.round_end import RoundEnd
from parts.features.eye.eye import Eye
from parts.inputs.document import dotted
from parts.inputs.quantities import Angle, PositiveLength
from parts.strength.shafts.thin_hub import pull_factor, root_factor

SIDEWAYS = 1.3
"""How much more a force along the pivot raised the peak at an arm's root than one in the plane [-]: up to 1.29 in five
solids beside the study of thin hubs, tests/studies/thin_hub.py."""

RodLug = Annotated[Eye | ClevisEnd, Field(discriminator="type")]


class Knee(Group, RoundEnd):
    """A knee: a solid disc where the arm turns in the plane of travel."""

    turn: Angle = Field(description="How far the arm turns there, about the pivot's direction z.")
    diameter: PositiveLength = Field(description="Outside diameter of the knee.")
    width: PositiveLength = Field(description="Width of the knee along the pivot.")
    arm: Arm = Field(description="The arm from this knee to the next, or to the toe.")


class RodArm(Group):
    """The arm that moves the rod: to a master cylinder, a drum, or the shaft of the gearbox."""

    angle: Angle = Field(
        description="From the arm to the rod's arm, about the pivot's direction z."
    )
    arm: Arm = Field(description="The arm from the hub to the pin of the rod.")
    end: RodLug = Field(description="What takes the rod: a blade with an eye, or a fork.")
    along: Angle | None = Field(
        None,
        description="Direction of the rod from its pin, from x about z; square to its arm where left out.",
    )

    @property
    def direction(self) -> Any:
        """Angle of the rod from x [rad]."""
        return self.angle + np.pi / 2.0 if self.along is None else self.along


@dataclass(frozen=True)
class Limb:
    """A leg where it stands: its name, where it is in the file, its hub or knee, and what ends it.

    Attributes:
        name: what it is called.
        field: dotted path of its arm.
        leg: the leg.
        angle: from the lever's x to its own, about z [rad].
        at: middle of its hub or knee [mm], shape (..., 3).
        hub: paths in the file of hub and end, and what its hub is called.
        wide: width of its hub or knee [mm].
        end: what ends it.
    """

    name: str
    field: str
    leg: Leg
    angle: Any
    at: Any
    hub: str
    hub_name: str
    wide: Any
    end: TappedToe | PinnedToe | WeldedToe | Knee | Eye | ClevisEnd | HookEnd
    end_field: str

    @property
    def turn(self) -> np.ndarray:
        """Rotation (..., 3, 3) whose columns are its axes in those of the lever."""
        a = np.asarray(self.angle, float)
        c, s, o = np.cos(a), np.sin(a), 0.0 * a
        rows = (c, -s, o), (s, c, o), (o, o, o + 1.0)
        return np.stack([np.stack(row, axis=-1) for row in rows], axis=-2)

    @property
    def tip(self) -> np.ndarray:
        """Its tip in its own axes [mm]."""
        arm = self.leg.blade.arm
        return np.stack(np.broadcast_arrays(arm.length, 0.0, arm.crank), axis=-1)

    @property
    def end_at(self) -> np.ndarray:
        """Its tip in those of the lever [mm]."""
        found: np.ndarray = (self.turn @ self.tip[..., None])[..., 0] + self.at
        return found

    def own(self, actions: Actions) -> Actions:
        """Actions in the axes of the lever, in its own."""
        return lambda case: seen_from(actions(case), self.at, self.turn)

    def at_tip(self, actions: Actions) -> Actions:
        """Likewise about its tip."""
        return lambda case: seen_from(actions(case), self.end_at, self.turn)


def chain(
    hub: tuple[Any, Any, Any], arm: Arm, knees: Sequence[Knee], toe: AnyToe, rod: RodArm
) -> tuple[Limb, ...]:
    """The legs from hub to toe, and the rod's arm last.

    Args:
        hub: its diameter, its width and its wall beside the bore [mm].
        arm: the first leg.
        knees: the knees, from the hub outward.
        toe: the toe.
        rod: the rod's arm.

    Returns:
        The legs.
    """
    found: list[Limb] = []
    across, wide, _ = hub
    angle: Any = 0.0
    at: Any = np.zeros(3)
    field, hub_field, hub_name = "arm", "hub", "hub"
    ends: list[Any] = [*knees, toe]
    for i, end in enumerate(ends):
        blade = Blade(arm, across / 2.0, arm.length, end.rim)
        given = _thin(hub, arm, arm.length) if i == 0 else STIFF
        name = "arm" if i == 0 else f"arm beyond knee {i}"
        end_field = "toe" if i == len(knees) else dotted(("knees", i))
        found.append(
            Limb(name, field, Leg(blade, hub_name, given), angle, at, hub_field, hub_name, wide, end, end_field)
        )  # fmt: skip
        at = found[-1].end_at
        if i < len(knees):
            angle, arm, across, wide = angle + end.turn, end.arm, end.diameter, end.width
            field, hub_field, hub_name = f"{end_field}.arm", end_field, f"knee {i + 1}"
    blade = Blade(rod.arm, hub[0] / 2.0, rod.arm.length - rod.end.set_back, rod.end.rim)
    leg = Leg(blade, "hub", _thin(hub, rod.arm, rod.arm.length))
    found.append(
        Limb("rod arm", "rod.arm", leg, rod.angle, np.zeros(3), "hub", "hub", hub[1], rod.end, "rod.end")
    )  # fmt: skip
    return tuple(found)


def lug_limb(hub: tuple[Any, Any, Any], name: str, field: str, lug: Lug | SwitchTab) -> Limb:
    """A lug of the hub as a limb.

    Args:
        hub: its diameter, its width and its wall beside the bore [mm].
        name: what it is called.
        field: its dotted path.
        lug: the lug.
    """
    leg = Leg(Blade(lug, hub[0] / 2.0, lug.length, lug.end.rim), "hub", _thin(hub, lug, lug.length))
    return Limb(
        name, field, leg, lug.angle, np.zeros(3), "hub", "hub", hub[1], lug.end, f"{field}.end"
    )


def _thin(hub: tuple[Any, Any, Any], arm: Arm, reach: Any) -> Rooted:
    """How the hub's ring gives under an arm."""
    D, b, h = hub
    of = {"h": h, "w": arm.width, "t": arm.thickness, "b": b, "D": D}
    return Rooted(root_factor(**of, L=reach), pull_factor(**of), SIDEWAYS)
