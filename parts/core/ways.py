"""The catalogue of what can fail, and what a part's checks say to each row of it.

`ways.csv` beside this file has a row for each way in which a kind of joint or member can fail. Its columns:

- kind, way, what: the kind, the way by a short name, and in a builder's words.
- methods: methods of `parts.strength`, as `pinned.lug.tear_out_load`; a check that works one of them answers the row.
- checks: words in the name or mode of a check that answers it, where no method is behind it. `;` parts choices, `&`
  joins words that must all stand there.
- over: `part` where a check of any place answers, as the search along the whole load path does.
- under: `cycles` where it acts only under a spectrum.
- left_out: why no check is made of it wherever the kind stands.
- source: which books and standards list it.

A part says in `kinds()` which kinds it holds and where. A row that neither a check nor a reason answers is a hole.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import NamedTuple

from parts.core.check import Check, use_of

WHOLE = "every part"
"""The kind that every part holds."""
NO_CYCLES = "no load case states a spectrum of cycles"


@dataclass(frozen=True)
class Kind:
    """A joint or member of a part.

    Attributes:
        name: of the kind, as the catalogue has it.
        at: what its checks are called by, as `mount 1`; empty where its checks bear no name of a place.
        left_out: why a way is not checked here, and where it could govern a bound that shows it cannot; by way.
        idle: why none of its ways is checked, as where no load case loads it.
    """

    name: str
    at: str = ""
    left_out: Mapping[str, str] = field(default_factory=dict)
    idle: str = ""


class Read(NamedTuple):
    """A check as the catalogue reads it: its words, and the methods that it works, named from `strength`."""

    check: Check
    text: str
    methods: frozenset[str]


@dataclass(frozen=True)
class Way:
    """A row of the catalogue."""

    kind: str
    name: str
    what: str
    methods: frozenset[str]
    checks: tuple[tuple[str, ...], ...]
    over_part: bool
    under_cycles: bool
    left_out: str
    source: str

    def answered_by(self, one: Read) -> bool:
        """Whether a check answers this row for a joint that it is called by."""
        if any(all(f" {word}" in one.text for word in words) for words in self.checks):
            return True
        return not self.methods.isdisjoint(one.methods)


@dataclass(frozen=True)
class Answer:
    """A part's answer to one way of failing of one of its joints: its checks, or the reason why there is none."""

    kind: Kind
    way: Way
    checks: tuple[Check, ...] = ()
    reason: str = ""

    @property
    def open(self) -> bool:
        """True where it says nothing."""
        return not self.checks and not self.reason


@cache
def ways() -> tuple[Way, ...]:
    """Every row of the catalogue."""
    text = Path(__file__).with_name("ways.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(line for line in text.splitlines() if not line.startswith("#"))
    return tuple(
        Way(
            row["kind"], row["way"], row["what"], frozenset(row["methods"].split()),
            tuple(tuple(one.split("&")) for one in row["checks"].split(";") if one),
            row["over"] == "part", row["under"] == "cycles", row["left_out"], row["source"],
        )
        for row in rows
    )  # fmt: skip


def kind_names() -> tuple[str, ...]:
    """Every kind of joint and member."""
    return tuple(dict.fromkeys(way.kind for way in ways()))


def ways_of(kind: str) -> tuple[Way, ...]:
    """The ways in which a kind can fail.

    Raises:
        KeyError: the catalogue has no such kind.
    """
    found = tuple(way for way in ways() if way.kind == kind)
    if not found:
        raise KeyError(f"no kind {kind!r}; there is: {', '.join(kind_names())}")
    return found


def answers(held: Sequence[Kind], checks: Sequence[Check], cycled: bool) -> tuple[Answer, ...]:
    """What checks and reasons say to every way of failing of what a part holds.

    Args:
        held: the kinds that a part holds.
        checks: of all load cases, those under no load, and those of fatigue.
        cycled: whether a load case states a spectrum.

    Returns:
        One answer for each way of each, in order.

    Raises:
        KeyError: the catalogue has no such kind, or one leaves out a way that the catalogue does not have.
    """
    read = [_read(one) for one in _worst(checks)]
    return tuple(answer for kind in held for answer in _answers(kind, read, cycled))


def _answers(kind: Kind, checks: Sequence[Read], cycled: bool) -> Iterator[Answer]:
    named = re.compile(rf"\b{re.escape(kind.at)}\b") if kind.at else None
    here = [one for one in checks if named is None or named.search(one.check.name)]
    rows = ways_of(kind.name)
    if unknown := set(kind.left_out) - {way.name for way in rows}:
        raise KeyError(f"{kind.name!r} has no way {', '.join(sorted(unknown))}")
    for way in rows:
        among = checks if way.over_part else here
        found = tuple(one.check for one in among if way.answered_by(one))
        reasons = (
            kind.idle,
            kind.left_out.get(way.name, ""),
            way.left_out,
            NO_CYCLES if way.under_cycles and not cycled else "",
        )
        reason = "" if found else next(filter(None, reasons), "")
        yield Answer(kind, way, found, reason)


def _worst(checks: Sequence[Check]) -> list[Check]:
    """One check of each name: the one that uses most of its allowable, of all load cases."""
    worst: dict[str, Check] = {}
    for one in checks:
        if one.name not in worst or use_of(one) > use_of(worst[one.name]):
            worst[one.name] = one
    return list(worst.values())


def _read(one: Check) -> Read:
    methods = frozenset(
        f"{step.function.__module__.removeprefix('parts.strength.')}.{step.function.__name__}"
        for step in one.steps
    )
    return Read(one, f" {one.name} {one.mode}", methods)


@dataclass(frozen=True)
class Tally:
    """How many ways of failing were checked, and which were not: the names of those left out and of those open."""

    checked: int
    left_out: tuple[str, ...]
    unanswered: tuple[str, ...]

    @property
    def said(self) -> str:
        """As a headline says it."""
        text = f"{self.checked} ways of failing checked"
        if self.left_out:
            text += f", {len(self.left_out)} left out ({_some(self.left_out)})"
        if self.unanswered:
            text += f", {len(self.unanswered)} not looked at ({_some(self.unanswered)})"
        return text


def _some(names: Sequence[str]) -> str:
    once = list(dict.fromkeys(names))
    return ", ".join(once[:3]) + (", ..." if len(once) > 3 else "")


def tally(found: Sequence[Answer]) -> Tally:
    """Count ways of failing: one that is checked at one mount and left out at another counts as left out."""
    worst: dict[tuple[str, str], int] = {}
    for one in found:
        rank = 2 if one.open else 1 if one.reason else 0
        key = one.way.kind, one.way.name
        worst[key] = max(rank, worst.get(key, 0))
    named: tuple[list[str], ...] = ([], [], [])
    for (_, way), rank in worst.items():
        named[rank].append(way)
    return Tally(len(named[0]), tuple(named[1]), tuple(named[2]))
