"""Frame tab: a flat tab with a hole or two, straight or bent, its root shaped to the tube that it is welded on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property, partial
from typing import TYPE_CHECKING, Any, ClassVar, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.assembled import Placed
from parts.core.check import Check, check
from parts.core.freebody import Acting, reacting
from parts.core.loadpath import Notch, Span
from parts.core.loads import Action, LoadCase, point_actions, resultant
from parts.core.part import Piece
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.frame_tab.shape import TabShape
from parts.families.frame_tab.tube import Bend
from parts.features.pins.pin import ClearanceHole, TappedHole
from parts.features.pins.tab_hole import InTab, TabHole, beside_the_tab
from parts.features.section.notches import beside_pin, pin_rim, same
from parts.features.section.outlines import beside_bore, chamfered
from parts.features.thread.threaded import engagement_rule, strip_modes
from parts.features.weld.plate_edge import Joint, Loaded, OnTube, Seat, Wall
from parts.features.weld.softened import welded, within_reach
from parts.standards.materials.materials import Material
from parts.standards.stock.bends import least_bend_radius
from parts.strength.method import work
from parts.strength.section.bar import bend_stress
from parts.strength.section.outline import Outline
from parts.strength.welded.line import polyline

if TYPE_CHECKING:
    from parts.core.blank import Blank
    from parts.core.drawing import Drawn
    from parts.core.supports import Held
    from parts.core.weldment import Weldment

AXES: Any = np.eye(3)
X, Y, Z = AXES
PIN = {"diameter": "8 mm", "material": "4130 Q&T 125 ksi", "hole": {"type": "clearance"}}
BASE = {
    "family": "frame tab", "name": "HC-113", "title": "mudguard tab", "material": "4130 normalized", "form": "sheet",
    "on": {"type": "round", "tube": "1-1/4 in x 0.065 in"}, "thickness": "4 mm", "width": "36 mm", "reach": "20 mm",
    "pin": PIN, "weld": {"leg": "3 mm"},
    "loads": [{"name": "strut pulls", "forces": [{"at": "hole", "force": ["1.2 kN", "300 N", "60 N"]}]}],
}  # fmt: skip
TWO = [
    {"at": "hole 1", "force": ["300 N", "200 N", "30 N"]},
    {"at": "hole 2", "force": ["-200 N", 0, 0]},
]


class FrameTab(TabShape):
    """A tab welded on a tube."""

    summary: ClassVar[str] = (
        "a flat tab with one hole or two, straight or bent, welded on a round or rectangular tube"
    )
    axes: ClassVar[str] = (
        "origin on the tube's axis; x out of the tube through the tab; y along its width; z square to it at its root"
    )
    load_points: ClassVar[Mapping[str, str]] = {
        "hole": "one hole, without `pitch`",
        "hole 1": "two holes, with `pitch`",
        "hole 2": "two holes, with `pitch`",
    }
    not_covered: ClassVar[tuple[str, ...]] = (
        "the tube beyond the wall under the tab", "distortion and residual stress of welding",
    )  # fmt: skip
    example: ClassVar[Mapping[str, Any]] = BASE
    examples: ClassVar[Sequence[Mapping[str, Any]]] = (
        BASE,
        BASE | {"title": "tank tab", "on": {"type": "rectangular", "tube": "40 x 40 x 2 mm"}, "width": "60 mm",
            "pitch": "30 mm",
            "thickness": "5 mm", "corner": "10 mm", "loads": [{"name": "tank rocks", "forces": TWO}],
            "pin": PIN | {"hole": {"type": "tapped", "thread": "M8"}}},
        BASE | {"title": "bent tab", "bend": {"at": "12 mm", "angle": "60 deg", "radius": "12 mm"}, "reach": "38 mm",
            "loads": [{"name": "lamp", "forces": [{"at": "hole", "force": ["60 N", "40 N", "60 N"]}]}]},
        BASE | {"title": "damper tab", "stands": "across", "width": "26 mm", "reach": "18 mm",
            "pin": PIN | {"diameter": "6 mm",
                "hole": {"type": "bushed", "outside": "10 mm", "material": "C93200", "fit": "H7/k6"}},
            "loads": [{"name": "damper", "forces": [{"at": "hole", "force": ["900 N", "100 N", 0]}]}]},
    )  # fmt: skip

    family: Literal["frame tab"] = Field("frame tab", description="A tab welded on a tube.")

    def rules(self) -> Iterator[Rule]:
        d, t, w, field = self.bore, self.thickness, self.width, "width"
        off = 0.0 if self.pitch is None else self.pitch / 2.0
        room, wide = w / 2.0 - off, self.on.wall[0]
        rows = [
            (at_least, "thin", "thickness", t, 1.0, "so thin a tab burns away when it is welded", "use thicker plate"),
            (at_most, "thick", "thickness", t, 3.0 * self.on.wall[1], "so thick a tab tears the wall beside its weld "
             "(three walls: common practice, no source)", "use thinner plate, or a thicker tube"),
            (at_least, "side", field, room, d, "too little metal beside the hole (one bore: common practice, "
             "no source)", "widen the tab, or choose a smaller pin"),
            (at_least, "end", "beyond", self.end, 1.25 * d, "the pin would tear out of the end (1.25 bores: common "
             "practice, no source)", "let the tab reach further beyond the hole"),
            (at_most, "corner", "corner", self.rounded, np.minimum(w / 2.0, self.end), "the corners meet", "lessen it"),
            (at_least, "reach", "reach", self.reach - self.flat_from, d / 2.0 + self.weld.leg + 2.0,
             "the hole runs into the weld or the bend", "move the hole out"),
            (at_most, "long", "reach", self.reach, 5.0 * w, "so long a tab looks like the wrong unit", "check it"),
            (at_most, "break", "edge_break", self.edge_break, t / 4.0, "the chamfers eat the edges", "lessen it"),
        ]  # fmt: skip
        if self.stands == "across":
            rows += [
                (at_most, "cope", field, w, 0.85 * wide, "its edges would hang beside the tube", "narrow it"),
                (at_least, "narrow", field, w, 0.5 * wide, "so narrow a tab dents the tube (half its width)",
                 "widen it"),
            ]  # fmt: skip
        if self.pitch is not None:
            rows += [
                (at_least, "pitch", "pitch", self.pitch, 2.5 * d, "the holes run together", "move them apart"),
            ]  # fmt: skip
        if self.bend is not None:
            rows += [
                (at_least, "bend", "bend.radius", self.bend.radius, least_bend_radius(self.metal, t),
                 "the metal cracks in so tight a bend", "use a larger radius"),
                (at_least, "bend_at", "bend.at", self.bend.at, self.weld.leg + t, "it meets the weld", "move it out"),
            ]  # fmt: skip
        for kind, code, at, value, limit, why, how in rows:
            yield kind(f"frame_tab.{code}", at, value, limit, why, how)
        if self.bend is not None:
            at, turn, most, least = (
                "bend.angle",
                self.bend.angle,
                np.radians(120.0),
                np.radians(5.0),
            )
            yield at_most(
                "frame_tab.angle", at, turn, most, "no brake bends so far", "lessen it", "deg"
            )
            yield at_least(
                "frame_tab.flat", at, turn, least, "that is no bend", "leave it out", "deg"
            )
        yield from self.pin.rules_in_a_tab("pin")
        if self.beside is not None:
            yield from self.pin.length_rules("pin", t + self.beside, None)
        wall = Wall(*self.on.wall[:2], np.nan, self.on.wall[2])
        yield from self.weld.rules(
            OnTube(field="weld", metal=self.material, thickness=t, under=wall)
        )
        if isinstance(self.pin.hole, TappedHole):
            yield engagement_rule("thickness", t, self.pin.hole.thread, 0.5)

    @cached_property
    def _soft(self) -> Material:
        return welded(self.metal, self.weld.filler, float(np.max(self.thickness)))

    @property
    def _tube_metal(self) -> Material:
        return self.metal if self.tube_material is None else self.tube_material

    @model_validator(mode="after")
    def _can_be_welded(self) -> FrameTab:
        self._strengths()
        return self

    def _strengths(self) -> tuple[float, float]:
        thin = float(np.min(np.minimum(self.thickness, self.on.wall[1])))
        return self.weld.strength([self.metal, self._tube_metal], thin)

    def _at(self, s: Any) -> Material:
        return within_reach(self.metal, self._soft, s)

    def spans(self) -> Sequence[Span]:
        r, c, w, t = self.bore / 2.0, self.edge_break, self.width, self.thickness
        off = 0.0 if self.pitch is None else self.pitch / 2.0

        def beside(u: Any) -> Outline:
            strip = beside_bore(w / 2.0 - off, t, self.bore, c, 0.98 * r * u).moved(off, 0.0)
            if self.pitch is None:
                return strip + strip.mirrored()
            inner = chamfered(
                2.0 * off - 2.0 * np.sqrt(np.maximum(r**2 - (0.98 * r * u) ** 2, 0.0)), t, 0.0
            )
            return strip + inner + strip.mirrored()

        def whole(u: Any) -> Outline:
            return chamfered(w + 0.0 * np.asarray(u, float), t, c)

        room = np.minimum(self.end, w / 2.0 - off)
        loose, acting = (
            isinstance(self.pin.hole, ClearanceHole),
            self._acting,
        )
        bored = same(beside_pin(self.bore, 2.0 * room, room, loose=loose))
        rim = pin_rim(acting, self.frame(self.reach)[2], self.bore, t, 2.0 * room, loose=loose)
        tip, low = self.reach - 1.02 * r - 1.05 * c, self.weld.leg
        rows: list[tuple[str, Any, Any, Any, Any]] = [
            ("beside the hole", self.reach, self.reach - 0.98 * r, beside, bored),
            ("flat", np.minimum(self.flat_from + low, tip), tip, whole, None),
        ]
        if self.bend is not None:
            rows += [("end of the bend", self.flat_from, self.flat_from, whole, None),
                     ("stem", low, self.bend.at, whole, None)]  # fmt: skip
        smooth = same(Notch(1.0, np.inf))
        return [
            Span(name, self.way(a)[0], self.way(b)[0], self.frame(b), outline,
                acting, self._at(np.minimum(a, b)), "part", 5, notch or smooth, rim=rim if notch is bored else None)
            for name, a, b, outline, notch in rows
        ]  # fmt: skip

    @cached_property
    def _joint(self) -> Joint:
        half, stop = self.width / 2.0, self.weld.stop
        along = np.linspace(-1.0, 1.0, 17) if self.stands == "across" else np.array([-1.0, 1.0])
        y = np.asarray(half - stop, float)[..., None] * along
        faces = []
        for z in (self.thickness / 2.0, -self.thickness / 2.0):
            z = np.asarray(z, float)[..., None] + 0.0 * y
            x = self.on.rise(y if self.stands == "across" else z)
            faces.append(polyline(np.stack(np.broadcast_arrays(x, y, z), axis=-1)))
        path = faces[0] + faces[1]
        lean = path.points * (np.array([1.0, 1.0, 0.0]) if self.stands == "across" else X)
        normal = (
            X + 0.0 * lean
            if self.on.wall[2]
            else lean / np.linalg.norm(lean, axis=-1, keepdims=True)
        )
        length = 2.0 * (half - stop)
        seat = Seat(X, Z if self.stands == "across" else Y, length, self.stands == "across")
        return Joint(path, normal, length, seat)

    def features(self) -> Sequence[Placed]:
        return (
            Placed(self.weld, self._welded),
            *(Placed(TabHole(self.pin), site) for site in self._in_holes.values()),
        )

    @cached_property
    def _welded(self) -> OnTube:
        """Where its edge is welded to the tube."""

        strengths, (wide, thick, flat) = self._strengths(), self.on.wall
        return OnTube(
            field="weld", metal=self.metal, name="of the tab", thickness=self.thickness, strengths=strengths,
            under=Wall(wide, thick, strengths[0], flat), loaded=lambda case: self._on_weld(self._acting(case)),
            required=self.factors,
        )  # fmt: skip

    @cached_property
    def _in_holes(self) -> Mapping[str, InTab]:
        """Where its holes lie, by the names of their load points."""
        found = {}
        for (name, place), y in zip(self.points().items(), self._offsets, strict=True):
            room = np.minimum(self.end, self.width / 2.0 - np.abs(y))
            found[name] = InTab(
                field="pin", metal=self._soft, name=f"tab, {name}", thickness=self.thickness, at=place,
                axes=self.frame(self.reach), width=2.0 * room, reach=self.reach - self.flat_from, end=self.end,
                behind=self.width, beside=self.beside, required=self.factors,
                actions=partial(self._acting, name=name),
            )  # fmt: skip
        return found

    def _on_weld(self, actions: Sequence[Action]) -> Loaded:
        return Loaded("of the tab", self._joint, [((self._joint,), actions)])

    def _acting(self, case: LoadCase, name: str = "") -> Sequence[Action]:
        """The loads at one hole, or at all; beside the tab where the pin holds something there."""
        found = point_actions(case, self.points(), [name] if name else None)
        return beside_the_tab(found, self.frame(self.reach), self.thickness, self.beside)

    def modes(self, case: LoadCase) -> Iterator[Check]:
        yield from super().modes(case)
        required, hole = self.factors(case), self.pin.hole
        if isinstance(hole, TappedHole):
            metal = self._at(self.reach - self.bore)
            for name, site in self._in_holes.items():
                across = TabHole(self.pin).force(site, case)[..., 2]
                yield from strip_modes(
                    name, hole.thread, self.pin.material, metal, self.thickness, across, case.name, required
                )  # fmt: skip
        if self.bend is not None:
            yield from self._bend_modes(self.bend, case)

    def _bend_modes(self, bend: Bend, case: LoadCase) -> Iterator[Check]:
        force, moment = resultant(self._acting(case), self.way(bend.at)[0])
        across = np.abs(np.sum(moment * self.frame(bend.at)[..., 2, :], axis=-1))
        # The force, and what bends the tab in its plane, count as the moment across it that stresses it as much.
        pull = np.linalg.norm(force, axis=-1) + 6.0 * across / self.width
        bent, soft = np.abs(moment[..., 1]) + pull * self.thickness / 6.0, self._soft
        for kind, strength, factor in self.factors(case).both(
            soft.yield_strength, soft.ultimate_strength
        ):
            yield check(
                f"inside of the bend, {kind}", "bending", load_case=case.name, unit="MPa", required=factor,
                capacity=strength, note="with the force, and with what bends the tab in its plane",
                demand=work(bend_stress, M=bent, b=self.width, t=self.thickness, r_i=bend.radius),
            )  # fmt: skip

    def kinds(self) -> Sequence[Kind]:
        found = [Kind("end of a plate weld"), *super().kinds()]
        if isinstance(self.pin.hole, TappedHole):
            found += [Kind("tapped tab", name) for name in self.holes]
        return [*found, Kind("bend in a flat")] if self.bend is not None else found

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        zero = np.zeros(3)
        stated = self._on_weld(point_actions(case, self.points()))
        return [reacting("weld of the tab", zero, stated.resultant(zero))]

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.core.supports import Along, Held, Support, longer

        t = float(self.thickness)
        edge = Along(longer(self._joint.path.points, float(self.weld.stop)), 0.75 * t)
        tube = Support("tube", (edge,), 0.5 * t)
        hole, sites = TabHole(self.pin), self._in_holes.values()
        loads = tuple(one for site in sites for one in hole.applied(site, case))
        return [Held("part", (tube,), loads, slender=True)]

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        rise = self.on.depth - self.on.rise(
            self.width / 2.0 if self.stands == "across" else self.thickness / 2.0
        )
        flat = self.strip.flat(self.reach + self.end) + rise
        return {
            "blank, length": (flat, "mm"),
            "blank, width": (self.width, "mm"),
            "cope, depth": (rise, "mm"),
            **super().facts(),
        }

    def cautions(self) -> Sequence[str]:
        return ["Tack, set the tab square, and weld both faces, round the ends, without a crater there.",
                "Ream, press and tap after welding: the holes move with the heat."]  # fmt: skip

    def drawn(self) -> Sequence[Drawn]:
        from parts.families.frame_tab.drawing import tab_drawn

        return [tab_drawn(self)]

    def weldment(self) -> Weldment:
        from parts.families.frame_tab.drawing import tab_weldment

        return tab_weldment(self, self.material.name, self._tube_metal.name)

    def blanks(self) -> Sequence[Blank]:
        from parts.families.frame_tab.blank import tab_blank

        return [tab_blank(self)]

    def build(self) -> Sequence[Piece]:
        from parts.families.frame_tab.solid import tab_solid

        return [Piece("part", self.metal, tab_solid(self))]
