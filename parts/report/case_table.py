"""A table of load cases times parts: how much of what each part may use is used in each case."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping

import numpy as np

from parts.core.check import Check, use_of

EVERY = "no load, or all of them together"
"""Where checks without a load case stand, and those of a spectrum of all cases."""
TOGETHER = "spectrum of all cases"
PER_LINE = 8
NAME, CELL = 32, 8
Uses = Mapping[str, Mapping[str, float | None]]
"""By part and load case, the share that is used [-]; None where it is no number."""


def uses(checks: Iterable[Check]) -> dict[str, float | None]:
    """The largest share of what may be used that is used in each load case [-]; None where it is no number."""
    found: dict[str, float] = {}
    for one in checks:
        case = EVERY if one.load_case in ("", TOGETHER) else one.load_case
        found[case] = max(found.get(case, 0.0), use_of(one))
    return {case: float(f"{use:.6g}") if np.isfinite(use) else None for case, use in found.items()}


def rows(found: Uses, parts: Iterable[str] | None = None) -> list[tuple[str, list[str]]]:
    """A row a load case, a cell a part: the share used in percent, the largest of each part with a star.

    Args:
        found: shares by part and case.
        parts: the columns; all parts where left out.

    Returns:
        Name of the case and its cells, those of all cases together last; empty where a case loads a part not.
    """
    columns = list(found) if parts is None else list(parts)
    cases = dict.fromkeys(case for name in found for case in found[name] if case != EVERY)
    named = [*cases, *([EVERY] if any(EVERY in found[name] for name in found) else [])]
    most = {name: max(map(_size, found[name].values()), default=0.0) for name in columns}
    return [(case, [_cell(found[name], case, most[name]) for name in columns]) for case in named]


def _size(use: float | None) -> float:
    return np.inf if use is None else use


def _cell(own: Mapping[str, float | None], case: str, most: float) -> str:
    if case not in own:
        return ""
    use = own[case]
    said = "none" if use is None else f"{100.0 * use:.0f} %"
    return said + ("*" if _size(use) == most and most > 0.0 else "")


def case_table_text(found: Uses) -> str:
    """The table as text of at most 100 columns; nothing without parts that were checked."""
    names = [name for name in found if found[name]]
    return "".join(
        f"{line.rstrip()}\n"
        for at in range(0, len(names), PER_LINE)
        for line in _lines(found, names[at : at + PER_LINE])
    )


def _lines(found: Uses, names: list[str]) -> Iterator[str]:
    yield "Share of what may be used that is used, the largest of each part with a star"
    yield " " * NAME + "".join(f"{name[: CELL - 1]:>{CELL}}" for name in names)
    for case, cells in rows(found, names):
        if any(cells):
            first, *more = textwrap.wrap(case, NAME - 1)
            yield f"{first:<{NAME}}" + "".join(f"{cell:>{CELL}}" for cell in cells)
            yield from (f"  {line}" for line in more)
    yield ""
