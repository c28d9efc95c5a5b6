"""Types for the dimensions of a part, for use in pydantic models: `Length`, `Force`, `Point3` ...

A field so typed takes what a builder writes (`12 mm`, `1-1/4 in`, `250 lbf`, `30 deg`, or a bare
number in the unit the file declares) and holds a float in mm, N, N*mm, MPa, kg or radians. Defaults
written in a model are not parsed: write them in those inside units.

Bare numbers: with the validation context `{"units": Units(...)}` they are in the units declared
there, and refused where none is declared. Without a context (a model made from Python) they are in
mm, N, N*mm, MPa, kg and, for angles, degrees.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo
from pydantic_core import PydanticCustomError, core_schema

from parts.inputs.shown import as_fraction, show
from parts.inputs.units import (
    ANGLE,
    FORCE,
    LENGTH,
    MASS,
    MOMENT,
    RATIO,
    STRESS,
    BadQuantity,
    Kind,
    Units,
    read_number,
)

__all__ = [
    "Angle",
    "BadQuantity",
    "Direction",
    "Force",
    "ForceVector",
    "Length",
    "Mass",
    "Moment",
    "MomentVector",
    "NonNegativeForce",
    "NonNegativeLength",
    "NonNegativeMass",
    "NonNegativeMoment",
    "NonNegativeRatio",
    "NonNegativeStress",
    "Point2",
    "Point3",
    "PositiveForce",
    "PositiveLength",
    "PositiveMass",
    "PositiveMoment",
    "PositiveRatio",
    "PositiveStress",
    "Quantity",
    "Ratio",
    "Stress",
    "Units",
    "Vector",
    "as_fraction",
    "show",
]

PYTHON_UNITS = Units(length="mm", force="N", moment="N*mm", stress="MPa", mass="kg", angle="deg")

_JSON_NUMBER = (
    r"[+-]?(([0-9]+(-| +))?[0-9]+/[0-9]+|([0-9]+(\.[0-9]*)?|\.[0-9]+)([eE][+-]?[0-9]{1,3})?)"
)
_JSON_UNIT = r" *[A-Za-zµμ°\"'″′”’][^0-9]*([23]|\^2)?"


def _units(info: ValidationInfo) -> Units | None:
    context = info.context
    if isinstance(context, dict) and "units" in context:
        units = context["units"]
        assert units is None or isinstance(units, Units)
        return units
    return PYTHON_UNITS


def _custom(code: str, wrong: str, right: str) -> PydanticCustomError:
    return PydanticCustomError(code, "{wrong}; {right}", {"wrong": wrong, "right": right})


@dataclass(frozen=True)
class Quantity:
    """Makes a float field of a model a quantity. `sign` is "", "positive" or "not negative"."""

    kind: Kind
    sign: str = ""

    def read(self, value: object, info: ValidationInfo) -> float:
        try:
            number = read_number(value, self.kind, _units(info))
        except BadQuantity as bad:
            raise _custom(bad.code, bad.wrong, bad.right) from None
        if (self.sign == "positive" and number <= 0.0) or (self.sign and number < 0.0):
            least = "more than 0" if self.sign == "positive" else "0 or more"
            said = "is nothing" if number == 0.0 else "is negative"
            raise _custom("wrong_sign", f"this {self.kind.name} {said}", f"write {least}")
        return number

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        # The handler's schema carries the limits that a field adds, as in `Field(gt=5.0)`.
        return core_schema.with_info_before_validator_function(self.read, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return self.json_schema()

    def json_schema(self) -> dict[str, Any]:
        number: dict[str, Any] = {"type": "number"}
        if self.sign:
            number["exclusiveMinimum" if self.sign == "positive" else "minimum"] = 0
        unit = "" if self.kind is RATIO else f"({_JSON_UNIT})?"
        text = {
            "type": "string",
            "pattern": f"^ *{_JSON_NUMBER}{unit} *$",
            "examples": [*self.kind.examples],
        }
        return {"anyOf": [number, text], "examples": [self.kind.examples[0]]}


@dataclass(frozen=True)
class Vector:
    """Makes a field a list of quantities, or a mapping by axis where a missing axis is 0."""

    kind: Kind
    axes: str

    def read(self, value: object) -> object:
        example = ", ".join([self.kind.examples[0], *["0"] * (len(self.axes) - 1)])
        right = f"write [{example}] or {{{self.axes[0]}: {self.kind.examples[0]}}}"
        if isinstance(value, dict):
            strange = [str(key) for key in value if key not in (*self.axes,)]
            if strange:
                named = ", ".join(self.axes[:-1]) + f" and {self.axes[-1]}"
                raise _custom(
                    "unknown_axis", f"`{strange[0]}` is no axis; the axes are {named}", right
                )
            if not value:
                raise _custom("not_a_vector", "no axis is given", right)
            return [value.get(axis, 0.0) for axis in self.axes]
        if isinstance(value, str) or not hasattr(value, "__len__"):
            raise _custom("not_a_vector", f"one value where {len(self.axes)} are needed", right)
        if len(value) != len(self.axes):
            raise _custom(
                "not_a_vector", f"{len(value)} values where {len(self.axes)} are needed", right
            )
        return value

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        return core_schema.no_info_before_validator_function(self.read, handler(source))

    def __get_pydantic_json_schema__(
        self, schema: core_schema.CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        one, count = Quantity(self.kind).json_schema(), len(self.axes)
        listed = {"type": "array", "items": one, "minItems": count, "maxItems": count}
        named = {
            "type": "object",
            "properties": {axis: one for axis in self.axes},
            "additionalProperties": False,
            "minProperties": 1,
        }
        return {"anyOf": [listed, named]}


_LENGTH, _FORCE, _MOMENT = Quantity(LENGTH), Quantity(FORCE), Quantity(MOMENT)
_STRESS, _MASS, _RATIO = Quantity(STRESS), Quantity(MASS), Quantity(RATIO)


def _positive(quantity: Quantity) -> Quantity:
    return replace(quantity, sign="positive")


def _not_negative(quantity: Quantity) -> Quantity:
    return replace(quantity, sign="not negative")


Length = Annotated[float, _LENGTH]  # [mm]
PositiveLength = Annotated[float, _positive(_LENGTH)]  # [mm]
NonNegativeLength = Annotated[float, _not_negative(_LENGTH)]  # [mm]
Force = Annotated[float, _FORCE]  # [N]
PositiveForce = Annotated[float, _positive(_FORCE)]  # [N]
NonNegativeForce = Annotated[float, _not_negative(_FORCE)]  # [N]
Moment = Annotated[float, _MOMENT]  # [N*mm]
PositiveMoment = Annotated[float, _positive(_MOMENT)]  # [N*mm]
NonNegativeMoment = Annotated[float, _not_negative(_MOMENT)]  # [N*mm]
Stress = Annotated[float, _STRESS]  # [MPa]
PositiveStress = Annotated[float, _positive(_STRESS)]  # [MPa]
NonNegativeStress = Annotated[float, _not_negative(_STRESS)]  # [MPa]
Mass = Annotated[float, _MASS]  # [kg]
PositiveMass = Annotated[float, _positive(_MASS)]  # [kg]
NonNegativeMass = Annotated[float, _not_negative(_MASS)]  # [kg]
Angle = Annotated[float, Quantity(ANGLE)]  # [rad]; bare numbers of a builder are degrees
Ratio = Annotated[float, _RATIO]  # [-]
PositiveRatio = Annotated[float, _positive(_RATIO)]  # [-]
NonNegativeRatio = Annotated[float, _not_negative(_RATIO)]  # [-]

ForceVector = Annotated[tuple[Force, Force, Force], Vector(FORCE, "xyz")]  # [N]
MomentVector = Annotated[tuple[Moment, Moment, Moment], Vector(MOMENT, "xyz")]  # [N*mm]
Direction = Annotated[tuple[Ratio, Ratio, Ratio], Vector(RATIO, "xyz")]  # [-]
Point3 = Annotated[tuple[Length, Length, Length], Vector(LENGTH, "xyz")]  # [mm]
Size3 = Annotated[
    tuple[PositiveLength, PositiveLength, PositiveLength], Vector(LENGTH, "xyz")
]  # [mm]
Point2 = Annotated[tuple[Length, Length], Vector(LENGTH, "xy")]  # [mm]
