"""Torsion bars: rate, stress and energy of the bar, the arm at its end, and presetting.

Signs: one sense of twist throughout. The arm's angle `phi` is measured from the plane square to the
load, positive the way the load winds the spring up (the wheel's bump); `theta` is the twist of the
bar from its free position. Repeated load is not covered here: see `fatigue`.

Worked example: a solid bar of 20 mm, 600 mm long, steel (G = 79 300 MPa):
J = π·20⁴/32 = 15 708 mm⁴; k = G·J/L = 2.076e6 N·mm/rad; at 30° of twist τ = G·θ·d/(2L) = 692 MPa.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.tables import rows
from parts.strength.validity import Truth, within


def _inside_bar(d: Number, d_i: Number = 0.0, **_: Number) -> Truth:
    return np.asarray((np.asarray(d_i) >= 0.0) & (np.asarray(d_i) < np.asarray(d)))


@method(
    formula="J = π (d⁴ - d_i⁴) / 32",
    source="geometry; Roark's Formulas for Stress and Strain, 7th ed., Table 10.1, cases 1 and 10",
    valid="round bar, 0 ≤ d_i < d",
    holds=_inside_bar,
)
def polar_moment(d: Number, d_i: Number = 0.0) -> Number:
    """Polar second moment of area of a round bar.

    Args:
        d [mm]: outside diameter.
        d_i [mm]: bore of a hollow bar; 0 for a solid one.

    Returns:
        [mm^4] polar second moment of area.
    """
    value = np.pi * (np.power(d, 4) - np.power(d_i, 4)) / 32.0
    return within(_inside_bar(d, d_i), value)


@method(
    formula="k = G π (d⁴ - d_i⁴) / (32 L)",
    source="Saint-Venant torsion; SAE HS-796 (Spring Design Manual, torsion bars), from memory",
    valid="round bar, 0 ≤ d_i < d, elastic",
    holds=_inside_bar,
)
def torsional_rate(d: Number, L: Number, G: Number, d_i: Number = 0.0) -> Number:
    """Torque for each radian of twist.

    Args:
        d [mm]: outside diameter.
        L [mm]: active length; see `taper_length` for the ends.
        G [MPa]: shear modulus.
        d_i [mm]: bore of a hollow bar; 0 for a solid one.

    Returns:
        [N*mm/rad] torsional rate.
    """
    return G * polar_moment(d, d_i) / L


@method(
    formula="L_e = (taper / 3) (r + r² + r³), r = d/D",
    source="integral of (d/x)⁴ along a cone; SAE HS-796 gives the same sum, from memory",
    valid="cone from d up to D, D ≥ d",
    holds=lambda taper, d, D: np.asarray(D) >= np.asarray(d),
)
def taper_length(taper: Number, d: Number, D: Number) -> Number:
    """Length of plain bar that twists as much as a conical taper up to the end of the bar.

    Args:
        taper [mm]: length of the taper.
        d [mm]: diameter of the bar, and of the taper's small end.
        D [mm]: diameter of the taper's large end.

    Returns:
        [mm] length to add to the active length of the bar.
    """
    r = np.divide(d, D)
    return within(r <= 1.0, np.multiply(taper, (r + r**2 + r**3) / 3.0))


@method(
    formula="θ = 32 T L / (π (d⁴ - d_i⁴) G)",
    source="Saint-Venant torsion; Beer & Johnston, Mechanics of Materials, eq. (3.16), from memory",
    valid="round bar, 0 ≤ d_i < d, elastic",
    holds=_inside_bar,
)
def twist(T: Number, d: Number, L: Number, G: Number, d_i: Number = 0.0) -> Number:
    """Twist of the bar under a torque.

    Args:
        T [N*mm]: torque.
        d [mm]: outside diameter.
        L [mm]: active length.
        G [MPa]: shear modulus.
        d_i [mm]: bore of a hollow bar; 0 for a solid one.

    Returns:
        [rad] twist.
    """
    return T / torsional_rate(d, L, G, d_i)


@method(
    formula="T = G π (d⁴ - d_i⁴) θ / (32 L)",
    source="Saint-Venant torsion; Beer & Johnston, Mechanics of Materials, eq. (3.16), from memory",
    valid="round bar, 0 ≤ d_i < d, elastic",
    holds=_inside_bar,
)
def torque_at_twist(theta: Number, d: Number, L: Number, G: Number, d_i: Number = 0.0) -> Number:
    """Torque that holds the bar at a twist.

    Args:
        theta [rad]: twist.
        d [mm]: outside diameter.
        L [mm]: active length.
        G [MPa]: shear modulus.
        d_i [mm]: bore of a hollow bar; 0 for a solid one.

    Returns:
        [N*mm] torque.
    """
    return torsional_rate(d, L, G, d_i) * theta


@method(
    formula="τ = 16 T d / (π (d⁴ - d_i⁴))",
    source="Saint-Venant torsion; Beer & Johnston, Mechanics of Materials, eq. (3.10), from memory",
    valid="round bar, 0 ≤ d_i < d, elastic",
    holds=_inside_bar,
)
def shear_stress(T: Number, d: Number, d_i: Number = 0.0) -> Number:
    """Shear stress at the surface of the bar under a torque.

    Args:
        T [N*mm]: torque.
        d [mm]: outside diameter.
        d_i [mm]: bore of a hollow bar; 0 for a solid one.

    Returns:
        [MPa] shear stress.
    """
    return T * d / (2.0 * polar_moment(d, d_i))


@method(
    formula="τ = G θ d / (2 L)",
    source="Saint-Venant torsion; Beer & Johnston, Mechanics of Materials, eq. (3.3) with τ = Gγ",
)
def shear_stress_at_twist(theta: Number, d: Number, L: Number, G: Number) -> Number:
    """Shear stress at the surface of the bar at a twist, solid or hollow alike.

    Args:
        theta [rad]: twist.
        d [mm]: outside diameter.
        L [mm]: active length.
        G [MPa]: shear modulus.

    Returns:
        [MPa] shear stress.
    """
    return G * theta * d / (2.0 * L)


@method(formula="U = k θ² / 2", source="work of a linear spring")
def stored_energy(k: Number, theta: Number) -> Number:
    """Energy stored in a linear torsion spring.

    Args:
        k [N*mm/rad]: torsional rate.
        theta [rad]: twist.

    Returns:
        [N*mm] energy; 1000 N*mm are one joule.
    """
    return 0.5 * k * np.square(theta)


def _arm_points(phi: Number, **_: Number) -> Truth:
    return np.asarray(np.abs(phi) < np.pi / 2)


@method(
    formula="P = k θ / (R cos φ)",
    source="statics; SAE HS-796 (torsion bar with arm), from memory",
    valid="the arm less than 90° from the plane square to the load",
    holds=_arm_points,
)
def arm_force(k: Number, theta: Number, R: Number, phi: Number) -> Number:
    """Load at the end of the arm, which keeps its direction as the arm swings.

    Args:
        k [N*mm/rad]: torsional rate of the bar.
        theta [rad]: twist of the bar from its free position.
        R [mm]: length of the arm, square to the bar, centre to centre.
        phi [rad]: angle of the arm from the plane square to the load.

    Returns:
        [N] load.
    """
    return within(_arm_points(phi), k * theta / (R * np.cos(phi)))


@method(
    formula="c = k (1 + θ tan φ) / (R cos φ)²",
    source="derivative of P = kθ/(R cos φ) by R sin φ; SAE HS-796 gives the same, from memory",
    valid="the arm less than 90° from the plane square to the load",
    holds=_arm_points,
)
def arm_rate(k: Number, theta: Number, R: Number, phi: Number) -> Number:
    """Rate at the end of the arm in the direction of the load, with the term of the arm's geometry.

    The term `θ tan φ` is what the load itself adds as its leverage changes: a preloaded arm above
    its square position stiffens, one below it softens.

    Args:
        k [N*mm/rad]: torsional rate of the bar.
        theta [rad]: twist of the bar from its free position, at this position of the arm.
        R [mm]: length of the arm, square to the bar, centre to centre.
        phi [rad]: angle of the arm from the plane square to the load.

    Returns:
        [N/mm] rate.
    """
    value = k * (1.0 + theta * np.tan(phi)) / np.square(R * np.cos(phi))
    return within(_arm_points(phi), value)


@method(formula="c = 1 / (1/c_1 + 1/c_2)", source="springs in series: compliances add")
def rate_in_series(c_1: Number, c_2: Number) -> Number:
    """Rate of two springs one behind the other, as of a bar and its arm.

    Args:
        c_1 [N/mm]: rate of the first.
        c_2 [N/mm]: rate of the second.

    Returns:
        [N/mm] rate of both.
    """
    return c_1 * c_2 / (np.asarray(c_1, float) + c_2)


@method(
    formula="τ_a = c S_ut",
    source="share c: Shigley's Mechanical Engineering Design, 9th ed., Table 10-6, from memory "
    "(`shear_share`); written there for the straight wire of helical springs",
    valid="static service, c between 0 and 0.75",
    holds=lambda S_ut, c: (np.asarray(c) > 0.0) & (np.asarray(c) <= 0.75),
)
def allowable_shear(S_ut: Number, c: Number) -> Number:
    """Largest torsional stress in static service, from tensile strength.

    Args:
        S_ut [MPa]: tensile strength of the bar.
        c [-]: share of the tensile strength; see `shear_share`.

    Returns:
        [MPa] allowable shear stress; to be reached, not passed, without a further factor.
    """
    return np.multiply(S_ut, c)


def shear_share(material: str, preset: bool) -> float:
    """Share of the tensile strength that the shear stress of a static spring may reach.

    Args:
        material [-]: group of the table `spring_shear_share`, as "austenitic stainless steel".
        preset [-]: True for a bar whose set has been removed: twisted past yield, in its sense.

    Returns:
        [-] the low end of the published band.

    Raises:
        KeyError: no such group; the message lists those there are.
    """
    wanted = "yes" if preset else "no"
    found = {r["material"]: r for r in rows("spring_shear_share") if r["set_removed"] == wanted}
    if material not in found:
        raise KeyError(f"{material!r} is not a group of spring materials; use {', '.join(found)}")
    return float(found[material]["share_low"])
