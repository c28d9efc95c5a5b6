"""Parts drawn at random from every option of every family, as their files would state them."""

from __future__ import annotations

import copy
import random
import sys
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

sys.path.insert(0, str(Path(__file__).parents[1]))
sys.path.insert(0, str(Path(__file__).parents[1] / "families"))

from options import options

from parts.core.group import Group
from parts.core.part import Part
from parts.families import families
from parts.inputs.designations import Designation
from parts.inputs.document import Document, Node
from parts.inputs.quantities import Quantity, Vector
from parts.inputs.reading import read_text
from parts.inputs.tracing import Place, trace
from parts.inputs.units import ANGLE
from parts.report.starter import options as choices
from parts.report.starter import started, starter
from parts.standards.materials.materials import canonical_names, material

SWAPS = {
    "Thread": ("M6", "M8", "M8x1 LH", "M10x1.25", "3/8-24", "7/16-20 UNF", "1/2-20 LH", "M12x1.5"),
    "RodEnd": ("1/4-28 male", "5/16-24 male", "3/8-24 male LH", "1/2-20 male", "M8 male", "M10 male"),
    "Stock": ("5/8 in x 0.065 in", "3/4 in x 0.065 in", "1 in x 0.083 in", "1-1/2 in x 0.095 in",
              "40 x 20 x 2", "1-1/4 x 1-1/4 x 0.065 in"),
    "Material": tuple(n for n in canonical_names() if material(n).kind == "metal"),
    "Bolt": ("M6x20 8.8", "M8x25 10.9", "AN6-14", "NAS6306-10", "M8 8.8", "M10 10.9"),
    "Spherical": ("8 mm spherical", "10 mm spherical", "12 mm spherical"),
    "BallBearing": ("6200", "6202-2RS", "6003"),
    "ThrustNeedle": ("AXK2035", "AXK1528", "AXK1024"),
    "Spline": ("16T 16/32", "48 teeth 1 in"),
}  # fmt: skip
"""What may stand in the place of a designation."""
SIZES = {"bolt": ("M8 8.8", "M10 10.9", "M6 12.9", "M8 countersunk 10.9", "AN4", "AN6", "NAS6306", "3/8-24 grade 8"),
         "clevis_pin": ("ISO 2341 B 8", "ISO 2341 B 10"), "bolt_class": ("8.8", "10.9", "12.9")}  # fmt: skip
"""What may be bought in the place of a text, by the last step of its field."""


@dataclass(frozen=True)
class Spot:
    """A value of a part: the steps that lead to it, what the model has there, and the value."""

    path: tuple[str | int, ...]
    place: Place
    value: Any

    @property
    def quantity(self) -> Quantity | None:
        return self.place.mark(Quantity)


@cache
def pool() -> dict[str, tuple[Part, ...]]:
    """Valid parts by family: one for each option that the tests know, and the examples."""
    return {name: tuple(options(name).values()) for name in families()}


@cache
def drawn_from() -> dict[str, tuple[Part, ...]]:
    """The same, and one for each option that `oneoff new` begins with."""
    return {
        name: (
            *parts,
            *(
                read_text(starter(families()[name], [one]), families())
                for one in choices(families()[name])
            ),
        )
        for name, parts in pool().items()
    }


@cache
def seen(family: str) -> dict[tuple[str, ...], list[Any]]:
    """What stands at each field of a family's parts: groups, lists and words, by the steps that lead there."""
    found: dict[tuple[str, ...], list[Any]] = {}
    of = families()[family]
    for one in (*map(stated, pool()[family]), *(started(of, [option]) for option in choices(of))):
        _see(one, (), found)
    return found


def _see(value: Any, path: tuple[str, ...], found: dict[tuple[str, ...], list[Any]]) -> None:
    if value not in found.setdefault(path, []):
        found[path].append(value)
    if isinstance(value, dict):
        for key, one in value.items():
            _see(one, (*path, key), found)
    elif isinstance(value, list):
        for one in value:
            _see(one, path, found)


def spots(model: BaseModel, path: tuple[str | int, ...] = ()) -> Iterator[Spot]:
    """Every value within a part that a file may state, those left to their defaults too."""
    for name, info in _own(model):
        place = trace(type(model), (name,), Document("", Node(0, 0)))
        yield from _within(getattr(model, name), place, (*path, info.alias or name))


def _own(model: BaseModel) -> Iterator[tuple[str, FieldInfo]]:
    """The fields of a group without those that another one states, as a bolt its thread."""
    given = model.given() if isinstance(model, Group) else ()
    return ((name, info) for name, info in type(model).model_fields.items() if name not in given)


def _within(value: Any, place: Place, path: tuple[str | int, ...]) -> Iterator[Spot]:
    yield Spot(path, place, value)
    if isinstance(value, BaseModel):
        yield from spots(value, path)
    elif isinstance(value, list):
        for i, one in enumerate(value):
            if isinstance(one, BaseModel):
                yield from spots(one, (*path, i))


def stated(model: BaseModel) -> dict[str, Any]:
    """A part as its file states it: what was given, with units."""
    found: dict[str, Any] = {}
    for name, info in _own(model):
        if name in model.model_fields_set or name in ("type", "family"):
            place = trace(type(model), (name,), Document("", Node(0, 0)))
            found[info.alias or name] = written(getattr(model, name), place)
    return found


def written(value: Any, place: Place) -> Any:
    """One value as a file writes it."""
    if isinstance(value, BaseModel):
        return stated(value)
    if value is not None and (vector := place.mark(Vector)):
        return [_quantity(float(one), Quantity(vector.kind)) for one in value]
    if isinstance(value, list | tuple):
        return [_entry(one) for one in value]
    if (quantity := place.mark(Quantity)) and value is not None:
        return _quantity(float(value), quantity)
    if (designation := place.mark(Designation)) and value is not None:
        return designation.name(value)
    return value


def _entry(value: Any) -> Any:
    if isinstance(value, BaseModel):
        return stated(value)
    if isinstance(value, tuple):
        return [f"{one!r} mm" for one in map(float, value)]
    return value if isinstance(value, str | int | bool) else f"{float(value)!r} mm"


def _quantity(value: float, quantity: Quantity) -> str | float:
    inside = quantity.kind.inside
    return f"{value!r} {inside}" if inside and inside != "-" else value


def put(data: Any, path: tuple[str | int, ...], value: Any) -> None:
    """Put a value into what a file states, with the groups that lead to it."""
    for step, following in pairwise(path):
        if isinstance(step, str) and step not in data:
            data[step] = [] if isinstance(following, int) else {}
        data = data[step]
    data[path[-1]] = value


def changed(part: Part, draw: random.Random, count: int, spread: float) -> dict[str, Any]:
    """A part as its file would state it, some of its values drawn anew.

    Args:
        part: the part.
        draw: the draws.
        count: how many values.
        spread: by how much a number may move, as a share of it.
    """
    data = stated(part)
    could = [
        one for one in spots(part) if one.path[0] not in ("name", "family", "outputs", "title")
    ]
    for spot in draw.sample(could, min(count, len(could))):
        if (drawn := _drawn(spot, part, draw, spread)) is not None:
            _try_to_put(data, spot.path, drawn)
    return data


def _drawn(spot: Spot, part: Part, draw: random.Random, spread: float) -> Any:
    value, place = spot.value, spot.place
    if isinstance(value, bool):
        return not value
    if options := place.choices():
        return draw.choice(options)
    if designation := place.mark(Designation):
        return draw.choice(SWAPS.get(designation.kind.__name__, (None,)))
    if value is not None and (vector := place.mark(Vector)):
        moved = [float(one) * draw.uniform(1.0 - spread, 1.0 + spread) for one in value]
        return [_quantity(one, Quantity(vector.kind)) for one in moved]
    if spot.quantity and (value is None or isinstance(value, float)):
        factor = draw.choice([draw.uniform(1.0 - spread, 1.0 + spread), draw.uniform(0.3, 2.0)])
        usual = draw.uniform(0.2, 3.0) if value is not None else draw.uniform(0.5, 30.0)
        return _quantity((value or usual) * factor, spot.quantity)
    others = seen(part.family).get(tuple(one for one in spot.path if isinstance(one, str)), [])
    if sizes := SIZES.get(str(spot.path[-1])):
        others = [*others, *sizes]
    return copy.deepcopy(draw.choice(others)) if others else None


ODD = (0.0, 1e-9, 1e-3, 0.1, 1.0, 25.0, 100.0, 1e3, 1e5, 1e9, -1.0, -25.0, -1e3)
ODD_ANGLES = (0.0, 1e-6, 0.1, 45.0, 89.9999, 90.0, 180.0, 270.0, 360.0)


def mutated(part: Part, draw: random.Random) -> dict[str, Any]:
    """A part as its file states it, with one to three values that nobody would mean, and other choices beside them."""
    data = stated(part)
    every = list(spots(part))
    for spot in draw.sample(every, min(3, len(every))):
        _try_to_put(data, spot.path, _drawn(spot, part, draw, 0.5))
    sizes = [one for one in every if one.quantity and one.value is not None]
    for spot in draw.sample(sizes, draw.choice([1, 1, 2, 3])):
        angle = spot.quantity is not None and spot.quantity.kind is ANGLE
        value = draw.choice(ODD_ANGLES if angle else ODD) * draw.choice([1.0, 0.37])
        _try_to_put(data, spot.path, f"{value!r} deg" if angle else _quantity(value, spot.quantity))
    return data


def _try_to_put(data: Any, path: tuple[str | int, ...], value: Any) -> None:
    with suppress(KeyError, TypeError, IndexError):  # it lies within what another draw took away
        put(data, path, value)


TRIES = 200
"""Valid are some two draws of three; of a part that none of so many is valid of, something is wrong."""


def valid_part(
    draw: random.Random, number: int, spread: float = 0.2
) -> tuple[dict[str, Any], Part]:
    """A valid part and what its file states; each family has its turn, and in it each option.

    Raises:
        RuntimeError: no draw of an option is valid.
    """
    every = list(drawn_from().values())
    turn, which = divmod(number, len(every))
    part = every[which][turn % len(every[which])]
    for _ in range(TRIES):
        data = changed(part, draw, draw.randint(1, 6), spread)
        with suppress(ValidationError):
            return data, type(part).model_validate(data)
    raise RuntimeError(f"no valid part is drawn of {part.family} {part.name}: {stated(part)}")


def valid_parts(
    draw: random.Random, wanted: int, spread: float = 0.2
) -> Iterator[tuple[dict[str, Any], Part]]:
    """As many valid parts as are wanted, each with what its file states."""
    return (valid_part(draw, number, spread) for number in range(wanted))
