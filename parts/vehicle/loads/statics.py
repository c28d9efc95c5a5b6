"""Bodies on a hinge and a link: what holds a seat frame, a pedal or a lever in balance.

A body turns about one hinge along a, and one link, or about a crosswise one an equal pair of links on both sides, stops
it. The moments about the hinge's axis give the pull N of the links,

    N = -M·a / m,   m = Σ (r × e)·a

with M the moment of the loads, r the way from the hinge to the link's joint on the body and e the direction along the
link away from the body. A load beside the middle plane rolls the body: of a pair of links one pulls the more by
M_x / 2 m_x, the other the less, so that the hinge bears no roll. The hinge bears what is left.
A lever may have a stop, which takes what turns it back in place of the link, and a spring. A spring that relieves the
link may be unhooked: the load then counts without it, and once more with it.
Bodies and links count as rigid and weightless, joints as free of friction.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np

from parts.core.freebody import Acting, Balance, balance
from parts.strength.method import Number, method
from parts.strength.vectors import cross
from parts.vehicle.file.places import MIRROR, direction_of

MIDDLE = np.array([1.0, 0.0, 1.0])
"""What takes a place into the middle plane."""
NONE = np.zeros(3)
LEAST_LEVER = 0.05
"""Lever of a link about the hinge over its distance below which it does not hold the body [-]."""
LOOSE = 1e4
"""Condition of the equations of six links above which they do not hold a body [-]."""
SPRING, STOP = "return spring", "stop"
"""What a lever is held by beside hinge and link; a part that is one works both out by itself."""
HOOKED = "its spring hooked"
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


class Spring(NamedTuple):
    """A spring from a body to the frame, and its pull [N]."""

    on_body: str
    on_frame: str
    pull: float


class Post(NamedTuple):
    """A post of the frame, and the point that the arm which meets it runs to from the hinge."""

    at: str
    arm: str


class Body(NamedTuple):
    """A body: the hardpoints that loads may act at, its hinge with its direction as stated, the link that holds it, and
    the spring and the stop of a lever."""

    name: str
    loaded_at: tuple[str, ...]
    hinge: str
    link: Link
    axis: Any = "left"
    spring: Spring | None = None
    stop: Post | None = None


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
        StaticsError: the link points at the hinge, its joints coincide, or the hinge has no direction.
    """
    if body.spring is None:
        return _held_by(body, loads, points)
    pull = _of_spring(body, body.spring, points)
    turn, back = (float(_moment(one, np.asarray(points[body.hinge], float), points) @ _axis(body, points))
                  for one in (loads, pull[:1]))  # fmt: skip
    if turn * back >= 0.0 or abs(turn) <= abs(back):
        return _held_by(body, [*loads, *pull], points)
    without, hooked = (_held_by(body, some, points) for some in (loads, [*loads, *pull]))
    also = tuple(one._replace(also=HOOKED) for one in hooked.held)
    return Solved((*without.held, *also), (*without.balances, *hooked.balances))


def _held_by(body: Body, loads: Sequence[Held], points: Mapping[str, Any]) -> Solved:
    """A body under its loads, held by stop or link, and by its hinge."""
    link, hinge, axis = body.link, np.asarray(points[body.hinge], float), _axis(body, points)
    joint, foot = (np.asarray(points[name], float) for name in (link.on_body, link.on_frame))
    along = _direction(link, joint, foot)
    lever = float(cross(joint - hinge, along) @ axis)
    if abs(lever) < LEAST_LEVER * max(float(np.linalg.norm(cross(axis, joint - hinge))), 1.0):
        raise StaticsError(
            f"{link.name} points at the hinge of {body.name} ({body.hinge}) and cannot hold it; "
            "move the hinge or a joint of the link"
        )
    # Of a pair about the hinge's axis where it crosses the middle plane: there it holds the roll too.
    middle = hinge * MIDDLE if link.sides == 2 else hinge
    before = [one for one in loads if one.body == body.name]
    stop = _of_stop(body, float(_moment(before, middle, points) @ axis), points)
    turn = _moment([*before, *stop[:1]], middle, points)
    pull = float(link_pull(float(turn @ axis), link.sides * lever))
    roll = cross(joint - middle, along)[0]
    more = 0.0
    if link.sides == 2 and abs(roll) > LEAST_LEVER * max(
        float(np.linalg.norm((joint - middle)[1:])), 1.0
    ):
        more = float(link_pull(turn[0], 2.0 * roll))
    pulls = (pull + more) * along, (pull - more) * along
    held = [*loads, *stop, *_of_link(body, *pulls)]
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


def _axis(body: Body, points: Mapping[str, Any]) -> np.ndarray:
    """Direction of a body's hinge [-], of length 1."""
    way = np.asarray(direction_of(body.axis, points), float)
    size = float(np.linalg.norm(way))
    if not size > 1e-9:
        raise StaticsError(f"the hinge of {body.name} has no direction; state `axis:` as a line")
    return way / size


def _of_spring(body: Body, spring: Spring, points: Mapping[str, Any]) -> list[Held]:
    """The pull of a spring as the points are drawn, on the body and back on the frame."""
    hooks = Link("the spring", spring.on_frame, spring.on_body)
    way = _direction(hooks, *(np.asarray(points[at], float) for at in (spring.on_body, spring.on_frame)))  # fmt: skip
    pull = spring.pull * way
    return [
        Held(body.name, spring.on_body, pull, NONE, SPRING),
        Held(FRAME, spring.on_frame, -pull, NONE, body.name),
    ]


def _of_stop(body: Body, turn: float, points: Mapping[str, Any]) -> list[Held]:
    """The push of a stop that answers a moment about the hinge [N*mm]; none where that turns the body away from it."""
    if body.stop is None:
        return []
    axis = _axis(body, points)
    post, arm = (
        np.asarray(points[at], float) - points[body.hinge] for at in (body.stop.at, body.stop.arm)
    )
    along = arm - (arm @ axis) * axis
    size = float(np.linalg.norm(along))
    along = along / max(size, 1e-9)
    square = cross(axis, along)
    out, side = float(post @ along), float(post @ square)
    if size < 1.0 or out < LEAST_LEVER * size or abs(side) < 1e-6:
        raise StaticsError(
            f"the stop of {body.name} does not stand beside its arm; move {body.stop.at}"
        )
    if turn * side <= 0.0:
        return []
    push = -turn / out * square
    return [
        Held(body.name, body.stop.at, push, NONE, STOP),
        Held(FRAME, body.stop.at, -push, NONE, body.name),
    ]


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
    at, axis = np.asarray(points[body.hinge], float), _axis(body, points)
    force = sum((one.force for one in on_body), NONE)
    moment = _moment(on_body, at, points)
    return Held(body.name, body.hinge, -force, (moment @ axis) * axis - moment, FRAME)


def _moment(loads: Sequence[Held], about: np.ndarray, points: Mapping[str, Any]) -> np.ndarray:
    """Of forces and moments about a place [N*mm]."""
    return sum((cross(_at(one, points) - about, one.force) + one.moment for one in loads), NONE)


def _at(one: Held, points: Mapping[str, Any]) -> np.ndarray:
    place = np.asarray(points[one.point], float)
    return place * MIRROR if one.mirrored else place


def _acting(one: Held, points: Mapping[str, Any]) -> Acting:
    return Acting(_at(one, points), one.force, one.moment, by=one.by)
