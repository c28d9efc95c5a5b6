"""Mean stress and many blocks of load: from what a part feels to one fully reversed stress, and to damage.

A compressive mean is given no credit: the amplitude stands as it is. Rules disagree; Goodman is the
house's first, Gerber fits ductile metal better, Soderberg also guards yield, Morrow and Smith-Watson-
Topper suit strain-life data. Blocks lie along the last axis of an array.

Worked example (Shigley, 9th ed., Example 6-11): σ_a = σ_m = 8.38 ksi, S_e = 33.9, S_ut = 100 ksi:
Goodman n = 1/(8.38/33.9 + 8.38/100) = 3.02, Gerber n = 3.66.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method

SHIGLEY = "Shigley's Mechanical Engineering Design, 9th ed."


def _raised(s_a: Number, share: Number) -> Number:
    """Amplitude over what the mean leaves of the strength; inf where it leaves nothing."""
    left = 1.0 - np.maximum(share, 0.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        value: Number = np.where(left > 0.0, np.divide(s_a, left), np.inf)[()]
    return value


@method(formula="σ_a = K_f (σ (1 - R) / 2 + σ_r)", source="definition of amplitude and load ratio")
def cycle_amplitude(sigma: Number, K_f: Number, R: Number, s_r: Number = 0.0) -> Number:
    """Amplitude of a cycle between a greatest nominal stress and R times it, at a notch.

    Args:
        sigma [MPa]: greatest nominal stress of the cycle.
        K_f [-]: fatigue stress concentration factor.
        R [-]: least over greatest load; 0 pulsating, -1 reversed.
        s_r [MPa]: stress beside it that changes its sign with every cycle, whatever the ratio of the load: friction.

    Returns:
        [MPa] amplitude.

    Example: 100 MPa that pulsates, and 30 MPa both ways.
        >>> float(cycle_amplitude(100.0, 2.0, 0.0, 30.0))
        160.0
    """
    return K_f * (np.multiply(sigma, np.subtract(1.0, R)) / 2.0 + s_r)


@method(formula="σ_m = K_f σ (1 + R) / 2", source="definition of mean and load ratio")
def cycle_mean(sigma: Number, K_f: Number, R: Number) -> Number:
    """Mean of a cycle between a greatest nominal stress and R times it, at a notch.

    Args:
        sigma [MPa]: greatest nominal stress of the cycle.
        K_f [-]: fatigue stress concentration factor; on the mean too, as for a metal that does not yield.
        R [-]: least over greatest load; 0 pulsating, -1 reversed.

    Returns:
        [MPa] mean.
    """
    return np.multiply(K_f, sigma) * np.add(1.0, R) / 2.0


@method(
    formula="σ_r = σ_a / (1 - σ_m/S_ut), σ_m not below 0",
    source=SHIGLEY + ", sect. 6-12 (modified Goodman)",
)
def goodman(s_a: Number, s_m: Number, S_ut: Number) -> Number:
    """Fully reversed stress that does the same damage, by Goodman.

    Args:
        s_a [MPa]: stress amplitude.
        s_m [MPa]: mean stress, tension positive.
        S_ut [MPa]: tensile strength.

    Returns:
        [MPa] equivalent amplitude; inf where the mean alone breaks the part.
    """
    return _raised(s_a, np.divide(s_m, S_ut))


@method(
    formula="σ_r = σ_a / (1 - (σ_m/S_ut)²), σ_m not below 0",
    source=SHIGLEY + ", sect. 6-12 (Gerber)",
)
def gerber(s_a: Number, s_m: Number, S_ut: Number) -> Number:
    """Fully reversed stress that does the same damage, by Gerber.

    Args:
        s_a [MPa]: stress amplitude.
        s_m [MPa]: mean stress, tension positive.
        S_ut [MPa]: tensile strength.

    Returns:
        [MPa] equivalent amplitude; inf where the mean alone breaks the part.
    """
    return _raised(s_a, np.square(np.maximum(np.divide(s_m, S_ut), 0.0)))


@method(formula="σ' = √(σ² + 3 τ²)", source=SHIGLEY + ", eqs. 6-55 and 6-56, load factors set to 1")
def mises(sigma: Number, tau: Number) -> Number:
    """Von Mises stress of a direct and a shear stress, of amplitudes and of means each on their own.

    Args:
        sigma [MPa]: direct stress.
        tau [MPa]: shear stress.

    Returns:
        [MPa] equivalent stress.
    """
    return np.sqrt(np.square(sigma) + 3.0 * np.square(tau))


@method(formula="D = Σ n_i / N_i", source="Palmgren and Miner; Shigley, 9th ed., eq. 6-57")
def damage(n: Number, N: Number) -> Number:
    """Damage of blocks of cycles; the part is taken to fail at 1.

    Real parts have failed anywhere between 0.3 and 3 (common knowledge of the trade): ask for less than 1.

    Args:
        n [-]: cycles of each block, blocks along the last axis.
        N [-]: cycles to failure at each block's stress; inf does no damage, 0 does damage without end.

    Returns:
        [-] damage.
    """
    n, N = np.broadcast_arrays(np.asarray(n, float), np.asarray(N, float))
    with np.errstate(divide="ignore", invalid="ignore"):
        each = np.where(n == 0.0, 0.0, n / N)
    total: Number = each.sum(axis=-1)[()]
    return total
