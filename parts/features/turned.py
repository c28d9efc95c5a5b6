"""Turned steps along one axis: the shank of a clevis, a bung, a turnbuckle body.

A turned piece is a run of steps, each a stretch of one outside shape (round, or round with flats) with or
without a bore. Both the section outlines and the solid follow from the same steps.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.loads import Action, LoadCase
from parts.standards.materials import Material
from parts.strength.outline import Outline, circle, regular_polygon, round_with_flats

if TYPE_CHECKING:
    import cadquery as cq

    from parts.loadpath import Span


@dataclass(frozen=True)
class Step:
    """A stretch of a turned piece from `low` to `high` along its axis [mm].

    The outside goes straight from `diameter` to `end_diameter` (the same where None), or in a quarter-round
    fillet where `fillet` is set: hollow, from the larger diameter at `low` down to the smaller. `flats`
    is the distance across flats (None: round), `sides` their number; six with no round left is a hex.
    `bore` is the diameter of the hole through the step, 0 for none.
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

    @property
    def length(self) -> Any:
        return self.high - self.low

    def outside(self, t: Any) -> Any:
        """Outside diameter at t in [0, 1] of the step [mm]."""
        end = self.diameter if self.end_diameter is None else self.end_diameter
        if not self.fillet:
            return self.diameter + (end - self.diameter) * np.asarray(t)
        # A hollow quarter round of radius r = length: it leaves the face at `low` along the axis' normal.
        r = (self.diameter - end) / 2.0
        return end + 2.0 * (r - np.sqrt(np.maximum(r**2 - (r * (1.0 - np.asarray(t))) ** 2, 0.0)))

    def outline(self, t: Any) -> Outline:
        """Section at t in [0, 1] of the step."""
        d = self.outside(t)
        if self.flats is None:
            figure = circle(d)
        elif self.sides == 6:
            figure = regular_polygon(self.flats + 0.0 * d, 6)
        else:
            figure = round_with_flats(d, self.flats, self.sides)
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
    piece: str = "part",
) -> list[Span]:
    """The load path along turned steps.

    Args:
        steps: the steps that carry the load.
        material: what they are made of.
        actions: what acts beyond them for a load case.
        place: the place in the part's axes of a distance along the steps [mm], shape (..., 3).
        axes: three rows: the normal of the sections, toward the loads, and their y and z axes.
        piece: the piece of the part.

    Returns:
        One span for each step that has a length.
    """
    from parts.loadpath import Span

    return [
        Span(
            step.name,
            place(step.low),
            place(step.high),
            axes,
            step.outline,
            actions,
            material,
            piece,
            5,
        )
        for step in steps
        if np.all(np.asarray(step.length) > 0.0)
    ]


def solid(steps: Sequence[Step]) -> cq.Workplane:
    """The steps as one solid with its axis on +x: low at x = low. Outside only; bores are cut by the feature.

    Steps must follow each other without a gap.
    """
    import cadquery as cq

    sketch = (
        cq.Workplane("XY")
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
    """What is milled away to make the flats of a step."""
    import cadquery as cq

    low, length = float(step.low), float(step.length)
    wide = 2.0 * float(np.max(step.outside(np.array([0.0, 1.0])))) + 2.0
    keep = (
        cq.Workplane("YZ", origin=(low, 0, 0))
        .polygon(6, float(step.flats) / np.cos(np.pi / 6.0))
        .extrude(length)
        if step.sides == 6
        else cq.Workplane("YZ", origin=(low, 0, 0)).rect(wide, float(step.flats)).extrude(length)
    )
    return cq.Workplane("YZ", origin=(low, 0, 0)).circle(wide).extrude(length).cut(keep)


def _start(step: Step) -> float:
    return float(step.outside(0.0)) / 2.0


def _corners(step: Step) -> list[tuple[tuple[float, float] | None, tuple[float, float]]]:
    low, high = float(step.low), float(step.high)
    start, end = _start(step), float(step.outside(1.0)) / 2.0
    if not step.fillet:
        return [(None, (low, start)), (None, (high, end))]
    r = start - end
    middle = (low + r * (1.0 - np.sqrt(0.5)), end + r * (1.0 - np.sqrt(0.5)))
    return [(None, (low, start)), ((float(middle[0]), float(middle[1])), (high, end))]
