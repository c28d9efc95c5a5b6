"""How a bracket is held by its bolts and loaded at its points: what its proof needs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from parts.core.loads import LoadCase
from parts.core.supports import Held, OnBolt, Support
from parts.features.bar_bore.spline_bore import TEETH
from parts.features.mounts.mount_loads import MountLoads
from parts.features.plate.on_plate import OnPlate
from parts.features.plate.plate_feature import PlateFeature

OWN_BOLTS = "bolts as springs all over the ring that each clamps on the frame, pull and push alike: no lift-off"


def plate_held(
    loads: MountLoads, placed: Sequence[tuple[PlateFeature, OnPlate]], case: LoadCase
) -> Held:
    """A bracket under one load case.

    Args:
        loads: its mounts, and what they bear.
        placed: its mounts, then what is loaded, each with its site.
        case: the load case.
    """
    runs, away, mounts = loads.slots_hold(case), (0.0, 0.0, loads.sign), loads.mounted.mounts
    supports: list[Support] = []
    bolts: dict[str, OnBolt] = {}
    for k, (mount, (_, site)) in enumerate(zip(mounts, placed, strict=False)):
        supports += mount.supports(replace(site, runs=runs and any(mount.along)))
        (x, y, pull), _ = loads.on_mount(k, case)
        bolts[site.name] = OnBolt(float(np.hypot(x, y)), float(pull), away)
    acting = [load for one, site in placed if site.loaded(case) for load in one.applied(site, case)]
    bored = tuple(wall for one, site in placed for wall in one.bored(site))
    notes = (OWN_BOLTS, TEETH) if bored else (OWN_BOLTS,)
    return Held("part", tuple(supports), tuple(acting), bolts=bolts, bored=bored, notes=notes)
