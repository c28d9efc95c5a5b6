"""The checks of a part as a table, and each with its calculation sheet to unfold."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import lru_cache
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


def by_name(checks: Sequence[Check]) -> dict[str, list[Check]]:
    """Checks of one name together, those that leave least first, and so within each name."""
    found: dict[str, list[Check]] = {}
    for one in in_order(checks):
        found.setdefault(one.name, []).append(one)
    return found


def least_left(checks: Sequence[Check], many: int = 3) -> Html:
    """The checks that leave least, each under its worst load case, with links to their sheets."""
    first, rows = 1, []
    for several in by_name(checks).values():
        rows.append((first, several[0]))
        first += len(several)
    return tag(
        "ol", *[tag("li", _line(one, number)) for number, one in rows[:many]], class_="least"
    )


def _line(one: Check, number: int) -> Html:
    """A check in a line, with a link to its sheet."""
    case = tag("span", f"under {one.load_case}" if one.load_case else "", class_="case")
    figures = tag("span", _of_required(one), class_="figures")
    return tag(
        "a", tag("b", one.name), " ", case, bar(use_of(one)), figures, href=f"#check-{number}"
    )


def _of_required(one: Check) -> Html:
    sign = tag("span", "✓" if one.ok else "✗ SHORT", class_="holds" if one.ok else "short")
    return joined(sign, f" {figure(one.factor)} of {figure(one.required)}")


def bar(use: float) -> Html:
    """The share used of what may be used [-]: a bar that begins at the left edge, and the limit at four fifths."""
    wide = 80.0 * min(use, 1.25)
    return tag(
        "svg",
        tag("rect", width=100, height=8, class_="track"),
        tag("rect", width=f"{wide:.1f}", height=8, class_="used" if use <= 1.0 else "over"),
        tag("path", d="M80 0V8", class_="limit"),
        viewBox="0 0 100 8", preserveAspectRatio="none", class_="bar", aria_hidden="true",
    )  # fmt: skip


def check_list(checks: Sequence[Check]) -> list[Html]:
    """A fold for each name of a check: its worst sheet, then every load case with a sheet of its own."""
    found, first = [], 1
    for name, several in by_name(checks).items():
        worst, *others = several
        case = (
            f"worst of {len(several)}: {worst.load_case}"
            if others
            else worst.load_case or "every case"
        )
        head = tag(
            "summary", tag("b", name), tag("span", case, class_="case"), bar(use_of(worst)),
            tag("span", _of_required(worst), class_="figures"),
        )  # fmt: skip
        rest = [_sheet(one, first + k) for k, one in enumerate(others, 1)]
        inner = joined(
            _sheet_body(worst), tag("h3", "Under the other load cases") if rest else None, *rest
        )
        found.append(
            tag(
                "details",
                head,
                tag("div", inner, class_="inner"),
                id=f"check-{first}",
                class_="check",
            )
        )
        first += len(several)
    return found


def _sheet(one: Check, number: int) -> Html:
    head = tag(
        "summary",
        tag("b", one.load_case or "every case"),
        f": {figure(one.factor)} of {figure(one.required)} required, ",
        verdict(one.ok),
    )
    return tag("details", head, _sheet_body(one), id=f"check-{number}", class_="sheet")


def _sheet_body(one: Check) -> Html:
    steps = [_step(step) for step in once(one.steps)]
    body = tag("ol", *steps) if steps else _plain_sheet(one)
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
    return joined(body, end)


def _step(step: Worked) -> Html:
    values = tuple((key, value_text(plain(value))) for key, value in step.inputs.items())
    return _laid_out(step.function, values, value_text(step.value), bool(np.all(step.holds)))


@lru_cache(maxsize=4096)
def _laid_out(
    function: Callable[..., Any], values: tuple[tuple[str, str], ...], result: str, holds: bool
) -> Html:
    """A step by its texts: load case after load case shows the same."""
    name = function.__name__.replace("_", " ")
    what = (function.__doc__ or "").strip().split("\n")[0].rstrip(".")
    step = Worked(function, {}, result)
    units, meanings = units_of(function)[0], meanings_of(function)
    rows: list[list[Any]] = [
        [key, text, units.get(key, "-"), meanings.get(key, "")] for key, text in values
    ]
    head = ["symbol", "value", "unit", "meaning"]
    outside = "" if holds else "; OUTSIDE IT HERE"
    end = _terms(
        [
            ("result", f"{result} {step.unit}"),
            ("valid for", f"{step.valid}{outside}" if step.valid else ""),
            ("source", step.source),
        ]
    )
    return tag(
        "li",
        tag("p", tag("b", name), f": {what[:1].lower()}{what[1:]}"),
        tag("p", step.formula, class_="formula"),
        table(f"What went into {name}", head, rows, numbers=(1,), narrow=True) if rows else None,
        end,
    )


def _plain_sheet(one: Check) -> Html:
    rows = [[key, value_text(value)] for key, value in one.inputs.items()]
    return joined(
        tag("p", one.formula, class_="formula") if one.formula else None,
        table(f"What went into {one.name}", ["symbol", "value"], rows, numbers=(1,), narrow=True)
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
