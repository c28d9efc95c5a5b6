"""The body of an adjustable link made of a tube: a threaded bung welded into each end.

Distances along the body are measured from its face for end a.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Literal

import numpy as np

from parts.core.check import Check, check
from parts.core.clearances import Clearance
from parts.core.fatigue_places import Detail
from parts.core.feature import Modes
from parts.core.loads import LoadCase
from parts.core.part import Piece
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.links.halves import along_x
from parts.families.links.sites import BetweenEnds
from parts.families.links.tube_path import VENT_OFF, TubePath
from parts.features.bung.stretches import (
    wall_drill,
)
from parts.features.press.fit import plug_in_tube
from parts.features.weld.softened import within_reach
from parts.features.weld.tube_weld import AtWeld, softened_tube
from parts.strength.columns import wrinkling
from parts.strength.method import work

if TYPE_CHECKING:
    from parts.core.drawing import Dimension, Drawn
    from parts.core.loadpath import Span
    from parts.core.supports import Held
    from parts.core.weldment import Weldment
    from parts.standards.stock.stock import Stock

LEAST_TUBE = 10.0
"""Least clear length of tube between the two spigots [mm]: shorter than that it is no tube."""
X, Y, _ = np.eye(3)


class TubeBody(TubePath):
    """A tube with a bung welded into each end."""

    def rules(self, site: BetweenEnds) -> Iterator[Rule]:
        """Rules of bungs, welds and tube."""
        field, link, edge_break = site.field, site.link, site.edge_break
        for i, name in enumerate(self.named_bungs):
            yield from self.bungs[i].rules(
                f"{field}.{name}", link.ends[i].thread, link.mouths[i].depth, link.witness_at(i),
                self.size, edge_break,
            )  # fmt: skip
            yield from self.weld.rules(self._weld_at(i, site))
        a, b = self.bungs
        clear = self.cut_length(link) - a.spigot - b.spigot
        yield at_least(
            "tube.length", f"{field}.length" if self.length is not None else "pin_to_pin.maximum", clear,
            LEAST_TUBE, "the two spigots leave no tube between them",
            "make the link longer, the bungs shorter, or ask for a solid bar",
        )  # fmt: skip
        closed = [bung.bore == "closed" for bung in self.bungs]
        vented = float(self.vent_hole is not None or not all(closed))
        yield at_least(
            "tube.vent", f"{field}.vent_hole", vented, 1.0,
            "a tube closed at both ends blows the last weld out", "give it a vent hole, or open a bung", "",
        )  # fmt: skip
        if self.vent_hole is not None:
            yield at_most(
                "tube.vent_large", f"{field}.vent_hole", self.vent_hole, 0.15 * self.size[0],
                "a vent this large weakens the tube (common practice, no source)", "2 mm is enough",
            )  # fmt: skip
            yield at_least(
                "tube.vent_room", f"{field}.vent_hole", clear, 2.0 * VENT_OFF + self.vent_hole,
                "the vent hole does not fit between the spigots", "leave it out, or make the link longer",
            )  # fmt: skip

    @property
    def named_bungs(self) -> tuple[str, str]:
        """The fields of its bungs."""
        return "bung", "bung" if self.bung_b is None else "bung_b"

    def spans(self, site: BetweenEnds) -> list[Span]:
        """The load path from face to face."""
        link, metal, edge_break = site.link, site.metal, site.edge_break
        found: list[Span] = []
        for i, name in ((0, "a"), (1, "b")):
            bung, own = self.bungs[i], self.bung_metal(i, metal)
            soft = self.welded(own)
            places = bung.places(
                link.ends[i].thread, link.mouths[i].depth, link.witness_at(i), self.size, edge_break
            )
            for what, low, high, outline, n, notch in places:
                of = within_reach(own, soft, bung.shoulder - np.asarray(high, float))
                a, b = (low, high) if i == 0 else (link.body - high, link.body - low)
                found += along_x(
                    f"bung {name}, {what}", a, b, outline, site, of, f"bung-{name}", n, notch
                )  # fmt: skip
        soft = self.welded(metal)
        for (what, low, high, outline, n, notch), near in self._tube_stretches(link, edge_break):
            of = soft if near else metal
            found += along_x(what, low, high, outline, site, of, "tube", n, notch)
        return found

    def kinds(self, site: BetweenEnds) -> list[Kind]:
        """What can fail of it: threaded walls, welds and the tube."""
        welds = (self.weld.kind(self._weld_at(i, site)) for i in (0, 1))
        return [*super().kinds(site), *welds, Kind("thin tube")]

    def modes(self, site: BetweenEnds, case: LoadCase) -> Iterator[Check]:
        """Threads and their walls, the welds, and the tube where their heat ends."""
        yield from super().modes(site, case)
        yield from self._wrinkling(site, case)
        for i in (0, 1):
            yield from self.weld.modes(self._weld_at(i, site), case)
            yield from self._soft_modes(i, site, case)

    def cut_from(self, piece: str) -> Stock | None:
        return self.tube if piece == "tube" else None

    def _wrinkling(self, site: BetweenEnds, case: LoadCase) -> Iterator[Check]:
        """Wrinkling of the wall under a push and all that bends the tube."""
        push, stress = site.pushed(case)
        if not np.any(np.asarray(push) > 0.0):
            return
        m, (outside, wall) = self.column(site.link, site.metal).material, self.size
        yield check(
            "tube wall wrinkling", "local buckling", load_case=case.name, unit="MPa",
            required=site.required(case).on_ultimate, demand=stress,
            capacity=work(
                wrinkling.wall_buckling_stress, E=m.E, r=(outside - wall) / 2.0, t=wall, F_cy=m.yield_strength,
                nu=m.poisson,
            ),
            note="push and all that bends the middle, added; compressive yield taken as tensile",
        )  # fmt: skip

    def _weld_at(self, i: int, site: BetweenEnds) -> AtWeld:
        bung = self.bungs[i]
        return AtWeld(
            f"{site.field}.weld", site.metal, site.ends[i].name, required=site.required, tube=self.size,
            shoulder=bung.round(self.size[0]).diameter, prep=bung.prep(self.size[1]),
            bung=self.bung_metal(i, site.metal), bears=lambda case: site.bears(case, i, bung.shoulder),
        )  # fmt: skip

    def _soft_modes(self, i: int, site: BetweenEnds, case: LoadCase) -> Iterator[Check]:
        """The tube where the heat of a weld ends: there a link pushed and bent is bent most while still soft."""
        soft_to, section = self.softened(i, site.link)
        yield from softened_tube(
            site.ends[i].name, section, self.welded(site.metal), site.bears(case, i, soft_to), case.name,
            site.required(case),
        )  # fmt: skip

    def details(self, site: BetweenEnds, modes: Modes) -> Sequence[Detail]:
        """Threads and welds."""
        welds = [one for i in (0, 1) for one in self.weld.details(self._weld_at(i, site), modes)]
        return [*super().details(site, modes), *welds]

    def held(self, site: BetweenEnds, case: LoadCase) -> list[Held]:
        from parts.families.links.supports import bung_held, tube_held

        low, high = (float(site.start + one) for one in self._ends(site.link))
        bungs = [bung_held(self.bungs[i], self.size, site, case, i) for i in (0, 1)]
        return [tube_held(self.size, low, high, site, case), *bungs]

    def weldment(self, site: BetweenEnds) -> Weldment:
        """A bung at each end, welded all round; the length over their faces is what the jig holds."""
        from parts.core.drawing import Linear, View, Weld
        from parts.core.weldment import Member, Weldment

        link, start = site.link, float(site.start)
        outside, wall = (float(v) for v in self.size)
        low, high = (start + float(v) for v in self._ends(link))
        long, gap = float(link.body), float(self.weld.gap)
        groove = self.weld.type == "groove"
        kind: Literal["bevel", "fillet"] = "bevel" if groove else "fillet"
        size = wall if groove else float(self.weld.size(wall))
        welds = tuple(
            Weld(
                f"weld at {end.name}",
                (x, -outside / 2, 0),
                kind,
                size,
                all_round=True,
                gap=gap,
                filler=self.weld.filler,
            )
            for end, x in zip(site.ends, (low - gap / 2, high + gap / 2), strict=True)
        )
        metals = [self.bung_metal(i, site.metal).name for i in (0, 1)]
        at = [
            (start + float(self.bungs[0].shoulder) / 2, outside / 2, 0),
            (start + long - float(self.bungs[1].shoulder) / 2, outside / 2, 0),
        ]
        members = (
            Member(
                "tube", f"{self.tube.name}, {site.metal.name}", ((low + high) / 2, outside / 2, 0)
            ),
            *(Member(f"bung-{n}", metal, p) for n, metal, p in zip("ab", metals, at, strict=True)),
        )
        jig = Linear(
            "over the faces of the bungs",
            (start, 0, 0),
            (start + long, 0, 0),
            X,
            long,
            view="front",
        )
        tube = Linear(
            "tube",
            (low, outside / 2, 0),
            (high, outside / 2, 0),
            X,
            high - low,
            reference=True,
            view="front",
        )
        return Weldment(
            X, Y, (View("front"),), members, welds, (jig, tube),
            (
                "Screw an old stud into each bung, so that its thread keeps its shape; clean both faces bright.",
                f"Set the bungs by the distance over their faces, root gap {gap:g} mm; tack each at four places.",
                "Weld end a in four quarters, opposite ones after each other; let it cool; then end b.",
            ),
            (
                "Chase both threads; try each end over its whole thread.",
                "Measure over the faces; roll the tube on a flat, and straighten it cold where it shows light.",
            ),
        )  # fmt: skip

    def drawn(self, site: BetweenEnds) -> list[Drawn]:
        from parts.families.links.drawing import bung_drawn

        start, broken = float(site.start), float(site.edge_break)
        bungs = [bung_drawn(self.bungs[i], i, self.size, site.link, start, broken) for i in (0, 1)]
        return [self._tube_drawn(site), *bungs]

    def _tube_drawn(self, site: BetweenEnds) -> Drawn:
        """The sheet of the tube between the bungs."""
        from parts.core.drawing import CentreLine, Datum, Diameter, Drawn, Linear, Marks, View
        from parts.families.links.drawing import REVERSED
        from parts.features.bung.marks import wall_hole_marks

        link, start = site.link, float(site.start)
        outside, wall = (float(v) for v in self.size)
        low, high = (float(v) for v in self._ends(link))
        bore = outside - 2.0 * wall
        sizes: list[Dimension] = [
            Linear(
                "cut length",
                (low, outside / 2, 0),
                (high, outside / 2, 0),
                X,
                high - low,
                view="front",
            ),
            Diameter("outside of the tube", (low, 0, 0), X, outside, view="front"),
            Diameter("bore of the tube", (low, 0, 0), X, bore, view="left"),
        ]
        marks = Marks(tuple(sizes), (), (), (CentreLine((low, 0, 0), (high, 0, 0)),))
        if self.vent_hole is not None:
            at = float(self._vent_at(link)) - low
            marks += wall_hole_marks("vent hole", at, float(self.vent_hole), outside / 2).moved(
                (low, 0, 0)
            )
        for i, bung in enumerate(self.bungs):
            if bung.witness_hole is not None and bung.witness_in == "spigot":
                at, size = float(link.witness_at(i)), float(bung.witness_hole)
                if i == 0:
                    holed = wall_hole_marks("witness hole", at - low, size, outside / 2).moved(
                        (low, 0, 0)
                    )
                else:
                    off = at - (float(link.body) - high)
                    holed = wall_hole_marks("witness hole", off, size, outside / 2)
                    holed = holed.moved((high, 0.0, 0.0), REVERSED)
                marks += holed
        gap = f"{float(self.weld.gap):g} mm"
        notes = (
            f"{self.tube.name} tube. Ends square and deburred; root gap {gap} at each bung.",
            f"Welded length over the faces of the bungs: {float(link.body):.2f} mm.",
        )
        return Drawn(
            right=X,
            up=Y,
            views=(View("front"), View("top"), View("left"))
            if marks.holes
            else (View("front"), View("left")),
            marks=(marks + Marks(notes=notes)).moved((start, 0.0, 0.0)),
            datum=Datum((start + low, 0.0, 0.0), "end of the tube at end a, on the axis"),
            piece="tube",
            title="tube",
        )

    def pieces(self, site: BetweenEnds) -> list[Piece]:
        """The tube and its bungs, in place."""
        link, metal, edge_break = site.link, site.metal, float(site.edge_break)
        from parts.shapes.profile import cylinder

        outside, wall = self.size
        low, high = (float(x) for x in self._ends(link))
        long = float(link.body)
        tube = cylinder(outside, low, high, "x").cut(
            cylinder(outside - 2.0 * wall, low - 1.0, high + 1.0, "x")
        )
        if self.vent_hole is not None:
            tool = wall_drill(
                self._tube(), float(self.vent_hole), float(self._vent_at(link)), edge_break
            )
            tube = tube.cut(tool)
        made = []
        for i, name in ((0, "a"), (1, "b")):
            bung, at = self.bungs[i], float(link.witness_at(i))
            solid = bung.solid(
                link.ends[i].thread, float(link.mouths[i].depth), at, self.size, edge_break
            )
            if bung.witness_hole is not None and bung.witness_in == "spigot":
                # Drilled where it comes to lie: by a tool turned end for end the kernel cuts nothing.
                place = at if i == 0 else long - at
                tube = tube.cut(bung.witness_tool(place, outside, wall, edge_break))
            made.append(Piece(f"bung-{name}", self.bung_metal(i, metal), _turned(solid, i, long)))
        made.insert(0, Piece("tube", metal, tube))
        return [
            Piece(one.name, one.material, one.solid.translate((float(site.start), 0, 0)))
            for one in made
        ]

    def clearances(self, site: BetweenEnds) -> Sequence[Clearance]:
        """The spigots of the bungs in the tube."""
        outside, wall = self.size
        bore = outside - 2.0 * wall
        return [
            plug_in_tube(
                f"{end.name}: spigot in the tube",
                f"{site.field}.{name}.clearance",
                bore,
                bung.plug(bore),
            )
            for end, name, bung in zip(site.ends, self.named_bungs, self.bungs, strict=True)
        ]

    def facts(self, site: BetweenEnds) -> Mapping[str, tuple[Any, str]]:
        """Cut length of the tube and the weld gap."""
        link = site.link
        found: dict[str, tuple[Any, str]] = {
            "body, length over its faces": (link.body, "mm"),
            "tube, cut length": (self.cut_length(link), "mm"),
            "root gap at each weld": (self.weld.gap, "mm"),
        }
        if not self.tube.is_stock:
            found["tube is no listed stock; nearest are"] = (", ".join(self.tube.nearest), "")
        if self.vent_hole is not None:
            found["vent hole, from the end of the tube at a"] = (
                self._vent_at(link) - self._ends(link)[0], "mm",
            )  # fmt: skip
        return found

    def cautions(self, site: BetweenEnds) -> Sequence[str]:
        """What the shop must know."""
        return (
            "Chase the threads of the bungs after welding: they shrink; weld with an old stud screwed in.",
            "Keep the tube vented while it is welded, and purge the inside of a titanium one with argon.",
        )


def _turned(solid: Any, i: int, long: float) -> Any:
    """A bung's solid put to its end of the body; end b's is turned about y-z so that +y stays."""
    return solid if i == 0 else solid.rotate((0, 0, 0), (0, 1, 0), 180.0).translate((long, 0, 0))
