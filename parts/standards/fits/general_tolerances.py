"""General tolerances of a drawing: what a length without a tolerance of its own may deviate."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

import numpy as np

from parts.standards.designation import read_table

_CLASS = re.compile(r"ISO\s*2768\s*-\s*([fmcv])\s*([HKL]?)", re.I)


@dataclass(frozen=True)
class Deviation:
    """Lengths over `above` and up to `to` [mm] may deviate by `deviation` [mm] either way."""

    above: float
    to: float
    deviation: float
    source: str


def deviation_of(length: Any, rows: Sequence[Deviation]) -> Any:
    """What a length [mm] may deviate by either way [mm]; nan where no row holds it; broadcasts.

    Args:
        length: stated.
        rows: one beginning where the other ends, the shortest lengths first.
    """
    long = np.abs(np.asarray(length, float))
    offs = np.array([*(one.deviation for one in rows), np.nan])
    found = offs[np.searchsorted([one.to for one in rows], long)]
    return np.where(long > (rows[0].above if rows else np.inf), found, np.nan)[()]


@cache
def general_deviations(stated: str) -> tuple[Deviation, ...]:
    """The table of a class of ISO 2768, the shortest lengths first.

    Args:
        stated: as a title block states it, as in `ISO 2768-mK`; the second letter is for form and position.

    Returns:
        The rows; none where the statement names no such class.
    """
    found = _CLASS.fullmatch(stated.strip())
    if found is None:
        return ()
    wanted = found.group(1).lower()
    return tuple(
        Deviation(
            float(row["above_mm"]), float(row["to_mm"]), float(row["deviation_mm"]), row["source"]
        )
        for row in read_table("general_tolerances")
        if row["class"] == wanted
    )
