"""What plastic does when it is printed: how much it shrinks, and the holes for inserts set with heat."""

from __future__ import annotations

from parts.standards.designation import UnknownDesignation, read_table
from parts.standards.materials.materials import Material

__all__ = ["insert_hole", "shrinkage"]


def shrinkage(plastic: Material) -> float:
    """Linear shrinkage of a print on cooling [-].

    Raises:
        UnknownDesignation: it is no plastic of the table; kind "print plastic".
    """
    rows = read_table("print_shrink")
    for row in rows:
        if row["alloy"] == plastic.alloy:
            return float(row["shrink"])
    known = [row["alloy"] for row in rows]
    raise UnknownDesignation(
        "print plastic", plastic.name, "it is not printed from filament", known
    )


def insert_hole(size: str) -> float | None:
    """Diameter of the hole for a heat-set insert [mm]; None where the table holds none.

    Args:
        size: size of the screw, as "M5" or "1/4".
    """
    for row in read_table("insert_holes"):
        if row["size"] == size:
            return float(row["hole_mm"])
    return None
