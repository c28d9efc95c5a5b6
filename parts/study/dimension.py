"""A dimension or option of a part that may be varied: found by its path, read as the part's file would read it."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from pydantic import BaseModel

from parts.core.group import Group
from parts.core.part import Part
from parts.inputs.designations import Designation
from parts.inputs.document import Document, Node, Path_, dotted, steps_of
from parts.inputs.problems import InputError, Problem
from parts.inputs.quantities import Quantity, Vector
from parts.inputs.tracing import Place, field_of, trace
from parts.inputs.units import Kind, Units, read_number
from parts.inputs.variants import owner_of
from parts.standards.designation import UnknownDesignation

NOT_VARIED = ("name", "title", "revision", "loads", "drawing", "cutting", "outputs")
"""Top fields that are no dimension of the part."""


@dataclass(frozen=True)
class Dimension:
    """One dimension or option of a part.

    `path` is dotted as messages write it. `kind` is the kind of quantity, `table` the designation; both
    are None of an option, which is a word of the file such as a kind of shank or the size of a bolt.
    `sign` is that of `Quantity`. `owner` is the group that holds it. `words` are those that an option may take, where
    it names them.
    """

    path: str
    value: Any
    owner: BaseModel
    kind: Kind | None = None
    sign: str = ""
    table: Designation | None = None
    words: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """Its own key, the last of the path."""
        return str([step for step in steps_of(self.path) if isinstance(step, str)][-1])

    def read(self, text: str, units: Units) -> Any:
        """A value as a builder writes it: a number in inside units, or the row of a table.

        Raises:
            ValueError: it is none; the argument says what is wrong and what would be right.
        """
        if self.table is not None:
            try:
                return self.table.look_up(text.strip())
            except UnknownDesignation as unknown:
                raise ValueError(str(unknown)) from None
        if self.kind is None:
            if self.words and text.strip() not in self.words:
                raise ValueError(f"`{text.strip()}` is none of its options")
            return text.strip()  # whether it is one is seen when the part is read with it
        number = read_number(text, self.kind, units)
        if (self.sign == "positive" and number <= 0.0) or (self.sign and number < 0.0):
            least = "more than 0" if self.sign == "positive" else "0 or more"
            raise ValueError(f"`{text.strip()}` is too little for `{self.path}`; write {least}")
        return number

    def shown(self, value: Any) -> str:
        """A value as a table names it."""
        if self.table is not None and value is not None:
            return self.table.name(value)
        return str(value) if self.kind is None else f"{float(value):.6g}"


def dimensions(part: Part) -> tuple[Dimension, ...]:
    """Every dimension of a part that has a value and can be varied by numbers, in the order of its file."""
    names = [name for name in type(part).model_fields if name not in NOT_VARIED]
    return tuple(one for name in names for one in _of_field(part, name, (name,)))


def dimension(part: Part, path: str, file: str = "") -> Dimension:
    """The dimension or option at a path; its first groups may be left out where the rest says which.

    Raises:
        InputError: there is none; the message says what stands nearest.
    """
    known = {one.path: one for one in dimensions(part)}
    wanted = dotted(steps_of(path.strip()))
    if wanted in known:
        return known[wanted]
    every = {one.path: one for one in options(part)} | known
    for asked in (wanted, f"{wanted}.type"):
        ends = [one for one in every if "." in asked and one.endswith(f".{asked}")]
        if found := every.get(asked if len(ends) != 1 else ends[0]):
            return found
    raise refusal(file, path, "no_dimension", f"{part.name} has no dimension `{path.strip()}`",
                  _nearest(wanted, known, every))  # fmt: skip


def options(part: Part) -> tuple[Dimension, ...]:
    """Every field of a part that holds a word, a count, or nothing yet, in the order of its file."""
    names = [name for name in type(part).model_fields if name not in (*NOT_VARIED, "family")]
    found = (one for name in names for one in _words(part, name, name))
    return tuple(
        one if one.kind or one.table else replace(one, words=_choices(part, one)) for one in found
    )


def _choices(part: Part, one: Dimension) -> tuple[str, ...]:
    """The words that an option may take: those of a field that names them, or the kinds of a group by its `type`."""
    if isinstance(one.value, bool):
        return ("true", "false")
    around = dotted(steps_of(one.path)[:-1])
    if one.name == "type" and around:
        found = _place(type(owner_of(part, around)), steps_of(around)[-1]).kinds
        kinds = [kind for kind in found if isinstance(kind, type) and issubclass(kind, BaseModel)]
    else:
        kinds = [type(one.owner)]
    named = [word for kind in kinds for word in _place(kind, one.name).choices()]
    return tuple(dict.fromkeys(str(word) for word in named if isinstance(word, str)))


def _place(model: type[BaseModel], name: Any) -> Place:
    return trace(model, (name,), Document("", Node(0, 0)))


def _words(owner: BaseModel, name: str, path: str) -> Iterator[Dimension]:
    value = getattr(owner, name)
    if isinstance(value, BaseModel):
        for inner in type(value).model_fields:
            yield from _words(value, inner, f"{path}.{inner}")
    elif isinstance(value, list | tuple) and all(isinstance(one, BaseModel) for one in value):
        for i, one in enumerate(value):
            for inner in type(one).model_fields:
                yield from _words(one, inner, f"{path}{dotted((i, inner))}")
    elif value is None or isinstance(value, str | bool | int | float):
        if isinstance(owner, Group) and name in owner.given():
            return
        place = _place(type(owner), name)
        quantity, table = place.mark(Quantity), place.mark(Designation)
        kind, sign = (quantity.kind, quantity.sign) if quantity else (None, "")
        yield Dimension(path, value, owner, kind=kind, sign=sign, table=table)


def refusal(file: str, field: str, code: str, wrong: str, right: str) -> InputError:
    """One problem of a request, as an error."""
    return InputError([Problem(code, file or "request", 0, 0, field, "", wrong, right)])


def _nearest(wanted: str, known: dict[str, Dimension], every: dict[str, Dimension]) -> str:
    last = wanted.rpartition(".")[2]
    same = [path for path in known if path.rpartition(".")[2] == last]
    near = same[:3] or difflib.get_close_matches(wanted, every, 3, 0.5)
    if not near:
        ends = {path.rpartition(".")[2]: path for path in every}
        near = [ends[end] for end in difflib.get_close_matches(last, ends, 3, 0.5)]
    if near:
        return f"nearest is {', '.join(f'`{one}`' for one in near)}"
    return f"its dimensions are {', '.join(f'`{one}`' for one in known)}"


def _of_field(owner: BaseModel, name: str, path: Path_) -> Iterator[Dimension]:
    value = getattr(owner, name)
    if value is None or (isinstance(owner, Group) and name in owner.given()):
        return
    if isinstance(value, BaseModel):
        for inner in type(value).model_fields:
            yield from _of_field(value, inner, (*path, inner))
    elif isinstance(value, list | tuple) and all(isinstance(one, BaseModel) for one in value):
        for i, one in enumerate(value):
            for inner in type(one).model_fields:
                yield from _of_field(one, inner, (*path, i, inner))
    else:
        yield from _leaf(owner, name, value, path)


def _leaf(owner: BaseModel, name: str, value: Any, path: Path_) -> Iterator[Dimension]:
    if field_of(type(owner), name) is None:
        return
    place = _place(type(owner), name)
    quantity, vector, table = (place.mark(kind) for kind in (Quantity, Vector, Designation))
    at = dotted(path)
    if table is not None:
        yield Dimension(at, value, owner, table=table)
    elif vector is not None:
        for i, one in enumerate(value):
            yield Dimension(dotted((*path, i)), one, owner, kind=vector.kind)
    elif quantity is not None:
        yield Dimension(at, value, owner, kind=quantity.kind, sign=quantity.sign)
