"""A bolt-on pad: a plate behind the body with a pattern of holes, and the bolts through it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.check import Check
from parts.core.clearances import Clearance, of_class
from parts.core.fatigue_places import Detail, Spot, demand_of, fatigue_factor, thread_spot
from parts.core.feature import Modes
from parts.core.freebody import Acting, reacting
from parts.core.loads import LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.clevis.pad_bolts import PadBase, clocked
from parts.families.clevis.pad_strength import pad_modes, pad_spots
from parts.features.bolts.bolted_plate import ON_SLIP_ALONE, BoltedPlate
from parts.features.bolts.grip import grip_rules, length_rule, thread_left
from parts.features.bolts.hardware import usual_surface
from parts.features.bolts.pattern import (
    ClearanceHoles,
    CounterboredHoles,
    TappedHoles,
)
from parts.features.bolts.torque import tightening_facts
from parts.features.pins.bought_pin import SHANK_CLASS
from parts.features.press.fit import bolt_in_hole
from parts.features.section.notches import SHARP, flat_fillet, thread_root, toward_fillet
from parts.features.thread import threaded
from parts.features.thread.body import Body, OnBody
from parts.strength.section.figures import rounded_rectangle
from parts.strength.section.outline import Outline

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Marks
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
NOT_COUNTED = {
    "joint opens": "bolts, pad and fatigue are checked as if it were open: preload is counted on against slip alone",
    "head sinks in": "no preload is counted on",
    **ON_SLIP_ALONE,
}


class Pad(PadBase):
    """A bolt-on pad with a pattern of holes."""

    def bought(self, site: OnBody) -> Sequence[Bought]:
        """The bolts, and nuts and washers where the stack is known."""
        count = len(self.at)
        if self.joint is None:
            return (Bought(f"bolt {self.bolts.name}", count, "the pad"),)
        return [replace(b, quantity=count * b.quantity) for b in self.joint.bought("the pad")]

    def marks(self, site: OnBody) -> Marks:
        from parts.families.clevis.pad_marks import pad_marks

        return pad_marks(self, site.body)

    def clearances(self, site: OnBody) -> Sequence[Clearance]:
        """The bolts in the holes; none in tapped ones."""
        if isinstance(self.holes, TappedHoles):
            return ()
        bolt = of_class("bolt", SHANK_CLASS, self.bolts.diameter)
        found = [
            bolt_in_hole("pad bolts in their holes", f"{site.field}.holes.gap", self.hole, bolt)
        ]
        known = self.onto is not None and np.ndim(self.stack) == 0
        if known and (joint := self.joint) is not None:
            found += thread_left("pad", f"{site.field}.bolts.bolt", joint, self.stack)
        return found

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
        yield from self._hole_rules(field, body, self.plate(site.metal, body.edge_break))

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

    def _hole_rules(self, field: str, body: Body, plate: BoltedPlate) -> Iterator[Rule]:
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
            "pad.edge", f"{field}.at", plate.edge(), np.maximum(EDGE * d, seat / 2.0 + body.edge_break + 0.3),
            "a hole or its washer runs out over the edge of the pad (1.5 diameters: common practice, no "
            "source)",
            "move the holes in, or enlarge the pad",
        )  # fmt: skip
        yield at_least(
            "pad.pitch", f"{field}.at", plate.pitch(), np.maximum(PITCH * d, seat + 1.0),
            "the holes are too near each other (AISC 360-16, J3.3, from memory)", "move the holes apart",
        )  # fmt: skip
        turning = SOCKET * d if isinstance(holes, ClearanceHoles) else seat
        yield at_least(
            "pad.access", f"{field}.at", self._beside_body(body),
            np.maximum(turning, seat) / 2.0 + body.root_fillet + body.edge_break + 0.5,
            "washer or spanner would foul the body of the clevis (a socket of 2.4 diameters: common practice, "
            "no source)", "move the holes away from the body",
        )  # fmt: skip

    def kinds(self, site: OnBody) -> list[Kind]:
        """What can fail of it."""
        found = [
            Kind("bolted pad", "pad"), Kind("bolt in a joint", "pad bolt", NOT_COUNTED),
            Kind("hole of a bolt", "pad hole"), Kind("bolt group", "pad bolts"), Kind("clamped plate", "pad"),
        ]  # fmt: skip
        return [*found, Kind("tapped hole", "pad bolt")] if self.holes.type == "tapped" else found

    def modes(self, site: OnBody, case: LoadCase) -> Iterator[Check]:
        return pad_modes(self, site, case)

    def holding(self, site: OnBody, case: LoadCase) -> Sequence[Acting]:
        """What holds the clevis: every bolt; its pull and its shear."""
        body, plate = site.body, self.plate(site.metal, site.body.edge_break)
        force, moment = self.loads(body, site.pins(case))
        each, turned = (
            clocked(plate.reactions(force, moment), np.asarray(body.clocking)[..., None]),
            self._turned(body),
        )
        x = -(np.asarray(body.back, float) + self.thickness)
        found = []
        for i in range(len(self.at)):
            y, z = turned[..., i, 0], turned[..., i, 1]
            at = np.stack(np.broadcast_arrays(x, y, z), axis=-1)
            # The bolts' x and y are the part's y and z, their z is the part's x.
            bears = each[..., i, (2, 0, 1)]
            found.append(reacting(f"bolt {i + 1}", at, (bears, 0.0 * bears)))
        pressed, place = plate.pressed(moment)
        place = clocked(np.concatenate([place, 0.0 * place[..., :1]], axis=-1), body.clocking)
        at = np.stack(np.broadcast_arrays(x, place[..., 0], place[..., 1]), axis=-1)
        push = np.stack(np.broadcast_arrays(-pressed, 0.0, 0.0), axis=-1)
        if np.any(pressed > 0.0):
            found.append(reacting("edge of the pad", at, (push, 0.0 * push)))
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
        """The bolts, as if the joint were open, and the pad."""
        return [self._bolt(modes), *pad_spots(self, site, modes)]

    def _bolt(self, modes: Modes) -> Detail:
        made = self.bolts.metal
        of, stress = self.bolts.of_thread, demand_of(modes, "pad bolt, tension, yield")
        if of is not None:
            return thread_spot("pad bolt", of, made, stress)
        K_f = fatigue_factor(made, thread_root(made.ultimate_strength))
        return Spot(
            "pad bolt", made, stress, self.bolts.diameter, K_f, counted=True, note="cut thread"
        )

    def supports(self, site: OnBody) -> Sequence[Support]:
        """The ring under each bolt's washer."""
        from parts.core.supports import Flat, Support

        body, back = site.body, -float(site.body.back + self.thickness)
        washer = float(
            np.minimum(
                WASHER * self.bolts.diameter, 2.0 * self.plate(site.metal, body.edge_break).edge()
            )
        )
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
        from parts.shapes.workplane import Workplane

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
        return Workplane(obj=cq.Compound.makeCompound(solids))


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
