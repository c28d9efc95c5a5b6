"""The checks of a part as a table, and each with its calculation sheet to unfold."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from typing import Any

import numpy as np

from parts.core.check import Check, use_of
from parts.core.figures import figure
from parts.report.calculation import once, value_text
from parts.report.page.html import Html, joined, table, tag
from parts.strength.method import Worked, plain, units_of

_MEANING = re.compile(r"^ {8}(\w+) \[[^\]]+\]: (.*(?:\n {10,}.*)*)", re.M)


def in_order(checks: Sequence[Check]) -> list[Check]:
    """Those that use the largest share of what is allowed first."""
    return sorted(checks, key=use_of, reverse=True)


def verdict(ok: Any) -> Html:
    """Holds or not, in words, with a sign before them."""
    kind, said = ("holds", "✓ holds") if ok else ("short", "✗ FALLS SHORT")
    return tag("span", said, class_=kind)


def checks_table(checks: Sequence[Check]) -> Html:
    """Every check in one table, its name a link to its sheet."""
    head = [
        "check",
        "load case",
        "demand",
        "capacity",
        "unit",
        "factor",
        "required",
        "used",
        "verdict",
    ]
    rows = [
        [
            tag("a", one.name, href=f"#check-{i}"), one.load_case or "all", figure(one.demand),
            figure(one.capacity), one.unit, figure(one.factor), figure(one.required), _used(one),
            verdict(one.ok),
        ]
        for i, one in enumerate(in_order(checks), 1)
    ]  # fmt: skip
    return table("Checks, the one that governs first", head, rows, numbers=(2, 3, 5, 6, 7))


def _used(one: Check) -> Html:
    """Required factor over factor as a bar and a number."""
    use = use_of(one)
    share = min(use, 1.25)
    bar = tag(
        "svg",
        tag("rect", width=50, height=8, class_="track"),
        tag("rect", width=f"{40.0 * share:.1f}", height=8, class_="used" if use <= 1.0 else "over"),
        tag("path", d="M40 0V8", class_="limit"),
        viewBox="0 0 50 8", width=50, height=8, aria_hidden="true",
    )  # fmt: skip
    return joined(bar, " ", f"{100.0 * use:.0f} %" if np.isfinite(use) else "none")


def sheets(checks: Sequence[Check]) -> list[Html]:
    """A calculation sheet for each check, folded, in the order of the table."""
    return [_sheet(one, i) for i, one in enumerate(in_order(checks), 1)]


def _sheet(one: Check, number: int) -> Html:
    case = f" under {one.load_case}" if one.load_case else ""
    head = tag(
        "summary",
        tag("b", f"{one.name}{case}"),
        f": {figure(one.factor)} of {figure(one.required)} required, ",
        verdict(one.ok),
    )
    steps = [_step(step) for step in once(one.steps)]
    body = tag("ol", *[tag("li", *step) for step in steps]) if steps else _plain_sheet(one)
    factor = f"{figure(one.capacity)} / {figure(one.demand)} = {figure(one.factor)}"
    end = _terms(
        [
            ("mode", one.mode),
            ("demand", f"{value_text(one.demand)} {one.unit}"),
            ("capacity", f"{value_text(one.capacity)} {one.unit}"),
            ("factor", joined(f"{factor}, {figure(one.required)} required: ", verdict(one.ok))),
            ("note", one.note),
        ]
    )
    return tag("details", head, body, end, id=f"check-{number}", class_="sheet")


def _step(step: Worked) -> Iterator[Html]:
    name = step.function.__name__.replace("_", " ")
    what = (step.function.__doc__ or "").strip().split("\n")[0].rstrip(".")
    yield tag("p", tag("b", name), f": {what[:1].lower()}{what[1:]}")
    yield tag("p", step.formula, class_="formula")
    units, meanings = units_of(step.function)[0], meanings_of(step.function)
    rows = [
        [key, value_text(plain(value)), units.get(key, "-"), meanings.get(key, "")]
        for key, value in step.inputs.items()
    ]
    if rows:
        yield table(
            f"What went into {name}", ["symbol", "value", "unit", "meaning"], rows, numbers=(1,)
        )
    outside = "" if np.all(step.holds) else "; OUTSIDE IT HERE"
    yield _terms(
        [
            ("result", f"{value_text(step.value)} {step.unit}"),
            ("valid for", f"{step.valid}{outside}" if step.valid else ""),
            ("source", step.source),
        ]
    )


def _plain_sheet(one: Check) -> Html:
    rows = [[key, value_text(value)] for key, value in one.inputs.items()]
    return joined(
        tag("p", one.formula, class_="formula") if one.formula else None,
        table(f"What went into {one.name}", ["symbol", "value"], rows, numbers=(1,))
        if rows
        else None,
        _terms([("source", one.source)]),
    )


def meanings_of(function: Callable[..., Any]) -> dict[str, str]:
    """What each argument of a method is, from its docstring."""
    head = (function.__doc__ or "").partition("Returns:")[0]
    return {name: " ".join(said.split()).rstrip(".") for name, said in _MEANING.findall(head)}


def _terms(pairs: Sequence[tuple[str, Any]]) -> Html:
    return tag(
        "dl",
        *[joined(tag("dt", name), tag("dd", said)) for name, said in pairs if said],
        class_="terms",
    )
