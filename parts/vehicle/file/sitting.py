"""On which body each hardpoint of a build sits: a load there counts once, and a body carries what stands on it."""

from __future__ import annotations

from collections.abc import Iterator

from parts.inputs.document import Path_
from parts.vehicle.file.entries import BuildFile
from parts.vehicle.file.names import Wrong
from parts.vehicle.loads.wheels import ENGINE, FORK
from parts.vehicle.rear_end.rear import SWING_ARM

LOADED = {FORK: "front_end", ENGINE: "engine"}
"""Groups of the file that say where loads act on a body, but for those under `bodies:`."""
Sits = tuple[Path_, str, str]
"""Path in the file, hardpoint, body."""


def sits_wrongly(entry: BuildFile) -> Iterator[Wrong]:
    """Hardpoints that sit on two bodies, and what acts or stands on a body that does not carry it.

    Args:
        entry: the file.

    Yields:
        One line for each.
    """
    yield from _two_bodies(entry)
    yield from _acts_beside(entry)


def _two_bodies(entry: BuildFile) -> Iterator[Wrong]:
    """Hardpoints that sit on two bodies, where a load would count twice or go to the wrong one."""
    on: dict[str, str] = {}
    for path, at, body in [*on_swing_arm(entry), *_on_others(entry)]:
        other = on.setdefault(at, body)
        if other != body:
            yield (
                path, "two_bodies", f"`{at}` sits on `{other}` already, and `{body}` would take its loads too",
                f"name a hardpoint of its own on `{body}`, or take it off one of the two",
            )  # fmt: skip


def _acts_beside(entry: BuildFile) -> Iterator[Wrong]:
    """What acts or stands on a moving body that does not carry it, so that it would be lost on the frame.

    A load, a link or a hinge may stand at a point that a body, the engine or the fork is loaded at, or on the swing
    arm; a pair of links stands on the frame, and so do mounts and pivots, and what holds a lever with spring or stop.
    """
    on = {at: body for _, at, body in (*on_swing_arm(entry), *_on_others(entry))}
    carried = set(_loaded(entry))
    for path, at, alone in _standing(entry):
        body = on.get(at)
        own = (
            path[0] == "bodies" and path[1] == body
        )  # statics says why a link through its hinge holds nothing
        if body is None or own or (alone and (body == SWING_ARM or at in carried)):
            continue
        right = "name a hardpoint on the frame"
        if alone and body != "arm":
            right = f"name `{at}` under `{LOADED.get(body, f'bodies.{body}')}.loaded_at:`"
        yield (
            path, "acts_beside",
            f"`{at}` sits on `{body}`, which moves, and what comes there would be lost on the frame", right,
        )  # fmt: skip


def on_swing_arm(entry: BuildFile) -> Iterator[Sits]:
    """The hardpoints of a file that move with the swing arm of its rear end; none without one."""
    rear, chain, brake = entry.rear_end, entry.chain, entry.rear_brake
    if rear is None:
        return
    yield ("rear_end", "axle"), rear.axle, SWING_ARM
    yield ("rear_end", "pick_up"), rear.pick_up, SWING_ARM
    for key in ("damper", "stops"):
        if (one := getattr(rear, key)) is not None:
            yield ("rear_end", key, "on_swing_arm"), one.on_swing_arm, SWING_ARM
    if chain is not None:
        yield ("chain", "rear_sprocket"), chain.rear_sprocket, SWING_ARM
    if brake is not None:
        yield ("rear_brake", "caliper"), brake.caliper, SWING_ARM
        if brake.torque_arm is not None:
            yield ("rear_brake", "torque_arm", "carrier"), brake.torque_arm.carrier, SWING_ARM


def _on_others(entry: BuildFile) -> Iterator[Sits]:
    rear, front, engine, chain = entry.rear_end, entry.front_end, entry.engine, entry.chain
    if rear is not None:
        yield ("rear_end", "arm_end"), rear.arm_end, "arm"
    if front is not None:
        yield ("front_end", "axle"), front.axle, FORK
        yield from (
            (("front_end", "loaded_at", i), at, FORK) for i, at in enumerate(front.loaded_at)
        )
    if engine is not None:
        if chain is not None:
            yield ("chain", "front_sprocket"), chain.front_sprocket, ENGINE
        for key in ("centre", "crank"):
            if (at := getattr(engine, key)) is not None:
                yield ("engine", key), at, ENGINE
        yield from (
            (("engine", "loaded_at", i), at, ENGINE) for i, at in enumerate(engine.loaded_at)
        )
    for name, body in entry.bodies.items():
        yield from (
            (("bodies", name, "loaded_at", i), at, name) for i, at in enumerate(body.loaded_at)
        )
        if body.centre is not None:
            yield ("bodies", name, "centre"), body.centre, name
        for one in filter(None, (body.link, *body.links)):
            if one in entry.links:
                yield ("links", one, "body"), entry.links[one].body, name
        if body.spring is not None:
            yield ("bodies", name, "spring", "body"), body.spring.body, name


def _loaded(entry: BuildFile) -> Iterator[str]:
    """Hardpoints whose loads a body, the engine or the fork takes over."""
    for owner in (entry.front_end, entry.engine, *entry.bodies.values()):
        if owner is not None:
            yield from owner.loaded_at


def _standing(entry: BuildFile) -> Iterator[tuple[Path_, str, bool]]:
    """What acts or stands on the frame, and whether it may on a body as well."""
    for i, case in enumerate(entry.cases):
        for path, at in case.hardpoints():
            if "at" in path:
                yield ("cases", i, *path), at, True
    fast = [one.link for one in entry.bodies.values() if one.spring or one.stop]
    for name, link in entry.links.items():
        yield ("links", name, "frame"), link.frame, link.sides == "one" and name not in fast
    for name, body in entry.bodies.items():
        if body.hinge is not None:
            yield ("bodies", name, "hinge"), body.hinge, body.link not in fast
        if body.spring is not None:
            yield ("bodies", name, "spring", "frame"), body.spring.frame, False
        if body.stop is not None:
            yield ("bodies", name, "stop", "at"), body.stop.at, False
    for path, at in _fast(entry):
        yield path, at, False


def _fast(entry: BuildFile) -> Iterator[tuple[Path_, str]]:
    """Pivots and mounts of rear end, fork, engine and brake, which stand on the frame alone."""
    rear, brake = entry.rear_end, entry.rear_brake
    if rear is not None:
        for key in ("pivot", "bar_line", "anchor"):
            if (at := getattr(rear, key)) is not None:
                yield ("rear_end", key), at
        for key in ("damper", "stops"):
            if (one := getattr(rear, key)) is not None:
                yield ("rear_end", key, "on_frame"), one.on_frame
    if entry.front_end is not None:
        yield ("front_end", "headstock"), entry.front_end.headstock
    if entry.engine is not None:
        yield from ((("engine", "mounts", i), at) for i, at in enumerate(entry.engine.mounts))
    if brake is not None and brake.torque_arm is not None:
        yield ("rear_brake", "torque_arm", "frame"), brake.torque_arm.frame
