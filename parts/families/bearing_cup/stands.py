"""What a bearing cup is welded to: a plate that it goes through, or the end of a tube that it plugs.

Distances are measured along the shaft from the cup's mouth, in the direction that the bearing goes in.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.fatigue_places import ROOT, TOE, Detail, Weld, demand_of
from parts.core.feature import Answers, Modes, Site
from parts.core.group import Group
from parts.core.loads import Action, LoadCase, resultant
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.features.weld.plate_edge import Joint, Loaded, Seat, fillet_modes
from parts.features.weld.softened import REACH, weaker, welded
from parts.features.weld.tube_weld import AtWeld, Bears, TubeWeld, tube_beyond
from parts.inputs.designations import MaterialName, TubeName
from parts.inputs.quantities import NonNegativeLength, PositiveLength
from parts.standards.materials.materials import Material, material
from parts.strength.method import work
from parts.strength.plates import boss
from parts.strength.welded.line import arc

if TYPE_CHECKING:
    from parts.core.supports import Round

X, Y, _ = np.eye(3)
LEAST_WALL = 1.0
"""Least wall of a spigot [mm]; common practice, no source."""


@dataclass(frozen=True, kw_only=True)
class AtCup(Site):
    """What holds a cup: its outside, its length, and its bore where it plugs a tube [mm]; what acts on its bearings."""

    diameter: Any
    length: Any
    bore: Any
    acting: Callable[[LoadCase], Sequence[Action]]


def on_axis(x: Any) -> Any:
    """A place on the shaft [mm]."""
    return np.asarray(x, float)[..., None] * X


class InPlate(Group, Answers[AtCup]):
    """A hole in a plate that the cup goes through, with a fillet round it on both faces."""

    type: Literal["in a plate"] = Field(
        "in a plate", description="It goes through a plate, a fillet round it on both faces."
    )
    thickness: PositiveLength = Field(description="Thickness of the plate.")
    material: MaterialName = Field(description="Material of the plate.")
    at: PositiveLength = Field(description="From the mouth to the middle of the plate.")
    held_within: PositiveLength = Field(
        description="From the cup's middle to the farthest place round it where the plate is held."
    )
    leg: PositiveLength = Field(description="Leg of the fillets.")
    filler: str = Field(
        "",
        max_length=40,
        description="Filler metal; the weakest known for the metals where left out.",
    )

    spigot: ClassVar[float] = 0.0

    @property
    def thin(self) -> Any:
        """Thinnest metal of the weld that its strength is told by [mm]."""
        return self.thickness

    def metal(self) -> Material:
        """The plate."""
        return material(
            self.material.name, thickness_mm=float(np.max(self.thickness)), form="plate"
        )

    def welds(self, length: Any) -> tuple[Any, Any]:
        """Between where its welds lie [mm]."""
        half = self.thickness / 2.0
        return self.at - half, self.at + half

    def carries_to(self, length: Any, bearing: Any) -> Any:
        """How far from the mouth the cup carries what its bearings do [mm]: to the farther face of the plate."""
        low, high = self.welds(length)
        return np.where(np.less(self.at, bearing), low, high)

    def rules(self, site: AtCup) -> Iterator[Rule]:
        field, (low, high) = site.field, self.welds(site.length)
        room = np.minimum(low, site.length - high)
        yield at_least("cup.ledge", f"{field}.at", room, self.leg + site.edge_break,
            "the fillet finds no cup to stand on", "move the plate, or lengthen the cup")  # fmt: skip
        yield at_least("cup.held", f"{field}.held_within", self.held_within, site.diameter / 2.0 + self.leg,
            "the plate ends where the cup begins", "say how far the plate reaches to where it is held")  # fmt: skip
        wall = np.minimum(self.thickness, (site.diameter - site.bore) / 2.0)
        yield at_least("weld.small", f"{field}.leg", self.leg, 0.6 * wall,
            "the fillet is smaller than the parts ask (0.6 of the thinner part: common practice, no source)",
            "make the leg larger")  # fmt: skip
        yield at_most("weld.large", f"{field}.leg", self.leg, 2.0 * wall,
            "so large a fillet burns the thinner part through (twice: common practice, no source)",
            "make the leg smaller")  # fmt: skip

    def kinds(self, site: AtCup) -> Sequence[Kind]:
        return [Kind("plate weld", "weld cup"), Kind("cup in a plate", "plate round the cup")]

    def _loaded(self, site: AtCup, case: LoadCase) -> Loaded:
        r = np.asarray(site.diameter, float) / 2.0
        rings = [
            arc(on_axis(x), on_axis(x) + r[..., None] * Y, 2.0 * np.pi + 0.0 * r, X)
            for x in self.welds(site.length)
        ]
        path = rings[0] + rings[1]
        joint = Joint(path, X, 2.0 * np.pi * r, Seat(X, Y, 2.0 * np.pi * r))
        return Loaded("cup", joint, [([joint], site.acting(case))])

    def modes(self, site: AtCup, case: LoadCase) -> Iterator[Check]:
        """The two fillets at their worst place, and the plate round the cup."""
        plate, required, t = self.metal(), site.required(case), self.thickness
        thin = float(np.max(self.thickness))
        zones = [one.beside_weld(self.filler, thin) for one in (plate, site.metal)]
        zone = weaker(*zones)
        one = self._loaded(site, case)
        wall = (site.diameter - site.bore) / 2.0
        yield from fillet_modes(
            one, self.leg, np.minimum(t / 2.0, wall), (zone.yield_strength, zone.ultimate_strength), case.name,
            required, "",
        )  # fmt: skip
        stress = self._round_the_cup(site, case, plate.poisson)
        soft = welded(plate, self.filler, thin)
        for kind, strength, factor in required.both(soft.yield_strength, soft.ultimate_strength):
            yield check(
                f"plate round the cup, {kind}", "bending", load_case=case.name, demand=stress, capacity=strength,
                unit="MPa", required=factor, note="a rigid cup in a round plate, its edge on hinges; softened metal",
            )  # fmt: skip

    def _round_the_cup(self, site: AtCup, case: LoadCase, nu: float) -> Any:
        """Stress of the plate where the cup begins [MPa]: pushed, tilted, pulled in its plane and twisted at once."""
        force, moment = resultant(site.acting(case), on_axis(self.at))
        d, t = site.diameter, self.thickness
        tilt = np.hypot(moment[..., 1], moment[..., 2])
        twist = work(boss.boss_turning_stress, T=moment[..., 0], t=t, d=d)
        size = {"t": t, "d": d, "a": self.held_within, "nu": nu}
        return work(
            boss.beside_boss_stress, along=work(boss.trunnion_stress, M=tilt, **size), across=twist,
            square=work(boss.rigid_post_stress, P=force[..., 0], **size),
            V=np.hypot(force[..., 1], force[..., 2]), t=t, d=d,
        )  # fmt: skip

    def details(self, site: AtCup, modes: Modes) -> Sequence[Detail]:
        """Root of the fillets, and their toe on the plate."""
        return [
            Weld("weld cup, root", site.metal, demand_of(modes, "weld cup, throat, yield"), ROOT),
            Weld(
                "weld cup, toe", self.metal(), demand_of(modes, "plate round the cup, yield"), TOE
            ),
        ]

    def wall(self, site: AtCup) -> Round:
        """Where finite elements hold it."""
        from parts.core.supports import Round

        low, high = (float(v) for v in self.welds(site.length))
        return Round(
            np.zeros(3), X, float(site.diameter), low - float(self.leg), high + float(self.leg)
        )

    def says(self) -> str:
        """The weld in words."""
        size, leg = float(self.thickness), float(self.leg)
        return f"in {size:g} mm {self.material.name}, fillets of {leg:g} mm leg on both faces"


class OnTube(Group, Answers[AtCup]):
    """The end of a tube that the cup's spigot plugs, with a weld round it."""

    type: Literal["on a tube's end"] = Field(
        "on a tube's end", description="Its spigot plugs the end of a tube, a weld round it."
    )
    tube: TubeName = Field(description="The tube by outside diameter and wall.")
    material: MaterialName = Field(description="Material of the tube.")
    spigot: PositiveLength = Field(description="Length that plugs into the tube.")
    clearance: NonNegativeLength = Field(
        0.1, description="Clearance of the spigot in the tube's bore, on diameter."
    )
    weld_prep: NonNegativeLength | None = Field(
        None,
        description="Leg of the 45 degree chamfer for the weld; three quarters of the wall where left out.",
    )
    weld: TubeWeld = Field(default_factory=TubeWeld, description="The weld round the tube.")

    @property
    def size(self) -> tuple[Any, Any]:
        """Outside diameter and wall of the tube [mm]."""
        return self.tube.width_mm, self.tube.wall_mm

    @property
    def thin(self) -> Any:
        return self.size[1]

    @property
    def filler(self) -> str:
        return self.weld.filler

    @property
    def plug(self) -> Any:
        """Diameter of the spigot [mm]."""
        return self.size[0] - 2.0 * self.size[1] - self.clearance

    @property
    def prep(self) -> Any:
        """Leg of the weld prep [mm]."""
        return 0.75 * self.size[1] if self.weld_prep is None else self.weld_prep

    def metal(self) -> Material:
        """The tube."""
        return material(self.material.name, thickness_mm=float(np.max(self.size[1])), form="tube")

    def welds(self, length: Any) -> tuple[Any, Any]:
        return length - self.prep, length

    def carries_to(self, length: Any, bearing: Any) -> Any:
        return length - self.prep

    def rules(self, site: AtCup) -> Iterator[Rule]:
        field, wall = site.field, self.size[1]
        yield at_least("cup.spigot", f"{field}.spigot", self.spigot, np.maximum(3.0 * wall, 4.0),
            "too short a spigot does not hold the tube straight (three walls: common practice, no source)",
            "lengthen it")  # fmt: skip
        yield at_least("cup.spigot_wall", f"{field}.tube", self.plug, site.bore + 2.0 * LEAST_WALL,
            "the spigot would have less than 1 mm of wall round the lip's bore", "lessen the lip's bore, or take a "
            "larger tube")  # fmt: skip
        yield at_least("cup.seated", f"{field}.tube", site.diameter, self.size[0] - 0.5,
            "the cup is smaller than the tube", "make the cup larger")  # fmt: skip
        yield at_most("cup.prep", f"{field}.weld_prep", 2.0 * self.prep, site.diameter - self.plug - 0.4,
            "the weld prep would eat the face that the tube stands against", "lessen it")  # fmt: skip
        yield from self.weld.rules(self._at(site))

    def _bears(self, site: AtCup, x: Any, case: LoadCase) -> Bears:
        force, moment = resultant(site.acting(case), on_axis(x))
        return Bears(
            -force[..., 0], np.hypot(force[..., 1], force[..., 2]), np.hypot(moment[..., 1], moment[..., 2]),
            np.abs(moment[..., 0]), 0.0,
        )  # fmt: skip

    def _at(self, site: AtCup) -> AtWeld:
        return AtWeld(
            f"{site.field}.weld", self.metal(), "cup", required=site.required, tube=self.size,
            shoulder=site.diameter, prep=self.prep, bung=site.metal, bears=partial(self._bears, site, site.length),
        )  # fmt: skip

    def kinds(self, site: AtCup) -> Sequence[Kind]:
        return [self.weld.kind(self._at(site)), Kind("thin tube")]

    def modes(self, site: AtCup, case: LoadCase) -> Iterator[Check]:
        """The weld, and the tube where its heat ends."""
        yield from self.weld.modes(self._at(site), case)
        bears = self._bears(site, site.length + self.weld.gap + REACH, case)
        soft = welded(self.metal(), self.filler, self.size[1])
        yield from tube_beyond("cup", self.size, soft, bears, case.name, site.required(case))

    def details(self, site: AtCup, modes: Modes) -> Sequence[Detail]:
        return self.weld.details(self._at(site), modes)

    def wall(self, site: AtCup) -> Round:
        from parts.core.supports import Round

        low = float(site.length)
        return Round(np.zeros(3), X, float(self.plug), low, low + float(self.spigot))

    def says(self) -> str:
        return (
            f"on a tube {self.tube.name} of {self.material.name}, {self.weld.type} weld all round"
        )


Stands = Annotated[InPlate | OnTube, Field(discriminator="type")]
"""What a cup is welded to."""
