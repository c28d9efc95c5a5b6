"""Proofs of several parts, written beside what was made of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from parts.core.part import Part
from parts.folders.part_folder import is_proof
from parts.folders.proved import reported
from parts.making.read_back import content, names_in
from parts.making.writing import replace_folder
from parts.proof.errors import ProofError, needed
from parts.proof.records import Proof
from parts.proof.refine import Aim
from parts.proof.workers import prove_all
from parts.report.proof.document import json_of
from parts.report.proof.text import bands, text_of

if TYPE_CHECKING:
    from parts.inputs.document import Document
    from parts.making.model import Made


@dataclass(frozen=True)
class Written:
    """A proof with the files written, and whether they tell of it in the report and on the page of the part."""

    proof: Proof
    files: list[Path]
    reported: bool


def prove_parts(
    parts: Sequence[Part],
    folder: Path,
    aim: Aim,
    *,
    jobs: int = 0,
    memory_mb: int = 0,
    pictures: bool = True,
    made: Mapping[str, Made] | None = None,
    documents: Mapping[str, Document] | None = None,
    say: Callable[[str], None] = lambda _: None,
) -> list[Written]:
    """Prove parts and write each proof into the folder of its part.

    Where the part was made as it stands, its report and page are laid out again with the proof in them.

    Args:
        parts: the parts; those without a load case are said to have nothing to prove.
        folder: the folder that holds the parts' own folders.
        aim: when to stop refining.
        jobs: how many at a time; as many as there are cores where 0.
        memory_mb: most memory of one process [MB]; no limit where 0.
        pictures: draw the stress as well.
        made: parts that were made in this run, by name.
        documents: the YAML files of the parts, by name.
        say: told of every step.

    Returns:
        Each proof with its files, in the order of the parts.

    Raises:
        ProofError: the extra is not installed.
        OSError: the disk refused.
    """
    needed()
    found = []
    of = {part.name: part for part in parts}
    for proof in prove_all(parts, aim, jobs=jobs, memory_mb=memory_mb, pictures=pictures, say=say):
        own = folder / proof.part
        contents = {
            "proof.txt": f"{text_of(proof)}\n{bands(proof)}\n".encode(),
            "proof.json": json_of([proof]),
            **proof.pictures,
        }
        name = proof.part
        say(f"{name}: the report")
        beside = {
            other: stood
            for other in names_in(own)
            if not is_proof(other) and (stood := content(own / other)) is not None
        }
        told = reported(
            of[name],
            {**beside, **contents},
            proof,
            (made or {}).get(name),
            (documents or {}).get(name),
        )
        files = {**contents, **told}
        replace_folder(own, files, [one for one in names_in(own) if not is_proof(one)])
        found.append(Written(proof, [own / one for one in files], bool(told)))
    return found


__all__ = ["ProofError", "Written", "prove_parts"]
