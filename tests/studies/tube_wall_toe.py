"""How much a plate along a round tube stresses the tube's wall at the toe of its weld, by finite elements.

    python tests/studies/tube_wall_toe.py

A tube, six diameters longer than the plate and clamped at both ends, with a plate that stands on it, welded all round
with a leg of 0.9 of the plate's thickness. The top of the plate is pulled off the tube (N) or pushed along it (Mi) or
across it (Mo). The stress is the largest principal one at the outside, carried on to the toe from 0.4 and 1.0 of the
wall beside it (IIW, type a), at the side and at the end of the plate; over yield where the wall is used up by EN
1993-1-8, table 7.3: N_R = 5 f_y t0² (1 + 0.25 h/d0), M_iR = 0.8 h N_R, M_oR = f_y t0² h/2.
"""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np

E, NU = 205e3, 0.3
SIZES = (
    (31.75, 1.65, 36.0, 4.0),
    (25.4, 1.24, 60.0, 3.0),
    (38.1, 3.0, 36.0, 4.0),
    (31.75, 1.24, 36.0, 3.0),
)
"""Outside diameter and wall of the tube, length and thickness of the plate [mm]."""
LOADS = {"N": (1.0, 0.0, 0.0), "Mi": (0.0, 0.0, 1.0), "Mo": (0.0, 1.0, 0.0)}


def welded(d, t, h, t1):
    """The solid, its ends named `fix` and the top of its plate `load`; z along the tube, x out of it."""
    from netgen.occ import Box, Cylinder, Face, Pnt, Segment, Wire, Y, Z

    R, long, leg = d / 2.0, 6.0 * d + h, 0.9 * t1
    top = 1.75 * R + 10.0
    inside = Cylinder((0, 0, -long), Z, r=R - t / 2.0, h=2.0 * long)

    def face(points):
        pairs = zip(points, [*points[1:], points[0]], strict=True)
        return Face(Wire([Segment(Pnt(*p), Pnt(*q)) for p, q in pairs]))

    body = Cylinder((0, 0, -long / 2.0), Z, r=R, h=long) - Cylinder(
        (0, 0, -long), Z, r=R - t, h=2.0 * long
    )
    body = body + (Box((R - 0.7 * t, -t1 / 2.0, -h / 2.0), (R + top, t1 / 2.0, h / 2.0)) - inside)
    for s in (1.0, -1.0):
        y = s * (t1 / 2.0 + leg)
        x = np.sqrt(R**2 - y**2)
        side = [(R - t / 2.0, 0.0), (R + leg, 0.0), (R + leg, s * t1 / 2.0), (x, y),
                (x - 0.2 * t, y * (1.0 - 0.2 * t / R))]  # fmt: skip
        body = body + face([(*p, -h / 2.0) for p in side]).Extrude(h * Z)
        end = [(R - t / 2.0, s * h / 2.0), (R + leg, s * h / 2.0), (R, s * (h / 2.0 + leg)),
               (R - t / 2.0, s * (h / 2.0 + leg))]  # fmt: skip
        body = body + (face([(a, -t1 / 2.0, b) for a, b in end]).Extrude(t1 * Y) - inside)
    for one in body.faces:
        if abs(abs(one.center.z) - long / 2.0) < 1e-6:
            one.name = "fix"
        if abs(one.center.x - R - top) < 1e-6:
            one.name = "load"
    for edge in body.edges:
        c = edge.center
        if (
            abs(c.z) < h / 2.0 + 2.0 * leg
            and c.x > 0.6 * R
            and abs(c.y) < t1 / 2.0 + 1.3 * leg
            and c.x < R + 1.1 * leg
        ):
            edge.maxh = t / 1.3
    return body, leg, top


def factors(d, t, h, t1, load):
    """Elastic stress at the toe over yield at the wall's resistance [-]: beside the plate and at its end."""
    import ngsolve as ng
    from netgen.occ import OCCGeometry

    body, leg, top = welded(d, t, h, t1)
    mesh = ng.Mesh(OCCGeometry(body).GenerateMesh(maxh=d / 5.0, grading=0.35))
    mesh.Curve(2)
    space = ng.VectorH1(mesh, order=2, dirichlet="fix")
    u, v = space.TnT()
    lame, G = E * NU / (1.0 + NU) / (1.0 - 2.0 * NU), E / 2.0 / (1.0 + NU)

    def strain(w):
        return 0.5 * (ng.Grad(w) + ng.Grad(w).trans)

    def stress(w):
        return lame * ng.Trace(strain(w)) * ng.Id(3) + 2.0 * G * strain(w)

    stiff = ng.BilinearForm(ng.InnerProduct(stress(u), strain(v)) * ng.dx)
    area = ng.Integrate(1, mesh, definedon=mesh.Boundaries("load"))
    force = ng.LinearForm(ng.CF(tuple(one / area for one in LOADS[load])) * v * ng.ds("load"))
    pre = ng.Preconditioner(stiff, "bddc")
    stiff.Assemble()
    force.Assemble()
    moved = ng.GridFunction(space)
    moved.vec.data = ng.CGSolver(stiff.mat, pre.mat, tol=1e-8, maxiter=800) * force.vec
    found, R = stress(moved), d / 2.0

    def at(phi, z):
        r = R - 0.02 * t
        tensor = np.reshape(found(mesh(r * np.cos(phi), r * np.sin(phi), z)), (3, 3))
        return np.abs(np.linalg.eigvalsh(tensor)).max()

    def toe(near, far):
        return near + (near - far) * 0.4 / 0.6

    foot = np.arcsin((t1 / 2.0 + leg) / R)
    side = max(
        toe(*(at(s * (foot + k * t / R), z) for k in (0.4, 1.0)))
        for s in (1.0, -1.0) for z in np.linspace(-h / 2.0, h / 2.0, 9)
    )  # fmt: skip
    end = max(
        toe(*(at(np.arcsin(y / R), s * (h / 2.0 + leg + k * t)) for k in (0.4, 1.0)))
        for s in (1.0, -1.0) for y in (0.0, t1 / 4.0)
    )  # fmt: skip
    N = 5.0 * t**2 * (1.0 + 0.25 * min(h / d, 4.0))
    most = {"N": N, "Mi": 0.8 * h * N / top, "Mo": 0.5 * t**2 * h / top}[load]
    return side * most, end * most


if __name__ == "__main__":
    with Path(__file__).with_suffix(".csv").open("w", encoding="utf-8", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(("d", "t", "h", "t1", "load", "side", "end"))
        for size in SIZES:
            for load in LOADS:
                writer.writerow((*size, load, *(f"{one:.2f}" for one in factors(*size, load))))
                file.flush()
