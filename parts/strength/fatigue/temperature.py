"""Strength in the warm: what a part beside an exhaust or a brake keeps of yield and ultimate strength.

Aluminium ages further while it is warm and does not come back when it cools: its figures are those after
10 000 hours. Above the last temperature of a row of the table there is no number.

Worked example: 7075-T6 at 110 °C: between 0.83 at 100 and 0.56 at 125, its yield keeps 0.72.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from parts.strength.method import Number, method
from parts.strength.tables import rows
from parts.strength.validity import Truth, within

Array = NDArray[np.float64]

TABLE = "table over temperature, straight between rows; "
SOURCE = "MIL-HDBK-5J, figures of the effect of temperature; others as the table strength_warm says for each row"


def _curve(alloy: str, condition: str) -> tuple[Array, Array, Array]:
    """Temperatures of an alloy's rows, and the factors on yield and ultimate strength there."""
    found = [
        one
        for one in rows("strength_warm")
        if one["alloy"] == alloy and {"all", condition} & set(one["conditions"].split("|"))
    ]
    if not found:
        known = sorted({f"{one['alloy']} {one['conditions']}" for one in rows("strength_warm")})
        raise KeyError(
            f"no strength at temperature for {alloy} {condition}; there is: {', '.join(known)}"
        )
    columns = ("celsius", "yield_factor", "ultimate_factor")
    t, y, u = (np.array([float(one[name]) for one in found]) for name in columns)
    return t, y, u


def hottest(alloy: str, condition: str) -> float:
    """The last temperature at which a metal's strength is known here.

    Args:
        alloy [-]: as the table of alloys names it.
        condition [-]: temper or heat treatment, as "T6".

    Returns:
        [°C] temperature; nan for a metal without rows.
    """
    try:
        return float(_curve(alloy, condition)[0][-1])
    except KeyError:
        return float("nan")


def _inside(celsius: Number, alloy: str, condition: str) -> Truth:
    return np.asarray(np.asarray(celsius) <= _curve(alloy, condition)[0][-1])


@method(
    formula="k = " + TABLE + "1 below 20 °C",
    source=SOURCE,
    valid="up to the last temperature of the alloy's rows",
    holds=_inside,
)
def yield_factor(celsius: Number, alloy: str, condition: str) -> Number:
    """Share of its yield strength that a metal keeps in the warm.

    Args:
        celsius [°C]: temperature in service.
        alloy [-]: as the table of alloys names it.
        condition [-]: temper or heat treatment, as "T6".

    Returns:
        [-] factor on yield strength; not a number above the table.

    Raises:
        KeyError: no rows for this alloy in this condition; the message lists those there are.

    Example: that of the head of this file.
        >>> round(float(yield_factor(110.0, "7075", "T6")), 3)
        0.722
    """
    t, y, _ = _curve(alloy, condition)
    return within(_inside(celsius, alloy, condition), np.asarray(np.interp(celsius, t, y)))


@method(
    formula="k = " + TABLE + "1 below 20 °C",
    source=SOURCE,
    valid="up to the last temperature of the alloy's rows",
    holds=_inside,
)
def ultimate_factor(celsius: Number, alloy: str, condition: str) -> Number:
    """Share of its ultimate strength that a metal keeps in the warm.

    Args:
        celsius [°C]: temperature in service.
        alloy [-]: as the table of alloys names it.
        condition [-]: temper or heat treatment, as "T6".

    Returns:
        [-] factor on ultimate strength, and on fatigue strength of aluminium; not a number above the table.

    Raises:
        KeyError: no rows for this alloy in this condition; the message lists those there are.

    Example: 6061-T6 at 150 °C.
        >>> float(ultimate_factor(150.0, "6061", "T6"))
        0.72
    """
    t, _, u = _curve(alloy, condition)
    return within(_inside(celsius, alloy, condition), np.asarray(np.interp(celsius, t, u)))


@method(
    formula="k = min(k_yield, k_ultimate)",
    source=SOURCE + "; shear and bearing taken as the weaker of the two",
    valid="up to the last temperature of the alloy's rows",
    holds=_inside,
)
def least_factor(celsius: Number, alloy: str, condition: str) -> Number:
    """Factor in the warm for every strength that has none of its own: shear, bearing, heat-affected metal.

    Args:
        celsius [°C]: temperature in service.
        alloy [-]: as the table of alloys names it.
        condition [-]: temper or heat treatment, as "T6".

    Returns:
        [-] factor; not a number above the table.

    Raises:
        KeyError: no rows for this alloy in this condition.

    Example: 4130 at 200 °C.
        >>> float(least_factor(200.0, "4130", "normalized"))
        0.86
    """
    found: Number = np.minimum(
        yield_factor(celsius, alloy, condition), ultimate_factor(celsius, alloy, condition)
    )
    return found
