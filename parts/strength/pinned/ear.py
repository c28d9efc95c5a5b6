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


@method(
    formula="V = F w t² / (6 L)",
    source=CANTILEVER,
)
def side_load(L: Number, w: Number, t: Number, F: Number) -> Number:
    """Side force along the pin that one ear bears alone at its root.

    Args:
        L [mm]: centre of the bore to the root.
        w [mm]: width of the ear at the root.
        t [mm]: thickness at the root.
        F [MPa]: tensile yield strength.

    Returns:
        [N] force.
    """
    load: Number = np.multiply(F, w) * np.square(t) / (6.0 * np.asarray(L))
    return load


@method(
    formula="δ = 4 V L³ / (E w t³)",
    source=CANTILEVER,
)
def side_deflection(V: Number, L: Number, E: Number, w: Number, t: Number) -> Number:
    """How far an ear bends sideways at its bore, as when a bolt pulls a loose clevis together.

    Args:
        V [N]: side force at the bore.
        L [mm]: centre of the bore to the root.
        E [MPa]: Young's modulus.
        w [mm]: width of the ear.
        t [mm]: thickness.

    Returns:
        [mm] deflection; shear and the give of the root left out.
    """
    stiff = np.multiply(E, w) * np.power(t, 3.0)
    deflection: Number = 4.0 * np.asarray(V) * np.power(L, 3.0) / stiff
    return deflection
