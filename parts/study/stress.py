"""The stress along the load path of many variants, at the few stations where it can govern."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.loadpath import Span, carried
from parts.core.loads import LoadCase
from parts.core.part import Part
from parts.core.search.critical import criticals
from parts.core.search.look import looks
from parts.strength.section.bound import stress_bound
from parts.strength.section.outline import Loop, Outline
from parts.strength.section.properties import Section, properties

SAMPLE = 48
"""Variants, spread evenly over the rows, whose whole load path is looked at."""
STATIONS = 13
"""Stations of each span for that."""
MISSED = 0.01
"""Share of the greatest stress [-] that the stations taken may miss in the sample."""
MOST = 6
"""Stations that are taken at most."""
SOLVED = 8
"""Variants of the sample whose stress is solved for, to see how high the bound lies above it."""
TOGETHER = 400
"""Variants whose sections are calculated in one go."""


@dataclass(frozen=True)
class Station:
    """A place on the load path: the number of its span, and where along it."""

    span: int
    t: float


@dataclass(frozen=True)
class PathStress:
    """The stations at which the stress of every variant is bounded, and what a reader must know of them.

    `share` [-], of shape (cases,), is the greatest share of the bound that the solved stress of the
    sample reaches under each load case.
    """

    stations: tuple[Station, ...]
    share: np.ndarray
    notes: tuple[str, ...] = ()

    def factors(self, model: Part, rows: np.ndarray) -> Iterator[tuple[str, Any, Any]]:
        """For each load case the factor on yield and that on ultimate strength, with those required.

        Args:
            model: a part with arrays over the rows.
            rows: the rows.

        Returns:
            Name, factor and required factor: two for each load case, in order.
        """
        if not self.stations:
            return
        spans = model.spans()
        worst = np.zeros((2, len(model.loads), len(rows)))
        for at in self.stations:
            span = spans[at.span]
            stress = bound_at(span, model.loads, at.t, len(rows))
            stress = stress * self.share[:, None]
            for k, strength in enumerate(
                (span.material.yield_strength, span.material.ultimate_strength)
            ):
                worst[k] = np.maximum(worst[k], stress / np.asarray(strength))
        for i, case in enumerate(model.loads):
            required = model.factors(case)
            yield "stress along the load path, yield", 1.0 / worst[0, i], required.on_yield
            yield "stress along the load path, ultimate", 1.0 / worst[1, i], required.on_ultimate


def path_stress(
    model_of: Callable[[Any], Part], rows: np.ndarray, cases: Sequence[LoadCase]
) -> PathStress | None:
    """Choose the stations that decide, and see how high the bound lies.

    A sample of the variants is looked at from end to end; then stations are taken, the one that is
    worst for most variants first, until no variant of the sample has more than 1 % more stress elsewhere.

    Args:
        model_of: gives the part with arrays over some rows, or, of one row, with its numbers.
        rows: all rows.
        cases: the load cases.

    Returns:
        The stations; None where the sections of the family take no arrays.
    """
    few = rows[np.unique(np.linspace(0, len(rows) - 1, SAMPLE).astype(int))]
    try:
        places, by_case = _looked_at(model_of(few), few, cases)
    except (ValueError, TypeError, IndexError):
        return None
    share = by_case.max(axis=1)
    taken: list[int] = []
    whole = share.max(axis=0)
    while len(taken) < MOST:
        short = whole * (1.0 - MISSED) > (share[taken].max(axis=0) if taken else 0.0)
        if not short.any():
            break
        # The station that is worst for most of the variants not yet served.
        worst = np.argmax(share[:, short], axis=0)
        taken.append(int(np.bincount(worst).argmax()))
    missed = float((whole / share[taken].max(axis=0)).max()) - 1.0
    solved = _solved_share(model_of, few, by_case[taken].max(axis=0))
    note = (
        f"stress along the load path: its upper bound at {len(taken)} stations, those that govern in a sample of "
        f"{len(few)} variants; no other station of the sample is more than {missed:.1%} above them; the bound is "
        f"multiplied by the largest share of it that the solved stress reaches in {min(len(few), SOLVED)} variants "
        f"({_shares(cases, solved)})"
    )
    return PathStress(tuple(places[i] for i in taken), solved, (note,))


def _shares(cases: Sequence[LoadCase], solved: np.ndarray) -> str:
    return ", ".join(f"{case.name}: {share:.2f}" for case, share in zip(cases, solved, strict=True))


def _solved_share(
    model_of: Callable[[Any], Part], few: np.ndarray, bound: np.ndarray
) -> np.ndarray:
    """Solved over bounded share of yield, the greatest of some of the sample, for each case."""
    found = np.zeros(len(bound))
    for k in np.unique(np.linspace(0, len(few) - 1, SOLVED).astype(int)):
        model = model_of(few[k])
        for i, worst in enumerate(criticals(looks(model.spans(), model.loads))):
            used = float(worst.stress.von_mises) / worst.span.material.yield_strength
            found[i] = max(found[i], used / bound[i, k] if bound[i, k] > 0.0 else 1.0)
    return np.minimum(found, 1.0 + MISSED)


def _looked_at(
    model: Part, rows: np.ndarray, cases: Sequence[LoadCase]
) -> tuple[list[Station], np.ndarray]:
    """Every station of the sample and the share of yield that it uses, (stations, cases, rows)."""
    places, shares = [], []
    for j, span in enumerate(model.spans()):
        for t in np.linspace(0.0, 1.0, STATIONS):
            stress = bound_at(span, cases, float(t), len(rows))
            places.append(Station(j, float(t)))
            shares.append(stress / np.asarray(span.material.yield_strength))
    return places, np.stack(shares)


def bound_at(span: Span, cases: Sequence[LoadCase], t: float, count: int) -> np.ndarray:
    """Upper bound of the von Mises stress at one station of a span.

    Args:
        span: a stretch of the load path, with arrays over `count` variants where it has any.
        cases: the load cases.
        t: the station.
        count: how many variants.

    Returns:
        [MPa] shape (cases, count).
    """
    outline = span.outline(np.asarray(t))
    section = properties(outline)
    full = Section(**{k: np.broadcast_to(v, (count,)) for k, v in vars(section).items()})
    forces = carried(span, cases, np.asarray(t), full)
    found = np.empty((len(cases), count))
    for start in range(0, count, TOGETHER):
        some = slice(start, start + TOGETHER)
        own = type(forces)(**{k: v[:, some] for k, v in vars(forces).items()})
        bound = stress_bound(_some(outline, some), own, span.material.poisson).von_mises
        found[:, some] = bound
    return found


def _some(outline: Outline, some: slice) -> Outline:
    """The figures of some variants; what all have in common stays whole."""
    return Outline(
        tuple(
            Loop(
                loop.points[some] if loop.points.ndim > 2 and len(loop.points) > 1 else loop.points,
                loop.bulge[some] if loop.bulge.ndim > 1 and len(loop.bulge) > 1 else loop.bulge,
            )
            for loop in outline.loops
        )
    )
