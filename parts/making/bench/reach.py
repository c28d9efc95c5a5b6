"""Dimensions that nobody can use: those whose ends nothing touches, and those that others say already."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any

import numpy as np

from parts.core.drawing import Linear
from parts.making.bench.levels import NEAR, Open, place_of, rounded
from parts.making.bench.surface import Shell

ARC = 0.6 * np.pi
"""An arc that goes on for less is a fillet: nobody finds its centre with a pin or an indicator [rad]."""
Halved = Callable[[Any, Any], bool]


def unreachable(sizes: Sequence[Any], shell: Shell, halved: Halved) -> Iterator[Open]:
    """Lengths that begin or end where nothing can be touched: at a tangent or a corner that is not there."""
    for one in sizes:
        if not isinstance(one, Linear) or one.reference:
            continue
        way = np.asarray(one.along, float)
        for end in (one.start, one.end):
            if not _touched(np.asarray(end, float), way, shell, halved):
                yield Open(
                    f"the dimension {one.name!r}", place_of(end),
                    "no face, axis or sharp corner is there to measure from",
                )  # fmt: skip


def _touched(end: np.ndarray, way: np.ndarray, shell: Shell, halved: Halved) -> bool:
    level = float(end @ way)
    turns: dict[tuple[float, ...], float] = {}
    for one in shell.surfaces:
        square = abs(float(one.axis @ way))
        if one.kind == "plane":
            if square > 1.0 - NEAR and abs(float(one.place @ way) - level) < NEAR:
                return True
            continue
        if one.kind not in ("cylinder", "cone", "sphere") or square > NEAR:
            continue
        axis = float(one.place @ way)
        if one.kind != "cone" and abs(abs(level - axis) - one.radius) < NEAR:
            return True
        if abs(level - axis) < NEAR:
            foot = one.place - (one.place @ one.axis) * one.axis
            key = tuple(np.round([*np.abs(one.axis), *foot], 3) + 0.0)
            turns[key] = turns.get(key, 0.0) + one.turn
    if any(turn > ARC for turn in turns.values()):
        return True
    if any(abs(float(corner @ way) - level) < NEAR for corner in shell.corners):
        return True
    if any(
        abs(float(axis @ way)) > 1.0 - NEAR and abs(float(centre @ way) - level) < NEAR
        for centre, axis in shell.rims
    ):
        return True
    if shell.edge_at(end, way):
        return True
    # The middle between two ends, as of a slot or of a hub, is found by halving.
    return halved(way, end)


def doubled(sizes: Iterable[Any]) -> Iterator[Open]:
    """Lengths between levels that other lengths already join, and the same diameter or radius said twice."""
    chains: list[tuple[np.ndarray, dict[float, float], list[Any]]] = []
    for one in sizes:
        if not isinstance(one, Linear) or one.reference:
            continue
        way = np.asarray(one.along, float)
        chain = next((c for c in chains if np.linalg.norm(np.cross(c[0], way)) < NEAR), None)
        if chain is None:
            chain = (way, {}, [])
            chains.append(chain)
        way, joined, said = chain
        pair = sorted(rounded(float(np.asarray(p, float) @ way)) for p in (one.start, one.end))
        # Two features that happen to be as high are each stated: they lie elsewhere.
        other = _aside(one, way)
        if any(pair == p and np.linalg.norm(other - q) > NEAR for p, q in said):
            continue
        said.append((pair, other))
        a, b = (_root(joined, level) for level in pair)
        if a == b:
            yield Open(
                f"the dimension {one.name!r}", place_of(one.end), "other dimensions already say it"
            )
        joined[a] = b


def _aside(one: Linear, way: np.ndarray) -> np.ndarray:
    """Where a length lies across its direction."""
    end = np.asarray(one.end, float)
    return end - float(end @ way) * way


def _root(joined: dict[float, float], level: float) -> float:
    while joined.get(level, level) != level:
        level = joined[level]
    return level
