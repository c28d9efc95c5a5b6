"""Field types that take a designation as the shop writes it and give the row of its table.

Each accepts the designation as text (or a number, where that is how it is written: `bearing: 6202`), or a
row already looked up. A designation that no table holds is refused by the table, with what stands nearest.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any

from pydantic import BeforeValidator, PlainSerializer, WithJsonSchema

from parts.standards.materials import Material, material
from parts.standards.threads import Thread, thread


def _resolved(kind: type, look_up: Callable[[str], Any]) -> Callable[[Any], Any]:
    def resolve(value: Any) -> Any:
        if isinstance(value, kind):
            return value
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            raise ValueError(f"a designation is one piece of text, not {type(value).__name__}")
        return look_up(str(value).strip())

    return resolve


def _schema(example: str) -> WithJsonSchema:
    return WithJsonSchema({"type": ["string", "number"], "examples": [example]})


MaterialName = Annotated[
    Material,
    BeforeValidator(_resolved(Material, material)),
    PlainSerializer(lambda row: row.name),
    _schema("Ti-6Al-4V annealed"),
]
"""A material by name and condition."""

ThreadName = Annotated[
    Thread,
    BeforeValidator(_resolved(Thread, thread)),
    PlainSerializer(lambda row: row.designation),
    _schema("3/8-24 UNF LH"),
]
"""A screw thread by its standard designation."""

try:
    from parts.standards.rodends import RodEnd, rod_end
    RodEndName = Annotated[RodEnd, BeforeValidator(_resolved(RodEnd, rod_end)), PlainSerializer(lambda r: r.designation), _schema("3/8-24 male LH")]
except ImportError:
    RodEndName = Any
