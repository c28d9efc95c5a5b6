"""The folder of a part: which files in it are ours, and which of them still tell of the part as it stands."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fnmatch import fnmatchcase
from pathlib import Path
from types import MappingProxyType
from typing import Any

from parts.core.part import Part
from parts.core.shop import PRINTER
from parts.making.read_back import content, data, names_in
from parts.making.writing import replace_folder
from parts.running.versions import library

PROOF_FILES = ("proof.txt", "proof.json", "proof-*.png")
"""What a proof leaves in the folder of a part, as patterns of names."""
MADE = ".made.json"
"""What was made here, and of which part: the names of the files, and the digest of what they come from."""
USUAL = ("report.json", "report.txt", "bought.csv", "picture*.png", "index.html")
"""What is taken for ours in a folder that does not tell, beside files named as the part with these endings."""
ENDINGS = ("step", "stl", "3mf", "dxf", "pdf", "svg", "csv", "zip")


@dataclass(frozen=True)
class Standing:
    """What stands in the folder of a part before it is made again.

    Attributes:
        kept: files of purposes that are not made again, and tell of the part as it stands.
        foreign: what is not ours.
        untrue: our files that tell of another part than it is now.
        inputs: digest of what the part's files come from now.
    """

    kept: tuple[str, ...]
    foreign: tuple[str, ...]
    untrue: tuple[str, ...]
    inputs: str


def standing(folder: Path, part: Part) -> Standing:
    """Look at the folder of a part before it is made.

    Args:
        folder: the part's own folder.
        part: the part as it is to be made.

    Returns:
        What stands there; nothing where there is no folder.

    Raises:
        OSError: the disk refused.
    """
    now = _inputs(part)
    before, theirs = _made(folder)
    kept, foreign, untrue = [], [], []
    for name in names_in(folder):
        if name.startswith("."):
            continue  # what this and killed runs keep there
        if is_proof(name) or name in theirs or (not before and _looks_ours(name, part.name)):
            (kept if before == now and not is_proof(name) else untrue).append(name)
        else:
            foreign.append(name)
    return Standing(tuple(kept), tuple(foreign), tuple(untrue), now)


def write_part(
    folder: Path,
    files: Mapping[str, bytes],
    before: Standing,
    stated: Any = None,
    purposes: Mapping[str, Sequence[str]] = MappingProxyType({}),
) -> tuple[str, ...]:
    """Put the files of a part in the place of those that stood there, all at once.

    Args:
        folder: the part's own folder.
        files: bytes by name.
        before: what stands there.
        stated: what the part's file states, kept for the next comparison; None for a part from Python.
        purposes: names of the files of each purpose, kept for whoever gathers them.

    Returns:
        Names of our files that are gone, since they told of another part.

    Raises:
        OSError: the disk refused; the folder is as it was.
    """
    ours = sorted({*files, *before.kept})
    of_purposes = {**made_for(folder), **purposes} if before.kept else dict(purposes)
    told = {"inputs": before.inputs, "files": ours, "stated": stated, "purposes": of_purposes}
    note = json.dumps(told, ensure_ascii=False, default=str) + "\n"
    replace_folder(folder, {**files, MADE: note.encode()}, (*before.kept, *before.foreign))
    return tuple(name for name in before.untrue if name not in files)


def is_proof(name: str) -> bool:
    """Whether a file is one of a proof's, by its name."""
    return any(fnmatchcase(name, pattern) for pattern in PROOF_FILES)


def _inputs(part: Part) -> str:
    """Digest of all that the files of a part come from: the part, the library, and the printer."""
    printer = content(PRINTER) or b""
    stated = repr((type(part).__qualname__, part.model_dump())).encode()
    return hashlib.sha256(b"\0".join((library().encode(), stated, printer))).hexdigest()


def _made(folder: Path) -> tuple[str, frozenset[str]]:
    """Digest and names of what was made there; nothing where the folder does not tell."""
    found = data(folder / MADE)
    try:
        return str(found["inputs"]), frozenset(map(str, found["files"]))
    except (KeyError, TypeError):
        return "", frozenset()


def made_for(folder: Path) -> dict[str, list[str]]:
    """Names of the files that were made for each purpose, as far as the folder tells."""
    found = data(folder / MADE)
    try:
        return {str(one): list(map(str, names)) for one, names in found["purposes"].items()}
    except (KeyError, TypeError, AttributeError):
        return {}


def last_stated(folder: Path) -> Any:
    """What the file of the part stated when it was made here; None where the folder does not tell."""
    found = data(folder / MADE)
    stated = found.get("stated") if isinstance(found, dict) else None
    return stated if isinstance(stated, dict) else None


def _looks_ours(name: str, part: str) -> bool:
    own = name.startswith(part) and name.rpartition(".")[2] in ENDINGS
    return own or any(fnmatchcase(name, pattern) for pattern in USUAL)
