"""Turned steps along one axis: the shank of a clevis, a bung, a turnbuckle body.

A turned piece is a run of steps, each a stretch of one outside shape (round, or round with flats) with or
without a bore. Both the section outlines and the solid follow from the same steps.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from parts.core.loadpath import Notch, Span, smooth
from parts.core.loads import Action, LoadCase
from parts.features.section.notches import same
from parts.standards.materials.materials import Material
from parts.strength.section.figures import circle, rectangle, regular_polygon, round_with_flats
from parts.strength.section.outline import Outline

if TYPE_CHECKING:
    import cadquery as cq

SMOOTH = smooth(None)


class Step(NamedTuple):
    """A stretch of a turned piece from `low` to `high` along its axis [mm].

    The outside goes straight from `diameter` to `end_diameter` (the same where None), or in a quarter-round
    fillet where `fillet` is set: hollow, its length half the step in diameter. `flats` is the distance
    across flats (None: round), `sides` their number, the first facing +y; six with no round left is a hex.
    `bore` is the diameter of the hole through the step, 0 for none, `notch` what raises the stress in it.
    """

    name: str
    low: Any
    high: Any
    diameter: Any
    end_diameter: Any = None
    flats: Any = None
    sides: int = 2
    bore: Any = 0.0
    fillet: bool = False
    notch: Notch = SMOOTH

    @property
    def length(self) -> Any:
        return self.high - self.low

    def outside(self, t: Any) -> Any:
        """Outside diameter at t in [0, 1] of the step [mm]."""
        end = self.diameter if self.end_diameter is None else self.end_diameter
        if not self.fillet:
            return self.diameter + (end - self.diameter) * np.asarray(t)
        # A hollow quarter round of radius r = length: it ends along the axis where it is smallest.
        small = np.minimum(self.diameter, end)
        r = np.maximum(self.diameter, end) / 2.0 - small / 2.0
        u = np.where(np.greater(self.diameter, end), 1.0 - np.asarray(t), np.asarray(t))
        return small + 2.0 * (r - np.sqrt(np.maximum(r**2 - (r * u) ** 2, 0.0)))

    def outline(self, t: Any) -> Outline:
        """Section at t in [0, 1] of the step."""
        d = self.outside(t)
        figure = circle(d) if self.flats is None else round_with_flats(d, self.flats, self.sides)
        if np.any(np.asarray(self.bore) > 0.0):
            figure = figure.minus(circle(np.broadcast_to(self.bore, np.shape(d))))
        return figure


def spans(
    steps: Sequence[Step],
    material: Material,
    actions: Callable[[LoadCase], Sequence[Action]],
    *,
    place: Callable[[Any], Any],
    axes: Any,
    turn: Any = 0.0,
    piece: str = "part",
    reversing: Callable[[LoadCase], Sequence[Action]] | None = None,
) -> list[Span]:
    """The load path along turned steps.

    Args:
        steps: the steps that carry the load.
        material: what they are made of.
        actions: what acts beyond them for a load case.
        place: the place in the part's axes of a distance along the steps [mm], shape (..., 3).
        axes: three rows: the normal of the sections, toward the loads, and their y and z axes.
        turn: turn of the steps' flats about the normal, y toward z [rad].
        piece: the piece of the part.
        reversing: the part of the actions that changes its sign with every cycle; None where nothing does.

    Returns:
        One span for each step that has a length.
    """
    return [
        Span(
            step.name,
            place(step.low),
            place(step.high),
            axes,
            partial(_turned, step, turn),
            actions,
            material,
            piece,
            5,
            same(step.notch),
            reversing=reversing,
        )
        for step in steps
        if np.all(np.asarray(step.length) > 0.0)
    ]


def _turned(step: Step, turn: Any, t: Any) -> Outline:
    return step.outline(t).rotated(turn)


def solid(steps: Sequence[Step]) -> cq.Workplane:
    """The steps as one solid with its axis on +x: low at x = low. Outside only; bores are cut by the feature.

    Steps must follow each other without a gap.
    """
    from parts.shapes.workplane import Workplane

    sketch = (
        Workplane("XY")
        .moveTo(float(steps[0].low), 0.0)
        .lineTo(float(steps[0].low), _start(steps[0]))
    )
    here = (float(steps[0].low), _start(steps[0]))
    for step in steps:
        for point in _corners(step):
            middle, end = point
            if np.hypot(end[0] - here[0], end[1] - here[1]) < 1e-9:
                continue
            sketch = sketch.lineTo(*end) if middle is None else sketch.threePointArc(middle, end)
            here = end
    body = sketch.lineTo(here[0], 0.0).close().revolve(360.0, (0, 0, 0), (1, 0, 0))
    for step in steps:
        if step.flats is not None:
            body = body.cut(flats_tool(step))
    return body


def flats_tool(step: Step) -> cq.Workplane:
    """What is milled away to make the flats of a step; its shape is that of `Step.outline`."""
    from parts.shapes.profile import cylinder, prism

    low, high, flats = float(step.low), float(step.high), float(step.flats)
    wide = 2.0 * float(np.max(step.outside(np.array([0.0, 1.0])))) + 2.0
    shape = rectangle(flats, wide) if step.sides == 2 else regular_polygon(flats, step.sides)
    # The bar that is kept runs through both faces of the tool, so that no two faces coincide.
    return cylinder(wide, low, high, "x").cut(prism(shape, low - 1.0, high + 1.0, "x"))


def _start(step: Step) -> float:
    return float(step.outside(0.0)) / 2.0


def _corners(step: Step) -> list[tuple[tuple[float, float] | None, tuple[float, float]]]:
    low, high = float(step.low), float(step.high)
    start, end = _start(step), float(step.outside(1.0)) / 2.0
    if not step.fillet:
        return [(None, (low, start)), (None, (high, end))]
    r, small = abs(start - end), min(start, end)
    across = (1.0 - np.sqrt(0.5)) * r
    middle = (low + across if start > end else high - across, small + across)
    return [(None, (low, start)), ((float(middle[0]), float(middle[1])), (high, end))]
