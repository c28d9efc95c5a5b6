"""Tolerance chains of a build: what its joints, links and places come to at their worst, and by draws.

A chain is a sum: each size and each hardpoint in it moves the sum by its slope. At the worst all of them lie at their
limits; in a draw sizes lie anywhere between theirs, and readings are normal about theirs.
"""

from __future__ import annotations

import zlib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Literal

import numpy as np

from parts.core.clearances import UNLIMITED, Clearance
from parts.core.part import Part
from parts.families.links.link import LinkPart
from parts.features.press.fit import OWN_PLACE
from parts.inputs.units import LENGTH
from parts.standards.fits.general_tolerances import deviation_of, general_deviations
from parts.study.dimension import dimensions
from parts.study.sure.chances import Chance
from parts.study.sure.drawing import found_at
from parts.study.sure.given import USUAL, measures, slopes
from parts.study.sure.moving import STEP, moved, own_error, roots
from parts.vehicle.build import Build
from parts.vehicle.checks import swing_at
from parts.vehicle.space.fit import ASKEW

Kind = Literal["joint", "link", "place", "alignment"]
Coordinate = tuple[str, int]
"""A hardpoint, and which of its x, y and z."""
DRAWS = 100_000
SURE = 0.025
"""Share of the draws beyond each end of what is told [-]: nineteen of twenty lie between."""
BOLT = "bolt in its hole"
"""Words of the clearances that bolts have."""


@dataclass(frozen=True)
class Term:
    """What one size or reading does to a chain: at its worst it moves the sum by `half` either way [mm or deg].

    `even`: it lies anywhere between its limits; else it is normal, `half` being two standard deviations.
    """

    name: str
    half: float
    said: str
    even: bool = False

    @property
    def variance(self) -> float:
        return self.half**2 / (3.0 if self.even else 4.0)


@dataclass(frozen=True)
class Chain:
    """A sum with the limits that it must keep [mm, or deg of an alignment]; infinite where none is known.

    `how` says what else would take it up.
    """

    part: str
    name: str
    kind: Kind
    middle: float
    terms: tuple[Term, ...]
    least: float = -np.inf
    most: float = np.inf
    how: str = ""
    unit: str = "mm"

    @property
    def worst(self) -> tuple[float, float]:
        half = sum(one.half for one in self.terms)
        return self.middle - half, self.middle + half

    @property
    def goes_at_worst(self) -> bool:
        low, high = self.worst
        return low >= self.least - 1e-9 and high <= self.most + 1e-9

    @cached_property
    def drawn(self) -> np.ndarray:
        """What it comes to in each draw, the same on every run."""
        random = np.random.default_rng(zlib.crc32(f"{self.part} {self.name}".encode()))
        found = np.full(DRAWS, self.middle)
        for one in self.terms:
            share = random.random(DRAWS) if one.even else random.standard_normal(DRAWS)
            found += one.half * (2.0 * share - 1.0 if one.even else share / 2.0)
        return found

    @cached_property
    def usual(self) -> tuple[float, float]:
        """Between which nineteen draws of twenty lie."""
        low, high = np.quantile(self.drawn, (SURE, 1.0 - SURE))
        return float(low), float(high)

    @cached_property
    def short(self) -> Chance:
        """The chance that it does not keep its limits."""
        out = (self.drawn < self.least - 1e-9) | (self.drawn > self.most + 1e-9)
        return Chance(int(out.sum()), DRAWS)

    @property
    def limited(self) -> bool:
        return bool(np.isfinite(self.least) or np.isfinite(self.most))

    @property
    def leads(self) -> Term | None:
        """What moves it most."""
        return max(self.terms, key=lambda one: one.variance, default=None)

    @property
    def needs(self) -> str:
        """What would take it up where its limits do not, nineteen times of twenty."""
        low, high = self.usual
        if not self.limited or (low >= self.least and high <= self.most):
            return ""
        if self.kind == "link":
            return f"a range from {np.floor(low):g} to {np.ceil(high):g} mm would meet it"
        if self.kind == "place":
            more = 2.0 * (max(high - self.middle, self.middle - low) - (self.most - self.middle))
            return f"a hole {np.ceil(10.0 * more) / 10.0:g} mm larger, or a slot of as much travel, would take it up"
        return self.how


def chains_of(build: Build) -> tuple[Chain, ...]:
    """Every tolerance chain of a build: its parts' joints, the lengths and lines of its links, and the places that
    parts take from hardpoints.

    Args:
        build: the build.

    Raises:
        InputError: a file of the build is wrong.
    """
    parts = {name: build.bare(name) for name in build.names}
    found = [_joint(name, one) for name, part in parts.items() for one in part.clearances()]
    others = _Moved(build)
    found += _links(build, parts, others)
    for name, part in parts.items():
        found += _places(build, name, part, others)
    return tuple(found)


class _Moved:
    """The build with each hardpoint moved along each axis, worked out when first asked for."""

    def __init__(self, build: Build) -> None:
        self.build = build
        self._found: dict[tuple[str, int], Build] = {}

    def off(self, points: list[str]) -> Iterator[tuple[Coordinate, Build]]:
        """Each coordinate that was measured, and the build with it moved."""
        for point in points:
            for k in range(3 if own_error(self.build, point) > 0.0 else 0):
                if (point, k) not in self._found:
                    self._found[point, k] = moved(self.build, point, k)
                yield (point, k), self._found[point, k]

    def terms(self, points: list[str], measure: Callable[[Build], float]) -> tuple[Term, ...]:
        """What the readings of some hardpoints do to something measured on the build."""
        drawn = measure(self.build)
        return self.by_rates({at: (measure(other) - drawn) / STEP for at, other in self.off(points)})  # fmt: skip

    def by_rates(self, rates: Mapping[Coordinate, float], scale: float = 1.0) -> tuple[Term, ...]:
        """What coordinates do to a chain that each moves so fast [-]; those that follow from readings together, with
        what they share."""
        joint, covariance = self.build.read_together(dict.fromkeys(point for point, _ in rates))
        found = []
        for (point, k), rate in rates.items():
            within = own_error(self.build, point)
            if point not in joint:
                said = f"±{within:g} mm at 95 %, hardpoint"
                found.append(Term(f"{point}, {'xyz'[k]}", abs(rate) * scale * within, said))
        if joint:
            own = np.array([rates.get((point, k), 0.0) for point in joint for k in range(3)])
            half = 2.0 * float(np.sqrt(max(own @ covariance @ own, 0.0))) * scale
            found.append(
                Term(
                    f"readings of {', '.join(joint)}",
                    half,
                    "two standard errors, by the adjustment",
                )
            )
        return tuple(one for one in found if one.half > 1e-9)


def _joint(name: str, one: Clearance) -> Chain:
    sizes = [(s, 1.0) for s in one.room] + [(s, -1.0) for s in one.filled]
    middle = sum(sign * (float(s.least) + float(s.most)) / 2.0 for s, sign in sizes)
    terms = [
        Term(s.name, (float(s.most) - float(s.least)) / 2.0, f"{float(s.least):.6g} to {float(s.most):.6g} mm, {s.by}",
             even=True)
        for s, _ in sizes
    ]  # fmt: skip
    loosest = float(one.loosest)
    most = 0.0 if one.goes == "pressed" else np.inf if loosest >= UNLIMITED else loosest
    return Chain(
        name, one.joint, "joint", middle, tuple(terms), 0.0 if one.goes == "free" else -np.inf, most, one.how,
    )  # fmt: skip


def _links(build: Build, parts: Mapping[str, Part], others: _Moved) -> Iterator[Chain]:
    """The length that each link must have against its range, and how far it leans out of its joints' plane."""
    ends = {name: (one.frame, one.body) for name, one in build.entry.links.items()}
    for name, part in parts.items():
        points = build.entries[name].points
        if isinstance(part, LinkPart) and {"end a", "end b"} <= points.keys():
            of = (points["end a"], points["end b"])
            ends = {key: pair for key, pair in ends.items() if set(pair) != set(of)} | {name: of}
    for name, (a, b) in ends.items():
        known = parts.get(name)
        least, most = -np.inf, np.inf
        if isinstance(known, LinkPart):
            least, most = float(known.pin_to_pin.minimum), float(known.pin_to_pin.maximum)

        def way(of: Build, a: str = a, b: str = b) -> np.ndarray:
            return of.points[b] - of.points[a]

        def long(of: Build, way: Callable[[Build], np.ndarray] = way) -> float:
            return float(np.linalg.norm(way(of)))

        def lean(of: Build, way: Callable[[Build], np.ndarray] = way) -> float:
            line = way(of)
            return float(np.degrees(np.arcsin(line[1] / np.linalg.norm(line))))

        points = _with_bases(build, [a, b])
        yield Chain(
            name,
            f"length, {a} to {b}",
            "link",
            long(build),
            others.terms(points, long),
            least,
            most,
        )
        allowed = _swings(build, parts, (a, b))
        yield Chain(
            name, f"leans sideways, {a} to {b}", "alignment", lean(build), others.terms(points, lean), -allowed,
            allowed, "shim one end sideways, or measure both ends across once more", "deg",
        )  # fmt: skip


def _with_bases(build: Build, points: list[str]) -> list[str]:
    """Hardpoints, and those that they are stated from."""
    found: dict[str, None] = {}
    for point in points:
        while point:
            found[point] = None
            point = build.hardpoints[point].stated_from
    return list(found)


def _swings(build: Build, parts: Mapping[str, Part], ends: tuple[str, str]) -> float:
    """What the joints of a link allow it to lean [deg]: the least of its rod ends, else the play of a pin."""
    found = [
        swing
        for name, part in parts.items()
        for own, at in build.entries[name].points.items()
        if at in ends and (swing := swing_at(part, own)) is not None
    ]
    return float(np.degrees(min(found))) if found else ASKEW


def _places(build: Build, name: str, part: Part, others: _Moved) -> Iterator[Chain]:
    """The sizes that a part takes from hardpoints, with its own tolerance, against what their holes take up."""
    points = roots(build, name)
    if not points or isinstance(part, LinkPart):
        return
    drawn, kinds = measures(part), {one.path: one.kind for one in dimensions(part)}
    rates: dict[str, dict[Coordinate, float]] = {}
    for at, other in others.off(points):
        for path, slope in slopes(drawn, build, other, name).items():
            rates.setdefault(path, {})[at] = slope
    rows = general_deviations(part.drawing.tolerance) or general_deviations(USUAL)
    plays = _plays(part)
    for path, moving in rates.items():
        value, is_length = drawn[path], kinds[path] is LENGTH
        own = [*others.by_rates(moving, 1.0 if is_length else float(np.degrees(1.0)))]
        play = next((one for group, one in plays.items() if path.startswith(f"{group}.at[")), None)
        half = deviation_of(abs(value), rows) if is_length else np.nan
        half, by = (
            (half, part.drawing.tolerance or USUAL) if play is None else (play.zone, "its zone")
        )
        if half == half:
            own.append(Term("its own tolerance", float(half), by, even=True))
        middle = value if is_length else float(np.degrees(value))
        room = np.inf if play is None else play.along[0 if path.endswith("[1]") else 1]
        yield Chain(name, path, "place", middle, tuple(own), middle - room, middle + room,
                    unit="mm" if is_length else "deg")  # fmt: skip


@dataclass(frozen=True)
class _Play:
    """How far the places of a hole and of its partner may at least lie apart along x and y, and the hole off its own
    place [mm]."""

    along: tuple[float, float]
    zone: float


def _plays(part: Part) -> dict[str, _Play]:
    """The play of each bolt, by the group of its hole."""
    found: dict[str, _Play] = {}
    for one in part.clearances():
        group = one.field.rpartition(".")[0]
        if BOLT in one.joint:
            found[group] = _Play(_play(part, group, float(one.least) / 2.0), 0.0)
            room = float(one.least)
        elif group in found and (own := [s for s in one.filled if s.name.startswith(OWN_PLACE)]):
            if (
                own[0].name == OWN_PLACE
            ):  # a clearance hole in either piece: the bolt has the play of both
                found[group] = _Play(_play(part, group, room), float(own[0].most))
            else:
                found[group] = replace(found[group], zone=float(own[0].most) / 2.0)
    return found


def _play(part: Any, group: str, half: float) -> tuple[float, float]:
    hole = getattr(found_at(part, group), "hole", None)
    travel, angle = float(getattr(hole, "travel", 0.0)), float(getattr(hole, "angle", 0.0))
    return half + travel / 2.0 * abs(np.cos(angle)), half + travel / 2.0 * abs(np.sin(angle))
