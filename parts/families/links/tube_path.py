"""A tube with a bung welded into each end, by its dimensions, and the stretches of its load path.

Distances along the body are measured from its face for end a.
"""

from __future__ import annotations

from typing import Any, Literal

import numpy as np
from pydantic import Field

from parts.families.links.adjustment import Adjustment, Mouth
from parts.families.links.body import LinkBody
from parts.families.links.link_column import ColumnBody, column_body
from parts.features.bung.bung import Bung
from parts.features.bung.stretches import (
    Outside,
    Stretch,
    area_and_modulus,
    bored_stretch,
    drilled_stretches,
    wall_hole,
)
from parts.features.bung.wall import least, slanted
from parts.features.thread.threaded import tapped_mouth
from parts.features.weld.softened import REACH, welded, within_reach
from parts.features.weld.tube_weld import TubeWeld
from parts.inputs.designations import TubeName
from parts.inputs.quantities import PositiveLength
from parts.standards.materials.materials import Material, material
from parts.standards.threads.threads import Thread
from parts.strength.section.properties import properties

VENT_OFF = 5.0
"""From the tip of the spigot to the middle of the vent hole [mm]; common practice, no source."""


class TubePath(LinkBody):
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
        depth = bung.full_thread(thread, wanted, edge_break)
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
        return self.bungs[i].face(self.size[0])

    def walls(self, i: int, thread: Thread) -> tuple[Any, Any]:
        return self.bungs[i].walls(thread, self.size[0])

    def column(self, link: Adjustment, metal: Material) -> ColumnBody:
        """The tube; of softened metal where its welds leave it soft over more than half its length."""
        whole = properties(self._tube().bored(self.size[0] - 2.0 * self.size[1]))
        mostly = np.any(np.less(self.cut_length(link), 4.0 * REACH))
        return column_body(self.welded(metal) if mostly else metal, whole, self.size[0] / 2.0)

    def _tube(self) -> Outside:
        return Outside("round", self.size[0])

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
