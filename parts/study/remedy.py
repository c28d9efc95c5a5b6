"""What would make a part hold that falls short: one dimension or bought-in piece at a time, the smallest first."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from parts.core.check import Check, use_of
from parts.core.part import Part
from parts.core.refusing import BrokenRules
from parts.core.search.result import Result
from parts.inputs.problems import InputError
from parts.inputs.units import LENGTH
from parts.standards.designation import UnknownDesignation
from parts.study.dimension import Dimension, dimensions, options
from parts.study.mass import mass_along
from parts.study.standard_sizes import BOUGHT, Size, standard_sizes

STEPS = (1.05, 1.1, 1.2, 1.35, 1.5, 1.75, 2.0)
"""How much larger a length is tried that has no standard sizes."""
TRIED = 6
"""Sizes of one dimension that are tried at most."""
MOST = 40
"""Parts that are looked at in all at most."""
SHOWN = 3
"""Ways that are told at most."""
NOT_TRIED = (
    "milling",
    "cutting",
    "print_fit",
    "drawing",
    "edge_break",
    "loads",
    "bar",
    "pin_to_pin",
)
"""Groups and fields that the builder does not make a part stronger by."""
FITS = ("clearance", "gap", "spacer", "height", "reach", "engagement", "stand_off", "travel")
"""Keys of lengths that are given by what the part meets."""


@dataclass(frozen=True)
class Remedy:
    """One change with which every check and rule holds: the dimension, what it would be, and what it is.

    `mass` [kg] is what comes to the metal along the load path.
    """

    path: str
    text: str
    was: str
    mass: float

    @property
    def said(self) -> str:
        return f"{self.path}: {self.text} (is {self.was})"


def remedies(result: Result) -> tuple[Remedy, ...]:
    """Changes of one dimension, or of one bolt, thread, rod end or tube, with which the part holds.

    Dimensions that the failing checks name are tried first. Each is tried in its standard sizes, or in steps of some
    per cent, up to twice its size; at most `MOST` parts are tried in all, so that a change may be missed. Each change
    that is told holds: its part was read and checked in full, as `oneoff check` does.

    Args:
        result: of a part; nothing comes of one that holds.

    Returns:
        At most three, the one that adds least mass first.
    """
    part = result.part
    short = [one for one in result.checks if not one.ok]
    if not short:
        return ()
    left, found = MOST, []
    before = _along(part)
    for one in _nearest_first(part, short):
        for size in _larger(part, one):
            if left == 0:
                break
            left -= 1
            changed = _changed(part, one, size)
            if changed is None:
                continue
            beside = list(_beside_sections(changed, short))
            if not _better(beside, short):
                break
            if not all(one.ok for one in beside):
                continue
            now = changed.check()
            if not _better(now.checks, short):
                break
            if now.ok:
                found.append(
                    Remedy(one.path, size.text, one.shown(one.value), _along(changed) - before)
                )
                break
    return tuple(sorted(found, key=lambda one: one.mass)[:SHOWN])


def _nearest_first(part: Part, short: Sequence[Check]) -> list[Dimension]:
    """What may be enlarged, the dimensions that the failing checks name before the others."""
    bought = (one for one in options(part) if one.name in BOUGHT and isinstance(one.value, str))
    every = [one for one in (*dimensions(part), *bought) if _is_tried(one)]
    words = " ".join(one.name for one in short).casefold().replace(",", "").split()

    def strange(one: Dimension) -> int:
        own = one.path.replace("[", ".").replace("_", ".").split(".")
        return -sum(
            any(word.startswith(key.rstrip("s")) for word in words) for key in own if len(key) > 2
        )

    return sorted(every, key=strange)


def _is_tried(one: Dimension) -> bool:
    top, last = one.path.split(".")[0].split("[")[0], one.name
    if top in NOT_TRIED or any(word in last for word in FITS) or one.value is None:
        return False
    if one.kind is LENGTH:
        return one.sign == "positive" and "[" not in one.path.rpartition(".")[2]
    return one.name in BOUGHT or (one.table is not None and one.name not in ("material", "rod_end"))


def _larger(part: Part, one: Dimension) -> list[Size]:
    """The next sizes above the one that it has."""
    try:
        sizes = standard_sizes(part, one)
    except InputError:
        if one.kind is None:
            return []
        coarse = 0.5 if one.value < 10.0 else 1.0
        grown = sorted({-(-one.value * step // coarse) * coarse for step in STEPS})
        sizes = tuple(Size(f"{value:g} mm", value, value) for value in grown)
    own = float(one.value) if one.kind is not None else _measure(one, sizes)
    return [size for size in sizes if own < size.measure <= 2.0 * own][:TRIED]


def _measure(one: Dimension, sizes: Sequence[Size]) -> float:
    shown = one.shown(one.value)
    return next((size.measure for size in sizes if size.text == shown), float("inf"))


def _changed(part: Part, one: Dimension, size: Size) -> Part | None:
    """The part with another size, read and held to its rules; None where it breaks one."""
    try:
        return part.changed({one.path: size.text})
    except (BrokenRules, ValidationError, UnknownDesignation, ArithmeticError):
        return None


def _better(checks: Iterable[Check], short: Sequence[Check]) -> bool:
    """Whether what fell short uses less now, as far as it is among the checks, and one of it by more than rounding."""
    now = {(one.name, one.load_case): use_of(one) for one in checks}
    pairs = [
        (use_of(one), now[one.name, one.load_case])
        for one in short
        if (one.name, one.load_case) in now
    ]
    return all(new <= old * (1.0 + 1e-9) for old, new in pairs) and (
        not pairs or any(new < old * (1.0 - 1e-6) for old, new in pairs)
    )


def _beside_sections(part: Part, short: Sequence[Check]) -> Iterator[Check]:
    """The checks that need no section to be solved, of the load cases that something falls short in."""
    named = {one.load_case for one in short}
    for case in part.loads:
        if case.name in named or (case.turned and case.turned.name in named):
            yield from part.checks_under(case)


def _along(part: Part) -> float:
    found: Any = mass_along(part.spans())
    return float(found)
