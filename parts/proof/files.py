"""Proofs of several parts, written beside what was made of them."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from parts.making.files import write_all
from parts.part import Part
from parts.proof.document import json_of
from parts.proof.errors import ProofError, needed
from parts.proof.records import Proof
from parts.proof.refine import Aim
from parts.proof.text import bands, text_of
from parts.proof.workers import prove_all


def prove_parts(
    parts: Sequence[Part],
    folder: Path,
    aim: Aim,
    *,
    jobs: int = 0,
    memory_mb: int = 0,
    pictures: bool = True,
    say: Callable[[str], None] = lambda _: None,
) -> list[tuple[Proof, list[Path]]]:
    """Prove parts and write each proof into the folder of its part.

    Args:
        parts: the parts; those without a load case are said to have nothing to prove.
        folder: the folder that holds the parts' own folders.
        aim: when to stop refining.
        jobs: how many at a time; as many as there are cores where 0.
        memory_mb: most memory of one process [MB]; no limit where 0.
        pictures: draw the stress as well.
        say: told of every step.

    Returns:
        Each proof with the files written, in the order of the parts.

    Raises:
        ProofError: the extra is not installed.
        OSError: the disk refused.
    """
    needed()
    found = []
    for proof in prove_all(parts, aim, jobs=jobs, memory_mb=memory_mb, pictures=pictures, say=say):
        contents = {
            "proof.txt": f"{text_of(proof)}\n{bands(proof)}\n".encode(),
            "proof.json": json_of([proof]),
            **proof.pictures,
        }
        found.append((proof, write_all(folder / proof.part, contents)))
    return found


__all__ = ["ProofError", "prove_parts"]
