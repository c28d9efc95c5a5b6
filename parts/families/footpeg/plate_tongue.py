"""A fabricated footpeg: a waterjet plate is the tongue, and its tab is welded into slots in the end of a tube.

Axes as of the turned tongue: the end of the tube stands at the origin, x runs out along the peg, z is up.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.fatigue_places import ALONG, SLIT, Detail, Weld, demand_of
from parts.core.feature import Modes
from parts.core.loadpath import Span
from parts.core.loads import Action, LoadCase, resultant
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.footpeg.tongue import Tongue
from parts.features.arm.tip import AtTip
from parts.features.section.notches import SHARP, same
from parts.features.section.outlines import chamfered, figure
from parts.features.thread.body import OnBody
from parts.features.weld.plate_edge import Joint, Loaded, OnTube, PlateWeld, Seat, Wall
from parts.features.weld.softened import welded, within_reach
from parts.inputs.quantities import NonNegativeLength, PositiveLength
from parts.standards.materials.materials import Material
from parts.strength.method import work
from parts.strength.plates import plate
from parts.strength.section import bar
from parts.strength.section.outline import Outline
from parts.strength.welded.line import polyline

if TYPE_CHECKING:
    from parts.core.drawing import Marks

X, Y, Z = np.eye(3)
WIDENS = 5.0
"""Radius where the plate begins to widen [mm]: no crack starts there; common practice, no source."""
MOUTH = "plate at the mouth of the tube, yield"
"""The check whose stress the toe there is checked against fatigue by."""
PLAY = 1.0
"""How far the slots run on straight beyond the tab, before their round end [mm]; common practice, no source."""
SHELF = 1.0
"""How far the plate stands out of the tube beyond its fillets [mm]; common practice, no source."""
SHORT_TAB = 50.0
"""Length of tab up to which the plate counts as a short attachment [mm]: EN 1993-1-9, Table 8.4."""


@dataclass(frozen=True, kw_only=True)
class InTube(OnBody):
    """The end of the tube that the plate is welded into; `metal` is that of the plate.

    Attributes:
        bore: inside diameter of the tube [mm].
        tube: its metal.
    """

    bore: Any
    tube: Material


class PlateTongue(Tongue):
    """A tongue of plate whose tab is welded into slots in the end of a tube."""

    type: Literal["folding plate"] = Field(  # type: ignore[assignment]
        "folding plate",
        description="A tongue cut from plate, its tab welded into slots in the end of a tube; it turns on a pin in the "
        "fork of the bracket.",
    )
    tab: PositiveLength = Field(description="How far its tab goes into the tube.")
    height: PositiveLength = Field(
        description="Height of the plate at the tube: it stands out of the slots on both sides, where its fillets lie."
    )
    gap: NonNegativeLength = Field(0.3, description="How much wider the slots are than the plate.")
    weld: PlateWeld = Field(description="The fillets along both faces of the tab, at both slots.")

    @property
    def slot(self) -> Any:
        """Width of the slots [mm]."""
        return self.eye.width + self.gap

    @property
    def slotted_to(self) -> Any:
        """From the end of the tube to the far end of its slots [mm]."""
        return self.tab + PLAY + self.slot / 2.0

    @property
    def slope(self) -> Any:
        """How steeply each edge of the plate widens toward the tube [rad]."""
        return np.arctan2(self.height / 2.0 - self.eye.rim, self.reach - self.eye.rim)

    @property
    def widens(self) -> tuple[Any, Any]:
        """From the pin to where the radius that begins the widening starts and ends [mm]."""
        off = WIDENS * np.tan(self.slope / 2.0)
        return self.eye.rim - off, self.eye.rim + off * np.cos(self.slope)

    def half_height(self, from_pin: Any) -> Any:
        """Half of the height of the plate between its pin and the tube [mm], a distance from the pin."""
        x, r, (start, end) = np.asarray(from_pin, float), self.eye.rim, self.widens
        on = np.clip(x - start, 0.0, end - start)
        hollow = r + WIDENS - np.sqrt(WIDENS**2 - np.square(on))
        return hollow + np.maximum(x - end, 0.0) * np.tan(self.slope)

    def folds_to(self, wide: Any) -> Any:
        return super().folds_to(np.maximum(wide, self.height))

    def comes_out(self, site: OnBody) -> Iterator[Rule]:
        """The plate goes through the tube, and its fillets find room on it."""
        assert isinstance(site, InTube)
        field, D, t, H = site.field, site.body.width, self.eye.width, self.height
        rows = (
            (at_least, "stands", "height", H, D + 2.0 * (self.weld.leg + SHELF),
             "the plate does not stand out of the tube far enough for its fillets (a leg and 1 mm: common practice, no "
             "source)", "make it higher there, or the fillets smaller"),
            (at_least, "narrows", "height", H, self.eye.diameter + 2.0,
             "the plate does not widen toward the tube, whose end stands against it (2 mm: common practice, no source)",
             "make it higher there"),
            (at_most, "steep", "height", H / 2.0 - self.eye.rim, self.reach - self.eye.rim,
             "the plate widens toward the tube by more than 45 degrees (common practice, no source)",
             "make it lower there, or move the tube out"),
            (at_least, "tab_short", "tab", self.tab, 0.75 * D,
             "so short a tab holds the tube by its end alone (three quarters of its diameter: common practice, no "
             "source)", "lengthen it"),
            (at_most, "tab_long", "tab", self.tab, SHORT_TAB,
             "beside so long a tab EN 1993-1-9 counts less of the plate", "shorten it"),
            (at_most, "slot", "eye.width", self.slot, D / 3.0,
             "the slots take too much out of the tube (a third of its diameter: common practice, no source)",
             "take thinner plate, or a larger tube"),
            (at_most, "loose", "gap", self.gap, 0.5 + 0.0 * t,
             "a fillet does not close so wide a gap (0.5 mm: common practice, no source)", "cut the slots narrower"),
        )  # fmt: skip
        for kind, code, name, value, limit, why, how in rows:
            yield kind(f"footpeg.{code}", f"{field}.{name}", value, limit, why, how)
        for wall in self._walls(site)[:1]:
            yield from self.weld.rules(replace(wall, field=f"{field}.weld"))

    def _strengths(self, site: InTube) -> tuple[float, float]:
        return self.weld.strength([site.metal, site.tube], self._thin(site))

    def _thin(self, site: InTube) -> float:
        return float(np.min(np.minimum(self.eye.width, (site.body.width - site.bore) / 2.0)))

    def soft(self, metal: Material, site: InTube) -> Material:
        """A metal as its welds leave it."""
        return welded(metal, self.weld.filler, self._thin(site))

    def _in_eye(self, site: OnBody) -> AtTip:
        if not isinstance(site, InTube):
            return super()._in_eye(site)
        far = self.reach - self.eye.rim
        metal = within_reach(site.metal, self.soft(site.metal, site), far)
        return replace(super()._in_eye(site), metal=metal)

    def _walls(self, site: InTube) -> tuple[OnTube, ...]:
        """The tube's wall at the upper slot and at the lower one."""
        strengths, R = self._strengths(site), site.body.width / 2.0
        wall = Wall(2.0 * R, R - site.bore / 2.0, strengths[0])
        names = "at the upper slot", "at the lower slot"
        joints = tuple(self._joint(R, side) for side in (1.0, -1.0))

        def loaded(i: int, case: LoadCase) -> Loaded:
            whole = joints[i], joints[1 - i]
            return Loaded(names[i], joints[i], [(whole, self.on_tab(site, case))])

        return tuple(
            OnTube(
                field=site.field,
                metal=site.metal,
                name=name,
                thickness=self.eye.width,
                strengths=strengths,
                under=wall,
                loaded=partial(loaded, i),
                required=site.required,
            )
            for i, name in enumerate(names)
        )

    def on_tab(self, site: OnBody, case: LoadCase) -> Sequence[Action]:
        """What the tube hands to the plate: its loads, and what the spring puts on it."""
        turn = Action(
            self.pin_at, 0.0 * self.pin_at, np.asarray(self._sprung, float)[..., None] * Y
        )
        return [*site.pins(case), turn]

    def _joint(self, radius: Any, side: float) -> Joint:
        """The two fillets at one slot: `side` is 1 of the upper one, -1 of the lower."""
        stop, half = self.weld.stop, self.eye.width / 2.0
        rise = side * np.sqrt(np.square(radius) - np.square(half))
        faces = []
        for y in (half, -half):
            ends = [
                np.stack(np.broadcast_arrays(*np.asarray((x, y, rise), dtype=object)), axis=-1)
                for x in (stop, self.tab - stop)
            ]
            faces.append(polyline(np.stack(np.broadcast_arrays(*ends), axis=-2).astype(float)))
        path = faces[0] + faces[1]
        normal = path.points * (1.0 - X)
        normal = normal / np.linalg.norm(normal, axis=-1, keepdims=True)
        return Joint(path, normal, self.tab - 2.0 * stop, Seat(side * Z, X, self.tab - 2.0 * stop))

    def spans(self, site: OnBody) -> Sequence[Span]:
        """The plate from its pin to the tube, and the tube at the end of its slots; between these two both bear."""
        assert isinstance(site, InTube)
        t, soft, (first, _) = self.eye.width, self.soft(site.metal, site), self.widens
        beside, tongue = super().spans(site)
        start = self.pin_at + np.asarray(first, float)[..., None] * X

        def widening(s: Any) -> Outline:
            along = first + (self.reach - first) * np.asarray(s, float)
            return chamfered(2.0 * self.half_height(along), t, 0.0)

        end, over = (np.asarray(x, float)[..., None] * X for x in (self.tab, self.tab + PLAY))
        tube = self.soft(site.tube, site)
        return [
            replace(beside, name="plate beside its pin", piece="plate", material=self._in_eye(site).metal),
            replace(tongue, name="plate", end=start, piece="plate", material=soft),
            replace(tongue, name="plate, widening to the tube", start=start, outline=widening, piece="plate",
                material=soft),
            Span("tube at the end of its slots", end, over, np.eye(3), self._halves(site), site.pins, tube, "tube", 3,
                 same(SHARP)),
        ]  # fmt: skip

    def _halves(self, site: InTube) -> Callable[[Any], Outline]:
        """The section of the tube between its two slots: two halves of a ring."""
        y, outer, inner = self.slot / 2.0, site.body.width / 2.0, site.bore / 2.0
        high, low = (np.sqrt(np.square(r) - np.square(y)) for r in (outer, inner))
        bulges = [np.tan(np.arctan2(z, y) / 2.0) for z in (high, low)]

        def section(s: Any) -> Outline:
            no = 0.0 * np.asarray(s, float)
            half = figure(
                [(y + no, -high + no), (y + no, high + no), (y + no, low + no), (y + no, -low + no)],
                [bulges[0], 0.0, -bulges[1], 0.0],
            )  # fmt: skip
            return half + half.mirrored()

        return section

    def modes(self, site: OnBody, case: LoadCase) -> Iterator[Check]:
        """Beside those of a tongue: fillets, the wall of the tube, and the tube at the end of its slots."""
        assert isinstance(site, InTube)
        yield from super().modes(site, case)
        for wall in self._walls(site):
            yield from self.weld.modes(wall, case)
        yield self._at_mouth(site, case)
        force, moment = resultant(site.pins(case), np.asarray(self.tab, float)[..., None] * X)
        R, r, w, soft = (
            site.body.width / 2.0,
            site.bore / 2.0,
            self.slot,
            self.soft(site.tube, site),
        )
        area = np.pi * (np.square(R) - np.square(r)) - 2.0 * w * (R - r)
        inertia = np.pi / 4.0 * (R**4 - np.power(r, 4)) - 2.0 * w * (R**3 - np.power(r, 3)) / 3.0
        stress = work(
            bar.round_tube_stress, A=area, W=inertia / R, N=force[..., 0], V=np.hypot(force[..., 1], force[..., 2]),
            M=np.hypot(moment[..., 1], moment[..., 2]), T=moment[..., 0],
        )  # fmt: skip
        for kind, strength, factor in site.required(case).both(
            soft.yield_strength, soft.ultimate_strength
        ):
            yield check(
                f"tube at the end of its slots, {kind}", "bending", load_case=case.name, demand=stress,
                capacity=strength, unit="MPa", required=factor,
                note="all that bends it as if in the plane of the slots, which take w (R³ - r³)/3 each; softened",
            )  # fmt: skip

    def _at_mouth(self, site: InTube, case: LoadCase) -> Check:
        """The plate where its fillets begin."""
        force, moment = resultant(self.on_tab(site, case), np.zeros(3))
        t, H = self.eye.width, self.height
        upright = work(plate.flat_bending_stress, M=np.abs(moment[..., 1]), b=t, t=H)
        flat = work(plate.flat_bending_stress, M=np.abs(moment[..., 2]), b=H, t=t)
        return check(
            MOUTH, "toe", load_case=case.name, unit="MPa",
            demand=upright.value + flat.value + np.abs(force[..., 0]) / (t * H),
            capacity=self.soft(site.metal, site).yield_strength, required=site.required(case).on_yield,
            note="6 M/(b t²) both ways and F/(b t), added; nominal, where the fillets begin on its faces",
        )  # fmt: skip

    def kinds(self, site: OnBody) -> Sequence[Kind]:
        assert isinstance(site, InTube)
        welds = [kind for wall in self._walls(site) for kind in self.weld.kinds(wall)]
        return [
            *super().kinds(site),
            *welds,
            Kind("end of a plate weld"),
            Kind("slotted tube", "tube"),
        ]

    def details(self, site: OnBody, modes: Modes) -> Sequence[Detail]:
        assert isinstance(site, InTube)
        welds = [one for wall in self._walls(site) for one in self.weld.details(wall, modes)]
        stress = demand_of(modes, "tube at the end of its slots, yield")
        return [
            *super().details(site, modes),
            *welds,
            Weld("plate, toe at the mouth of the tube", site.metal, demand_of(modes, MOUTH), ALONG),
            Weld("tube, end of its slots", site.tube, stress, SLIT),
        ]

    def cautions(self, site: OnBody) -> Sequence[str]:
        return [
            *super().cautions(site),
            "Ream the eye after welding: the plate moves with the heat.",
            "Have the ends of the slots and the toes of the fillets looked at for cracks after a fall.",
        ]

    def marks(self, site: OnBody) -> Marks:
        from parts.core.drawing import Marks

        return Marks()
