"""How a sheet bracket is held by its bolts and loaded at its holes: what its proof needs."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from parts.core.loads import LoadCase
from parts.core.supports import Applied, Flat, Held, OnBolt, Support
from parts.families.sheet_bracket import strength
from parts.families.sheet_bracket.shape import WASHER, BracketShape


def bracket_held(part: BracketShape, case: LoadCase) -> Sequence[Held]:
    """The bracket under one load case: rings under the heads hold its foot, rings round its holes load its legs."""
    d, t = float(part.base.bolts.diameter), float(part.thickness)
    washer = float(np.minimum(WASHER * d, 2.0 * part.plate.edge())) / 2.0
    each = part.plate.reactions(*strength.base_load(part, case))
    supports, bolts = [], {}
    for i, (x, y) in enumerate(part.base.places()):
        name = f"bolt {i + 1}"
        ring = Flat(np.array([x, y, 0.0]), (0.0, 0.0, -1.0), washer, float(part.base.hole) / 2.0)
        supports.append(Support(name, (ring,), d))
        bolts[name] = OnBolt(float(np.hypot(*each[i, :2])), float(each[i, 2]), (0.0, 0.0, 1.0))
    loads = []
    for one in part.stands.values():
        leg, up = one.leg, one.frame(one.leg.reach)[2]
        acting = tuple(strength.leg_actions(part, one, case))
        if not acting:
            continue
        wide = float(np.minimum(WASHER * leg.pin.diameter, 2.0 * leg.end)) / 2.0
        rings = tuple(
            Flat(one.way(leg.reach, off) + t / 2.0 * up, up, wide, float(leg.drilled) / 2.0)
            for off in leg.offsets
        )
        loads.append(Applied(one.name, rings, acting))
    return [Held("part", tuple(supports), tuple(loads), bolts=bolts)]
