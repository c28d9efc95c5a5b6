"""Welds: what each mm of a weld line carries, the stress in throat and leg, plugs, and tube welds.

Forces per length are in N/mm; the throat of an equal-legged fillet of leg h is h/√2. A weld is no
stronger than the metal beside it, and heat takes strength from that metal: the strengths that go in
here are the welded ones.

Lines are of full size from end to end: leave out start and end craters, a throat's length each
(EN 1993-1-8, 4.5.1), unless the weld runs round the corner.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from parts.strength.method import Number, method
from parts.strength.section import bar
from parts.strength.vectors import cross
from parts.strength.welded.line import AS_A_LINE, Path, centroid, length, unit_inertia

Array = NDArray[np.float64]

NEXT_TO_NOTHING = 1e-200  # N·mm; keeps numbers near the end of the float's range out of the way
THROAT = 1.0 / math.sqrt(2.0)
SHIGLEY = "Shigley, Mechanical Engineering Design, ch. 9 (welding, bonding)"


@method(
    formula="q = F/L + (I⁻¹ M) × r, M = M + (P − r̄) × F",
    source=AS_A_LINE + "; " + SHIGLEY + ", 9-3 and 9-4",
    valid="weld that resists the moment: a single straight line resists none about itself",
    holds=lambda path, F, M, point: np.isfinite(_spin(path, _moment(path, F, M, point))).all(-1),
)
def line_force(path: Path, F: Number, M: Number, point: Number) -> Array:
    """Force on each mm of a weld under a force and a moment at any point, in plane and out of it.

    All of the weld is taken as equally stiff, which is what adding direct, torsional and bending
    shear of a plane group comes to; it holds for a weld in space as well.

    Args:
        path [mm]: the weld.
        F [N]: force (..., 3).
        M [N*mm]: moment (..., 3).
        point [mm]: where the force acts (..., 3).

    Returns:
        [N/mm] force for each length at every station (..., m, 3); not a number where the weld
            cannot resist the moment.

    Example: 1000 N on two lines of 50, pulled along them.
        >>> from parts.strength.welded.line import line
        >>> two = line([0.0, 0.0], [50.0, 0.0]) + line([0.0, 20.0], [50.0, 20.0])
        >>> middle = np.array([25.0, 10.0, 0.0])
        >>> q = line_force(two, np.array([1000.0, 0.0, 0.0]), np.zeros(3), middle)
        >>> [round(float(part), 9) for part in q[0]]
        [10.0, 0.0, 0.0]
    """
    F = np.asarray(F, float)
    r = path.points - centroid(path)[..., None, :]
    spin = _spin(path, _moment(path, F, M, point))
    direct = F / length(path)[..., None]
    return np.asarray(direct[..., None, :] + cross(spin[..., None, :], r))


def _moment(path: Path, F: Number, M: Number, point: Number) -> Array:
    """Moment about the weld's centroid."""
    arm = np.asarray(point, float) - centroid(path)
    return np.asarray(M, float) + cross(arm, np.asarray(F, float))


def _spin(path: Path, moment: Array) -> Array:
    """I⁻¹ M: the force per length at unit distance; not a number where the weld cannot resist M."""
    tensor = unit_inertia(path)
    scale = np.trace(tensor, axis1=-2, axis2=-1)[..., None, None]
    scale = np.where(scale > 0.0, scale, 1.0)
    spin = (np.linalg.pinv(tensor / scale, rcond=1e-9) @ moment[..., None]) / scale
    left = np.abs(tensor @ spin - moment[..., None])[..., 0]
    limit = 1e-6 * np.abs(moment).max(-1, keepdims=True) + NEXT_TO_NOTHING
    return np.where((left <= limit).all(-1, keepdims=True), spin[..., 0], np.nan)


@method(
    formula="τ = |q| √2/h",
    source=SHIGLEY + ", 9-2 to 9-4: all of the resultant as shear on the throat",
    valid="equal legs, 90 degrees between the faces",
    holds=lambda q, h: np.asarray(h) > 0.0,
)
def throat_stress(q: Number, h: Number) -> Number:
    """Shear stress in a fillet's throat by the vector method, whichever way the force points.

    Args:
        q [N/mm]: force for each length (..., 3).
        h [mm]: leg of the fillet.

    Returns:
        [MPa] shear stress on the throat.

    Example: 300 N/mm on a 5 mm fillet.
        >>> round(float(throat_stress(np.array([300.0, 0.0, 0.0]), 5.0)), 2)
        84.85
    """
    return np.asarray(np.linalg.norm(q, axis=-1)) / (THROAT * h)


@method(
    formula="σ_w = √(σ⊥² + 3 (τ⊥² + τ∥²)), σ⊥ = (q_a + q_b)/(√2 a), τ⊥ = (q_a − q_b)/(√2 a), "
    "τ∥ = q_t/a, q_a q_b taken at its worse sign",
    source="EN 1993-1-8:2005, 4.5.3.2 (directional method); the worse sign is ours, conservative",
    valid="equal legs, 90 degrees between the faces; throat a at least 3 mm (EN 1993-1-8, 4.5.2)",
    holds=lambda q, along, normal, a: np.asarray(a) >= 3.0,
)
def directional_stress(q: Number, along: Number, normal: Number, a: Number) -> Number:
    """Equivalent stress in a fillet's throat by the directional method.

    The force is taken apart along the weld, along the base plate's normal, and along the third
    direction, across the weld in the plane of the base. On which side of the joint the fillet lies
    decides the sign of their product; the worse one is taken, so that the side need not be known.

    Args:
        q [N/mm]: force for each length (..., 3).
        along [-]: direction of the weld (..., 3), unit length.
        normal [-]: normal of the base plate (..., 3), square to the weld, unit length.
        a [mm]: throat.

    Returns:
        [MPa] equivalent stress, to hold against f_u/(β_w γ_M2).

    Example: a transverse fillet, 300 N/mm normal to the plate, throat 4: √2 · 75.
        >>> q = np.array([0.0, 0.0, 300.0])
        >>> x, z = np.array([1.0, 0.0, 0.0]), np.array([0.0, 0.0, 1.0])
        >>> round(float(directional_stress(q, x, z, 4.0)), 2)
        106.07
    """
    q = np.asarray(q, float)
    q_t = (q * along).sum(-1)
    q_b = (q * normal).sum(-1)
    q_a = (q * cross(normal, along)).sum(-1)
    across = 2.0 * (q_a**2 + q_b**2 + np.abs(q_a * q_b))
    return np.asarray(np.sqrt(across + 3.0 * q_t**2)) / a


@method(
    formula="f = min(f_u/(β_w γ), √3·0.9 f_u/γ)",
    source="EN 1993-1-8:2005, 4.5.3.2 (6), eq. 4.1",
)
def directional_strength(f_u: Number, beta_w: Number, gamma: Number = 1.25) -> Number:
    """What the equivalent stress of the directional method may reach.

    The standard limits σ⊥ to 0.9 f_u/γ beside. As σ⊥ never passes 1/√3 of the equivalent stress of
    the worse sign, the second term here keeps that limit whatever the direction.

    Args:
        f_u [MPa]: tensile strength of the weaker part joined.
        beta_w [-]: correlation factor: 0.8 for S235, 0.85 for S275, 0.9 for S355.
        gamma [-]: partial factor γ_M2.

    Returns:
        [MPa] strength.

    Example: S235, 360 MPa.
        >>> float(directional_strength(360.0, 0.8))
        360.0
    """
    return np.minimum(f_u / (beta_w * gamma), math.sqrt(3.0) * 0.9 * f_u / gamma)


@method(
    formula="f = f_u/(√3 β_w γ)",
    source="EN 1993-1-8:2005, 4.5.3.3 (simplified method), eq. 4.4",
)
def simplified_strength(f_u: Number, beta_w: Number, gamma: Number = 1.25) -> Number:
    """Shear strength of a fillet's throat whichever way the force points, for `throat_stress`.

    Args:
        f_u [MPa]: tensile strength of the weaker part joined.
        beta_w [-]: correlation factor.
        gamma [-]: partial factor γ_M2.

    Returns:
        [MPa] shear strength of the throat.

    Example: S235, 360 MPa: 207.8 MPa.
        >>> round(simplified_strength(360.0, 0.8), 1)
        207.8
    """
    return f_u / (math.sqrt(3.0) * beta_w * gamma)


@method(
    formula="τ = |q|/h",
    source=SHIGLEY + ", 9-5 (strength of welded joints: parent metal at the leg)",
    valid="equal legs",
    holds=lambda q, h: np.asarray(h) > 0.0,
)
def leg_stress(q: Number, h: Number) -> Number:
    """Stress in the parent metal on the fused leg, against its heat-affected shear strength.

    Args:
        q [N/mm]: force for each length (..., 3).
        h [mm]: leg of the fillet.

    Returns:
        [MPa] resultant stress on the leg.

    Example:
        >>> float(leg_stress(np.array([300.0, 0.0, 0.0]), 5.0))
        60.0
    """
    return np.asarray(np.linalg.norm(q, axis=-1)) / h


@method(
    formula="q = min(S_w h/√2, τ_haz h, √(1/3) σ_haz t)",
    source=SHIGLEY + ", 9-5; AISC 360, J2.4 and J4; heat-affected strengths as given",
    valid="equal legs, one fillet on a part of thickness t",
    holds=lambda h, t, S_w, tau_haz, sigma_haz: (np.asarray(h) > 0.0) & (np.asarray(t) > 0.0),
)
def fillet_capacity(
    h: Number, t: Number, S_w: Number, tau_haz: Number, sigma_haz: Number
) -> Number:
    """Force that each mm of a fillet carries: the throat, the leg, or the part beside the weld.

    The part beside the weld is taken as sheared through its thickness, with von Mises' shear share
    of its tensile strength: the least of any direction.

    Args:
        h [mm]: leg of the fillet.
        t [mm]: thickness of the thinner part.
        S_w [MPa]: shear strength of the weld metal.
        tau_haz [MPa]: shear strength of the parent metal in the heat-affected zone.
        sigma_haz [MPa]: tensile strength of the parent metal in the heat-affected zone.

    Returns:
        [N/mm] force for each length.

    Example: 4 mm fillet on 3 mm of 6061-T6 as welded: the sheet beside it governs.
        >>> round(float(fillet_capacity(4.0, 3.0, 115.0, 95.0, 165.0)), 1)
        285.8
    """
    parts = (THROAT * S_w * np.asarray(h), tau_haz * np.asarray(h), sigma_haz * t / math.sqrt(3.0))
    return np.minimum(np.minimum(parts[0], parts[1]), parts[2])


@method(
    formula="F = τ π/4 D²; D below t + 8 mm: no more than τ π (D − t/2) t/√2",
    source="AISC 360-16, J2.3 (plug welds: nominal hole area in the faying plane), and J2.2b for a "
    "fillet round the hole's wall",
    valid="D at least t + 8 mm (AISC 360-16, J2.3b: 5/16 in); below that the ring alone counts",
    holds=lambda D, t, tau: np.asarray(D) >= np.asarray(t) + 7.9,
)
def plug_capacity(D: Number, t: Number, tau: Number) -> Number:
    """Shear that a plug or rosette weld carries between two faces; it takes no peel.

    A small hole may not fuse at its bottom: it counts as a fillet of leg t round its wall.

    Args:
        D [mm]: diameter of the hole at the faying surface.
        t [mm]: thickness of the part with the hole.
        tau [MPa]: shear strength of weld or heat-affected parent metal, the smaller.

    Returns:
        [N] shear force.

    Example: 10 mm rosette in a 1.6 mm tube at 200 MPa.
        >>> round(float(plug_capacity(10.0, 1.6, 200.0)))
        15708
    """
    D, t = np.asarray(D, float), np.asarray(t, float)
    full = np.pi / 4.0 * D**2
    ring = np.pi * np.maximum(D - t / 2.0, 0.0) * t * THROAT
    return tau * np.where(t + 7.9 <= D, full, np.minimum(full, ring))


@method(
    formula="L = max(30 mm, 6 a)",
    source="EN 1993-1-8:2005, 4.5.1 (2): a shorter fillet is not designed to carry load",
)
def least_length(a: Number) -> Number:
    """Shortest fillet that may be counted on.

    Args:
        a [mm]: throat.

    Returns:
        [mm] effective length.

    Example:
        >>> float(least_length(4.0))
        30.0
    """
    return np.maximum(30.0, 6.0 * np.asarray(a))


@method(
    formula="σ_v = √(σ² + 3 τ²), σ = |N|/A + |M| D/(2 I), τ = |T| D/(4 I) + 2 |V|/A",
    source="statics of a round tube; AISC 360, Table J2.5 (full penetration: the base metal)",
    valid="full penetration all round; wall at most a quarter of the diameter",
    holds=lambda D, t, N, V, M, T: (np.asarray(t) > 0.0) & (np.asarray(t) <= 0.25 * np.asarray(D)),
)
def tube_butt_stress(D: Number, t: Number, N: Number, V: Number, M: Number, T: Number) -> Number:
    """Equivalent stress in a full-penetration tube weld: the tube's own, against welded strength.

    All parts are added at one point, though shear and bending peak at different ones.

    Args:
        D [mm]: outer diameter of the tube.
        t [mm]: wall.
        N [N]: axial force.
        V [N]: transverse force.
        M [N*mm]: bending moment at the weld.
        T [N*mm]: torque.

    Returns:
        [MPa] von Mises stress.

    Example: 25.4 by 2.1 tube under 20 kN.
        >>> round(float(tube_butt_stress(25.4, 2.1, 2.0e4, 0.0, 0.0, 0.0)), 1)
        130.1
    """
    D_i = D - 2.0 * t
    A = np.pi / 4.0 * (D**2 - D_i**2)
    I_tube = np.pi / 64.0 * (D**4 - D_i**4)
    return bar.round_tube_stress(A, 2.0 * I_tube / D, N, V, M, T)


@method(
    formula="q = √((|N|/L + |M|/(π r²))² + (|V|/(π r) + |T|/(2 π r²))²), L = 2 π r",
    source=SHIGLEY + ", Tables 9-1 and 9-2 (circle: J_u = 2πr³, I_u = πr³); the direct transverse "
    "force at twice its mean, as in a thin ring",
)
def tube_fillet_force(D: Number, N: Number, V: Number, M: Number, T: Number) -> Number:
    """Largest force on each mm of a fillet round a tube: a bung in a tube, a tube on a foot.

    Parts are added at one point, though shear and bending peak at different ones.

    Args:
        D [mm]: diameter at the root of the fillet, as the tube's outside on a foot.
        N [N]: axial force.
        V [N]: transverse force.
        M [N*mm]: bending moment at the weld.
        T [N*mm]: torque.

    Returns:
        [N/mm] force for each length.

    Example: 25 mm tube on a foot, 1 kN at 100 mm.
        >>> round(float(tube_fillet_force(25.0, 0.0, 1000.0, 1.0e5, 0.0)), 1)
        205.3
    """
    r = D / 2.0
    axial = np.abs(N) / (2.0 * np.pi * r) + np.abs(M) / (np.pi * r**2)
    around = np.abs(V) / (np.pi * r) + np.abs(T) / (2.0 * np.pi * r**2)
    return np.hypot(axial, around)
