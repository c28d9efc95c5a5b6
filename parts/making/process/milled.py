"""What a mill makes in one clamping: faces that hang together as windows, pockets, slots, steps and outlines."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from parts.core.drawing import Hole
from parts.core.rules import Rule, at_least, at_most
from parts.making.mill.findings import place_words
from parts.making.process.faces import Face, Solid
from parts.making.process.tools import Drawer
from parts.standards.cutting.cutting import EndMill

SAME = 1.0 - 1e-6
LARGEST = 20.0
"""Largest end mill that a small mill drives [mm]; common practice, no source."""
ORDER = {
    "face": 0, "step": 1, "boss": 1, "outline": 2, "corner": 3, "pocket": 4, "open slot": 4, "slot": 4, "side slot": 4,
    "window": 5, "undercut": 6, "edges": 7,
}  # fmt: skip
SAWN = 6.0
"""Widest slot from the side that a slitting saw makes, wider ones a side-and-face cutter [mm]; common practice, no
source."""
UNDER = 0.5
"""How far a cutter goes past the far side of what it cuts through [mm]; common practice, no source."""


@dataclass(frozen=True)
class Feature:
    """Faces that one cutter makes from one direction.

    Attributes:
        kind: `face`, `window`, `slot`, `pocket`, `open slot`, `side slot`, `step`, `boss`, `outline`, `corner`,
            `undercut`, `edges`.
        faces: their indices.
        top, bottom: heights along the direction [mm].
        corner: least radius of an inside corner upright to the work [mm]; inf where there is none.
        floors: radii between wall and floor, the least first [mm].
        gap: how wide the narrowest place is [mm].
        place: where it is, for messages.
        sharp: an inside corner without a radius, or None.
        through: nothing is below it.
        rounds: radius [mm] and middle of what is round all the way, on the outside or within.
        inward: how far a side-and-face cutter goes in from the side [mm].
        both: it is cut half from here and half from the other side.
        after: it is cut after the holes of its set-up, which cross it.
    """

    kind: str
    faces: tuple[int, ...]
    top: float
    bottom: float
    corner: float
    floors: tuple[float, ...]
    gap: float
    place: np.ndarray
    sharp: np.ndarray | None
    through: bool
    rounds: tuple[tuple[float, tuple[float, float, float]], ...] = ()
    inward: float = 0.0
    both: bool = False
    after: bool = False

    @property
    def deep(self) -> float:
        whole = self.top - self.bottom
        return whole / 2.0 + UNDER if self.both else whole + (UNDER if self.through else 0.0)

    def cutter(self, drawer: Drawer) -> EndMill | None:
        """The largest end mill that goes into it and reaches its bottom."""
        return drawer.mill_under(min(2.0 * self.corner, self.gap, LARGEST), self.deep)


def features(
    solid: Solid, faces: Collection[int], way: np.ndarray, edges: Collection[int] = ()
) -> list[Feature]:
    """Sort the faces of one clamping into features.

    Args:
        solid: the piece.
        faces: indices of the faces that are made from there.
        way: toward the spindle.
        edges: those of them that break an edge.

    Returns:
        The features, the highest first.
    """
    top = float((solid.points @ way).max())
    mine = set(faces) - set(edges)
    broken = set(faces) & set(edges)
    facing = {i for i in mine if _is_top(solid.faces[i], way, top)}
    found = []
    if facing:
        found.append(_feature(solid, facing, way, "face"))
    outside: list[set[int]] = []
    corners: set[int] = set()
    for group in _together(solid, mine - facing):
        kind = _kind(solid, group, way)
        if kind == "outline":
            tight = {i for i in group if _is_corner(solid.faces[i], way)}
            outside += [group - tight] if group - tight else []
            corners |= tight
        else:
            found.append(_feature(solid, group, way, kind, edges))
    walls = set().union(*outside)
    for pair in slits(solid, walls):
        walls -= pair
        found.append(_feature(solid, pair, way, "open slot", edges))
    if walls:
        found.append(_feature(solid, walls, way, "outline", edges))
    for i in sorted(corners):
        found.append(_corner(solid, i, way, edges))
    if broken:
        found.append(_feature(solid, broken, way, "edges"))
    return sorted(found, key=lambda one: (ORDER[one.kind], -one.top, one.bottom, min(one.faces)))


def _is_top(one: Face, way: np.ndarray, top: float) -> bool:
    return one.flat and float(one.normal @ way) > SAME and one.span(way)[1] > top - 1e-4


def _together(solid: Solid, faces: set[int]) -> Iterator[set[int]]:
    """Faces that meet in inside corners or smoothly."""
    left = set(faces)
    while left:
        queue = [min(left)]
        group: set[int] = set()
        while queue:
            i = queue.pop()
            if i in group:
                continue
            group.add(i)
            queue += [j for j in solid.beside[i] if j in left and j not in group
                      and solid.meetings[i, j] <= 0.0]  # fmt: skip
        left -= group
        yield group


def _rounds(walls: Sequence[Face]) -> tuple[tuple[float, tuple[float, float, float]], ...]:
    found: dict[tuple[float, ...], tuple[float, Face]] = {}
    for one in walls:
        if one.kind == "CYLINDER" and not one.hollow:
            foot = one.foot - (one.foot @ one.axis) * one.axis
            key = tuple(np.round([one.radius, *foot], 3) + 0.0)
            found[key] = (found.get(key, (0.0, one))[0] + one.turn, one)
    return tuple(
        (one.radius, (float(one.foot[0]), float(one.foot[1]), float(one.foot[2])))
        for turn, one in found.values() if turn > 2.0 * np.pi - 1e-3
    )  # fmt: skip


def slits(solid: Solid, walls: Collection[int]) -> Iterator[set[int]]:
    """Pairs of flats that look at each other across a narrow slit, as a clamp's."""
    flats = [solid.faces[i] for i in sorted(walls) if solid.faces[i].flat]
    taken: set[int] = set()
    for a, b in combinations(flats, 2):
        across = float((b.on - a.on) @ a.normal)
        facing = float(a.normal @ b.normal) < -SAME and 0.0 < across <= SLIT
        beside = (
            np.linalg.norm(a.points.mean(axis=0) - b.points.mean(axis=0))
            < np.ptp(a.points, axis=0).max()
        )
        if facing and beside and not taken & {a.index, b.index}:
            taken |= {a.index, b.index}
            yield {a.index, b.index}


def crosses_slit(solid: Solid, one: Feature, hole: Hole) -> bool:
    """Whether the line of a hole, as far as it goes, runs through a slit from wall to wall."""
    place, axis = np.asarray(hole.place, float), np.asarray(hole.axis, float)
    deep = float(hole.through if hole.depth is None else hole.depth)
    for i, j in (sorted(pair) for pair in slits(solid, one.faces)):
        a, b = solid.faces[i], solid.faces[j]
        across = float(axis @ a.normal)
        if abs(across) < LEAST_ACROSS:
            continue
        gap = float((b.on - a.on) @ a.normal)
        along = float(((a.on + b.on) / 2.0 - place) @ a.normal) / across
        if -gap < along < deep + gap:
            aside = np.linalg.svd(np.atleast_2d(a.normal))[2][1:].T
            there = (place + along * axis) @ aside
            points = a.points @ aside
            if (points.min(axis=0) < there).all() and (there < points.max(axis=0)).all():
                return True
    return False


def _is_corner(one: Face, way: np.ndarray) -> bool:
    """Whether a face is an inside corner of an outline that a smaller cutter picks out."""
    return (
        one.kind == "CYLINDER" and one.hollow and one.radius < LARGEST / 2.0 and _upright(one, way)
    )


def _corner(solid: Solid, i: int, way: np.ndarray, edges: Collection[int]) -> Feature:
    """An inside corner of an outline, as high as the walls beside it stand."""
    one = _feature(solid, {i}, way, "corner", edges)
    walls = [solid.faces[j] for j in solid.beside[i] if _upright(solid.faces[j], way)]
    return replace(
        one, top=max(one.top, *(wall.span(way)[1] for wall in walls)) if walls else one.top
    )


def _upright(one: Face, way: np.ndarray) -> bool:
    if one.flat:
        return abs(float(one.normal @ way)) < 1e-6
    return one.kind == "CYLINDER" and abs(float(one.axis @ way)) > SAME


def _kind(solid: Solid, group: set[int], way: np.ndarray) -> str:
    every = [solid.faces[i] for i in group]
    walls = [one for one in every if _upright(one, way)]
    floors = [one for one in every if one.flat and float(one.normal @ way) > SAME]
    if not walls and not floors:
        return "undercut"
    if not walls:
        return "step"
    middle = np.concatenate([one.points for one in walls]).mean(axis=0)
    inward = sum(one.area * float(one.normal @ (one.on - middle)) for one in walls) < 0.0
    if not inward:
        whole = [one for one in walls if one.kind == "CYLINDER" and not one.hollow]
        line = whole[0] if whole else None
        closed = line is not None and sum(one.turn for one in whole) > 2.0 * np.pi - 1e-3
        if (
            line is not None
            and closed
            and (floors or all(one.about(line.foot, line.axis) for one in every))
        ):
            return "boss"
        return "step" if floors else "outline"
    if not _all_round(walls, way):
        return "open slot" if len(walls) > 1 else "step" if floors else "outline"
    if floors:
        return "pocket"
    ends = [one for one in walls if one.kind == "CYLINDER"]
    return "slot" if len(ends) == 2 and len(walls) == 4 else "window"


def _all_round(walls: Sequence[Face], way: np.ndarray) -> bool:
    """True where walls look every way, so that a cutter cannot leave sideways."""
    aside = np.cross(way, np.eye(3)[int(np.argmin(np.abs(way)))])
    aside /= np.linalg.norm(aside)
    other = np.cross(way, aside)
    turns: list[float] = []
    for one in walls:
        middle = np.arctan2(one.normal @ other, one.normal @ aside)
        half = 0.0 if one.flat else one.turn / 2.0
        turns += list(middle + np.linspace(-half, half, 1 if one.flat else 9))
    around = np.sort(np.mod(turns, 2.0 * np.pi))
    gaps = np.diff(np.append(around, around[0] + 2.0 * np.pi))
    return bool(gaps.max() < np.pi - 1e-3)


def _feature(
    solid: Solid, group: set[int], way: np.ndarray, kind: str, edges: Collection[int] = ()
) -> Feature:
    every = [solid.faces[i] for i in sorted(group)]
    # A broken edge is cut after: the wall goes on to where the edge would be.
    ends = {j for one in every if _upright(one, way) for j in solid.beside[one.index] if j in edges}
    points = np.concatenate(
        [one.points for one in [*every, *(solid.faces[j] for j in sorted(ends))]]
    )
    heights = points @ way
    walls = [one for one in every if _upright(one, way)]
    corners = [one.radius for one in walls if one.kind == "CYLINDER" and one.hollow]
    roots = {round(one.radius, 3) for one in every if one.kind == "TORUS"
             or (one.kind == "CYLINDER" and abs(float(one.axis @ way)) < 1e-6 and one.hollow)}  # fmt: skip
    sharp = None
    for i, j in combinations(sorted(group), 2):
        a, b = solid.faces[i], solid.faces[j]
        if solid.meetings.get((i, j), 1.0) < 0.0 and _upright(a, way) and _upright(b, way):
            sharp = (a.on + b.on) / 2.0
    bottom = float(heights.min())
    beneath = float((solid.points @ way).min())
    whole = kind in ("pocket", "window") and sum(one.turn for one in walls) > 2.0 * np.pi - 1e-3
    bore = walls[0] if whole and all(_around(one, walls[0]) for one in walls) else None
    has_floor = any(one.flat and float(one.normal @ way) > SAME for one in every)
    return Feature(
        kind, tuple(sorted(group)), float(heights.max()), bottom,
        min(corners, default=np.inf), tuple(sorted(roots)) if has_floor else (), _gap(walls),
        points.mean(axis=0) if bore is None else bore.foot, sharp,
        not has_floor and (bottom < beneath + 1e-4 or kind in ("window", "slot")),
        _rounds(walls) if bore is None else ((bore.radius, tuple(bore.foot.tolist())),),
    )  # fmt: skip


def _around(one: Face, first: Face) -> bool:
    """True of a piece of the same bore as the first."""
    alike = abs(one.radius - first.radius) < 1e-4 and one.about(first.foot, first.axis)
    return one.kind == "CYLINDER" and one.hollow and alike


LEAST_ACROSS = 0.1
"""Cosine of a hole's axis to the normal of a slit's wall below which it runs along the slit [-]."""
SLIT = 6.0
"""Widest slit that a slitting saw cuts in one go [mm]; common practice, no source."""
SIDE_REACH = 45.0
"""How far a side-and-face cutter of 125 mm goes in beside its collars [mm]; common practice, no source."""


def from_the_side(solid: Solid, one: Feature) -> tuple[np.ndarray, Feature] | None:
    """An open slot as a side-and-face cutter makes it: the way of its spindle, and the slot seen along it.

    Returns:
        None where the slot has no two flats that look at each other.
    """
    flats = [solid.faces[i] for i in one.faces if solid.faces[i].flat]
    pair = next(
        ((a, b) for a, b in combinations(flats, 2) if float(a.normal @ b.normal) < -SAME), None
    )
    if pair is None:
        return None
    way = pair[0].normal * np.sign(pair[0].normal[int(np.argmax(np.abs(pair[0].normal)))])
    low, high = sorted(float(each.on @ way) for each in pair)
    points = np.concatenate([solid.faces[i].points for i in one.faces])
    root = next((each for each in flats if abs(float(each.normal @ way)) < 1e-6), None)
    if root is not None:
        inward = float(np.ptp(points @ root.normal))
    else:
        # A slit without a root is sawn in by the lesser of its sides.
        aside = np.linalg.svd(points - points.mean(axis=0), full_matrices=False)[2]
        inward = sorted(float(np.ptp(points @ axis)) for axis in aside)[1]
    return way, replace(one, kind="side slot", top=high, bottom=low, inward=inward, through=False)


def _gap(walls: Sequence[Face]) -> float:
    """The least distance of two flats that look at each other across air [mm]."""
    found = [np.inf]
    for a, b in combinations([one for one in walls if one.flat], 2):
        across = float((b.on - a.on) @ a.normal)
        if float(a.normal @ b.normal) < -SAME and across > 0.0:
            found.append(across)
    return min(found)


def cutter_rules(one: Feature, drawer: Drawer) -> Iterator[Rule]:
    """Rules that a cutter sets for a feature; `field` names it and its place."""
    at = f"{one.kind} at {place_words(one.place)}"
    if one.sharp is not None and one.kind in ("window", "pocket", "slot", "open slot"):
        yield at_least(
            "process.corner", f"inside corner at {place_words(one.sharp)}", 0.0, drawer.mills[0].diameter / 2.0,
            "a round cutter leaves a radius in an inside corner", "give the corner a radius",
        )  # fmt: skip
    if one.kind in ("face", "undercut", "edges"):
        return
    if one.kind == "side slot":
        yield at_most(
            "process.side", at, one.inward, SIDE_REACH, "a side-and-face cutter does not reach the slot's root",
            "make the slot shorter, or enlarge the radius at its root",
        )  # fmt: skip
        if one.gap <= SAWN and drawer.saw_under(one.gap) is None:
            yield at_most("process.saw", at, drawer.saws[0], one.gap, "no slitting saw of the drawer goes into it",
                          "make the slot wider, or state a thinner saw in milling.saws")  # fmt: skip
        return
    cutter = one.cutter(drawer)
    room = min(2.0 * one.corner, one.gap)
    yield at_most(
        "process.cutter", at, cutter.diameter if cutter else drawer.mills[0].diameter, room,
        "no end mill of the drawer goes into it",
        "enlarge its radius, or state a smaller end mill in milling.end_mills",
    )  # fmt: skip
    if cutter is not None and np.isfinite(room):
        yield at_most(
            "process.reach", at, one.deep, drawer.reach * cutter.diameter,
            f"the end mill that goes into it, {cutter.name}, does not reach its bottom",
            "enlarge its radius, state a longer reach in milling.reach, or have it cut by wire",
        )  # fmt: skip
