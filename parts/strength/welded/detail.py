"""Fatigue of welds by detail class: nominal stress ranges against EN 1993-1-9 and the IIW.

A class is the stress range [MPa] that a detail bears for 2 million cycles (97.7 % survive). Yield and
mean stress hardly matter beside a weld, so the whole range counts, even in compression. The range is
nominal, as the table says for each detail, and never above 1.5 times yield. As-welded steel of any
strength has the same class; aluminium's are about a third of it.

Worked example: class 71, 80 MPa: N = 2e6 (71/80)³ = 1.40e6 cycles; its limits are 0.737·71 = 52.3 MPa
at 5e6 cycles and 0.405·71 = 28.7 MPa at 1e8, below which nothing happens.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.tables import Row, row

EN = "EN 1993-1-9:2005, sect. 7.1"
DIRECT_KNEE: float = (2.0 / 5.0) ** (1.0 / 3.0)
"""Constant amplitude limit over the class, at 5e6 cycles."""
DIRECT_CUT_OFF: float = DIRECT_KNEE * (5.0 / 100.0) ** (1.0 / 5.0)
"""Cut-off limit over the class, at 1e8 cycles."""
SHEAR_CUT_OFF: float = (2.0 / 100.0) ** (1.0 / 5.0)
"""Cut-off limit over the class for shear, at 1e8 cycles."""


@method(
    formula="N = 2e6 (C/Δσ)³ to 5e6, 5e6 (Δσ_D/Δσ)⁵ to 1e8, inf below Δσ_L",
    source=EN + " (2) and (3): spectrum of ranges",
)
def cycles(stress_range: Number, C: Number) -> Number:
    """Cycles to failure of a welded steel detail at one range of a spectrum.

    Args:
        stress_range [MPa]: nominal direct stress range, partial factors on it.
        C [MPa]: detail class.

    Returns:
        [-] cycles to failure.
    """
    with np.errstate(divide="ignore", over="ignore"):
        ratio = np.divide(C, np.asarray(stress_range, float))
        steep = 2e6 * np.power(ratio, 3)
        flat = 5e6 * np.power(DIRECT_KNEE * ratio, 5)
    n = np.where(DIRECT_KNEE * ratio <= 1.0, steep, flat)
    return np.where(DIRECT_CUT_OFF * ratio > 1.0, np.inf, n)[()]


@method(
    formula="N = 2e6 (C/Δτ)⁵ to 1e8, inf below Δτ_L = (2/100)^(1/5) C", source=EN + " (2), shear"
)
def cycles_shear(stress_range: Number, C: Number) -> Number:
    """Cycles to failure of a weld or section in shear.

    Args:
        stress_range [MPa]: nominal shear stress range, partial factors on it.
        C [MPa]: detail class for shear.

    Returns:
        [-] cycles to failure.
    """
    with np.errstate(divide="ignore", over="ignore"):
        ratio = np.divide(C, np.asarray(stress_range, float))
        n = 2e6 * np.power(ratio, 5)
    return np.where(SHEAR_CUT_OFF * ratio > 1.0, np.inf, n)[()]


@method(
    formula="N = 2e6 (FAT/Δσ)³ to 1e7, then 1e7 (Δσ_7/Δσ)⁵, Δσ_7 = (2e6/1e7)^(1/3) FAT",
    source="IIW, Recommendations for Fatigue Design of Welded Joints and Components, sect. 3.2 "
    "(spectrum: slope 5 beyond the knee), from memory",
)
def cycles_iiw(stress_range: Number, FAT: Number) -> Number:
    """Cycles to failure of a welded detail of steel or aluminium in a spectrum; never endless.

    Args:
        stress_range [MPa]: nominal direct stress range, partial factors on it.
        FAT [MPa]: class at 2e6 cycles for the metal.

    Returns:
        [-] cycles to failure.
    """
    with np.errstate(divide="ignore", over="ignore"):
        steep = 2e6 * np.power(np.divide(FAT, np.asarray(stress_range, float)), 3)
        n: Number = np.where(steep <= 1e7, steep, 1e7 * np.power(steep / 1e7, 5.0 / 3.0))[()]
    return n


def detail(name: str) -> Row:
    """A row of the table of details: its classes for steel and aluminium and what stress they go with.

    No class is published here for welded titanium: a fatigue check of one is left out, and says so.

    Args:
        name [-]: as the table `weld_detail` names it, as "fillet weld root, cruciform or tee".

    Returns:
        [-] the row; `steel_mpa`, `aluminium_mpa` (empty where none), `stress`, `slope`, `source`.

    Raises:
        KeyError: no such detail; the message lists those there are.
    """
    return row("weld_detail", "detail", name)


def partial_factor(damage_tolerant: bool, high_consequence: bool) -> float:
    """Partial factor γ_Mf of EN 1993-1-9, Table 3.1; the class is divided by it.

    Args:
        damage_tolerant [-]: True where inspection finds a crack before it matters.
        high_consequence [-]: True where failure hurts someone; a part under a rider is such a one.

    Returns:
        [-] γ_Mf.
    """
    low, high = (1.00, 1.15) if damage_tolerant else (1.15, 1.35)
    return high if high_consequence else low
