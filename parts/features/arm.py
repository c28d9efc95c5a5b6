"""The arm between a hub and its end: its dimensions, and the rules that they must meet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np
from pydantic import Field

from parts.group import Group
from parts.inputs.quantities import Length, NonNegativeLength, PositiveLength
from parts.rules import Rule, at_least, at_most

if TYPE_CHECKING:
    from parts.features.blade import Blade

LEAST_FLOOR = 2.0
"""Thinnest floor of a pocket that does not chatter or drum [mm]; common practice, no source."""
LEAST_FLANGE = 3.0
"""Thinnest flange beside a pocket [mm]; common practice, no source."""
DEEPEST_POCKET = 5.0
"""Depth of a pocket in radii of its corners that a cutter still reaches [-]; common practice, no source."""


class Pocket(Group):
    """Pockets milled from both faces, which leave the arm an I."""

    floor: PositiveLength = Field(description="Thickness of the floor left between the pockets.")
    flange: PositiveLength = Field(
        description="Width of the flange left along each side of the arm."
    )
    corner: PositiveLength = Field(6.0, description="Corner radius: that of the cutter.")
    hub_end: PositiveLength = Field(
        description="Solid length left between the hub and the pockets."
    )
    far_end: PositiveLength = Field(
        description="Solid length left between the pockets and the eye or block."
    )


class Arm(Group):
    """The arm between hub and end: its width lies in the plane of its travel, its thickness along the bar."""

    length: PositiveLength = Field(
        description="Centre of the bar to the centre of the end, square to the bar."
    )
    width: PositiveLength = Field(description="Width in the plane of travel, at the hub's rim.")
    end_width: PositiveLength | None = Field(
        None, description="Width at the end's rim or block; as at the hub where left out."
    )
    thickness: PositiveLength = Field(description="Thickness along the bar, at the hub's rim.")
    end_thickness: PositiveLength | None = Field(
        None, description="Thickness at the end's rim or block; as at the hub where left out."
    )
    crank: Length = Field(
        0.0, description="Sideways offset of the end from the middle of the hub, along the bar."
    )
    root_fillet: NonNegativeLength = Field(
        10.0, description="Fillet between the arm's sides and the hub; 0 leaves it sharp."
    )
    end_fillet: NonNegativeLength = Field(
        5.0, description="Fillet between the arm's sides and the eye or block; 0 leaves it sharp."
    )
    pocket: Pocket | None = Field(
        None, description="Pockets from both faces that leave an I; a plain arm where left out."
    )


def blade_rules(blade: Blade, field: str, edge_break: Any) -> Iterator[Rule]:
    """Rules of the blade itself; `field` is the dotted path of its group."""
    arm = blade.arm
    tip_width = arm.width if arm.end_width is None else arm.end_width
    tip_thick = arm.thickness if arm.end_thickness is None else arm.end_thickness
    free = blade.end - blade.start
    yield at_least(
        "arm.length", f"{field}.length", free, 0.5 * np.maximum(arm.width, tip_width),
        "hub and end leave no arm between them", "lengthen the arm, or make the hub or the end smaller",
    )  # fmt: skip
    yield at_most(
        "arm.long", f"{field}.length", arm.length, 1000.0,
        "no torsion-bar arm of a one-off vehicle is this long; it "
        "looks like the wrong unit", "check the unit of this value",
    )  # fmt: skip
    yield at_least(
        "arm.thin", f"{field}.thickness", np.minimum(arm.thickness, tip_thick), 3.0,
        "an arm this thin twists and buckles sideways (common practice, no source)", "make the arm thicker",
    )  # fmt: skip
    yield at_least(
        "arm.narrow", f"{field}.width", np.minimum(arm.width, tip_width), 6.0,
        "an arm this narrow is not meant to carry a wheel; it looks like the wrong unit",
        "check the unit of this value",
    )  # fmt: skip
    yield at_most(
        "arm.taper", f"{field}.end_width", np.abs(blade.slope), 0.5,
        "the sides of the arm run apart by more than 27 degrees each",
        "lengthen the arm, or make its ends more alike",
        unit="",
    )  # fmt: skip
    yield at_most(
        "arm.crank", f"{field}.crank", np.abs(arm.crank), 0.6 * free,
        "a crank this steep twists more than it bends", "lessen the crank, or lengthen the arm",
    )  # fmt: skip
    yield at_least(
        "arm.fillets", f"{field}.root_fillet", blade.tip().side[0] - blade.root().side[0], 1.0,
        "the fillets of the two ends meet", "lessen the root or the end fillet",
    )  # fmt: skip
    for name, fillet in (("root_fillet", arm.root_fillet), ("end_fillet", arm.end_fillet)):
        least = 2.5 * np.asarray(edge_break)
        yield at_least(
            f"arm.{name}", f"{field}.{name}", np.where(np.asarray(fillet) > 0.0, fillet, least), least,
            "the edge break would eat the fillet", "make the fillet 2.5 times the edge break, or leave it out",
        )  # fmt: skip
    room = np.minimum(np.minimum(arm.thickness, tip_thick), np.minimum(arm.width, tip_width)) / 4.0
    yield at_most(
        "arm.break", "edge_break", edge_break, room, "the chamfers would eat the faces of the arm",
        "lessen the edge break to a quarter of the arm's thickness",
    )  # fmt: skip
    if arm.pocket is not None:
        yield from _pocket_rules(blade, arm.pocket, f"{field}.pocket", edge_break)


def _pocket_rules(blade: Blade, pocket: Pocket, field: str, c: Any) -> Iterator[Rule]:
    low, high = blade.pocket_span()
    least = np.minimum(blade.pocket_side(low), blade.pocket_side(high))
    thick = np.minimum(blade.thickness(low), blade.thickness(high))
    deep = (np.maximum(blade.thickness(low), blade.thickness(high)) - pocket.floor) / 2.0
    yield at_least(
        "pocket.floor", f"{field}.floor", pocket.floor, LEAST_FLOOR,
        "a floor this thin chatters under the cutter (common practice, no source)", "leave more floor",
    )  # fmt: skip
    yield at_most(
        "pocket.depth", f"{field}.floor", pocket.floor, thick - 2.0 * np.maximum(1.0, 1.5 * c),
        "the pockets would be less than a millimetre deep, or shallower than their edge break",
        "leave less floor, or a plain arm",
    )  # fmt: skip
    yield at_least(
        "pocket.flange", f"{field}.flange", pocket.flange, np.maximum(LEAST_FLANGE, 3.0 * c),
        "a flange this thin bends away from the cutter (common practice, no source)", "leave a wider flange",
    )  # fmt: skip
    yield at_most(
        "pocket.corner", f"{field}.corner", pocket.corner, 0.8 * least,
        "the corner radii would meet across the pocket", "take a smaller cutter, or a narrower flange",
    )  # fmt: skip
    yield at_least(
        "pocket.cutter", f"{field}.corner", pocket.corner,
        np.maximum(np.maximum(deep / DEEPEST_POCKET, 1.0), c),
        "a cutter this thin does not reach the floor (common practice, no source)",
        "take a larger corner radius",
    )  # fmt: skip
    yield at_least(
        "pocket.length", f"{field}.hub_end", high - low, 3.0 * pocket.corner,
        "the pockets are shorter than their corner radii",
        "leave less solid length at the ends, or a plain arm",
    )  # fmt: skip
    yield at_least(
        "pocket.ends", f"{field}.far_end", np.minimum(pocket.hub_end, pocket.far_end),
        np.maximum(2.0, 3.0 * c), "the pockets run into the hub or the end", "leave more solid length",
    )  # fmt: skip
