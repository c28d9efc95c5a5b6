"""The body of a turnbuckle: a bar tapped from both ends and relieved in the middle.

Distances along the body are measured from its face for end a.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.loadpath import Notch
from parts.core.loads import LoadCase
from parts.core.part import Piece
from parts.families.links.adjustment import Adjustment
from parts.families.links.halves import along_x
from parts.families.links.link_column import ColumnBody, column_body
from parts.families.links.sites import BetweenEnds
from parts.families.links.turn_sizes import TurnSizes
from parts.features.bung.stretches import (
    Stretch,
    bored_stretch,
    drilled_stretches,
    faced_bar,
    hole_break,
    milled_flats,
    wall_drill,
)
from parts.features.section.notches import SHARP, TAPPED
from parts.standards.materials.materials import Material
from parts.standards.threads.threads import Thread
from parts.strength.section.properties import properties

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Dimension, Drawn
    from parts.core.loadpath import Span
    from parts.core.supports import Held

X = np.eye(3)[0]


class TurnBody(TurnSizes):
    """A bar tapped from both ends and relieved in the middle."""

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
            witness_marks,
        )
        from parts.features.bung.marks import wall_hole_marks

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
                i,
                threads[i],
                depths[i],
                edge_break,
                long,
                behind=behind,
                through=True,
                off=float(site.eccentricity),
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
