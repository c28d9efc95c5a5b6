"""Peaks of the stress: where they are looked for, the one at each notch, and the mesh refined until they stay."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from parts.proof.curving import determinants
from parts.proof.elastic import solve, unknowns_of
from parts.proof.field import Field, fields, principal
from parts.proof.hand import SLACK, HandNotch
from parts.proof.records import Spot
from parts.proof.refine import Aim, Settled, divided
from parts.strength.section.properties import properties

ROOM = 3.0
"""How far beyond its stretch the peak of a notch is looked for, its radius or this [mm], whichever is less."""
Peak = tuple[float, tuple[float, float, float]]
"""The largest von Mises stress of a notch [MPa], and where."""
STAYS, ROUNDS = 0.04, 3
"""By how much [-] a peak may still change, and how often the elements about it are divided at most."""
KEPT, LOWEST = 300, 0.15
"""How many points of a solution are kept, and down to which share of its peak [-]."""


@dataclass(frozen=True)
class Points:
    """Points at which stress is looked at: their places (n, 3) [mm], and the von Mises stress there (n,) [MPa]."""

    places: np.ndarray
    mises: np.ndarray

    def highest(self) -> Peak:
        """The highest of all."""
        i = int(np.argmax(self.mises))
        return float(self.mises[i]), _triple(self.places[i])

    def in_stretch(self, one: HandNotch) -> tuple[float, tuple[float, float, float]] | None:
        """The largest von Mises stress [MPa] in the stretch, within its outlines, and where; None without a point."""
        span = one.critical.span
        start, way = np.asarray(span.start, float), np.subtract(span.end, span.start)
        axes = np.asarray(span.axes, float)
        long = float(way @ axes[0])
        if abs(long) < 1e-9 or not len(self.places):
            return None
        t = (self.places - start) @ axes[0] / long
        room = max(0.5 / (span.stations - 1), min(one.radius, ROOM) / abs(long))
        near = np.flatnonzero((t > one.t[0] - room) & (t < one.t[-1] + room))
        if not len(near):
            return None
        t = np.clip(t[near], one.t[0], one.t[-1])
        off = self.places[near] - start - t[:, None] * way
        y, z = off @ axes[1], off @ axes[2]
        box = properties(span.outline(one.t))
        slack = SLACK * float(np.min(np.minimum(box.y_max - box.y_min, box.z_max - box.z_min)))
        inside = np.ones(len(near), bool)
        for v, middle, low, high in (
            (y, box.y, box.y_min, box.y_max),
            (z, box.z, box.z_min, box.z_max),
        ):
            at_low, at_high = (
                np.interp(t, one.t, np.broadcast_to(middle + end, one.t.shape))
                for end in (low, high)
            )
            inside &= (v > at_low - slack) & (v < at_high + slack)
        for cylinder in one.apart:
            inside &= ~within(self.places[near], *cylinder)
        if not inside.any():
            return None
        i = near[inside][np.argmax(self.mises[near[inside]])]
        return float(self.mises[i]), _triple(self.places[i])

    def about(
        self, cylinder: tuple[Any, Any, Any], apart: Sequence[tuple[Any, Any, Any]] = ()
    ) -> Peak | None:
        """The largest von Mises stress [MPa] in a cylinder, as `Spot.around`, but in none of those `apart`, and where;
        None without a point."""
        there = within(self.places, *cylinder)
        for other in apart:
            there &= ~within(self.places, *other)
        inside = np.flatnonzero(there)
        if not len(inside):
            return None
        i = inside[np.argmax(self.mises[inside])]
        return float(self.mises[i]), _triple(self.places[i])

    def thinned(self) -> np.ndarray:
        """No more than `KEPT` points (n, 4), places [mm] and stress [MPa]: of each cube the highest, down to a share of
        the peak."""
        high = np.flatnonzero(self.mises >= LOWEST * self.mises.max())
        high = high[np.argsort(-self.mises[high], kind="stable")]
        cube = 0.5
        while True:
            cells = np.floor(self.places[high] / cube).astype(int)
            first = np.sort(np.unique(cells, axis=0, return_index=True)[1])
            if len(first) <= KEPT:
                some = high[first]
                return np.column_stack([self.places[some], self.mises[some]])
            cube *= 1.3


@dataclass(frozen=True)
class Stressed(Points):
    """The points of a solution, with the stress there (n, 6) [MPa]."""

    smooth: np.ndarray

    @classmethod
    def at(cls, found: Field, points: np.ndarray) -> Stressed:
        """The stress of a solution at some of its points, by number."""
        rows = found.places.reshape(-1, 3), found.mises.ravel(), found.smooth.reshape(-1, 6)
        return cls(*(row[points] for row in rows))

    def peak(self) -> Spot:
        """The highest of all, with its principal stresses."""
        mises, place = self.highest()
        low, middle, high = (float(v) for v in principal(self.smooth[int(np.argmax(self.mises))]))
        return Spot(place, mises, (low, middle, high))


def within(places: np.ndarray, middle: Any, way: Any, radius: Any) -> np.ndarray:
    """True for the places (n, 3) within a radius of the axis through a place, or through one of several (m, 3)."""
    axis = np.asarray(way, float) / np.linalg.norm(way)
    square = np.eye(3) - np.outer(axis, axis)
    inside = np.zeros(len(places), bool)
    for one in np.atleast_2d(np.asarray(middle, float)):
        inside |= np.linalg.norm((places - one) @ square, axis=1) < float(radius)
    return inside


def _triple(row: Any) -> tuple[float, float, float]:
    x, y, z = (float(v) for v in row)
    return x, y, z


def sharpen(
    settled: Settled,
    look: Callable[[int, Field], Stressed],
    notches: Sequence[Sequence[HandNotch]],
    aim: Aim,
    say: Callable[[str], None],
) -> tuple[Settled, tuple[Stressed, ...]]:
    """Divide the elements about the peaks of every case until the peaks stay.

    Args:
        settled: the solution whose strain energy is settled.
        look: gives the stress of a case where it is looked at.
        notches: of each case.
        aim: how many unknowns may be taken.
        say: told of every step.

    Returns:
        The last solution, and the stress of each case.
    """
    found = tuple(look(k, one) for k, one in enumerate(settled.fields))
    last = _spots(found, notches)
    for _ in range(ROUNDS):
        flags = _about(settled.fields[0], [spot[1] for spot in last if spot is not None])
        finer = divided(settled.solved.meshed, flags)
        if not flags.any() or unknowns_of(finer, settled.solved.order) > aim.most:
            break
        solved = solve(finer, settled.solved.solid, settled.solved.order)
        settled = replace(settled, solved=solved, fields=fields(solved))
        found = tuple(look(k, one) for k, one in enumerate(settled.fields))
        now = _spots(found, notches)
        change = max(_change(a, b) for a, b in zip(last, now, strict=True))
        say(f"{solved.unknowns} unknowns, peaks change by {change:.1%}")
        last = now
        if change <= STAYS:
            break
    return settled, found


def _change(before: Peak | None, now: Peak | None) -> float:
    """By how much a peak changed [-]; all of it where no point of the coarser mesh lay in its notch."""
    if now is None:
        return 0.0
    return 1.0 if before is None else abs(before[0] / now[0] - 1.0)


def _spots(found: Sequence[Stressed], notches: Sequence[Sequence[HandNotch]]) -> list[Peak | None]:
    """The highest peak of each case, and those of its notches, None where no point lies in one."""
    spots: list[Peak | None] = []
    for one, some in zip(found, notches, strict=True):
        peak = one.peak()
        spots.append((peak.mises, peak.place))
        spots += [one.in_stretch(notch) for notch in some if notch.stated]
    return spots


def _about(found: Field, spots: Sequence[tuple[float, float, float]]) -> np.ndarray:
    """True for the elements that hold a spot, and for those within an element's length of it."""
    size = np.cbrt(np.abs(determinants(found.places).mean(axis=1)))
    flags = np.zeros(len(size), bool)
    for spot in spots:
        away = np.sqrt(((found.places - np.asarray(spot)) ** 2).sum(axis=-1)).min(axis=1)
        flags |= away < size[int(np.argmin(away))]
    return flags
