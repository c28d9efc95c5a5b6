"""What a plate is built of along z: prisms and the root fillets of bosses."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import combinations
from typing import Any, NamedTuple

import numpy as np

from parts.strength.section.figures import circle
from parts.strength.section.outline import Array, Loop


class Prism(NamedTuple):
    """A figure between two heights [mm]: metal where `solid`, else cut away.

    The heights may be arrays over variants; the figure is one, counter-clockwise. Its edges at the ends
    named in `broken`, low and high, are chamfered by `edge` [mm].
    """

    loop: Loop
    low: Any
    high: Any
    solid: bool = True
    edge: float = 0.0
    broken: tuple[bool, bool] = (False, False)


class Flare(NamedTuple):
    """A hollow root fillet of a round boss: metal between the face at `face` and a quarter round.

    It stands on +z of the face where `up`, and leaves the boss of `radius` by `fillet` [mm].
    """

    centre: tuple[float, float]
    radius: float
    fillet: float
    face: Any
    up: bool

    @property
    def foot(self) -> float:
        """Radius at which the fillet runs out into the face [mm]."""
        return self.radius + self.fillet

    def height(self, rho: Any) -> Any:
        """Height of the fillet at a distance from the axis [mm]."""
        out = np.minimum(np.maximum(self.foot - rho, 0.0), self.fillet)
        rise = self.fillet - np.sqrt(self.fillet**2 - out**2)
        return self.face + (rise if self.up else -rise)


Layer = Prism | Flare


def figures(layer: Layer) -> list[Loop]:
    """The figures whose edges bound a layer."""
    if isinstance(layer, Prism):
        return [layer.loop]
    return [circle(2.0 * r, layer.centre).loops[0] for r in (layer.foot, layer.radius)]


def meetings(layers: Iterable[Layer]) -> Iterator[Array]:
    """Where the outlines of round layers meet, each (2,) [mm]."""
    rounds = [(c, r) for c, r in map(_round, layers) if c is not None]
    for (a, r), (b, q) in combinations(rounds, 2):
        yield from _meeting(a, r, b, q)


def _round(layer: Layer) -> tuple[Array | None, float]:
    """Centre and largest radius of a round layer; None for another."""
    if isinstance(layer, Flare):
        return np.asarray(layer.centre), layer.foot
    points, bulge = layer.loop.points, layer.loop.bulge
    if len(points) == 2 and np.all(bulge == 1.0):
        return points.mean(axis=0), float(np.hypot(*(points[1] - points[0])) / 2.0)
    return None, 0.0


def _meeting(a: Array, r: float, b: Array, q: float) -> list[Array]:
    """Where two circles meet."""
    length = float(np.hypot(*(b - a)))
    if not abs(r - q) < length < r + q:
        return []
    along = (b - a) / length
    u = (length**2 + r**2 - q**2) / (2.0 * length)
    off = np.sqrt(max(r**2 - u**2, 0.0)) * np.array([-along[1], along[0]])
    return [a + u * along + off, a + u * along - off]
