"""Fits of a shaft in a hole: ISO 286 (`fit("15 H7/p6")`) and ASME B4.1 (`fit("5/8 in RC4")`).

Lengths in mm. A negative clearance is an interference.
"""

from __future__ import annotations

import re
from functools import cache
from typing import Literal, NamedTuple

from parts.standards.designation import (
    MM_PER_INCH,
    UnknownDesignation,
    nearest_names,
    read_table,
)
from parts.standards.fits.iso286 import Limits, class_limits, limits, split_size, tolerance_grade

__all__ = [
    "Fit",
    "Limits",
    "PreferredFit",
    "fit",
    "inch_fit_classes",
    "limits",
    "preferred_fits",
    "tolerance_grade",
]

KIND = "fit"
FitKind = Literal["clearance", "transition", "interference"]

_ISO_PAIR = re.compile(r"(?P<hole>[A-Za-z]{1,2}\d{1,2})\s*[/-]\s*(?P<shaft>[A-Za-z]{1,2}\d{1,2})")
_INCH_CLASS = re.compile(r"(?P<family>RC|LC|LT|LN|FN)\s*(?P<number>\d{1,2})", re.I)

# How a hole is finished, by the ISO grade its tolerance comes up to (common practice, no source).
_FINISHES = ((5, "lap or hone"), (6, "hone or grind"), (8, "ream or bore"), (10, "bore"))
_ROUGH_FINISH = "drill or bore"


class PreferredFit(NamedTuple):
    """A fit of the preferred list, and what it is for."""

    designation: str
    basis: str
    use: str
    source: str


class Fit(NamedTuple):
    """A shaft in a hole [mm].

    Attributes:
        designation: with its nominal size, for `fit` to read again.
        hole: limits of the hole.
        shaft: limits of the shaft.
    """

    designation: str
    nominal: float
    hole: Limits
    shaft: Limits
    source: str

    @property
    def max_clearance(self) -> float:
        """[mm] largest hole less smallest shaft; negative: least interference."""
        return round(self.hole.upper - self.shaft.lower, 6)

    @property
    def min_clearance(self) -> float:
        """[mm] smallest hole less largest shaft; negative: greatest interference."""
        return round(self.hole.lower - self.shaft.upper, 6)

    @property
    def max_interference(self) -> float:
        """[mm] largest shaft less smallest hole; 0 where the fit is always free."""
        return max(0.0, -self.min_clearance)

    @property
    def min_interference(self) -> float:
        """[mm] smallest shaft less largest hole; 0 where the fit may be free."""
        return max(0.0, -self.max_clearance)

    @property
    def kind(self) -> FitKind:
        if self.min_clearance >= 0:
            return "clearance"
        return "interference" if self.max_clearance <= 0 else "transition"

    @property
    def finish(self) -> str:
        """How to finish the hole and to what limits, as a line for the shop."""
        mm = f"{self.hole.min:.3f} to {self.hole.max:.3f} mm"
        inch = f"{self.hole.min / MM_PER_INCH:.4f} to {self.hole.max / MM_PER_INCH:.4f} in"
        return f"{_finish(self.hole)} to {mm} ({inch})"


def _finish(hole: Limits) -> str:
    for grade, how in _FINISHES:
        if hole.tolerance <= tolerance_grade(grade, hole.nominal):
            return how
    return _ROUGH_FINISH


def fit(designation: str, diameter: float | None = None) -> Fit:
    """A fit by its designation, ISO ("15 H7/p6") or ASME B4.1 ("5/8 in RC4").

    Args:
        designation: with the nominal size in front, or without it when `diameter` is given.
        diameter: nominal diameter [mm].

    Raises:
        UnknownDesignation: when it cannot be read or names no fit; kind "fit" (or "tolerance" where
            one half of the pair is at fault).
    """
    text = designation.strip()
    if diameter is None:
        nominal, pair = split_size(text, KIND)
    else:
        nominal, pair = float(diameter), text
    if found := _INCH_CLASS.fullmatch(pair):
        return _inch_fit(found["family"].upper() + found["number"], nominal)
    if found := _ISO_PAIR.fullmatch(pair):
        return _iso_fit(found["hole"], found["shaft"], nominal, designation)
    names = [each.designation for each in preferred_fits()] + list(inch_fit_classes())
    raise UnknownDesignation(
        KIND,
        designation,
        "no fit; right would be 15 H7/p6 or 5/8 in RC4",
        nearest_names(pair, names),
    )


def _iso_fit(hole: str, shaft: str, nominal: float, given: str) -> Fit:
    if not (hole[0].isupper() and shaft[0].islower()):
        letter, other = re.sub(r"\d", "", hole), re.sub(r"\d", "", shaft)
        near = f"{letter.upper()}{hole[len(letter) :]}/{other.lower()}{shaft[len(other) :]}"
        reason = "the hole comes first in upper case, the shaft second in lower case"
        raise UnknownDesignation(KIND, given, reason, (near,))
    bore, pin = class_limits(hole, nominal), class_limits(shaft, nominal)
    return Fit(f"{nominal:g} {hole}/{shaft}", nominal, bore, pin, bore.source)


def _inch_fit(name: str, nominal: float) -> Fit:
    rows = [row for row in read_table("inch_fits") if row["class"] == name]
    size_in = nominal / MM_PER_INCH
    whole_tenths = abs(size_in - round(size_in, 4)) < 1e-9
    given = f"{round(size_in, 4):g} in {name}" if whole_tenths else f"{nominal:g} mm {name}"
    if not rows:
        near = nearest_names(name, inch_fit_classes())
        raise UnknownDesignation(KIND, given, f"ASME B4.1 has no class {name}", near)
    # 1e-9: a size that was inches once may come back from mm a hair off its bound.
    inside = [r for r in rows if float(r["over_in"]) < size_in - 1e-9 <= float(r["to_in"])]
    if not inside:
        span = f"over {rows[0]['over_in']} to {rows[-1]['to_in']} in"
        near = _classes_at(size_in, name)
        raise UnknownDesignation(KIND, given, f"the table of {name} goes {span}", near)
    row = inside[0]
    thou = MM_PER_INCH / 1000

    def half(is_hole: bool, upper: float, lower: float) -> Limits:
        side = "hole" if is_hole else "shaft"
        return Limits(
            designation=f"{given} {side}",
            nominal=nominal,
            tolerance_class=f"{name} {side}",
            is_hole=is_hole,
            upper=round(upper * thou, 6),
            lower=round(lower * thou, 6),
            source=row["source"],
        )

    hole = half(True, float(row["hole_upper_thou"]), 0.0)
    shaft = half(False, float(row["shaft_upper_thou"]), float(row["shaft_lower_thou"]))
    return Fit(given, nominal, hole, shaft, row["source"])


def _classes_at(size_in: float, name: str) -> tuple[str, ...]:
    here = [
        row["class"]
        for row in read_table("inch_fits")
        if float(row["over_in"]) < size_in - 1e-9 <= float(row["to_in"])
    ]
    return nearest_names(name, here)


@cache
def preferred_fits(basis: str | None = None) -> tuple[PreferredFit, ...]:
    """The preferred fits, loosest first; `basis` "hole" or "shaft" keeps one system.

    Raises:
        UnknownDesignation: when the basis is neither; kind "fit".
    """
    if basis not in (None, "hole", "shaft"):
        raise UnknownDesignation(KIND, basis, "no such basis", ("hole", "shaft"))
    return tuple(
        PreferredFit(row["fit"], row["basis"], row["use"], row["source"])
        for row in read_table("iso286_preferred_fits")
        if basis in (None, row["basis"])
    )


@cache
def inch_fit_classes() -> tuple[str, ...]:
    """The classes of ASME B4.1 in the tables: RC1 to RC9, LC1 to LC11, LT, LN, FN."""
    return tuple(dict.fromkeys(row["class"] for row in read_table("inch_fits")))
