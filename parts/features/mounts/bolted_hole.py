"""A bolted hole of a plate: its bolt, its hole and its boss, by their sizes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.clearances import Clearance, of_class
from parts.core.loads import Required
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.features.bolts.grip import choose_bolt, length_rule
from parts.features.bolts.hardware import matching
from parts.features.bolts.lengths import of_size
from parts.features.bolts.slip import settled_loss
from parts.features.mounts.holes import Hole, PlainHole, SlottedHole, SunkHole, TappedHole
from parts.features.mounts.stud import Threaded
from parts.features.pins.bought_pin import SHANK_CLASS, row_of
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
from parts.features.plate.roots import Checked, rim_stress
from parts.features.plate.section.rims import Rim
from parts.features.press.fit import CLEARS, bolt_in_hole, bolt_through_both, place_zone
from parts.features.section.notches import LOOSE
from parts.inputs.quantities import Point2
from parts.standards.designation import UnknownDesignation
from parts.standards.fasteners.counterbores import counterbore
from parts.standards.fasteners.fasteners import washer
from parts.standards.fits.iso286 import Limits, class_limits
from parts.standards.materials.materials import Material
from parts.strength.bolted.slots import hole_factor
from parts.strength.method import work
from parts.strength.pinned import lug

if TYPE_CHECKING:
    from parts.core.drawing import Marks

WASHER = 2.0
"""Outside of a flat washer in diameters of its bolt (ISO 7089: M8 16, M10 20)."""
AROUND = 2.0
"""A spotface over its washer, on diameter [mm]; common practice, no source."""
SPOTFACE_DEEPEST = 2.0
HEAD = 1.5
"""Face of a socket head in diameters of its bolt, about (ISO 4762, d_w: M8 12.3, M10 15.3; from memory)."""


class BoltedHole(Threaded, AtPoint):
    """A hole for a bolt, in a boss or in the plate alone."""

    at: Point2 = Field(description="Where the hole is.")
    hole: Hole = Field(default_factory=PlainHole, description="What hole it has.")
    boss: Boss | None = Field(None, description="A boss about the hole, on either face.")

    @property
    def beyond(self) -> Any:
        """Thickness of what the bolt goes through beyond the plate to its nut [mm]; None where it goes to none."""
        return None

    def settled(self, metal: Material, thickness: Any) -> Any:
        """What the bolt loses of its preload as the faces settle [N]."""
        deep = self.gripped(thickness) + (0.0 if self.beyond is None else self.beyond)
        heads = 1 if self.beyond is None else 2
        return settled_loss(metal, self.thread.major, self.thread.stress_area, deep, heads)

    @property
    def diameter(self) -> Any:
        """Diameter of the hole, or width of the slot [mm]."""
        if isinstance(self.hole, TappedHole):
            return self.thread.minor_internal
        return self.thread.clearance_hole(self.hole.fit).diameter

    def fitted(self) -> Mapping[str, Limits]:
        """Limits of its hole, by name; none where it is tapped."""
        if isinstance(self.hole, TappedHole):
            return {}
        return {"hole": class_limits(CLEARS[self.hole.fit], float(self.diameter))}

    def clearances(self, site: OnPlate) -> Sequence[Clearance]:
        """The bolt in its hole; none where that is tapped."""
        if isinstance(self.hole, TappedHole):
            return ()
        shank, field = of_class("bolt", SHANK_CLASS, self.thread.major), f"{site.field}.hole"
        alone = bolt_in_hole(
            f"{site.name}: bolt in its hole", field, self.diameter, shank, self.hole.fit
        )
        joint = f"{site.name}: bolt, both holes out of place"
        zone = np.vectorize(lambda hole: place_zone(hole, self.thread.major, fixed=self.fixed))
        (room,) = alone.room
        both = bolt_through_both(
            joint, field, room, shank, zone(self.diameter)[()], fixed=self.fixed
        )
        return (alone, both)

    @property
    def fixed(self) -> bool:
        """Whether the bolt is screwed into one of the two pieces."""
        return isinstance(self.hole, TappedHole) or self.beyond is None

    @property
    def zone(self) -> float:
        """Diameter of the zone that the axis of its hole may lie in [mm]; of a tapped hole, as its bolt clears a hole
        of the normal series in the other piece."""
        hole = self.diameter
        if isinstance(self.hole, TappedHole):
            try:
                hole = self.thread.clearance_hole("normal").diameter
            except UnknownDesignation:  # the standards stop at a size
                hole = 1.1 * self.thread.major
        return place_zone(float(hole), float(self.thread.major), fixed=self.fixed)

    @property
    def sunk(self) -> Any:
        """Diameter of the counterbore or spotface [mm]; 0 for none."""
        hole = self.hole
        if not isinstance(hole, SunkHole):
            return 0.0
        if hole.diameter is not None:
            return hole.diameter
        if hole.type == "spotfaced":
            return washer(self.thread.designation, "flat").outside + AROUND
        return counterbore(self.thread).diameter

    @model_validator(mode="after")
    def _has_a_counterbore_of_the_table(self) -> BoltedHole:
        _ = self.sunk
        return self

    @property
    def along(self) -> tuple[Any, Any]:
        """Direction in which the hole lets its bolt run; (0, 0) for a round hole."""
        if not isinstance(self.hole, SlottedHole):
            return 0.0, 0.0
        return np.cos(self.hole.angle), np.sin(self.hole.angle)

    @property
    def travel(self) -> Any:
        return self.hole.travel if isinstance(self.hole, SlottedHole) else 0.0

    @property
    def hole_factor(self) -> Any:
        """What its hole leaves of the friction under it [-], by `slots.hole_factor`."""
        if isinstance(self.hole, SlottedHole):
            short, long = (hole_factor(f"{name} slot along") for name in ("short", "long"))
            return np.where(self.travel <= self.thread.major / 2.0, short, long)
        loose = not isinstance(self.hole, TappedHole) and self.hole.fit == "loose"
        return hole_factor("oversize" if loose else "round")

    def low(self) -> Any:
        """Height of the face that lies on the frame [mm]."""
        return under_plate(self.boss)

    def base(self) -> Any:
        return over_plate(self.boss)

    def high(self, thickness: Any) -> Any:
        """Height of the outer face at the hole [mm]."""
        return thickness + self.base()

    def gripped(self, thickness: Any) -> Any:
        """Metal between the bolt's head and the frame [mm]."""
        sunk = self.hole.depth if isinstance(self.hole, SunkHole) else 0.0
        return self.high(thickness) - self.low() - sunk

    def stack(self, thickness: Any) -> Any:
        """What the bolt goes through to its nut [mm]; nil where it is screwed into the frame."""
        return 0.0 if self.beyond is None else self.gripped(thickness) + self.beyond

    @property
    def cut_below(self) -> Any:
        """Diameter that is cut from the boss under the inner face [mm]; of a slot its length."""
        inside = isinstance(self.hole, SunkHole) and self.hole.side == "inner"
        of_thread = isinstance(self.hole, TappedHole)
        hole = self.thread.major if of_thread else self.diameter + self.travel
        return np.maximum(hole, self.sunk) if inside else hole

    @property
    def hole_under_head(self) -> Any:
        """Diameter of the hole [mm]; a slot takes its own strip off the ring, as a hole of the same area."""
        hole = self.diameter
        strip = np.minimum(self.travel, WASHER * self.thread.major - hole)
        return np.sqrt(np.square(hole) + 4.0 / np.pi * hole * strip)

    @property
    def bears_on(self) -> Any:
        """Outer diameter of what presses on the plate: a washer, or the head of a sunk screw [mm]."""
        d = self.thread.major
        if isinstance(self.hole, SunkHole) and self.hole.type == "counterbored":
            return HEAD * d
        return WASHER * d

    def fixture(self, site: OnPlate) -> Fixture:
        hole, boss, low, high = self.hole, self.boss, self.low(), self.high(site.thickness)
        d, across = self.diameter, self.diameter + self.travel
        sunk = self.sunk
        seat = 0.0 if isinstance(hole, TappedHole | SunkHole) else WASHER * self.thread.major / 2.0
        seat = seat + self.travel / 2.0 * (seat > 0.0)
        pad = pad_radius(
            hole=np.maximum(across, sunk), wall=site.plate.wall, foot=foot_of(boss), seat=seat,
            edge_break=site.edge_break,
        )  # fmt: skip
        steps: tuple[Turn, ...] = (Turn(low, high, d),)
        if isinstance(hole, SunkHole) and hole.side == "outer":
            steps = (Turn(low, high - hole.depth, d), Turn(high - hole.depth, high, sunk))
        elif isinstance(hole, SunkHole):
            steps = (Turn(low, low + hole.depth, sunk), Turn(low + hole.depth, high, d))
        outer, inner = steps_of(boss, site.thickness)
        slot = hole.loop(self.at, d) if isinstance(hole, SlottedHole) else None
        return Fixture(
            site.name, site.field, self.at, pad, np.maximum(across, sunk) / 2.0, seat, outer, inner,
            bores=() if slot is not None else (Bore(steps),), slot=slot,
        )  # fmt: skip

    def marks(self, site: OnPlate) -> Marks:
        from parts.features.plate.pattern_marks import in_the_pattern
        from parts.features.plate.point_marks import of_point

        fixture, hole = self.fixture(site), self.hole
        marks = of_point(fixture, site, self.fitted(), self.thread)
        if isinstance(hole, SlottedHole):
            slot = hole.callout(site.name, self.at, float(self.diameter), float(site.thickness))
            marks = replace(marks, dimensions=(*marks.dimensions, slot))
        return in_the_pattern(marks, fixture, self.zone, self.low())

    @property
    def _to_its_nut(self) -> str:
        """Size of a bolt that goes through to its nut; empty where none does, or no table holds its class."""
        size = self.bolt or f"{self.thread.basic} {self.bolt_class}"
        return size if self.beyond is not None and row_of(of_size, size) is not None else ""

    def bought(self, site: OnPlate) -> Sequence[Bought]:
        """The bolt, with nut and washers where it goes through to them."""
        name, deep = site.name, float(np.max(self.gripped(site.thickness)))
        if self._to_its_nut:
            stack = float(np.max(self.stack(site.thickness) + site.far))
            return list(choose_bolt(self._to_its_nut, stack, last_plane=0.0).bought(name))
        if self.beyond is not None:
            through = deep + float(np.max(self.beyond + site.far))
            here = f"through {through:.4g} mm to its nut"
        elif isinstance(self.hole, TappedHole):
            here = f"into {deep:.4g} mm of thread"
        else:
            here = f"through {deep:.4g} mm of this part"
        return (self.bought_open(name, here),)

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        field, thickness, plate = site.field, site.thickness, site.plate
        hole, boss = self.hole, self.boss
        across = np.maximum(self.diameter + self.travel, self.sunk)
        if boss is not None:
            yield from boss.rules(f"{field}.boss", across, plate.wall, site.edge_break)
        if isinstance(hole, SunkHole):
            yield from self._sunk_rules(field, hole, thickness)
        if size := self._to_its_nut:
            stated = f"{field}.bolt" if self.bolt else f"{field}.thread"
            yield length_rule(stated, size, self.stack(thickness) + site.far, 0.0)
        if isinstance(hole, TappedHole):
            yield self.engagement_rule(f"{field}.thread", self.gripped(thickness), site.metal)
        if isinstance(hole, SlottedHole):
            yield at_most(
                "mount.travel", f"{field}.hole.travel", hole.travel, 2.0 * self.thread.major,
                "a washer no longer bridges a slot this long", "shorten the travel to two bolt diameters",
            )  # fmt: skip
            if boss is not None:
                seat = self.diameter + self.travel + 2.0 * plate.wall
                yield at_least(
                    "mount.slot_boss", f"{field}.boss.diameter", boss.diameter, seat,
                    "the slot runs out of its boss", "make the boss larger, or shorten the travel",
                )  # fmt: skip
        yield at_most(
            "mount.large", f"{field}.thread", self.thread.major, 20.0,
            "no foot control is held by bolts this thick", "check the thread",
        )  # fmt: skip

    def _sunk_rules(self, field: str, hole: SunkHole, thickness: Any) -> Iterator[Rule]:
        yield at_least(
            "mount.head", f"{field}.hole.diameter", self.sunk, 1.5 * self.thread.major + 0.4,
            "the head of a socket screw, one and a half diameters across, does not go in (ISO 4762)",
            "enlarge the counterbore",
        )  # fmt: skip
        yield at_least(
            "mount.under_head", f"{field}.hole.depth", self.gripped(thickness), 0.5 * self.thread.major,
            "too little metal stays under the head (half a diameter: common practice, no source)",
            "sink the head less, or thicken the plate or its boss",
        )  # fmt: skip
        if self.bolt and hole.type == "counterbored":
            yield matching(
                "mount.socket", f"{field}.bolt", of_size(self.bolt).head == "socket",
                f"{self.bolt} has no socket head, so no wrench turns it in its counterbore",
                f"take a socket head screw, as in `bolt: {self.bolt} socket`",
            )  # fmt: skip
        if hole.type == "spotfaced":
            yield at_most(
                "mount.spotface", f"{field}.hole.depth", hole.depth, SPOTFACE_DEEPEST,
                "a spotface only squares the seat; deeper is a counterbore",
                "lessen it, or ask for a counterbore",
            )  # fmt: skip

    def rim(self, site: OnPlate, modes: Checked, of: str) -> Rim:
        """The rim of its hole, or of its slot, whose bearing stress the check of that name gives."""
        d, room = self.diameter, 2.0 * site.pad(self.fixture(site))
        own = rim_stress(modes, of, d, room, LOOSE)
        return Rim(self.at, d / 2.0, own, (d + self.travel) / 2.0, self.along)

    def bearing_modes(
        self, name: str, metal: Material, thickness: Any, shear: Any, case: str, required: Required
    ) -> Iterator[Check]:
        """The bolt against the side of its hole."""
        bearing = work(
            lug.bearing_stress, P=shear, D_p=self.thread.major, t=self.gripped(thickness)
        )
        strengths = required.both(metal.bearing_yield_ed15, metal.bearing_ultimate_ed15)
        for kind, strength, factor in strengths:
            yield check(
                f"{name} hole, bearing, {kind}", "bearing", load_case=case, demand=bearing, capacity=strength,
                unit="MPa", required=factor,
            )  # fmt: skip

    def tightened(self, name: str, metal: Material, thickness: Any) -> Iterator[Check]:
        """The metal under the head, or the thread in the plate, at the greatest preload."""
        if isinstance(self.hole, TappedHole):
            yield from self.tightened_modes(name, metal, self.gripped(thickness))
            return
        yield self.pressed_mode(name, "head", metal, self.bears_on, self.hole_under_head)
