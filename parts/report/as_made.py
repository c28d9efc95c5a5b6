"""What a builder reads of a part as it was made."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from parts.core.check import Check
    from parts.study.as_made import AsMade

SHOWN = 12
"""Checks that are shown, what got worst first."""


def as_made_text(found: AsMade) -> str:
    """The verdict, the sizes, the checks that moved, and how far the readings may be off."""
    return (
        "\n".join(
            [
                _verdict(found),
                "",
                *_sizes(found),
                *_others(found),
                "",
                *_changes(found),
                *_unless(found),
            ]
        )
        + "\n"
    )


def _verdict(found: AsMade) -> str:
    name = found.stated.part.name
    if found.result is None:
        broken = "; ".join(
            f"{one.field}: {one.wrong}" if one.field else one.wrong for one in found.broken
        )
        return f"{name} AS MADE BREAKS ITS RULES, so nothing says that it holds: {broken}"
    governing = found.result.governing
    if governing is None:
        return f"{name} as made meets its rules; it states no load case, so nothing was checked"
    word = "holds as made" if found.ok else "DOES NOT HOLD AS MADE"
    return f"{name} {word}: {governing.name}, {governing.load_case}, {_of(governing)}"


def _of(check: Check) -> str:
    return f"factor {float(check.factor):.3g} of {float(check.required):g}"


def _others(found: AsMade) -> Iterator[str]:
    """Rows of the inspection sheet that are held against their limits alone."""
    if not found.others:
        return
    yield ""
    yield "follows from other dimensions, and is held against its limits alone:"
    for one in found.others:
        item = one.item
        allowed = "no limits stated" if np.isnan(item.low) else f"{item.low:.3f} to {item.high:.3f}"
        mark = "  OUTSIDE" if one.outside else ""
        yield f"{item.number:4d} {item.name}: {one.measured:.3f}, {allowed}{mark}"


def _sizes(found: AsMade) -> Iterator[str]:
    if not found.sizes:
        return
    wide = max(len(one.dimension.path) for one in found.sizes)
    yield f"{'dimension':{wide}}  {'stated':>9} {'measured':>9} {'off':>7} {'allowed':>8}  mm"
    for one in found.sizes:
        allowed = "" if np.isnan(one.deviation) else f"+-{one.deviation:g}"
        mark = "  OUTSIDE the general tolerance" if one.outside else ""
        yield (
            f"{one.dimension.path:{wide}}  {float(one.dimension.value):9.3f} {one.measured:9.3f} {one.off:+7.3f} "
            f"{allowed:>8}{mark}"
        )


def _changes(found: AsMade) -> Iterator[str]:
    if not found.changes:
        return
    shown = found.changes[:SHOWN]
    wide = max(len(f"{one.made.name}, {one.made.load_case}") for one in shown)
    yield f"{'check, what got worst first':{wide}}  {'drawn':>8} {'made':>8} {'required':>8}"
    for one in shown:
        short = "" if one.made.ok else "  FALLS SHORT"
        name = f"{one.made.name}, {one.made.load_case}"
        yield (
            f"{name:{wide}}  {float(one.drawn.factor):8.3g} {float(one.made.factor):8.3g} "
            f"{float(one.made.required):8g}{short}"
        )
    if len(found.changes) > SHOWN:
        yield f"and {len(found.changes) - SHOWN} more that moved less"
    yield ""


def _unless(found: AsMade) -> Iterator[str]:
    for one in found.unless:
        yield f"It holds unless {one}."
    yield (
        "Only what was measured differs here from the drawing; fits and threads are judged by gauge. Have a part "
        "outside its limits looked at by a qualified person before it is used."
    )
