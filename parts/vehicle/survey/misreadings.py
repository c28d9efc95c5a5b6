"""Readings that contradict the rest, and the slip that each of them is most like."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

import numpy as np

from parts.vehicle.survey.adjustment import CHECKED, CRITICAL, Adjustment, adjusted
from parts.vehicle.survey.entries import GAUGE, PLUMB, TAPE, Distance, Drop, Height, Slope, Wheel
from parts.vehicle.survey.observations import (
    AXES,
    SIGMAS,
    Array,
    Measured,
    Observation,
    coordinate,
    distance,
    offset,
)

INCH = 25.4
MOST = 5
"""Misreadings that are looked for, one after another."""


@dataclass(frozen=True)
class Misreading:
    """A reading that contradicts the rest.

    `should` is what the others say that it reads, to a standard error `error`; `slips` what would explain it, the
    likeliest first. `or_else` are readings that could be wrong in its place.
    """

    observation: Observation
    should: float
    error: float
    slips: tuple[str, ...]
    or_else: tuple[Observation, ...]


def without_misreadings(
    observations: Sequence[Observation],
    known: Mapping[str, Array],
    about: Mapping[str, Array] | None = None,
) -> tuple[Adjustment, list[Misreading]]:
    """Adjust, and take out what contradicts the rest, the worst first (Baarda's data snooping).

    Args:
        observations: the equations.
        known: places that are fixed [mm].
        about: where points are roughly [mm].

    Returns:
        The adjustment of the readings that agree, and those taken out.
    """
    left = list(observations)
    found: list[tuple[Observation, tuple[Observation, ...]]] = []
    result = adjusted(left, known, about)
    while len(found) < MOST and result.freedom > 0:
        w = np.abs(result.standardised)
        worst = int(np.argmax(w))
        if w[worst] <= CRITICAL:
            break
        # Without one reading the sum of squares falls by its w squared: alike are those that mend nearly as much.
        alike = [k for k in np.flatnonzero(w[worst] ** 2 - w**2 < CRITICAL**2) if k != worst]
        found.append((left[worst], tuple(left[k] for k in alike)))
        del left[worst]
        result = adjusted(left, known, about)
    return result, [_judged(one, others, result) for one, others in found]


def _judged(one: Observation, others: tuple[Observation, ...], result: Adjustment) -> Misreading:
    missing = [p for p in one.points if p not in result.places]
    if missing or any(result.open_at(p).size for p in one.points):
        return Misreading(one, float("nan"), float("nan"), (), others)
    measured = one.measure(result.places)
    error = float(np.hypot(one.sigma, result.error_of(measured)))
    slips = sorted(
        (abs(value - measured[0]), said)
        for said, value in _slips(one, result)
        if abs(value - measured[0]) <= SIGMAS * error
    )
    return Misreading(one, measured[0], error, tuple(said for _, said in slips[:3]), others)


def _slips(one: Observation, result: Adjustment) -> Iterator[tuple[str, float]]:
    """What a person may have done, and what should have been read then, as the equation counts it."""
    entry = one.entry
    if isinstance(entry, Slope):
        yield "read from the other end: the sign is changed", -one.value
        yield "read from the plumb: 90 degrees less", float(np.pi / 2.0 - one.value)
        return
    if not isinstance(entry, Distance | Drop | Height):
        return
    for step in (10.0, 100.0):
        for sign, said in ((-1.0, "too long"), (1.0, "too short")):
            yield f"read {step:g} mm {said}", one.value + sign * step
    for sign, said in ((-1.0, "too long"), (1.0, "too short")):
        yield f"read 1 in {said}", one.value + sign * INCH
    yield "millimetres written as inches", one.value / INCH
    yield "inches written as millimetres", one.value * INCH
    for swapped in _digits_swapped(entry.reads):
        yield f"two digits changed places: {swapped:g}", one.value + swapped - entry.reads
    if isinstance(entry, Drop):
        yield "the points are swapped: the sign is changed", -one.value
    if isinstance(entry, Distance):
        yield from _other_sides(entry)
        yield from _other_points(one, result)


def _digits_swapped(reads: float) -> Iterator[float]:
    text = f"{abs(reads):g}"
    for i, (a, b) in enumerate(pairwise(text)):
        if a != b and a.isdigit() and b.isdigit() and not (i == 0 and b == "0"):
            yield float(np.copysign(float(text[:i] + b + a + text[i + 2 :]), reads))


def _other_sides(entry: Distance) -> Iterator[tuple[str, float]]:
    if any(entry.holes):
        for over in ("centres", "outside", "inside"):
            if over != entry.over:
                yield f"read over {over}, not {entry.over}", entry.centres(entry.reads, over)


def _other_points(one: Observation, result: Adjustment) -> Iterator[tuple[str, float]]:
    """The reading as it would fit if one of its ends was another point."""
    should = one.measure(result.places)[0]
    for kept in one.points:
        for other in result.places:
            if other in one.points or result.open_at(other).size:
                continue
            between = distance(kept, other, result.places)[0]
            if abs(between - one.value) <= SIGMAS * one.sigma:
                yield f"taken from {kept} to {other}", should


@dataclass(frozen=True)
class Further:
    """A reading that would help most, and what it would do."""

    said: str
    gain: str


def further(result: Adjustment) -> Further | None:
    """The one further reading that would help most.

    Args:
        result: the adjustment.

    Returns:
        The reading that holds most of what is open; of a survey with nothing open, the one that makes the point
        known worst known best. None where there is nothing to gain.
    """
    if not result.unknown:
        return None
    candidates = list(_candidates(result))
    if not result.determined:
        best = max(candidates, key=lambda c: result.opens(c[1]))
        return Further(best[0], "it holds most of what is open")
    worst = max(result.unknown, key=result.within)
    at = slice(3 * result.unknown.index(worst), 3 * result.unknown.index(worst) + 3)

    def left(candidate: tuple[str, Measured, float]) -> float:
        """The longest half axis of the worst point, once this was read too, against now [-]."""
        row = result.row(candidate[1])
        to = result.covariance @ row
        after = result.covariance - np.outer(to, to) / (candidate[2] ** 2 + row @ to)
        now = np.linalg.eigvalsh(result.covariance[at, at])[-1]
        return float(np.sqrt(np.linalg.eigvalsh(after[at, at])[-1] / now))

    best = min(candidates, key=left)
    share = left(best)
    before = result.within(worst)
    if share > 0.95:
        return None
    return Further(
        best[0], f"{worst} is then known to {before * share:.2g} mm, now {before:.2g} mm"
    )


def _candidates(result: Adjustment) -> Iterator[tuple[str, Measured, float]]:
    places = result.places
    for a, b in combinations(places, 2):
        if a in result.unknown or b in result.unknown:
            yield f"tape from {a} to {b}", distance(a, b, places), TAPE / SIGMAS
            for name, axis in AXES.items():
                if name != "z":
                    yield (
                        f"plumb line along {name} from {a} to {b}",
                        offset(a, b, axis, places),
                        PLUMB / SIGMAS,
                    )
    for a in result.unknown:
        yield f"height gauge on {a}", coordinate(a, 2, places), GAUGE / SIGMAS


def unchecked(result: Adjustment) -> list[Observation]:
    """Readings that no other reading checks: a slip in one of them shows nowhere."""
    return [
        one
        for one, r in zip(result.observations, result.redundancy, strict=True)
        if r <= CHECKED and isinstance(one.entry, Distance | Height | Drop | Slope | Wheel)
    ]
