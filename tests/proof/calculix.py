"""A piece solved once more by other hands: meshed by gmsh from its STEP, solved by CalculiX.

Nothing of `parts.proof` calculates here. What is loaded and held is found on gmsh's own surface by the geometry of the
named patches, pressures become consistent nodal forces by a rule of our own, and supports become springs at the points
of a rule on each triangle. The springs of CalculiX act on single nodes in single directions: each point of the rule is
therefore a node of its own, tied to the six of its triangle by an equation, with one spring at each.

gmsh runs in a process of its own: its geometry kernel and that of CadQuery do not bear each other.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path

import numpy as np

from parts.core.loads import resultant
from parts.core.supports import Along, Flat, Held, Round, Whole

CCX = shutil.which("ccx")
MISSING = (
    "" if CCX and find_spec("gmsh") else
    "needs CalculiX (ccx, Debian's calculix-ccx) and gmsh (of the extra `test`)"
)  # fmt: skip
ON = 5e-3
"""How far a node may lie from the patch that it is on [mm]: gmsh's own tolerance on faces read from STEP."""

# Rules in a triangle, as shares of its corners: Dunavant's of order 4 (from memory; their weights sum to 1, and
# `test_calculix.py` integrates polynomials by them).
_A, _B = 0.445948490915965, 0.091576213509771
RULE = np.array(
    [p for a in (_A, _B) for p in ((a, a, 1 - 2 * a), (a, 1 - 2 * a, a), (1 - 2 * a, a, a))]
)
WEIGHTS = np.repeat([0.223381589678011, 0.109951743655322], 3)
TRIANGLE = ((0, 1), (1, 2), (2, 0))
TETRAHEDRON = ((0, 1), (1, 2), (2, 0), (0, 3), (1, 3), (2, 3))
"""Corners of the edges whose middles follow the corners, in CalculiX's order."""


@dataclass(frozen=True)
class Mesh:
    """Second-order tetrahedra: `nodes` [mm] (n, 3), `solids` (m, 10), and `faces`, six nodes a triangle, by face."""

    nodes: np.ndarray
    solids: np.ndarray
    faces: tuple[np.ndarray, ...]


@dataclass(frozen=True)
class Cost:
    """What a run took: processor time [s] and peak memory [MB]."""

    seconds: float
    memory_mb: float


@dataclass(frozen=True)
class Answer:
    """Displacements [mm] (n, 3) and nodal stresses [MPa] (n, 6), as xx, yy, zz, yz, xz, xy, for each load case."""

    mesh: Mesh
    moved: tuple[np.ndarray, ...]
    stress: tuple[np.ndarray, ...]
    reactions: tuple[dict[str, np.ndarray], ...]
    shifts: tuple[dict[str, np.ndarray], ...]
    costs: tuple[Cost, Cost]


LAUNCH = """
import resource, subprocess, sys
resource.setrlimit(resource.RLIMIT_CPU, (150, 150))
code = subprocess.call(sys.argv[2:], stdout=open("said.txt", "w"), stderr=subprocess.STDOUT)
used = resource.getrusage(resource.RUSAGE_CHILDREN)
open(sys.argv[1], "w").write(f"{used.ru_utime + used.ru_stime} {used.ru_maxrss / 1024.0}")
sys.exit(code != 0)
"""
"""A process of little memory between ours and the program: Linux counts what the parent held to the child's peak. The
program may take 150 s: gmsh can turn for ever about curved elements that a coarse mesh does not allow."""


def run(command: Sequence[str], folder: Path) -> Cost:
    """Run a program to its end, on one core.

    Raises:
        RuntimeError: it failed; with the end of what it said.
    """
    # CalculiX and OpenBLAS each take a number of threads of their own.
    alone = {
        key: "1" for key in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "CCX_NPROC_EQUATION_SOLVER")
    }
    launched = [sys.executable, "-I", "-S", "-c", LAUNCH, "cost.txt", *command]
    ended = subprocess.run(launched, cwd=folder, env={**os.environ, **alone}, check=False)
    if ended.returncode:
        said = (folder / "said.txt").read_text()[-600:]
        raise RuntimeError(f"{command[0]} failed: {said}")
    return Cost(*map(float, (folder / "cost.txt").read_text().split()))


# Mesh


def mesh(
    solid: object,
    folder: Path,
    size: float,
    fine: Sequence[tuple[np.ndarray, float]] = (),
    turn: int = 20,
) -> tuple[Mesh, Cost]:
    """Mesh a solid by gmsh.

    Args:
        solid: a CadQuery Solid; it goes over as a STEP file.
        folder: to work in.
        size: largest element [mm].
        fine: places [mm], each with the element size there [mm].
        turn: elements to a whole turn of a curved face.
    """
    solid.exportStep(str(folder / "piece.step"))
    np.savez(
        folder / "sizes.npz",
        size=size,
        turn=turn,
        fine=np.array([[*p, h] for p, h in fine]).reshape(-1, 4),
    )
    cost = run([sys.executable, __file__, str(folder)], folder)
    with np.load(folder / "mesh.npz") as found:
        faces = tuple(found[f"face{i}"] for i in range(int(found["count"])))
        return outward(Mesh(found["nodes"], found["solids"], faces)), cost


def _gmsh(folder: Path) -> None:
    """In the process of its own: from piece.step and sizes.npz to mesh.npz."""
    import gmsh

    wanted = np.load(folder / "sizes.npz")
    size = float(wanted["size"])
    gmsh.initialize()
    gmsh.option.setNumber("General.Verbosity", 2)
    gmsh.option.setNumber("General.NumThreads", 1)
    gmsh.option.setString("Geometry.OCCTargetUnit", "MM")
    gmsh.merge(str(folder / "piece.step"))
    for key, value in {
        "MeshSizeMax": size, "MeshSizeFromCurvature": float(wanted["turn"]), "MeshSizeMin": size / 40.0,
        "MeshSizeExtendFromBoundary": 1, "ElementOrder": 2, "HighOrderOptimize": 2, "Optimize": 1,
        "Algorithm3D": 1,
    }.items():  # fmt: skip
        gmsh.option.setNumber(f"Mesh.{key}", value)
    balls = []
    for x, y, z, h in wanted["fine"]:
        ball = gmsh.model.mesh.field.add("Ball")
        radius = 4.0 * h
        for key, value in {
            "XCenter": x, "YCenter": y, "ZCenter": z, "Radius": radius, "Thickness": 6.0 * (size - h) / 2.0, "VIn": h,
            "VOut": size,
        }.items():  # fmt: skip
            gmsh.model.mesh.field.setNumber(ball, key, value)
        balls.append(ball)
    if balls:
        least = gmsh.model.mesh.field.add("Min")
        gmsh.model.mesh.field.setNumbers(least, "FieldsList", balls)
        gmsh.model.mesh.field.setAsBackgroundMesh(least)
    gmsh.model.mesh.generate(3)
    tags, places, _ = gmsh.model.mesh.getNodes()
    order = np.zeros(int(tags.max()) + 1, int)
    order[tags.astype(int)] = np.arange(len(tags))

    def elements(dim: int, entity: int, kind: int, wide: int) -> np.ndarray:
        kinds, _, nodes = gmsh.model.mesh.getElements(dim, entity)
        found = [
            order[n.astype(int)].reshape(-1, wide)
            for k, n in zip(kinds, nodes, strict=True)
            if k == kind
        ]
        return np.concatenate(found) if found else np.zeros((0, wide), int)

    faces = [elements(2, tag, 9, 6) for _, tag in gmsh.model.getEntities(2)]
    solids = np.concatenate([elements(3, tag, 11, 10) for _, tag in gmsh.model.getEntities(3)])
    # gmsh numbers the last two edges of a tetrahedron the other way about.
    solids = solids[:, [0, 1, 2, 3, 4, 5, 6, 7, 9, 8]]
    used, again = np.unique(solids, return_inverse=True)
    place = np.full(len(tags), -1)
    place[used] = np.arange(len(used))
    np.savez(
        folder / "mesh.npz", nodes=places.reshape(-1, 3)[used], solids=again.reshape(-1, 10), count=len(faces),
        **{f"face{i}": place[one] for i, one in enumerate(faces)},
    )  # fmt: skip
    gmsh.finalize()


# Patches


def on_patch(of: Mesh, patch: object) -> np.ndarray:
    """The triangles of the faces that lie on a patch, every node of them, (k, 6).

    Raises:
        AssertionError: there are none.
    """
    found = [face for face in of.faces if len(face) and _on(of.nodes, face, patch)]
    assert found, f"no face of the mesh lies on {patch}"
    return np.concatenate(found)


def _on(nodes: np.ndarray, face: np.ndarray, patch: object) -> bool:
    places = nodes[np.unique(face)]
    if isinstance(patch, Whole):
        return any(_passes(nodes[face[:, :3]], np.asarray(place, float)) for place in patch.places)
    if isinstance(patch, Along):
        line = np.asarray(patch.places, float)
        away = np.min(
            [_from_stretch(places, a, b) for a, b in zip(line, np.roll(line, -1, 0), strict=True)],
            0,
        )
        return bool(np.all(away < patch.reach + ON))
    axis = np.asarray(patch.axis if isinstance(patch, Round) else patch.normal, float)
    axis = axis / np.linalg.norm(axis)
    off = places - np.asarray(patch.centre, float)
    along = off @ axis
    away = np.linalg.norm(off - np.outer(along, axis), axis=1)
    if isinstance(patch, Round):
        fits = np.abs(away - patch.diameter / 2.0) < ON
        return bool(np.all(fits & (along > patch.low - ON) & (along < patch.high + ON)))
    assert isinstance(patch, Flat)
    fits = (np.abs(along) < ON) & (away < patch.outer + ON) & (away > patch.inner - ON)
    return bool(np.all(fits))


def _passes(corners: np.ndarray, place: np.ndarray) -> bool:
    """True where one of the flat triangles (k, 3, 3) passes through a place."""
    a, b, c = corners.transpose(1, 0, 2)
    square = np.cross(b - a, c - a)
    size = np.linalg.norm(square, axis=1)
    off = np.abs(np.einsum("ij,ij->i", place - a, square)) / size
    share = [
        np.einsum("ij,ij->i", np.cross(q - p, place - p), square) / size**2
        for p, q in ((a, b), (b, c), (c, a))
    ]
    return bool(np.any((off < ON) & (np.min(share, axis=0) > -1e-6)))


def _from_stretch(places: np.ndarray, a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Distance of places from a straight stretch [mm]."""
    way = b - a
    t = np.clip((places - a) @ way / max(float(way @ way), 1e-12), 0.0, 1.0)
    return np.linalg.norm(places - a - t[:, None] * way, axis=1)


# What acts on faces


@dataclass(frozen=True)
class Points:
    """The points of the rule on triangles: places [mm] (k, 6, 3), outward normals, areas [mm^2] (k, 6), and the
    shape functions of the six nodes at the six points."""

    triangles: np.ndarray
    places: np.ndarray
    normals: np.ndarray
    areas: np.ndarray
    shape: np.ndarray

    def total(self, field: np.ndarray) -> np.ndarray:
        """Integral over the faces of a field at the points."""
        return np.einsum("kq,kq...->...", self.areas, field)

    def wrench(self, field: np.ndarray, about: np.ndarray) -> np.ndarray:
        """Force and moment of a traction."""
        return np.concatenate([self.total(field), self.total(np.cross(self.places - about, field))])

    def to_nodes(self, field: np.ndarray, count: int) -> np.ndarray:
        """Consistent nodal forces [N] (count, 3) of a traction [MPa]."""
        forces = np.einsum("kq,kqi,qn->kni", self.areas, field, self.shape)
        out = np.zeros((count, 3))
        np.add.at(out, self.triangles, forces)
        return out


def points(of: Mesh, triangles: np.ndarray) -> Points:
    """The points of the rule on triangles of a mesh."""
    shape, slopes = _six(RULE)
    corners = of.nodes[triangles]
    places = np.einsum("qn,knj->kqj", shape, corners)
    along = np.einsum("dqn,knj->dkqj", slopes, corners)
    square = np.cross(along[0], along[1])
    size = np.linalg.norm(square, axis=-1)
    return Points(triangles, places, square / size[..., None], WEIGHTS * size / 2.0, shape)


def _six(at: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Shape functions (q, 6) of a six-noded triangle, and their slopes (2, q, 6) along its first two sides."""
    shape = np.concatenate(
        [at * (2.0 * at - 1.0), np.stack([4.0 * at[:, i] * at[:, j] for i, j in TRIANGLE], 1)], 1
    )
    by_share = np.zeros((3, len(at), 6))
    for k in range(3):
        by_share[k, :, k] = 4.0 * at[:, k] - 1.0
        for n, (i, j) in enumerate(TRIANGLE):
            by_share[k, :, 3 + n] = 4.0 * (at[:, j] * (i == k) + at[:, i] * (j == k))
    return shape, np.stack([by_share[1] - by_share[0], by_share[2] - by_share[0]])


def outward(of: Mesh) -> Mesh:
    """The mesh with every surface triangle turned so that its normal points out of the solid."""
    middle = {}
    for corners in ((0, 1, 2), (0, 1, 3), (1, 2, 3), (2, 0, 3)):
        other = ({0, 1, 2, 3} - set(corners)).pop()
        for key, inner in zip(
            np.sort(of.solids[:, corners], axis=1), of.solids[:, other], strict=True
        ):
            middle[tuple(key)] = inner
    faces = []
    for face in of.faces:
        a, b, c = (of.nodes[face[:, k]] for k in range(3))
        inner = np.array([middle[tuple(sorted(row[:3]))] for row in face], int).reshape(-1)
        inward = np.einsum("ij,ij->i", np.cross(b - a, c - a), of.nodes[inner] - a) > 0.0
        faces.append(np.where(inward[:, None], face[:, [0, 2, 1, 5, 4, 3]], face))
    return Mesh(of.nodes, of.solids, tuple(faces))


def forces(of: Mesh, held: Held) -> np.ndarray:
    """Nodal forces [N] (n, 3) of everything that acts in a load case."""
    out = np.zeros_like(of.nodes)
    for load in held.applied:
        force, moment = resultant(load.actions, np.zeros(3))
        if np.any(force) or np.any(moment):
            on = points(of, np.concatenate([on_patch(of, patch) for patch in load.patches]))
            out += on.to_nodes(pressed(on, load.actions, load.how == "bearing"), len(of.nodes))
    return out


def pressed(on: Points, actions: Sequence[object], bearing: bool) -> np.ndarray:
    """The traction [MPa] of a load at the points: a cosine on half a wall and what a rigid body adds to meet the
    force and moment stated."""
    area = on.areas.sum()
    centre = on.total(on.places) / area
    force, moment = (np.asarray(v, float) for v in resultant(actions, centre))
    base = np.zeros_like(on.places)
    size = float(np.linalg.norm(force))
    if bearing and size > 0.0:
        cosine = np.maximum(-(on.normals @ force) / size, 0.0)
        shape = -cosine[..., None] * on.normals
        base = size / float(on.total(shape) @ force / size) * shape
    rigid = [np.broadcast_to(row, on.places.shape) for row in np.eye(3)]
    rigid += [np.cross(row, on.places - centre) for row in np.eye(3)]
    matrix = np.stack([on.wrench(one, centre) for one in rigid], axis=1)
    wanted = np.concatenate([force, moment]) - on.wrench(base, centre)
    factors = np.linalg.lstsq(matrix, wanted, rcond=1e-12)[0]
    return base + sum(f * one for f, one in zip(factors, rigid, strict=True))


# The deck


@dataclass(frozen=True)
class Bed:
    """Springs under a support: what they stand on, and the directions held, (d, 3)."""

    name: str
    on: Points
    stiffness: float
    ways: np.ndarray


def beds(of: Mesh, held: Held, E: float) -> list[Bed]:
    """The springs under each support: what a layer of the piece's own material would give."""
    found = []
    for one in held.supports:
        axis = np.asarray(one.axis, float) / np.linalg.norm(one.axis)
        full = np.linalg.svd(axis[None])[2]
        ways = {"all": np.eye(3), "along": full[:1], "across": full[1:]}[one.ways]
        on = points(of, np.concatenate([on_patch(of, patch) for patch in one.patches]))
        found.append(Bed(one.name, on, E / float(one.layer), ways))
    return found


def deck(of: Mesh, E: float, nu: float, under: Sequence[Bed], cases: Sequence[np.ndarray]) -> str:
    """The input of CalculiX: N, mm, MPa."""
    lines = ["*NODE, NSET=PIECE"]
    lines += [f"{i},{x:.9g},{y:.9g},{z:.9g}" for i, (x, y, z) in enumerate(of.nodes, 1)]
    lines += ["*ELEMENT, TYPE=C3D10, ELSET=PIECE"]
    lines += [f"{i}," + ",".join(map(str, row)) for i, row in enumerate(of.solids + 1, 1)]
    lines += [
        "*MATERIAL, NAME=METAL",
        "*ELASTIC",
        f"{E:.9g},{nu:.9g}",
        "*SOLID SECTION, ELSET=PIECE, MATERIAL=METAL",
    ]
    node, element = len(of.nodes), len(of.solids)
    for k, bed in enumerate(under):
        tied = list(_ties(bed))
        count, some = len(tied), len(bed.ways)
        lines += [f"*NODE, NSET=BED{k}"] + [f"{node + i},0.,0.,0." for i in range(1, count + 1)]
        for way in range(1, some + 1):
            lines += [f"*ELEMENT, TYPE=SPRING1, ELSET=BED{k}{way}"]
            lines += [f"{element + i},{node + i}" for i in range(1, count + 1)]
            lines += [
                f"*SPRING, ELSET=BED{k}{way}",
                f"{way}",
                f"{bed.stiffness:.9e}",
            ]  # without a point it is taken for a direction
            element += count
        if some < 3:  # CalculiX takes every node to move in three directions
            lines += ["*BOUNDARY", f"BED{k},{some + 1},3"]
        for i, by_way in enumerate(tied, 1):
            for way, terms in enumerate(by_way, 1):
                every = [(node + i, way, -1.0), *terms]
                lines += ["*EQUATION", str(len(every))]
                lines += [
                    ",".join(f"{n},{d},{c:.9g}" for n, d, c in every[j : j + 4])
                    for j in range(0, len(every), 4)
                ]
        node += count
    for loads in cases:
        lines += ["*STEP", "*STATIC", "*CLOAD, OP=NEW"]
        lines += [
            f"{n + 1},{way + 1},{loads[n, way]:.9g}"
            for n, way in zip(*np.nonzero(loads), strict=True)
        ]
        lines += ["*NODE FILE, NSET=PIECE", "U", "*EL FILE", "S", "*END STEP"]
    return "\n".join([*lines, ""])


def _ties(bed: Bed) -> Iterator[list[list[tuple[int, int, float]]]]:
    """What each point of a bed moves by in each direction held, as terms (node, direction, share): times the root of
    its area, so that one spring constant serves all points."""
    for row, areas in zip(bed.on.triangles + 1, bed.on.areas, strict=True):
        for share, area in zip(bed.on.shape, areas, strict=True):
            yield [
                [
                    (int(n), j + 1, float(np.sqrt(area) * s * way[j]))
                    for n, s in zip(row, share, strict=True)
                    for j in range(3)
                    if abs(way[j]) > 1e-12
                ]
                for way in bed.ways
            ]


def held_with(bed: Bed, moved: np.ndarray) -> np.ndarray:
    """The force [N] of a bed on the piece."""
    u = np.einsum("qn,kni->kqi", bed.on.shape, moved[bed.on.triangles])
    return -bed.stiffness * bed.on.total(u @ bed.ways.T @ bed.ways)


def solve(
    of: Mesh, meshing: Cost, held: Sequence[Held], E: float, nu: float, folder: Path
) -> Answer:
    """Solve every load case of a piece by CalculiX."""
    assert CCX
    under = beds(of, held[0], E)
    (folder / "piece.inp").write_text(deck(of, E, nu, under, [forces(of, one) for one in held]))
    cost = run([CCX, "-i", "piece"], folder)
    moved, stress = read_frd(folder / "piece.frd", len(of.nodes))
    assert len(moved) == len(stress) == len(held), (folder / "said.txt").read_text()[-600:]
    shifts = [
        {load.name: _shift(of, load.patches, u) for load in one.applied}
        for one, u in zip(held, moved, strict=True)
    ]
    reactions = [{bed.name: held_with(bed, u) for bed in under} for u in moved]
    return Answer(of, tuple(moved), tuple(stress), tuple(reactions), tuple(shifts), (meshing, cost))


def _shift(of: Mesh, patches: Sequence[object], moved: np.ndarray) -> np.ndarray:
    on = points(of, np.concatenate([on_patch(of, patch) for patch in patches]))
    return on.total(np.einsum("qn,kni->kqi", on.shape, moved[on.triangles])) / on.areas.sum()


NUMBER = re.compile(r"[ -]\d\.\d{5}E[+-]\d{2,3}")


def read_frd(file: Path, count: int) -> tuple[list[np.ndarray], list[np.ndarray]]:
    """Displacements and stresses of every step of CalculiX's results, in their text form."""
    moved, stress, into = [], [], None
    for line in file.read_text().splitlines():
        if line.startswith(" -4"):
            name = line[5:13].strip()
            into = {"DISP": moved, "STRESS": stress}.get(name)
            if into is not None:
                into.append(np.zeros((count, 3 if name == "DISP" else 6)))
        elif line.startswith(" -1") and into is not None:
            node = int(line[3:13])
            if node <= count:
                values = [float(line[i : i + 12]) for i in range(13, len(line.rstrip()), 12)]
                into[-1][node - 1] = values[: into[-1].shape[1]]
        elif line.startswith(" -3"):
            into = None
    # It gives xx, yy, zz, xy, yz, zx.
    return moved, [s[:, [0, 1, 2, 4, 5, 3]] for s in stress]


# Reading out


def at(of: Mesh, values: np.ndarray, place: Sequence[float]) -> np.ndarray:
    """Nodal values at a place, by the shape functions of the element that it lies in."""
    p = np.asarray(place, float)
    middles = of.nodes[of.solids[:, :4]].mean(axis=1)
    near = np.argsort(((middles - p) ** 2).sum(axis=1))[:60]
    corners = of.nodes[of.solids[near]]
    share = np.full((len(near), 4), 0.25)
    for _ in range(8):
        shape, slopes = _ten(share)
        rest = p - np.einsum("en,enj->ej", shape, corners)
        square = np.einsum("den,enj->edj", slopes, corners)
        step = np.linalg.solve(square.transpose(0, 2, 1), rest[..., None])[..., 0]
        share = share + np.concatenate([step, -step.sum(axis=1, keepdims=True)], axis=1)
    best = int(np.argmax(np.nan_to_num(share, nan=-9.0).min(axis=1)))
    inside = np.clip(share[best : best + 1], 0.0, 1.0)
    shape, _ = _ten(inside / inside.sum())
    return np.asarray(shape[0] @ values[of.solids[near[best]]])


def _ten(at: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Shape functions (e, 10) of a ten-noded tetrahedron, and their slopes (3, e, 10) by its first three shares."""
    middles = np.stack([4.0 * at[:, i] * at[:, j] for i, j in TETRAHEDRON], 1)
    shape = np.concatenate([at * (2.0 * at - 1.0), middles], 1)
    by_share = np.zeros((4, len(at), 10))
    for k in range(4):
        by_share[k, :, k] = 4.0 * at[:, k] - 1.0
        for n, (i, j) in enumerate(TETRAHEDRON):
            by_share[k, :, 4 + n] = 4.0 * (at[:, j] * (i == k) + at[:, i] * (j == k))
    return shape, by_share[:3] - by_share[3]


if __name__ == "__main__":
    started = time.monotonic()
    _gmsh(Path(sys.argv[1]))
