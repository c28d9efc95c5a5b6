"""What is kept of each part of a build between two runs, and how two runs differ."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.inputs.document import dotted
from parts.making.read_back import data
from parts.report.case_table import uses
from parts.running.versions import library
from parts.study.made.record import records_of

if TYPE_CHECKING:
    from parts.core.search.result import Result
    from parts.vehicle.build import Build

LEFT_OUT = ("name", "family", "loads", "units", "outputs")
"""Keys of a part's file that are no dimensions."""
_NUMBER = re.compile(r"([-+]?[0-9.]+(?:e[-+]?[0-9]+)?) *([^0-9 ].*)?", re.I)


@dataclass(frozen=True)
class Record:
    """A part as it was made or checked.

    Attributes:
        inputs: digests of what it was stated to be, of the library, and of what was to be written.
        dimensions: what its file states, forms resolved, by dotted path.
        loads: size of each load by case and point [N or N*mm].
        mass: of all its pieces [kg]; None where nothing was built.
        governing: name of the check that governs, with its load case; empty without loads.
        factor: the factor of that check [-]; None without one.
        required: the factor asked for there [-].
        ok: whether every check holds.
        files: files written, as paths beside the build's folder.
        uses: the largest share used in each load case [-]; None where it is no number.
    """

    inputs: str
    dimensions: Mapping[str, str]
    loads: Mapping[str, float]
    mass: float | None
    governing: str
    factor: float | None
    required: float | None
    ok: bool
    files: tuple[str, ...] = ()
    uses: Mapping[str, float | None] = field(default_factory=dict)


@dataclass(frozen=True)
class Change:
    """What moved: of which part, what, and how it read before and after; empty where there was none."""

    part: str
    what: str
    before: str
    after: str


def inputs_of(build: Build, name: str, options: Iterable[Any] = ()) -> str:
    """Digest of all that decides how a part comes out: what its file states resolved, its loads, the records of
    its pieces, the library.

    Args:
        build: the build.
        name: of the part.
        options: what else decides what is written.

    Returns:
        The digest.
    """
    stated = json.dumps(build.stated(name).data, sort_keys=True)
    stated += "".join(one.read_text() for one in records_of(build.file_of(name), build.bare(name)))
    written = hashlib.sha256(" ".join(map(str, options)).encode()).hexdigest()[:8]
    return f"{hashlib.sha256(stated.encode()).hexdigest()}/{library()}/{written}"


def record(
    build: Build, name: str, result: Result, inputs: str, mass: float | None = None
) -> Record:
    """What is kept of a part.

    Args:
        build: the build.
        name: of the part.
        result: of its checks.
        inputs: see `inputs_of`.
        mass: of its pieces [kg].

    Returns:
        The record.
    """
    return record_of(dict(dimensions_of(build.resolved(name)[0].data)), result, inputs, mass)


def record_of(
    dimensions: Mapping[str, str], result: Result, inputs: str, mass: float | None = None
) -> Record:
    """The same of dimensions that are known: what the part's file states, by dotted path."""
    worst = result.governing
    return Record(
        inputs,
        dimensions,
        {
            f"{case.name}, at {load.at}": round(float(np.linalg.norm(load.force)), 3)
            for case in result.part.loads
            for load in case.forces
        },
        None if mass is None else float(f"{mass:.9g}"),
        "" if worst is None else ", ".join(filter(None, (worst.name, worst.load_case))),
        None if worst is None else _finite(worst.factor),
        None if worst is None else _finite(worst.required),
        result.ok,
        uses=uses(result.checks),
    )


def _finite(value: Any) -> float | None:
    number = float(value)
    return float(f"{number:.9g}") if np.isfinite(number) else None


def dimensions_of(data: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str, str]]:
    """What a part's file states, loads and name left out: dotted path and value."""
    if isinstance(data, dict):
        for key, inner in data.items():
            if path or key not in LEFT_OUT:
                yield from dimensions_of(inner, (*path, key))
    elif isinstance(data, list):
        for index, inner in enumerate(data):
            yield from dimensions_of(inner, (*path, index))
    elif data is not None:
        yield dotted(path), shown(data)


def shown(value: Any) -> str:
    """A value as a table shows it: numbers to a thousandth of their unit."""
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return str(value)
    found = _NUMBER.fullmatch(str(value).strip())
    if found is None:
        return str(value)
    number, unit = float(found[1]), found[2] or ""
    if unit == "rad":
        number, unit = float(np.degrees(number)), "deg"
    return f"{number:.3f}".rstrip("0").rstrip(".") + (f" {unit}" if unit else "")


def changes(before: Mapping[str, Record], after: Mapping[str, Record]) -> list[Change]:
    """How two runs differ: dimensions, loads, mass and governing factor of each part.

    Args:
        before: records by part.
        after: records by part.

    Returns:
        The changes, parts in the order of `after` and those that are gone behind them.
    """
    found: list[Change] = []
    for name, new in after.items():
        old = before.get(name)
        if old is None:
            found.append(Change(name, "part", "", "new"))
            found += _of_part(
                name, replace(new, dimensions={}, loads={}, mass=None, factor=None), new
            )
        else:
            found += _of_part(name, old, new)
    return found + [
        Change(name, "part", "was made", "gone") for name in before if name not in after
    ]


def _of_part(name: str, old: Record, new: Record) -> Iterator[Change]:
    is_new = not old.dimensions
    if not is_new:
        yield from (Change(name, *row) for row in differing(old.dimensions, new.dimensions))
        sizes = [{f"load, {k}": f"{v:.0f} N" for k, v in one.loads.items()} for one in (old, new)]
        yield from (Change(name, *row) for row in differing(*sizes))
    if is_new or (old.mass is not None and new.mass is not None):
        masses = [_mass(one.mass) for one in (old, new)]
        if masses[0] != masses[1]:
            yield Change(name, "mass", *masses)
    factors = [_factor(one) for one in (old, new)]
    if factors[0] != factors[1]:
        yield Change(name, "governing factor", *factors)


def differing(old: Mapping[str, str], new: Mapping[str, str]) -> Iterator[tuple[str, str, str]]:
    """What differs between two lists of values in words: its key, and how it read before and after."""
    for key in dict.fromkeys([*old, *new]):
        one, other = old.get(key, ""), new.get(key, "")
        if one != other:
            yield key, one, other


def _mass(mass: float | None) -> str:
    return "" if mass is None else f"{mass:.4f} kg"


def _factor(one: Record) -> str:
    return "" if one.factor is None else f"{one.factor:.3f} ({one.governing})"


def table(found: Iterable[Change], width: int = 100) -> str:
    """The changes as text, one line each, parts apart."""
    lines: list[str] = []
    part = ""
    for one in found:
        if one.part != part:
            part = one.part
            lines.append(f"{part}")
        before, after = one.before or "-", one.after or "-"
        line = f"  {one.what}: {before} -> {after}"
        lines += (
            [line] if len(line) <= width else [f"  {one.what}:", f"    {before}", f"    -> {after}"]
        )
    return "\n".join(lines) + "\n" if lines else "Nothing moved.\n"


def state_bytes(
    records: Mapping[str, Record], assembly: str = "", whole: Mapping[str, str] | None = None
) -> bytes:
    """The state of a build, to be kept between runs."""
    document = {
        "library": library(),
        "assembly": assembly,
        "whole": dict(whole or {}),
        "parts": {name: asdict(one) for name, one in records.items()},
    }
    return (json.dumps(document, indent=1, ensure_ascii=False) + "\n").encode()


def read_state(file: Path) -> tuple[dict[str, Record], str]:
    """The state of the last run: records by part, and the digest of the assembly; empty where there is none.

    A file that is no such state counts as none: everything is then made anew.
    """
    document = data(file)
    try:
        records = {
            name: Record(**{**one, "files": tuple(one["files"])})
            for name, one in document["parts"].items()
        }
        return records, str(document["assembly"])
    except (ValueError, KeyError, TypeError, AttributeError):
        return {}, ""
