"""Linear elasticity on a mesh: curved elements, springs and fixed faces, one factorization for all load cases."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np

from parts.core.loads import Action, resultant
from parts.proof.mesh import Meshed

FACE_ORDER = 10
"""Order of the rule by which everything on faces is integrated."""


@dataclass(frozen=True)
class Stuff:
    """An isotropic material: modulus [MPa], Poisson's ratio [-], density [kg/mm^3]."""

    E: float
    nu: float
    density: float = 0.0


@dataclass(frozen=True)
class Fixed:
    """Faces (or edges, by their name in the mesh) that do not move along some of x, y, z."""

    faces: tuple[int, ...]
    ways: str = "xyz"
    edges: str = ""


@dataclass(frozen=True)
class Springs:
    """Faces on springs: stiffness [N/mm^3] as a 3 x 3 matrix, and a name for the reaction."""

    name: str
    faces: tuple[int, ...]
    stiffness: np.ndarray


@dataclass(frozen=True)
class Push:
    """What acts on faces: its resultant, and whether it bears on half a bore, is spread, or presses flats."""

    faces: tuple[int, ...]
    actions: tuple[Action, ...]
    how: Literal["bearing", "spread", "flats"] = "spread"


@dataclass(frozen=True)
class Traction:
    """A stated traction [MPa] on faces, as a function of x, y, z and the outward normal."""

    faces: tuple[int, ...]
    field: Callable[[Any, Any, Any, Any], Any]


@dataclass(frozen=True)
class Solid:
    """What is solved: material, supports, and one row of loads a load case."""

    stuff: Stuff
    fixed: tuple[Fixed, ...]
    springs: tuple[Springs, ...]
    cases: tuple[tuple[Push | Traction, ...], ...]


@dataclass(frozen=True)
class Solved:
    """Displacements [mm] under each load case, on one mesh, with what is needed to go on from there."""

    meshed: Meshed
    solid: Solid
    order: int
    space: Any
    stiffness: Any
    inverse: Any
    loads: tuple[Any, ...]
    moved: tuple[Any, ...]

    @property
    def unknowns(self) -> int:
        return int(self.space.ndof)

    def stress(self, case: int) -> Any:
        """Stress [MPa] as a field of 3 x 3 matrices, as the elements give it."""
        import ngsolve as ng

        return stress_of(ng.Sym(ng.Grad(self.moved[case])), self.solid.stuff)


def stress_of(strain: Any, stuff: Stuff) -> Any:
    """Hooke's law."""
    import ngsolve as ng

    mu = stuff.E / (2.0 * (1.0 + stuff.nu))
    lam = stuff.E * stuff.nu / ((1.0 + stuff.nu) * (1.0 - 2.0 * stuff.nu))
    return 2.0 * mu * strain + lam * ng.Trace(strain) * ng.Id(3)


def unknowns_of(meshed: Meshed, order: int) -> int:
    """How many unknowns a mesh has at an order of elements."""
    import ngsolve as ng

    return int(ng.VectorH1(meshed.mesh, order=order).ndof)


def solve(meshed: Meshed, solid: Solid, order: int = 2) -> Solved:
    """Solve every load case.

    Args:
        meshed: the mesh.
        solid: material, supports and loads.
        order: of the elements' displacements.

    Returns:
        The displacements.
    """
    import ngsolve as ng

    space = ng.VectorH1(meshed.mesh, order=order)
    u, v = space.TnT()
    a = ng.BilinearForm(space, symmetric=True)
    a += ng.InnerProduct(stress_of(ng.Sym(ng.Grad(u)), solid.stuff), ng.Sym(ng.Grad(v))) * ng.dx
    for one in solid.springs:
        k = ng.CF(tuple(float(x) for x in np.ravel(one.stiffness)), dims=(3, 3))
        a += (k * u) * v * on_faces(meshed, one.faces)
    a.Assemble()
    inverse = a.mat.Inverse(_free(meshed, space, solid.fixed), "sparsecholesky")
    loads, moved = [], []
    for case in solid.cases:
        f = ng.LinearForm(space)
        for load in case:
            f += traction(meshed, load) * v * on_faces(meshed, load.faces)
        f.Assemble()
        found = ng.GridFunction(space)
        found.vec.data = inverse * f.vec
        # One step of correction brings the reactions to rounding.
        rest = f.vec.CreateVector()
        rest.data = f.vec - a.mat * found.vec
        found.vec.data += inverse * rest
        loads.append(f)
        moved.append(found)
    return Solved(meshed, solid, order, space, a, inverse, tuple(loads), tuple(moved))


def on_faces(meshed: Meshed, faces: tuple[int, ...]) -> Any:
    """The measure on faces, by one rule everywhere: what is assembled and what is summed up then agree."""
    import ngsolve as ng

    rule = {ng.TRIG: ng.IntegrationRule(ng.TRIG, FACE_ORDER)}
    return ng.ds(definedon=meshed.region(faces), intrules=rule)


def _summed(meshed: Meshed, faces: tuple[int, ...]) -> Callable[[Any], np.ndarray]:
    """A function that integrates a field, a vector or a number, over faces."""
    import ngsolve as ng

    where = on_faces(meshed, faces)

    def over(field: Any) -> np.ndarray:
        if field.dim == 1:
            return np.array([ng.Integrate(field * where, meshed.mesh)])
        return np.array([ng.Integrate(field[i] * where, meshed.mesh) for i in range(field.dim)])

    return over


def _free(meshed: Meshed, space: Any, fixed: Sequence[Fixed]) -> Any:
    import ngsolve as ng

    free = ng.BitArray(space.FreeDofs())
    for one in fixed:
        for way in one.ways:
            k = "xyz".index(way)
            part, first = space.components[k], space.Range(k).start
            region = meshed.mesh.BBoundaries(one.edges) if one.edges else meshed.region(one.faces)
            for i, held in enumerate(part.GetDofs(region)):
                if held:
                    free[first + i] = False
    return free


def traction(meshed: Meshed, load: Push | Traction) -> Any:
    """The traction of a load [MPa]; that of a push has its force and moment to rounding."""
    import ngsolve as ng

    n = ng.specialcf.normal(3)
    if isinstance(load, Traction):
        return load.field(ng.x, ng.y, ng.z, n)
    over = _summed(meshed, load.faces)
    area = float(over(ng.CF(1.0))[0])
    centre = over(ng.CF((ng.x, ng.y, ng.z))) / area
    force, moment = (np.asarray(v, float) for v in resultant(load.actions, centre))
    r = ng.CF((ng.x, ng.y, ng.z)) - ng.CF(tuple(centre))
    base = ng.CF((0.0, 0.0, 0.0))
    if load.how == "bearing" and np.linalg.norm(force) > 0.0:
        base = _cosine(n, force, over)
    wanted = np.concatenate([force, moment]) - _wrench(base, r, over)
    fields = [ng.CF(tuple(float(x) for x in row)) for row in np.eye(3)]
    fields += [ng.Cross(one, r) for one in fields]
    if load.how == "flats":
        fields = [ng.InnerProduct(one, n) * n for one in fields]
    shape = np.stack([_wrench(one, r, over) for one in fields], axis=1)
    for factor in (np.linalg.lstsq(shape, wanted, rcond=1e-12)[0],):
        for one, value in zip(fields, factor, strict=True):
            base = base + float(value) * one
    return base


def _cosine(n: Any, force: np.ndarray, over: Callable[[Any], np.ndarray]) -> Any:
    """Pressure on the half of the wall that the force leans on, by the cosine of the angle."""
    import ngsolve as ng

    way = ng.CF(tuple(force / np.linalg.norm(force)))
    cosine = -ng.InnerProduct(n, way)
    shape = -ng.IfPos(cosine, cosine, 0.0) * n
    along = float(over(shape) @ force) / float(np.linalg.norm(force))
    return (float(np.linalg.norm(force)) / along) * shape if along > 1e-9 else 0.0 * n


def _wrench(field: Any, r: Any, over: Callable[[Any], np.ndarray]) -> np.ndarray:
    import ngsolve as ng

    return np.concatenate([over(field), over(ng.Cross(r, field))])


def reactions(solved: Solved, case: int, about: Any = (0.0, 0.0, 0.0)) -> dict[str, np.ndarray]:
    """What each set of springs does to the piece, and together what the fixed faces do.

    Args:
        solved: the solution.
        case: number of the load case.
        about: place that the moments are about [mm].

    Returns:
        Force [N] and moment [N*mm], six numbers, by the name of the springs; those of fixed faces as "fixed".
    """
    import ngsolve as ng

    r = ng.CF((ng.x, ng.y, ng.z)) - ng.CF(tuple(float(v) for v in about))
    u = solved.moved[case]
    found = {}
    for one in solved.solid.springs:
        k = ng.CF(tuple(float(x) for x in np.ravel(one.stiffness)), dims=(3, 3))
        found[one.name] = _wrench(-k * u, r, _summed(solved.meshed, one.faces))
    if solved.solid.fixed:
        rest = u.vec.CreateVector()
        rest.data = solved.stiffness.mat * u.vec - solved.loads[case].vec
        found["fixed"] = _against_rigid(solved, rest, r)
    return found


def _against_rigid(solved: Solved, residual: Any, r: Any) -> np.ndarray:
    import ngsolve as ng

    test = ng.GridFunction(solved.space)
    values = []
    axes = [ng.CF(tuple(float(x) for x in row)) for row in np.eye(3)]
    for motion in [*axes, *(ng.Cross(one, r) for one in axes)]:
        test.Set(motion)
        values.append(ng.InnerProduct(residual, test.vec))
    return np.array(values)


def applied(solved: Solved, case: int) -> np.ndarray:
    """Force [N] and moment [N*mm] about the origin of each thing that is stated to act in a load case, shape (n, 6)."""
    import ngsolve as ng

    total = [np.zeros(6)]
    r = ng.CF((ng.x, ng.y, ng.z))
    for load in solved.solid.cases[case]:
        if isinstance(load, Push):
            total.append(np.concatenate(resultant(load.actions, np.zeros(3))))
            continue
        total.append(_wrench(traction(solved.meshed, load), r, _summed(solved.meshed, load.faces)))
    return np.stack(total)


def unbalanced(solved: Solved, case: int) -> float:
    """Loads as stated and reactions together, as a share of the loads [-]: zero in equilibrium.

    Loads that hold each other sum to nothing, as those of a lever with its pivot: the share is of their sizes.
    """
    loads = applied(solved, case)
    held = sum(reactions(solved, case).values(), np.zeros(6))
    scale = np.array([1.0, 1.0, 1.0, *[1.0 / solved.meshed.diagonal] * 3])
    size = float(np.linalg.norm(loads * scale, axis=-1).sum())
    return float(np.linalg.norm((loads.sum(axis=0) + held) * scale)) / size if size else 0.0
