"""Jam (thin) nuts that lock a rod end or a turnbuckle: ISO 4035, ASME B18.2.2. Lengths in mm."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from parts.standards.designation import (
    MM_PER_INCH,
    Row,
    UnknownDesignation,
    inches,
    nearest_sizes,
    read_table,
)
from parts.standards.threads.threads import Thread, thread


class JamNut(NamedTuple):
    """A jam (thin) nut; lengths in mm, `height` at its greatest."""

    thread: Thread
    across_flats: float
    height: float
    source: str


@cache
def _jam_nuts() -> dict[str, Row]:
    return {row["size"]: row for row in read_table("jam_nuts")}


def jam_nut(designation: str) -> JamNut:
    """The jam nut for a thread: ISO 4035 (metric) or ASME B18.2.2 (inch).

    Raises:
        UnknownDesignation: when the thread is unknown or no jam nut of its size stands in the
        table.
    """
    of = thread(designation)
    row = _jam_nuts().get(of.size)
    if row is None:
        inch = {s: float(inches(f"#{s}" if s == "10" else s)) * MM_PER_INCH
                for s, r in _jam_nuts().items() if r["unit"] == "in"}  # fmt: skip
        metric = {s: float(s[1:]) for s, r in _jam_nuts().items() if r["unit"] == "mm"}
        sizes = inch if of.is_inch else metric
        raise UnknownDesignation(
            "jam nut", designation, "its table has no such size", nearest_sizes(of.major, sizes)
        )
    scale = MM_PER_INCH if row["unit"] == "in" else 1.0
    return JamNut(
        of, float(row["across_flats"]) * scale, float(row["height"]) * scale, row["source"]
    )
