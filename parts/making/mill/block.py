"""What the part is cut from: the lightest plate or bar in the lists that holds it, and the chips."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass

import numpy as np

from parts.standards.designation import UnknownDesignation
from parts.standards.materials.materials import Material
from parts.standards.stock.stock import next_stock


@dataclass(frozen=True)
class Block:
    """A piece of stock: its size as it is ordered, the length to saw, its volume, and the share that becomes
    chips [-]."""

    name: str
    length: float
    volume: float
    waste: float


ROUND = 0.02
"""How much two sides of the box of a round part may differ, as a share."""


def blocks(
    size: Sequence[float], volume: float, metal: Material, allowance: float, *, round_: bool = False
) -> list[Block]:
    """Stock that holds a part.

    Args:
        size: of the part's box [mm].
        volume: of the part [mm^3].
        metal: what it is made of.
        allowance: left on every side [mm].
        round_: the part has faces that are round all the way.

    Returns:
        The blocks, the lightest first, but bar first for what is round or a hexagon; none where the
        lists hold no size so large.
    """
    wide = sorted(float(v) + 2.0 * allowance for v in size)
    thin, middle, long = wide
    turned = round_ and middle - thin < ROUND * middle and long > 1.2 * middle
    found = [
        Block(name, length, area, 1.0 - volume / area)
        for name, length, area in _offers(sorted(map(float, size)), wide, metal, turned=turned)
    ]
    return sorted(found, key=lambda one: (not _suits(one.name, turned), one.volume))


def _suits(name: str, turned: bool) -> bool:
    return "hex" in name or (turned and "round" in name)


def _offers(
    size: Sequence[float], wide: Sequence[float], metal: Material, *, turned: bool
) -> Iterator[tuple[str, float, float]]:
    """Name, sawn length and volume of every kind of stock; `size` and `wide` rise."""
    thin, middle, long = wide
    if abs(size[1] / size[0] * np.cos(np.pi / 6.0) - 1.0) < ROUND:
        with suppress(UnknownDesignation):
            # Its flats stay as they are drawn, so the bar carries no allowance across them.
            one = next_stock("hex bar", size[0], metal=metal.family)
            yield one.name, long, one.area_mm2 * long
    for shape in ("plate", "flat bar", "square bar", "round bar"):
        try:
            if shape == "plate":
                one = next_stock(shape, thin, metal=metal.family)
                name = f"{one.name}, sawn {middle:.0f} x {long:.0f} mm"
                yield name, long, one.width_mm * middle * long
            elif shape == "flat bar":
                one = next_stock(shape, middle, height_mm=thin, metal=metal.family)
                yield one.name, long, one.area_mm2 * long
            elif shape == "square bar":
                one = next_stock(shape, middle, metal=metal.family)
                yield one.name, long, one.area_mm2 * long
            else:
                one = next_stock(
                    shape, middle if turned else float(np.hypot(thin, middle)), metal=metal.family
                )
                yield one.name, long, one.area_mm2 * long
        except UnknownDesignation:
            continue
