"""The preloaded bolted joint: the preload that is left, and what the bolt feels of a load.

A rod end locked with a jam nut is such a joint: the shank between nut and body is the bolt, the nut's
bite is the preload. Members and bolt are springs side by side until the joint opens.
"""

from __future__ import annotations

import math

import numpy as np

from parts.strength.method import Number, method

COS_30 = math.sqrt(3.0) / 2.0
SHIGLEY = "Shigley, Mechanical Engineering Design, ch. 8"
VDI = "VDI 2230-1"
NASA = "NASA-STD-5020A"


@method(
    formula="F_min = F (1 − Γ/√n) − F_loss",
    source=NASA + " (minimum preload; √n where the bolts of a joint act together); from memory",
    valid="scatter from 0 to 1; n at least 1",
    holds=lambda F, scatter, loss=0.0, n=1.0: (
        (np.asarray(scatter) >= 0.0) & (np.asarray(scatter) <= 1.0) & (np.asarray(n) >= 1.0)
    ),
)
def least_preload(F: Number, scatter: Number, loss: Number = 0.0, n: Number = 1.0) -> Number:
    """Preload that can be counted on.

    Args:
        F [N]: mean preload.
        scatter [-]: relative scatter: 0.35 for a torque wrench on dry threads, 0.25 lubricated.
        loss [N]: lost to embedding, creep and temperature.
        n [-]: bolts that share the load; leave at 1 where one open bolt is already a failure.

    Returns:
        [N] least preload, not below nil.

    Example: 15 kN by torque wrench, 5 % lost.
        >>> least_preload(15.0e3, 0.35, 750.0)
        np.float64(9000.0)
    """
    return np.maximum(F * (1.0 - scatter / np.sqrt(n)) - loss, 0.0)


@method(formula="F_max = F (1 + Γ)", source=NASA + " (maximum preload); from memory")
def greatest_preload(F: Number, scatter: Number) -> Number:
    """Preload that the bolt must stand.

    Args:
        F [N]: mean preload.
        scatter [-]: relative scatter.

    Returns:
        [N] greatest preload.

    Example:
        >>> greatest_preload(15.0e3, 0.35)
        20250.0
    """
    return F * (1.0 + scatter)


@method(
    formula="ΔF = (f_z + f_T) k_b k_m/(k_b + k_m)",
    source=VDI
    + ", 5.4.2.1 (embedding; 3 µm each for thread, head and joint faces up to Rz 10) and 5.4.2.3 (change with "
    "temperature); amounts from memory",
)
def embedding_loss(f_z: Number, k_b: Number, k_m: Number, f_T: Number = 0.0) -> Number:
    """Preload lost as rough faces flatten, and as the members shrink more than the bolt in the cold.

    Args:
        f_z [mm]: how far the faces settle, all together; 0.008 to 0.012 is usual.
        k_b [N/mm]: stiffness of the bolt.
        k_m [N/mm]: stiffness of the members.
        f_T [mm]: how much more the members shrink than the bolt, from `contraction`.

    Returns:
        [N] loss of preload.

    Example: 0.01 mm on a short M8 joint.
        >>> embedding_loss(0.01, 3.0e5, 6.0e5)
        2000.0
    """
    return (f_z + f_T) * k_b * k_m / (k_b + k_m)


@method(
    formula="f_T = (α_m − α_b) ΔT L, no less than 0",
    source=VDI
    + ", 5.4.2.3 (change of preload with temperature), moduli as at room temperature; NASA-STD-5020, which "
    "takes it off the least preload: from memory",
)
def contraction(fall: Number, alpha_m: Number, alpha_b: Number, L: Number) -> Number:
    """How much more what a bolt clamps shrinks than the bolt in the cold, as light alloys do on steel.

    Args:
        fall [K]: how much colder than when it was tightened.
        alpha_m [1/K]: expansion of the members.
        alpha_b [1/K]: expansion of the bolt.
        L [mm]: grip.

    Returns:
        [mm] for `embedding_loss`; 0 where the bolt shrinks more.

    Example: 20 mm of aluminium on a steel bolt, 40 K colder.
        >>> round(contraction(40.0, 23.6e-6, 12e-6, 20.0), 5)
        np.float64(0.00928)
    """
    return np.maximum(alpha_m - alpha_b, 0.0) * fall * L


@method(formula="C = k_b/(k_b + k_m)", source=SHIGLEY + ", 8-7 (stiffness constant of the joint)")
def load_share(k_b: Number, k_m: Number) -> Number:
    """Share of an outside tension that the bolt feels while the joint is closed.

    Args:
        k_b [N/mm]: stiffness of the bolt.
        k_m [N/mm]: stiffness of the members.

    Returns:
        [-] load factor of the joint.

    Example:
        >>> load_share(2.0e5, 6.0e5)
        0.25
    """
    return k_b / (k_b + k_m)


@method(
    formula="F_b = max(F_i + C P, P)",
    source=SHIGLEY + ", eq. 8-24; an open joint leaves the bolt alone with the load",
)
def bolt_force(F_i: Number, P: Number, C: Number) -> Number:
    """Tension in the bolt under preload and an outside tension, before the joint opens and after.

    Args:
        F_i [N]: preload.
        P [N]: outside tension on this bolt.
        C [-]: load factor of the joint; 1 where the stiffness is not known, on the safe side.

    Returns:
        [N] tension in the bolt.

    Example:
        >>> bolt_force(1.0e4, np.array([4.0e3, 2.0e4]), 0.25).tolist()
        [11000.0, 20000.0]
    """
    return np.maximum(F_i + C * P, P)


@method(formula="F_m = max(F_i − (1 − C) P, 0)", source=SHIGLEY + ", eq. 8-25")
def clamp_force(F_i: Number, P: Number, C: Number) -> Number:
    """What is left of the clamping between the members under an outside tension.

    Args:
        F_i [N]: preload.
        P [N]: outside tension on this bolt; where the clamping is to bear n times a load, n times its tension, as in
            EN 1993-1-8, 3.9.2.
        C [-]: load factor of the joint; 0 is on the safe side.

    Returns:
        [N] clamping force.

    Example:
        >>> clamp_force(1.0e4, np.array([4.0e3, 2.0e4]), 0.25).tolist()
        [7000.0, 0.0]
    """
    return np.maximum(F_i - (1.0 - C) * P, 0.0)


@method(formula="P_0 = F_i/(1 − C)", source=SHIGLEY + ", eq. 8-30 (joint separation)")
def separation_load(F_i: Number, C: Number) -> Number:
    """Outside tension on one bolt that opens the joint.

    Args:
        F_i [N]: preload that can be counted on.
        C [-]: load factor of the joint; 0 is on the safe side.

    Returns:
        [N] load at which the members part.

    Example:
        >>> separation_load(1.0e4, 0.2)
        12500.0
    """
    return F_i / (1.0 - C)


@method(
    formula="F_K = s (N + 8 M D/(D² + d²))",
    source=VDI
    + ":2003, 5.3.2 (clamp force that keeps a tilted face from opening on one side), from memory; the "
    "ring by Bernoulli's beam: N/A = M/W at its rim",
    valid="ring wider than its hole",
    holds=lambda N, M, D, d, s=1.0: np.asarray(D) > np.asarray(d),
)
def closing_preload(N: Number, M: Number, D: Number, d: Number, s: Number = 1.0) -> Number:
    """Preload that keeps a clamped ring closed all round under a pull and a moment.

    With less, the ring gaps at its rim: the bolt is bent there at every load, long before the whole face lifts off,
    which takes M/(D/2).

    Args:
        N [N]: pull off the face.
        M [N*mm]: moment that tilts it.
        D [mm]: outside diameter of the ring that bears.
        d [mm]: its inside diameter.
        s [-]: share of the loads that comes again and again.

    Returns:
        [N] preload; not a number of a ring that its hole takes up.

    Example: a full face of 24 mm under 100 N*m wants four times what lifts it off about its rim.
        >>> round(float(closing_preload(0.0, 100e3, 24.0, 0.0)))
        33333
    """
    D, d = np.asarray(D, float), np.asarray(d, float)
    return s * (N + np.where(d < D, 8.0 * M * D / (D**2 + d**2), np.nan))


@method(
    formula="T = μ F (D³ − d³)/(3 (D² − d²))",
    source="friction of a ring pressed evenly: Shigley, Mechanical Engineering Design, sec. 16-5 (uniform pressure)",
    valid="ring wider than its hole",
    holds=lambda F, mu, D, d: np.asarray(D) > np.asarray(d),
)
def face_friction(F: Number, mu: Number, D: Number, d: Number) -> Number:
    """Torque that a clamped ring holds by friction.

    Args:
        F [N]: what presses it on.
        mu [-]: friction.
        D [mm]: outside diameter of the ring.
        d [mm]: its hole.

    Returns:
        [N*mm] torque.

    Example: 10 kN on a ring of 34 by 13 mm at 0.08.
        >>> round(float(face_friction(10e3, 0.08, 34.0, 13.0)))
        10026
    """
    D, d = np.asarray(D, float), np.asarray(d, float)
    return mu * np.asarray(F) * (D**3 - d**3) / (3.0 * (D**2 - d**2))


@method(
    formula="V = μ F m",
    source="common practice, no source (friction grip); " + VDI + " (slip), from memory",
)
def slip_load(F: Number, mu: Number, m: Number = 1.0) -> Number:
    """Shear that the clamping carries by friction before the joint slips onto its bolts.

    Args:
        F [N]: clamping force that can be counted on.
        mu [-]: friction between the members; 0.15 to 0.2 for clean metal, less with paint or oil.
        m [-]: number of faces that would slip.

    Returns:
        [N] shear for each bolt.

    Example:
        >>> slip_load(1.0e4, 0.15, 2.0)
        3000.0
    """
    return F * mu * m


@method(
    formula="F_j = P (1 − C) s",
    source=SHIGLEY + ", eq. 8-30, solved for the preload",
)
def jam_preload_needed(P: Number, C: Number = 0.0, s: Number = 1.0) -> Number:
    """Bite that keeps a jam nut from letting go of the body under tension in the link.

    While it bites, the shank between nut and body feels `bolt_force`; once it lets go the thread
    works back and forth at every reversal, and the nut backs off.

    Args:
        P [N]: largest tension in the link.
        C [-]: load factor of shank and body; 0 is on the safe side.
        s [-]: factor of safety against letting go.

    Returns:
        [N] preload of the jam nut.

    Example:
        >>> jam_preload_needed(8.0e3, 0.0, 1.25)
        10000.0
    """
    return P * (1.0 - C) * s


@method(
    formula="F_j = min(τ_n A_n, σ_p A_s)",
    source="common practice, no source: the weaker of the thin nut's thread and the shank",
)
def jam_preload_limit(A_n: Number, tau_n: Number, A_s: Number, sigma_p: Number) -> Number:
    """Largest bite of a jam nut: its few threads strip, or the shank yields.

    Args:
        A_n [mm^2]: strip area of the nut's thread over its height less its chamfers.
        tau_n [MPa]: shear strength of the nut.
        A_s [mm^2]: tensile stress area of the shank.
        sigma_p [MPa]: proof stress of the shank.

    Returns:
        [N] preload of the jam nut.

    Example: M8, nut 4 mm high with 3 mm of thread.
        >>> float(jam_preload_limit(46.0, 250.0, 36.6, 640.0))
        11500.0
    """
    return np.minimum(tau_n * np.asarray(A_n), sigma_p * np.asarray(A_s))
