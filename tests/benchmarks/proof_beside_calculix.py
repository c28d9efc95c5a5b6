"""Time and memory of a proof, beside those of gmsh and CalculiX at the same error.

It is no test and is not collected; it needs ccx and gmsh. Run it from the repository:

    python tests/benchmarks/proof_beside_calculix.py [HC-101 ...]

Both errors are measured alike, by the strain energy of the worst load case against that of a proof driven much
further, and given in the energy norm. CalculiX gets the coarsest mesh of a ladder that is no worse than the proof.
Times are processor time on one core. The proof counts from the solid to every number that it reports, with all its
refinements, frequencies and peaks; gmsh and CalculiX count meshing and solving alone.
"""

import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

os.environ["OPENBLAS_NUM_THREADS"] = "1"
HERE = Path(__file__).parent
sys.path.insert(0, str(HERE.parent / "proof"))

import calculix  # noqa: E402
import numpy as np  # noqa: E402
from test_calculix import PARAMS, PARTS  # noqa: E402

from parts import load  # noqa: E402
from parts.proof.refine import Aim  # noqa: E402

LADDER = ((0.11, 8), (0.08, 10), (0.055, 12), (0.04, 16), (0.028, 20), (0.02, 26))
"""Largest element, in shares of the piece's diagonal, and elements to a whole turn of a curved face."""
MOST = 250_000
"""Unknowns beyond which CalculiX gets no finer mesh: what it took is then for the larger error that is printed."""
FINE = 0.07
"""Error of the proof that both are measured by, in the energy norm [-]."""


def cases_of(name):
    """The first piece of a part with its load cases, its edges sharp as the proof takes them."""
    from parts.proof.prove import _by_piece

    (file,) = PARAMS.glob(f"{name.lower()}-*.yaml")
    part = load(file).model_copy(update={"edge_break": 0.0})
    piece, cases = next(iter(_by_piece(part).items()))
    return part, next(one for one in part.pieces if one.name == piece), cases


def prove(name, error):
    """In a process of its own: prove, and print what it took and what energies were found."""
    from parts.proof.piece import prove_piece

    part, piece, cases = cases_of(name)
    result = part.check()
    began = time.process_time()
    aim = Aim(error=error, unknowns=400_000, seconds=600.0)
    settled = prove_piece(part, result, piece, cases, aim, lambda _: None).settled
    last = settled.steps[-1]
    found = {
        "seconds": time.process_time() - began,
        "memory_mb": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0,
        "energies": last.energies, "unknowns": last.unknowns, "error": last.error, "reached": settled.reached,
    }  # fmt: skip
    print(json.dumps(found))


def proved(name, error):
    """A proof in a process of its own."""
    command = [sys.executable, __file__, "--one", name, str(error)]
    return json.loads(subprocess.run(command, check=True, capture_output=True).stdout)


def error_of(energies, true):
    """Error in the energy norm of the worst case [-]."""
    return float(np.sqrt(np.max(np.abs(1.0 - np.array(energies) / true))))


def by_calculix(name, true, aim):
    """The coarsest of the ladder whose error is no larger than the aim; the last of it otherwise."""
    from parts.proof.surface import bored, parted

    _, piece, cases = cases_of(name)
    held = [one for _, one in cases]
    patches = [p for one in held for face in (*one.supports, *one.applied) for p in face.patches]
    solid = parted(bored(piece.solid.val(), held[0].bored), patches).solid
    diagonal = solid.BoundingBox().DiagonalLength
    E, nu = piece.material.E, piece.material.poisson
    for share, turn in LADDER:
        with tempfile.TemporaryDirectory() as folder:
            try:
                mesh, cost = calculix.mesh(solid, Path(folder), share * diagonal, (), turn)
                answer = calculix.solve(mesh, cost, held, E, nu, Path(folder))
            except RuntimeError:
                continue  # a mesh too coarse for its curved faces: an element is inside out
        energies = [
            0.5 * float((calculix.forces(mesh, one) * moved).sum())
            for one, moved in zip(held, answer.moved, strict=True)
        ]
        error = error_of(energies, true)
        if error <= aim or 3 * len(mesh.nodes) > MOST:
            break
    return answer, 3 * len(mesh.nodes), error


def compare(name):
    """One line of the table."""
    ours, fine = proved(name, Aim().error), proved(name, FINE)
    # What is left of the error of the finer proof is added by its own estimate.
    true = np.array(fine["energies"]) / (1.0 - fine["error"] ** 2)
    error = error_of(ours["energies"], true)
    answer, unknowns, theirs = by_calculix(name, true, error)
    seconds = sum(one.seconds for one in answer.costs)
    memory = max(one.memory_mb for one in answer.costs)
    print(
        f"{name}  {len(ours['energies'])}  {ours['unknowns']:9d} {error:6.1%} {ours['seconds']:7.1f} "
        f"{ours['memory_mb']:7.0f}  {unknowns:9d} {theirs:6.1%} {seconds:7.1f} {memory:7.0f}  "
        f"{ours['seconds'] / seconds:6.2f} {ours['memory_mb'] / memory:6.2f}",
        flush=True,
    )  # fmt: skip


def main(names):
    if calculix.MISSING:
        sys.exit(calculix.MISSING)
    print(
        "           proof                              gmsh and CalculiX                  proof over them"
    )
    print("part  cases unknowns  error    s      MB   unknowns  error    s      MB     time memory")
    for name in names or [one.file[:6].upper() for one in PARTS]:
        compare(name)


if __name__ == "__main__":
    if sys.argv[1:2] == ["--one"]:
        prove(sys.argv[2], float(sys.argv[3]))
    else:
        main(sys.argv[1:])
