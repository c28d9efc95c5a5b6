"""What a builder reads of a part as it was made: in words, as plain data, and as the card of its record."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.inputs.problems import InputError
from parts.proof.gauges import judged, kept

if TYPE_CHECKING:
    from parts.core.check import Check
    from parts.core.part import Part
    from parts.study.made.as_made import AsMade
    from parts.study.made.fits import Fit
    from parts.study.made.record import Record

SHOWN = 12
"""Checks that are shown, what got worst first."""


def as_made_text(found: AsMade) -> str:
    """The verdict, the sizes, the checks that moved, and how far the readings may be off."""
    return (
        "\n".join(
            [
                verdict(found),
                *_out(found),
                *([] if found.record is None else [f"proof load: {proof_of(found).lines[0]}"]),
                "",
                *_sizes(found),
                *_others(found),
                *_fits(found),
                *_mates(found),
                "",
                *_changes(found),
                *_unless(found),
            ]
        )
        + "\n"
    )


def verdict(found: AsMade) -> str:
    """Whether it holds as made, in one sentence."""
    name = found.stated.part.name
    if found.result is None:
        broken = "; ".join(
            f"{one.field}: {one.wrong}" if one.field else one.wrong for one in found.broken
        )
        return f"{name} AS MADE BREAKS ITS RULES, so nothing says that it holds: {broken}"
    governing = found.result.governing
    if governing is None:
        return f"{name} as made meets its rules; it states no load case, so nothing was checked"
    if proof_of(found).failed:
        return f"{name} DID NOT HOLD ITS PROOF LOAD, whatever its sizes say; it is not to be used"
    word = "holds as made" if found.holds else "DOES NOT HOLD AS MADE"
    return f"{name} {word}: {_named(governing)}, {_of(governing)}"


def _named(check: Check) -> str:
    return f"{check.name}, {check.load_case}" if check.load_case else check.name


def _of(check: Check) -> str:
    return f"factor {float(check.factor):.4g} of {float(check.required):g}"


def _out(found: AsMade) -> Iterator[str]:
    """Joints and mates that are out."""
    for one in found.fits:
        if not one.ok:
            yield f"{one.made.joint}: {one.verdict}; {one.remedy}"
    for mate in found.mates:
        if not mate.ok:
            yield f"{mate.part}, its mate, is out: see below"


def _fits(found: AsMade) -> Iterator[str]:
    """Joints as they are: this pin in this hole."""
    if not found.fits:
        return
    yield ""
    yield "joints as they are, clearance in mm:"
    for one in found.fits:
        yield f"  {fit_text(one)}"


def fit_text(one: Fit) -> str:
    """A joint as drawn and as made, and what would save it."""
    read = ", ".join(one.read)
    said = (
        f"{one.made.joint}: {_between(one.made.least, one.made.greatest)}, drawn "
        f"{_between(one.drawn.least, one.drawn.greatest)}; read: {read}; {one.verdict}"
    )
    return f"{said}: {one.remedy}" if one.remedy else said


def _between(low: Any, high: Any) -> str:
    return f"{np.round(float(low), 3) + 0.0:.3f} to {np.round(float(high), 3) + 0.0:.3f}"


def _mates(found: AsMade) -> Iterator[str]:
    """What the piece does to other parts of the build."""
    for one in found.mates:
        if one.broken:
            yield f"{one.part} takes from it and BREAKS ITS RULES: {one.broken}"
        for fit in one.fits:
            yield f"{one.part}, which shares a pin: {fit_text(fit)}"
        if one.worst is not None:
            drawn, made = one.worst
            word = "moves" if made.ok else "FALLS SHORT"
            yield (
                f"{one.part} takes from it and {word}: {_named(made)}, factor "
                f"{float(drawn.factor):.3g} to {float(made.factor):.3g} of {float(made.required):g}"
            )


def record_lines(one: Record, part: Part) -> Iterator[tuple[str, list[str]]]:
    """The record as headed blocks of lines."""
    entry = one.entry
    yield "", [f"{entry.made}, revision {entry.revision}, piece {entry.piece}: as made"]
    said = [("made by", entry.who), ("on", entry.when), ("with", ", ".join(entry.tools) or None)]
    yield "WHO AND WHEN", [f"{head} {text}" for head, text in said if text] or ["not stated"]
    yield (
        "METAL",
        [
            f"{m.of}: {m.what}, heat {m.heat or 'not stated'}, certificate {m.certificate or 'not stated'}"
            for m in entry.metal
        ]
        or ["not stated"],
    )
    yield (
        "TORQUE PUT ON",
        [
            f"{t.of}: {t.put_on / 1000.0:g} N*m{f', {t.using}' if t.using else ''}"
            for t in entry.torque
        ]
        or ["not stated"],
    )
    if entry.notes:
        yield "NOTES", list(entry.notes)
    yield "PROOF LOAD", list(tested(one, part).lines)


@dataclass(frozen=True)
class Tested:
    """What a proof load came to, in lines; `failed` where it was put on and the piece did not hold."""

    lines: tuple[str, ...]
    failed: bool = False


def tested(one: Record | None, part: Part) -> Tested:
    """What the proof load of a piece came to, by the test and the readings kept beside its record.

    Args:
        one: the record; None where there is none.
        part: the part as it is stated now, of which a test must still prove something.
    """
    pulled = None if one is None else one.entry.proof_load
    if one is None or pulled is None:
        return Tested(("NOT TESTED",))
    try:
        test = kept(one.path.parent / pulled.test)
        verdict = judged(test, one.path.parent / pulled.readings)
    except InputError as error:
        return Tested((f"NOT TESTED: {error}",))
    failed = verdict.tested and not verdict.ok
    if not failed and (stale := test.stale(part)):
        return Tested((f"NOT TESTED: {pulled.test}: {stale}",))
    when = f" on {pulled.when}" if pulled.when else ""
    return Tested(
        (f"{verdict.state}, {test.case}, {test.pull:.0f} N{when}", *verdict.lines), failed
    )


def proof_of(found: AsMade) -> Tested:
    """What its proof load came to."""
    return tested(found.record, found.stated.part)


def good(found: AsMade) -> bool:
    """Whether the piece holds, goes together, stands with its mates, and no proof load says otherwise."""
    return found.ok and not proof_of(found).failed


def card(found: AsMade) -> Iterator[tuple[str, list[str]]]:
    """The card of a piece as headed blocks of lines: its record, and what its sizes come to."""
    if found.record is not None:
        yield from record_lines(found.record, found.stated.part)
    else:
        yield "", [f"{found.stated.part.name}, revision {found.stated.part.revision}: as made"]
    yield "VERDICT", [verdict(found), *_out(found)]
    if found.sizes or found.others:
        yield "SIZES", [*_sizes(found), *_others(found)]
    if found.fits:
        yield "JOINTS", [fit_text(one) for one in found.fits]
    if mates := list(_mates(found)):
        yield "MATES", mates
    yield (
        "HOLDS UNLESS",
        [*found.unless] or ["no single reading off by its error turns the verdict"],
    )


def as_made_json(found: AsMade) -> bytes:
    """The same as plain data."""
    record = found.record
    governing = found.result.governing if found.result is not None else None
    data: dict[str, Any] = {
        "part": found.stated.part.name,
        "revision": found.stated.part.revision,
        "ok": good(found),
        "holds": found.holds,
        "said": verdict(found),
        "broken": [{"field": one.field, "wrong": one.wrong} for one in found.broken],
        "governing": None if governing is None else _check(governing),
        "sizes": [
            {"dimension": one.dimension.path, "stated_mm": float(one.dimension.value), "measured_mm": one.measured,
             "within_mm": one.error, "allowed_mm": _finite(one.deviation), "outside": one.outside}
            for one in found.sizes
        ],
        "rows": [
            {"number": one.item.number, "name": one.item.name, "measured_mm": one.measured,
             "least_mm": _finite(one.item.low), "greatest_mm": _finite(one.item.high), "outside": one.outside}
            for one in found.others
        ],
        "fits": [_fit(one) for one in found.fits],
        "mates": [
            {"part": one.part, "ok": one.ok, "broken": one.broken, "fits": [_fit(fit) for fit in one.fits],
             "worst": None if one.worst is None else {"drawn": _check(one.worst[0]), "made": _check(one.worst[1])}}
            for one in found.mates
        ],
        "changes": [{"drawn": _check(one.drawn), "made": _check(one.made), "share": _finite(one.share)}
                    for one in found.changes],
        "holds_unless": list(found.unless),
        "record": None if record is None else record.entry.model_dump(mode="json"),
        "proof_load": None if record is None else list(proof_of(found).lines),
    }  # fmt: skip
    return (json.dumps(data, indent=1, ensure_ascii=False) + "\n").encode()


def _finite(value: float) -> float | None:
    return float(value) if np.isfinite(value) else None


def _check(one: Check) -> dict[str, Any]:
    return {"name": one.name, "load_case": one.load_case, "factor": _finite(float(one.factor)),
            "required": float(one.required)}  # fmt: skip


def _fit(one: Fit) -> dict[str, Any]:
    return {"joint": one.made.joint, "read": list(one.read), "least_mm": float(one.made.least),
            "greatest_mm": float(one.made.greatest), "drawn_least_mm": float(one.drawn.least),
            "drawn_greatest_mm": float(one.drawn.greatest), "verdict": one.verdict, "remedy": one.remedy}  # fmt: skip


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


def size_rows(found: AsMade) -> Iterator[tuple[str, ...]]:
    """Each measured dimension: its path, stated, measured, off, allowed [mm], and a word where it is out."""
    for one in found.sizes:
        allowed = "" if np.isnan(one.deviation) else f"+-{one.deviation:g}"
        mark = "OUTSIDE the general tolerance" if one.outside else ""
        yield (
            one.dimension.path, f"{float(one.dimension.value):.3f}", f"{one.measured:.3f}", f"{one.off:+.3f}", allowed,
            mark,
        )  # fmt: skip


def _sizes(found: AsMade) -> Iterator[str]:
    if not found.sizes:
        return
    wide = max(len(one.dimension.path) for one in found.sizes)
    yield f"{'dimension':{wide}}  {'stated':>9} {'measured':>9} {'off':>7} {'allowed':>8}  mm"
    for path, stated, measured, off, allowed, mark in size_rows(found):
        yield f"{path:{wide}}  {stated:>9} {measured:>9} {off:>7} {allowed:>8}  {mark}".rstrip()


def _changes(found: AsMade) -> Iterator[str]:
    if not found.changes:
        return
    shown = found.changes[:SHOWN]
    wide = max(len(_named(one.made)) for one in shown)
    yield f"{'check, what got worst first':{wide}}  {'drawn':>8} {'made':>8} {'required':>8}"
    for one in shown:
        short = "" if one.made.ok else "  FALLS SHORT"
        yield (
            f"{_named(one.made):{wide}}  {float(one.drawn.factor):8.3g} {float(one.made.factor):8.3g} "
            f"{float(one.made.required):8g}{short}"
        )
    if len(found.changes) > SHOWN:
        yield f"and {len(found.changes) - SHOWN} more that moved less"
    yield ""


def _unless(found: AsMade) -> Iterator[str]:
    for one in found.unless:
        yield f"It holds unless {one}."
    yield (
        "Only what was measured differs here from the drawing; threads and angles are judged at the bench. Have a part "
        "outside its limits looked at by a qualified person before it is used."
    )
