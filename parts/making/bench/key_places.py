"""Where a field is at work that sets no size of its own on the sheet: a place of it, or its words.

A bend is stated by a table, an outline by its points, a cope by a template. Moving the field moves one of these; the
key leads the field's name to the place that moves.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from parts.core.drawing import Callout, Diameter, Drawn, Hole, Linear, Place
from parts.core.weldment import Weldment

STILL = 1e-7
"""What a place may move by rounding alone [mm]."""
NOTE = "note "
"""Begins the name of a note among the marks."""
ROW = 3
"""Names on one line."""

Words = dict[str, tuple[str, tuple[str, ...]]]
"""By mark: what is written at it, and the fields that it names."""


@dataclass(frozen=True)
class Shape:
    """What a mark is beside its sizes: numbers and words to compare, and the places where a leader may end."""

    numbers: np.ndarray
    words: tuple[str, ...]
    places: np.ndarray

    def moved(self, other: Shape) -> bool:
        """True where another is elsewhere, or says other words."""
        far = self.numbers.shape == other.numbers.shape and bool(
            np.any(np.abs(self.numbers - other.numbers) > STILL)
        )
        return far or self.words != other.words

    def at(self, other: Shape) -> Place:
        """The place that moves most."""
        if len(self.places) == 1 or self.places.shape != other.places.shape:
            return self.places[0]  # type: ignore[no-any-return]
        far = np.linalg.norm(self.places - other.places, axis=-1)
        return self.places[int(np.argmax(far))]  # type: ignore[no-any-return]


Shapes = dict[str, Shape]


def shapes(drawn: Drawn) -> Shapes:
    """Marks of a sheet by name, those that show in a view first, then the notes."""
    marks = drawn.marks
    found: Shapes = {}
    for hole in marks.holes:
        at = (hole.place, hole.axis, (hole.diameter,), hole.limits or ())
        found[hole.name] = _shape(at, hole.place, hole.callout, hole.fit)
    for one in marks.dimensions:
        if isinstance(one, Callout):
            signs = tuple(v for sign in one.signs for v in _numbers(sign))
            found[one.name] = _shape((signs,), one.at, one.text)
        elif isinstance(one, Linear | Diameter):
            around = (one.limits or (one.value, one.value), (one.value,))
            found[one.name] = _shape((np.subtract(*around),), np.zeros(3), one.callout)
    for i, word in enumerate(marks.worded):
        numbers = (word.centre, word.axis, (word.inner, word.outer))
        place = word.centre if word.on is None else word.on
        found[f"worded {i} {word.name}"] = _shape(numbers, place)
    for i, run in enumerate(marks.profiles):
        places = np.asarray(run.places, float).reshape(-1, 3)
        found[f"profile {i} {run.name}"] = Shape(places, (), places)
    for i, note in enumerate(marks.notes):
        found[f"{NOTE}{i}"] = _note(note)
    return found


def weld_shapes(of: Weldment | None) -> Shapes:
    """What the sheet of a welded part states, as notes; none of a part that is not welded."""
    if of is None:
        return {}
    said = [
        f"{one.name}: {one.kind} {one.size:.2f} mm"
        + (f", root gap {one.gap:.2f} mm" if one.gap else "")
        for one in of.welds
    ]
    said += [f"{one.name}: {one.value:.2f} mm" for one in of.jig if isinstance(one, Linear)]
    return {f"{NOTE}weld {i}": _note(text) for i, text in enumerate((*said, *of.sequence))}


def _note(text: str) -> Shape:
    return Shape(np.zeros(0), (text,), np.zeros((0, 3)))


def _shape(numbers: Sequence[Any], place: Place, *words: str) -> Shape:
    flat = np.concatenate([np.ravel(np.asarray(one, float)) for one in numbers])
    return Shape(flat, words, np.asarray(place, float)[None])


def _numbers(sign: Any) -> Iterator[float]:
    """Size and gap of the sign of a weld."""
    yield from (float(getattr(sign, name)) for name in ("size", "gap") if hasattr(sign, name))


Stirred = dict[str, list[tuple[Shapes, Shapes]]]
"""By field: each sheet as it is, and with the field moved."""


def placed(
    sheets: Sequence[Drawn], stirred: Stirred, named: Sequence[Words]
) -> list[tuple[Drawn, Words]]:
    """The sheets with leaders for fields that set no size, and what is written at them.

    Args:
        sheets: the sheets; marks of a sheet have each a name of their own.
        stirred: the shapes of the sheets as they are and with a field moved, by field.
        named: what is written at sizes already.

    Returns:
        Each sheet with its names; those in a note stand under the note's own words.
    """
    done = {field for words in named for _, several in words.values() for field in several}
    by = _moved_by(stirred)
    found = [(one, dict(words)) for one, words in zip(sheets, named, strict=True)]
    at: dict[tuple[int, str, tuple[float, ...]], list[str]] = {}
    for field, both in stirred.items():
        if field in done or not (moved := [key for key, fields in by.items() if field in fields]):
            continue
        sheet, mark = min(moved, key=lambda one: (one[1].startswith(NOTE), len(by[one])))
        before, after = (one[mark] for one in both[sheet])
        place = tuple(map(float, before.at(after))) if len(before.places) else ()
        at.setdefault((sheet, mark, place), []).append(field)
    for (sheet, mark, place), fields in at.items():
        if mark.startswith(NOTE):
            # The sheet of the welded part comes behind the others.
            note = stirred[fields[0]][sheet][0][mark].words[0]
            last = min(sheet, len(found) - 1)
            found[last][1][NOTE + note] = (", ".join(fields), tuple(fields))
        else:
            found[sheet] = _joined(*found[sheet], mark, place, fields)
    return found


def _moved_by(stirred: Stirred) -> Mapping[tuple[int, str], set[str]]:
    """By sheet and mark: the fields that move it."""
    found: dict[tuple[int, str], set[str]] = {}
    for field, both in stirred.items():
        for sheet, (before, after) in enumerate(both):
            for mark, shape in before.items():
                if mark in after and shape.moved(after[mark]):
                    found.setdefault((sheet, mark), set()).add(field)
    return found


def _joined(
    drawn: Drawn, words: Words, mark: str, place: Place, fields: Sequence[str]
) -> tuple[Drawn, Words]:
    """The sheet with fields written at a mark of their own, or below what stands at the mark already."""
    lines = "\n".join(", ".join(fields[k : k + ROW]) for k in range(0, len(fields), ROW))
    own = {one.name: one for one in (*drawn.marks.dimensions, *drawn.marks.holes)}
    if mark in own and not (isinstance(own[mark], Hole) and own[mark].noted):
        text, several = words.get(mark, ("", ()))
        return drawn, words | {mark: (f"{text}\n{lines}".strip(), (*several, *fields))}
    name = f"{len(words)} {mark}"
    marks = replace(drawn.marks, dimensions=(*drawn.marks.dimensions, Callout(name, place, lines)))
    return replace(drawn, marks=marks), words | {name: (lines, tuple(fields))}
