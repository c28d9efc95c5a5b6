"""Flat plates: gussets and tabs with holes, their free edges, and bending in and out of the plane.

Strengths are nominal, without resistance factor or factor of safety.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.pinned.lug import bearing_load, net_section_load, shear_out_load

AISC = "AISC 360-16, Specification for Structural Steel Buildings, "
MANUAL = "AISC Steel Construction Manual, part 9"
STABILITY = "Timoshenko & Gere, Theory of Elastic Stability, 2nd ed., "
WHITMORE_SPREAD = np.radians(30.0)


@method(formula="P = F t w_n", source=AISC + "D2 (F_u on the net, F_y on the gross section)")
def plate_tension_load(w_n: Number, t: Number, F: Number) -> Number:
    """Pull that a plate bears on a section of width w_n.

    Args:
        w_n [mm]: net width for F_tu, full or Whitmore width for F_ty.
        t [mm]: thickness.
        F [MPa]: tensile strength, ultimate or yield.

    Returns:
        [N] load.
    """
    return np.multiply(F, t) * w_n


@method(
    formula="R = min(0.6 F_u A_nv, 0.6 F_y A_gv) + U_bs F_u A_nt",
    source=AISC + "J4.3, equation J4-5",
)
def block_shear_load(
    A_gv: Number, A_nv: Number, A_nt: Number, F_y: Number, F_u: Number, U_bs: Number = 1.0
) -> Number:
    """Pull at which a block tears out of a plate with the bolts in it.

    Args:
        A_gv [mm^2]: gross area in shear, both sides of the block.
        A_nv [mm^2]: net area in shear.
        A_nt [mm^2]: net area in tension across the end of the block.
        F_y [MPa]: yield strength.
        F_u [MPa]: ultimate tensile strength.
        U_bs [-]: 1 where the tension across the end is even, 0.5 where it is not.

    Returns:
        [N] load.
    """
    shear = 0.6 * np.minimum(np.multiply(F_u, A_nv), np.multiply(F_y, A_gv))
    load: Number = shear + U_bs * np.multiply(F_u, A_nt)
    return load


@method(
    formula="R = min(1.2 l_c t F_u, 2.4 d t F_u)",
    source=AISC + "J3.10, equation J3-6a (deformation at the hole matters)",
)
def hole_bearing_load(l_c: Number, d: Number, t: Number, F_u: Number) -> Number:
    """Load of one bolt at which the plate tears out or bulges in front of it.

    Args:
        l_c [mm]: clear distance from the hole to the edge or the next hole, along the load.
        d [mm]: bolt.
        t [mm]: thickness.
        F_u [MPa]: ultimate tensile strength of the plate.

    Returns:
        [N] load.
    """
    tear, bulge = 1.2 * np.maximum(l_c, 0.0), 2.4 * np.asarray(d)
    load: Number = np.minimum(tear, bulge) * np.multiply(t, F_u)
    return load


@method(
    formula="l_w = min(s + 2 L tan 30°, w)",
    source="Whitmore section: " + MANUAL,
)
def whitmore_width(s: Number, L: Number, w: Number) -> Number:
    """Width of a gusset that carries the force of a member bolted or welded to it.

    Args:
        s [mm]: width of the connection across the force at its start.
        L [mm]: length of the connection along the force.
        w [mm]: width of the plate at the end of the connection.

    Returns:
        [mm] effective width.
    """
    return np.minimum(s + 2.0 * np.multiply(L, np.tan(WHITMORE_SPREAD)), w)


@method(
    formula="P = F_cr t l_w, r = t/√12; F_cr = F_y up to L/r = 25, then 0.658^(F_y/F_e) F_y up to "
    "4.71 √(E/F_y), then 0.877 F_e; F_e = π² E / (L/r)²",
    source="Thornton's strip by AISC 360-16, J4.4 and E3",
)
def gusset_compression_load(E: Number, F_y: Number, t: Number, l_w: Number, L: Number) -> Number:
    """Push that a gusset bears before the strip beyond the connection buckles.

    Args:
        E [MPa]: Young's modulus.
        F_y [MPa]: yield strength.
        t [mm]: thickness.
        l_w [mm]: Whitmore width.
        L [mm]: effective length of the strip; 0.5 of its length where both edges of the gusset are
            held, 1.2 where one is.

    Returns:
        [N] load.
    """
    slender = np.asarray(L, float) * np.sqrt(12.0) / t
    F_e = np.pi**2 * np.asarray(E) / np.maximum(slender, 1e-9) ** 2
    stocky = 0.658 ** np.minimum(F_y / F_e, 50.0) * F_y
    stress = np.where(slender <= 4.71 * np.sqrt(np.divide(E, F_y)), stocky, 0.877 * F_e)
    load: Number = np.where(slender <= 25.0, F_y, stress) * np.multiply(t, l_w)
    return load


@method(
    formula="σ = min(k π² E / (12 (1 - ν²)) (t/b)², F_y), k = 0.425 + (b/a)²",
    source=STABILITY + "section 9.3 (three edges simply supported, one free; approximate k, with "
    "0.425 for a long plate of ν = 0.3 in place of 0.456 for ν = 0.25)",
)
def free_edge_buckling_stress(
    E: Number, F_y: Number, t: Number, b: Number, a: Number, nu: Number = 0.3
) -> Number:
    """Even compression along a free edge at which a plate held on the other three sides buckles.

    Args:
        E [MPa]: Young's modulus.
        F_y [MPa]: yield strength, the bound of the elastic result.
        t [mm]: thickness.
        b [mm]: distance of the free edge from the held edge along the load.
        a [mm]: length of the free edge.
        nu [-]: Poisson's ratio.

    Returns:
        [MPa] stress.
    """
    k = 0.425 + np.square(np.divide(b, a))
    D = np.pi**2 * np.asarray(E) / (12.0 * (1.0 - np.square(nu)))
    stress: Number = np.minimum(k * D * np.square(np.divide(t, b)), F_y)
    return stress


@method(
    formula="a = 2.06 t √(E/F_y)",
    source="AASHTO LRFD Bridge Design Specifications, 6.14.2.8 (gusset plates; editions before "
    "2013), from memory",
)
def free_edge_limit(E: Number, F_y: Number, t: Number) -> Number:
    """Longest free edge of a gusset that needs no stiffener or flange.

    Args:
        E [MPa]: Young's modulus.
        F_y [MPa]: yield strength.
        t [mm]: thickness.

    Returns:
        [mm] length.
    """
    length: Number = 2.06 * np.asarray(t) * np.sqrt(np.divide(E, F_y))
    return length


@method(
    formula="σ = 6 M / (b t²)",
    source="beam theory; Young & Budynas, Roark's Formulas for Stress and Strain, chapter 8",
)
def flat_bending_stress(M: Number, b: Number, t: Number) -> Number:
    """Bending stress of a plate bent across its thickness.

    Args:
        M [N*mm]: moment.
        b [mm]: width that bends.
        t [mm]: thickness.

    Returns:
        [MPa] stress at the faces.
    """
    stress: Number = 6.0 * np.asarray(M) / np.multiply(b, np.square(t))
    return stress


@method(
    formula="τ = T (3 + 1.8 t/b) / (b t²)",
    source="Shigley's Mechanical Engineering Design, 9th ed., eq. (3-40), rectangle in torsion, from memory",
    valid="no thicker than it is wide",
    holds=lambda T, b, t: np.less_equal(t, b),
)
def flat_twist_stress(T: Number, b: Number, t: Number) -> Number:
    """Largest shear stress of a plate strip that is twisted about its length, in the middle of its wide faces.

    Up to 4 % below the exact one, at two to three times as wide as thick.

    Args:
        T [N*mm]: torque.
        b [mm]: width.
        t [mm]: thickness.

    Returns:
        [MPa] shear stress.
    """
    stress: Number = np.asarray(T) * (3.0 + 1.8 * np.divide(t, b)) / np.multiply(b, np.square(t))
    return stress


@method(
    formula="σ = P / (t d) + 6 M / (t d²)",
    source="beam theory; Young & Budynas, Roark's Formulas for Stress and Strain, chapter 8",
)
def edge_stress(P: Number, M: Number, t: Number, d: Number) -> Number:
    """Stress at the worse edge of a plate pulled and bent in its plane.

    Args:
        P [N]: pull across the section.
        M [N*mm]: moment in the plane of the plate, sign left out.
        t [mm]: thickness.
        d [mm]: depth of the section in the plane of the plate.

    Returns:
        [MPa] stress.
    """
    area = np.multiply(t, d)
    stress: Number = np.divide(P, area) + 6.0 * np.abs(M) / (area * np.asarray(d))
    return stress


@method(
    formula="P = min(F_tu (w - D_h) t, 2 t L F_su, F_bru D_p t, F_tu w_0 t)",
    source="the classical modes of a lug, see parts.strength.pinned.lug, with the root of the tab",
    valid="end radius at least half the bore",
    holds=lambda w, w_0, D_h, D_p, R, r, t, F_tu, F_su, F_bru: np.greater_equal(
        r, np.asarray(D_h) / 2.0
    ),
)
def tab_load(
    w: Number,
    w_0: Number,
    D_h: Number,
    D_p: Number,
    R: Number,
    r: Number,
    t: Number,
    F_tu: Number,
    F_su: Number,
    F_bru: Number,
) -> Number:
    """Straight pull that a tab with one hole bears: beside the hole, behind it, in it, at the root.

    Args:
        w [mm]: width at the hole.
        w_0 [mm]: width at the root.
        D_h [mm]: hole.
        D_p [mm]: pin or bolt.
        R [mm]: centre of the hole to the end.
        r [mm]: radius of the end, infinite for a square one.
        t [mm]: thickness.
        F_tu [MPa]: ultimate tensile strength, or yield for the yield load.
        F_su [MPa]: ultimate shear strength, or yield.
        F_bru [MPa]: ultimate bearing strength for this edge distance, or yield.

    Returns:
        [N] load; nan where r is below half the bore.
    """
    beside = net_section_load(w, D_h, t, F_tu)
    behind = shear_out_load(R, D_h, t, r, F_su)
    inside = bearing_load(D_p, t, F_bru)
    root = plate_tension_load(w_0, t, F_tu)
    return np.minimum(np.minimum(beside, behind), np.minimum(inside, root))
