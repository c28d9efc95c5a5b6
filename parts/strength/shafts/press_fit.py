"""Interference fits by Lamé: pressure, stress, what holds, what the bore does, and heat.

Plane stress (no axial load in the ring), elastic, both parts the same length. `delta` is the
interference on the diameter that is left after the roughness is flattened
(`effective_interference`). Outer part: hub, index o; inner part: shaft or bush, index i. Sharp
ends of a hub raise the pressure there well above these values and start fretting cracks in a
shaft: see `notch` and `fatigue`.

Worked example: steel shaft of 20 mm in an aluminium hub of 40 mm, 0.02 mm tight (E 205 000/70 000
MPa, ν 0.29/0.33): C = 20 (1/70 000 (2000/1200 + 0.33) + 1/205 000 (1 - 0.29)) = 6.40e-4 mm/MPa,
p = 31.3 MPa; hoop in the hub 31.3·1.667 = 52.1 MPa.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from parts.strength.method import Number, method
from parts.strength.validity import Truth, within

LAME = "Lamé; Shigley's Mechanical Engineering Design, 9th ed., eqs. 3-49 to 3-56"


def _rings(d: ArrayLike, D_o: ArrayLike, d_i: ArrayLike) -> Truth:
    inner, fit, outer = (np.asarray(v, float) for v in (d_i, d, D_o))
    return np.asarray((inner >= 0.0) & (inner < fit) & (fit < outer))


@method(
    formula="δ_e = δ - 0.8 (Rz_o + Rz_i)",
    source="DIN 7190-1: roughness peaks lose 40 % of their height on each face; from memory",
)
def effective_interference(delta: Number, Rz_o: Number, Rz_i: Number) -> Number:
    """Interference that is left when the roughness of both faces has been flattened.

    Args:
        delta [mm]: measured interference on the diameter.
        Rz_o [mm]: roughness height Rz of the bore; about 4 to 6 times Ra, common practice.
        Rz_i [mm]: roughness height Rz of the shaft.

    Returns:
        [mm] effective interference on the diameter, not below zero.
    """
    return np.maximum(np.subtract(delta, 0.8 * np.add(Rz_o, Rz_i)), 0.0)


@method(
    formula="p = δ / (d ((1/E_o)((D_o²+d²)/(D_o²-d²) + ν_o) + (1/E_i)((d²+d_i²)/(d²-d_i²) - ν_i)))",
    source="Shigley's Mechanical Engineering Design, 9th ed., eq. 3-56",
    valid="0 ≤ d_i < d < D_o, elastic",
    holds=lambda delta, d, D_o, E_o, nu_o, E_i, nu_i, d_i=0.0: _rings(d, D_o, d_i),
)
def contact_pressure(
    delta: Number,
    d: Number,
    D_o: Number,
    E_o: Number,
    nu_o: Number,
    E_i: Number,
    nu_i: Number,
    d_i: Number = 0.0,
) -> Number:
    """Pressure between hub and shaft.

    Args:
        delta [mm]: effective interference on the diameter; a clearance (negative) gives no
            pressure.
        d [mm]: diameter of the fit.
        D_o [mm]: outside diameter of the hub.
        E_o [MPa]: Young's modulus of the hub.
        nu_o [-]: Poisson's ratio of the hub.
        E_i [MPa]: Young's modulus of the shaft.
        nu_i [-]: Poisson's ratio of the shaft.
        d_i [mm]: bore of a hollow shaft or bush; 0 for a solid one.

    Returns:
        [MPa] pressure.
    """
    q, q_o, q_i = np.square(d), np.square(D_o), np.square(d_i)
    with np.errstate(divide="ignore", invalid="ignore"):
        hub = ((q_o + q) / (q_o - q) + nu_o) / E_o
        shaft = ((q + q_i) / (q - q_i) - nu_i) / E_i
        p = np.maximum(delta, 0.0) / (d * (hub + shaft))
    return within(_rings(d, D_o, d_i), p)


@method(
    formula="σ_θ = p (D_o² + d²) / (D_o² - d²)",
    source=LAME,
    valid="0 < d < D_o, elastic",
    holds=lambda p, d, D_o: _rings(d, D_o, 0.0),
)
def hub_hoop_stress(p: Number, d: Number, D_o: Number) -> Number:
    """Hoop stress at the bore of the hub, its largest.

    Args:
        p [MPa]: pressure of the fit.
        d [mm]: diameter of the fit.
        D_o [mm]: outside diameter of the hub.

    Returns:
        [MPa] hoop stress, tension positive.
    """
    q, q_o = np.square(d), np.square(D_o)
    with np.errstate(divide="ignore"):
        return within(_rings(d, D_o, 0.0), p * (q_o + q) / np.subtract(q_o, q, dtype=float))


@method(
    formula="σ_v = √(σ_θ² + σ_θ p + p²)",
    source="von Mises, plane stress, with σ_r = -p",
    valid="0 < d < D_o, elastic",
    holds=lambda p, d, D_o: _rings(d, D_o, 0.0),
)
def hub_equivalent_stress(p: Number, d: Number, D_o: Number) -> Number:
    """Von Mises stress at the bore of the hub; hold it against yield.

    Args:
        p [MPa]: pressure of the fit.
        d [mm]: diameter of the fit.
        D_o [mm]: outside diameter of the hub.

    Returns:
        [MPa] equivalent stress.
    """
    hoop = hub_hoop_stress(p, d, D_o)
    return np.sqrt(np.square(hoop) + hoop * p + np.square(p))


@method(
    formula="σ_θ = -2 p d² / (d² - d_i²) with a bore; -p without",
    source=LAME,
    valid="0 ≤ d_i < d, elastic",
    holds=lambda p, d, d_i=0.0: _rings(d, np.inf, d_i),
)
def shaft_hoop_stress(p: Number, d: Number, d_i: Number = 0.0) -> Number:
    """Hoop stress of the inner part at its bore, or in the middle of a solid one: its largest.

    Args:
        p [MPa]: pressure of the fit.
        d [mm]: diameter of the fit.
        d_i [mm]: bore of a hollow shaft or bush; 0 for a solid one.

    Returns:
        [MPa] hoop stress; negative, compression.
    """
    q, q_i = np.square(np.asarray(d, float)), np.square(np.asarray(d_i, float))
    with np.errstate(divide="ignore"):
        value = np.where(
            np.asarray(d_i) > 0.0, -2.0 * np.multiply(p, q) / (q - q_i), -np.asarray(p, float)
        )
    return within(_rings(d, np.inf, d_i), value)


@method(
    formula="F = π d L μ p", source="friction on the fit's surface; Shigley, 9th ed., sect. 7-8"
)
def push_out_force(p: Number, d: Number, L: Number, mu: Number) -> Number:
    """Force along the axis at which the fit slips.

    Args:
        p [MPa]: pressure of the fit.
        d [mm]: diameter of the fit.
        L [mm]: length of the fit.
        mu [-]: coefficient of friction.

    Returns:
        [N] force.
    """
    return np.pi * np.multiply(d, L) * mu * p


@method(
    formula="Δd_i = -2 p d² d_i / (E (d² - d_i²))",
    source=LAME + " (radial displacement at the bore)",
    valid="0 < d_i < d, elastic",
    holds=lambda p, d, d_i, E: _rings(d, np.inf, d_i),
)
def bore_change(p: Number, d: Number, d_i: Number, E: Number) -> Number:
    """Change of the bore of a bush or a bearing's ring once it is pressed in.

    Args:
        p [MPa]: pressure of the fit.
        d [mm]: outside diameter of the bush.
        d_i [mm]: bore of the bush.
        E [MPa]: Young's modulus of the bush.

    Returns:
        [mm] change of the bore; negative, it closes.
    """
    q, q_i = np.square(np.asarray(d, float)), np.square(np.asarray(d_i, float))
    with np.errstate(divide="ignore"):
        value = -2.0 * np.multiply(p, q) * d_i / (E * (q - q_i))
    return within(_rings(d, np.inf, d_i), value)


@method(formula="δ_T = δ - (α_o - α_i) d ΔT", source="thermal expansion")
def interference_at_temperature(
    delta: Number, d: Number, alpha_o: Number, alpha_i: Number, dT: Number
) -> Number:
    """Interference left when hub and shaft together are warmer than at assembly.

    Args:
        delta [mm]: interference on the diameter at assembly temperature.
        d [mm]: diameter of the fit.
        alpha_o [1/K]: thermal expansion of the hub.
        alpha_i [1/K]: thermal expansion of the shaft.
        dT [K]: temperature rise of both.

    Returns:
        [mm] interference; negative where the fit has gone loose.
    """
    return np.subtract(delta, np.subtract(alpha_o, alpha_i) * d * dT)


@method(
    formula="Δd = -2 g t",
    source="each wall grows inward by the share g of the coating; shares (hard anodise about 1/2, "
    "sulphuric about 1/3, plating 1): common practice, no source",
    valid="g from 0 to 1",
    holds=lambda t, g: (np.asarray(g) >= 0.0) & (np.asarray(g) <= 1.0),
)
def bore_change_by_coating(t: Number, g: Number) -> Number:
    """Change of a bore's diameter by anodising or plating; a shaft grows by as much.

    Args:
        t [mm]: thickness of the coating.
        g [-]: share of the thickness that stands above the old surface.

    Returns:
        [mm] change of the diameter; negative, the bore shrinks.
    """
    ok = (np.asarray(g) >= 0.0) & (np.asarray(g) <= 1.0)
    return within(ok, -2.0 * np.multiply(g, t))
