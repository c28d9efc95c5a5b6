"""Finite elements of an arm beside a thin hub: the peak at its root fillets, over what a flat as wide as the hub gives.

`python tests/studies/thin_hub.py` solves all cases again and writes `thin_hub.csv` beside this file, some two minutes
on one core. `tests/strength/shafts/test_thin_hub.py` holds the bound of `parts.strength.shafts.thin_hub` over them.

Plane stress, all lengths in diameters of the hub: a hub bored to `bore`, `b` times as thick as its arms; an arm along
+x, `w` wide, with root fillets `r`; a second arm `w_2` wide at the angle `turn` [rad], without fillets. Two diameters
from the pivot acts a force square to the first arm (`plane`), which the second holds 1.2 from the pivot, or one along
it (`pull`). The pivot presses half of the bore by a cosine. Given is the greatest von Mises stress on the two fillets
over the greatest product of nominal stress and K_t that the hand calculation of a solid hub has there, and for `plane`
the greatest von Mises stress on the bore over that of its two walls as one section, M/W with W = b (D³ - d³)/(6 D)
(`wall`).

That the hub's whole width bears was held against solids of five of them, solved once by hand, bored 0.64 to 0.73 and
more, `b` 1.02 to 2.1: plane stress gave 1.02 to 1.09 times the solid's peak under `plane`, 1.04 to 1.08 under `pull`. A
force along the pivot gave there up to 1.29 times `plane` (`SIDEWAYS` of the foot lever's limbs), and a moment about the
arm less than a half of it.
"""

from __future__ import annotations

import csv
import sys
from pathlib import Path
from typing import Any

import numpy as np

from parts.features.arm.arm import Arm
from parts.features.arm.blade import Blade
from parts.strength.section.stress import Resultants, von_mises

SEED, CASES = 20263, 260
COLUMNS = ("bore", "w", "r", "b", "w_2", "turn", "plane", "pull", "wall")
LONG, ROD, THICK, NU = 2.0, 1.2, 0.3, 0.3
WEAK = 1e-5
"""Stiffness of the bed under the hub that holds what rounding leaves, in E over the hub's diameter squared."""


def drawn(rng: np.random.Generator) -> dict[str, float]:
    """One lever by chance, in diameters of its hub."""
    w = rng.uniform(0.3, 0.9)
    one = {
        "bore": rng.uniform(0.3, 0.86),
        "w": w,
        "r": min(np.exp(rng.uniform(np.log(0.04), np.log(0.35))), 0.45 * np.sqrt(1.0 - w**2)),
        "b": np.exp(rng.uniform(0.0, np.log(3.0))),
        "w_2": rng.uniform(0.3, 0.7),
        "turn": rng.uniform(1.7, 4.6),
    }
    return {name: round(float(value), 3) for name, value in one.items()}


def blade(w: float, r: float) -> Blade:
    """The first arm."""
    return Blade(
        Arm(length=LONG, width=w, thickness=THICK, root_fillet=r, end_fillet=0.0), 0.5, LONG, 0.0
    )


def by_hand(w: float, r: float) -> dict[str, float]:
    """Greatest nominal stress times K_t along the root, the hub solid, for each load of 1."""
    one = blade(w, r)
    x = np.linspace(0.5, 0.5 + 2.0 * r, 41)
    loads = {
        "plane": Resultants(Vy=1.0 + 0.0 * x, Mz=LONG - x),
        "pull": Resultants(N=1.0 + 0.0 * x),
    }
    outline, K_t = one.outline(x, 0.0), np.asarray(one.notch(x).K_t)
    return {
        name: float(np.max(K_t * np.asarray(von_mises(outline, load, NU).von_mises)))
        for name, load in loads.items()
    }


def meshed(bore: float, w: float, r: float, w_2: float, turn: float) -> Any:
    """Mesh of hub and arms."""
    import ngsolve as ng
    from netgen.occ import (
        ArcOfCircle,
        Axis,
        Face,
        Glue,
        OCCGeometry,
        Pnt,
        Segment,
        Vec,
        Wire,
        WorkPlane,
    )

    root = blade(w, r).root()
    centre, side, rim = (
        np.array([float(v) for v in one]) for one in (root.centre, root.side, root.rim)
    )
    middle = (side + rim) / 2.0 - centre
    middle = centre + r * middle / np.hypot(*middle)
    disc = WorkPlane().Circle(0, 0, 0.5).Face()
    both = disc + WorkPlane().MoveTo(0, -w / 2).Rectangle(LONG, w).Face()
    for sign in (1.0, -1.0):

        def at(place: Any, sign: float = sign) -> Any:
            return Pnt(float(place[0]), sign * float(place[1]), 0.0)

        inner, foot = (0.05, 0.0), (side[0], 0.0)
        if sign > 0.0:
            edges = [Segment(at(inner), at(foot)), Segment(at(foot), at(side)),
                     ArcOfCircle(at(side), at(middle), at(rim)), Segment(at(rim), at(inner))]  # fmt: skip
        else:
            edges = [Segment(at(inner), at(rim)), ArcOfCircle(at(rim), at(middle), at(side)),
                     Segment(at(side), at(foot)), Segment(at(foot), at(inner))]  # fmt: skip
        both = both + Face(Wire(edges))
    second = WorkPlane().MoveTo(0, -w_2 / 2).Rectangle(ROD, w_2).Face()
    both = both + second.Rotate(Axis(Pnt(0, 0, 0), Vec(0, 0, 1)), float(np.degrees(turn)))
    hub, arms = disc - WorkPlane().Circle(0, 0, bore / 2).Face(), both - disc
    hub.faces.name, arms.faces.name = "hub", "arm"
    shape = Glue([hub, arms])
    for edge in shape.edges:
        ends = np.array([[v.p.x, v.p.y] for v in edge.vertices])
        off = np.hypot(ends[:, 0] - centre[0], np.abs(ends[:, 1]) - centre[1])
        here = np.array([edge.center.x, edge.center.y])
        edge.name = "free"
        if np.allclose(ends[:, 0], LONG, atol=1e-6):
            edge.name = "tip"
        elif np.allclose(ends @ [np.cos(turn), np.sin(turn)], ROD, atol=1e-6):
            edge.name = "rod"
        elif np.all(np.hypot(*ends.T) < bore / 2 + 1e-6):
            edge.name, edge.maxh = "bore", max((1.0 - bore) / 6.0, 0.02)
        elif (
            np.allclose(off, r, atol=1e-5)
            and np.hypot(*here) > 0.5
            and np.hypot(*np.ptp(ends, axis=0)) < 2.0 * r
        ):
            edge.name, edge.maxh = "root", r / 8.0
    mesh = ng.Mesh(OCCGeometry(shape, dim=2).GenerateMesh(maxh=0.15, grading=0.3))
    mesh.Curve(3)
    return mesh


def peaks(bore: float, w: float, r: float, b: float, w_2: float, turn: float) -> dict[str, float]:
    """Peak at the roots over that by hand, for each load."""
    import ngsolve as ng

    mesh = meshed(bore, w, r, w_2, turn)

    def stress(u: Any) -> Any:
        e = ng.Sym(ng.Grad(u))
        return ((1.0 - NU) * e + NU * ng.Trace(e) * ng.Id(2)) / (1.0 - NU**2)

    space = ng.VectorH1(mesh, order=3)
    u, v = space.TnT()
    thick = mesh.MaterialCF({"hub": b * THICK, "arm": THICK})
    a = ng.BilinearForm(space, symmetric=True)
    a += thick * ng.InnerProduct(stress(u), ng.Sym(ng.Grad(v))) * ng.dx + WEAK * u * v * ng.dx(
        "hub"
    )
    a.Assemble()
    inverse = a.mat.Inverse(space.FreeDofs(), "sparsecholesky")
    arms = mesh.Materials("arm")
    smooth = ng.GridFunction(ng.MatrixValued(ng.H1(mesh, order=3, definedon="arm")))
    within = ng.GridFunction(ng.MatrixValued(ng.H1(mesh, order=3, definedon="hub")))
    rim = mesh.MapToAllElements(ng.IntegrationRule(ng.SEGM, 8), mesh.Boundaries("bore"))
    points = mesh.MapToAllElements(ng.IntegrationRule(ng.SEGM, 8), mesh.Boundaries("root"))
    y = ng.CF(ng.y)(points).ravel()
    if not (y.min() < 0.0 < y.max()):
        raise RuntimeError("a fillet was not found")
    out = ng.CF((ng.x, ng.y)) / ng.sqrt(ng.x**2 + ng.y**2)
    along = np.array([-np.sin(turn), np.cos(turn)])
    found, hand = {}, by_hand(w, r)
    for name, force, moment in (("plane", (0.0, 1.0), LONG), ("pull", (1.0, 0.0), 0.0)):
        rod = -moment / ROD * along
        rest = -(np.array(force) + rod)
        size = float(np.hypot(*rest))
        cosine = out * ng.CF(tuple(rest / size))
        pressed = ng.IfPos(cosine, cosine, 0.0)
        pressed = pressed * (size / ng.Integrate(pressed * cosine * ng.ds("bore"), mesh))
        f = ng.LinearForm(space)
        f += ng.CF(tuple(f_ / w for f_ in force)) * v * ng.ds("tip") + ng.CF(
            tuple(rod / w_2)
        ) * v * ng.ds("rod")
        f += pressed * (out * v) * ng.ds("bore")
        f.Assemble()
        moved = ng.GridFunction(space)
        moved.vec.data = inverse * f.vec
        smooth.Set(stress(moved), definedon=arms)
        found[name] = round(_mises(smooth(points)) / hand[name], 4)
        if name == "plane":
            within.Set(stress(moved), definedon=mesh.Materials("hub"))
            walls = moment / (b * THICK * (1.0 - bore**3) / 6.0)
            found["wall"] = round(_mises(within(rim)) / walls, 4)
    return found


def _mises(stress: np.ndarray) -> float:
    s = stress.reshape(-1, 2, 2)
    xx, yy, xy = s[:, 0, 0], s[:, 1, 1], (s[:, 0, 1] + s[:, 1, 0]) / 2.0
    return float(np.sqrt(xx**2 + yy**2 - xx * yy + 3.0 * xy**2).max())


def main() -> None:
    rng = np.random.default_rng(SEED)
    out = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).with_suffix(".csv")
    with out.open("w", encoding="utf-8", newline="") as file:
        rows = csv.DictWriter(file, COLUMNS, lineterminator="\n")
        rows.writeheader()
        for _ in range(CASES):
            one = drawn(rng)
            rows.writerow(one | peaks(**one))
            file.flush()


if __name__ == "__main__":
    main()
