"""The body of a turnbuckle: a bar tapped from both ends and relieved in the middle.

Distances along the body are measured from its face for end a.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np
from pydantic import Field

from parts.core.loadpath import Notch
from parts.core.loads import LoadCase
from parts.core.part import Piece
from parts.core.rules import Rule, at_least, at_most
from parts.families.links.adjustment import Adjustment
from parts.families.links.body import LinkBody, slanted, threaded_wall
from parts.families.links.link_column import ColumnBody, column_body
from parts.families.links.sites import BetweenEnds
from parts.families.links.stretches import (
    Outside,
    Stretch,
    along_x,
    area_and_modulus,
    bored_stretch,
    drilled_stretches,
    faced_bar,
    hole_break,
    milled_flats,
    through_hole,
    wall_drill,
)
from parts.families.links.wrench import wrench_rule
from parts.features.section.notches import SHARP, TAPPED
from parts.inputs.quantities import PositiveLength
from parts.standards.materials.materials import Material
from parts.standards.threads.threads import Thread
from parts.strength.section.properties import properties

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Dimension, Drawn
    from parts.core.loadpath import Span
    from parts.core.supports import Held

LEAST_RELIEF = 2.0
"""Least length of the relief between the threads [mm]; common practice, no source."""
LEAST_WALL = 1.5
HOLE_EDGE = 1.0
X = np.eye(3)[0]


class TurnBody(LinkBody):
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

    def column(self, link: Adjustment, metal: Material) -> ColumnBody:
        """Bored to the larger of relief and thread."""
        a, b = (end.thread for end in link.ends)
        relief = self.relief_bore((a, b))
        bore = np.maximum(np.maximum(relief, a.major), b.major)
        one = column_body(
            metal, properties(self.outside().bored(bore)), self.outside().corner / 2.0
        )
        middle, whole = self.weakest_middle(relief), one.middle
        return one._replace(
            middle=(np.minimum(middle[0], whole[0]), np.minimum(middle[1], whole[1]))
        )

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

    def spans(self, site: BetweenEnds) -> list[Span]:
        """The load path from face to face: thread, witness hole, thread, relief (with flats and bar hole), and so to
        the other end."""
        link, edge_break = site.link, site.edge_break
        outside, whole = self.outside(), link.body
        threads = (link.ends[0].thread, link.ends[1].thread)
        bore = self.relief_bore(threads)
        found: list[Span] = []

        def add(stretches: Sequence[Stretch], *, mirrored: bool = False) -> None:
            for name, low, high, outline, n, notch in stretches:
                a, b = (whole - high, whole - low) if mirrored else (low, high)
                found.extend(along_x(name, a, b, outline, site, site.metal, "body", n, notch))

        for i, name in ((0, "a"), (1, "b")):
            thread, mouth = threads[i], link.mouths[i]
            near = np.maximum(
                mouth.countersink, edge_break + (outside.corner - outside.across) / 2.0
            )
            add(self._thread_stretches(name, thread, near, mouth.depth, link.witness_at(i), edge_break),
                mirrored=i == 1)  # fmt: skip
        add(self._middle_stretches(link, bore, edge_break))
        return found

    def _thread_stretches(
        self, name: str, thread: Thread, low: Any, high: Any, at: Any, edge_break: Any
    ) -> list[Stretch]:
        outside, d = self.outside(), thread.minor_internal
        if self.witness_hole is None:
            return [bored_stretch(f"thread {name}", outside, d, low, high, TAPPED)]
        names = (f"thread {name}", f"witness hole {name}", f"thread {name} behind the witness hole")
        hole = (self.witness_hole, at, edge_break)
        return drilled_stretches(names, outside, d, low, high, hole, through=False, notched=TAPPED)

    def _middle_stretches(self, link: Adjustment, bore: Any, edge_break: Any) -> list[Stretch]:
        outside = self.outside()
        low, high = link.mouths[0].depth, link.body - link.mouths[1].depth
        centre, flats = (low + high) / 2.0, self.middle()
        threads = (link.ends[0].thread, link.ends[1].thread)
        # Bored out wider than it was drilled through, the relief ends in sharp corners.
        step = Notch(np.where(self.undercut(threads), SHARP.K_t, 1.0), SHARP.radius)
        if self.tommy_bar is not None:
            names = ("relief", "beside the bar hole", "relief")
            hole = (self.tommy_bar, centre, edge_break)
            return drilled_stretches(
                names, outside, bore, low, high, hole, through=True, notched=step
            )
        if flats is not None:
            milled, half = flats[0], flats[1] / 2.0
            return [
                bored_stretch("relief", outside, bore, low, centre - half, step),
                bored_stretch("wrench flats", milled, bore, centre - half, centre + half, SHARP),
                bored_stretch("relief", outside, bore, centre + half, high, step),
            ]
        return [bored_stretch("relief", outside, bore, low, high, step)]

    def held(self, site: BetweenEnds, case: LoadCase) -> list[Held]:
        from parts.families.links.supports import threaded_body

        return [threaded_body("body", site, case, self.outside())]

    def drawn(self, site: BetweenEnds) -> list[Drawn]:
        """The sheet of the body."""
        from parts.core.drawing import Callout, CentreLine, Diameter, Linear, Marks
        from parts.families.links.drawing import (
            body_sheet,
            end_marks,
            middle_flats,
            outside_sizes,
            wall_hole_marks,
            witness_marks,
        )

        link, start, edge_break = site.link, float(site.start), float(site.edge_break)
        long, outside = float(link.body), self.outside()
        threads = (link.ends[0].thread, link.ends[1].thread)
        bore = float(self.relief_bore(threads))
        depths = [float(mouth.depth) for mouth in link.mouths]
        middle = (depths[0] + long - depths[1]) / 2.0
        sizes: list[Dimension] = [
            Linear("length", (0, 0, 0), (long, 0, 0), X, long, view="front"),
            *outside_sizes(outside, 0.0),
        ]
        flats = self.middle()
        if flats is not None:
            sizes += middle_flats(float(flats[0].flats), float(flats[1]), middle)
        at = depths[0] + 0.25 * (long - depths[0] - depths[1])
        words = "relief {0} between" if self.undercut(threads) else "{0} drilled through, behind"
        sizes.append(
            Callout(
                "relief", (at, -bore / 2, 0), f"{words} the threads",
                (Diameter("relief", (at, 0, 0), X, bore),), view="front",
            )
        )  # fmt: skip
        marks = Marks(tuple(sizes), centres=(CentreLine((0, 0, 0), (long, 0, 0)),))
        top = float(outside.across) / 2.0
        for i in (0, 1):
            behind = bore if bore > float(threads[i].minor_internal) + 1e-6 else None
            marks += end_marks(
                i, threads[i], depths[i], edge_break, long, behind=behind, through=True
            )
            marks += witness_marks(i, self.witness_hole, link, top, long)
        if self.tommy_bar is not None:
            bar = wall_hole_marks(
                "hole for a tommy bar", middle, float(self.tommy_bar), top, both=True
            )
            marks += bar
        return [body_sheet(marks, start, "body", "body")]

    def pieces(self, site: BetweenEnds) -> list[Piece]:
        solid = self.solid(site.link, float(site.edge_break))
        return [Piece("body", site.metal, solid.translate((float(site.start), 0, 0)))]

    def facts(self, site: BetweenEnds) -> Mapping[str, tuple[Any, str]]:
        """Its length."""
        return {"body, length over its faces": (site.link.body, "mm")}

    def cautions(self, site: BetweenEnds) -> Sequence[str]:
        """How its relief is made."""
        if not np.any(self.undercut((site.link.ends[0].thread, site.link.ends[1].thread))):
            return ()
        return (
            "The relief is bored out behind the threads: leave it out where no tool reaches so deep.",
        )

    def solid(self, link: Adjustment, edge_break: float) -> cq.Workplane:
        """The body, its face for end a at x = 0."""
        from parts.features.thread.threaded import tapped_hole
        from parts.shapes.profile import cylinder

        long = float(link.body)
        body = faced_bar(self.outside(), long, edge_break)
        threads = (link.ends[0].thread, link.ends[1].thread)
        depths = [float(mouth.depth) for mouth in link.mouths]
        body = body.cut(
            cylinder(float(self.relief_bore(threads)), depths[0], long - depths[1], "x")
        )
        for i in (0, 1):
            tool = tapped_hole(
                threads[i], depths[i], relief=False, through=True, edge_break=edge_break
            )
            if i == 0:
                tool = tool.rotate((0, 0, 0), (0, 0, 1), 180.0)
            body = body.cut(tool.translate((0.0 if i == 0 else long, 0, 0)))
        flats = self.middle()
        if flats is not None:
            body = body.cut(
                milled_flats(
                    self.outside(), flats[0].flats, flats[1], (depths[0] + long - depths[1]) / 2.0
                )
            )
        if self.witness_hole is not None:
            for i in (0, 1):
                at = float(link.witness_at(i))
                body = body.cut(
                    wall_drill(
                        self.outside(),
                        float(self.witness_hole),
                        at if i == 0 else long - at,
                        edge_break,
                    )
                )
        if self.tommy_bar is not None:
            body = body.cut(self._bar_tool((depths[0] + long - depths[1]) / 2.0, edge_break))
        return body

    def _bar_tool(self, at: float, edge_break: float) -> cq.Workplane:
        from parts.shapes.profile import broken_hole

        assert self.tommy_bar is not None
        top = self._top()
        hole = float(self.tommy_bar)
        return broken_hole(hole, -top, top, hole_break(edge_break, hole), "y", (at, 0.0, 0.0))

    def _top(self) -> float:
        """Where the surface lies on +y [mm]."""
        return float(self.outside().across) / 2.0
