"""Loads by common practice, for who has no measured ones: a rider's weight times a factor, a foot on a lever.

A factor is a choice, not a measurement: none of them has a source, and each case that stands on one says so. For
comparison: ISO 4210-8 proves a bicycle's pedal with 1500 N straight down (static strength test).
"""

from __future__ import annotations

from typing import Annotated, Any, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.group import Group
from parts.inputs.quantities import Direction, PositiveForce, PositiveMass
from parts.inputs.units import GRAVITY
from parts.strength.method import Number, method

G_0 = float(GRAVITY)
"""Standard acceleration of free fall [m/s^2]; ISO 80000-3."""
COMMON = "common practice, no source"


@method(formula="F = n m g, g = 9.80665 m/s²", source="a factor on weight; " + COMMON)
def weight_times(n: Number, m: Number) -> Number:
    """Force of a body that lands, kicks or stamps, as a multiple of its weight.

    Args:
        n [-]: factor on the weight.
        m [kg]: mass of the body.

    Returns:
        [N] force.
    """
    return np.multiply(n, m) * G_0


@method(formula="F = n i F_0", source="the law of the lever; the factor: " + COMMON)
def lever_times(F_0: Number, i: Number, n: Number = 1.0) -> Number:
    """Force at the short end of a lever.

    Args:
        F_0 [N]: force at its long end.
        i [-]: long arm over short arm.
        n [-]: factor for shock.

    Returns:
        [N] force.
    """
    return np.multiply(n, i) * F_0


class Practised(Group):
    """What every load by common practice has."""

    at: str = Field(description="Load point of the part, as `oneoff list` names them.")
    along: Direction = Field(
        description="Direction along the part's x, y, z, as in [0, -1, 0] or {y: -1}; its length does not matter."
    )

    @model_validator(mode="after")
    def _points_somewhere(self) -> Practised:
        if not any(self.along):
            raise ValueError(
                "`along` is 0, 0, 0: it points nowhere; state a direction, as in [0, -1, 0]"
            )
        return self

    @property
    def size(self) -> float:
        """Force [N]."""
        raise NotImplementedError

    @property
    def said(self) -> str:
        """What the load stands on, in words."""
        raise NotImplementedError

    @property
    def force(self) -> tuple[float, float, float]:
        """Force along the part's x, y, z [N]."""
        way: Any = np.asarray(self.along, float)
        x, y, z = self.size * way / np.linalg.norm(way)
        return float(x), float(y), float(z)


class TimesWeight(Practised):
    """A body's weight times a factor: a rider who stands, sits, lands or stamps."""

    type: Literal["weight"] = Field("weight", description="A body's weight times a factor.")
    mass: PositiveMass = Field(description="Mass of the body, as of the rider.")
    factor: float = Field(
        3.0,
        gt=0.0,
        le=20.0,
        description="Times the weight; 3 for a landing is common practice, no source.",
    )

    @property
    def size(self) -> float:
        return float(weight_times(self.factor, self.mass))

    @property
    def said(self) -> str:
        return f"{self.factor:g} times the weight of {self.mass:g} kg at {self.at}"


class OnLever(Practised):
    """A foot or a hand on a lever."""

    type: Literal["lever"] = Field("lever", description="A foot or a hand on a lever.")
    force_on_lever: PositiveForce = Field(description="Force at the lever's long end.")
    ratio: float = Field(1.0, gt=0.0, le=50.0, description="Long arm over short arm of the lever.")
    factor: float = Field(1.0, gt=0.0, le=20.0, description="Factor for shock.")

    @property
    def size(self) -> float:
        return float(lever_times(self.force_on_lever, self.ratio, self.factor))

    @property
    def said(self) -> str:
        return f"{self.force_on_lever:g} N on a lever of {self.ratio:g} to 1, times {self.factor:g}, at {self.at}"


Practice = Annotated[TimesWeight | OnLever, Field(discriminator="type")]
