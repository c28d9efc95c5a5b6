"""A hub that turns on its pivot and carries arms: its ring gives between bore and arms, and bends.

A flat as wide as the hub holds an arm's root more stiffly than a thin ring does, whether the arm is bent or pulled. The
two walls beside the bore are no straight beam. The three bounds here come from finite elements of levers drawn at
random (`tests/studies/thin_hub.py`, seeded; plane stress, held against solids there). No case lies above them. They lie
above the peak of the elements by up to 2.2 times at the root, where that matters, 2.7 times in the ring and 3 times
under a pull; in the middle by 1.4, 1.6 and 1.3 times. Arms wider than 0.8 of the hub came out up to twice as high as
the rest, and are counted so.

The study pressed the far end of an arm two diameters long. The moment about the pivot bends the ring; the root is
judged by the moment at the hub's rim. So the factor of a shorter arm grows by 0.75 L/(L - D/2). Levers of 1, 1.4 and 4
diameters were held against that too.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.validity import Truth, within

STUDY = "own finite-element study, tests/studies/thin_hub.py"
THINNEST, WIDEST, USUAL = 0.08, 0.90, 0.80
"""Ends of the study in diameters of the hub: least wall, greatest width of an arm; beyond which width it came out
higher."""
NARROWEST, THICKEST, HIGHEST = 0.30, 0.35, 3.0
"""Least arm and greatest wall in diameters, and greatest hub in thicknesses of the arm, that are counted."""
WIDER = 2.2
"""How much more an arm beyond the usual width raises its root [-]."""
VALID = "h/D from 0.08, w/D to 0.9, else nan; h/D over 0.35, w/D under 0.3 and b/t over 3 count as these"


def _studied(h: Number, w: Number, D: Number) -> Truth:
    slack = 1.0 + 1e-9
    inside = np.greater_equal(np.multiply(h, slack), THINNEST * np.asarray(D, float))
    return np.asarray(inside & np.less_equal(w, WIDEST * slack * np.asarray(D, float)))


def _root_holds(h: Number, w: Number, t: Number, b: Number, L: Number, D: Number) -> Truth:
    return _studied(h, w, D)


def _pull_holds(h: Number, w: Number, t: Number, b: Number, D: Number) -> Truth:
    return _studied(h, w, D)


def _ring_holds(stress: Number, h: Number, w: Number, D: Number) -> Truth:
    return _studied(h, w, D)


@method(
    formula="k = max(1, 0.51 (h/D)^-1.268 (w/D)^0.993 (b/t)^-0.502 0.75 L/(L - D/2)); 2.2 times that where w > 0.8 D",
    source=STUDY,
    valid=VALID,
    holds=_root_holds,
)
def root_factor(h: Number, w: Number, t: Number, b: Number, L: Number, D: Number) -> Number:
    """How much more a hub that gives raises the peak at an arm's root fillets than a flat as wide as the hub.

    Args:
        h [mm]: wall of the hub beside its bore; of walls that differ along the bore the cube root of the mean cube.
        w [mm]: width of the arm at the hub's rim.
        t [mm]: thickness of the arm there.
        b [mm]: width of the hub along its pivot.
        L [mm]: from the pivot to where the arm's load acts.
        D [mm]: outside diameter of the hub.

    Returns:
        [-] factor on the fillet's own K_t.
    """
    wall = np.clip(np.divide(h, D), THINNEST, THICKEST)
    arm = np.maximum(np.divide(w, D), NARROWEST)
    high = np.clip(np.divide(b, t), 1.0, HIGHEST)
    short = 0.75 * np.asarray(L, float) / (np.asarray(L, float) - np.asarray(D, float) / 2.0)
    found = 0.51 * wall**-1.268 * arm**0.993 * high**-0.502 * short
    found = np.where(np.greater(arm, USUAL * (1.0 + 1e-9)), WIDER, 1.0) * found
    return within(_root_holds(h, w, t, b, L, D), np.maximum(found, 1.0))


@method(
    formula="k = max(1, 0.26 (h/D)^-1.69 (w/D)^0.21 (b/t)^-0.5)",
    source=STUDY,
    valid=VALID,
    holds=_pull_holds,
)
def pull_factor(h: Number, w: Number, t: Number, b: Number, D: Number) -> Number:
    """How much more a hub that gives raises the peak of a pull along an arm at its root than a flat as wide as the hub.

    Args:
        h [mm]: wall of the hub beside its bore, as of `root_factor`.
        w [mm]: width of the arm at the hub's rim.
        t [mm]: thickness of the arm there.
        b [mm]: width of the hub along its pivot.
        D [mm]: outside diameter of the hub.

    Returns:
        [-] factor on the fillet's own K_t.
    """
    wall = np.clip(np.divide(h, D), THINNEST, THICKEST)
    arm = np.maximum(np.divide(w, D), NARROWEST)
    high = np.clip(np.divide(b, t), 1.0, HIGHEST)
    found = 0.26 * wall**-1.69 * arm**0.21 * high**-0.5
    return within(_pull_holds(h, w, t, b, D), np.maximum(found, 1.0))


@method(
    formula="σ = σ_w max(1, 0.94 (h/D)^-1.104 (w/D)^-0.396)",
    source=STUDY,
    valid=VALID,
    holds=_ring_holds,
)
def ring_stress(stress: Number, h: Number, w: Number, D: Number) -> Number:
    """The greatest stress on the bore of a hub whose arms bend it between them.

    Args:
        stress [MPa]: of the two walls beside the bore as one straight section.
        h [mm]: wall of the hub beside its bore, as of `root_factor`.
        w [mm]: width of the narrowest arm at the hub's rim.
        D [mm]: outside diameter of the hub.

    Returns:
        [MPa] stress.
    """
    wall = np.clip(np.divide(h, D), THINNEST, THICKEST)
    arm = np.clip(np.divide(w, D), NARROWEST, USUAL)
    factor = np.maximum(0.94 * wall**-1.104 * arm**-0.396, 1.0)
    return within(_ring_holds(stress, h, w, D), factor * np.asarray(stress, float))
