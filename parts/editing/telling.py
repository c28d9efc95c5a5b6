"""What the page is told, as plain records: problems, checks, and what a file says."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from parts.core.check import Check, use_of
from parts.inputs.document import Document, Node, Path_, dotted
from parts.inputs.problems import Problem
from parts.report.document import number

Told = dict[str, Any]
Half = Callable[[Mapping[str, str], str], Iterator[Told]]
"""What works out a part of what texts come to, given which fields the key shows that is drawn already."""


def said_in(written: Document) -> dict[str, str]:
    """Every single value of a file as it is written, by its path."""
    found: dict[str, str] = {}
    waiting: list[tuple[Path_, Node]] = [((), written.root)]
    while waiting:
        path, node = waiting.pop()
        if not isinstance(node.data, dict | list):
            found[dotted(path)] = node.text
        waiting += [((*path, step), inner) for step, inner in reversed(node.children.items())]
    return found


def problem_entry(one: Problem) -> Told:
    """A problem for the page: its field, and in plain words what is wrong and what would be right."""
    return {
        "field": one.field, "wrong": one.wrong, "right": one.right, "line": one.line, "value": one.value,
        "file": one.file,
    }  # fmt: skip


def worst_of(checks: Sequence[Check]) -> list[Check]:
    """Each check under its worst load case, what uses most first."""
    found: dict[str, Check] = {}
    for one in sorted(checks, key=use_of, reverse=True):
        found.setdefault(one.name, one)
    return list(found.values())


def check_row(one: Check) -> Told:
    return {
        "name": one.name, "load_case": one.load_case, "demand": number(one.demand), "capacity": number(one.capacity),
        "unit": one.unit, "factor": number(one.factor), "required": number(one.required),
        "use": number(use_of(one)), "ok": bool(one.ok), "note": one.note,
    }  # fmt: skip
