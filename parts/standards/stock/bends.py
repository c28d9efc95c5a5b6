"""How tightly sheet may be bent cold: least inside radius by alloy, condition and thickness."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.standards.designation import read_table
from parts.standards.materials.materials import Material

__all__ = ["bend_source", "least_bend_radius"]


def least_bend_radius(material: Material, thickness_mm: Any) -> Any:
    """Least inside radius of a cold bend [mm].

    Args:
        material: the sheet.
        thickness_mm: its thickness [mm]; may be an array.

    Returns:
        The radius; not a number where the table holds none for this alloy, condition and thickness.
    """
    t = np.asarray(thickness_mm, float)
    ratio = np.full(t.shape, np.nan)
    for row in _rows(material):
        inside = (t > float(row["above_mm"])) & (t <= float(row["up_to_mm"]))
        ratio = np.where(inside, float(row["radius_over_thickness"]), ratio)
    return (ratio * t)[()]


def bend_source(material: Material, thickness_mm: float) -> str:
    """Where the least radius comes from; empty where the table holds none."""
    for row in _rows(material):
        if float(row["above_mm"]) < thickness_mm <= float(row["up_to_mm"]):
            return str(row["source"])
    return ""


def _rows(material: Material) -> list[Any]:
    return [
        row
        for row in read_table("bend_radii")
        if row["alloy"] == material.alloy
        and (row["conditions"] == "*" or material.condition in row["conditions"].split("|"))
    ]
