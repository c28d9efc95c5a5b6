"""Making a build: the parts that hang on what changed, then the assembly and the lists of the whole."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from parts.folders.build_files import CHANGES, FINDINGS
from parts.folders.records import (
    Change,
    Record,
    changes,
    dimensions_of,
    inputs_of,
    read_state,
    record,
    state_bytes,
    table,
)
from parts.folders.side_by_side import MadeElsewhere, ToMake, made_by, name_of
from parts.folders.whole_build import whole_before, whole_changes, whole_of
from parts.inputs.problems import InputError
from parts.making.kept import FILE, Kept
from parts.making.writing import write_all, write_whole
from parts.running.pieces import Executor
from parts.running.versions import versions
from parts.vehicle.build import Build
from parts.vehicle.checks import BuildResult, check_build, with_solids

if TYPE_CHECKING:
    from parts.core.search.result import Result
    from parts.making.model import Made

STATE = "state.json"


@dataclass(frozen=True)
class BuildMade:
    """What a run made of a build.

    Attributes:
        build: the build.
        made: the parts that were made in this run.
        records: of every part, made now or before.
        changes: what moved against the last run.
        failed: what could not be made, in words.
        files: files of the build itself.
        own: the checks of the build itself.
        findings: what strikes, comes too near, lies off its place or cannot be put together, in sentences.
    """

    build: Build
    made: tuple[Made | MadeElsewhere, ...]
    records: Mapping[str, Record]
    changes: tuple[Change, ...]
    failed: tuple[str, ...]
    files: tuple[Path, ...]
    own: BuildResult
    findings: str = ""

    @property
    def ok(self) -> bool:
        """True where every check of every part and of the build itself holds."""
        return self.own.ok and all(one.ok for one in self.records.values())

    def every(self) -> list[Made | MadeElsewhere | Result]:
        """Every part in the order of the build: made in this run, or checked again where it stood."""
        made = {name_of(one): one for one in self.made}
        return [made.get(name) or self.build.part(name).check() for name in self.records]


def stale(
    build: Build, folder: Path, options: Sequence[object] = (), fresh: bool = False
) -> dict[str, str]:
    """The parts that have to be made, with the digest of their inputs.

    Args:
        build: the build.
        folder: the folder of outputs.
        options: what else decides what is written.
        fresh: every part is made, whatever stands there.

    Returns:
        Those whose inputs differ from what was made last, and those whose files are missing.

    Raises:
        InputError: with every problem of every part.
    """
    before, _ = read_state(folder / build.name / STATE)
    found: dict[str, str] = {}
    for name, digest in digests(build, options).items():
        old = before.get(name)
        if fresh or old is None or old.inputs != digest or not _all_there(old, folder):
            found[name] = digest
    return found


def digests(build: Build, options: Sequence[object] = ()) -> dict[str, str]:
    """The digest of the inputs of every part, each part validated, and the rear end.

    Raises:
        InputError: with every problem of every part.
    """
    problems = []
    found: dict[str, str] = {}
    for name in build.names:
        try:
            build.part(name)
            found[name] = inputs_of(build, name, options)
        except InputError as error:
            problems += error.problems
    try:
        _ = build.rear
    except InputError as error:
        problems += error.problems
    if problems:
        raise InputError(dict.fromkeys(problems))
    return found


def _all_there(old: Record, folder: Path) -> bool:
    return bool(old.files) and all((folder / file).is_file() for file in old.files)


def make_build(
    build: Build,
    folder: Path,
    stl_chord: float = 0.05,
    stl_angle: float = 0.2,
    purposes: Sequence[str] = (),
    step: Callable[[str], None] = lambda _: None,
    packet: bool = False,
    fresh: bool = False,
    executor: Executor | None = None,
) -> BuildMade:
    """Make whatever depends on what changed since the last run, and nothing else.

    Args:
        build: the build.
        folder: the folder of outputs; parts and build each get a folder of their own there.
        stl_chord: largest distance of the STL from the surface [mm].
        stl_angle: largest angle between neighbouring facets [rad].
        purposes: what else to write files for.
        step: told the name of each part before it is made.
        packet: write for each shop what it gets of all parts in one PDF and one ZIP; the purposes say of which files.
        fresh: make everything anew, whatever stands there.
        executor: makes the parts; they are made one after another in this process where left out.

    Returns:
        What was made and what moved.

    Raises:
        InputError: something is wrong in a file; nothing was written.
        OSError: the disk refused.
    """
    from parts.folders.part_files import make_part
    from parts.making.model import MakeError

    own = folder / build.name
    options = (stl_chord, stl_angle, *purposes)
    waiting = stale(build, folder, options, fresh)
    whole, stood = whole_of(build), whole_before(own / STATE)
    before, assembled = read_state(own / STATE)
    if fresh:
        assembled = ""
        (own / FILE).unlink(missing_ok=True)
    records: dict[str, Record] = {}
    made: list[Made | MadeElsewhere] = []
    failed: list[str] = []
    if waiting:
        _drop_packets(build, own)
    elsewhere: dict[str, MadeElsewhere] = {}
    if executor is not None:
        elsewhere, failed = _made_by(executor, build, folder, waiting, options, step)
    for name in build.names:
        if name not in waiting:
            records[name] = before[name]
            continue
        if executor is not None:
            if name in elsewhere:
                made.append(elsewhere[name])
                records[name] = _with_files(elsewhere[name].record, elsewhere[name].files, folder)
            elif name in before:
                records[name] = replace(before[name], inputs="", ok=False)
            continue
        step(name)
        try:
            one = make_part(
                build.part(name), folder, stl_chord, stl_angle, purposes, build.written(name)
            )
        except MakeError as error:
            failed.append(str(error))
            if name in before:
                records[name] = replace(before[name], inputs="", ok=False)
            continue
        made.append(one)
        kept = record(build, name, one.result, waiting[name], one.mass)
        records[name] = _with_files(kept, one.files, folder)
        write_whole(own / STATE, state_bytes({**before, **records}, "", stood))
    moved = (*changes(before, records), *whole_changes(build.name, stood, whole))
    files, assembled = (
        ((), assembled) if failed else _whole(build, own, records, moved, assembled, step, made)
    )
    write_whole(own / STATE, state_bytes(records, assembled, whole))
    found = BuildMade(
        build,
        tuple(made),
        records,
        moved,
        tuple(failed),
        tuple(files),
        _with_solids(check_build(build), own),
        _findings(own),
    )
    return _with_packets(found, folder) if packet and not failed else found


def _with_files(one: Record, files: Sequence[Path], folder: Path) -> Record:
    return replace(one, files=tuple(file.relative_to(folder).as_posix() for file in files))


def _made_by(
    executor: Executor,
    build: Build,
    folder: Path,
    waiting: Mapping[str, str],
    options: tuple[Any, ...],
    step: Callable[[str], None],
) -> tuple[dict[str, MadeElsewhere], list[str]]:
    """The parts that have to be made, made by an executor, and what failed in words."""
    chord, angle, *purposes = options
    orders = {
        name: ToMake(
            build.stated(name), build.written(name), folder, chord, angle, tuple(purposes), digest,
            dict(dimensions_of(build.resolved(name)[0].data)),
        )
        for name, digest in waiting.items()
    }  # fmt: skip
    return made_by(executor, orders, step)


def _with_packets(found: BuildMade, folder: Path) -> BuildMade:
    from parts.folders.packet import packet_of_build

    results: list[Result] = [getattr(one, "result", one) for one in found.every()]
    own = folder / found.build.name
    packets = packet_of_build(found.build, results, folder, found.findings)
    files = write_all(own, packets)
    _drop_packets(found.build, own, list(packets))
    return replace(found, files=(*found.files, *files))


def _drop_packets(build: Build, own: Path, written: Sequence[str] = ()) -> None:
    """Packets that were not written now go: they may tell of parts as they were."""
    from parts.folders.packet import old_packets

    for file in old_packets(own, build.name, written):
        file.unlink()


def _whole(
    build: Build,
    own: Path,
    records: Mapping[str, Record],
    moved: Sequence[Change],
    assembled: str,
    step: Callable[[str], None],
    made: Iterable[Made | MadeElsewhere],
) -> tuple[list[Path], str]:
    """Write the files of the build itself, unless they stand and nothing in them would differ."""
    from parts.folders.build_files import build_files, digest_of

    digest = digest_of(build, records)
    files: list[Path] = []
    if digest != assembled:
        step(build.name)
        _drop_packets(build, own)
        kept = Kept(own, repr(versions()))
        for one in made:
            kept.give(one.solids, "pieces", records[name_of(one)].inputs)
        for name, content in build_files(build, records, moved, kept).items():
            write_whole(own / name, content)
            files.append(own / name)
        kept.write()
    said, before = table(moved).encode(), own / CHANGES
    # What moved in a run before is no longer what moved.
    if moved or (before.is_file() and before.read_bytes() != said):
        write_whole(before, said)
        files.append(before)
    return files, digest


def _with_solids(found: BuildResult, own: Path) -> BuildResult:
    """The build's checks with what its solids told when it was last assembled."""
    from parts.folders.build_files import DATA
    from parts.vehicle.space.interference import Clash

    file = own / DATA
    if not file.is_file():
        return found
    data = json.loads(file.read_bytes())
    return with_solids(
        found, [Clash(**one) for one in data.get("struck", [])], data["cannot_be_put_together"]
    )


def _findings(own: Path) -> str:
    """What the build's own report says; empty where nothing was assembled yet."""
    file = own / FINDINGS
    return file.read_text("utf-8") if file.is_file() else ""
