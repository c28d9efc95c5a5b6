"""Ball friction: a rod end or spherical bearing that swings under load bends what holds it.

The ball rubs in its race, and the moment of the friction goes into the shank. It turns its sign with each
swing, so all of it is alternating stress, though the load may be steady. No rating of a rod end covers it.

Worked example: 8 kN on a ball of 19 mm, μ = 0.2: M = 0.2·8000·19/2 = 15 200 N*mm; at a thread root of
8.16 mm that is ±285 MPa.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.pinned import pin
from parts.strength.tables import row
from parts.strength.validity import within

RUBBING = "statics; M = μ F d/2 as printed in catalogues of spherical plain bearings and rod ends"


@method(
    formula="M = μ F d / 2",
    source=RUBBING,
    valid="μ not negative",
    holds=lambda F, d, mu: np.asarray(mu) >= 0.0,
)
def friction_moment(F: Number, d: Number, mu: Number) -> Number:
    """Moment with which a ball under load resists its swing.

    For rod ends on links, turnbuckles and struts, and for spherical bearings in arms, wherever the ball
    swings while it carries. It acts about the axis of the swing: where the swing is in the shank's plane, all
    of it bends the shank.

    Args:
        F [N]: largest force on the ball while it swings.
        d [mm]: diameter of the ball.
        mu [-]: friction of ball and race, from `race_friction`.

    Returns:
        [N*mm] moment, both ways in turn.

    Example: that of the head of this file.
        >>> round(float(friction_moment(8000.0, 19.0, 0.2)))
        15200
    """
    return within(np.asarray(mu) >= 0.0, np.abs(F) * np.asarray(mu) * d / 2.0)


@method(
    formula="σ_a = 32 M d3 / (π (d3⁴ − h⁴))",
    source="beam theory; nominal stress at the thread root, without notch factor",
    valid="hole smaller than the thread root",
    holds=lambda M, d3, h=0.0: np.less(h, d3),
)
def shank_amplitude(M: Number, d3: Number, h: Number = 0.0) -> Number:
    """Alternating bending stress at the root of a rod end's shank, where the jam nut or housing holds it.

    The moment is the same all along the shank: no length makes it smaller. Add it to the amplitude of the
    load itself; a notch factor of the thread (`boltfatigue.thread_fatigue_factor`) goes on the sum.

    Args:
        M [N*mm]: moment of the ball's friction.
        d3 [mm]: root diameter of the thread.
        h [mm]: hole drilled along the shank.

    Returns:
        [MPa] amplitude, mean nil.

    Example:
        >>> round(float(shank_amplitude(15200.0, 8.16)))
        285
    """
    return within(np.less(h, d3), np.asarray(pin.bending_stress(M, d3, h)))


@method(
    formula="σ_a = 32 M D / (π (D⁴ − d⁴))",
    source="beam theory; nominal stress, without notch factor",
    valid="thread smaller than what is round it",
    holds=lambda M, D, d: np.less(d, D),
)
def housing_amplitude(M: Number, D: Number, d: Number) -> Number:
    """Alternating bending stress in the tube, bung or body that a rod end is screwed into.

    At its mouth the housing carries all of the moment through the ring round the thread.

    Args:
        M [N*mm]: moment of the ball's friction.
        D [mm]: outside of the housing at its mouth; its flats across.
        d [mm]: major diameter of the thread.

    Returns:
        [MPa] amplitude, mean nil.

    Example: an 18 mm bung on M10.
        >>> round(float(housing_amplitude(15200.0, 18.0, 10.0)), 1)
        29.3
    """
    return within(np.less(d, D), np.asarray(pin.bending_stress(M, D, d)))


def race_friction(pair: str) -> float:
    """Friction of a ball in its race, the greatest that is printed for the pair.

    Args:
        pair [-]: as the table `ball_friction` names it.

    Returns:
        [-] coefficient of friction.

    Raises:
        KeyError: no such pair; the message lists those there are.
    """
    return float(row("ball_friction", "pair", pair)["mu_high"])
