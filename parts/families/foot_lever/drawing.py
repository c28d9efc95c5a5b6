"""The sheet of a foot lever: seen along its pivot, and cut along its first leg."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from parts.core.drawing import Callout, Datum, Drawn, Linear, Marks, Side, View
from parts.families.foot_lever.hub import LeverHub
from parts.families.foot_lever.limbs import Knee, Limb
from parts.families.foot_lever.on_pivot import OnPivot
from parts.features.arm.blade_marks import blade_marks
from parts.features.arm.clevis_end import ClevisEnd
from parts.features.arm.round_end import outside_marks
from parts.features.arm.square_bores import square_bores
from parts.features.arm.tip import AtTip

X, Y, Z = np.eye(3)


def lever_drawn(hub: LeverHub, on_pivot: OnPivot, limbs: Sequence[tuple[Limb, AtTip]]) -> Drawn:
    """The sheet of a lever.

    Args:
        hub: its hub.
        on_pivot: where the hub stands.
        limbs: its legs, each with where its end stands.

    Returns:
        The sheet.
    """
    half, wide = float(hub.width) / 2.0, float(hub.diameter)
    marks = hub.marks(on_pivot)
    for limb, at_tip in limbs:
        marks += _limb_marks(limb, at_tip, half)
    marks = square_bores(marks, half, wide)
    beside = dict.fromkeys(side for limb, _ in limbs if (side := _heights(limb)) != "top")
    views = (View("front"), View("top", cut=(0.0, 0.0, 0.0)), *map(View, beside))
    return Drawn(X, Y, views, marks, Datum((0.0, 0.0, 0.0), "axis of the hub"))


def _limb_marks(limb: Limb, at_tip: AtTip, half: float) -> Marks:
    end, axes = limb.end, limb.turn.T
    at, tip = np.broadcast_to(np.asarray(limb.at, float), 3), limb.end_at
    own = blade_marks(
        limb.leg.blade, float(end.ahead), float(limb.wide) / 2.0, block=isinstance(end, ClevisEnd)
    )
    if isinstance(end, Knee):
        there = Marks(outside_marks(limb.end_field, float(end.diameter), float(end.width)))
    else:
        there = end.marks(at_tip)
    turned = abs(float(limb.angle)) > 1e-9
    side = _heights(limb)
    own, there = (_aslant(one, side) if turned else one for one in (_called(limb.name, own), there))
    found = own.moved(at, axes) + there.moved(tip, axes)
    level = tip[2] + float(end.height) / 2.0
    if abs(level - half) > 1e-6:
        way = Z * np.sign(level - half)
        found += Marks((
            Linear(f"face of the hub to the end of the {limb.name}", (0, 0, half), (tip[0], tip[1], level), way,
                abs(level - half), view=side),
        ))  # fmt: skip
    if turned:
        turn = float(np.degrees(np.arctan2(axes[0][1], axes[0][0])))
        note = f"The middle of the {limb.name} lies {turn:+.2f}° from that of the arm (+ turns x toward y)."
        found += Marks(notes=(note,), ways=(axes[0], axes[1]))
    return found


def _heights(limb: Limb) -> Side:
    """The view that shows the heights of a limb: what lies over the first leg is cut away in the section."""
    x, y = limb.turn.T[0][:2]
    return "top" if abs(float(y)) < 0.5 else "left" if float(x) < 0.0 else "right"


def _called(name: str, marks: Marks) -> Marks:
    """The same marks, each by the name of its limb besides its own."""

    def one(mark: Any) -> Any:
        return replace(mark, name=f"{name}: {mark.name}")

    notes = tuple(note.replace("the arm", f"the {name}") for note in marks.notes)
    sizes, runs = (tuple(map(one, of)) for of in (marks.dimensions, marks.profiles))
    return replace(marks, dimensions=sizes, profiles=runs, notes=notes)


def _aslant(marks: Marks, side: Side) -> Marks:
    """Marks of a limb aslant: what runs along the pivot is seen from a side, the rest from the front."""

    def one(mark: Any) -> Any:
        if isinstance(mark, Callout):
            return replace(mark, sizes=tuple(map(one, mark.sizes)), view="front")
        if isinstance(mark, Linear):
            return replace(mark, view=side if _upright(mark.along) else "front")
        if _upright(mark.axis):
            return replace(mark, view="front")
        rim = np.asarray(mark.centre, float) + float(mark.value) * np.asarray(mark.toward, float)
        return Callout(
            mark.name, rim, f"{mark.name.rpartition(': ')[2]} {{0}}", (mark,), view="front"
        )

    return replace(marks, dimensions=tuple(map(one, marks.dimensions)))


def _upright(way: Any) -> bool:
    return abs(float(np.asarray(way, float)[2])) > 0.99
