"""Split clamps: a hub slit on one side and pinched on a plain bar by bolts beside the slit.

Worked example: one bolt of 10 kN, 18 mm from the bar's centre, hinge 16 mm on the other side; bar of 22 mm,
friction 0.12: N = 10 000 (16 + 18)/16 = 21 250 N, T = 0.12 x 21 250 x 22 = 56 100 N*mm.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.validity import Truth

STATICS = "statics; the clamp as two stiff halves on a hinge, common practice, no source"


def _lever(a: Number, **_: Number) -> Truth:
    return np.asarray(np.asarray(a) > 0.0)


@method(
    formula="N = F (a + e)/a",
    source=STATICS,
    valid="hinge beside the bore, a > 0; the force that closes the slit is not taken off",
    holds=lambda F, a, e: _lever(a),
)
def pinch_force(F: Number, a: Number, e: Number) -> Number:
    """Force with which each half of a split hub presses on the bar.

    Args:
        F [N]: force of all pinch bolts together.
        a [mm]: centre of the bar to the middle of the wall that acts as hinge.
        e [mm]: centre of the bar to the pinch bolts, on the other side.

    Returns:
        [N] force of one half on the bar.
    """
    return F * (1.0 + np.divide(e, a))


@method(
    formula="N = V + 6 M/w",
    source="statics; pressure that varies evenly along the hub keeps pressing at its ends up to M = N w/6",
)
def lifting_force(V: Number, M: Number, w: Number) -> Number:
    """Force that lifts a half of a clamp off a bar that pulls at it sideways.

    Args:
        V [N]: what pulls the bar across, from the half that it leaves.
        M [N*mm]: couple that rocks the bar in the clamp.
        w [mm]: width of the clamp along the bar.

    Returns:
        [N] force on one half: what the bolts must press it by for it to stay on the bar, and no more than they feel.
    """
    return np.add(V, 6.0 * np.divide(M, w))


@method(
    formula="N = √(T² + (A D/2)²)/(μ D) + L",
    source=STATICS
    + "; the friction of turning and of sliding along the bar added as vectors at its rim",
)
def grip_needed(T: Number, A: Number, D: Number, mu: Number, L: Number) -> Number:
    """Force by which each half of a clamp must press on a bar that turns, slides along and lifts off in it.

    All loads together, so that the factor against slip is one on all of them.

    Args:
        T [N*mm]: torque about the bar.
        A [N]: pull along it.
        D [mm]: its diameter.
        mu [-]: friction between bar and hub.
        L [N]: what lifts a half off, from `lifting_force`.

    Returns:
        [N] force of one half on the bar.
    """
    return np.hypot(T, np.multiply(A, D) / 2.0) / np.multiply(mu, D) + L


@method(
    formula="T = μ N D",
    source=STATICS
    + "; the halves taken to press on two opposite lines, the least that they can hold",
)
def clamp_torque(N: Number, D: Number, mu: Number) -> Number:
    """Torque at which a bar slips in a split clamp.

    Args:
        N [N]: force of one half on the bar.
        D [mm]: diameter of the bar.
        mu [-]: friction between bar and hub.

    Returns:
        [N*mm] torque; pressed evenly all round it would be pi/2 times as much.
    """
    return mu * np.multiply(N, D)


@method(
    formula="σ = F e/(a h L)",
    source=STATICS,
    valid="hinge beside the bore, a > 0",
    holds=lambda F, e, a, h, L: _lever(a),
)
def hinge_tension(F: Number, e: Number, a: Number, h: Number, L: Number) -> Number:
    """Mean tension in the wall that acts as hinge: it holds what the bar pushes and the bolts do not.

    Args:
        F [N]: force of all pinch bolts together.
        e [mm]: centre of the bar to the pinch bolts.
        a [mm]: centre of the bar to the middle of the hinge, on the other side.
        h [mm]: thickness of the hinge.
        L [mm]: width of the hub.

    Returns:
        [MPa] tension.
    """
    return F * np.divide(e, a) / np.multiply(h, L)
