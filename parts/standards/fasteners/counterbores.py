"""Counterbores for socket head cap screws, DIN 974-1. Lengths in mm."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from parts.standards.designation import Row, UnknownDesignation, nearest_sizes, read_table
from parts.standards.fasteners.bolt_form import read_heads
from parts.standards.threads.threads import Thread


class Counterbore(NamedTuple):
    """What a socket head sits flush in. Lengths in mm; the diameter has tolerance H13."""

    size: str
    diameter: float
    depth: float
    source: str


@cache
def _rows() -> dict[str, Row]:
    return {row["size"]: row for row in read_table("counterbores")}


def counterbore(of: Thread) -> Counterbore:
    """The counterbore for a socket head cap screw of a thread.

    Raises:
        UnknownDesignation: the table has none for that size; state its diameter there.
    """
    row = _rows().get(of.size)
    if row is None:
        sizes = {size: float(size[1:]) for size in _rows()}
        raise UnknownDesignation(
            "counterbore", of.basic, "the table has none for it; state its diameter",
            nearest_sizes(of.major, sizes),
        )  # fmt: skip
    head = float(read_heads()["socket", of.size]["head_height"])
    return Counterbore(
        of.size, float(row["diameter_mm"]), head + float(row["clearance_mm"]), row["source"]
    )
