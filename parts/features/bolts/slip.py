"""Friction of a joint that bolts clamp: what settling leaves of their preload, and what is asked of it in service."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.standards.materials.materials import Material
from parts.standards.threads.threads import Thread
from parts.strength.bolted import joint, stiffness
from parts.strength.bolted.split_clamp import settling
from parts.strength.method import Worked, work

AGAINST_SLIP = 1.1
"""Factor asked against slip in service: EN 1993-1-8:2005, table 2.1, from memory."""
ROUGH = 25.0
"""Roughness height Rz of milled faces [um]; common practice, no source."""
BOLT_E = 205e3
"""Young's modulus of a bolt [MPa]."""
BOLT_EXPANSION = 12e-6
"""Expansion of a steel bolt [1/K]: EN 1993-1-1, 3.2.6."""
COLD = 40.0
"""How much colder than the shop a part must still hold [K]: 20 °C to -20 °C; common practice, no source."""
SHANK, ENGAGED = 0.4, 0.5
"""How long a bar of a screw's diameter yields as its head, and one of its stress area as its engaged thread, in
diameters [-]: VDI 2230-1:2003, 5.1.1 (a socket head, the stiffer; half a diameter of thread); from memory."""


def shrunk(metal: Material, long: Any) -> Worked:
    """How much more a length of metal shrinks than its steel bolt in the cold [mm]."""
    return work(
        joint.contraction, fall=COLD, alpha_m=metal.expansion, alpha_b=BOLT_EXPANSION, L=long
    )


def settled_loss(metal: Material, d: Any, area: Any, deep: Any, heads: int) -> Worked:
    """What a bolt loses of its preload as the faces settle, and in the cold [N].

    Args:
        metal: of the parts that it clamps.
        d: its diameter [mm].
        area: its stress area [mm^2].
        deep: what it clamps [mm].
        heads: its head and its nut; 1 in a tapped hole.
    """
    return work(
        joint.embedding_loss, f_z=settling(ROUGH, True, 1, heads), k_b=BOLT_E * area / (deep + d),
        k_m=work(stiffness.member_stiffness, E=metal.E, d=d, L=deep), f_T=shrunk(metal, deep),
    )  # fmt: skip


def screwed_loss(
    metal: Material, thread: Thread, faces: int = 0, members: Sequence[Any] = ()
) -> Worked:
    """What a screw in a tapped hole that clamps by its shoulder, or over a short grip, loses of its preload as thread
    and faces settle, and in the cold [N].

    What it clamps beside the metal of its thread is taken to shrink as it does: rings and washers of steel.
    It has no long shank to give: only its head or shoulder, its engaged thread and the metal about these give. A
    shoulder on a large piece yields as a patch of a half space, 0.77 of its diameter (Johnson, Contact Mechanics, 3.4,
    uniform pressure, ν 0.3), more than the head that is counted here; so the loss is on the safe side.

    Args:
        metal: that the hole is tapped in.
        thread: of the screw.
        faces: between the pieces that it clamps, besides its head's own.
        members: stiffness of each piece that it clamps [N/mm].
    """
    d = thread.major
    screw = work(
        stiffness.bolt_stiffness, A_d=np.pi / 4.0 * d**2, l_d=SHANK * d, A_t=thread.stress_area, l_t=ENGAGED * d,
        E=BOLT_E,
    )  # fmt: skip
    held = work(stiffness.tapped_hole_stiffness, E=metal.E, d=d)
    if members:
        every = np.broadcast_arrays(held.value, *members)
        held = work(stiffness.series_stiffness, k=np.stack(every, axis=-1))
    return work(
        joint.embedding_loss,
        f_z=settling(ROUGH, True, faces, heads=1),
        k_b=screw,
        k_m=held,
        f_T=shrunk(metal, ENGAGED * d),
    )
