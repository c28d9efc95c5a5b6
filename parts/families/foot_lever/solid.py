"""A foot lever as a solid: hub, legs, knees and ends in one, then bored."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from parts.families.foot_lever.limbs import Knee
from parts.families.foot_lever.toe_boss import Toe
from parts.features.arm import blade_solid
from parts.features.arm.round_end import disc

if TYPE_CHECKING:
    import cadquery as cq

    from parts.families.foot_lever.hub import LeverHub
    from parts.families.foot_lever.limbs import Limb

MEET = 1e-5
"""Edges and corners this close are one [mm], a tenth of what cuts are held to."""


def lever_solid(hub: LeverHub, limbs: Sequence[Limb], c: float) -> cq.Workplane:
    """The whole lever.

    Args:
        hub: its hub.
        limbs: its legs with what ends them.
        c: edge break [mm].

    Returns:
        The solid.
    """
    body = hub.solid(c)
    within = (float(hub.diameter) + float(hub.pivot.largest)) / 4.0
    for limb in limbs:
        blade = limb.leg.blade
        inner = within if limb.hub == "hub" else float(blade.hub) / 2.0
        end, tip = limb.end, tuple(float(v) for v in limb.tip)
        made = (
            disc(float(end.diameter), float(end.width), c)
            if isinstance(end, Knee)
            else end.solid(c)
        )
        # Blade and end meet in axes of their own, where their faces are level to the last digit.
        whole = _joined(blade_solid.solid(blade, inner, c), made.translate(tip))
        body = _joined(body, _there(whole, limb, limb.at))
    for limb in limbs:
        if not isinstance(limb.end, Knee):
            body = limb.end.cut_from(body, c, limb.end_at)
        if isinstance(limb.end, Toe) and (hole := limb.end.across()) is not None:
            body = body.cut(_there(hole, limb, limb.end_at))
    return hub.pivot.cut(body, c)


def _joined(body: cq.Workplane, other: cq.Workplane) -> cq.Workplane:
    """Two bodies as one; where edges that all but meet break the solid, they count as one."""
    joined = body.union(other)
    [*solids] = joined.solids().vals()
    if len(solids) == 1 and solids[0].isValid():
        return joined
    return body.union(other, tol=MEET)


def _there(solid: cq.Workplane, limb: Limb, at: np.ndarray) -> cq.Workplane:
    turned = solid.rotate((0, 0, 0), (0, 0, 1), float(np.degrees(limb.angle)))
    return turned.translate(tuple(float(v) for v in np.broadcast_to(at, 3)))
