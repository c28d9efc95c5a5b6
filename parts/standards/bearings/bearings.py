"""Bearings by designation: ball bearings of ISO 15 and inch series R, needle thrust, flanged
bushes.

Each data file `bearings_<series>.csv` is one series; a further one is found by its name alone.
`bearing("6202-2RS")`, `bearing("R8")`, `thrust_needle("AXK 1528")`, `flanged_bush("12 x 15")`.
Lengths in mm, forces in N.

Ratings are those of `parts.strength.bearings.ball_bearing`, imported where they are asked for, so that reading a
designation does not wait for numpy.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise
from typing import Literal, NamedTuple

from parts.standards.designation import (
    DATA,
    MM_PER_INCH,
    Row,
    UnknownDesignation,
    data_files,
    nearest_names,
    nearest_sizes,
    read_table,
)

Closure = Literal["open", "seal", "shield"]
Load = Literal["inner rotates", "outer rotates"]

# Suffixes for closures, one or both sides; "C3" is a clearance. What is said is kept.
_CLOSURES: dict[str, Closure] = {
    "RS": "seal", "2RS": "seal", "Z": "shield", "ZZ": "shield", "2Z": "shield",
}  # fmt: skip
_CLEARANCES = ("C2", "CN", "C3", "C4", "C5")

# The lands of both rings end about this share of (outside - bore) off the pitch circle: common
# practice, no source; a little within what catalogues measure.
_LAND_SHARE = 0.20

RATING_NOTE = (
    "Ball size and number are estimated from the boundary dimensions, so every rating is generic; "
    "the maker's rating governs."
)

# Usual seats for normal load: shaft tolerance by bore, housing tolerance.
FITS_SOURCE = "common catalogue practice (compare ISO 286 classes); normal load, steel shaft"


class Abutment(NamedTuple):
    """The seat beside a bearing, in mm.

    Attributes:
        fillet_max: largest fillet radius of shaft and housing.
        shaft_min, shaft_max: diameter of the shaft's shoulder; `shaft_max` is a generic estimate of
            where the inner ring ends.
        housing_min, housing_max: diameter of the housing's shoulder, `housing_min` likewise.
        chamfer_radial_max, chamfer_axial_max: the ring's largest chamfer: the shoulder beyond it
        bears.
    """

    fillet_max: float
    shaft_min: float
    shaft_max: float
    housing_min: float
    housing_max: float
    chamfer_radial_max: float
    chamfer_axial_max: float
    source: str


@dataclass(frozen=True)
class BallBearing:
    """A single-row deep-groove ball bearing. Lengths in mm.

    Attributes:
        number: basic designation.
        series: of the data file it stands in: "62", "R", ...
        width: of the bearing as designated; a seal or shield can make it wider.
        chamfer: least chamfer r; the seat's fillet stays under it.
        suffix: as said, without the number: "2RS", "ZZ-C3" or "".
    """

    number: str
    series: str
    bore: float
    outside: float
    width: float
    chamfer: float
    suffix: str
    source: str

    @property
    def designation(self) -> str:
        """The name that `bearing` reads back."""
        return f"{self.number}-{self.suffix}" if self.suffix else self.number

    @property
    def closure(self) -> Closure:
        said = [_CLOSURES[part] for part in self.suffix.split("-") if part in _CLOSURES]
        return said[0] if said else "open"

    @property
    def pitch_diameter(self) -> float:
        """Pitch circle of the balls [mm], midway between bore and outside."""
        return 0.5 * (self.bore + self.outside)

    def generic_ratings(self) -> tuple[float, float]:
        """Generic dynamic and static load rating C and C_0 [N]; see RATING_NOTE.

        Both are nan where the estimate does not hold: outside over bore must lie from 1.3 to 3.
        """
        from parts.strength.bearings.ball_bearing import (
            generic_dynamic_rating,
            generic_static_rating,
        )

        return (
            float(generic_dynamic_rating(self.bore, self.outside)),
            float(generic_static_rating(self.bore, self.outside)),
        )

    def abutment(self) -> Abutment:
        """Shoulders and fillets for its seats, by its least chamfer (ISO 582).

        Raises:
            ValueError: when the chamfer table does not hold its chamfer.
        """
        row = _chamfer_row(self)
        ring = _LAND_SHARE * (self.outside - self.bore)
        shaft_max, housing_min = self.pitch_diameter - ring, self.pitch_diameter + ring
        height = _shoulder(self.chamfer)
        return Abutment(
            fillet_max=self.chamfer,
            # On the smallest bearings the tabulated shoulder would stand over the ring.
            shaft_min=min(self.bore + 2.0 * height, shaft_max),
            shaft_max=shaft_max,
            housing_min=housing_min,
            housing_max=max(self.outside - 2.0 * height, housing_min),
            chamfer_radial_max=float(row["radial_max_mm"]),
            chamfer_axial_max=float(row["axial_max_mm"]),
            source=row["source"],
        )

    def fits(self, load: Load = "inner rotates") -> tuple[str, str]:
        """Tolerance classes of shaft and housing for normal load; see FITS_SOURCE.

        Args:
            load: which ring turns relative to the load; a wheel hub is "outer rotates".

        Raises:
            UnknownDesignation: for another word.
        """
        if load == "inner rotates":
            return ("j5" if self.bore <= 18.0 else "k5"), "H7"
        if load == "outer rotates":
            return "g6", "N7"
        raise UnknownDesignation(
            "bearing load", load, "it says which ring turns", ["inner rotates", "outer rotates"]
        )


# An inch chamfer of 0.012 in is the metric 0.3 mm.
_SAME_CHAMFER = 0.01


def _chamfer_row(part: BallBearing) -> Row:
    """The row for the bearing's chamfer and bore; an inch chamfer takes the next larger one."""
    able = [
        row
        for row in read_table("bearing_chamfers")
        if float(row["r_min_mm"]) >= part.chamfer - _SAME_CHAMFER
        and (not row["bore_upto_mm"] or part.bore <= float(row["bore_upto_mm"]))
    ]
    if not able:
        raise ValueError(f"{part.designation}: no shoulder is tabulated for r = {part.chamfer} mm.")
    # Ordered by chamfer and then by bore: the first that holds is the one.
    return able[0]


def _shoulder(chamfer: float) -> float:
    """Least height of the abutment [mm] for a chamfer [mm], on a line between tabulated ones."""
    rows = read_table("bearing_chamfers")
    points = sorted({(float(r["r_min_mm"]), float(r["shoulder_min_mm"])) for r in rows})
    for (low, h_low), (high, h_high) in pairwise(points):
        if low <= chamfer <= high:
            return h_low + (h_high - h_low) * (chamfer - low) / (high - low)
    return points[0][1] if chamfer < points[0][0] else points[-1][1]


@cache
def series() -> tuple[str, ...]:
    """The series that have a data file, in the order of their names."""
    found = (re.fullmatch(r"bearings_(\w+)", name) for name in data_files(DATA))
    return tuple(sorted(match[1].upper() for match in found if match))


@cache
def _table() -> dict[str, tuple[BallBearing, float]]:
    """Every bearing by number and other number, open, with its width when closed."""
    table: dict[str, tuple[BallBearing, float]] = {}
    for name in series():
        for row in read_table(f"bearings_{name.lower()}"):
            unit, scale = ("in", MM_PER_INCH) if "bore_in" in row else ("mm", 1.0)
            columns = ("bore", "outside", "width", "sealed_width", "r_min")
            bore, outside, width, closed, chamfer = (
                float(row[f"{column}_{unit}"]) * scale for column in columns
            )
            part = BallBearing(
                row["number"], name, bore, outside, width, chamfer, "", row["source"]
            )
            for number in filter(None, (row["number"], row["also"])):
                table[number] = (part, closed)
    return table


def bearings() -> tuple[str, ...]:
    """The basic number of every bearing."""
    return tuple(dict.fromkeys(part.number for part, _ in _table().values()))


_NUMBER = re.compile(r"\s*((?:R\s*)?\d+)[\s\-/]*(.*?)\s*", re.I)


def bearing(designation: str) -> BallBearing:
    """The ball bearing of a designation: "6202-2RS", "6202 ZZ C3", "R8", "61902".

    Raises:
        UnknownDesignation: when no series holds the number or a suffix is not known; `nearest`
        holds the bearings of nearly that name.
    """
    found = _NUMBER.fullmatch(designation)
    number = re.sub(r"\s", "", found[1]).upper() if found else ""
    if not found or number not in _table():
        bare = number or designation
        near = nearest_names(bare, _table()) or ("6202", "R8")
        raise UnknownDesignation(
            "bearing",
            designation,
            f"none of the series {', '.join(series())} holds it",
            near,
        )
    part, closed = _table()[number]
    suffixes = [s for s in re.split(r"[\s\-/]+", found[2].upper()) if s]
    known = (*_CLOSURES, *_CLEARANCES)
    for suffix in suffixes:
        if suffix not in known:
            near = nearest_names(suffix, known) or ("2RS", "ZZ")
            raise UnknownDesignation(
                "bearing",
                designation,
                f"the suffix {suffix} is not known",
                [f"{part.number}-{s}" for s in near],
            )
    said = replace(part, suffix="-".join(suffixes))
    return replace(said, width=closed) if said.closure != "open" else said


@dataclass(frozen=True)
class ThrustNeedle:
    """A needle thrust cage (AXK) and the washers that go with it, ISO 3031. Lengths in mm.

    The thin washer (AS) needs a flat, stiff seat behind it; the thick one (LS) is a raceway itself.
    """

    bore: float
    outside: float
    cage: float
    thin_washer: float
    thick_washer: float
    source: str

    @property
    def designation(self) -> str:
        """The name that `thrust_needle` reads back."""
        return f"AXK {self.bore:02.0f}{self.outside:02.0f}"

    def stack(self, washers: tuple[str, str] = ("AS", "AS")) -> float:
        """Height of the cage between two washers [mm], each "AS", "LS" or "none".

        Raises:
            UnknownDesignation: for another washer.
        """
        heights = {"AS": self.thin_washer, "LS": self.thick_washer, "none": 0.0}
        for name in washers:
            if name not in heights:
                raise UnknownDesignation("thrust washer", name, "it is none of them", heights)
        return self.cage + sum(heights[name] for name in washers)


@cache
def _thrust() -> dict[str, ThrustNeedle]:
    columns = ("bore", "outside", "cage", "thin_washer", "thick_washer")
    table = {}
    for row in read_table("thrust_needle"):
        bore, outside, cage, thin, thick = (float(row[f"{c}_mm"]) for c in columns)
        part = ThrustNeedle(bore, outside, cage, thin, thick, row["source"])
        table[part.designation] = part
    return table


def thrust_needle(designation: str) -> ThrustNeedle:
    """The needle thrust bearing of a designation: "AXK 1528", "AS 1528", "15 x 28", "15 mm".

    Raises:
        UnknownDesignation: when the table has no such size.
    """
    text = designation.strip()
    sizes = {name: part.bore for name, part in _thrust().items()}
    if code := re.fullmatch(r"(?:AXK|AS|LS)\s*-?\s*(\d{2})(\d{2,3})", text, re.I):
        bore, outside = float(code[1]), float(code[2])
    elif pair := re.fullmatch(r"(\d+)\s*(?:mm)?(?:\s*x\s*(\d+)\s*(?:mm)?)?", text, re.I):
        bore, outside = float(pair[1]), float(pair[2] or 0.0)
    else:
        raise UnknownDesignation(
            "needle thrust bearing", designation, "it gives no bore and outside", ["AXK 1528"]
        )
    for part in _thrust().values():
        if part.bore == bore and outside in (part.outside, 0.0):
            return part
    raise UnknownDesignation(
        "needle thrust bearing", designation, "no such size is made", nearest_sizes(bore, sizes)
    )


class FlangedBush(NamedTuple):
    """A flanged bush of solid bronze, ISO 4379 form F. Lengths in mm.

    Attributes:
        length: over all, the flange included.
        seat, journal: usual tolerance classes of the housing bore and of the shaft.
    """

    bore: float
    outside: float
    flange_diameter: float
    flange: float
    length: float
    source: str
    seat: str = "H7"
    journal: str = "f7"

    @property
    def designation(self) -> str:
        """The name that `flanged_bush` reads back."""
        return f"{self.bore:g} x {self.length:g}"


@cache
def _bushes() -> dict[tuple[float, float], FlangedBush]:
    table = {}
    for row in read_table("flanged_bushes"):
        columns = ("bore", "outside", "flange_diameter", "flange")
        bore, outside, rim, flange = (float(row[f"{c}_mm"]) for c in columns)
        for length in map(float, row["lengths_mm"].split()):
            table[bore, length] = FlangedBush(bore, outside, rim, flange, length, row["source"])
    return table


def flanged_bush(designation: str) -> FlangedBush:
    """The flanged bush of a bore and a length in mm: "12 x 15"; a bore alone takes the shortest.

    Raises:
        UnknownDesignation: when the table has no such bush.
    """
    found = re.fullmatch(r"(\d+)\s*(?:mm)?(?:\s*x\s*(\d+)\s*(?:mm)?)?", designation.strip(), re.I)
    if not found:
        raise UnknownDesignation(
            "flanged bush", designation, "right would be bore x length in mm", ["12 x 15"]
        )
    bore = float(found[1])
    lengths = sorted(length for known, length in _bushes() if known == bore)
    if not lengths:
        sizes = {part.designation: part.bore for part in _bushes().values()}
        raise UnknownDesignation(
            "flanged bush", designation, "no such bore is made", nearest_sizes(bore, sizes)
        )
    length = float(found[2]) if found[2] else lengths[0]
    if length not in lengths:
        raise UnknownDesignation(
            "flanged bush",
            designation,
            f"that bore is not made {length:g} mm long",
            nearest_sizes(length, {f"{bore:g} x {known:g}": known for known in lengths}),
        )
    return _bushes()[bore, length]
