"""What goes with the STEP to the shop that mills: `mill.txt`."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Sequence

import numpy as np

from parts.core.cautions import CAUTIONS
from parts.core.part import Part
from parts.core.rules import Rule
from parts.making.mill.findings import place_words
from parts.making.mill.geometry import MachinedDiameter, MachinedHole
from parts.making.mill.milled import Milled

WIDTH = 100
SHOWN = 3
FEW = 12


def mill_text(part: Part, pieces: Sequence[Milled]) -> str:
    """Lay out the sheet of a part for the mill.

    Args:
        part: the part.
        pieces: its pieces as they are milled.

    Returns:
        Text of at most 100 columns.
    """
    head = f"{part.name} {part.title}, revision {part.revision}: for the mill"
    tools = (
        f"Asked of: end mill {part.milling.cutter:g} mm, reach {part.milling.reach:g} diameters; drills to "
        f"{part.milling.drill_depth:g} diameters; walls from {part.milling.least_wall:g} mm. "
        "Places in the part's axes, mm."
    )
    lines = [*textwrap.wrap(head, WIDTH), *textwrap.wrap(tools, WIDTH), ""]
    for one in pieces:
        lines += [*_piece(part, one), *_holes(one), *_rules(one), *_setups(one), *_coating(one), ""]
    lines += ["Cautions:"]
    for said in dict.fromkeys(_cautions(part, pieces)):
        lines += _wrapped(f"- {said}")
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _piece(part: Part, one: Milled) -> Iterator[str]:
    x, y, z = one.size
    yield f"{one.piece.name}: {one.piece.material.name}, {part.milling.geometry} geometry"
    yield f"  size      {x:.2f} x {y:.2f} x {z:.2f} mm, {one.volume * one.piece.material.density:.3f} kg"
    for i, cut in enumerate(one.cuts[:SHOWN]):
        word = "stock" if i == 0 else "or"
        said = f"; {cut.note}" if cut.note else ""
        chips = f"{cut.waste:.0%} goes to chips{said}"
        yield f"  {word:<8}  {cut.name}, {cut.length:.0f} mm long, {chips}"


def _holes(one: Milled) -> Iterator[str]:
    if not one.holes:
        yield "  holes     none are described of this piece"
    else:
        yield "  holes, as called out on the faces of the STEP file:"
    for made, words in zip(one.holes, one.callouts, strict=True):
        yield from _made(made.hole.name, made.hole.place, words, made)
    if one.sizes:
        yield "  other diameters with a fit, as called out on the faces of the STEP file:"
    for round_, words in zip(one.sizes, one.size_callouts, strict=True):
        yield from _made(round_.size.name, round_.size.centre, words, round_)


def _made(
    name: str, place: Sequence[float], words: str, made: MachinedHole | MachinedDiameter
) -> Iterator[str]:
    in_file = f"In the file Ø{made.diameter:.3f}, {made.words}"
    yield from _wrapped(f"{name} at {place_words(place)}: {words}. {in_file}")


def _rules(one: Milled) -> Iterator[str]:
    yield f"  {len(one.rules)} rules of milling looked at, {len(one.broken)} not met"
    for rule, count in _alike(one.broken):
        more = (
            f" ({count} alike, as the teeth of a spline are: broach or wire)" if count > FEW else ""
        )
        more = f" ({count} alike)" if 1 < count <= FEW else more
        yield from _wrapped(f"! {rule.field}{more}: {rule.wrong()}; {rule.how}")


def _alike(rules: Sequence[Rule]) -> Iterator[tuple[Rule, int]]:
    """The first of every kind of broken rule with its value, and how many there are of it."""
    found: dict[tuple[str, str], list[Rule]] = {}
    for rule in rules:
        found.setdefault((rule.code, f"{float(rule.value):.3g}"), []).append(rule)
    for same in found.values():
        yield same[0], len(same)


def _setups(one: Milled) -> Iterator[str]:
    found = one.setups
    lathe = "; what is round all the way may be turned" if found.turned else ""
    yield f"  set-ups   {len(found.each)} on a mill with three axes{lathe}"
    for i, each in enumerate(found.each, 1):
        holes = f"; holes {', '.join(each.holes)}" if each.holes else ""
        yield from _wrapped(f"{i}. from {_way(each.way)}: {each.faces} faces{holes}")
    if found.unreached:
        yield f"  undercuts {len(found.unreached)} that no straight set-up reaches:"
        for kind, place in found.unreached:
            yield from _wrapped(
                f"! {kind} at {place_words(place)}: needs a side cutter, a ball nose or more axes"
            )


def _way(way: np.ndarray) -> str:
    for axis, value in zip("xyz", way, strict=True):
        if abs(value) > 1.0 - 1e-6:
            return f"{'+' if value > 0 else '-'}{axis}"
    return "(" + ", ".join(f"{v:.3f}" for v in way + 0.0) + ")"


def _coating(one: Milled) -> Iterator[str]:
    coat = one.coating
    if coat is None:
        return
    if coat.thickness <= 0.0:
        yield from _wrapped(
            f"! finish {coat.words!r} says no thickness: state one, as in `{coat.kind} 25 um`, "
            "and the machining sizes follow"
        )
        return
    above = f"{coat.share:.0%} of it above the old surface"
    yield f"  coating   {coat.kind}, {1e3 * coat.thickness:.0f} um, {above}: machine to"
    for bore in one.bores:
        low, high = bore.before
        yield from _wrapped(
            f"{bore.name}: {bore.what} {low:.3f} to {high:.3f} mm, which ends at {bore.finished[0]:.3f} to "
            f"{bore.finished[1]:.3f}"
        )


def _cautions(part: Part, pieces: Sequence[Milled]) -> Iterator[str]:
    yield "The STEP file is geometry; tolerances, threads and finishes stand in the drawing and in this sheet."
    if part.milling.geometry == "mid-tolerance":
        yield (
            "Diameters with a fit are drawn in the middle of their limits: do not add the tolerance "
            "again. Lengths and widths are at their nominal size."
        )
    if any(one.coating is not None for one in pieces):
        yield (
            "Growth under a coating is a rule of the trade (common practice, no source): ask who coats, or "
            "have bores and threads masked."
        )
    yield from part.metal.cautions
    yield from part.cautions()
    yield from CAUTIONS


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, WIDTH, initial_indent="    ", subsequent_indent="      ")
