"""What every group of dimensions has in common."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from inspect import Signature
from typing import Any, Self, get_args

from pydantic import BaseModel, ConfigDict

from parts.inputs.document import Document, Node
from parts.inputs.quantities import Quantity
from parts.inputs.tracing import trace

_WITHIN: dict[type[Group], tuple[type[Group], ...]] = {}
"""The groups that each group holds within it."""
_NAMED: Counter[type[Group]] = Counter()
"""How many groups hold each group within them."""


class Group(BaseModel):
    """A named group of dimensions: closed to unknown keys, and never changed in place."""

    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        arbitrary_types_allowed=True,
        # Only the groups of the families that are read are ever worked out.
        defer_build=True,
        # A default is in mm, N, radians: read as input it would take the units of the builder's file.
        # A designation as a default needs `Field(..., validate_default=True)` of its own.
        validate_default=False,
    )

    @classmethod
    def __pydantic_init_subclass__(cls, **kwargs: Any) -> None:
        super().__pydantic_init_subclass__(**kwargs)
        fields = cls.model_fields.values()
        _WITHIN[cls] = tuple(dict.fromkeys(g for one in fields for g in _groups_in(one.annotation)))
        _NAMED.update(_WITHIN[cls])
        for field in fields:
            # The signature of each is looked at, and that of a class takes long to find.
            if isinstance(field.default_factory, type):
                field.default_factory = _function(field.default_factory)

    @classmethod
    def model_rebuild(
        cls,
        *,
        force: bool = False,
        raise_errors: bool = True,
        _parent_namespace_depth: int = 2,
        _types_namespace: Any = None,
    ) -> bool | None:
        """As of every model; what several groups hold within them is worked out once, before the first of them."""
        if cls.__pydantic_complete__ and not force:
            return None
        for one in _WITHIN[cls]:
            one._rebuild_shared()
        return super().model_rebuild(
            force=force,
            raise_errors=raise_errors,
            _parent_namespace_depth=_parent_namespace_depth + 1,
            _types_namespace=_types_namespace,
        )

    @classmethod
    def _rebuild_shared(cls) -> None:
        if _NAMED[cls] > 1:
            cls.model_rebuild()
        elif not cls.__pydantic_complete__:
            for one in _WITHIN[cls]:
                one._rebuild_shared()

    def given(self) -> frozenset[str]:
        """Fields whose values the row that another field names gives: they are not varied by themselves."""
        return frozenset()

    def given_with(self, name: str, value: Any) -> frozenset[str]:
        """Fields that a row gives once a field has this value."""
        if type(self).given is Group.given:
            return frozenset()
        return self.model_copy(update={name: value}).given() - {name}

    def restated(self, name: str, value: Any) -> Self:
        """The group with one value as a file states it, read anew: what a row gives goes with the row.

        Args:
            name: the field.
            value: as a builder writes it.

        Raises:
            pydantic.ValidationError: the group cannot be so.
        """
        gone = self.given() | self.given_with(name, value)
        own = {key: self._written(key) for key in self.model_fields_set - gone}
        return type(self).model_validate({**own, name: value})

    def _written(self, name: str) -> Any:
        """A value as a file writes it: a number of an angle is read in degrees there."""
        value = getattr(self, name)
        quantity = trace(type(self), (name,), Document("", Node(0, 0))).mark(Quantity)
        if quantity is None or not isinstance(value, float):
            return value
        return f"{value!r} {quantity.kind.inside}".rstrip(" -")

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> Self:
        """A copy with some values replaced, unvalidated; nothing worked out from the old values stays."""
        copy = super().model_copy(update=update, deep=deep)
        for name in [name for name in copy.__dict__ if name not in type(self).model_fields]:
            del copy.__dict__[name]
        return copy

    def __getstate__(self) -> dict[Any, Any]:
        """What travels to another process: its fields. What was worked out of them is worked out again there."""
        state = super().__getstate__()
        fields = type(self).model_fields
        kept = {name: value for name, value in state["__dict__"].items() if name in fields}
        return {**state, "__dict__": kept}


def _groups_in(annotation: Any) -> Iterator[type[Group]]:
    if isinstance(annotation, type) and issubclass(annotation, Group):
        yield annotation
    for inner in get_args(annotation):
        yield from _groups_in(inner)


@cache
def _function(kind: type) -> Callable[[], Any]:
    def make() -> Any:
        return kind()

    make.__signature__ = Signature()  # type: ignore[attr-defined]
    return make
