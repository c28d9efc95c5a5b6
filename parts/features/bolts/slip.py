"""Friction of a joint that bolts clamp: what settling leaves of their preload, and what is asked of it in service."""

from __future__ import annotations

from typing import Any

from parts.standards.materials.materials import Material
from parts.strength.bolted import joint, stiffness
from parts.strength.bolted.split_clamp import settling
from parts.strength.method import Worked, work

AGAINST_SLIP = 1.1
"""Factor asked against slip in service: EN 1993-1-8:2005, table 2.1, from memory."""
ROUGH = 25.0
"""Roughness height Rz of milled faces [um]; common practice, no source."""
BOLT_E = 205e3
"""Young's modulus of a bolt [MPa]."""


def settled_loss(metal: Material, d: Any, area: Any, deep: Any, heads: int) -> Worked:
    """What a bolt loses of its preload as the faces settle [N].

    Args:
        metal: of the parts that it clamps.
        d: its diameter [mm].
        area: its stress area [mm^2].
        deep: what it clamps [mm].
        heads: its head and its nut; 1 in a tapped hole.
    """
    return work(
        joint.embedding_loss, f_z=settling(ROUGH, True, 1, heads), k_b=BOLT_E * area / (deep + d),
        k_m=work(stiffness.member_stiffness, E=metal.E, d=d, L=deep),
    )  # fmt: skip
