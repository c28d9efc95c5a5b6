"""Stock twist drills: fractional, number, letter and metric, by name and by size. Sizes in mm."""

from __future__ import annotations

import math
import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from parts.standards.designation import (
    MM_PER_INCH,
    UnknownDesignation,
    inches,
    nearest_names,
    read_table,
)

KINDS = ("fractional", "number", "letter", "metric")
INCH_KINDS = ("fractional", "number", "letter")
METRIC_KINDS = ("metric",)

# Two sizes closer than this are the same size written twice; drills differ by 0.01 mm at the least.
_SAME_SIZE_MM = 1e-6

_BARE_NUMBER = re.compile(r"(?:no\.?|nr\.?|#|number)\s*(\d{1,2})", re.I)
_BARE_LETTER = re.compile(r"(?:letter\s+)?([A-Z])", re.I)
_METRIC = re.compile(r"(?:\u00f8|\u2300)?\s*(\d+(?:\.\d+)?|\.\d+)\s*mm", re.I)


@dataclass(frozen=True, order=True)
class Drill:
    """A stock drill. `diameter` [mm]; `kind` is one of `KINDS`."""

    diameter: float
    name: str
    kind: str
    source: str

    @property
    def diameter_in(self) -> float:
        """[in] diameter."""
        return self.diameter / MM_PER_INCH


def fraction_name(size_in: Fraction) -> str:
    """A size in inches as a drawing writes it: 1-3/32, 7/8, and "1 in" for a whole number."""
    whole, rest = divmod(size_in, 1)
    if not rest:
        return f"{whole} in"
    return "-".join([str(whole)] * bool(whole) + [str(rest)] * bool(rest))


def _stepped(first: Fraction, last: Fraction, step: Fraction) -> Iterator[tuple[int, int]]:
    """Every size from first to last, as numbers over and under the line."""
    under = math.lcm(first.denominator, step.denominator)
    least, more = int(first * under), int(step * under)
    for count in range(int((last - first) / step) + 1):
        yield least + count * more, under


@cache
def _of_kind(kind: str) -> dict[str, Drill]:
    """The drills of a kind by name."""
    stock: dict[str, Drill] = {}
    for row in read_table("drills_series"):
        if row["kind"] != kind:
            continue
        ends = inches(row["first"]), inches(row["last"]), inches(row["step"])
        for over, under in _stepped(*ends):
            if row["unit"] == "in":
                name, diameter = fraction_name(Fraction(over, under)), over * 254 / (under * 10)
            else:
                name, diameter = f"{over / under:g} mm", over / under
            stock.setdefault(name, Drill(diameter, name, row["kind"], row["source"]))
    for row in read_table("drills_named"):
        if row["kind"] != kind:
            continue
        diameter = float(Fraction(row["diameter_in"]) * 254 / 10)
        stock[row["name"]] = Drill(diameter, row["name"], row["kind"], row["source"])
    return stock


@cache
def _by_name() -> dict[str, Drill]:
    """Every drill by name."""
    rows = (*read_table("drills_series"), *read_table("drills_named"))
    kinds = dict.fromkeys(row["kind"] for row in rows)
    return {name: drill for kind in kinds for name, drill in _of_kind(kind).items()}


@cache
def drills(kinds: tuple[str, ...] = KINDS) -> tuple[Drill, ...]:
    """All stock drills of these kinds, the smallest first.

    Raises:
        UnknownDesignation: when a kind is none of `KINDS`; kind "drill".
    """
    for kind in kinds:
        if kind not in KINDS:
            raise UnknownDesignation("drill", kind, "there is no such kind of drill", KINDS)
    every = (drill for kind in dict.fromkeys(kinds) for drill in _of_kind(kind).values())
    return tuple(sorted(every, key=lambda one: (one.diameter, one.name, one.kind, one.source)))


def drill(name: str) -> Drill:
    """The stock drill of a name: "3/8", "1-3/32", "#7", "No. 7", "Q", "letter Q", "8.5 mm".

    Raises:
        UnknownDesignation: when there is none, or the name could mean two; kind "drill".
    """
    text = name.strip()
    stock = _by_name()
    if text.isdecimal():
        choice = [key for key in (f"#{text}", f"{text} mm", f"{text} in") if key in stock]
        reason = "say a number drill, millimetres or inches"
        raise UnknownDesignation("drill", name, reason, choice)
    if found := _BARE_NUMBER.fullmatch(text):
        key = f"#{int(found[1])}"
    elif found := _METRIC.fullmatch(text):
        key = f"{float(found[1]):g} mm"
    elif found := _BARE_LETTER.fullmatch(text):
        key = found[1].upper()
    else:
        try:
            key = fraction_name(inches(text))
        except UnknownDesignation:
            key = text
    if key in stock:
        return stock[key]
    raise UnknownDesignation("drill", name, "no stock drill has this name", _near(key))


def _near(key: str) -> tuple[str, ...]:
    """Drills beside a size that is not stocked; by spelling where the name is no size."""
    if key.startswith("#"):
        return "#1", "#80"
    if found := _METRIC.fullmatch(key):
        size = float(found[1])
        kinds: tuple[str, ...] = METRIC_KINDS
    else:
        try:
            size, kinds = float(inches(key)) * MM_PER_INCH, INCH_KINDS
        except UnknownDesignation:
            return nearest_names(key, _by_name())
    by_gap = sorted(drills(kinds), key=lambda each: abs(each.diameter - size))
    return tuple(each.name for each in by_gap[:2])


def nearest_under(mm: float, kinds: tuple[str, ...] = KINDS) -> Drill:
    """The largest stock drill that is not larger than `mm`.

    Raises:
        UnknownDesignation: when every drill of these kinds is larger; kind "drill".
    """
    stock = drills(kinds)
    place = bisect_right([each.diameter for each in stock], mm + _SAME_SIZE_MM)
    if not place:
        raise UnknownDesignation("drill", f"{mm:g} mm", "no stock drill is so small", _ends(stock))
    return stock[place - 1]


def nearest_over(mm: float, kinds: tuple[str, ...] = KINDS) -> Drill:
    """The smallest stock drill that is not smaller than `mm`.

    Raises:
        UnknownDesignation: when every drill of these kinds is smaller; kind "drill".
    """
    stock = drills(kinds)
    place = bisect_left([each.diameter for each in stock], mm - _SAME_SIZE_MM)
    if place == len(stock):
        raise UnknownDesignation("drill", f"{mm:g} mm", "no stock drill is so large", _ends(stock))
    return stock[place]


def nearest(mm: float, kinds: tuple[str, ...] = KINDS) -> Drill:
    """The stock drill nearest to `mm`; the smaller one where two are equally near.

    Raises:
        UnknownDesignation: when `mm` lies outside all drills of these kinds; kind "drill".
    """
    under, over = nearest_under(mm, kinds), nearest_over(mm, kinds)
    return over if over.diameter - mm < mm - under.diameter else under


def names_of(mm: float, kinds: tuple[str, ...] = KINDS) -> tuple[str, ...]:
    """Every name under which a drill of just this size is sold; () where none is."""
    return tuple(e.name for e in drills(kinds) if abs(e.diameter - mm) <= _SAME_SIZE_MM)


def _ends(stock: tuple[Drill, ...]) -> tuple[str, ...]:
    return stock[0].name, stock[-1].name
