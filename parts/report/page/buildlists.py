"""What a build weighs, what is bought and ordered for it, and where its hardpoints lie, for its page."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from parts.core.figures import figure
from parts.inputs.units import MM_PER_INCH
from parts.report.page.html import Html, joined, table, tag

Data = Mapping[str, Any]


def of_all(data: Data) -> tuple[float, np.ndarray | None]:
    """Mass [kg] and centre of mass [mm] of all made parts that have a place."""
    heavy = data["weights"]
    mass = sum(float(one["mass_kg"]) for one in heavy)
    if not heavy:
        return 0.0, None
    moment = sum(float(one["mass_kg"]) * np.asarray(one["centre_mm"], float) for one in heavy)
    return mass, np.asarray(moment / mass)


def masses_shown(data: Data) -> Html | None:
    """The mass and centre of mass of every made part; None where none has a place."""
    mass, centre = of_all(data)
    if centre is None:
        return None
    rows = [
        [one["instance"], f"{one['mass_kg']:.4f}", *(f"{v:.1f}" for v in one["centre_mm"])]
        for one in data["weights"]
    ]
    rows.append([tag("b", "all made parts"), f"{mass:.4f}", *(f"{v:.1f}" for v in centre)])
    head = ["part", "kg", "x, mm", "y, mm", "z, mm"]
    said = (
        "Made parts without hardware; places in the vehicle's axes: x forward, y to the left, z up."
    )
    return joined(
        table("Mass and centre of mass of every made part", head, rows, numbers=(1, 2, 3, 4)),
        tag("p", said, class_="what"),
    )


def bought_shown(data: Data) -> Html | None:
    """The hardware to buy; None where there is none."""
    rows = [
        [one["designation"], one["quantity"], one["fits"], one["source"]] for one in data["bought"]
    ]
    head = ["designation", "quantity", "fits", "source"]
    return table("Hardware to buy for all of it", head, rows, numbers=(1,)) if rows else None


def stock_shown(data: Data) -> Html | None:
    """The stock to order; None where there is none."""
    rows = [
        [one["part"], one["piece"], one["quantity"], one["material"], one["stock"],
         f"{one['length_mm']:.0f}" + (f" x {one['width_mm']:.0f}" if one["width_mm"] else ""),
         f"{100.0 * one['waste']:.0f} %", one["note"]]
        for one in data["stock"]
    ]  # fmt: skip
    head = ["part", "piece", "quantity", "material", "stock", "cut to, mm", "waste", "note"]
    return table("Stock to order", head, rows, numbers=(2, 5, 6)) if rows else None


def hardpoints_shown(data: Data) -> Html:
    """Every hardpoint, and the dimensions that hang on it."""
    hangs: dict[str, list[str]] = {}
    for part in data["parts"]:
        for name in part["depends_on"]:
            hangs.setdefault(name.removeprefix("hardpoint "), []).append(part["name"])
    rows = [
        [one["name"], *(f"{v:.1f}" for v in one["at_mm"]), *(f"{v / MM_PER_INCH:.2f}" for v in one["at_mm"]),
         f"± {figure(one['within_mm'])}" if one["within_mm"] else "drawn", one["from"] or "",
         ", ".join(hangs.get(one["name"], ()))]
        for one in data["hardpoints"]
    ]  # fmt: skip
    head = ["hardpoint", "x, mm", "y, mm", "z, mm", "x, in", "y, in", "z, in", "known to, mm", "stated from",
            "dimensions that hang on it"]  # fmt: skip
    said = "Vehicle axes as in ISO 8855: x forward, y to the left, z up."
    return joined(
        table("Hardpoints", head, rows, numbers=tuple(range(1, 8))), tag("p", said, class_="what")
    )
