"""What a form may take: hardpoints, fields and facts of parts, and values of the rear end."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any, Protocol

import numpy as np
from pydantic import BaseModel

from parts.inputs.designations import ROW_LENGTHS
from parts.inputs.document import steps_of
from parts.inputs.quantities import Quantity
from parts.inputs.tracing import trace
from parts.inputs.units import ANGLE, FORCE, LENGTH
from parts.vehicle.file.forms import Value, nearest
from parts.vehicle.file.places import Frame
from parts.vehicle.rear_end.taken import values_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from parts.core.part import Part
    from parts.inputs.document import Document


class Stated(Protocol):
    """A build as its values are taken from it; `parts.vehicle.build.Build` says what each answer holds."""

    @property
    def points(self) -> Mapping[str, np.ndarray]: ...
    @property
    def entries(self) -> Mapping[str, Any]: ...
    @property
    def names(self) -> Iterable[str]: ...
    @property
    def sprung(self) -> Any: ...
    @property
    def taken(self) -> dict[str, set[str]]: ...
    def frame(self, name: str) -> Frame | None: ...
    def bare(self, name: str) -> Part: ...
    def written(self, name: str) -> Document: ...
    def resolved(self, name: str) -> tuple[Any, dict[str, Any]]: ...


class PartValues:
    """The values that one part of a build may take; `name` is empty for the build file itself."""

    def __init__(self, build: Stated, name: str) -> None:
        self.build, self.name = build, name

    def point(self, name: str) -> np.ndarray:
        """Place of a hardpoint [mm]."""
        return self.build.points[name]

    def known_points(self) -> Iterable[str]:
        """Names of all hardpoints."""
        return self.build.points

    def frame(self) -> Frame | None:
        """The axes of the part."""
        return self.build.frame(self.name) if self.name else None

    def own(self, name: str) -> Any:
        """What the part's file itself says at a dotted path, as it is written.

        Raises:
            KeyError: nothing stands there, or a form; its argument is as that of `value`.
        """
        document = self.build.written(self.name) if self.name else None
        node = None if document is None else document.node(steps_of(name))
        if node is None:
            raise KeyError(
                f"this file states no `{name}`; name a field of it by its path, as in plate.thickness"
            )
        if isinstance(node.data, dict | list):
            raise KeyError(f"`{name}` is no plain number; take what that is taken from")
        return node.data

    def value(self, owner: str, name: str) -> Value:
        """A field or fact of a part, or a value of the rear end.

        Raises:
            KeyError: there is none; its argument says what is wrong, and behind a semicolon what is right.
        """
        from parts.vehicle.file.references import REAR

        if owner == REAR:
            return self._of_rear(name)
        if owner not in self.build.entries:
            raise KeyError(
                f"there is no part `{owner}`; {nearest(owner, [*self.build.names, REAR])}"
            )
        self.build.taken.setdefault(owner, set()).add(name)
        part = self.build.bare(owner)
        found = _field(part, name)
        if found is not None:
            return found if found[1] else (self._as_written(owner, name, found[0]), None)
        facts = part.facts()
        kinds = {"mm": LENGTH, "deg": ANGLE, "N": FORCE}
        if name in facts and facts[name][1] in kinds:
            value, unit = facts[name]
            return float(np.radians(value) if unit == "deg" else value), kinds[unit]
        known = [*_fields(part), *(k for k, (_, unit) in facts.items() if unit in kinds)]
        raise KeyError(
            f"{owner} has no field, length, angle or force `{name}`; {nearest(name, known)}"
        )

    def _of_rear(self, name: str) -> Value:
        rear = self.build.sprung
        if rear is None:
            raise KeyError("the build states no `rear_end`; state it, or write a number")
        known = values_of(rear)
        if name not in known:
            raise KeyError(f"the rear end gives no `{name}`; {nearest(name, known)}")
        return known[name]

    def _as_written(self, owner: str, name: str, value: Any) -> Any:
        """What is no quantity is taken as its file states it: a designation, a word, a count."""
        node = self.build.resolved(owner)[0].node(steps_of(name))
        return value if node is None else node.data


def _field(part: Part, name: str) -> Value | None:
    """A field by its dotted path: a quantity with its kind, anything else with None; on into a row of a table, a
    length of it."""
    steps = steps_of(name)
    here: Any = part
    for i, step in enumerate(steps):
        if type(here) in ROW_LENGTHS:
            return _of_row(here, [str(one) for one in steps[i:]])
        try:
            here = getattr(here, str(step)) if isinstance(here, BaseModel) else here[step]
        except (AttributeError, KeyError, IndexError, TypeError):
            return None
    if not steps or isinstance(here, BaseModel | list | dict):
        return None
    quantity = _quantity(part, steps)
    if quantity is None or not isinstance(here, float | int):
        return here, None
    return float(here), quantity.kind


def _of_row(row: Any, steps: list[str]) -> Value | None:
    """A length of a row of a table, or of a row within it."""
    *through, last = steps
    for step in through:
        row = getattr(row, step, None)
    return (float(getattr(row, last)), LENGTH) if last in ROW_LENGTHS.get(type(row), ()) else None


def _quantity(part: Part, steps: tuple[str | int, ...]) -> Quantity | None:
    """The kind of quantity of a field; the models are those that the part has, unions decided."""
    from parts.inputs.document import Document, Node

    owner: Any = part
    for step in steps[:-1]:
        owner = getattr(owner, str(step)) if isinstance(owner, BaseModel) else owner[step]
    if not isinstance(owner, BaseModel):
        return None
    found = trace(type(owner), steps[-1:], Document("", Node(0, 0))).mark(Quantity)
    return found if isinstance(found, Quantity) else None


def _fields(part: Part, before: str = "") -> list[str]:
    """Dotted paths of the fields of a part that forms may take."""
    found = []
    for name in type(part).model_fields:
        value = getattr(part, name)
        if isinstance(value, BaseModel):
            found += _fields(value, f"{before}{name}.")  # type: ignore[arg-type]
        elif not isinstance(value, list | dict):
            found.append(before + name)
    return found
