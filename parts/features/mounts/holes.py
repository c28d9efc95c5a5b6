"""The hole of a bolt in a plate: plain, counterbored, spotfaced, tapped or a slot."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.inputs.quantities import Angle, PositiveLength
from parts.strength.section.outline import Loop

if TYPE_CHECKING:
    from parts.core.drawing import Callout


class PlainHole(Group):
    """A clearance hole."""

    type: Literal["clearance"] = Field("clearance", description="A clearance hole.")
    fit: Literal["close", "normal", "loose"] = Field(
        "normal", description="Clearance by ISO 273 or ASME B18.2.8."
    )


class SunkHole(Group):
    """A clearance hole counterbored for a socket head, or spotfaced to seat a head square."""

    type: Literal["counterbored", "spotfaced"] = Field(
        description="Counterbored for a socket head, or spotfaced to seat a head square."
    )
    fit: Literal["close", "normal", "loose"] = Field(
        "normal", description="Clearance by ISO 273 or ASME B18.2.8."
    )
    diameter: PositiveLength | None = Field(
        None,
        description="Diameter of the counterbore or spotface; what a socket head by DIN 974-1, or "
        "a flat washer, needs where left out.",
    )
    depth: PositiveLength = Field(description="Depth of the counterbore or spotface.")
    side: Literal["outer", "inner"] = Field(
        "outer", description="Face that the head sits in: outer, or inner toward the frame."
    )


class TappedHole(Group):
    """A hole tapped through plate and boss."""

    type: Literal["tapped"] = Field(
        "tapped", description="Tapped through plate and boss; the bolt comes from the other side."
    )


class SlottedHole(Group):
    """A clearance slot, for adjustment."""

    type: Literal["slot"] = Field("slot", description="A clearance slot, for adjustment.")
    fit: Literal["close", "normal", "loose"] = Field(
        "normal", description="Clearance across the slot by ISO 273 or ASME B18.2.8."
    )
    travel: PositiveLength = Field(description="How far the bolt can move, end to end.")
    angle: Angle = Field(0.0, description="Direction of the slot from x toward y.")

    def loop(self, at: tuple[Any, Any], width: Any) -> Loop:
        """The slot about its middle, counter-clockwise."""
        along = np.array([np.cos(self.angle), np.sin(self.angle)])
        across = np.array([-along[1], along[0]])
        half, r, x, y = np.broadcast_arrays(*(np.asarray(v, float)[..., None] for v in
                                              (self.travel / 2.0, width / 2.0, *at)))  # fmt: skip
        middle = np.concatenate([x, y], axis=-1)
        corners = [(half, -r), (half, r), (-half, r), (-half, -r)]
        points = np.stack([middle + u * along + v * across for u, v in corners], axis=-2)
        return Loop(points, np.array([1.0, 0.0, 1.0, 0.0]))

    def callout(self, name: str, at: tuple[Any, Any], width: float, thickness: float) -> Callout:
        """What a drawing says of it: its ends, its travel and its turn."""
        from parts.core.drawing import Angle as Turned
        from parts.core.drawing import Callout, Linear, Radius

        angle, travel = float(self.angle), float(self.travel)
        x, z, way = np.eye(3)[0], np.eye(3)[2], np.array([np.cos(angle), np.sin(angle), 0.0])
        centre = np.array([float(at[0]), float(at[1]), thickness])
        ends = centre - way * travel / 2.0, centre + way * travel / 2.0
        sizes = (
            Radius(f"end of the slot of {name}", ends[1], z, way, width / 2.0),
            Linear(f"travel of the slot of {name}", *ends, way, travel),
            Turned(f"turn of the slot of {name}", centre, x, way, angle, from_axis=True),
        )
        words = "slot: {0} at both ends, centres {1} apart\n"
        words += f"at {{2}}, {name} in its middle"
        return Callout(f"slot of {name}", ends[1] + way * width / 2.0, words, sizes, view="front")


Hole = Annotated[PlainHole | SunkHole | TappedHole | SlottedHole, Field(discriminator="type")]
