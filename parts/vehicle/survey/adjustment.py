"""Least-squares adjustment of a survey: places, how well each is known, what contradicts, what is open.

Notation of W. Baarda, A Testing Procedure for Use in Geodetic Networks, 1968, and of textbooks on adjustment: A the
gradients over the standard errors, Q the covariance of the places, r the redundancy of a reading, w its residual over
the standard error of that residual.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from parts.vehicle.survey.entries import Drop, Given, Height, Wheel
from parts.vehicle.survey.observations import Array, Measured, Observation

OPEN = 100.0
"""A direction in which places are known to no better standard error than this [mm] counts as not determined."""
CHECKED = 1e-6
"""A reading of less redundancy is checked by no other."""
CRITICAL = 3.29
"""Baarda's limit of a standardised residual: one good reading in a thousand lies beyond it."""
CONFIDENCE = 0.95
STARTS = 24
"""Places to begin from where nobody says roughly where a point is."""
ALIKE = 0.5
"""Two sets of places further apart than this [mm] anywhere are two."""


@dataclass(frozen=True)
class Adjustment:
    """Adjusted places with all that follows from them.

    `places` [mm] hold the known points too; `gradients` (equations, 3 x unknown points) are over the standard errors.
    """

    observations: tuple[Observation, ...]
    places: Mapping[str, Array]
    unknown: tuple[str, ...]
    gradients: Array
    residuals: Array
    others: tuple[Mapping[str, Array], ...] = ()
    """Other places that fit the readings as well."""

    @cached_property
    def _split(self) -> tuple[Array, Array]:
        """Singular values and right vectors; a small value is a direction that no reading holds."""
        _, s, v = np.linalg.svd(self.gradients, full_matrices=True)
        return np.concatenate([s, np.zeros(len(v) - len(s))]), v

    @property
    def _held(self) -> np.ndarray:
        return self._split[0] > 1.0 / OPEN

    @cached_property
    def covariance(self) -> Array:
        """Covariance of the unknown places [mm2], by the errors stated; open directions left out."""
        s, v = self._split
        rows = v[self._held] / s[self._held][:, None]
        return np.asarray(rows.T @ rows)

    @property
    def freedom(self) -> int:
        """Degrees of freedom: equations beyond those that the places need."""
        return len(self.observations) - int(self._held.sum())

    @property
    def squares(self) -> float:
        """Sum of squares of the residuals over their standard errors [-]."""
        return float(self.residuals @ self.residuals)

    @cached_property
    def limit(self) -> float:
        """The most that this sum comes to by chance, nineteen times of twenty; nan without freedom."""
        from scipy.special import chdtri

        return float(chdtri(self.freedom, 1.0 - CONFIDENCE)) if self.freedom > 0 else float("nan")

    @property
    def agrees(self) -> bool:
        """Whether the readings agree with each other within their errors: the global test."""
        return self.freedom <= 0 or self.squares <= self.limit

    @cached_property
    def redundancy(self) -> Array:
        """Share of each reading that the others check [-]: 0 none, 1 all."""
        hat = np.sum((self.gradients @ self.covariance) * self.gradients, axis=1)
        return np.asarray(np.clip(1.0 - hat, 0.0, 1.0))

    @cached_property
    def standardised(self) -> Array:
        """Residuals over their own standard errors [-]; 0 where no other reading checks it."""
        r = self.redundancy
        safe = np.where(r > CHECKED, r, 1.0)
        return np.where(r > CHECKED, self.residuals / np.sqrt(safe), 0.0)

    def _columns(self, point: str) -> slice:
        k = 3 * self.unknown.index(point)
        return slice(k, k + 3)

    def axes(self, point: str) -> tuple[Array, Array]:
        """Half axes [mm] of the ellipsoid that holds a point at 95 %, longest first, and their directions as rows."""
        from scipy.special import chdtri

        if point not in self.unknown:
            return np.zeros(3), np.eye(3)
        at = self._columns(point)
        values, vectors = np.linalg.eigh(self.covariance[at, at])
        half = np.sqrt(np.maximum(values, 0.0) * chdtri(3, 1.0 - CONFIDENCE))
        return half[::-1], vectors[:, ::-1].T

    def within(self, point: str) -> float:
        """The longest half axis of a point's ellipsoid [mm]; inf where a direction is open."""
        return float("inf") if self.open_at(point).size else float(self.axes(point)[0][0])

    def open_at(self, point: str) -> Array:
        """Directions (n, 3) in which no reading holds a point; none of a known one."""
        if point not in self.unknown:
            return np.empty((0, 3))
        _, v = self._split
        part = v[~self._held][:, self._columns(point)]
        if not part.size:
            return np.empty((0, 3))
        _, s, directions = np.linalg.svd(part)
        return np.asarray(directions[: int(np.sum(s > 1e-3))])

    @property
    def determined(self) -> bool:
        return bool(np.all(self._held))

    def row(self, measured: Measured) -> Array:
        """The gradient of something measured, by all unknown places."""
        return _row(measured[1], self.unknown)

    def error_of(self, measured: Measured) -> float:
        """Standard error of a length or angle between adjusted places [mm or rad]."""
        row = self.row(measured)
        return float(np.sqrt(max(float(row @ self.covariance @ row), 0.0)))

    def opens(self, measured: Measured) -> float:
        """How much of the open directions a further reading would hold [-]."""
        return float(np.linalg.norm(self._split[1][~self._held] @ self.row(measured)))


STRAIGHT = (Drop, Height, Wheel)
"""Readings that say a coordinate, or what lies between two."""


def _row(gradient: Mapping[str, Array], unknown: Sequence[str]) -> Array:
    row = np.zeros(3 * len(unknown))
    for point, part in gradient.items():
        if point in unknown:
            k = 3 * unknown.index(point)
            row[k : k + 3] += part
    return row


def adjusted(
    observations: Sequence[Observation],
    known: Mapping[str, Array],
    about: Mapping[str, Array] | None = None,
) -> Adjustment:
    """The places that the readings agree on best.

    Args:
        observations: the equations.
        known: places that are fixed [mm].
        about: where points are roughly [mm]; of the others many places are tried, always the same ones.

    Returns:
        The adjustment; where several places fit as well, the first found, the rest in `others`.
    """
    about = about or {}
    named = dict.fromkeys(p for one in observations for p in one.points)
    unknown = tuple(p for p in named if p not in known)
    problem = _Problem(tuple(observations), dict(known), unknown)
    if not unknown:
        return problem.adjustment(np.empty(0))
    found = [problem.solved(start) for start in problem.starts(about)]
    found.sort(key=lambda one: one.squares)
    best = found[0]
    if not best.determined:
        return best
    others: list[Mapping[str, Array]] = []
    # A fit that chance would give as often as the best one.
    for one in found[1:]:
        if one.squares <= max(
            best.squares + CRITICAL**2, best.limit if best.freedom else 0.0
        ) and all(_apart(one.places, other) > ALIKE for other in (best.places, *others)):
            others.append(one.places)
    return Adjustment(
        best.observations, best.places, unknown, best.gradients, best.residuals, tuple(others)
    )


def _apart(one: Mapping[str, Array], other: Mapping[str, Array]) -> float:
    return max(float(np.linalg.norm(place - other[name])) for name, place in one.items())


@dataclass(frozen=True)
class _Problem:
    observations: tuple[Observation, ...]
    known: dict[str, Array]
    unknown: tuple[str, ...]

    def places(self, x: Array) -> dict[str, Array]:
        own = {name: x[3 * i : 3 * i + 3] for i, name in enumerate(self.unknown)}
        return {**{k: np.asarray(v, float) for k, v in self.known.items()}, **own}

    def residuals(self, x: Array) -> Array:
        """What was read less what is so, over the standard errors."""
        places = self.places(x)
        return np.array([(o.value - o.measure(places)[0]) / o.sigma for o in self.observations])

    def gradients(self, x: Array) -> Array:
        places = self.places(x)
        rows = [_row(o.measure(places)[1], self.unknown) / o.sigma for o in self.observations]
        return np.array(rows).reshape(len(rows), 3 * len(self.unknown))

    def adjustment(self, x: Array) -> Adjustment:
        return Adjustment(
            self.observations, self.places(x), self.unknown, self.gradients(x), self.residuals(x)
        )

    def solved(self, start: Array) -> Adjustment:
        from scipy.optimize import least_squares

        found = least_squares(
            self.residuals, start, jac=lambda x: -self.gradients(x), xtol=1e-12, ftol=1e-12, gtol=1e-12,
            max_nfev=200,
        )  # fmt: skip
        return self.adjustment(found.x)

    def starts(self, about: Mapping[str, Array]) -> list[Array]:
        """Places to begin from: as stated, as heights and plumb lines have them, else by chance about the known points,
        the same in each run."""
        about = {**self._by_coordinates(), **about}
        middle = np.mean(list(self.known.values()), axis=0)
        lengths = [abs(o.value) for o in self.observations if o.unit == "mm"]
        reach = max(lengths, default=100.0) or 100.0
        chance = np.random.default_rng(0)
        count = 1 if all(p in about for p in self.unknown) else STARTS
        return [
            np.concatenate(
                [
                    np.asarray(about[p], float)
                    if p in about
                    else middle + reach * chance.uniform(-1.0, 1.0, 3)
                    for p in self.unknown
                ]
            )
            for _ in range(count)
        ]

    def _by_coordinates(self) -> dict[str, Array]:
        """The points that the readings of coordinates alone determine."""
        some = [one for one in self.observations if isinstance(one.entry, STRAIGHT)
                or (isinstance(one.entry, Given) and one.entry.type in ("on the middle", "level"))]  # fmt: skip
        if not some or not self.unknown:
            return {}
        known = {name: np.asarray(at, float) for name, at in self.known.items()}
        places = {**dict.fromkeys(self.unknown, np.zeros(3)), **known}
        measured = [one.measure(places) for one in some]
        rows = np.array([_row(m[1], self.unknown) for m in measured])
        off = np.array([one.value - m[0] for one, m in zip(some, measured, strict=True)])
        x, _, rank, _ = np.linalg.lstsq(rows, off, rcond=1e-9)
        free = np.abs(np.linalg.svd(rows)[2][int(rank) :]).sum(axis=0)
        return {name: x[3 * i : 3 * i + 3] for i, name in enumerate(self.unknown)
                if not np.any(free[3 * i : 3 * i + 3] > 1e-6)}  # fmt: skip
