"""The engine as a body that points of the frame hold, and its own inertia by orders.

Points that hold a body share its load by least work, as equal springs do that give way in every direction:
Castigliano's theorem of least work, textbook mechanics of materials. Forces of the points and the load are in balance.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from parts.core.freebody import Acting, Balance, balance
from parts.strength.vectors import cross
from parts.vehicle.file.entries import EngineEntry
from parts.vehicle.loads import dynamics
from parts.vehicle.loads.statics import FRAME, Held, StaticsError

LEFT_OVER = 1e-6
"""Load that the points do not hold, over the whole [-]: above it they stand in one line."""
ORDERS = ("first order along the cylinder", "first order across the cylinder", "second order")
"""The engine's inertia by what it is: as the cosine, the sine, and the cosine of twice the crank's angle."""
Points = Mapping[str, np.ndarray]


def shared(loads: Sequence[Acting], at: Sequence[str], points: Points) -> dict[str, np.ndarray]:
    """The forces of points that hold a body [N], by hardpoint.

    Args:
        loads: on the body.
        at: the hardpoints that hold it.
        points: places of the hardpoints [mm].

    Raises:
        StaticsError: they cannot hold it, as where they stand in one line that the load turns about.
    """
    places = np.array([points[name] for name in at])
    middle = places.mean(axis=0)
    scale = max(float(np.max(np.abs(places - middle), initial=0.0)), 1.0)
    force = sum((np.asarray(one.force, float) for one in loads), np.zeros(3))
    moment = sum(
        (cross(np.asarray(one.at) - middle, one.force) + np.asarray(one.moment) for one in loads),
        np.zeros(3),
    )  # fmt: skip
    turns = [_cross_matrix((place - middle) / scale) for place in places]
    matrix = np.vstack([np.tile(np.eye(3), len(at)), np.hstack(turns)])
    wanted = -np.concatenate([force, moment / scale])
    found = np.linalg.lstsq(matrix, wanted, rcond=1e-9)[0]
    if np.max(np.abs(matrix @ found - wanted)) > LEFT_OVER * max(
        float(np.max(np.abs(wanted))), 1.0
    ):
        raise StaticsError(
            f"{', '.join(at)} cannot hold what turns about the line through them; name a point beside that line"
        )
    return dict(zip(at, found.reshape(-1, 3), strict=True))


def _cross_matrix(r: np.ndarray) -> np.ndarray:
    return np.array([[0.0, -r[2], r[1]], [r[2], 0.0, -r[0]], [-r[1], r[0], 0.0]])


def on_mounts(
    body: str, loads: Sequence[tuple[str, Acting]], mounts: Sequence[str], points: Points
) -> tuple[tuple[Held, ...], Balance]:
    """A body under loads at hardpoints, held by points of the frame.

    Args:
        body: its name.
        loads: by hardpoint.
        mounts: hardpoints that hold it.
        points: places of the hardpoints [mm].

    Returns:
        What acts on it and on the frame, and its balance.
    """
    held = shared([one for _, one in loads], mounts, points)
    found = [
        Held(
            body, at, np.asarray(one.force),
            np.asarray(one.moment) + cross(np.asarray(one.at) - points[at], one.force), one.by,
        )
        for at, one in loads
    ]  # fmt: skip
    for at, force in held.items():
        found.append(Held(body, at, force, np.zeros(3), FRAME))
        found.append(Held(FRAME, at, -force, np.zeros(3), body))
    acting = [
        *(one for _, one in loads),
        *(Acting(points[at], force, by=f"mount at {at}") for at, force in held.items()),
    ]
    return tuple(found), balance(body, acting)


def orders(entry: EngineEntry, speed: float, along: np.ndarray) -> dict[str, np.ndarray]:
    """Greatest inertia forces of piston and crank [N], by what they are.

    Args:
        entry: the engine.
        speed: of the crank [1/min].
        along: direction of the cylinder [-].

    Returns:
        First order along the cylinder, what the webs balance of it across, and the second order along.
    """
    radius = entry.stroke / 2.0
    first = float(dynamics.crank_inertia(entry.reciprocating, radius, speed))
    second = float(dynamics.crank_inertia(entry.reciprocating, radius, speed, radius / entry.rod))
    across = cross(along, [0.0, 1.0, 0.0])
    across = across / np.linalg.norm(across)
    found = (1.0 - entry.balanced) * first * along, entry.balanced * first * across, second * along
    return dict(zip(ORDERS, found, strict=True))
