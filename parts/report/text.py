"""The report for the terminal: what governs first, then the table, then what to watch; 100 columns."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from itertools import zip_longest
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.cautions import CAUTIONS, cautions
from parts.core.check import Check, use_of
from parts.core.figures import figure
from parts.core.ways import Answer, tally

if TYPE_CHECKING:
    from parts.core.search.result import Result
    from parts.making.model import Made
    from parts.proof.records import Proof
    from parts.vehicle.checks import BuildResult

WIDTH = 100
HEADS = ("check", "load case", "demand", "capacity", "unit", "factor", "required", "")
RIGHT = (False, False, True, True, False, True, True, False)
"""Which columns of the table stand to the right."""
CLOSEST = 6
"""Checks that a brief report shows at the least."""
MEANT = "A required factor of 1 is meant so: what such a check works with lies on the safe side already."
REVIEWED = (
    "For the load cases and ways of failing listed and no others; what bears load is reviewed by a qualified person "
    "before use, and a print is never ridden. `--all` shows what is not covered, cautions and hardware."
)
INDENT, GAP = " ", "   "


def text_report(found: Made | Result, proof: Proof | None = None) -> str:
    """Lay out the report of one part.

    Args:
        found: a part that was made, or the result of a check alone.
        proof: finite elements beside it, if it was proved.

    Returns:
        Text of at most 100 columns.
    """
    result = getattr(found, "result", found)
    lines = [*_head(found, result), *_governing(result), *_proved(proof), ""]
    lines += [*_table(result.checks), *_peaks(result)]
    lines += [*_held(result), *_facts(result), ""]
    lines += _list("Not covered", result.part.uncovered())
    lines += _list(
        "Bought in", [f"{b.quantity} x {b.designation}: {b.fits}" for b in result.part.bought()]
    )
    lines += _list("Cautions", [*CAUTIONS, *cautions(result.part)])
    return "\n".join(line.rstrip() for line in lines) + "\n"


def brief_report(found: Made | Result, proof: Proof | None = None) -> str:
    """The verdict of one part and the checks that leave least, each under its worst load case.

    Args:
        found: a part that was made, or the result of a check alone.
        proof: finite elements beside it, if it was proved.

    Returns:
        Text of at most 100 columns.
    """
    result = getattr(found, "result", found)
    lines = [*_head(found, result), *_governing(result), *_proved(proof)]
    lines += ["", *_closest(result.checks)] if result.checks else []
    lines += wrapped(REVIEWED, WIDTH)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _closest(checks: Sequence[Check]) -> Iterator[str]:
    """The checks that leave least, each under its worst load case, and all that fall short."""
    worst: dict[str, Check] = {}
    for one in sorted(checks, key=use_of, reverse=True):
        worst.setdefault(one.name, one)
    shown = [one for k, one in enumerate(worst.values()) if k < CLOSEST or not one.ok]
    yield from _table(shown)
    if any(one.ok and float(one.required) == 1.0 for one in shown):
        yield from wrapped(MEANT, WIDTH)
    if len(worst) > len(shown):
        yield f"{len(worst) - len(shown)} checks more leave more than these; `--all` shows every one."


def remedy_text(result: Result) -> str:
    """What would make a part hold that falls short, the smallest change first; empty of one that holds."""
    if result.ok or not result.checks:
        return ""
    from parts.study.remedy import remedies

    found = remedies(result)
    if not found:
        said = "No single dimension, bolt, thread or tube up to twice its size was found with which it holds."
        return "\n".join(wrapped(said, WIDTH)) + "\n"
    lines = [line for one in found for line in wrapped(f"- {one.said}", WIDTH, "  ")]
    return "\n".join(["Any one of these would hold, the smallest first:", *lines]) + "\n"


def build_text(found: BuildResult, *, brief: bool = False) -> str:
    """Lay out what the checks of a build itself say; its parts have reports of their own.

    Args:
        found: the checks.
        brief: whether only the checks that leave least are shown.

    Returns:
        Text of at most 100 columns.
    """
    title = f", {found.title}" if found.title else ""
    lines = wrapped(f"{found.name}{title}: the build itself", WIDTH)
    if found.checks:
        for sentence in governing_sentences(found):
            lines += wrapped(sentence, WIDTH)
        lines += ["", *(_closest if brief else _table)(found.checks), ""]
        lines += [
            line for one in found.checks if not one.ok for line in wrapped(_short(one), WIDTH)
        ]
    lines += [] if brief else _list("Not covered", found.uncovered)
    lines += _list("Loads that end on what is not modelled", found.ends)
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _short(one: Check) -> str:
    return (
        f"{one.name}: {figure(one.demand)} {one.unit} at {one.load_case}, where {figure(one.capacity)} {one.unit} "
        f"is the limit; {one.note}."
    )


def wrapped(text: str, wide: int, hang: str = "") -> list[str]:
    """Lines of at most `wide` columns, all but the first indented by `hang`; none of an empty text."""
    # Most texts fit on one line as they are, and need not be searched for breaks.
    if len(text) <= wide and text.isprintable() and text == text.strip():
        return [text] if text else []
    return textwrap.wrap(text, wide, subsequent_indent=hang)


def _head(found: Made | Result, result: Result) -> Iterator[str]:
    part = result.part
    title = f" {part.title}," if part.title else ""
    mass = f", {found.mass:.3f} kg" if found is not result else ""  # type: ignore[union-attr]
    yield from wrapped(f"{part.name}{title} {part.family} in {part.metal.name}{mass}", WIDTH)


def _governing(result: Result) -> Iterator[str]:
    for sentence in governing_sentences(result):
        yield from wrapped(sentence, WIDTH)


def _proved(proof: Proof | None) -> Iterator[str]:
    """Whether finite elements agree, and every number in which they do not."""
    if proof is None:
        return
    from parts.report.proof.text import summary

    for first, sentence in enumerate(summary(proof)):
        yield from wrapped(f"- {sentence}" if first else sentence, WIDTH, "  " if first else "")


def governing_sentences(result: Result | BuildResult) -> Iterator[str]:
    """Whether it holds and how much was looked at, what governs and by how much, by which source, and what is to be
    known of it."""
    one = result.governing
    if one is None:
        yield "No load cases: nothing was checked but the rules of shape."
        return
    verdict = held_once(result) if result.ok else "does not hold"
    answered = getattr(result, "answers", ())
    if answered:
        yield f"{verdict}: {tally(answered).said}."
    head = "Factor" if answered else f"{verdict}: factor"
    yield (
        f"{head} {figure(one.factor)} where {figure(one.required)} is required, "
        f"governed by {one.name} ({one.mode}) under {one.load_case or 'every case'}: "
        f"{figure(one.demand)} of {figure(one.capacity)}{'' if one.unit == '-' else f' {one.unit}'}."
    )
    if one.ok and float(one.required) == 1.0:
        yield MEANT
    if one.source:
        yield f"By {_method_sources(one)}."
    if one.note:
        yield one.note[0].upper() + one.note[1:] + "."


def held_once(result: Result | BuildResult) -> str:
    """That it holds, and what the bench must do first."""
    once = getattr(result, "once", "")
    return f"holds once {once}" if once else "holds"


def way_rows(answered: Sequence[Answer]) -> list[tuple[str, str, str]]:
    """A row for each way of failing: the joint or member and where, the way, and what answers it."""
    rows = []
    for one in answered:
        where = f"{one.kind.name}, {one.kind.at}" if one.kind.at else one.kind.name
        checked = min(one.checks, key=lambda each: -use_of(each), default=None)
        said = f"left out: {one.reason}" if one.reason else "not looked at"
        if checked is not None:
            said = f"{checked.name}: factor {figure(checked.factor)} of {figure(checked.required)}"
        rows.append((where, one.way.name, said))
    return rows


def _method_sources(one: Check) -> str:
    """The sources of the methods that gave demand and capacity; those of the steps before stand in the sheet."""
    before = {id(value) for step in one.steps for value in step.inputs.values()}
    last = [step.source for step in one.steps if id(step) not in before]
    return "; ".join(dict.fromkeys(last or [one.source]))


def _table(checks: Sequence[Check]) -> Iterator[str]:
    """The checks, the one that uses most of its allowable first; names that are long go on below."""
    if not checks:
        return
    rows = [_row(one) for one in sorted(checks, key=use_of, reverse=True)]
    widths = [max(map(len, column)) for column in zip(HEADS, *rows, strict=True)]
    room = WIDTH - len(INDENT) - sum(widths[2:]) - len(GAP) * (len(HEADS) - 1)
    # The name takes what the load case leaves, but at least half.
    widths[0] = min(widths[0], max(room - widths[1], room // 2))
    widths[1] = min(widths[1], room - widths[0])
    # The load cases, and most names, stand in many rows.
    lines = cache(wrapped)
    yield from _laid_out(HEADS, widths, lines)
    yield INDENT + "─" * (sum(widths) + len(GAP) * (len(HEADS) - 1))
    for row in rows:
        yield from _laid_out(row, widths, lines)


def _laid_out(
    row: Sequence[str], widths: Sequence[int], lines: Callable[[str, int], list[str]]
) -> Iterator[str]:
    """A row of the table: two columns of text that may go on below, the figures to the right."""
    names, cases = (lines(text, wide) or [""] for text, wide in zip(row[:2], widths, strict=False))
    figures = [
        text.rjust(wide) if right else text.ljust(wide)
        for text, wide, right in zip(row[2:], widths[2:], RIGHT[2:], strict=True)
    ]
    for k, (name, case) in enumerate(zip_longest(names, cases, fillvalue="")):
        cells = [name.ljust(widths[0]), case.ljust(widths[1]), *(figures if k == 0 else ())]
        yield (INDENT + GAP.join(cells)).rstrip()


def _row(one: Check) -> tuple[str, ...]:
    return (
        one.name,
        one.load_case,
        figure(one.demand),
        figure(one.capacity),
        one.unit,
        figure(one.factor),
        figure(one.required),
        "ok" if one.ok else "SHORT",
    )


def fact_text(value: Any, unit: str) -> str:
    """A fact of a part with its unit; lengths to the micrometre at the least, for limits of a fit are among them."""
    if isinstance(value, str):
        return value
    fine = unit == "mm" and 1.0 <= abs(float(value)) < 1e4
    shown = f"{float(value):.3f}".rstrip("0").rstrip(".") if fine else figure(value)
    return f"{shown} {unit}".strip()


def _peaks(result: Result) -> Iterator[str]:
    """The peaks of the elastic stress at notches, which no limit is held against."""
    if not result.raised:
        return
    yield "Peak elastic stress at notches, K_t x nominal; for information, ductile metal yields there first:"
    for one in result.raised:
        own = f" + {figure(one.rim)} beside it" if one.rim else ""
        text = (
            f"- {one.case.name}: {figure(one.K_t)} x {figure(one.nominal)}{own} = {figure(one.peak)} MPa, "
            f"{one.span.name}"
        )
        yield from wrapped(text, WIDTH, "  ")
    yield ""


def _held(result: Result) -> Iterator[str]:
    """What holds the part, which with the loads sums to nothing."""
    if not result.balances:
        return
    yield "Held by, in the part's axes; loads and these sum to nothing:"
    for case, held in result.balances:
        for one in held.acting[len(case.forces) :]:
            if not (np.any(np.asarray(one.force)) or np.any(np.asarray(one.moment))):
                continue
            force, moment = (_vector(v) for v in (one.force, np.asarray(one.moment) / 1000.0))
            at = f" about {_vector(one.at)} mm" if np.any(np.asarray(one.moment)) else ""
            turn = f" and {moment} N*m{at}" if at else ""
            text = f"- {case.name}: {one.by} ({force} N{turn})"
            yield from wrapped(text, WIDTH, "  ")
    yield ""


def _vector(values: Any) -> str:
    return ", ".join(f"{float(v) + 0.0:.4g}" for v in np.round(np.asarray(values, float), 3))


def _facts(result: Result) -> Iterator[str]:
    for name, (value, unit) in result.part.facts().items():
        shown = fact_text(value, unit)
        yield from wrapped(f"{name}: {shown}", WIDTH, "  ")


def _list(head: str, entries: Any) -> Iterator[str]:
    if not entries:
        return
    yield f"{head}:"
    for entry in entries:
        yield from wrapped(f"- {entry}", WIDTH, "  ")
