"""Which fields each mark of a drawing hangs on: every field is moved a little, and the marks are compared."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import fields, is_dataclass, replace
from typing import Any

import numpy as np
from pydantic import BaseModel

from parts.core.drawing import Callout, Diameter, Drawn, Hole
from parts.core.part import Part
from parts.inputs.document import Path_, dotted
from parts.inputs.variants import with_values
from parts.making.bench.figures import Figures
from parts.making.bench.key_places import NOTE, Shapes, Stirred, Words, placed, shapes, weld_shapes
from parts.making.bench.words import edge_words, hole_words
from parts.standards.threads.threads import Thread, threads

ELSEWHERE = frozenset(
    {
        "loads",
        "outputs",
        "drawing",
        "cutting",
        "milling",
        "print_fit",
        "required",
        "shaking",
        "temperature",
    }
)
"""Fields of a part that are no dimension."""
UNLOADED = {"loads": [], "shaking": None}
"""What a drawing does not hang on, and a part need not work out each time it is moved."""
EDGES = "edge_break"
"""Stated by the general note of a sheet, which no mark of the part carries."""
NUDGES = np.array([1e-4, -1e-4, 1e-3])
"""How far a field is moved, as a share of it, and at the least in its unit [-]; the first that keeps the drawing."""
STRIDES = np.array([1e-3, -1e-3, 1e-2, -1e-2, 0.1])
"""The same for a field that moves no size: far enough for what a note says to change."""
LARGER = 1.0 + 1e-5
"""By what a bought thing is made larger [-]."""
NEXT = 2
"""How many larger threads are tried."""
ROUNDING = 1e-7
"""What a size may move by rounding alone [mm]."""
SUMS = {0.5: " / 2", 1.0: "", 2.0: " × 2"}
"""How a field goes into a size."""
MOST = 3
"""Fields whose sum is written at one size."""


def every_field(part: Part) -> Iterator[str]:
    """Fields of a part that hold a number or name something of a table."""
    yield from dict.fromkeys([*(name for name, _ in fields_of(part)),
                              *(name for name, _ in _nudged_designations(part, ()))])  # fmt: skip


def named(part: Part) -> list[tuple[Drawn, Words]]:
    """Each sheet with the marks that carry names: by mark, what is written there, and the fields in it.

    The marks of the sheet come back under names of their own, each once; of a note, `note ` and its words.
    """
    own = type(part).model_fields.keys()
    part = part.model_copy(update={k: v for k, v in UNLOADED.items() if k in own})
    sheets = [_numbered(one) for one in part.drawn()]
    before = [_sizes(one) for one in sheets]
    moved: list[dict[str, dict[str, float]]] = [{} for _ in sheets]
    values = dict(fields_of(part))
    others: dict[str, list[Drawn]] = {}
    for field, tries in _tries(part, values, NUDGES):
        for value, far in tries:
            # A step that makes another drawing, as one of a waist more, tells nothing.
            other = _other(part, field, value)
            after = [_sizes(one) for one in other]
            if [list(sizes) for sizes in after] != [list(sizes) for sizes in before]:
                continue
            others[field] = other
            for found, old, new in zip(moved, before, after, strict=True):
                _take(found, field, old, new, far)
            if far or any(field in by for found in moved for by in found.values()):
                break
    said = [
        _said(sizes, found, values) for sizes, found in zip(before, _carried(moved), strict=True)
    ]
    given = list(_named_by(part, ()))
    words = [{**_worded(one, given), **sizes} for one, sizes in zip(sheets, said, strict=True)]
    found = placed(sheets, _stirred(part, sheets, words, others), words)
    if found and not any(EDGES in several for _, at in found for _, several in at.values()):
        found[0][1][NOTE + edge_words(part.edge_break, Figures())] = (EDGES, (EDGES,))
    return found


def _take(
    found: dict[str, dict[str, float]],
    field: str,
    old: Mapping[str, float],
    new: Mapping[str, float],
    far: float,
) -> None:
    """Note by size how much of a field's step went into it; of a field without a step, whether it moved."""
    for size, was in old.items():
        ratio = (new[size] - was) / far if far else float(abs(new[size] - was) > ROUNDING)
        if abs(ratio) > 1e-3:
            found.setdefault(size, {})[field] = round(ratio, 2)


def _tries(
    part: Part, values: Mapping[str, float], steps: np.ndarray
) -> Iterator[tuple[str, list[tuple[Any, float]]]]:
    """Every field with the values to move it to, and how far each is."""
    for field, value in values.items():
        yield field, [(value + step, step) for step in steps * max(1.0, abs(value))]
    yield from _nudged_designations(part, ())


def _stirred(
    part: Part, sheets: Sequence[Drawn], words: Sequence[Words], others: Mapping[str, list[Drawn]]
) -> Stirred:
    """The shapes of each sheet as it is and with each field moved, farther where that sets no size."""
    whole = [shapes(one) for one in sheets]
    welds = weld_shapes(part.weldment())
    done = {field for one in words for _, several in one.values() for field in several}
    found: Stirred = {}
    for field, tries in _tries(part, dict(fields_of(part)), STRIDES):
        if field in done:
            if field in others:
                found[field] = list(zip(whole, map(shapes, others[field]), strict=True))
            continue
        for value, _ in tries:
            other = _other(part, field, value)
            if len(other) != len(sheets):
                continue
            both = [
                *zip(whole, map(shapes, other), strict=True),
                (welds, _welds(part, field, value)),
            ]
            if any(
                before[mark].moved(after[mark])
                for before, after in both
                for mark in before.keys() & after.keys()
            ):
                found[field] = both
                break
    return found


def _other(part: Part, field: str, value: Any) -> list[Drawn]:
    """The sheets of the part with another value in a field; none where that makes no part."""
    try:
        return [_numbered(one) for one in with_values(part, {field: value}).drawn()]
    except (ValueError, ArithmeticError, LookupError):
        return []


def _welds(part: Part, field: str, value: Any) -> Shapes:
    """What the sheet of the welded part says with another value in a field."""
    try:
        return weld_shapes(with_values(part, {field: value}).weldment())
    except (ValueError, ArithmeticError, LookupError):
        return {}


def fields_of(part: Part) -> Iterator[tuple[str, float]]:
    """Every field of a part that holds a number, by its path, with that number."""
    for name in type(part).model_fields:
        if name not in ELSEWHERE:
            yield from _numbers(getattr(part, name), (name,))


def _numbers(value: Any, path: Path_) -> Iterator[tuple[str, float]]:
    if isinstance(value, BaseModel):
        for name in type(value).model_fields:
            yield from _numbers(getattr(value, name), (*path, name))
    elif isinstance(value, list | tuple):
        for i, one in enumerate(value):
            yield from _numbers(one, (*path, i))
    elif isinstance(value, float) and np.isfinite(value):
        yield dotted(path), value


def _numbered(drawn: Drawn) -> Drawn:
    """The sheet with a name of its own for each mark."""
    marks = drawn.marks
    return replace(
        drawn,
        marks=replace(
            marks,
            dimensions=tuple(replace(one, name=f"{i} {one.name}") for i, one in enumerate(marks.dimensions)),
            holes=tuple(replace(one, name=f"hole {i} {one.name}") for i, one in enumerate(marks.holes)),
        ),
    )  # fmt: skip


def _sizes(drawn: Drawn) -> dict[str, float]:
    """Every size on a sheet, by the mark that shows it."""
    found: dict[str, float] = {}
    for one in drawn.marks.dimensions:
        inner = one.sizes if isinstance(one, Callout) else (one,)
        for k, size in enumerate(inner):
            assert not isinstance(size, Callout)
            found[f"{one.name}|{k}"] = float(size.value)
    for hole in drawn.marks.holes:
        own = (hole.diameter, hole.depth, hole.tapped, hole.countersink, *(hole.counterbore or ()))
        found |= {f"{hole.name}|{k}": float(v) for k, v in enumerate(own) if v is not None}
    return found


def _carried(
    moved: Sequence[Mapping[str, Mapping[str, float]]],
) -> list[dict[str, dict[str, float]]]:
    """The size that says each field best: the one that hangs on the fewest other fields."""
    best: dict[str, tuple[float, int, str]] = {}
    for sheet, sizes in enumerate(moved):
        for size, by in sizes.items():
            for field, ratio in by.items():
                plain = 0.0 if abs(ratio) == 1.0 else 0.5 if abs(ratio) in SUMS else 1.0
                best[field] = min(best.get(field, (np.inf, 0, "")), (len(by) + plain, sheet, size))
    kept: list[dict[str, dict[str, float]]] = [{} for _ in moved]
    for _, sheet, size in best.values():
        kept[sheet][size] = dict(moved[sheet][size])
    return kept


def _said(
    sizes: Mapping[str, float],
    carried: Mapping[str, Mapping[str, float]],
    values: Mapping[str, float],
) -> Words:
    """By mark: what is written at it, and the fields that it names; several sizes of one mark on lines of their own."""
    found: dict[str, tuple[str, tuple[str, ...]]] = {}
    for size in sizes:
        if size in carried:
            mark = size.rpartition("|")[0]
            text, fields = found.get(mark, ("", ()))
            line = _sum(carried[size], sizes[size], values)
            found[mark] = (f"{text}\n{line}" if text else line, (*fields, *carried[size]))
    return found


def _sum(by: Mapping[str, float], size: float, values: Mapping[str, float]) -> str:
    """The fields that make a size, as a sum where they are few and go into it whole, halved or doubled.

    What else goes in, as the width of a bought ball, stands as dots.
    """
    if len(by) > MOST or any(
        abs(ratio) not in SUMS for name, ratio in by.items() if name in values
    ):
        return "by " + ", ".join(list(by)[:MOST]) + (", ..." if len(by) > MOST else "")
    terms = sorted(by.items(), key=lambda one: one[1] < 0.0)
    text = "".join(
        f" {'-' if r < 0.0 else '+'} {name}{SUMS[abs(r)] if name in values else ''}"
        for name, r in terms
    )
    rest = size - sum(ratio * values[name] for name, ratio in by.items() if name in values)
    whole = abs(rest) < 1e-3 or not by.keys() <= values.keys()
    return text.removeprefix(" + ").strip() + ("" if whole else " + ...")


def _nudged_designations(value: Any, path: Path_) -> Iterator[tuple[str, list[tuple[Any, float]]]]:
    """Fields that name something of a table, as a thread or a bearing: the same a little larger, and no step."""
    if isinstance(value, BaseModel):
        for name in type(value).model_fields:
            if path or name not in ELSEWHERE | {"material"}:
                yield from _nudged_designations(getattr(value, name), (*path, name))
    elif isinstance(value, list | tuple):
        for i, one in enumerate(value):
            yield from _nudged_designations(one, (*path, i))
    elif is_dataclass(value) and not isinstance(value, type):
        own = {one.name: getattr(value, one.name) for one in fields(value) if one.init}
        larger = {name: v * LARGER for name, v in own.items() if isinstance(v, float)}
        if larger:
            try:
                yield dotted(path), [(replace(value, **larger), 0.0), *_larger_threads(value)]
            except (ValueError, TypeError):
                return


def _larger_threads(value: Any) -> list[tuple[Any, float]]:
    """The next larger threads of the table, as a bolt's hole is looked up by its name; not each has a hole there."""
    if not isinstance(value, Thread):
        return []
    of = (value.standard, value.series)
    alike = [one for one in threads() if (one.standard, one.series) == of]
    larger = sorted((one for one in alike if one.major > value.major), key=lambda one: one.major)
    return [(one, 0.0) for one in larger[:NEXT]]


def _worded(drawn: Drawn, given: Sequence[tuple[str, str]]) -> Words:
    """Marks that state a designation, as that of a thread, with the one field that gives it."""
    found: dict[str, tuple[str, tuple[str, ...]]] = {}
    alone = [(path, name) for path, name in given if sum(name == other for _, other in given) == 1]
    for one in (*drawn.marks.dimensions, *drawn.marks.holes):
        if isinstance(one, Hole):
            threaded = one.thread is not None
            text = " ".join(hole_words(one, 1, Figures())) if threaded else one.callout
        else:
            text = one.text if isinstance(one, Diameter | Callout) else ""
        path = next((path for path, name in alone if name in text), "")
        if path:
            found[one.name] = (path, (path,))
    return found


def _named_by(value: Any, path: Path_) -> Iterator[tuple[str, str]]:
    """Fields that name something of a table, with its name."""
    if isinstance(value, BaseModel):
        for name in type(value).model_fields:
            if path or name not in ELSEWHERE | {"material"}:
                yield from _named_by(getattr(value, name), (*path, name))
    elif isinstance(value, list | tuple):
        for i, one in enumerate(value):
            yield from _named_by(one, (*path, i))
    else:
        name = getattr(value, "designation", None) or getattr(value, "name", None)
        if isinstance(name, str) and name:
            yield dotted(path), name
