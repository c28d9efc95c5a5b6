"""Strips of plate between two held ends that buckle sideways: pushed along, bent in their plane, loaded beside them.

The strip is a thin beam whose stiffness may change along it, as at a hole. It bends sideways and twists; its ends do
neither. Deflection and twist are taken at places along it, with differences between them.

Worked example: steel strip 2 x 50 mm, 100 mm long: EI = 6.83e6, GJ = 10.5e6 N*mm². Pushed by 4π² EI/L² = 27.0 kN it
buckles, and bent evenly by 2π √(EI GJ)/L = 532 N*m.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from parts.strength.method import Number, method

STRETCHES = 24
"""Equal stretches of a strip: with them a plain column comes out within 1 % of its closed form."""


def stations() -> NDArray[np.float64]:
    """Where along a strip its stiffness and actions are taken, from 0 at one end to 1 at the other [-]."""
    return np.linspace(0.0, 1.0, STRETCHES + 1)


@method(
    formula="u = greatest root of (1/2)∫(EI w''² + GJ φ'²) u = (1/2)∫(P w'² - 2 M w'' φ) + (1/2) Q e φ(a)²; w, w' and "
    "φ vanish at the ends; by differences over 24 equal stretches",
    source="Timoshenko & Gere, Theory of Elastic Stability, 2nd ed., sections 2.9 and 6.3 (energy of a strip "
    "that bends and twists), from memory; the tests hold it against closed forms and against elements",
)
def strip_use(
    EI: Number, GJ: Number, L: Number, P: Number, M: Number, Qe: Number = 0.0, a: Number = 0.5
) -> Number:
    """Share of its elastic buckling load that a strip bears which is held at both ends.

    Args:
        EI [N*mm^2]: stiffness against bending sideways at the stations (..., 25).
        GJ [N*mm^2]: stiffness against twisting, likewise; the less of two neighbours counts between them.
        L [mm]: length between ends that neither bend nor twist; longer by 1.3 for welded ones (0.65 for 0.5).
        P [N]: push, likewise, the greater counts between two; a pull is negative and steadies the strip.
        M [N*mm]: moment in its plane, likewise, with its sign.
        Qe [N*mm]: push square to the strip, in its plane, times how far beyond the middle line it acts; 0 for a pull.
        a [-]: where along the strip that push acts, 0 to 1.

    Returns:
        [-] share; 1 at first buckling, 0 where nothing can buckle it.

    Example: the strip of the head of this file, pushed.
        >>> even = np.ones(25)
        >>> round(float(strip_use(6.83e6 * even, 10.5e6 * even, 100.0, 2696.0 * even, 0.0 * even)), 2)
        0.1
    """
    n = STRETCHES
    step = np.asarray(L, float)[..., None, None] / n
    whole = np.eye(n + 1)[:, 1:-1]
    slope = np.diff(whole, axis=0)
    # Mirrored at the ends, where it does not turn, and counted there by half.
    curve = np.diff(np.vstack([whole[1], whole, whole[-2]]), 2, axis=0)
    weight = np.where((np.arange(n + 1) % n) == 0, 0.5, 1.0)

    def summed(of: Number, one: Number, other: Number) -> NDArray[np.float64]:
        found: NDArray[np.float64] = np.swapaxes(np.asarray(of)[..., :, None] * one, -1, -2) @ other
        return found

    def between(of: Number, pick: np.ufunc) -> NDArray[np.float64]:
        of = np.asarray(of, float)
        found: NDArray[np.float64] = pick(of[..., 1:], of[..., :-1])
        return found

    bends = summed(weight * EI, curve, curve) / step**3
    twists = summed(between(GJ, np.minimum), slope, slope) / step
    one, other = (np.linalg.inv(np.linalg.cholesky(matrix)) for matrix in (bends, twists))
    there = np.maximum(1.0 - np.abs(np.asarray(a, float)[..., None] * n - np.arange(1, n)), 0.0)
    lifted = np.asarray(Qe, float)[..., None, None] * there[..., :, None] * there[..., None, :]
    pushed = one @ (summed(between(P, np.maximum), slope, slope) / step) @ np.swapaxes(one, -1, -2)
    bent = -one @ (summed(M, curve, whole) / step) @ np.swapaxes(other, -1, -2)
    lifted = other @ lifted @ np.swapaxes(other, -1, -2)
    a_, b, c, d = np.broadcast_arrays(pushed, bent, np.swapaxes(bent, -1, -2), lifted)
    rows = [np.concatenate([a_, b], axis=-1), np.concatenate([c, d], axis=-1)]
    share: Number = np.maximum(np.linalg.eigvalsh(np.concatenate(rows, axis=-2))[..., -1], 0.0)
    return share
