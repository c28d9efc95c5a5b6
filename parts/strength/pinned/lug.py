"""Lugs: an eye or an ear loaded by a pin, by the classical planes and by the Air Force's method.

The house's lug: thickness t, width w at the bore, bore D_h, pin D_p, and R from the centre of the
bore to the edge that the pin pushes towards. Every load is for one lug; a clevis has two, see
`parts.strength.pinned.ear`.

The Air Force Stress Analysis Manual (AFFDL-TR-69-42, chapter 9) reads its efficiencies off curves.
Those figures were not at hand, so no curve point is used here: `axial_load` and `transverse_load`
take closed forms meant to lie below the curves instead, each stated where it stands. What the
manual gives in closed form (the oblique interaction, the bush, the 1.304 rule) is used as it
stands there. The same lug by ASME BTH-1 and by AISC 360 is in `parts.strength.pinned.standards`.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method

SHEAR_PLANE = np.radians(40.0)  # from the direction of the load to where each plane leaves the bore
MANUAL = "AFFDL-TR-69-42, US Air Force Stress Analysis Manual, chapter 9"
PROJECTED = (
    "bearing stress on the projected area; Beer & Johnston, Mechanics of Materials, section 1.2"
)
BRUHN = "Bruhn, Analysis and Design of Flight Vehicle Structures, D1 (lugs), from memory"
PLASTIC_TO_YIELD = 1.304  # the manual's bound on ultimate over yield strength


@method(
    formula="A = (w - D_h) t, not below 0",
    source="geometry",
)
def net_area(w: Number, D_h: Number, t: Number) -> Number:
    """Area beside the bore, both sides together.

    Args:
        w [mm]: width of the lug at the bore.
        D_h [mm]: bore.
        t [mm]: thickness.

    Returns:
        [mm^2] net area; 0 where the bore leaves nothing.
    """
    return np.maximum(np.subtract(w, D_h), 0.0) * t


@method(
    formula="σ = P / ((w - D_h) t)",
    source="mean stress over the net section; Beer & Johnston, Mechanics of Materials, section 1.2",
)
def net_section_stress(P: Number, w: Number, D_h: Number, t: Number) -> Number:
    """Mean tension beside the bore.

    Args:
        P [N]: pull on the lug.
        w [mm]: width of the lug at the bore.
        D_h [mm]: bore.
        t [mm]: thickness.

    Returns:
        [MPa] mean stress; infinite where the bore leaves nothing.
    """
    with np.errstate(divide="ignore"):
        return np.asarray(P, float) / net_area(w, D_h, t)


@method(formula="P = F (w - D_h) t", source="mean stress over the net section; " + BRUHN)
def net_section_load(w: Number, D_h: Number, t: Number, F: Number) -> Number:
    """Pull at which the mean stress beside the bore reaches F.

    Without a factor for the uneven stress: for ductile metal only. `axial_load` carries one.

    Args:
        w [mm]: width of the lug at the bore.
        D_h [mm]: bore.
        t [mm]: thickness.
        F [MPa]: strength of the lug, yield or ultimate.

    Returns:
        [N] load.
    """
    return F * net_area(w, D_h, t)


@method(
    formula="L = R - (D_h/2) cos 40° - (r - √(r² - ((D_h/2) sin 40°)²)), not below 0",
    source="the 40-degree planes: " + BRUHN + "; the loss by a round end is geometry",
    valid="end radius r at least half the bore",
    holds=lambda R, D_h, r: np.asarray(r) >= np.asarray(D_h) / 2.0,
)
def shear_plane(R: Number, D_h: Number, r: Number) -> Number:
    """Length of each of the two planes along which the pin tears out.

    Each leaves the bore 40 degrees from the direction of the load and runs parallel to the load
    to the edge.

    Args:
        R [mm]: centre of the bore to the edge, in the direction of the load.
        D_h [mm]: bore.
        r [mm]: radius of the end, R for a concentric round end, infinite for a square one.

    Returns:
        [mm] length of one plane; nan where r is below half the bore.
    """
    y = 0.5 * np.asarray(D_h, float) * np.sin(SHEAR_PLANE)
    r = np.asarray(r, float)
    loss = y**2 / (r + np.sqrt(np.maximum(r**2 - y**2, 0.0)))
    length = np.maximum(R - 0.5 * np.asarray(D_h) * np.cos(SHEAR_PLANE) - loss, 0.0)
    return np.where(2.0 * r >= D_h, length, np.nan)[()]


@method(
    formula="P = 2 t L F_s, L = the 40-degree plane",
    source="shear tear-out on the 40-degree planes: " + BRUHN,
    valid="end radius r at least half the bore",
    holds=lambda R, D_h, t, r, F_s: np.asarray(r) >= np.asarray(D_h) / 2.0,
)
def shear_out_load(R: Number, D_h: Number, t: Number, r: Number, F_s: Number) -> Number:
    """Pull at which the pin shears out through the end, two planes at 40 degrees.

    Args:
        R [mm]: centre of the bore to the edge, in the direction of the load.
        D_h [mm]: bore.
        t [mm]: thickness.
        r [mm]: radius of the end, R for a concentric round end, infinite for a square one.
        F_s [MPa]: shear strength of the lug, yield or ultimate.

    Returns:
        [N] load; 0 where no plane is left, nan where r is below half the bore.
    """
    return 2.0 * t * shear_plane(R, D_h, r) * F_s


@method(
    formula="P = 2 t (R - D_h/2) F_s",
    source="shear tear-out on the shortest planes; common practice, no source",
)
def tear_out_load(R: Number, D_h: Number, t: Number, F_s: Number) -> Number:
    """Pull at which the pin tears out through the end, two planes of the least length.

    Less than `shear_out_load` by the little triangle behind the pin; the quick check at the bench.

    Args:
        R [mm]: centre of the bore to the edge, in the direction of the load.
        D_h [mm]: bore.
        t [mm]: thickness.
        F_s [MPa]: shear strength of the lug, yield or ultimate.

    Returns:
        [N] load; 0 where the bore breaks the edge.
    """
    return 2.0 * t * np.maximum(R - 0.5 * np.asarray(D_h), 0.0) * F_s


@method(
    formula="σ = P / (D_p t)",
    source=PROJECTED,
)
def bearing_stress(P: Number, D_p: Number, t: Number) -> Number:
    """Bearing of the pin on the lug.

    Args:
        P [N]: load on the lug.
        D_p [mm]: pin, or outside of a bush for the lug around it.
        t [mm]: thickness.

    Returns:
        [MPa] stress on the projected area.
    """
    return P / np.multiply(D_p, t)


@method(
    formula="P = F_br D_p t",
    source=PROJECTED,
)
def bearing_load(D_p: Number, t: Number, F_br: Number) -> Number:
    """Load at which the bearing stress reaches F_br.

    Args:
        D_p [mm]: pin, or outside of a bush for the lug around it.
        t [mm]: thickness.
        F_br [MPa]: bearing strength for this edge distance, yield or ultimate.

    Returns:
        [N] load.
    """
    return F_br * np.multiply(D_p, t)


@method(
    formula="F = min(F_tu, 1.304 F_ty)",
    source=MANUAL + ", section 9.3 (ultimate load where F_tu > 1.304 F_ty), from memory",
)
def usable_ultimate(F_tu: Number, F_ty: Number) -> Number:
    """Ultimate strength a lug may count on: soft metal stretches out of shape before it breaks.

    Args:
        F_tu [MPa]: ultimate tensile strength, across the grain where that is the weaker.
        F_ty [MPa]: tensile yield strength in the same direction.

    Returns:
        [MPa] strength to put into the ultimate loads of this module.
    """
    return np.minimum(F_tu, np.multiply(PLASTIC_TO_YIELD, F_ty))


@method(
    formula="K_br = 2 (F_su/F_tu) L/D_h, L = the 40-degree plane, with no more counted of R than "
    "2 D_h, or 1.4 D_h where D_h/t > 5",
    source=MANUAL + ", figure 9-2 not at hand: replaced by the 40-degree planes of Bruhn, D1, held "
    "flat where the curves are remembered to part by D/t (from memory)",
    valid="D_h/t up to 30, end radius at least half the bore, elongation at least 5 %",
    holds=lambda R, D_h, t, r, F_su, F_tu: (
        np.less_equal(np.divide(D_h, t), 30.0) & np.greater_equal(r, np.asarray(D_h) / 2.0)
    ),
)
def shear_bearing_efficiency(
    R: Number, D_h: Number, t: Number, r: Number, F_su: Number, F_tu: Number
) -> Number:
    """Efficiency of a lug against shearing and bursting ahead of the pin, a lower estimate.

    Args:
        R [mm]: centre of the bore to the edge, in the direction of the load.
        D_h [mm]: bore.
        t [mm]: thickness.
        r [mm]: radius of the end, R for a concentric round end, infinite for a square one.
        F_su [MPa]: ultimate shear strength.
        F_tu [MPa]: ultimate tensile strength, across the grain where that is the weaker.

    Returns:
        [-] K_br, to be multiplied by F_tu D_h t; nan outside the range.
    """
    thin = np.divide(D_h, t)
    counted = np.minimum(R, np.where(thin > 5.0, 1.4, 2.0) * D_h)
    length = np.asarray(shear_plane(counted, D_h, r))
    efficiency = 2.0 * np.divide(F_su, F_tu) * length / D_h
    return np.where(thin <= 30.0, efficiency, np.nan)[()]


@method(
    formula="K_t = min(1, 0.6 (F_tu/F_ty) √(D_h/b)), b = (w - D_h)/2",
    source=MANUAL + ", figure 9-4 not at hand: replaced by the effective width of ASME BTH-1-2014, "
    "3-3.3.1, equation 3-48",
    valid="bore in the middle of the width, elongation at least 5 %",
    holds=lambda w, D_h, F_tu, F_ty: np.greater(w, D_h),
)
def net_tension_efficiency(w: Number, D_h: Number, F_tu: Number, F_ty: Number) -> Number:
    """Share of the mean stress F_tu that the net section reaches before its hot spot breaks.

    Args:
        w [mm]: width of the lug at the bore.
        D_h [mm]: bore.
        F_tu [MPa]: ultimate tensile strength.
        F_ty [MPa]: tensile yield strength.

    Returns:
        [-] K_t; 0 where the bore leaves nothing.
    """
    b = 0.5 * np.maximum(np.subtract(w, D_h), 0.0)
    with np.errstate(divide="ignore"):
        uneven = 0.6 * np.divide(F_tu, F_ty) * np.sqrt(np.divide(D_h, b))
    return np.where(b > 0.0, np.minimum(uneven, 1.0), 0.0)[()]


@method(
    formula="P = min(K_br F D_h t, K_t F (w - D_h) t), F = min(F_tu, 1.304 F_ty)",
    source=MANUAL + ", sections 9.3.1 and 9.3.2, with closed forms for K_br and K_t, see "
    "shear_bearing_efficiency and net_tension_efficiency",
    valid="D_h/t up to 30, end radius at least half the bore, bore in the middle, elongation at "
    "least 5 %",
    holds=lambda w, D_h, R, t, r, F_tu, F_ty, F_su: (
        np.less_equal(np.divide(D_h, t), 30.0)
        & np.greater_equal(r, np.asarray(D_h) / 2.0)
        & np.greater(w, D_h)
    ),
)
def axial_load(
    w: Number,
    D_h: Number,
    R: Number,
    t: Number,
    r: Number,
    F_tu: Number,
    F_ty: Number,
    F_su: Number,
) -> Number:
    """Ultimate pull along the lug, shear-bearing or net tension.

    For the yield load put F_ty for F_tu and F_ty/√3 for F_su.

    Args:
        w [mm]: width of the lug at the bore.
        D_h [mm]: bore, the bush taken out.
        R [mm]: centre of the bore to the edge, in the direction of the load.
        t [mm]: thickness.
        r [mm]: radius of the end, R for a concentric round end, infinite for a square one.
        F_tu [MPa]: ultimate tensile strength, across the grain where that is the weaker.
        F_ty [MPa]: tensile yield strength in the same direction.
        F_su [MPa]: ultimate shear strength.

    Returns:
        [N] load; nan outside the range.
    """
    F = usable_ultimate(F_tu, F_ty)
    burst = shear_bearing_efficiency(R, D_h, t, r, F_su, F_tu) * np.multiply(F, D_h) * t
    part = net_tension_efficiency(w, D_h, F_tu, F_ty) * np.asarray(net_section_load(w, D_h, t, F))
    return np.minimum(burst, part)


@method(
    formula="P = min((2 M/D_h)(2 + D_h/(D_h + h/2)), F_ty h t/√3), M = F_ty t h²/4",
    source="in place of AFFDL-TR-69-42, figure 9-8, not at hand: limit analysis of the eye as a "
    "square frame of clear span D_h and legs h, built in at the root, pushed at mid-height of one "
    "leg. Method: Neal, The Plastic Methods of Structural Analysis; own derivation, at 0.4 to 0.7 "
    "of a finite-element lower bound (tests/strength/test_lug_limit.py)",
    valid="D_h/t up to 30, root of the lug at least as wide as the eye",
    holds=lambda h, D_h, t, F_ty: np.less_equal(np.divide(D_h, t), 30.0),
)
def transverse_load(h: Number, D_h: Number, t: Number, F_ty: Number) -> Number:
    """Pull across the lug that the eye bears, a lower estimate for yield and ultimate alike.

    The lug as a cantilever from its root is another check: `parts.strength.plates.plate.edge_stress`.

    Args:
        h [mm]: least metal around the bore, from either side over to the end.
        D_h [mm]: bore, the bush taken out.
        t [mm]: thickness.
        F_ty [MPa]: tensile yield strength, across the grain where that is the weaker.

    Returns:
        [N] load; nan where D_h/t is above 30.
    """
    h = np.maximum(h, 0.0)
    M = np.multiply(F_ty, t) * np.square(h) / 4.0
    frame = 2.0 * M / D_h * (2.0 + D_h / (D_h + 0.5 * h))
    shear = np.multiply(F_ty, t) * h / np.sqrt(3.0)
    return np.where(np.divide(D_h, t) <= 30.0, np.minimum(frame, shear), np.nan)[()]


@method(
    formula="R = ((P_a/P_au)^1.6 + (P_t/P_tu)^1.6)^(1/1.6)",
    source=MANUAL + " (oblique load), from memory; Melcon & Hoblit, Product "
    "Engineering, June 1953, from memory",
)
def oblique_use(P_a: Number, P_au: Number, P_t: Number, P_tu: Number) -> Number:
    """Share of its strength that a lug uses under a slanting load.

    Args:
        P_a [N]: part of the load along the lug, sign left out.
        P_au [N]: load that the lug bears along itself.
        P_t [N]: part of the load across the lug, sign left out.
        P_tu [N]: load that the lug bears across itself.

    Returns:
        [-] use; 1 is the limit, and it grows in proportion to the load.
    """
    along, across = np.abs(np.divide(P_a, P_au)), np.abs(np.divide(P_t, P_tu))
    use: Number = (along**1.6 + across**1.6) ** (1.0 / 1.6)
    return use


@method(
    formula="P = 1 / ((cos α/P_au)^1.6 + (sin α/P_tu)^1.6)^(1/1.6)",
    source=MANUAL + " (oblique load), solved for the load, from memory",
)
def oblique_load(P_au: Number, P_tu: Number, alpha: Number) -> Number:
    """Slanting load that a lug bears.

    A push into the root is taken like a pull of the same size.

    Args:
        P_au [N]: load that the lug bears along itself.
        P_tu [N]: load that the lug bears across itself.
        alpha [rad]: angle between the load and the lug's axis.

    Returns:
        [N] load.
    """
    load: Number = 1.0 / np.asarray(oblique_use(np.cos(alpha), P_au, np.sin(alpha), P_tu))
    return load


@method(
    formula="P = 1.304 F_cy D_p t",
    source=MANUAL + " (bush bearing, ultimate), from memory",
)
def bush_load(D_p: Number, t: Number, F_cy: Number) -> Number:
    """Ultimate load of a bush pressed into a lug; its yield load is F_cy D_p t.

    Args:
        D_p [mm]: pin.
        t [mm]: length of the bush that bears on the pin, chamfers left out.
        F_cy [MPa]: compressive yield strength of the bush.

    Returns:
        [N] load.
    """
    return PLASTIC_TO_YIELD * np.asarray(F_cy) * np.multiply(D_p, t)
