"""Threads that strip: strip areas, what they bear, and the engagement that breaks the bolt first.

`d`, `d2` are major and pitch diameter of the external thread, `D1`, `D2` minor and pitch diameter of the internal one,
`p` the pitch. A strip area at minimum material is the least that a pair inside its tolerance can have.
"""

from __future__ import annotations

import numpy as np

from parts.strength.bolted.thread import FULL_HEIGHT, H28, TAN_30, minor_diameter
from parts.strength.method import Number, method


@method(
    formula="A = π L_e/p · D1_max (p/2 + (d2_min − D1_max)/√3)",
    source=H28,
    valid="60 degree thread whose flanks overlap: d2_min over D1_max − p √3/2",
    holds=lambda p, L_e, D1_max, d2_min: (
        np.asarray(d2_min) > np.asarray(D1_max) - FULL_HEIGHT * np.asarray(p)
    ),
)
def external_strip_area(p: Number, L_e: Number, D1_max: Number, d2_min: Number) -> Number:
    """Area that shears when the bolt's threads strip: a cylinder at the nut's minor diameter.

    Args:
        p [mm]: pitch.
        L_e [mm]: length of full thread engagement.
        D1_max [mm]: largest minor diameter of the internal thread.
        d2_min [mm]: smallest pitch diameter of the external thread.

    Returns:
        [mm^2] strip area of the external thread; nil where the flanks do not overlap.

    Example: 1/4-20 UNC 2A in 2B, printed as 0.368 in^2 for an inch of engagement.
        >>> area = external_strip_area(25.4 / 20, 25.4, 0.2070 * 25.4, 0.2127 * 25.4)
        >>> round(float(area) / 25.4**2, 3)
        0.368
    """
    return np.pi * L_e / p * D1_max * np.maximum(p / 2.0 + TAN_30 * (d2_min - D1_max), 0.0)


@method(
    formula="A = π L_e/p · d_min (p/2 + (d_min − D2_max)/√3)",
    source=H28,
    valid="60 degree thread whose flanks overlap: d_min over D2_max − p √3/2",
    holds=lambda p, L_e, d_min, D2_max: (
        np.asarray(d_min) > np.asarray(D2_max) - FULL_HEIGHT * np.asarray(p)
    ),
)
def internal_strip_area(p: Number, L_e: Number, d_min: Number, D2_max: Number) -> Number:
    """Area that shears when nut or boss strip: a cylinder at the bolt's major diameter.

    Args:
        p [mm]: pitch.
        L_e [mm]: length of full thread engagement.
        d_min [mm]: smallest major diameter of the external thread.
        D2_max [mm]: largest pitch diameter of the internal thread.

    Returns:
        [mm^2] strip area of the internal thread; nil where the flanks do not overlap.

    Example: 1/4-20 UNC 2A in 2B, printed as 0.539 in^2 for an inch of engagement.
        >>> area = internal_strip_area(25.4 / 20, 25.4, 0.2408 * 25.4, 0.2224 * 25.4)
        >>> round(float(area) / 25.4**2, 3)
        0.539
    """
    return np.pi * L_e / p * d_min * np.maximum(p / 2.0 + TAN_30 * (d_min - D2_max), 0.0)


@method(
    formula="A = share · 3/4 π D1 L_e, D1 = d − 5√3/8 p",
    source=H28 + ", at basic size; the share is common practice, no source",
    valid="d at least 4 mm; usual tolerances (2A/2B, 6g/6H or closer)",
    holds=lambda d, p, L_e, share=0.7: np.asarray(d) >= 4.0,
)
def external_strip_area_basic(d: Number, p: Number, L_e: Number, share: Number = 0.7) -> Number:
    """Strip area of the bolt's threads when only the nominal size is known.

    The formula at minimum material, worked with basic diameters, gives 3/4 π D1 L_e, which no real
    pair has. `share` is what tolerances leave of it: 0.71 to
    0.80 for 2A/2B and 6g/6H from 4 to 10 mm.

    Args:
        d [mm]: basic major diameter.
        p [mm]: pitch.
        L_e [mm]: length of full thread engagement.
        share [-]: part of the basic area that is left at minimum material.

    Returns:
        [mm^2] strip area of the external thread.

    Example: M8 × 1.25 over 8 mm.
        >>> round(float(external_strip_area_basic(8.0, 1.25, 8.0)), 1)
        87.7
    """
    return share * 0.75 * np.pi * minor_diameter(d, p) * L_e


@method(
    formula="A = share · 7/8 π d L_e",
    source=H28 + ", at basic size; the share is common practice, no source",
    valid="d at least 4 mm; usual tolerances (2A/2B, 6g/6H or closer)",
    holds=lambda d, L_e, share=0.7: np.asarray(d) >= 4.0,
)
def internal_strip_area_basic(d: Number, L_e: Number, share: Number = 0.7) -> Number:
    """Strip area of the threads of a nut or boss when only the nominal size is known.

    With a thread insert, `d` is the major diameter of the insert's outer thread.

    Args:
        d [mm]: basic major diameter.
        L_e [mm]: length of full thread engagement.
        share [-]: part of the basic area that is left at minimum material.

    Returns:
        [mm^2] strip area of the internal thread.

    Example: M8 over 12 mm.
        >>> round(float(internal_strip_area_basic(8.0, 12.0)), 1)
        184.7
    """
    return share * 0.875 * np.pi * d * L_e


@method(
    formula="D = d + 3√3/4 p",
    source="NASM33537 and ASME B18.29.1 (helical coil inserts): basic major diameter of the tapped "
    "hole; from memory",
)
def insert_major_diameter(d: Number, p: Number) -> Number:
    """Major diameter of the thread in the boss that takes a wire thread insert.

    A solid bushing insert has its own outer thread: take that from its drawing.

    Args:
        d [mm]: major diameter of the bolt.
        p [mm]: pitch.

    Returns:
        [mm] basic major diameter of the thread in the boss.

    Example: 1/4-20, 0.315 in.
        >>> round(float(insert_major_diameter(6.35, 1.27)) / 25.4, 3)
        0.315
    """
    return d + 1.5 * FULL_HEIGHT * p


THINNEST, MEASURED = 1.25, 1.4
"""Outside diameter around a thread, in diameters: least that counts, and least that Alexander's parabola was fitted
to."""


@method(
    formula="C1 = 3.8 s − s² − 2.61 for 1.4 ≤ s < 1.9, 1 above; 1.875 (s − 1) below 1.4; s = D_o/d",
    source="E. M. Alexander, SAE 770420 (1977); VDI 2230-1:2015, 5.5.5; from memory; below 1.4 a bound of our own: the "
    "straight line to nothing where there is no wall, which lies below the parabola",
    valid="wall around the thread D_o/d at least 1.25",
    holds=lambda D_o, d: np.asarray(D_o) >= THINNEST * np.asarray(d),
)
def dilation_factor(D_o: Number, d: Number) -> Number:
    """What the swelling of a thin nut, boss or tube end leaves of the strip strength.

    Args:
        D_o [mm]: outer diameter of the boss, or width across flats of the nut.
        d [mm]: major diameter of the thread.

    Returns:
        [-] factor on the strip capacity, at most 1; not a number below 1.25 diameters.

    Example: a boss of 1.5 diameters keeps 0.84.
        >>> round(float(dilation_factor(15.0, 10.0)), 2)
        0.84
    """
    s = np.asarray(D_o, float) / d
    thin = np.where(s < THINNEST, np.nan, 1.875 * (s - 1.0))
    return np.where(s < MEASURED, thin, np.where(s < 1.9, 3.8 * s - s**2 - 2.61, 1.0))[()]


@method(
    formula="R = τ_int A_int / (τ_ext A_ext)",
    source="E. M. Alexander, SAE 770420 (1977); VDI 2230-1:2015, 5.5.5; from memory",
)
def strip_strength_ratio(A_int: Number, tau_int: Number, A_ext: Number, tau_ext: Number) -> Number:
    """Strip strength of the nut's thread over that of the bolt's, before their flanks bend.

    Args:
        A_int [mm^2]: strip area of the internal thread.
        tau_int [MPa]: shear strength of nut or boss.
        A_ext [mm^2]: strip area of the external thread.
        tau_ext [MPa]: shear strength of the bolt.

    Returns:
        [-] ratio.
    """
    return np.multiply(tau_int, A_int) / np.multiply(tau_ext, A_ext)


@method(
    formula="C3 = 0.728 + 1.769 R − 2.896 R² + 1.296 R³, at most 1, for 0.4 < R < 1, 0.897 above, 1 below",
    source="E. M. Alexander, SAE 770420 (1977); VDI 2230-1:2015, 5.5.5; from memory",
    valid="R over 0.4",
    holds=lambda R: np.asarray(R) > 0.4,
)
def internal_bending_factor(R: Number) -> Number:
    """What the bending of the flanks leaves of the strip strength of the nut's threads.

    A much stronger bolt holds the nut's flanks straight, so the published factor passes 1; it is held at 1 here, on
    the safe side, and at R = 0.4 and below, where it is not published, as well.

    Args:
        R [-]: strip strength of the internal thread over that of the external thread, both without
            these factors.

    Returns:
        [-] factor on the internal thread's strip capacity.

    Example: equal strengths keep 0.897.
        >>> round(float(internal_bending_factor(1.0)), 3)
        0.897
    """
    R = np.asarray(R, float)
    weak = 0.728 + R * (1.769 + R * (-2.896 + R * 1.296))
    return np.where(R > 0.4, np.where(R < 1.0, np.minimum(weak, 1.0), 0.897), 1.0)[()]


@method(
    formula="C2 = 5.594 − 13.682 R + 14.107 R² − 6.057 R³ + 0.9353 R⁴ for 1 < R < 2.2, 0.897 below",
    source="E. M. Alexander, SAE 770420 (1977); from memory",
    valid="R under 2.2",
    holds=lambda R: np.asarray(R) < 2.2,
)
def external_bending_factor(R: Number) -> Number:
    """What the bending of the flanks leaves of the strip strength of the bolt's threads.

    A much stronger nut holds the bolt's flanks straight, so the published factor passes 1; it is
    held at 1 here, on the safe side, and from R = 2.2 on as well.

    Args:
        R [-]: strip strength of the internal thread over that of the external thread, both without
            these factors.

    Returns:
        [-] factor on the external thread's strip capacity.

    Example: equal strengths keep 0.897.
        >>> round(float(external_bending_factor(1.0)), 3)
        0.897
    """
    R = np.clip(np.asarray(R, float), 0.0, 2.2)
    strong = 5.594 + R * (-13.682 + R * (14.107 + R * (-6.057 + R * 0.9353)))
    return np.where(R <= 1.0, 0.897, np.minimum(strong, 1.0))[()]


@method(
    formula="F = C1 C τ A",
    source=H28 + "; factors by E. M. Alexander, SAE 770420 (1977)",
)
def strip_capacity(A: Number, tau: Number, C1: Number = 1.0, C: Number = 1.0) -> Number:
    """Axial force at which a thread strips.

    Args:
        A [mm^2]: strip area of that thread.
        tau [MPa]: shear strength of its material.
        C1 [-]: factor for the swelling of the nut or boss.
        C [-]: factor for the bending of the flanks.

    Returns:
        [N] axial force.

    Example:
        >>> strip_capacity(100.0, 200.0)
        20000.0
    """
    return C1 * C * tau * A


@method(
    formula="L_e = R_m A_s / min(τ_ext a_ext, τ_int a_int)",
    source=H28 + ", solved for the engagement with each thread's own shear strength",
)
def engagement_for_bolt_break(
    A_s: Number, R_m: Number, a_ext: Number, tau_ext: Number, a_int: Number, tau_int: Number
) -> Number:
    """Full engagement at which the bolt breaks in tension before either thread strips.

    Threads at the end of a bolt and in a countersunk mouth do not count: add them.

    Args:
        A_s [mm^2]: tensile stress area of the bolt.
        R_m [MPa]: tensile strength of the bolt; its upper value, as a strong bolt asks most.
        a_ext [mm]: strip area of the external thread for each mm of engagement.
        tau_ext [MPa]: shear strength of the bolt.
        a_int [mm]: strip area of the internal thread for each mm of engagement.
        tau_int [MPa]: shear strength of the nut or boss.

    Returns:
        [mm] length of full thread engagement.

    Example: 8.8 bolt M8 in a boss that shears at 200 MPa.
        >>> a_ext = external_strip_area_basic(8.0, 1.25, 1.0)
        >>> a_int = internal_strip_area_basic(8.0, 1.0)
        >>> need = engagement_for_bolt_break(36.6, 800.0, a_ext, 480.0, a_int, 200.0)
        >>> round(float(need), 1)
        9.5
    """
    return R_m * A_s / np.minimum(tau_ext * a_ext, tau_int * a_int)


@method(
    formula="F = C1 τ · share · 7/8 π d L_e",
    source=H28 + ", at basic size; the share is common practice, no source",
    valid="d at least 4 mm, wall D_o/d at least 1.25",
    holds=lambda d, L_e, tau, D_o, share=0.7: (
        (np.asarray(d) >= 4.0) & (np.asarray(D_o) >= THINNEST * np.asarray(d))
    ),
)
def boss_strip_capacity(
    d: Number, L_e: Number, tau: Number, D_o: Number, share: Number = 0.7
) -> Number:
    """Pull-out force of a bolt tapped straight into a boss, as in a light alloy.

    Args:
        d [mm]: major diameter of the bolt.
        L_e [mm]: length of full thread engagement.
        tau [MPa]: shear strength of the boss.
        D_o [mm]: outer diameter of the boss.
        share [-]: part of the basic area that is left at minimum material.

    Returns:
        [N] axial force at which the boss strips; not a number for a wall below 1.25 diameters.

    Example: M8, 16 mm deep in 6061-T6 at 165 MPa shear, boss 20 mm.
        >>> round(float(boss_strip_capacity(8.0, 16.0, 165.0, 20.0)))
        40640
    """
    return strip_capacity(internal_strip_area_basic(d, L_e, share), tau, dilation_factor(D_o, d))


@method(
    formula="F = C1 τ · share · 7/8 π D L_e, D = d + 3√3/4 p",
    source=H28 + ", at the insert's outer thread; the share is common practice, no source",
    valid="d at least 4 mm, wall at least 1.25 times the insert's outer thread",
    holds=lambda d, p, L_e, tau, D_o, share=0.7: (
        (np.asarray(d) >= 4.0)
        & (np.asarray(D_o) >= THINNEST * (np.asarray(d) + 1.5 * FULL_HEIGHT * np.asarray(p)))
    ),
)
def boss_strip_capacity_insert(
    d: Number, p: Number, L_e: Number, tau: Number, D_o: Number, share: Number = 0.7
) -> Number:
    """Pull-out force of a bolt in a wire insert: the boss strips at the insert's outer thread.

    Args:
        d [mm]: major diameter of the bolt.
        p [mm]: pitch.
        L_e [mm]: length of the insert in full engagement.
        tau [MPa]: shear strength of the boss.
        D_o [mm]: outer diameter of the boss.
        share [-]: part of the basic area that is left at minimum material.

    Returns:
        [N] axial force at which the boss strips; not a number for a wall below 1.25 diameters.

    Example: M8, insert 16 mm long in 6061-T6 at 165 MPa shear, boss 20 mm.
        >>> round(float(boss_strip_capacity_insert(8.0, 1.25, 16.0, 165.0, 20.0)))
        48888
    """
    D = insert_major_diameter(d, p)
    return strip_capacity(internal_strip_area_basic(D, L_e, share), tau, dilation_factor(D_o, D))
