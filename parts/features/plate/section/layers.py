"""What a plate is built of along z: prisms and the root fillets of bosses."""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from parts.strength.section.outline import Loop


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
