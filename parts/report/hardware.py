"""Bought-in hardware of a part as the viewer of its page pulls it out of its holes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

import numpy as np

from parts.report.stacks import within
from parts.vehicle.space.envelopes import envelopes

if TYPE_CHECKING:
    from parts.core.part import Part
    from parts.vehicle.space.cylinders import Cylinder

SIDES = 24
"""Sides of a cylinder on the screen."""
GAP = 8.0
"""Left between what is pulled apart [mm]."""
Mesh = tuple[np.ndarray, np.ndarray]


def hardware(part: Part, made: Iterable[Mesh]) -> dict[str, tuple[Mesh, np.ndarray]]:
    """The hardware of a part, piece by piece.

    Args:
        part: any part.
        made: the surfaces of its pieces.

    Returns:
        By name its surface (corner points [mm], triangles), and its shift [mm] when it is pulled apart, (3,).
    """
    every = (*envelopes(part), *within(part))
    middle = np.mean(np.concatenate([points for points, _ in made]), axis=0)
    return {one.name: (_mesh(one), _shift(one, every, middle)) for one in every}


def _shift(one: Cylinder, every: tuple[Cylinder, ...], middle: np.ndarray) -> np.ndarray:
    """A bolt is drawn out of its joint on its head's side, its head before it and its nut the other way; anything else
    goes away from the middle of the part."""
    way = _unit(one.end - one.start)
    root = one.name.removesuffix(" head").removesuffix(" nut")
    bolt = next(
        (other for other in every if other.name == root and other.kind in ("pin", "screw")), None
    )
    if bolt is not None:
        along = bolt.end - bolt.start
        if one.name.endswith(" nut"):
            return -GAP * _unit(along)
        return along + (2.0 if one is not bolt else 1.0) * GAP * _unit(along)
    side = float(np.sign(((one.start + one.end) / 2.0 - middle) @ way)) or 1.0
    return side * (one.end - one.start + GAP * way)


def _unit(way: np.ndarray) -> np.ndarray:
    found: np.ndarray = way / np.linalg.norm(way)
    return found


def _mesh(one: Cylinder) -> Mesh:
    """A cylinder with flat ends, its triangles turned outwards."""
    way = _unit(one.end - one.start)
    across = np.cross(way, np.eye(3)[int(np.argmin(np.abs(way)))])
    across /= np.linalg.norm(across)
    turn = 2.0 * np.pi * np.arange(SIDES) / SIDES
    ring = (
        one.diameter
        / 2.0
        * (np.cos(turn)[:, None] * across + np.sin(turn)[:, None] * np.cross(way, across))
    )
    points = np.concatenate([one.start + ring, one.end + ring, [one.start, one.end]])
    return points, np.array(list(_triangles()))


def _triangles() -> Iterator[tuple[int, int, int]]:
    n = SIDES
    for k in range(n):
        after = (k + 1) % n
        yield k, after, n + after
        yield k, n + after, n + k
        yield 2 * n, after, k
        yield 2 * n + 1, n + k, n + after
