"""Ears: the two lugs of a clevis as they share a load and bend sideways, along the pin."""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method

CANTILEVER = (
    "beam theory, the ear as a cantilever; Young & Budynas, Roark's Formulas for Stress and "
    "Strain, chapter 8"
)


@method(
    formula="P_1 = P b / (a + b)",
    source="statics: a pin on two ears",
)
def load_share(P: Number, a: Number, b: Number) -> Number:
    """Load on one ear of a clevis whose tongue is off the middle.

    Args:
        P [N]: load on the tongue.
        a [mm]: middle of the tongue to the middle of this ear.
        b [mm]: middle of the tongue to the middle of the other ear.

    Returns:
        [N] load; half of P where a and b are alike.
    """
    return np.multiply(P, b) / np.add(a, b)


@method(
    formula="σ = P/(w t) + 6 V L/(w t²)",
    source=CANTILEVER,
)
def root_stress(P: Number, V: Number, L: Number, w: Number, t: Number) -> Number:
    """Stress at the root of an ear that is pulled and pushed sideways, along the pin.

    Args:
        P [N]: pull on this ear.
        V [N]: side force on this ear, along the pin, sign left out.
        L [mm]: centre of the bore to the root.
        w [mm]: width of the ear at the root.
        t [mm]: thickness at the root.

    Returns:
        [MPa] stress on the worse face.
    """
    area = np.multiply(w, t)
    stress: Number = np.divide(P, area) + 6.0 * np.abs(V) * L / (area * np.asarray(t))
    return stress
