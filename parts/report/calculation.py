"""A check as a calculation sheet: formula in symbols, values put in, result, source, step by step."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterator
from typing import Any

import numpy as np

from parts.core.check import Check
from parts.core.figures import figure
from parts.report.text import WIDTH
from parts.strength.method import Worked, plain, units_of

_ARGUMENT = re.compile(r"^ +(\w+) \[[^\]]*\]: (.*?)(?=\n +\w+ \[[^\]]*\]: |\n *\n|\Z)", re.M | re.S)


def sheet(one: Check) -> str:
    """Lay out a check so that it can be redone by hand.

    Args:
        one: a check of a single part.

    Returns:
        Text of at most 100 columns.
    """
    case = f" under {one.load_case}" if one.load_case else ""
    lines = [f"{one.name} ({one.mode}){case}", ""]
    for number, step in enumerate(once(one.steps), start=1):
        lines += [*_step(number, step), ""]
    if not one.steps and one.formula:
        lines += [
            *_wrapped("formula", one.formula),
            *_given(one.inputs),
            *_wrapped("source", one.source),
            "",
        ]
    lines += list(_verdict(one))
    return "\n".join(line.rstrip() for line in lines) + "\n"


def once(steps: tuple[Worked, ...]) -> Iterator[Worked]:
    """Each step once, though two results may rest on it."""
    seen: set[int] = set()
    for step in steps:
        if id(step) not in seen:
            seen.add(id(step))
            yield step


def _step(number: int, step: Worked) -> Iterator[str]:
    name = step.function.__name__.replace("_", " ")
    what = (step.function.__doc__ or "").strip().split("\n")[0].rstrip(".")
    yield from textwrap.wrap(
        f"{number}. {name}: {what[:1].lower()}{what[1:]}", WIDTH, subsequent_indent="   "
    )
    yield from _wrapped("formula", step.formula)
    units, said = units_of(step.function)[0], _meanings(step.function.__doc__ or "")
    yield from _given(
        {f"{key} [{units.get(key, '-')}]": plain(value) for key, value in step.inputs.items()},
        said,
    )
    yield from _wrapped("result", f"{value_text(step.value)} {step.unit}")
    if step.valid:
        inside = "" if np.all(step.holds) else "; OUTSIDE IT HERE"
        yield from _wrapped("valid for", f"{step.valid}{inside}")
    yield from _wrapped("source", step.source)


def _given(inputs: dict[str, Any], said: dict[str, str] | None = None) -> Iterator[str]:
    for place, (name, value) in enumerate(inputs.items()):
        meaning = (said or {}).get(name.split(" ", 1)[0], "")
        text = f"{name} = {value_text(value)}" + (f": {meaning}" if meaning else "")
        yield from _wrapped("with" if place == 0 else "", text)


def _meanings(docstring: str) -> dict[str, str]:
    """What each argument of a method is, as its docstring says."""
    found = _ARGUMENT.findall(docstring.partition("Returns:")[0])
    return {name: " ".join(text.split()).rstrip(".") for name, text in found}


def _verdict(one: Check) -> Iterator[str]:
    yield from _wrapped("demand", f"{value_text(one.demand)} {one.unit}")
    yield from _wrapped("capacity", f"{value_text(one.capacity)} {one.unit}")
    verdict = "holds" if one.ok else "FALLS SHORT"
    factor = f"{figure(one.capacity)} / {figure(one.demand)} = {figure(one.factor)}"
    yield from _wrapped("factor", f"{factor}, {figure(one.required)} required: {verdict}")
    if one.note:
        yield from _wrapped("note", one.note)


def _wrapped(head: str, text: str) -> Iterator[str]:
    yield from textwrap.wrap(f"   {head:<10} {text}", WIDTH, subsequent_indent=" " * 14)


def value_text(value: Any) -> str:
    """A value as a sheet shows it: a figure, a short list of figures, or the name of what it is."""
    if isinstance(value, str):
        return value
    try:
        array = np.asarray(value, float)
    except (TypeError, ValueError):
        return f"({type(value).__name__.lower()})"
    if array.ndim == 0:
        return figure(array)
    return "[" + ", ".join(value_text(entry) for entry in array) + "]"
