"""A cylinder on a flat: the pressure of a line contact."""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method


@method(
    formula="p = √(F E/(π L R)), 1/E = (1 - ν_1²)/E_1 + (1 - ν_2²)/E_2",
    source="Hertz; Johnson, Contact Mechanics, eq. 4.45; Shigley, 9th ed., eq. 3-73 and 3-74; from memory",
    valid="elastic, the band of contact narrow beside R",
    holds=lambda F, L, R, E: (np.asarray(L) > 0.0) & (np.asarray(R) > 0.0),
)
def line_pressure(F: Number, L: Number, R: Number, E: Number) -> Number:
    """Greatest pressure of a cylinder on a flat.

    Args:
        F [N]: force.
        L [mm]: length of the contact.
        R [mm]: radius of the cylinder.
        E [MPa]: modulus of both together.

    Returns:
        [MPa] pressure.
    """
    return np.sqrt(np.multiply(F, E) / (np.pi * np.multiply(L, R)))[()]
