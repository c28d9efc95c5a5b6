"""Bolted mounts of a plate: plain, counterbored, spotfaced, tapped and slotted holes, bossed or not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.clearances import Clearance, of_class
from parts.core.fatigue_places import Spot
from parts.core.feature import Modes
from parts.core.group import Group
from parts.core.loads import Required
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.foot_bracket.fixture import Bore, Boss, Fixture, Turn, pad_radius
from parts.families.foot_bracket.local import root_spot
from parts.families.foot_bracket.stud import Threaded, bolt_kind
from parts.features.bolts.grip import choose_bolt, length_rule, of_size
from parts.features.bolts.hardware import matching
from parts.features.bolts.slip import BOLT_E, settled_loss
from parts.features.pins.bought_pin import SHANK_CLASS, row_of
from parts.features.press.fit import CLEARS, bolt_in_hole
from parts.inputs.quantities import Angle, Point2, PositiveLength
from parts.standards.fasteners.counterbores import counterbore
from parts.standards.fasteners.fasteners import washer
from parts.standards.fits.iso286 import Limits, class_limits
from parts.standards.materials.materials import Material
from parts.strength.bolted import joint, stiffness
from parts.strength.bolted import plate as boltplate
from parts.strength.bolted.slots import hole_factor
from parts.strength.method import work
from parts.strength.pinned import lug
from parts.strength.plates.boss import boss_root_bending
from parts.strength.section.outline import Loop

WASHER = 2.0
"""Outside of a flat washer in diameters of its bolt (ISO 7089: M8 16, M10 20)."""
SEAT = 1.0
"""Radius that a bolt clamps beneath its washer, in diameters of the bolt [-]."""
AROUND = 2.0
"""A spotface over its washer, on diameter [mm]; common practice, no source."""
SPOTFACE_DEEPEST = 2.0
HEAD = 1.5
"""Face of a socket head in diameters of its bolt, about (ISO 4762, d_w: M8 12.3, M10 15.3; from memory)."""


class PlainHole(Group):
    """A clearance hole."""

    type: Literal["clearance"] = Field("clearance", description="A clearance hole.")
    fit: Literal["close", "normal", "loose"] = Field(
        "normal", description="Clearance by ISO 273 or ASME B18.2.8."
    )


class SunkHole(Group):
    """A clearance hole counterbored for a socket head, or spotfaced to seat a head square."""

    type: Literal["counterbored", "spotfaced"] = Field(
        description="Counterbored for a socket head, or spotfaced to seat a head square."
    )
    fit: Literal["close", "normal", "loose"] = Field(
        "normal", description="Clearance by ISO 273 or ASME B18.2.8."
    )
    diameter: PositiveLength | None = Field(
        None,
        description="Diameter of the counterbore or spotface; what a socket head by DIN 974-1, or "
        "a flat washer, needs where left out.",
    )
    depth: PositiveLength = Field(description="Depth of the counterbore or spotface.")
    side: Literal["outer", "inner"] = Field(
        "outer", description="Face that the head sits in: outer, or inner toward the frame."
    )


class TappedHole(Group):
    """A hole tapped through plate and boss."""

    type: Literal["tapped"] = Field(
        "tapped", description="Tapped through plate and boss; the bolt comes from the other side."
    )


class SlottedHole(Group):
    """A clearance slot, for adjustment."""

    type: Literal["slot"] = Field("slot", description="A clearance slot, for adjustment.")
    fit: Literal["close", "normal", "loose"] = Field(
        "normal", description="Clearance across the slot by ISO 273 or ASME B18.2.8."
    )
    travel: PositiveLength = Field(description="How far the bolt can move, end to end.")
    angle: Angle = Field(0.0, description="Direction of the slot from x toward y.")


Hole = Annotated[PlainHole | SunkHole | TappedHole | SlottedHole, Field(discriminator="type")]


class Mount(Threaded):
    """One bolt that holds the bracket to the frame or the engine case."""

    at: Point2 = Field(description="Where the hole is.")
    hole: Hole = Field(default_factory=PlainHole, description="What hole it has.")
    onto: PositiveLength | None = Field(
        None,
        description="Thickness of the frame tab that the bolt goes through to its nut; left out where it is "
        "screwed into the frame.",
    )
    boss: Boss | None = Field(None, description="A boss about the hole, on either face.")

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

    def bolt_in_its_hole(self, name: str, field: str) -> Clearance | None:
        """The bolt in its hole; None where that is tapped."""
        if isinstance(self.hole, TappedHole):
            return None
        shank = of_class("bolt", SHANK_CLASS, self.thread.major)
        return bolt_in_hole(
            f"{name}: bolt in its hole", f"{field}.hole", self.diameter, shank, self.hole.fit
        )

    def stack(self, thickness: Any) -> Any:
        """What the bolt goes through to its nut [mm]; nil where it is screwed into the frame."""
        return 0.0 if self.onto is None else self.gripped(thickness) + self.onto

    def bought(self, name: str, thickness: Any) -> Iterator[Bought]:
        """The bolt, with nut and washers where it goes through to them."""
        deep = float(np.max(self.gripped(thickness)))
        if self._to_its_nut:
            stack = float(np.max(self.stack(thickness)))
            yield from choose_bolt(self._to_its_nut, stack, last_plane=0.0).bought(name)
        elif self.onto is not None:
            yield self.bought_open(
                name, f"through {deep + float(np.max(self.onto)):.4g} mm to its nut"
            )
        elif isinstance(self.hole, TappedHole):
            yield self.bought_open(name, f"into {deep:.4g} mm of thread")
        else:
            yield self.bought_open(name, f"through {deep:.4g} mm of this part")

    @property
    def _to_its_nut(self) -> str:
        """Size of a bolt that goes through to its nut; empty where none does, or no table holds its class."""
        size = self.bolt or f"{self.thread.basic} {self.bolt_class}"
        return size if self.onto is not None and row_of(of_size, size) is not None else ""

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
    def _has_a_counterbore_of_the_table(self) -> Mount:
        _ = self.sunk
        return self

    @property
    def hole_factor(self) -> Any:
        """What its hole leaves of the friction under it [-], by `slots.hole_factor`."""
        if isinstance(self.hole, SlottedHole):
            short, long = (hole_factor(f"{name} slot along") for name in ("short", "long"))
            return np.where(self.travel <= self.thread.major / 2.0, short, long)
        loose = not isinstance(self.hole, TappedHole) and self.hole.fit == "loose"
        return hole_factor("oversize" if loose else "round")

    @property
    def along(self) -> tuple[Any, Any]:
        """Direction in which the hole lets its bolt run; (0, 0) for a round hole."""
        if not isinstance(self.hole, SlottedHole):
            return 0.0, 0.0
        return np.cos(self.hole.angle), np.sin(self.hole.angle)

    @property
    def travel(self) -> Any:
        return self.hole.travel if isinstance(self.hole, SlottedHole) else 0.0

    def low(self) -> Any:
        """Height of the face that lies on the frame [mm]."""
        return 0.0 if self.boss is None else -self.boss.inner

    def high(self, thickness: Any) -> Any:
        """Height of the outer face at the mount [mm]."""
        return thickness + (0.0 if self.boss is None else self.boss.outer)

    def gripped(self, thickness: Any) -> Any:
        """Metal between the bolt's head and the frame [mm]."""
        sunk = self.hole.depth if isinstance(self.hole, SunkHole) else 0.0
        return self.high(thickness) - self.low() - sunk

    def fixture(self, name: str, field: str, thickness: Any, wall: Any, edge_break: Any) -> Fixture:
        """What the mount adds to the plate."""
        hole, boss, low, high = self.hole, self.boss, self.low(), self.high(thickness)
        d, across = self.diameter, self.diameter + self.travel
        sunk = self.sunk
        seat = 0.0 if isinstance(hole, TappedHole | SunkHole) else WASHER * self.thread.major / 2.0
        foot = 0.0 if boss is None else boss.diameter / 2.0 + boss.fillet
        pad = pad_radius(
            hole=np.maximum(across, sunk), wall=wall, foot=foot, seat=seat + self.travel / 2.0 * (seat > 0.0),
            edge_break=edge_break,
        )  # fmt: skip
        steps: tuple[Turn, ...] = (Turn(low, high, d),)
        if isinstance(hole, SunkHole) and hole.side == "outer":
            steps = (Turn(low, high - hole.depth, d), Turn(high - hole.depth, high, sunk))
        elif isinstance(hole, SunkHole):
            steps = (Turn(low, low + hole.depth, sunk), Turn(low + hole.depth, high, d))
        return Fixture(
            name, field, self.at, pad, np.maximum(across, sunk) / 2.0, seat + self.travel / 2.0 * (seat > 0.0),
            outer=() if boss is None else boss.outer_steps(thickness),
            inner=() if boss is None else boss.inner_steps(),
            bores=() if isinstance(hole, SlottedHole) else (Bore(steps),),
            slot=_slot(self.at, d, hole) if isinstance(hole, SlottedHole) else None,
        )  # fmt: skip

    def rules(
        self, field: str, thickness: Any, plate: Any, metal: Material, edge_break: Any
    ) -> Iterator[Rule]:
        """Rules of one mount; `plate` is the group of the plate's own dimensions."""
        hole, boss = self.hole, self.boss
        across = np.maximum(self.diameter + self.travel, self.sunk)
        if boss is not None:
            yield from boss.rules(f"{field}.boss", across, plate.wall, edge_break)
        if isinstance(hole, SunkHole):
            yield from self._sunk_rules(field, hole, thickness)
        if size := self._to_its_nut:
            stated = f"{field}.bolt" if self.bolt else f"{field}.thread"
            yield length_rule(stated, size, self.stack(thickness), 0.0)
        if isinstance(hole, TappedHole):
            yield self.engagement_rule(f"{field}.thread", self.gripped(thickness), metal)
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

    def kinds(self, name: str) -> list[Kind]:
        """What can fail of it."""
        kinds = ["hole of a bolt"]
        kinds += ["tapped hole"] if isinstance(self.hole, TappedHole) else []
        kinds += ["mount boss", "boss on a plate"] if self.stands_off else []
        bolt = bolt_kind(name, head=not isinstance(self.hole, TappedHole))
        return [bolt, *(Kind(kind, name) for kind in kinds)]

    def modes(
        self, name: str, metal: Material, thickness: Any, pad: Any, reach: Any, reaction: Any, rocking: Any,
        case: str, required: Required,
    ) -> Iterator[Check]:  # fmt: skip
        """The bolt, its hole, and its thread where the plate is tapped.

        Args:
            name: prefix of the checks' names.
            metal: of the plate.
            thickness: of the plate [mm].
            pad: radius of the pad [mm].
            reach: from the bolt to the load it answers [mm].
            reaction: force of the plate on the bolt [N], shape (..., 3); z pulls.
            rocking: moment that the mount holds by itself [N*mm]: of bolts in one line.
            case: name of the load case.
            required: the factors asked for.

        Returns:
            The checks.
        """
        shear = np.hypot(reaction[..., 0], reaction[..., 1])
        pull = np.maximum(reaction[..., 2], 0.0)
        pull = pull + self._prying(pull, metal, thickness, pad, reach)
        grip = self.gripped(thickness)
        yield from self.bolt_modes(
            name, pull, shear, case, required, "" if self.stands_off else "prying counted"
        )
        yield from self.bearing_modes(name, metal, thickness, shear, case, required)
        yield check(
            f"{name} hole, tear-out", "tear-out", load_case=case, demand=shear,
            capacity=work(
                lug.tear_out_load, R=pad, D_h=self.diameter + self.travel, t=thickness, F_s=metal.shear_ultimate
            ),
            unit="N", required=required.on_ultimate,
            note="through the nearest edge, whichever way the bolt pushes",
        )  # fmt: skip
        yield self.seated_mode(name, pull, case, required, self.settled(metal, thickness))
        if isinstance(self.hole, TappedHole):
            yield from self.strip_modes(name, metal, grip, pull, case, required)
        if self.stands_off:
            yield from self._boss_modes(name, metal, shear, rocking, case, required)

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

    def _boss_modes(
        self, name: str, metal: Material, shear: Any, rocking: Any, case: str, required: Required
    ) -> Iterator[Check]:
        """A boss that stands off the frame, bent at its root by the shear at its top."""
        assert self.boss is not None
        stress = work(
            boss_root_bending, V=shear, h=self.boss.inner, d=self.boss.diameter, d_i=self.cut_below, M=rocking
        )  # fmt: skip
        for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
            yield check(
                f"{name} boss, bending at its root, {kind}", "bending", load_case=case, demand=stress,
                capacity=strength, unit="MPa", required=factor,
            )  # fmt: skip

    def felt(self, metal: Material, thickness: Any, pad: Any) -> Any:
        """Share of a pull that the closed joint leaves to the bolt [-], all of it where its head bears elsewhere.

        The bolt is taken as stiff as its shank all along, the joint as soft as what lies about the bolt on the plate.
        """
        if isinstance(self.hole, TappedHole):
            return 1.0
        d, grip = self.thread.major, self.gripped(thickness)
        across, hole = self.bears_on, self._hole_under_head
        room = 2.0 * pad if self.boss is None else self.boss.diameter
        shank = np.pi / 4.0 * np.square(d)
        return work(
            joint.load_share,
            k_b=work(stiffness.bolt_stiffness, A_d=shank, l_d=grip, A_t=shank, l_t=0.0, E=BOLT_E),
            k_m=work(
                stiffness.narrow_member_stiffness, E=metal.E, L=np.maximum(grip, 0.5 * across), d_w=across,
                d_h=hole, D_A=np.maximum(room, across),
            ),
        )  # fmt: skip

    @property
    def cut_below(self) -> Any:
        """Diameter that is cut from the boss under the inner face [mm]; of a slot its length."""
        inside = isinstance(self.hole, SunkHole) and self.hole.side == "inner"
        of_thread = isinstance(self.hole, TappedHole)
        hole = self.thread.major if of_thread else self.diameter + self.travel
        return np.maximum(hole, self.sunk) if inside else hole

    def settled(self, metal: Material, thickness: Any) -> Any:
        """What the bolt loses of its preload as the faces settle [N]."""
        deep = self.gripped(thickness) + (0.0 if self.onto is None else self.onto)
        d = self.thread.major
        return settled_loss(metal, d, self.thread.stress_area, deep, 1 if self.onto is None else 2)

    def standing(self, name: str, metal: Material, thickness: Any) -> Iterator[Check]:
        """The metal under the head, or the thread in the plate, at the greatest preload."""
        if isinstance(self.hole, TappedHole):
            yield from self.tightened_modes(name, metal, self.gripped(thickness))
            return
        yield self.pressed_mode(name, "head", metal, self.bears_on, self._hole_under_head)

    @property
    def _hole_under_head(self) -> Any:
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

    @property
    def stands_off(self) -> bool:
        """True where a boss stands on the frame, so that the edge of the plate cannot press on it."""
        return self.boss is not None and bool(np.any(np.asarray(self.boss.inner) > 0.0))

    def moment_on(self, thickness: Any, reaction: Any, rocking: Any) -> Any:
        """What the shear at the frame's face and a rocking mount bend the middle of the plate by [N*mm]."""
        high = thickness / 2.0 - self.low()
        size = np.hypot(reaction[..., 0], reaction[..., 1])
        grown = high + rocking / np.where(size > 0.0, size, 1.0)
        alone = np.where(size > 0.0, 0.0, rocking)
        x, y = grown * reaction[..., 1] + alone, -grown * reaction[..., 0]
        return np.stack(np.broadcast_arrays(x, y, 0.0), axis=-1)

    def roots(self, name: str, metal: Material, modes: Modes) -> Sequence[Spot]:
        """The root of a boss that stands off, for its own fatigue."""
        if self.boss is None or not self.stands_off:
            return ()
        of = f"{name} boss, bending at its root, yield"
        return (
            root_spot(f"{name} boss, root", metal, modes, of, self.boss.diameter, self.boss.fillet),
        )

    def _prying(self, pull: Any, metal: Material, thickness: Any, pad: Any, reach: Any) -> Any:
        """Force that the bent pad adds by pressing its edge on the frame [N]; none on a standoff.

        The bending reaches no farther than the pad is wide: beyond, it is the plate that bends, and its
        sections are looked at by themselves.
        """
        if self.stands_off:
            return np.zeros_like(pull)
        arm = np.clip(reach, self.thread.major, 2.0 * pad)
        return boltplate.prying_force(
            pull, t=thickness, b=arm, a=pad, d=self.thread.major, d_h=self.diameter, p=2.0 * pad,
            F_u=metal.yield_strength,
        )  # fmt: skip


def _slot(at: tuple[Any, Any], width: Any, hole: SlottedHole) -> Loop:
    """The slot, counter-clockwise."""
    along = np.array([np.cos(hole.angle), np.sin(hole.angle)])
    across = np.array([-along[1], along[0]])
    half, r, middle = float(hole.travel) / 2.0, float(width) / 2.0, np.asarray(at, float)
    corners = [(half, -r), (half, r), (-half, r), (-half, -r)]
    points = np.array([middle + u * along + v * across for u, v in corners])
    return Loop(points, np.array([1.0, 0.0, 1.0, 0.0]))
