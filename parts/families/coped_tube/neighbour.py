"""A tube that an end meets, how it runs, and what the end bears there."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.feature import Site
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.rules import Rule, at_least, at_most
from parts.core.tube_ends import TubeEnd
from parts.families.coped_tube.hollow import Hollow
from parts.inputs.designations import TubeName
from parts.inputs.quantities import Angle, Length
from parts.standards.materials.materials import Material


class Bears(NamedTuple):
    """What an end bears: along the tube, across it, square to the neighbour [N]; moments that rock it along the
    neighbour and across it, and torque about its own axis [N*mm]. All without signs."""

    N: Any
    V: Any
    square: Any
    along: Any
    across: Any
    T: Any

    @property
    def M(self) -> Any:
        """Bending of the tube [N*mm]."""
        return np.hypot(self.along, self.across)

    @property
    def rocked(self) -> dict[str, Any]:
        """What the weld round a rectangular tube bears, by the names of `box_end`."""
        return {"N": self.N, "V": self.V, "M_i": self.along, "M_o": self.across, "T": self.T}


@dataclass(frozen=True, kw_only=True)
class AtSaddle(Site):
    """An end of a tube; `name` is `end a` or `end b`.

    Attributes:
        tube: the tube.
        soft: the tube's metal beside the weld.
        bears: what the end bears under a load case.
    """

    tube: Hollow
    soft: Material
    bears: Callable[[LoadCase], Bears]


class Beside(Group):
    """A tube that a tube's end meets."""

    tube: TubeName = Field(description="The tube that it meets, by outside diameter and wall.")
    angle: Angle = Field(
        np.pi / 2.0, description="Angle between the two centre lines, on the side of `turn`."
    )
    turn: Angle = Field(
        0.0, description="Where round the tube that side lies, from y toward z of the part."
    )
    offset: Length = Field(
        0.0, description="How far the other tube's centre line passes beside the tube's own."
    )

    def end(self, name: str, way: float, gap: Any, others: tuple[TubeEnd, ...] = ()) -> TubeEnd:
        """The cut, in the axes of an end whose tube runs along +x (way 1) or -x (way -1)."""
        return TubeEnd(
            name, self.tube.width_mm, self.angle, -way * self.offset, gap, way * self.turn, others
        )

    def frame(self, way: float) -> Any:
        """Rows: along the tube away from the node, square to it on the side of `turn`, square to both; in the part's
        axes, shape (..., 3, 3)."""
        c, s = np.cos(self.turn), np.sin(self.turn)
        i = np.broadcast_to(np.array([way, 0.0, 0.0]), (*np.shape(c), 3))
        n = np.stack([0.0 * c, c, s], axis=-1)
        return np.stack([i, n, np.cross(i, n)], axis=-2)

    def runs(self, way: float) -> tuple[Any, Any]:
        """A place on its centre line beside the node [mm], and the way that it runs on the side of its angle."""
        i, n, m = np.moveaxis(self.frame(way), -2, 0)
        cos, sin = (np.asarray(v)[..., None] for v in (np.cos(self.angle), np.sin(self.angle)))
        return way * np.asarray(self.offset)[..., None] * m, cos * i + sin * n

    def way_rules(self, field: str, outside: Any, gap: Any) -> Iterator[Rule]:
        """Rules of how it runs, for a tube of that diameter [mm]."""
        for kind, code, value, limit in (
            (at_least, "flat", self.angle, np.radians(30.0)),
            (at_most, "steep", self.angle, np.radians(150.0)),
        ):
            yield kind(f"cope.{code}", f"{field}.angle", value, limit,
                "so flat a heel cannot be welded (30 degrees; EN 1993-1-8, 7.1.2)",
                "keep between 30 and 150 degrees", "deg")  # fmt: skip
        yield from self._wide_rule(field, outside, gap)

    def _wide_rule(self, field: str, outside: Any, gap: Any) -> Iterator[Rule]:
        reach = outside / 2.0 + np.abs(self.offset)
        yield at_most("cope.wide", f"{field}.tube", reach, self.tube.width_mm / 2.0 + gap,
            "the tube reaches past the one that it stands on", "choose a wider one, or less offset")  # fmt: skip
