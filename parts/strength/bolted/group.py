"""Bolt groups: what each bolt gets of a load on the group.

Positions are arrays (..., n, 2) in the plane of the joint, in mm; `A` holds the bolts' areas,
(..., n) or one number for all. Loads are numbers or arrays that broadcast with the leading axes of
`xy`. Results carry one entry for each bolt: (..., n), or (..., n, 2) and (..., n, 3) where a force
has components. A force is the one that the plate puts on the bolt.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from parts.strength.method import Number, method
from parts.strength.tables import rows
from parts.strength.vectors import cross

Array = NDArray[np.float64]

RIGID_PLATE = "statics of a rigid plate on fasteners of equal stiffness"
AISC_IC = (
    "AISC Steel Construction Manual, Part 7, instantaneous centre of rotation method; "
    "load-deformation of Crawford and Kulak; coefficients from memory"
)
IC_STEPS = 150
SETTLED = 1e-10  # share by which a stiffness may still change
NO_ARM = 1e-9  # mm; a force this close to a single bolt goes through it
INCH = 25.4
NEXT_TO_NOTHING = 1e-200  # N·mm


def _areas(xy: Number, A: Number) -> tuple[Array, Array]:
    """Positions and areas as arrays of one shape."""
    xy, A = np.asarray(xy, float), np.asarray(A, float)
    return xy, np.broadcast_to(A, np.broadcast_shapes(xy.shape[:-1], A.shape))


def _column(value: Number) -> Array:
    """A load with an axis for the bolts behind it."""
    return np.asarray(value, float)[..., None]


@method(formula="x̄ = Σ A x / Σ A", source="geometry")
def centroid(xy: Number, A: Number = 1.0) -> Array:
    """Centroid of a bolt pattern.

    Args:
        xy [mm]: positions (..., n, 2).
        A [mm^2]: areas (..., n), or one for all.

    Returns:
        [mm] centroid (..., 2).

    Example:
        >>> [float(c) for c in centroid(np.array([[0.0, 0.0], [40.0, 0.0], [40.0, 30.0]]))]
        [26.666666666666668, 10.0]
    """
    xy, A = _areas(xy, A)
    return np.asarray((A[..., None] * xy).sum(-2) / A.sum(-1)[..., None])


@method(formula="J = Σ A r²", source="geometry")
def polar_moment(xy: Number, A: Number = 1.0) -> Array:
    """Polar moment of a bolt pattern about its centroid; with unit areas it is Σ r², in mm^2.

    Args:
        xy [mm]: positions (..., n, 2).
        A [mm^2]: areas (..., n), or one for all.

    Returns:
        [mm^4] polar moment.

    Example: four bolts on the corners of 150 by 120.
        >>> xy = np.array([[0.0, 0.0], [150.0, 0.0], [150.0, 120.0], [0.0, 120.0]])
        >>> float(polar_moment(xy)) == 4 * (75.0**2 + 60.0**2)
        True
    """
    xy, A = _areas(xy, A)
    r = xy - centroid(xy, A)[..., None, :]
    return np.asarray((A * (r**2).sum(-1)).sum(-1))


@method(
    formula="F_i = A_i (F/Σ A + M × r_i / J), M = M_z + r_P × F",
    source="Shigley, Mechanical Engineering Design, 8-12 (shear joints with eccentric loading); "
    "AISC Manual, Part 7, elastic method",
    valid="bolts not all in one point, unless there is no moment",
    holds=lambda xy, Fx, Fy, x, y, M=0.0, A=1.0: polar_moment(xy, A) > 0.0,
)
def elastic_shear(
    xy: Number,
    Fx: Number,
    Fy: Number,
    x: Number,
    y: Number,
    M: Number = 0.0,
    A: Number = 1.0,
) -> Array:
    """Shear on each bolt from a force in the plane of the joint: elastic, any pattern and areas.

    Args:
        xy [mm]: positions (..., n, 2).
        Fx [N]: force along x.
        Fy [N]: force along y.
        x [mm]: where the force acts.
        y [mm]: where the force acts.
        M [N*mm]: moment about z beside the force.
        A [mm^2]: areas (..., n), or one for all.

    Returns:
        [N] force that each bolt carries (..., n, 2); not a number for one bolt under a moment.

    Example: two bolts 40 apart, 1000 N at 100 from their middle.
        >>> xy = np.array([[0.0, -20.0], [0.0, 20.0]])
        >>> elastic_shear(xy, 0.0, 1000.0, 100.0, 0.0).tolist()
        [[2500.0, 500.0], [-2500.0, 500.0]]
    """
    xy, A = _areas(xy, A)
    c = centroid(xy, A)
    r = xy - c[..., None, :]
    moment = M + (x - c[..., 0]) * Fy - (y - c[..., 1]) * Fx
    J = polar_moment(xy, A)
    with np.errstate(divide="ignore", invalid="ignore"):
        none = np.abs(moment) <= NO_ARM * np.hypot(Fx, Fy)
        spin = _column(np.where(J > 0.0, moment / J, np.where(none, 0.0, np.nan)))
    total = A.sum(-1)[..., None]
    along_x = A * (_column(Fx) / total - spin * r[..., 1])
    along_y = A * (_column(Fy) / total + spin * r[..., 0])
    return np.stack(np.broadcast_arrays(along_x, along_y), axis=-1)


@method(
    formula="C = |Σ R_i| / R_ult, the bolts' forces in balance with the load; "
    "R = R_ult (1 − e^(−10 Δ/25.4))^0.55, Δ = Δ_max r/r_max, r from the centre of rotation",
    source=AISC_IC,
    valid="bolts alike; a force in the plane that is not nil; equilibrium closed to 1e-6 of a bolt",
    shows=np.isfinite,
)
def instantaneous_centre_coefficient(
    xy: Number, Fx: Number, Fy: Number, x: Number, y: Number, largest: Number = 0.34 * INCH
) -> Number:
    """How many bolts' worth an eccentrically sheared group carries when its farthest bolt is spent.

    The plate moves as a rigid body. Each step solves the elastic group with every bolt as stiff as
    its own curve is at the deformation found so far, until nothing moves. The curve was
    measured on 3/4 in A325 bolts in steel plate: for other bolts and plates the elastic method is
    the conservative choice.

    Args:
        xy [mm]: positions (..., n, 2).
        Fx [N]: force along x; only its direction counts.
        Fy [N]: force along y; only its direction counts.
        x [mm]: where the force acts.
        y [mm]: where the force acts.
        largest [mm]: deformation of the farthest bolt at its end.

    Returns:
        [-] C: the group carries C times one bolt's shear strength; not a number where the steps did
            not close.

    Example: two bolts 3 in apart, load 2 in off, tabulated as 1.18.
        >>> xy = np.array([[0.0, -38.1], [0.0, 38.1]])
        >>> round(float(instantaneous_centre_coefficient(xy, 0.0, -1.0, 50.8, 0.0)), 2)
        1.18
    """
    xy = np.asarray(xy, float)
    size = np.hypot(Fx, Fy)
    with np.errstate(divide="ignore", invalid="ignore"):
        ux, uy = Fx / size, Fy / size
    full = _column(largest)
    stiffness: Array = np.ones(xy.shape[:-1])
    for _ in range(IC_STEPS):
        along_x, along_y = _elastic_motion(xy, stiffness, ux, uy, x, y)
        travel = np.maximum(np.hypot(along_x, along_y), 1e-12)
        stretch = np.maximum(full * travel / travel.max(-1, keepdims=True), 1e-9)
        R = (1.0 - np.exp(-10.0 / INCH * stretch)) ** 0.55
        before, stiffness = stiffness, R / stretch
        if (np.abs(stiffness - before) <= SETTLED * stiffness).all():
            break
    motion = np.stack(np.broadcast_arrays(along_x, along_y), axis=-1)
    forces = R[..., None] * motion / travel[..., None]
    C = (forces[..., 0] * _column(ux) + forces[..., 1] * _column(uy)).sum(-1)
    return np.where(_out_of_balance(xy, forces, ux, uy, x, y) < 1e-6, C, np.nan)[()]


def _elastic_motion(
    xy: Array, k: Array, ux: Number, uy: Number, x: Number, y: Number
) -> tuple[Array, Array]:
    """Displacement of each bolt along x and y, of stiffness `k`, under a unit force (ux, uy) at (x, y).

    That of `elastic_shear` over the stiffness, in fewer steps: it is asked for again and again.
    """
    total = k.sum(-1)
    px, py = xy[..., 0], xy[..., 1]
    cx, cy = (k * px).sum(-1) / total, (k * py).sum(-1) / total
    rx, ry = px - cx[..., None], py - cy[..., None]
    moment = (x - cx) * uy - (y - cy) * ux
    J = (k * (rx * rx + ry * ry)).sum(-1)
    with np.errstate(divide="ignore", invalid="ignore"):
        # A single bolt, or bolts in one point, do not turn under a force through them.
        alone = np.where(np.abs(moment) <= NO_ARM, 0.0, np.nan)
        spin = _column(np.where(J > 0.0, moment / J, alone))
    return _column(ux / total) - spin * ry, _column(uy / total) + spin * rx


def _out_of_balance(
    xy: Array, forces: Array, ux: Number, uy: Number, x: Number, y: Number
) -> Array:
    """What bolt forces and a force along (ux, uy) at (x, y) leave over, per bolt."""
    rx, ry = xy[..., 0] - _column(x), xy[..., 1] - _column(y)
    total = forces.sum(-2)
    across = total[..., 0] * uy - total[..., 1] * ux
    moment = (rx * forces[..., 1] - ry * forces[..., 0]).sum(-1)
    reach = np.maximum(np.hypot(rx, ry).max(-1), 1e-12)
    return np.asarray(np.hypot(across, moment / reach) / xy.shape[-2])


@method(
    formula="N_i = A_i (F_z/ΣA + M·r_i/I) about the centroid of the bolts",
    source=RIGID_PLATE + "; the plate does not bear on its edge",
    valid="bolts not all on one line, unless no moment acts across it",
    shows=lambda N: np.isfinite(N).all(-1),
)
def tension_about_centroid(
    xy: Number, Fz: Number, Mx: Number, My: Number, A: Number = 1.0
) -> Array:
    """Axial force on each bolt, neutral axis through the centroid; any pattern.

    Args:
        xy [mm]: positions (..., n, 2).
        Fz [N]: force along z through the centroid, positive away from the plate.
        Mx [N*mm]: moment about x through the centroid.
        My [N*mm]: moment about y through the centroid.
        A [mm^2]: areas (..., n), or one for all.

    Returns:
        [N] axial force of each bolt (..., n), tension positive; not a number where bolts in one
            line meet a moment that they cannot carry.

    Example: four bolts at ±50, moment about x.
        >>> xy = np.array([[-50.0, -50.0], [50.0, -50.0], [50.0, 50.0], [-50.0, 50.0]])
        >>> tension_about_centroid(xy, 0.0, 1.0e6, 0.0).tolist()
        [-5000.0, -5000.0, 5000.0, 5000.0]
    """
    xy, A = _areas(xy, A)
    r = xy - centroid(xy, A)[..., None, :]
    X, Y = r[..., 0], r[..., 1]
    Ixx, Iyy, Ixy = (A * Y**2).sum(-1), (A * X**2).sum(-1), (A * X * Y).sum(-1)
    det = Ixx * Iyy - Ixy**2
    flat = det <= 1e-12 * (Ixx + Iyy) ** 2
    safe = np.where(flat, 1.0, det)
    # Stress a + b X + c Y; moments: Mx = Σ N Y, My = −Σ N X.
    b = (-My * Ixx - Mx * Ixy) / safe
    c = (Mx * Iyy + My * Ixy) / safe
    # In one line (direction t) the pattern carries only the moment about the line's normal.
    I_line = Ixx + Iyy
    along = np.where(I_line > 0.0, I_line, 1.0)
    tilt_b, tilt_c = -My / along, Mx / along
    carried_x = tilt_b * Ixy + tilt_c * Ixx
    carried_y = -(tilt_b * Iyy + tilt_c * Ixy)
    scale = np.abs(Mx) + np.abs(My)
    left = np.abs(Mx - carried_x) + np.abs(My - carried_y)
    ok = left <= 1e-6 * scale + NEXT_TO_NOTHING
    b = np.where(flat, np.where(ok, tilt_b, np.nan), b)
    c = np.where(flat, np.where(ok, tilt_c, np.nan), c)
    total = A.sum(-1)[..., None]
    return np.asarray(A * (_column(Fz) / total + b[..., None] * X + c[..., None] * Y))


@method(
    formula="N_i = A_i h_i M / Σ A h², h over the compressed edge",
    source="statics of a rigid plate that pivots on its edge; common practice, no source",
    valid="all bolts on the tension side of the edge",
    holds=lambda h, M, A=1.0: (np.asarray(h) >= 0.0).all(-1),
)
def tension_about_edge(h: Number, M: Number, A: Number = 1.0) -> Array:
    """Tension on each bolt when a stiff plate pivots on its compressed edge.

    Args:
        h [mm]: distance of each bolt from the compressed edge (..., n).
        M [N*mm]: moment that pulls the bolts.
        A [mm^2]: areas (..., n), or one for all.

    Returns:
        [N] tension of each bolt (..., n).

    Example: rows at 20 and 80.
        >>> [round(float(N), 1) for N in tension_about_edge(np.array([20.0, 80.0]), 1.0e6)]
        [2941.2, 11764.7]
    """
    h = np.asarray(h, float)
    weight = h * A
    return np.asarray(weight * _column(M) / (weight * h).sum(-1)[..., None])


@method(
    formula="shear: A_i (F/ΣA + M_z × r_i/J); tension: A_i (F_z/ΣA + M·r_i/I); M = M + (P − c) × F",
    source=RIGID_PLATE + "; neutral axis through the centroid",
    valid="pattern that carries the moments that act on it",
    shows=lambda forces: np.isfinite(forces).all((-1, -2)),
)
def bolt_reactions(xy: Number, F: Number, M: Number, point: Number, A: Number = 1.0) -> Array:
    """What each bolt carries of a force and a moment at any point: shear both ways, and axial.

    The joint lies in the plane z = 0; z points away from what the plate is bolted to.

    Args:
        xy [mm]: positions (..., n, 2).
        F [N]: force on the plate (..., 3).
        M [N*mm]: moment on the plate (..., 3).
        point [mm]: where the force acts (..., 3).
        A [mm^2]: areas (..., n), or one for all.

    Returns:
        [N] shear along x and y, and axial force with tension positive (..., n, 3).

    Example: 1000 N down on a pad 60 off a pair of bolts, 50 apart.
        >>> xy = np.array([[0.0, -25.0], [0.0, 25.0]])
        >>> load = (np.array([0.0, -1000.0, 0.0]), np.zeros(3), np.array([0.0, 0.0, 60.0]))
        >>> bolt_reactions(xy, *load).tolist()
        [[0.0, -500.0, -1200.0], [0.0, -500.0, 1200.0]]
    """
    F, M, point = (np.asarray(v, float) for v in (F, M, point))
    c = centroid(xy, A)
    arm = point - np.concatenate([c, np.zeros((*c.shape[:-1], 1))], axis=-1)
    moment = M + cross(arm, F)
    shear = elastic_shear(xy, F[..., 0], F[..., 1], c[..., 0], c[..., 1], moment[..., 2], A)
    axial = tension_about_centroid(xy, F[..., 2], moment[..., 0], moment[..., 1], A)
    lead = np.broadcast_shapes(shear.shape[:-1], axial.shape)
    shear = np.broadcast_to(shear, (*lead, 2))
    return np.concatenate([shear, np.broadcast_to(axial, lead)[..., None]], axis=-1)


@method(
    formula="2 mounts 1.35, 3 mounts 1.30, 4 or more 1.60",
    source="own finite-element study, tests/studies/bolt_shares.py: brackets on mounts M8 some 90 mm apart, a load on "
    "a peg beside them, plate 8 to 20 mm thick, with windows and without",
    valid="2 to 5 mounts on clamped pads; two of them by one bracket alone",
    holds=lambda n: (np.asarray(n) >= 2) & (np.asarray(n) <= 5),
)
def clamped_pull(n: Number) -> Number:
    """How many times the pull by spokes the most pulled mount of a plate that gives bears, for its pad is clamped.

    Three mounts share a pull by statics and bore 1.10 in the study; a random bracket of the long run bore 1.29, for its
    pads hold moments too. With more mounts the plate decides, and each holds its pad from turning as well.

    Args:
        n [-]: number of mounts; one counts as two, more than five as five.

    Returns:
        [-] how many times.

    Example:
        >>> float(clamped_pull(4))
        1.6
    """
    most = np.array([float(one["most"]) for one in rows("plate_share")])
    return np.asarray(most[np.clip(np.asarray(n, int), 2, 5) - 2])[()]
