"""Blind rivet nuts: a threaded sleeve that folds behind a sheet. Lengths in mm."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from parts.standards.designation import Row, UnknownDesignation, read_table
from parts.standards.threads.threads import Thread


class RivetNut(NamedTuple):
    """A rivet nut: hole to drill, bore of its body where that folds, head, full thread, and the sheet that it grips."""

    thread: Thread
    hole: float
    bore: float
    head: float
    thread_length: float
    sheet: tuple[float, float]
    source: str

    @property
    def wall(self) -> float:
        """Of the body where it folds [mm]."""
        return (self.hole - self.bore) / 2.0


@cache
def _rivet_nuts() -> dict[str, Row]:
    return {row["size"]: row for row in read_table("rivet_nuts")}


def rivet_nut(of: Thread) -> RivetNut:
    """The flat-headed steel rivet nut of a thread.

    Raises:
        UnknownDesignation: the table holds none.
    """
    row = _rivet_nuts().get(of.size)
    if row is None or of.hand == "left":
        known = tuple(_rivet_nuts())
        raise UnknownDesignation("rivet nut", of.designation, "its table has no such size", known)
    hole, bore, head, deep, low, high = (
        float(row[name])
        for name in ("hole", "bore", "head", "thread_length", "sheet_min", "sheet_max")
    )
    return RivetNut(of, hole, bore, head, deep, (low, high), row["source"])
