"""How a bung is held by its tube and loaded in its thread: what its proof needs."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.core.loads import Action
from parts.core.supports import Applied, Held, Round, Support
from parts.features.bung.bung import BungShape
from parts.standards.threads.threads import Thread

X = np.array([1.0, 0.0, 0.0])
NOTE = "held all along its spigot, as the weld and the fit hold it"


def plugged(
    bung: BungShape,
    tube: tuple[Any, Any],
    thread: Thread,
    depth: float,
    actions: Sequence[Action],
    *,
    piece: str = "part",
    face: tuple[Any, Any] = (0.0 * X, X),
) -> Held:
    """A bung whose spigot plugs a tube of an outside and a wall, under what acts on its thread, `depth` long [mm].

    `face` is the middle of its outer face [mm], and the way from there into the tube.
    """
    outside, wall = (float(v) for v in tube)
    inside, tip = float(bung.plug(outside - 2.0 * wall)), float(bung.length - bung.lead_in)
    tapped = Round(*face, float(thread.minor_internal), 0.0, depth)
    spigot = Round(*face, inside, float(bung.shoulder), tip)
    return Held(
        piece, (Support("tube", (spigot,), 0.2 * inside),), (Applied("thread", (tapped,), tuple(actions)),),
        notes=(NOTE,),
    )  # fmt: skip
