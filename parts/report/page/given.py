"""The dimensions of a part as its file gives them and as they were understood."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, get_args

import numpy as np
import yaml
from pydantic import BaseModel

from parts.core.figures import figure
from parts.inputs.designations import Designation
from parts.inputs.document import Path_, dotted
from parts.inputs.quantities import Quantity, Vector, show
from parts.report.page.html import Html, joined, table, tag
from parts.report.page.key import key_figure

if TYPE_CHECKING:
    from pydantic.fields import FieldInfo

    from parts.core.part import Part
    from parts.inputs.document import Document

ELSEWHERE = frozenset({"family", "name", "title", "revision", "loads", "outputs", "drawing"})
"""Fields that the page shows in other places, or that are no dimension."""


@dataclass(frozen=True)
class Dimension:
    """A dimension: its field, what it is, what the file says ("" for nothing), what was understood."""

    field: str
    what: str
    given: str
    resolved: str
    stated: bool


def dimensions_of(part: Part, written: Document | None) -> list[Dimension]:
    """Every dimension of a part, in the order of its family.

    Args:
        part: the part.
        written: the file that it was read from, if there is one.

    Returns:
        The dimensions; those that were left out too, with their defaults.
    """
    return list(_group(part, (), written))


def _group(group: BaseModel, path: Path_, written: Document | None) -> Iterator[Dimension]:
    for name, info in type(group).model_fields.items():
        if not path and name in ELSEWHERE:
            continue
        value = getattr(group, name)
        here = (*path, info.alias or name)
        stated = name in group.model_fields_set
        yield from _value(value, info, here, written, stated)


def _value(
    value: Any, info: FieldInfo, path: Path_, written: Document | None, stated: bool
) -> Iterator[Dimension]:
    if isinstance(value, BaseModel):
        yield from _group(value, path, written)
    elif isinstance(value, list | tuple) and any(isinstance(one, BaseModel) for one in value):
        for i, one in enumerate(value):
            yield from _value(one, info, (*path, i), written, stated)
    else:
        what = info.description or ""
        yield Dimension(dotted(path), what, _given(written, path), value_said(value, info), stated)


def _given(written: Document | None, path: Path_) -> str:
    node = written.node(path) if written else None
    if node is None:
        return ""
    if node.text or not node.data:
        return node.text
    return yaml.safe_dump(
        node.data, default_flow_style=True, allow_unicode=True, width=1000
    ).strip()


def value_said(value: Any, info: FieldInfo) -> str:
    """A value of a field with its unit, as the library understood it."""
    marks = list(marks_of(info.annotation, info.metadata))
    vector = next((mark for mark in marks if isinstance(mark, Vector)), None)
    quantity = next((mark for mark in marks if isinstance(mark, Quantity)), None)
    named = next((mark for mark in marks if isinstance(mark, Designation)), None)
    if value is None:
        return "none"
    if named is not None and isinstance(value, named.kind):
        return named.name(value)
    if vector is not None and isinstance(value, tuple | list):
        if any(isinstance(one, tuple | list) for one in value):
            # Several places, along the axes that their field names.
            return "; ".join(", ".join(show(v, vector.kind.name) for v in one) for one in value)
        said = [show(v, vector.kind.name) for v in value]
        return ", ".join(f"{axis} {v}" for axis, v in zip(vector.axes, said, strict=True))
    if quantity is not None and np.ndim(value) == 0:
        return show(value, quantity.kind.name)
    return _plain(value)


def _plain(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str | int):
        return str(value)
    if isinstance(value, float):
        return figure(value)
    if isinstance(value, list | tuple):
        return ", ".join(_plain(one) for one in value) or "none"
    return str(getattr(value, "designation", None) or getattr(value, "name", None) or value)


def marks_of(annotation: Any, metadata: Any) -> Iterator[Any]:
    """What a type is annotated with, however deep in optional and list types."""
    yield from metadata
    arguments = get_args(annotation)
    if hasattr(annotation, "__metadata__"):
        yield from annotation.__metadata__
        arguments = arguments[:1]
    for inner in arguments:
        yield from marks_of(inner, ())


def dimensions_shown(part: Part, written: Document | None, key: bytes) -> tuple[str, Html]:
    """In a line how many are stated, and all of them as tables, beside the key that names them."""
    every = dimensions_of(part, written)
    head = ["dimension", "as given", "as understood", "what it is"]
    stated = [[_field(one.field), one.given, one.resolved, one.what] for one in every if one.stated]
    rest = [[_field(one.field), one.resolved, one.what] for one in every if not one.stated]
    source = f" from {written.file.rsplit('/', 1)[-1]}" if written else ""
    said = f"{len(stated)} stated{source}, {len(rest)} by default"
    return said, joined(
        key_figure(
            key, "Point at a name, and its dimension in the list lights up; or the other way round."
        )
        if key
        else None,
        table(f"Dimensions as given{source} and as understood", head, stated),
        tag(
            "details",
            tag("summary", f"{len(rest)} left out in the file, with their defaults"),
            table("Defaults", ["dimension", "value", "what it is"], rest),
        )
        if rest
        else None,
    )


def _field(path: str) -> Html:
    """A dotted path, which may be broken after its dots."""
    steps = path.split(".")
    broken = [joined(step, ".", Html("<wbr>")) for step in steps[:-1]]
    return tag("span", *broken, steps[-1], class_="code", data_field=path)
