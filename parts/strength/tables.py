"""The published tables behind the methods: CSV files in the folder of their subject, each row with its source."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path
from typing import Any

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


def straight_between(name: str, down: str, across: str, value: str, x: Any, y: Any) -> Any:
    """The value of a table with two ways in at `x` down and `y` across, straight between its rows and columns; beyond
    its ends that of the end. Broadcasts."""
    xs, ys, values = grid(name, down, across, value)
    x, y = np.broadcast_arrays(np.clip(x, xs[0], xs[-1]), np.clip(y, ys[0], ys[-1]))
    i = np.clip(np.searchsorted(xs, x, side="right") - 1, 0, xs.size - 2)
    j = np.clip(np.searchsorted(ys, y, side="right") - 1, 0, ys.size - 2)
    u, v = (x - xs[i]) / (xs[i + 1] - xs[i]), (y - ys[j]) / (ys[j + 1] - ys[j])
    near = values[i, j] * (1 - v) + values[i, j + 1] * v
    far = values[i + 1, j] * (1 - v) + values[i + 1, j + 1] * v
    return near * (1 - u) + far * u


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
