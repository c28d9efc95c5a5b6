"""What a piece is cut from: the sizes on sale that hold it, nested at any turn, with saw cuts and chips.

One engine serves the list of a build and the sheet for the mill, so that both order the same.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.tube_ends import cut_length
from parts.making.enclosing import Enclosed
from parts.making.kept import Kept
from parts.making.stl import triangles
from parts.making.writing import harmless
from parts.shapes.volume import volume as volume_of
from parts.standards.designation import UnknownDesignation
from parts.standards.stock.stock import Stock, listed
from parts.strength.section.outline import Loop, arc_at

if TYPE_CHECKING:
    from parts.core.blank import Blank
    from parts.core.part import Part, Piece

KERF = 3.0
"""Lost to each cut of the saw [mm]; common practice for a bandsaw, no source."""
EDGE = 5.0
"""Left round a piece of plate or sheet, on each side [mm]; common practice, no source."""
SEEN = (0.02, 0.2)
"""Chord [mm] and angle [rad] of the mesh that a piece is measured by."""
FILLS = 0.985
"""Share of a bar's section from which a piece is that bar [-]: its sides stay as they are bought."""
SAME = 0.006
"""Two sizes closer than this are one [mm]."""
ACROSS = 1.25
"""How much more metal is taken rather than lay a piece across its bar's grain [-]; common practice, no source."""
PARTED, CHUCK, LEAST_GRIP = 3.0, 30.0, 12.0
"""Width of the parting tool; what a bar is longer where its piece is turned from end to end, for jaws and that tool;
the least that jaws hold [mm]; common practice, no source."""
CHUCKED, OFFERED = ("round bar", "hex bar", "round tube"), 3
"""What is held in a chuck, and how many kinds of stock a sheet offers."""
COLUMNS = ("part", "piece", "quantity", "material", "stock", "length_mm", "width_mm", "kerf_mm",
           "bought_kg", "finished_kg", "waste_percent", "note")  # fmt: skip


@dataclass(frozen=True)
class Cut:
    """A piece of stock that holds a piece of a part.

    Attributes:
        stock: the size as it is ordered.
        length: to saw [mm].
        width: of a piece of plate [mm]; 0 for bar and tube.
        finished: volume of the finished piece [mm^3].
        note: what to know.
        chuck: how much of the length is for the chuck and the parting tool alone [mm].
    """

    stock: Stock
    length: float
    width: float
    finished: float
    note: str = ""
    chuck: float = 0.0

    @property
    def volume(self) -> float:
        """Of what is sawn off [mm^3]."""
        return self.stock.area_mm2 * self.length * (self.width or 1.0)

    @property
    def waste(self) -> float:
        """Share that becomes chips [-]."""
        return 1.0 - self.finished / self.volume

    @property
    def name(self) -> str:
        """As it is ordered, a plate with the width that is sawn."""
        sawn = f", sawn {self.width:.0f} mm wide" if self.width else ""
        return f"{self.stock.name}{sawn}"


@dataclass(frozen=True)
class Order:
    """Stock for the pieces of one name: what is cut, from what, how often, and the mass of metal [kg]."""

    part: str
    piece: str
    quantity: int
    material: str
    cut: Cut
    density: float

    @property
    def kerf(self) -> float:
        """Lost to the saw [mm]."""
        return 0.0 if self.cut.width else KERF

    @property
    def bought(self) -> float:
        """Mass of the cut piece with its kerf [kg]."""
        return self.cut.volume * (1.0 + self.kerf / self.cut.length) * self.density

    @property
    def finished(self) -> float:
        """Mass of the finished piece [kg]."""
        return self.cut.finished * self.density

    @property
    def waste(self) -> float:
        """Share of the stock that turns to chips and offcut [-]."""
        return 1.0 - self.finished / self.bought


def orders(
    parts: Mapping[str, Part],
    counts: Mapping[str, int],
    made: Mapping[str, Sequence[tuple[Piece, str]]] | None = None,
    kept: Kept | None = None,
) -> tuple[Order, ...]:
    """Stock for every piece of the parts.

    Args:
        parts: the parts by name.
        counts: how many of each are made.
        made: their pieces by name, each with a digest of all that hangs on it; built where left out.
        kept: what was found for them before.

    Returns:
        One line for each piece; pieces that are alike within a part share one.
    """
    found: list[Order] = []
    for name, part in parts.items():
        own: dict[tuple[object, ...], Order] = {}
        for piece, digest in made[name] if made else [(piece, "") for piece in part.pieces]:
            cut = _lightest(part, piece, kept, digest)
            key = cut.stock.name, round(cut.length, 1), round(cut.width, 1), round(cut.finished, 3)
            one = Order(
                name,
                piece.name,
                counts.get(name, 1),
                piece.material.name,
                cut,
                piece.material.density,
            )
            if (before := own.get(key)) is not None:
                names, many = f"{before.piece}, {one.piece}", before.quantity + one.quantity
                one = replace(before, piece=names, quantity=many)
            own[key] = one
        found += own.values()
    return tuple(found)


def _lightest(part: Part, piece: Piece, kept: Kept | None, digest: str) -> Cut:
    if kept is None or not digest:
        return cuts(part, piece)[0]
    found = kept.value(lambda: asdict(cuts(part, piece)[0]), "stock", digest, piece.name)
    return Cut(**{**found, "stock": Stock(**found["stock"])})


def cuts(part: Part, piece: Piece) -> list[Cut]:
    """Stock that a piece can be cut from.

    A tube is cut from tube and a flat blank from its sheet. What is milled or turned comes from the bar, or the
    plate where the part does not say that it is made of bar, that weighs least.

    Args:
        part: the part.
        piece: one of its pieces.

    Returns:
        The cuts, the lightest first; never none: where no list holds one large enough, the note says so.
    """
    volume = volume_of(piece.solid.val())
    points, _ = triangles(piece.solid.val(), *SEEN)
    blank = next((one for one in part.blanks() if piece.name in one.pieces), None)
    own = part.cut_from(piece.name)
    if own is not None:
        said = "" if own.is_stock else "no list holds this size"
        tubes = [tube for one in part.drawn() if one.piece == piece.name for tube in one.tubes]
        bent = [float(cut_length(tube)) for tube in tubes if tube.bent]
        long = max([float(np.ptp(points, axis=0).max()), *bent]) + 2.0 * part.milling.allowance
        return _chucked([Cut(own, long, 0.0, volume, said)], piece.solid.val(), own=True)
    if blank is not None:
        return [_of_plate(blank, volume, piece.material.family)]
    shapes = ["round bar", "hex bar", "square bar", "flat bar"]
    if part.form in (None, "plate"):
        shapes.append("plate")
    found = list(_offers(points, volume, piece.material.family, part.milling.allowance, shapes))
    long = float(np.ptp(points, axis=0).max())
    found.sort(key=lambda one: one.volume * (1.0 if max(one.length, one.width) >= long else ACROSS))
    return _chucked(found, piece.solid.val()) or [_beyond(points, volume)]


def _chucked(found: Sequence[Cut], shape: Any, *, own: bool = False) -> list[Cut]:
    """The same, bars longer by what the chuck holds where they are turned over all the length of the piece."""
    from parts.making.process.bored import bought_faces
    from parts.making.process.faces import Solid
    from parts.making.process.turned import turning

    bars = [one for one in found[:OFFERED] if one.stock.shape in CHUCKED]
    if not bars:
        return [*found]
    solid = Solid.of(shape)
    longer: list[Cut] = []
    for one in found:
        of = None
        if one in bars:
            bought = set(bought_faces(solid, one.stock, cut_from=own))
            of = turning(solid, bought, bar=True)
        if of is not None and _to_the_end(solid, of):
            note = "; ".join(filter(None, (one.note, f"{CHUCK:g} mm of it for the chuck")))
            one = replace(one, length=one.length + CHUCK, note=note, chuck=CHUCK)
        longer.append(one)
    return longer


def _to_the_end(solid: Any, of: Any) -> bool:
    """Whether a piece is turned outside, in its first set-up, where jaws would hold it."""
    way, first = next((one for one in of.ends(solid) if one[1]), (of.axis, ()))
    foot = float((solid.points @ way).min())
    outside = [face for face in (solid.faces[i] for i in first) if face.round and not face.hollow]
    return min((face.span(way)[0] for face in outside), default=np.inf) < foot + LEAST_GRIP


def _of_plate(blank: Blank, volume: float, metal: str) -> Cut:
    """The piece of plate that a flat blank is cut from."""
    corners = np.concatenate([_along(loop) for loop in blank.outline.loops])
    long, wide = Enclosed.of(corners).least_rectangle
    plate = next(
        (one for one in _listed("plate", metal) if one.width_mm >= blank.thickness - SAME), None
    )
    if plate is None or plate.width_mm > 1.5 * blank.thickness:
        thick = blank.thickness
        plate = Stock("plate", thick, thick, 0.0, f"plate {thick:.4g} mm")
    said = "" if plate.is_stock else "no list holds this thickness"
    return Cut(plate, long + 2.0 * EDGE, wide + 2.0 * EDGE, volume, said)


def _along(loop: Loop) -> np.ndarray:
    """Points on a loop, arcs included, shape (n, 2) [mm]."""
    return arc_at(loop.points, loop.ends, loop.bulge, np.linspace(0.0, 1.0, 33))[0].reshape(-1, 2)


def _offers(
    points: np.ndarray, volume: float, metal: str, allowance: float, shapes: Sequence[str]
) -> Iterator[Cut]:
    """For each way that the piece can lie in its stock, the smallest size of every shape that holds it."""
    for along in range(3):
        figure = Enclosed.of(np.delete(points, along, axis=1))
        long = float(np.ptp(points[:, along]))
        for shape in shapes:
            if shape == "plate":
                sides = [side + 2.0 * EDGE for side in figure.least_rectangle]
                one = _first(shape, metal, lambda s, least=long: s.width_mm >= least - SAME)
                if one is not None:
                    yield Cut(one, sides[0], sides[1], volume)
                continue
            held = _first(shape, metal, lambda s, of=figure: _holds(s, of, allowance))
            if held is not None:
                yield Cut(held, long + 2.0 * allowance, 0.0, volume)


def _first(shape: str, metal: str, holds: Callable[[Stock], bool]) -> Stock | None:
    return next((one for one in _listed(shape, metal) if holds(one)), None)


def _holds(one: Stock, figure: Enclosed, allowance: float) -> bool:
    """Whether a bar holds a figure with an allowance on every side [mm], or is that figure itself."""
    least = {"round bar": figure.circle, "hex bar": figure.hexagon, "square bar": figure.square}
    if one.shape == "flat bar":
        big, small = max(one.width_mm, one.height_mm), min(one.width_mm, one.height_mm)
        room = figure.rectangles + 2.0 * allowance
        return bool(np.any((room[:, 0] <= big + SAME) & (room[:, 1] <= small + SAME)))
    is_it = figure.area >= FILLS * one.area_mm2 and one.shape == "hex bar"
    return one.width_mm >= least[one.shape] + (0.0 if is_it else 2.0 * allowance) - SAME


def _beyond(points: np.ndarray, volume: float) -> Cut:
    """A square bar as large as it takes, where no list holds one."""
    sides = np.sort(np.ptp(points, axis=0))
    plain = Stock("square bar", sides[1], sides[1], 0.0, f"square {sides[1]:.0f} mm")
    return Cut(plain, float(sides[2]), 0.0, volume, "no list holds a size that large: ask the mill")


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
                *map(harmless, (one.part, one.piece)), one.quantity,
                *map(harmless, (one.material, one.cut.stock.name)), round(one.cut.length, 1),
                round(one.cut.width, 1), one.kerf, round(one.bought, 4), round(one.finished, 4),
                round(100.0 * one.waste, 1), harmless(one.cut.note),
            ]
        )  # fmt: skip
    return stream.getvalue().encode()
