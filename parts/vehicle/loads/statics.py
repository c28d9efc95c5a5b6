"""Bodies on a hinge and a link: what holds a seat frame, a pedal or a lever in balance.

A body turns about one hinge, crosswise, and one link, or an equal pair of links on both sides, stops it. The
moments about the hinge's axis give the pull N of the links,

    N = -M_y / m_y,   m_y = Σ (r × e)_y

with M_y the moment of the loads, r the way from the hinge to the link's joint on the body and e the
direction along the link away from the body. A load beside the middle plane rolls the body: of a pair of links one pulls
the more by M_x / 2 m_x, the other the less, so that the hinge bears no roll. The hinge bears what is left.
Bodies and links count as rigid and weightless, joints as free of friction.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np

from parts.core.freebody import Acting, Balance, balance
from parts.strength.method import Number, method
from parts.strength.vectors import cross
from parts.vehicle.file.places import MIRROR

MIDDLE = np.array([1.0, 0.0, 1.0])
"""What takes a place into the middle plane."""
NONE = np.zeros(3)
LEAST_LEVER = 0.05
"""Lever of a link about the hinge over its distance below which it does not hold the body [-]."""
LOOSE = 1e4
"""Condition of the equations of six links above which they do not hold a body [-]."""
FRAME = "frame"
"""The body that everything else is held by; it is not solved."""


class StaticsError(ValueError):
    """A body that its hinge and link do not hold."""


@method(
    formula="N = -M / m",
    source="moments about a hinge; statics of a rigid body",
    valid="the link has a lever about the hinge",
    holds=lambda M, m: np.asarray(m) != 0.0,
)
def link_pull(M: Number, m: Number) -> Number:
    """Pull of a link that holds a body on a hinge.

    Args:
        M [N*mm]: moment of the loads about the hinge.
        m [mm]: moment about the hinge for each newton of pull.

    Returns:
        [N] pull of the link; a push is negative.
    """
    return (-np.divide(M, m))[()]


class Link(NamedTuple):
    """A link between two joints; `sides` is 2 where a twin stands mirrored on the vehicle's other side."""

    name: str
    on_frame: str
    on_body: str
    sides: int = 1


class Body(NamedTuple):
    """A body: the hardpoints that loads may act at, its hinge, and the link that holds it."""

    name: str
    loaded_at: tuple[str, ...]
    hinge: str
    link: Link


class OnLinks(NamedTuple):
    """A body that six links hold: the hardpoints that loads may act at, and the links."""

    name: str
    loaded_at: tuple[str, ...]
    links: tuple[Link, ...]


class Held(NamedTuple):
    """A force and a moment on a body at a hardpoint: [N] and [N*mm], in vehicle axes.

    `also` says of what may act in place of the other: a part is checked under either.
    """

    body: str
    point: str
    force: np.ndarray
    moment: np.ndarray
    by: str
    mirrored: bool = False
    also: str = ""


class Solved(NamedTuple):
    """A body under one load case: what acts on it, on its link and back on the frame, and both balances."""

    held: tuple[Held, ...]
    balances: tuple[Balance, ...]


def solve(body: Body, loads: Sequence[Held], points: Mapping[str, Any]) -> Solved:
    """Hold a body in balance.

    Args:
        body: the body.
        loads: on it.
        points: places of the hardpoints [mm].

    Returns:
        Everything on the body, on its link and back on the frame.

    Raises:
        StaticsError: the link points at the hinge, or its joints coincide.
    """
    link, hinge = body.link, np.asarray(points[body.hinge], float)
    joint, foot = (np.asarray(points[name], float) for name in (link.on_body, link.on_frame))
    along = _direction(link, joint, foot)
    lever = cross(joint - hinge, along)[1]
    if abs(lever) < LEAST_LEVER * max(float(np.linalg.norm((joint - hinge)[[0, 2]])), 1.0):
        raise StaticsError(
            f"{link.name} points at the hinge of {body.name} ({body.hinge}) and cannot hold it; "
            "move the hinge or a joint of the link"
        )
    # About the hinge's axis where it crosses the middle plane: there a pair of links holds the roll too.
    middle = hinge * MIDDLE
    turn = _moment(loads, middle, points)
    pull = float(link_pull(turn[1], link.sides * lever))
    roll = cross(joint - middle, along)[0]
    more = 0.0
    if link.sides == 2 and abs(roll) > LEAST_LEVER * max(
        float(np.linalg.norm((joint - middle)[1:])), 1.0
    ):
        more = float(link_pull(turn[0], 2.0 * roll))
    pulls = (pull + more) * along, (pull - more) * along
    held = [*loads, *_of_link(body, *pulls)]
    on_body = [one for one in held if one.body == body.name]
    at_hinge = _hinge(body, on_body, points)
    back = Held(FRAME, body.hinge, -at_hinge.force, -at_hinge.moment, body.name)
    on_frame = [Held(FRAME, link.on_frame, -pulls[0], NONE, link.name), back]
    if link.sides == 2:
        on_frame.append(
            Held(FRAME, link.on_frame, -pulls[1] * MIRROR, NONE, link.name, mirrored=True)
        )
    return Solved(
        (*held, at_hinge, *on_frame),
        (
            balance(body.name, [_acting(one, points) for one in (*on_body, at_hinge)]),
            balance(
                link.name,
                [_acting(o, points) for o in held if o.body == link.name and not o.mirrored],
            ),
        ),
    )


def solve_on_links(body: OnLinks, loads: Sequence[Held], points: Mapping[str, Any]) -> Solved:
    """Hold a body that six links hold in balance: three forces and three moments give their six pulls.

    Args:
        body, loads, points: as for `solve`.

    Raises:
        StaticsError: the links leave it a way to move, as where three of them are parallel in one plane.
    """
    joints = [np.asarray(points[one.on_body], float) for one in body.links]
    ways = [_direction(one, joint, np.asarray(points[one.on_frame], float))
            for one, joint in zip(body.links, joints, strict=True)]  # fmt: skip
    about = np.mean(joints, axis=0)
    reach = max(float(np.max(np.linalg.norm(np.array(joints) - about, axis=-1))), 1.0)
    matrix = np.array([[*way, *cross(joint - about, way) / reach]
                       for joint, way in zip(joints, ways, strict=True)]).T  # fmt: skip
    if np.linalg.cond(matrix) > LOOSE:
        raise StaticsError(
            f"the links of {body.name} leave it a way to move; let them point past each other and not at one line"
        )
    force = sum((one.force for one in loads), NONE)
    turn = _moment(loads, about, points)
    pulls = np.linalg.solve(matrix, -np.concatenate([force, turn / reach]))
    held = [*loads]
    for link, way, size in zip(body.links, ways, pulls, strict=True):
        pull = float(size) * way
        held += [
            Held(body.name, link.on_body, pull, NONE, link.name),
            Held(link.name, link.on_body, -pull, NONE, body.name),
            Held(link.name, link.on_frame, pull, NONE, FRAME),
            Held(FRAME, link.on_frame, -pull, NONE, link.name),
        ]
    own = [_acting(one, points) for one in held if one.body == body.name]
    return Solved(tuple(held), (balance(body.name, own),))


def _direction(link: Link, joint: np.ndarray, foot: np.ndarray) -> np.ndarray:
    way = foot - joint
    size = np.linalg.norm(way)
    if not size > 1e-6:
        raise StaticsError(
            f"the two ends of {link.name} coincide ({link.on_frame} and {link.on_body}); move one"
        )
    return np.asarray(way / size)


def _of_link(body: Body, pull: np.ndarray, of_twin: np.ndarray) -> list[Held]:
    """Of each link on the body, and of body and frame on it; both pulls [N] as of a link on the left."""
    link = body.link
    found = []
    for size, way, twin in ((pull, 1.0, False), (of_twin, MIRROR, True))[: link.sides]:
        force = size * way
        found += [
            Held(body.name, link.on_body, force, NONE, link.name, twin),
            Held(link.name, link.on_body, -force, NONE, body.name, twin),
            Held(link.name, link.on_frame, force, NONE, FRAME, twin),
        ]
    return found


def _hinge(body: Body, on_body: Sequence[Held], points: Mapping[str, Any]) -> Held:
    """What the hinge bears: all but the moment about its own axis."""
    at = np.asarray(points[body.hinge], float)
    force = sum((one.force for one in on_body), NONE)
    moment = _moment(on_body, at, points)
    return Held(body.name, body.hinge, -force, -moment * np.array([1.0, 0.0, 1.0]), FRAME)


def _moment(loads: Sequence[Held], about: np.ndarray, points: Mapping[str, Any]) -> np.ndarray:
    """Of forces and moments about a place [N*mm]."""
    return sum((cross(_at(one, points) - about, one.force) + one.moment for one in loads), NONE)


def _at(one: Held, points: Mapping[str, Any]) -> np.ndarray:
    place = np.asarray(points[one.point], float)
    return place * MIRROR if one.mirrored else place


def _acting(one: Held, points: Mapping[str, Any]) -> Acting:
    return Acting(_at(one, points), one.force, one.moment, by=one.by)
