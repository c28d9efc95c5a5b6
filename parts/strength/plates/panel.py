"""Thin gussets and webs that buckle in their plane: panels sheared and compressed, and right-angled corner plates.

All edges that are held are taken as simply supported, which a weld or a fold exceeds. Stresses are elastic until
`panel_strength` cuts them to the metal's. A hole lowers them: `holed_buckling_stress`. Cut corners and stiffeners are
not covered.

Worked example: corner plate of 1.5 mm steel, legs 120 and 160 mm: h = 200, H = 96 mm; σ_e = π²·205 000·1.5²/10.92·
(0.45/200² + 0.507/96²) = 27.6 MPa; sheared along its legs τ_e = 27.6·120·160/200² = 13.3 MPa.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.tables import straight_between
from parts.strength.validity import Truth, between, within

STABILITY = "Timoshenko & Gere, Theory of Elastic Stability, 2nd ed., "
HALF_WAVES = 12
"""Half waves along a compressed panel that are tried: enough for one ten times as long as wide."""


def _stiff(E: Number, t: Number, nu: Number) -> Number:
    """π² E t² / (12 (1 - ν²)) [N]."""
    value: Number = np.pi**2 * np.multiply(E, np.square(t)) / (12.0 * (1.0 - np.square(nu)))
    return value


@method(
    formula="τ = k π² E/(12 (1 - ν²)) (t/b)², b ≤ a, k = 5.34 + 4 (b/a)²",
    source="EN 1993-1-5:2006, annex A.3; " + STABILITY + "section 9.7",
)
def shear_buckling_stress(E: Number, t: Number, a: Number, b: Number, nu: Number = 0.3) -> Number:
    """Even shear at which a rectangular panel held on four sides buckles.

    For webs between flanges, floors of trays, gussets with a folded or welded edge all round; not for a panel with a
    free edge.

    Args:
        E [MPa]: Young's modulus.
        t [mm]: thickness.
        a [mm]: one side.
        b [mm]: the other side.
        nu [-]: Poisson's ratio.

    Returns:
        [MPa] shear stress, elastic.
    """
    short, long = np.minimum(a, b), np.maximum(a, b)
    stress: Number = (5.34 + 4.0 * np.square(short / long)) * _stiff(E, t, nu) / np.square(short)
    return stress


@method(
    formula="σ = k π² E/(12 (1 - ν²)) (t/b)², k = min over m of (m b/a + a/(m b))²",
    source=STABILITY + "section 9.2",
    valid="up to ten times as long as wide",
    holds=lambda E, t, a, b, nu=0.3: np.less_equal(np.divide(a, b), 10.0),
)
def held_buckling_stress(E: Number, t: Number, a: Number, b: Number, nu: Number = 0.3) -> Number:
    """Even compression at which a rectangular panel held on four sides buckles.

    For webs and boxed gussets; with one edge free take `free_edge_buckling_stress`.

    Args:
        E [MPa]: Young's modulus.
        t [mm]: thickness.
        a [mm]: length along the compression.
        b [mm]: width across it.
        nu [-]: Poisson's ratio.

    Returns:
        [MPa] stress, elastic; nan where longer than ten widths.
    """
    x = np.asarray(np.divide(a, b), float)
    m = np.arange(1, HALF_WAVES + 1)
    k = np.min(np.square(m / x[..., None] + x[..., None] / m), axis=-1)
    return within(x <= 10.0, k * _stiff(E, t, nu) / np.square(b))


def _corner(E: Number, t: Number, a: Number, b: Number, nu: Number = 0.3) -> Truth:
    return between(np.divide(a, b), 0.2, 5.0)


@method(
    formula="σ = π² E t²/(12 (1 - ν²)) (0.45/h² + 0.507/H²), h = √(a² + b²), H = a b/h",
    source="lower bound, within 6 %, of our own Ritz solution, which its test works again (legs simply supported, "
    "hypotenuse free); struts parallel to the free edge alone, as in Shakya & Vinnakota, Design Aid for Triangular "
    "Bracket Plates Using AISC Specifications, give 1/h² at the edge",
    valid="legs up to five to one, ν near 0.3",
    holds=_corner,
)
def corner_buckling_stress(E: Number, t: Number, a: Number, b: Number, nu: Number = 0.3) -> Number:
    """Even compression along its free hypotenuse at which a right-angled corner plate buckles.

    The only even stress that leaves a hypotenuse free runs along it. For gussets and bracket plates held along both
    legs.

    Args:
        E [MPa]: Young's modulus.
        t [mm]: thickness.
        a [mm]: one leg.
        b [mm]: the other leg.
        nu [-]: Poisson's ratio.

    Returns:
        [MPa] stress, elastic; nan where the legs are more than five to one.
    """
    hypotenuse = np.square(a) + np.square(b)
    height = np.square(np.multiply(a, b)) / hypotenuse
    stress = _stiff(E, t, nu) * (0.45 / hypotenuse + 0.507 / height)
    return within(_corner(E, t, a, b), stress)


@method(
    formula="τ = σ_c a b/(a² + b²)",
    source="equilibrium of the corner: even shear along the legs is even stress along the hypotenuse; "
    "σ_c: see corner_buckling_stress",
    valid="legs up to five to one, ν near 0.3",
    holds=_corner,
)
def corner_shear_buckling_stress(
    E: Number, t: Number, a: Number, b: Number, nu: Number = 0.3
) -> Number:
    """Shear along the legs, toward compression of the free edge, at which a right-angled corner plate buckles.

    For gussets in the corner of two tubes.

    Args:
        E [MPa]: Young's modulus.
        t [mm]: thickness.
        a [mm]: one leg.
        b [mm]: the other leg.
        nu [-]: Poisson's ratio.

    Returns:
        [MPa] shear stress, elastic; nan where the legs are more than five to one.
    """
    share = np.multiply(a, b) / (np.square(a) + np.square(b))
    stress: Number = np.asarray(corner_buckling_stress(E, t, a, b, nu)) * share
    return stress


CORNER_ANGLES = (45.0, 60.0, 70.0, 80.0, 90.0, 100.0, 110.0, 120.0, 130.0)
CORNER_SHARES = (1.08, 0.89, 0.75, 0.60, 0.50, 0.41, 0.345, 0.30, 0.27)
"""Part of `triangle_buckling_stress` that goes with the height, by the angle at the corner in degrees [-]: below our
own Ritz solution of triangles with sides up to 4 to 1, by 1 to 40 %, most with equal legs at a sharp corner."""


@method(
    formula="σ = π² E t²/(12 (1 - ν²)) (0.45/h² + c/H²), c = 1.08 up to 45°, 0.89 at 60°, 0.75 at 70°, 0.60 at "
    "80°, 0.50 at 90°, 0.41 at 100°, 0.345 at 110°, 0.30 at 120°, 0.27 from 130°, straight between",
    source="lower bound of our own Ritz solution, which its test works again (legs simply supported, third side free); "
    "of sides 4 to 1 and less",
)
def triangle_buckling_stress(
    E: Number, t: Number, h: Number, H: Number, phi: Number, nu: Number = 0.3
) -> Number:
    """Even compression along the free side at which a triangular plate held on two sides buckles.

    For gussets in a corner of any angle.

    Args:
        E [MPa]: Young's modulus.
        t [mm]: thickness.
        h [mm]: length of the free side.
        H [mm]: height of the corner above it.
        phi [rad]: angle at the corner, between the legs.
        nu [-]: Poisson's ratio.

    Returns:
        [MPa] stress, elastic.

    Example: the corner plate of the head of this file.
        >>> round(float(triangle_buckling_stress(205_000.0, 1.5, 200.0, 96.0, np.pi / 2.0)), 1)
        27.3
    """
    share = np.interp(np.degrees(phi), CORNER_ANGLES, CORNER_SHARES)
    stress: Number = _stiff(E, t, nu) * (0.45 / np.square(h) + share / np.square(H))
    return stress


@method(
    formula="τ = σ_c H/h",
    source="`corner_shear_buckling_stress`, of which it is the form for any corner; σ_c: see triangle_buckling_stress",
)
def triangle_shear_buckling_stress(sigma: Number, h: Number, H: Number) -> Number:
    """Shear along the legs at which a triangular plate held on them buckles.

    Args:
        sigma [MPa]: what it bears of even compression along the free side, from `triangle_buckling_stress`.
        h [mm]: length of the free side.
        H [mm]: height of the corner above it.

    Returns:
        [MPa] shear stress, elastic.

    Example: a right-angled corner with equal legs.
        >>> triangle_shear_buckling_stress(30.0, 100.0, 50.0)
        15.0
    """
    stress: Number = np.asarray(sigma) * np.divide(H, h)
    return stress


INNER = 10.0
"""Part of the push at the inner corner that counts as if it pressed the free edge [-]: one in so many."""


LONGEST = 5.0
"""Longer over shorter leg of the longest corner of the study [-]; a longer one bears less by the square of it."""


@method(
    formula="u = max(σ/σ_c + τ/τ_c, σ_i/(10 σ_c))/k, k by a table of angle and legs, straight between: 1.35 up to legs "
    "of 1.6 to 1 and 1 at 2.5 to 1 from 60° to 140°, less in sharper and flatter corners with a long leg",
    source="lower bound of our own Ritz solution under 1,500 loads for each of 128 shapes, some of which its test "
    "works again (legs simply supported, free side straight, one edge held in the plane, along the other a force and a "
    "moment)",
)
def corner_use(
    pressed: Number,
    sheared: Number,
    opened: Number,
    sigma: Number,
    tau: Number,
    ratio: Number,
    phi: Number,
) -> Number:
    """Share of its elastic buckling load that a plate in a corner bears.

    A load on the longer of two legs buckles a sharp corner soonest: at 0.48 of an even plate's at 30° and legs 2.5 to
    one. Welds hold the legs better than the hinges of the study: a solid with welded legs bore 2.2 times as much, which
    is not counted, since nobody promises that a weld holds a leg against turning.

    Args:
        pressed [MPa]: greatest compression of the free edge over the cuts through the corner.
        sheared [MPa]: mean shear along the leg that bears more.
        opened [MPa]: greatest compression of the cuts' inner ends.
        sigma [MPa]: even compression that buckles it, from `triangle_buckling_stress`.
        tau [MPa]: shear that buckles it, from `triangle_shear_buckling_stress`.
        ratio [-]: longer over shorter leg.
        phi [rad]: angle at the corner, between the legs.

    Returns:
        [-] share; 1 at first buckling.

    Example: 20 of 50 MPa at the free edge and 3.5 of 25 in shear, legs alike, square to each other.
        >>> round(float(corner_use(20.0, 3.5, 0.0, 50.0, 25.0, 1.0, np.pi / 2.0)), 6)
        0.4
    """
    both = np.divide(pressed, sigma) + np.divide(sheared, tau)
    inner = np.divide(opened, np.multiply(INNER, sigma))
    k = straight_between("corner_plate", "angle_deg", "leg_ratio", "k", np.degrees(phi), ratio)
    k = k / np.square(np.maximum(np.divide(ratio, LONGEST), 1.0))
    share: Number = np.maximum(both, inner) / k
    return share


@method(
    formula="F = F_0 (1 - d/b)",
    source="webs with a round hole in the middle, sheared: Rockey, Anderson and Cheung, from memory; for compression "
    "and for holes off the middle the same, common practice",
    valid="hole smaller than the plate is wide",
    holds=lambda F_0, d, b: np.less(d, b),
)
def holed_buckling_stress(F_0: Number, d: Number, b: Number) -> Number:
    """What a lightening hole leaves of a panel's buckling stress.

    Args:
        F_0 [MPa]: buckling stress without a hole, elastic.
        d [mm]: diameter of the largest hole; 0 for none.
        b [mm]: width of the panel.

    Returns:
        [MPa] stress, elastic; nan where no panel is left.

    Example: a hole as wide as half the panel.
        >>> float(holed_buckling_stress(40.0, 30.0, 60.0))
        20.0
    """
    return within(np.less(d, b), np.multiply(F_0, 1.0 - np.divide(d, b)))


@method(
    formula="F_b = F_e up to F_e = F/2, then F (1 - F/(4 F_e))",
    source="Johnson's parabola for plates, NACA TN 3781 (Gerard & Becker) for the need of a cut; the curve is common "
    "practice, no source",
)
def panel_strength(F_e: Number, F: Number) -> Number:
    """Stress that a panel bears before it buckles or yields.

    Args:
        F_e [MPa]: elastic buckling stress.
        F [MPa]: yield strength, in compression or in shear as the stress is; beside a weld that of the softened metal.

    Returns:
        [MPa] stress.
    """
    cut = np.asarray(F) * (1.0 - np.divide(F, 4.0 * np.asarray(F_e)))
    stress: Number = np.where(np.less_equal(F_e, 0.5 * np.asarray(F)), F_e, cut)[()]
    return stress


@method(
    formula="n = 2/(R_c + √(R_c² + 4 (R_s² + R_b²))), the root of n R_c + n² (R_s² + R_b²) = 1",
    source="interaction R_c + R_s² = 1 and R_b² + R_s² = 1: NACA TN 3781 (Gerard & Becker), from memory; the "
    "three added is below either",
)
def panel_reserve(R_c: Number, R_s: Number, R_b: Number = 0.0) -> Number:
    """How many times the load a panel bears that is compressed, sheared and bent in its plane together.

    Args:
        R_c [-]: even compression over the panel's strength; negative or 0 for pull, which is then left out.
        R_s [-]: shear over the panel's strength, sign left out.
        R_b [-]: in-plane bending stress over the strength in bending; take that in even compression where no other
            is at hand.

    Returns:
        [-] factor on all loads; infinite without load.
    """
    pressed = np.maximum(R_c, 0.0)
    sum_ = pressed + np.sqrt(np.square(pressed) + 4.0 * (np.square(R_s) + np.square(R_b)))
    with np.errstate(divide="ignore"):
        factor: Number = np.divide(2.0, sum_)
    return factor
