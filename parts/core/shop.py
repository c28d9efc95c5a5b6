"""What the builder wants of the shop: how drawings are laid out, flat blanks cut, parts milled, fit-up prints made."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from pydantic import Field, field_validator

from parts.core.group import Group
from parts.inputs.designations import DrillName, MaterialName, ThreadName
from parts.inputs.quantities import (
    Angle,
    Length,
    NonNegativeLength,
    Point2,
    Point3,
    PositiveLength,
    PositiveRatio,
)
from parts.standards.materials.materials import Material, canonical_names, material

Sheet = Literal["A4", "A3", "A2", "letter", "tabloid"]


class Drawing(Group):
    """How the shop drawing is laid out."""

    sheet: Sheet | None = Field(
        None,
        description="Sheet; the smallest of A4, A3 and A2 that shows the part well where left out.",
    )
    projection: Literal["first angle", "third angle"] = Field(
        "third angle", description="Where the views stand about the front view."
    )
    units: Literal["mm", "in", "both"] = Field(
        "mm", description="Units of the dimensions; both writes inches in brackets behind mm."
    )
    weld_symbols: Literal["ISO 2553", "AWS A2.4"] = Field(
        "ISO 2553", description="Standard of the symbols of welds on assembly sheets."
    )
    tolerance: str = Field(
        "ISO 2768-mK",
        min_length=1,
        max_length=120,
        description="General tolerance: a class of ISO 2768, or your own statement.",
    )


Process = Literal["waterjet", "laser"]


class Cutting(Group):
    """How a flat blank is cut."""

    process: Process = Field("waterjet", description="What cuts the blank.")
    sheet: Point2 = Field((1000.0, 500.0), description="Length and width of the sheet.")
    copies: int = Field(1, ge=1, le=500, description="How many of the part are cut.")
    spacing: PositiveLength = Field(
        5.0, description="Left between the blanks, and to the edge of the sheet."
    )
    pilot_under: NonNegativeLength = Field(
        1.0, description="How much smaller a hole is cut that is drilled, reamed or tapped after."
    )


class Milling(Group):
    """How a part is milled."""

    geometry: Literal["nominal", "mid-tolerance"] = Field(
        "nominal",
        description="Bores with a fit at their nominal size, or in the middle of their limits.",
    )
    end_mills: list[PositiveLength] = Field(
        default_factory=list,
        max_length=60,
        description="End mills in the drawer; those on sale where left out, metric or inch as the drawing is.",
    )
    drills: list[DrillName] = Field(
        default_factory=list,
        max_length=300,
        description="Drills in the drawer by name, as 8.5 mm, 3/8, #7 or Q; those on sale where left out.",
    )
    reamers: list[PositiveLength] = Field(
        default_factory=list,
        max_length=100,
        description="Reamers in the drawer; half millimetres and 64ths of an inch where left out.",
    )
    taps: list[ThreadName] = Field(
        default_factory=list,
        max_length=100,
        description="Taps in the drawer by their threads, as M8x1 LH or 3/8-24; any where left out.",
    )
    saws: list[PositiveLength] = Field(
        default_factory=list,
        max_length=40,
        description="Slitting saws in the drawer by their widths; any where left out.",
    )
    beyond_thread: float = Field(
        2.0,
        ge=1.0,
        le=10.0,
        description="Full diameter drilled beyond a thread that ends in metal, in pitches: what the tap's lead takes.",
    )
    reach: float = Field(
        4.0,
        ge=1.0,
        le=20.0,
        description="How deep an end mill cuts, in diameters; common practice.",
    )
    drill_depth: float = Field(
        8.0,
        ge=1.0,
        le=60.0,
        description="How deep a twist drill goes, in diameters; common practice.",
    )
    least_wall: NonNegativeLength = Field(
        1.0, description="Thinnest wall or floor that stands up to the cutter."
    )
    allowance: NonNegativeLength = Field(
        1.5, description="Left on every side of the stock for squaring up."
    )


Up = Literal["+x", "-x", "+y", "-y", "+z", "-z"]
PRINTER = Path("params/printer.yaml")
"""Where the builder's own printer is looked for, from the folder in which the command is given."""


class PrintFit(Group):
    """Fit-up print; whatever is left out comes from the printer's own file, then from common practice."""

    plastic: MaterialName | None = Field(None, description="Plastic that it is printed from; PLA.")
    bed: Point3 | None = Field(
        None, description="Room of the printer: x, y and height; 220 x 220 x 250 mm."
    )
    hole_allowance: Length | None = Field(
        None, description="Added to the diameter of every hole, as the gauge finds it; 0.3 mm."
    )
    shrink: float | None = Field(
        None, ge=0.0, le=0.05, description="Linear shrinkage as a share; that of the plastic."
    )
    deposition: float | None = Field(
        None, gt=0.0, le=200.0, description="Plastic laid down, in mm^3 a second; 8."
    )
    fill: PositiveRatio | None = Field(
        None, le=1.0, description="Share of the volume that is filled, walls included; 0.4."
    )
    tapped: Literal["clearance", "pilot", "insert"] | None = Field(
        None,
        description="Tapped holes: clear the bolt, small enough to tap, or for a heat-set insert.",
    )
    teardrop: bool | None = Field(
        None, description="A pointed roof on holes that lie across the layers; true."
    )
    overhang: Angle | None = Field(
        None, description="Steepest lean from upright that prints without support; 45 deg."
    )
    foot_chamfer: NonNegativeLength | None = Field(
        None,
        description="Chamfer where the print stands on the bed, whose first layer spreads; 0.4 mm.",
    )
    up: Up | None = Field(
        None, description="Direction of the part that points up; the one with least overhang."
    )
    keys: Literal["dowel", "dovetail"] | None = Field(
        None, description="What locates the halves of a print that is split to fit the bed; dowel."
    )
    key_clearance: NonNegativeLength | None = Field(
        None, description="Clearance of those keys in their sockets, all round; 0.15 mm."
    )

    @field_validator("plastic")
    @classmethod
    def _is_printed(cls, value: Material | None) -> Material | None:
        if value is not None and not value.fit_up_only:
            known = [name for name in canonical_names() if material(name).fit_up_only]
            raise ValueError(f"{value.name} is not printed here; right are {', '.join(known)}")
        return value

    @field_validator("bed")
    @classmethod
    def _has_room(
        cls, value: tuple[float, float, float] | None
    ) -> tuple[float, float, float] | None:
        if value is not None and min(value) < 40.0:
            raise ValueError("a bed is at least 40 mm each way; check the unit of this value")
        return value

    @field_validator("hole_allowance")
    @classmethod
    def _is_small(cls, value: float | None) -> float | None:
        if value is not None and abs(value) > 1.5:
            raise ValueError("no printer is off by more than 1.5 mm; check the unit of this value")
        return value
