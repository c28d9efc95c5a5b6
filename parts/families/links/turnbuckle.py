"""Heim-joint turnbuckle: a body with a thread at each end, and two rod ends with their jam nuts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check
from parts.core.fatigue_places import Detail
from parts.core.loadpath import Span
from parts.core.loads import LoadCase
from parts.core.part import Piece
from parts.core.rules import Rule
from parts.core.ways import Kind
from parts.families.links.adjustment import Mouth, tapped_mouth
from parts.families.links.link import LinkPart
from parts.families.links.rod_end import RodEndEnd
from parts.families.links.statics import load_rules
from parts.families.links.strength import (
    ColumnBody,
    LinkColumn,
    column_modes,
    strip_modes,
    wall_modes,
)
from parts.families.links.turn_body import FlattedBody, HexBody, RoundBody
from parts.features.bolts.hardware import SURFACES, galvanic_cautions, opposite_hands
from parts.features.press.pressed import coating_facts
from parts.standards.materials.materials import material
from parts.strength.section.properties import properties

if TYPE_CHECKING:
    from parts.core.drawing import Drawn
    from parts.core.supports import Held

Body = Annotated[HexBody | RoundBody | FlattedBody, Field(discriminator="type")]


class Turnbuckle(LinkPart):
    """A turnbuckle on rod ends."""

    summary: ClassVar[str] = (
        "hex, round or flatted body on two rod ends, its length set by turning it"
    )
    axes: ClassVar[str] = (
        "origin midway between the pins; x along the link, end a at -x and end b at +x; z along the pins; "
        "y square to both, the way that the first flat and the witness holes face"
    )
    not_covered: ClassVar[tuple[str, ...]] = (
        "fatigue of the heads of rod ends",
        "wear of balls and races",
        "impact beyond the stated load cases",
        "the clevises that the rod ends work in, and their bolts",
    )
    example: ClassVar[Mapping[str, Any]] = {
        "family": "heim-joint turnbuckle",
        "name": "turnbuckle",
        "title": "shift linkage turnbuckle",
        "material": "7075-T6",
        "form": "bar",
        "pin_to_pin": {"minimum": "138 mm", "nominal": "142 mm", "maximum": "146 mm"},
        "end_a": {"rod_end": "M10 male RH", "steel": "4130 Q&T 125 ksi"},
        "end_b": {"rod_end": "M10 male LH", "steel": "4130 Q&T 125 ksi"},
        "engagement": "12 mm",
        "body": {"type": "hex", "across_flats": "19 mm"},
        "loads": [
            {"name": "pull", "forces": [{"at": "end b", "force": ["3 kN", 0, 0]}]},
            {"name": "push", "forces": [{"at": "end b", "force": ["-2.5 kN", 0, 0]}]},
        ],
    }

    family: Literal["heim-joint turnbuckle"] = Field(
        "heim-joint turnbuckle", description="A body on two rod ends, its length set by turning it."
    )
    end_a: RodEndEnd = Field(description="The rod end at -x.")
    end_b: RodEndEnd = Field(description="The rod end at +x.")
    body: Body = Field(description="The body between the rod ends.")

    def mouth(self, i: int, least: Any) -> Mouth:
        first = self._first_mouths[i]
        # Where the shank meets no wider relief, the thread goes on for it to the shortest length.
        deepest = self.adjusted(self._first_mouths).entry(i, self.pin_to_pin.minimum)
        clear = self.body.clears(i, self._threads)
        run_on = np.maximum(first.depth, deepest + self._threads[i].pitch)
        depth = self.body.tapped(np.where(clear, first.depth, run_on)[()])
        open_to = np.where(clear, 2.0 * self.pin_to_pin.maximum, depth)
        return first._replace(depth=depth, open_to=open_to)

    @cached_property
    def _first_mouths(self) -> tuple[Mouth, Mouth]:
        """The mouths as deep as the engagement at the longest asks."""
        witness = 0.0 if self.body.witness_hole is None else self.body.witness_hole

        def mouth(thread: Any, least: Any) -> Mouth:
            sink = tapped_mouth(thread, self.edge_break)
            depth = least + sink + 2.0 * thread.pitch + witness
            return Mouth(depth, depth, sink, witness)

        a, b = map(mouth, self._threads, self.wanted)
        return a, b

    @property
    def _threads(self) -> tuple[Any, Any]:
        return self.end_a.thread, self.end_b.thread

    def stock_thickness(self) -> Any:
        return self.body.outside().across

    def rules(self) -> Iterator[Rule]:
        yield from self.end_a.rules("end_a")
        yield from self.end_b.rules("end_b")
        a, b = self._threads
        if a.pitch == b.pitch:
            yield opposite_hands("end_b.rod_end", a, b)
        yield from self.link.rules(self.assembled)
        yield from self.body.rules("body", self.link, self.edge_break)
        yield from load_rules(self.loads, ("rod end", "rod end"))

    def spans(self) -> Sequence[Span]:
        start = self.link.face(self.assembled)
        return self.body.spans(
            self.link,
            start,
            lambda case, side: self.borne(case).beyond(side),
            self.metal,
            self.edge_break,
        )

    def column(self) -> ColumnBody:
        """The body as a column: bored to the larger of relief and thread."""
        outside = self.body.outside()
        relief = self.body.relief_bore(self._threads)
        bore = relief
        for thread in self._threads:
            bore = np.maximum(bore, thread.major)
        s = properties(outside.bored(bore))
        least = np.minimum(s.Iyy, s.Izz)
        c = outside.corner / 2.0
        middle = self.body.weakest_middle(relief)
        return ColumnBody(
            self.metal, s.area, least, c, self.metal.density * s.area,
            (np.minimum(middle[0], s.area), np.minimum(middle[1], least / c)),
        )  # fmt: skip

    @cached_property
    def _column(self) -> LinkColumn:
        steels = (material(self.end_a.steel.name), material(self.end_b.steel.name))
        return LinkColumn(self.column(), self.link, steels, self.eccentricity)

    @cached_property
    def _walls(self) -> tuple[Any, Any]:
        """Area of the body at the witness hole of each end [mm^2]."""
        a, b = (properties(self.body.at_witness(thread)).area for thread in self._threads)
        return a, b

    def kinds(self) -> Sequence[Kind]:
        ends = ("end a", self.end_a), ("end b", self.end_b)
        return [
            Kind("column"),
            *(one for name, end in ends for one in (*end.kinds(name), Kind("threaded wall", name))),
        ]

    def modes(self, case: LoadCase) -> Iterator[Check]:
        load, link, required = self.borne(case), self.link, self.factors(case)
        longest, steels = self.pin_to_pin.maximum, self._column.shanks
        yield from column_modes(self._column, load, self.shaken, case.name, required)
        for i, (name, end) in enumerate((("end a", self.end_a), ("end b", self.end_b))):
            force = load.on_end(i)
            free = link.free(i, longest)
            bent = self._column.beside(load, i, free)
            yield from end.modes(name, force, bent, free, case.name, required)
            yield from strip_modes(
                name, end.thread, steels[i], self.metal, link.engaged(i, longest),
                self.body.outside().across, force, case.name, required,
            )  # fmt: skip
            yield from wall_modes(
                name, self._walls[i], end.thread, self.metal, force, case.name, required
            )

    def details(self) -> Sequence[Detail]:
        ends = ("end a", self.end_a), ("end b", self.end_b)
        return [
            one for name, end in ends for one in end.details(name, self.metal, self.checks_under)
        ]

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.families.links.supports import threaded_body

        low, link = float(self.link.face(self.assembled)), self.link
        depths = (float(link.mouths[0].depth), float(link.mouths[1].depth))
        high = low + float(link.body)
        load, outside = self.borne(case), self.body.outside()
        return [threaded_body("body", self._threads, depths, low, high, load, outside)]

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        found = dict(self.link.facts(self.assembled))
        found["body, length over its faces"] = (self.link.body, "mm")
        for i, (name, end) in enumerate((("a", self.end_a), ("b", self.end_b))):
            found[f"tapped depth at end {name}"] = (self.link.mouths[i].depth, "mm")
            found |= end.facts(name)
        return found | coating_facts(self.finish, self.metal)

    def cautions(self) -> Sequence[str]:
        bored = (
            [
                "The relief is bored out behind the threads: leave it out where no tool reaches so deep."
            ]
            if np.any(self.body.undercut(self._threads))
            else []
        )
        touching = {"rod end": SURFACES["rod end"], "jam nut": SURFACES["rod end"]}
        return (
            *galvanic_cautions(self.metal, touching),
            *self.link.cautions(),
            "Mark the left-hand end: a groove round body or nut (common practice, no source).",
            *bored,
        )

    def drawn(self) -> Sequence[Drawn]:
        from parts.families.links.drawing import turnbody_drawn

        start = float(self.link.face(self.assembled))
        return [turnbody_drawn(self.body, self.link, start, float(self.edge_break))]

    def build(self) -> Sequence[Piece]:
        solid = self.body.solid(self.link, self.edge_break)
        return [
            Piece(
                "body", self.metal, solid.translate((float(self.link.face(self.assembled)), 0, 0))
            )
        ]
