"""A part with some of its dimensions replaced, by arrays too, for sweeps."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from typing import Annotated, Any, TypeVar

from pydantic import BaseModel, TypeAdapter

from parts.inputs.document import Path_, dotted, steps_of

M = TypeVar("M", bound=BaseModel)


def with_values(model: M, values: Mapping[str, Any]) -> M:
    """Copy a model with values replaced. They are taken as they are, in inside units, unchecked.

    Args:
        model: the model; it stays as it was.
        values: new values by dotted path, as in `{"ears[1].thickness": np.array([6.0, 8.0])}`.

    Returns:
        The copy. What the model had worked out and kept, it works out anew.

    Raises:
        KeyError: a path names nothing in the model.
    """
    return _replaced(model, {steps_of(path): value for path, value in values.items()}, ())  # type: ignore[no-any-return]


def parsed(model: BaseModel, path: str, value: Any) -> Any:
    """A value for a field of a model, as a builder writes it, checked and in inside units.

    Args:
        model: the model.
        path: dotted path of the field, as in `ears.thickness`, or of one of several alike, the first as `mounts[1]`.
        value: the value: text with a unit, a designation, or a bare number in mm, N, MPa, kg or degrees.

    Returns:
        The value for `with_values`.

    Raises:
        KeyError: the path names no field.
        pydantic.ValidationError: the value does not fit there.
    """
    *around, last = steps_of(path)
    owner = owner_of(model, path)
    if isinstance(last, int) and isinstance(owner, list | tuple) and last < len(owner):
        # One of several alike is read with the rest of them.
        whole = [*owner[:last], value, *owner[last + 1 :]]
        return parsed(model, dotted(tuple(around)), whole)[last]
    fields = type(owner).model_fields if isinstance(owner, BaseModel) else {}
    if last not in fields:
        raise KeyError(f"there is no `{path}` here{_nearest(owner, last)}")
    info = fields[str(last)]
    kind: Any = Annotated[(info.annotation, *info.metadata)] if info.metadata else info.annotation
    return TypeAdapter(kind).validate_python(value)


def owner_of(model: BaseModel, path: str) -> Any:
    """What holds the field at a dotted path; None where nothing does."""
    owner: Any = model
    for step in steps_of(path)[:-1]:
        owner = owner[step] if isinstance(step, int) else getattr(owner, str(step), None)
    return owner


def _replaced(owner: Any, new: Mapping[Path_, Any], done: Path_) -> Any:
    """The owner with values in place, each of what holds them copied once; a whole comes before what lies in it."""
    whole = new.get((), owner)
    inner: dict[Any, dict[Path_, Any]] = {}
    for steps, value in new.items():
        if steps:
            inner.setdefault(steps[0], {})[steps[1:]] = value
    if not inner:
        return whole
    fields = type(whole).model_fields if isinstance(whole, BaseModel) else {}
    entries = len(whole) if isinstance(whole, list | tuple) else 0
    for step in inner:
        if step not in fields and not (isinstance(step, int) and step < entries) and not (
            isinstance(whole, dict) and step in whole
        ):  # fmt: skip
            raise KeyError(f"there is no `{dotted((*done, step))}` here{_nearest(whole, step)}")
    read = whole.__getattribute__ if isinstance(whole, BaseModel) else whole.__getitem__
    found = {step: _replaced(read(step), some, (*done, step)) for step, some in inner.items()}
    if isinstance(whole, BaseModel):
        return _fresh(whole, found)
    if isinstance(whole, dict):
        return {**whole, **found}
    return type(whole)(found.get(k, one) for k, one in enumerate(whole))


def _fresh(owner: BaseModel, values: Mapping[str, Any]) -> BaseModel:
    copy = owner.model_copy(update=values)
    # A copy would keep cached properties, worked out from the old values.
    for kept in [key for key in copy.__dict__ if key not in type(owner).model_fields]:
        del copy.__dict__[kept]
    return copy


def _nearest(owner: Any, step: object) -> str:
    if isinstance(owner, list | tuple):
        return f"; it has {len(owner)} entries, [1] to [{len(owner)}]" if owner else ""
    names = list(type(owner).model_fields) if isinstance(owner, BaseModel) else []
    near = difflib.get_close_matches(str(step), names, 1)
    return f"; nearest is `{near[0]}`" if near else ""
