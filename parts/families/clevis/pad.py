"""A bolt-on pad: a plate behind the body with a pattern of holes, and the bolts through it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.fatigue_places import Detail, Spot, demand_of, fatigue_factor, thread_spot
from parts.core.feature import Modes
from parts.core.freebody import Acting, reacting
from parts.core.loads import LoadCase, Required
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.features.bolts.grip import Joint, choose_bolt, fitted, grip_rules, length_rule
from parts.features.bolts.group import Group as BoltGroup
from parts.features.bolts.group import centre_check, prying_checks
from parts.features.bolts.hardware import usual_surface
from parts.features.bolts.pattern import (
    ClearanceHoles,
    CounterboredHoles,
    Holes,
    PadBolts,
    TappedHoles,
)
from parts.features.bolts.torque import tightening_facts
from parts.features.section.notches import SHARP, flat_fillet, thread_root, toward_fillet
from parts.features.thread import threaded
from parts.features.thread.body import Body, OnBody, Shank
from parts.inputs.quantities import Point2, PositiveLength
from parts.standards.materials.materials import Material
from parts.strength.bolted import group as boltgroup
from parts.strength.bolted import plate as boltplate
from parts.strength.bolted import thread
from parts.strength.method import work
from parts.strength.plates import plate
from parts.strength.section import bar
from parts.strength.section.outline import Outline, rounded_rectangle

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Dimension, Marks
    from parts.core.loadpath import Notch
    from parts.core.supports import Support

X, Y, Z = np.eye(3)
WASHER = 2.0
"""Outside diameter of a plain washer in bolt diameters [-]; ISO 7089, from memory."""
SOCKET = 2.4
"""Outside diameter of a socket or swing of a spanner, in bolt diameters [-]; common practice, no source."""
EDGE = 1.5
"""Middle of a hole to the edge of the pad, in bolt diameters [-]; common practice, no source."""
PITCH = 2.67
"""Spacing of holes in bolt diameters [-]; AISC 360-16, J3.3 (2-2/3), from memory."""
SHARP_V = 1.25 * np.sqrt(3.0) / 2.0
"""Depth of an internal thread, 5/8 H on each side, in pitches [-]: ISO 68-1."""
LINEAR_PRESSURE = 2.0 / 3.0
"""Resultant of a pressure that runs straight from nothing to its most, over the length that it presses on [-]."""
NOT_COUNTED = {
    "joint opens": "bolts, pad and fatigue are checked as if it were open: no preload is counted on",
    "head sinks in": "no preload is counted on",
    "overtightened": "tightened to three quarters of the proof load, which the greatest scatter of a wrench, 35 %, "
    "takes to 1.01 of it",
}
PRESSED_FLAT = "rigid pad on bolts of equal stiffness, neither preload nor prying counted"


class Pad(Shank):
    """A bolt-on pad with a pattern of holes."""

    seen_from_its_end: ClassVar[bool] = True
    open_back: ClassVar[bool] = True

    type: Literal["pad"] = Field("pad", description="A bolt-on pad with a pattern of holes.")
    width: PositiveLength = Field(description="Width of the pad, along y before clocking.")
    height: PositiveLength = Field(description="Height of the pad, along z before clocking.")
    thickness: PositiveLength = Field(description="Thickness of the pad.")
    corner: PositiveLength = Field(5.0, description="Radius of the pad's corners.")
    at: list[Point2] = Field(
        min_length=2,
        max_length=24,
        description="Positions of the holes: y and z from the pin's middle.",
    )
    holes: Holes = Field(default_factory=ClearanceHoles, description="How the holes are made.")
    bolts: PadBolts = Field(description="The bolts.")
    onto: PositiveLength | None = Field(
        None,
        description="Thickness of what the pad is bolted to, with nuts behind it: holds the bolts' length "
        "against the stack.",
    )

    @model_validator(mode="after")
    def _is_tapped_for_a_thread(self) -> Pad:
        if isinstance(self.holes, TappedHoles) and self.bolts.of_thread is None:
            raise ValueError(
                "tapped holes need the thread of the bolts, as in `bolt: M8x30 8.8` or `thread: M8`"
            )
        return self

    @property
    def hole(self) -> Any:
        """Diameter of the holes as modelled [mm]: the minor diameter where they are tapped."""
        if isinstance(self.holes, TappedHoles):
            of = self.bolts.of_thread
            assert of is not None
            if not self.holes.insert:
                return of.minor_internal
            return thread.insert_major_diameter(of.major, of.pitch) - SHARP_V * of.pitch
        return self.bolts.diameter + self.holes.gap

    @property
    def stack(self) -> Any:
        """What the bolts clamp: the pad beneath their heads and what it stands on [mm]."""
        assert self.onto is not None
        return self._under_head() + self.onto

    @property
    def joint(self) -> Joint | None:
        """A bolt with its nut and washers, where it is named and what it clamps is stated."""
        if self.onto is None or self.bolts.bolt is None or isinstance(self.holes, TappedHoles):
            return None
        deep = float(np.max(self.stack))
        if size := self.bolts.without_length:
            return choose_bolt(size, deep, last_plane=0.0)
        return fitted(self.bolts.bolt, deep)

    def bought(self, site: OnBody) -> Sequence[Bought]:
        """The bolts, and nuts and washers where the stack is known."""
        count = len(self.at)
        if self.joint is None:
            return (Bought(f"bolt {self.bolts.name}", count, "the pad"),)
        return [replace(b, quantity=count * b.quantity) for b in self.joint.bought("the pad")]

    def places(self) -> np.ndarray:
        """Positions of the holes before clocking, shape (..., n, 2) [mm]."""
        flat = np.broadcast_arrays(*(np.asarray(v, float) for place in self.at for v in place))
        return np.stack(flat, axis=-1).reshape(*flat[0].shape, len(self.at), 2)

    def _edge(self) -> Any:
        """Least distance of the middle of a hole from the edge of the pad, round its corners too [mm]."""
        half = np.stack(np.broadcast_arrays(self.width, self.height), axis=-1) / 2.0
        r = np.asarray(self.corner, float)[..., None]
        past = np.abs(self.places()) - (half[..., None, :] - r[..., None])
        outside = np.linalg.norm(np.maximum(past, 0.0), axis=-1) + np.minimum(
            past.max(axis=-1), 0.0
        )
        return (r - outside).min(axis=-1)

    def _pitch(self) -> Any:
        places = self.places()
        apart = np.linalg.norm(places[..., :, None, :] - places[..., None, :, :], axis=-1)
        apart = apart + np.where(np.eye(len(self.at)) > 0.0, np.inf, 0.0)
        return apart.min(axis=(-2, -1))

    def _body_half(self, body: Body) -> tuple[Any, Any]:
        """Half the body's extent along the pad's own y and z [mm]."""
        c, s = np.abs(np.cos(body.clocking)), np.abs(np.sin(body.clocking))
        return (c * body.width + s * body.height) / 2.0, (s * body.width + c * body.height) / 2.0

    def _beside_body(self, body: Body) -> Any:
        """Least distance of the middle of a hole from the sides of the body [mm]."""
        return self._each_beside_body(body).min(axis=-1)

    def _turned(self, body: Body) -> np.ndarray:
        """Positions of the holes as clocked, shape (..., n, 2) [mm]."""
        c, s = np.cos(body.clocking), np.sin(body.clocking)
        y, z = self.places()[..., 0], self.places()[..., 1]
        c, s = np.asarray(c)[..., None], np.asarray(s)[..., None]
        return np.stack([c * y - s * z, s * y + c * z], axis=-1)

    def _each_beside_body(self, body: Body) -> Any:
        """Distance of the middle of each hole from the sides of the body, shape (..., n) [mm]."""
        c, s = np.cos(body.clocking), np.sin(body.clocking)
        y, z = self.places()[..., 0], self.places()[..., 1]
        c, s = np.asarray(c)[..., None], np.asarray(s)[..., None]
        w, h = np.asarray(body.width, float)[..., None], np.asarray(body.height, float)[..., None]
        past = np.abs(c * y - s * z) - w / 2.0, np.abs(s * y + c * z) - h / 2.0
        away = np.hypot(np.maximum(past[0], 0.0), np.maximum(past[1], 0.0))
        return away + np.minimum(np.maximum(*past), 0.0)

    def marks(self, site: OnBody) -> Marks:
        """The pad, its holes and their places, in the axes of the ears."""
        from parts.core.drawing import CentreLine, Hole, Linear, Marks, Radius
        from parts.features.thread.body_marks import root_marks, turned_marks

        body = site.body
        wide, high, thick = float(self.width), float(self.height), float(self.thickness)
        corner, size = float(self.corner), float(self.hole)
        tapped = self.bolts.of_thread if isinstance(self.holes, TappedHoles) else None
        bored = self.holes if isinstance(self.holes, CounterboredHoles) else None
        holes = []
        sizes: list[Dimension] = [
            Linear(
                "width of the pad",
                (-thick, -wide / 2, 0),
                (-thick, wide / 2, 0),
                Y,
                wide,
                view="left",
            ),
            Linear(
                "height of the pad",
                (-thick, 0, -high / 2),
                (-thick, 0, high / 2),
                Z,
                high,
                view="left",
            ),
            Linear(
                "thickness of the pad",
                (-thick, wide / 2, 0),
                (0, wide / 2, 0),
                X,
                thick,
                view="front",
            ),
        ]
        if corner > 0.0:
            way = (Y + Z) / np.sqrt(2.0)
            centre = (-thick, wide / 2 - corner, high / 2 - corner)
            sizes.append(Radius("corner of the pad", centre, X, way, corner, count=4, view="left"))
        sizes += root_marks(body, float(body.width), on_pad=True)
        for i, (y, z) in enumerate(self.places(), 1):
            place = (0.0 if bored else -thick, float(y), float(z))
            holes.append(
                Hole(
                    f"pad hole {i}",
                    place,
                    -X if bored else X,
                    size,
                    through=thick,
                    thread=tapped,
                    countersink=float(tapped.major + 2.0 * body.edge_break) if tapped else 0.0,
                    view="left",
                    counterbore=(float(bored.diameter), float(bored.depth)) if bored else None,
                    callout="counterbore on the far side" if bored else "",
                )
            )
        for way, n, name in ((Y, 0, "y"), (Z, 1, "z")):
            for value in sorted({round(float(p[n]), 6) for p in self.places()}):
                if abs(value) > 1e-6:
                    on = next(p for p in self.places() if abs(p[n] - value) < 1e-5)
                    start = (-thick, 0.0, 0.0)
                    end = (-thick, float(on[0]), float(on[1]))
                    sizes.append(
                        Linear(
                            f"holes at {name} {value:g}",
                            start,
                            end,
                            way * np.sign(value),
                            abs(value),
                            view="left",
                        )
                    )
        middle = (
            CentreLine((-thick, -wide / 2, 0), (-thick, wide / 2, 0)),
            CentreLine((-thick, 0, -high / 2), (-thick, 0, high / 2)),
        )
        return turned_marks(Marks(tuple(sizes), tuple(holes), (), middle), body, "Pad")

    def rules(self, site: OnBody) -> Iterator[Rule]:
        """Rules of the pad; `field` is its dotted path."""
        field, body = site.field, site.body
        d = self.bolts.diameter
        yield at_least(
            "pad.thin", f"{field}.thickness", self.thickness, np.maximum(0.75 * d, 3.0),
            "a pad this thin bends before its bolts work (three quarters of a bolt: common practice, no "
            "source)",
            "thicken the pad",
        )  # fmt: skip
        yield at_most(
            "pad.thick", f"{field}.thickness", self.thickness, 60.0,
            "this is a block; it looks like the wrong unit",
            "check the unit of this value",
        )  # fmt: skip
        yield at_most(
            "pad.large", f"{field}.width", np.maximum(self.width, self.height), 400.0,
            "no pad of a one-off vehicle is this large; it looks like the wrong unit",
            "check the unit of this value",
        )  # fmt: skip
        yield at_most(
            "pad.corner", f"{field}.corner", self.corner, np.minimum(self.width, self.height) / 2.0 - 0.1,
            "the corner radii would meet", "lessen the corner radius",
        )  # fmt: skip
        yield at_least(
            "pad.corner_break", f"{field}.corner", self.corner, 1.2 * body.edge_break,
            "the corners must be rounder than the chamfer that runs round them", "enlarge the corner radius",
        )  # fmt: skip
        yield at_most(
            "pad.break", "edge_break", body.edge_break, self.thickness / 4.0,
            "the chamfers would eat the edge of the pad", "lessen the edge break",
        )  # fmt: skip
        yield from self._body_rules(field, body)
        yield from self._hole_rules(field, body)

    def _body_rules(self, field: str, body: Body) -> Iterator[Rule]:
        room = body.root_fillet + body.edge_break + 0.2
        for name, size, half in zip(
            ("width", "height"), (self.width, self.height), self._body_half(body), strict=True
        ):
            yield at_least(
                f"pad.{name}", f"{field}.{name}", size, 2.0 * (half + room),
                "the body with its root fillet is larger than the pad", f"enlarge the pad's {name}",
            )  # fmt: skip
        corner = (
            np.stack(np.broadcast_arrays(*self._body_half(body)), axis=-1)
            + np.asarray(room)[..., None]
        )
        half = np.stack(np.broadcast_arrays(self.width, self.height), axis=-1) / 2.0
        past = np.linalg.norm(
            np.maximum(corner - half + np.asarray(self.corner)[..., None], 0.0), axis=-1
        )
        yield at_least(
            "pad.corners", f"{field}.corner", self.corner, past,
            "the body would hang over the corner of the pad", "lessen the corner radius, or enlarge the pad",
        )  # fmt: skip

    def _hole_rules(self, field: str, body: Body) -> Iterator[Rule]:
        d, holes = self.bolts.diameter, self.holes
        seat = WASHER * d
        size, through = self.bolts.without_length, not isinstance(self.holes, TappedHoles)
        if size and through and self.onto is not None:
            yield length_rule(f"{field}.bolts.bolt", size, self.stack, 0.0)
        elif self.joint is not None:
            yield from grip_rules(f"{field}.bolts.bolt", self.joint, self.stack, last_plane=0.0)
        if isinstance(holes, CounterboredHoles):
            seat = holes.diameter
            yield at_least(
                "pad.counterbore", f"{field}.holes.diameter", holes.diameter, 1.6 * d,
                "the head of a socket screw does not enter (head 1.5 diameters: ISO 4762, from memory)",
                "widen the counterbore",
            )  # fmt: skip
            yield at_most(
                "pad.counterbore_depth", f"{field}.holes.depth", holes.depth,
                np.minimum(0.6 * self.thickness, self.thickness - 2.0 - body.edge_break),
                "too little metal is left under the head (common practice, no source)", "lessen its depth",
            )  # fmt: skip
        if isinstance(holes, TappedHoles):
            assert self.bolts.of_thread is not None
            seat = d
            yield threaded.engagement_rule(
                f"{field}.thickness", self.thickness, self.bolts.of_thread
            )
        else:
            yield at_most(
                "pad.gap", f"{field}.holes.gap", holes.gap, 0.15 * d + 0.5,
                "the bolts would not locate the pad",
                "lessen the gap",
            )  # fmt: skip
        yield at_least(
            "pad.edge", f"{field}.at", self._edge(), np.maximum(EDGE * d, seat / 2.0 + body.edge_break + 0.3),
            "a hole or its washer runs out over the edge of the pad (1.5 diameters: common practice, no "
            "source)",
            "move the holes in, or enlarge the pad",
        )  # fmt: skip
        yield at_least(
            "pad.pitch", f"{field}.at", self._pitch(), np.maximum(PITCH * d, seat + 1.0),
            "the holes are too near each other (AISC 360-16, J3.3, from memory)", "move the holes apart",
        )  # fmt: skip
        turning = SOCKET * d if isinstance(holes, ClearanceHoles) else seat
        yield at_least(
            "pad.access", f"{field}.at", self._beside_body(body),
            np.maximum(turning, seat) / 2.0 + body.root_fillet + body.edge_break + 0.5,
            "washer or spanner would foul the body of the clevis (a socket of 2.4 diameters: common practice, "
            "no source)", "move the holes away from the body",
        )  # fmt: skip

    def loads(self, body: Body, actions: Any) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """What acts at the foot of the pad, on its middle: force, moment and place in the axes of the bolts.

        The bolts' x and y are the part's y and z, their z is the part's x.
        """
        force, moment = body.carried(actions, self.thickness)
        around = (1, 2, 0)
        place = np.zeros(3)
        return force[..., around], moment[..., around], place

    def reactions(self, body: Body, actions: Any) -> np.ndarray:
        """Shear both ways and axial force of each bolt, tension positive, shape (..., n, 3) [N]."""
        force, moment, place = self.loads(body, actions)
        turned = self._turned(body)
        pressed, _ = self._pressed(body, moment)
        left = moment - self._about_line(body, moment)
        each = boltgroup.bolt_reactions(turned, force, left, place)
        rocking = (pressed / len(self.at))[..., None] + 0.0 * each[..., 2]
        return np.asarray(each + np.stack(np.broadcast_arrays(0.0, 0.0, rocking), axis=-1))

    def _line(self, body: Body) -> tuple[Any, Any]:
        """Direction of the line on which all bolts stand, shape (..., 2), and whether there is such a line."""
        r = self._turned(body)
        r = r - r.mean(axis=-2, keepdims=True)
        Ixx, Iyy = (r[..., 1] ** 2).sum(-1), (r[..., 0] ** 2).sum(-1)
        Ixy = (r[..., 0] * r[..., 1]).sum(-1)
        turn = 0.5 * np.arctan2(2.0 * Ixy, Iyy - Ixx)
        one_line = Ixx * Iyy - Ixy**2 <= 1e-9 * (Ixx + Iyy) ** 2
        return np.stack([np.cos(turn), np.sin(turn)], axis=-1), one_line

    def _about_line(self, body: Body, moment: Any) -> np.ndarray:
        """The part of a moment that bolts in one line cannot carry: that about their line; none of other patterns."""
        way, one_line = self._line(body)
        about = (moment[..., :2] * way).sum(-1) * one_line
        return np.concatenate([about[..., None] * way, 0.0 * about[..., None]], axis=-1)

    def _pressed(self, body: Body, moment: Any) -> tuple[Any, Any]:
        """Force with which the pad's edge presses when it rocks on bolts in one line [N], and where: shape (..., 2).

        The pressure runs straight from nothing at the line of the bolts to its most at the edge, so that its resultant
        stands off the line by two thirds of the edge's distance. The bolts pull as much, evenly.
        """
        way, _ = self._line(body)
        about = self._about_line(body, moment)
        signed = (about[..., :2] * way).sum(-1)
        # A moment about the line pushes the pad down on this side of it.
        side = (
            np.stack([way[..., 1], -way[..., 0]], axis=-1)
            * np.where(signed < 0.0, -1.0, 1.0)[..., None]
        )
        c, s = np.cos(body.clocking), np.sin(body.clocking)
        own = c * side[..., 0] + s * side[..., 1], c * side[..., 1] - s * side[..., 0]
        half = np.asarray(self.width, float) / 2.0, np.asarray(self.height, float) / 2.0
        middle = self.places().mean(axis=-2)
        with np.errstate(divide="ignore"):
            reach = np.minimum(
                *(
                    (h - np.sign(n) * m) / np.abs(n)
                    for n, h, m in zip(own, half, (middle[..., 0], middle[..., 1]), strict=True)
                )
            )
        # A round corner takes the more off, the nearer to it the pad is pressed.
        corner = (np.sqrt(2.0) - 1.0) * np.sqrt(2.0) * np.minimum(np.abs(own[0]), np.abs(own[1]))
        reach = reach - corner * self.corner - body.edge_break
        lever = LINEAR_PRESSURE * reach
        return np.abs(signed) / lever, self._turned(body).mean(axis=-2) + lever[..., None] * side

    def kinds(self, site: OnBody) -> list[Kind]:
        """What can fail of it."""
        found = [
            Kind("bolted pad", "pad"), Kind("bolt in a joint", "pad bolt", NOT_COUNTED),
            Kind("hole of a bolt", "pad hole"), Kind("bolt group", "pad bolts"),
        ]  # fmt: skip
        return [*found, Kind("tapped hole", "pad bolt")] if self.holes.type == "tapped" else found

    def modes(self, site: OnBody, case: LoadCase) -> Iterator[Check]:
        """Tension and shear of the bolts, bearing at their holes, and bending of the pad."""
        body, metal, actions, required = (
            site.body,
            site.metal,
            site.actions(case),
            site.required(case),
        )
        each = self.reactions(body, actions)
        pull = np.maximum(each[..., 2], 0.0).max(axis=-1)
        shears = np.hypot(each[..., 0], each[..., 1])
        on = partial(check, load_case=case.name)
        made, area = self.bolts.strengths, self.bolts.area
        stress = work(bar.direct_stress, F=pull, A=area)
        note = f"worst bolt; {PRESSED_FLAT}: {boltgroup.bolt_reactions.source}"  # type: ignore[attr-defined]
        for kind, strength, factor in required.both(made.on_yield, made.ultimate):
            yield on(
                f"pad bolt, tension, {kind}", "bolt tension", demand=stress, capacity=strength, unit="MPa",
                required=factor, note=note,
            )  # fmt: skip
        yield on(
            "pad bolt, shear", "bolt shear", demand=work(bar.direct_stress, F=shears.max(axis=-1), A=area),
            capacity=made.shear, unit="MPa", required=required.on_ultimate,
            note=f"{note}; threads in the plane",
        )  # fmt: skip
        both = boltplate.elliptical_use(
            np.maximum(each[..., 2], 0.0), shears, area * made.ultimate, area * made.shear
        )  # fmt: skip
        worst = np.argmax(both, axis=-1)[..., None]
        yield on(
            "pad bolt, shear with tension", "bolt shear and tension", capacity=1.0, unit="-",
            demand=work(
                boltplate.elliptical_use, V=np.take_along_axis(shears, worst, -1)[..., 0],
                V_u=area * made.shear,
                T=np.take_along_axis(np.maximum(each[..., 2], 0.0), worst, -1)[..., 0],
                T_u=area * made.ultimate,
            ),
            required=required.on_ultimate, note=note,
        )  # fmt: skip
        yield on(
            "pad hole, bearing", "bearing", demand=shears.max(axis=-1), unit="N", required=required.on_ultimate,
            capacity=work(
                plate.hole_bearing_load, l_c=self._edge() - self.hole / 2.0, d=self.bolts.diameter,
                t=self._under_head(), F_u=metal.ultimate_strength,
            ),
        )  # fmt: skip
        if isinstance(self.holes, TappedHoles):
            assert self.bolts.of_thread is not None
            yield from threaded.strip_modes(
                "pad bolt",
                self.bolts.of_thread,
                made.shear,
                metal,
                self.thickness,
                pull,
                case.name,
                required,
            )
            if self.holes.insert:
                yield self._insert_check(metal, pull, case.name, required)
        yield from self._bending(body, metal, case, actions, each, required)
        yield from self._second_methods(body, metal, case, actions, each, required)

    def _insert_check(self, metal: Material, pull: Any, case: str, required: Required) -> Check:
        """The wire insert torn out of the pad with its thread."""
        of = self.bolts.of_thread
        assert of is not None
        return check(
            "pad bolt insert, pulled out", "thread strip", load_case=case, demand=pull, unit="N",
            capacity=work(
                thread.boss_strip_capacity_insert, d=of.major, p=of.pitch, L_e=self.thickness,
                tau=metal.shear_ultimate, D_o=2.0 * self._edge(),
            ),
            required=required.on_ultimate, note="an insert as long as the pad is thick",
        )  # fmt: skip

    def _second_methods(
        self,
        body: Body,
        metal: Material,
        case: LoadCase,
        actions: Any,
        each: Any,
        required: Required,
    ) -> Iterator[Check]:
        """The group about its instantaneous centre, and prying where the pad is bolted down by its edge."""
        made, area = self.bolts.strengths, self.bolts.area
        group = BoltGroup(
            self._turned(body), self.bolts.diameter, self.hole, area * made.shear, area * made.ultimate
        )  # fmt: skip
        force, moment, _ = self.loads(body, actions)
        yield from centre_check(group, force[..., :2], moment[..., 2], case.name, required)
        yield from prying_checks(
            group, each[..., 2], self.thickness, self._each_beside_body(body),
            np.asarray(self._edge())[..., None], np.asarray(self._pitch())[..., None],
            metal.ultimate_strength, case.name, required,
        )  # fmt: skip

    def _under_head(self) -> Any:
        sunk = self.holes.depth if isinstance(self.holes, CounterboredHoles) else 0.0
        return self.thickness - sunk

    def _bending(
        self,
        body: Body,
        metal: Material,
        case: LoadCase,
        actions: Any,
        each: Any,
        required: Required,
    ) -> Iterator[Check]:
        """The pad as a strip that the bolts outside one side of the body bend about that side, and its pressed edge."""
        axial = np.abs(each[..., 2])
        pressed, at = self._pressed(body, self.loads(body, actions)[1])
        c, s = np.cos(body.clocking), np.sin(body.clocking)
        own = c * at[..., 0] + s * at[..., 1], c * at[..., 1] - s * at[..., 0]
        for side, index, across in (("y", 0, self.height), ("z", 1, self.width)):
            half = self._body_half(body)[index]
            place = self.places()[..., index]
            edge = [pressed * np.maximum(sign * own[index] - half, 0.0) for sign in (1.0, -1.0)]
            moments = [
                more
                + (axial * np.maximum(sign * place - np.asarray(half)[..., None], 0.0)).sum(axis=-1)
                for sign, more in zip((1.0, -1.0), edge, strict=True)
            ]
            stress = work(
                plate.flat_bending_stress, M=np.maximum(*moments), b=across, t=self.thickness
            )
            for kind, strength, factor in required.both(
                metal.yield_strength, metal.ultimate_strength
            ):
                yield check(
                    f"pad bending along {side}, {kind}", "pad bending", load_case=case.name, demand=stress,
                    capacity=strength, unit="MPa", required=factor,
                    note="the whole pad's width as a strip from the side of the body, pushed or pulled by the "
                    "bolts beyond it: common practice, no source",
                )  # fmt: skip

    def holding(self, site: OnBody, case: LoadCase) -> Sequence[Acting]:
        """What holds the clevis: every bolt; its pull and its shear."""
        body, actions = site.body, site.pins(case)
        each, turned = self.reactions(body, actions), self._turned(body)
        x = -(np.asarray(body.back, float) + self.thickness)
        found = []
        for i in range(len(self.at)):
            y, z = turned[..., i, 0], turned[..., i, 1]
            at = np.stack(np.broadcast_arrays(x, y, z), axis=-1)
            # The bolts' x and y are the part's y and z, their z is the part's x.
            force = each[..., i, (2, 0, 1)]
            found.append(reacting(f"bolt {i + 1}", at, (force, 0.0 * force)))
        pressed, place = self._pressed(body, self.loads(body, actions)[1])
        at = np.stack(np.broadcast_arrays(x, place[..., 0], place[..., 1]), axis=-1)
        force = np.stack(np.broadcast_arrays(-pressed, 0.0, 0.0), axis=-1)
        if np.any(pressed > 0.0):
            found.append(reacting("edge of the pad", at, (force, 0.0 * force)))
        return found

    def body_end(self, body: Body) -> Any:
        """How far behind the pin the body keeps its section [mm]: to the fillet of the pad."""
        return body.back - body.root_fillet

    def body_notch(self, body: Body, start: Any) -> Callable[[Any], Notch]:
        """The fillet of the pad."""
        end = self.body_end(body)
        if not np.any(np.asarray(body.root_fillet) > 0.0):
            return toward_fillet(0.0, start, end, end - start, SHARP)
        r = body.root_fillet
        sides = (
            flat_fillet(whole, size, r)
            for whole, size in ((self.width, body.width), (self.height, body.height))
        )
        root = max(sides, key=lambda one: float(np.max(one.K_t)))
        return toward_fillet(r, start, end + r, end - start, root)

    def details(self, site: OnBody, modes: Modes) -> Sequence[Detail]:
        """The bolts, as if the joint were open."""
        made = self.bolts.metal
        of, stress = self.bolts.of_thread, demand_of(modes, "pad bolt, tension, yield")
        if of is not None:
            return [thread_spot("pad bolt", of, made, stress)]
        K_f = fatigue_factor(made, thread_root(made.ultimate_strength))
        return [
            Spot(
                "pad bolt", made, stress, self.bolts.diameter, K_f, counted=True, note="cut thread"
            )
        ]

    def supports(self, site: OnBody) -> Sequence[Support]:
        """The ring under each bolt's washer."""
        from parts.core.supports import Flat, Support

        body, back = site.body, -float(site.body.back + self.thickness)
        washer = float(np.minimum(WASHER * self.bolts.diameter, 2.0 * self._edge()))
        return tuple(
            Support(
                f"bolt {i + 1}",
                (Flat(np.array([back, y, z]), (-1.0, 0.0, 0.0), washer / 2.0, float(self.hole) / 2.0),),
                float(self.bolts.diameter),
            )
            for i, (y, z) in enumerate(np.asarray(self._turned(body), float))
        )  # fmt: skip

    def touching(self, site: OnBody) -> Mapping[str, str]:
        """Its bolts."""
        of = self.bolts.bolt
        return {} if of is None else {f"bolt {self.bolts.name}": usual_surface(of)}

    def facts(self, site: OnBody) -> Mapping[str, tuple[Any, str]]:
        """The hole to drill, and how tight its bolts are pulled."""
        found: dict[str, tuple[Any, str]] = {"pad hole": (self.hole, "mm")}
        of = self.bolts.of_thread
        if of is not None:
            found |= tightening_facts("a pad bolt", of, self.bolts.proof)
        return found

    def outline(self, clocking: Any) -> Outline:
        """The pad seen along x, in y and z [mm]."""
        return rounded_rectangle(self.width, self.height, self.corner).rotated(clocking)

    def join(self, fork: cq.Workplane, body: Body) -> cq.Workplane:
        """The fork on its pad, with the fillet between them, drilled."""
        from parts.shapes.profile import prism

        back, low = -float(body.back), -float(body.back + self.thickness)
        pad = prism(self.outline(float(body.clocking)), low, back, "x")
        if body.edge_break > 0.0:
            pad = pad.faces("|X").edges().chamfer(float(body.edge_break))
        solid = fork.union(pad)
        if body.root_fillet > 0.0:
            solid = solid.newObject(_root_edges(solid, body)).fillet(float(body.root_fillet))
        return solid.cut(self._drills(body, low, back))

    def _drills(self, body: Body, low: float, back: float) -> cq.Workplane:
        import cadquery as cq

        from parts.shapes.profile import broken_hole, cylinder

        sunk = float(body.edge_break)
        if isinstance(self.holes, TappedHoles):
            assert self.bolts.of_thread is not None
            sunk += (self.bolts.of_thread.major - self.hole) / 2.0
        angle = float(np.degrees(body.clocking))
        solids = []
        for y, z in self.places():
            centre = (0.0, float(y), float(z))
            tool = broken_hole(float(self.hole), low, back, sunk, "x", centre)
            if isinstance(self.holes, CounterboredHoles):
                floor = back - float(self.holes.depth)
                tool = tool.union(cylinder(self.holes.diameter, floor, back + 1.0, "x", centre))
            solids += tool.rotate((0, 0, 0), (1, 0, 0), angle).vals()
        return cq.Workplane(obj=cq.Compound.makeCompound(solids))


def _root_edges(solid: cq.Workplane, body: Body) -> list[cq.Edge]:
    """The edges where the body stands on the pad: in the plane of its face, on the outline of the body."""
    w, h, x = float(body.width) / 2.0 + 1e-6, float(body.height) / 2.0 + 1e-6, -float(body.back)
    return [
        edge
        for edge in solid.edges().vals()
        for box in (edge.BoundingBox(),)
        if abs(box.xmin - x) < 1e-5
        and abs(box.xmax - x) < 1e-5
        and max(-box.ymin, box.ymax) < w
        and max(-box.zmin, box.zmax) < h
    ]
