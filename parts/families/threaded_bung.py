"""Threaded bung: a turned plug that is welded into the end of a tube and takes a rod end, a stud or a bolt."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any, ClassVar, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check
from parts.core.clearances import Clearance
from parts.core.fatigue_places import Detail, demand_of, thread_spot
from parts.core.freebody import Acting, reacting
from parts.core.loads import LoadCase, point_actions, resultant
from parts.core.part import Part, Piece
from parts.core.rules import Rule, at_least
from parts.core.ways import Kind
from parts.features.bolts.hardware import female_class, galvanic_cautions
from parts.features.bung.bung import BungShape
from parts.features.bung.stretches import on_x
from parts.features.bung.wall import wall_modes, wall_spot
from parts.features.press.fit import plug_in_tube
from parts.features.thread import threaded
from parts.features.weld.softened import REACH, welded, within_reach
from parts.features.weld.tube_weld import AtWeld, Bears, TubeWeld, tube_beyond
from parts.inputs.designations import MaterialName, ThreadName, TubeName
from parts.inputs.quantities import NonNegativeLength, PositiveLength
from parts.standards.materials.materials import Material, material

if TYPE_CHECKING:
    from parts.core.drawing import Drawn
    from parts.core.loadpath import Span
    from parts.core.supports import Held
    from parts.core.weldment import Weldment

X, Y, _ = np.eye(3)
BASE = {
    "family": "threaded bung", "name": "HC-116", "title": "bung for a rod end", "material": "4130 normalized",
    "form": "bar", "thread": "M12", "engagement": "18 mm", "mate": "4130 Q&T 125 ksi", "reach": "30 mm",
    "tube": "1-1/8 in x 0.095 in", "tube_material": "4130 normalized",
    "bung": {"shoulder": "10 mm", "spigot": "22 mm", "witness_hole": "2 mm", "witness_in": "spigot"},
    "loads": [{"name": "wheel pushed", "forces": [{"at": "end", "force": ["9 kN", "300 N", 0]}]}],
}  # fmt: skip


class ThreadedBung(Part):
    """A threaded bung for the end of a tube."""

    summary: ClassVar[str] = (
        "a turned bung, tapped for a rod end, a stud or a bolt and welded into the end of a tube"
    )
    axes: ClassVar[str] = "origin in the middle of the outer face; x into the tube"
    load_points: ClassVar[Mapping[str, str]] = {"end": ""}
    not_covered: ClassVar[tuple[str, ...]] = (
        "the tube beyond the heat of the weld", "what screws in beyond its thread, and its jam nut",
        "distortion and residual stress of welding",
    )  # fmt: skip
    example: ClassVar[Mapping[str, Any]] = BASE
    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        BASE,
        BASE | {
            "title": "closed bung with a hexagon", "thread": "M10 LH", "engagement": "14 mm", "material": "6061-T6",
            "tube": "1-1/4 in x 0.125 in", "tube_material": "6061-T6", "weld": {"filler": "ER4043"},
            "bung": {"shoulder": "22 mm", "spigot": "16 mm", "bore": "closed", "witness_hole": None,
                "wrench": {"type": "hex", "across_flats": "30 mm", "length": "12 mm"}},
            "loads": [{"name": "pulled", "forces": [{"at": "end", "force": ["-2 kN", 0, "60 N"]}],
                "spectrum": [{"cycles": 20000}], "ratio": 0}],
        },
        BASE | {
            "title": "bung with a brim", "weld": {"type": "fillet", "leg": "2.5 mm"}, "reach": 0,
            "bung": {"shoulder": "26 mm", "spigot": "14 mm", "diameter": "36 mm", "relief": False, "weld_prep": 0,
                "wrench": {"type": "flats", "across_flats": "32 mm", "length": "12 mm"}},
            "loads": [{"name": "stud pulled", "forces": [{"at": "end", "force": ["-6 kN", 0, 0]}],
                "spectrum": [{"cycles": 5000}], "ratio": 0}],
        },
    )  # fmt: skip

    family: Literal["threaded bung"] = Field(
        "threaded bung", description="A threaded bung for the end of a tube."
    )
    thread: ThreadName = Field(description="Its thread by designation.")
    engagement: PositiveLength = Field(description="Least length of full thread that is engaged.")
    mate: MaterialName = Field(description="Material of what screws in.")
    reach: NonNegativeLength = Field(
        0.0,
        description="From the outer face out to where the load acts, as to the ball of a rod end.",
    )
    tube: TubeName = Field(description="The tube by outside diameter and wall.")
    tube_material: MaterialName = Field(description="Material of the tube.")
    bung: BungShape = Field(description="The bung by its sizes.")
    weld: TubeWeld = Field(
        default_factory=TubeWeld, description="The weld between tube and shoulder."
    )

    # --- sizes --------------------------------------------------------------------------------------

    @property
    def size(self) -> tuple[Any, Any]:
        """Outside diameter and wall of the tube [mm]."""
        return self.tube.width_mm, self.tube.wall_mm

    def stock_thickness(self) -> Any:
        return self.bung.widest(self.size[0])

    @property
    def depth(self) -> Any:
        """Full thread from the outer face [mm]."""
        return self.bung.full_thread(self.thread, self.engagement, self.edge_break)

    @property
    def witness_at(self) -> Any:
        """Outer face to the middle of the witness hole [mm]: a wire stops there once the engagement is reached."""
        lost = threaded.tapped_mouth(self.thread, self.edge_break)
        return self.engagement + lost + self.bung.witness / 2.0

    @cached_property
    def soft(self) -> Material:
        """Its metal beside the weld."""
        return welded(self.metal, self.weld.filler, self.size[1])

    @cached_property
    def _of_tube(self) -> Material:
        return material(
            self.tube_material.name, thickness_mm=float(np.max(self.size[1])), form="tube"
        )

    @cached_property
    def _tapped(self) -> Material:
        """What the thread is cut into."""
        return within_reach(self.metal, self.soft, self.bung.shoulder - self.depth)

    @model_validator(mode="after")
    def _can_be_welded(self) -> ThreadedBung:
        for metal in (self.metal, self._of_tube):
            welded(metal, self.weld.filler, self.size[1])
        return self

    def points(self) -> Mapping[str, Any]:
        return {"end": on_x(-np.asarray(self.reach, float))}

    # --- rules and load path ------------------------------------------------------------------------

    def rules(self) -> Iterator[Rule]:
        yield female_class("thread", self.thread)
        yield threaded.engagement_rule("engagement", self.engagement, self.thread)
        yield at_least("bung.depth", "bung.thread_depth", self.depth,
            self.engagement + threaded.tapped_mouth(self.thread, self.edge_break),
            "more thread must engage than there is", "deepen the thread")  # fmt: skip
        yield from self.bung.rules(
            "bung", self.thread, self.depth, self.witness_at, self.size, self.edge_break
        )
        yield from self.weld.rules(self._at_weld)

    def _beyond(self, case: LoadCase) -> Any:
        return point_actions(case, self.points())

    def _bears(self, case: LoadCase, x: Any) -> Bears:
        """What the section at x bears [mm]."""
        force, moment = resultant(self._beyond(case), on_x(x))
        return Bears(
            -force[..., 0], np.hypot(force[..., 1], force[..., 2]), np.hypot(moment[..., 1], moment[..., 2]),
            np.abs(moment[..., 0]), 0.0,
        )  # fmt: skip

    def spans(self) -> Sequence[Span]:
        from parts.core.loadpath import Span

        found = []
        places = self.bung.places(
            self.thread, self.depth, self.witness_at, self.size, self.edge_break
        )
        for name, low, high, outline, n, notch in places:
            if not np.any(np.greater(high, low)):
                continue
            high = np.maximum(high, low + 1e-3)
            metal = within_reach(self.metal, self.soft, self.bung.shoulder - np.asarray(high))
            axes = np.diag([-1.0, 1.0, -1.0])
            ends = on_x(low), on_x(high)
            found.append(Span(name, *ends, axes, outline, self._beyond, metal, "part", n, notch))
        return found

    @property
    def _at_weld(self) -> AtWeld:
        outside, wall = self.size
        return AtWeld(
            "weld", self._of_tube, "bung", required=self.factors, tube=self.size,
            shoulder=self.bung.round(outside).diameter, prep=self.bung.prep(wall), bung=self.metal,
            bears=lambda case: self._bears(case, self.bung.shoulder),
        )  # fmt: skip

    # --- checks -------------------------------------------------------------------------------------

    def kinds(self) -> Sequence[Kind]:
        return [
            Kind("female thread", "bung"), Kind("threaded wall", "bung"),
            Kind("mating bolt", "mating male thread"), self.weld.kind(self._at_weld), Kind("thin tube"),
        ]  # fmt: skip

    def modes(self, case: LoadCase) -> Iterator[Check]:
        required, of, name = self.factors(case), self.thread, case.name
        # As seen from the face, x out along what screws in.
        turned = np.array([-1.0, 1.0, -1.0])
        force, moment = (turned * v for v in resultant(self._beyond(case), np.zeros(3)))
        yield from threaded.tension_modes(
            "mating male", of, self.mate, force[..., 0], name, required
        )
        yield from threaded.combined_modes(
            "mating male", of, self.mate, force, moment, name, required
        )
        yield from threaded.strip_modes("bung", of, self.mate, self._tapped, self.engagement,
            threaded.pull_of(of, force, moment), name, required, self.bung.face(self.size[0]))  # fmt: skip
        yield from threaded.twist_modes("bung", of, force, moment, name, required)
        walls = self.bung.walls(of, self.size[0])
        yield from wall_modes(
            "bung", walls, self._tapped, self._bears(case, self.depth), name, required
        )
        yield from self.weld.modes(self._at_weld, case)
        yield from self._tube_modes(case)

    def _tube_modes(self, case: LoadCase) -> Iterator[Check]:
        """The tube where the heat of the weld ends, bent by all that the load is off its axis there."""
        bears = self._bears(case, self.bung.shoulder + self.weld.gap + REACH)
        soft = welded(self._of_tube, self.weld.filler, self.size[1])
        yield from tube_beyond("bung", self.size, soft, bears, case.name, self.factors(case))

    def details(self) -> Sequence[Detail]:
        modes = self.checks_under
        mate = demand_of(modes, "mating male thread, pull with bending, ultimate")
        walls = self.bung.walls(self.thread, self.size[0])
        return [
            thread_spot("mating male thread", self.thread, self.mate, mate),
            wall_spot("bung", walls, self._tapped, self.bung.face(self.size[0]), modes, lambda _: 0.0),
            *self.weld.details(self._at_weld, modes),
        ]  # fmt: skip

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        at = on_x(self.bung.shoulder)
        return [reacting("weld to the tube", at, resultant(self._beyond(case), at))]

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.features.bung.supports import plugged

        return [plugged(self.bung, self.size, self.thread, float(self.depth), self._beyond(case))]

    # --- what leaves for the shop -------------------------------------------------------------------

    def clearances(self) -> Sequence[Clearance]:
        bore = self.size[0] - 2.0 * self.size[1]
        return [plug_in_tube("spigot in the tube", "bung.clearance", bore, self.bung.plug(bore))]

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        found: dict[str, tuple[Any, str]] = {
            "thread engagement": (self.engagement / self.thread.major, "diameters"),
            "change of length per turn": (self.thread.pitch, "mm"),
            "full thread": (self.depth, "mm"),
            "the tube ends before the outer face by": (self.bung.shoulder + self.weld.gap, "mm"),
        }
        if not self.tube.is_stock:
            found["tube is no listed stock; nearest are"] = (", ".join(self.tube.nearest), "")
        return found

    def touching(self) -> Mapping[str, str]:
        """The galvanic surface of what touches it, by name."""
        return {f"mating thread, {self.mate.name}": self.mate.galvanic_family}

    def cautions(self) -> Sequence[str]:
        return [
            *galvanic_cautions(self.metal, self.touching()),
            "Weld with an old stud screwed in, and chase the thread when it is cold: it shrinks.",
            "Vent the tube: where it is closed the last weld blows out. Purge the inside of a titanium one with argon.",
            "Lock what screws in with a jam nut, and look at its engagement: in the witness hole where there is one.",
        ]  # fmt: skip

    def drawn(self) -> Sequence[Drawn]:
        from parts.core.drawing import Datum, Drawn, View
        from parts.features.bung.marks import bung_marks

        outside, wall = (float(v) for v in self.size)
        depth, witness, c = (float(v) for v in (self.depth, self.witness_at, self.edge_break))
        marks = bung_marks(self.bung, self.thread, depth, witness, (outside, wall), c)
        views = (View("front", cut=(0.0, 0.0, 0.0)), View("top"), View("left"))
        return [Drawn(X, Y, views, marks, Datum((0, 0, 0), "outer face, on the axis"))]

    def weldment(self) -> Weldment:
        """The bung in the tube's end, which stands there already."""
        from parts.core.drawing import Linear, View, Weld
        from parts.core.weldment import Member, Weldment
        from parts.shapes.profile import cylinder

        outside, wall = (float(v) for v in self.size)
        start, gap = float(self.bung.shoulder + self.weld.gap), float(self.weld.gap)
        groove, long = self.weld.type == "groove", 3.0 * outside
        size = wall if groove else float(self.weld.size(wall))
        weld = Weld("weld of the bung", (start - gap / 2, -outside / 2, 0), "bevel" if groove else "fillet", size,
            all_round=True, gap=gap, filler=self.weld.filler)  # fmt: skip
        members = (
            Member("part", self.metal.name, (start / 2, float(self.bung.round(outside).diameter) / 2, 0)),
            Member("tube", f"{self.tube.name}, {self.tube_material.name}", (start + long / 2, outside / 2, 0)),
        )  # fmt: skip
        end = (start, outside / 2, 0)
        jig = (Linear("outer face to the end of the tube", (0, 0, 0), end, X, start, view="front"),)

        def tube() -> Mapping[str, Any]:
            bore = cylinder(outside - 2.0 * wall, start - 1.0, start + long + 1.0, "x")
            return {"tube": cylinder(outside, start, start + long, "x").cut(bore).val()}

        return Weldment(
            X, Y, (View("front"),), members, (weld,), jig,
            ("Screw an old stud into the bung, so that its thread keeps its shape; clean both bright.",
             f"Set the root gap of {gap:g} mm; tack at four places, then weld in quarters, opposite ones first."),
            ("Chase the thread; try what screws in over its whole length.",), tube,
        )  # fmt: skip

    def build(self) -> Sequence[Piece]:
        solid = self.bung.solid(
            self.thread, float(self.depth), float(self.witness_at), (float(self.size[0]), float(self.size[1])),
            float(self.edge_break),
        )  # fmt: skip
        return [Piece("part", self.metal, solid)]
