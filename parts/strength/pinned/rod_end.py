"""Rod ends: the head, the threaded shank, and how far the ball may swing.

Dimensions as in the standards of rod ends (ISO 12240-4, SAE AS81935): head diameter `D` and width
`T`, ball diameter `E` and width, bore, thread of the shank. A rating printed for the bought part goes
before these figures; they are for what has no rating, and for the bent shank, which no rating covers.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method

STATICS = "strength of materials; dimensions as in ISO 12240-4 and SAE AS81935"
GEOMETRY = "geometry; the form usual in spherical bearing tables, common practice, no source"


@method(
    formula="A = T (D − K)",
    source=STATICS,
    valid="head larger than its cavity",
    holds=lambda D, T, K: np.asarray(D) > np.asarray(K),
)
def head_area_flat(D: Number, T: Number, K: Number) -> Number:
    """Net section of a head with a cylindrical outside: both sides of the eye, square to the pull.

    The cavity is taken at its widest over the whole width.

    Args:
        D [mm]: head diameter.
        T [mm]: head width.
        K [mm]: cavity in the body: the ball, or the outside of a race set in it.

    Returns:
        [mm^2] net section; nil where the cavity is as large as the head.

    Example: head 25.4 by 10.3, race 19.
        >>> round(float(head_area_flat(25.4, 10.3, 19.0)), 2)
        65.92
    """
    return T * np.maximum(np.asarray(D, float) - K, 0.0)


@method(
    formula="A = D²/2 asin(T/D) + T/2 √(D² − T²) − K T",
    source=STATICS,
    valid="head no wider than its diameter, larger than its cavity",
    holds=lambda D, T, K: (np.asarray(T) <= np.asarray(D)) & (head_area_flat(D, T, K) > 0.0),
)
def head_area_round(D: Number, T: Number, K: Number) -> Number:
    """Net section of a head rounded as a ball outside, cut flat at both faces.

    The cavity is taken at its widest over the whole width.

    Args:
        D [mm]: head diameter.
        T [mm]: head width.
        K [mm]: cavity in the body: the ball, or the outside of a race set in it.

    Returns:
        [mm^2] net section; not a number for a head wider than its diameter.

    Example: head 25.4 by 10.3, race 19.
        >>> round(float(head_area_round(25.4, 10.3, 19.0)), 2)
        58.56
    """
    D, T = np.asarray(D, float), np.asarray(T, float)
    with np.errstate(invalid="ignore"):
        disc = D**2 / 2.0 * np.arcsin(T / D) + T / 2.0 * np.sqrt(D**2 - T**2)
    return np.maximum(disc - K * T, 0.0)


@method(
    formula="F = σ A",
    source=STATICS + "; mean stress in the net section, as for a ductile lug",
)
def head_capacity(A: Number, sigma: Number) -> Number:
    """Radial pull that the head's net section carries.

    The eye is a lug as well: its bearing and shear-out are checked as a lug's.

    Args:
        A [mm^2]: net section of the head.
        sigma [MPa]: strength of the body: proof stress for a limit load, tensile for breaking.

    Returns:
        [N] radial pull.

    Example:
        >>> head_capacity(60.0, 800.0)
        48000.0
    """
    return A * sigma


@method(formula="F = p E T", source=STATICS + "; projected area of the ball in its race")
def race_capacity(E: Number, T: Number, p: Number) -> Number:
    """Radial force that the race carries.

    Args:
        E [mm]: ball diameter.
        T [mm]: width of the race.
        p [MPa]: pressure that the race or its liner stands.

    Returns:
        [N] radial force.

    Example: ball 15.9, race 10.3, lined at 140 MPa.
        >>> round(race_capacity(15.9, 10.3, 140.0))
        22928
    """
    return p * E * T


@method(
    formula="F = σ π/4 (d3² − h²)",
    source=STATICS + "; thread root as in ISO 898-1",
    valid="hole smaller than the thread root",
    holds=lambda d3, sigma, h=0.0: np.asarray(d3) > np.asarray(h),
)
def shank_capacity(d3: Number, sigma: Number, h: Number = 0.0) -> Number:
    """Pull along the shank at the root of its thread.

    Args:
        d3 [mm]: root diameter of the thread.
        sigma [MPa]: strength of the body.
        h [mm]: hole drilled along the shank, as for grease.

    Returns:
        [N] pull; nil where the hole is as large as the root.

    Example: M10 at 600 MPa: root 8.160.
        >>> round(float(shank_capacity(8.160, 600.0)))
        31378
    """
    root = np.maximum(np.square(np.asarray(d3)) - np.square(np.asarray(h)), 0.0)
    return sigma * np.asarray(np.pi / 4.0 * root)


@method(
    formula="σ = |N|/A + 32 d3 (|M| + |V| L)/(π (d3⁴ − h⁴)), A = π/4 (d3² − h²)",
    source=STATICS + "; nominal elastic stress at the thread root, without notch factor",
    valid="hole smaller than the thread root",
    holds=lambda N, V, L, d3, h=0.0, M=0.0: np.asarray(d3) > np.asarray(h),
)
def shank_stress(
    N: Number, V: Number, L: Number, d3: Number, h: Number = 0.0, M: Number = 0.0
) -> Number:
    """Stress at the thread root of a shank that is pulled and bent.

    Args:
        N [N]: force along the shank.
        V [N]: force across it at the ball's centre.
        L [mm]: from the ball's centre to where the thread is held: the jam nut's face.
        d3 [mm]: root diameter of the thread.
        h [mm]: hole drilled along the shank.
        M [N*mm]: moment beside, in whatever plane, as from a ball that binds or a load off the axis.

    Returns:
        [MPa] largest direct stress.

    Example: M10, 2 kN along and 0.4 kN across at 40 mm.
        >>> round(float(shank_stress(2000.0, 400.0, 40.0, 8.160)), 1)
        338.2
    """
    area = np.pi / 4.0 * (np.square(d3) - np.square(h))
    modulus = np.pi / 32.0 * (np.power(d3, 4) - np.power(h, 4)) / d3
    return np.asarray(np.abs(N) / area + (np.abs(M) + np.abs(V) * L) / modulus)[()]


@method(
    formula="F = σ/(cos β/A + L sin β/W), A = π/4 (d3² − h²), W = π/32 (d3⁴ − h⁴)/d3",
    source=STATICS + "; nominal elastic stress at the thread root",
    valid="angle from 0 to 90 degrees, hole smaller than the thread root",
    holds=lambda beta, L, d3, sigma, h=0.0: (
        (np.asarray(beta) >= 0.0)
        & (np.asarray(beta) <= np.pi / 2.0)
        & (np.asarray(d3) > np.asarray(h))
    ),
)
def misaligned_capacity(
    beta: Number, L: Number, d3: Number, sigma: Number, h: Number = 0.0
) -> Number:
    """Force on the ball at an angle to the shank that brings the thread root to its strength.

    At 0 it is the plain pull, at 90 degrees a side load on a cantilever.

    Args:
        beta [rad]: angle between force and shank.
        L [mm]: from the ball's centre to where the thread is held.
        d3 [mm]: root diameter of the thread.
        sigma [MPa]: proof stress of the body.
        h [mm]: hole drilled along the shank.

    Returns:
        [N] force; not a number outside 0 to 90 degrees.

    Example: M10 at 600 MPa, held 40 mm off, 10 degrees out of line.
        >>> round(float(misaligned_capacity(np.radians(10.0), 40.0, 8.160, 600.0)))
        4026
    """
    beta = np.asarray(beta, float)
    unit = shank_stress(np.cos(beta), np.sin(beta), L, d3, h)
    inside = (beta >= 0.0) & (beta <= np.pi / 2.0)
    return np.where(inside, sigma / unit, np.nan)[()]


@method(
    formula="F_a = share · C_0",
    source="common practice, no source: makers print 0.1 to 0.2 of the radial rating",
)
def axial_capacity(C_0: Number, share: Number = 0.1) -> Number:
    """Force along the pin that presses the ball out of the race, when none is printed for the part.

    Args:
        C_0 [N]: static radial rating.
        share [-]: part of it that counts along the pin.

    Returns:
        [N] axial force.

    Example:
        >>> axial_capacity(25.0e3)
        2500.0
    """
    return share * C_0


@method(
    formula="F = share · C_0",
    source="common practice, no source: a rod end in reversing load, no fatigue rating printed",
)
def reversing_capacity(C_0: Number, share: Number = 0.25) -> Number:
    """Peak of a reversing radial load for long life, when no fatigue rating is printed.

    The thread root governs; hold it against `thread_amplitude_capacity` as well.

    Args:
        C_0 [N]: static radial rating.
        share [-]: part of it for reversing load; 0.5 for load that pulsates from nil.

    Returns:
        [N] peak load.

    Example:
        >>> reversing_capacity(25.0e3)
        6250.0
    """
    return share * C_0


@method(
    formula="F_A = σ_A A_s/C",
    source="VDI 2230-1, 5.5.3, applied to the shank's thread",
)
def thread_amplitude_capacity(A_s: Number, sigma_A: Number, C: Number = 1.0) -> Number:
    """Amplitude of the load along a link that the shank's thread stands for ever.

    Args:
        A_s [mm^2]: tensile stress area of the shank.
        sigma_A [MPa]: endurable stress amplitude of the thread.
        C [-]: share of the load that the shank feels; 1 unless a jam nut is known to hold its bite.

    Returns:
        [N] amplitude.

    Example: M10, rolled: 58 mm² at 51 MPa.
        >>> thread_amplitude_capacity(58.0, 51.0)
        2958.0
    """
    return sigma_A * A_s / C


@method(
    formula="α = asin(G/D) − asin(T/D)",
    source=GEOMETRY,
    valid="head rounded as a ball of D; ears reach past the head; gap G from T to D",
    holds=lambda G, T, D: (np.asarray(G) >= np.asarray(T)) & (np.asarray(G) <= np.asarray(D)),
)
def swing_between_ears(G: Number, T: Number, D: Number) -> Number:
    """How far a round head swings to one side before it touches the ears beside the ball.

    Args:
        G [mm]: gap between the ears: ball width and spacers.
        T [mm]: head width.
        D [mm]: head diameter.

    Returns:
        [rad] angle from the middle; nil for a gap below the head's width, not a number above D.

    Example: gap 14, head 25.4 by 10.3: 9.5 degrees.
        >>> round(float(np.degrees(swing_between_ears(14.0, 10.3, 25.4))), 1)
        9.5
    """
    with np.errstate(invalid="ignore"):
        turn = np.arcsin(np.asarray(G) / D) - np.arcsin(np.asarray(T) / D)
    return np.asarray(np.maximum(turn, 0.0))[()]


@method(
    formula="α = asin(G/√(D² + T²)) − atan(T/D)",
    source="geometry of a square corner",
    valid="head with square corners; ears reach past the head; gap G at least T and below √(D² + T²)",
    holds=lambda G, T, D: (np.asarray(G) >= np.asarray(T)) & (np.asarray(G) <= np.hypot(D, T)),
)
def swing_between_ears_square(G: Number, T: Number, D: Number) -> Number:
    """How far a head with square corners swings before it touches the ears beside the ball.

    Args:
        G [mm]: gap between the ears: ball width and spacers.
        T [mm]: head width.
        D [mm]: head diameter.

    Returns:
        [rad] angle from the middle; nil for a gap below the head's width, not a number where the
            corner passes through the gap.

    Example: gap 14, head 25.4 by 10.3: 8.6 degrees.
        >>> round(float(np.degrees(swing_between_ears_square(14.0, 10.3, 25.4))), 1)
        8.6
    """
    corner = np.hypot(D, T)
    with np.errstate(invalid="ignore"):
        turn = np.arcsin(np.asarray(G) / corner) - np.arctan2(T, D)
    return np.asarray(np.maximum(turn, 0.0))[()]


@method(
    formula="α = acos(S/E) − asin(T/E)",
    source=GEOMETRY,
    valid="shoulder S smaller than the ball, race narrower than it",
    holds=lambda S, T, E: (np.asarray(S) < np.asarray(E)) & (np.asarray(T) < np.asarray(E)),
)
def swing_at_shoulder(S: Number, T: Number, E: Number) -> Number:
    """How far the head swings before the rim of its race touches what sticks out of the ball.

    S is the ball's neck, a spacer, or the pin itself; for a plain ball of width W it is √(E² − W²),
    its flat face, and then the ball starts to leave the race.

    Args:
        S [mm]: outside diameter of neck, spacer or pin beside the ball.
        T [mm]: width of the race.
        E [mm]: ball diameter.

    Returns:
        [rad] angle from the middle, at least nil; not a number for a shoulder larger than the ball.

    Example: ball 19, spacer 13, race 10.3: 14.0 degrees.
        >>> round(float(np.degrees(swing_at_shoulder(13.0, 10.3, 19.0))), 1)
        14.0
    """
    with np.errstate(invalid="ignore"):
        turn = np.arccos(np.asarray(S) / E) - np.arcsin(np.asarray(T) / E)
    return np.asarray(np.maximum(turn, 0.0))[()]


@method(
    formula="α = atan(G/(2 R)) − asin(T/(2 ρ)), ρ = √(R² + G²/4), where √(ρ² − T²/4) ≤ D/2; "
    "as between long ears elsewhere",
    source="geometry of an ear's rim on a flat head face",
    valid="gap G at least T and below √(D² + T²)",
    holds=lambda G, T, D, R: (np.asarray(G) >= np.asarray(T)) & (np.asarray(G) <= np.hypot(D, T)),
)
def swing_at_ear_rim(G: Number, T: Number, D: Number, R: Number) -> Number:
    """How far a head swings between short ears: the ear's rim meets the head's face.

    Args:
        G [mm]: gap between the ears: ball width and spacers.
        T [mm]: head width.
        D [mm]: head diameter.
        R [mm]: how far the ear reaches from the pin's axis, in the plane of the swing.

    Returns:
        [rad] angle from the middle, at least nil.

    Example: ears of radius 9 beside the head of 25.4 by 10.3, gap 14: 11.0 degrees.
        >>> round(float(np.degrees(swing_at_ear_rim(14.0, 10.3, 25.4, 9.0))), 1)
        11.0
    """
    R, half = np.asarray(R, float), np.asarray(T, float) / 2.0
    reach = np.hypot(R, np.asarray(G) / 2.0)
    rim = np.arctan2(np.asarray(G) / 2.0, R) - np.arcsin(np.minimum(half / reach, 1.0))
    on_face = reach**2 - half**2 <= np.square(D) / 4.0
    return np.where(on_face, np.maximum(rim, 0.0), swing_between_ears_square(G, T, D))[()]
