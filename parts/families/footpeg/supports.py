"""How a footpeg is held and loaded, for finite elements."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.core.loads import LoadCase, point_actions
from parts.core.supports import Applied, Held, NotProved, Round
from parts.families.footpeg.fabricated import in_slots, on_tab
from parts.families.footpeg.plate_tongue import PlateTongue
from parts.families.footpeg.tongue import Tongue

X = np.eye(3)[0]


def peg_held(peg: Any, case: LoadCase) -> Sequence[Held]:
    """Its pieces, how they are held and loaded.

    Raises:
        NotProved: the peg folds up under the load.
    """
    if isinstance(peg.shank, Tongue) and peg.shank.gives_way(case):
        raise NotProved("the peg folds up under this load and bears none of it")
    D, L, at = float(peg.diameter), float(peg.length), float(peg.foot_at)
    half = min(8.0, L - at, at / 4.0)
    loads = []
    for name, low, high in (
        ("foot", at - half, at + half),
        ("end", L - 3.0 * half, L - 2.0 * half),
    ):
        acting = point_actions(case, peg.points(), [name])
        if acting:
            loads.append(Applied(name, (Round(np.zeros(3), X, D, low, high),), acting))
    if peg.plate is not None:
        return _plates_held(peg, peg.plate, tuple(loads), case)
    if isinstance(peg.shank, Tongue):
        c = float(peg.edge_break if peg.flats is None else peg.flats.length)
        leg = Round(np.zeros(3), X, D, c, c + 0.2 * D)
        loads += peg.shank.sprung(peg.acting(case), leg)
    return [Held("part", tuple(peg.shank.supports(peg.behind)), tuple(loads))]


def _plates_held(
    peg: Any, plate: PlateTongue, loads: tuple[Applied, ...], case: LoadCase
) -> list[Held]:
    """The plate on pin and heel, under what the tube does to its tab; the tube in its slots, under the foot."""
    site, tube = peg.in_tube, (float(peg.diameter), float(peg.bore))
    plate.unlifted(peg.acting(case))
    return [
        Held("plate", tuple(plate.supports(site)), on_tab(plate, plate.on_tab(site, case))),
        Held("tube", (in_slots(plate, *tube),), loads),
    ]
