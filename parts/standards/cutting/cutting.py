"""End mills on sale, and how fast high-speed steel cuts a metal. Lengths in mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from parts.standards.designation import MM_PER_INCH, inches, read_table
from parts.standards.materials.materials import Material

FOOT = 12.0 * MM_PER_INCH
BRINELL = 3.45
"""Ultimate strength of steel in MPa over its Brinell hardness; Shigley, ch. 2, S_u = 3.4 H_B, from memory."""


@dataclass(frozen=True, order=True)
class EndMill:
    """An end mill on sale: diameter, flutes of its longest series [mm], and how it is called."""

    diameter: float
    flutes: float
    teeth: int
    name: str
    kind: str


@dataclass(frozen=True)
class Speed:
    """How fast high-speed steel cuts a metal: [m/min], and where that comes from."""

    metres: float
    source: str

    def rpm(self, diameter: float, share: float = 1.0) -> float:
        """Turns a minute at a diameter [mm], of a share of the speed, to two figures."""
        turns = 1000.0 * share * self.metres / (math.pi * max(diameter, 0.5))
        step = 10.0 ** (math.floor(math.log10(turns)) - 1)
        return math.floor(turns / step + 1e-9) * step


@cache
def end_mills(kind: str) -> tuple[EndMill, ...]:
    """The end mills on sale of a kind, "metric" or "inch", the smallest first."""
    found = []
    for row in read_table("end_mills"):
        if row["kind"] != kind:
            continue
        inch = row["unit"] == "in"
        size, flutes = (
            float(inches(row[key])) * MM_PER_INCH if inch else float(row[key])
            for key in ("diameter", "flutes_long")
        )
        name = f"{row['diameter']} in" if inch else f"{row['diameter']} mm"
        found.append(EndMill(size, flutes, int(row["teeth"]), name, kind))
    return tuple(sorted(found))


def cutting_speed(metal: Material) -> Speed:
    """The lower end of the published range for a metal; of the hardest row where it is harder than all."""
    hardness = float(metal.ultimate_strength) / BRINELL
    rows = [row for row in read_table("cutting_speeds") if row["family"] == metal.family]
    rows = rows or [row for row in read_table("cutting_speeds") if row["family"] == "plastic"]
    row = next((row for row in rows if float(row["up_to_hb"]) >= hardness), rows[-1])
    return Speed(float(row["speed_fpm"]) * FOOT / 1000.0, row["source"])


def drill_feed(diameter: float) -> float:
    """Feed of a twist drill [mm a turn], the lower end for its diameter; Machinery's Handbook, from memory."""
    for up_to, inch in ((3.2, 0.001), (6.4, 0.002), (12.7, 0.004), (25.4, 0.007)):
        if diameter <= up_to:
            return inch * MM_PER_INCH
    return 0.015 * MM_PER_INCH


def tooth_feed(diameter: float, metal: Material) -> float:
    """Feed of an end mill [mm a tooth]: 0.5 % of its diameter in soft metal, 0.3 % in hard; common practice."""
    soft = metal.family in ("aluminium", "brass", "bronze", "plastic", "print plastic")
    return min((0.005 if soft else 0.003) * diameter, 0.1)
