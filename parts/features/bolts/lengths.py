"""The lengths of a bolt that are made, by its size: what a designation says without its length."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from fractions import Fraction
from functools import cache
from typing import Generic, TypeVar

from parts.standards.designation import UnknownDesignation
from parts.standards.fasteners.aircraft import dash_length_in
from parts.standards.fasteners.fasteners import METRIC_LENGTHS, Bolt, bolt

T = TypeVar("T")


def of_size(size: str) -> Bolt:
    """A bolt of a size, whatever its length: for its diameter, thread and strength.

    Args:
        size: as for `choose_bolt`.

    Returns:
        The shortest.

    Raises:
        UnknownDesignation: the size is unknown.
    """
    return next(iter(lengths_of(size, "nylon insert")))


@cache
def lengths_of(size: str, nut_form: str) -> AsAsked[Bolt]:
    """Every length of a size that is made, the shortest first; refuses a size that is unknown."""
    names = tuple(_designations(" ".join(size.split()), nut_form))
    lengths = AsAsked(_made(names))
    if next(iter(lengths), None) is None:
        with of_the_size("bolt size", size):
            bolt(names[0] if names else size)  # refuses it with what would be right
        raise UnknownDesignation(
            "bolt size", size, "give it without its length", ["AN6", "M10 10.9", "3/8-24 grade 8"]
        )
    return lengths


@contextmanager
def of_the_size(kind: str, size: str) -> Iterator[None]:
    """Name the size without a length, as it was written, where some length of it is refused."""
    try:
        yield
    except UnknownDesignation as unknown:
        near = dict.fromkeys(_LENGTH.sub("", name) for name in unknown.nearest)
        raise UnknownDesignation(kind, size, unknown.reason, near) from None


_LENGTH = re.compile(r"(?<=[A-Z0-9])-D?\d+A?$|x\d+(?=\s|$)| x [\d./-]+")
"""The length in the designation of an aircraft bolt, a metric bolt, and an inch bolt or a pin."""


def _made(names: Iterable[str]) -> Iterator[Bolt]:
    """The bolts that the tables hold."""
    for name in names:
        try:
            found = bolt(name)
        except UnknownDesignation:
            continue
        yield found


def _designations(size: str, nut_form: str) -> Iterator[str]:
    """Designations of a size by length; the tables refuse those that are not made."""
    if re.fullmatch(r"AN\s*\d+C?", size, re.I):
        # A self-locking nut takes the bolt without the hole for a split pin: mark A.
        tail = "A" if nut_form == "nylon insert" else ""
        dashes = (dash for dash in range(1, 81) if dash_length_in(dash) is not None)
        yield from (f"{size}-{dash}{tail}" for dash in dashes)
    elif re.fullmatch(r"NAS\s*6[36]\d\d", size, re.I):
        drilled = "D" if nut_form == "slotted" else ""
        yield from (f"{size}-{drilled}{dash}" for dash in range(1, 129))
    elif found := re.fullmatch(r"(M\d\S*)(.*)", size, re.I):
        yield from (f"{found[1]}x{length}{found[2]}" for length in METRIC_LENGTHS)
    elif found := re.fullmatch(r"([\d#/-]+-\d+)(?: UN[A-Z]*)?(.*)", size, re.I):
        eighths = (Fraction(n, 8) for n in range(2, 65))
        yield from (f"{found[1]} x {float(length):g}{found[2]}" for length in eighths)


class AsAsked(Generic[T]):
    """Some things in a row, each made when it is first asked for, and kept."""

    def __init__(self, things: Iterator[T]) -> None:
        self._made: list[T] = []
        self._left = things

    def __iter__(self) -> Iterator[T]:
        for place in itertools.count():
            if place == len(self._made):
                try:
                    self._made.append(next(self._left))
                except StopIteration:
                    return
            yield self._made[place]
