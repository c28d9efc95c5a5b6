"""Ears under a push as columns that sway: clamped at the floor, and free to move along the pin at the other end.

Worked example: an ear 5 x 25 mm, 40 mm from floor to pin, of 2024-T3 (E = 72 400 MPa, F_cy = 270 MPa), under a link of
200 mm: tan u = u (1 + 200/40), u = 1.457, K = π/u = 2.156; I = 260 mm⁴, P_E = π² E I/(K L)² = 25.0 kN; squash 33.8 kN;
Johnson: 33.8·(1 - 33.8/(4·25.0)) = 22.4 kN.
"""

from __future__ import annotations

import numpy as np

from parts.strength.columns.column import johnson_euler_load
from parts.strength.method import Number, method

FLOOR = 2.1 / 2.0
"""How much longer a cantilever column is taken because its foot gives: 2.1 is recommended where theory says 2."""
CLAMPED_PIN = 1.2
"""Effective length over length where a tight bolt holds both ears square to itself while they sway together."""
STEPS = 60
"""The most steps of Newton's rule: some 5 for a long link, some 40 for one of a millionth of the ear."""
SMALL = 1e-14
"""A step that is smaller than this share of the root moves it no more [-]."""


@method(
    formula="K = 1.05 π/u, tan u = u (1 + c/L), 0 < u < π/2; 2.1 for a long link",
    source="cantilever column pushed through a fixed point beyond its end: Timoshenko & Gere, Theory of Elastic "
    "Stability, 2nd ed., chapter 2, from equilibrium; 2.1 for 2: AISC 360-16, commentary table C-A-7.1",
)
def sway_length_factor(L: Number, c: Number) -> Number:
    """Effective length over length of an ear pushed by a link that pivots at both ends.

    When the ears sway, the link leans and pushes them further. For clevises, forks and link ends whose pin is not
    clamped across both ears; where a tight bolt clamps them take `CLAMPED_PIN`.

    Args:
        L [mm]: floor of the throat to the pin.
        c [mm]: pin to the far pivot of what pushes; infinite where the push keeps its direction.

    Returns:
        [-] K.
    """
    reach = np.minimum(np.add(1.0, np.divide(c, L)), 1e12)
    u = np.full_like(reach, 0.5 * np.pi)
    for _ in range(STEPS):
        # u - atan(u (1 + c/L)) is convex beyond its root: Newton's steps fall toward it, never past it.
        slope = 1.0 - reach / (1.0 + np.square(reach * u))
        step = (u - np.arctan(reach * u)) / slope
        u = u - step
        if np.all(np.abs(step) <= SMALL * u):
            break
    factor: Number = (FLOOR * np.pi / u)[()]
    return factor


@method(
    formula="P = n P_J(E, A = t w, I = w t³/12, K L, F_cy)",
    source="Johnson's parabola and Euler's curve: see johnson_euler_load",
)
def ear_push_load(
    E: Number, t: Number, w: Number, L: Number, K: Number, F_cy: Number, n: Number = 2.0
) -> Number:
    """Push on the pin at which the ears buckle sideways, in their thin direction.

    For clevises, forks, peg forks, link ends and tabs (n = 1). An ear with an uneven share of the push is worked alone,
    with n = 1 and its share.

    Args:
        E [MPa]: Young's modulus.
        t [mm]: thickness of one ear.
        w [mm]: width of one ear, where it is least between floor and pin.
        L [mm]: floor of the throat to the pin.
        K [-]: effective length over length, from `sway_length_factor`, or `CLAMPED_PIN`.
        F_cy [MPa]: compressive yield strength; beside a weld that of the softened metal.
        n [-]: ears that share the push evenly.

    Returns:
        [N] push.
    """
    A, I_min = np.multiply(t, w), np.multiply(w, np.power(t, 3.0)) / 12.0
    load: Number = n * np.asarray(johnson_euler_load(E, A, I_min, np.multiply(K, L), F_cy))
    return load


@method(
    formula="u = Σ (P a/EI) ds, what pulls a stretch straight left out",
    source="Southwell's and Papkovich's theorem: a frame bears at least what follows when each spring gives alone and "
    "the inverse loads are added; Timoshenko & Gere, Theory of Elastic Stability, 2nd ed., chapter 2; from memory",
)
def leaning_use(u: Number) -> Number:
    """Share of its elastic buckling load that a bent strip bears, held at one end and pushed at the other.

    Of a straight cantilever u is P L²/2 EI: buckling at 2.0 EI/L², where Euler has 2.47. For legs of sheet.

    Args:
        u [-]: sum over the stretches ds of the push P times how far it acts beyond them along itself, over EI.

    Returns:
        [-] share; 1 at first buckling.
    """
    return np.maximum(u, 0.0)[()]
