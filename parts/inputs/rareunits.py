"""Units that the shop's own table does not hold, asked of pint: a yard, a tonne, a bar, an arc minute.

pint takes nearly anything for a unit: `12 pin` is twelve pico-inches to it. A rare unit is taken only where its
dimension is right and it can be no slip of the finger. pint is imported only when it is asked: it costs more than
reading a whole file.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import cache
from typing import Any, NamedTuple

_WORDS = re.compile(r"[A-Za-zµμ]+")
_SHAPE = re.compile(r"[A-Za-zµμ_]+(?:[\s*·./-]+[A-Za-zµμ_]+){0,2}(?:(?:\^|\*\*)?2|²)?")
_PREFIXES: Mapping[str, frozenset[str]] = {
    "meter": frozenset(("micro", "milli", "centi", "deci", "kilo")),
    "newton": frozenset(("deca", "hecto", "kilo")),
    "pascal": frozenset(("hecto", "kilo", "mega", "giga")),
    "bar": frozenset(("milli",)),
    "gram": frozenset(("milli", "kilo", "mega")),
    "radian": frozenset(("milli",)),
}
"""Prefixes that the sizes, loads and strengths of parts are written with, by unit; none stands before another."""
_USUAL = {"meter": "mm", "gram": "kg", "newton": "N", "pascal": "MPa"}
_AMBIGUOUS = {"ton": "t", "ton_force": "kN", "force_ton": "kN"}
"""Short, long or metric: what to write in place of them."""
_OF_OTHER_TRADES = {"css_pixel": "mm", "point": "mm", "pica": "mm", "grain": "g"}
"""Of screens, printed pages and powder; `gr` is meant for grams as often as not. What to write in place of them."""
_TURNS = frozenset(("radian", "degree", "turn", "grade", "arcminute", "arcsecond"))
"""Units of angle: to pint they are pure numbers, as per cent and bits are."""
_INSIDE = {
    "length": "mm", "force": "N", "moment": "N*mm", "stress": "MPa", "mass": "kg", "angle": "degree",
}  # fmt: skip
_RANGE = {
    "length": (1e-4, 1e7), "force": (1e-6, 1e8), "moment": (1e-6, 1e9), "stress": (1e-7, 1e6), "mass": (1e-7, 1e4),
    "angle": (1e-5, 1e3),
}  # fmt: skip
"""Least and greatest size of a unit inside, the angle's in degrees: others are of stars or atoms, or slips."""
_CALLED = {
    "[length]": "a length", "[mass] * [length] / [time] ** 2": "a force",
    "[mass] * [length] ** 2 / [time] ** 2": "a moment", "[mass] / [length] / [time] ** 2": "a stress",
    "[mass]": "a mass", "dimensionless": "a plain number", "[time]": "a time", "[length] ** 2": "an area",
    "[length] ** 3": "a volume", "[length] / [time]": "a speed",
}  # fmt: skip


class Rare(NamedTuple):
    """What pint says of a unit: its factor to the inside unit (an angle's to degrees), or else why it is refused and
    what may have been meant."""

    factor: Fraction | None = None
    wrong: str = ""
    meant: str = ""


def rare(unit: str, kind: str) -> Rare | None:
    """What a unit is to pint, where a quantity of a kind is wanted; None where pint knows no such unit.

    Args:
        unit [-]: as a builder writes it.
        kind [-]: length, force, moment, stress, mass or angle.
    """
    if (len(unit) == 1 and unit != "t") or not _SHAPE.fullmatch(unit):
        return None
    asked = re.sub(r"(?<=\w)(?:\^|\*\*)?2$|²$", "**2", re.sub(r"[\s·-]+", "*", unit))
    registry = _registry()
    try:
        parsed = registry.parse_units(asked)
        one = registry.Quantity(1.0, parsed)
        named = list(_names(asked, registry))
    except (ValueError, AttributeError, TypeError, ArithmeticError, KeyError):
        return None
    if not one._is_multiplicative:
        return Rare(wrong=f"`{unit}` has a zero of its own and is no size")
    if not _is_of(kind, one, named, registry):
        said = _CALLED.get(str(one.dimensionality))
        said = "an energy" if kind == "moment" and one.is_compatible_with("J") else said
        return Rare(wrong=f"`{unit}` is {said or 'of another kind'}")
    if slip := _slip(unit, named):
        return slip
    factor = float(one.to(_INSIDE[kind]).magnitude)
    low, high = _RANGE[kind]
    if not low <= factor <= high:
        return Rare(wrong=f"`{unit}` is no unit for the size of a part")
    return Rare(Fraction(repr(factor)))


@cache
def _registry() -> Any:
    import pint

    return pint.UnitRegistry()


def _names(unit: str, registry: Any) -> Iterator[tuple[str, str, str]]:
    """Each word of a unit as pint reads it: the word, its prefix or nothing, and its full name without."""
    for word in _WORDS.findall(unit.replace("_", "")) if "_" not in unit else [unit]:
        prefix, name, _ = registry.parse_unit_name(word)[0]
        yield word, prefix, name


def _slip(unit: str, named: list[tuple[str, str, str]]) -> Rare | None:
    """A prefix before what takes none, or one that no part is measured with; a ton of no known kind."""
    for word, prefix, name in named:
        if name in _AMBIGUOUS:
            return Rare(wrong=f"`{unit}` may be short, long or metric", meant=_AMBIGUOUS[name])
        if name in _OF_OTHER_TRADES:
            said = name.removeprefix("css_")
            wrong = f"`{unit}` reads as {said}, which no part is measured in"
            return Rare(wrong=wrong, meant=_OF_OTHER_TRADES[name])
        if not prefix or prefix in _PREFIXES.get(name, ()):
            continue
        bare = next((word[i:] for i in range(1, len(word)) if _plain(word[i:], name)), word)
        meant = unit.replace(word, _USUAL.get(name, bare))
        said = f"{prefix} {name.replace('_', ' ')}"
        return Rare(wrong=f"`{unit}` reads as {said}, which no part is measured in", meant=meant)
    return None


def _plain(word: str, name: str) -> bool:
    """Whether a word names a unit without any prefix."""
    return any(
        not prefix and found == name for prefix, found, _ in _registry().parse_unit_name(word)
    )


def _is_of(kind: str, one: Any, named: list[tuple[str, str, str]], registry: Any) -> bool:
    """Whether a unit is of a kind, by its dimension and by what it is made of."""
    if kind == "angle":
        return len(named) == 1 and named[0][2] in _TURNS
    if not one.is_compatible_with(_INSIDE[kind]):
        return False
    if kind == "moment":
        # An energy has the dimension of a moment too: only a force times a length is one.
        sizes = [registry.Quantity(1.0, f"{prefix}{name}") for _, prefix, name in named]
        return len(sizes) == 2 and any(
            a.is_compatible_with("N") and b.is_compatible_with("mm")
            for a, b in (sizes, sizes[::-1])
        )
    return kind == "stress" or len(named) == 1
