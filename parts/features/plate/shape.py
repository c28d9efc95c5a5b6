"""The shape of a plate: its outline and windows, what stands on it and is bored, as layers and as a solid."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, reduce
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.features.plate.figure import Figure, figure
from parts.features.plate.fixture import Fixture
from parts.features.plate.outline import Pads
from parts.features.plate.plate import Plate
from parts.features.plate.section.layers import Layer, Prism
from parts.strength.section.properties import area_and_length

if TYPE_CHECKING:
    import cadquery as cq


@dataclass(frozen=True)
class Shape:
    """A plate with its fixtures, the first of them its mounts; `pads` are the radii of their pads [mm].

    `chief` is the name of the one whose way to the mounts windows may keep clear of.
    """

    plate: Plate
    fixtures: Sequence[Fixture]
    pads: Sequence[Any]
    mounts: int
    edge_break: Any
    chief: str

    @cached_property
    def figure(self) -> Figure:
        """Outline and windows; they follow from where the points are. One plate at a time: no arrays."""
        pads = Pads(
            np.array([one.place for one in self.fixtures]),
            np.array([float(radius) for radius in self.pads]),
        )
        names = [one.name for one in self.fixtures]
        lines = [(names.index(self.chief), k) for k in range(self.mounts)]
        clear = self.plate.windows == "clear of the load path"
        ears = {k: one.ears for k, one in enumerate(self.fixtures) if one.ears is not None}
        return figure(pads, self.plate.webs, lines if clear else (), ears)

    @property
    def one_figure(self) -> bool:
        """False of many plates at once, whose figures differ."""
        plate = [self.plate.thickness, self.plate.web, self.plate.wall, self.stock]
        flat = [v for one in self.fixtures for v in (*one.at, one.pad, one.edge)]
        return not any(np.ndim(v) for v in (*plate, *flat))

    @cached_property
    def layers(self) -> Sequence[Layer]:
        """What a section through it is made of, in the order in which it is added and cut away."""
        t, c, both = self.plate.thickness, float(self.edge_break), (True, True)
        found: list[Layer] = [Prism(self.figure.outer, 0.0 * t, t, True, c, both)]
        found += [Prism(window, 0.0 * t, t, False, c, both) for window in self.figure.windows]
        found += [layer for one in self.fixtures for layer in one.layers(t, c)]
        found += [cut for one in self.fixtures for cut in one.cuts(self.lowest, self.highest, c)]
        return found

    @property
    def lowest(self) -> Any:
        """Of all that stands under the inner face [mm]."""
        return reduce(
            np.minimum, (step.low for one in self.fixtures for step in one.inner), np.float64(0.0)
        )

    @property
    def highest(self) -> Any:
        """Of all that stands on the outer face [mm]."""
        t = self.plate.thickness
        blocks = [t + one.block.height for one in self.fixtures if one.block is not None]
        steps = [step.high for one in self.fixtures for step in one.outer]
        return reduce(np.maximum, [t, *steps, *blocks])

    @property
    def stock(self) -> Any:
        """Thickness of the stock [mm]."""
        return self.highest - self.lowest

    @property
    def softened(self) -> bool:
        """True where edges are broken, or the solid holds what the outlines leave out: a drill's point, a spot face."""
        rough = any(one.ears or any(bore.point for bore in one.bores) for one in self.fixtures)
        return bool(self.edge_break > 0.0) or rough

    def facts(self) -> dict[str, tuple[Any, str]]:
        """Sizes of stock and plate, and what the windows save."""
        windows = [float(area_and_length(window)[0]) for window in self.figure.windows]
        low, high = self.figure.as_outline().box()
        return {
            "stock thickness": (self.stock, "mm"),
            "plate length": (float(high[0] - low[0]), "mm"),
            "plate height": (float(high[1] - low[1]), "mm"),
            "windows": (float(len(windows)), ""),
            "area saved by windows": (float(sum(windows)), "mm^2"),
        }

    def solid(self) -> cq.Workplane:
        """One solid, of the right-hand bracket."""
        import cadquery as cq

        from parts.shapes.profile import prism
        from parts.shapes.workplane import Workplane

        thickness, edge_break = float(self.plate.thickness), float(self.edge_break)
        low, high = float(self.lowest), float(self.highest)
        plate = prism(self.figure.as_outline(), 0.0, thickness)
        if edge_break > 0.0:
            plate = plate.faces("|Z").edges().chamfer(edge_break)
        standing = [
            one.val() for point in self.fixtures for one in point.standing(thickness, edge_break)
        ]
        tools = [tool.val() for one in self.fixtures for tool in one.tools(low, high, edge_break)]
        shape = plate.val()
        if standing:
            shape = shape.fuse(*standing)
        if tools:
            shape = shape.cut(*tools)
        solids = shape.clean().Solids()
        return Workplane(obj=solids[0] if len(solids) == 1 else cq.Compound.makeCompound(solids))
