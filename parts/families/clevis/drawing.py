"""What a drawing says of the shanks that a clevis alone has: spigot, pad and foot."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from parts.core.drawing import (
    Angle,
    Callout,
    CentreLine,
    Diameter,
    Dimension,
    Hole,
    Linear,
    Marks,
    Radius,
)
from parts.features.bolts.pattern import CounterboredHoles, TappedHoles
from parts.features.press.fit import SPIGOT_CLASS
from parts.features.thread.shank_drawing import root_marks, turned_marks
from parts.standards.fits.iso286 import class_limits

if TYPE_CHECKING:
    from parts.families.clevis.foot import Foot
    from parts.families.clevis.pad import Pad
    from parts.families.clevis.spigot import Spigot
    from parts.features.thread.shank import Body

X, Y, Z = np.eye(3)


def spigot_marks(shank: Spigot, body: Body) -> Marks:
    start, wide, plug = float(shank.shoulder), float(shank.tube.width_mm), float(shank.diameter)
    end, prep, lead = start + float(shank.length), float(shank.weld_prep), float(shank.lead_in)
    free = class_limits(SPIGOT_CLASS, plug)
    sizes: list[Dimension] = [
        Diameter("shoulder", (-(start - prep), 0, 0), X, wide, view="front"),
        Diameter(
            "spigot",
            (-(end - lead), 0, 0),
            X,
            plug,
            callout=f"plug for {shank.tube.name}",
            view="top",
            fit=free.tolerance_class,
            limits=free.sizes,
        ),
        Linear(
            "length of the shoulder",
            (-start, plug / 2, 0),
            (0, wide / 2, 0),
            X,
            start,
            view="front",
        ),
        Linear(
            "length of the spigot",
            (-end, 0, 0),
            (-start, plug / 2, 0),
            X,
            end - start,
            view="front",
        ),
        Callout(
            "weld prep",
            (-(start - prep / 2), -(wide - prep) / 2, 0),
            f"weld prep {prep:.2f} × 45°",
            view="front",
        ),
        *root_marks(body, wide),
    ]
    if lead > 0.0:
        at = (-(end - lead / 2), -(plug - lead) / 2, 0)
        long = Linear("lead-in", (-end, 0, 0), (-end + lead, 0, 0), X, lead)
        sizes.append(Callout("lead-in", at, "{0} × 45°", (long,), view="front"))
    notes = [f"Weld to {shank.tube.name} tube all round; dress nothing off the weld."]
    if shank.rosettes is not None:
        r = shank.rosettes
        notes.append(
            f"{r.count} rosette welds Ø{float(r.diameter):.2f} in the tube, "
            f"{float(r.from_end):.2f} from its end, evenly round."
        )
    middle = (CentreLine((0, 0, 0), (-end, 0, 0)),)
    return turned_marks(Marks(tuple(sizes), (), (), middle, tuple(notes)), body)


def pad_marks(shank: Pad, body: Body) -> Marks:
    wide, high, thick = float(shank.width), float(shank.height), float(shank.thickness)
    corner, size = float(shank.corner), float(shank.hole)
    tapped = shank.bolts.of_thread if isinstance(shank.holes, TappedHoles) else None
    bored = shank.holes if isinstance(shank.holes, CounterboredHoles) else None
    holes = []
    sizes: list[Dimension] = [
        Linear(
            "width of the pad", (-thick, -wide / 2, 0), (-thick, wide / 2, 0), Y, wide, view="left"
        ),
        Linear(
            "height of the pad", (-thick, 0, -high / 2), (-thick, 0, high / 2), Z, high, view="left"
        ),
        Linear(
            "thickness of the pad", (-thick, wide / 2, 0), (0, wide / 2, 0), X, thick, view="front"
        ),
    ]
    if corner > 0.0:
        way = (Y + Z) / np.sqrt(2.0)
        centre = (-thick, wide / 2 - corner, high / 2 - corner)
        sizes.append(Radius("corner of the pad", centre, X, way, corner, count=4, view="left"))
    sizes += root_marks(body, float(body.width), on_pad=True)
    for i, (y, z) in enumerate(shank.places(), 1):
        place = (0.0 if bored else -thick, float(y), float(z))
        holes.append(
            Hole(
                f"pad hole {i}",
                place,
                -X if bored else X,
                size,
                through=thick,
                thread=tapped,
                countersink=float(tapped.major + 2.0 * body.edge_break) if tapped else 0.0,
                view="left",
                counterbore=(float(bored.diameter), float(bored.depth)) if bored else None,
                callout="counterbore on the far side" if bored else "",
            )
        )
    for way, n, name in ((Y, 0, "y"), (Z, 1, "z")):
        for value in sorted({round(float(p[n]), 6) for p in shank.places()}):
            if abs(value) > 1e-6:
                on = next(p for p in shank.places() if abs(p[n] - value) < 1e-5)
                start = (-thick, 0.0, 0.0)
                end = (-thick, float(on[0]), float(on[1]))
                sizes.append(
                    Linear(
                        f"holes at {name} {value:g}",
                        start,
                        end,
                        way * np.sign(value),
                        abs(value),
                        view="left",
                    )
                )
    middle = (
        CentreLine((-thick, -wide / 2, 0), (-thick, wide / 2, 0)),
        CentreLine((-thick, 0, -high / 2), (-thick, 0, high / 2)),
    )
    return turned_marks(Marks(tuple(sizes), tuple(holes), (), middle), body, "Pad")


def foot_marks(shank: Foot, body: Body) -> Marks:
    out, across, along = np.asarray(shank.axes(body), float)
    distance, outside = float(shank.distance), float(shank.tube.width_mm)
    axis = np.array([-distance, 0.0, 0.0])
    words = f"cope to {shank.tube.name} tube"
    sizes: list[Dimension] = [
        Linear("pin to the tube's axis", axis, (0, 0, 0), X, distance, view="front"),
    ]
    straight = abs(float(along @ X)) < 1e-9 and max(abs(along)) > 1.0 - 1e-9
    side = "front" if abs(along[2]) > 0.5 else "top"
    if straight:
        sizes.append(Radius("cope", axis, along, out, outside / 2, callout=words, view=side))
    else:
        lean = f", leaning {np.degrees(float(shank.tilt)):.1f}°" if shank.tilt else ""
        side = "front" if abs(across[2]) > 0.5 else "top"
        turn = f", turned {np.degrees(float(body.clocking)):.1f}°" if body.clocking else ""
        sizes.append(Callout("cope", axis + out * outside / 2, f"{words}{lean}{turn}", view=side))
    if shank.tilt and max(abs(across)) > 1.0 - 1e-9:
        square = (along - (along @ X) * X) / np.linalg.norm(along - (along @ X) * X)
        angle = Angle("lean of the tube", axis, square, along, abs(float(shank.tilt)), view=side)
        sizes.append(angle)
    centre = CentreLine(axis - along * outside * 0.6, axis + along * outside * 0.6)
    note = f"Fillet weld all round, leg {float(shank.leg):.2f}; tack and square to the tube first."
    return Marks(tuple(sizes), (), (), (centre, CentreLine((0, 0, 0), axis)), (note,))
