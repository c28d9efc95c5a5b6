"""The floor of a fork on a round shank: the ears bend the floor about the shank, and its root feels it.

Two ears pull beside the shank, so the floor bends over the shank's edge and the root fillet or undercut there bears
more than K_t times the nominal stress of the shank. The bound was fitted to finite elements of forks drawn at random
(`tests/studies/floor_of_fork.py`, seeded): no case lies above it, and it lies at most 1.35 times above a case under a
pull, 1.11 times in the middle of them. Finer meshes give 2 % more.

Worked example: an undercut d = 10, r = 1 mm behind a floor of 6 mm, ears 20 mm wide with middles 20 mm apart, in a
pull: m = 1.12 + 0.48·(2 - 0.6)^1.2·(10/6)^2.2·(1/2)·(10)^(1/3) = 3.50. A floor 12 mm thick: 1.64.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.tables import row
from parts.strength.validity import Truth, within

THICKEST, WIDEST, BLUNTEST, NEAREST = 2.0, 3.0, 0.3, 1.0
"""Ends of the study on the safe side, in diameters of the shank: beyond them m is taken as there."""
LEAST = {"f": 0.35, "w": 1.2, "r": 0.035}
"""Ends of what the law is taken for [-]. The study ends at r/d 0.05: sharper, the peaks of floor and shank come to grow
alike, while the law lets m grow on, on the high side."""
FARTHEST = 4.0
"""Ends of the study on the unsafe side, in diameters of the shank: beyond them m is nan."""
COEFFICIENTS = ("level", "slope", "spread", "thin", "narrow", "sharp")


def _studied(d: Number, f: Number, s: Number, w: Number, r: Number, load: str = "pull") -> Truth:
    slack = np.multiply(d, 1.0 - 1e-9)
    inside = np.greater_equal(f, LEAST["f"] * slack) & np.greater_equal(w, LEAST["w"] * slack)
    inside = inside & np.greater_equal(r, LEAST["r"] * slack)
    return np.asarray(inside & np.less_equal(np.multiply(s, 1.0 - 1e-9), FARTHEST * np.asarray(d)))


@method(
    formula="pull: m = 1.12 + 0.48 (s/d - 0.6)^1.2 (d/f)^2.2 (d/w) (d/r)^(1/3); side: m = 1.04 + "
    "0.029 (s/d - 0.6)^(1/4) (d/f)² √(d/w) √(d/r); across: m = 1.05 + 0.0023 (d/f)³ √(d/r)",
    source="own finite-element study, tests/studies/floor_of_fork.py: solid round shank on the middle of the floor",
    valid="f/d at least 0.35, w/d at least 1.2, r/d at least 0.035, s/d up to 4, else nan; thicker, wider, blunter or "
    "nearer than the study (f/d 2, w/d 3, r/d 0.3, s/d 1) is taken as there",
    holds=_studied,
)
def floor_multiplier(d: Number, f: Number, s: Number, w: Number, r: Number, load: str) -> Number:
    """How many times K_t a shank's root feels behind the floor of a fork.

    For clevises and link ends on an undercut male thread, a neck, a tapped boss or a spigot, whose ears are free
    to turn at the pin. Multiply K_t of `round_fillet` (D = 2 d), on the nominal stress of the shank at the back
    of the floor; tension by that of `pull`, bending by that of `side` or `across`. In a bored shank the nominal stress
    is of the ring, and m - 1 goes with the stress that the solid shank would have. A thread behind the undercut changes
    the peak by 1 %.

    Args:
        d [mm]: diameter of the shank at the root: of the undercut, neck, boss or spigot.
        f [mm]: thickness of the floor, from throat to back.
        s [mm]: between the middles of the ears: throat and one ear.
        w [mm]: width of floor and ears, square to the pin.
        r [mm]: radius of the root fillet or undercut.
        load [-]: pull (or push) along the shank, side force along the pin, force across both.

    Returns:
        [-] m, 1 or more.

    Raises:
        KeyError: no such load.
    """
    found = row("floor_of_fork", "load", load)
    level, slope, *powers = (float(found[name]) for name in COEFFICIENTS)
    d = np.asarray(d, float)
    thin = d / np.minimum(f, THICKEST * d)
    narrow = d / np.minimum(w, WIDEST * d)
    sharp = d / np.minimum(r, BLUNTEST * d)
    apart = np.maximum(np.divide(s, d), NEAREST) - 0.6
    bent: Number = 1.0
    for ratio, power in zip((apart, thin, narrow, sharp), powers, strict=True):
        bent = bent * ratio**power
    return within(_studied(d, f, s, w, r), level + slope * bent)
