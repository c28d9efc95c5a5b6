"""Pins: shear, bending and both together in a round pin, solid or hollow.

A pin in double shear is a beam on two ears with the tongue between them. How far it bends depends
on where the load is taken to act. The Air Force's method lets each contact spread its load evenly
over the full thickness: `double_shear_arm`. Centre-to-centre beams
of other texts bend more; a tight pin in thick ears bends less.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method

MANUAL = "AFFDL-TR-69-42, US Air Force Stress Analysis Manual, chapter 9"
MECHANICS = "Beer & Johnston, Mechanics of Materials, section 1.2"


@method(formula="A = π (D² - d²) / 4", source="geometry")
def section_area(D: Number, d: Number = 0.0) -> Number:
    """Cross section of a round pin.

    Args:
        D [mm]: outside diameter.
        d [mm]: bore of a hollow pin, 0 for a solid one.

    Returns:
        [mm^2] area; 0 where the bore takes all.
    """
    area: Number = np.pi / 4.0 * np.maximum(np.square(D) - np.square(d), 0.0)
    return area


@method(formula="τ = F / (π (D² - d²) / 4)", source="mean shear; " + MECHANICS)
def single_shear(F: Number, D: Number, d: Number = 0.0) -> Number:
    """Mean shear in a pin cut once.

    Args:
        F [N]: force across the pin.
        D [mm]: diameter at the shear plane; the minor diameter where threads lie in it.
        d [mm]: bore of a hollow pin, 0 for a solid one.

    Returns:
        [MPa] mean shear stress.
    """
    with np.errstate(divide="ignore"):
        return np.asarray(F, float) / section_area(D, d)


@method(formula="τ = F / (2 π (D² - d²) / 4)", source="mean shear; " + MECHANICS)
def double_shear(F: Number, D: Number, d: Number = 0.0) -> Number:
    """Mean shear in a pin cut twice, both ears carrying the same.

    For ears that share unequally use `single_shear` with the larger `ear.load_share`.

    Args:
        F [N]: force on the tongue.
        D [mm]: diameter at the shear planes; the minor diameter where threads lie in one.
        d [mm]: bore of a hollow pin, 0 for a solid one.

    Returns:
        [MPa] mean shear stress in each plane.
    """
    return 0.5 * np.asarray(single_shear(F, D, d))


@method(formula="P = n F_s π (D² - d²) / 4", source="mean shear; " + MECHANICS)
def shear_load(D: Number, F_s: Number, n: Number = 2.0, d: Number = 0.0) -> Number:
    """Force that a pin bears in shear.

    Args:
        D [mm]: diameter at the shear planes.
        F_s [MPa]: shear strength of the pin, yield or ultimate.
        n [-]: shear planes, 1 or 2.
        d [mm]: bore of a hollow pin, 0 for a solid one.

    Returns:
        [N] load.
    """
    return n * np.asarray(F_s) * section_area(D, d)


@method(
    formula="b = t1/2 + g + t2/4",
    source=MANUAL + ", section 9.4, from memory; the same moment in EN 1993-1-8:2005, figure "
    "3.11, M = F (b + 4 c + 2 a) / 8",
)
def double_shear_arm(t1: Number, t2: Number, g: Number) -> Number:
    """Arm of half the load about the middle of the tongue's half, contact spread evenly.

    Args:
        t1 [mm]: thickness of one ear.
        t2 [mm]: thickness of the tongue.
        g [mm]: gap between ear and tongue on one side, bush flanges and washers included.

    Returns:
        [mm] arm between the resultant in an ear and that in half the tongue.
    """
    return 0.5 * np.asarray(t1) + g + 0.25 * np.asarray(t2)


@method(formula="M = P b / 2", source=MANUAL + ", section 9.4, from memory; statics")
def double_shear_moment(P: Number, b: Number) -> Number:
    """Bending moment at the middle of a pin in double shear.

    Args:
        P [N]: load on the tongue.
        b [mm]: arm, from `double_shear_arm`.

    Returns:
        [N*mm] moment.
    """
    return 0.5 * np.multiply(P, b)


@method(
    formula="M_b = M (b/2 − w/3)/b",
    source="statics: the tongue presses its pin evenly rising from its middle, taken as two forces at thirds of its "
    "width; an ear answers with one force at its middle",
)
def couple_moment(M: Number, w: Number, b: Number) -> Number:
    """Bending moment in a pin in double shear whose tongue is tilted along it.

    Args:
        M [N*mm]: moment that tilts the tongue against the pin.
        w [mm]: width of the tongue.
        b [mm]: from the middle of one ear to that of the other.

    Returns:
        [N*mm] moment, somewhat more than under an even rise.

    Example: 82 N·m, a tongue of 15 mm, ears 23.4 mm apart.
        >>> round(float(couple_moment(82e3, 15.0, 23.4)))
        23479
    """
    b = np.asarray(b, float)
    return np.asarray(np.multiply(M, 0.5 - np.asarray(w) / (3.0 * b)))[()]


@method(
    formula="M = P (t1 + t2 + 2 g) / 4",
    source="statics: a pin in a lap, each lug bearing evenly and the moment shared by both; "
    + MANUAL
    + ", section 9.5 (single shear), from memory",
)
def single_shear_moment(P: Number, t1: Number, t2: Number, g: Number) -> Number:
    """Bending moment in a pin in single shear whose two lugs share it alike.

    Both lugs must be held from turning by what carries them. Where one is free to turn, the other
    takes the whole couple: double this.

    Args:
        P [N]: load.
        t1 [mm]: thickness of one lug.
        t2 [mm]: thickness of the other.
        g [mm]: gap between them.

    Returns:
        [N*mm] moment; half the whole couple P (t1/2 + g + t2/2).
    """
    return 0.25 * np.asarray(P) * (np.asarray(t1) + t2 + 2.0 * np.asarray(g))


@method(
    formula="σ = 32 M D / (π (D⁴ - d⁴))",
    source="beam theory; Young & Budynas, Roark's Formulas for Stress and Strain, chapter 8",
)
def bending_stress(M: Number, D: Number, d: Number = 0.0) -> Number:
    """Bending stress at the outside of a round pin, elastic.

    Args:
        M [N*mm]: bending moment.
        D [mm]: outside diameter.
        d [mm]: bore of a hollow pin, 0 for a solid one.

    Returns:
        [MPa] stress; infinite where the bore takes all.
    """
    with np.errstate(divide="ignore"):
        return np.asarray(M, float) / _modulus(D, d)


@method(
    formula="σ = M/(π D³/32 - d D²/6)",
    source="Peterson's Stress Concentration Factors, shaft with a transverse hole (its net section); from memory",
    valid="hole up to half of the pin",
    holds=lambda M, D, d: np.less_equal(d, 0.5 * np.asarray(D, float)),
)
def drilled_bending_stress(M: Number, D: Number, d: Number) -> Number:
    """Bending stress of a solid round beside a hole across it whose mouths are bent most, without its peak.

    For pegs with a cross pin.

    Args:
        M [N*mm]: bending moment about a line square to the hole.
        D [mm]: outside diameter.
        d [mm]: of the hole.

    Returns:
        [MPa] stress; nan where the hole takes more than half of the pin.
    """
    D = np.asarray(D, float)
    left = np.pi / 32.0 * np.power(D, 3) - np.multiply(d, np.square(D)) / 6.0
    return np.where(np.less_equal(d, 0.5 * D), np.divide(M, left), np.nan)[()]


def _modulus(D: Number, d: Number) -> Number:
    """Elastic section modulus of a round [mm^3]."""
    fourth = np.maximum(np.power(D, 4.0) - np.power(d, 4.0), 0.0)
    modulus: Number = np.pi / 32.0 * fourth / np.asarray(D, float)
    return modulus


@method(
    formula="k = ((D³ - d³)/6) / (π (D⁴ - d⁴) / (32 D))",
    source="plastic over elastic section modulus, geometry; 1.70 for a solid round",
    valid="bore below the outside diameter",
    holds=lambda D, d=0.0: np.less(d, D),
)
def plastic_bending_factor(D: Number, d: Number = 0.0) -> Number:
    """Largest ratio of bending strength to that at first yield: every fibre yielding.

    A bound, not an allowable. The Air Force's manual credits 1.56 to pins of at least 5 %
    elongation and 1.0 to brittle ones (AFFDL-TR-69-42, section 9.4, from memory); EN 1993-1-8,
    table 3.10, credits 1.5 on yield.

    Args:
        D [mm]: outside diameter.
        d [mm]: bore of a hollow pin, 0 for a solid one.

    Returns:
        [-] plastic over elastic section modulus; nan where the bore takes all.
    """
    plastic = (np.power(D, 3.0) - np.power(d, 3.0)) / 6.0
    elastic = np.asarray(_modulus(D, d))
    with np.errstate(divide="ignore", invalid="ignore"):
        factor: Number = np.where(elastic > 0.0, plastic / elastic, np.nan)[()]
    return factor


@method(
    formula="M = k F π (D⁴ - d⁴) / (32 D)",
    source=MANUAL + ", section 9.4 (k = 1.56 for at least 5 % elongation, else 1.0), from memory",
    valid="k from 1 to the plastic factor of the section",
    holds=lambda D, F, k=1.0, d=0.0: (
        (np.asarray(k) >= 1.0) & (np.asarray(k) <= plastic_bending_factor(D, d))
    ),
)
def bending_moment_capacity(D: Number, F: Number, k: Number = 1.0, d: Number = 0.0) -> Number:
    """Moment that a round pin bears.

    Args:
        D [mm]: outside diameter.
        F [MPa]: tensile strength of the pin, yield or ultimate.
        k [-]: plastic bending factor; 1 stops at first yield of the outermost fibre.
        d [mm]: bore of a hollow pin, 0 for a solid one.

    Returns:
        [N*mm] moment; k above the plastic factor of the section is cut to it.
    """
    cut = np.fmin(k, plastic_bending_factor(D, d))
    capacity: Number = cut * np.asarray(F) * _modulus(D, d)
    return capacity


@method(
    formula="R = √((V/V_u)² + (M/M_u)²)",
    source="EN 1993-1-8:2005, table 3.10 (combined shear and bending resistance of the pin)",
)
def shear_and_bending(V: Number, V_u: Number, M: Number, M_u: Number) -> Number:
    """Share of its strength that a pin uses where shear and bending meet.

    Args:
        V [N]: shear at the section.
        V_u [N]: shear that the section bears alone.
        M [N*mm]: moment at the section.
        M_u [N*mm]: moment that the section bears alone.

    Returns:
        [-] use; 1 is the limit, and 1/use the factor on both together.
    """
    return np.hypot(np.divide(V, V_u), np.divide(M, M_u))


@method(
    formula="x = grip - shank, not below 0",
    source="FAA AC 43.13-1B, chapter 7 (grip length of a bolt equals the thickness of the stack), "
    "from memory",
)
def thread_in_grip(grip: Number, shank: Number) -> Number:
    """Length of thread that bears inside the stack; none is right.

    Thread bears on its crests only and cuts the bore.

    Args:
        grip [mm]: thickness of all that is clamped, washers under the head and beyond left out.
        shank [mm]: plain length under the head, less any washer under the head.

    Returns:
        [mm] length of thread within the stack; the nut end's washers must take it up instead.
    """
    return np.maximum(np.subtract(grip, shank), 0.0)
