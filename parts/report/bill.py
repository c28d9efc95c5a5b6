"""The bill of bought-in parts: what is the same in one line, and a CSV file for a spreadsheet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from parts.core.cautions import IN_SHORT
from parts.making.writing import harmless

if TYPE_CHECKING:
    from parts.core.part import Bought

COLUMNS = ("designation", "quantity", "fits", "source")


def merged(bought: Iterable[Bought]) -> tuple[Bought, ...]:
    """One line for each designation: quantities added up, what it fits and its sources joined.

    Args:
        bought: lines in any order; those of one designation need not stand together.

    Returns:
        The lines, in the order in which each designation comes first.
    """
    lines: dict[str, Bought] = {}
    for one in bought:
        key = " ".join(one.designation.split()).casefold()
        if before := lines.get(key):
            one = replace(
                before,
                quantity=before.quantity + one.quantity,
                fits=_joined(before.fits, one.fits),
                source=_joined(before.source, one.source),
            )
        lines[key] = one
    return tuple(lines.values())


def csv_bytes(bought: Iterable[Bought]) -> bytes:
    """Lay a bill out as CSV, UTF-8, with a heading; no cell of it is run as a formula.

    Args:
        bought: the lines.

    Returns:
        The file, the same on every run; heading and caution alone where nothing is bought.
    """
    stream = io.StringIO()
    # Quoted throughout: no break of a line or semicolon within a cell may begin a cell of its own.
    writer = csv.writer(stream, lineterminator="\n", quoting=csv.QUOTE_NONNUMERIC)
    writer.writerow(COLUMNS)
    for one in bought:
        writer.writerow(
            [harmless(one.designation), one.quantity, harmless(one.fits), harmless(one.source)]
        )
    writer.writerow([IN_SHORT, "", "", ""])
    return stream.getvalue().encode()


def _joined(one: str, other: str) -> str:
    """Both texts, unless the first says the second already."""
    said = one.split("; ")
    new = [each for each in other.split("; ") if each and each not in said]
    return "; ".join([*filter(None, [one]), *new])
