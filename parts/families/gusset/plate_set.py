"""One plate or a mirrored pair, and what share of the load each plate takes."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Annotated, Any, Literal, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.feature import Answers
from parts.core.group import Group
from parts.core.loads import Action
from parts.core.rules import Rule, at_least, at_most
from parts.families.gusset.rim import FlaredRim
from parts.families.gusset.sites import OnPlate
from parts.inputs.quantities import Length, PositiveLength
from parts.strength.vectors import cross

UP = np.array([0.0, 0.0, 1.0])
FARTHEST = 0.6
"""How far the outer face of a plate may stand off the tubes' plane, over the smaller radius [-]."""


def _whole(actions: Sequence[Action]) -> Sequence[Action]:
    return actions


class Share(NamedTuple):
    """One plate of the set that is checked.

    `piece` is its name and `offset` the z of its middle [mm]. `front` is 1 where its front looks toward +z, else -1.
    `of` gives its part of the actions on the joint.
    """

    piece: str
    offset: Any
    front: int
    of: Callable[[Sequence[Action]], Sequence[Action]] = _whole


class Single(Group, Answers[OnPlate]):
    """One plate."""

    type: Literal["single"] = Field("single", description="One plate.")
    offset: Length = Field(
        0.0, description="From the plane of the tubes' axes to the plate's middle, along z."
    )

    @property
    def mirror(self) -> Any:
        """Where on z the plane lies in which the second piece mirrors the first [mm]; None for one piece."""
        return None

    def shares(self) -> Sequence[Share]:
        """The plates that are checked."""
        return (Share("part", self.offset, 1),)

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        return _near_the_plane(site, self.offset)


class Astride(Group, Answers[OnPlate]):
    """Two plates on one joint, on both sides of the plane of the tubes' axes, mirrored in it."""

    type: Literal["pair astride"] = Field(
        "pair astride",
        description="Two plates on one joint, mirrored in the plane of the tubes' axes.",
    )
    spacing: PositiveLength = Field(description="Between the middles of the two plates.")

    @property
    def mirror(self) -> Any:
        return 0.0

    def shares(self) -> Sequence[Share]:
        """Each plate takes half; moments out of the plane come as opposite forces in the two plates."""
        half = self.spacing / 2.0
        return (
            Share("left", half, 1, lambda actions: [_half(one, half) for one in actions]),
            Share("right", -half, -1, lambda actions: [_half(one, -half) for one in actions]),
        )

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        yield from _near_the_plane(site, self.spacing / 2.0)
        if site.form.across:
            return
        rim = site.rim
        inward = rim.height if isinstance(rim, FlaredRim) and rim.toward == "back" else 0.0
        yield at_least(
            "gusset.pair", f"{site.field}.spacing", self.spacing, site.thickness + 2.0 * (site.leg + inward),
            "there is no room for the inner welds or the rims between the two plates",
            "move the plates apart, or let the rims stand outward",
        )  # fmt: skip


class LeftAndRight(Group, Answers[OnPlate]):
    """Two plates for two joints that mirror each other, on the left and the right of the vehicle."""

    type: Literal["left and right"] = Field(
        "left and right",
        description="Two plates for two mirrored joints, left and right of the vehicle.",
    )
    spacing: PositiveLength = Field(description="Between the planes of the two joints, along z.")

    @property
    def mirror(self) -> Any:
        return -self.spacing / 2.0

    def shares(self) -> Sequence[Share]:
        """The left one is checked, under the loads of its own joint; the right one is its mirror image."""
        return (Share("left", 0.0, 1),)

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        yield at_least(
            "gusset.apart", f"{site.field}.spacing", self.spacing, np.maximum(*site.diameters) + 2.0,
            "the two joints would run into each other",
            "give the distance between the two planes of tubes, or ask for a `pair astride` on one joint",
        )  # fmt: skip
        yield at_most(
            "gusset.far_apart", f"{site.field}.spacing", self.spacing, 2000.0,
            "no vehicle is this wide; it looks like the wrong unit", "check the unit of this value",
        )  # fmt: skip


PlateSet = Annotated[Single | Astride | LeftAndRight, Field(discriminator="type")]


def _half(action: Action, z: Any) -> Action:
    """What the plate at height `z` of a pair at ±z takes of an action in their middle plane."""
    force, moment = np.asarray(action.force, float), np.asarray(action.moment, float)
    z = np.asarray(z, float)[..., None]
    at = np.asarray(action.at, float)
    # The place of the action may lie off the middle plane: its force then twists the pair.
    moment = moment + cross(at * UP, force)
    couple = cross(moment, UP) / (2.0 * z)
    return Action(at * (1.0 - UP) + z * UP, force / 2.0 + couple, moment * UP / 2.0)


def _near_the_plane(site: OnPlate, offset: Any) -> Iterator[Rule]:
    """Rules of a plate whose middle stands `offset` off the plane of the tubes' axes [mm]."""
    field, offset = site.field, np.abs(offset)
    if site.form.across:
        yield at_most(
            "gusset.middle", field, offset, 0.0,
            "a plate across the tubes stands in their middle and reaches over both sides of them",
            "ask for a `single` plate without an offset, or for `left and right` for two joints",
        )  # fmt: skip
        return
    yield at_most(
        "gusset.offset", field, offset + site.thickness / 2.0, FARTHEST * np.minimum(*site.diameters) / 2.0,
        "so far off the tubes' plane the edge meets the tube at too flat a slant to weld both faces (0.6 of "
        "the radius: common practice, no source)",
        "bring the plate nearer to the plane of the tubes' axes",
    )  # fmt: skip
