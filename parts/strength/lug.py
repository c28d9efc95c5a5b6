"""Lugs: an eye or an ear loaded by a pin, by the classical planes and by the Air Force's method.

The house's lug: thickness t, width w at the bore, bore D_h, pin D_p, and R from the centre of the
bore to the edge that the pin pushes towards. Every load is for one lug; a clevis has two, see
`ear_load`.

The Air Force Stress Analysis Manual (AFFDL-TR-69-42, chapter 9) reads its efficiencies off curves.
Those figures were not at hand, so no curve point is used here: `axial_load` and `transverse_load`
take closed forms meant to lie below the curves instead, each stated where it stands. What the
manual gives in closed form (the oblique interaction, the bush, the 1.304 rule) is used as it
stands there. The same lug by ASME BTH-1 and by AISC 360 is in `parts.strength.pinned_plate`.
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
