"""A strip of sheet that runs straight and round bends, all about parallel axes: where its middle is, and its blank."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

from parts.strength.plates import sheet


class Turn(NamedTuple):
    """A bend of a strip: the flat before it, the angle, upward positive, and the inside radius [mm, rad]."""

    flat: Any
    angle: Any
    radius: Any


@dataclass(frozen=True)
class Strip:
    """A strip that starts at the origin along x and bends toward z, by its bends and its thickness [mm].

    Lengths along it are those of the middle of the sheet.
    """

    turns: Sequence[Turn]
    thickness: Any

    def arc(self, turn: Turn) -> Any:
        """Length of the middle of the sheet in a bend [mm]."""
        return np.abs(turn.angle) * (turn.radius + self.thickness / 2.0)

    def bends(self) -> list[tuple[Any, Any]]:
        """From where to where each bend runs along the strip [mm]."""
        found, s = [], 0.0
        for turn in self.turns:
            s = s + turn.flat
            found.append((s, s + self.arc(turn)))
            s = s + self.arc(turn)
        return found

    @property
    def last(self) -> Any:
        """Where the last flat begins [mm]."""
        bends = self.bends()
        return bends[-1][1] if bends else 0.0

    def way(self, s: Any) -> tuple[Any, Any]:
        """The middle of the strip at a length along it, and its direction there: x and z, and angle [mm, rad]."""
        s = np.asarray(s, float)
        x, z, angle, at = 0.0 * s, 0.0 * s, 0.0 * s, 0.0
        left = s
        for turn, (start, end) in zip(self.turns, self.bends(), strict=True):
            flat = np.clip(s - at, 0.0, start - at)
            x, z = x + flat * np.cos(angle), z + flat * np.sin(angle)
            r = turn.radius + self.thickness / 2.0
            sign = np.sign(turn.angle)
            part = np.clip((s - start) / r, 0.0, np.abs(turn.angle)) * sign
            x = x + sign * r * (np.sin(angle + part) - np.sin(angle))
            z = z - sign * r * (np.cos(angle + part) - np.cos(angle))
            angle, at = angle + part, end
        left = np.maximum(s - at, 0.0)
        return np.stack([x + left * np.cos(angle), z + left * np.sin(angle)], axis=-1), angle

    def centre(self, i: int) -> Any:
        """Axis of a bend: its x and z [mm]."""
        turn = self.turns[i]
        at, angle = self.way(self.bends()[i][0])
        off = np.sign(turn.angle) * (turn.radius + self.thickness / 2.0)
        return at + np.asarray(off)[..., None] * np.stack([-np.sin(angle), np.cos(angle)], axis=-1)

    def factor(self, turn: Turn, shop: Any = None) -> Any:
        """Neutral factor of a bend [-], by DIN 6935 or twice the shop's own K-factor."""
        return sheet.neutral_factor(turn.radius, self.thickness) if shop is None else 2.0 * shop

    def allowance(self, turn: Turn, shop: Any = None) -> Any:
        """What a bend takes of the blank [mm]."""
        k = self.factor(turn, shop)
        return sheet.bend_allowance(np.abs(turn.angle), turn.radius, self.thickness, k)

    def flat(self, s: Any, shop: Any = None) -> Any:
        """Length on the blank of a place along the middle of the bent strip, on a flat [mm]."""
        off: Any = np.asarray(s, float)
        for turn, (_, end) in zip(self.turns, self.bends(), strict=True):
            shrunk = self.arc(turn) - self.allowance(turn, shop)
            off = off - np.where(np.asarray(s, float) >= end - 1e-9, shrunk, 0.0)
        return off
