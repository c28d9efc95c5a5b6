"""What the page of a build shows in three dimensions: surfaces at their places, hardpoints, and lines between them."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.making.kept import Kept
from parts.making.picture import METAL, Aimed, View, aimed, pictures
from parts.report.page.build import Space
from parts.report.page.travel import Travel
from parts.report.page.views import Named
from parts.report.silhouettes import silhouettes
from parts.vehicle.file.places import MIRROR, Frame
from parts.vehicle.space.assembly import Standing, twin

if TYPE_CHECKING:
    from parts.vehicle.build import Build

CHORD, TURN = 0.3, 0.45
"""Chord [mm] and angle [rad] of the surfaces: fine enough for a screen, an eighth of the facets of a print."""
STEPS = 12
"""Steps of the wheel's travel that are worked out; between them the viewer goes straight [-]."""
HARDWARE = "bought-in hardware, as envelopes"
PALE = (0.88, 0.90, 0.92)
"""Colour of bought-in hardware."""
VIEWS = {
    "seen from its left, forward to the left": View(90.0, 0.0),
    "seen from above, forward to the right": View(-90.0, 90.0),
    "seen from behind and the left": View(128.0, 24.0),
}
"""The still pictures: from where, in words."""
WIDTH, HEIGHT = 960, 640
"""Of a still picture, in the px that its names are set in: they can be read on paper too."""
FINER = 1.5
"""Dots of the picture for each of them [-]."""

Mesh = tuple[np.ndarray, np.ndarray]


@dataclass(frozen=True)
class Scene:
    """A build to be looked at, all in vehicle axes [mm].

    Attributes:
        surfaces: of the made parts by name, twins with their originals; corner points and triangles.
        middles: a place in the midst of each made part, by name.
        hardware: of the envelopes of what is bought, by name: of what moves part by part, of all else together.
        points: the hardpoints.
        lines: chains of places between hardpoints by what they stand for, each (n, 3).
    """

    surfaces: Mapping[str, Mesh]
    middles: Mapping[str, np.ndarray]
    hardware: Mapping[str, Mesh]
    points: Mapping[str, np.ndarray]
    lines: Mapping[str, np.ndarray]


def scene(
    build: Build,
    standing: tuple[Standing, ...],
    frames: Mapping[str, Frame],
    kept: Kept | None = None,
) -> Scene:
    """Everything of a build at its place.

    Args:
        build: the build.
        standing: every solid.
        frames: axes of each part.
        kept: surfaces that were meshed before.

    Returns:
        The scene.
    """
    made: dict[str, list[Mesh]] = {}
    bought: dict[str, list[Mesh]] = {}
    kept = kept or Kept()
    moves = moving(build, frames)
    for one in standing:
        mesh = _placed(one, frames, kept)
        name = _called(one.part, one.side) if one.part in moves else one.part
        if one.material is None:
            bought.setdefault(f"{HARDWARE}, {name}" if one.part in moves else HARDWARE, []).append(
                mesh
            )
        else:
            made.setdefault(name, []).append(mesh)
    return Scene(
        {name: _joined(meshes) for name, meshes in made.items()},
        {name: meshes[0][0].mean(axis=0) for name, meshes in made.items()},
        {name: _joined(meshes) for name, meshes in bought.items()},
        build.points,
        dict(lines(build, build.points)),
    )


def _called(part: str, side: str) -> str:
    return f"{part}, other side" if side else part


def moving(build: Build, frames: Mapping[str, Frame]) -> frozenset[str]:
    """The parts that move with the rear wheel."""
    if build.rear is None:
        return frozenset()
    full = _points_at(build, build.rear.entry.travel)
    found = set()
    for name, drawn in frames.items():
        there = build.frame(name, full)
        assert there is not None
        if not all(np.allclose(a, b, atol=1e-9) for a, b in zip(drawn, there, strict=True)):
            found.add(name)
    return frozenset(found)


def _points_at(build: Build, travel: float) -> dict[str, np.ndarray]:
    """Places of all hardpoints at a travel of the wheel [mm]; what is stated from the swing arm turns with it."""
    rear = build.rear
    assert rear is not None
    motion = rear.at(travel).motion
    moved = rear.moved(motion)
    on_arm = {rear.entry.axle, rear.entry.pick_up}
    for name, point in build.hardpoints.items():
        if point.stated_from in on_arm and name not in moved:
            moved[name] = np.asarray(
                rear.end.linkage.swing_arm.turned(build.points[name], motion.swing)
            )
    return {**build.points, **moved}


def travel_of(build: Build, frames: Mapping[str, Frame], one: Scene) -> Travel | None:
    """Where everything of a scene stands through the travel of the wheel; None of a build without a rear end."""
    rear = build.rear
    if rear is None:
        return None
    travel = np.linspace(0.0, rear.entry.travel, STEPS + 1)
    told = [rear.at(float(at)) for at in travel]
    points = [_points_at(build, float(at)) for at in travel]
    poses: dict[str, np.ndarray] = {}
    for part in moving(build, frames):
        for side in ("", "mirrored"):
            name = _called(part, side)
            stands = [_pose(frames[part], build.frame(part, there), bool(side)) for there in points]
            own = (name, f"{HARDWARE}, {name}")
            poses |= {
                each: np.array(stands) for each in own if each in (*one.surfaces, *one.hardware)
            }
    chains = [dict(lines(build, there)) for there in points]
    rows = {i: np.array([each[name] for each in chains]) for i, name in enumerate(one.lines)}
    places = {name: np.array([there[name] for there in points]) for name in one.points}
    return Travel(
        travel, np.array([float(now.shear) for now in told]), float(rear.shear.capacity),
        np.array([float(now.wheel_rate) for now in told]), np.array([float(now.wheel_force) for now in told]), poses,
        {i: row for i, row in rows.items() if np.ptp(row, axis=0).max() > 1e-6},
        {name: at for name, at in places.items() if np.ptp(at, axis=0).max() > 1e-6},
    )  # fmt: skip


def _pose(drawn: Frame, there: Frame | None, mirrored: bool) -> np.ndarray:
    """How a place of the drawing is turned and then shifted [mm] to where it stands, (3, 4)."""
    assert there is not None
    a, b = (twin(drawn), twin(there)) if mirrored else (drawn, there)
    turn = (a.axes.T @ b.axes).T
    return np.column_stack([turn, b.origin - turn @ a.origin])


def _placed(one: Standing, frames: Mapping[str, Frame], kept: Kept) -> Mesh:
    from parts.making.stl import triangles

    points, corners = kept.arrays(
        lambda: triangles(one.shape, CHORD, TURN), "surface", CHORD, TURN, *one.told()
    )
    here = twin(frames[one.part]) if one.side else frames[one.part]
    return here.out(points), corners


def _joined(meshes: list[Mesh]) -> Mesh:
    before = np.cumsum([0, *(len(points) for points, _ in meshes)])
    return (
        np.concatenate([points for points, _ in meshes]),
        np.concatenate([c + n for (_, c), n in zip(meshes, before, strict=False)]),
    )


def lines(build: Build, points: Mapping[str, np.ndarray]) -> Iterator[tuple[str, np.ndarray]]:
    """The members that are no parts here, as lines between their hardpoints, and silhouettes.

    Args:
        build: the build.
        points: places of its hardpoints [mm].

    Yields:
        What a line stands for, and its places [mm], (n, 3).
    """
    entry = build.entry
    one = entry.rear_end
    if one is not None:
        chains = {
            "swing arm": (one.pivot, one.axle, one.pick_up, one.pivot),
            "link": (one.pick_up, one.arm_end),
        }
        if one.damper is not None:
            chains["damper"] = (one.damper.on_frame, one.damper.on_swing_arm)
        for name, chain in chains.items():
            yield name, np.array([points[at] for at in chain])
        assert build.rear is not None
        hub = build.rear.end.linkage.torsion_bar.foot(points[one.arm_end])
        yield "torsion arm", np.array([hub, points[one.arm_end]])
    for name, body in entry.bodies.items():
        held_by = [entry.links[one].body for one in (body.link, *body.links) if one is not None]
        first = body.hinge or held_by[0]
        chain = (first, *held_by, *body.loaded_at, first)
        yield name, np.array([points[at] for at in chain])
    for name, link in entry.links.items():
        own = np.array([points[link.frame], points[link.body]])
        yield name, own
        if link.sides == "both":
            yield f"{name}, other side", own * MIRROR
    yield from silhouettes(build, points)


def space_of(
    build: Build,
    standing: tuple[Standing, ...],
    frames: Mapping[str, Frame],
    kept: Kept | None = None,
) -> Space:
    """What the page of a build shows in three dimensions.

    Args:
        build: the build.
        standing: every solid, at least one of them made.
        frames: axes of each part.
        kept: surfaces and pictures of before.

    Returns:
        Surfaces, hardpoints, lines and still pictures.
    """
    kept = kept or Kept()
    one = scene(build, standing, frames, kept)
    meshes = dict(one.surfaces)
    meshes |= one.hardware
    *_, aslant = VIEWS.values()
    return Space(
        meshes, tuple(one.hardware), aslant, one.points, list(one.lines.values()), tuple(stills(one, kept)),
        travel_of(build, frames, one),
    )  # fmt: skip


def stills(one: Scene, kept: Kept | None = None) -> Iterator[Named]:
    """Shaded pictures of a scene with what is named on them.

    Args:
        one: the scene; it has at least one surface.
        kept: pictures that were drawn before.

    Yields:
        One for each of `VIEWS`.
    """
    meshes = [*one.surfaces.values(), *one.hardware.values()]
    inks = [METAL[i % len(METAL)] for i in range(len(one.surfaces))] + [PALE] * len(one.hardware)
    beside = np.concatenate([np.reshape(list(one.points.values()), (-1, 3)), *one.lines.values()])
    drawn = partial(
        pictures,
        meshes,
        list(VIEWS.values()),
        width=int(FINER * WIDTH),
        height=int(FINER * HEIGHT),
        inks=inks,
        beside=beside,
    )
    seen_in_them = hashlib.sha256()
    for array in (beside, *(array for mesh in meshes for array in mesh)):
        seen_in_them.update(repr((array.dtype, array.shape)).encode())
        seen_in_them.update(np.ascontiguousarray(array).tobytes())
    taken = (kept or Kept()).arrays(
        lambda: tuple(np.frombuffer(one, np.uint8) for one in drawn()),
        "stills", seen_in_them.hexdigest(), VIEWS, inks, FINER, WIDTH, HEIGHT,
    )  # fmt: skip
    every = np.concatenate([*(points for points, _ in meshes), beside])
    for (said, view), content in zip(VIEWS.items(), taken, strict=True):
        aim = aimed(view, every, WIDTH / HEIGHT)

        def seen(places: Any, aim: Aimed = aim) -> np.ndarray:
            return aim.on_picture(places, WIDTH, HEIGHT)

        yield Named(
            f"The build {said}",
            content.tobytes(),
            WIDTH,
            HEIGHT,
            {name: seen(at) for name, at in one.points.items()},
            {name: seen(chain) for name, chain in one.lines.items()},
            {name: seen(at) for name, at in one.middles.items()},
        )
