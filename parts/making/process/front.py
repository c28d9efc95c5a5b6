"""The first page of the process sheets: stock, set-ups, sizes before coating, what to watch, torques, cautions."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from parts.core.cautions import CAUTIONS
from parts.core.part import Part
from parts.core.rules import Rule
from parts.making.bench.figures import Figures
from parts.making.bench.ink import Ink, Letters, line, plain
from parts.making.bench.paper import wrapped
from parts.making.mill.coating import bores, coating
from parts.making.mill.findings import gap_rules, hole_rules
from parts.making.mill.geometry import fitted
from parts.making.mill.surfaces import gaps
from parts.making.process.plan import Plan
from parts.making.process.sheet import LEFT, ROW, TEXT, TOP, Page, held_words
from parts.making.process.step import SetUp
from parts.making.stock import OFFERED, cuts
from parts.shapes.volume import volume

LBF_FT = 1.3558179483314
POUND = 0.45359237
TORQUE = "torque of "


def front_pages(plan: Plan, setups: Sequence[SetUp], size: tuple[float, float]) -> list[Page]:
    """What stands before the set-ups, on as many lying pages as it takes."""
    wide, high = size
    found: list[Page] = []
    part = plan.part
    piece = f", {plan.drawn.piece}" if len(part.drawn()) > 1 else ""
    title = f"{part.name}{piece} {part.title}: how it is made"
    ink: list[Ink] = []
    y = 0.0
    for heading, lines in _blocks(plan, setups):
        if not lines:
            continue
        for k, words in enumerate([heading, *lines]):
            for m, text in enumerate(wrapped(words, wide - 2 * LEFT - 4.0, TEXT)):
                if not ink or y - ROW < LEFT:
                    ink = [Letters(plain(title), np.array([LEFT, high - TOP]), 4.0, bold=True)]
                    found.append((size, ink))
                    y = high - TOP - 4.0
                y -= ROW + (2.0 if k == 0 and m == 0 else 0.0)
                ink.append(
                    Letters(text, np.array([LEFT + (0.0 if k == 0 else 3.0), y]), TEXT, bold=k == 0)
                )
        ink.append(line("table", (LEFT, y - 1.2), (wide - LEFT, y - 1.2)))
    return found


def _blocks(plan: Plan, setups: Sequence[SetUp]) -> Iterator[tuple[str, list[str]]]:
    part = plan.part
    figures = Figures("in" if part.drawing.units == "in" else "mm")
    yield "Stock", list(_stock(plan, figures))
    yield (
        "Set-ups",
        [
            f"{k}  {one.machine}: {held_words(plan, one, figures)}"
            for k, one in enumerate(setups, 1)
        ],
    )
    wrong = [
        figures.said(f"CANNOT BE MADE SO. {one.field}: {one.wrong()}; {one.how}")
        for one in plan.rules
        if not one.ok
    ]
    watch = [
        *wrong,
        *dict.fromkeys(
            figures.said(f"{one.field}: {one.wrong()}; {one.how}")
            for one in _advice(plan)
            if not one.ok
        ),
    ]
    if watch:
        yield "What to watch", watch
    coated = list(_coating(plan, figures))
    if coated:
        yield "Before the finish goes on", coated
    torques = list(_torques(part))
    if torques:
        yield (
            "Hardware, tightened dry, by common practice (0.2 of preload times diameter; less with grease)",
            torques,
        )
    yield "Notes of the drawing", [figures.said(one) for one in plan.drawn.marks.notes]
    cautions = dict.fromkeys([*part.metal.cautions, *part.cautions(), *CAUTIONS])
    yield "Cautions", [figures.said(one) for one in cautions]


def _stock(plan: Plan, figures: Figures) -> Iterator[str]:
    mass = volume(plan.solid.shape) * plan.piece.material.density
    size = np.ptp(plan.solid.points, axis=0)
    sides = " x ".join(map(figures.length, size))
    weight = f"{mass / POUND:.3f} lb" if figures.units == "in" else f"{mass:.3f} kg"
    yield f"{plan.piece.material.name}; finished {sides} {figures.unit}, {weight}"
    for k, cut in enumerate(cuts(plan.part, plan.piece)[:OFFERED]):
        said = f"; {cut.note}" if cut.note else ""
        sawn = cut.name.removeprefix(cut.stock.name)
        rest = f"{sawn}, {cut.length:.0f} mm long: {cut.waste:.0%} goes to chips{said}"
        yield f"{'take' if k == 0 else 'or'} {cut.stock.name}{figures.said(rest)}"
    if plan.bought:
        yield f"{len(plan.bought)} faces stay as the stock is bought"


def _advice(plan: Plan) -> Iterator[Rule]:
    milling = plan.part.milling
    yield from gap_rules(gaps(plan.solid.shape), milling)
    yield from hole_rules(plan.drawn.marks.holes, milling)


def _coating(plan: Plan, figures: Figures) -> Iterator[str]:
    coat = coating(plan.part.finish)
    if coat is None:
        return
    if coat.thickness <= 0.0:
        stated = f"state one, as in `{coat.kind} 25 um`, and the machining sizes follow"
        yield f"Finish {coat.words!r} says no thickness: {stated}."
        return
    yield (
        f"{coat.kind}, {1e3 * coat.thickness:.0f} um, {coat.share:.0%} of it above the old surface (common practice, "
        "no source): ask who coats, or have bores and threads masked. Machine to:"
    )
    sizes = [one.size for one in fitted(plan.drawn.marks, plan.part.milling.geometry)]
    for bore in bores(plan.drawn.marks.holes, coat, sizes):
        low, high = (figures.length(v, fine=True) for v in bore.before)
        ends = " to ".join(figures.length(v, fine=True) for v in bore.finished)
        yield f"{bore.name}: {bore.what} {low} to {high}, which ends at {ends}"


def _torques(part: Part) -> Iterator[str]:
    for name, (value, unit) in part.facts().items():
        if name.startswith(TORQUE) and unit == "N*m":
            pull = float(np.max(value))
            what = name.removeprefix(TORQUE).split(", dry")[0]
            yield f"{what}: {pull:.1f} N·m ({pull / LBF_FT:.1f} lbf·ft)   tightened to . . . . . . . ."
