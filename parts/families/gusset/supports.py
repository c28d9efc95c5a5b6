"""How a welded plate between two tubes is held at the first and loaded at the second: what its proof needs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from parts.core.loads import Action
from parts.core.supports import Along, Applied, Held, Support, longer

BANDWIDTH = 0.75
"""How far the faces along a weld may reach from its line, in thicknesses [-]."""
CUT_LOOSE = "held along tube A's weld; what tube B's weld carries is applied along that weld"
STEADY = "for buckling tube B keeps its edge from swaying out of the plate's plane"


def plate_held(
    piece: str,
    joints: tuple[Any, Any],
    thickness: float,
    normal: Any,
    at_b: Sequence[Action],
    tab: Sequence[Applied],
    stop: float = 0.0,
) -> Held:
    """A plate under one load case.

    Args:
        piece: name of the piece.
        joints: the welded edges at tubes A and B.
        thickness: of the plate [mm].
        normal: of the plate.
        at_b: what tube B does to the plate.
        tab: what the pin does to its tab; nothing without a tab.
        stop: how far before the ends of its edge a weld ends [mm]; the whole edge is held all the same.

    Returns:
        How it is held and loaded.
    """
    reach = BANDWIDTH * thickness
    edges = [Along(longer(one.path.points, stop), reach) for one in joints]
    loads = [Applied("tube b", (edges[1],), tuple(at_b)), *tab]
    support = Support("tube a", (edges[0],), 0.5 * thickness)
    guide = Support("tube b", (edges[1],), 0.5 * thickness, "along", normal)
    return Held(
        piece, (support,), tuple(loads), slender=True, guides=(guide,), notes=(CUT_LOOSE, STEADY)
    )
