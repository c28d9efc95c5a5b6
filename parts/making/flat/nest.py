"""Blanks laid out on a sheet by their boxes: bottom left first, turned by a quarter where that helps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

Turning = Literal["as drawn", "turned", "either", "as drawn first", "turned first"]
_TURNS: Mapping[Turning, tuple[tuple[bool, ...], ...]] = MappingProxyType(
    {
        "as drawn": ((False,),),
        "turned": ((True,),),
        "either": ((False, True),),
        "as drawn first": ((False,), (True,)),
        "turned first": ((True,), (False,)),
    }
)
"""Which turns are tried, and which only where none of those before finds room."""


@dataclass(frozen=True)
class Spot:
    """Where a copy lies: the lower left corner of its box [mm], and whether it is turned by 90 deg."""

    x: float
    y: float
    turned: bool


@dataclass(frozen=True)
class Nest:
    """Copies on sheets, sheet by sheet; `used` is the length of the last sheet that is taken [mm]."""

    sheets: tuple[tuple[Spot, ...], ...]
    used: float

    def utilisation(self, area: float, sheet: tuple[float, float]) -> float:
        """Share of all sheets that becomes blanks of an area [mm^2] each [-]."""
        count = sum(len(one) for one in self.sheets)
        return count * area / (len(self.sheets) * sheet[0] * sheet[1]) if self.sheets else 0.0


def nest(
    size: tuple[float, float], copies: int, sheet: tuple[float, float], spacing: float
) -> Nest:
    """Lay copies of one blank on as few sheets as their boxes allow.

    Args:
        size: length and height of the blank's box [mm].
        copies: how many.
        sheet: length and width of a sheet [mm].
        spacing: between boxes, and to the sheet's edge [mm].

    Returns:
        The nest; without sheets where not even one copy fits.
    """
    # A box that carries its spacing on two sides, on a sheet that has lost one edge and gained none.
    room = (sheet[0] - spacing, sheet[1] - spacing)
    box = (size[0] + spacing, size[1] + spacing)
    options = [_filled(box, copies, room, how) for how in _TURNS]
    options = [one for one in options if one]
    if not options:
        return Nest((), 0.0)
    best = min(options, key=lambda one: (len(one), _reach(one[-1], box)))
    moved = tuple(tuple(Spot(s.x + spacing, s.y + spacing, s.turned) for s in one) for one in best)
    return Nest(moved, _reach(best[-1], box) + spacing)


def _filled(
    box: tuple[float, float], copies: int, room: tuple[float, float], how: Turning
) -> list[list[Spot]]:
    sheets: list[list[Spot]] = []
    here: list[Spot] = []
    for _ in range(copies):
        spot = _lowest(here, box, room, how)
        if spot is None:
            if not here:
                return []
            sheets.append(here)
            here = []
            spot = _lowest(here, box, room, how)
            assert spot is not None
        here.append(spot)
    return [*sheets, here]


def _lowest(
    here: list[Spot], box: tuple[float, float], room: tuple[float, float], how: Turning
) -> Spot | None:
    """The free spot nearest to the left end of the sheet, then lowest."""
    boxes = [_box(spot, box) for spot in here]
    xs = sorted({0.0, *(b[2] for b in boxes)})
    ys = sorted({0.0, *(b[3] for b in boxes)})
    for turns in _TURNS[how]:
        found = [
            (x + (box[1] if turned else box[0]), x, y, turned)
            for turned in turns
            for x, y in _free(box[::-1] if turned else box, boxes, room, xs, ys)
        ]
        if found:
            _, x, y, turned = min(found)
            return Spot(x, y, turned)
    return None


def _free(
    box: tuple[float, float], boxes: list[tuple[float, float, float, float]], room: tuple[float, float],
    xs: list[float], ys: list[float],
) -> list[tuple[float, float]]:  # fmt: skip
    """The first corner at which a box fits, leftmost and then lowest; empty where none is free."""
    wide, high = box
    for x in xs:
        for y in ys:
            inside = x + wide <= room[0] + 1e-9 and y + high <= room[1] + 1e-9
            if inside and not any(_meet((x, y, x + wide, y + high), one) for one in boxes):
                return [(x, y)]
    return []


def _box(spot: Spot, box: tuple[float, float]) -> tuple[float, float, float, float]:
    wide, high = box[::-1] if spot.turned else box
    return spot.x, spot.y, spot.x + wide, spot.y + high


def _meet(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    slack = 1e-9
    return (
        a[0] < b[2] - slack and b[0] < a[2] - slack and a[1] < b[3] - slack and b[1] < a[3] - slack
    )


def _reach(spots: list[Spot], box: tuple[float, float]) -> float:
    return max(_box(spot, box)[2] for spot in spots)
