"""Round tubes that are bent to a radius: how far bending flattens them, what that makes of their stress and stiffness.

A bent tube's section ovals when the bend opens or closes: its flanks carry less, so that it gives more and its wall
bends besides. The factors are those of piping, by the number h = t R/r². Its outside is stretched thin as it is made.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.validity import Truth, between, within

B31 = "ASME B31.1 and B31.3, Appendix D, welding elbow or bend, as an open record of its factors has it"
SECTION_III = "ASME Boiler and Pressure Vessel Code, III, NB-3683.7 (curved pipe)"
MEMORY = "; from memory"
RANGE = "D/t from 4 to 100, R/D from 1"


def _bends(R: Number, D: Number, t: Number, **_: Number) -> Truth:
    return np.asarray(
        between(np.divide(D, t), 4.0, 100.0) & np.greater_equal(R, np.asarray(D) * (1.0 - 1e-9))
    )


def _number(R: Number, D: Number, t: Number) -> Number:
    """The number of a bend, h."""
    found: Number = np.multiply(t, R) / np.square((np.subtract(D, t)) / 2.0)
    return found


def _index(of_one: float, least: float, R: Number, D: Number, t: Number) -> Number:
    """An index that falls with the power 2/3 of a bend's number, `of_one` at 1, and no less than the least."""
    index = np.maximum(of_one / np.asarray(_number(R, D, t)) ** (2.0 / 3.0), least)
    return within(_bends(R, D, t), index)


@method(
    formula="k = 1.65/h, no less than 1; h = t R/r², r = (D − t)/2",
    source=B31 + " (von Kármán)",
    valid=RANGE,
    holds=_bends,
)
def flexibility(R: Number, D: Number, t: Number) -> Number:
    """How much more a bend turns under a moment than a straight tube as long.

    Args:
        R [mm]: radius of its centre line.
        D [mm]: outside diameter.
        t [mm]: wall.

    Returns:
        [-] factor on its turning.

    Example: 25.4 by 1.65 to 76: h = 1.65·76/11.875² = 0.889.
        >>> round(float(flexibility(76.0, 25.4, 1.65)), 3)
        1.855
    """
    return within(_bends(R, D, t), np.maximum(1.65 / np.asarray(_number(R, D, t)), 1.0))


@method(
    formula="B = 1.30/h^(2/3), no less than 1; h = t R/r²",
    source=SECTION_III + ", B_2" + MEMORY,
    valid=RANGE,
    holds=_bends,
)
def collapse_index(R: Number, D: Number, t: Number) -> Number:
    """By how much a bend that flattens bears less of a moment than a straight tube.

    Args:
        R [mm]: radius of its centre line.
        D [mm]: outside diameter.
        t [mm]: wall.

    Returns:
        [-] factor on its bending stress, to be held against yield.

    Example:
        >>> round(float(collapse_index(76.0, 25.4, 1.65)), 3)
        1.406
    """
    return _index(1.30, 1.0, R, D, t)


@method(
    formula="C = 1.95/h^(2/3), no less than 1.5; h = t R/r²",
    source=SECTION_III + ", C_2" + MEMORY,
    valid=RANGE,
    holds=_bends,
)
def peak_index(R: Number, D: Number, t: Number) -> Number:
    """Peak of the stress in the wall of a bend that flattens, over its bending stress as a straight tube.

    Args:
        R [mm]: radius of its centre line.
        D [mm]: outside diameter.
        t [mm]: wall.

    Returns:
        [-] factor on the range of stress.

    Example:
        >>> round(float(peak_index(76.0, 25.4, 1.65)), 3)
        2.109
    """
    return _index(1.95, 1.5, R, D, t)


@method(
    formula="i = 0.9/h^(2/3), no less than 1; h = t R/r²",
    source=B31,
    valid=RANGE,
    holds=_bends,
)
def weld_index(R: Number, D: Number, t: Number) -> Number:
    """Stress of a bend, over its bending stress, as a butt weld of straight tubes that cracks as soon would have it.

    Markl bent pipes to and fro until they leaked; what is left in a bend from making it is in his factor.

    Args:
        R [mm]: radius of its centre line.
        D [mm]: outside diameter.
        t [mm]: wall.

    Returns:
        [-] factor on the range of stress.

    Example: 38 by 2.5 to 38: h = 2.5·38/17.75² = 0.302.
        >>> round(float(weld_index(38.0, 38.0, 2.5)), 2)
        2.0
    """
    return _index(0.9, 1.0, R, D, t)


@method(
    formula="t_o = t R/(R + D/2)",
    source="geometry: the outside is longer than the centre line, and the metal keeps its volume",
    valid=RANGE,
    holds=_bends,
)
def outer_wall(R: Number, D: Number, t: Number) -> Number:
    """Wall that is left on the outside of a bend.

    Args:
        R [mm]: radius of its centre line.
        D [mm]: outside diameter.
        t [mm]: wall before.

    Returns:
        [mm] wall.

    Example: to twice its diameter, a fifth is lost.
        >>> float(outer_wall(60.0, 30.0, 2.0))
        1.6
    """
    return within(_bends(R, D, t), np.multiply(t, R) / np.add(R, np.divide(D, 2.0)))


@method(
    formula="W = (1 − o) π (D⁴ − (D − 2 t)⁴)/(32 D)",
    source="strength of materials; a thin ring that is flattened to o = (D_max − D_min)/D keeps 1 − o/4 of its "
    "modulus: o whole is on the safe side",
    valid="o up to 0.2",
    holds=lambda D, t, o: between(o, 0.0, 0.2),
)
def flattened_modulus(D: Number, t: Number, o: Number) -> Number:
    """Section modulus of a tube that is as thin all round as on the outside of its bend, and oval.

    Args:
        D [mm]: outside diameter.
        t [mm]: wall.
        o [-]: largest less smallest diameter, over the nominal one.

    Returns:
        [mm^3] modulus.

    Example: 30 by 1.6, 8 % oval: 0.92 of 963.
        >>> round(float(flattened_modulus(30.0, 1.6, 0.08)))
        886
    """
    D = np.asarray(D, float)
    W = np.pi * (D**4 - (D - 2.0 * np.asarray(t)) ** 4) / (32.0 * D)
    return within(between(o, 0.0, 0.2), (1.0 - np.asarray(o)) * W)


@method(
    formula="σ = |N|/A + B M/W",
    source=SECTION_III.replace("NB-3683.7 (curved pipe)", "NB-3652, equation 9")
    + " (M of all three moments, which is never less than by von Mises)"
    + MEMORY,
)
def indexed_stress(N: Number, M: Number, A: Number, W: Number, B: Number = 1.0) -> Number:
    """Stress of a tube that is pushed or pulled, bent and twisted.

    Args:
        N [N]: force along it.
        M [N*mm]: resultant of both bending moments and the torque.
        A [mm^2]: area.
        W [mm^3]: section modulus.
        B [-]: index of the bend; 1 for a straight tube.

    Returns:
        [MPa] stress.

    Example:
        >>> float(indexed_stress(-1000.0, 5.0e4, 100.0, 500.0, 1.4))
        150.0
    """
    stress: Number = np.abs(N) / np.asarray(A, float) + np.multiply(B, M) / np.asarray(W, float)
    return stress
