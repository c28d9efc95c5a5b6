"""Which shop gets what: the pieces that it works on, and the files of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from parts.core.part import Part, Piece
from parts.making.bench.weld_sheet import PIECE as WELDED
from parts.making.process.machines import machines
from parts.strength.section.properties import properties

if TYPE_CHECKING:
    from parts.core.search.result import Result

SHOPS = ("saw", "mill", "lathe", "waterjet", "printer", "welder", "bench")
CUTTING = frozenset({"saw", "mill", "lathe", "waterjet", "welder"})
"""Shops that get nothing of a part that falls short: what they make would be ridden."""
ROUTES: tuple[tuple[str, str, tuple[str, ...]], ...] = (
    ("bench", "-templates.pdf", ("saw", "welder")),
    ("bench", "-inspection.pdf", ("mill", "lathe", "bench")),
    ("bench", "-inspection.csv", ("mill", "lathe", "bench")),
    ("bench", "-process.pdf", ("mill", "lathe", "bench")),
    ("bench", "-process.csv", ("mill", "lathe", "bench")),
    ("bench", "-profiles.csv", ("mill", "lathe")),
    *(("bench", f"-{WELDED}-drawing.{end}", ("welder", "bench")) for end in ("pdf", "svg", "dxf")),
    ("bench", "", ("mill", "lathe", "welder", "bench")),
    ("mill", "", ("mill", "lathe")),
    ("flat", "-unrolled.dxf", ("saw",)),
    ("flat", "", ("waterjet",)),
    ("print", "", ("printer",)),
)
"""Of what purpose a file is, how its name ends, and who gets it; the first row that fits counts."""
AS_CUT = 0.95
"""Share of its blank that a plate keeps whose edges alone are broken [-]: less of it was milled."""


@dataclass(frozen=True)
class Packed:
    """A part as it goes into packets.

    Attributes:
        result: what its checks say.
        count: how many are made.
        mirrored: how many of those are its mirror image.
        files: bytes by name, of every purpose by its name.
    """

    result: Result
    count: int
    mirrored: int
    files: Mapping[str, Mapping[str, bytes]]

    @property
    def part(self) -> Part:
        return self.result.part

    @cached_property
    def shops(self) -> Mapping[str, frozenset[str]]:
        """Who works on each piece, by its name."""
        return {piece.name: _working_on(self.part, piece) for piece in self.part.pieces}

    def goes_to(self, shop: str) -> bool:
        """Whether a shop has work on it; a part that falls short is left out of those that cut and weld."""
        return self.needs(shop) and (self.result.ok or shop not in CUTTING)

    def needs(self, shop: str) -> bool:
        """Whether a shop would have work on it."""
        return any(shop in shops for shops in self.shops.values())

    def of(self, shop: str) -> dict[str, bytes]:
        """The files that a shop gets."""
        return {
            name: content
            for purpose, files in self.files.items()
            for name, content in files.items()
            if shop in _routed(purpose, name)
            and any(shop in self.shops[piece] for piece in self._pieces_in(name))
        }

    def _pieces_in(self, name: str) -> Sequence[str]:
        """The pieces that a file tells of: the one that it is named after, or all."""
        said = name.removeprefix(f"{self.part.name}-")
        own = [piece for piece in self.shops if said.startswith((f"{piece}-", f"{piece}."))]
        return [max(own, key=len)] if own else list(self.shops)


def _routed(purpose: str, name: str) -> tuple[str, ...]:
    return next((to for p, end, to in ROUTES if p == purpose and name.endswith(end)), ())


def _working_on(part: Part, piece: Piece) -> frozenset[str]:
    found = {"printer", "bench"}
    if part.weldment() is not None:
        found.add("welder")
    solid = piece.solid.val()
    blank = next((one for one in part.blanks() if piece.name in one.pieces), None)
    if blank is not None:
        found.add("waterjet")
        cut = float(properties(blank.finished()).area) * float(blank.thickness)
        if float(solid.Volume()) < AS_CUT * cut or any(hole.after for hole in blank.holes):
            found.add("mill")
        return frozenset(found)
    stock = part.cut_from(piece.name)
    if stock is not None and stock.wall_mm:
        return frozenset({*found, "saw"})
    holes = [hole for one in part.drawn() if one.piece == piece.name for hole in one.marks.holes]
    bar = stock is not None and stock.shape in ("round bar", "hex bar")
    return frozenset({*found, "saw", *(["lathe"] if bar else []), *machines(solid, holes)})
