"""Nuts and washers by the thread they go on: ISO 4032, 7040, 7089; ASME; AN960. Lengths in mm."""

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
from parts.standards.fasteners.jam_nuts import jam_nut
from parts.standards.threads.threads import Thread, thread

NUT_FORMS = ("hex", "jam", "nylon insert", "slotted")
WASHER_FORMS = ("flat", "aircraft")
_OTHER_NAMES = {
    "self locking": "nylon insert",
    "thin": "jam",
    "plain": "hex",
    "castle": "slotted",
    "AN960": "aircraft",
}


class Nut(NamedTuple):
    """A nut; lengths in mm, `height` at its greatest."""

    form: str
    thread: Thread
    across_flats: float
    height: float
    source: str


class Washer(NamedTuple):
    """A flat washer; nominal lengths in mm. `size` is the thread it goes on."""

    form: str
    size: str
    inside: float
    outside: float
    thickness: float
    source: str

    @property
    def designation(self) -> str:
        """What to ask the supplier for: standard and size, as "ISO 7089 M8" or "AN960-616"."""
        if self.form == "aircraft":
            return f"AN960-{self.size if self.size.isdecimal() else f'{16 * inches(self.size)}16'}"
        standard = "ISO 7089" if self.size.startswith("M") else "ASME B18.21.1 type A narrow"
        return f"{standard} {self.size}"


@cache
def _rows(table: str) -> dict[tuple[str, str], Row]:
    return {(row["form"], row["size"]): row for row in read_table(table)}


def _row(table: str, kind: str, form: str, of: Thread) -> tuple[Row, float]:
    """The row for a form and a thread, and the factor that turns its lengths into mm."""
    row = _rows(table).get((form, of.size))
    if row is None:
        sizes = {
            size: float(size[1:]) if size[0] == "M" else _inch_size(size)
            for known, size in _rows(table)
            if known == form and (size[0] == "M") != of.is_inch
        }
        raise UnknownDesignation(
            kind, f"{form} {of.size}", "its table has no such size", nearest_sizes(of.major, sizes)
        )
    return row, MM_PER_INCH if row["unit"] == "in" else 1.0


def _inch_size(size: str) -> float:
    return float(inches("#10" if size == "10" else size)) * MM_PER_INCH


def _form(kind: str, form: str, forms: tuple[str, ...]) -> str:
    known = _OTHER_NAMES.get(form, form)
    if known not in forms:
        raise UnknownDesignation(f"{kind} form", form, "the forms are named", forms)
    return known


def nut(designation: str, form: str = "hex") -> Nut:
    """The nut for a thread: "hex", "jam", "nylon insert" ("self locking") or "slotted" ("castle").

    Raises:
        UnknownDesignation: when the thread or the form is unknown or its table has no such size.
    """
    form = _form("nut", form, NUT_FORMS)
    if form == "jam":
        thin = jam_nut(designation)
        return Nut(form, thin.thread, thin.across_flats, thin.height, thin.source)
    of = thread(designation)
    row, scale = _row("nuts", "nut", form, of)
    return Nut(
        form, of, float(row["across_flats"]) * scale, float(row["height"]) * scale, row["source"]
    )


def washer(designation: str, form: str = "flat") -> Washer:
    """The washer for a thread: "flat" (ISO 7089, ASME narrow) or "aircraft" (AN960).

    Raises:
        UnknownDesignation: when the thread or the form is unknown or its table has no such size.
    """
    form = _form("washer", form, WASHER_FORMS)
    of = thread(designation)
    row, scale = _row("washers", "washer", form, of)
    inside, outside, thick = (
        float(row[column]) * scale for column in ("inside", "outside", "thickness")
    )
    return Washer(form, of.size, inside, outside, thick, row["source"])
