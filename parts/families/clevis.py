"""Clevis: two ears with a throat, on a shank that screws, plugs, bolts or welds to what it serves."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from typing import Annotated, Any, ClassVar, Literal

import numpy as np
from pydantic import Field

from parts.features import threaded, turned
from parts.features.ears import Ears
from parts.features.shank import FemaleThread, MaleThread
from parts.inputs.quantities import Angle, NonNegativeLength
from parts.loadpath import Span
from parts.loads import LoadCase, point_actions, resultant
from parts.part import Part, Piece
from parts.rules import Rule, at_least
from parts.strength.check import Check

Shank = Annotated[MaleThread | FemaleThread, Field(discriminator="type")]
AXES = np.eye(3)


class Clevis(Part):
    """A clevis."""

    summary: ClassVar[str] = "two ears and a pin on a threaded, plugged, bolted or welded shank"
    axes: ClassVar[str] = (
        "origin in the middle of the pin; x along the shank, from the shank toward the pin (a pull on "
        "the pin is "
        "+x); z along the pin; y across the ears"
    )
    not_covered: ClassVar[tuple[str, ...]] = (
        "fatigue",
        "wear of pin, bush and bore",
        "impact beyond the stated load cases",
    )

    family: Literal["clevis"] = Field("clevis", description="Two ears and a pin on a shank.")
    ears: Ears = Field(description="The ears, their throat and their pin.")
    shank: Shank = Field(description="How the body is fixed to what it serves.")
    clocking: Angle = Field(
        0.0, description="Turn of the shank's flats or holes about x against the ears."
    )
    root_fillet: NonNegativeLength = Field(
        2.0, description="Fillet where the shank leaves the body; 0 leaves it sharp."
    )

    def points(self) -> Mapping[str, Any]:
        return {"pin": np.zeros(3)}

    def stock_thickness(self) -> Any:
        return np.maximum(self.ears.width, self.ears.height)

    def rules(self) -> Iterator[Rule]:
        yield from self.ears.rules("ears")
        yield from self.ears.break_rules("edge_break", self.edge_break)
        yield from self.shank.rules("shank")
        room = np.minimum(self.ears.width, self.ears.height) - 2.0 * self.edge_break
        yield at_least(
            "clevis.shoulder", "ears.width", room, self.shank.largest() + 2.0 * self.root_fillet,
            "the shank with its root fillet is larger than the back of the body",
            "widen the ears, or lessen the shank or the root fillet",
        )  # fmt: skip

    def spans(self) -> Sequence[Span]:
        actions = partial(point_actions, points=self.points())
        return [
            *self.ears.spans("ear", self.metal, self.edge_break, actions),
            *self._shank_spans(actions),
        ]

    def _shank_spans(self, actions: Any) -> list[Span]:
        return turned.spans(
            [*self._root(), *self.shank.loaded_steps()],
            self.metal,
            actions,
            place=self._behind,
            axes=AXES,
        )

    def _behind(self, distance: Any) -> np.ndarray:
        x = -(np.asarray(self.ears.back, float) + np.asarray(distance, float))
        return np.stack([x, 0.0 * x, 0.0 * x], axis=-1)

    def _root(self) -> list[turned.Step]:
        """The root fillet, laid over the first step of the shank."""
        return []

    def modes(self, case: LoadCase) -> Iterator[Check]:
        actions = point_actions(case, self.points())
        required = self.factors(case)
        yield from self.ears.modes("ear", self.metal, case, actions, required)
        force, _ = resultant(actions, np.zeros(3))
        shank = self.shank
        yield from threaded.tension_modes(
            "shank", shank.thread, self.metal, force[..., 0], case.name, required
        )
        yield from threaded.strip_modes(
            "shank",
            shank.thread,
            self.metal,
            self.metal,
            shank.engagement,
            force[..., 0],
            case.name,
            required,
        )

    def build(self) -> Sequence[Piece]:
        body = self.ears.solid(self.edge_break)
        shank = self.shank.bored(
            turned.solid(self.shank.steps()).rotate((0, 0, 0), (0, 0, 1), 180.0)
        )
        shank = shank.rotate((0, 0, 0), (1, 0, 0), float(np.degrees(self.clocking)))
        solid = body.union(shank.translate((-float(self.ears.back), 0, 0)))
        return [Piece("part", self.metal, solid)]
