"""What moved in one part: against its last make, a revision of git, or another file."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

import numpy as np

from parts.core.check import Check, use_of
from parts.core.figures import figure
from parts.families import families
from parts.folders.part_folder import last_stated
from parts.folders.records import Change, differing, dimensions_of
from parts.folders.revision import at_revision
from parts.folders.stated import stated
from parts.inputs.document import Document, parse_document, read_document
from parts.inputs.problems import InputError, Problem
from parts.inputs.reading import read_parsed, refers_to_build
from parts.making.model import Made, model
from parts.making.overlay import overlay_svg
from parts.vehicle.build import Build
from parts.vehicle.file.loading import found_in_build
from parts.vehicle.file.resolving import plain


@dataclass(frozen=True)
class PartChanges:
    """What moved, the dimensions first, then loads, mass and checks, and both outlines as an SVG."""

    name: str
    changes: tuple[Change, ...]
    picture: bytes

    def json(self) -> str:
        document = {"part": self.name, "changes": [asdict(one) for one in self.changes]}
        return json.dumps(document, indent=2, ensure_ascii=False) + "\n"


def part_changes(file: Path, against: str, folder: Path) -> PartChanges:
    """Compare a part with what it was.

    Args:
        file: the part's file.
        against: another file of a part, or a revision of git; its last make where empty.
        folder: the folder of outputs, where the last make lies.

    Returns:
        What moved. Both are built and checked by the library as it is, so that nothing differs but what moved.

    Raises:
        InputError: a file or the revision is wrong, or it was never made.
        MakeError: one of the two cannot be made.
    """
    now = stated(read_document(file))
    after = model(read_parsed(now, families()))
    name = after.result.part.name
    if not against:
        then = _last(file, folder / name)
    elif Path(against).is_file():
        then = stated(read_document(Path(against)))
    else:
        then = _at_revision(file, against)
    before = model(read_parsed(then, families()))
    found = tuple(Change(name, *row) for row in _rows(then.data, before, now.data, after))
    solids = [[piece.solid for piece in one.result.part.pieces] for one in (before, after)]
    return PartChanges(name, found, overlay_svg(*solids, name))


def _last(file: Path, folder: Path) -> Document:
    data = last_stated(folder)
    if data is None:
        wrong = f"{folder} does not tell what the part was made from"
        right = "make it first, or name a revision or another file with --against"
        raise InputError([Problem("not_made", str(file), 0, 0, "", "", wrong, right)])
    return Document(str(folder), plain(data, 0, 0))


def _at_revision(file: Path, revision: str) -> Document:
    read = at_revision(revision)
    document = parse_document(read(file), str(file))
    if not refers_to_build(document):
        return document
    build, name = found_in_build(file, document)
    return Build(build.path, read).stated(name)


def _rows(
    old: Mapping[str, Any], before: Made, new: Mapping[str, Any], after: Made
) -> Iterator[tuple[str, str, str]]:
    yield from differing(*(dict(dimensions_of(one)) for one in (old, new)))
    yield from differing(*(_loads(one) for one in (before, after)))
    yield from differing(*({"mass": f"{one.mass:.4f} kg"} for one in (before, after)))
    yield from differing(*(_factors(one) for one in (before, after)))


def _loads(made: Made) -> dict[str, str]:
    return {
        f"load, {case.name}, at {load.at}": f"{float(np.linalg.norm(load.force)):.0f} N"
        for case in made.result.part.loads
        for load in case.forces
    }


def _factors(made: Made) -> dict[str, str]:
    """What each check leaves under the load case that leaves least, the closest first."""
    worst: dict[str, Check] = {}
    for one in sorted(made.result.checks, key=use_of, reverse=True):
        worst.setdefault(one.name, one)
    return {
        f"check, {name}": f"{figure(one.factor)} of {figure(one.required)}{'' if one.ok else ', SHORT'}"
        + (f" ({one.load_case})" if one.load_case else "")
        for name, one in worst.items()
    }
