"""Links that are screwed together and locked: what a preload leaves over, and a link pushed and bent."""

from __future__ import annotations

import numpy as np

from parts.strength.columns.column import GROWN, STABILITY, share_of_buckling
from parts.strength.method import Number, method

STATICS = "strength of materials; Beer & Johnston, Mechanics of Materials, chapter 4"


@method(
    formula="F = max(F_0 − F_j, 0)",
    source="statics of a locked thread; the whole load added to the preload is on the safe side",
)
def left_by_preload(F_0: Number, F_j: Number) -> Number:
    """Load that a thread still bears beside the preload in it.

    Args:
        F_0 [N]: what the thread bears in all.
        F_j [N]: the preload.

    Returns:
        [N] load; nil where the preload takes it all.

    Example:
        >>> float(left_by_preload(18.0e3, 7.0e3))
        11000.0
    """
    return np.maximum(np.subtract(F_0, F_j), 0.0)[()]


@method(formula="σ = P/A + (M_1 + M_2 + M_3)/W", source=STATICS)
def pushed_and_bent_stress(
    P: Number, A: Number, M_1: Number, M_2: Number, W: Number, M_3: Number = 0.0
) -> Number:
    """Largest compressive stress of a bar that is pushed and bent in one plane by up to three causes.

    Args:
        P [N]: compression.
        A [mm^2]: area.
        M_1 [N*mm]: bending moment, as of a side load.
        M_2 [N*mm]: another at the same place, as of the bar's own weight.
        W [mm^3]: elastic section modulus.
        M_3 [N*mm]: a third, as of a push off the axis.

    Returns:
        [MPa] stress.

    Example:
        >>> float(pushed_and_bent_stress(1.0e4, 100.0, 5.0e4, 0.0, 500.0))
        200.0
    """
    return np.divide(P, A) + np.add(np.add(M_1, M_2), M_3) / W


@method(formula="M = M_1 + M_2", source=STATICS)
def moments_together(M_1: Number, M_2: Number) -> Number:
    """Two moments at one place, in the plane where they add.

    Args:
        M_1 [N*mm]: one moment.
        M_2 [N*mm]: the other.

    Returns:
        [N*mm] their sum.
    """
    return np.add(M_1, M_2)[()]


@method(
    formula="M'' + n P M / E I = 0 piece by piece, M and M' in one, M = P e + M_0 at both pins",
    source=STABILITY
    + "sections 1.3 and 1.8 (eccentrically loaded column), 2.14: the equation of the beam-column for the moment, "
    "exact" + GROWN,
    valid="n times the load from 0 to below the elastic buckling load, x within the column",
    holds=lambda EI_1, L_1, EI_2, L_2, EI_3, L_3, P, e, P_E, x, M_0=0.0, n=1.0: (
        np.greater_equal(P, 0.0)
        & np.less(np.multiply(n, P), P_E)
        & np.less_equal(x, np.asarray(L_1, float) + L_2 + L_3)
    ),
)
def off_axis_moment(
    EI_1: Number, L_1: Number, EI_2: Number, L_2: Number, EI_3: Number, L_3: Number,
    P: Number, e: Number, P_E: Number, x: Number, M_0: Number = 0.0, n: Number = 1.0,
) -> Number:  # fmt: skip
    """Moment in a pinned column of three pieces that is pushed off its axis, alike at both ends.

    A moment of both pins beside it, as of their friction, counts as a push farther off the axis.

    Args:
        EI_1 [N*mm^2]: bending stiffness of the first piece.
        L_1 [mm]: its length, from the pin.
        EI_2 [N*mm^2]: bending stiffness of the body.
        L_2 [mm]: its length.
        EI_3 [N*mm^2]: bending stiffness of the last piece.
        L_3 [mm]: its length, to the pin.
        P [N]: compression.
        e [mm]: how far it stands off the axis.
        P_E [N]: elastic buckling load of the three pieces.
        x [mm]: from the first pin to where the moment is asked for.
        M_0 [N*mm]: moment of either pin besides, as of its friction.
        n [-]: how many times the loads are to be borne; the moment grows as under n times the push.

    Returns:
        [N*mm] moment; infinite at and above the buckling load.

    Example: of one section throughout, at a quarter of the buckling load, it has grown by √2 at the middle.
        >>> P_E = np.pi**2 * 1.0e6 / 100.0**2
        >>> M = off_axis_moment(1.0e6, 20.0, 1.0e6, 60.0, 1.0e6, 20.0, P_E / 4.0, 4.0 / P_E, P_E, 50.0)
        >>> round(float(M), 4)
        1.4142
    """
    stiff, long = (EI_1, EI_2, EI_3), (L_1, L_2, L_3)
    share, below = share_of_buckling(P, P_E, n)
    push = np.multiply(share, P_E)
    whole = np.asarray(L_1, float) + L_2 + L_3
    pinned, _ = _bent_from_pin(stiff, long, push, whole)
    even, _ = _bent_from_pin(stiff, long, push, whole, start=(1.0, 0.0))
    slope = (1.0 - even) / np.where(below, pinned, 1.0)
    here, _ = _bent_from_pin(stiff, long, push, x)
    level, _ = _bent_from_pin(stiff, long, push, x, start=(1.0, 0.0))
    return np.where(below, (np.multiply(P, e) + M_0) * (level + slope * here), np.inf)[()]


@method(
    formula="M'' + n P M / E I = 0 piece by piece, M and M' in one, M' falling by F at the middle; "
    "M(x) less F x / 2",
    source=STABILITY
    + "sections 1.3 and 2.14: the equation of the beam-column for the moment, exact"
    + GROWN,
    valid="n times the load from 0 to below the elastic buckling load, x up to the middle",
    holds=lambda EI_1, L_1, EI_2, L_2, EI_3, L_3, F, P, P_E, x, n=1.0: (
        np.greater_equal(P, 0.0)
        & np.less(np.multiply(n, P), P_E)
        & np.less_equal(x, 0.5 * (np.asarray(L_1) + L_2 + L_3))
    ),
)
def added_by_push(
    EI_1: Number, L_1: Number, EI_2: Number, L_2: Number, EI_3: Number, L_3: Number,
    F: Number, P: Number, P_E: Number, x: Number, n: Number = 1.0,
) -> Number:  # fmt: skip
    """Moment that a push adds where a side force at the middle has bent a pinned column of three pieces.

    Args:
        EI_1 [N*mm^2]: bending stiffness of the first piece.
        L_1 [mm]: its length, from the pin.
        EI_2 [N*mm^2]: bending stiffness of the body.
        L_2 [mm]: its length.
        EI_3 [N*mm^2]: bending stiffness of the last piece.
        L_3 [mm]: its length, to the pin.
        F [N]: side force at mid-length.
        P [N]: compression.
        P_E [N]: elastic buckling load of the three pieces.
        x [mm]: from the first pin to where the moment is asked for, at most to the middle.
        n [-]: how many times the loads are to be borne; the moment grows as under n times the push.

    Returns:
        [N*mm] moment beside that of F alone; infinite at and above the buckling load.
    """
    stiff, long = (EI_1, EI_2, EI_3), (L_1, L_2, L_3)
    share, below = share_of_buckling(P, P_E, n)
    push = np.multiply(share, P_E)
    middle = 0.5 * (np.asarray(L_1, float) + L_2 + L_3)
    left, left_slope = _bent_from_pin(stiff, long, push, middle)
    right, right_slope = _bent_from_pin(stiff[::-1], long[::-1], push, middle)
    start = F * right / (left_slope * right + right_slope * left)
    here, _ = _bent_from_pin(stiff, long, push, x)
    return np.where(below, start * here - 0.5 * np.multiply(F, x), np.inf)[()]


def _bent_from_pin(
    stiff: tuple[Number, ...], long: tuple[Number, ...], P: Number, x: Number,
    start: tuple[float, float] = (0.0, 1.0),
) -> tuple[Number, Number]:  # fmt: skip
    """Moment and its slope at x from a pin where they are as `start` says [N*mm, N*mm/mm]."""
    moment, slope = np.asarray(start[0]), np.asarray(start[1])
    from_pin: Number = 0.0
    for EI, L in zip(stiff, long, strict=True):
        run = np.clip(np.subtract(x, from_pin), 0.0, L)
        k = np.sqrt(np.divide(P, EI))
        moment, slope = (
            moment * np.cos(k * run) + slope * run * np.sinc(k * run / np.pi),
            slope * np.cos(k * run) - moment * k * np.sin(k * run),
        )
        from_pin = np.add(from_pin, L)
    return moment, slope
