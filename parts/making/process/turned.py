"""What a lathe makes of a piece: the axis that it turns about, and the faces that are turned from either end."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

import numpy as np

from parts.making.process.faces import SAME, Face, Solid

WHOLE = 2.0 * np.pi - 1e-3
CENTRED = 0.5
"""How far the axis may lie off the middle of the section for a chuck that centres [mm]."""


@dataclass(frozen=True)
class Turning:
    """An axis to turn about, and the faces that are turned: those from its positive end, and those from the other."""

    place: np.ndarray
    axis: np.ndarray
    plus: tuple[int, ...]
    minus: tuple[int, ...]

    @property
    def faces(self) -> tuple[int, ...]:
        return self.plus + self.minus

    def ends(self, solid: Solid) -> tuple[tuple[np.ndarray, tuple[int, ...]], ...]:
        """Both ends in the order of work, each with the way out of the chuck and its faces: first the one from which
        the outside is turned, while there is raw stock to hold it by."""
        both = (self.axis, self.plus), (-self.axis, self.minus)

        def outside(faces: tuple[int, ...]) -> bool:
            return any(
                solid.faces[i].kind == "CYLINDER" and not solid.faces[i].hollow for i in faces
            )

        return both if outside(self.plus) or not outside(self.minus) else both[::-1]


def turning(solid: Solid, taken: Collection[int], *, bar: bool) -> Turning | None:
    """How a piece is turned.

    Args:
        solid: the piece.
        taken: faces that something else makes, as holes.
        bar: it is cut from a bar or a tube, which is chucked for a hole along its middle too.

    Returns:
        The turning; None where nothing is round all the way about the middle of the piece.
    """
    line = _line(solid, taken, bar=bar)
    if line is None:
        return None
    place, axis = line
    rows = [
        one for one in solid.faces if one.index not in taken and _is_turned(solid, one, place, axis)
    ]
    along, off = _along_off(solid.points, place, axis)
    thick = along[off > off.max() - 0.01]
    ends: dict[bool, list[int]] = {True: [], False: []}
    middle: list[int] = []
    grooved = _grooves(solid, rows, place, axis)
    for one in rows:
        if one.index in grooved:
            ends[grooved[one.index]].append(one.index)
            continue
        low, high = one.span(axis)
        low, high = low - float(place @ axis), high - float(place @ axis)
        if one.flat:
            ends[bool(one.normal @ axis > 0.0)].append(one.index)
        elif low > thick.max() - SAME:
            ends[True].append(one.index)
        elif high < thick.min() + SAME:
            ends[False].append(one.index)
        else:
            middle.append(one.index)
    # What is thickest goes with the end that stands further out of it: the other end is faced, and held by it.
    runs = along.max() - thick.max(), thick.min() - along.min()
    ends[bool(runs[0] > runs[1] - CENTRED)] += middle
    return Turning(place, axis, tuple(ends[True]), tuple(ends[False]))


def _line(
    solid: Solid, taken: Collection[int], *, bar: bool
) -> tuple[np.ndarray, np.ndarray] | None:
    """The axis of what is round all the way and lies in the middle of the piece: what is turned outside, then what
    is round or bored along the middle of a bar."""
    found: dict[tuple[float, ...], list[Face]] = {}
    for one in solid.faces:
        if one.kind == "CYLINDER" and (bar or (not one.hollow and one.index not in taken)):
            foot = one.foot - (one.foot @ one.axis) * one.axis
            found.setdefault(tuple(np.round([*one.axis, *foot, one.radius], 3) + 0.0), []).append(
                one
            )
    whole = [each for each in found.values() if sum(one.turn for one in each) > WHOLE]
    for each in sorted(
        whole, key=lambda e: (e[0].hollow, e[0].index in taken, -sum(one.area for one in e))
    ):
        axis, foot = np.round(each[0].axis, 9) + 0.0, each[0].foot
        aside = np.cross(axis, np.eye(3)[int(np.argmin(np.abs(axis)))])
        aside /= np.linalg.norm(aside)
        across = (solid.points - foot) @ np.array([aside, np.cross(axis, aside)]).T
        if np.all(np.abs(across.min(axis=0) + across.max(axis=0)) / 2.0 < CENTRED) and (
            not each[0].hollow
            or float(np.ptp(solid.points @ axis)) > 0.5 * float(np.ptp(across, axis=0).max())
        ):
            return foot - (foot @ axis) * axis, axis
    return None


def is_groove_inside(solid: Solid, one: Face, place: np.ndarray, axis: np.ndarray) -> bool:
    """Whether a face is the round floor of a groove in a bore: it is narrower on both sides."""
    return max(_open(solid, one, place, axis)) < one.radius - 0.05


def _open(solid: Solid, one: Face, place: np.ndarray, axis: np.ndarray) -> tuple[float, float]:
    """The narrowest radius before and behind a hollow round face [mm]; its own where the piece ends there."""
    if one.kind != "CYLINDER" or not one.hollow or not one.about(place, axis):
        return np.inf, np.inf
    along, off = _along_off(solid.points, place, axis)
    low, high = (v - float(place @ axis) for v in one.span(axis))
    sides = (along < low + SAME, along > high - SAME)
    return tuple(float(off[side].min(initial=one.radius)) for side in sides)  # type: ignore[return-value]


def _grooves(
    solid: Solid, rows: Sequence[Face], place: np.ndarray, axis: np.ndarray
) -> dict[int, bool]:
    """Faces of grooves in a bore, and whether the tool comes in at the positive end: where the bore is wider."""
    found: dict[int, bool] = {}
    for one in rows:
        if not is_groove_inside(solid, one, place, axis):
            continue
        before, behind = _open(solid, one, place, axis)
        sides = [i for i in solid.beside[one.index] if solid.faces[i].flat]
        found |= dict.fromkeys([one.index, *sides], behind > before)
    return found


def _along_off(
    points: np.ndarray, place: np.ndarray, axis: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    away = points - place
    along = away @ axis
    return along, np.linalg.norm(away - along[:, None] * axis, axis=1)


def _is_turned(solid: Solid, one: Face, place: np.ndarray, axis: np.ndarray) -> bool:
    """Whether a face is round about the axis and a turning tool comes to it."""
    if not one.about(place, axis):
        return False
    others = np.concatenate([each.points for each in solid.faces if each.index != one.index])
    along, off = _along_off(others, place, axis)
    mine, wide = _along_off(one.points, place, axis)
    if one.flat:
        if any(
            other.round and other.about(place, axis) and abs(float(other.off(place, axis).max() - wide.max())) < 0.01
            and other.normal @ (other.on - place - ((other.on - place) @ axis) * axis) < -1e-9
            for other in (solid.faces[i] for i in solid.beside[one.index])
        ):  # fmt: skip
            return True
        sign = float(np.sign(one.normal @ axis))
        ahead = sign * along > sign * float(mine.mean()) + SAME
        if not ahead.any():
            return True
        inner = wide.min() if solid.shapes[one.index].innerWires() else 0.0
        return bool(off[ahead].max() <= inner + 0.01)
    away = one.on - place
    radial = away - (away @ axis) * axis
    if float(one.normal @ radial) < -1e-9:
        return True
    beside = (along > mine.min() + SAME) & (along < mine.max() - SAME)
    return not beside.any() or bool(off[beside].max() <= wide.max() + 0.01)
