"""Screw threads of 60 degree form: their diameters and stress areas.

Geometry comes in as numbers; designations and limits of size belong to the tables. `d`, `d2` are
major and pitch diameter of the external thread, `p` the pitch.
"""

from __future__ import annotations

import math

import numpy as np

from parts.strength.method import Number, method

TAN_30 = 1.0 / math.sqrt(3.0)
FULL_HEIGHT = math.sqrt(3.0) / 2.0  # height of the sharp 60 degree triangle per unit of pitch
H28 = "FED-STD-H28/2B and ASME B1.1, Appendix B (thread strength formulas); from memory"


def pitch_diameter(d: Number, p: Number) -> Number:
    """Basic pitch diameter [mm] of the 60 degree form: d − 0.649519 p."""
    return d - 0.75 * FULL_HEIGHT * p


def minor_diameter(d: Number, p: Number) -> Number:
    """Basic minor diameter [mm] of the internal thread: d − 1.082532 p."""
    return d - 1.25 * FULL_HEIGHT * p


@method(
    formula="A_s = π/4 (d − 9√3/16 p)²",
    source="ASME B1.1 and FED-STD-H28/2B, Appendix B, steels up to 100 ksi tensile; from memory",
    valid="60 degree thread, pitch below half the diameter; bolt tensile at most 690 MPa",
    holds=lambda d, p: (p > 0.0) & (np.asarray(p) < 0.5 * np.asarray(d)),
)
def stress_area_unified(d: Number, p: Number) -> Number:
    """Tensile stress area of a Unified thread, bolts up to 690 MPa; 9√3/16 = 0.9743.

    Args:
        d [mm]: basic major diameter.
        p [mm]: pitch.

    Returns:
        [mm^2] tensile stress area.

    Example: 3/8-24 UNF, printed as 0.0878 in^2.
        >>> round(float(stress_area_unified(9.525, 25.4 / 24)) / 25.4**2, 4)
        0.0878
    """
    return np.pi / 4.0 * (d - 9.0 * math.sqrt(3.0) / 16.0 * p) ** 2


@method(
    formula="A_s = π (d2_min/2 − 3 √3/32 p)²",
    source="ASME B1.1 and FED-STD-H28/2B, Appendix B, steels over 100 ksi tensile; from memory",
    valid="60 degree thread, pitch below half the diameter",
    holds=lambda d2_min, p: (p > 0.0) & (np.asarray(p) < 0.5 * np.asarray(d2_min)),
)
def stress_area_unified_strong(d2_min: Number, p: Number) -> Number:
    """Tensile stress area of a Unified thread, bolts over 690 MPa: at the least pitch diameter.

    Args:
        d2_min [mm]: minimum pitch diameter of the external thread.
        p [mm]: pitch.

    Returns:
        [mm^2] tensile stress area, smaller than the one at basic size.

    Example: 1/4-20 UNC-2A, minimum pitch diameter 0.2127 in.
        >>> round(float(stress_area_unified_strong(0.2127 * 25.4, 25.4 / 20)) / 25.4**2, 4)
        0.0303
    """
    return np.pi * (d2_min / 2.0 - 3.0 / 16.0 * FULL_HEIGHT * p) ** 2


@method(
    formula="A_s = π/4 ((d2 + d3)/2)², d2 = d − 3√3/8 p, d3 = d − 17√3/24 p",
    source="ISO 898-1:2013, 9.1 (nominal stress area)",
    valid="60 degree ISO metric thread, pitch below half the diameter",
    holds=lambda d, p: (p > 0.0) & (np.asarray(p) < 0.5 * np.asarray(d)),
)
def stress_area_iso(d: Number, p: Number) -> Number:
    """Nominal stress area of a metric thread; equals π/4 (d − 0.9382 p)².

    Args:
        d [mm]: nominal diameter.
        p [mm]: pitch.

    Returns:
        [mm^2] nominal stress area.

    Example: M10, printed as 58.0 mm^2.
        >>> round(float(stress_area_iso(10.0, 1.5)), 1)
        58.0
    """
    return np.pi / 4.0 * ((pitch_diameter(d, p) + root_diameter(d, p)) / 2.0) ** 2


@method(
    formula="d3 = d − 17√3/24 p",
    source="ISO 898-1:2013, 9.1: d3 = D1 − H/6",
)
def root_diameter(d: Number, p: Number) -> Number:
    """Root diameter of the external thread, rounded root.

    Args:
        d [mm]: nominal diameter.
        p [mm]: pitch.

    Returns:
        [mm] root diameter.

    Example: M10, 8.160 mm.
        >>> round(float(root_diameter(10.0, 1.5)), 2)
        8.16
    """
    return minor_diameter(d, p) - FULL_HEIGHT * p / 6.0
