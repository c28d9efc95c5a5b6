"""The cells of a CSV file as a spreadsheet or a hand wrote it, and one clear word where it is another file."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from parts.inputs.document import read_document
from parts.inputs.file_kinds import Kind, kind_of_heads, refuse_other
from parts.inputs.problems import InputError, Problem
from parts.inputs.reading import wanted_as

LARGEST_FILE = 100_000_000  # bytes
PART = "part"
"""Column that names part and revision, so that a table of another one is told."""
_COMMA = re.compile(r"\s*([-+]?\d*),(\d+[^\d,]*)")


def csv_lines(table: Path, wanted: Kind | None = None) -> list[list[str]]:
    """The cells of a CSV file, line by line, the heading first.

    Cells stand between commas; or between semicolons or tabs, and a comma within a number is then its point, as
    spreadsheets write it in much of Europe.

    Args:
        table: the file.
        wanted: the kind of table; None where its heading is not known.

    Raises:
        InputError: there is no such file, it is no CSV or empty, it is another kind of file, or a line has more cells
            than the heading.
        OSError: the disk refused.
    """
    if table.is_dir():
        _refuse(table, "not_a_file", "this is a folder", "name a CSV file in it")
    if not table.is_file():
        _refuse(table, "no_file", "there is no such file", "name a CSV file")
    if wanted and table.suffix.casefold() in (".yaml", ".yml", ".json"):
        wanted_as(read_document(table), wanted)
    if table.stat().st_size > LARGEST_FILE:
        _refuse(table, "too_large", "the table is too large",
                f"keep it within {LARGEST_FILE // 1_000_000} MB")  # fmt: skip
    lines = _cells(table, _text(table, table.read_bytes()))
    if not lines or not any(cell.strip() for cell in lines[0]):
        _refuse(table, "empty_table", "the table is empty" if not lines else "the first line is empty",
                "its first line names the columns")  # fmt: skip
    heads = [cell.strip() for cell in lines[0]]
    if wanted:
        refuse_other(str(table), kind_of_heads(heads), wanted, (1, 1))
    for i, line in enumerate(lines[1:], 2):
        if any(cell.strip() for cell in line[len(heads) :]):
            _refuse(table, "ragged", f"this line has {len(line)} cells, where the first has {len(heads)}",
                    "give every line one cell a column, and decimals a point", i)  # fmt: skip
    return lines


def named_once(table: Path, names: Sequence[str]) -> None:
    """Refuse a table of which two columns have one name."""
    for name in names:
        if name and names.count(name) > 1:
            _refuse(table, "twice", "two columns have this name", "keep one of them", 1, name)


def of_this_part(table: Path, lines: Sequence[Sequence[str]], own: str) -> None:
    """Refuse a table whose column `part` names another part or revision; one without the column may be of any.

    Args:
        table: the file.
        lines: its cells, the heading first.
        own: what the column says of this part, by `part_cell`.
    """
    heads = [cell.strip().casefold() for cell in lines[0]]
    if PART not in heads:
        return
    at = heads.index(PART)
    for i, line in enumerate(lines[1:], 2):
        said = " ".join(line[at].split()) if len(line) > at else ""
        if said and said.casefold() != own.casefold():
            _refuse(table, "other_part", f"this line is of {said}, the part is {own}",
                    "fill in the table of this part and revision", i, PART)  # fmt: skip


def part_cell(name: str, revision: str) -> str:
    """What the column `part` says."""
    return " ".join(f"{name} {revision}".split())


def _text(table: Path, content: bytes) -> str:
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        _refuse(
            table,
            "not_csv",
            "this is no CSV file in UTF-8 but in UTF-16",
            "save it as CSV in UTF-8",
        )
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        _refuse(table, "not_csv", f"this is no CSV file in UTF-8 (byte 0x{content[error.start]:02x})",
                "save it as CSV in UTF-8", line)  # fmt: skip


def _cells(table: Path, text: str) -> list[list[str]]:
    first = text.partition("\n")[0]
    between = next((one for one in ",;\t" if one in first), ",")
    try:
        lines = list(csv.reader(io.StringIO(text, newline=""), delimiter=between, strict=True))
    except csv.Error as error:
        said = (
            "a quotation mark is opened and never closed"
            if "end of data" in str(error)
            else str(error)
        )
        _refuse(table, "not_csv", f"this is no CSV file in UTF-8: {said}",
                "save it as CSV, cells between commas, and write inches as `in`")  # fmt: skip
    while lines and not any(cell.strip() for cell in lines[-1]):
        lines.pop()
    return (
        lines
        if between == ","
        else [[_COMMA.sub(_pointed, cell) for cell in line] for line in lines]
    )


def _pointed(found: re.Match[str]) -> str:
    return f"{found[1]}.{found[2]}"


def _refuse(
    table: Path, code: str, wrong: str, right: str, line: int = 0, field: str = ""
) -> NoReturn:
    raise InputError([Problem(code, str(table), line, 1 if line else 0, field, "", wrong, right)])
