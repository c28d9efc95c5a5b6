"""A mass on something elastic whose foot is shaken: its natural frequency, and how much more it moves than the foot.

Worked example: 1.2 kg on a leg that gives 20 µm/N: f = 1/(2π √(20e-6·1.2)) = 32.5 Hz. A four-stroke that turns
9000 rpm shakes with its first order at 150 Hz, far above: on the way there it passes through resonance.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method

BOOK = "Rao, Mechanical Vibrations, 5th ed., "


@method(
    formula="f = 1/(2π √(Σ c_i m_i))",
    source=BOOK + "section 8.2 (Dunkerley): a lower bound; of one mass exact; from memory",
)
def natural_frequency(cm: Number) -> Number:
    """Least natural frequency of masses on an elastic part.

    Args:
        cm [s^2]: sum of flexibility [m/N] times mass [kg] over the masses.

    Returns:
        [Hz] frequency; infinite where nothing gives.
    """
    with np.errstate(divide="ignore"):
        return np.divide(1.0, 2.0 * np.pi * np.sqrt(cm))[()]


@method(formula="f = o n/60", source="an order is how often it shakes in one turn of the crank")
def order_frequency(o: Number, n: Number) -> Number:
    """Frequency of an order of an engine.

    Args:
        o [-]: the order; 1 is once a turn, 0.5 once in a four-stroke's cycle.
        n [1/min]: speed of the crank.

    Returns:
        [Hz] frequency.
    """
    return np.multiply(o, n) / 60.0


@method(
    formula="T = √((1 + (2 ζ x)²)/((1 - x²)² + (2 ζ x)²)) at x = min(f/f_n, x_p), x_p² = (√(1 + 8 ζ²) - 1)/(4 ζ²)",
    source=BOOK
    + "section 3.6 (base excitation), from memory; the largest up to f, for the engine runs up to it",
    valid="damping ratio above 0",
    holds=lambda f, f_n, zeta: np.greater(zeta, 0.0),
)
def amplification(f: Number, f_n: Number, zeta: Number) -> Number:
    """How many times the shaking of the foot a mass on it feels, the most on the way from standstill to a frequency.

    Args:
        f [Hz]: the highest frequency of the shaking.
        f_n [Hz]: natural frequency of the mass.
        zeta [-]: damping ratio.

    Returns:
        [-] factor, 1 and more.
    """
    z = np.square(np.asarray(zeta, float))
    with np.errstate(divide="ignore", invalid="ignore"):
        peak = np.sqrt((np.sqrt(1.0 + 8.0 * z) - 1.0) / (4.0 * z))
        x = np.minimum(np.divide(f, f_n), peak) ** 2
        factor: Number = np.sqrt((1.0 + 4.0 * z * x) / ((1.0 - x) ** 2 + 4.0 * z * x))
    return np.where(z > 0.0, factor, np.nan)[()]
