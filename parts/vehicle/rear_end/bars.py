"""From a wanted ride to a bar and an arm: proposals from stock sizes, and the exact bar for a linkage.

A first proposal takes the linkage at a fixed lever ratio e, millimetres of link for each millimetre of
wheel, so that an arm of length R turns the bar by i = e/R for each millimetre. A wheel rate c then needs
the bar's rate k = c/i² and the length L = G J/k, and the load W at the wanted sag fixes the preload.
`bar_for` does the same without that approximation, for a linkage that stands.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

from parts.standards.stock.stock import Stock, listed
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


@method(
    formula="L = π G (d⁴ - d_i⁴) i² / (32 c)",
    source="k = G J/L and c = k i²",
    valid="motion ratio taken as constant",
    holds=lambda d, i, c, G, d_i=0.0: np.asarray(c) > 0.0,
)
def length_for_rate(d: Number, i: Number, c: Number, G: Number, d_i: Number = 0.0) -> Number:
    """Length of bar that gives a wheel rate.

    Args:
        d [mm]: diameter of the bar.
        i [rad/mm]: motion ratio.
        c [N/mm]: wheel rate.
        G [MPa]: shear modulus.
        d_i [mm]: bore of the bar.

    Returns:
        [mm] active length.
    """
    return (G * torsion_bar.polar_moment(d, d_i) * np.square(i) / c)[()]


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


class Proposal(NamedTuple):
    """A bar and an arm for a wanted ride.

    Attributes:
        stock: the bar as it is bought.
        diameter: of the bar [mm].
        length: active [mm].
        arm_length: square to the bar, centre to centre [mm].
        wheel_rate: that this length gives [N/mm].
        preload: twist at full droop [rad].
        bump_twist: twist at full bump [rad].
        bump_torque: torque at full bump [N*mm].
        bump_shear: shear stress at full bump [MPa].
        allowable: shear stress allowed [MPa].
        link_force: at full bump, link square to the arm [N].
        mass: of the active length [kg].
    """

    stock: Stock
    diameter: float
    length: float
    arm_length: float
    wheel_rate: float
    preload: float
    bump_twist: float
    bump_torque: float
    bump_shear: float
    allowable: float
    link_force: float
    mass: float


def proposals(
    wanted: Wanted,
    arm_lengths: Any,
    lever_ratio: float,
    *,
    G: float,
    allowable: float,
    density: float,
    metal: str = "",
    diameters: Sequence[Stock] | None = None,
    shortest: float = 200.0,
    longest: float = 600.0,
    step: float = 5.0,
) -> tuple[Proposal, ...]:
    """Bars from stock and arms that give a wanted ride within an allowable stress, the lightest first.

    Args:
        wanted: rate, load, sag and travel.
        arm_lengths: arms to consider [mm].
        lever_ratio: millimetres of link for each millimetre of wheel [-]; the pick-up's lever over the
            swing arm's, usually.
        G: shear modulus of the bar [MPa].
        allowable: shear stress that may be reached at full bump [MPa].
        density: of the bar [kg/mm^3].
        metal: family of material to look for in the stock lists; empty for any.
        diameters: round bars to choose from, in place of the stock lists.
        shortest, longest: active length that has room [mm].
        step: to which the length is rounded [mm].

    Returns:
        every combination that holds, by mass, then by stress.

    Raises:
        LinkageError: none holds; the message says which limit each comes nearest to keeping.
    """
    if not lever_ratio > 0.0:
        raise LinkageError(
            f"a lever ratio of {lever_ratio:g}: it must be more than nothing, about 0.1 to 0.3"
        )
    if wanted.droop_force < 0.0:
        raise LinkageError(
            f"{wanted.wheel_rate:g} N/mm over {wanted.sag:g} mm of sag is more than the load of "
            f"{wanted.load:.0f} N: the bar would hang slack at full droop; less rate or less sag"
        )
    bars = tuple(listed("round bar", metal) if diameters is None else diameters)
    arms = np.atleast_1d(np.asarray(arm_lengths, float))
    d = np.array([bar.width_mm for bar in bars])[:, None]
    i = lever_ratio / arms
    length = step * np.maximum(np.round(length_for_rate(d, i, wanted.wheel_rate, G) / step), 1.0)
    k = np.asarray(torsion_bar.torsional_rate(d, length, G))
    rate = k * np.square(i)
    torque = np.asarray(torque_for_force(wanted.load + rate * (wanted.travel - wanted.sag), i))
    shear = np.asarray(torsion_bar.shear_stress(torque, d))
    fits = (length >= shortest) & (length <= longest)
    holds = fits & (shear <= allowable) & (wanted.load >= rate * wanted.sag)
    if not np.any(holds):
        raise LinkageError(
            _none_holds(bars, arms, length, shear, fits, allowable, shortest, longest)
        )
    found = []
    for b, a in np.argwhere(holds):
        droop = wanted.load - float(rate[b, a]) * wanted.sag
        found.append(
            Proposal(
                stock=bars[b],
                diameter=float(d[b, 0]),
                length=float(length[b, a]),
                arm_length=float(arms[a]),
                wheel_rate=float(rate[b, a]),
                preload=float(torque_for_force(droop, i[a]) / k[b, a]),
                bump_twist=float(torque[b, a] / k[b, a]),
                bump_torque=float(torque[b, a]),
                bump_shear=float(shear[b, a]),
                allowable=allowable,
                link_force=float(torque[b, a]) / float(arms[a]),
                mass=float(Bar(d[b, 0], length[b, a], G).mass(density)),
            )
        )
    return tuple(sorted(found, key=lambda p: (p.mass, p.bump_shear, p.diameter, p.arm_length)))


def _none_holds(
    bars: Sequence[Stock],
    arms: np.ndarray,
    length: np.ndarray,
    shear: np.ndarray,
    fits: np.ndarray,
    allowable: float,
    shortest: float,
    longest: float,
) -> str:
    """Why no bar will do, with the combination that comes nearest."""
    if np.any(fits):
        b, a = map(int, np.unravel_index(np.argmin(np.where(fits, shear, np.inf)), shear.shape))
        return (
            f"no bar between {shortest:g} and {longest:g} mm long stays within {allowable:.0f} MPa; nearest is "
            f"{bars[b].name}, {length[b, a]:.0f} mm, with an arm of {arms[a]:.0f} mm: {shear[b, a]:.0f} MPa. "
            "A longer bar, a shorter arm or a stronger steel would do"
        )
    off = np.maximum(shortest - length, length - longest)
    b, a = map(int, np.unravel_index(np.argmin(off), off.shape))
    return (
        f"no stock size gives that rate between {shortest:g} and {longest:g} mm of length; nearest is "
        f"{bars[b].name} with an arm of {arms[a]:.0f} mm: {length[b, a]:.0f} mm. Another arm length, "
        "lever ratio or room for the bar would do"
    )


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
