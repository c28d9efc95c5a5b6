"""How an arm on a torsion bar is held by the bar and loaded at its end: what its proof needs."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from parts.core.supports import Applied, Held, Round, Support
from parts.families.torsion_arm.clamp_bore import ClampBore
from parts.families.torsion_arm.flats_bore import FlatsBore
from parts.families.torsion_arm.hub import Hub
from parts.families.torsion_arm.spline_bore import SplineBore

Z = (0.0, 0.0, 1.0)
TEETH = "the teeth of the hub are left out: its bore is plain at their largest diameter"
FLATS = (
    "the flats of the hub are left out: its bore is plain over the corners' reliefs. These elements do not see how the "
    "flats wedge the corners open: the check of the bore's corners stands on its own study of them"
)
CLEAR = 0.01
"""By how much a plain bore clears the teeth that it replaces [mm]."""


def arm_held(hub: Hub, loads: tuple[Applied, ...], spans: Sequence[str]) -> Held:
    """An arm under one load case.

    Args:
        hub: its hub.
        loads: what acts at its end.
        spans: names of the spans from hub to end.

    Returns:
        How it is held and loaded.
    """
    half = float(hub.width) / 2.0
    plain = isinstance(hub.bore, ClampBore)
    d = float(hub.bore.bore) if isinstance(hub.bore, ClampBore) else _widest(hub.bore) + CLEAR
    wall = Round(np.zeros(3), Z, d, -half, half)
    cutter = Round(np.zeros(3), Z, d, -half - 1.0, half + 1.0)
    return Held(
        "part",
        (Support("bar", (wall,), d / 2.0),),
        loads,
        dict.fromkeys(spans, 1),
        bored=() if plain else (cutter,),
        notes=() if plain else (TEETH if hub.bore.type == "spline" else FLATS,),
    )


def _widest(bore: SplineBore | FlatsBore) -> float:
    """Largest diameter of a bore with teeth or flats, lead-in and all [mm]: past it nothing narrow is left."""
    inner = bore.spline.minor_internal if isinstance(bore, SplineBore) else bore.bore
    return float(np.maximum(bore.largest, inner + 2.0 * bore.lead_in))
