"""From where a model found something wrong to where it stands in the file.

The location that comes with a validation error walks the model, so that it also names which member
of a union was tried. Here it is walked again, beside the model and the file, and only the steps
that are keys and list positions of the file are kept.
"""

from __future__ import annotations

import types
from collections.abc import Iterator, Sequence
from typing import Annotated, Any, Literal, NamedTuple, Union, get_args, get_origin

from pydantic import BaseModel, Discriminator, Tag
from pydantic.fields import FieldInfo

from parts.inputs.document import Document, Node, Path_, steps_of
from parts.inputs.quantities import Quantity, Vector

Step = str | int


class Place(NamedTuple):
    """Where in the file something is wrong, and what the model has there.

    `within` are the models whose keys may stand around it; `kinds` the types it may have; `marks`
    the annotations of its type. `of_union` is true where several types were tried.
    """

    path: Path_
    within: tuple[type[BaseModel], ...]
    kinds: tuple[Any, ...]
    marks: tuple[Any, ...]
    of_union: bool = False

    def mark(self, kind: type) -> Any:
        """The first annotation of a kind, or None."""
        return next((m for m in self.marks if isinstance(m, kind)), None)

    def choices(self) -> tuple[Any, ...]:
        """The values that the type allows, where it names them one by one."""
        return tuple(v for k in self.kinds if get_origin(k) is Literal for v in get_args(k))


class _Typed(NamedTuple):
    """A type without its wrappers: the members of a union (else itself alone), its annotations."""

    members: tuple[Any, ...]
    marks: tuple[Any, ...]

    @property
    def discriminator(self) -> str | Discriminator | None:
        for mark in self.marks:
            if isinstance(mark, Discriminator):
                found = mark.discriminator
                return found if isinstance(found, str) else mark
            if isinstance(mark, FieldInfo) and mark.discriminator is not None:
                return mark.discriminator
        return None


def _typed(kind: Any, marks: Sequence[Any] = ()) -> _Typed:
    if get_origin(kind) is Annotated:
        inner, *own = get_args(kind)
        return _typed(inner, [*own, *marks])
    if get_origin(kind) in (Union, types.UnionType):
        members = tuple(m for m in get_args(kind) if m is not type(None))
        return _typed(members[0], marks) if len(members) == 1 else _Typed(members, tuple(marks))
    return _Typed((kind,), tuple(marks))


def _of_field(info: FieldInfo) -> _Typed:
    return _typed(info.annotation, [*info.metadata, info])


def trace(model: type[BaseModel], location: Sequence[Step], document: Document) -> Place:
    """Follow the location of a validation error.

    Args:
        model: the model that the whole file was read as.
        location: the error's location, `loc`.
        document: the file.

    Returns:
        The place: a path in the file, or, for a key that is missing, where it would stand.
    """
    path: Path_ = ()
    typed, within, of_union = _Typed((model,), ()), (), False  # type: tuple[Any, Any, bool]
    for step in location:
        if len(typed.members) > 1:
            of_union = of_union or typed.discriminator is None
            typed = _member(typed, step)
            continue
        kind, marks = typed.members[0], typed.marks
        if isinstance(kind, type) and issubclass(kind, BaseModel):
            within = (kind,)
            info = field_of(kind, step)
            typed = _of_field(info) if info else _Typed((Any,), ())
            path = (*path, step)
            continue
        vector = next((m for m in marks if isinstance(m, Vector)), None)
        inside = _inside(kind, step)
        if vector is not None and isinstance(step, int):
            node = document.node(path)
            axis = vector.axes[step] if node and isinstance(node.data, dict) else step
            path, typed = (*path, axis), _Typed((float,), (Quantity(vector.kind),))
        elif inside is not None and step != "[key]":
            path, typed = (*path, step), _typed(inside)
        elif document.node((*path, step)) is not None:
            path, typed = (*path, step), _Typed((Any,), ())
    found = tuple(_typed(m).members[0] for m in typed.members)
    marks = tuple(m for member in typed.members for m in _typed(member, typed.marks).marks)
    return Place(path, within, found, marks, of_union)


def _member(typed: _Typed, step: Step) -> _Typed:
    """The member of a union that a step of a location names."""
    discriminator = typed.discriminator
    for member in typed.members:
        inner = _typed(member)
        kind = inner.members[0]
        if discriminator is None:
            named = getattr(kind, "__name__", "") == step or str(kind) == step
        elif isinstance(discriminator, str):
            named = step in tag_values(member, discriminator)
        else:
            named = any(isinstance(m, Tag) and m.tag == step for m in inner.marks)
        if named or (discriminator is None and _labelled(inner, str(step))):
            return inner
    return _Typed((Any,), ())


def _labelled(typed: _Typed, label: str) -> bool:
    """Whether a label such as `literal['a','b']` or `function-before[...]` fits a type."""
    kind = typed.members[0]
    if get_origin(kind) is Literal:
        return label.startswith("literal")
    if label.startswith("function-"):
        return bool(typed.marks) and getattr(kind, "__name__", "?") in label
    return label.startswith(getattr(get_origin(kind), "__name__", "?") + "[")


def _inside(kind: Any, step: Step) -> Any:
    """The type of what is within a list or mapping type, or None."""
    origin, inner = get_origin(kind), get_args(kind)
    if not isinstance(origin, type) or not inner:
        return None
    if isinstance(step, int) and issubclass(origin, tuple):
        return inner[0] if len(inner) == 2 and inner[1] is ... else inner[min(step, len(inner) - 1)]
    return inner[-1] if origin is dict or not isinstance(step, str) else None


def field_of(model: type[BaseModel], key: Step) -> FieldInfo | None:
    """The field of a model that a key of the file sets, by name or alias."""
    for name, info in model.model_fields.items():
        if key in (name, info.alias, info.validation_alias):
            return info
    return None


def sign_at(model: BaseModel, path: str) -> tuple[Any, str]:
    """The value at a dotted path of a model, and which sign it must have.

    Returns:
        The value, and the sign as `Quantity` names it; None and "" where the path leads to no quantity.
    """
    *around, last = steps_of(path)
    owner: Any = model
    for step in around:
        if isinstance(step, int):
            owner = owner[step] if isinstance(owner, list | tuple) and step < len(owner) else None
        else:
            owner = getattr(owner, step, None)
    if not isinstance(owner, BaseModel) or field_of(type(owner), last) is None:
        return None, ""
    mark = trace(type(owner), (last,), Document("", Node(0, 0))).mark(Quantity)
    return (None, "") if mark is None else (getattr(owner, str(last)), mark.sign)


def keys_of(model: type[BaseModel]) -> list[str]:
    """The keys that a model takes, as the file writes them, in order."""
    return [info.alias or name for name, info in model.model_fields.items()]


def tag_values(member: Any, discriminator: str) -> tuple[Any, ...]:
    """The tags by which a file chooses a member of a union."""
    kind = _typed(member).members[0]
    if not (isinstance(kind, type) and issubclass(kind, BaseModel)):
        return tuple(
            t
            for m in _typed(member).members
            if m is not member
            for t in tag_values(m, discriminator)
        )
    info = field_of(kind, discriminator)
    tag = _of_field(info).members[0] if info else None
    return get_args(tag) if get_origin(tag) is Literal else ()


def keys_below(model: type[BaseModel]) -> dict[str, list[str]]:
    """Every key that may stand anywhere in a model's file, and the groups it belongs in."""
    found: dict[str, list[str]] = {}
    for group, kind in _groups(model, "", ()):
        for key in keys_of(kind):
            if group not in found.setdefault(key, []):
                found[key].append(group)
    return found


def _groups(kind: Any, group: str, seen: tuple[Any, ...]) -> Iterator[tuple[str, type[BaseModel]]]:
    for member in _typed(kind).members:
        if isinstance(member, type) and issubclass(member, BaseModel):
            if member in seen:
                continue
            yield group, member
            for name, info in member.model_fields.items():
                below = f"{group}.{info.alias or name}".lstrip(".")
                yield from _groups(info.annotation, below, (*seen, member))
        elif get_origin(member) is Annotated or _is_union(member):
            yield from _groups(member, group, seen)
        elif isinstance(get_origin(member), type) and get_args(member):
            yield from _groups(get_args(member)[-1], group, seen)


def _is_union(kind: Any) -> bool:
    return get_origin(kind) in (Union, types.UnionType)
