"""The corner of down tube and top tube behind a headstock: what its gusset bears of the fork's moment.

The head tube turns with the corner. Each tube, hinged at its far end, takes of the moment M about the crosswise axis as
its stiffness I / L is of both. The welds of the tubes at the head tube count as hinges, so the gusset hands the top
tube all of its moment: as a force square to the tube at the gusset, and the opposite one in the hinge. That is more
than the gusset bears where the welds hold too. What rolls and yaws the head tube is left out.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from parts.strength.method import Number, method
from parts.vehicle.file.entries import FrontEndEntry, TubeEntry
from parts.vehicle.loads.statics import Held, StaticsError

CORNER = "headstock corner"
CROSS = np.array([0.0, 1.0, 0.0])
LEAST_LEVER = 1.0
"""Way from the headstock to the gusset's place on the top tube below which it bears no moment [mm]."""
Points = Mapping[str, np.ndarray]


@method(
    formula="M_b = M (I_b / L_b) / (I_a / L_a + I_b / L_b)",
    source="distribution of a moment at a joint by stiffness 3 E I / L, far ends hinged: Cross, Analysis of Continuous "
    "Frames by Distributing Fixed-End Moments, Trans. ASCE 96 (1932), from memory",
)
def moment_share(M: Number, I_a: Number, L_a: Number, I_b: Number, L_b: Number) -> Number:
    """Moment that one of two members takes at a joint.

    Args:
        M [N*mm]: moment on the joint.
        I_a [mm^4]: second moment of area of the other member.
        L_a [mm]: its length to its hinge.
        I_b [mm^4]: second moment of area of the member.
        L_b [mm]: its length to its hinge.

    Returns:
        [N*mm] moment on the end of the member.
    """
    one, other = np.divide(I_a, L_a), np.divide(I_b, L_b)
    return np.asarray(M * other / (one + other))[()]


def on_gusset(front: FrontEndEntry, moment: np.ndarray, points: Points) -> tuple[Held, ...]:
    """What the top tube does to the gusset of one rail, from the fork's moment on the headstock [N*mm].

    Raises:
        StaticsError: the gusset has no lever about the headstock.
    """
    corner = front.corner
    if corner is None:
        return ()
    head = points[front.headstock]
    shared = moment_share(
        float(moment[1]), *_stiff(corner.down_tube, head, points), *_stiff(corner.top_tube, head, points)
    )  # fmt: skip
    out = (points[corner.gusset] - head) * (1.0 - CROSS)
    if not np.linalg.norm(out) > LEAST_LEVER:
        raise StaticsError(
            f"the gusset at {corner.gusset} has no lever about {front.headstock}; place it on the top tube"
        )
    force = -float(shared) / corner.rails * np.cross(CROSS, out) / (out @ out)
    return (Held(CORNER, corner.gusset, force, np.zeros(3), "top tube"),)


def _stiff(tube: TubeEntry, head: np.ndarray, points: Points) -> tuple[float, float]:
    d, wall = tube.tube.width_mm, tube.tube.wall_mm
    area = np.pi / 64.0 * (d**4 - (d - 2.0 * wall) ** 4)
    return float(area), float(np.linalg.norm((points[tube.end] - head) * (1.0 - CROSS)))
