"""The sheet of a foot lever: seen along its pivot, and cut along its first leg."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.drawing import Datum, DatumFeature, Drawn, Linear, Marks, View
from parts.families.foot_lever.limbs import Knee, Limb
from parts.features.arm.blade_marks import blade_marks
from parts.features.arm.clevis_end import ClevisEnd
from parts.features.arm.round_end import outside_marks

if TYPE_CHECKING:
    from parts.families.foot_lever.family import FootLever

X, Y, Z = np.eye(3)


def lever_drawn(lever: FootLever) -> Drawn:
    """The sheet of a lever."""
    half = float(lever.hub.width) / 2.0
    wide = float(lever.hub.diameter)
    marks = lever.hub.marks(lever._on_pivot)
    for limb in lever.limbs:
        marks += _limb_marks(lever, limb, half)
    face = DatumFeature("A", (-0.45 * wide, 0.0, half), (-0.2 * wide, 0.0, half), Z, "top")
    marks = replace(marks, datums=(face,))
    views = (View("front"), View("top", cut=(0.0, 0.0, 0.0)))
    return Drawn(X, Y, views, marks, Datum((0.0, 0.0, 0.0), "axis of the hub"))


def _limb_marks(lever: FootLever, limb: Limb, half: float) -> Marks:
    end, axes = limb.end, limb.turn.T
    at, tip = np.broadcast_to(np.asarray(limb.at, float), 3), limb.end_at
    own = blade_marks(
        limb.leg.blade, float(end.ahead), float(limb.wide) / 2.0, block=isinstance(end, ClevisEnd)
    )
    found = _called(limb.name, own).moved(at, axes)
    if isinstance(end, Knee):
        sizes = outside_marks(limb.end_field, float(end.diameter), float(end.width))
        found += Marks(sizes).moved(tip, axes)
    else:
        found += end.marks(lever._at_tip(limb)).moved(tip, axes)
    level = tip[2] + float(end.height) / 2.0
    if abs(level - half) > 1e-6:
        way = Z * np.sign(level - half)
        found += Marks((
            Linear(f"face of the hub to the end of the {limb.name}", (0, 0, half), (tip[0], tip[1], level), way,
                abs(level - half), view="top"),
        ))  # fmt: skip
    if abs(float(limb.angle)) > 1e-9:
        turn = float(np.degrees(np.arctan2(axes[0][1], axes[0][0])))
        note = f"The middle of the {limb.name} lies {turn:+.2f}° from that of the arm (+ turns x toward y)."
        found += Marks(notes=(note,), ways=(axes[0], axes[1]))
    return found


def _called(name: str, marks: Marks) -> Marks:
    """The same marks, each by the name of its limb besides its own."""

    def one(mark: Any) -> Any:
        return replace(mark, name=f"{name}: {mark.name}")

    return replace(
        marks, dimensions=tuple(map(one, marks.dimensions)), profiles=tuple(map(one, marks.profiles))
    )  # fmt: skip
