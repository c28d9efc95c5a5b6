"""Names of standard parts as the shop writes them: reading them, and refusing them helpfully.

Every table of `parts.standards` shares what stands here: the error for a name that no table holds,
the search for what stands nearest, the reading of a data file, inch sizes as drawings write them.
"""

from __future__ import annotations

import csv
import difflib
import re
from collections.abc import Iterable, Mapping
from fractions import Fraction
from functools import cache
from pathlib import Path
from types import MappingProxyType

MM_PER_INCH = 25.4

Row = Mapping[str, str]
DATA = Path(__file__).parent
"""Folder of the tables, each in the folder of its subject."""

# ASME B1.1: the basic major diameter of a numbered screw is 0.060 in + 0.013 in per number.
_NUMBERED_BASE = Fraction(60, 1000)
_NUMBERED_STEP = Fraction(13, 1000)
_LARGEST_NUMBER = 14

_UNIT_MARK = re.compile(r"\s*(?:\"|''|\u2033|\u201d|in\.?|inch(?:es)?)$", re.I)
_NUMBERED = re.compile(r"(?:no\.?\s*|nr\.?\s*|#\s*)(\d{1,2})", re.I)
_MIXED = re.compile(r"(?:(\d+)(?:\s*-\s*|\s+))?(\d+)\s*/\s*(\d+)")
_DECIMAL = re.compile(r"\d+(?:\.\d*)?|\.\d+")
PLAIN = str.maketrans("\u00d7", "x", "-_.#\"'")
"""What a name is without the signs that shops use as they please."""


class UnknownDesignation(ValueError):
    """A designation that no table holds, or that contradicts itself.

    Attributes:
        kind: what was looked for: "thread", "bearing", "fit", ...
        value: the designation as it was given.
        reason: what is wrong with it, as a clause without a full stop.
        nearest: designations that would be right, nearest first; may be empty.
    """

    def __init__(self, kind: str, value: object, reason: str, nearest: Iterable[str] = ()) -> None:
        self.kind = kind
        self.value = str(value)
        self.reason = reason
        self.nearest = tuple(nearest)
        near = f"; nearest: {', '.join(self.nearest)}" if self.nearest else ""
        super().__init__(f"{kind} {self.value!r}: {reason}{near}.")

    def __reduce__(self) -> tuple[type, tuple[str, str, str, tuple[str, ...]]]:
        return type(self), (self.kind, self.value, self.reason, self.nearest)


def plain_name(text: str) -> str:
    """A name without case, blanks and the signs that shops use as they please, for comparing."""
    return "".join(text.split()).translate(PLAIN).casefold()


def nearest_names(wanted: str, names: Iterable[str], count: int = 3) -> tuple[str, ...]:
    """The `count` names most like `wanted`, the most alike first; fewer where none is alike.

    Equally alike names keep the order in which they came, so that the answer never varies.
    """
    target = plain_name(wanted)
    ranked = [
        (-difflib.SequenceMatcher(None, target, plain_name(name)).ratio(), place, name)
        for place, name in enumerate(dict.fromkeys(names))
    ]
    return tuple(name for likeness, _, name in sorted(ranked)[:count] if likeness <= -0.4)


def nearest_sizes(wanted: float, sizes: Mapping[str, float], count: int = 3) -> tuple[str, ...]:
    """The `count` names whose size lies nearest to `wanted`, nearest first (same unit on both)."""
    return tuple(sorted(sizes, key=lambda name: (abs(sizes[name] - wanted), name))[:count])


@cache
def data_files(folder: Path) -> Mapping[str, Path]:
    """Every data file below a folder, by its name without the ending."""
    return {path.stem: path for path in sorted(folder.rglob("*.csv"))}


@cache
def read_table(name: str) -> tuple[Row, ...]:
    """The rows of `<name>.csv` in the folder of its subject, columns by name, as text and stripped.

    Lines that start with # and empty lines are comments (a cell that must start with # is quoted).
    Each file is read once.

    Raises:
        FileNotFoundError: when there is no such data file.
        ValueError: when a row has more or fewer cells than the heading.
    """
    if name not in data_files(DATA):
        raise FileNotFoundError(f"no folder of parts.standards has a file {name}.csv")
    text = data_files(DATA)[name].read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if line.strip() and not line.startswith("#")]
    heading, *body = csv.reader(lines)
    rows = []
    for cells in body:
        if len(cells) != len(heading):
            raise ValueError(
                f"{name}.csv: {len(cells)} cells where the heading has {len(heading)}: {cells}"
            )
        rows.append(MappingProxyType(dict(zip(heading, map(str.strip, cells), strict=True))))
    return tuple(rows)


def inches(text: str) -> Fraction:
    """An inch size as the shop writes it, exactly, in inches.

    It reads "3/8", "1-1/4", "1 1/4", "0.065", ".375", "2", each with or without an inch mark, and
    the numbered screw sizes "No. 10" and "#10".

    Raises:
        UnknownDesignation: when it cannot be read; kind "inch size".
    """
    bare = _UNIT_MARK.sub("", text.strip())
    if found := _NUMBERED.fullmatch(bare):
        number = int(found[1])
        if number > _LARGEST_NUMBER:
            raise UnknownDesignation(
                "inch size", text, f"numbered screws end at No. {_LARGEST_NUMBER}"
            )
        return _NUMBERED_BASE + number * _NUMBERED_STEP
    if found := _MIXED.fullmatch(bare):
        whole, above, below = int(found[1] or 0), int(found[2]), int(found[3])
        if below == 0:
            raise UnknownDesignation("inch size", text, "a fraction cannot have 0 below the line")
        return whole + Fraction(above, below)
    if _DECIMAL.fullmatch(bare):
        return Fraction(bare)
    raise UnknownDesignation(
        "inch size", text, "it is not a size in inches; right would be 3/8, 1-1/4, 0.065 or No. 10"
    )


def inch_to_mm(text: str) -> float:
    """An inch size as the shop writes it (see `inches`), in mm.

    Raises:
        UnknownDesignation: when it cannot be read; kind "inch size".
    """
    size = inches(text)
    return size.numerator * 254 / (size.denominator * 10)
