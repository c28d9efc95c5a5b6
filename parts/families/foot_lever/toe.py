"""The toe of a foot lever: what stands at the end of its arm for the foot."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

from pydantic import Field

from parts.families.foot_lever.pinned_toe import PinnedToe
from parts.families.foot_lever.tapped_toe import TappedToe
from parts.families.foot_lever.welded_toe import WeldedToe
from parts.features.arm.tip import AtTip

if TYPE_CHECKING:
    from parts.core.feature import Feature


AnyToe = Annotated[TappedToe | PinnedToe | WeldedToe, Field(discriminator="type")]
if TYPE_CHECKING:
    _: tuple[type[Feature[AtTip]], ...] = (TappedToe, PinnedToe, WeldedToe)
