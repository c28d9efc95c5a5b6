"""From a wanted ride to the bar for a linkage: F = i T gives its torque at the sag, c = k i² + T di/dz its rate."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.strength.method import Number, method
from parts.strength.shafts import torsion_bar
from parts.vehicle.rear_end.linkage import Linkage, LinkageError
from parts.vehicle.rear_end.motion import motion
from parts.vehicle.rear_end.suspension import Bar, RearEnd


@dataclass(frozen=True)
class Wanted:
    """What the ride is to be.

    Attributes:
        wheel_rate: at the wheel [N/mm].
        load: on the wheel from the sprung mass with the rider [N].
        sag: travel at rest under that load [mm].
        travel: from full droop to full bump [mm].

    Raises:
        LinkageError: a figure that is not more than nothing, or a sag beyond the travel.
    """

    wheel_rate: float
    load: float
    sag: float
    travel: float

    def __post_init__(self) -> None:
        for name in ("wheel_rate", "load", "sag", "travel"):
            if not getattr(self, name) > 0.0:
                raise LinkageError(
                    f"{name.replace('_', ' ')} is {getattr(self, name):g}; it must be more than nothing"
                )
        if not self.sag < self.travel:
            raise LinkageError(
                f"a sag of {self.sag:g} mm leaves nothing of {self.travel:g} mm of travel; a quarter to a "
                "third of the travel is usual (common practice, no source)"
            )

    @property
    def droop_force(self) -> float:
        """Force at the wheel at full droop, on a constant rate [N]; negative where the bar would hang slack."""
        return self.load - self.wheel_rate * self.sag

    @property
    def bump_force(self) -> float:
        """Force at the wheel at full bump, on a constant rate [N]."""
        return self.load + self.wheel_rate * (self.travel - self.sag)


@method(formula="T = F / i", source="virtual work: F dz = T dθ")
def torque_for_force(F: Number, i: Number) -> Number:
    """Torque of the bar that holds a force at the wheel.

    Args:
        F [N]: force at the wheel.
        i [rad/mm]: motion ratio.

    Returns:
        [N*mm] torque.
    """
    return np.divide(F, i)[()]


def bar_for(linkage: Linkage, wanted: Wanted, diameter: Any, G: Any, bore: Any = 0.0) -> RearEnd:
    """The bar's length and preload that give a linkage exactly the wanted rate and sag under the load.

    From F = i T follows T at the sag; from c = k i² + T di/dz the rate k, and with it length and preload.

    Args:
        linkage: as drawn, its travel that of `wanted`.
        wanted: rate, load, sag and travel; the rate is that at the sag.
        diameter: of the bar [mm], number or array.
        G: shear modulus [MPa].
        bore: of the bar [mm].

    Returns:
        the rear end.

    Raises:
        LinkageError: as for `motion`; travels that differ; or the geometry alone already gives the rate.
    """
    if abs(float(np.max(linkage.travel)) - wanted.travel) > 1e-9:
        raise LinkageError(
            f"the linkage travels {np.max(linkage.travel):g} mm where {wanted.travel:g} mm are wanted"
        )
    there = motion(linkage, wanted.sag)
    torque = torque_for_force(wanted.load, there.ratio)
    k = (wanted.wheel_rate - torque * there.ratio_slope) / np.square(there.ratio)
    if not np.all(k > 0.0):
        raise LinkageError(
            f"the geometry alone gives {np.max(torque * there.ratio_slope):.1f} N/mm at the sag, more than the "
            f"{wanted.wheel_rate:g} N/mm wanted; stand arm and link squarer to each other"
        )
    bar = Bar(diameter, G * torsion_bar.polar_moment(diameter, bore) / k, G, bore)
    return RearEnd(linkage, bar, preload=torque / k - there.bar_turn)
