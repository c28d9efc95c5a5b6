"""How a foot lever is held by its pivot and loaded at toe and rod: what its proof needs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.core.loads import Action
from parts.core.supports import Applied, Flat, Held, Support, turned
from parts.families.foot_lever.hub import LeverHub
from parts.families.foot_lever.limbs import Limb

Z = np.eye(3)[2]
WEAK = 50.0
"""Depth of the springs on the hub's faces, in its diameters [-]: its pivot holds it, and leaves it free to turn."""
APART = 0.5
"""From the edge of the bore to the springs on the hub's faces [mm]."""
NOTE = "both walls of the pivot press the hub by what it holds; weak springs on its faces hold what rounding leaves"


def lever_held(
    hub: LeverHub, felt: tuple[Any, Any], loads: Sequence[tuple[Limb, Sequence[Applied]]], twist: Any = (0.0, 0.0, 0.0),
    *, slender: bool,
) -> Held:  # fmt: skip
    """A lever under one load case.

    Args:
        hub: its hub.
        felt: force [N] and moment [N*mm] of all that acts on it, about the middle of the hub.
        loads: what acts at its ends, each in the axes of its limb.
        twist: moment of a spring about the pivot [N*mm].
        slender: whether the first buckling factor is asked for.

    Returns:
        How it is held and loaded.
    """
    half, r = float(hub.width) / 2.0, float(hub.diameter) / 2.0
    inner = float(hub.pivot.largest) / 2.0 + 2.0 * APART
    faces = tuple(Flat((0.0, 0.0, z), Z, r - 2.0 * APART, inner) for z in (-half, half))
    support = Support("faces of the hub", faces, WEAK * 2.0 * r)
    acting = [one for limb, found in loads for one in turned(found, limb.turn, limb.end_at)]
    (low, below), (high, above) = hub.pivot.walls()
    force, moment = (-np.asarray(v, float) for v in felt)
    # Two bearings: the couple that a moment asks of them, and half of the force each.
    across = np.array([moment[1], -moment[0], 0.0]) / (above - below)
    along = Action(np.zeros(3), force * Z, twist)
    for name, wall, z, sign in (
        ("lower bearing", low, below, -1.0),
        ("upper bearing", high, above, 1.0),
    ):
        action = Action(np.array([0.0, 0.0, z]), (force / 2.0 + sign * across) * (1.0 - Z))
        acting.append(Applied(name, (wall,), (action,), "bearing"))
    acting.append(Applied("along the pivot", (low, high), (along,)))
    return Held("part", (support,), tuple(acting), slender=slender, notes=(NOTE,))
