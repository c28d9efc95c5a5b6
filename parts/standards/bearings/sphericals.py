"""Spherical plain bearings: ISO 12240-1 series E.

Lengths in mm, angles in rad.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache

from parts.standards.designation import UnknownDesignation, nearest_sizes, read_table


@dataclass(frozen=True)
class Spherical:
    """A radial spherical plain bearing, ISO 12240-1 series E. Lengths in mm.

    `chamfer_inner` and `chamfer_outer` are least; the seat's fillet stays under them.
    """

    bore: float
    outside: float
    ball_width: float
    ring_width: float
    ball_diameter: float
    chamfer_inner: float
    chamfer_outer: float
    source: str

    @property
    def swing(self) -> float:
        """To one side [rad], until the ring's edge reaches the ball's flat face."""
        from parts.strength.pinned.rod_end import swing_at_shoulder

        face = math.sqrt(self.ball_diameter**2 - self.ball_width**2)
        return float(swing_at_shoulder(face, self.ring_width, self.ball_diameter))

    @property
    def designation(self) -> str:
        """The name that `spherical` reads back."""
        return f"ISO 12240-1 E {self.bore:g}"


@cache
def _sphericals() -> dict[float, Spherical]:
    names = ("bore", "outside", "ball_width", "ring_width", "ball_diameter", "r1", "r2")
    table = {}
    for row in read_table("spherical_iso12240_e"):
        d, outside, width, ring, ball, r1, r2 = (float(row[f"{name}_mm"]) for name in names)
        table[d] = Spherical(d, outside, width, ring, ball, r1, r2, row["source"])
    return table


_SPHERICAL = re.compile(
    r"(?:iso\s*12240-1\s*)?(?:e\s*)?(\d+(?:\.\d+)?)\s*(?:mm)?(?:\s*spherical(?:\s*bearing)?)?", re.I
)


def spherical(designation: str) -> Spherical:
    """The ISO 12240-1 series E bearing of a bore: "ISO 12240-1 E 10", "10 mm spherical", "10".

    Raises:
        UnknownDesignation: when the series has no such bore.
    """
    found = _SPHERICAL.fullmatch(designation.strip())
    if not found:
        raise UnknownDesignation(
            "spherical bearing", designation, "right would be a bore in mm", ["ISO 12240-1 E 10"]
        )
    bore = float(found[1])
    if bore not in _sphericals():
        sizes = {part.designation: part.bore for part in _sphericals().values()}
        raise UnknownDesignation(
            "spherical bearing",
            designation,
            f"series E has no bore of {bore:g} mm",
            nearest_sizes(bore, sizes),
        )
    return _sphericals()[bore]
