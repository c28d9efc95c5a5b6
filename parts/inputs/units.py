"""What a builder writes for a number, turned into mm, N, N*mm, MPa, kg and radians.

The shop's units stand in a table of exact factors, so that `3/8 in` is the float nearest to 9.525 mm and
nothing else. Any other unit is asked of pint by `parts.inputs.rareunits`, which takes no slip of the finger
(`12 nm`, `12 pin`) for a rare unit.
"""

from __future__ import annotations

import difflib
import math
import re
from dataclasses import dataclass, fields
from fractions import Fraction
from numbers import Real
from typing import NoReturn

from parts.inputs.rareunits import Rare, rare

# Exact by definition: the international inch and pound of 1959 and standard gravity, as in
# NIST SP 811 (2008), appendix B.
INCH_MM = Fraction(254, 10)
POUND_KG = Fraction(45359237, 100_000_000)
GRAVITY = Fraction(980665, 100_000)  # m/s^2
POUND_FORCE_N = POUND_KG * GRAVITY

_LENGTHS = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), Fraction(1)),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "um": Fraction(1, 1000),
    "µm": Fraction(1, 1000),
    "μm": Fraction(1, 1000),
    **dict.fromkeys(("in", "in.", "inch", "inches", '"', "″", "”"), INCH_MM),
    **dict.fromkeys(("ft", "foot", "feet", "'", "′", "’"), 12 * INCH_MM),
    **dict.fromkeys(("thou", "mil", "mils"), INCH_MM / 1000),
}
_FORCES = {
    "N": Fraction(1),
    "kN": Fraction(1000),
    "daN": Fraction(10),
    "lbf": POUND_FORCE_N,
    "kip": 1000 * POUND_FORCE_N,
    "kips": 1000 * POUND_FORCE_N,
    "kgf": GRAVITY,
}
# A moment is any force times any length, in either order; these are the ones written as one word.
_MOMENTS = {"Nm": Fraction(1000), "Nmm": Fraction(1), "kNm": Fraction(10**6)}
_STRESSES = {
    "Pa": Fraction(1, 10**6),
    "kPa": Fraction(1, 1000),
    "MPa": Fraction(1),
    "GPa": Fraction(1000),
    **dict.fromkeys(("N/mm^2", "N/mm2", "N/mm²"), Fraction(1)),
    "psi": POUND_FORCE_N / INCH_MM**2,
    "ksi": 1000 * POUND_FORCE_N / INCH_MM**2,
    "Msi": 10**6 * POUND_FORCE_N / INCH_MM**2,
}
# For those who show a value in both.
MM_PER_INCH, N_PER_LBF, MPA_PER_KSI = (
    float(INCH_MM),
    float(POUND_FORCE_N),
    float(_STRESSES["ksi"]),
)

_MASSES = {
    "kg": Fraction(1),
    "g": Fraction(1, 1000),
    "lb": POUND_KG,
    "lbs": POUND_KG,
    "oz": POUND_KG / 16,
}
# Each in itself: pi is no fraction, so the step to radians is a separate one.
_ANGLES = dict.fromkeys(("deg", "°", "degree", "degrees", "rad"), Fraction(1))


@dataclass(frozen=True, eq=False)
class Kind:
    """A kind of quantity: its name, its unit inside, how a builder writes it, what is absurd."""

    name: str
    inside: str
    factors: dict[str, Fraction]
    limit: float
    examples: tuple[str, ...]
    spelled: str

    @property
    def called(self) -> str:
        return f"{'an' if self.name[0] in 'aeiou' else 'a'} {self.name}"


LENGTH = Kind("length", "mm", _LENGTHS, 1e9, ("12 mm", "3/8 in"), "mm, cm, m, in, ft, thou")
FORCE = Kind("force", "N", _FORCES, 1e9, ("1500 N", "250 lbf"), "N, kN, lbf, kip, kgf")
MOMENT = Kind(
    "moment", "N*mm", _MOMENTS, 1e12, ("30 N m", "22 lbf ft"), "N m, N mm, lbf ft, lbf in"
)
STRESS = Kind("stress", "MPa", _STRESSES, 1e7, ("276 MPa", "40 ksi"), "MPa, GPa, psi, ksi")
MASS = Kind("mass", "kg", _MASSES, 1e6, ("1.2 kg", "2.5 lb"), "kg, g, lb, oz")
ANGLE = Kind("angle", "rad", _ANGLES, math.radians(36_000), ("30 deg", "0.5 rad"), "deg, rad")
RATIO = Kind("ratio", "", {}, 1e12, ("1.5", "0.25"), "")
KINDS = (LENGTH, FORCE, MOMENT, STRESS, MASS, ANGLE)


@dataclass(frozen=True)
class Units:
    """The units that bare numbers of a file are in; None: not declared, bare numbers are refused.

    A bare angle is in degrees everywhere, declared or not.
    """

    length: str | None = None
    force: str | None = None
    moment: str | None = None
    stress: str | None = None
    mass: str | None = None
    angle: str | None = "deg"

    def __post_init__(self) -> None:
        for field in fields(self):
            unit = getattr(self, field.name)
            if unit is not None:
                kind = next(k for k in KINDS if k.name == field.name)
                _factor(unit, kind, f"1 {unit}")


@dataclass(frozen=True)
class BadQuantity(ValueError):
    """What was wrong with a number as written, and what would be right. `code` is stable."""

    code: str
    wrong: str
    right: str

    def __str__(self) -> str:
        return f"{self.wrong}; {self.right}"


_DECIMAL = r"(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?"
_MIXED = r"(?:(?P<whole>[0-9]+)(?:-|\ +))?(?P<over>[0-9]+)/(?P<under>[0-9]+)"
NUMBER = rf"(?P<sign>[+-]?)(?:{_MIXED}|(?P<decimal>{_DECIMAL}))"
# A letter, a degree sign or an inch or foot mark begins a unit: `12 -3 mm` is not one number.
_WRITTEN = re.compile(rf"{NUMBER}\ *(?P<unit>(?:[^\W\d_]|[°\"'″′”’]).*)?", re.S)
_ARITHMETIC = re.compile(r"[0-9a-z\"'.)]\s*[-+*/(]\s*[0-9.(]|[-+*/]\s*[-+(]")
_SQUARE = re.compile(r"(?<=[a-z])(?:\^|\*\*)?2$")
"""The square at the end of a unit, as in `kgf/cm2`."""
_COMMA = re.compile(r"[0-9],[0-9]")
_LONGEST = 64
Written = float | Fraction
"""A number as written: the float that it reads as, or exactly where it is a fraction or no float reaches."""


def read_number(value: object, kind: Kind, units: Units | None) -> float:
    """Read one quantity as a builder writes it.

    Args:
        value [-]: a number in the unit that `units` declares for this kind, or text with its unit.
        kind [-]: what it must be.
        units [-]: units of bare numbers; None where none are declared.

    Returns:
        [-] the value in the inside unit of the kind (mm, N, N*mm, MPa, kg, rad).

    Raises:
        BadQuantity: for anything that is not one finite quantity of this kind.
    """
    if isinstance(value, bool) or value is None:
        said = (
            "nothing is written here"
            if value is None
            else f"`{str(value).lower()}` is not {kind.called}"
        )
        _refuse("not_a_quantity", said, _write(kind))
    if isinstance(value, str):
        number, unit, typed = _split(value, kind)
    elif isinstance(value, Real):
        number, unit, typed = _plain(value, kind), None, f"{value}"
    else:
        named = {"dict": "mapping", "tuple": "list"}
        said = f"a {named.get(type(value).__name__, type(value).__name__)}"
        _refuse("not_a_quantity", f"{said} is not {kind.called}", _write(kind))
    return _bounded(_inside(number, unit, typed, kind, units or Units()), kind, typed)


def _inside(number: Written, unit: str | None, typed: str, kind: Kind, units: Units) -> float:
    if kind is RATIO:
        if unit is not None:
            _refuse("wrong_kind", f"`{typed}` has a unit, and this is a plain number", _write(kind))
        return _float(number)
    if unit is None:
        if number == 0:
            return 0.0
        unit = getattr(units, kind.name)
        if unit is None:
            _no_unit(typed, kind)
        if "/" in typed and kind is LENGTH and _LENGTHS.get(unit) not in (INCH_MM, 12 * INCH_MM):
            _refuse(
                "no_unit",
                f"a fraction without a unit, where bare numbers are in {unit}",
                f"write `{typed} in` if inches are meant",
            )
    factor = _factor(unit, kind, typed)
    value = _float(number if factor == 1 else _exact(number) * factor)
    return math.radians(value) if kind is ANGLE and unit != "rad" else value


def _no_unit(typed: str, kind: Kind) -> NoReturn:
    usual = kind.examples[0].split(" ", 1)[1]
    declare = f"`units: {usual}`" if kind is LENGTH else f"`units: {{{kind.name}: {usual}}}`"
    written = f"`{typed} {'in' if '/' in typed and kind is LENGTH else usual}`"
    _refuse("no_unit", "no unit", f"write {written}, or declare {declare} at the top")


def _split(text: str, kind: Kind) -> tuple[Written, str | None, str]:
    typed = " ".join(text.split())
    if not typed:
        _refuse("not_a_quantity", "nothing is written here", _write(kind))
    if len(typed) > _LONGEST:
        _refuse(
            "not_a_quantity",
            f"{len(typed)} characters are too many for one {kind.name}",
            _write(kind),
        )
    found = _WRITTEN.fullmatch(typed.replace("−", "-"))
    unit = found["unit"] if found else None
    if found is None or (unit and re.search(r"[0-9]", _SQUARE.sub("", unit))):
        _not_one_number(typed, kind)
    number: Written
    if found["decimal"]:
        number = float(found["decimal"])
        if number == 0.0 or math.isinf(number):  # or next to nothing, or next to no end
            number = Fraction(found["decimal"])
    else:
        over, under = int(found["over"]), int(found["under"])
        if under == 0:
            _refuse("not_a_quantity", f"`{typed}` divides by zero", _write(kind))
        if found["whole"] is not None and over >= under:
            _refuse(
                "not_a_quantity",
                f"`{typed}` has a fraction of one or more behind a whole number",
                "write a fraction below one, as in `1-1/4 in`",
            )
        number = int(found["whole"] or 0) + Fraction(over, under)
    return (-number if found["sign"] == "-" else number), unit, typed


def _not_one_number(typed: str, kind: Kind) -> NoReturn:
    if _COMMA.search(typed):
        _refuse(
            "not_a_quantity",
            f"`{typed}` has a comma in its number",
            "write a point for decimals and nothing between thousands, as in `1250.5`",
        )
    if re.match(r"[+-]?\.?(nan|inf)", typed, re.I) and not re.match(r"in(ch|\b)", typed):
        _refuse("not_finite", f"`{typed}` is not a finite number", _write(kind))
    if _ARITHMETIC.search(typed):
        _refuse(
            "not_a_quantity",
            f"`{typed}` is not one number with one unit",
            f"work it out first, then {_write(kind)}",
        )
    _refuse("not_a_quantity", f"`{typed}` is not {kind.called}", _write(kind))


def _plain(value: Real, kind: Kind) -> float:
    number = float(value)
    if not math.isfinite(number):
        _refuse("not_finite", f"`{number}` is not a finite number", _write(kind))
    return number + 0.0


def _exact(number: Written) -> Fraction:
    # repr: the shortest decimal that means this float, which is what was typed.
    return number if isinstance(number, Fraction) else Fraction(repr(number))


def _float(number: Written) -> float:
    try:
        return float(number)
    except OverflowError:
        return math.inf if number > 0 else -math.inf


def _bounded(value: float, kind: Kind, typed: str) -> float:
    if not abs(value) <= kind.limit:
        most = (
            "36000 deg"
            if kind is ANGLE
            else f"{kind.limit:.0e} {kind.inside}".replace("e+0", "e").strip()
        )
        _refuse("absurd", f"`{typed}` is beyond any part", f"stay within {most}")
    return value


def _factor(unit: str, kind: Kind, typed: str) -> Fraction:
    """Factor of a unit to the inside unit, of an angle to itself; that of a rare angle to degrees."""
    found = kind_of(unit)
    if found is None:
        nearest = nearest_unit(unit, kind)
        if pounds := _pounds(typed, unit, kind):
            _refuse("unknown_unit", f"`{unit}` is no unit known here", pounds)
        if nearest.casefold() != unit.casefold() and (asked := rare(unit, kind.name)):
            return asked.factor or _refuse_rare(asked, unit, kind, typed)
        hint = f"nearest is `{nearest}`; " if nearest else ""
        _refuse(
            "unknown_unit",
            f"`{unit}` is no unit known here",
            f"{hint}{kind.called} is in {kind.spelled}",
        )
    if found[0] is not kind:
        _refuse(
            "wrong_kind",
            f"`{typed}` is {found[0].called}, not {kind.called}",
            _pounds(typed, unit, kind) or _write(kind),
        )
    return found[1]


def nearest_unit(unit: str, kind: Kind) -> str:
    """The unit of a kind that was likely meant by a word that is no unit: one of the same letters in another case, else
    one spelt nearly alike; empty where there is none. A single letter gets no suggestion but its other case."""
    known = {u.casefold(): u for u in reversed(kind.factors)}
    if unit.casefold() in known:
        return known[unit.casefold()]
    longer = [u for u in known if len(u) > 1]
    near = difflib.get_close_matches(unit.casefold(), longer, 1) if len(unit) > 1 else []
    return known[near[0]] if near else ""


def _refuse_rare(asked: Rare, unit: str, kind: Kind, typed: str) -> NoReturn:
    number = typed.removesuffix(unit).strip()
    did = (
        f"did you mean `{number} {asked.meant}`? "
        if kind_of(asked.meant) or asked.meant == "t"
        else ""
    )
    _refuse("unknown_unit", asked.wrong, f"{did}{kind.called} is in {kind.spelled}")


def _pounds(typed: str, unit: str, kind: Kind) -> str:
    """What to write where `lb`, a mass, was meant as a force; empty where it was not."""
    if kind not in (FORCE, MOMENT) or not re.search(r"\blbs?\b", unit):
        return ""
    number = typed.removesuffix(unit)
    return f"pounds of force are `lbf`: write `{number}{re.sub(r'lbs?', 'lbf', unit)}`"


def kind_of(unit: str) -> tuple[Kind, Fraction] | None:
    """The kind and factor of a unit as written, or None for one that is not known.

    Args:
        unit [-]: as in `mm`, `kN`, `N m`, `lbf*ft`, `in-lbf`, `N·mm`.

    Returns:
        [-] the kind, and the factor to its inside unit (1 for an angle).
    """
    for kind in KINDS:
        if unit in kind.factors:
            return kind, kind.factors[unit]
    words = [w for w in re.split(r"[\s*·.-]+", unit) if w]
    if len(words) == 2:
        for force, length in (words, words[::-1]):
            if force in _FORCES and length in _LENGTHS and length.isalpha():
                return MOMENT, _FORCES[force] * _LENGTHS[length]
    return None


def _write(kind: Kind) -> str:
    return f"write {kind.called}, as in `{kind.examples[0]}` or `{kind.examples[1]}`"


def _refuse(code: str, wrong: str, right: str) -> NoReturn:
    raise BadQuantity(code, wrong, right)
