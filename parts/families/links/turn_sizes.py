"""The sizes of a turnbuckle's body, and the rules that they meet."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np
from pydantic import Field

from parts.core.rules import Rule, at_least, at_most
from parts.families.links.adjustment import Adjustment
from parts.families.links.body import LinkBody
from parts.families.links.sites import BetweenEnds
from parts.features.bung.stretches import (
    Outside,
    area_and_modulus,
    through_hole,
)
from parts.features.bung.wall import slanted, threaded_wall
from parts.features.bung.wrench import wrench_rule
from parts.inputs.quantities import PositiveLength
from parts.standards.threads.threads import Thread

if TYPE_CHECKING:
    pass

LEAST_RELIEF = 2.0
"""Least length of the relief between the threads [mm]; common practice, no source."""
LEAST_WALL = 1.5
HOLE_EDGE = 1.0


class TurnSizes(LinkBody):
    """What every body has: its length, threads, relief, witness holes and a hole for a bar."""

    length: PositiveLength | None = Field(
        None,
        description="Length over its faces; left out, what the longest length and the engagement ask.",
    )
    thread_depth: PositiveLength | None = Field(
        None,
        description="Full thread from each face; where left out, past the witness hole and as deep as the shank "
        "goes at the shortest, unless it runs on into the relief.",
    )
    relief: PositiveLength | None = Field(
        None,
        description="Bore between the threads; drilled through at the larger tap drill where left out. One that "
        "clears the shanks spares deep threads, but has to be bored out behind them.",
    )
    witness_hole: PositiveLength | None = Field(
        2.5, description="Diameter of the witness holes; null leaves them out."
    )
    tommy_bar: PositiveLength | None = Field(
        None,
        description="Diameter of a hole through the middle for a tommy bar; none where left out.",
    )

    def outside(self) -> Outside:
        """The outside of the bar."""
        raise NotImplementedError

    def middle(self) -> tuple[Outside, Any] | None:
        """The outside where wrench flats are milled in the middle, and their length [mm]; None without."""
        return None

    def weakest_middle(self, bore: Any) -> tuple[Any, Any]:
        """Area [mm^2] and least section modulus [mm^3] of the middle, beside the bar hole or at the flats; `bore`
        [mm] is that of the relief."""
        outside, flats = self.outside(), self.middle()
        if self.tommy_bar is not None:
            shape = through_hole(outside, bore, self.tommy_bar, 0.0)
        else:
            shape = (outside if flats is None else flats[0]).bored(bore)
        return area_and_modulus(shape)

    def tapped(self, least: Any) -> Any:
        """Full thread from a face [mm]."""
        return least if self.thread_depth is None else self.thread_depth

    def relief_bore(self, threads: tuple[Thread, Thread]) -> Any:
        """Bore between the threads [mm]."""
        if self.relief is not None:
            return self.relief
        return max(thread.tap_drill().taken.diameter for thread in threads)

    def clears(self, i: int, threads: tuple[Thread, Thread]) -> Any:
        """True where the male thread of end i runs on into the relief."""
        return np.greater_equal(self.relief_bore(threads), threads[i].major + 0.1)

    def undercut(self, threads: tuple[Thread, Thread]) -> Any:
        """True where the relief is wider than a drill leaves it that went through from either end."""
        return np.greater(
            self.relief_bore(threads), max(t.tap_drill().taken.diameter for t in threads) + 1e-6
        )

    def stock_thickness(self) -> Any:
        return self.outside().across

    def face(self, i: int) -> Any:
        return self.outside().across

    def slant(self) -> Any:
        flats = self.middle()
        shapes = [self.outside(), *([] if flats is None else [flats[0]])]
        return slanted(shapes)

    def walls(self, i: int, thread: Thread) -> tuple[Any, Any]:
        return threaded_wall(self.outside(), thread, self.witness_hole)

    def rules(self, site: BetweenEnds) -> Iterator[Rule]:
        """Rules of the body."""
        field, link, edge_break = site.field, site.link, site.edge_break
        threads = (link.ends[0].thread, link.ends[1].thread)
        bore, outside = self.relief_bore(threads), self.outside()
        yield from self._bore_rules(field, link, bore)
        for thread in threads:
            yield at_least(
                "body.burst", f"{field}.{self._size}", outside.across, 1.4 * thread.major,
                "the body would burst beside its thread (1.4 diameters of the thread: E. M. Alexander, SAE "
                "770420, from memory)", "make the body larger",
            )  # fmt: skip
        if outside.kind != "round":
            yield wrench_rule("body.wrench_size", f"{field}.across_flats", outside.flats)
        yield at_least(
            "body.wall", f"{field}.{self._size}", self._narrowest() - bore, 2.0 * LEAST_WALL,
            "too little wall is left over the relief (1.5 mm: common practice, no source)",
            "make the body larger, or the relief smaller",
        )  # fmt: skip
        wall = (outside.across - np.maximum(threads[0].major, threads[1].major)) / 2.0
        yield at_most(
            "body.break", "edge_break", edge_break, wall / 3.0, "the chamfers would eat the ends of the body",
            "lessen the edge break",
        )  # fmt: skip
        if self.witness_hole is not None:
            yield from self._witness_rules(field, self.witness_hole, threads, edge_break)
        if self.tommy_bar is not None:
            yield from self._tommy_rules(
                field, self.tommy_bar, bore, self._relief_length(link), edge_break
            )

    _size = "across_flats"

    def _narrowest(self) -> Any:
        return self.outside().across

    def _relief_length(self, link: Adjustment) -> Any:
        return link.body - link.mouths[0].depth - link.mouths[1].depth

    def _bore_rules(self, field: str, link: Adjustment, bore: Any) -> Iterator[Rule]:
        for end in link.ends:
            yield at_least(
                "body.relief", f"{field}.relief", bore, end.thread.minor_internal,
                "the relief is smaller than the tap drill", "leave it out, or make it larger",
            )  # fmt: skip
        yield at_least(
            "body.length", f"{field}.length" if self.length is not None else "pin_to_pin.maximum",
            self._relief_length(link), LEAST_RELIEF,
            "the two threads leave no room for a relief between them",
            "make the link longer, the engagement or thread depth less, choose ends with shorter shanks, or state a "
            "relief that clears the threads",
        )  # fmt: skip
        if self.thread_depth is not None and self.witness_hole is not None:
            for i in (0, 1):
                yield at_least(
                    "body.thread_depth", f"{field}.thread_depth", self.thread_depth,
                    link.witness_at(i) + self.witness_hole / 2.0,
                    "the witness hole would lie beyond the thread",
                    "tap deeper, or leave the depth out",
                )  # fmt: skip

    def _witness_rules(
        self, field: str, hole: Any, threads: tuple[Thread, Thread], edge_break: Any
    ) -> Iterator[Rule]:
        for thread in threads:
            yield at_most(
                "body.witness", f"{field}.witness_hole", hole, 0.35 * thread.minor_internal,
                "a witness hole this large weakens the wall (a third of the bore: common practice, no source)",
                "1.5 to 3 mm is enough for a wire",
            )  # fmt: skip
        yield at_least(
            "body.witness_small", f"{field}.witness_hole", hole, 1.0, "no wire goes in", "make it 1.5 to 3 mm"
        )  # fmt: skip
        yield at_most(
            "body.witness_flat", f"{field}.witness_hole", hole + 2.0 * edge_break + HOLE_EDGE,
            self.outside().flat_width(), "the hole runs off the flat that it is drilled in", "make it smaller",
        )  # fmt: skip

    def _tommy_rules(
        self, field: str, hole: Any, bore: Any, relief: Any, edge_break: Any
    ) -> Iterator[Rule]:
        yield at_most(
            "body.tommy", f"{field}.tommy_bar", hole, 0.9 * bore,
            "the hole for the bar is as wide as the bore and "
            "would cut the body in two", "choose a thinner bar",
        )  # fmt: skip
        yield at_most(
            "body.tommy_relief", f"{field}.tommy_bar", hole, relief - 2.0 * HOLE_EDGE,
            "the hole for the bar would run into the threads", "choose a thinner bar, or lengthen the body",
        )  # fmt: skip
        yield at_most(
            "body.tommy_flat", f"{field}.tommy_bar", hole + 2.0 * edge_break + HOLE_EDGE,
            self.outside().flat_width(), "the hole runs off the flat that it is drilled in",
            "choose a thinner bar",
        )  # fmt: skip
