"""The section of a coped tube: round, or rectangular with rounded corners."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from parts.core.loadpath import Notch
from parts.core.tube_ends import CORNER, place_round
from parts.features.bung.stretches import NEARLY, Outside, drilled_stretches
from parts.features.section.outlines import figure
from parts.standards.materials.materials import Material
from parts.standards.stock.stock import Stock
from parts.strength.columns import wrinkling
from parts.strength.fatigue.notch import hole_in_plate
from parts.strength.method import Worked, work
from parts.strength.section.figures import annulus, rounded_rectangle
from parts.strength.section.outline import QUARTER, Outline
from parts.strength.section.properties import Section, properties


@dataclass(frozen=True)
class Hollow:
    """A tube by its sides along y and z of the part and its wall [mm]; both its diameter where it is round."""

    wide: Any
    deep: Any
    wall: Any
    round: bool

    @classmethod
    def of(cls, stock: Stock) -> Hollow:
        """That of a size of tube; the side that stands first lies along y."""
        return cls(stock.width_mm, stock.height_mm, stock.wall_mm, stock.shape == "round tube")

    @property
    def second(self) -> Any:
        """The side along z of a rectangular tube; 0 of a round one [mm]."""
        return 0.0 if self.round else self.deep

    @property
    def largest(self) -> Any:
        """The larger side [mm]."""
        return np.maximum(self.wide, self.deep)

    @property
    def half(self) -> Any:
        """From its axis to where it ends farthest out [mm]: half the diameter; of a rectangular tube, its side."""
        return self.largest / 2.0

    @property
    def slack(self) -> Any:
        """Its larger side over its wall [-]."""
        return self.largest / self.wall

    @property
    def outline(self) -> Outline:
        """The whole section."""
        if self.round:
            return annulus(self.wide, self.wide - 2.0 * self.wall)
        t, R = self.wall, CORNER * np.asarray(self.wall, float)
        inside = rounded_rectangle(self.wide - 2.0 * t, self.deep - 2.0 * t, R - t)
        return rounded_rectangle(self.wide, self.deep, R).minus(inside)

    @cached_property
    def section(self) -> Section:
        return properties(self.outline)

    @property
    def moduli(self) -> tuple[Any, Any]:
        """Section moduli about y and about z [mm^3]."""
        return self.section.Iyy / (self.deep / 2.0), self.section.Izz / (self.wide / 2.0)

    @property
    def modulus(self) -> Any:
        """The lesser of both [mm^3]."""
        return np.minimum(*self.moduli)

    def bent(self, moment: Any) -> Any:
        """The moment that bends its weaker way as far as a moment (..., 3) bends its worst fibre [N*mm]."""
        if self.round:
            return np.hypot(moment[..., 1], moment[..., 2])
        about_y, about_z = self.moduli
        return self.modulus * (np.abs(moment[..., 1]) / about_y + np.abs(moment[..., 2]) / about_z)

    def folds(self, metal: Material) -> Worked:
        """Stress at which a compressed wall of it buckles, of a metal as it is where it is bent [MPa]."""
        known = {"E": metal.E, "t": self.wall, "F_cy": metal.yield_strength, "nu": metal.poisson}
        if self.round:
            return work(wrinkling.wall_buckling_stress, r=(self.wide - self.wall) / 2.0, **known)
        return work(wrinkling.flat_wall_buckling_stress, b=self.largest - self.wall, **known)

    def beside_vent(self, hole: Any, at: Any) -> tuple[Any, Any, Callable[[Any], Outline], Notch]:
        """Beside a hole through the wall at +y: where that begins and ends along the tube [mm], its sections at shares
        of the way, and what raises the stress there."""
        if self.round:
            _, (_, low, high, section, _, notch), _ = drilled_stretches(
                ("", "", ""), Outside("round", self.wide), self.wide - 2.0 * self.wall, low=0.0, high=at + hole,
                hole=(hole, at, 0.0), through=False,
            )  # fmt: skip
            return low, high, section, notch(0.0)
        r = hole / 2.0

        def slotted(t: Any) -> Outline:
            off = NEARLY * r * (2.0 * np.asarray(t, float) - 1.0)
            return self._slotted(np.sqrt(np.square(r) - np.square(off)))

        # A hole in a wide plate, felt by the radius of the hole: three in tension, and less in shear by von Mises.
        return at - NEARLY * r, at + NEARLY * r, slotted, Notch(hole_in_plate(0.0), r)

    def _slotted(self, h: Any) -> Outline:
        """A rectangular section without the middle of its wall at +y, to `h` on each side of it [mm]."""
        t, R = self.wall, CORNER * self.wall
        points: list[tuple[Any, Any]] = []
        turns: list[Any] = []
        for inward, r, way in ((0.0, R, 1.0), (t, R - t, -1.0)):
            y, z = self.wide / 2.0 - inward, self.deep / 2.0 - inward
            u, v = y - r, z - r
            there = [
                (y, h),
                (y, v),
                (u, z),
                (-u, z),
                (-y, v),
                (-y, -v),
                (-u, -z),
                (u, -z),
                (y, -v),
                (y, -h),
            ]
            points += [(a, way * b) for a, b in there]
            turns += [0.0, *[way * QUARTER, 0.0] * 4, 0.0]
        return figure(points, turns)

    def place(self, turn: np.ndarray, below: Any = 0.0) -> tuple[Any, Any]:
        """Places round it; see `place_round`."""
        return place_round(self.wide, self.wall, self.second, turn, below)

    def along(self, n: Any) -> tuple[Any, Any]:
        """Its sides along a way that runs square to its axis, and across it [mm]: `n` is (..., 3), along y or z."""
        lies = np.abs(n[..., 1]) > 0.5
        return np.where(lies, self.wide, self.deep), np.where(lies, self.deep, self.wide)
