"""The published tables behind the methods: CSV files in the folder of their subject, each row with its source."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

Row = dict[str, str]
Array = NDArray[np.float64]
_FILES = {path.stem: path for path in Path(__file__).parent.glob("*/*.csv")}


@cache
def rows(name: str) -> tuple[Row, ...]:
    """Every row of the table `name`, as printed: text by column."""
    text = _FILES[name].read_text(encoding="utf-8")
    return tuple(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


@cache
def grid(name: str, down: str, across: str, value: str) -> tuple[Array, Array, Array]:
    """A table with two ways in: the numbers in the columns `down` and `across`, each once and in order, and
    those in the column `value`, of shape (down, across)."""
    found = rows(name)
    ways = [np.array(sorted({float(row[way]) for row in found})) for way in (down, across)]
    values = np.array([float(row[value]) for row in found])
    return ways[0], ways[1], values.reshape(ways[0].size, ways[1].size)


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
