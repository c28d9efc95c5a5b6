"""Clocking a splined bar: two ends with differing numbers of teeth as a vernier.

The bar is moved round by p teeth at the anchor and by q at the arm. The arm then stands at ψ = 2π (p/N_1 + q/N_2)
from where it was. Only whole multiples of 2π / lcm(N_1, N_2) can be had: equal ends give steps of one tooth, 47 and
48 teeth steps of 0.16 degrees.
A spline with a blind or missing tooth goes in one position only and gives no vernier.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from parts.strength.method import Number, method


class ClockingError(ValueError):
    """Splines that cannot be clocked as asked."""


class Setting(NamedTuple):
    """One way to put the bar in.

    Attributes:
        anchor: teeth to move the bar round in its anchor, right-handed about the bar's direction [-].
        arm: teeth to move the arm round on the bar, the same way [-].
        angle: of the arm from where it was [rad].
        error: that angle less the wanted one [rad].
    """

    anchor: int
    arm: int
    angle: float
    error: float


@method(
    formula="δ = 2π / lcm(N_1, N_2)",
    source="number theory: the p/N_1 + q/N_2 are the multiples of 1/lcm (Bézout)",
)
def finest_step(N_1: Number, N_2: Number) -> Number:
    """Smallest angle by which the arm can be clocked.

    Args:
        N_1 [-]: teeth at the anchor.
        N_2 [-]: teeth at the arm.

    Returns:
        [rad] the step.
    """
    return np.asarray(2.0 * np.pi / np.lcm(np.asarray(N_1, int), np.asarray(N_2, int)))[()]


@method(formula="ψ = 2π (p/N_1 + q/N_2)", source="geometry")
def clocked_angle(p: Number, q: Number, N_1: Number, N_2: Number) -> Number:
    """Angle of the arm after moving both splines.

    Args:
        p [-]: teeth moved at the anchor.
        q [-]: teeth moved at the arm, the same way round positive.
        N_1 [-]: teeth at the anchor.
        N_2 [-]: teeth at the arm.

    Returns:
        [rad] angle from where the arm was.
    """
    return np.asarray(2.0 * np.pi * (np.divide(p, N_1) + np.divide(q, N_2)))[()]


def nearest_settings(
    wanted: float, anchor_teeth: int, arm_teeth: int, count: int = 5
) -> tuple[Setting, ...]:
    """The ways to clock the bar that come nearest to a wanted angle.

    An angle that can be had in several ways is listed once, in the way that moves the fewest teeth.

    Args:
        wanted: angle of the arm from where it is [rad], right-handed about the bar's direction.
        anchor_teeth: of the spline at the anchor [-].
        arm_teeth: of the spline at the arm [-].
        count: how many [-].

    Returns:
        settings, the nearest first; of two equally near, the one with fewer teeth moved.

    Raises:
        ClockingError: a number of teeth or the angle makes no sense.
    """
    for name, teeth in (("anchor", anchor_teeth), ("arm", arm_teeth)):
        if teeth != int(teeth) or teeth < 1:
            raise ClockingError(
                f"{teeth} teeth at the {name}: it must be a whole number, at least 1"
            )
    if not np.isfinite(wanted):
        raise ClockingError(
            f"the wanted angle is {wanted:g}; it must be a finite number of radians"
        )
    if count < 1:
        raise ClockingError(f"{count} settings are asked for; it must be at least 1")
    # One turn of both ends, halved to either side, holds every angle in its shortest way.
    p, q = np.meshgrid(_around(int(anchor_teeth)), _around(int(arm_teeth)), indexing="ij")
    angle = clocked_angle(p, q, anchor_teeth, arm_teeth)
    angle = angle + 2.0 * np.pi * np.round((wanted - angle) / (2.0 * np.pi))
    step = float(finest_step(anchor_teeth, arm_teeth))
    place = np.round(angle / step).astype(int)
    moved = np.abs(p) + np.abs(q)
    far = np.abs(place * step - wanted)
    order = np.lexsort(
        (np.abs(p).ravel(), moved.ravel(), place.ravel(), np.round(far / step, 6).ravel())
    )
    found: dict[int, Setting] = {}
    for i in order:
        key = int(place.flat[i])
        # One more than asked: of two equally near on either side, the handier is to stay.
        if key not in found and len(found) <= count:
            at = float(key * step)
            found[key] = Setting(int(p.flat[i]), int(q.flat[i]), at, at - wanted)
    ranked = sorted(
        found.values(), key=lambda s: (round(abs(s.error) / step, 6), abs(s.anchor) + abs(s.arm))
    )
    return tuple(ranked[:count])


def _around(teeth: int) -> np.ndarray:
    """Every move of a spline, half a turn to either side at most."""
    return np.arange(-(teeth // 2), teeth - teeth // 2)
