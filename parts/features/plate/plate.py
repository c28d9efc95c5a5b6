"""The plate of a bracket by its own dimensions, and the room that its points need."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Any, Literal

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.core.rules import Rule, at_least, at_most, none_or_at_least
from parts.features.plate import outline
from parts.features.plate.fixture import FINEST, Fixture
from parts.inputs.quantities import PositiveLength


class Plate(Group):
    """The plate itself."""

    thickness: PositiveLength = Field(description="Thickness of the plate.")
    web: PositiveLength = Field(9.0, description="Least width of the webs.")
    wall: PositiveLength = Field(5.0, description="Least wall about every hole.")
    corner: PositiveLength = Field(
        4.0, description="Radius in the corners of the windows: the cutter's."
    )
    windows: Literal["open", "clear of the load path", "none"] = Field(
        "open",
        description="Lightening windows: all that fit, none where its chief load runs to a mount, or none.",
    )
    edges: Literal["waisted", "straight"] = Field(
        "waisted", description="Outline between the pads: hollow arcs, or straight."
    )
    waist_radius: PositiveLength = Field(
        20.0, description="Least radius of a hollow arc of the outline."
    )

    @property
    def webs(self) -> outline.Webs:
        """The same for the plane figure."""
        return outline.Webs(
            float(self.web), float(self.corner), float(self.waist_radius),
            self.windows != "none", self.edges == "waisted",
        )  # fmt: skip

    def rules(self, edge_break: Any) -> Iterator[Rule]:
        """Rules of the plate itself."""
        yield at_least(
            "plate.thin", "plate.thickness", self.thickness, 5.0,
            "a bracket from sheet this thin bends; it looks like the wrong unit",
            "check the unit of this value",
        )  # fmt: skip
        yield at_most(
            "plate.thick", "plate.thickness", self.thickness, 60.0,
            "no bracket is this thick; it looks like the wrong unit", "check the unit of this value",
        )  # fmt: skip
        yield at_least(
            "plate.web", "plate.web", self.web, np.maximum(0.4 * self.thickness, 4.0),
            "a web this narrow buckles sideways and chatters under the cutter (0.4 of the thickness: "
            "common practice, "
            "no source)",
            "widen the web",
        )  # fmt: skip
        yield at_least(
            "plate.wall",
            "plate.wall",
            self.wall,
            2.0,
            "too little metal stays about the holes",
            "widen the wall",
        )
        yield at_least(
            "plate.corner", "plate.corner", self.corner, np.maximum(self.thickness / 8.0, 1.5),
            "a cutter this thin does not reach through the plate (four diameters: common practice, no source)",
            "enlarge the corner radius",
        )  # fmt: skip
        yield at_most(
            "plate.corner_large", "plate.corner", self.corner, 25.0,
            "with corners this round hardly a window is left", "lessen the corner radius",
        )  # fmt: skip
        yield at_least(
            "plate.waist", "plate.waist_radius", self.waist_radius, 8.0,
            "the outline would be nicked, not waisted", "enlarge the least radius of a waist",
        )  # fmt: skip
        yield at_most(
            "plate.break", "edge_break", edge_break, np.minimum(self.web, self.thickness) / 5.0,
            "the chamfers would eat the faces of the webs",
            "lessen the edge break to a fifth of web and thickness",
        )  # fmt: skip
        yield none_or_at_least(
            "plate.fine_break", "edge_break", edge_break, FINEST, "no shop makes a chamfer this fine",
            "enlarge the edge break, or state 0 for sharp edges",
        )  # fmt: skip


def room_rules(placed: Sequence[tuple[Fixture, Any]], wall: Any, edge_break: Any) -> Iterator[Rule]:
    """Rules that hold the points of a plate apart, each with the radius of its pad [mm]."""
    fixtures = [one for one, _ in placed]
    apart = []
    for (a, pad_a), (b, pad_b) in combinations(placed, 2):
        gap = np.hypot(np.subtract(a.at[0], b.at[0]), np.subtract(a.at[1], b.at[1]))
        apart.append(gap - np.abs(pad_a - pad_b))
        yield at_least(
            "plate.ligament", f"{b.field}.at", gap, a.edge + b.edge + wall,
            f"{a.name} and {b.name} leave less than the wall between their holes", "move one of them away",
        )  # fmt: skip
        room = np.maximum(
            a.taken(a.outer, edge_break) + b.taken(b.outer, edge_break),
            a.taken(a.inner, edge_break) + b.taken(b.inner, edge_break),
        )
        yield at_least(
            "plate.crowded", f"{b.field}.at", gap, room,
            f"what stands at {a.name} and at {b.name} would meet",
            "move one of them away, or make a boss smaller",
        )  # fmt: skip
    yield at_least(
        "plate.points", "peg.at", np.maximum.reduce(np.broadcast_arrays(*apart)), 5.0,
        "one pad holds all the others, so that there is no plate between them", "move the points apart",
    )  # fmt: skip
    sizes = [
        np.hypot(
            np.subtract(one.at[0], fixtures[0].at[0]), np.subtract(one.at[1], fixtures[0].at[1])
        )
        for one in fixtures[1:]
    ]
    yield at_most(
        "plate.large", "mounts", np.maximum.reduce(np.broadcast_arrays(*sizes)), 500.0,
        "no plate of this kind is this large; it looks like the wrong unit", "check the unit of the places",
    )  # fmt: skip
