"""Clevis pins ISO 2341, dowel pins ISO 8734 and slotted spring pins ISO 8752. Lengths in mm, forces in N."""

from __future__ import annotations

import re
from functools import cache
from typing import NamedTuple

from parts.standards.designation import Row, UnknownDesignation, nearest_sizes, read_table
from parts.standards.fasteners.bolt_form import BoltClass

# Commercial lengths of both standards run in these steps: up to each limit, by each step [mm].
_LENGTH_STEPS = ((32, 2), (35, 3), (100, 5), (200, 20))

CLEVIS_PIN_STEEL = BoltClass(
    "ISO 2341 steel",
    ultimate=400.0,
    yield_strength=240.0,
    shear=230.0,
    source="ISO 2341: free-cutting steel of 125 to 245 HV, as published; 125 HV is about 400 MPa by ISO 18265, "
    "from memory; yield 0.6 and shear 1/sqrt(3) of that, common practice, no source",
)
"""The least that a clevis pin of the standard's steel bears."""

DOWEL_PIN_STEEL = BoltClass(
    "ISO 8734 steel",
    ultimate=1500.0,
    yield_strength=1125.0,
    shear=1040.0,
    source="ASME B18.8.5M: alloy steel, core of 47 to 58 HRC, single shear of 1040 MPa or more, as in a published "
    "maker's table; 47 HRC is about 1500 MPa, from memory; yield 0.75 of that, common practice, no source",
)
"""The least that a dowel pin of the standard's steel bears."""

# Longest usual length as a multiple of the diameter: common practice, no source.
_SLENDEREST = 20.0


def pin_lengths() -> tuple[int, ...]:
    """Commercial lengths [mm] of both standards: 6 to 32 by 2, 35 to 100 by 5, then by 20."""
    lengths = [6]
    for limit, step in _LENGTH_STEPS:
        while lengths[-1] + step <= limit:
            lengths.append(lengths[-1] + step)
    return tuple(lengths)


class ClevisPin(NamedTuple):
    """A headed clevis pin with a split-pin hole, ISO 2341 form B. Lengths in mm.

    Attributes:
        diameter: tolerance h11.
        length: under the head.
        hole: diameter for the split pin; 0 in form A, which has none.
        hole_to_end: from the hole's centre to the end, least.
    """

    form: str
    diameter: float
    length: float
    head_diameter: float
    head_height: float
    hole: float
    hole_to_end: float
    source: str
    strength: BoltClass = CLEVIS_PIN_STEEL

    @property
    def designation(self) -> str:
        """The name that `clevis_pin` reads back."""
        return f"ISO 2341 {self.form} {self.diameter:g} x {self.length:g}"

    @property
    def grip(self) -> float:
        """Longest stack between the head and the near side of the split pin [mm], washer included."""
        return self.length - self.hole_to_end - 0.5 * self.hole


class SpringPin(NamedTuple):
    """A slotted spring pin, heavy, ISO 8752. Lengths in mm, `double_shear` in N at its least.

    The hole is the nominal diameter, tolerance H12.
    """

    nominal: float
    length: float
    free_min: float
    free_max: float
    wall: float
    double_shear: float
    source: str

    @property
    def designation(self) -> str:
        """The name that `spring_pin` reads back."""
        return f"ISO 8752 {self.nominal:g} x {self.length:g}"


class DowelPin(NamedTuple):
    """A hardened and ground parallel pin, ISO 8734, tolerance m6. Lengths in mm, `double_shear` in N at its least."""

    nominal: float
    length: float
    least: float
    largest: float
    double_shear: float
    source: str
    strength: BoltClass = DOWEL_PIN_STEEL

    @property
    def diameter(self) -> float:
        """Nominal diameter [mm], as other pins state it."""
        return self.nominal

    @property
    def designation(self) -> str:
        """The name that `dowel_pin` reads back."""
        return f"ISO 8734 {self.nominal:g} x {self.length:g}"


def _read(kind: str, designation: str, pattern: str, example: str) -> tuple[str, float, float]:
    found = re.fullmatch(pattern, designation.strip(), re.I)
    if not found:
        raise UnknownDesignation(
            kind, designation, "right would be diameter x length in mm", [example]
        )
    return (found["form"] or "").upper(), float(found["d"]), float(found["l"])


@cache
def _rows(table: str, column: str) -> dict[float, Row]:
    return {float(row[column]): row for row in read_table(table)}


def _checked(
    kind: str, designation: str, prefix: str, rows: dict[float, Row], size: tuple[float, float]
) -> Row:
    """The row of a diameter whose length is made, or the refusal."""
    diameter, length = size
    if diameter not in rows:
        sizes = {f"{prefix} {known:g} x {length:g}": known for known in rows}
        raise UnknownDesignation(
            kind, designation, "that diameter is not made", nearest_sizes(diameter, sizes)
        )
    able = [known for known in pin_lengths() if known <= _SLENDEREST * diameter]
    if length not in able:
        sizes = {f"{prefix} {diameter:g} x {known}": float(known) for known in able}
        raise UnknownDesignation(
            kind, designation, "that length is not a standard one", nearest_sizes(length, sizes)
        )
    return rows[diameter]


_SIZE = r"(?P<d>\d+(?:\.\d+)?)\s*(?:mm)?\s*x\s*(?P<l>\d+(?:\.\d+)?)\s*(?:mm)?"


def clevis_pin(designation: str) -> ClevisPin:
    """The clevis pin of "8 x 40" or "ISO 2341 B 8 x 40"; form B, with hole, where none is said.

    Raises:
        UnknownDesignation: when its diameter or length is not standard, or is too short for the hole.
    """
    form, diameter, length = _read(
        "clevis pin",
        designation,
        rf"(?:iso\s*2341[\s\-]*)?(?P<form>[ab]\b)?[\s\-]*{_SIZE}",
        "ISO 2341 B 8 x 40",
    )
    form = form or "B"
    rows = _rows("clevis_pins", "diameter_mm")
    row = _checked("clevis pin", designation, f"ISO 2341 {form}", rows, (diameter, length))
    hole, to_end = float(row["hole_mm"]), float(row["hole_to_end_mm"])
    if length <= to_end + hole:
        able = [known for known in pin_lengths() if known > to_end + hole]
        raise UnknownDesignation(
            "clevis pin",
            designation,
            "it is too short for its split-pin hole",
            [f"ISO 2341 {form} {diameter:g} x {able[0]}"],
        )
    return ClevisPin(
        form=form,
        diameter=diameter,
        length=length,
        head_diameter=float(row["head_diameter_mm"]),
        head_height=float(row["head_mm"]),
        hole=hole if form == "B" else 0.0,
        hole_to_end=to_end if form == "B" else 0.0,
        source=row["source"],
    )


def spring_pin(designation: str) -> SpringPin:
    """The spring pin of "4 x 24" or "ISO 8752 4 x 24".

    Raises:
        UnknownDesignation: when its diameter or length is not standard.
    """
    _, diameter, length = _read(
        "spring pin",
        designation,
        rf"(?:iso\s*8752[\s\-]*)?(?P<form>)?{_SIZE}",
        "ISO 8752 4 x 24",
    )
    rows = _rows("spring_pins", "nominal_mm")
    row = _checked("spring pin", designation, "ISO 8752", rows, (diameter, length))
    return SpringPin(
        nominal=diameter,
        length=length,
        free_min=float(row["free_min_mm"]),
        free_max=float(row["free_max_mm"]),
        wall=float(row["wall_mm"]),
        double_shear=1e3 * float(row["double_shear_kN"]),
        source=row["source"],
    )


def dowel_pin(designation: str) -> DowelPin:
    """The dowel pin of "5 x 32" or "ISO 8734 5 x 32".

    Raises:
        UnknownDesignation: when its diameter or length is not standard.
    """
    _, diameter, length = _read(
        "dowel pin",
        designation,
        rf"(?:(?:iso\s*8734|din\s*6325)[\s\-]*)?(?P<form>)?{_SIZE}",
        "ISO 8734 5 x 32",
    )
    rows = _rows("dowel_pins", "nominal_mm")
    row = _checked("dowel pin", designation, "ISO 8734", rows, (diameter, length))
    return DowelPin(
        nominal=diameter,
        length=length,
        least=float(row["min_mm"]),
        largest=float(row["max_mm"]),
        double_shear=1e3 * float(row["double_shear_kN"]),
        source=row["source"],
    )
