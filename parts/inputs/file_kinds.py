"""What a file is, by what stands in it, and the command that reads it: said where it was given for another."""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal, NoReturn

from parts.inputs.problems import InputError, Problem

Kind = Literal["part", "build", "readings", "record", "test", "sizes", "proof"]
CALLED: Mapping[Kind, str] = {
    "part": "the file of a part", "build": "the file of a build", "readings": "a file of readings",
    "record": "the record of a finished piece", "test": "the test of a proof load",
    "sizes": "a table of measured sizes", "proof": "the table of a proof load's readings",
}  # fmt: skip
KEYS: Mapping[Kind, tuple[str, ...]] = {
    "part": ("family",), "record": ("made",), "test": ("load_case", "gauges"), "build": ("build", "parts"),
    "readings": ("survey",),
}  # fmt: skip
"""The keys by which each kind of YAML or JSON is known, the first that fits."""
BEGINS: Mapping[Kind, str] = {
    "part": "`family:` and `name:`", "build": "`build:` and `hardpoints:`", "readings": "`survey:` and `known:`",
    "record": "`made:` and `revision:`",
}  # fmt: skip
"""What each kind of YAML file begins with."""
COLUMNS: Mapping[Kind, tuple[str, ...]] = {
    "sizes": ("dimension", "measured"), "proof": ("step", "load"),
}  # fmt: skip
"""The columns by which each kind of table is known, their units left out."""
NAMES: Mapping[Kind, str] = {"record": "made", "test": "part"}
"""The key that names the part."""
DRAWINGS = (".step", ".stp", ".dxf", ".svg")


@dataclass(frozen=True)
class Known:
    """What a file is, its key to point at, and the part that it names."""

    kind: Kind
    key: str
    part: str = ""

    def command(self, file: str) -> str:
        """What reads it."""
        own = shlex.quote(file)
        part = shlex.quote(_file_of(self.part, Path(file)))
        return {
            "part": f"oneoff check {own}", "build": f"oneoff check {own}", "readings": f"oneoff readings {own}",
            "record": f"oneoff as-made {part} {own}", "sizes": f"oneoff as-made {part} {own}",
            "test": f"oneoff proof-load {part} --test {own} --readings READINGS.csv",
            "proof": f"oneoff proof-load {part} --readings {own}",
        }[self.kind]  # fmt: skip


def kind_of_data(data: Any) -> Known | None:
    """What a YAML or JSON file is by its keys; None where they say nothing."""
    if not isinstance(data, dict):
        return None
    for kind, keys in KEYS.items():
        if all(key in data for key in keys):
            return Known(kind, keys[0], str(data.get(NAMES.get(kind, ""), "")))
    return None


def kind_of_heads(heads: Iterable[str]) -> Known | None:
    """What a table is by its first line; None where that says nothing."""
    names = {re.split(r"[\[_]", head.strip().casefold())[0].strip() for head in heads}
    for kind, wanted in COLUMNS.items():
        if names.issuperset(wanted):
            return Known(kind, wanted[0])
    return None


def refuse_other(
    file: str, known: Known | None, wanted: Kind, place: tuple[int, int] = (0, 0)
) -> None:
    """Refuse a file that is of another kind than wanted.

    Args:
        file: its name.
        known: what it is; None where nothing says so, which is refused by who reads it.
        wanted: what it should be.
        place: line and column of what says it.

    Raises:
        InputError: it is of another kind; the message says which, and what to type with it.
    """
    if known is not None and known.kind != wanted:
        _refuse(file, place, known.key if place[0] else "", f"this is {CALLED[known.kind]}, not {CALLED[wanted]}",
                f"it is read by `{known.command(file)}`")  # fmt: skip


def refuse_other_ending(file: str, content: bytes) -> None:
    """Refuse a file as YAML that is a table or a drawing by its ending.

    Args:
        file: its name.
        content: its first bytes at the least.

    Raises:
        InputError: it is one; the message says what reads it.
    """
    ending = Path(file).suffix.casefold()
    if ending == ".csv":
        first = content.partition(b"\n")[0].decode("utf-8-sig", "replace")
        known = kind_of_heads(re.split(r"[,;\t]", first))
        what = "a table" if known is None else CALLED[known.kind]
        _refuse(file, (0, 0), "", f"this is {what}, no YAML",
                "name a YAML file" if known is None else f"it is read by `{known.command(file)}`")  # fmt: skip
    if ending in DRAWINGS:
        _refuse(file, (0, 0), "", "this is a drawing, no YAML",
                f"its holes are listed by `oneoff readings {shlex.quote(file)}`")  # fmt: skip


def _file_of(part: str, beside: Path) -> str:
    """The file of a part near another file of it, or a word in its place."""
    folders = [beside.parent.parent, beside.parent] if part else []
    named = re.compile(rf"^name:\s*[\"']?{re.escape(part)}[\"']?\s*(#.*)?$", re.MULTILINE)
    for one in (one for folder in folders for one in sorted(folder.glob("*.yaml"))):
        with suppress(OSError, UnicodeDecodeError):
            text = one.read_text(encoding="utf-8")
            if named.search(text) and re.search(r"^family:", text, re.MULTILINE):
                return str(one)
    return f"{part or 'PART'}.yaml"


def _refuse(file: str, place: tuple[int, int], field: str, wrong: str, right: str) -> NoReturn:
    raise InputError([Problem("other_kind", file, *place, field, "", wrong, right)])
