"""How a family looks from Python: its messages are those of a file, and `help` shows every field in words."""

from __future__ import annotations

import inspect
import textwrap
from collections.abc import Iterator, Mapping
from typing import Any, TypeVar, get_args

from pydantic import BaseModel, ValidationError
from pydantic._internal._model_construction import ModelMetaclass

from parts.inputs.designations import Designation
from parts.inputs.document import Document, Node
from parts.inputs.problems import InputError
from parts.inputs.quantities import Quantity, Vector
from parts.inputs.shown import show
from parts.inputs.tracing import Place, trace
from parts.inputs.units import ANGLE
from parts.inputs.wording import problems_of

M = TypeVar("M", bound=BaseModel)

WIDTH = 88
DEEPEST = 4
UNITS = (
    "Numbers are in mm, N, N*mm, MPa, kg and degrees; text carries its own unit, as in '3/8 in' or '250 lbf'. A group "
    "is a mapping of its fields."
)


class FamilyClass(ModelMetaclass):
    """The class of every family's class."""

    def __call__(cls, *args: Any, **dimensions: Any) -> Any:
        """A part of these dimensions.

        Raises:
            InputError: with every problem, in the words in which a file would be told.
        """
        try:
            return super().__call__(*args, **dimensions)
        except ValidationError as error:
            raise _as_of_a_file(error, cls, dimensions, f"parts.{cls.__name__}") from None

    @property
    def __doc__(cls) -> str:  # type: ignore[override]
        """What the family is, then every field with its unit, its default and what it means."""
        return "\n".join(
            [cls.plain_doc, "", *textwrap.wrap(UNITS, WIDTH), "", *_fields(cls, 0, ())]
        )

    @property
    def plain_doc(cls) -> str:
        """What the class says of itself in its source."""
        return inspect.cleandoc(str(cls.__dict__.get("__doc__") or ""))

    @property
    def __signature__(cls) -> inspect.Signature:
        """What must be given, with what it takes in a word; all other fields stand in the text of the class."""
        needed = [
            inspect.Parameter(name, inspect.Parameter.KEYWORD_ONLY, annotation=_Said(_takes(place)))
            for name, field, place in _each(cls)
            if field.is_required()
        ]
        return inspect.Signature(
            [*needed, inspect.Parameter("dimensions", inspect.Parameter.VAR_KEYWORD)]
        )

    @__signature__.setter
    def __signature__(cls, value: Any) -> None:
        """Nothing: what the validation library makes of it is a screenful."""


def read_keywords(model: type[M], dimensions: Mapping[str, Any], called: str) -> M:
    """A group of dimensions from keywords; `called` is its name in messages.

    Raises:
        InputError: with every problem, in the words in which a file would be told.
    """
    try:
        return model.model_validate(dict(dimensions))
    except ValidationError as error:
        raise _as_of_a_file(error, model, dimensions, called) from None


def _as_of_a_file(
    error: ValidationError, model: Any, dimensions: Mapping[str, Any], called: str
) -> InputError:
    problems = problems_of(
        error.errors(include_url=False), model, Document(called, _node(dimensions))
    )
    return InputError(problems)


class _Said(str):
    """A word that stands in a signature as it is."""

    def __repr__(self) -> str:
        return str(self)


def _node(value: Any) -> Node:
    """What was given as keywords, as a file that has no lines."""
    if isinstance(value, Mapping):
        children: dict[str | int, Node] = {str(key): _node(one) for key, one in value.items()}
        return Node(
            0, 0, data=dict(value), children=children, keys=dict.fromkeys(map(str, value), (0, 0))
        )
    if isinstance(value, list | tuple):
        return Node(0, 0, data=list(value), children={i: _node(one) for i, one in enumerate(value)})
    return Node(0, 0, text=str(value), data=value)


def _each(model: Any) -> Iterator[tuple[str, Any, Place]]:
    for name, field in model.model_fields.items():
        yield name, field, trace(model, (name,), Document("", Node(0, 0)))


def _fields(model: Any, depth: int, within: tuple[Any, ...]) -> Iterator[str]:
    pad = "    " * depth
    for name, field, place in _each(model):
        default = "" if field.is_required() else f"; {_default(field, place)} where left out"
        head = f"{pad}{name} ({_takes(place)}{default}): {field.description or ''}"
        yield from textwrap.wrap(head, max(WIDTH, 40 + len(pad)), subsequent_indent=f"{pad}    ")
        for group in _groups(place):
            if group in within or depth == DEEPEST:
                continue
            if (tag := _tag(group)) and len(_groups(place)) > 1:
                yield f"{pad}    where its type is {tag}:"
            yield from _fields(group, depth + 1, (*within, group))


def _groups(place: Place) -> list[Any]:
    found = [*place.kinds, *(one for kind in place.kinds for one in get_args(kind))]
    return [one for one in found if isinstance(one, type) and issubclass(one, BaseModel)]


def _takes(place: Place) -> str:
    """What a field takes, in a word or two."""
    if designation := place.mark(Designation):
        return f"designation, as {designation.example}"
    if vector := place.mark(Vector):
        return f"{vector.kind.name} along {', '.join(vector.axes)}"
    if quantity := place.mark(Quantity):
        unit = "deg" if quantity.kind is ANGLE else quantity.kind.inside
        return f"{quantity.kind.name} [{unit}]" if unit else "number"
    if choices := place.choices():
        return " or ".join(map(str, choices))
    tags = [_tag(one) for one in _groups(place)]
    if any(tags):
        return f"group: {', '.join(filter(None, tags))}"
    if tags:
        return "list of groups" if any(get_args(kind) for kind in place.kinds) else "group"
    plain = [getattr(kind, "__name__", str(kind)) for kind in place.kinds]
    return {"str": "text", "bool": "true or false", "float": "number", "int": "whole number"}.get(
        plain[0], plain[0]
    )


def _tag(group: Any) -> str:
    kind = group.model_fields.get("type")
    return "" if kind is None else str((get_args(kind.annotation) or ("",))[0])


def _default(field: Any, place: Place) -> str:
    quantity = place.mark(Quantity)
    if field.default is None:
        return "none"
    if field.default_factory is not None:
        return "its own"
    if quantity is not None and isinstance(field.default, int | float):
        return show(field.default, quantity.kind.name).split(" (")[0]
    return str(getattr(field.default, "name", field.default)) or '""'
