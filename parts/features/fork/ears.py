"""A pair of ears by its dimensions: what follows from them alone.

Axes of the feature: the pin lies on z, the ears stand out toward +x, and the throat is open there. The
origin is the middle of the pin.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import Any, Literal

import numpy as np
from pydantic import Field

from parts.core.part import Bought
from parts.features.bolts.grip import Joint, plain_under
from parts.features.fork.nose import Nose
from parts.features.fork.throat import BladeThroat, Throat
from parts.features.pins.bought_pin import SplitPinned
from parts.features.pins.pin import BushedHole, Pin, TappedHole
from parts.features.press.pressed import Pressed
from parts.inputs.quantities import PositiveLength
from parts.standards.materials.materials import Material
from parts.strength.pinned.pin import thread_in_grip


class EarPair(Nose):
    """Two ears alike, with the floor of the throat behind them."""

    thickness: PositiveLength = Field(description="Thickness of each ear.")
    depth: PositiveLength = Field(description="Pin centre to the floor of the throat.")
    corner: PositiveLength = Field(
        2.0, description="Radius where the throat's floor meets the ears; not for a full radius."
    )
    floor: Literal["flat", "full radius"] = Field(
        "flat", description="Floor of the throat: flat with corner radii, or one full radius."
    )
    floor_thickness: PositiveLength = Field(description="Metal behind the floor of the throat.")
    throat: Throat = Field(description="What the throat takes.")
    pin: Pin = Field(description="The pin and its hole.")

    @property
    def radius(self) -> Any:
        """Radius at the throat's floor [mm]."""
        return self.throat.width / 2.0 if self.floor == "full radius" else self.corner

    @property
    def height(self) -> Any:
        """Over both ears, along the pin [mm]."""
        return self.throat.width + 2.0 * self.thickness

    @property
    def last_plane(self) -> Any:
        """From the outside of one ear to the shear plane before the other [mm]."""
        return self.thickness + self.throat.width

    def kept(self) -> Joint | SplitPinned | None:
        """The pin with what keeps it, where a table names it."""
        return self.pin.kept(self.height, self.last_plane)

    @property
    def middle(self) -> Any:
        """From the middle of the throat to the middle of an ear [mm]."""
        return (self.throat.width + self.thickness) / 2.0

    @property
    def back(self) -> Any:
        """Where the body behind the floor ends: distance behind the pin [mm]."""
        return self.depth + self.floor_thickness

    @property
    def tightened(self) -> bool:
        """Whether a nut or the tapped ear pulls the ears together as the pin is tightened."""
        pin = self.pin
        return isinstance(pin.hole, TappedHole) or (bool(pin.bolt) and pin.nut_form != "slotted")

    def bush(self, name: str, material: Material) -> Pressed | None:
        """The bush in each ear, its checks called by the ear's name; None without."""
        hole, least = self.pin.hole, np.minimum(self.end, self.width / 2.0) - self.pin.bore / 2.0
        if not isinstance(hole, BushedHole):
            return None
        return Pressed(
            f"{name} bush", hole.outside, self.pin.diameter, least, self.thickness, material, hole.material,
            hole.fit,
        )  # fmt: skip

    @cached_property
    def thread_inside(self) -> Any:
        """Length of the bolt's thread that lies in the ear at its nut [mm]; 0 for a pin that is made."""
        if not self.pin.bolt:
            return 0.0
        plain = plain_under(
            self.pin.bolt,
            self.height + self.pin.beyond,
            last_plane=self.last_plane,
            nut_form=self.pin.nut_form,
        )
        return np.where(np.isnan(plain), np.nan, thread_in_grip(self.height, plain))[()]

    def pin_bought(self, fits: str) -> Sequence[Bought]:
        """The pin, or what a table names as the pin with what keeps it."""
        pin = self.pin
        if isinstance(pin.hole, TappedHole):
            size = f"{float(pin.diameter):.4g} mm, {pin.material.name}"
            through = f"{pin.hole.thread.designation} bolt {size}"
            return (Bought(f"{through}, grip {float(self.height):.4g} mm", 1, fits),)
        return pin.bought(self.height, self.last_plane, fits)

    def pin_cautions(self) -> Sequence[str]:
        """What keeps the pin where it is."""
        if isinstance(self.pin.hole, TappedHole):
            return (
                "Shim the throat before tightening the pin bolt: the tapped ear lets it pull the ears together.",
                "Lock the pin bolt with a jam nut, wire or thread locker: a joint that moves unscrews it.",
            )
        if self.pin.nut_form == "slotted":
            return ("Spread the split pin of the slotted nut, and look at it before every ride.",)
        if self.pin.bolt and isinstance(self.throat, BladeThroat):
            return (
                "This joint turns on its bolt, which unscrews a self-locking nut: take `nut: slotted`, with a split "
                "pin (FAA AC 43.13-1B, 7-64, from memory).",
            )
        if self.pin.bolt:
            return (
                "A self-locking nut holds where its bolt stands still, clamped with the ball: see that the ball turns "
                "in its race and not the bolt in the ears (FAA AC 43.13-1B, 7-64, from memory).",
            )
        if self.pin.clevis_pin:
            return (
                "Fill the slack of the clevis pin with washers, spread its split pin, and look at both before "
                "every ride.",
            )
        return (
            "The pin needs a head and a split pin or clip, or a nut: no check covers one that walks out.",
        )
