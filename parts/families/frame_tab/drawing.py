"""What a drawing says of a frame tab."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.core.drawing import Angle as Turn
from parts.core.drawing import Datum, Drawn, Hole, Linear, Marks, Radius, Side, View, Weld, Worded
from parts.core.weldment import Member, Weldment
from parts.families.frame_tab.shape import TabShape
from parts.features.pins.pin import TappedHole

AXES: Any = np.eye(3)
X, Y, Z = AXES


def tab_drawn(tab: TabShape) -> Drawn:
    """The sheet of a tab, seen square to its root."""
    R, w, t, end = (float(v) for v in (tab.on.depth, tab.width, tab.thickness, tab.end))
    (centre, way), axis = tab.way(float(tab.reach)), tab.frame(float(tab.reach))[2]
    tip, r, wall = (
        tab.way(float(tab.reach + tab.end))[0],
        float(tab.rounded),
        np.array([R, 0.0, 0.0]),
    )
    side: Side = "bottom"
    sizes: list[Any] = [Linear("width", (R + t, -w / 2, 0), (R + t, w / 2, 0), Y, w, view="front"),
        Linear("thickness", (R + t, 0, -t / 2), (R + t, 0, t / 2), Z, t, view=side)]  # fmt: skip
    bent, limits = tab.bend, tab.pin.bore_limits()
    if bent is None:
        sizes.append(Linear("tube to the holes", wall, centre, X, float(centre[0] - R), view=side))
        sizes.append(Linear("tube to the end", wall, tip, X, float(tip[0] - R), view="front"))
        if r > 0.0:
            sizes.append(
                Radius(
                    "corner",
                    (R + float(tab.reach) + end - r, w / 2 - r, 0),
                    Z,
                    (X + Y) / np.sqrt(2.0),
                    r,
                    count=2,
                    view="front",
                )
            )
    else:
        a, at, inside = (float(v) for v in (bent.angle, bent.at, bent.radius))
        middle, foot = np.array([R + at, 0.0, inside + t / 2]), np.array([R + t, 0.0, -t / 2])
        # What a height gauge reaches: the outermost corners of the end, from the wall and from the outer face.
        far, high = tip - t / 2 * axis, tip + t / 2 * axis
        sizes += [Linear("outer face to the end", foot, high, Z, float(high[2] + t / 2), view=side),
            Radius("inside of the bend", middle, Y, (np.sin(a / 2), 0, -np.cos(a / 2)), inside, view=side),
            Turn("bend", middle, X, way, a, view=side),
            Linear("tube to the end", wall, far, X, float(far[0] - R), view=side),
            Linear("end to the holes", centre, tip, way, float(end), view=side)]  # fmt: skip
    if tab.pitch is not None:
        first, second = tab.points().values()
        sizes.append(Linear("pitch", second, first, Y, float(tab.pitch), view="front"))
    hole = tab.pin.hole
    tapped = hole.thread if isinstance(hole, TappedHole) else None
    holes = tuple(
        Hole(name, np.asarray(p) + t / 2 * axis, -axis, float(tab.bore), through=t, thread=tapped,
            fit="" if tapped else limits.tolerance_class, limits=None if tapped else limits.sizes,
            noted=bent is not None, view="front" if bent is None else "")
        for name, p in tab.points().items()
    )  # fmt: skip
    stands = f"{tab.stands} a tube {tab.on.tube.name}"
    notes = (
        f"Root shaped to stand {stands}; fillets of {float(tab.weld.leg):g} mm leg on both faces.",
    )
    # Words state the root: the wall of its tube.
    along = Z if tab.stands == "across" else Y
    root = Worded("root", (0, 0, 0), along, 2.0 * R, 2.0 * R, wall)
    marks = Marks(tuple(sizes), holes, notes=notes, worded=(root,))
    views, datum = (View("front"), View(side)), Datum(wall, "wall of the tube")
    return Drawn(X, Y, views, marks, datum, sheet_metal=t)


HELD = ("tube to the holes", "tube to the end")
"""Distances that the jig holds while the tab is tacked."""


def tab_weldment(tab: TabShape, material: str, tube_material: str) -> Weldment:
    """The tab on its tube: fillets on both faces, and how far its holes stand off the wall."""
    sheet = tab_drawn(tab)
    R, w = float(tab.on.depth), float(tab.width)
    side = sheet.views[1].side
    jig = tuple(one for one in sheet.marks.dimensions if one.name in HELD)
    weld = Weld(
        "weld of the tab", (R, -w / 4, 0), "fillet", float(tab.weld.leg), both=True, filler=tab.weld.filler
    )  # fmt: skip
    tip = tab.way(float(tab.reach))[0]
    members = (
        Member("part", material, np.asarray(tip, float)),
        Member("tube", f"{tab.on.tube.name}, {tube_material}, of the frame", (R * 0.5, w, 0)),
    )
    sequence = (
        "Mark the tab's place on the tube from the frame's points; clean both bright.",
        "Tack on both faces, look along the holes, then weld from side to side; "
        + (
            "return the fillets round both ends."
            if tab.weld.ends == "returned"
            else "stop short of both ends."
        ),
    )
    after = ("Ream, press or tap the holes when it is cold: they move with the heat.",)
    views = (View("front"), View(side))
    return Weldment(
        X, Y, views, members, (weld,), jig, sequence, after, lambda: {"tube": _tube(tab)}
    )


def _tube(tab: TabShape) -> Any:
    """A length of the tube that the tab stands on, as a solid."""
    import cadquery as cq

    from parts.shapes.profile import cylinder

    axis: Any = "z" if tab.stands == "across" else "y"
    long = 1.5 * float(tab.width)
    wide, wall, flat = (float(v) for v in tab.on.wall)
    if not flat:
        outer, inner = (
            cylinder(wide, -long, long, axis),
            cylinder(wide - 2 * wall, -2 * long, 2 * long, axis),
        )
    else:
        deep = 2.0 * float(tab.on.depth)
        outer, inner = (
            cq.Workplane().box(
                *([deep - off, wide - off, run] if axis == "z" else [deep - off, run, wide - off])
            )
            for off, run in ((0.0, 2 * long), (2 * wall, 4 * long))
        )
    return outer.cut(inner).val()
