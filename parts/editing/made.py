"""A finished part measured on the page: the rows that can be typed, and the record that comes of them, and back."""

from __future__ import annotations

import csv
import io
import json
import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import yaml

from parts.inputs.csv_file import csv_lines
from parts.inputs.document import read_document
from parts.inputs.names import part_name
from parts.inputs.problems import InputError
from parts.inputs.reading import validated
from parts.inputs.units import LENGTH, Units, read_number
from parts.making.bench.inspection import items
from parts.making.writing import write_all
from parts.study.made.inspected import NAME, NOT_READ, NUMBER, READ, is_inspection
from parts.study.made.record import FOLDER, MadeFile, records_named

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.editing.telling import Told

MILLIMETRES = Units(length="mm")
SAID = ("who", "when", "tools", "metal", "torque", "within", "notes")
"""What of a record the page asks for besides what was measured."""


def sheet_of(part: Part) -> Told:
    """The inspection sheets of a part, row by row, and the sizes that go into its joints."""
    return {
        "revision": part.revision, "metal": part.metal.name,
        "sheets": [
            {"piece": drawn.piece, "rows": [
                {"number": one.number, "name": one.name, "words": one.words, "low": _finite(one.low),
                 "high": _finite(one.high), "tool": one.tool}
                for one in items(part, drawn) if one.tool not in NOT_READ
            ]}
            for drawn in part.drawn()
        ],
        "joints": [
            {"joint": joint.joint, "size": one.name, "low": float(one.least), "high": float(one.most)}
            for joint in part.clearances() for one in {s.name: s for s in (*joint.room, *joint.filled)}.values()
        ],
    }  # fmt: skip


def _finite(value: float) -> float | None:
    return float(value) if np.isfinite(value) else None


def files_of(name: str, revision: str, asked: Mapping[str, Any]) -> dict[str, bytes]:
    """The files of a record: itself first, then a table for each sheet of which a row was filled in.

    Args:
        name: of the part.
        revision: of the part.
        asked: `piece`, `record` with what `SAID` names, `rows` with `sheet`, `number`, `name` and `measured`, and
            `fits` with `joint`, `size` and `measured`. Bare numbers are millimetres.

    Returns:
        Their bytes by name.

    Raises:
        ValueError: a name would lead out of the folder, or a reading is no length.
    """
    piece = str(asked.get("piece") or "1").strip()
    stem = part_name(f"{name}-{revision}" + ("" if piece == "1" else f"-{piece}"))
    tables: dict[int, list[tuple[int, str, str]]] = {}
    for row in asked.get("rows", ()):
        own = tables.setdefault(int(row["sheet"]), [])
        own.append((int(row["number"]), str(row["name"]), _millimetres(row)))
    contents = {f"{stem}-sheet-{k + 1}.csv": _csv(rows) for k, rows in sorted(tables.items())}
    fits: dict[str, dict[str, str]] = {}
    for row in asked.get("fits", ()):
        fits.setdefault(str(row["joint"]), {})[str(row["size"])] = f"{_millimetres(row)} mm"
    said = asked.get("record", {})
    record = {
        "made": name, "revision": revision, "piece": piece, "units": "mm",
        **{key: said[key] for key in SAID if said.get(key)}, "table": list(contents), "fits": fits,
    }  # fmt: skip
    text = yaml.safe_dump(
        {key: one for key, one in record.items() if one}, sort_keys=False, allow_unicode=True
    )
    return {f"{stem}.yaml": text.encode(), **contents}


def _csv(rows: list[tuple[int, str, str]]) -> bytes:
    text = io.StringIO()
    csv.writer(text, lineterminator="\n").writerows([(NUMBER, NAME, READ), *rows])
    return text.getvalue().encode()


def _millimetres(row: Mapping[str, Any]) -> str:
    """A reading as a table has it, rounded no finer than any gauge reads."""
    try:
        return f"{float(read_number(str(row['measured']), LENGTH, MILLIMETRES)):.5f}"
    except ValueError as error:
        raise ValueError(f"{row.get('name') or row.get('size')}: {error}") from None


def kept_of(folder: Path, name: str, revision: str) -> list[dict[str, Any]]:
    """The records in the folder `made` beside a part's file, each as `files_of` takes what is typed.

    One that cannot be read holds its `file`, and what is `wrong` with it. No link is followed.
    """
    found = []
    here = () if (folder / FOLDER).is_symlink() else records_named(folder, name, revision)
    for path in (one for one in here if not one.is_symlink()):
        try:
            found.append(_asked(path))
        except InputError as error:
            found.append({"file": path.name, "wrong": error.problems[0].wrong})
    return found


def _asked(path: Path) -> dict[str, Any]:
    entry = validated(read_document(path), MadeFile)
    record: dict[str, Any] = entry.model_dump(include=set(SAID), exclude_none=True)
    record["within"] = f"{_short(entry.within)} mm"
    record["torque"] = [
        {**one, "put_on": f"{_short(one['put_on'] / 1000.0)} N*m"} for one in record["torque"]
    ]
    return {
        "file": path.name, "piece": entry.piece, "record": record,
        "rows": [row for table in entry.tables for row in _rows(path.parent / table)],
        "fits": [
            {"joint": joint, "size": size, "measured": _short(value)}
            for joint, sizes in entry.fits.items() for size, value in sizes.items()
        ],
    }  # fmt: skip


def _rows(table: Path) -> Iterator[dict[str, Any]]:
    """The rows of an inspection sheet that are filled in; none of any other table, or of one that lies elsewhere."""
    if table.parent.name != FOLDER or table.is_symlink():
        return
    heads, *lines = csv_lines(table)
    if not is_inspection(heads):
        return
    sheet = re.search(r"-sheet-(\d+)\.csv$", table.name)
    for line in lines:
        row = dict(zip((head.strip().casefold() for head in heads), line, strict=False))
        if row.get(READ, "").strip():
            yield {
                "sheet": int(sheet[1]) - 1 if sheet else None,
                "number": row.get(NUMBER, "").strip(), "name": row.get(NAME, "").strip(),
                "measured": row[READ].strip(),
            }  # fmt: skip


def _short(value: float) -> str:
    return f"{value:.5f}".rstrip("0").rstrip(".")


class NoPlace(Exception):
    """A record cannot be written where it belongs; the text says why."""


def placed(folder: Path, contents: Mapping[str, bytes], *, over: bool) -> dict[str, bytes]:
    """The files of a record as they may be written into the folder `made`; what
    an older record says that no page asks for stays in it.

    Raises:
        NoPlace: a link leads out of the folder, or a record of the piece is there and `over` is not said.
    """
    made = folder / FOLDER
    if any(one.is_symlink() for one in (made, *(made / name for name in contents))):
        raise NoPlace(f"{FOLDER} is a link that leads elsewhere; nothing is written through it")
    first = next(iter(contents))
    if not (made / first).exists():
        return dict(contents)
    if not over:
        raise NoPlace(f"{FOLDER}/{first} is there already: number another piece, or write over it")
    before = read_document(made / first).data
    others = {key: before[key] for key in ("sizes", "proof_load") if before.get(key)}
    kept = yaml.safe_dump(others, sort_keys=False) if others else ""
    return {**contents, first: contents[first] + kept.encode()}


def judged(file: Path, contents: Mapping[str, bytes], env: Mapping[str, str]) -> Told:
    """What `oneoff as-made` says of a part and the files of a record: `found` as plain data, or what is `wrong`."""
    with tempfile.TemporaryDirectory() as folder:
        write_all(Path(folder), contents)
        record = Path(folder) / next(iter(contents))
        run = subprocess.run(
            [sys.executable, "-m", "parts", "as-made", str(file), str(record), "--json"],
            capture_output=True, text=True, env=dict(env),
        )  # fmt: skip
    try:
        return {"found": json.loads(run.stdout)}
    except ValueError:
        said = run.stderr.strip() or "the check ended without a word"
        return {"wrong": said.replace(f"{folder}/", "")}
