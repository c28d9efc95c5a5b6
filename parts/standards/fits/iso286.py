"""Limits of one hole or shaft by ISO 286-1: `limits("15 H7")`, sizes up to 500 mm. Lengths in mm.

The tables hold the standard tolerances and the deviations of shafts; the deviations of holes follow
from them by the rules of the standard, the delta rule for K to ZC among them.
"""

from __future__ import annotations

import re
from functools import cache
from typing import NamedTuple

from parts.standards.designation import (
    Row,
    UnknownDesignation,
    inch_to_mm,
    nearest_names,
    read_table,
)

KIND = "tolerance"
LARGEST_MM = 500.0

GRADES = ("01", "0", *map(str, range(1, 19)))

# Letters in the order of the standard, from the loosest shaft to the tightest.
UPPER_LETTERS = ("a", "b", "c", "cd", "d", "e", "ef", "f", "fg", "g", "h")
LOWER_LETTERS = (
    "k", "m", "n", "p", "r", "s", "t", "u", "v", "x", "y", "z", "za", "zb", "zc",
)  # fmt: skip
LETTERS = (*UPPER_LETTERS, "js", "j", *LOWER_LETTERS)

_SMALL_MM = 3.0  # up to here the delta rule does not apply
_TINY_MM = 1.0  # up to here the standard leaves out some classes

_CLASS = re.compile(r"(?P<letter>[A-Za-z]{1,2})(?P<grade>\d{1,2})")
_TOLERANCED = re.compile(
    r"(?:\u00f8|\u2300)?\s*(?P<size>\d+(?:[\s-]\d+)?/\d+|\d*\.?\d+)\s*"
    r"(?P<unit>mm|in\.?|inch|\")?\s*(?P<rest>[A-Za-z].*)"
)


class Limits(NamedTuple):
    """The limits of size of one hole or shaft [mm].

    `upper` and `lower` are the deviations from `nominal`, `max` and `min` the limits of size.
    """

    designation: str
    nominal: float
    tolerance_class: str
    is_hole: bool
    upper: float
    lower: float
    source: str

    @property
    def max(self) -> float:
        """[mm] upper limit of size."""
        return round(self.nominal + self.upper, 6)

    @property
    def min(self) -> float:
        """[mm] lower limit of size."""
        return round(self.nominal + self.lower, 6)

    @property
    def mean(self) -> float:
        """[mm] the size to aim at: the middle of the tolerance."""
        return round(self.nominal + (self.upper + self.lower) / 2, 6)

    @property
    def sizes(self) -> tuple[float, float]:
        """[mm] lower and upper limit of size."""
        return self.min, self.max

    @property
    def tolerance(self) -> float:
        """[mm] upper limit less lower limit."""
        return round(self.upper - self.lower, 6)


def tolerance_grade(grade: str | int, diameter: float) -> float:
    """The standard tolerance IT01 to IT18 [mm] at a nominal diameter [mm].

    Raises:
        UnknownDesignation: when there is no such grade at this size; kind "tolerance".
    """
    name = str(grade).upper().removeprefix("IT")
    if name not in GRADES:
        raise UnknownDesignation(KIND, f"IT{name}", "grades are IT01, IT0, IT1 to IT18", ("IT18",))
    if diameter <= _TINY_MM and name in GRADES[15:]:
        reason = "grades IT14 to IT18 are not for sizes up to 1 mm"
        raise UnknownDesignation(KIND, f"{diameter:g} IT{name}", reason, ("IT13",))
    return float(_row("iso286_grades", diameter)[f"IT{name}_um"]) / 1000


def limits(designation: str) -> Limits:
    """The limits of a size with its tolerance class: "15 H7", "15mm k6", "5/8 in H7".

    Upper-case letters are holes, lower-case letters shafts; a size without unit is in mm.

    Raises:
        UnknownDesignation: when it cannot be read or the standard has no such class at this size;
            kind "tolerance".
    """
    size, rest = split_size(designation, KIND)
    return class_limits(rest, size)


def split_size(designation: str, kind: str) -> tuple[float, str]:
    """The nominal size [mm] in front of a designation, and the rest of it.

    Raises:
        UnknownDesignation: when there is no size in front; of the `kind` given.
    """
    found = _TOLERANCED.fullmatch(designation.strip())
    if not found:
        right = "15 H7" if kind == KIND else "15 H7/p6"
        raise UnknownDesignation(kind, designation, f"no size and class; right would be {right}")
    text, unit = found["size"], found["unit"] or "mm"
    if unit == "mm" and "/" in text:
        reason = "a fraction must say its unit; right would be 5/8 in"
        raise UnknownDesignation(kind, designation, reason)
    return (float(text) if unit == "mm" else inch_to_mm(text)), found["rest"].strip()


def class_limits(tolerance_class: str, diameter: float) -> Limits:
    """The limits of a tolerance class such as "H7" or "k6" at a nominal diameter [mm].

    Raises:
        UnknownDesignation: as `limits`.
    """
    text = tolerance_class.strip()
    found = _CLASS.fullmatch(text)
    given = f"{diameter:g} {text}"
    if not found or not (found["letter"].islower() or found["letter"].isupper()):
        near = nearest_names(text, ("H7", "H8", "h6", "g6", "k6", "p6", "js6"))
        raise UnknownDesignation(KIND, given, "no tolerance class; right would be H7 or k6", near)
    letter, grade = found["letter"], found["grade"]
    if letter.lower() not in LETTERS:
        alike = [each for each in _cased(LETTERS, letter) if each[0].lower() == letter[0].lower()]
        reason = f"ISO 286-1 has no letter {letter}"
        raise UnknownDesignation(KIND, given, reason, [f"{each}{grade}" for each in alike][:3])
    if grade not in GRADES:
        finest = [f"{letter}{GRADES[-1]}"] if len(grade) > 1 else []
        raise UnknownDesignation(KIND, given, "grades go from 01 and 0 to 18", finest)
    width = tolerance_grade(grade, diameter) * 1000
    row = _row("iso286_deviations", diameter)
    find = _hole_deviations if letter.isupper() else _shaft_deviations
    found_um = find(letter.lower(), grade, diameter, row, width)
    if found_um is None:
        reason = f"ISO 286-1 has no {text} at {diameter:g} mm"
        raise UnknownDesignation(KIND, given, reason, _neighbours(letter, grade, diameter, row))
    lower, upper = found_um
    return Limits(
        designation=given,
        nominal=diameter,
        tolerance_class=text,
        is_hole=letter.isupper(),
        upper=round(upper / 1000, 6),
        lower=round(lower / 1000, 6),
        source=row["source"],
    )


def _shaft_deviations(
    letter: str, grade: str, diameter: float, row: Row, width: float
) -> tuple[float, float] | None:
    """Lower and upper deviation of a shaft [um]; None where the standard has none."""
    if letter == "js":
        return -width / 2, width / 2
    if letter in UPPER_LETTERS:
        cell = "" if letter in "ab" and diameter <= _TINY_MM else row[f"{letter}_um"]
        return (float(cell) - width, float(cell)) if cell else None
    if letter == "j":
        cell = row.get(f"j{grade}_um", "")
    elif letter == "k" and grade not in ("4", "5", "6", "7"):
        cell = "0"
    else:
        cell = row[f"{letter}_um"]
    return (float(cell), float(cell) + width) if cell else None


def _hole_deviations(
    letter: str, grade: str, diameter: float, row: Row, width: float
) -> tuple[float, float] | None:
    """Lower and upper deviation of a hole [um]; None where the standard has none."""
    if letter == "js":
        return -width / 2, width / 2
    if letter in UPPER_LETTERS:
        cell = "" if letter in "ab" and diameter <= _TINY_MM else row[f"{letter}_um"]
        return (0 - float(cell), width - float(cell)) if cell else None
    if letter == "j":
        cell = row.get(f"J{grade}_um", "")
        return (float(cell) - width, float(cell)) if cell else None
    upper = _upper_of_tight_hole(letter, GRADES.index(grade), diameter, row, width)
    return None if upper is None else (upper - width, upper)


def _upper_of_tight_hole(
    letter: str, rank: int, diameter: float, row: Row, width: float
) -> float | None:
    """Upper deviation ES of a hole K to ZC [um]: that of the shaft with the sign turned, plus delta.

    Delta, IT of the grade less IT of the next finer one, counts for K, M, N up to IT8 and for P to
    ZC up to IT7, over 3 mm. `rank` is the place in `GRADES`.
    """
    cell = row[f"{letter}_um"]
    if not cell:
        return None
    shaft = float(cell)
    last_with_delta = GRADES.index("8") if letter in "kmn" else GRADES.index("7")
    if rank > last_with_delta:
        if letter == "k":
            return 0.0 if diameter <= _SMALL_MM else None
        if letter == "n" and diameter > _SMALL_MM:
            return 0.0
        return None if letter == "n" and diameter <= _TINY_MM else -shaft
    if diameter <= _SMALL_MM:
        return -shaft
    if rank < GRADES.index("3"):
        return None  # the standard lists delta from IT3 on
    delta = width - tolerance_grade(GRADES[rank - 1], diameter) * 1000
    # ISO 286-1 makes one exception: M6 over 250 to 315 mm has -9, not -11.
    if letter == "m" and GRADES[rank] == "6" and 250 < diameter <= 315:
        return -9.0
    return -shaft + delta


def _neighbours(letter: str, grade: str, diameter: float, row: Row) -> list[str]:
    """Classes that do exist at this size: the same letter in near grades, then near letters."""
    find = _hole_deviations if letter.isupper() else _shaft_deviations
    rank, place = GRADES.index(grade), LETTERS.index(letter.lower())

    def exists(each: str, its_grade: str) -> bool:
        if diameter <= _TINY_MM and its_grade in GRADES[15:]:
            return False
        width = tolerance_grade(its_grade, diameter) * 1000
        return find(each, its_grade, diameter, row, width) is not None

    grades = sorted(GRADES, key=lambda g: abs(GRADES.index(g) - rank))
    letters = sorted(LETTERS, key=lambda each: abs(LETTERS.index(each) - place))
    near = [(letter.lower(), g) for g in grades if exists(letter.lower(), g)][:2]
    near += [(each, grade) for each in letters if exists(each, grade)][:2]
    return [_cased([each], letter)[0] + g for each, g in near]


def _cased(letters: list[str] | tuple[str, ...], like: str) -> list[str]:
    return [each.upper() if like.isupper() else each for each in letters]


@cache
def _row(table: str, diameter: float) -> Row:
    for row in read_table(table):
        if float(row["over_mm"]) < diameter <= float(row["to_mm"]):
            return row
    raise UnknownDesignation(
        KIND, f"{diameter:g} mm", f"the tables go from over 0 to {LARGEST_MM:g} mm"
    )
