"""A part's file stated anew with some values replaced, and read as strictly as the file itself."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from parts.core.group import Group
from parts.core.part import Part
from parts.inputs.document import Document, Path_, dotted, read_document, steps_of
from parts.inputs.problems import InputError
from parts.inputs.quantities import Units
from parts.inputs.reading import read_parsed, refers_to_build, units_of
from parts.inputs.tracing import field_of
from parts.study.starts import group_start
from parts.vehicle.file.loading import found_in_build
from parts.vehicle.file.resolving import plain


class Stated:
    """A part's file with all that its build gives it, from which variants of the part are read."""

    def __init__(self, file: str | Path) -> None:
        from parts.families import families

        self.file = str(file)
        self._families = families()
        document = read_document(file)
        if refers_to_build(document):
            build, name = found_in_build(Path(file), document)
            document = build.stated(name)
        self.document = document
        self.part: Part = read_parsed(self.document, self._families)
        self.units: Units = units_of(self.document)

    def variant(self, values: Mapping[str, Any]) -> Part:
        """The part with other values, each as its file would state it, by dotted path.

        Raises:
            InputError: it breaks a rule; the problems bear no line, for no file states it.
        """
        return read_parsed(self.varied(values), self._families)

    def varied(self, values: Mapping[str, Any]) -> Document:
        """What a file of the variant would state."""
        data = copy.deepcopy(self.document.data)
        for path, value in values.items():
            if path.endswith(".type"):
                _turn(data, steps_of(path)[:-1], str(value), self.part)
                continue
            put(data, path, value, self.part)
        return Document(self.file, plain(data, 0, 0))


def put(data: Any, path: str, value: Any, owner: Any) -> None:
    """Set a value at a dotted path in the plain data of a part's file; groups that the file leaves out are begun.

    What the row of a bolt or pin gives goes once it is named.
    """
    steps = steps_of(path)
    for i, step in enumerate(steps[:-1]):
        key = _key(data, owner, step)
        inner = getattr(owner, str(step)) if isinstance(step, str) else owner[step]
        if isinstance(data, dict) and not isinstance(data.get(key), dict | list):
            data[key] = _begun(inner)
        if isinstance(data, dict) and isinstance(data[key], dict) and isinstance(steps[i + 1], int):
            # A vector by axis, {x: 1, y: 2}: as a list it can be counted into.
            data[key] = [data[key].get(axis, 0) for axis in ("x", "y", "z")[: len(inner)]]
        data, owner = data[key], inner
    last = steps[-1]
    for gone in owner.given_with(str(last), value) if isinstance(owner, Group) else ():
        data.pop(_key(data, owner, gone), None)
    was = getattr(owner, str(last), None)
    data[_key(data, owner, last)] = value == "true" if isinstance(was, bool) else value


def _turn(data: Any, steps: Path_, option: str, part: Part) -> None:
    """Make a group of plain data another option: what both have stays, the rest is as that option starts."""
    owner: Any = part
    for step in steps[:-1]:
        inner = owner[step] if isinstance(step, int) else getattr(owner, step)
        key = _key(data, owner, step)
        if isinstance(data, dict) and not isinstance(data.get(key), dict | list):
            data[key] = _begun(inner)
        data, owner = data[key], inner
    key = _key(data, owner, steps[-1])
    group = data.get(key) if isinstance(data, dict) else data[key]
    stated = group if isinstance(group, dict) else {}
    if stated.get("type") == option:
        return
    start = group_start(
        type(part), dotted(tuple(one for one in steps if isinstance(one, str))), option
    )
    data[key] = {**start, **{k: v for k, v in stated.items() if k in start}, "type": option}


def _begun(inner: Any) -> Any:
    return {"type": inner.type} if hasattr(inner, "type") else {}


def _key(data: Any, owner: Any, step: Any) -> Any:
    """The key that the file has for a field: its alias where it has one."""
    info = field_of(type(owner), step) if isinstance(step, str) else None
    return info.alias if info is not None and info.alias and info.alias in data else step


def first_problem(error: InputError) -> str:
    """The first problem in one clause, without its place."""
    one = error.problems[0]
    return f"{one.field}: {one.wrong}" if one.field else one.wrong
