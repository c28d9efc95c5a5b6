"""Circlips: DIN 472 in bores, DIN 471 on shafts, with their grooves. Lengths in mm."""

from __future__ import annotations

import re
from functools import cache
from typing import Literal, NamedTuple

from parts.standards.designation import UnknownDesignation, nearest_sizes, read_table
from parts.standards.fits.iso286 import Limits, class_limits

Side = Literal["bore", "shaft"]

GROOVE_WIDTH_CLASS = "H13"
"""Tolerance class of the width of a groove; DIN 471 and DIN 472."""

_STANDARD: dict[Side, str] = {"bore": "DIN 472", "shaft": "DIN 471"}


class Circlip(NamedTuple):
    """A circlip of normal type and its groove. Lengths in mm.

    Attributes:
        nominal: diameter of the bore or the shaft.
        groove: groove diameter, `groove_tolerance` its class.
        thickness: of the ring.
        groove_width: least, `GROOVE_WIDTH_CLASS`.
    """

    side: Side
    nominal: float
    groove: float
    groove_tolerance: str
    thickness: float
    groove_width: float
    source: str

    @property
    def designation(self) -> str:
        """The name that `circlip` reads back."""
        return f"{_STANDARD[self.side]} {self.nominal:g} x {self.thickness:g}"

    @property
    def groove_depth(self) -> float:
        """Depth of the groove [mm]."""
        return 0.5 * abs(self.groove - self.nominal)

    def groove_limits(self) -> tuple[Limits, Limits]:
        """Limits of the groove's diameter and of its width."""
        return (
            class_limits(self.groove_tolerance, self.groove),
            class_limits(GROOVE_WIDTH_CLASS, self.groove_width),
        )

    @property
    def edge_margin(self) -> float:
        """Least wall between groove and the end of the bore or shaft [mm]: three groove depths."""
        return 3.0 * self.groove_depth


@cache
def _table() -> dict[tuple[Side, float], Circlip]:
    table: dict[tuple[Side, float], Circlip] = {}
    for row in read_table("circlips"):
        side: Side = "bore" if row["side"] == "bore" else "shaft"
        nominal = float(row["nominal_mm"])
        table[side, nominal] = Circlip(
            side=side,
            nominal=nominal,
            groove=float(row["groove_mm"]),
            groove_tolerance=row["groove_tolerance"],
            thickness=float(row["ring_mm"]),
            groove_width=float(row["groove_width_mm"]),
            source=row["source"],
        )
    return table


def circlips(side: Side = "bore") -> tuple[Circlip, ...]:
    """Every circlip for bores or for shafts."""
    return tuple(part for part in _table().values() if part.side == side)


_NAME = re.compile(
    r"(?:din\s*(471|472)[\s\-]*)?(\d+(?:\.\d+)?)(?:\s*mm)?(?:\s*x\s*(\d+(?:\.\d+)?))?", re.I
)


def circlip(nominal: float | str, side: Side = "bore") -> Circlip:
    """The circlip for a bore (or a shaft) of `nominal` mm, or by name: "DIN 472 35 x 1.5".

    Raises:
        UnknownDesignation: when there is none for that diameter or of that thickness.
    """
    found = _NAME.fullmatch(f"{nominal:g}" if isinstance(nominal, int | float) else nominal.strip())
    if not found:
        raise UnknownDesignation(
            "circlip", nominal, "right would be a diameter in mm", ["DIN 472 35 x 1.5"]
        )
    if found[1]:
        side = "bore" if found[1] == "472" else "shaft"
    diameter = float(found[2])
    part = _table().get((side, diameter))
    if part is None:
        sizes = {known.designation: known.nominal for known in circlips(side)}
        raise UnknownDesignation(
            "circlip",
            nominal,
            f"{_STANDARD[side]} has none for a {side} of {diameter:g} mm in this table",
            nearest_sizes(diameter, sizes),
        )
    if found[3] and float(found[3]) != part.thickness:
        raise UnknownDesignation(
            "circlip",
            nominal,
            f"the normal type for {diameter:g} mm is {part.thickness:g} mm thick",
            [part.designation],
        )
    return part
