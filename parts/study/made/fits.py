"""Joints of a part as they were made: this pin in this hole, and what would save one that is out."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from parts.core.clearances import UNLIMITED, Clearance, Sized
from parts.core.part import Part
from parts.inputs.problems import InputError
from parts.study.made.inspected import Row

Verdict = Literal["goes", "MAY NOT GO", "DOES NOT GO", "LOOSE", "NOT PRESSED"]
SAME = 2e-3
"""How far limits of a sheet and of a joint may stand apart and be those of one size [mm]: rounding alone."""
STOCK = (2.0, 1.5, 1.0, 0.5, 0.3, 0.25, 0.2, 0.15, 0.1, 0.05)
"""Thicknesses of shim stock [mm]; common practice, no source."""
OVERSIZES = (25.4 / 64.0, 25.4 / 32.0)
"""How much larger the first and the second oversize of a pin are [mm]; common practice, no source."""


@dataclass(frozen=True)
class Reading:
    """A size of a joint that was measured [mm], and how far the reading may be off."""

    size: str
    value: float
    error: float
    joint: str = ""
    """Empty where the sheet's limits say which it is."""
    low: float = float("nan")
    high: float = float("nan")

    def of(self, joint: str, one: Sized) -> bool:
        """Whether it is this size of this joint."""
        if self.joint:
            return self.joint == joint and self.size == one.name
        return abs(self.low - float(one.least)) < SAME and abs(self.high - float(one.most)) < SAME


@dataclass(frozen=True)
class Fit:
    """A joint as drawn and as made; `read` names the sizes that were measured; `remedy` what would save it."""

    drawn: Clearance
    made: Clearance
    read: tuple[str, ...]
    remedy: str = ""

    @property
    def verdict(self) -> Verdict:
        least, greatest = float(self.made.least), float(self.made.greatest)
        if self.made.goes == "pressed" and greatest > SAME:
            return "NOT PRESSED"
        if self.made.goes == "free" and greatest < -SAME:
            return "DOES NOT GO"
        if self.made.goes == "free" and least < -SAME:
            return "MAY NOT GO"
        return "LOOSE" if greatest > self.loosest + SAME else "goes"

    @property
    def ok(self) -> bool:
        return self.verdict == "goes"

    @property
    def loosest(self) -> float:
        """The greatest clearance that it may have [mm]: as stated, else what the drawing lets it come to."""
        stated = float(self.made.loosest)
        return stated if stated < UNLIMITED else float(self.drawn.greatest)


def readings_of(rows: Sequence[Row], error: float) -> Iterator[Reading]:
    """The rows of an inspection sheet that have limits, as sizes of joints."""
    for one in rows:
        if one.item.low == one.item.low:
            yield Reading(one.item.name, one.measured, error, "", one.item.low, one.item.high)


def fits_of(
    drawn: Part,
    made: Part | None,
    readings: Sequence[Reading],
    holds: Callable[[Mapping[str, str]], bool] = lambda _: False,
) -> tuple[Fit, ...]:
    """The joints of a part of which a size was measured.

    Args:
        drawn: the part as drawn.
        made: the part with its measured sizes; None where those break its rules.
        readings: measured sizes of joints.
        holds: whether the part holds with some dimensions stated otherwise.

    Returns:
        The joints, as drawn and as made.
    """
    of_made = {one.joint: one for one in (drawn if made is None else made).clearances()}
    found = []
    for one in drawn.clearances():
        moved, read = as_read(of_made.get(one.joint, one), readings)
        if read:
            fit = Fit(one, moved, read)
            found.append(fit if fit.ok else replace(fit, remedy=_remedy(fit, drawn, holds)))
    return tuple(found)


def as_read(one: Clearance, readings: Sequence[Reading]) -> tuple[Clearance, tuple[str, ...]]:
    """A joint with its measured sizes in place of their limits, and which these are."""
    read: list[str] = []

    def sized(size: Sized) -> Sized:
        known = next((r for r in readings if r.of(one.joint, size)), None)
        if known is None:
            return size
        read.append(size.name)
        return Sized(size.name, known.value - known.error, known.value + known.error, "as measured")

    moved = replace(one, room=tuple(map(sized, one.room)), filled=tuple(map(sized, one.filled)))
    return moved, tuple(dict.fromkeys(read))


def unknown(part: Part, readings: Sequence[Reading]) -> Reading | None:
    """A reading that is of no joint of the part, by its name; None where all are."""
    known = [(one.joint, size) for one in part.clearances() for size in (*one.room, *one.filled)]
    return next((r for r in readings if r.joint and not any(r.of(*one) for one in known)), None)


def _remedy(fit: Fit, part: Part, holds: Callable[[Mapping[str, str]], bool]) -> str:
    least, greatest = float(fit.made.least), float(fit.made.greatest)
    if fit.verdict in ("MAY NOT GO", "DOES NOT GO"):
        more = float(fit.drawn.least) - least
        return f"open {fit.made.room[0].name} by {more:.3f} mm, or take as much off {fit.made.filled[0].name}"
    if fit.verdict == "NOT PRESSED":
        return f"take another {fit.made.filled[0].name}, {greatest:.3f} mm larger, or knurl nothing: it is not held"
    if len(fit.made.filled) > 1 or fit.drawn.eased is not None:  # no round hole
        return _shim(fit, part, holds)
    return _next_size(fit, part, holds)


def _shim(fit: Fit, part: Part, holds: Callable[[Mapping[str, str]], bool]) -> str:
    """Stock that fills a stack, so that it still goes in and leaves no more than it may."""
    least, greatest = float(fit.made.least), float(fit.made.greatest)
    for thick in STOCK:
        if thick <= least and greatest - thick <= fit.loosest:
            left = (least + greatest) / 2.0 - thick
            word = (
                "it holds so"
                if _would(part, {fit.drawn.field: f"{left:.4g} mm"}, holds)
                else "check it so"
            )
            return f"a shim of {thick:g} mm in the stack leaves {left:.2f} mm: {word}"
    return f"no single shim fills it: turn a spacer {(least + greatest) / 2.0 - float(fit.drawn.least):.2f} mm longer"


def _next_size(fit: Fit, part: Part, holds: Callable[[Mapping[str, str]], bool]) -> str:
    """A pin turned to the hole as it is, or the hole reamed for the next oversize."""
    room = fit.made.room[0]
    low = float(room.most) - float(fit.drawn.greatest)
    high = float(room.least) - float(fit.drawn.least)
    said = (
        f"a {fit.made.filled[0].name} turned to {low:.3f} to {high:.3f} mm fits this hole"
        if low <= high
        else ""
    )
    own, pin = float(fit.drawn.room[0].least), float(fit.drawn.filled[0].most)
    larger = next((by for by in OVERSIZES if own + by >= float(room.most) - SAME), None)
    if larger is not None:
        group = fit.drawn.field.partition(".hole")[0]
        word = (
            ", it holds so"
            if _would(part, {f"{group}.diameter": f"{pin + larger:.4f} mm"}, holds)
            else ""
        )
        ream = f"ream for the next oversize, {pin + larger:.3f} mm{word}"
        said = f"{said}; or {ream}" if said else ream
    return said or "weld or sleeve the hole, and bore it anew"


def _would(
    part: Part, values: Mapping[str, str], holds: Callable[[Mapping[str, str]], bool]
) -> bool:
    from parts.study.dimension import dimensions

    known = {one.path for one in dimensions(part) if one.kind is not None}
    try:
        return values.keys() <= known and holds(values)
    except InputError:
        return False
