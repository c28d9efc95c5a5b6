"""Where a mount plate holds a torsion bar: a splined bore in a boss or in the plate alone, or a split clamp at its
edge."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Annotated, Any

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.clearances import Clearance
from parts.core.fatigue_places import Detail
from parts.core.feature import Modes
from parts.core.group import Group
from parts.core.loads import Action, LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule, at_least
from parts.core.ways import Kind
from parts.families.mount_plate.clamped import ears_of, free_of, opened, parted
from parts.features.bar_bore.clamp_bore import ClampBore
from parts.features.bar_bore.in_hub import InHub
from parts.features.bar_bore.spline_bore import SplineBore
from parts.features.plate.fixture import (
    Bore,
    Boss,
    Fixture,
    Turn,
    foot_of,
    over_plate,
    pad_radius,
    steps_of,
    under_plate,
)
from parts.features.plate.on_plate import OnPlate
from parts.features.plate.plate_feature import AtPoint
from parts.features.plate.roots import plate_kind, root_spot
from parts.inputs.quantities import NonNegativeLength, Point2, PositiveLength
from parts.strength.method import work
from parts.strength.section import bar

if TYPE_CHECKING:
    from parts.core.drawing import Marks
    from parts.core.supports import Applied, Round


AnchorBore = Annotated[SplineBore | ClampBore, Field(discriminator="type")]


class Anchor(Group, AtPoint):
    """A bore that holds the end of a torsion bar against turning."""

    at: Point2 = Field(description="Where the bar is.")
    bore: AnchorBore = Field(description="How the plate takes the bar: spline or clamp.")
    wall: PositiveLength | None = Field(
        None, description="Least wall about the bore; that of the plate where left out."
    )
    boss: Boss | None = Field(
        None, description="A boss about a splined bore, on either face; a clamp has none."
    )
    hollow: NonNegativeLength = Field(0.0, description="Bore of the bar itself; 0 for a solid one.")

    @model_validator(mode="after")
    def _clamps_in_the_plate_alone(self) -> Anchor:
        if self.boss is not None and isinstance(self.bore, ClampBore):
            raise ValueError(
                "a clamp is slit from the edge of the plate and has no boss: leave `boss` out, and take a thicker "
                "plate where the clamp is too narrow"
            )
        return self

    def base(self) -> Any:
        return over_plate(self.boss)

    def _faces(self, thickness: Any) -> tuple[Any, Any]:
        """Heights of its two faces [mm]."""
        return under_plate(self.boss), thickness + self.base()

    def load_height(self, thickness: Any) -> Any:
        low, high = self._faces(thickness)
        return (low + high) / 2.0

    def hub(self, site: OnPlate) -> InHub:
        """It as a hub: the boss, or the pad where none stands."""
        low, high = self._faces(site.thickness)
        wide = 2.0 * site.pad(self.fixture(site)) if self.boss is None else self.boss.diameter
        where = f"{site.field}.boss.diameter"
        if self.boss is None:
            where = "plate.wall" if self.wall is None else f"{site.field}.wall"
        free = None
        if isinstance(self.bore, ClampBore):
            free = free_of(self.bore, self.at, wide / 2.0, site.others())
        return InHub(
            f"{site.field}.bore", site.metal, site.name, site.edge_break, site.thickness, required=site.required,
            loads=site.loads, actions=partial(self._turning, site), width=high - low, diameter=wide, arm=wide,
            hollow=self.hollow, wide=where, long="plate.thickness", beside="plate", free=free,
        )  # fmt: skip

    def _turning(self, site: OnPlate, case: LoadCase) -> Sequence[Action]:
        """What the bar does, about the middle of the bore."""
        return [replace(one, at=np.zeros(3)) for one in site.actions(case)]

    def fixture(self, site: OnPlate) -> Fixture:
        low, high = self._faces(site.thickness)
        outer, inner = steps_of(self.boss, site.thickness)
        large = self.bore.largest
        small = (
            self.bore.bore if isinstance(self.bore, ClampBore) else self.bore.spline.minor_internal
        )
        wall = site.plate.wall if self.wall is None else self.wall
        pad = pad_radius(
            hole=large, wall=wall, foot=foot_of(self.boss), seat=0.0, edge_break=site.edge_break
        )
        bored = Fixture(
            site.name, site.field, self.at, pad, large / 2.0, 0.0, outer, inner, (Bore((Turn(low, high, small),)),)
        )  # fmt: skip
        if any(map(np.ndim, (*self.at, low, high, large, self.bore.clocking))):
            return bored  # of many plates no figure is drawn
        tool = partial(self._tool, float(low), float(high))
        if isinstance(self.bore, ClampBore):
            cut = opened(self.bore, self.at, high)
            half = parted(self.bore, self.at)
            return bored._replace(ears=ears_of(self.bore), opened=cut, parted=half, broached=tool)
        teeth = self.bore.loop((float(self.at[0]), float(self.at[1])))
        return bored._replace(teeth=teeth, broached=tool)

    def _tool(self, low: float, high: float) -> Any:
        bore, wide = self.bore, high - low
        tool = bore.tool(wide, 0.0) if isinstance(bore, ClampBore) else bore.tool(wide)
        return tool.translate((0.0, 0.0, (low + high) / 2.0))

    def standing_on(self) -> tuple[Any, Any]:
        return (self.bore.largest, None) if self.boss is None else self.boss.standing_on()

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        if self.boss is not None:
            yield from self.boss.rules(
                f"{site.field}.boss", self.bore.largest, site.plate.wall, site.edge_break
            )
        if self.wall is not None:
            yield at_least(
                "anchor.wall", f"{site.field}.wall", self.wall, site.plate.wall,
                "the bore of the bar has less wall about it than the plate keeps about its holes", "widen it",
            )  # fmt: skip
        yield from self.bore.rules(self.hub(site))

    def kinds(self, site: OnPlate) -> Sequence[Kind]:
        return [*self.bore.kinds(self.hub(site)), plate_kind(site.name, boss=self.boss is not None)]

    def modes(self, site: OnPlate, case: LoadCase) -> Iterator[Check]:
        """Teeth, flanks and hub under the bar's torque."""
        yield from self.bore.modes(self.hub(site), case)
        if self.boss is None:
            return
        force, moment = site.felt(case)
        d, d_i = self.boss.diameter, self.bore.largest
        ring = np.power(d, 4.0) - np.power(d_i, 4.0)
        across = np.hypot(force[..., 0], force[..., 1])
        stress = work(
            bar.round_tube_stress, A=np.pi / 4.0 * (np.square(d) - np.square(d_i)), W=np.pi / 32.0 * ring / d,
            N=force[..., 2], V=across, M=np.hypot(moment[..., 0], moment[..., 1]) + across * self.base(),
            T=moment[..., 2],
        )  # fmt: skip
        required = site.required(case)
        for kind, strength, factor in required.both(
            site.metal.yield_strength, site.metal.ultimate_strength
        ):
            yield check(
                f"{site.name} boss, bending at the root, {kind}", "bending", load_case=case.name, demand=stress,
                capacity=strength, unit="MPa", required=factor, note="all of the bar's torque through one root",
            )  # fmt: skip

    def details(self, site: OnPlate, modes: Modes) -> Sequence[Detail]:
        found = list(self.bore.details(self.hub(site), modes))
        if self.boss is not None:
            d, r = self.boss.standing_on()
            of = f"{site.name} boss, bending at the root, yield"
            found.append(root_spot(f"{site.name} boss, root", site.metal, modes, of, d, r))
        return found

    def clearances(self, site: OnPlate) -> Sequence[Clearance]:
        return self.bore.clearances(self.hub(site))

    def bought(self, site: OnPlate) -> Sequence[Bought]:
        return self.bore.bought(self.hub(site))

    def touching(self, site: OnPlate) -> Mapping[str, str]:
        return self.bore.touching(self.hub(site))

    def cautions(self, site: OnPlate) -> Sequence[str]:
        return self.bore.cautions(self.hub(site))

    def facts(self, site: OnPlate) -> Mapping[str, tuple[Any, str]]:
        return self.bore.facts(self.hub(site))

    def marks(self, site: OnPlate) -> Marks:
        from parts.core.drawing import Marks
        from parts.features.plate.point_marks import standing

        low, high = (float(v) for v in self._faces(site.thickness))
        place = (float(self.at[0]), float(self.at[1]), (low + high) / 2.0)
        steps = Marks(tuple(standing(self.fixture(site), site, {})))
        return steps + self.bore.marks(self.hub(site)).moved(place)

    def applied(self, site: OnPlate, case: LoadCase) -> Sequence[Applied]:
        return site.pressed(self._plain(site)[0], case)

    def bored(self, site: OnPlate) -> Sequence[Round]:
        return self._plain(site)[1:]

    def _plain(self, site: OnPlate) -> Sequence[Round]:
        low, high = (float(v) for v in self._faces(site.thickness))
        middle = np.array([*map(float, self.at), (low + high) / 2.0])
        return [replace(one, centre=middle) for one in self.bore.plain(high - low)]
