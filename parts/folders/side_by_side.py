"""Parts made by an executor: what goes to the process that makes one, and what comes back of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, Any

from parts.running.pieces import Executor, Lost

if TYPE_CHECKING:
    from parts.folders.records import Record
    from parts.inputs.document import Document
    from parts.making.model import Made

LEAST = 4
"""Parts from which it pays to begin processes: each must load the solid modeller first."""


@dataclass(frozen=True)
class ToMake:
    """A part to be made.

    Attributes:
        stated: what its file states, with what its build gives it.
        written: its file as it is written.
        folder: the folder that holds the part's own folder.
        chord: largest distance of the STL from the surface [mm].
        angle: largest angle between neighbouring facets [rad].
        purposes: what else to write files for.
        inputs: digest of all that it hangs on, in a build; its solids come back then.
        dimensions: what its file states, forms resolved, without what the build adds.
        every: whether the text shows every check.
    """

    stated: Document
    written: Document
    folder: Path
    chord: float
    angle: float
    purposes: tuple[str, ...]
    inputs: str = ""
    dimensions: Mapping[str, str] = field(default_factory=dict)
    every: bool = False


@dataclass(frozen=True)
class MadeElsewhere:
    """A part that another process made: as `parts.making.model.Made`, in plain values.

    Attributes:
        name: of the part.
        ok: whether every check holds.
        files: the files written.
        gone: those that went.
        entry: its entry in the JSON report.
        text: its report.
        record: what a build keeps of it.
        solids: the kernel's own binary of its pieces, where it is one of a build's; else empty.
    """

    name: str
    ok: bool
    files: list[Path]
    gone: tuple[str, ...]
    entry: dict[str, Any]
    text: str
    record: Record
    solids: bytes


def name_of(one: Made | MadeElsewhere) -> str:
    """Name of a part that was made."""
    return one.name if isinstance(one, MadeElsewhere) else one.result.part.name


def make_one(one: ToMake) -> MadeElsewhere:
    """Make a part; see `parts.folders.part_files.make_part`."""
    from parts.families import families
    from parts.folders.part_files import make_part
    from parts.folders.records import record_of
    from parts.inputs.reading import read_parsed
    from parts.report.document import part_entry
    from parts.report.text import brief_report, text_report

    part = read_parsed(one.stated, families())
    made = make_part(part, one.folder, one.chord, one.angle, one.purposes, one.written)
    return MadeElsewhere(
        part.name,
        made.result.ok,
        made.files,
        made.gone,
        part_entry(made, one.written.file),
        (text_report if one.every else brief_report)(made),
        record_of(one.dimensions, made.result, one.inputs, made.mass),
        made.solids if one.inputs else b"",
    )


def made_by(
    executor: Executor, orders: Mapping[str, ToMake], begun: Callable[[str], None]
) -> tuple[dict[str, MadeElsewhere], list[str]]:
    """Make parts by an executor.

    Args:
        executor: it.
        orders: the parts by name.
        begun: told the name of each part when it is begun.

    Returns:
        What was made by name, in the order asked for, and what could not be made, in words.

    Raises:
        Exception: what a part failed by that is no fault of its own, once all others are made.
    """
    from parts.making.model import MakeError

    made, failed, worse = {}, {}, []
    for done in executor.run(make_one, orders, begun):
        if isinstance(done.error, MakeError | Lost):
            failed[done.key] = str(done.error)
        elif done.error is not None:
            worse.append(done.error)
        else:
            made[done.key] = done.value
    if worse:
        raise worse[0]
    return {name: made[name] for name in orders if name in made}, [
        failed[name] for name in orders if name in failed
    ]
