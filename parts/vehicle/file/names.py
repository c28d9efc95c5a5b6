"""Names in a build file that must exist: hardpoints, bodies and links."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from parts.inputs.document import Path_
from parts.vehicle.file.entries import BodyEntry, BuildFile, LinkEntry, VehicleEntry
from parts.vehicle.file.forms import nearest
from parts.vehicle.file.rear_entries import RearEndEntry
from parts.vehicle.loads.corner import CORNER
from parts.vehicle.loads.statics import FRAME
from parts.vehicle.loads.wheels import ENGINE, FORK, TORQUE_ARM
from parts.vehicle.rear_end.rear import BODIES, WHEEL

OTHERS = {
    WHEEL: "vehicle",
    FORK: "front_end",
    CORNER: "front_end",
    ENGINE: "engine",
    TORQUE_ARM: "rear_brake",
}
"""Bodies beside those of a rear end, by the group of the file that brings them."""
Wrong = tuple[Path_, str, str, str]
"""Path, code, what is wrong, what would be right."""


def unknown_names(entry: BuildFile, points: Iterable[str]) -> Iterator[Wrong]:
    """Every name that names nothing.

    Args:
        entry: the file.
        points: names of the hardpoints.

    Yields:
        One line for each.
    """
    points = list(points)
    yield from _unknown(points_named(entry), points)
    of_groups = [*(BODIES if entry.rear_end else ())]
    of_groups += [name for name, group in OTHERS.items() if getattr(entry, group) is not None]
    taken = {FRAME, *of_groups}
    for name, body in entry.bodies.items():
        yield from _held_wrongly(name, body)
        yield from _of_one_link(name, body, entry.links)
        yield from _unknown_links(name, body, entry.links)
        if name in (*taken, *entry.links):
            yield (
                ("bodies", name),
                "same_name",
                f"`{name}` is the name of another body",
                "choose another",
            )
    for name in entry.links:
        if name in taken:
            yield (
                ("links", name),
                "same_name",
                f"`{name}` is the name of another body",
                "choose another",
            )
    moving = [*entry.bodies, *entry.links, *of_groups]
    for name in entry.not_modelled:
        if name not in points and name not in moving:
            wrong = f"there is no hardpoint or body `{name}`" if name != FRAME else (
                "the frame as a whole would hide every load that a part of it lost"
            )  # fmt: skip
            right = nearest(name, [*points, *moving]) if name != FRAME else (
                "name the hardpoints on it, one by one"
            )  # fmt: skip
            yield ("not_modelled", name), "unknown_name", wrong, right
    known = [FRAME, *moving]
    for i, part in enumerate(entry.parts):
        if part.body not in known:
            wrong = f"there is no body `{part.body}`"
            yield ("parts", i, "body"), "unknown_body", wrong, nearest(part.body, known)
        for own in part.carries:
            if own not in part.points:
                wrong = f"`{own}` has no place among the points of this part"
                yield (
                    ("parts", i, "carries", own), "unknown_point", wrong, nearest(own, part.points)
                )  # fmt: skip


def _held_wrongly(name: str, body: BodyEntry) -> Iterator[Wrong]:
    """A body is on a hinge and a link, or on six links."""
    on_hinge = body.hinge is not None and body.link is not None and not body.links
    on_links = body.hinge is None and body.link is None and len(body.links) == 6
    if not (on_hinge or on_links):
        yield (
            ("bodies", name), "not_held",
            f"`{name}` is held by a hinge and a link, or by six links, and {len(body.links)} links are named",
            "write `hinge:` and `link:`, or six names under `links:`",
        )  # fmt: skip


def _of_one_link(name: str, body: BodyEntry, links: Mapping[str, LinkEntry]) -> Iterator[Wrong]:
    """A hinge that is not crosswise, a spring and a stop go with one link."""
    pair = body.link is not None and body.link in links and links[body.link].sides == "both"
    for key in ("axis", "spring", "stop"):
        if getattr(body, key) is not None and (pair or body.link is None):
            said = "a pair of links" if pair else "links alone"
            yield (
                ("bodies", name, key), "one_link",
                f"`{name}` is held by {said}, and `{key}:` is worked out with one link on a hinge",
                f"hold it by one link, or leave `{key}:` out",
            )  # fmt: skip


def _unknown_links(name: str, body: BodyEntry, links: Mapping[str, LinkEntry]) -> Iterator[Wrong]:
    named: list[tuple[Path_, str]] = [(("links", i), one) for i, one in enumerate(body.links)]
    if body.link is not None:
        named.append((("link",), body.link))
    for path, one in named:
        if one not in links:
            wrong = f"there is no link `{one}`"
            yield ("bodies", name, *path), "unknown_link", wrong, nearest(one, links)


def unknown_to_rear(
    vehicle: VehicleEntry | None, rear: RearEndEntry | None, points: Iterable[str]
) -> Iterator[Wrong]:
    """Hardpoints that vehicle and rear end name and that do not exist; as `unknown_names`."""
    points = list(points)
    yield from _unknown(_points_of_rear(vehicle, rear), points)


def _unknown(named: Iterable[tuple[Path_, str]], points: list[str]) -> Iterator[Wrong]:
    for path, name in named:
        if name not in points:
            wrong = f"there is no hardpoint `{name}`"
            yield path, "unknown_hardpoint", wrong, nearest(name, points)


def _points_of_rear(
    vehicle: VehicleEntry | None, rear: RearEndEntry | None
) -> Iterator[tuple[Path_, str]]:
    groups = [
        ("vehicle", vehicle, ("machine_centre", "rider_centre", "rear_axle")),
        ("rear_end", rear, ("pivot", "axle", "pick_up", "arm_end", "bar_line")),
    ]
    for group, owner, keys in groups:
        if owner is not None:
            yield from (((group, key), getattr(owner, key)) for key in keys)
    if vehicle is not None and vehicle.third_wheel is not None:
        yield ("vehicle", "third_wheel"), vehicle.third_wheel
    if rear is not None and rear.anchor is not None:
        yield ("rear_end", "anchor"), rear.anchor
    for key in ("bar_along", "pick_up_pin", "arm_pin"):
        way = getattr(rear, key, None)
        if isinstance(way, list) and isinstance(way[0], str):
            yield from ((("rear_end", key, i), one) for i, one in enumerate(way))
    for group in ("damper", "stops"):
        one = getattr(rear, group, None)
        if one is not None:
            yield from (
                (("rear_end", group, key), getattr(one, key))
                for key in ("on_frame", "on_swing_arm")
            )


def _points_of_wheels_and_engine(entry: BuildFile) -> Iterator[tuple[Path_, str]]:
    """Paths of the hardpoints of front end, chain, rear brake, car and engine, each with its name."""
    for group, keys in (
        ("front_end", ("axle", "headstock")),
        ("chain", ("rear_sprocket", "front_sprocket")),
        ("rear_brake", ("caliper",)),
        ("car", ("contact", "centre")),
    ):
        owner = getattr(entry, group)
        named = ((key, getattr(owner, key, None)) for key in keys)
        yield from (((group, key), at) for key, at in named if at is not None)
    if entry.rear_brake is not None and entry.rear_brake.torque_arm is not None:
        arm = entry.rear_brake.torque_arm
        yield ("rear_brake", "torque_arm", "carrier"), arm.carrier
        yield ("rear_brake", "torque_arm", "frame"), arm.frame
    if entry.front_end is not None:
        front, corner = entry.front_end, entry.front_end.corner
        yield from ((("front_end", "loaded_at", i), at) for i, at in enumerate(front.loaded_at))
        if corner is not None:
            yield ("front_end", "corner", "gusset"), corner.gusset
            for key in ("down_tube", "top_tube"):
                yield ("front_end", "corner", key, "end"), getattr(corner, key).end
    if entry.engine is not None:
        for key in ("mounts", "loaded_at"):
            yield from ((("engine", key, i), at) for i, at in enumerate(getattr(entry.engine, key)))
        for key in ("crank", "centre"):
            if (at := getattr(entry.engine, key)) is not None:
                yield ("engine", key), at


def points_named(entry: BuildFile) -> Iterator[tuple[Path_, str]]:
    """Paths of all hardpoints that the file names outside `hardpoints:` and places."""
    yield from _points_of_rear(entry.vehicle, entry.rear_end)
    for name, link in entry.links.items():
        yield ("links", name, "frame"), link.frame
        yield ("links", name, "body"), link.body
    for name, body in entry.bodies.items():
        if body.hinge is not None:
            yield ("bodies", name, "hinge"), body.hinge
        yield from ((("bodies", name, "loaded_at", i), at) for i, at in enumerate(body.loaded_at))
        if body.centre is not None:
            yield ("bodies", name, "centre"), body.centre
        if isinstance(body.axis, list) and isinstance(body.axis[0], str):
            yield from ((("bodies", name, "axis", i), at) for i, at in enumerate(body.axis))
        for key, own in (("spring", ("body", "frame")), ("stop", ("at", "arm"))):
            if (one := getattr(body, key)) is not None:
                yield from ((("bodies", name, key, which), getattr(one, which)) for which in own)
    for i, case in enumerate(entry.cases):
        yield from ((("cases", i, *path), at) for path, at in case.hardpoints())
    yield from _points_of_wheels_and_engine(entry)
    for i, tube in enumerate(entry.frame):
        yield from ((("frame", i, k), at) for k, at in enumerate(tube))
    for i, part in enumerate(entry.parts):
        yield from ((("parts", i, "points", own), at) for own, at in part.points.items())
        yield from ((("parts", i, "carries", own), at) for own, at in part.carries.items())
