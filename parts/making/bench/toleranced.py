"""Geometric tolerances on a sheet: frames under the words of a leader, and the triangles of datums (ISO 1101, 5459)."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from parts.core.drawing import Balloon, DatumFeature, Weld, Zone
from parts.making.bench.field import Field, letters_box
from parts.making.bench.figures import Figures
from parts.making.bench.ink import Ink, Letters, Line, Patch, box, circle, line, width
from parts.making.bench.weld_signs import Numbered, WeldSign

HIGH = 5.0
"""Height of a frame [mm]: twice that of its letters, ISO 7083."""
LETTERS = 2.5
TRIANGLE = 2.4


class Sign(Protocol):
    """What stands under or in place of the words of a leader."""

    @property
    def width(self) -> float:
        """Of the whole [mm]."""
        ...

    def ink(self, x: float, y: float, hand: float) -> list[Ink]:
        """From its lower left corner; on the right (1) or the left (-1) of its leader."""
        ...


@dataclass(frozen=True)
class Frame:
    """One frame: the sign of its characteristic, or `datum`, and the words of its cells."""

    sign: str
    cells: tuple[str, ...]

    @property
    def width(self) -> float:
        """Of the whole frame [mm]."""
        return HIGH + sum(_cell(one) for one in self.cells)

    def ink(self, x: float, y: float, hand: float = 1.0) -> list[Ink]:
        """The frame from its lower left corner, on either hand of its leader."""
        found: list[Ink] = []
        if self.sign == "datum":
            found.append(_triangle(np.array([x, y + HIGH / 2.0]), np.array([1.0, 0.0])))
            found.append(
                line("dimension", (x + TRIANGLE, y + HIGH / 2.0), (x + HIGH, y + HIGH / 2.0))
            )
        else:
            found += [
                box("dimension", x, y, HIGH, HIGH),
                *_sign(self.sign, x + HIGH / 2.0, y + HIGH / 2.0),
            ]
        left = x + HIGH
        for words in self.cells:
            wide = _cell(words)
            found.append(box("dimension", left, y, wide, HIGH))
            at = np.array([left + wide / 2.0, y + (HIGH - LETTERS) / 2.0 + 0.35])
            found.append(Letters(words, at, LETTERS, 0.0, "middle"))
            left += wide
        return found


def _cell(words: str) -> float:
    return max(HIGH, width(words, LETTERS) + 1.8)


def signs(of: Sequence[Weld | Balloon], figures: Figures) -> tuple[Sign, ...]:
    """The symbols of welds, and the balloons of pieces."""
    found: list[Sign] = []
    for one in of:
        if isinstance(one, Balloon):
            found.append(Numbered(one.number))
            continue
        depth = figures.length(one.size)
        size = f"z{depth}" if one.kind == "fillet" and not one.american else depth
        tail = ", ".join(
            filter(None, (f"gap {figures.length(one.gap)}" if one.gap else "", one.filler))
        )
        found.append(WeldSign(one.kind, size, tail, one.both, one.all_round, one.american))
    return tuple(found)


def frames(zones: Sequence[Zone], datum: str, figures: Figures) -> tuple[Frame, ...]:
    """The frames of a feature, and the letter of the datum that its axis is."""
    found = [
        Frame(
            one.characteristic,
            (f"{'Ø' if one.round else ''}{figures.length(one.value, fine=True)}", *one.datums),
        )
        for one in zones
    ]
    return (*found, Frame("datum", (datum,))) if datum else tuple(found)


def _sign(characteristic: str, x: float, y: float) -> list[Ink]:
    if characteristic == "position":
        cross = [
            line("dimension", (x - 2, y), (x + 2, y)),
            line("dimension", (x, y - 2), (x, y + 2)),
        ]
        return [circle("dimension", np.array([x, y]), 1.3), *cross]
    if characteristic == "perpendicularity":
        foot = line("dimension", (x - 1.8, y - 1.6), (x + 1.8, y - 1.6))
        return [foot, line("dimension", (x, y - 1.6), (x, y + 1.8))]
    if characteristic == "parallelism":
        return [
            line("dimension", (x - 1.6 + k, y - 1.7), (x - 0.2 + k, y + 1.7)) for k in (0.0, 1.5)
        ]
    return [circle("dimension", np.array([x, y]), r) for r in (0.9, 1.7)]


def _triangle(foot: np.ndarray, out: np.ndarray) -> Patch:
    """A filled triangle on a face, its tip away from it."""
    across = np.array([-out[1], out[0]]) * TRIANGLE / 2.0
    return Patch(np.array([foot + across, foot - across, foot + out * TRIANGLE]), "dimension")


def place_datum(
    there: Field, letter: str, ends: tuple[np.ndarray, np.ndarray], out: np.ndarray
) -> bool:
    """Draw the triangle of a datum on a face with its letter; False where there is no room.

    Args:
        there: the view.
        letter: of the datum.
        ends: of the edge that the face is seen as, on the paper [mm].
        out: direction out of it on the paper.
    """
    start, end = ends
    for run in np.arange(4.0, 60.0, 2.0):
        for share in (0.5, 0.3, 0.7, 0.15, 0.85, 0.05, 0.95):
            foot = start + share * (end - start)
            stem = line("dimension", foot + out * TRIANGLE, foot + out * (TRIANGLE + run))
            middle = foot + out * (TRIANGLE + run + HIGH / 2.0)
            around = box("dimension", *(middle - HIGH / 2.0), HIGH, HIGH)
            sign = Letters(letter, middle - np.array([0.0, LETTERS / 2.0]), LETTERS, 0.0, "middle")
            room = Letters("M", middle - np.array([0.0, LETTERS / 2.0]), HIGH, 0.0, "middle")
            if (
                there.clear(stem.points[None])
                and there.free(letters_box(room))
                and _bare(there, stem)
            ):
                for ink in (_triangle(foot, out), stem, around, sign):
                    there.draw(ink)
                return True
    return False


def _bare(there: Field, stem: Line) -> bool:
    """True where a stem crosses nothing that a reader could take it for."""
    crossed = there.crossed(stem.points[None])
    return not (crossed["dimension line"] or crossed["leader"] or crossed["outline"])


def flat_datum(
    one: DatumFeature, flat: object, scale: float
) -> tuple[tuple[np.ndarray, np.ndarray], np.ndarray]:
    """The edge of a datum on the paper, and the direction out of it; `flat` is that of the view's frame."""
    start, end = (flat(np.asarray(p, float)) * scale for p in (one.start, one.end))  # type: ignore[operator]
    out = flat(np.asarray(one.out, float))  # type: ignore[operator]
    return (start, end), out / np.linalg.norm(out)
