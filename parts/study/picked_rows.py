"""Rows of a sweep picked by number or by the edge, for making."""

from __future__ import annotations

import numpy as np

from parts.core.part import Part
from parts.study.dimension import refusal
from parts.study.sweep import Swept

MOST = 50
"""Rows that are made at most."""


def chosen_rows(found: Swept, asked: str) -> list[int]:
    """Rows that a text asks for, counted from 0.

    Args:
        found: the sweep.
        asked: numbers of rows as the table counts them, "3, 17"; "lightest" for the lightest that holds;
            "edge" for those on the efficient edge that hold.

    Returns:
        The rows.

    Raises:
        InputError: no such row, a row that breaks a rule, or none that holds.
    """
    file, word = found.stated.file, asked.strip().casefold()
    if word in ("lightest", "edge"):
        holding = np.flatnonzero(found.ok & found.edge)
        if not len(holding):
            raise refusal(
                file, "", "none_holds", "no row holds, so there is none to make", "sweep further"
            )
        ordered = holding[np.argsort(found.mass[holding], kind="stable")]
        return [int(row) for row in ordered[: 1 if word == "lightest" else MOST]]
    rows = [_row(found, piece) for piece in asked.split(",") if piece.strip()]
    if not rows or len(rows) > MOST:
        raise refusal(
            file, "", "bad_rows", f"`{asked}` asks for {len(rows)} rows", f"name 1 to {MOST}"
        )
    return list(dict.fromkeys(rows))


def _row(found: Swept, piece: str) -> int:
    count = len(found.mass)
    number = int(piece) if piece.strip().isdecimal() and len(piece.strip()) < 10 else 0
    if not 1 <= number <= count:
        raise refusal(found.stated.file, "", "bad_rows", f"there is no row `{piece.strip()}`",
                      f"rows are 1 to {count}; or write `lightest` or `edge`")  # fmt: skip
    if found.broken[number - 1]:
        raise refusal(found.stated.file, "", "bad_rows", f"row {number} breaks the rule "
                      f"{found.broken[number - 1]}", "choose one that meets the rules")  # fmt: skip
    return number - 1


def parts_of(found: Swept, asked: str) -> list[Part]:
    """The parts of the rows asked for, each read as strictly as the file; named after their row."""
    return [found.part(row) for row in chosen_rows(found, asked)]
