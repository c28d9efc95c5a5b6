"""The body of an adjustable link as one solid bar, tapped from both ends.

Distances along the body are measured from its face for end a.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.loadpath import smooth
from parts.core.loads import LoadCase
from parts.core.part import Piece
from parts.core.rules import Rule, at_least, at_most
from parts.families.links.adjustment import Adjustment, Mouth
from parts.families.links.body import LinkBody
from parts.families.links.halves import along_x
from parts.families.links.link_column import ColumnBody, column_body
from parts.families.links.sites import BetweenEnds
from parts.features.bung.stretches import (
    Outside,
    Stretch,
    bored_stretch,
    drilled_stretches,
    faced_bar,
    milled_flats,
    wall_drill,
)
from parts.features.bung.wall import slanted, threaded_wall
from parts.features.bung.wrench import cut_rule, grip_rule, wrench_rule
from parts.features.section.notches import SHARP, TAPPED, same, tapped_relief
from parts.features.thread import threaded
from parts.features.thread.threaded import tapped_mouth
from parts.inputs.quantities import PositiveLength
from parts.standards.materials.materials import Material
from parts.standards.threads.threads import Thread
from parts.strength.section.outline import Outline
from parts.strength.section.properties import properties

if TYPE_CHECKING:
    from parts.core.drawing import Drawn
    from parts.core.loadpath import Span
    from parts.core.supports import Held

X = np.eye(3)[0]
LEAST_SOLID = 5.0
LEAST_WALL = 1.5
CORE = 0.5
"""Least width across wrench flats over the diameter of the bar [-]; common practice, no source."""


class BarBody(LinkBody):
    """One solid bar, round or hexagonal, tapped from both ends."""

    type: Literal["bar"] = Field("bar", description="One solid bar, tapped from both ends.")
    section: Literal["round", "hex"] = Field("round", description="Round or hexagonal bar.")
    size: PositiveLength = Field(description="Diameter, or width across flats of a hexagon.")
    length: PositiveLength | None = Field(
        None,
        description="Length over its faces; left out, what the longest length and the engagement ask.",
    )
    wrench_flats: PositiveLength | None = Field(
        None, description="Distance across wrench flats in the middle of a round bar."
    )
    flats_length: PositiveLength = Field(12.0, description="Length of the wrench flats.")
    thread_depth: PositiveLength | None = Field(
        None, description="Full thread from each face; past the witness hole where left out."
    )
    relief: bool = Field(True, description="Cut a relief groove behind each thread.")
    beyond_thread: threaded.BeyondThread = threaded.BEYOND
    witness_hole: PositiveLength | None = Field(
        2.0, description="Diameter of the witness holes; null leaves them out."
    )

    def outside(self) -> Outside:
        """The outside of the bar."""
        return (
            Outside("hex", 0.0, self.size) if self.section == "hex" else Outside("round", self.size)
        )

    def milled(self) -> Outside | None:
        """The outside at the wrench flats; None without."""
        return (
            None if self.wrench_flats is None else Outside("flatted", self.size, self.wrench_flats)
        )

    def stock_thickness(self) -> Any:
        """Size of the bar [mm]."""
        return self.size

    def mouth(self, i: int, end: Any, wanted: Any, edge_break: Any) -> Mouth:
        """The tapped hole for an end."""
        thread, witness = end.thread, 0.0 if self.witness_hole is None else self.witness_hole
        sink = tapped_mouth(thread, edge_break)
        least = wanted + sink + 2.0 * thread.pitch + witness
        depth = least if self.thread_depth is None else self.thread_depth
        on = threaded.behind_thread(thread, relief=True) if self.relief else 0.0
        return Mouth(depth, depth + on, sink, witness)

    def face(self, i: int) -> Any:
        return self.outside().across

    def slant(self) -> Any:
        shapes = [self.outside(), *([] if (milled := self.milled()) is None else [milled])]
        return slanted(shapes)

    def walls(self, i: int, thread: Thread) -> tuple[Any, Any]:
        return threaded_wall(self.outside(), thread, self.witness_hole)

    def _solid(self) -> Outline:
        milled = self.milled()
        return (self.outside() if milled is None else milled).outline()

    def column(self, link: Adjustment, metal: Material) -> ColumnBody:
        """The weakest of the solid and the bored section."""
        whole, outside = properties(self._solid()), self.outside()
        bores = [self._groove(end.thread) for end in link.ends]
        bored = properties(outside.bored(np.maximum(*bores)))
        weaker = np.minimum(bored.Iyy, bored.Izz) < np.minimum(whole.Iyy, whole.Izz)
        s = bored if np.all(weaker) else whole
        return column_body(metal, s, outside.corner / 2.0)

    def _groove(self, thread: Thread) -> Any:
        return thread.relief("internal").diameter if self.relief else thread.major

    def rules(self, site: BetweenEnds) -> Iterator[Rule]:
        """Rules of the bar."""
        field, link, edge_break = site.field, site.link, site.edge_break
        outside = self.outside()
        for i in (0, 1):
            thread = link.ends[i].thread
            yield at_least(
                "bar.burst", f"{field}.size", outside.across,
                np.maximum(1.4 * thread.major, self._groove(thread) + 2.0 * LEAST_WALL),
                "the bar would burst beside its thread (1.4 diameters of the thread: E. M. Alexander, "
                "SAE 770420, "
                "from memory)", "make the bar larger",
            )  # fmt: skip
            yield from self._witness_rules(
                field, thread, link.witness_at(i), link.mouths[i].depth, edge_break
            )
            yield at_most(
                "bar.break", "edge_break", edge_break, (outside.across - thread.major) / 6.0,
                "the chamfers would eat the ends of the bar", "lessen the edge break",
            )  # fmt: skip
        yield at_least(
            "bar.length", f"{field}.length" if self.length is not None else "pin_to_pin.maximum",
            self._middle(link), LEAST_SOLID, "the two tapped holes would meet",
            "make the link longer, or tap less deep",
        )  # fmt: skip
        if self.section == "hex":
            yield wrench_rule("bar.wrench", f"{field}.size", self.size)
        if self.wrench_flats is not None:
            yield from self._flats_rules(field, self.wrench_flats, link)

    def _middle(self, link: Adjustment) -> Any:
        """Length of the solid middle [mm]."""
        return link.body - self._deep(link, 0) - self._deep(link, 1)

    def _deep(self, link: Adjustment, i: int) -> Any:
        return threaded.blind_depth(
            link.ends[i].thread, link.mouths[i].depth, relief=self.relief, beyond=self.beyond_thread
        )

    def _witness_rules(
        self, field: str, thread: Thread, at: Any, depth: Any, edge_break: Any
    ) -> Iterator[Rule]:
        if self.witness_hole is None:
            return
        hole, path = self.witness_hole, f"{field}.witness_hole"
        yield at_most(
            "bar.witness", path, hole, 0.35 * thread.minor_internal,
            "a witness hole this large weakens the wall (a third of the bore: common practice, no source)",
            "1.5 to 3 mm is enough for a wire",
        )  # fmt: skip
        yield at_least(
            "bar.witness_small", path, hole, 1.0, "no wire goes in", "make it 1.5 to 3 mm"
        )
        yield at_most(
            "bar.witness_flat", path, hole + 2.0 * edge_break + 1.0, self.outside().flat_width(),
            "the hole runs off the flat that it is drilled in", "make it smaller",
        )  # fmt: skip
        yield at_most(
            "bar.witness_deep", f"{field}.thread_depth", at + hole / 2.0, depth,
            "the witness hole would lie beyond the thread", "tap deeper, or leave the depth out",
        )  # fmt: skip

    def _flats_rules(self, field: str, flats: Any, link: Adjustment) -> Iterator[Rule]:
        path = f"{field}.wrench_flats"
        yield at_most(
            "bar.hex", path, 0.0 if self.section == "round" else 1.0, 0.0, "a hexagon has its flats already",
            "leave the wrench flats out", "",
        )  # fmt: skip
        yield cut_rule("bar.flats", path, flats, self.size)
        yield at_least(
            "bar.core", path, flats, CORE * self.size,
            "flats this deep leave half of the bar (common practice, no source)",
            "widen the distance across flats",
        )  # fmt: skip
        yield wrench_rule("bar.wrench", path, flats)
        yield grip_rule("bar.grip", f"{field}.flats_length", self.flats_length)
        yield at_most(
            "bar.flats_length", f"{field}.flats_length", self.flats_length, self._middle(link) - 2.0,
            "the wrench flats would thin the wall beside the tapped holes", "shorten the flats",
        )  # fmt: skip

    def spans(self, site: BetweenEnds) -> list[Span]:
        """The load path from face to face."""
        link, metal, edge_break = site.link, site.metal, site.edge_break
        found: list[Span] = []
        for i, name in ((0, "a"), (1, "b")):
            for what, low, high, outline, n, notch in self._end_stretches(
                link, i, name, edge_break
            ):
                a, b = (low, high) if i == 0 else (link.body - high, link.body - low)
                found += along_x(what, a, b, outline, site, metal, "bar", n, notch)
        for what, low, high, outline, n, notch in self._middle_stretches(link):
            found += along_x(what, low, high, outline, site, metal, "bar", n, notch)
        return found

    def _end_stretches(self, link: Adjustment, i: int, name: str, edge_break: Any) -> list[Stretch]:
        outside, thread, mouth = self.outside(), link.ends[i].thread, link.mouths[i]
        d, low = thread.minor_internal, np.maximum(
            mouth.countersink, edge_break + (outside.corner - outside.across) / 2.0
        )  # fmt: skip
        if self.witness_hole is None:
            found = [bored_stretch(f"thread {name}", outside, d, low, mouth.depth, TAPPED)]
        else:
            names = (
                f"thread {name}",
                f"witness hole {name}",
                f"thread {name} behind the witness hole",
            )
            hole = (self.witness_hole, link.witness_at(i), edge_break)
            found = drilled_stretches(
                names, outside, d, low, mouth.depth, hole, through=False, notched=TAPPED
            )
        behind = threaded.behind_thread(thread, relief=self.relief, beyond=self.beyond_thread)
        bore = thread.relief("internal").diameter if self.relief else d
        return [
            *found,
            bored_stretch(
                f"relief {name}",
                outside,
                bore,
                mouth.depth,
                mouth.depth + behind,
                tapped_relief(thread, outside.across, relief=self.relief),
            ),
        ]

    def _middle_stretches(self, link: Adjustment) -> list[Stretch]:
        low, high = self._deep(link, 0), link.body - self._deep(link, 1)
        outside, milled = self.outside(), self.milled()

        def plain(shape: Outside, a: Any, b: Any, name: str, notch: Any = smooth) -> Stretch:
            # A solid figure for each station: the size broadcasts with them.
            return (name, a, b, lambda t: _sized(shape, t).outline(), 3, notch)

        if milled is None:
            return [plain(outside, low, high, "solid bar")]
        half, centre = self.flats_length / 2.0, (low + high) / 2.0
        return [
            plain(outside, low, centre - half, "solid bar"),
            plain(milled, centre - half, centre + half, "wrench flats", same(SHARP)),
            plain(outside, centre + half, high, "solid bar"),
        ]

    def held(self, site: BetweenEnds, case: LoadCase) -> list[Held]:
        from parts.families.links.supports import threaded_body

        return [threaded_body("bar", site, case, self.outside())]

    def drawn(self, site: BetweenEnds) -> list[Drawn]:
        """The sheet of the bar, tapped from both ends."""
        from parts.core.drawing import CentreLine, Linear, Marks
        from parts.families.links.drawing import (
            body_sheet,
            end_marks,
            middle_flats,
            outside_sizes,
            witness_marks,
        )

        link, start, edge_break = site.link, float(site.start), float(site.edge_break)
        long = float(link.body)
        marks = Marks(
            (
                Linear("length", (0, 0, 0), (long, 0, 0), X, long, view="front"),
                *outside_sizes(self.outside(), 0.0),
            ),
            centres=(CentreLine((0, 0, 0), (long, 0, 0)),),
        )
        milled = self.milled()
        if milled is not None:
            centre = float(self._deep(link, 0) + link.body - self._deep(link, 1)) / 2.0
            flats = middle_flats(float(milled.flats), float(self.flats_length), centre)
            marks += Marks(tuple(flats))
        for i in (0, 1):
            thread, depth = link.ends[i].thread, float(link.mouths[i].depth)
            behind = float(thread.relief("internal").diameter) if self.relief else None
            marks += end_marks(
                i,
                thread,
                depth,
                edge_break,
                long,
                behind=behind,
                through=False,
                beyond=self.beyond_thread,
                off=float(site.eccentricity),
            )
            marks += witness_marks(
                i, self.witness_hole, link, float(self.outside().across) / 2.0, long
            )
        return [body_sheet(marks, start, "bar", "bar")]

    def pieces(self, site: BetweenEnds) -> list[Piece]:
        link, edge_break, long = site.link, float(site.edge_break), float(site.link.body)
        body = faced_bar(self.outside(), long, edge_break)
        if self.wrench_flats is not None:
            centre = float(self._deep(link, 0) + link.body - self._deep(link, 1)) / 2.0
            body = body.cut(
                milled_flats(self.outside(), self.wrench_flats, self.flats_length, centre)
            )
        for i in (0, 1):
            tool = threaded.tapped_hole(
                link.ends[i].thread, float(link.mouths[i].depth), relief=self.relief, through=False,
                edge_break=edge_break, beyond=self.beyond_thread,
            )  # fmt: skip
            tool = (
                tool.rotate((0, 0, 0), (0, 0, 1), 180.0) if i == 0 else tool.translate((long, 0, 0))
            )
            body = body.cut(tool)
            if self.witness_hole is not None:
                at = float(link.witness_at(i))
                drill = wall_drill(
                    self.outside(),
                    float(self.witness_hole),
                    at if i == 0 else long - at,
                    edge_break,
                )
                body = body.cut(drill)
        return [Piece("bar", site.metal, body.translate((float(site.start), 0, 0)))]

    def facts(self, site: BetweenEnds) -> Mapping[str, tuple[Any, str]]:
        """Length of the bar and depth of its holes."""
        link = site.link
        return {
            "body, length over its faces": (link.body, "mm"),
            "bar, length over its faces": (link.body, "mm"),
            "tapped hole a, depth to the drill's point": (self._deep(link, 0), "mm"),
            "tapped hole b, depth to the drill's point": (self._deep(link, 1), "mm"),
        }


def _sized(shape: Outside, t: Any) -> Outside:
    zero = 0.0 * np.asarray(t)
    return Outside(
        shape.kind, shape.diameter + zero, None if shape.flats is None else shape.flats + zero
    )
