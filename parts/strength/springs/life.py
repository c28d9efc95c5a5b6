"""What spring wire bears for ever: amplitudes that were found at one mean stress, carried to another."""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method

ZIMMERLI = 241.0, 379.0
"""Amplitude and mean of shear that springs of steel wire up to 10 mm, not peened, bear for ever, of any strength
[MPa]: Shigley, 9th ed., eq. 10-28, after Zimmerli."""
PER_SHEAR = 1.0 / 0.577
"""Bending over shear that wire bears alike [-]: Shigley, 9th ed., example 10-7."""
WOUND_ENDLESS = 0.25
"""Amplitude, and mean, over tensile strength that a torsion spring bears a million times from nothing to its greatest
load [-]: Shigley, 9th ed., table 10-10, not peened, 0.50 for the greatest."""


@method(
    formula="s_a = min(S_a (R - s_m)/(R - S_m), S_a (1 - (s_m/R)²)/(1 - (S_m/R)²))",
    source="lines of Goodman and of Gerber through the point that was tested, the lower counts; Shigley, 9th ed., "
    "sec. 6-12 and 10-9",
    valid="mean stress below the strength",
    holds=lambda s_m, S_a, S_m, R: (np.asarray(s_m) < np.asarray(R)) & (np.asarray(S_m) < np.asarray(R)),
)  # fmt: skip
def endless_amplitude(s_m: Number, S_a: Number, S_m: Number, R: Number) -> Number:
    """Amplitude of stress that a wire bears for ever at a mean stress.

    Args:
        s_m [MPa]: mean stress.
        S_a [MPa]: amplitude that it bore in the test.
        S_m [MPa]: mean stress of that test.
        R [MPa]: strength: in shear for shear, in tension for bending.

    Returns:
        [MPa] amplitude; 0 at the strength and beyond it.
    """
    s_m, S_m, R = (np.asarray(one, float) for one in (s_m, S_m, R))
    goodman = S_a * (R - s_m) / (R - S_m)
    gerber = S_a * (1.0 - np.square(s_m / R)) / (1.0 - np.square(S_m / R))
    return np.maximum(np.minimum(goodman, gerber), 0.0)[()]
