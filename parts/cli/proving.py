"""Parts proved by a command: what was proved, and the exit status of it."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

from parts.cli.saying import complain, one_line
from parts.cli.telling import FAILED, OK, SHORT

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.folders.proof_files import Written
    from parts.proof.refine import Aim


def prove_made(
    of_all: list[Any], of_builds: list[Any], read: dict[str, Part], out: Path, *, quiet: bool
) -> tuple[list[Written], int]:
    """Prove what was made in this run, and what of its builds was made before and never proved."""
    from parts.inputs.document import read_document
    from parts.proof.refine import Aim

    made = {one.result.part.name: one for one in of_all}
    parts = {name: one.result.part for name, one in made.items()}
    documents = {part.name: read_document(Path(file)) for file, part in read.items()}
    for whole in of_builds:
        documents |= {name: whole.build.written(name) for name in whole.records}
        for name in whole.records:
            if name not in made and not (out / name / "proof.json").is_file():
                parts[name] = whole.build.part(name)
    return prove(list(parts.values()), out, Aim(), quiet=quiet, made=made, documents=documents)


def prove(
    parts: list[Part], out: Path, aim: Aim, *, quiet: bool, **how: Any
) -> tuple[list[Written], int]:
    """Prove parts; what was proved, and the exit status of it."""
    from parts.folders.proof_files import prove_parts
    from parts.proof.errors import ProofError

    with one_line(quiet=quiet) as say:
        try:
            found = prove_parts(parts, out, aim, say=say, **how)
        except ProofError as wrong:
            complain(str(wrong))
            return [], FAILED
    for text in (text for one in found for text in one.proof.failed):
        complain(text)
    if any(one.proof.failed for one in found):
        return found, FAILED
    return found, OK if all(one.proof.ok for one in found) else SHORT
