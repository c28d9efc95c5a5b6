"""Fields that take a tolerance class of ISO 286, and what a report says of the limits."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field

from parts.standards.fasteners.circlips import Circlip
from parts.standards.fits.fits import Fit
from parts.standards.fits.iso286 import Limits

HoleClass = Annotated[str, Field(pattern=r"^[A-Z]{1,2}\d{1,2}$")]
"""Tolerance class of a hole, as H7."""
ShaftClass = Annotated[str, Field(pattern=r"^[a-z]{1,2}\d{1,2}$")]
"""Tolerance class of a shaft, as h6."""
FitPair = Annotated[str, Field(pattern=r"^[A-Z]{1,2}\d{1,2}/[a-z]{1,2}\d{1,2}$")]
"""Fit of a shaft in a hole, the hole's class first, as H7/p6."""

FINE = "Ra 1.6"
"""Surface of a bore that a pin or bush sits in; common practice, no source."""
RING_CLASS = "h6"
"""Tolerance of a bearing's outside, about; ISO 12240-1 and ISO 492 give 0 to -9 µm and so, from memory."""

SPIGOT_CLASS = "h9"
"""Tolerance of a spigot in its tube, so that the clearance stated is the least; common practice, no source."""

AXIAL = 0.1
"""Tolerance of a length by which a ring or a circlip is held, to the side where it still goes in or is still
clamped [mm]; common practice, no source."""


def limit_facts(name: str, of: Limits) -> dict[str, tuple[Any, str]]:
    """Least and largest size that a fit allows, as facts of a part [mm]."""
    return {
        f"{name} {of.tolerance_class}, least": (of.min, "mm"),
        f"{name} {of.tolerance_class}, largest": (of.max, "mm"),
    }


def grooved(clip: Circlip | None) -> dict[str, Limits]:
    """Limits of a circlip's groove by name; none without a circlip."""
    return (
        {}
        if clip is None
        else dict(zip(("groove", "groove width"), clip.groove_limits(), strict=True))
    )


def freed(name: str, of: Fit) -> tuple[str, ...]:
    """A caution where a press fit may come out loose; none where its limits always leave it tight."""
    if of.max_clearance <= 0.0:
        return ()
    return (
        f"{name} may come out up to {1e3 * of.max_clearance:.0f} µm free ({of.designation}): set it in retaining "
        "compound, or state a tighter fit",
    )
