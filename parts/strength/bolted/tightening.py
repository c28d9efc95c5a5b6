"""Tightening a bolt: torque and preload by a nut factor or by friction, and what the wrench stresses."""

from __future__ import annotations

import numpy as np

from parts.strength.bolted.joint import COS_30, SHIGLEY, VDI
from parts.strength.method import Number, method


@method(formula="T = K F d", source=SHIGLEY + ", eq. 8-27, Table 8-15; from memory")
def torque_by_nut_factor(F: Number, d: Number, K: Number) -> Number:
    """Tightening torque by the nut factor.

    Args:
        F [N]: preload.
        d [mm]: nominal diameter.
        K [-]: nut factor; 0.30 black, 0.20 zinc or as received, 0.18 lubricated.

    Returns:
        [N*mm] torque.

    Example: M8 at 15 kN, dry: 24 N·m.
        >>> torque_by_nut_factor(15.0e3, 8.0, 0.2)
        24000.0
    """
    return K * F * d


@method(formula="F = T/(K d)", source=SHIGLEY + ", eq. 8-27, Table 8-15; from memory")
def preload_by_nut_factor(T: Number, d: Number, K: Number) -> Number:
    """Preload from a tightening torque by the nut factor.

    Args:
        T [N*mm]: torque.
        d [mm]: nominal diameter.
        K [-]: nut factor.

    Returns:
        [N] preload, the mean of a wide scatter.

    Example: M8 at 24 N·m, dry.
        >>> preload_by_nut_factor(24.0e3, 8.0, 0.2)
        15000.0
    """
    return T / (K * d)


def _thread_friction(d2: Number, p: Number, mu_t: Number, sense: float) -> Number:
    """Torque in the thread for each newton of preload [mm]: `sense` 1 tightens, −1 loosens."""
    lead = p / (np.pi * d2)
    rub = mu_t / COS_30
    return d2 / 2.0 * (rub + sense * lead) / (1.0 - sense * rub * lead)


@method(
    formula="T = F [d2/2 (μ_t/cos 30° + tan λ)/(1 − μ_t tan λ/cos 30°) + μ_b D_b/2], "
    "tan λ = p/(π d2)",
    source=SHIGLEY + ", eq. 8-26; " + VDI + ", R13 (to first order)",
    valid="60 degree thread, single start",
    holds=lambda F, d2, p, mu_t, mu_b, D_b: np.asarray(p) < 0.5 * np.asarray(d2),
)
def tightening_torque(
    F: Number, d2: Number, p: Number, mu_t: Number, mu_b: Number, D_b: Number
) -> Number:
    """Torque that gives a preload, from the friction in the thread and under the head or nut.

    Args:
        F [N]: preload.
        d2 [mm]: pitch diameter.
        p [mm]: pitch.
        mu_t [-]: friction in the thread.
        mu_b [-]: friction under head or nut.
        D_b [mm]: mean diameter of the turning face.

    Returns:
        [N*mm] torque.

    Example: M8 at 15 kN, friction 0.12, face 11 mm.
        >>> round(float(tightening_torque(15.0e3, 7.188, 1.25, 0.12, 0.12, 11.0)))
        20435
    """
    return F * (_thread_friction(d2, p, mu_t, 1.0) + mu_b * D_b / 2.0)


@method(
    formula="F = T/[d2/2 (μ_t/cos 30° + tan λ)/(1 − μ_t tan λ/cos 30°) + μ_b D_b/2]",
    source=SHIGLEY + ", eq. 8-26; " + VDI + ", R13 (to first order)",
    valid="60 degree thread, single start",
    holds=lambda T, d2, p, mu_t, mu_b, D_b: np.asarray(p) < 0.5 * np.asarray(d2),
)
def preload_by_friction(
    T: Number, d2: Number, p: Number, mu_t: Number, mu_b: Number, D_b: Number
) -> Number:
    """Preload that a torque gives, from the friction in the thread and under the head or nut.

    Args:
        T [N*mm]: torque.
        d2 [mm]: pitch diameter.
        p [mm]: pitch.
        mu_t [-]: friction in the thread.
        mu_b [-]: friction under head or nut.
        D_b [mm]: mean diameter of the turning face.

    Returns:
        [N] preload.

    Example: M8 at 20 N·m, friction 0.12, face 11 mm.
        >>> round(float(preload_by_friction(2.0e4, 7.188, 1.25, 0.12, 0.12, 11.0)))
        14681
    """
    return T / (_thread_friction(d2, p, mu_t, 1.0) + mu_b * D_b / 2.0)


@method(
    formula="T = F [d2/2 (μ_t/cos 30° − tan λ)/(1 + μ_t tan λ/cos 30°) + μ_b D_b/2]",
    source=SHIGLEY + ", eq. 8-26 with the lead reversed (power screw, lowering)",
    valid="60 degree thread, single start",
    holds=lambda F, d2, p, mu_t, mu_b, D_b: np.asarray(p) < 0.5 * np.asarray(d2),
)
def loosening_torque(
    F: Number, d2: Number, p: Number, mu_t: Number, mu_b: Number, D_b: Number
) -> Number:
    """Torque that breaks a nut loose, and that a locked jam nut holds against turning of the body.

    Args:
        F [N]: preload.
        d2 [mm]: pitch diameter.
        p [mm]: pitch.
        mu_t [-]: friction in the thread.
        mu_b [-]: friction under head or nut.
        D_b [mm]: mean diameter of the turning face.

    Returns:
        [N*mm] torque; negative where the thread would run off by itself.

    Example: M8 at 15 kN, friction 0.12, face 11 mm.
        >>> round(float(loosening_torque(15.0e3, 7.188, 1.25, 0.12, 0.12, 11.0)))
        14352
    """
    return F * (_thread_friction(d2, p, mu_t, -1.0) + mu_b * D_b / 2.0)


@method(
    formula="σ_v = √((F/A_s)² + 3 (16 T_t/(π d_s³))²), T_t thread torque, d_s = √(4 A_s/π)",
    source=VDI + ", 5.5.2 (stress while tightening), elastic torsion",
    valid="60 degree thread, single start",
    holds=lambda F, A_s, d2, p, mu_t: np.asarray(p) < 0.5 * np.asarray(d2),
)
def tightening_stress(F: Number, A_s: Number, d2: Number, p: Number, mu_t: Number) -> Number:
    """Von Mises stress in a bolt's thread while it is tightened: tension and the twist of the thread.

    Args:
        F [N]: preload.
        A_s [mm^2]: tensile stress area.
        d2 [mm]: pitch diameter.
        p [mm]: pitch.
        mu_t [-]: friction in the thread.

    Returns:
        [MPa] equivalent stress.

    Example: M8 at 15 kN, friction 0.12.
        >>> round(float(tightening_stress(15.0e3, 36.6, 7.188, 1.25, 0.12)))
        503
    """
    d_s = np.sqrt(4.0 * np.asarray(A_s) / np.pi)
    tau = 16.0 * F * _thread_friction(d2, p, mu_t, 1.0) / (np.pi * d_s**3)
    return np.sqrt(np.square(F / A_s) + 3.0 * tau**2)
