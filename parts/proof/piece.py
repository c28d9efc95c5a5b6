"""One piece proved: its solid, its supports and loads, solved and refined, beside the hand calculation."""

from __future__ import annotations

import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from parts.core.loads import resultant
from parts.core.part import Part, Piece
from parts.core.search.result import Result
from parts.core.supports import SLIDING, Along, Held, Patch, Round, Support
from parts.proof import corners, hand
from parts.proof.compare import case_proof
from parts.proof.elastic import Push, Solid, Solved, Springs, Stuff
from parts.proof.errors import ProofError
from parts.proof.field import Field
from parts.proof.mesh import Meshed, meshed
from parts.proof.peaks import Stressed, sharpen
from parts.proof.records import PieceProof
from parts.proof.refine import Aim, Settled, settle
from parts.proof.surface import Surface, bored, parted
from parts.proof.vibration import buckling_factors, frequencies

MODES = 3
CLEAR = 0.12
"""How far stress is looked at from singular edges and supports, in roots of the critical section [-]."""


@dataclass(frozen=True)
class Proved:
    """A piece's proof with what pictures are drawn from."""

    proof: PieceProof
    settled: Settled
    fields: tuple[Field, ...]
    sections: tuple[hand.HandSection, ...]
    names: tuple[str, ...]


def prove_piece(
    part: Part,
    result: Result,
    piece: Piece,
    cases: Sequence[tuple[Any, Held]],
    aim: Aim,
    say: Callable[[str], None],
) -> Proved:
    """Prove one piece.

    Args:
        part: the part, as the hand calculation has it.
        result: its check.
        piece: the piece, with sharp outside edges.
        cases: load cases, each with how the piece is held and loaded under it.
        aim: when to stop refining.
        say: told of every step.

    Returns:
        The proof, and the fields.

    Raises:
        ProofError: the piece could not be proved.
    """
    started = time.monotonic()
    held = [one for _, one in cases]
    looked = hand.looked_at(result, piece.name)
    if not looked:
        raise ProofError(f"no load path runs through {piece.name}")
    worst = hand.sections(looked)
    surface, places, mesh, setup, guides = stated(piece, held, aim, say)
    stuff = setup.stuff
    settled = settle(mesh, setup, aim, say)
    coarse = settled.first
    upright = replace(setup, springs=(*setup.springs, *guides))
    factors = buckling_factors(mesh, upright, aim, say) if held[0].slender else {}
    clear = CLEAR * float(np.sqrt(min(float(w.critical.section.area) for w in worst)))
    spread = [
        numbers
        for k, one in enumerate(held)
        for load, numbers in zip(one.applied, places[f"load {k}"], strict=True)
        if load.how == "spread"
    ]
    edges = _blind(surface, [*places["support"], *places["weld"], *spread], clear)
    settled, stressed = sharpen(
        settled,
        lambda _, one: Stressed.at(one, corners.looked_at(one, edges, clear)),
        [
            hand.notches(looked, _number(part, case), hand.spots(result, piece, case))
            for case, _ in cases
        ],
        aim,
        say,
    )
    proofs = tuple(
        case_proof(
            part, result, piece, case, one, looked, settled, stressed[k], k, (factors or {}).get(k),
            _faces(surface, places[f"load {k}"]),
        )
        for k, (case, one) in enumerate(cases)
    )  # fmt: skip
    last = settled.steps[-1]
    proof = PieceProof(
        piece=piece.name,
        material=piece.material.name,
        E=stuff.E,
        nu=stuff.nu,
        unknowns=last.unknowns,
        elements=last.elements,
        order=settled.solved.order,
        error=settled.error,
        errors=tuple((s.unknowns, s.error) for s in settled.steps),
        stopped=settled.stopped,
        reached=settled.reached,
        seconds=time.monotonic() - started,
        cases=proofs,
        frequencies=tuple(float(f) for f in _frequencies(coarse)),
        notes=held[0].notes,
        unsettled=""
        if factors is not None
        else f"its first buckling factors did not settle within {aim.most} unknowns, and "
        "the hand's checks of buckling stand alone; prove it with a smaller error",
    )
    sections = tuple(worst[_number(part, case)] for case, _ in cases)
    return Proved(proof, settled, settled.fields, sections, tuple(case.name for case, _ in cases))


def stated(
    piece: Piece, held: Sequence[Held], aim: Aim, say: Callable[[str], None] = lambda _: None
) -> tuple[Surface, dict[str, list[list[int]]], Meshed, Solid, tuple[Springs, ...]]:
    """State what is solved of a piece.

    Args:
        piece: the piece.
        held: how it is held and loaded, one for each load case.
        aim: where the mesher starts.
        say: told of every step.

    Returns:
        The surface with its faces parted, the numbers of the patches by what they are for, the first mesh, the solid
        with its springs and loads, and the guides that hold it for buckling.
    """
    solid = bored(piece.solid.val(), held[0].bored)
    patches, places = _patches(held)
    surface = parted(solid, patches)
    say("meshing")
    mesh = meshed(surface.solid, _sizes(surface, patches), aim.coarsest)
    stuff = Stuff(piece.material.E, piece.material.poisson, piece.material.density)
    springs, guides = (
        tuple(
            Springs(one.name, faces, _stiffness(one, stuff))
            for one, faces in zip(some, _faces(surface, places[where]), strict=True)
        )
        for where, some in (("support", held[0].supports), ("guide", held[0].guides))
    )
    pushes = []
    for k, one in enumerate(held):
        faces = _faces(surface, places[f"load {k}"])
        row = tuple(
            Push(f, load.actions, load.how)
            for load, f in zip(one.applied, faces, strict=True)
            if _acts(load)
        )
        pushes.append(row)
    return surface, places, mesh, Solid(stuff, (), springs, tuple(pushes)), guides


def _number(part: Part, case: Any) -> int:
    return [one.name for one in part.loads].index(case.name)


def _frequencies(coarse: Solved) -> np.ndarray:
    return frequencies(coarse, MODES)


def _acts(load: Any) -> bool:
    force, moment = resultant(load.actions, np.zeros(3))
    return bool(np.any(force) or np.any(moment))


def _patches(held: Sequence[Held]) -> tuple[list[Patch], dict[str, list[list[int]]]]:
    """Every patch once, and for the supports and each case's loads the numbers of their patches."""
    patches: list[Patch] = []

    def numbers(some: Sequence[Patch]) -> list[int]:
        first = len(patches)
        patches.extend(some)
        return list(range(first, len(patches)))

    places = {"support": [numbers(one.patches) for one in held[0].supports]}
    places["guide"] = [numbers(one.patches) for one in held[0].guides]
    places["weld"] = [
        numbers([p for p in load.patches if isinstance(p, Along)]) for load in held[0].applied
    ]
    for k, one in enumerate(held):
        places[f"load {k}"] = [numbers(load.patches) for load in one.applied]
    return patches, places


def _faces(surface: Surface, numbers: list[list[int]]) -> list[tuple[int, ...]]:
    return [tuple(sorted({f for n in some for f in surface.faces[n]})) for some in numbers]


def _stiffness(support: Support, stuff: Stuff) -> np.ndarray:
    k = stuff.E / float(support.layer) * np.eye(3)
    if support.slides_on is not None:
        square = _onto(support.slides_on)
        k = k @ (square + SLIDING * (np.eye(3) - square))
    along = _onto(support.axis)
    if support.ways == "along":
        return along @ k @ along
    return (np.eye(3) - along) @ k @ (np.eye(3) - along) if support.ways == "across" else k


def _onto(axis: Any) -> np.ndarray:
    unit = np.asarray(axis, float) / np.linalg.norm(axis)
    return np.outer(unit, unit)


def _sizes(surface: Surface, patches: Sequence[Patch]) -> dict[int, float]:
    """Elements on bores no larger than half their radius: the peaks stand there."""
    sizes: dict[int, float] = {}
    for patch, faces in zip(patches, surface.faces, strict=True):
        if isinstance(patch, Round):
            for face in faces:
                sizes[face] = 0.45 * float(patch.diameter)
    return sizes


def _blind(surface: Surface, supports: list[list[int]], clear: float) -> np.ndarray:
    """Places about which stress is not looked at: sharp inward edges, every edge of a support or a weld, and
    every edge at which a spread load ends, as that of a thread or under a washer."""
    faces = surface.solid.Faces()
    held = [faces[f] for some in _faces(surface, supports) for f in some]
    rims = [corners.along(edge, clear / 3.0) for face in held for edge in face.Edges()]
    return np.concatenate([corners.inward_edges(surface.solid, clear / 3.0), *rims])


__all__ = ["Meshed", "Proved", "prove_piece"]
