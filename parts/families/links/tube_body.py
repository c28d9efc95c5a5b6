"""The body of an adjustable link: a tube with a threaded bung welded into each end, or one solid bar.

Distances along the body are measured from its face for end a.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.fatigue_places import Detail
from parts.core.feature import Modes
from parts.core.loads import LoadCase
from parts.core.part import Piece
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.links.adjustment import Adjustment, Mouth, tapped_mouth
from parts.families.links.body import LinkBody, least, slanted, threaded_wall
from parts.families.links.bung import Bung
from parts.families.links.link_column import ColumnBody, column_body
from parts.families.links.sites import BetweenEnds
from parts.families.links.stretches import (
    Outside,
    Stretch,
    along_x,
    area_and_modulus,
    bored_stretch,
    drilled_stretches,
    wall_drill,
    wall_hole,
)
from parts.families.links.tube_weld import AtWeld, TubeWeld
from parts.features.weld.softened import REACH, welded, within_reach
from parts.inputs.designations import TubeName
from parts.inputs.quantities import PositiveLength
from parts.standards.materials.materials import Material, material
from parts.standards.threads.threads import Thread
from parts.strength.columns import column
from parts.strength.method import work
from parts.strength.section import bar
from parts.strength.section.properties import properties

if TYPE_CHECKING:
    from parts.core.drawing import Drawn
    from parts.core.loadpath import Span
    from parts.core.supports import Held
    from parts.standards.stock.stock import Stock

LEAST_TUBE = 10.0
"""Least clear length of tube between the two spigots [mm]: shorter than that it is no tube."""
VENT_OFF = 5.0
"""From the tip of the spigot to the middle of the vent hole [mm]; common practice, no source."""


class TubeBody(LinkBody):
    """A tube with a bung welded into each end."""

    type: Literal["tube"] = Field("tube", description="A tube with a bung welded into each end.")
    tube: TubeName = Field(description="The tube by outside diameter and wall.")
    length: PositiveLength | None = Field(
        None,
        description="Length over the faces of the bungs; left out, what the longest length and the "
        "engagement ask.",
    )
    bung: Bung = Field(description="The bungs; at both ends alike where bung_b is left out.")
    bung_b: Bung | None = Field(None, description="The bung at end b, where it differs.")
    weld: TubeWeld = Field(default_factory=TubeWeld, description="The weld between tube and bung.")
    vent_hole: PositiveLength | None = Field(
        None, description="Diameter of a vent hole through the tube behind the spigot of end a."
    )

    @property
    def bungs(self) -> tuple[Bung, Bung]:
        """The bungs at a and b."""
        return self.bung, self.bung if self.bung_b is None else self.bung_b

    @property
    def size(self) -> tuple[Any, Any]:
        """Outside diameter and wall of the tube [mm]."""
        return self.tube.width_mm, self.tube.wall_mm

    def stock_thickness(self) -> Any:
        """Wall of the tube, on which its strength depends [mm]."""
        return self.tube.wall_mm

    def mouth(self, i: int, end: Any, wanted: Any, edge_break: Any) -> Mouth:
        """The tapped hole for an end."""
        bung, thread = self.bungs[i], end.thread
        sink = tapped_mouth(thread, edge_break)
        depth = bung.tapped(wanted + sink + 2.0 * thread.pitch + bung.witness)
        return Mouth(depth, bung.open_to(thread, depth), sink, bung.witness)

    def cut_length(self, link: Adjustment) -> Any:
        """Length that the tube is cut to [mm]: its root gaps taken off."""
        a, b = self.bungs
        return link.body - a.shoulder - b.shoulder - 2.0 * self.weld.gap

    def bung_metal(self, i: int, metal: Material) -> Material:
        """What a bung is made of, as bar of its diameter."""
        bung = self.bungs[i]
        name = metal.name if bung.material is None else bung.material.name
        return material(name, thickness_mm=float(np.max(bung.widest(self.size[0]))), form="bar")

    def welded(self, metal: Material) -> Material:
        """A metal as the welds of the bungs leave it."""
        return welded(metal, self.weld.filler, self.size[1])

    def female(self, i: int, link: Adjustment, metal: Material) -> Material:
        own, bung = self.bung_metal(i, metal), self.bungs[i]
        return within_reach(own, self.welded(own), bung.shoulder - link.mouths[i].depth)

    def slant(self) -> Any:
        held = (bung.gripped(self.size[0]) for bung in self.bungs)
        return slanted([self._tube(), *(one for one in held if one is not None)])

    def face(self, i: int) -> Any:
        bung = self.bungs[i]
        held, d = bung.gripped(self.size[0]), bung.round(self.size[0]).diameter
        return d if held is None else np.minimum(d, held.across)

    def walls(self, i: int, thread: Thread) -> tuple[Any, Any]:
        bung = self.bungs[i]
        held, plain = bung.gripped(self.size[0]), bung.round(self.size[0])
        found = [threaded_wall(one, thread, None) for one in (held, plain) if one is not None]
        if bung.witness_hole is not None and bung.witness_in != "spigot":
            shape = plain if held is None or bung.witness_in == "shoulder" else held
            found.append(threaded_wall(shape, thread, bung.witness_hole))
        return least(found)

    def column(self, link: Adjustment, metal: Material) -> ColumnBody:
        """The tube; of softened metal where its welds leave it soft over more than half its length."""
        whole = properties(self._tube().bored(self.size[0] - 2.0 * self.size[1]))
        mostly = np.any(np.less(self.cut_length(link), 4.0 * REACH))
        return column_body(self.welded(metal) if mostly else metal, whole, self.size[0] / 2.0)

    def _tube(self) -> Outside:
        return Outside("round", self.size[0])

    def rules(self, site: BetweenEnds) -> Iterator[Rule]:
        """Rules of bungs, welds and tube."""
        field, link, edge_break = site.field, site.link, site.edge_break
        for i, name in ((0, "bung"), (1, "bung" if self.bung_b is None else "bung_b")):
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
                column.wall_buckling_stress, E=m.E, r=(outside - wall) / 2.0, t=wall, F_cy=m.yield_strength,
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
        soft_to, (area, modulus) = self.softened(i, site.link)
        bears, soft = site.bears(case, i, soft_to), self.welded(site.metal)
        stress = work(
            bar.round_tube_stress, A=area, W=modulus, N=bears.N, V=bears.V, M=bears.M, T=bears.T
        )
        for kind, strength, factor in site.required(case).both(
            soft.yield_strength, soft.ultimate_strength
        ):
            yield check(
                f"{site.ends[i].name}, tube softened by the weld, {kind}", "weld", load_case=case.name, unit="MPa",
                demand=stress, capacity=strength, required=factor,
                note="where the heat of the weld ends, with all that bends the link there, at the longest",
            )  # fmt: skip

    def details(self, site: BetweenEnds, modes: Modes) -> Sequence[Detail]:
        """Threads and welds."""
        welds = [one for i in (0, 1) for one in self.weld.details(self._weld_at(i, site), modes)]
        return [*super().details(site, modes), *welds]

    def _ends(self, link: Adjustment) -> tuple[Any, Any]:
        """Where the tube begins and ends [mm]."""
        low = self.bungs[0].shoulder + self.weld.gap
        return low, low + self.cut_length(link)

    def _vent_at(self, link: Adjustment) -> Any:
        return self.bungs[0].length + VENT_OFF

    def _holes(self, link: Adjustment) -> list[tuple[Any, Any, str]]:
        """The holes through the tube from end a on: middle and diameter [mm], and which it is."""
        holes = [
            (
                link.witness_at(i) if i == 0 else link.body - link.witness_at(i),
                bung.witness_hole,
                "witness hole",
            )
            for i, bung in enumerate(self.bungs)
            if bung.witness_hole is not None and bung.witness_in == "spigot"
        ]
        if self.vent_hole is not None:
            holes.insert(1 if len(holes) and self.bungs[0].witness_in == "spigot" else 0,
                         (self._vent_at(link), self.vent_hole, "vent hole"))  # fmt: skip
        return holes

    def softened(self, i: int, link: Adjustment) -> tuple[Any, tuple[Any, Any]]:
        """The tube as far as the heat of end i's weld reaches.

        Returns:
            From that end's face to where it ends [mm]; the tube's least area [mm^2] and section modulus [mm^3]
            up to there, beside a hole if there is one.
        """
        low, high = self._ends(link)
        start = low if i == 0 else link.body - high
        end = start + _heated(low, high)
        tube, bore = self._tube(), self.size[0] - 2.0 * self.size[1]
        found = [area_and_modulus(tube.bored(bore))]
        for at, hole, _ in self._holes(link):
            near = (at if i == 0 else link.body - at) - hole / 2.0
            if np.any(near < end):
                found.append(area_and_modulus(wall_hole(tube, bore, hole, 0.0)))
        return end, least(found)

    def _tube_stretches(self, link: Adjustment, edge_break: Any) -> list[tuple[Stretch, bool]]:
        """The stretches of the tube, and whether each lies near a weld."""
        tube, bore = self._tube(), self.size[0] - 2.0 * self.size[1]
        low, high = self._ends(link)
        reach = _heated(low, high)
        pieces: list[Stretch] = []
        here = low
        for at, hole, what in self._holes(link):
            *before, rest = drilled_stretches(
                ("tube", f"tube beside the {what}", "tube"), tube, bore, here, high, (hole, at, edge_break),
                through=False,
            )  # fmt: skip
            pieces += before
            here = rest[1]
        pieces.append(bored_stretch("tube", tube, bore, here, high))
        return [
            part
            for piece in pieces
            for part in _by_weld(piece, tube, bore, low + reach, high - reach)
        ]

    def held(self, site: BetweenEnds, case: LoadCase) -> list[Held]:
        from parts.families.links.supports import bung_held, tube_held

        low, high = (float(site.start + one) for one in self._ends(site.link))
        bungs = [bung_held(self.bungs[i], self.size, site, case, i) for i in (0, 1)]
        return [tube_held(self.size, low, high, site, case), *bungs]

    def drawn(self, site: BetweenEnds) -> list[Drawn]:
        from parts.families.links.drawing import bung_drawn, tube_drawn

        start, broken = float(site.start), float(site.edge_break)
        bungs = [bung_drawn(self, i, site.link, start, broken) for i in (0, 1)]
        return [tube_drawn(self, site.link, start), *bungs]

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


def _heated(low: Any, high: Any) -> Any:
    """How far from its welds a tube from low to high is soft [mm]."""
    return np.minimum(REACH, (high - low) / 2.0)


def _by_weld(
    piece: Stretch, tube: Outside, bore: Any, low: Any, high: Any
) -> list[tuple[Stretch, bool]]:
    """A plain stretch of tube parted where the heat of a weld ends; a drilled one counts as near a weld."""
    name, a, b, _, n, _ = piece
    if n != 3:
        return [(piece, True)]
    cuts = [a, np.clip(low, a, b), np.clip(high, a, b), b]
    names = (f"{name} near the weld", name, f"{name} near the weld")
    return [
        (bored_stretch(names[k], tube, bore, cuts[k], cuts[k + 1]), k != 1)
        for k in range(3)
        if np.any(np.greater(cuts[k + 1], cuts[k]))
    ]


def _turned(solid: Any, i: int, long: float) -> Any:
    """A bung's solid put to its end of the body; end b's is turned about y-z so that +y stays."""
    return solid if i == 0 else solid.rotate((0, 0, 0), (0, 1, 0), 180.0).translate((long, 0, 0))
