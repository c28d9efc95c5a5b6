"""The corner of down tube and top tube behind a headstock: what its gusset bears of the fork's moment.

The head tube turns with the corner. Each tube, hinged at its far end, takes of the moment M about the crosswise axis as
its stiffness I / L is of both. The welds of the tubes at the head tube count as hinges, so the gusset hands the top
tube all of its moment: as a force square to the tube at the gusset, and the opposite one in the hinge. That is more
than the gusset bears where the welds hold too.

What rolls and yaws the head tube goes into two rails as a pair of forces, and these, with each rail's share of the
fork's force, into pull and push of its two tubes. The plate is strained with its tube and may take a share of that too,
or none: both are checked.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from parts.strength.method import Number, method
from parts.strength.vectors import cross
from parts.vehicle.file.entries import CornerEntry, FrontEndEntry, TubeEntry
from parts.vehicle.loads.statics import Held, StaticsError

CORNER = "headstock corner"
CROSS = np.array([0.0, 1.0, 0.0])
LEAST_LEVER = 1.0
"""Way from the headstock to the gusset's place on the top tube below which it bears no moment [mm]."""
LEAST_ANGLE = 0.05
"""Angle between the tubes below which they do not make a corner [rad]."""
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


@method(
    formula="N_p = N A_p / (A_p + A_t), A_p as A_t",
    source="plate and tube strained alike along their weld share as their areas do, strength of materials; a plate "
    "with as much metal along the tube as the tube itself has is our bound",
)
def strained_share(N: Number) -> Number:
    """Pull that a plate welded along a tube takes of the tube's.

    Args:
        N [N]: pull of the tube.

    Returns:
        [N] pull of the plate.
    """
    return np.asarray(np.multiply(N, 0.5))[()]


def on_gusset(
    front: FrontEndEntry, force: np.ndarray, moment: np.ndarray, points: Points
) -> tuple[Held, ...]:
    """What the top tube does to the gusset of each rail, from the fork's force [N] and moment [N*mm] on the headstock.

    Raises:
        StaticsError: the gusset has no lever about the headstock, both tubes run one way, or two rails in one plane.
    """
    corner = front.corner
    if corner is None:
        return ()
    head, at = points[front.headstock], points[corner.gusset]
    shared = moment_share(
        float(moment[1]), *_stiff(corner.down_tube, head, points), *_stiff(corner.top_tube, head, points)
    )  # fmt: skip
    out = (at - head) * (1.0 - CROSS)
    if not np.linalg.norm(out) > LEAST_LEVER:
        raise StaticsError(
            f"the gusset at {corner.gusset} has no lever about {front.headstock}; place it on the top tube"
        )
    square = -float(shared) / corner.rails * cross(CROSS, out) / (out @ out)
    found = [Held(CORNER, corner.gusset, square, np.zeros(3), "top tube")]
    for side, name in ((1.0, "left"), (-1.0, "right"))[: corner.rails]:
        along = _strained(corner, side * abs(at[1]), force, moment, head, points)
        if not any(np.allclose(square + along, one.force) for one in found):
            also = f"{name} plate strained"
            found.append(
                Held(CORNER, corner.gusset, square + along, np.zeros(3), "top tube", also=also)
            )
    return tuple(found)


def _strained(
    corner: CornerEntry,
    y: float,
    force: np.ndarray,
    moment: np.ndarray,
    head: np.ndarray,
    points: Points,
) -> np.ndarray:
    """What the plate of a rail at a place beside the middle [mm] takes of the pull of its top tube [N]."""
    node = np.array([force[0], 0.0, force[2]]) / corner.rails
    if corner.rails == 2:
        if not abs(y) > LEAST_LEVER:
            raise StaticsError(
                f"two rails stand in one plane at {corner.gusset}; place it beside the middle, on one rail"
            )
        node += np.array([-moment[2], 0.0, moment[0]]) / (2.0 * y)
    ways = [(points[one.end] - head) * (1.0 - CROSS) for one in (corner.down_tube, corner.top_tube)]
    down, top = (way / np.linalg.norm(way) for way in ways)
    if abs(float(cross(down, top)[1])) < LEAST_ANGLE:
        raise StaticsError(
            f"{corner.down_tube.end} and {corner.top_tube.end} stand in one line with the headstock; move one"
        )
    pulls = np.linalg.solve(np.array([down, top])[:, [0, 2]].T, -node[[0, 2]])
    return np.asarray(strained_share(float(pulls[1])) * top)


def _stiff(tube: TubeEntry, head: np.ndarray, points: Points) -> tuple[float, float]:
    d, wall = tube.tube.width_mm, tube.tube.wall_mm
    area = np.pi / 64.0 * (d**4 - (d - 2.0 * wall) ** 4)
    return float(area), float(np.linalg.norm((points[tube.end] - head) * (1.0 - CROSS)))
