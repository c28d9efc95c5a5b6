"""A bolt-on pad by its dimensions, and what each of its bolts bears."""

from __future__ import annotations

from typing import Any, ClassVar, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.features.bolts.bolted_plate import BoltedPlate
from parts.features.bolts.grip import Joint, choose_bolt, fitted
from parts.features.bolts.pattern import (
    ClearanceHoles,
    CounterboredHoles,
    Holes,
    PadBolts,
    TappedHoles,
)
from parts.features.thread.body import Body, Shank
from parts.inputs.quantities import Point2, PositiveLength
from parts.standards.materials.materials import Material
from parts.strength.bolted import stripping

SHARP_V = 1.25 * np.sqrt(3.0) / 2.0
"""Depth of an internal thread, 5/8 H on each side, in pitches [-]: ISO 68-1."""
SAME_ROW = 0.5
"""Holes nearer to one row than this, in their diameters, stand in it [-]."""


class PadBase(Shank):
    """A pad's sizes, its holes, and its bolts as a group."""

    seen_from_its_end: ClassVar[bool] = True
    open_back: ClassVar[bool] = True

    type: Literal["pad"] = Field("pad", description="A bolt-on pad with a pattern of holes.")
    width: PositiveLength = Field(description="Width of the pad, along y before clocking.")
    height: PositiveLength = Field(description="Height of the pad, along z before clocking.")
    thickness: PositiveLength = Field(description="Thickness of the pad.")
    corner: PositiveLength = Field(5.0, description="Radius of the pad's corners.")
    at: list[Point2] = Field(
        min_length=2,
        max_length=24,
        description="Positions of the holes: y and z from the pin's middle.",
    )
    holes: Holes = Field(default_factory=ClearanceHoles, description="How the holes are made.")
    bolts: PadBolts = Field(description="The bolts.")
    onto: PositiveLength | None = Field(
        None,
        description="Thickness of what the pad is bolted to, with nuts behind it: holds the bolts' length "
        "against the stack.",
    )

    @model_validator(mode="after")
    def _is_tapped_for_a_thread(self) -> PadBase:
        if isinstance(self.holes, TappedHoles) and self.bolts.of_thread is None:
            raise ValueError(
                "tapped holes need the thread of the bolts, as in `bolt: M8x30 8.8` or `thread: M8`"
            )
        return self

    @property
    def hole(self) -> Any:
        """Diameter of the holes as modelled [mm]: the minor diameter where they are tapped."""
        if isinstance(self.holes, TappedHoles):
            of = self.bolts.of_thread
            assert of is not None
            if not self.holes.insert:
                return of.minor_internal
            return stripping.insert_major_diameter(of.major, of.pitch) - SHARP_V * of.pitch
        return self.bolts.diameter + self.holes.gap

    @property
    def stack(self) -> Any:
        """What the bolts clamp: the pad beneath their heads and what it stands on [mm]."""
        assert self.onto is not None
        return self._under_head() + self.onto

    @property
    def joint(self) -> Joint | None:
        """A bolt with its nut and washers, where it is named and what it clamps is stated."""
        if self.onto is None or self.bolts.bolt is None or isinstance(self.holes, TappedHoles):
            return None
        deep = float(np.max(self.stack))
        if size := self.bolts.without_length:
            return choose_bolt(size, deep, last_plane=0.0)
        return fitted(self.bolts.bolt, deep)

    def places(self) -> np.ndarray:
        """Positions of the holes before clocking, shape (..., n, 2) [mm]."""
        flat = np.broadcast_arrays(*(np.asarray(v, float) for place in self.at for v in place))
        return np.stack(flat, axis=-1).reshape(*flat[0].shape, len(self.at), 2)

    def plate(self, metal: Material, edge_break: Any) -> BoltedPlate:
        """The pad as a plate on its bolts, before clocking."""
        return BoltedPlate(
            name="pad", places=self.places(), width=self.width, height=self.height, corner=self.corner,
            edge_break=edge_break, bolts=self.bolts, hole=self.hole, under_head=self._under_head(), metal=metal,
            gap=getattr(self.holes, "gap", 0.0), onto=self.onto, tapped=isinstance(self.holes, TappedHoles),
        )  # fmt: skip

    def _body_half(self, body: Body) -> tuple[Any, Any]:
        """Half the body's extent along the pad's own y and z [mm]."""
        c, s = np.abs(np.cos(body.clocking)), np.abs(np.sin(body.clocking))
        return (c * body.width + s * body.height) / 2.0, (s * body.width + c * body.height) / 2.0

    def _beside_body(self, body: Body) -> Any:
        """Least distance of the middle of a hole from the sides of the body [mm]."""
        return self._each_beside_body(body).min(axis=-1)

    def _turned(self, body: Body) -> np.ndarray:
        """Positions of the holes as clocked, shape (..., n, 2) [mm]."""
        c, s = np.cos(body.clocking), np.sin(body.clocking)
        y, z = self.places()[..., 0], self.places()[..., 1]
        c, s = np.asarray(c)[..., None], np.asarray(s)[..., None]
        return np.stack([c * y - s * z, s * y + c * z], axis=-1)

    def _each_beside_body(self, body: Body) -> Any:
        """Distance of the middle of each hole from the sides of the body, shape (..., n) [mm]."""
        c, s = np.cos(body.clocking), np.sin(body.clocking)
        y, z = self.places()[..., 0], self.places()[..., 1]
        c, s = np.asarray(c)[..., None], np.asarray(s)[..., None]
        w, h = np.asarray(body.width, float)[..., None], np.asarray(body.height, float)[..., None]
        past = np.abs(c * y - s * z) - w / 2.0, np.abs(s * y + c * z) - h / 2.0
        away = np.hypot(np.maximum(past[0], 0.0), np.maximum(past[1], 0.0))
        return away + np.minimum(np.maximum(*past), 0.0)

    def bent_at_holes(self, body: Body) -> float:
        """What bends the pad at the worst of its holes, of what bends it beside the body [-]: half in one row, which
        holds the pad flat; all where a row stands behind another."""
        own = self.places()
        for index, half in enumerate(self._body_half(body)):
            past = np.abs(own[..., index]) - np.asarray(half)[..., None]
            far = past[past > 0.0]
            if far.size and np.ptp(far) > SAME_ROW * float(self.hole):
                return 1.0
        return 0.5

    def loads(self, body: Body, actions: Any) -> tuple[np.ndarray, np.ndarray]:
        """What acts at the foot of the pad, on its middle: force and moment in its own axes, before clocking.

        Its x and y are the part's y and z, its z is the part's x.
        """
        force, moment = body.carried(actions, self.thickness)
        around = (1, 2, 0)
        return clocked(force[..., around], -body.clocking), clocked(
            moment[..., around], -body.clocking
        )

    def _under_head(self) -> Any:
        sunk = self.holes.depth if isinstance(self.holes, CounterboredHoles) else 0.0
        return self.thickness - sunk


def clocked(vectors: Any, angle: Any) -> np.ndarray:
    """Vectors (..., 3) turned about their third axis."""
    c, s = np.cos(angle), np.sin(angle)
    x, y, z = vectors[..., 0], vectors[..., 1], vectors[..., 2]
    return np.stack(np.broadcast_arrays(c * x - s * y, s * x + c * y, z), axis=-1)
