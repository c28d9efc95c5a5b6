"""A bolt-on pad by its dimensions, and what each of its bolts bears."""

from __future__ import annotations

from typing import Any, ClassVar, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.features.bolts.grip import Joint, choose_bolt, fitted
from parts.features.bolts.pattern import (
    ClearanceHoles,
    CounterboredHoles,
    Holes,
    PadBolts,
    TappedHoles,
)
from parts.features.bolts.slip import settled_loss
from parts.features.bolts.torque import PROOF_SHARE, SCATTER
from parts.features.thread.body import Body, Shank
from parts.inputs.quantities import Point2, PositiveLength
from parts.standards.materials.materials import Material
from parts.strength.bolted import group as boltgroup
from parts.strength.bolted import joint, stripping
from parts.strength.method import plain

SHARP_V = 1.25 * np.sqrt(3.0) / 2.0
"""Depth of an internal thread, 5/8 H on each side, in pitches [-]: ISO 68-1."""
SAME_ROW = 0.5
"""Holes nearer to one row than this, in their diameters, stand in it [-]."""
LINEAR_PRESSURE = 2.0 / 3.0
"""Resultant of a pressure that runs straight from nothing to its most, over the length that it presses on [-]."""


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

    def _edge(self) -> Any:
        """Least distance of the middle of a hole from the edge of the pad, round its corners too [mm]."""
        half = np.stack(np.broadcast_arrays(self.width, self.height), axis=-1) / 2.0
        r = np.asarray(self.corner, float)[..., None]
        past = np.abs(self.places()) - (half[..., None, :] - r[..., None])
        outside = np.linalg.norm(np.maximum(past, 0.0), axis=-1) + np.minimum(
            past.max(axis=-1), 0.0
        )
        return (r - outside).min(axis=-1)

    def _pitch(self) -> Any:
        places = self.places()
        apart = np.linalg.norm(places[..., :, None, :] - places[..., None, :, :], axis=-1)
        apart = apart + np.where(np.eye(len(self.at)) > 0.0, np.inf, 0.0)
        return apart.min(axis=(-2, -1))

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

    def loads(self, body: Body, actions: Any) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """What acts at the foot of the pad, on its middle: force, moment and place in the axes of the bolts.

        The bolts' x and y are the part's y and z, their z is the part's x.
        """
        force, moment = body.carried(actions, self.thickness)
        around = (1, 2, 0)
        place = np.zeros(3)
        return force[..., around], moment[..., around], place

    def reactions(self, body: Body, actions: Any) -> np.ndarray:
        """Shear both ways and axial force of each bolt, tension positive, shape (..., n, 3) [N]."""
        force, moment, place = self.loads(body, actions)
        turned = self._turned(body)
        pressed, _ = self._pressed(body, moment)
        left = moment - self._about_line(body, moment)
        each = boltgroup.bolt_reactions(turned, force, left, place)
        rocking = (pressed / len(self.at))[..., None] + 0.0 * each[..., 2]
        return np.asarray(each + np.stack(np.broadcast_arrays(0.0, 0.0, rocking), axis=-1))

    def _line(self, body: Body) -> tuple[Any, Any]:
        """Direction of the line on which all bolts stand, shape (..., 2), and whether there is such a line."""
        r = self._turned(body)
        r = r - r.mean(axis=-2, keepdims=True)
        Ixx, Iyy = (r[..., 1] ** 2).sum(-1), (r[..., 0] ** 2).sum(-1)
        Ixy = (r[..., 0] * r[..., 1]).sum(-1)
        turn = 0.5 * np.arctan2(2.0 * Ixy, Iyy - Ixx)
        one_line = Ixx * Iyy - Ixy**2 <= 1e-9 * (Ixx + Iyy) ** 2
        return np.stack([np.cos(turn), np.sin(turn)], axis=-1), one_line

    def _about_line(self, body: Body, moment: Any) -> np.ndarray:
        """The part of a moment that bolts in one line cannot carry: that about their line; none of other patterns."""
        way, one_line = self._line(body)
        about = (moment[..., :2] * way).sum(-1) * one_line
        return np.concatenate([about[..., None] * way, 0.0 * about[..., None]], axis=-1)

    def _pressed(self, body: Body, moment: Any) -> tuple[Any, Any]:
        """Force with which the pad's edge presses when it rocks on bolts in one line [N], and where: shape (..., 2).

        The pressure runs straight from nothing at the line of the bolts to its most at the edge, so that its resultant
        stands off the line by two thirds of the edge's distance. The bolts pull as much, evenly.
        """
        way, _ = self._line(body)
        about = self._about_line(body, moment)
        signed = (about[..., :2] * way).sum(-1)
        # A moment about the line pushes the pad down on this side of it.
        side = (
            np.stack([way[..., 1], -way[..., 0]], axis=-1)
            * np.where(signed < 0.0, -1.0, 1.0)[..., None]
        )
        c, s = np.cos(body.clocking), np.sin(body.clocking)
        own = c * side[..., 0] + s * side[..., 1], c * side[..., 1] - s * side[..., 0]
        half = np.asarray(self.width, float) / 2.0, np.asarray(self.height, float) / 2.0
        middle = self.places().mean(axis=-2)
        with np.errstate(divide="ignore"):
            reach = np.minimum(
                *(
                    (h - np.sign(n) * m) / np.abs(n)
                    for n, h, m in zip(own, half, (middle[..., 0], middle[..., 1]), strict=True)
                )
            )
        # A round corner takes the more off, the nearer to it the pad is pressed.
        corner = (np.sqrt(2.0) - 1.0) * np.sqrt(2.0) * np.minimum(np.abs(own[0]), np.abs(own[1]))
        reach = reach - corner * self.corner - body.edge_break
        lever = LINEAR_PRESSURE * reach
        return np.abs(signed) / lever, self._turned(body).mean(axis=-2) + lever[..., None] * side

    def _under_head(self) -> Any:
        sunk = self.holes.depth if isinstance(self.holes, CounterboredHoles) else 0.0
        return self.thickness - sunk

    def least_preload(self, metal: Material) -> Any:
        """Least preload of a bolt tightened by common practice, after its faces have settled [N].

        The grip is what is known of it: the pad, with what it stands on where that is stated; behind a tapped hole no
        more than a diameter.
        """
        d, tapped = self.bolts.diameter, isinstance(self.holes, TappedHoles)
        deep = (d if tapped else self._under_head()) + (0.0 if self.onto is None else self.onto)
        heads = 1 if tapped or self.onto is None else 2
        load = PROOF_SHARE * self.bolts.proof * self.bolts.area
        loss = settled_loss(metal, d, self.bolts.area, deep, heads)
        return joint.least_preload(load, SCATTER) - plain(loss)
