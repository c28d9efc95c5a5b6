"""Fields that take a tolerance class of ISO 286, and what a report says of the limits."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated, Any

import numpy as np
from pydantic import Field

from parts.core.clearances import Clearance, Sized, of_class
from parts.standards.fasteners.circlips import Circlip
from parts.standards.fits.fits import Fit
from parts.standards.fits.iso286 import Limits, class_limits

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

RING_BORE, RING_NARROW = 0.010, 0.12
"""What the bore and the width of a bearing's ring may be below their rows [mm]: ISO 492, normal class, bores to 30 mm;
from memory."""

SPIGOT_CLASS = "h9"
"""Tolerance of a spigot in its tube, so that the clearance stated is the least; common practice, no source."""
TUBE_OFF, WALL_OFF = 0.13, 0.10
"""What a drawn tube may be off in its outside diameter [mm] and, as a share, in its wall: 0.005 in and a tenth, as
aircraft tube up to 1-1/2 in is bought; from memory."""
DRILLED_CLASS = "H12"
"""Tolerance of a drilled hole that clears a pin: ISO 273 gives H12 to its fine series; from memory."""

CIRCLIP_THIN = 0.06
"""What a circlip may be thinner than its row [mm]; DIN 471 and 472, from memory."""
SPACER_CLASS = "h11"
"""Length of a spacer, as turned: never longer than stated; common practice, no source."""
AXIAL = 0.1
"""Tolerance of a length by which a ring or a circlip is held, to the side where it still goes in or is still
clamped [mm]; common practice, no source."""


def plug_in_tube(joint: str, field: str, bore: Any, plug: Any) -> Clearance:
    """A spigot in its tube: it is turned to the bore as measured, for the mill lets that vary by more than the fit."""
    return Clearance(
        joint, field,
        (Sized("bore of the tube", bore, bore, "as measured; the spigot is turned to it"),),
        (of_class("spigot", SPIGOT_CLASS, plug),),
        "give the spigot clearance", eased=lambda more: bore - plug + more,
    )  # fmt: skip


OWN_PLACE = "place of this hole, off"
"""What of a bolt's room its own hole may take up; twice where the bolt is led by the thread of the other piece."""
CLEARS: Mapping[str, str] = MappingProxyType({"close": "H12", "normal": "H13", "loose": "H14"})
"""Tolerance of a clearance hole by its series: ISO 273, fine, medium and coarse; from memory."""


def bolt_in_hole(
    joint: str, field: str, hole: Any, bolt: Sized, series: str = "normal"
) -> Clearance:
    """A bolt in a clearance hole of ISO 273."""
    room = of_class("hole", CLEARS[series], hole)
    return Clearance(joint, field, (room,), (bolt,), "choose a looser series")


def place_zone(hole: float, bolt: float, *, fixed: bool) -> float:
    """Diameter of the zone that the axis of a clearance hole may lie in, so that its bolt always goes in [mm].

    Floating, where the bolt goes through two clearance holes to its nut: each has all that the hole leaves. Fixed,
    where it is screwed into the other piece: each has half (ASME Y14.5, appendix on fixed and floating fasteners;
    from memory). Rounded down to 0.01 mm.

    Args:
        hole: least diameter of the clearance hole [mm].
        bolt: greatest diameter of the bolt [mm].
        fixed: whether the bolt is screwed into the other piece.
    """
    return float(np.floor(100.0 * (hole - bolt) / (2.0 if fixed else 1.0) + 1e-6) / 100.0)


def bolt_through_both(
    joint: str, field: str, hole: Sized, bolt: Sized, zone: Any, *, fixed: bool
) -> Clearance:
    """A bolt of a pattern, its place off in both pieces by all that their zones allow.

    A threaded hole leads its bolt: what its axis is off counts twice, as a bolt's radius on both sides does.
    """
    off, twice = (zone, ", twice") if fixed else (0.5 * np.asarray(zone, float)[()], "")
    places = (
        Sized(f"{OWN_PLACE}{twice}", 0.0, off, "as drawn"),
        Sized(f"place in the other piece, off{twice}", 0.0, off, "the same zone"),
    )
    return Clearance(joint, field, (hole,), (bolt, *places), "choose a looser series")


def plug_note(tube: str, outside: float, wall: float, plug: float) -> str:
    """What a sheet says of a spigot: it hangs on the tube at hand."""
    bore = outside - 2.0 * wall
    off = TUBE_OFF + 2.0 * WALL_OFF * wall
    free = class_limits(SPIGOT_CLASS, plug)
    least, most = bore - free.max, bore - free.min
    return (
        f"Spigot: measure the bore of the {tube}tube first (the mill allows {bore - off:.2f} to {bore + off:.2f} mm), "
        f"and turn the spigot {least:.2f} to {most:.2f} mm smaller; its size here is for a bore of {bore:.2f} mm."
    )


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
