"""A coped tube between the tubes that it meets: the sheet by which it is welded."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from parts.core.drawing import Linear, View, Weld
from parts.core.weldment import Member, Weldment
from parts.families.coped_tube.neighbour import Beside
from parts.families.coped_tube.on_box import OntoBox
from parts.families.coped_tube.saddle import Onto
from parts.families.coped_tube.shape import TubeShape

AXES: Any = np.eye(3)
X, Y, Z = AXES
LONG = 1.5
"""Length of a neighbour shown to each side of the tube, in its widths [-]."""


def tube_weldment(tube: TubeShape, metal: str) -> Weldment | None:
    """The tube and its neighbours, which stand already; None where neither end meets one."""
    members = [Member("part", f"{tube.tube.name}, {metal}", tube.points()["middle"])]
    welds, solids = [], {}
    for i, (name, one) in enumerate((("a", tube.a), ("b", tube.b))):
        if not isinstance(one, Onto):
            continue
        node, axes = (np.asarray(v, float) for v in tube.node(i))
        of = metal if one.material is None else one.material.name
        leg = 1.5 * float(tube.size[1]) if one.leg is None else float(one.leg)
        welds.append(
            Weld(f"weld of end {name}", tube.tip(i), "fillet", leg, all_round=True, gap=float(one.gap),
                filler=one.filler)
        )  # fmt: skip
        for k, other in enumerate([one, *one.beside], 1):
            place, along = (np.asarray(v, float) @ axes for v in other.runs(1.0 - 2.0 * i))
            label = f"tube at {name}" if k == 1 else f"tube {k} at {name}"
            wide = float(other.tube.width_mm)
            end = node + place + 0.8 * LONG * wide * along
            members.append(Member(label, f"{other.tube.name}, {of}, of the frame", end))
            solids[label] = (other, node + place, along, axes[0])
    if not welds:
        return None
    angles = " and ".join(
        f"{np.degrees(float(one.angle)):.1f}°" for one in (tube.a, tube.b) if isinstance(one, Onto)
    )
    return Weldment(
        X, Y, (View("front"),), tuple(members), tuple(welds), tuple(_held(tube)),
        (f"Scribe the reference line along the tube; set its neighbours in the jig at {angles} to it, its points "
         f"{float(tube.length):.2f} mm apart on the centre line.",
         "Clean both ends bright; fit the tube without force, its gaps even all round.",
         "Tack each end at four places, then weld in quarters, opposite ones after each other, end by end."),
        ("Measure between the frame's points when it is cold: a weld draws its side in.",),
        lambda: {label: _length(*what) for label, what in solids.items()},
    )  # fmt: skip


def _held(tube: TubeShape) -> Iterator[Linear]:
    """The distance that the jig holds, where both neighbours stand square to the tube: of centre lines, or of faces."""
    levels = []
    if not np.allclose(tube.node(1)[1], np.eye(3)):
        return
    for one, way, x in ((tube.a, 1.0, 0.0), (tube.b, -1.0, float(tube.length))):
        if not isinstance(one, Onto) or abs(float(one.angle) - np.pi / 2.0) > 1e-9:
            return
        levels.append(x + way * float(one.tube.height_mm) / 2.0 if isinstance(one, OntoBox) else x)
    a, b = levels
    yield Linear("between the neighbours", a * X, b * X, X, b - a, view="front")


def _length(other: Beside, middle: np.ndarray, along: np.ndarray, tube: np.ndarray) -> Any:
    """A length of a neighbour, round or a box whose first side is the face that the tube stands on."""
    import cadquery as cq

    from parts.shapes.profile import tube as round_tube

    wide, wall = float(other.tube.width_mm), float(other.tube.wall_mm)
    start = middle - LONG * wide * along
    if not isinstance(other, OntoBox):
        return round_tube(wide, wall, tuple(start), tuple(along), 2.0 * LONG * wide)
    normal = tube - float(tube @ along) * along
    plane = cq.Plane(tuple(start), tuple(normal / np.linalg.norm(normal)), tuple(along))
    deep = float(other.tube.height_mm)
    outer, inner = (
        cq.Workplane(plane).rect(deep - off, wide - off).extrude(2.0 * LONG * wide)
        for off in (0.0, 2.0 * wall)
    )
    return outer.cut(inner).val()
