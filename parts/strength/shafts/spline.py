"""Splined joints: Dudley's stresses for 30-degree involute splines with teeth of half depth.

The stresses are nominal and go with Dudley's own allowables (`spline_allowable.csv`), which
are low because teeth share the load unevenly: hold them against those, not against yield.
Factors: K_a application (shock), K_m load distribution (misalignment), K_f fatigue life, K_w wear
life (flexible splines only). A fixed spline is shrunk on, or loose but clamped or piloted so that
it cannot rock.

Worked example: 36 teeth, pitch 48 per inch (D = 19.05 mm), 20 mm long, T = 200 N*m, all factors 1:
t = πD/(2N) = 0.831 mm; tooth shear 4T/(D N L t) = 70.2 MPa.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.shafts.torsion_bar import shear_stress
from parts.strength.tables import grid, row, rows
from parts.strength.validity import between, within

PSI = 4.448_221_615_260_5 / 25.4**2
"""One pound-force on a square inch [MPa]."""

DUDLEY = (
    "Dudley, When Splines Need Stress Control, Product Engineering (1957); Machinery's Handbook, "
    "27th ed., pp. 2171-2174, formulas from memory"
)


def _table(name: str, x: str, y: str) -> tuple[Number, Number]:
    found = rows(name)
    return np.array([float(r[x]) for r in found]), np.array([float(r[y]) for r in found])


@method(formula="t = π D / (2 N)", source="ANSI B92.1: basic tooth thickness on the pitch circle")
def tooth_thickness(D: Number, N: Number) -> Number:
    """Basic circular tooth thickness on the pitch circle; a real tooth is thinner by its fit.

    Args:
        D [mm]: pitch diameter.
        N [-]: number of teeth.

    Returns:
        [mm] tooth thickness.
    """
    return np.divide(np.pi * D, 2.0 * N)


@method(
    formula="τ = 16 T D_re K_a / (π (D_re⁴ - D_h⁴) K_f)",
    source=DUDLEY,
    valid="0 ≤ D_h < D_re",
    holds=lambda T, D_re, D_h=0.0, K_a=1.0, K_f=1.0: np.asarray(D_h) < np.asarray(D_re),
)
def root_shear_stress(
    T: Number, D_re: Number, D_h: Number = 0.0, K_a: Number = 1.0, K_f: Number = 1.0
) -> Number:
    """Torsional shear stress of the shaft at the minor diameter of the external spline.

    Args:
        T [N*mm]: torque.
        D_re [mm]: minor diameter of the external spline.
        D_h [mm]: bore of a hollow shaft; 0 for a solid one.
        K_a [-]: application factor.
        K_f [-]: fatigue life factor.

    Returns:
        [MPa] shear stress.
    """
    return shear_stress(T, D_re, D_h) * K_a / K_f


@method(formula="τ = 4 T K_a K_m / (D N L_e t K_f)", source=DUDLEY)
def tooth_shear_stress(
    T: Number,
    D: Number,
    N: Number,
    L_e: Number,
    t: Number,
    K_a: Number = 1.0,
    K_m: Number = 1.0,
    K_f: Number = 1.0,
) -> Number:
    """Shear stress of the teeth at the pitch circle, half of the teeth carrying.

    Args:
        T [N*mm]: torque.
        D [mm]: pitch diameter.
        N [-]: number of teeth.
        L_e [mm]: effective length of engagement.
        t [mm]: actual tooth thickness on the pitch circle.
        K_a [-]: application factor.
        K_m [-]: load distribution factor.
        K_f [-]: fatigue life factor.

    Returns:
        [MPa] shear stress.
    """
    return 4.0 * T * K_a * K_m / (D * N * L_e * t * K_f)


@method(formula="σ_c = 2 T K_a K_m / (D N L_e h K_w)", source=DUDLEY + "; flexible splines")
def flank_pressure_flexible(
    T: Number,
    D: Number,
    N: Number,
    L_e: Number,
    h: Number,
    K_a: Number = 1.0,
    K_m: Number = 1.0,
    K_w: Number = 1.0,
) -> Number:
    """Compressive stress on the flanks of a spline that can rock; every tooth carries.

    Args:
        T [N*mm]: torque.
        D [mm]: pitch diameter.
        N [-]: number of teeth.
        L_e [mm]: effective length of engagement.
        h [mm]: radial depth of tooth in contact.
        K_a [-]: application factor.
        K_m [-]: load distribution factor.
        K_w [-]: wear life factor.

    Returns:
        [MPa] compressive stress.
    """
    return 2.0 * T * K_a * K_m / (D * N * L_e * h * K_w)


@method(formula="σ_c = 2 T K_a K_m / (9 D N L_e h K_f)", source=DUDLEY + "; fixed splines")
def flank_pressure_fixed(
    T: Number,
    D: Number,
    N: Number,
    L_e: Number,
    h: Number,
    K_a: Number = 1.0,
    K_m: Number = 1.0,
    K_f: Number = 1.0,
) -> Number:
    """Compressive stress of a fixed spline, scaled so that it goes with the same allowables.

    The 9 is Dudley's: a spline that cannot rock does not fret and bears nine times as much. The
    number is a scale for his allowables; the true pressure is `flank_pressure_flexible` with K_w
    = 1.

    Args:
        T [N*mm]: torque.
        D [mm]: pitch diameter.
        N [-]: number of teeth.
        L_e [mm]: effective length of engagement.
        h [mm]: radial depth of tooth in contact.
        K_a [-]: application factor.
        K_m [-]: load distribution factor.
        K_f [-]: fatigue life factor.

    Returns:
        [MPa] compressive stress, for comparison with Dudley's allowables only.
    """
    return 2.0 * T * K_a * K_m / (9.0 * D * N * L_e * h * K_f)


@method(formula="σ_1 = T tan φ / (π D t_w L)", source=DUDLEY)
def hub_radial_tension(T: Number, D: Number, t_w: Number, L: Number, phi: Number) -> Number:
    """Hoop stress in the hub from the radial component of the tooth loads.

    Args:
        T [N*mm]: torque.
        D [mm]: pitch diameter.
        t_w [mm]: wall: half of the hub's outside diameter less the spline's major diameter.
        L [mm]: full length of the spline.
        phi [rad]: pressure angle; 30 degrees.

    Returns:
        [MPa] hoop stress.
    """
    return T * np.tan(phi) / (np.pi * D * t_w * L)


@method(formula="σ_3 = 4 T / (D² L_e Y), Y = 1.5", source=DUDLEY)
def tooth_beam_tension(T: Number, D: Number, L_e: Number) -> Number:
    """Tension at the root of the hub's teeth as short beams, 30-degree pressure angle (Y = 1.5).

    Args:
        T [N*mm]: torque.
        D [mm]: pitch diameter.
        L_e [mm]: effective length of engagement.

    Returns:
        [MPa] tension.
    """
    return 4.0 * T / (np.square(D) * L_e * 1.5)


@method(
    formula="σ_2 = (3+ν)/4 ρ ω² (r_o² + r_i² (1-ν)/(3+ν))",
    source="rotating ring: Roark's Formulas for Stress and Strain, 7th ed., sect. 16.5; "
    "Dudley's 1.656e-6 rpm² (D_oi² + 0.212 D_ri²) psi in inches is the same for steel",
)
def hub_centrifugal_tension(
    omega: Number, D_o: Number, D_i: Number, density: Number, nu: Number = 0.3
) -> Number:
    """Hoop stress at the bore of the hub from its own rotation.

    Args:
        omega [rad/s]: speed.
        D_o [mm]: outside diameter of the hub.
        D_i [mm]: major diameter of the internal spline.
        density [kg/mm^3]: density of the hub.
        nu [-]: Poisson's ratio of the hub.

    Returns:
        [MPa] hoop stress.
    """
    square = np.square(D_o) + np.square(D_i) * (1.0 - nu) / (3.0 + nu)
    return (3.0 + nu) / 16.0 * density * np.square(omega) * square * 1e-3


@method(formula="σ_t = (K_a K_m (σ_1 + σ_3) + σ_2) / K_f", source=DUDLEY)
def bursting_stress(
    s_1: Number,
    s_3: Number,
    s_2: Number = 0.0,
    K_a: Number = 1.0,
    K_m: Number = 1.0,
    K_f: Number = 1.0,
) -> Number:
    """Total tension that would burst the hub.

    Args:
        s_1 [MPa]: from `hub_radial_tension`.
        s_3 [MPa]: from `tooth_beam_tension`.
        s_2 [MPa]: from `hub_centrifugal_tension`; 0 for a joint that does not spin.
        K_a [-]: application factor.
        K_m [-]: load distribution factor.
        K_f [-]: fatigue life factor.

    Returns:
        [MPa] tension.
    """
    return (K_a * np.multiply(K_m, np.add(s_1, s_3)) + s_2) / K_f


@method(
    formula="K_f: table over the number of torque cycles, straight in log scales between rows",
    source="Machinery's Handbook, 27th ed., p. 2172, Table 9; interpolation between rows is ours",
    valid="1e3 to 1e7 cycles; below the first row its value is kept, beyond the last nan",
    holds=lambda cycles, reversed_share=0.0: between(cycles, 0.0, 1e7),
)
def fatigue_life_factor(cycles: Number, reversed_share: Number = 0.0) -> Number:
    """Fatigue life factor K_f.

    Args:
        cycles [-]: torque cycles, each one start and one stop.
        reversed_share [-]: 0 where torque keeps its sense, 1 where it reverses fully.

    Returns:
        [-] K_f.
    """
    x = np.log(np.maximum(cycles, 1.0))
    n, one_way = _table("spline_life", "cycles", "unidirectional")
    _, both_ways = _table("spline_life", "cycles", "fully_reversed")
    low = np.exp(np.interp(x, np.log(n), np.log(one_way)))
    high = np.exp(np.interp(x, np.log(n), np.log(both_ways)))
    return within(between(cycles, 0.0, 1e7), low + (high - low) * reversed_share)


@method(
    formula="K_m: the table's next row and column upward",
    source="Dudley, When Splines Need Stress Control (1957), Table IV",
    valid="misalignment up to 0.008 rad, length up to 4 in (101.6 mm); nan beyond",
    holds=lambda misalignment, L: between(misalignment, 0.0, 0.008) & between(L, 0.0, 101.6),
)
def load_distribution_factor(misalignment: Number, L: Number) -> Number:
    """Load distribution factor K_m.

    Args:
        misalignment [rad]: angle between the axes, or millimetres of error for each millimetre.
        L [mm]: length of the spline.

    Returns:
        [-] K_m.
    """
    angles, inches, factors = grid("spline_misalignment", "misalignment", "width_in", "K_m")
    widths = inches * 25.4
    ok = between(misalignment, 0.0, angles[-1]) & between(L, 0.0, widths[-1])
    i = np.minimum(np.searchsorted(angles * (1 + 1e-9), misalignment), angles.size - 1)
    j = np.minimum(np.searchsorted(widths * (1 + 1e-9), L), widths.size - 1)
    return within(ok, factors[i, j])


def application_factor(source_of_torque: str, load: str) -> float:
    """Application factor K_a by Dudley's Table II.

    Args:
        source_of_torque [-]: uniform, light shock or medium shock.
        load [-]: uniform, light shock, intermittent shock or heavy shock.

    Returns:
        [-] K_a.

    Raises:
        KeyError: no such pair; the message lists those there are.
    """
    pairs = {
        (r["source_of_torque"], r["load"]): float(r["K_a"]) for r in rows("spline_application")
    }
    if (source_of_torque, load) not in pairs:
        known = "; ".join(f"{a} / {b}" for a, b in pairs)
        raise KeyError(f"no factor for {source_of_torque!r} / {load!r}; use {known}")
    return pairs[source_of_torque, load]


def allowable(hardness: str, stress: str, crowned: bool = False) -> float:
    """Dudley's allowable stress for a spline.

    Args:
        hardness [-]: as the table `spline_allowable` prints it, as "302-351 HB".
        stress [-]: shear, compression or tension.
        crowned [-]: True for crowned teeth (compression only).

    Returns:
        [MPa] allowable stress, to be held against the stresses of this module only.

    Raises:
        KeyError: no such hardness or stress; the message lists those there are.
    """
    found = row("spline_allowable", "hardness", hardness)
    form = ("_crowned" if crowned else "_straight") if stress == "compression" else ""
    column = f"{stress}{form}_psi"
    if column not in found:
        raise KeyError(f"{stress!r} is not a stress of this table; use shear, compression, tension")
    return float(found[column]) * PSI
