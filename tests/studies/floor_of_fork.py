"""Finite elements of a fork's floor on a round shank: how far the ears raise the peak at the shank's root.

`python tests/studies/floor_of_fork.py` solves all cases again and writes `floor_of_fork.csv` beside this file, some
twenty minutes on one core. The bound that the library uses, `parts/strength/plates/floor_of_fork.csv`, was fitted to
these cases; `tests/strength/plates/test_floor.py` holds it over every one of them.

The solid: two ears of thickness `t` and width `w`, their middles `s` apart, on a floor of thickness `f`; behind it a
round shank of diameter `d` with a root fillet `r`. A quarter of it is solved, with the symmetry of each load. The
ears are loaded evenly at their ends, which are free to turn: a pin that holds them upright only helps the floor.
The peak is the largest principal stress on the root fillet; it is given over K_t (Roark's shoulder on a round
shaft, D = 2 d) times the nominal stress of the shank at the back of the floor.
"""

from __future__ import annotations

import csv
import sys
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[2]))

from parts.strength.fatigue import notch

SEED, CASES = 20260, 110
D = 10.0
COLUMNS = ("f_d", "s_d", "w_d", "t_d", "r_d", "pull", "side", "across")
SYMMETRY = {
    "pull": ({"x": "end", "y": "along", "z": "middle"}, (1.0, 0.0, 0.0)),
    "side": ({"x": "end|middle", "y": "along|middle", "z": "end"}, (0.0, 0.0, 1.0)),
    "across": ({"x": "end|along", "y": "end", "z": "middle|along"}, (0.0, 1.0, 0.0)),
}
"""Faces that do not move along x, y, z under each load, and the direction of the load: `pull` along the shank,
`side` along the pin, `across` square to both."""


def drawn(rng: np.random.Generator) -> dict[str, float]:
    """One fork by chance, in diameters of the shank."""
    while True:
        one = {
            "f_d": np.exp(rng.uniform(np.log(0.35), np.log(2.0))),
            "s_d": np.exp(rng.uniform(np.log(1.0), np.log(4.0))),
            "w_d": np.exp(rng.uniform(np.log(1.2), np.log(3.0))),
            "t_d": np.exp(rng.uniform(np.log(0.25), np.log(1.2))),
            "r_d": np.exp(rng.uniform(np.log(0.05), np.log(0.3))),
        }
        foot = 1.0 + 2.0 * one["r_d"] + 0.05
        throat = one["s_d"] - one["t_d"]
        if one["w_d"] > foot and one["s_d"] + one["t_d"] > foot and throat > 0.6:
            return {name: round(float(value), 3) for name, value in one.items()}


def solid(f: float, s: float, w: float, t: float, r: float, depth: float) -> Any:
    """A quarter of the fork with its faces named; the shank has the diameter D and runs to -1.5 D."""
    from netgen.occ import Box, Cylinder, Pnt, Vec

    half, inner = (s + t) / 2.0, (s - t) / 2.0
    block = Box(Pnt(0, -w / 2, -half), Pnt(f + depth, w / 2, half))
    block -= Box(Pnt(f, -w, -inner), Pnt(f + 2 * depth, w, inner))
    corners = [
        e for e in block.edges
        if abs(e.center.x - f) < 1e-6 and abs(e.center.y) < 1e-6 and abs(abs(e.center.z) - inner) < 1e-6
    ]  # fmt: skip
    block = block.MakeFillet(corners, 0.3 * min(t, inner))
    fork = block + Cylinder(Pnt(-1.5 * D, 0, 0), Vec(1, 0, 0), D / 2, 1.5 * D + f / 2)
    roots = [
        e for e in fork.edges
        if abs(e.center.x) < 1e-6 and all(abs(np.hypot(v.p.y, v.p.z) - D / 2) < 1e-6 for v in e.vertices)
    ]  # fmt: skip
    fork = fork.MakeFillet(roots, r) * Box(Pnt(-2 * D, 0, 0), Pnt(f + 2 * depth, 2 * w, 2 * half))
    for face in fork.faces:
        low, high = face.bounding_box
        face.name = "free"
        if abs(low.y) < 1e-4 and abs(high.y) < 1e-4:
            face.name = "along"
        elif abs(low.z) < 1e-4 and abs(high.z) < 1e-4:
            face.name = "middle"
        elif high.x < -1.5 * D + 1e-3:
            face.name = "end"
        elif low.x > f + depth - 1e-3:
            face.name = "ear"
        elif low.x > -1.02 * r - 1e-3 and high.x < 1e-3 and high.x - low.x > 0.5 * r:
            face.name, face.maxh = "root", r / 4.0
    return fork


def peaks(f: float, s: float, w: float, t: float, r: float, order: int = 2) -> dict[str, float]:
    """Peak on the root fillet under each load over nominal stress [-]; all lengths in mm, shank diameter D."""
    import ngsolve as ng
    from netgen.occ import OCCGeometry

    depth = 1.2 * w
    fork = OCCGeometry(solid(f, s, w, t, r, depth))
    mesh = ng.Mesh(fork.GenerateMesh(maxh=min(w, s) / 3.5, grading=0.35))
    mesh.Curve(order)
    mu, lam = 1.0 / 2.6, 0.3 / (1.3 * 0.4)

    def stress(u: Any) -> Any:
        return 2.0 * mu * ng.Sym(ng.Grad(u)) + lam * ng.Trace(ng.Grad(u)) * ng.Id(3)

    nominal = {
        "pull": 4.0 / (np.pi * D**2),
        "side": 32.0 * (f + depth) / (np.pi * D**3),
        "across": 32.0 * (f + depth) / (np.pi * D**3),
    }
    found = {}
    for load, (held, way) in SYMMETRY.items():
        space = ng.VectorH1(
            mesh,
            order=order,
            dirichletx=held["x"],
            dirichlety=held["y"],
            dirichletz=held["z"],
        )
        u, v = space.TnT()
        a = ng.BilinearForm(ng.InnerProduct(stress(u), ng.Sym(ng.Grad(v))) * ng.dx)
        a.Assemble()
        each = ng.CF(tuple(x / (2.0 * t * w) for x in way))
        b = ng.LinearForm(each * v * ng.ds("ear")).Assemble()
        moved = ng.GridFunction(space)
        moved.vec.data = a.mat.Inverse(space.FreeDofs(), "sparsecholesky") * b.vec
        smooth = ng.GridFunction(ng.MatrixValued(ng.H1(mesh, order=order)))
        smooth.Set(stress(moved))
        points = mesh.MapToAllElements(ng.IntegrationRule(ng.TRIG, 6), mesh.Boundaries("root"))
        at = smooth(points).reshape(-1, 3, 3)
        principal = np.linalg.eigvalsh(0.5 * (at + at.transpose(0, 2, 1)))
        found[load] = float(np.abs(principal).max()) / nominal[load]
    return found


def multipliers(one: dict[str, float]) -> dict[str, float]:
    """Peaks of a fork over K_t times nominal stress, by load [-]."""
    f, s, w, t, r = (D * one[name] for name in COLUMNS[:5])
    found = peaks(f, s, w, t, r)
    kinds = {"pull": "tension", "side": "bending", "across": "bending"}
    return {
        load: round(value / float(notch.round_fillet(2 * D, D, r, kinds[load])), 4)
        for load, value in found.items()
    }


def main() -> None:
    rng = np.random.default_rng(SEED)
    out = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).with_suffix(".csv")
    with out.open("w", encoding="utf-8", newline="") as file:
        rows = csv.DictWriter(file, COLUMNS, lineterminator="\n")
        rows.writeheader()
        for _ in range(CASES):
            one = drawn(rng)
            rows.writerow(one | multipliers(one))
            file.flush()


if __name__ == "__main__":
    main()
