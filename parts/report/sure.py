"""What a builder reads of how sure a part is: in words, and as plain data."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.cautions import IN_SHORT
from parts.core.figures import figure
from parts.report.text import WIDTH

if TYPE_CHECKING:
    from parts.study.sure.chances import Chance, CheckChance, Sure

SHOWN = 8
"""Checks and swings that are shown."""
MEANS = (
    "A check fails where its factor is below 1: what acts is then more than the part bears. The required factor "
    "stays the rule; the chance of failing says what it is worth. The chances count only what is listed as drawn: no "
    "bad weld, no crack, no other load case, no blunder."
)


def percent(share: float) -> str:
    """A chance in per cent, or, where it is small, as so many in a million."""
    if share == 0.0:
        return "0"
    if share >= 1e-3:
        return f"{100.0 * share:.2g} %"
    return (
        f"{float(f'{1e6 * share:.2g}'):.0f} in a million"
        if share >= 1e-6
        else "under 1 in a million"
    )


def chance_text(one: Chance) -> str:
    """A chance with its own error."""
    low, high = one.limits
    if one.count == 0:
        return f"less than {percent(high)} (none of {one.draws:,} draws)".replace(",", " ")
    return f"{percent(one.value)} (95 %: {percent(low)} to {percent(high)})"


def sure_text(found: Sure) -> str:
    """Chances, deciding numbers, what a change would buy, and what went in."""
    lines = [
        *_verdict(found),
        "",
        *_checks(found),
        "",
        *_deciding(found),
        "",
        *_buys(found),
        "",
        *_given(found),
    ]
    notes = [found.drawing.path.note, *left_out(found), MEANS, IN_SHORT]
    lines += [
        "",
        *(line for note in notes for line in textwrap.wrap(note[0].upper() + note[1:], WIDTH)),
    ]
    return "\n".join(lines) + "\n"


def left_out(found: Sure) -> Iterator[str]:
    """What was not drawn, and what drew the part out of its rules."""
    if found.no_number.count:
        why = f": {found.no_number_why}" if found.no_number_why else ""
        yield (
            f"IN {chance_text(found.no_number)} A CHECK IS NO NUMBER, which counts as failing: a part within its "
            f"limits that breaks its rules{why}"
        )
    if found.not_drawn:
        yield f"NOT DRAWN, for they take one part at a time: {', '.join(found.not_drawn)}"
    if found.drawing.left_out:
        yield f"kept as drawn, for the family takes no arrays of them: {', '.join(found.drawing.left_out)}"
    if found.apart:
        yield f"of many draws together these take the worst of some: {', '.join(found.apart)}"
    yield (
        "bolts and other bought pieces whose strength is no metal's of the part, and metal beside welds, stand at "
        "their minimum; loads that come from the build are varied as wholes"
    )


def headline(found: Sure) -> str:
    """The chance that the part fails and that it does not reach its factors, in one sentence."""
    return (
        f"{found.stated.part.name}: chance that a check fails: {chance_text(found.fails)}; that one does not reach its "
        f"required factor: {chance_text(found.short)}"
    )


def reached_text(found: Sure) -> str:
    """The least factor as it is spread."""
    return (
        f"least factor of all checks: {figure(found.reached(0.5))} in the middle, {figure(found.reached(0.05))} is not "
        f"reached by 1 in 20, {figure(found.thousandth)} by 1 in 1000"
    )


def _verdict(found: Sure) -> Iterator[str]:
    yield from textwrap.wrap(headline(found), WIDTH)
    yield from textwrap.wrap(
        f"{found.draws:,} draws; ".replace(",", " ") + reached_text(found), WIDTH
    )


def _checks(found: Sure) -> Iterator[str]:
    shown = found.checks[:SHOWN]
    wide = max(len(_named(one)) for one in shown)
    yield f"{'check, what fails first':{wide}}  {'drawn':>7} {'asked':>6} {'middle':>7}  below asked   below 1"
    for one in shown:
        yield (
            f"{_named(one):{wide}}  {figure(one.drawn):>7} {one.required:6g} {figure(one.median):>7}  "
            f"{percent(one.below_required.value):>11}   {percent(one.fails.value)}"
        )


def _named(one: CheckChance) -> str:
    return f"{one.name}, {one.case}" if one.case else one.name


def _deciding(found: Sure) -> Iterator[str]:
    lead = _named(found.checks[0])
    yield f"what decides {lead}"
    yield "(share of the variance of its factor's logarithm: alone, and with others)"
    for one in sorted(found.indices, key=lambda one: -one.total):
        alone, total = (np.round(value, 2) + 0.0 for value in (one.first, one.total))
        yield f"  {one.name}: {alone:.2f} ± {one.first_error:.2f}, {total:.2f} ± {one.total_error:.2f}"
    yield "from low to high (5 to 95 %), all others in their middle, its factor goes"
    for swing in found.swings[:SHOWN]:
        yield f"  {swing.given.name}: {figure(swing.low)} to {figure(swing.high)}"


def _buys(found: Sure) -> Iterator[str]:
    yield "what a change would buy: chance that a check fails; factor that 1 in 1000 does not reach"
    for one in found.buys:
        yield f"  {one.said}: {chance_text(one.fails)}; {figure(one.thousandth)}"
    if not any("in place of" in one.said for one in found.buys):
        yield "  no single size that is a tenth larger makes its factor larger"


def _given(found: Sure) -> Iterator[str]:
    yield "what was drawn"
    for one in found.drawing.givens:
        yield f"  {one.name}: {one.said}"


def sure_json(found: Sure) -> bytes:
    """The same as plain data."""
    data = {
        "part": found.stated.part.name,
        "draws": found.draws,
        "chance_of_failing": _chance(found.fails),
        "chance_below_required": _chance(found.short),
        "least_factor": {f"share_{share:g}": found.reached(share) for share in (0.001, 0.05, 0.5, 0.95)},
        "checks": [
            {"name": one.name, "load_case": one.case, "factor_drawn": _number(one.drawn), "required": one.required,
             "factor_middle": _number(one.median), "chance_below_required": _chance(one.below_required),
             "chance_of_failing": _chance(one.fails)}
            for one in found.checks
        ],
        "sobol": [
            {"name": one.name, "numbers": one.numbers, "first": one.first, "first_error": one.first_error,
             "total": one.total, "total_error": one.total_error}
            for one in found.indices
        ],
        "swings": [{"name": one.given.name, "low": _number(one.low), "high": _number(one.high)}
                   for one in found.swings],
        "would_buy": [{"change": one.said, "chance_of_failing": _chance(one.fails),
                       "factor_1_in_1000": _number(one.thousandth)} for one in found.buys],
        "drawn": [{"name": one.name, "kind": one.kind, "spread": one.spread, "said": one.said}
                  for one in found.drawing.givens],
        "kept_as_drawn": list(found.drawing.left_out),
        "checks_not_drawn": list(found.not_drawn),
        "checks_worst_of_many": list(found.apart),
        "no_number": {**_chance(found.no_number), "why": found.no_number_why},
        "notes": [found.drawing.path.note, MEANS],
    }  # fmt: skip
    return (json.dumps(data, indent=1, ensure_ascii=False) + "\n").encode()


def _chance(one: Chance) -> dict[str, Any]:
    low, high = one.limits
    return {"value": one.value, "low": low, "high": high, "count": one.count}


def _number(value: float) -> float | None:
    return float(value) if np.isfinite(value) else None
