"""What a drawing says of the blade of an arm, in the arm's own axes."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from parts.core.drawing import Dimension, Linear, Marks, Profile, Radius
from parts.features.arm.blade import Blade

X, Y, Z = np.eye(3)


def blade_marks(blade: Blade, ahead: float, half: float, *, block: bool) -> Marks:
    """The blade: its outline and pockets in a table, its faces by their heights from the hub's face at z = `half`.

    Args:
        blade: the blade.
        ahead: how far the face that its length is measured to lies before its load point [mm].
        half: half the width of the hub [mm].
        block: it ends at a flat back of ears, which is then stated.

    Returns:
        The marks, in the arm's own axes.
    """
    arm = blade.arm
    length, crank = float(arm.length), float(arm.crank)
    face = length - ahead
    name = "hub to the face of the end" if ahead else "length of the arm"
    sizes: list[Dimension] = [Linear(name, (0, 0, 0), (face, 0, crank), X, face, view="front")]
    if block:
        back = float(blade.end)
        sizes.append(
            Linear("hub to the back of the ears", (0, 0, 0), (back, 0, crank), X, back, view="top")
        )
    for where, fillet, radius in (
        ("root", blade.root(), arm.root_fillet),
        ("end", blade.tip(), arm.end_fillet),
    ):
        if radius > 0.0:
            centre = np.array([*(float(v) for v in fillet.centre), 0.0])
            middle = np.array(
                [float(a + b) / 2 for a, b in zip(fillet.side, fillet.rim, strict=True)]
            )
            toward = np.array([*(middle - centre[:2]) / np.linalg.norm(middle - centre[:2]), 0.0])
            sizes.append(
                Radius(f"{where} fillet", centre, Z, toward, float(radius), count=2, view="front")
            )
    return Marks(
        (*sizes, *_heights(blade, half), *_pocket(blade)),
        notes=tuple(_leans(blade)),
        ways=tuple(np.array([-lean, 0.0, 1.0]) / np.hypot(lean, 1.0) for lean in _slopes(blade)),
        profiles=tuple(_runs(blade)),
    )


def _heights(blade: Blade, half: float) -> Iterator[Dimension]:
    """Both faces where they meet the hub and the end, from the hub's face and through the arm."""
    level = abs(float(blade.arm.crank)) < 1e-9
    plain = level and abs(float(blade.thickness(blade.end) - blade.thickness(blade.start))) < 1e-9
    ends = (("hub", float(blade.start)), ("end", float(blade.end)))
    for where, x in ends[:1] if plain else ends:
        z, thick = float(blade.middle(x)), float(blade.thickness(x))
        rim = (float(blade.start), 0.0, half)
        yield from _layer(f"the arm at the {where}'s rim", x, z, thick, rim)


def _layer(
    what: str, x: float, z: float, thick: float, rim: tuple[float, float, float]
) -> Iterator[Dimension]:
    """How deep something lies at x under the hub's face, which ends at `rim`, and how thick it is there."""
    half = rim[2]
    top = z + thick / 2.0
    if abs(half - top) > 1e-6:
        way = Z * np.sign(top - half)
        yield Linear(
            f"face of the hub to {what}",
            rim,
            (x, 0, top),
            way,
            abs(half - top),
            view="top",
        )
    low = (x, 0, z - thick / 2.0)
    yield Linear(f"thickness of {what}", low, (x, 0, top), Z, thick, view="top")


def _slopes(blade: Blade) -> tuple[float, ...]:
    """How much the upper face, the lower face and the middle rise along the arm [-]; nothing of a level one."""
    rise = float(blade.arm.crank) / float(blade.reach)
    thin = float(blade.thickness(blade.end) - blade.thickness(blade.start)) / 2.0
    thin /= float(blade.end - blade.start)
    return () if abs(rise) + abs(thin) < 1e-9 else (rise + thin, rise - thin, rise)


def _leans(blade: Blade) -> Iterator[str]:
    """How far the faces of the arm lean to the hub's, for those who tilt it in the vice."""
    slopes = _slopes(blade)
    if not slopes:
        return
    upper, lower, middle = (np.degrees(np.arctan(one)) for one in slopes)
    floor = f", the floor of the pockets {middle:+.2f}°" if blade.arm.pocket else ""
    yield (
        f"Along the arm its upper face leans {upper:+.2f}° to the hub's face, its lower face {lower:+.2f}°"
        f"{floor} (+ rises away from the hub): tilt it so in the vice."
    )


def _runs(blade: Blade) -> Iterator[Profile]:
    """The sides of the arm with their fillets, and the walls of the pockets."""
    arm = blade.arm
    sides = []
    for up in (1.0, -1.0):
        runs: list[tuple[list[np.ndarray], np.ndarray, float]] = []
        for fillet, radius in ((blade.root(), arm.root_fillet), (blade.tip(), arm.end_fillet)):
            ends = [np.array([float(a), up * float(b)]) for a, b in (fillet.rim, fillet.side)]
            middle = np.array([float(fillet.centre[0]), up * float(fillet.centre[1])])
            if float(radius) <= 0.0:
                x = float(blade.start if not runs else blade.end)
                ends = [np.array([x, up * float(blade.straight(x))])] * 2
            runs.append((ends, middle, float(radius)))
        (root, a, r), (tip, b, s) = runs
        pieces = [_arc(root[0], root[1], a, r)] if r > 0.0 else []
        pieces.append(np.array([root[1], (root[1] + tip[1]) / 2.0, tip[1]]))
        pieces += [_arc(tip[1], tip[0], b, s)] if s > 0.0 else []
        sides.append(np.array(pieces))
    for name, side in zip(("upper side", "lower side"), sides, strict=True):
        yield Profile(name, Z, _raised(side))
    if arm.pocket is not None:
        yield Profile("pockets", Z, _raised(_pocket_run(blade)))


def _raised(flat: np.ndarray) -> np.ndarray:
    return np.dstack([flat, np.zeros(flat.shape[:2])])


def _arc(start: np.ndarray, stop: np.ndarray, centre: np.ndarray, radius: float) -> np.ndarray:
    """Start, middle and end of an arc of less than half a turn."""
    way = (start + stop) / 2.0 - centre
    return np.array([start, centre + radius * way / np.linalg.norm(way), stop])


def _pocket_run(blade: Blade) -> np.ndarray:
    """The walls of the pockets, counter-clockwise from the corner at the hub on the +y side."""
    pocket = blade.arm.pocket
    assert pocket is not None
    r, (low, high) = float(pocket.corner), (float(v) for v in blade.pocket_span())
    pieces: list[np.ndarray] = []
    corners = []
    for at_hub, x in ((True, low), (False, high)):
        cx, cy, touch = (float(v) for v in blade.pocket_corner(at_hub))
        side = np.array([touch, float(blade.pocket_side(touch))])
        corners.append((np.array([x, cy]), side, np.array([cx, cy])))
    (near, near_side, near_centre), (far, far_side, far_centre) = corners
    flip = np.array([1.0, -1.0])
    places = [
        (near_side, near, near_centre, True), (near, near * flip, None, False),
        (near * flip, near_side * flip, near_centre * flip, True),
        (near_side * flip, far_side * flip, None, False),
        (far_side * flip, far * flip, far_centre * flip, True), (far * flip, far, None, False),
        (far, far_side, far_centre, True), (far_side, near_side, None, False),
    ]  # fmt: skip
    for start, stop, centre, round_ in places:
        straight = np.array([start, (start + stop) / 2.0, stop])
        pieces.append(_arc(start, stop, centre, r) if round_ else straight)
    return np.array(pieces)


def _pocket(blade: Blade) -> Iterator[Dimension]:
    pocket = blade.arm.pocket
    if pocket is None:
        return
    low, high = (float(v) for v in blade.pocket_span())
    for name, x in (("near", low), ("far", high)):
        yield Linear(
            f"hub to the {name} end of the pockets", (0, 0, 0), (x, 0, 0), X, x, view="front"
        )
    level = abs(float(blade.arm.crank)) < 1e-9
    plain = level and abs(float(blade.thickness(high) - blade.thickness(low))) < 1e-9
    for x in (low,) if plain else (low, high):
        z, floor = float(blade.middle(x)), float(pocket.floor)
        where = "near" if x == low else "far"
        deep = float(blade.thickness(x)) / 2.0 - floor / 2.0
        top = z + floor / 2.0
        yield Linear(
            f"depth of the pockets at their {where} end", (x, 0, top), (x, 0, top + deep), Z, deep,
            view="top",
        )  # fmt: skip
        yield Linear(
            f"floor at the {where} end of the pockets", (x, 0, top - floor), (x, 0, top), Z, floor,
            view="top",
        )  # fmt: skip
    cx, cy, _ = (float(v) for v in blade.pocket_corner(True))
    toward = np.array([-1.0, 1.0, 0.0]) / np.sqrt(2.0)
    yield Radius(
        "corner of the pockets", (cx, cy, 0), Z, toward, float(pocket.corner), count=8, view="front"
    )
