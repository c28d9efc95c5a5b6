"""How a piece is made: every face of its solid goes to one step of one set-up."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np

from parts.core.drawing import Drawn, Hole
from parts.core.part import Part, Piece
from parts.core.rules import Rule
from parts.making.bench.frames import Frame, beside, frame
from parts.making.process.bored import NEAR, Bored, bored_faces, bought_faces, thinnest
from parts.making.process.faces import Face, Solid
from parts.making.process.milled import Feature, crosses_slit, features, from_the_side, slits
from parts.making.process.rules import rules_of
from parts.making.process.tools import Drawer
from parts.making.process.turned import Turning, turning
from parts.making.process.ways import Reach, reach
from parts.making.stock import Cut, cuts

SAME = 1.0 - 1e-6
SIDES = ("front", "top", "right", "left", "bottom", "back")


@dataclass(frozen=True)
class Clamped:
    """What one set-up makes before it is laid out: from where, on which machine, and its features and holes."""

    machine: str
    way: np.ndarray
    features: tuple[Feature, ...] = ()
    holes: tuple[Bored, ...] = ()
    turned: tuple[int, ...] = ()
    special: tuple[tuple[str, str, tuple[int, ...]], ...] = ()


@dataclass(frozen=True)
class Plan:
    """How a piece is made."""

    part: Part
    drawn: Drawn
    piece: Piece
    solid: Solid

    @cached_property
    def drawer(self) -> Drawer:
        return Drawer.of(self.part, self.piece.material)

    @cached_property
    def cut(self) -> Cut:
        """What it is cut from."""
        return cuts(self.part, self.piece)[0]

    @cached_property
    def bored(self) -> tuple[Bored, ...]:
        """Every hole of the drawing with its faces."""
        taken: set[int] = set(self.bought)
        found = []
        every = self.drawn.marks.holes
        for k in sorted(range(len(every)), key=lambda k: float(every[k].diameter)):
            one = bored_faces(self.solid, every[k], taken, every)
            taken |= set(one.faces)
            found.append((k, one))
        return tuple(one for _, one in sorted(found, key=lambda pair: pair[0]))

    @cached_property
    def special(self) -> tuple[tuple[str, str, np.ndarray, tuple[int, ...]], ...]:
        """What words state as a whole: how it is made, its name, its axis, and its faces."""
        taken = set(self.bought) | {i for one in self.bored for i in one.faces}
        found = []
        for one in self.drawn.marks.worded:
            place, axis = np.asarray(one.centre, float), np.asarray(one.axis, float)
            mine = []
            for face in self.solid.faces:
                off = face.off(place, axis)
                if (
                    face.index not in taken
                    and off.min() > one.inner / 2 - NEAR
                    and off.max() < one.outer / 2 + NEAR
                ):
                    mine.append(face.index)
            taken |= set(mine)
            kind = next((how for word, how in WORDED.items() if one.name.startswith(word)), "shape")
            found.append((kind, one.name, axis, tuple(mine)))
        return tuple(found)

    @cached_property
    def bought(self) -> frozenset[int]:
        """Faces that stay as the stock is bought."""
        return frozenset(
            bought_faces(
                self.solid, self.cut.stock, cut_from=self.part.cut_from(self.piece.name) is not None
            )
        )

    def bores_stock(self, hole: Hole) -> bool:
        """Whether a hole is the bore of the tube that the piece is cut from."""
        place, axis = np.asarray(hole.place, float), np.asarray(hole.axis, float)
        return any(
            face.hollow and face.about(place, axis) and abs(2.0 * face.radius - float(hole.diameter)) < NEAR
            for face in (self.solid.faces[i] for i in self.bought)
        )  # fmt: skip

    @cached_property
    def flat(self) -> np.ndarray | None:
        """The normal of a piece that is cut flat from sheet or plate; None of others."""
        if self.drawn.sheet_metal > 0.0:
            return thinnest(self.solid)
        for one in self.part.blanks():
            if self.piece.name in one.pieces:
                normal = np.cross(np.asarray(one.x, float), np.asarray(one.y, float))
                bored = {i for each in self.bored for i in each.faces}
                levels = {
                    round(float(face.on @ normal), 2) for face in self.solid.faces
                    if face.flat and abs(float(face.normal @ normal)) > SAME and face.index not in bored
                }  # fmt: skip
                return np.asarray(normal) if len(levels) <= 2 else None
        return None

    @cached_property
    def turning(self) -> Turning | None:
        if self.flat is not None:
            return None
        taken = {i for one in self.bored for i in one.faces} | self.bought
        taken |= {i for *_, faces in self.special for i in faces}
        return turning(self.solid, taken, bar=self.cut.stock.shape != "plate")

    @cached_property
    def broken(self) -> frozenset[int]:
        """Faces that break an edge, where the solid has them."""
        return self.solid.broken(float(self.part.edge_break)) - self.bought

    @cached_property
    def clamped(self) -> tuple[Clamped, ...]:
        """The set-ups in order: cut flat, turned, milled."""
        return tuple(_clamped(self))

    @cached_property
    def rules(self) -> tuple[Rule, ...]:
        """What the tools ask of the piece."""
        milled = [feature for each in self.clamped for feature in each.features]
        return tuple(
            rules_of(self.solid, self.bored, milled, self.drawer, self.part.milling.beyond_thread)
        )


WORDED = {
    "spline": "broach",
    "bore": "broach",
    "cope": "cope",
    "root": "cope",
    "flare": "press",
    "saw": "saw",
}
"""How that is made which words state as a whole."""


def planned(part: Part, drawn: Drawn, piece: Piece, solid: Any) -> Plan:
    """Plan how a piece is made.

    Args:
        part: the part.
        drawn: the sheet of the piece.
        piece: the piece.
        solid: its solid with sharp edges.
    """
    return Plan(part, drawn, piece, Solid.of(solid))


def _clamped(plan: Plan) -> Iterator[Clamped]:
    solid, lathe = plan.solid, plan.turning
    taken = set(plan.bought) | {i for one in plan.bored for i in one.faces}
    taken |= {i for *_, faces in plan.special for i in faces}
    special = [*plan.special]
    holes = [one for one in plan.bored if not plan.bores_stock(one.hole)]
    if plan.flat is not None:
        mine = [one for one in plan.part.blanks() if plan.piece.name in one.pieces]
        rest = tuple(one.index for one in solid.faces if one.index not in taken)
        if any(one.later for one in mine):
            sawn = set().union(*slits(solid, rest))
            rest = tuple(i for i in rest if i not in sawn)
        taken |= set(rest)
        jet = plan.part.cutting.process
        folded = plan.drawn.sheet_metal > 0.0 and any(one.folds for one in mine)
        walls = tuple(i for i in rest if not folded or _is_edge(solid.faces[i], plan.flat))
        bent = tuple(i for i in rest if i not in walls)
        sized = {
            hole.name for one in mine for hole in one.holes if not hole.after and hole.wide is None
        }  # fmt: skip
        given = [(f"{jet} cut", "outline and windows", walls)]
        given += [
            (f"{jet} cut", one.hole.name, one.faces) for one in holes if one.hole.name in sized
        ]
        holes = [one for one in holes if one.hole.name not in sized]
        hollow = [
            one for one in special
            if one[0] == "cope" and all(_is_edge(solid.faces[i], plan.flat) for i in one[3])
        ]  # fmt: skip
        given += [(f"{jet} cut", name, faces) for _, name, _, faces in hollow]
        special = [one for one in special if not any(one is each for each in hollow)]
        yield Clamped(jet, plan.flat, special=tuple(given))
        pressed = [(kind, name, faces) for kind, name, _, faces in special if kind == "press"]
        if bent:
            pressed.append(("bend", "bends, to the drawing", bent))
        if pressed:
            yield Clamped("press", plan.flat, special=tuple(pressed))
        special = [one for one in special if one[0] != "press"]
    elif lathe is not None:
        for first, (way, faces) in zip((True, False), lathe.ends(solid), strict=True):
            mine = [
                one
                for one in holes
                if _on_line(one.hole, lathe)
                and (
                    float(np.dot(one.hole.axis, way)) < -SAME
                    or (first and _plain_through(one.hole))
                )
            ]
            if faces or mine:
                words = [
                    (kind, name, f) for kind, name, axis, f in special if first and abs(float(axis @ way)) > SAME
                ]  # fmt: skip
                yield Clamped("lathe", way, holes=tuple(mine), turned=faces, special=tuple(words))
                special = [one for one in special if one[1] not in [name for _, name, _ in words]]
                holes = [one for one in holes if not any(one is each for each in mine)]
            taken |= set(faces)
    yield from _milled(plan, taken, holes, special)


def _is_edge(face: Face, normal: np.ndarray) -> bool:
    if face.flat:
        return abs(float(face.normal @ normal)) < 0.02
    return face.kind == "CYLINDER" and abs(float(face.axis @ normal)) > SAME


def _plain_through(hole: Hole) -> bool:
    """Whether a hole may be drilled from either end: through, with nothing at its mouth."""
    at_mouth = hole.countersink > hole.diameter or hole.counterbore is not None
    return hole.depth is None and hole.thread is None and not at_mouth and not hole.one_wall


def _on_line(hole: Hole, lathe: Turning) -> bool:
    away = np.asarray(hole.place, float) - lathe.place
    off = away - (away @ lathe.axis) * lathe.axis
    return bool(np.linalg.norm(off) < NEAR and abs(float(np.dot(hole.axis, lathe.axis))) > SAME)


def _milled(
    plan: Plan, taken: set[int], holes: Sequence[Bored], special: Sequence[Any]
) -> Iterator[Clamped]:
    solid = plan.solid
    left = [one for one in solid.faces if one.index not in taken]
    rest = [one for one in left if one.index not in plan.broken]
    if not left and not holes and not special:
        return
    lathe = plan.turning
    found = reach(
        solid,
        rest,
        [one.hole for one in holes],
        not_along=None if lathe is None else lathe.axis,
        slender=plan.part.milling.reach,
    )
    chosen = found.chosen()
    of_face = {one.index: way for one, way in zip(rest, chosen, strict=False)}
    of_face.update((one.index, -1) for one in left if one.index in plan.broken)
    of_hole = chosen[len(rest) :]
    _follow(solid, of_face, [k for k in of_hole if k >= 0])
    for k, one in enumerate(holes):
        if of_hole[k] < 0:
            of_hole[k] = next((w for w, way in enumerate(found.ways)
                               if float(np.dot(one.hole.axis, way)) < -SAME), 0)  # fmt: skip
    used = list(dict.fromkeys([*(k for k in chosen if k >= 0), *of_hole, *of_face.values()]))
    words_left = list(special)
    counts = {k: sum(way == k for way in of_face.values()) for k in used}
    rows = {one.index: row for row, one in enumerate(rest)}
    aside: list[tuple[np.ndarray, Feature]] = []
    made: dict[int, list[Feature]] = {}
    for k in used:
        made[k] = []
        for feature in features(
            solid, [i for i, w in of_face.items() if w == k], found.ways[k], plan.broken
        ):
            over = from_the_side(solid, feature) if _too_deep(plan, feature) else None
            if over is None:
                made[k].append(_from_both(plan, feature, found, rows, found.ways[k]))
            else:
                aside.append(over)
    for way, feature in aside:
        k = next((k for k in used if abs(float(found.ways[k] @ way)) > SAME), -1)
        if k < 0:
            k = next(k for k, one in enumerate(found.ways) if float(one @ way) > SAME)
            used.append(k)
            made[k], counts[k] = [], 0
        flip = float(np.sign(found.ways[k] @ way))
        low, high = sorted((flip * feature.bottom, flip * feature.top))
        made[k].append(replace(feature, bottom=low, top=high))
    order = sorted(used, key=lambda k: (-counts[k], k))
    sawn = _slits_last(plan.solid, order, made, holes, of_hole)
    for k in order:
        way = found.ways[k]
        mine = tuple(one for one, w in zip(holes, of_hole, strict=True) if w == k)
        words = [one for one in words_left if one[0] != "saw" and abs(float(one[2] @ way)) > SAME]
        words_left = [one for one in words_left if not any(one is each for each in words)]
        yield Clamped("mill", way, tuple(made[k]), mine,
                      special=tuple((kind, name, f) for kind, name, _, f in words))  # fmt: skip
    for k, late in sawn.items():
        yield Clamped("mill", found.ways[k], tuple(late))
    if words_left:
        yield Clamped("bench", found.ways[0] if found.ways else np.array([0.0, 0.0, 1.0]),
                      special=tuple((kind, name, f) for kind, name, _, f in words_left))  # fmt: skip


def _slits_last(
    solid: Solid,
    order: Sequence[int],
    made: dict[int, list[Feature]],
    holes: Sequence[Bored],
    of_hole: Sequence[int],
) -> dict[int, list[Feature]]:
    """Put each slit after the holes that cross it: a drill that breaks out into a slit runs off, and the ears give.

    It stays in its set-up where the last of these holes is drilled there or before; else it is taken out of `made`.

    Returns:
        The slits that need a set-up after all others, by the number of their way.
    """
    turn = {k: place for place, k in enumerate(order)}
    late: dict[int, list[Feature]] = {}
    for k in order:
        for one in [each for each in made[k] if each.kind in ("open slot", "side slot")]:
            drilled = [turn[w] for hole, w in zip(holes, of_hole, strict=True)
                       if crosses_slit(solid, one, hole.hole)]  # fmt: skip
            if not drilled:
                continue
            made[k].remove(one)
            if turn[k] >= max(drilled):
                made[k].append(replace(one, after=True))
            else:
                late.setdefault(k, []).append(one)
    return late


def _from_both(
    plan: Plan, one: Feature, found: Reach, rows: Mapping[int, int], way: np.ndarray
) -> Feature:
    """A feature that no end mill reaches to its bottom, cut from both sides where all of it is open to both."""
    cutter = one.cutter(plan.drawer)
    if (
        one.kind in ("face", "undercut", "edges")
        or cutter is None
        or plan.drawer.reaches(cutter, one.deep)
    ):
        return one
    other = next((w for w, each in enumerate(found.ways) if float(each @ way) < -SAME), None)
    mine = [rows[i] for i in one.faces if i in rows]
    if other is None or not mine or not all(found.open[row, other] for row in mine):
        return one
    return replace(one, both=True)


def _too_deep(plan: Plan, one: Feature) -> bool:
    """Whether an open slot is too deep for the end mill that goes into it."""
    cutter = one.cutter(plan.drawer)
    return one.kind == "open slot" and (cutter is None or not plan.drawer.reaches(cutter, one.deep))


def _follow(solid: Solid, of_face: dict[int, int], else_: Sequence[int]) -> None:
    """Give faces that no straight way makes, as fillets, to the set-up of what they touch."""
    waiting = [i for i, way in of_face.items() if way < 0]
    while waiting:
        later = []
        for i in waiting:
            near = [of_face[j] for j in solid.beside[i] if of_face.get(j, -1) >= 0]
            if near:
                of_face[i] = max(sorted(set(near)), key=near.count)
            else:
                later.append(i)
        if len(later) == len(waiting):
            used = [way for way in of_face.values() if way >= 0]
            for i in later:
                of_face[i] = max(sorted(set(used)), key=used.count) if used else (else_ or [0])[0]
            return
        waiting = later


def frame_of(drawn: Drawn, way: np.ndarray) -> tuple[str, Frame]:
    """The view along a direction toward the spindle, and how it is called."""
    from parts.making.bench.frames import along

    front = frame(drawn.right, drawn.up)
    for side in SIDES:
        view = beside(front, side)
        if float(view.toward @ way) > SAME:
            return side, view
    return along(front, -way)
