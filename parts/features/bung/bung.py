"""A threaded bung for the end of a tube: a shoulder outside, a spigot inside, a weld around.

Distances are measured from the outer face of the bung, into the tube.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np
from pydantic import Field

from parts.core.rules import Rule, at_least, at_most
from parts.features.bung.sizes import BungSizes
from parts.features.bung.stretches import (
    Outside,
    Stretch,
    bored_stretch,
    drilled_stretches,
    wall_drill,
)
from parts.features.bung.wrench import PlainShoulder
from parts.features.section.notches import TAPPED
from parts.features.thread import threaded, turned
from parts.inputs.designations import MaterialName
from parts.standards.threads.threads import Thread

if TYPE_CHECKING:
    import cadquery as cq

LEAST_WALL = 1.0
"""Least wall of a bung beside its bore [mm]; common practice, no source."""
LEAST_LAND = 2.0
"""Least round length between wrench flats or a hole and the weld prep [mm]; common practice, no source."""
ROOT_FACE = 0.2
"""Least of the shoulder's face that the weld prep leaves over the spigot [mm]; common practice, no source."""
LEAD_SLOPE = np.tan(np.radians(20.0))
FLOOR = 2.0


class BungShape(BungSizes):
    """A turned bung, tapped at its outer face and welded into a tube."""

    def rules(
        self,
        field: str,
        thread: Thread,
        depth: Any,
        at: Any,
        tube: tuple[Any, Any],
        edge_break: Any,
    ) -> Iterator[Rule]:
        """Rules of the bung.

        Args:
            field: its dotted path.
            thread: the thread of its end.
            depth: full thread [mm].
            at: outer face to the middle of the witness hole [mm].
            tube: outside diameter and wall of the tube [mm].
            edge_break: chamfer of its edges [mm].

        Returns:
            The rules.
        """
        outside, wall = tube
        yield from self._wall_rules(field, thread, outside, outside - 2.0 * wall)
        yield from self._length_rules(field, thread, depth, wall, edge_break)
        yield from self._wrench_rules(field, thread, outside, wall, edge_break)
        if self.witness_hole is not None:
            yield from self._witness_rules(field, thread, at, outside, wall, edge_break)

    def _wall_rules(self, field: str, thread: Thread, outside: Any, inside: Any) -> Iterator[Rule]:
        plug, d = self.plug(inside), self.round(outside).diameter
        yield at_least(
            "bung.wall", f"{field}.spigot", plug - 2.0 * LEAST_WALL,
            np.maximum(self.behind(thread), thread.major),
            "the spigot would have less than 1 mm of wall over the thread or the bore behind it",
            "choose a larger tube or a smaller thread, or leave the relief out",
        )  # fmt: skip
        yield at_least(
            "bung.burst", f"{field}.diameter", d, 1.4 * thread.major,
            "the bung would burst beside its thread (1.4 diameters of the thread: E. M. Alexander, SAE 770420, "
            "from memory)", "make the bung larger",
        )  # fmt: skip
        yield at_least(
            "bung.diameter", f"{field}.diameter", d, outside - 0.5, "the shoulder is smaller than the tube",
            "leave it out: it is then that of the tube",
        )  # fmt: skip
        yield at_most(
            "bung.clearance", f"{field}.clearance", self.clearance, 0.4,
            "a spigot this loose leaves the tube crooked (common practice, no source)",
            "0.05 to 0.2 mm slides in",
        )  # fmt: skip

    def _length_rules(
        self, field: str, thread: Thread, depth: Any, wall: Any, edge_break: Any
    ) -> Iterator[Rule]:
        yield at_least(
            "bung.spigot", f"{field}.spigot", self.spigot, np.maximum(3.0 * wall, self.lead_in + 3.0),
            "too short a spigot does not hold the tube straight (three walls: common practice, no source)",
            "lengthen it",
        )  # fmt: skip
        if self.bore == "closed":
            floor = self.length - threaded.blind_depth(
                thread, depth, relief=self.relief, beyond=self.beyond_thread
            )
            yield at_least(
                "bung.floor", f"{field}.spigot", floor, FLOOR, "the drill would break through the closed end",
                "lengthen the spigot, or open the bore",
            )  # fmt: skip
        else:
            yield at_least(
                "bung.length", f"{field}.spigot", self.length, depth,
                "the bung is shorter than its thread", "lengthen the spigot or the shoulder",
            )  # fmt: skip
        yield at_least(
            "bung.shoulder", f"{field}.shoulder",
            self.shoulder - self.grip - edge_break - self.prep(wall), LEAST_LAND,
            "no round is left between the wrench flats, the chamfer and the weld prep", "lengthen the shoulder",
        )  # fmt: skip
        yield at_most(
            "bung.lead", f"{field}.lead_in", self.lead_in, 0.5 * self.spigot,
            "the taper eats the spigot", "shorten it"
        )  # fmt: skip
        yield at_most(
            "bung.long", f"{field}.shoulder", self.length, 250.0,
            "no bung is this long; it looks like the wrong "
            "unit", "check the unit of this value",
        )  # fmt: skip

    def _wrench_rules(
        self, field: str, thread: Thread, outside: Any, wall: Any, edge_break: Any
    ) -> Iterator[Rule]:
        d = self.round(outside).diameter
        yield at_most(
            "bung.prep", f"{field}.weld_prep", 2.0 * self.prep(wall),
            d - self.plug(outside - 2.0 * wall) - 2.0 * ROOT_FACE,
            "the weld prep would eat the face that the tube stands against",
            "lessen it to three quarters of the wall",
        )  # fmt: skip
        narrow = d
        if not isinstance(self.wrench, PlainShoulder):
            narrow = np.minimum(d, self.wrench.across_flats)
            yield from self.wrench.rules(f"{field}.wrench", thread, d)
        room = (narrow - thread.major) / 2.0
        yield at_most(
            "bung.break", "edge_break", edge_break, np.minimum(room / 3.0, self.shoulder / 4.0),
            "the chamfers would eat the face of the bung", "lessen the edge break",
        )  # fmt: skip

    def _witness_rules(
        self, field: str, thread: Thread, at: Any, outside: Any, wall: Any, edge_break: Any
    ) -> Iterator[Rule]:
        path, r = f"{field}.witness_in", self.witness / 2.0 + edge_break
        yield at_most(
            "bung.witness", f"{field}.witness_hole", self.witness_hole, 0.35 * thread.minor_internal,
            "a witness hole this large weakens the wall (a third of the bore: common practice, no source)",
            "1.5 to 3 mm is enough for a wire",
        )  # fmt: skip
        yield at_least(
            "bung.witness_small", f"{field}.witness_hole", self.witness_hole, 1.0, "no wire goes in",
            "make it 1.5 "
            "to 3 mm",
        )  # fmt: skip
        low, high, where = {
            "wrench": (edge_break, self.grip, "wrench flats"),
            "shoulder": (self.grip, self.shoulder - self.prep(wall), "round shoulder"),
            "spigot": (
                self.shoulder + 2.0 * wall + LEAST_LAND,
                self.length - self.lead_in,
                "spigot",
            ),
        }[self.witness_in]
        why = f"at the least engagement the witness hole does not lie within the {where}"
        how = "say where it lies with witness_in, move the shoulder, or change the engagement"
        yield at_least("bung.witness_near", path, at - r, low, why, how)
        yield at_most("bung.witness_far", path, at + r, high, why, how)

    # --- sections and solid -----------------------------------------------------------------------------

    def places(
        self, thread: Thread, depth: Any, at: Any, tube: tuple[Any, Any], edge_break: Any
    ) -> list[Stretch]:
        """The load path from the outer face to the end of the thread, in stretches; see `rules`."""
        outside, wall = tube
        plain, held = self.round(outside), self.gripped(outside)
        plug = Outside("round", self.plug(outside - 2.0 * wall))
        sink = (thread.major - thread.minor_internal) / 2.0 + edge_break
        first = plain if held is None else held
        start = np.maximum(sink, edge_break + (first.corner - first.across) / 2.0)
        prep = self.shoulder - self.prep(wall)
        zones: list[tuple[str, Any, Any, Outside]] = []
        if held is not None:
            zones.append(("wrench", start, self.grip, held))
        zones.append(("shoulder", start if held is None else self.grip, prep, plain))
        zones.append(("spigot", self.shoulder, self.length - self.lead_in, plug))
        found: list[Stretch] = []
        for name, low, high, shape in zones:
            found += self._zone(name, low, high, shape, thread, depth, at, edge_break)
        return found

    def _zone(
        self,
        name: str,
        low: Any,
        high: Any,
        shape: Outside,
        thread: Thread,
        depth: Any,
        at: Any,
        edge_break: Any,
    ) -> list[Stretch]:
        end, d = np.minimum(high, depth), thread.minor_internal
        if self.witness_hole is not None and self.witness_in == name:
            names = (
                f"{name}, thread",
                f"{name}, witness hole",
                f"{name}, thread behind the witness hole",
            )
            hole = (self.witness_hole, at, edge_break)
            found = drilled_stretches(
                names, shape, d, low, end, hole, through=False, notched=TAPPED
            )
        else:
            found = [bored_stretch(f"{name}, thread", shape, d, low, end, TAPPED)]
        if name != "spigot" and self.bore == "open":
            # Behind its thread a spigot carries nothing; a shoulder carries everything to the weld.
            behind = self.behind(thread)
            found.append(
                bored_stretch(
                    f"{name} behind the thread", shape, behind, np.maximum(low, depth), high
                )
            )
        return found

    def solid(
        self, thread: Thread, depth: float, at: float, tube: tuple[float, float], edge_break: float
    ) -> cq.Workplane:
        """The bung, its outer face at x = 0, its spigot toward +x; see `rules`."""
        outside, wall = tube
        body = self._turned(outside, wall, edge_break)
        tool = threaded.tapped_hole(
            thread,
            depth,
            relief=self.relief,
            beyond=self.beyond_thread,
            through=self.bore == "open",
            edge_break=edge_break,
        ).rotate((0, 0, 0), (0, 0, 1), 180.0)
        body = body.cut(tool)
        if self.bore == "open" and depth < self.length:
            from parts.shapes.profile import cylinder

            body = body.cut(
                cylinder(float(self.behind(thread)), depth, float(self.length) + 1.0, "x")
            )
        if self.witness_hole is not None:
            body = body.cut(self.witness_tool(at, outside, wall, edge_break))
        return body

    def witness_tool(
        self, at: float, outside: float, wall: float, edge_break: float
    ) -> cq.Workplane:
        """What is drilled away for the witness hole, in the bung's own x."""
        held = self.gripped(outside)
        tube = Outside("round", outside)
        shape = {"wrench": held or tube, "shoulder": self.round(outside), "spigot": tube}[
            self.witness_in
        ]
        return wall_drill(shape, self.witness, at, edge_break)

    def _turned(self, outside: float, wall: float, edge_break: float) -> cq.Workplane:
        d, plug = float(self.round(outside).diameter), float(self.plug(outside - 2.0 * wall))
        prep, lead = float(self.prep(wall)), float(self.lead_in)
        shoulder, end, grip = float(self.shoulder), float(self.length), float(self.grip)
        held = self.gripped(outside)
        first = d if held is None or held.kind != "hex" else float(held.corner)
        c = edge_break
        along = c
        if held is not None and held.kind == "hex" and c > 0.0:
            c = c + (first - float(held.across)) / 2.0
            along = c * np.tan(np.pi / 6.0)
        steps = [
            turned.Step("", 0.0, along, first - 2.0 * c, first),
            turned.Step("", along, grip if grip else shoulder - prep, first),
            *([turned.Step("", grip, shoulder - prep, d)] if grip else []),
            turned.Step("", shoulder - prep, shoulder, d, d - 2.0 * prep),
            turned.Step("", shoulder, end - lead, plug),
            turned.Step("", end - lead, end, plug, plug - 2.0 * lead * LEAD_SLOPE),
        ]
        body = turned.solid([step for step in steps if step.length > 0.0])
        if held is None:
            return body
        return body.cut(
            turned.flats_tool(
                turned.Step(
                    "",
                    -1.0,
                    grip,
                    max(first, d),
                    flats=held.flats,
                    sides=6 if held.kind == "hex" else 2,
                )
            )
        )


class Bung(BungShape):
    """A turned bung, tapped for one end of a link and welded into its tube."""

    material: MaterialName | None = Field(
        None, description="Material of the bung, as bar; that of the tube where left out."
    )
