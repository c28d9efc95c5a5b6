"""The wall round a bearing as a ring: the shaft pushes it out of round where nothing backs it."""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method

COEFFICIENT = (np.pi**2 - 8.0) / (4.0 * np.pi**2)
"""Greatest moment over W R [-], a quarter round from the load: Σ of 4/π² (n² − 1)⁻² over even n."""


@method(
    formula="M = W R (π² − 8)/(4 π²), σ = 6 M (1 + t/(2 R))/(b t²) + W/(2 b t)",
    source="Timoshenko, Strength of Materials, part II (thin ring under q cos nθ: M = q R²/(n² − 1)), from memory; the "
    "pressure of a close shaft, cos θ over half of the bore, by its Fourier series, held by shear round the ring",
    valid="wall up to half of the mean radius; 1 + t/(2 R) covers its curvature (Winkler), conservative",
    holds=lambda W, R, t, b: np.less_equal(t, 0.5 * np.asarray(R, float)) & np.greater(t, 0.0),
)
def seat_ring_stress(W: Number, R: Number, t: Number, b: Number) -> Number:
    """Bending and pull in the wall round a bearing, that the load pushes out of round.

    A wall thicker than half of its radius is taken as that.

    Args:
        W [N]: load across the shaft.
        R [mm]: mean radius of the wall.
        t [mm]: its thickness.
        b [mm]: its length along the shaft.

    Returns:
        [MPa] stress.

    Example: 5 kN on a wall of 4 mm about a 42 mm bearing of 12.
        >>> round(float(seat_ring_stress(5e3, 23.0, 4.0, 12.0)), 1)
        237.1
    """
    t = np.minimum(t, 0.5 * np.asarray(R, float))
    moment = COEFFICIENT * np.abs(W) * R
    bent = 6.0 * moment * (1.0 + t / (2.0 * np.asarray(R))) / (np.asarray(b) * np.square(t))
    return np.asarray(bent + np.abs(W) / (2.0 * np.asarray(b) * t))
