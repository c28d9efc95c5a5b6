"""How tight to pull a bolt, and what then lifts the joint: facts for the bench, by common practice."""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.standards.threads.threads import Thread
from parts.strength.bolted import joint, tightening

PROOF_SHARE = 0.75
"""Preload over proof load of a bolt that is taken out again [-]: Shigley, ch. 8, eq. 8-31, from memory."""
NUT_FACTOR = 0.2
"""Torque over preload and diameter, zinc plated or as received [-]: Shigley, Table 8-15, from memory."""
SCATTER = 0.35
"""How far the preload may be off what the torque says [-]; common practice for a torque wrench, no source."""


def tightening_facts(
    name: str, of: Thread, proof: Any, area: Any = None
) -> dict[str, tuple[Any, str]]:
    """Torque of a bolt, its preload, and the pull at which the joint opens.

    Args:
        name: what is tightened.
        of: its thread.
        proof: its proof stress, or its yield where it states none [MPa].
        area: its stress area [mm^2]; that of the thread where None.

    Returns:
        Three facts; the third counts the preload at its least and takes no help from the clamped parts.
    """
    load = PROOF_SHARE * np.asarray(proof, float) * (of.stress_area if area is None else area)
    torque = tightening.torque_by_nut_factor(load, of.major, NUT_FACTOR)
    least = joint.least_preload(load, SCATTER)
    return {
        f"torque of {name}, dry, by common practice": (torque / 1000.0, "N*m"),
        f"preload of {name} at that torque": (load[()], "N"),
        f"pull that opens the joint of {name} at the least preload": (
            joint.separation_load(least, 0.0), "N"
        ),
    }  # fmt: skip
