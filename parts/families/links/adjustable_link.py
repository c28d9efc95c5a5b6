"""Adjustable link: a tube with threaded bungs, or a solid bar, on rod ends or clevises that screw in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check
from parts.core.fatigue_places import Detail
from parts.core.loadpath import Span
from parts.core.loads import Action, LoadCase
from parts.core.part import Piece
from parts.core.rules import Rule
from parts.core.ways import Kind
from parts.families.links.adjustment import Mouth
from parts.families.links.bar_body import BarBody
from parts.families.links.clevis_end import HALF_TURN, ClevisEnd, placed
from parts.families.links.link import LinkPart
from parts.families.links.rod_end import RodEndEnd
from parts.families.links.statics import Borne, load_rules
from parts.families.links.strength import (
    ColumnBody,
    LinkColumn,
    column_modes,
    local_modes,
    soft_tube_modes,
    strip_modes,
    wall_modes,
)
from parts.families.links.tube_body import TubeBody
from parts.features.bolts.hardware import SURFACES, galvanic_cautions
from parts.features.press.pressed import coating_facts
from parts.features.weld.softened import welded
from parts.standards.materials.materials import Material, material
from parts.strength.method import plain

if TYPE_CHECKING:
    from parts.core.drawing import Drawn
    from parts.core.supports import Held
    from parts.standards.stock.stock import Stock

Body = Annotated[TubeBody | BarBody, Field(discriminator="type")]
End = Annotated[RodEndEnd | ClevisEnd, Field(discriminator="type")]
ENDS = ("end a", "end b")


class AdjustableLink(LinkPart):
    """An adjustable link."""

    summary: ClassVar[str] = (
        "a tube with threaded bungs, or a bar, on rod ends or clevises; its length is set"
    )
    axes: ClassVar[str] = (
        "origin midway between the pins; x along the link, end a at -x and end b at +x; z along the pins; "
        "y square to both, the way that the witness holes face"
    )
    not_covered: ClassVar[tuple[str, ...]] = (
        "fatigue of the heads of rod ends and of pins",
        "wear of balls and races",
        "impact beyond the stated load cases",
        "what the ends are pinned to",
    )
    example: ClassVar[Mapping[str, Any]] = {
        "family": "adjustable link",
        "name": "link",
        "title": "subframe strut",
        "material": "4130 normalized",
        "form": "tube",
        "pin_to_pin": {"minimum": "314 mm", "nominal": "320 mm", "maximum": "328 mm"},
        "engagement": "13 mm",
        "end_a": {"type": "rod end", "rod_end": "3/8-24 male RH"},
        "end_b": {"type": "rod end", "rod_end": "3/8-24 male LH"},
        "body": {
            "type": "tube",
            "tube": "7/8 in x 0.065 in",
            "bung": {
                "shoulder": "26 mm",
                "spigot": "14 mm",
                "wrench": {"type": "flats", "across_flats": "19 mm"},
            },
        },
        "loads": [
            {"name": "pull", "forces": [{"at": "end b", "force": ["4 kN", 0, 0]}]},
            {"name": "push", "forces": [{"at": "end b", "force": ["-4 kN", 0, 0]}]},
        ],
    }

    family: Literal["adjustable link"] = Field(
        "adjustable link", description="A tube or bar on two ends that screw in."
    )
    end_a: End = Field(description="The end at -x: a rod end or a clevis.")
    end_b: End = Field(description="The end at +x: a rod end or a clevis.")
    body: Body = Field(description="What lies between the ends: a tube with bungs, or a solid bar.")

    @model_validator(mode="after")
    def _can_be_welded_where_it_is(self) -> AdjustableLink:
        if isinstance(self.body, TubeBody):
            for metal in (self.metal, *(self.body.bung_metal(i, self.metal) for i in (0, 1))):
                welded(metal, self.body.weld.filler, self.body.size[1])
        return self

    def mouth(self, i: int, least: Any) -> Mouth:
        return self.body.mouth(i, self.ends[i], least, self.edge_break)

    @property
    def softened(self) -> bool:
        return bool(self.edge_break > 0.0)

    def stock_thickness(self) -> Any:
        return self.body.stock_thickness()

    def cut_from(self, piece: str) -> Stock | None:
        return self.body.tube if piece == "tube" and isinstance(self.body, TubeBody) else None

    def rules(self) -> Iterator[Rule]:
        for i, name in enumerate(("end_a", "end_b")):
            end = self.ends[i]
            if isinstance(end, ClevisEnd):
                self._end_metal(i)  # refused here, as an input, where it is not made in that size
                yield from end.rules(name, self.edge_break)
            else:
                yield from end.rules(name)
        yield from self.link.rules(self.assembled)
        yield from self.body.rules("body", self.link, self.metal, self.edge_break)
        yield from load_rules(self.loads, (self.end_a.type, self.end_b.type))

    def spans(self) -> Sequence[Span]:
        found = self.body.spans(
            self.link, self.link.face(self.assembled), lambda case, side: self.borne(case).beyond(side),
            self.metal, self.edge_break,
        )  # fmt: skip
        for i, end in enumerate(self.ends):
            if isinstance(end, ClevisEnd):
                own = end.spans(
                    ENDS[i], self.metal, self.edge_break, lambda case, i=i: [self._at_pin(case, i)],
                    f"clevis-{'ab'[i]}",
                )  # fmt: skip
                at = self.points()[ENDS[i]]
                found += [placed(span, np.eye(3) if i else HALF_TURN, at) for span in own]
        return found

    def _at_pin(self, case: LoadCase, i: int) -> Action:
        """What the pin does to an end, in the end's own axes."""
        load = self.borne(case)
        one = (load.a, load.b)[i]
        turn = np.eye(3) if i else HALF_TURN
        return Action(np.zeros(3), np.asarray(one.force) @ turn, np.asarray(one.moment) @ turn)

    def _female(self, i: int) -> Material:
        """What end i screws into."""
        return self.body.body_metal(i, self.metal)

    def _end_metal(self, i: int) -> Material:
        end = self.ends[i]
        return end.metal(self.metal) if isinstance(end, ClevisEnd) else material(end.steel.name)

    def column(self) -> ColumnBody:
        """The body as a column."""
        s, c = self.body.column_section(self.link)
        least = np.minimum(s.Iyy, s.Izz)
        return ColumnBody(
            self.metal, s.area, least, c, self.metal.density * s.area, (s.area, least / c)
        )

    @cached_property
    def _column(self) -> LinkColumn:
        metals = (self._end_metal(0), self._end_metal(1))
        return LinkColumn(self.column(), self.link, metals, self.eccentricity)

    @cached_property
    def _walls(self) -> tuple[Any, Any]:
        """Least area of the body through the thread of each end [mm^2]."""
        return self.body.wall_area(0, self.link), self.body.wall_area(1, self.link)

    def kinds(self) -> Sequence[Kind]:
        found = [Kind("column")]
        for name, end in zip(ENDS, self.ends, strict=True):
            found += [*end.kinds(name), Kind("threaded wall", name)]
            if isinstance(self.body, TubeBody):
                found.append(Kind("tube weld", name))
        return [*found, Kind("thin tube")] if isinstance(self.body, TubeBody) else found

    def modes(self, case: LoadCase) -> Iterator[Check]:
        load, link, required = self.borne(case), self.link, self.factors(case)
        column, longest = self._column, self.pin_to_pin.maximum
        metals = column.shanks
        yield from column_modes(column, load, self.shaken, case.name, required)
        if isinstance(self.body, TubeBody):
            yield from local_modes(column, self.body.size, self.shaken, load, case.name, required)
        for i, end in enumerate(self.ends):
            name, force = ENDS[i], load.on_end(i)
            if isinstance(end, ClevisEnd):
                bent = column.beside(load, i, link.bare(i, longest))
                yield from end.modes(
                    name,
                    self.metal,
                    case,
                    self._at_pin(case, i),
                    plain(bent),
                    self.edge_break,
                    required,
                )
            else:
                free = link.free(i, longest)
                bent = column.beside(load, i, free)
                yield from end.modes(name, force, bent, free, case.name, required)
            female = self._female(i)
            yield from strip_modes(
                name, end.thread, metals[i], female, link.engaged(i, longest), self.body.wall_outside(i),
                force, case.name, required,
            )  # fmt: skip
            yield from wall_modes(
                name, self._walls[i], end.thread, female, force, case.name, required
            )
            if isinstance(self.body, TubeBody):
                yield from self._weld_modes(self.body, i, load, case, required)

    def _weld_modes(
        self, body: TubeBody, i: int, load: Borne, case: LoadCase, required: Any
    ) -> Iterator[Check]:
        bung, (soft_to, tube) = body.bungs[i], body.softened(i, self.link)
        throat = np.minimum(bung.prep(body.size[1]), body.size[1])
        metals = (self.metal, body.bung_metal(i, self.metal))
        bears = self._bears(i, load, bung.shoulder)
        yield from body.weld.modes(ENDS[i], body.size, throat, metals, bears, case.name, required)
        bears = self._bears(i, load, soft_to)
        soft = welded(self.metal, body.weld.filler, body.size[1])
        yield from soft_tube_modes(ENDS[i], tube, soft, bears, case.name, required)

    def _bears(self, i: int, load: Borne, from_face: Any) -> tuple[Any, Any, Any, Any]:
        """Force along and across [N], bending moment and torque [N*mm] at a place from the body's face for end i
        [mm], up to its middle, at the longest."""
        one, force = (load.a, load.b)[i], load.on_end(i)
        moment, longest = np.asarray(one.moment), self.pin_to_pin.maximum
        lever = np.minimum(self.link.bare(i, longest) + from_face, longest / 2.0)
        bent = plain(self._column.beside(load, i, lever))
        bending = np.hypot(moment[..., 1], moment[..., 2]) + force.sideways * lever + bent
        return force.pull, force.sideways, bending, moment[..., 0]

    def standing(self) -> Iterator[Check]:
        for i, end in enumerate(self.ends):
            if isinstance(end, ClevisEnd) and (pressed := end.ears.pressed(self._end_metal(i))):
                yield from replace(pressed, name=f"{ENDS[i]} {pressed.name}").modes()

    def details(self) -> Sequence[Detail]:
        found: list[Detail] = []
        for i, end in enumerate(self.ends):
            found += end.details(ENDS[i], self.metal, self.checks_under)
            if isinstance(self.body, TubeBody):
                found.append(self.body.weld.detail(ENDS[i], self.metal, self.checks_under))
        return found

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.core.supports import Held, held_in, turned
        from parts.features.fork.supports import pin_loads, shank_support

        found = self._body_held(case)
        for i, end in enumerate(self.ends):
            if isinstance(end, ClevisEnd):
                own = self._at_pin(case, i)
                where = np.eye(3) if i else HALF_TURN, self.points()[ENDS[i]]
                piece = f"clevis-{'ab'[i]}"
                loads = turned(pin_loads(end.ears, [own]), *where)
                supports = held_in(
                    shank_support(end.shank, end.body(float(self.edge_break))), *where
                )
                found.append(Held(piece, supports, loads))
        return found

    def _body_held(self, case: LoadCase) -> list[Held]:
        from parts.families.links.supports import bung_held, threaded_body, tube_held

        link, load, body = self.link, self.borne(case), self.body
        low, long = float(link.face(self.assembled)), float(link.body)
        threads = (link.ends[0].thread, link.ends[1].thread)
        depths = (float(link.mouths[0].depth), float(link.mouths[1].depth))
        if not isinstance(body, TubeBody):
            outside = body.outside()
            return [threaded_body("bar", threads, depths, low, low + long, load, outside)]
        outside, wall = (float(v) for v in body.size)
        start, end = (low + float(v) for v in body._ends(link))
        found = [tube_held((outside, wall), start, end, load)]
        for i, at in ((0, low), (1, low + long)):
            bung, acts = body.bungs[i], ((load.a,), (load.b,))[i]
            plug, tip = float(bung.plug(outside - 2.0 * wall)), float(bung.length - bung.lead_in)
            found.append(
                bung_held(
                    f"bung-{'ab'[i]}", threads[i], depths[i], plug, float(bung.shoulder), tip, at,
                    -1.0 if i else 1.0, acts,
                )
            )  # fmt: skip
        return found

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        found = dict(self.link.facts(self.assembled))
        found["body, length over its faces"] = (self.link.body, "mm")
        found |= self.body.facts(self.link)
        for i, name in enumerate("ab"):
            found[f"tapped depth at end {name}"] = (self.link.mouths[i].depth, "mm")
            end = self.ends[i]
            found |= end.facts(name, self.metal) if isinstance(end, ClevisEnd) else end.facts(name)
            if isinstance(end, ClevisEnd) and (pressed := end.ears.pressed(self._end_metal(i))):
                found |= {f"end {name}: {what}": fact for what, fact in pressed.facts().items()}
        return found | coating_facts(self.finish, self.metal)

    def cautions(self) -> Sequence[str]:
        touching = {"jam nut": SURFACES["rod end"]}
        if any(isinstance(end, RodEndEnd) for end in self.ends):
            touching["rod end"] = SURFACES["rod end"]
        metals = {one.name: one for one in (self._female(0), self._female(1))}
        said = [
            *(caution for one in metals.values() for caution in galvanic_cautions(one, touching)),
            *self.link.cautions(),
            *self.body.cautions(),
            *(
                c
                for end in self.ends
                if isinstance(end, ClevisEnd)
                for c in end.ears.pin_cautions()
            ),
        ]
        if self.link.opposite:
            said.append(
                "Mark the left-hand end: a groove round bung, bar or nut (common practice, no source)."
            )
        else:
            said.append(
                "With both threads of one hand, one end comes off its pin to change the length."
            )
        return said

    def drawn(self) -> Sequence[Drawn]:
        from parts.families.links.drawing import bar_drawn, bung_drawn, tube_drawn
        from parts.features.thread.shank_drawing import fork_drawn

        start, body, broken = (
            float(self.link.face(self.assembled)),
            self.body,
            float(self.edge_break),
        )
        if isinstance(body, TubeBody):
            sheets = [tube_drawn(body, self.link, start)]
            sheets += [bung_drawn(body, i, self.link, start, broken) for i in (0, 1)]
        else:
            sheets = [bar_drawn(body, self.link, start, broken)]
        for i, end in enumerate(self.ends):
            if isinstance(end, ClevisEnd):
                at, turn = self.points()[ENDS[i]], np.eye(3) if i else HALF_TURN
                sheets.append(
                    fork_drawn(
                        end.ears, end.shank, end.body(broken), origin=at, axes=turn,
                        piece=f"clevis-{'ab'[i]}", title=f"clevis, {end.thread.designation}",
                    )
                )  # fmt: skip
        return sheets

    def build(self) -> Sequence[Piece]:
        start = float(self.link.face(self.assembled))
        pieces = self.body.pieces(self.link, start, self.metal, float(self.edge_break))
        half = float(self.assembled) / 2.0
        for i, end in enumerate(self.ends):
            if isinstance(end, ClevisEnd):
                solid = end.solid(float(self.edge_break))
                if i == 0:
                    solid = solid.rotate((0, 0, 0), (0, 0, 1), 180.0)
                solid = solid.translate(((half if i else -half), 0, 0))
                pieces.append(Piece(f"clevis-{'ab'[i]}", end.metal(self.metal), solid))
        return pieces
