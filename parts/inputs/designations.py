"""Field types that take a designation as the shop writes it and give the row of its table.

Each accepts the designation as text (or a number, where that is how it is written: `bearing: 6202`), or a
row already looked up. A designation that no table holds is refused by the table, with what stands nearest.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic_core import core_schema

from parts.inputs.quantities import Quantity
from parts.inputs.units import LENGTH
from parts.standards.bearings.bearings import BallBearing, ThrustNeedle, bearing, thrust_needle
from parts.standards.bearings.sphericals import Spherical, spherical
from parts.standards.fasteners.fasteners import Bolt, bolt
from parts.standards.materials.materials import Material, material
from parts.standards.rod_ends.rod_ends import RodEnd, rod_end
from parts.standards.splines.splines import Spline, spline
from parts.standards.stock.stock import SHAPES, Stock, box, stock
from parts.standards.threads.drills import Drill, drill
from parts.standards.threads.threads import Thread, thread


@dataclass(frozen=True)
class Designation:
    """Makes a field a row of a table: `look_up` finds it, `name` gives its designation back."""

    kind: type
    look_up: Callable[[str], Any]
    name: Callable[[Any], str]
    example: str

    def read(self, value: object) -> Any:
        if isinstance(value, self.kind):
            return value
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            raise ValueError(f"this is no designation; write one as text, as in `{self.example}`")
        return self.look_up(str(value).strip())

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(
            self.read,
            serialization=core_schema.plain_serializer_function_ser_schema(self.name),
        )

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"type": ["string", "number"], "examples": [self.example]}


ROW_LENGTHS: Mapping[type, tuple[str, ...]] = {
    BallBearing: ("bore", "outside", "width"),
    Bolt: ("length", "grip", "shank", "wrench"),
    RodEnd: ("bore", "ball_width", "ball_diameter", "head_width", "head_diameter", "length"),
    Spherical: ("bore", "outside", "ball_width", "ring_width"),
    Spline: ("pitch_diameter", "major_internal", "minor_internal", "major_external"),
    Stock: ("width_mm", "height_mm", "wall_mm"),
    Thread: ("major", "pitch", "pitch_diameter", "minor_external", "minor_internal"),
    ThrustNeedle: ("bore", "outside"),
}
"""The lengths [mm] of a row that another part may take from it by name."""


def _tube(text: str) -> Stock:
    return stock(text, shape="round tube")


def _hollow(text: str) -> Stock:
    found = stock(text)
    if found.shape == "rectangular tube":
        return box(text)
    if found.shape in ("round tube", "square tube"):
        return found
    raise ValueError(f"a {found.shape} is no tube; write outside and wall, or two sides and wall")


@dataclass(frozen=True)
class StockSize(Quantity):
    """A length that may be written as a size of stock, as in `plate 0.090 in`; a list must hold that size."""

    shape: str = ""
    example: str = ""

    def read(self, value: object, info: ValidationInfo) -> float:
        if not isinstance(value, str) or not self._names_its_shape(value):
            return super().read(value, info)
        return stock(value, shape=self.shape, must_be_stock=True).width_mm

    def _names_its_shape(self, text: str) -> bool:
        return text.casefold().lstrip().startswith((self.shape, *SHAPES[self.shape]))

    def json_schema(self) -> dict[str, Any]:
        schema = super().json_schema()
        words = "|".join(sorted((self.shape, *SHAPES[self.shape]), key=len, reverse=True))
        named = {"type": "string", "pattern": f"^ *({words}) +[0-9]", "examples": [self.example]}
        return schema | {"anyOf": [*schema["anyOf"], named]}


PlateThickness = Annotated[
    float, StockSize(LENGTH, "positive", shape="plate", example="plate 0.090 in")
]
"""A thickness [mm], or a plate or sheet that can be bought."""
AcrossFlats = Annotated[float, StockSize(LENGTH, "positive", shape="hex bar", example="hex 19 mm")]
"""A width across flats [mm], or a hexagonal bar that can be bought."""
DrillName = Annotated[Drill, Designation(Drill, drill, lambda one: one.name, "8.5 mm")]
MaterialName = Annotated[
    Material, Designation(Material, material, lambda m: m.name, "Ti-6Al-4V annealed")
]
"""A material by name and condition."""
ThreadName = Annotated[
    Thread, Designation(Thread, thread, lambda t: t.designation, "3/8-24 UNF LH")
]
"""A screw thread by its standard designation."""
RodEndName = Annotated[
    RodEnd, Designation(RodEnd, rod_end, lambda r: r.designation, "3/8-24 male LH")
]
"""A rod end by its size, gender and hand."""
SphericalName = Annotated[
    Spherical, Designation(Spherical, spherical, lambda s: s.designation, "10 mm spherical")
]
"""A radial spherical plain bearing by its bore."""
BearingName = Annotated[
    BallBearing, Designation(BallBearing, bearing, lambda b: b.designation, "6202-2RS")
]
"""A deep-groove ball bearing by its number."""
ThrustName = Annotated[
    ThrustNeedle, Designation(ThrustNeedle, thrust_needle, lambda b: b.designation, "AXK 1528")
]
"""A needle thrust bearing by its number."""
SplineName = Annotated[
    Spline, Designation(Spline, spline, lambda s: s.designation, "48 teeth 1 in")
]
"""An involute spline by its teeth and size."""
TubeName = Annotated[Stock, Designation(Stock, _tube, lambda s: s.name, "1-1/4 in x 0.065 in")]
"""A round tube by outside diameter and wall."""
BoxName = Annotated[Stock, Designation(Stock, box, lambda s: s.name, "40 x 20 x 2 mm")]
"""A square or rectangular tube by its sides and wall."""
HollowName = Annotated[Stock, Designation(Stock, _hollow, lambda s: s.name, "1-1/4 in x 0.065 in")]
"""A round tube by outside diameter and wall, or a square or rectangular one by its sides and wall."""
BoltName = Annotated[Bolt, Designation(Bolt, bolt, lambda b: b.designation, "M8x30 8.8")]
"""A bolt or screw by thread, length and class, or by its part number."""
