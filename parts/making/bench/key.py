"""The key to a part's dimensions: its views, with the names of its fields where the drawing has their values.

Nothing is stated here: each field is nudged in turn, and the sizes of the shop drawing that move with it are those that
it sets. A size that several fields make together carries their sum.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

import numpy as np
from pydantic import BaseModel

from parts.core.drawing import Callout, Diameter, Drawn, Hole
from parts.core.part import Part
from parts.inputs.document import Path_, dotted
from parts.inputs.variants import with_values
from parts.making.bench.arrangement import SCALES, arranged
from parts.making.bench.field import Field
from parts.making.bench.figures import Figures
from parts.making.bench.ink import Ink, Letters, extent
from parts.making.bench.looks import looks
from parts.making.bench.svg import svg_bytes
from parts.making.bench.views import NoRoom, filled, shared_out
from parts.making.bench.words import hole_words

ELSEWHERE = frozenset(
    {"loads", "outputs", "drawing", "factors", "factors_of_safety", "temperature"}
)
"""Fields of a part that are no dimension."""
NUDGES = np.array([1e-4, -1e-4, 1e-3])
"""How far a field is moved, as a share of it, and at the least in its unit [-]; the first that keeps the drawing."""
LARGER = 1.0 + 1e-5
"""By what a bought thing is made larger [-]."""
ROUNDING = 1e-7
"""What a size may move by rounding alone [mm]."""
SUMS = {0.5: " / 2", 1.0: "", 2.0: " × 2"}
"""How a field goes into a size."""
MOST = 3
"""Fields whose sum is written at one size."""
AROUND = 12.0
"""Left round the views [mm]."""
_FIELD = re.compile(r"[\w.\[\]]+\w\]?")
WITHOUT = "Without room in the views:"
LETTER, LINE = 2.5, 5.0
"""Height of the letters below the views, and of their lines [mm]."""
WIDE, HIGH = 400.0, 277.0
"""Room of the views of a piece [mm], that of an A3 sheet."""


@dataclass(frozen=True)
class Key:
    """A key as SVG; the fields that stand at the sizes that they set; those without room, which stand below."""

    svg: bytes
    fields: tuple[str, ...]
    below: tuple[str, ...] = ()


def key(part: Part, title: str = "") -> Key:
    """Draw the key of a part.

    Args:
        part: the part; it is drawn as it is stated.
        title: of the picture; the part's family where left out.

    Returns:
        The key; its views of all pieces one below another, and below them the names without room.
    """
    solids = {piece.name: piece.solid.val() for piece in part.pieces}
    shown: list[str] = []
    lost: list[str] = []
    sheets: list[tuple[list[Ink], np.ndarray]] = []
    for drawn, names in named(part):
        try:
            ink, left = _views(drawn, names, solids[drawn.piece])
        except NoRoom:
            ink, left = [], set(names)
        for name, (text, several) in names.items():
            said = set() if name in left else set(_FIELD.findall(text))
            shown += [one for one in several if one in said]
            lost += [one for one in several if one not in said]
        if ink:
            sheets.append(_sheet(ink))
    below = tuple(one for one in dict.fromkeys(lost) if one not in shown)
    if below or not sheets:
        sheets.append(_sheet(list(_below(below))))
    wide = max(float(size[0]) for _, size in sheets)
    high_ = sum(float(size[1]) for _, size in sheets)
    every: list[Ink] = []
    top = high_
    for ink, size in sheets:
        top -= float(size[1])
        every += [one.moved(np.array([0.0, top])) for one in ink]
    svg = svg_bytes((wide, high_), every, title or f"{part.family}: what each dimension means")
    return Key(svg, tuple(dict.fromkeys(shown)), below)


def _sheet(ink: Sequence[Ink]) -> tuple[list[Ink], np.ndarray]:
    """Ink with room around it, and how wide and high that is."""
    low, high = extent(list(ink))
    return [one.moved(AROUND - low) for one in ink], high - low + 2.0 * AROUND


def _below(names: Sequence[str]) -> Iterator[Letters]:
    """The names that find no room at what they set, a line each."""
    for k, text in enumerate((WITHOUT, *names)):
        yield Letters(text, np.array([0.0, -LINE * k]), LETTER, bold=k == 0)


def named(part: Part) -> list[tuple[Drawn, dict[str, tuple[str, tuple[str, ...]]]]]:
    """Each sheet with the sizes that carry names: by size, what is written there, and the fields in it.

    The marks of the sheet come back under names of their own, each once.
    """
    sheets = [_numbered(one) for one in part.drawn()]
    before = [_sizes(one) for one in sheets]
    moved: list[dict[str, dict[str, float]]] = [{} for _ in sheets]
    values = dict(fields_of(part))
    nudged = [
        (field, [(value + step, step) for step in NUDGES * max(1.0, abs(value))])
        for field, value in values.items()
    ]
    for field, tries in [*nudged, *_nudged_designations(part, ())]:
        # A step that makes another drawing, as one of a waist more, tells nothing.
        told = ((_other(part, field, value), step) for value, step in tries)
        same = (
            one for one in told if [list(sizes) for sizes in one[0]] == [list(b) for b in before]
        )
        other, step = next(same, (before, 1.0))
        for found, old, new in zip(moved, before, other, strict=True):
            for size, was in old.items():
                ratio = (new[size] - was) / step if step else float(abs(new[size] - was) > ROUNDING)
                if abs(ratio) > 1e-3:
                    found.setdefault(size, {})[field] = round(ratio, 2)
    said = [
        _said(sizes, found, values) for sizes, found in zip(before, _carried(moved), strict=True)
    ]
    given = list(_named_by(part, ()))
    return [
        (one, {**_worded(one, given), **words}) for one, words in zip(sheets, said, strict=True)
    ]


def _other(part: Part, field: str, value: Any) -> list[dict[str, float]]:
    """The sizes of the part with another value in a field; none where that makes no part."""
    try:
        return [_sizes(_numbered(one)) for one in with_values(part, {field: value}).drawn()]
    except (ValueError, ArithmeticError, LookupError):
        return []


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
) -> dict[str, tuple[str, tuple[str, ...]]]:
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
                yield dotted(path), [(replace(value, **larger), 0.0)]
            except (ValueError, TypeError):
                return


def _worded(
    drawn: Drawn, given: Sequence[tuple[str, str]]
) -> dict[str, tuple[str, tuple[str, ...]]]:
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


def _views(
    drawn: Drawn, names: Mapping[str, tuple[str, tuple[str, ...]]], solid: Any
) -> tuple[list[Ink], set[str]]:
    """The views of a sheet with names in place of values, and the marks that found no room."""
    left: set[str] = set()
    seen = looks(drawn, solid)
    while True:
        kept = _only(drawn, set(names) - left)
        sides = [view.view.side for view in seen]
        figures = Figures(names={name: text for name, (text, _) in names.items()})
        given = shared_out(kept, seen)
        crowded: tuple[str, ...] = ()
        for scale in _scales(drawn, seen):
            try:
                fields: list[Field] = filled(kept, seen, given, scale, figures, balloons=False)
            except NoRoom as error:
                crowded = crowded or error.names
                continue
            placed = arranged(sides, [there.ink for there in fields], "first angle")
            return [
                one.moved(origin)
                for there, origin in zip(fields, placed.origins, strict=True)
                for one in there.ink
            ], left
        if not crowded:
            raise NoRoom(f"{drawn.piece}: its key has no room")
        left |= set(crowded)


def _only(drawn: Drawn, names: set[str]) -> Drawn:
    """The sheet without the marks that carry no name, without tolerances, and without the numbers of its table."""
    marks = drawn.marks
    holes = (replace(one, noted=one.noted or one.name not in names) for one in marks.holes)
    kept = replace(
        marks,
        dimensions=tuple(_plain(one) for one in marks.dimensions if one.name in names),
        holes=tuple(map(_plain, holes)),
        profiles=(),
        datums=(),
    )
    return replace(drawn, marks=kept)


def _plain(mark: Any) -> Any:
    """A mark without its geometric tolerances."""
    bare = {"zones": (), "datum": ""}
    own = {one.name for one in fields(mark)}
    return replace(mark, **{name: value for name, value in bare.items() if name in own})


def _scales(drawn: Drawn, seen: Sequence[Any]) -> list[float]:
    """A few scales at which the views have room, the largest first."""
    sides = [view.view.side for view in seen]
    spans = [extent(list(view.seen.visible)) for view in seen]
    long = max(float(np.max(high - low)) for low, high in spans)
    fit = [
        s
        for s in SCALES
        if s * long <= WIDE / (2.0 if len(sides) > 1 else 1.3) and s * long <= HIGH
    ]
    return fit[:2] or [min(SCALES)]
