"""What a builder reads of the tolerance chains of a build: in words, and as plain data."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.report.sure import chance_text, percent
from parts.report.text import WIDTH

if TYPE_CHECKING:
    from parts.study.sure.chains import Chain

AGAIN = 5
"""Readings that are told to be worth taking again."""
HEADS = ("chain", "middle", "at worst", "19 of 20", "may be", "chance that it does not")
MEANS = (
    "At worst every size and reading of a chain lies at its limit; by draws sizes lie anywhere between theirs, and "
    "readings are normal about theirs. A chain without limits says what a size taken from the mock-up may be off."
)


def sorted_chains(chains: Sequence[Chain]) -> list[Chain]:
    """The chains most likely to miss their limits first, then those that may miss them at worst."""
    return sorted(
        chains, key=lambda one: (-one.short.count, one.goes_at_worst, one.kind != "joint")
    )


def row(one: Chain) -> tuple[str, ...]:
    """A chain as the cells of a table, under `HEADS`."""
    limits = f"{_or_open(one.least)} to {_or_open(one.most)}" if one.limited else ""
    return (
        f"{one.part}, {one.name}", f"{_figure(one.middle)} {one.unit}", _pair(one.worst), _pair(one.usual), limits,
        percent(one.short.value) if one.limited else "",
    )  # fmt: skip


def chains_text(build: str, chains: Sequence[Chain]) -> str:
    """Verdict, table, what would help, and what is worth measuring again."""
    rows = [row(one) for one in sorted_chains(chains)]
    wide = [max(len(cells[k]) for cells in (HEADS, *rows)) for k in range(len(HEADS))]
    lines = [headline(build, chains), ""]
    for cells in (HEADS, *rows):
        lines.append(
            f"{cells[0]:{wide[0]}}  "
            + "  ".join(f"{c:>{w}}" for c, w in zip(cells[1:], wide[1:], strict=True)).rstrip()
        )
    lines += ["", *advice(chains), ""]
    return "\n".join([*lines, *textwrap.wrap(MEANS, WIDTH)]) + "\n"


def headline(build: str, chains: Sequence[Chain]) -> str:
    limited = [one for one in chains if one.limited]
    miss = [one for one in limited if not one.goes_at_worst]
    likely = [one for one in miss if one.short.value > 0.01]
    return (
        f"{build}: {len(chains)} chains, {len(limited)} with limits; at worst {len(miss)} miss theirs, "
        f"{len(likely)} of them in more than 1 draw of 100"
    )


def advice(chains: Sequence[Chain]) -> Iterator[str]:
    """What would take up the chains that miss their limits, and the readings that move them most."""
    for one in sorted_chains(chains):
        if one.needs and one.short.count:
            yield f"{one.part}, {one.name}: misses in {chance_text(one.short)}; {one.needs}"
    again = _again(chains)
    if again:
        yield "worth measuring again before metal is cut, what moves the likeliest misses most first:"
    for name, of in again:
        yield f"  {name}: {of}"


def _again(chains: Sequence[Chain]) -> list[tuple[str, str]]:
    share: dict[str, float] = {}
    of: dict[str, Chain] = {}
    for one in chains:
        total = sum(term.variance for term in one.terms) or 1.0
        for term in one.terms:
            weight = one.short.value * term.variance / total
            if not term.even and weight > share.get(term.name, 1e-4):
                share[term.name], of[term.name] = weight, one
    names = sorted(share, key=lambda name: -share[name])[:AGAIN]
    return [(name, f"for {of[name].part}, {of[name].name}") for name in names]


def chains_json(build: str, chains: Sequence[Chain]) -> bytes:
    """The same as plain data; mm, or degrees where the unit says so."""
    data: dict[str, Any] = {
        "build": build,
        "chains": [
            {
                "part": one.part, "name": one.name, "kind": one.kind, "unit": one.unit, "middle": one.middle,
                "worst": list(one.worst), "usual": list(one.usual), "least": _number(one.least),
                "most": _number(one.most), "goes_at_worst": one.goes_at_worst,
                "chance": {"value": one.short.value, "low": one.short.limits[0], "high": one.short.limits[1]}
                if one.limited else None,
                "terms": [{"name": t.name, "half": t.half, "even": t.even, "said": t.said} for t in one.terms],
                "needs": one.needs,
            }
            for one in sorted_chains(chains)
        ],
        "measure_again": [{"reading": name, "of": of} for name, of in _again(chains)],
        "notes": [MEANS],
    }  # fmt: skip
    return (json.dumps(data, indent=1, ensure_ascii=False) + "\n").encode()


def _figure(value: float) -> str:
    return f"{np.round(value, 3) + 0.0:g}"


def _pair(both: tuple[float, float]) -> str:
    return f"{_figure(both[0])} to {_figure(both[1])}"


def _or_open(value: float) -> str:
    return _figure(value) if np.isfinite(value) else "any"


def _number(value: float) -> float | None:
    return float(value) if np.isfinite(value) else None
