"""The published tables behind the methods: CSV files in `data/`, each row with its source."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

Row = dict[str, str]
_DATA = Path(__file__).parent / "data"


@cache
def rows(name: str) -> tuple[Row, ...]:
    """Every row of the table `name`, as printed: text by column."""
    text = _DATA.joinpath(f"{name}.csv").read_text(encoding="utf-8")
    return tuple(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


def keyed(name: str, key: str) -> dict[str, Row]:
    """The rows of a table by the text in its column `key`."""
    return {row[key]: row for row in rows(name)}


def row(name: str, key: str, value: str) -> Row:
    """The row of a table that has `value` in its column `key`.

    Raises:
        KeyError: no such row; the message lists what the table has.
    """
    found = keyed(name, key)
    if value not in found:
        raise KeyError(f"{value!r} is not in the table {name}; it has: {', '.join(found)}")
    return found[value]
