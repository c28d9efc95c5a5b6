"""Rows of the table of strengths: minimum values by form and thickness, gaps filled with low estimates."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from math import nan
from typing import NamedTuple

from parts.standards.designation import MM_PER_INCH, Row, UnknownDesignation, read_table
from parts.standards.materials.names import KIND, words

# Exact: 1 ksi = 1000 lbf/in^2 with lbf = 4.4482216152605 N and in = 25.4 mm.
MPA_PER_KSI = 4448.2216152605 / 25.4**2
MPA = {"MPa": 1.0, "ksi": MPA_PER_KSI, "GPa": 1e3, "Msi": 1e3 * MPA_PER_KSI}
_MM = {"mm": 1.0, "in": MM_PER_INCH}

# Where no value is printed: shares of ultimate or yield below every printed row of strengths.csv,
# which the tests hold them to.
ESTIMATES: Mapping[str, tuple[str, float]] = {
    "shear_ultimate": ("ultimate", 0.55),
    "bearing_ultimate_ed2": ("ultimate", 1.55),
    "bearing_ultimate_ed1_5": ("ultimate", 1.25),
    "bearing_yield_ed2": ("yield", 1.35),
    "bearing_yield_ed1_5": ("yield", 1.25),
}
# Sheet and plate are one product, told apart by thickness alone.
_FLAT = ("sheet", "plate")


class Strengths(NamedTuple):
    """One row of strengths.csv in MPa and mm, gaps filled with estimates."""

    form: str
    above_mm: float
    up_to_mm: float
    values: Mapping[str, float]
    estimated: frozenset[str]
    row: Row

    @property
    def label(self) -> str:
        low = f"over {self.above_mm:.4g} " if self.above_mm else ""
        return f"{self.form} {low}up to {self.up_to_mm:.4g} mm"


def _number(text: str, scale: float) -> float:
    return float(text) * scale if text else nan


def _strengths(row: Row) -> Strengths:
    scale, size = MPA[row["stress_unit"]], _MM[row["size_unit"]]
    values = {k: _number(row[k], scale) for k in ("yield", "ultimate", *ESTIMATES)}
    values["elongation"] = _number(row["elongation_pct"], 0.01)
    estimated = frozenset(k for k in ESTIMATES if not row[k])
    for key in estimated:
        base, share = ESTIMATES[key]
        values[key] = share * values[base]
    return Strengths(
        row["form"], float(row["above"]) * size, float(row["up_to"]) * size, values, estimated, row
    )


@cache
def rows_of(alloy: str, condition: str) -> tuple[Strengths, ...]:
    """The rows of an alloy in a condition, in the order of the table."""
    return tuple(
        _strengths(row)
        for row in read_table("strengths")
        if row["alloy"] == alloy and condition in words(row["conditions"])
    )


def interchangeable(form: str) -> tuple[str, ...]:
    """The forms that count as one with a form, itself among them."""
    return _FLAT if form in _FLAT else (form,)


def fitting(
    name: str, rows: Sequence[Strengths], form: str, thickness_mm: float | None
) -> Sequence[Strengths]:
    """The rows that could apply to a form and a thickness."""
    of_form = [r for r in rows if not form or r.form in interchangeable(form)]
    if not of_form:
        forms = dict.fromkeys(r.form for r in rows)
        raise UnknownDesignation(KIND, f"{name}, {form}", "no row for that form", forms)
    if thickness_mm is None:
        return of_form
    inside = [r for r in of_form if r.above_mm < thickness_mm <= r.up_to_mm]
    if not inside:
        raise UnknownDesignation(
            KIND,
            f"{name}, {thickness_mm:g} mm",
            "no row holds for that thickness",
            [r.label for r in of_form],
        )
    return inside


def joined(texts: Sequence[str]) -> str:
    """Texts as one sentence, each once."""
    return "; ".join(dict.fromkeys(t for t in texts if t))


def source_of(rows: Sequence[Strengths], keys: Sequence[str]) -> str:
    """Where the lowest values of some strengths come from: printed rows, estimates or both."""
    texts = []
    for row in rows:
        if any(k not in row.estimated for k in keys):
            texts.append(row.row["source"])
        for k in keys:
            if k in row.estimated:
                base, share = ESTIMATES[k]
                texts.append(f"estimate: {k.replace('_', ' ')} taken as {share} of {base}")
    return joined(texts)
