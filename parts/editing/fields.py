"""The fields of a part as a hand changes them: what the file says, what it means, and what else it may be."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from functools import cache
from typing import TYPE_CHECKING, Any, get_args, get_origin

import numpy as np
from pydantic import BaseModel

from parts.core.group import Group
from parts.inputs.designations import Designation
from parts.inputs.document import Document, Node, Path_, dotted
from parts.inputs.problems import InputError
from parts.inputs.quantities import Quantity, Vector, show
from parts.inputs.tracing import trace
from parts.report.page.given import marks_of, value_said
from parts.report.starter import options
from parts.study.dimension import Dimension
from parts.study.standard_sizes import standard_sizes
from parts.study.starts import THERE, entry
from parts.vehicle.file.forms import is_form

if TYPE_CHECKING:
    from pydantic.fields import FieldInfo

    from parts.core.part import Part

LEFT_OUT = frozenset({"family", "outputs", "revisions"})
NONE = "none"
"""The word by which a page leaves an option out."""


@dataclass(frozen=True)
class Field:
    """A field of a part.

    Attributes:
        path: as messages name it.
        key: as the page names it beside its group.
        what: what it means.
        said: what the file says; empty where it says nothing.
        means: the value with its unit, as it was understood.
        kind: "length", "force" ... of a quantity; "text", "word" of a count and the like, "truth", "row" of a table,
            "option" of a group, or "list" that takes an entry more.
        origin: "file", "default", or "build" where a form of the build gives it.
        choices: the words that it may be, where they are few.
        value: of a quantity, in inside units; None of all others.
    """

    path: str
    key: str
    what: str
    said: str
    means: str
    kind: str
    origin: str
    choices: tuple[str, ...] = ()
    value: float | None = None


def fields_of(part: Part, written: Document) -> list[dict[str, Any]]:
    """Every field of a part that a hand may change, in the order of its family.

    Args:
        part: the part.
        written: its file, as a person wrote it.

    Returns:
        A record of each, as `Field` names them.
    """
    return [asdict(one) for one in part_fields(part, written)]


def part_fields(part: Part, written: Document) -> list[Field]:
    """The same, each as a `Field`."""
    return [one for one, _ in _walk(part, (), written, type(part))]


def sizes_of(part: Part, written: Document) -> dict[str, Any]:
    """What can be bought or drilled, of each field for which a list says so.

    Returns:
        `lists` of sizes as a file states them, and `of`: the number of its list by path.
    """
    lists: list[list[list[Any]]] = []
    of: dict[str, int] = {}
    for field, dimension in _walk(part, (), written, type(part)):
        if dimension is None or field.choices:
            continue
        try:
            found = [[size.text, size.measure] for size in standard_sizes(part, dimension)]
        except InputError:
            continue
        if len(found) > 1:
            if found not in lists:
                lists.append(found)
            of[field.path] = lists.index(found)
    return {"lists": lists, "of": of}


@cache
def options_of(family: type[Part]) -> Mapping[str, tuple[str, ...]]:
    """The words of every option of a family, by the bare path of its group."""
    found: dict[str, list[str]] = {}
    for one in options(family):
        path, _, word = one.partition("=")
        found.setdefault(path, []).append(word)
    return {path: tuple(words) for path, words in found.items()}


Walked = Iterator[tuple[Field, Dimension | None]]


def _walk(group: BaseModel, path: Path_, written: Document, family: type[Part]) -> Walked:
    given = group.given() if isinstance(group, Group) else frozenset()
    for name, info in type(group).model_fields.items():
        if name in given or (not path and name in LEFT_OUT):
            continue
        here = (*path, info.alias or name)
        value = getattr(group, name)
        option = options_of(family).get(bare(here)) or _there(family, bare(here), info)
        if isinstance(value, list | tuple) and _begun(family, bare(here), info, bool(value)):
            yield _list(here, info, written), None
        if option and not isinstance(value, list | tuple):
            yield _option(here, value, info, option, written), None
        if isinstance(value, BaseModel):
            yield from _walk(value, here, written, family)
        elif isinstance(value, list | tuple) and any(isinstance(one, BaseModel) for one in value):
            yield from _entries(value, here, written, family)
        elif not option and name != "type":
            yield from _leaf(group, name, info, value, here, written)


def _entries(value: Sequence[Any], here: Path_, written: Document, family: type[Part]) -> Walked:
    for i, one in enumerate(value):
        # What the build adds to a list is changed there.
        if here[0] == "loads" and written.node((*here, i)) is None:
            continue
        yield from _walk(one, (*here, i), written, family)


def _option(
    here: Path_, value: Any, info: FieldInfo, words: Sequence[str], written: Document
) -> Field:
    node = written.node(here)
    said = str(getattr(value, "type", THERE)) if isinstance(value, BaseModel) else ""
    optional = () if info.is_required() or info.default is not None else (NONE,)
    origin = "default" if node is None else "build" if is_form(node.data) else "file"
    return Field(dotted(here), str(here[-1]), info.description or "", said, said or NONE, "option", origin,
                 (*optional, *words))  # fmt: skip


def _leaf(
    owner: BaseModel, name: str, info: FieldInfo, value: Any, here: Path_, written: Document
) -> Walked:
    place = trace(type(owner), (name,), Document("", Node(0, 0)))
    vector, quantity, table = (place.mark(kind) for kind in (Vector, Quantity, Designation))
    if vector is not None and value is not None:
        yield from _places(vector, info, value, here, written)
        return
    choices = tuple(str(one) for one in place.choices() if isinstance(one, str))
    if isinstance(value, bool):
        choices = ("true", "false")
    kind = (
        quantity.kind.name
        if quantity
        else "row"
        if table
        else "truth"
        if isinstance(value, bool)
        else "text"
        if str in place.kinds or choices
        else "word"
    )
    number = (
        float(value) if quantity is not None and value is not None and np.ndim(value) == 0 else None
    )
    said, origin = _said(written, here)
    field = Field(dotted(here), str(here[-1]), info.description or "", said, value_said(value, info), kind, origin,
                  choices, number)  # fmt: skip
    yield field, Dimension(dotted(here), value, owner, quantity.kind if quantity else None,
                           quantity.sign if quantity else "", table)  # fmt: skip


def _places(vector: Vector, info: FieldInfo, value: Any, here: Path_, written: Document) -> Walked:
    """The numbers of a place or a force, or of several, each a field of its own."""
    if any(isinstance(one, tuple | list) for one in value):
        for i, one in enumerate(value):
            yield from _places(vector, info, one, (*here, i), written)
        return
    for k, (axis, number) in enumerate(zip(vector.axes, value, strict=True)):
        said, origin = _said(written, here, k)
        field = Field(dotted((*here, k)), f"{here[-1]} {axis}", info.description or "", said,
                      show(number, vector.kind.name), vector.kind.name, origin, (), float(number))  # fmt: skip
        yield field, None


def _said(written: Document, path: Path_, axis: int | None = None) -> tuple[str, str]:
    """What the file says at a path, and who says it."""
    for deep in range(1, len(path) + 1):
        node = written.node(path[:deep])
        if node is None:
            return "", "default"
        if is_form(node.data):
            return ", ".join(f"{key}: {one}" for key, one in node.data.items()), "build"
    assert node is not None
    if axis is not None:
        node = node.children.get("xyz"[axis] if isinstance(node.data, dict) else axis)
        if node is None:
            return "", "default"
        if is_form(node.data):
            return ", ".join(f"{key}: {one}" for key, one in node.data.items()), "build"
    return (node.text, "file") if not isinstance(node.data, dict | list) else ("", "file")


def bare(path: Path_) -> str:
    """A path without the numbers of list entries."""
    return dotted(tuple(step for step in path if isinstance(step, str)))


def _there(family: type[Part], path: str, info: FieldInfo) -> tuple[str, ...]:
    """The one option of a group that may be left out and has no others; none of anything else."""
    known = info.default is None and _groups(info.annotation) == "group"
    return (THERE,) if known and _known(family, path) else ()


@cache
def _known(family: type[Part], path: str) -> bool:
    return entry(family, path) is not None


def _begun(family: type[Part], path: str, info: FieldInfo, filled: bool) -> bool:
    """Whether a list is one of groups, or of places that stand there, and takes one more."""
    holds = _groups(info.annotation)
    return (holds == "list" and (filled or _known(family, path))) or (holds == "places" and filled)


def _groups(kind: Any) -> str:
    """What a type holds: a "group", a "list" of groups, a list of "places", or nothing of these."""
    if isinstance(kind, type):
        return "group" if issubclass(kind, BaseModel) else ""
    inner = get_args(kind)[:1] if hasattr(kind, "__metadata__") else get_args(kind)
    found = next((one for one in map(_groups, inner) if one), "")
    if get_origin(kind) is list:
        places = any(isinstance(mark, Vector) for mark in marks_of(inner[0], ()))
        return "list" if found == "group" else "places" if places else found
    return found


def _list(here: Path_, info: FieldInfo, written: Document) -> Field:
    node = written.node(here)
    built = node is not None and is_form(node.data)
    count = len(node.children) if node is not None and not built else 0
    origin = "default" if node is None else "build" if built else "file"
    return Field(
        dotted(here), str(here[-1]), info.description or "", "", str(count), "list", origin
    )
