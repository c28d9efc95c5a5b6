"""What a finish does to bores: how much they close, and the size to machine them to before it goes on."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from parts.core.drawing import Diameter, Hole
from parts.strength.shafts.press_fit import bore_change_by_coating

UM = 1e-3
_UNITS = {
    "um": UM,
    "µm": UM,
    "μm": UM,
    "micron": UM,
    "microns": UM,
    "mm": 1.0,
    "in": 25.4,
    "thou": 0.0254,
}
_THICK = re.compile(r"(\d+(?:\.\d+)?)\s*(um|µm|μm|microns?|mm|in|thou)\b", re.I)
KINDS = (
    (re.compile(r"hard[\s-]*anodi[sz]", re.I), "hard anodise", 1.0 / 2.0),
    (re.compile(r"anodi[sz]", re.I), "anodise", 1.0 / 3.0),
    (re.compile(r"plat|zinc|nickel|chrom|cadmium", re.I), "plating", 1.0),
)
"""Finishes by how they are written, and the share of the coating that stands above the old surface; common
practice, no source."""
FLANKS = 2.0
"""How many times a bore's change the pitch diameter of a thread moves: its flanks lean by 30 degrees, and a
coating square to them shows on the diameter divided by the sine of that."""


@dataclass(frozen=True)
class Coating:
    """A finish as it is written: its kind, its thickness [mm] (0: not stated), and what stands above [-]."""

    words: str
    kind: str
    thickness: float
    share: float


@dataclass(frozen=True)
class Bore:
    """A bore or journal under a coating: the limits that it ends at, and those to machine it to before [mm]."""

    name: str
    finished: tuple[float, float]
    before: tuple[float, float]
    what: str = "bore"


def coating(finish: str) -> Coating | None:
    """Read a finish as a builder writes it, as in `hard anodise 50 um`.

    Returns:
        The coating; None where the words name none that grows.
    """
    for pattern, kind, share in KINDS:
        if pattern.search(finish):
            found = _THICK.search(finish)
            thick = float(found[1]) * _UNITS[found[2].lower()] if found else 0.0
            return Coating(finish, kind, thick, share)
    return None


def bores(holes: Sequence[Hole], coat: Coating, sizes: Sequence[Diameter] = ()) -> list[Bore]:
    """What each hole, and what else has a fit, is machined to before a coating.

    Args:
        holes: the holes of a piece.
        coat: the coating.
        sizes: diameters with a fit that are no holes, as of journals and grooves.

    Returns:
        Of threads the limits of the pitch diameter, of all others those of the diameter.
    """
    change = float(bore_change_by_coating(coat.thickness, coat.share))
    found = []
    for hole in holes:
        if hole.thread is not None:
            limits = hole.thread.internal()
            ends = float(limits.pitch_min), float(limits.pitch_max)
            moved = FLANKS * change
        else:
            ends = hole.limits or (float(hole.diameter), float(hole.diameter))
            moved = change
        before = ends[0] - moved, ends[1] - moved
        what = "bore" if hole.thread is None else "pitch diameter"
        found.append(Bore(hole.name, ends, before, what))
    for size in sizes:
        ends = size.limits or (float(size.value), float(size.value))
        # What stands on a journal makes it as much larger as a bore smaller.
        moved = change if size.fit[:1].isupper() else -change
        before = ends[0] - moved, ends[1] - moved
        found.append(Bore(size.name, ends, before, "diameter"))
    return found
