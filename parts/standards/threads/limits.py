"""The profile of a 60° screw thread and the limits of its tolerance classes.

Inch threads after ASME B1.1 (classes 2A, 3A, 2B, 3B), metric threads after ISO 68-1 and ISO 965-1.
Lengths in mm unless the name says inches.
"""

from __future__ import annotations

import math
from functools import cache
from typing import Literal, NamedTuple

from parts.standards.designation import MM_PER_INCH, Row, UnknownDesignation, read_table

Gender = Literal["external", "internal"]

_SQRT3 = math.sqrt(3)

# Multiples of the pitch P; H = sqrt(3)/2 P is the height of the sharp triangle.
PITCH_DIAMETER_DROP = 3 / 8 * _SQRT3  # 2 * 3/8 H = 0.649519 P: ISO 68-1, ASME B1.1
MINOR_DROP = 5 / 8 * _SQRT3  # 2 * 5/8 H = 1.082532 P: ISO 68-1, ASME B1.1
ROOT_DROP_METRIC = 17 / 24 * _SQRT3  # 2 * 17/24 H = 1.226869 P: d3 of DIN 13-1
ROOT_DROP_INCH = 11 / 16 * _SQRT3  # 2 * 11/16 H = 1.190785 P: UNR root of ASME B1.1
STRESS_DROP_METRIC = 13 / 24 * _SQRT3  # 0.938194 P: ISO 898-1
STRESS_DROP_INCH = 9 / 16 * _SQRT3  # 0.974279 P: ASME B1.1
FULL_THREAD_DROP = 3 / 4 * _SQRT3  # 2 * 3/4 H = 1.299038 P: a thread of 100 percent in tapping

# From the pitch diameter down to the deepest root with a radius of P/8: ASME B1.13M.
_ROOT_BELOW_PITCH = 0.616025

INCH_CLASSES: dict[str, Gender] = {
    "2A": "external", "3A": "external", "2B": "internal", "3B": "internal",
}  # fmt: skip
METRIC_CLASSES: dict[str, Gender] = {
    "6g": "external", "6h": "external", "6f": "external", "6e": "external", "4h": "external",
    "8g": "external", "6H": "internal", "4H": "internal", "5H": "internal", "7H": "internal",
    "6G": "internal",
}  # fmt: skip

# ASME B1.1 gives the tolerance of the pitch diameter for an engagement of one diameter in these
# series, of nine pitches in all others. The only UN threads that count are those of 8 per inch.
_ENGAGED_ONE_DIAMETER = ("UNC", "UNF")

# Multiples of the tolerance 2A of the pitch diameter: ASME B1.1.
_INCH_CLASS_FACTOR = {"2A": 1.0, "3A": 0.75, "2B": 1.3, "3B": 0.975}


class ThreadLimits(NamedTuple):
    """Limits of size of one thread in one class [mm]. None where the standard sets no limit.

    External: `minor_max` is the root of the UNR profile (inch), or the flat root d1 (metric);
    `minor_min` the deepest rounded root (metric). Internal: the major diameter has only a minimum.
    """

    tolerance_class: str
    gender: Gender
    major_max: float | None
    major_min: float
    pitch_max: float
    pitch_min: float
    minor_max: float
    minor_min: float | None


def _round_in(value: float, places: int = 4) -> float:
    """An inch value rounded half up, as the tables of ASME B1.1 print it."""
    scale = 10**places
    return float(math.floor(value * scale + 0.5 + 1e-6) / scale)


def pitch_tolerance_2a_in(major_in: float, tpi: int, series: str) -> float:
    """Tolerance of the pitch diameter of class 2A [in] by ASME B1.1, to six places as it says."""
    pitch = 1 / tpi
    one_diameter = series in _ENGAGED_ONE_DIAMETER or tpi == 8
    engaged = major_in if one_diameter else 9 * pitch
    exact = 0.0015 * major_in ** (1 / 3) + 0.0015 * math.sqrt(engaged) + 0.015 * pitch ** (2 / 3)
    return float(round(exact, 6))


def _minor_tolerance_in(major_in: float, tpi: int, tolerance_class: str) -> float:
    """Tolerance of the minor diameter of an internal thread [in] by ASME B1.1."""
    pitch = 1 / tpi
    by_size = 0.05 * pitch ** (2 / 3) + 0.03 * pitch / major_in - 0.002
    if tolerance_class == "2B":
        plain = 0.25 * pitch - 0.40 * pitch**2
        return float(plain if major_in >= 0.25 else min(max(by_size, plain), 0.394 * pitch))
    least = 0.23 * pitch - 1.5 * pitch**2 if tpi >= 13 else 0.120 * pitch
    return float(min(max(by_size, least), 0.394 * pitch))


def inch_limits(major_in: float, tpi: int, series: str, tolerance_class: str) -> ThreadLimits:
    """Limits of a unified thread by the formulas of ASME B1.1, rounded step by step as it rounds.

    Where to round: Machinery's Handbook 31st ed., calculations for 1/2-28 UNEF and 19/64-28 UNS.

    Args:
        major_in: basic major diameter [in].
        tpi: threads per inch.
        series: UNC, UNF, UNEF, UN or UNS.
        tolerance_class: one of `INCH_CLASSES`.
    """
    pitch = 1 / tpi
    tolerance_2a = pitch_tolerance_2a_in(major_in, tpi, series)
    tolerance = tolerance_2a * _INCH_CLASS_FACTOR[tolerance_class]
    pitch_diameter = major_in - PITCH_DIAMETER_DROP * pitch
    gender = INCH_CLASSES[tolerance_class]
    if gender == "internal":
        minor = major_in - MINOR_DROP * pitch
        minor_max = _round_in(minor) + _round_in(
            _minor_tolerance_in(major_in, tpi, tolerance_class)
        )
        coarse = 3 if major_in >= 0.138 else 4
        inch = {
            "major_max": None,
            "major_min": major_in,
            "pitch_max": _round_in(_round_in(pitch_diameter) + tolerance),
            "pitch_min": _round_in(pitch_diameter),
            "minor_max": _round_in(minor_max, coarse if tolerance_class == "2B" else 4),
            "minor_min": _round_in(minor, coarse),
        }
    else:
        allowance = _round_in(0.3 * tolerance_2a) if tolerance_class == "2A" else 0.0
        inch = {
            "major_max": _round_in(major_in - allowance),
            "major_min": _round_in(
                _round_in(major_in - allowance) - _round_in(0.060 * pitch ** (2 / 3))
            ),
            "pitch_max": _round_in(pitch_diameter - allowance),
            "pitch_min": _round_in(_round_in(pitch_diameter - allowance) - tolerance),
            "minor_max": _round_in(major_in - allowance - ROOT_DROP_INCH * pitch),
            "minor_min": None,
        }
    in_mm = {
        key: None if size is None else round(size * MM_PER_INCH, 6) for key, size in inch.items()
    }
    return ThreadLimits(tolerance_class, gender, **in_mm)  # type: ignore[arg-type]


@cache
def _by_pitch() -> dict[float, Row]:
    return {float(row["pitch_mm"]): row for row in read_table("iso965_pitch")}


def _pitch_diameter_row(major: float, pitch: float) -> Row:
    for row in read_table("iso965_pitch_diameter"):
        in_range = float(row["over_mm"]) < major <= float(row["to_mm"])
        if in_range and float(row["pitch_mm"]) == pitch:
            return row
    raise KeyError(f"iso965_pitch_diameter.csv has no row for {major:g} x {pitch:g}")


def _micrometres(row: Row, column: str, thread: str, tolerance_class: str) -> float:
    """A cell in µm, as mm; refused where ISO 965-1 leaves it empty."""
    if not row[column]:
        held = ("6H", "5H", "4H") if tolerance_class[1].isupper() else ("6g", "6h", "4h")
        raise UnknownDesignation(
            "thread",
            f"{thread}-{tolerance_class}",
            f"ISO 965-1 has no class {tolerance_class} for a pitch of {row['pitch_mm']} mm",
            [f"{thread}-{each}" for each in held],
        )
    return float(row[column]) / 1000


def metric_limits(major: float, pitch: float, tolerance_class: str) -> ThreadLimits:
    """Limits of a metric thread by ISO 965-1, rounded to 0.001 mm as ISO 965-2 prints them.

    Args:
        major: basic major diameter [mm].
        pitch: [mm].
        tolerance_class: one of `METRIC_CLASSES`.

    Raises:
        UnknownDesignation: when the standard has no such class for this pitch; kind "thread".
    """
    grade, position = int(tolerance_class[0]), tolerance_class[1]
    by_pitch, by_size = _by_pitch()[pitch], _pitch_diameter_row(major, pitch)
    gender = METRIC_CLASSES[tolerance_class]
    name = f"M{major:g}x{pitch:g}"

    def cell(row: Row, column: str) -> float:
        return _micrometres(row, column, name, tolerance_class)

    deviation = 0.0 if position in "hH" else cell(by_pitch, f"{position.lower()}_um")
    pitch_diameter = major - PITCH_DIAMETER_DROP * pitch
    minor = major - MINOR_DROP * pitch
    if gender == "internal":
        size: dict[str, float | None] = {
            "major_max": None,
            "major_min": major + deviation,
            "pitch_max": pitch_diameter + deviation + cell(by_size, f"TD2_{grade}_um"),
            "pitch_min": pitch_diameter + deviation,
            "minor_max": minor + deviation + cell(by_pitch, f"TD1_{grade}_um"),
            "minor_min": minor + deviation,
        }
    else:
        pitch_min = pitch_diameter - deviation - cell(by_size, f"Td2_{grade}_um")
        size = {
            "major_max": major - deviation,
            "major_min": major - deviation - cell(by_pitch, f"Td{grade}_um"),
            "pitch_max": pitch_diameter - deviation,
            "pitch_min": pitch_min,
            "minor_max": minor - deviation,
            "minor_min": pitch_min - _ROOT_BELOW_PITCH * pitch,
        }
    rounded = {key: None if mm is None else round(mm, 3) for key, mm in size.items()}
    return ThreadLimits(tolerance_class, gender, **rounded)  # type: ignore[arg-type]
