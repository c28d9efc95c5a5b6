"""The process sheets of a piece as files: PDF for the bench, CSV for the readout."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Any

from parts.core.drawing import Drawn
from parts.core.part import Part
from parts.making.bench.inspection import Item, items
from parts.making.bench.paper import SIZES
from parts.making.bench.pdf import pdf_bytes
from parts.making.process.front import front_pages
from parts.making.process.layout import laid_out
from parts.making.process.plan import Plan, planned
from parts.making.process.sheet import process_pages
from parts.making.process.step import SetUp
from parts.making.process.table import process_csv
from parts.making.shortfall import across

if TYPE_CHECKING:
    from parts.core.search.result import Result

LETTER = (279.4, 215.9)


@dataclass(frozen=True)
class Processed:
    """How a piece is made, laid out."""

    plan: Plan

    @cached_property
    def setups(self) -> list[SetUp]:
        return laid_out(self.plan)

    @cached_property
    def rows(self) -> list[Item]:
        return items(self.plan.part, self.plan.drawn)

    def files(self, result: Result[Any]) -> dict[str, bytes]:
        """`<name>-process.pdf` and `.csv`, of a part of several pieces with the name of the piece."""
        part, drawn = self.plan.part, self.plan.drawn
        base = part.name if len(part.drawn()) == 1 else f"{part.name}-{drawn.piece}"
        size = LETTER if part.drawing.sheet in ("letter", "tabloid") else SIZES["A4"]
        pages = [
            *front_pages(self.plan, self.setups, size),
            *process_pages(self.plan, self.setups, self.rows, size),
        ]
        written = [(on, [*ink, *across(on, result)]) for on, ink in pages]
        return {
            f"{base}-process.pdf": pdf_bytes(written, f"{base} process"),
            f"{base}-process.csv": process_csv(self.setups, self.rows),
        }

    def zeros(self) -> list[str]:
        """Where each set-up has its zero in the axes of the STEP file, and the direction of its Z."""
        name = self.plan.drawn.piece
        return [
            f"{name}, set-up {k}: zero at {_triple(one.zero)}, Z toward {_triple(one.frame.toward)}"
            for k, one in enumerate(self.setups, 1) if one.machine in ("mill", "lathe")
        ]  # fmt: skip


def processed(part: Part, drawn: Drawn, solid: Any) -> Processed:
    """How a piece of a part is made.

    Args:
        part: the part.
        drawn: the sheet of the piece.
        solid: the piece with sharp edges.
    """
    piece = next(one for one in part.pieces if one.name == drawn.piece)
    return Processed(planned(part, drawn, piece, solid))


def _triple(values: Any) -> str:
    return "(" + ", ".join(f"{float(v) + 0.0:.3f}" for v in values) + ")"
