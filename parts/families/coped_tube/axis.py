"""The centre line of a bent tube: straights and bends in turn, and what a load does all along it.

Every size may be an array over variants. The line begins at the origin along x; its frame is carried round each bend
without twist, so that a line scribed along the tube stays where it is in the frame.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any, NamedTuple

import numpy as np

from parts.core.loads import Action, resultant
from parts.strength.vectors import cross

GAUSS = {n: np.polynomial.legendre.leggauss(n) for n in (2, 8)}


class Turn(NamedTuple):
    """A bend: the straight before it [mm], its angle, where round the tube it turns to, from y toward z [rad], and the
    radius of its centre line [mm]."""

    after: Any
    angle: Any
    to: Any
    radius: Any


@dataclass(frozen=True)
class Segment:
    """A straight (`radius` None) or a bend, from `low` to `high` along the line [mm].

    `start` is its first place [mm]; `frame` the tube's axes there as rows; `to` the way that a bend turns, unit.
    """

    low: Any
    high: Any
    start: Any
    frame: Any
    to: Any = None
    radius: Any = None

    def at(self, s: Any) -> tuple[Any, Any]:
        """Places [mm] and tangents at lengths s (..., n) along the line, each (..., n, 3)."""
        off = np.asarray(s) - np.asarray(self.low)[..., None]
        start, x = np.asarray(self.start)[..., None, :], np.asarray(self.frame)[..., None, 0, :]
        if self.radius is None:
            return start + off[..., None] * x, x + 0.0 * off[..., None]
        R, to = np.asarray(self.radius)[..., None, None], np.asarray(self.to)[..., None, :]
        turned = off[..., None] / R
        place = start + R * (np.sin(turned) * x + (1.0 - np.cos(turned)) * to)
        return place, np.cos(turned) * x + np.sin(turned) * to


class Piece(NamedTuple):
    """A stretch of a segment from low to high along the line [mm]; `before` the middle of the line or behind it."""

    segment: Segment
    low: Any
    high: Any
    before: bool

    def lengths(self, shares: np.ndarray) -> Any:
        """Lengths along the line at shares of the way (n,) [mm], (..., n)."""
        low, high = (np.asarray(v, float)[..., None] for v in (self.low, self.high))
        return low + (high - low) * shares


def along(turns: Sequence[Turn], length: Any) -> list[Segment]:
    """The segments of a line of straights and bends, its whole length given [mm]."""
    place: Any = np.zeros(3)
    frame: Any = np.eye(3)
    low: Any = 0.0
    found = []
    for one in turns:
        high = low + one.after
        found.append(Segment(low, high, place, frame))
        place = found[-1].at(np.asarray(high, float)[..., None])[0][..., 0, :]
        c, s = (np.asarray(v)[..., None] for v in (np.cos(one.to), np.sin(one.to)))
        x, y, z = (frame[..., i, :] for i in range(3))
        to, across = c * y + s * z, c * z - s * y
        low, high = high, high + one.radius * one.angle
        found.append(Segment(low, high, place, frame, to, one.radius))
        place, x_1 = (v[..., 0, :] for v in found[-1].at(np.asarray(high, float)[..., None]))
        cos, sin = (np.asarray(v)[..., None] for v in (np.cos(one.angle), np.sin(one.angle)))
        to = cos * to - sin * x
        frame = np.stack(
            np.broadcast_arrays(x_1, c * to - s * across, s * to + c * across), axis=-2
        )
        low = high
    return [*found, Segment(low, length, place, frame)]


@dataclass(frozen=True)
class Line:
    """A bent tube as a bar.

    Attributes:
        segments: straights and bends in turn.
        EI: bending stiffness [N*mm^2].
        GJ: stiffness in torsion [N*mm^2].
        EA: stiffness along it [N].
        gives: how much more each segment turns than a straight tube [-].
    """

    segments: Sequence[Segment]
    EI: Any
    GJ: Any
    EA: Any
    gives: Sequence[Any]
    pieces: Sequence[Piece] = field(init=False)

    def __post_init__(self) -> None:
        middle = np.asarray(self.length) / 2.0
        found = []
        for one in self.segments:
            cut = np.clip(middle, one.low, one.high)
            found += [Piece(one, one.low, cut, True), Piece(one, cut, one.high, False)]
        object.__setattr__(self, "pieces", found)

    @property
    def length(self) -> Any:
        """Its whole length [mm]."""
        return self.segments[-1].high

    @property
    def softness(self) -> Any:
        """How much more it turns as a whole than a straight tube as long [-]."""
        turned = sum(
            give * (one.high - one.low) for one, give in zip(self.segments, self.gives, strict=True)
        )
        return turned / self.length

    def place(self, s: Any) -> Any:
        """The place at a length along the line (...) [mm]."""
        s = np.asarray(s, float)[..., None]
        found: Any = self.segments[0].at(s)[0][..., 0, :]
        for one in self.segments[1:]:
            here = one.at(s)[0][..., 0, :]
            found = np.where(s >= np.asarray(one.low)[..., None], here, found)
        return found

    def answers(self, at: Sequence[Action], turns_at: tuple[float, float]) -> Action:
        """What its far end answers to what acts at its middle, its near end held besides.

        Args:
            at: what acts there.
            turns_at: 0 where an end is fast, 1 where it turns freely but about the line between the two.

        Returns:
            Force and moment at the far end: those that leave it where it is. Castigliano.
        """
        end = self.place(self.length)
        chord = end / np.linalg.norm(end, axis=-1, keepdims=True)
        free = np.eye(3) - chord[..., :, None] * chord[..., None, :]
        loose = np.asarray(1e3 * self.length / self.EI)[..., None, None] * free
        give, moved = 0.0, 0.0
        for k, piece in enumerate(self.pieces):
            shares, weights = GAUSS[2 if piece.segment.radius is None else 8]
            s = piece.lengths((shares + 1.0) / 2.0)
            place, x = piece.segment.at(s)
            w = (weights / 2.0 * np.asarray(piece.high - piece.low)[..., None])[..., None, None]
            round_x = x[..., :, None] * x[..., None, :]
            EI, GJ, EA = (np.asarray(v)[..., None, None, None] for v in (self.EI, self.GJ, self.EA))
            bends = np.asarray(self.gives[k // 2])[..., None, None, None] / EI
            soft = w * (bends * (np.eye(3) - round_x) + round_x / GJ)
            arm = _turning(end[..., None, :] - place)
            give = give + (np.swapaxes(arm, -1, -2) @ soft @ arm).sum(axis=-3)
            stretch = (w * round_x / EA).sum(axis=-3)
            give = give + _block(stretch)
            if piece.before:
                force, moment = carried(at, place)
                given = (np.swapaxes(arm, -1, -2) @ soft @ moment[..., None]).sum(axis=-3)
                pulled = stretch @ np.swapaxes(force, -1, -2)
                moved = moved + given + np.concatenate([pulled, 0.0 * pulled], axis=-2)
        if turns_at[1]:
            give = give + _block(loose, low=3)
        if turns_at[0]:
            arm = _turning(end)
            moment = resultant(at, np.zeros(3))[1][..., None]
            give = give + np.swapaxes(arm, -1, -2) @ loose @ arm
            moved = moved + np.swapaxes(arm, -1, -2) @ loose @ moment
        X = np.linalg.solve(give, -np.asarray(moved))[..., 0]
        return Action(end, X[..., :3], X[..., 3:])


def _turning(arm: Any) -> Any:
    """What turns a force and a moment at the end of an arm into the moment at its foot, (..., 3, 6)."""
    x, y, z = (arm[..., i] for i in range(3))
    o = 0.0 * x
    skew = np.stack(
        [np.stack([o, -z, y], -1), np.stack([z, o, -x], -1), np.stack([-y, x, o], -1)], -2
    )
    return np.concatenate([skew, np.broadcast_to(np.eye(3), skew.shape)], axis=-1)


def _block(small: Any, low: int = 0) -> Any:
    """A matrix (..., 3, 3) in one of (..., 6, 6) from row and column `low` on."""
    found = np.zeros((*small.shape[:-2], 6, 6))
    found[..., low : low + 3, low : low + 3] = small
    return found


def carried(actions: Sequence[Action], place: Any) -> tuple[Any, Any]:
    """Force [N] (..., 1, 3) and moment [N*mm] (..., n, 3) of actions about places (..., n, 3) [mm]."""
    force, moment = np.zeros((1, 3)), np.zeros_like(place)
    for one in actions:
        f, m, at = (np.asarray(v, float)[..., None, :] for v in (one.force, one.moment, one.at))
        force, moment = force + f, moment + m + cross(at - place, f + 0.0 * place)
    return force, moment


def borne(actions: Sequence[Action], place: Any, x: Any) -> tuple[Any, Any, Any]:
    """What sections bear of what acts beyond them: force along the line, whole force [N], whole moment [N*mm].

    Args:
        actions: what acts beyond.
        place: of the sections [mm], (..., n, 3).
        x: the way of the line there, (..., n, 3).
    """
    force, moment = carried(actions, place)
    pulled, whole = (force * x).sum(axis=-1), np.linalg.norm(force, axis=-1)
    return pulled, whole + 0.0 * pulled, np.linalg.norm(moment, axis=-1)
