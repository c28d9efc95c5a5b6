"""Finite elements of a square or hexagon bar in its hub: stress in the thin ligaments over the corner reliefs.

`python tests/studies/polygon_hub.py` solves all cases again and writes `polygon_hub.csv` beside this file, some ten
minutes on one core. The bound that the library uses, `parts/strength/shafts/polygon_hub.csv`, was fitted to these
cases; `tests/strength/shafts/test_polygon_hub.py` holds it over every one of them.

Plane strain, in widths across flats: a round hub of diameter `D_AF` with a bore of `n` flats whose corners are drilled
to `relief_AF`; an elastic bar of the same shape in it, without friction, pressed where it touches and free where it
gaps (iterated). The bar carries the torque and, where `tip_AF` is not 0, what the load on the tip of an arm that long
adds to it. The hub is held by an arm of width `arm_D` (in diameters of the hub) toward +x, clamped at 1.8 D. `clock` is
the turn of a flat's middle from the arm, in shares of pi/n. `loose` is the clearance at a flat, in widths of the flat
times nominal peak pressure over Young's modulus. `bar_E` is the bar's modulus over the hub's. All stresses are given
over the mean hoop stress of `flats_hoop_stress`: `section` is the largest straight-line stress (force and moment)
across a ligament at a corner, `peak` the largest principal stress on a relief.
"""

from __future__ import annotations

import csv
import sys
from pathlib import Path
from typing import Any

import numpy as np

SEED, CASES = 20261, 150
COLUMNS = (
    "n",
    "D_AF",
    "relief_AF",
    "arm_D",
    "clock",
    "tip_AF",
    "loose",
    "bar_E",
    "section",
    "peak",
)
HELD, NU, CONTACT = 1.8, 0.3, 60.0
"""Where the arm is clamped, in diameters of the hub; Poisson's ratio; contact stiffness in E/AF."""


def drawn(rng: np.random.Generator) -> dict[str, float]:
    """One hub by chance: the wall from 0.12 to 0.6 of the flats."""
    n = int(rng.choice([4, 6]))
    flat = np.tan(np.pi / n)
    relief = np.exp(rng.uniform(np.log(0.05), np.log(0.4 * flat)))
    wall = np.exp(rng.uniform(np.log(0.12), np.log(0.6)))
    one = {
        "n": n,
        "D_AF": 1.0 / np.cos(np.pi / n) + relief + 2.0 * wall,
        "relief_AF": relief,
        "arm_D": rng.uniform(0.5, 1.0),
        "clock": rng.uniform(-1.0, 1.0),
        "tip_AF": rng.choice([0.0, 1.0]) * rng.uniform(4.0, 12.0),
        "loose": rng.choice([0.0, 1.0]) * rng.uniform(0.0, 0.5),
        "bar_E": rng.choice([1.0, 3.0]),
    }
    return {name: round(float(value), 3) for name, value in one.items()}


def meshed(n: int, D: float, relief: float, arm: float, turn: float) -> tuple[Any, np.ndarray]:
    """Mesh of hub and bar, AF = 1, with the angles of the corners [rad]; the arm's width is in units of AF."""
    import ngsolve as ng
    from netgen.occ import Glue, OCCGeometry, WorkPlane

    corner = 0.5 / np.cos(np.pi / n)
    angles = (np.arange(n) + 0.5) * 2.0 * np.pi / n + turn
    points = corner * np.stack([np.cos(angles), np.sin(angles)], axis=1)
    line = WorkPlane().MoveTo(*points[0])
    for point in [*points[1:], points[0]]:
        line.LineTo(*point)
    shape = line.Face()
    holes = WorkPlane().Circle(*points[0], relief / 2.0).Face()
    for point in points[1:]:
        holes = holes + WorkPlane().Circle(*point, relief / 2.0).Face()
    disc = WorkPlane().Circle(0.0, 0.0, D / 2.0).Face()
    disc = disc + WorkPlane().MoveTo(0.0, -arm / 2.0).Rectangle(HELD * D, arm).Face()
    hub, bar = disc - shape - holes, shape - holes
    wall = D / 2.0 - corner - relief / 2.0
    hub.faces.name, hub.faces.maxh = "hub", min(wall / 2.5, 0.125)
    bar.faces.name, bar.faces.maxh = "bar", 0.17
    for edge in hub.edges:
        ends = np.array([[v.p.x, v.p.y] for v in edge.vertices])
        far = np.hypot(*ends.T)
        on_hole = [np.allclose(np.hypot(*(ends - p).T), relief / 2.0, atol=1e-6) for p in points]
        edge.name = "free"
        if np.allclose(ends[:, 0], HELD * D):
            edge.name = "end"
        elif any(on_hole):
            edge.name, edge.maxh = "relief", relief / 10.0
        elif np.all(far < corner + relief):
            edge.name, edge.maxh = "flat", 0.04
    mesh = ng.Mesh(OCCGeometry(Glue([hub, bar]), dim=2).GenerateMesh(maxh=D / 5.0, grading=0.3))
    mesh.Curve(3)
    return mesh, angles


def stress(u: Any, E: float) -> Any:
    """Hooke's law in plane strain."""
    import ngsolve as ng

    mu, lam = E / (2.0 * (1.0 + NU)), E * NU / ((1.0 + NU) * (1.0 - 2.0 * NU))
    return 2.0 * mu * ng.Sym(ng.Grad(u)) + lam * ng.Trace(ng.Grad(u)) * ng.Id(2)


def solved(mesh: Any, n: int, turn: float, tip: float, gap: float, bar_E: float) -> Any:
    """Displacement of the hub under a torque of 1 on the bar."""
    import ngsolve as ng

    space = ng.VectorH1(mesh, order=2, definedon="hub", dirichlet="end")
    space = space * ng.VectorH1(mesh, order=2, definedon="bar")
    (u, w), (v, z) = space.TnT()
    step = 2.0 * np.pi / n
    middle = ng.floor((ng.atan2(ng.y, ng.x) - turn) / step + 0.5) * step + turn
    way = ng.CF((ng.cos(middle), ng.sin(middle)))
    along = -ng.sin(middle) * ng.x + ng.cos(middle) * ng.y
    on_flats = ng.ds("flat", intrules={ng.SEGM: ng.IntegrationRule(ng.SEGM, 6)})
    area = ng.Integrate(ng.CF(1.0) * ng.dx("bar"), mesh)
    polar = ng.Integrate((ng.x**2 + ng.y**2) * ng.dx("bar"), mesh)
    b = ng.LinearForm(space)
    b += ng.CF((-ng.y, ng.x)) / polar * z * ng.dx("bar")
    if tip:
        b += 1.0 / tip / area * z[1] * ng.dx("bar")
    b.Assemble()
    moved = ng.GridFunction(space)
    touches = ng.IfPos(along, 1.0, 0.0)
    for _ in range(25):
        a = ng.BilinearForm(space, symmetric=True)
        a += ng.InnerProduct(stress(u, 1.0), ng.Sym(ng.Grad(v))) * ng.dx("hub")
        a += ng.InnerProduct(stress(w, bar_E), ng.Sym(ng.Grad(z))) * ng.dx("bar")
        a += CONTACT * touches * ((w - u) * way) * ((z - v) * way) * on_flats
        a += 1e-7 * w * z * ng.dx("bar")
        a.Assemble()
        right = ng.LinearForm(space)
        right += CONTACT * gap * touches * ((z - v) * way) * on_flats
        right.Assemble()
        right.vec.data += b.vec
        new = moved.vec.CreateVector()
        new.data = a.mat.Inverse(space.FreeDofs(), "sparsecholesky") * right.vec
        change = new.CreateVector()
        change.data = new - moved.vec
        moved.vec.data = new
        if change.Norm() < 1e-5 * new.Norm():
            return moved.components[0]
        touches = ng.IfPos((moved.components[1] - moved.components[0]) * way - gap, 1.0, 0.0)
    raise RuntimeError("the contact did not settle")


def factors(one: dict[str, float]) -> dict[str, float]:
    """Stress across a ligament and peak on a relief, over the mean hoop stress [-]."""
    import ngsolve as ng

    n, D, relief = int(one["n"]), one["D_AF"], one["relief_AF"]
    arm, turn = one["arm_D"] * D, one["clock"] * np.pi / n
    mesh, angles = meshed(n, D, relief, arm, turn)
    s = np.tan(np.pi / n) - relief
    inside = 0.5 / np.cos(np.pi / n) + relief / 2.0
    wall = D / 2.0 - inside
    hoop = 3.0 / (2.0 * np.pi * s * wall)
    gap = max(one["loose"], 1e-9) * 12.0 / (n * s)
    u = solved(mesh, n, turn, one["tip_AF"], gap, one["bar_E"])
    smooth = ng.GridFunction(ng.MatrixValued(ng.H1(mesh, order=2, definedon="hub")))
    smooth.Set(stress(u, 1.0), definedon=mesh.Materials("hub"))
    points = mesh.MapToAllElements(ng.IntegrationRule(ng.SEGM, 8), mesh.Boundaries("relief"))
    at = smooth(points).reshape(-1, 2, 2)
    peak = np.linalg.eigvalsh(0.5 * (at + at.transpose(0, 2, 1)))[:, 1].max()
    nodes, weights = np.polynomial.legendre.leggauss(16)
    radii, share = inside + (nodes + 1.0) / 2.0 * wall, weights / 2.0
    across = []
    for angle in angles:
        out, round_ = (
            np.array([np.cos(angle), np.sin(angle)]),
            np.array([-np.sin(angle), np.cos(angle)]),
        )
        line = np.array([
            round_ @ np.reshape(smooth(mesh(*(float(x) for x in r * out))), (2, 2)) @ round_ for r in radii
        ])  # fmt: skip
        even = float(line @ share)
        bent = -float((line * share) @ (radii - radii.mean())) * 6.0 / wall
        across += [even + abs(bent)]
    return {"section": round(max(across) / hoop, 4), "peak": round(float(peak) / hoop, 4)}


def main() -> None:
    rng = np.random.default_rng(SEED)
    out = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).with_suffix(".csv")
    with out.open("w", encoding="utf-8", newline="") as file:
        rows = csv.DictWriter(file, COLUMNS, lineterminator="\n")
        rows.writeheader()
        for _ in range(CASES):
            one = drawn(rng)
            rows.writerow(one | factors(one))
            file.flush()


if __name__ == "__main__":
    main()
