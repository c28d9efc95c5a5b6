"""How a quantity is said to a builder: metric first, shop units in brackets."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

from parts.inputs.units import INCH_MM, MPA_PER_KSI, POUND_FORCE_N, POUND_KG


def as_fraction(inches: Fraction) -> str:
    """A number of inches as the shop writes it: `1-1/4 in`, `-3/8 in`, `2 in`."""
    sign, size = ("-" if inches < 0 else ""), abs(inches)
    whole, rest = divmod(size, 1)
    if rest == 0:
        return f"{sign}{whole} in"
    return f"{sign}{f'{whole}-' if whole else ''}{rest.numerator}/{rest.denominator} in"


# What is shown: (unit, factor, decimals), first the metric one, then the one in brackets.
_SHOWN: dict[str, tuple[tuple[str, float, int], ...]] = {
    "length": (("mm", 1.0, 3), ("in", float(1 / INCH_MM), 4)),
    "force": (("N", 1.0, 1), ("lbf", float(1 / POUND_FORCE_N), 1)),
    "moment": (("N m", 1e-3, 2), ("lbf ft", float(1 / (POUND_FORCE_N * 12 * INCH_MM)), 2)),
    "stress": (("MPa", 1.0, 1), ("ksi", 1.0 / MPA_PER_KSI, 2)),
    "mass": (("kg", 1.0, 3), ("lb", float(1 / POUND_KG), 3)),
    "angle": (("deg", 180.0 / math.pi, 2),),
    "ratio": (("", 1.0, 4),),
}


def show(value: Any, kind: str = "length") -> str:
    """A value for a sentence: `9.525 mm (0.375 in)`, `1500 N (337.2 lbf)`, `30 deg`.

    Args:
        value [-]: in the inside unit of the kind (mm, N, N*mm, MPa, kg, rad).
        kind [-]: length, force, moment, stress, mass, angle or ratio.

    Returns:
        [-] the text, metric first, shop units in brackets.
    """
    said = [
        f"{_rounded(float(value) * factor, places)} {unit}".strip()
        for unit, factor, places in _SHOWN[kind]
    ]
    return said[0] if len(said) == 1 else f"{said[0]} ({said[1]})"


def _rounded(value: float, places: int) -> str:
    if value != 0.0 and abs(value) < 10.0**-places:
        return f"{value:.2g}"
    text = f"{value:.{places}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
