"""Bolts in slots and in oversize holes: what holds when friction is gone, and when friction goes.

A slot holds a bolt across itself and lets it run along itself. Only the clamping holds it there. So a
joint with slots is looked at twice: as if there were no friction (`slotted_shear`), and for slip
(`slip_resistance` against the largest force of `boltgroup.elastic_shear`). It holds for certain where the
first gives numbers and each bolt bears its force; where the first gives nan, it hangs on the second alone.

Worked example: a round hole at the origin, a slot along x at x = 60, and 500 N along y at x = 90. The slot
gives 500·90/60 = 750 N along y, the round hole −250 N.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from parts.strength.method import Number, method
from parts.strength.tables import row
from parts.strength.validity import between, within

Array = NDArray[np.float64]

EN = "EN 1993-1-8:2005, "
RIGID = "statics of a rigid plate on springs; a slot has no spring along itself"
LEFT_OVER = 1e-7  # share of the load that no bolt may leave unbalanced
NO_STIFFNESS = 1e-9  # share of the largest stiffness that counts as none


@method(
    formula="f_i = A_i (1 − s_i s_iᵀ)(u + θ ẑ × r_i), with Σ f_i = F and Σ r_i × f_i = M",
    source=RIGID,
    valid="the holes hold the load without friction",
    shows=lambda force: np.isfinite(force).all((-1, -2)),
)
def slotted_shear(
    xy: Number,
    along: Number,
    Fx: Number,
    Fy: Number,
    x: Number,
    y: Number,
    M: Number = 0.0,
    A: Number = 1.0,
) -> Array:
    """Shear on each bolt of a plate whose slots hold nothing along themselves.

    For mounts and pads with slotted holes, and for the supports of their finite elements. A bolt in an
    oversize hole bears only after the plate has moved: give it A = 0 where another sits in a close hole.

    Args:
        xy [mm]: positions (..., n, 2).
        along [-]: direction of each slot (..., n, 2), of any length but nil; (0, 0) for a round hole.
        Fx [N]: force along x.
        Fy [N]: force along y.
        x [mm]: where the force acts.
        y [mm]: where the force acts.
        M [N*mm]: moment about z beside the force.
        A [mm^2]: areas (..., n), or one for all; 0 for a bolt that does not bear.

    Returns:
        [N] force that each bolt carries (..., n, 2); not a number where nothing but friction holds.

    Example: that of the head of this file.
        >>> holes = np.array([[0.0, 0.0], [60.0, 0.0]])
        >>> slots = np.array([[0.0, 0.0], [1.0, 0.0]])
        >>> slotted_shear(holes, slots, 0.0, 500.0, 90.0, 0.0).round(6).tolist()
        [[0.0, -250.0], [0.0, 750.0]]
    """
    xy, hold = np.asarray(xy, float), _across(along, A)
    centre = xy.mean(-2)
    r = xy - centre[..., None, :]
    size = np.sqrt((r**2).sum(-1).mean(-1))
    size = np.where(size > 0.0, size, 1.0)
    # Motion of bolt i: u − θ y, v + θ x; the turn is measured in θ · size.
    move = np.zeros((*r.shape[:-1], 2, 3))
    move[..., 0, 0] = move[..., 1, 1] = 1.0
    move[..., 0, 2], move[..., 1, 2] = -r[..., 1] / size[..., None], r[..., 0] / size[..., None]
    stiffness = (np.swapaxes(move, -1, -2) @ hold @ move).sum(-3)
    moment = M + (x - centre[..., 0]) * Fy - (y - centre[..., 1]) * Fx
    load = np.stack(np.broadcast_arrays(Fx, Fy, moment / size), axis=-1).astype(float)[..., None]
    motion = np.linalg.pinv(stiffness, rcond=NO_STIFFNESS, hermitian=True) @ load
    left = np.abs(stiffness @ motion - load).max((-1, -2))
    ok = left <= LEFT_OVER * np.abs(load).max((-1, -2))
    force = (hold @ (move @ motion[..., None, :, :]))[..., 0]
    return np.where(ok[..., None, None], force, np.nan)


def _across(along: Number, A: Number) -> Array:
    """Stiffness of each hole (..., n, 2, 2): A across its slot, none along it."""
    along, A = np.asarray(along, float), np.asarray(A, float)
    length = np.linalg.norm(along, axis=-1, keepdims=True)
    s = np.divide(along, length, out=np.zeros_like(along), where=length > 0.0)
    return np.asarray(A[..., None, None] * (np.eye(2) - s[..., :, None] * s[..., None, :]))


@method(
    formula="F_s = k_s m μ F / γ",
    source=EN + "3.9.1, eq. 3.6 (F for F_p,C)",
    valid="k_s and μ from 0 to 1",
    holds=lambda F, mu, k_s=1.0, m=1.0, gamma=1.25: between(k_s, 0.0, 1.0) & between(mu, 0.0, 1.0),
)
def slip_resistance(
    F: Number, mu: Number, k_s: Number = 1.0, m: Number = 1.0, gamma: Number = 1.25
) -> Number:
    """Shear at which one clamped bolt lets its joint slip.

    For every bolt of a mount, pad or clamp that counts on friction. Take the least preload
    (`joint.least_preload`, n = 1: one wrench errs the same way on all bolts), less what an outside tension
    takes off (`joint.clamp_force`).

    Args:
        F [N]: least clamping force of the bolt.
        mu [-]: friction of the faces, from `face_friction`.
        k_s [-]: factor of the hole, from `hole_factor`.
        m [-]: number of faces that would slip.
        gamma [-]: partial factor γ_M3; 1.25 as the standard recommends, 1 where the check asks a factor.

    Returns:
        [N] shear.

    Example: M20 10.9 at 171.5 kN, faces of class B, two of them.
        >>> round(float(slip_resistance(171.5e3, 0.4, m=2.0)))
        109760
    """
    ok = between(k_s, 0.0, 1.0) & between(mu, 0.0, 1.0)
    return within(ok, np.maximum(F, 0.0) * np.asarray(mu) * k_s * m / gamma)


@method(
    formula="R = max |V_i| / F_s,i",
    source="statics: the bolt that slips first; " + EN + "3.9.1",
)
def slip_use(V: Number, F_s: Number) -> Number:
    """Share of the friction that a bolt group uses where it slips first.

    Args:
        V [N]: force on each bolt (..., n, 2), from `boltgroup.elastic_shear`.
        F_s [N]: what each bolt holds by friction (..., n), or one for all.

    Returns:
        [-] use; 1 is slip, nan where a force is not a number.

    Example:
        >>> float(slip_use(np.array([[300.0, 400.0], [0.0, 100.0]]), 1000.0))
        0.5
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        force = np.hypot(np.asarray(V)[..., 0], np.asarray(V)[..., 1])
        # A bolt that bears nothing slips nowhere, even where nothing clamps it.
        used = np.where(force > 0.0, force / F_s, 0.0 * force * F_s)
    worst: Number = np.asarray(used).max(-1)[()]
    return worst


@method(
    formula="Γ = (α_A − 1)/(α_A + 1)",
    source="VDI 2230-1, 5.4.3: α_A = F_max/F_min, its mean between them",
    valid="α_A at least 1",
    holds=lambda alpha_A: np.asarray(alpha_A) >= 1.0,
)
def tightening_scatter(alpha_A: Number) -> Number:
    """Relative scatter of the preload from the tightening factor, for `joint.least_preload`.

    Torque wrench: 1.6 to 2.0 where friction was estimated from like joints, up to 2.5 where it was not,
    1.4 to 1.6 where it was measured (VDI 2230-1:2003, Table A8; from memory).

    Args:
        alpha_A [-]: tightening factor.

    Returns:
        [-] scatter about the mean.

    Example:
        >>> round(float(tightening_scatter(2.0)), 3)
        0.333
    """
    alpha_A = np.asarray(alpha_A, float)
    return within(alpha_A >= 1.0, (alpha_A - 1.0) / (alpha_A + 1.0))


@method(
    formula="x = D_h − d",
    source="geometry",
    valid="hole no smaller than the bolt",
    holds=lambda D_h, d: np.asarray(D_h) >= np.asarray(d),
)
def shift_at_slip(D_h: Number, d: Number) -> Number:
    """How far a part may move from one side to the other once its joint slips.

    In oversize holes nothing else centres the part: a shift of this size, or the turn of `turn_at_slip`,
    belongs in the fit of whatever hangs on it.

    Args:
        D_h [mm]: hole; of a slot its length, for a shift along it.
        d [mm]: bolt.

    Returns:
        [mm] way from stop to stop.
    """
    return within(np.asarray(D_h) >= np.asarray(d), np.subtract(D_h, d, dtype=float))


@method(
    formula="α = (x_1 + x_2) / L",
    source="geometry, small angles",
)
def turn_at_slip(x_1: Number, x_2: Number, L: Number) -> Number:
    """How far a part on two bolts may turn from stop to stop once its joint slips.

    Args:
        x_1 [mm]: way from stop to stop at one bolt, from `shift_at_slip`.
        x_2 [mm]: the same at the other.
        L [mm]: distance of the bolts.

    Returns:
        [rad] angle from stop to stop.

    Example: two M8 bolts in 9 mm holes, 40 apart: 2.9 degrees.
        >>> round(float(np.degrees(turn_at_slip(1.0, 1.0, 40.0))), 2)
        2.86
    """
    turn: Number = np.add(x_1, x_2) / np.asarray(L, float)
    return turn


def hole_factor(hole: str) -> float:
    """Factor k_s of a hole: "round", "oversize", "short slot across", "long slot along" ...

    Args:
        hole [-]: as the table `slip_holes` names it; across and along are the slot against the shear.

    Returns:
        [-] k_s.

    Raises:
        KeyError: no such hole.
    """
    return float(row("slip_holes", "hole", hole)["k_s"])


def face_friction(faces: str) -> float:
    """Friction that may be counted on between clamped faces.

    Args:
        faces [-]: as the table `slip_faces` names them.

    Returns:
        [-] coefficient of friction.

    Raises:
        KeyError: no such faces.
    """
    return float(row("slip_faces", "faces", faces)["mu"])
