"""What the weld of a toe softens of a lever."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.families.foot_lever.limbs import Knee, Limb
from parts.families.foot_lever.toe_boss import Toe
from parts.features.weld.softened import within_reach
from parts.standards.materials.materials import Material


def metal_of(limb: Limb, metal: Material, toe: Toe, toe_at: Any) -> Material:
    """Metal of a limb: softened as soon as some of it lies within reach of the toe's weld.

    Args:
        limb: the limb.
        metal: of the lever.
        toe: the toe.
        toe_at: middle of its boss [mm], shape (..., 3).
    """
    soft = toe.softens(metal)
    if soft is metal:
        return metal
    at, end = np.asarray(limb.at, float), limb.end_at
    run = end - at
    share = np.sum((toe_at - at) * run, axis=-1) / np.sum(run * run, axis=-1)
    nearest = at + np.clip(share, 0.0, 1.0)[..., None] * run
    away = np.linalg.norm(toe_at - nearest, axis=-1)
    rim = limb.end.diameter / 2.0 if isinstance(limb.end, Knee) else 0.0
    wide = np.maximum(limb.leg.blade.hub, np.maximum(limb.leg.blade.arm.width / 2.0, rim))
    return within_reach(metal, soft, away - wide - toe.ring / 2.0)


def metal_of_hub(diameter: Any, metal: Material, toe: Toe, toe_at: Any) -> Material:
    """Metal of the hub, likewise; `diameter` is its own [mm]."""
    soft = toe.softens(metal)
    if soft is metal:
        return metal
    away = np.linalg.norm(np.asarray(toe_at)[..., :2], axis=-1)
    return within_reach(metal, soft, away - diameter / 2.0 - toe.ring / 2.0)
