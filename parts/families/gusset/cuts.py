"""Sections of a plate between two welded edges: what the cuts leave between edges and lightening holes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

import numpy as np

from parts.core.loadpath import Span, smooth
from parts.core.loads import Action, LoadCase
from parts.families.gusset.form import Cut, Form
from parts.families.gusset.free_edge import left_of
from parts.families.gusset.rim import FlaredRim, Hole, PlainRim
from parts.features.section.notches import edge_hole, same
from parts.features.section.outlines import figure
from parts.standards.materials.materials import Material
from parts.strength.section.outline import Outline
from parts.strength.vectors import cross

GRAZE = 0.05
"""A cut this near a hole's rim, as a share of its radius, is left out: the strip would be a sliver."""
THROUGH = 1e-9
"""How far from a hole's middle a cut counts as through it [mm]."""

Actions = Callable[[Cut, LoadCase], Sequence[Action]]
Metals = Callable[[Cut], Material]
"""What the plate is made of at a cut: softened where it comes near a weld."""


class Gap(NamedTuple):
    """Where a cut crosses a hole: from `low` to `high` along the cut [mm], the cosine of the angle at which it
    meets the rim, and the hole."""

    low: Any
    high: Any
    lean: Any
    hole: Hole


def gaps(cut: Cut, holes: Sequence[Hole]) -> list[Gap]:
    """Where a cut crosses holes, in order along it; as wide as nothing where it misses one."""
    found = []
    for hole in holes:
        on, off = cut.across(hole.centre)
        r = hole.outer / 2.0
        half = np.sqrt(np.maximum(np.square(r) - np.square(off), 0.0))
        found.append(Gap(on - half, on + half, half / r, hole))
    return sorted(found, key=lambda gap: float(np.min(gap.low + gap.high)))


def exact(
    cut: Cut, form: Form, holes: Sequence[Hole], rim: PlainRim | FlaredRim, edge_break: Any
) -> bool:
    """True where the section at a cut is a row of clean strips, for every variant alike.

    A cut that misses a hole keeps clear of the chamfer of its rim too.
    """
    chamfer = edge_break if isinstance(rim, PlainRim) else 0.0
    if np.any(form.free_edges()[0].meets_stub(cut.start, cut.along)):
        return False
    for hole in holes:
        _, off = cut.across(hole.centre)
        share = np.abs(off) / (hole.outer / 2.0)
        clear = 1.0 + GRAZE + chamfer / (hole.outer / 2.0)
        misses, middle = np.all(share > clear), np.all(np.abs(off) < THROUGH)
        beside = np.all(share < 1.0 - GRAZE) and isinstance(rim, PlainRim)
        if not (misses or middle or beside):
            return False
    return True


def section(
    cut: Cut,
    holes: Sequence[Hole],
    thickness: Any,
    edge_break: Any,
    rim: PlainRim | FlaredRim,
    facing: int,
) -> Outline:
    """The section at a cut: strips between the edges and the holes that it crosses.

    Args:
        cut: the cut; an exact one.
        holes: every hole of the plate.
        thickness: of the plate [mm].
        edge_break: chamfer of edges and plain holes [mm].
        rim: of the holes.
        facing: 1 where the rims stand toward the section's +z, -1 where toward its -z.

    Returns:
        The outline, y along the cut from its start, z across the plate.
    """
    crossed = [gap for gap in gaps(cut, holes) if np.any(gap.high > gap.low)]
    total: Outline | None = None
    low: Any = cut.low
    lean, flared = cut.low_lean, None
    for gap in [*crossed, None]:
        high = cut.high if gap is None else gap.low
        high_lean = cut.high_lean if gap is None else gap.lean
        lip = rim if gap is not None and isinstance(rim, FlaredRim) else None
        strip = _strip((low, lean, flared), (high, high_lean, lip), thickness, edge_break, facing)
        total = strip if total is None else total + strip
        if gap is not None:
            low, lean, flared = gap.high, gap.lean, lip
    assert total is not None
    return total


_End = tuple[Any, Any, FlaredRim | None]


def _strip(low: _End, high: _End, t: Any, c: Any, facing: int) -> Outline:
    right = _end(high, t, c, facing, 1.0)
    left = _end(low, t, c, facing, -1.0)
    points = [p for p, _ in [*right, *left]]
    return figure(points, [b for _, b in [*right, *left]])


def _end(end: _End, t: Any, c: Any, facing: int, side: float) -> list[tuple[tuple[Any, Any], Any]]:
    """One end of a strip, walked counter-clockwise: at +y upward, at -y downward."""
    y, lean, rim = end
    h = np.asarray(t, float) / 2.0
    out, up, bulges = _broken(h, c, lean) if rim is None else _lip(rim, t, facing)
    if side < 0.0:
        # Mirrored and walked backwards, so that every arc keeps its sign.
        out, up, bulges = out[::-1], up[::-1], [*bulges[-2::-1], 0.0]
    return [((y + side * o, u), b) for o, u, b in zip(out, up, bulges, strict=True)]


def _broken(h: Any, c: Any, lean: Any) -> tuple[list[Any], list[Any], list[Any]]:
    """An edge with both corners chamfered: how far each point stands out, its height, and no arcs."""
    leg = -c / lean
    return [leg, 0.0, 0.0, leg], [-h, c - h, h - c, h], [0.0] * 4


def _lip(rim: FlaredRim, t: Any, facing: int) -> tuple[list[Any], list[Any], list[Any]]:
    """A flared rim cut through its axis: how far each point stands out of the flat plate, its height, and the
    bulges between."""
    (loop,) = rim.meridian(0.0, t).loops
    # From the flat plate's far face round the lip to its near face.
    order = [0, 5, 4, 3, 2, 1]
    out = [-loop.points[..., i, 0] for i in order]
    up = [loop.points[..., i, 1] for i in order]
    turn = np.tan(np.asarray(rim.angle) / 4.0)
    bulges: list[Any] = [turn, 0.0, 0.0, 0.0, -turn, 0.0]
    if facing > 0:
        return out, up, bulges
    return out[::-1], [-u for u in reversed(up)], [-turn, 0.0, 0.0, 0.0, turn, 0.0]


def cut_spans(
    cuts: Sequence[Cut], form: Form, holes: Sequence[Hole], rim: PlainRim | FlaredRim, thickness: Any, edge_break: Any,
    metal: Metals,
    actions: Actions, piece: str, prefix: str, front: int,
) -> Sequence[Span]:  # fmt: skip
    """Every exact section as a span of no length.

    Args:
        cuts: across the plate.
        form: the plate.
        holes: its lightening holes.
        rim: their rims.
        thickness: of the plate [mm].
        edge_break: chamfer of its edges [mm].
        metal: gives what it is made of at a cut.
        actions: gives what acts on tube B's side of a cut under a load case.
        piece: the piece of the part.
        prefix: begins the spans' names.
        front: 1 where the front face looks along the plate's normal, -1 where it looks the other way.

    Returns:
        The spans.
    """
    found = []
    toward = front if not isinstance(rim, FlaredRim) or rim.toward == "front" else -front
    for cut in cuts:
        if exact(cut, form, holes, rim, edge_break):
            found.append(
                _span(
                    cut,
                    form,
                    holes,
                    rim,
                    thickness,
                    edge_break,
                    metal(cut),
                    actions,
                    piece,
                    prefix,
                    toward,
                )
            )
    return found


def _span(
    cut: Cut, form: Form, holes: Sequence[Hole], rim: PlainRim | FlaredRim, thickness: Any, edge_break: Any,
    metal: Material, actions: Actions, piece: str, prefix: str, toward: int,
) -> Span:  # fmt: skip
    frame = form.frame
    normal, y = frame.direction(left_of(cut.along)), frame.direction(cut.along)
    normal, y = np.broadcast_arrays(normal, y)
    axes = np.stack([normal, y, cross(normal, y)], axis=-2)
    place = frame.place(cut.start)

    crossed = [gap.hole.opening for gap in gaps(cut, holes) if np.any(gap.high > gap.low)]
    notch = same(edge_hole(np.minimum.reduce(np.broadcast_arrays(*crossed)))) if crossed else smooth

    def outline(t: Any) -> Outline:
        # The section's z looks against the plate's normal.
        return section(cut, holes, thickness + 0.0 * np.asarray(t, float), edge_break, rim, -toward)

    return Span(
        f"{prefix}{cut.name}",
        place,
        place,
        axes,
        outline,
        lambda case: actions(cut, case),
        metal,
        piece,
        3,
        notch,
    )
