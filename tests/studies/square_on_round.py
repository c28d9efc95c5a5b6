"""Finite elements of a rectangular tube end-on on a round one: the stress at its toe over the tube's own.

`python tests/studies/square_on_round.py` solves all cases again and writes `square_on_round.csv` beside this file, some
ten minutes on one core. `tests/families/test_square_on_round.py` holds `parts.strength.welded.box_end.round_peak` over
them.

Half of the joint in solid elements of second order, 0.7 of the thinner wall long at the joint; no fillet. The round
tube is six diameters long and fast at both ends; at the top of the rectangular one acts a pull (`N`) or a moment along
the round one (`M_i`) or across it (`M_o`), each of 1 MPa at its worst fibre. Given is the greatest principal stress at
the toe, all round it, on both tubes' outside, extrapolated from 0.4 and 1 wall beside it. Lengths in mm.
"""

from __future__ import annotations

import csv
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np

CASES: tuple[tuple[float, float, float, float, float], ...] = (
    (30, 2, 15, 15, 2), (36, 2, 14.4, 14.4, 2), (36, 2, 21.6, 21.6, 2), (36, 2, 28.8, 28.8, 2), (60, 2, 24, 24, 2),
    (60, 2, 36, 36, 2), (60, 2, 48, 48, 2), (60, 2, 36, 36, 1), (60, 2, 36, 72, 2), (60, 2, 36, 18, 2),
    (36, 3, 21.6, 21.6, 1.5), (30, 2, 15, 30, 2), (30, 2, 24, 12, 2), (30, 3, 18, 18, 3),
)  # fmt: skip
"""d0, t0, b, h, t1: the round tube, side across it and along it, wall."""
PLACES = np.linspace(0.02, 0.98, 25)
BELOW = 0.03
"""How far below the surface the stress is read, in walls [-]."""


def mesh_of(d0: float, t0: float, b: float, h: float, t1: float) -> Any:
    """Half of the joint, y > 0: the round tube along x, the other up z."""
    import cadquery as cq
    import ngsolve
    from netgen.occ import OCCGeometry

    long, high = 3.0 * d0, 2.0 * max(b, h) + d0 / 2.0

    def bar(x: float, y: float, r: float) -> cq.Workplane:
        return cq.Workplane("XY").rect(x, y).extrude(high).edges("|Z").fillet(r)

    def rod(r: float) -> cq.Workplane:
        return cq.Workplane("YZ").workplane(offset=-long).circle(r).extrude(2.0 * long)

    post = bar(h, b, 2.0 * t1).cut(bar(h - 2.0 * t1, b - 2.0 * t1, t1))
    whole = post.cut(rod(d0 / 2.0)).union(rod(d0 / 2.0).cut(rod(d0 / 2.0 - t0)))
    half = whole.intersect(cq.Workplane("XY").box(*3 * [10.0 * long]).translate((0, 5.0 * long, 0)))
    with tempfile.TemporaryDirectory() as folder:
        path = str(Path(folder) / "half.brep")
        half.val().exportBrep(path)
        shape = OCCGeometry(path).shape
    thin = min(t0, t1)
    for face in shape.faces:
        at = face.center
        ends, cut, top = abs(abs(at.x) - long), abs(at.y), abs(at.z - high)
        names = [n for n, off in (("ends", ends), ("cut", cut), ("top", top)) if off < 1e-6]
        face.name = names[0] if names else "skin"
        if not names:
            face.maxh = max(2.0 * thin, d0 / 8.0)
    for edge in shape.edges:
        at = edge.center
        if (
            abs(at.x) < h / 2.0 + 1e-3
            and abs(at.y) < b / 2.0 + 1e-3
            and 0.0 < at.z < d0 / 2.0 + 1e-3
        ):
            edge.maxh = 0.7 * thin
    return ngsolve.Mesh(OCCGeometry(shape).GenerateMesh(maxh=d0 / 4.0, grading=0.25)).Curve(2)


def stresses(mesh: Any, b: float, h: float) -> Iterator[tuple[str, Callable[..., Any]]]:
    """The stress at a place (x, y, z) under each load [MPa], shape (3, 3)."""
    import ngsolve as ng

    E, nu = 200e3, 0.3
    mu, lam = E / 2.0 / (1.0 + nu), E * nu / (1.0 + nu) / (1.0 - 2.0 * nu)
    even = {"N": ng.CF((0, 0, 1.0)), "M_i": ng.CF((0, 0, 2.0 / h * ng.x))}
    odd = {"M_o": ng.CF((0, 0, 2.0 / b * ng.y))}
    for loads, held in (
        (even, {"dirichlety": "cut"}),
        (odd, {"dirichletx": "cut", "dirichletz": "cut"}),
    ):
        space = ng.VectorH1(mesh, order=2, dirichlet="ends", **held)
        u, v = space.TnT()

        def strain(w: Any) -> Any:
            return 0.5 * (ng.Grad(w) + ng.Grad(w).trans)

        def stress(w: Any) -> Any:
            return 2.0 * mu * strain(w) + lam * ng.Trace(strain(w)) * ng.Id(3)

        stiff = ng.BilinearForm(ng.InnerProduct(stress(u), strain(v)) * ng.dx).Assemble()
        inverse = stiff.mat.Inverse(space.FreeDofs(), inverse="sparsecholesky")
        for name, pull in loads.items():
            load, moved = ng.LinearForm(pull * v * ng.ds("top")).Assemble(), ng.GridFunction(space)
            moved.vec.data = inverse * load.vec
            field = stress(moved)
            yield name, lambda *at, field=field: np.array(field(mesh(*at))).reshape(3, 3)


def toe(b: float, h: float, t1: float) -> Iterator[tuple[float, float, float, float]]:
    """Places round half of the outside of the tube, x and y [mm], and the way out of it there."""
    r = 2.0 * t1
    y, x = b / 2.0 - r, h / 2.0 - r
    arc = np.pi / 2.0 * r
    for walked in PLACES * (y + arc + x):
        turn = np.clip((walked - y) / r, 0.0, np.pi / 2.0)
        c, s = float(np.cos(turn)), float(np.sin(turn))
        yield x + r * c - max(walked - y - arc, 0.0), min(walked, y) + r * s, c, s


def peaks(d0: float, t0: float, b: float, h: float, t1: float) -> dict[str, float]:
    """The greatest stress at the toe over the tube's own, by load [-]."""
    found: dict[str, float] = {}
    for name, at in stresses(mesh_of(d0, t0, b, h, t1), b, h):

        def extrapolated(
            place: Callable[[float], tuple[float, ...]], t: float, at: Any = at
        ) -> float:
            near, far = (np.linalg.eigvalsh(at(*place(share * t))) for share in (0.4, 1.0))
            a, c = (one[np.argmax(np.abs(one))] for one in (near, far))
            return abs((a - 0.4 * c) / 0.6)

        for x, y, c, s in toe(b, h, t1):
            turn, high = np.arcsin(2.0 * y / d0), np.sqrt(d0**2 / 4.0 - y**2)
            r = d0 / 2.0 - BELOW * t0

            def neighbour(
                off: float,
                x: float = x,
                turn: float = turn,
                c: float = c,
                s: float = s,
                r: float = r,
            ) -> Any:
                on = turn + s * off / (d0 / 2.0)
                return x + c * off, r * np.sin(on), r * np.cos(on)

            def own(
                off: float,
                x: float = x,
                y: float = y,
                c: float = c,
                s: float = s,
                high: float = high,
            ) -> Any:
                return x - BELOW * t1 * c, y - BELOW * t1 * s, high + off

            found[name] = max(
                found.get(name, 0.0), extrapolated(neighbour, t0), extrapolated(own, t1)
            )
    return found


def main() -> None:
    """Solve all cases and write the table."""
    with Path(__file__).with_suffix(".csv").open("w", encoding="utf-8", newline="") as file:
        rows = csv.writer(file, lineterminator="\n")
        rows.writerow(("d0", "t0", "b", "h", "t1", "N", "M_i", "M_o"))
        for case in CASES:
            rows.writerow((*case, *(f"{value:.2f}" for value in peaks(*case).values())))


if __name__ == "__main__":
    main()
