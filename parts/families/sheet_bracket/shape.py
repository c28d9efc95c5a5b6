"""A sheet bracket by its dimensions: the base with its bolts, the legs that run from its sides, what they carry."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cached_property
from typing import Any

import numpy as np
from pydantic import Field, model_validator

from parts.core.assembled import Assembled
from parts.core.group import Group
from parts.core.part import Bought
from parts.families.sheet_bracket.leg import OUT, Leg, Standing
from parts.families.sheet_bracket.rivet_nuts import RivetNuts
from parts.features.bolts.bolted_plate import BoltedPlate
from parts.features.bolts.grip import Joint, choose_bolt, fitted
from parts.features.bolts.pattern import PadBolts
from parts.inputs.designations import PlateThickness
from parts.inputs.quantities import NonNegativeLength, Point2, PositiveLength
from parts.strength.method import plain
from parts.strength.plates import sheet

WASHER = 2.0
"""Outside diameter of a plain washer in bolt diameters [-]; ISO 7089, from memory."""


class Base(Group):
    """The flat that is bolted down."""

    at: list[Point2] = Field(
        min_length=1, max_length=12, description="Positions of the bolts' holes: x and y."
    )
    bolts: PadBolts = Field(description="The bolts.")
    gap: PositiveLength = Field(0.4, description="Hole diameter less bolt diameter.")
    onto: PositiveLength | None = Field(
        None, description="Thickness of what it is bolted to, with nuts behind it."
    )
    into: RivetNuts | None = Field(
        None, description="Blind rivet nuts that the bolts screw into, in place of nuts behind it."
    )
    length: PositiveLength | None = Field(
        None, description="Along x; left out, it follows from the holes and `margin`."
    )
    width: PositiveLength | None = Field(
        None, description="Along y; left out, it follows from the holes and `margin`."
    )
    margin: PositiveLength | None = Field(
        None,
        description="Middle of the outer holes to the edges; twice the bolts' diameter where left out.",
    )
    corner: NonNegativeLength = Field(5.0, description="Radius of its free corners.")

    @model_validator(mode="after")
    def _has_nuts_of_one_kind(self) -> Base:
        if self.into is None:
            return self
        if self.onto is not None:
            raise ValueError(
                "the bolts go to nuts behind (`onto`) or into rivet nuts (`into`): state one"
            )
        if self.bolts.of_thread is None:
            raise ValueError("rivet nuts have a thread: name the bolts, as in `bolt: M6x20 8.8`")
        self.into.on(self.bolts).nut  # noqa: B018  refuses a size that the table does not hold
        return self

    @property
    def hole(self) -> Any:
        """Diameter of its holes [mm]."""
        return self.bolts.diameter + self.gap

    @property
    def below(self) -> Any:
        """What its bolts go through beneath it to their nuts or threads [mm]; None where that is not stated."""
        of = self.bolts.of_thread
        return self.onto if self.into is None or of is None else self.into.of(of).below

    @property
    def tightened(self) -> Any:
        """The stress to a share of which its bolts are tightened [MPa]."""
        bolts = self.bolts
        if self.into is None:
            return bolts.proof
        return self.into.on(bolts).tightened(bolts.proof, bolts.area)

    def places(self) -> np.ndarray:
        """Middles of the holes, shape (..., n, 2) [mm]."""
        flat = np.broadcast_arrays(*(np.asarray(v, float) for place in self.at for v in place))
        return np.stack(flat, axis=-1).reshape(*flat[0].shape, len(self.at), 2)

    def joint(self, thickness: Any) -> Joint | None:
        """A bolt with its nut and washers, where it is named and what it clamps is stated."""
        if self.onto is None or self.bolts.bolt is None:
            return None
        deep = float(np.max(thickness + self.onto))
        if size := self.bolts.without_length:
            return choose_bolt(size, deep, last_plane=0.0)
        return fitted(self.bolts.bolt, deep)

    def bought(self, thickness: Any) -> list[Bought]:
        """Its bolts, and nuts and washers where what they clamp is known."""
        joint, count = self.joint(thickness), len(self.at)
        if joint is None:
            found = [Bought(f"bolt {self.bolts.name}", count, "the base")]
            if self.into is not None:
                fits = f"under the base, in {float(np.max(self.into.sheet)):g} mm"
                found.append(self.into.on(self.bolts).bought(count, fits))
            return found
        return [replace(one, quantity=count * one.quantity) for one in joint.bought("the base")]

    def bounds(self) -> tuple[tuple[Any, Any], tuple[Any, Any]]:
        """From where to where it reaches along x and along y [mm]."""
        room = 2.0 * self.bolts.diameter if self.margin is None else self.margin
        found = []
        for i, stated in enumerate((self.length, self.width)):
            holes = self.places()[..., i]
            if stated is None:
                found.append((holes.min(axis=-1) - room, holes.max(axis=-1) + room))
            else:
                found.append((-stated / 2.0, stated / 2.0))
        return found[0], found[1]


class BracketShape(Assembled):
    """The dimensions of a sheet bracket."""

    thickness: PlateThickness = Field(
        description="Thickness of the sheet, or the sheet it is cut from."
    )
    edge_break: NonNegativeLength = Field(
        0.0, description="Sheet is deburred by hand: leave it at 0."
    )
    base: Base = Field(description="The flat that is bolted down, from z = 0 upward.")
    legs: list[Leg] = Field(
        min_length=1,
        max_length=4,
        description="The legs: one makes a tab or an angle, two a channel, four a box.",
    )
    relief: PositiveLength | None = Field(
        None,
        description="Radius in the corner between the base and a leg narrower than its side; the thickness "
        "where left out.",
    )
    k_factor: float | None = Field(
        None,
        gt=0.1,
        le=0.5,
        description="The shop's own K-factor: neutral fibre from the inside over the thickness; DIN 6935 where left "
        "out.",
    )
    springback: float | None = Field(
        None,
        gt=0.8,
        le=1.0,
        description="The shop's own: angle that stays over angle on the machine; left out, nothing is said of it.",
    )

    @model_validator(mode="after")
    def _one_leg_a_side(self) -> BracketShape:
        sides = [leg.side for leg in self.legs]
        if len({*sides}) < len(sides):
            twice = next(one for one in sides if sides.count(one) > 1)
            raise ValueError(f"two legs run from the {twice}; give each its own side")
        return self

    def stock_thickness(self) -> Any:
        return self.thickness

    @cached_property
    def stands(self) -> Mapping[str, Standing]:
        """The legs where they stand, by their sides."""
        (x0, x1), (y0, y1) = self.base.bounds()
        found: dict[str, Standing] = {}
        for leg in self.legs:
            (ox, oy) = OUT[leg.side]
            edge = {"front": x1, "back": -x0, "left": y1, "right": -y0}[leg.side]
            low, high = (y0, y1) if ox else (x0, x1)
            middle = (low + high) / 2.0 * (ox - oy)
            wide = high - low if leg.width is None else leg.width
            found[leg.side] = Standing(
                leg, edge, middle + leg.offset, wide, leg.width is None, self.thickness
            )
        return found

    @property
    def relieved(self) -> Any:
        """Radius in the corners beside narrow legs [mm]."""
        return self.thickness if self.relief is None else self.relief

    @property
    def middle(self) -> np.ndarray:
        """Middle of the base, shape (..., 2) [mm]."""
        both = [(low + high) / 2.0 for low, high in self.base.bounds()]
        return np.stack(np.broadcast_arrays(*(np.asarray(v, float) for v in both)), axis=-1)

    @cached_property
    def plate(self) -> BoltedPlate:
        """The base on its bolts, in its own middle."""
        (x0, x1), (y0, y1) = self.base.bounds()
        places = self.base.places() - self.middle[..., None, :]
        return BoltedPlate(
            name="base", places=places, width=x1 - x0, height=y1 - y0, corner=self.base.corner,
            edge_break=self.edge_break, bolts=self.base.bolts, hole=self.base.hole,
            under_head=self.thickness, metal=self.metal, gap=self.base.gap, onto=self.base.below,
            tightened=self.base.tightened,
        )  # fmt: skip

    def points(self) -> Mapping[str, Any]:
        found = {}
        for name, one in self.stands.items():
            found[name] = one.way(one.leg.reach)
            if one.leg.carries is not None:
                x, y, z = (np.asarray(v, float) for v in one.leg.carries.centre)
                found[f"{name} mass"] = np.stack(np.broadcast_arrays(x, y, z), axis=-1)
            found[f"{name} itself"] = self.own[name][1]
        return found

    def row(self, one: Standing) -> Any:
        """From the bolts nearest to a leg's side to the edge of the base there [mm]."""
        return one.edge - self._outward(one).max(axis=-1)

    def _outward(self, one: Standing) -> Any:
        return self.base.places() @ one.axes[0, :2]

    def in_row(self, one: Standing) -> Any:
        """How many bolts stand in the row nearest to a leg's side, those within a hole of it."""
        out = self._outward(one)
        return (out > out.max(axis=-1, keepdims=True) - np.asarray(self.base.hole)[..., None]).sum(
            -1
        )

    @property
    def to_legs(self) -> Any:
        """From each bolt of the base to where the nearest leg turns up from it, shape (..., n) [mm]."""
        found = [
            np.asarray(one.edge + (one.leg.bends[0].flat if one.leg.bends else 0.0))[..., None]
            - self._outward(one)
            for one in self.stands.values()
        ]
        return np.min(np.stack(np.broadcast_arrays(*found)), axis=0)

    def side(self, one: Standing) -> Any:
        """Length of a leg's side of the base [mm]."""
        along_y = OUT[one.name][0] != 0.0
        return self.plate.height if along_y else self.plate.width

    def seated(self, one: Standing) -> Any:
        """Width of the base over which the bolts nearest to a leg hold it [mm]."""
        washer, count = WASHER * self.base.bolts.diameter, self.in_row(one)
        free = self.row(one) + (one.leg.bends[0].flat if one.leg.bends else 0.0)
        side = self.side(one)
        return np.minimum(count * plain(sheet.spread_width(free, washer, side)), side)

    def spread(self, one: Standing, to: Any = 0.0) -> Any:
        """Width over which what a leg's holes carry spreads at a length along it [mm]."""
        leg = one.leg
        off = 0.0 if leg.pitch is None else leg.pitch / 2.0
        room = one.wide / 2.0 - off
        if leg.pitch is not None:
            room = np.minimum(room, off)
        away, washer = np.maximum(leg.reach - np.asarray(to, float), 0.0), WASHER * leg.pin.diameter
        return len(leg.offsets) * plain(sheet.spread_width(away, washer, 2.0 * room))

    @cached_property
    def own(self) -> Mapping[str, tuple[Any, Any]]:
        """Mass of each leg by itself [kg] and its middle [mm]; its holes count as full."""
        return {name: self._own(one) for name, one in self.stands.items()}

    def _own(self, one: Standing) -> tuple[Any, Any]:
        total, moment = 0.0, 0.0
        for low, high, curved in stretches(one):
            for s, share in gauss(low, high, 3 if curved else 1):
                total, moment = total + share, moment + np.asarray(share)[..., None] * one.way(s)
        # That of its form is asked for once its thickness is known to be listed.
        density = self.material.density
        return total * one.wide * self.thickness * density, moment / np.asarray(total)[..., None]


def stretches(one: Standing) -> Iterator[tuple[Any, Any, bool]]:
    """Flats and bends of a leg in turn: from where to where along it, and whether it is a bend."""
    at: Any = 0.0
    for low, high in one.strip.bends():
        yield at, low, False
        yield low, high, True
        at = high
    yield at, one.leg.reach + one.leg.end, False


GAUSS = {n: np.polynomial.legendre.leggauss(n) for n in (1, 2, 3, 4)}


def gauss(low: Any, high: Any, count: int) -> Iterator[tuple[Any, Any]]:
    """Places between two lengths and the length that each stands for [mm]."""
    for x, weight in zip(*GAUSS[count], strict=True):
        yield low + (high - low) * (1.0 + x) / 2.0, (high - low) * weight / 2.0
