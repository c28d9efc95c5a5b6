"""An end of a tube, round or rectangular, that is sawn to the flat face of another and welded round it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from typing import Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check
from parts.core.loads import LoadCase
from parts.core.rules import Rule, at_least, at_most
from parts.core.tube_ends import CORNER, TubeEnd
from parts.core.ways import Kind
from parts.families.coped_tube.neighbour import AtSaddle, Bears
from parts.families.coped_tube.saddle import UNEVEN, Onto
from parts.features.weld.plate_edge import TUBE_USED, Wall
from parts.inputs.designations import BoxName
from parts.strength.method import Worked, plain, work
from parts.strength.welded import box_end, box_wall, tube_joint

ROUND_POST = np.pi / 4.0
"""What a round post counts of the square one about it on a flat wall [-]: EN 1993-1-8, Table 7.11; of its side where
moments rock it, which is less."""


class OntoBox(Onto):
    """An end that is sawn to a flat face, and welded all round."""

    type: Literal["on a box"] = Field(  # type: ignore[assignment]
        "on a box", description="Sawn to the face of a square or rectangular tube and welded to it."
    )
    tube: BoxName = Field(
        description="The tube that it meets by its two sides and its wall, the face that it stands on first."
    )

    def end(self, name: str, way: float, gap: Any, others: tuple[TubeEnd, ...] = ()) -> TubeEnd:
        """The cut, as `Beside.end` says."""
        return TubeEnd(
            name, self.tube.height_mm, self.angle, -way * self.offset, gap, way * self.turn, others, flat=True
        )  # fmt: skip

    def _wide_rule(self, field: str, outside: Any, gap: Any) -> Iterator[Rule]:
        reach = outside / 2.0 + np.abs(self.offset)
        flat = self.tube.width_mm / 2.0 - CORNER * self.tube.wall_mm
        yield at_most("cope.wide", f"{field}.tube", reach, flat,
            "the tube reaches past the flat of the face that it stands on",
            "choose a wider one, or less offset")  # fmt: skip

    def _neighbour(self, site: AtSaddle) -> Sequence[tuple[Any, ...]]:
        outside = self.sides(site)[1]
        wide, deep, thin = self.tube.width_mm, self.tube.height_mm, self.tube.wall_mm
        return (
            (at_least, "narrow", "tube", outside, 0.4 * wide,
             "so thin a tube dents the face (EN 1993-1-8, Table 7.8: 0.4 of its width)", "choose a wider one"),
            (at_most, "side_walls", "tube", outside, 0.8 * wide,
             "so wide a tube is borne by the side walls, which no check here covers (EN 1993-1-8, Table 7.8: 0.8)",
             "choose a wider box, or a thinner tube"),
            (at_most, "slack", "tube", np.maximum(wide, deep) / thin, 30.0,
             "no peak is known of a weld on so thin a wall (CIDECT Design Guide 8)", "choose a thicker wall"),
            (at_most, "stout", "tube", thin, wide / 10.0, "so thick a wall is no face that bends, and not covered",
             "choose a thinner wall"),
            (at_most, "oblong", "tube", np.maximum(wide / deep, deep / wide), 2.0,
             "so flat a box is not covered (EN 1993-1-8, Table 7.8: sides of 0.5 to 2)", "choose a squarer one"),
        )  # fmt: skip

    def throat(self, site: AtSaddle) -> Any:
        """Throat of the fillet over its leg at the toe, where the face and the tube open widest [-]."""
        return np.sin(self.flat_angle / 2.0)

    def kinds(self, site: AtSaddle) -> Sequence[Kind]:
        return [Kind("tube on a box", site.name)]

    def _force(self, site: AtSaddle, one: Bears) -> tuple[Any, str]:
        if site.tube.round:
            return super()._force(site, one)
        force = work(box_end.box_fillet_force, **self._square(site), **one.rocked)
        return force, "the sides across count where the face is stiff, as if cut square"

    def _wall(self, site: AtSaddle, one: Bears, f_y: Any, case: LoadCase) -> Iterator[Check]:
        t, wide, thin = site.tube.wall, self.tube.width_mm, self.tube.wall_mm
        h, b = self.sides(site)
        post = ROUND_POST if site.tube.round else 1.0
        counted = f_y * Wall(wide, thin, f_y, flat=True).counted.value
        k = work(box_wall.chord_factor_post, n=TUBE_USED, beta=np.minimum(b / wide, 1.0))
        bears = partial(work, b0=wide, t0=thin, k=k)
        pull = bears(box_wall.face_pull, h=h, b=b, f_y=post * counted)
        along, across = (
            bears(method, h=post * h, b=post * b, f_y=counted)
            for method in (box_wall.face_moment_along, box_wall.face_moment_across)
        )
        yield self._wall_use(site, one, case, pull, along, across)
        if site.tube.round:
            torn: Any = UNEVEN * (one.N / site.tube.section.area + one.M / site.tube.modulus)
        else:
            torn = plain(self._force(site, one)[0]) / t
        yield self._torn(site, torn, counted, case)

    def _peaks(self, site: AtSaddle) -> tuple[Worked, Worked, Worked]:
        face = {
            "b0": self.tube.width_mm,
            "t0": self.tube.wall_mm,
            "t1": site.tube.wall,
            "e": np.abs(self.offset),
        }
        if site.tube.round:
            peak = work(tube_joint.face_peak, d1=site.tube.wide, **face)
        else:
            h, b = self.sides(site)
            peak = work(box_end.box_peak, b=b, h=h, **face)
        return peak, peak, peak
