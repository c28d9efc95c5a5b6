"""Finite elements of a plate loaded through a boss: stress on its smooth face and at the root fillet of the boss.

`python tests/studies/boss_on_plate.py` solves all cases again and writes `boss_on_plate.csv` beside this file, some ten
minutes on one core. `tests/strength/plates/test_boss.py` holds the methods of `parts.strength.plates.boss` over
every one of them.

A rectangular plate of thickness `t` and width `W` is clamped at the distance `c` from the middle of a solid round boss
of diameter `d`. At the distance `e` on the other side it ends free (`held` 1) or is clamped too (`held` 2). The boss
stands one diameter high on it, `off` the middle of the width, with a root fillet `r`. All lengths are in diameters of
the boss. Loads act on the boss's top: a moment along the plate (`along`, it bends the plate toward the clamp), one
across it (`across`, it twists the plate) and a force square to the face (`normal`). Given are the largest principal
stress on the smooth face within half a thickness of the boss (`face`), and the largest on the root fillet (`root`),
times t² d over the moment, or t² over the force.
"""

from __future__ import annotations

import csv
import sys
from pathlib import Path
from typing import Any

import numpy as np

SEED, CASES, ASIDE = 20262, 44, 18
SHAPE = ("held", "t_d", "W_d", "c_d", "e_d", "r_d", "off_d")
STRESSES = ("face_along", "root_along", "face_across", "root_across", "face_normal", "root_normal")
NU = 0.3


def drawn(rng: np.random.Generator, aside: bool = False) -> dict[str, float]:
    """One plate by chance, in diameters of the boss; `aside` puts the boss off the middle of the width."""
    one = {
        "held": rng.choice([1.0, 1.0, 2.0]),
        "t_d": np.exp(rng.uniform(np.log(0.15), np.log(0.6))),
        "W_d": np.exp(rng.uniform(np.log(1.3), np.log(6.0))),
        "c_d": np.exp(rng.uniform(np.log(1.2), np.log(6.0))),
        "e_d": np.exp(rng.uniform(np.log(0.65), np.log(4.0))),
        "r_d": rng.uniform(0.05, 0.14),
    }
    if one["held"] == 2.0:
        one["e_d"] = np.exp(rng.uniform(np.log(1.2), np.log(6.0)))
    one["off_d"] = 0.0
    if aside:
        one["W_d"] = np.exp(rng.uniform(np.log(1.8), np.log(6.0)))
        one["off_d"] = rng.uniform(0.3, 1.0) * (one["W_d"] / 2.0 - 0.66)
    return {name: round(float(value), 3) for name, value in one.items()}


def solid(held: float, t: float, W: float, c: float, e: float, r: float, off: float) -> Any:
    """The plate with its boss (d = 1) above z = t; faces named."""
    from netgen.occ import Box, Cylinder, Pnt, Vec

    plate = Box(Pnt(-e, -W / 2 + off, 0), Pnt(c, W / 2 + off, t))
    both = plate + Cylinder(Pnt(0, 0, t / 2), Vec(0, 0, 1), 0.5, 1.0 + t / 2)
    roots = [
        k for k in both.edges
        if abs(k.center.z - t) < 1e-6 and all(abs(np.hypot(v.p.x, v.p.y) - 0.5) < 1e-6 for v in k.vertices)
    ]  # fmt: skip
    both = both.MakeFillet(roots, r)
    for face in both.faces:
        low, high = face.bounding_box
        face.name = "free"
        if low.x > c - 1e-4 or (held == 2.0 and high.x < -e + 1e-4):
            face.name = "clamp"
        elif high.z < 1e-4:
            face.name = "smooth"
        elif low.z > 1.0 + t - 1e-4:
            face.name = "top"
        elif low.z > t - 1e-3 and high.x > 0.5 + 0.9 * r and high.z > low.z + 0.5 * r:
            face.name, face.maxh = "root", r / 2.0
    return both


def peaks(
    held: float, t: float, W: float, c: float, e: float, r: float, off: float
) -> dict[str, float]:
    """Stresses as the columns state them, for d = 1."""
    import ngsolve as ng
    from netgen.meshing import MeshingParameters
    from netgen.occ import OCCGeometry

    rules = MeshingParameters(maxh=0.5, grading=0.5)
    for angle in np.linspace(0.0, 2.0 * np.pi, 24, endpoint=False):
        for far in (0.45, 0.55):
            rules.RestrictH(far * np.cos(angle), far * np.sin(angle), 0.0, h=min(t / 2.0, 0.15))
    mesh = ng.Mesh(OCCGeometry(solid(held, t, W, c, e, r, off)).GenerateMesh(rules))
    mesh.Curve(2)
    mu, lam = 1.0 / (2.0 * (1.0 + NU)), NU / ((1.0 + NU) * (1.0 - 2.0 * NU))

    def stress(u: Any) -> Any:
        return 2.0 * mu * ng.Sym(ng.Grad(u)) + lam * ng.Trace(ng.Grad(u)) * ng.Id(3)

    space = ng.VectorH1(mesh, order=2, dirichlet="clamp")
    u, v = space.TnT()
    a = ng.BilinearForm(space, symmetric=True)
    a += ng.InnerProduct(stress(u), ng.Sym(ng.Grad(v))) * ng.dx
    a.Assemble()
    inverse = a.mat.Inverse(space.FreeDofs(), "sparsecholesky")
    second, area = np.pi / 64.0, np.pi / 4.0
    loads = {
        "along": ng.CF((0, 0, ng.x / second)),
        "across": ng.CF((0, 0, ng.y / second)),
        "normal": ng.CF((0, 0, 1.0 / area)),
    }
    smooth = ng.GridFunction(ng.MatrixValued(ng.H1(mesh, order=2)))
    rule = ng.IntegrationRule(ng.TRIG, 6)
    found = {}
    for load, pull in loads.items():
        b = ng.LinearForm(pull * v * ng.ds("top")).Assemble()
        moved = ng.GridFunction(space)
        moved.vec.data = inverse * b.vec
        smooth.Set(stress(moved))
        for name, where in (("face", "smooth"), ("root", "root")):
            points = mesh.MapToAllElements(rule, mesh.Boundaries(where))
            at = smooth(points).reshape(-1, 3, 3)
            place = ng.CF((ng.x, ng.y))(points).reshape(-1, 2)
            size = np.abs(np.linalg.eigvalsh(0.5 * (at + at.transpose(0, 2, 1)))).max(axis=1)
            near = (np.hypot(*place.T) < 0.5 + 0.5 * t) & (place[:, 0] < c - 0.7 * t)
            near &= (held == 1.0) | (place[:, 0] > 0.7 * t - e)
            found[f"{name}_{load}"] = round(float(size[near].max()) * t**2, 4)
    return found


def main() -> None:
    rng = np.random.default_rng(SEED)
    out = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).with_suffix(".csv")
    with out.open("w", encoding="utf-8", newline="") as file:
        rows = csv.DictWriter(file, SHAPE + STRESSES, lineterminator="\n")
        rows.writeheader()
        for number in range(CASES + ASIDE):
            one = drawn(rng, aside=number >= CASES)
            rows.writerow(one | peaks(*one.values()))
            file.flush()


if __name__ == "__main__":
    main()
