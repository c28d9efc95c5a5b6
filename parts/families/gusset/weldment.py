"""A gusset welded between its tubes: pieces, symbols, where its toes stand along the tubes, sequence."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Protocol

import numpy as np

from parts.core.drawing import Angle, Dimension, Linear, View, Weld
from parts.core.weldment import Member, Weldment
from parts.families.gusset.edge_tab import Tab
from parts.families.gusset.form import Form
from parts.families.gusset.plate_set import PlateSet
from parts.families.gusset.standing import Standing
from parts.features.weld.plate_edge import PlateWeld
from parts.standards.materials.materials import Material
from parts.strength.section.outline import farthest

Z: Any = np.array([0.0, 0.0, 1.0])
BEYOND = 1.0
"""How far the tubes are drawn beyond crossing and toes, over their outside diameter."""


class Corner(Protocol):
    """What the assembly asks of a gusset."""

    @property
    def angle(self) -> Any: ...

    @property
    def thickness(self) -> Any: ...

    @property
    def gap(self) -> Any: ...

    @property
    def tube_a(self) -> Any: ...

    @property
    def tube_b(self) -> Any: ...

    @property
    def material(self) -> Material: ...

    @property
    def tube_material(self) -> Material | None: ...

    @property
    def weld(self) -> PlateWeld: ...

    @property
    def tab(self) -> Tab | None: ...

    @property
    def arrangement(self) -> PlateSet: ...

    @property
    def plates(self) -> Sequence[Standing]: ...

    def flat(self) -> Form: ...


def _ways(gusset: Corner) -> tuple[Any, Any]:
    """Directions of the two tubes, away from the joint."""
    angle = float(gusset.angle)
    return np.array([1.0, 0.0, 0.0]), np.array([np.cos(angle), np.sin(angle), 0.0])


def _toe(form: Form, way: Any) -> Any:
    """The place of the plate that lies farthest along a tube (3,) [mm]."""
    frame = form.frame
    flat = np.array([way @ np.asarray(v, float) for v in (frame.x, frame.y)])
    return np.asarray(frame.place(farthest(form.body(), flat)[1]), float)


def gusset_weldment(gusset: Corner) -> Weldment:
    """The plate, or the pair on one joint, on its tubes; of left and right the left joint is shown."""
    form, (first, *_) = gusset.flat(), gusset.plates
    half, gap = float(gusset.thickness) / 2.0, float(gusset.gap)
    tubes = {"tube a": gusset.tube_a, "tube b": gusset.tube_b}
    toes = dict(zip(tubes, ((way, _toe(form, way)) for way in _ways(gusset)), strict=True))
    jig: list[Dimension] = [
        Linear(
            f"crossing to the toe on {name}", (0, 0, 0), toe, way, float(toe @ way), view="front"
        )
        for name, (way, toe) in toes.items()
    ]
    jig.append(
        Angle(
            "angle between the tubes", (0, 0, 0), *_ways(gusset), float(gusset.angle), view="front"
        )
    )
    if not form.across:
        radius, toe = float(gusset.tube_a.width_mm) / 2.0, toes["tube a"][1]
        face = float(toe[2]) + half
        jig.append(
            Linear("side of tube a to the plate", (toe[0], 0, radius), (toe[0], 0, face), Z, radius - face,
                   view="top")
        )  # fmt: skip
    pieces = [plate.share.piece for plate in gusset.plates]
    if len(pieces) > 1:
        apart = float(abs(gusset.plates[0].share.offset - gusset.plates[1].share.offset))
        jig.append(
            Linear("over the plates", (0, 0, -apart / 2 - half), (0, 0, apart / 2 + half), Z,
                   apart + 2 * half, view="top")
        )  # fmt: skip
    metal = gusset.material if gusset.tube_material is None else gusset.tube_material
    middle = np.mean(
        [np.asarray(one.path.points, float).mean(axis=0) for one in first.joints], axis=0
    )
    welds = tuple(
        Weld(f"weld {name}", joint.path.points[len(joint.path.points) // 4], "fillet", float(gusset.weld.leg),
             both=True, filler=gusset.weld.filler)
        for name, joint in zip("ab", first.joints, strict=True)
    )  # fmt: skip
    members = (
        *(Member(one, gusset.material.name, middle) for one in pieces),
        *(
            Member(name, f"{tube.name}, {metal.name}, of the frame", (toe @ way + float(tube.width_mm) / 4) * way)
            for (name, (way, toe)), tube in zip(toes.items(), tubes.values(), strict=True)
        ),
    )  # fmt: skip
    ends = (
        "return them round the toes and the relief"
        if gusset.weld.ends == "returned"
        else "stop short of the toes"
    )
    sequence = (
        "Weld the tubes to each other first, and grind that bead where the plate passes over it.",
        f"Mark both toes from the crossing of the centre lines; fit the plate with a gap of {gap:g} mm; clean bright.",
        "Tack both edges on both faces; check the angle between the tubes.",
        f"Weld from the {'middle of each edge' if form.across else 'corner'} outward, side to side, toes last; {ends}.",
    )
    after = ["Check the angle again when it is cold; look at the toes for undercut and craters."]
    if gusset.tab is not None:
        after.append("Ream or press the hole of the tab when it is cold: it moves with the heat.")
    if gusset.arrangement.type == "left and right":
        after.append("The right joint is the mirror image of this one.")
    return Weldment(
        (1, 0, 0), (0, 1, 0), (View("front"), View("top")), members, welds, tuple(jig),
        sequence, tuple(after), lambda: _tubes(gusset, {n: float(t @ w) for n, (w, t) in toes.items()}),
    )  # fmt: skip


def _tubes(gusset: Corner, reach: dict[str, float]) -> dict[str, Any]:
    """Lengths of the two tubes as solids, tube b cut off at tube a."""
    from parts.shapes.profile import cylinder, tube

    made = {}
    for name, of, way in zip(reach, (gusset.tube_a, gusset.tube_b), _ways(gusset), strict=True):
        outside, past = float(of.width_mm), BEYOND * float(of.width_mm)
        start = -past if name == "tube a" else 0.0
        made[name] = tube(outside, float(of.wall_mm), start * way, way, reach[name] + past - start)
    wide = float(gusset.tube_a.width_mm)
    around = cylinder(wide, -BEYOND * wide, reach["tube a"] + BEYOND * wide, "x")
    return {**made, "tube b": made["tube b"].cut(around.val())}
