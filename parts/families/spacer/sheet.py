"""The sheet of a spacer."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.core import drawing as sheet
from parts.families.spacer.ends import Flange
from parts.features.press.fit import DRILLED_CLASS
from parts.standards.fits.iso286 import Limits, class_limits

X, Y, Z = np.eye(3)


def spacer_drawn(
    length: float, diameter: float, bore: float, tolerance: float, edge_break: float, outside: Limits | None,
    flange: Flange | None,
) -> sheet.Drawn:  # fmt: skip
    """Its two views with all dimensions [mm]; no limits of the outside where the general tolerance holds."""
    L, D, tol, c = length, diameter, tolerance, edge_break
    wide = diameter if flange is None else float(flange.diameter)
    ends = (0, D / 2 - c, 0), (L, wide / 2 - c, 0)
    sizes: list[Any] = [
        sheet.Linear("length", *ends, X, L, limits=(L - tol, L + tol), view="front"),
        sheet.Diameter("outside", (L / 3, 0, 0), X, D, view="front", fit=(outside and outside.tolerance_class) or "",
            limits=outside and outside.sizes),
        sheet.Callout("head", (L, D / 4, 0), "face", zones=(sheet.Zone("parallelism", tol, ("A",), round=False),),
            view="front"),
    ]  # fmt: skip
    if flange is not None:
        thick, r = float(flange.thickness), float(flange.fillet)
        under, top, slant = (L - thick, wide / 2, 0), (L, wide / 2, 0), (X + Y) / np.sqrt(2.0)
        middle = (L - thick - r, -D / 2 - r, 0)
        sizes += [
            sheet.Diameter("brim", (L - thick / 2, 0, 0), X, wide, view="front"),
            sheet.Linear("brim, thickness", under, top, X, thick, view="front"),
            sheet.Radius("fillet", middle, Z, slant, r, view="front"),
        ]
    hole = sheet.Hole(
        "bore", (0, 0, 0), X, bore, through=L, fit=DRILLED_CLASS, view="left",
        limits=class_limits(DRILLED_CLASS, bore).sizes,
        zones=(sheet.Zone("perpendicularity", tol, ("A",)),),
    )  # fmt: skip
    marks = sheet.Marks(
        tuple(sizes),
        (hole,),
        centres=(sheet.CentreLine((0, 0, 0), (L, 0, 0)),),
        notes=(f"Break edges {c:g} mm × 45°.",),
        datums=(sheet.DatumFeature("A", (0, -D / 2 + c, 0), (0, D / 2 - c, 0), -X, "front"),),
    )
    views = sheet.View("front"), sheet.View("left")
    return sheet.Drawn(X, Y, views, marks, sheet.Datum((0, 0, 0), "face of the base"))
