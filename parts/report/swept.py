"""What `oneoff sweep` writes and says: the table as CSV, and what must be known of it."""

from __future__ import annotations

import csv
import io
import textwrap
from typing import TYPE_CHECKING

import numpy as np

from parts.core.cautions import IN_SHORT
from parts.core.figures import figure
from parts.report.text import WIDTH

if TYPE_CHECKING:
    from parts.study.sweep import Swept
    from parts.study.table import Column

FIGURES = ("mass [kg]", "factor", "required", "governed by", "rule broken", "holds", "on the edge",
           "factor over required by the full check")  # fmt: skip


def swept_csv(found: Swept) -> bytes:
    """One line a row, numbered from 1."""
    stream = io.StringIO()
    table = csv.writer(stream, lineterminator="\n")
    asked = [f"{found.asked}, factor over required"] if found.asked else []
    table.writerow(["row", *(_heading(one) for one in found.columns), *FIGURES, *asked])
    shown = [_column(one) for one in found.columns]
    ok, reserve = found.ok, found.in_full
    for row in range(len(found.mass)):
        broken = found.broken[row]
        figures = ("", "", "", "") if broken else (
            f"{found.mass[row]:.6g}", f"{found.factor[row]:.5g}", f"{found.required[row]:g}",
            found.governed_by(row),
        )  # fmt: skip
        leaves = [_number(found.leaves[row])] if found.asked else []
        full = _number(reserve[row])
        table.writerow(
            [row + 1, *(one[row] for one in shown), *figures, broken,
             "yes" if ok[row] else "no", "yes" if found.edge[row] else "", full, *leaves]
        )  # fmt: skip
    return stream.getvalue().encode()


def _number(value: float) -> str:
    return "" if np.isnan(value) else f"{value:.5g}"


def _heading(one: Column) -> str:
    return f"{one.path} [{one.unit}]" if one.unit else one.path


def _column(one: Column) -> list[str]:
    return [one.shown(row) for row in range(len(one.values))]


def notes_text(found: Swept) -> str:
    """What the figures of a sweep are, and what they leave out; one paragraph each."""
    part = found.stated.part
    said = [
        f"{part.name}, sweep of {', '.join(one.path for one in found.columns)}.",
        *(f"{note[0].upper()}{note[1:]}." for note in found.notes),
        "Rules, and the closed forms of every failure mode of the family, are exact for every row. Strengths "
        "are those of each row's own thickness; those of further materials, where the family looks them up, "
        "are of the thickest row. Check a row in full before it is made: "
        "`--make` does so.",
        IN_SHORT,
    ]  # fmt: skip
    return "\n\n".join("\n".join(textwrap.wrap(one, WIDTH)) for one in said) + "\n"


def swept_text(found: Swept) -> str:
    """The summary for the terminal: how many hold, and the efficient edge."""
    count, met = len(found.mass), int((found.broken == "").sum())
    lines = [f"{count} variants: {met} meet the rules, {int(found.ok.sum())} hold."]
    lines += [f"  {code}: broken by {number}" for code, number in _rules_broken(found)]
    on = np.flatnonzero(found.edge & found.ok)
    if len(on):
        heads = "; ".join(_heading(one) for one in found.columns)
        said = f"Efficient edge, the lightest that holds first: row; {heads}; mass kg; factor over required; by"
        said += f"; {found.asked}, factor over required" if found.asked else ""
        lines += ["", *textwrap.wrap(said, WIDTH)]
    for row in on[np.argsort(found.mass[on], kind="stable")][:8]:
        values = "; ".join(one.shown(int(row)) for one in found.columns)
        figures = (
            f"{found.mass[row]:.4g}; {figure(found.reserve[row])}; {found.governed_by(int(row))}"
        )
        leaves = f"; {figure(found.leaves[row])}" if found.asked else ""
        text = f"{row + 1}; {values}; {figures}{leaves}"
        lines += textwrap.wrap(text, WIDTH, initial_indent="  ", subsequent_indent="    ")
    if not len(on):
        lines.append("No variant holds.")
    return "\n".join(lines) + "\n\n" + notes_text(found)


def _rules_broken(found: Swept) -> list[tuple[str, int]]:
    codes, counts = np.unique(found.broken[found.broken != ""].astype(str), return_counts=True)
    return sorted(
        zip(codes.tolist(), counts.tolist(), strict=True), key=lambda one: (-one[1], one[0])
    )
