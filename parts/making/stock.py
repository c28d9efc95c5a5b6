"""Stock to order for a build: a size for each made piece, its cut length, and how much of it turns to chips."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.making.writing import harmless
from parts.standards.designation import UnknownDesignation
from parts.standards.stock.stock import Stock, listed

if TYPE_CHECKING:
    from parts.core.part import Part, Piece

FACING = 2.0
"""Left on the length for facing both ends [mm]; common practice, no source."""
KERF = 3.0
"""Lost to each cut of the saw [mm]; common practice for a bandsaw, no source."""
EDGE = 5.0
"""Left round a piece of plate or sheet, on each side [mm]; common practice, no source."""
BARS = ("round bar", "hex bar", "square bar", "flat bar")
COLUMNS = ("part", "piece", "quantity", "material", "stock", "length_mm", "width_mm", "kerf_mm",
           "bought_kg", "finished_kg", "waste_percent", "note")  # fmt: skip


@dataclass(frozen=True)
class Order:
    """Stock for the pieces of one name.

    Attributes:
        part, piece: what is made of it.
        quantity: how many.
        material: its name.
        stock: the size as it is written on an order.
        length: to cut for one piece [mm].
        width: of a piece of plate [mm]; 0 for bar and tube.
        kerf: lost to the saw besides [mm].
        bought: mass of the cut piece with its kerf [kg].
        finished: mass of the finished piece [kg].
        note: what to know.
    """

    part: str
    piece: str
    quantity: int
    material: str
    stock: str
    length: float
    width: float
    kerf: float
    bought: float
    finished: float
    note: str = ""

    @property
    def waste(self) -> float:
        """Share of the stock that turns to chips and offcut [-]."""
        return 1.0 - self.finished / self.bought


def orders(parts: Mapping[str, Part], counts: Mapping[str, int]) -> tuple[Order, ...]:
    """Stock for every piece of the parts.

    Args:
        parts: the parts by name.
        counts: how many of each are made.

    Returns:
        One line for each piece; pieces that are alike within a part share one.
    """
    found: list[Order] = []
    for name, part in parts.items():
        own: dict[tuple[Any, ...], Order] = {}
        for piece in part.pieces:
            one = _order(part, piece, counts.get(name, 1))
            key = (one.stock, one.length, one.width, round(one.finished, 6))
            if key in own:
                before = own[key]
                one = replace(
                    before,
                    piece=f"{before.piece}, {one.piece}",
                    quantity=before.quantity + one.quantity,
                )
            own[key] = one
        found += own.values()
    return tuple(found)


def _order(part: Part, piece: Piece, count: int) -> Order:
    box = piece.solid.val().BoundingBox()
    size = np.sort([box.xlen, box.ylen, box.zlen])
    volume = float(piece.solid.val().Volume())
    stock, length, width, note = _tube(part, piece, size) or _cut(part, piece, size)
    area = stock.area_mm2 * (width if stock.shape == "plate" else 1.0)
    density = piece.material.density
    kerf = KERF if stock.shape != "plate" else 0.0
    return Order(
        part.name, piece.name, count, piece.material.name, stock.name, round(length, 1), round(width, 1), kerf,
        area * (length + kerf) * density, volume * density, note,
    )  # fmt: skip


def _tube(part: Part, piece: Piece, size: np.ndarray) -> tuple[Stock, float, float, str] | None:
    """The part's own tube, where the piece is cut from it."""
    own = getattr(getattr(part, "body", None), "tube", None)
    if not isinstance(own, Stock) or piece.name != "tube":
        return None
    return own, float(size[2]) + FACING, 0.0, "" if own.is_stock else "no list holds this size"


def _cut(part: Part, piece: Piece, size: np.ndarray) -> tuple[Stock, float, float, str]:
    """The lightest cut that the piece comes out of: a plate where it is made of one, else a bar."""
    thickness = float(np.max(part.stock_thickness()))
    if part.form in ("sheet", "plate"):
        thickness = max(thickness, float(size[0]) if part.form == "plate" else thickness)
        plate = _plate(thickness, piece.material.family)
        flat = (
            ""
            if abs(float(size[0]) - thickness) < 0.5
            else "formed: order the blank's size from its facts"
        )
        note = "; ".join(
            filter(None, ["" if plate.is_stock else "no list holds this thickness", flat])
        )
        return plate, float(size[2]) + 2.0 * EDGE, float(size[1]) + 2.0 * EDGE, note
    found = min(
        _bars(size, piece.material.family), key=lambda one: one[0].area_mm2 * one[1], default=None
    )
    if found is None:
        plain = Stock("square bar", size[1], size[1], 0.0, f"square {size[1]:.0f} mm")
        return plain, float(size[2]) + FACING, 0.0, "no list holds a bar that large"
    return found[0], found[1], 0.0, ""


def _plate(thickness: float, metal: str) -> Stock:
    """The thinnest listed plate that is thick enough; the bare thickness where no list holds one."""
    fits = [one for one in _listed("plate", metal) if one.width_mm >= thickness - 0.006]
    if fits and fits[0].width_mm < 1.5 * thickness:
        return fits[0]
    return Stock("plate", thickness, thickness, 0.0, f"plate {thickness:.4g} mm")


def _bars(size: np.ndarray, metal: str) -> Iterator[tuple[Stock, float]]:
    """Listed bars that hold a box, with the length to cut; the box may lie any way in the bar."""
    for along in range(3):
        a, b = (float(v) for v in np.sort(np.delete(size, along)))
        length = float(size[along]) + FACING
        for shape in BARS:
            for one in _listed(shape, metal):
                if _holds(one, a, b):
                    yield one, length


def _holds(one: Stock, a: float, b: float) -> bool:
    """Whether a bar holds a rectangle a by b, a the shorter side [mm]."""
    if one.shape == "round bar":
        return one.width_mm >= (b if abs(a - b) < 0.01 * b else np.hypot(a, b))
    if one.shape == "hex bar":
        # Across flats of a hexagon about the piece: a turned or hexagonal one shows its own two widths.
        return (
            one.width_mm >= a - 0.006
            and one.width_mm * 2.0 / np.sqrt(3.0) >= b - 0.006
            and (b / a > 1.1 or one.width_mm >= b)
        )
    return min(one.width_mm, one.height_mm) >= a and max(one.width_mm, one.height_mm) >= b


def _listed(shape: str, metal: str) -> tuple[Stock, ...]:
    try:
        return listed(shape, metal)
    except UnknownDesignation:
        return ()


def csv_bytes(found: Iterable[Order]) -> bytes:
    """Lay the orders out as CSV, UTF-8, with a heading; no cell of it is run as a formula."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n", quoting=csv.QUOTE_NONNUMERIC)
    writer.writerow(COLUMNS)
    for one in found:
        writer.writerow(
            [
                *map(harmless, (one.part, one.piece)), one.quantity, *map(harmless, (one.material, one.stock)),
                one.length, one.width, one.kerf, round(one.bought, 4), round(one.finished, 4),
                round(100.0 * one.waste, 1), harmless(one.note),
            ]
        )  # fmt: skip
    return stream.getvalue().encode()
