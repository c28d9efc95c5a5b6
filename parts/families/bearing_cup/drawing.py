"""The sheet of a bearing cup, and the sheet of its weld."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from parts.core.drawing import (
    Callout,
    CentreLine,
    Datum,
    Diameter,
    Dimension,
    Drawn,
    Hole,
    Linear,
    Marks,
    View,
    Weld,
)
from parts.core.weldment import Member, Weldment
from parts.families.bearing_cup.shape import CupShape
from parts.families.bearing_cup.stands import OnTube
from parts.features.press.fit import AXIAL, SPIGOT_CLASS, plug_note
from parts.standards.fits.iso286 import class_limits

X, Y, Z = np.eye(3)
SURFACE = "Ra 0.8"
"""Surface that the ring of a ball bearing sits on; common practice, no source."""


def cup_drawn(cup: CupShape) -> Drawn:
    """The sheet: the cup cut along its axis, and its mouth."""
    L, D, depth = (float(v) for v in (cup.length, cup.diameter, cup.seat.depth))
    of, fitted, end = cup.seat, cup.seat.fitted(), L + float(cup.welded.spigot)
    bore, lip = float(of.bearing.outside), float(of.lip_bore)
    c = float(cup.edge_break)
    seat = fitted["seat"]
    sizes: list[Dimension] = [
        Diameter("outside", (L / 2, 0, 0), X, D, view="front"),
        Linear("length", (0, D / 2 - c, 0), (L, D / 2 - c, 0), X, L, view="front"),
    ]  # fmt: skip
    if of.clip is not None:
        sizes.append(_groove(of.clip, fitted, depth))
    holes = (
        Hole("bore of the lip", (0, 0, 0), X, lip, through=end, view="left"),
        Hole("seat", (0, 0, 0), X, bore, depth=depth, through=depth, fit=seat.tolerance_class, limits=seat.sizes,
            left=float(cup.allowance),
            callout=f"seat for {of.count} × {of.bearing.designation}, {SURFACE}", view="left"),
    )  # fmt: skip
    notes = [
        f"Turn the seat {bore - float(cup.allowance):.2f} mm before welding; bore it"
        f"{' and cut its groove' if of.clip is not None else ''} when the weld is cold.",
        f"Welded {cup.welded.says()}.",
    ]
    if isinstance(cup.welded, OnTube):
        sizes += _spigot(cup.welded, L, D)
        outside, wall = (float(v) for v in cup.welded.size)
        notes.append(plug_note("", outside, wall, float(cup.welded.plug)))
    marks = Marks(
        tuple(sizes), holes, centres=(CentreLine((0, 0, 0), (end, 0, 0)),), notes=tuple(notes)
    )
    views = (View("front", cut=(0.0, 0.0, 0.0)), View("top"), View("left"))
    return Drawn(X, Y, views, marks, Datum((0, 0, 0), "face of the mouth, on the axis"))


def _groove(clip: Any, fitted: Mapping[str, Any], depth: float) -> Callout:
    """The circlip's groove; its outer side from the floor of the seat, as the rings need the room."""
    low, wide, size = float(clip.edge_margin), float(clip.groove_width), float(clip.groove)
    groove, width = fitted["groove"], fitted["groove width"]
    sizes = (
        Diameter("groove", (low, 0, 0), X, size, fit=groove.tolerance_class, limits=groove.sizes),
        Linear("width of the groove", (low, 0, 0), (low + wide, 0, 0), X, wide, fit=width.tolerance_class,
            limits=width.sizes),
        Linear("groove", (low, 0, 0), (depth, 0, 0), X, depth - low, limits=(depth - low, depth - low + AXIAL)),
    )  # fmt: skip
    words = "circlip groove {0} × {1} wide,\nouter side {2} from the floor of the seat, DIN 472"
    return Callout("circlip groove", (low, size / 2.0, 0.0), words, sizes, view="front")


def _spigot(on: OnTube, L: float, D: float) -> list[Dimension]:
    plug, prep, end = float(on.plug), float(on.prep), L + float(on.spigot)
    lead = min(1.0, float(on.spigot) / 4.0)
    free = class_limits(SPIGOT_CLASS, plug)
    found: list[Dimension] = [
        Diameter("spigot", (end - lead, 0, 0), X, plug, fit=free.tolerance_class, limits=free.sizes, view="front"),
        Linear("spigot, length", (L, plug / 2, 0), (end, plug / 2 - lead, 0), X, end - L, view="front"),
        Callout("lead-in", (end - lead / 2, -(plug - lead) / 2, 0), "lead-in {0} × 45°",
            (Linear("lead-in", (end - lead, 0, 0), (end, 0, 0), X, lead),), view="front"),
    ]  # fmt: skip
    if prep > 0.0:
        found.append(
            Callout("weld prep", (L - prep / 2, -(D - prep) / 2, 0), "weld prep {0} × 45°",
                (Linear("weld prep", (L - prep, 0, 0), (L, 0, 0), X, prep),), view="front")
        )  # fmt: skip
    return found


def cup_weldment(cup: CupShape, metal: str) -> Weldment:
    """The cup in its plate or on its tube, which stands there already."""
    from parts.shapes.profile import cylinder

    L, D = float(cup.length), float(cup.diameter)
    on = cup.welded
    if isinstance(on, OnTube):
        (outside, wall), gap = (float(v) for v in on.size), float(on.weld.gap)
        groove, long = on.weld.type == "groove", 2.0 * float(on.size[0])
        weld = Weld("weld of the cup", (L + gap / 2, -outside / 2, 0), "bevel" if groove else "fillet",
            wall if groove else float(on.weld.size(wall)), all_round=True, gap=gap, filler=on.filler)  # fmt: skip
        other = Member(
            "tube", f"{on.tube.name}, {on.material.name}", (L + gap + long / 2, outside / 2, 0)
        )
        jig = Linear(
            "mouth to the end of the tube",
            (0, 0, 0),
            (L + gap, outside / 2, 0),
            X,
            L + gap,
            view="front",
        )

        def beside() -> Mapping[str, Any]:
            start = L + gap
            inner = cylinder(outside - 2.0 * wall, start - 1.0, start + long + 1.0, "x")
            return {"tube": cylinder(outside, start, start + long, "x").cut(inner).val()}
    else:
        t, at, reach = float(on.thickness), float(on.at), float(on.held_within)
        weld = Weld("weld of the cup", (at - t / 2, -D / 2, 0), "fillet", float(on.leg), all_round=True, both=True,
            filler=on.filler)  # fmt: skip
        other = Member("plate", f"{t:g} mm, {on.material.name}", (at, 0.8 * reach, 0))
        jig = Linear(
            "mouth to the plate",
            (0, 0, 0),
            (at - t / 2, 0.9 * reach, 0),
            X,
            at - t / 2,
            view="front",
        )

        def beside() -> Mapping[str, Any]:
            hole = cylinder(D, at - t, at + t, "x")
            return {"plate": cylinder(2.0 * reach, at - t / 2, at + t / 2, "x").cut(hole).val()}

    return Weldment(
        X, Y, (View("front"),), (Member("part", metal, (L * 0.1, D / 2, 0)), other), (weld,), (jig,),
        ("Clean cup and seat of the weld bright; hold the cup square to its shaft by a mandrel in the bore.",
         "Tack at four places, then weld in quarters, opposite ones after each other, and let it cool between."),
        ("Bore the seat to its limits when it is cold; where two cups share a shaft, both in one setting.",
         "Try the bearing by hand over the seat; measure the bore at three places round."),
        beside,
    )  # fmt: skip
