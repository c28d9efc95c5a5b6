"""What moved in a build: against the last run, or against the files of a revision of git."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict
from pathlib import Path

from parts.folders.build import STATE, digests
from parts.folders.records import Change, Record, changes, read_state, record
from parts.folders.revision import at_revision
from parts.folders.whole_build import whole_before, whole_changes, whole_of
from parts.vehicle.build import Build


def against_last(build: Build, folder: Path) -> list[Change]:
    """What would move if the build was made now.

    Args:
        build: the build as it stands.
        folder: the folder of outputs.

    Returns:
        The changes against the last run; masses of what changed come from solids built for this alone.

    Raises:
        InputError: something is wrong in a file.
        MakeError: a part that changed cannot be made.
    """
    state = folder / build.name / STATE
    before, _ = read_state(state)
    stated = digests(build)
    after: dict[str, Record] = {}
    for name in build.names:
        old = before.get(name)
        if old is not None and old.inputs.split("/")[0] == stated[name].split("/")[0]:
            after[name] = old
        else:
            after[name] = _now(build, name, stated[name])
    whole = whole_changes(build.name, whole_before(state), whole_of(build))
    return [*changes(before, after), *whole]


def against_revision(build: Build, revision: str) -> list[Change]:
    """What moved since a revision of git.

    Args:
        build: the build as it stands.
        revision: as git names it.

    Returns:
        The changes; masses of what changed come from solids built for this alone.

    Raises:
        InputError: the revision or a file is wrong.
        MakeError: a part that changed cannot be made.
    """
    then = Build(build.path, at_revision(revision))
    both = []
    digest = [digests(one) for one in (then, build)]
    for one, stated in zip((then, build), digest, strict=True):
        both.append(
            {
                name: _now(one, name, stated[name])
                for name in one.names
                if digest[0].get(name) != digest[1].get(name)
            }
        )
    whole = whole_changes(build.name, whole_of(then), whole_of(build))
    return [*changes(*both), *whole]


def _now(build: Build, name: str, stated: str) -> Record:
    """A part as it would be made: by its solid, so that nothing differs but what moved."""
    from parts.making.model import model

    made = model(build.part(name))
    return record(build, name, made.result, stated, made.mass)


def changes_json(found: Iterable[Change]) -> str:
    """The changes as one JSON document."""
    document = {"changes": [asdict(one) for one in found]}
    return json.dumps(document, indent=2, ensure_ascii=False) + "\n"
