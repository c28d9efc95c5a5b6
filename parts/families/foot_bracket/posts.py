"""What a spring hooks on or a pedal stops at: turned from the plate, pressed in or screwed in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check, check
from parts.core.clearances import Clearance, of_limits
from parts.core.fatigue_places import Spot
from parts.core.feature import Answers, Modes
from parts.core.group import Group
from parts.core.loads import LoadCase, Required
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.foot_bracket.fixture import Bore, Boss, Fixture, Turn, fillet_rule, pad_radius
from parts.families.foot_bracket.local import plate_kind, root_spot
from parts.families.foot_bracket.on_plate import OnPlate
from parts.families.foot_bracket.stud import Threaded, bolt_kind, clamped_tension, of_one
from parts.features.bolts.pattern import bolt_metal
from parts.features.pins.bought_pin import DowelSize, dowel_pins, row_of
from parts.features.press.fit import HoleClass, freed
from parts.features.press.pressed import Pressed
from parts.inputs.designations import MaterialName
from parts.inputs.quantities import NonNegativeLength, Point2, PositiveLength
from parts.standards.fasteners.pins import DOWEL_PIN_STEEL, DowelPin
from parts.standards.fits.fits import Fit, fit
from parts.standards.fits.iso286 import Limits
from parts.standards.materials.materials import Material
from parts.strength.method import work
from parts.strength.pinned import pin as pins
from parts.strength.pinned import stop_pin

PIN_CLASS = "m6"
"""Tolerance class of a pressed pin; that of ISO 8734, and of a pin that is made to replace one."""
SEATED = 1.5
"""Depth in diameters that a pressed pin needs; common practice, no source."""
BEYOND = 0.5
"""How far a pin stands past where the load acts, in diameters; common practice, no source."""
LEAST_WALL = 2.0
"""Wall about a hole that every plate keeps [mm]: the least that its rule allows."""
SLENDER = 4.0
"""Height in diameters beyond which a post is a whip; common practice, no source."""


def bar_modes(
    name: str,
    metal: Material,
    diameter: Any,
    force: Any,
    moment: Any,
    case: str,
    required: Required,
) -> Iterator[Check]:
    """A round post at its root: bending against yield, and bending with shear against ultimate."""
    M, V = np.hypot(moment[..., 0], moment[..., 1]), np.hypot(force[..., 0], force[..., 1])
    yield check(
        f"{name}, bending at the root", "bending", load_case=case,
        demand=work(pins.bending_stress, M=M, D=diameter), capacity=metal.yield_strength, unit="MPa",
        required=required.on_yield,
    )  # fmt: skip
    use = work(
        pins.shear_and_bending, V=V, V_u=work(pins.shear_load, D=diameter, F_s=metal.shear_ultimate, n=1.0),
        M=M, M_u=work(pins.bending_moment_capacity, D=diameter, F=metal.ultimate_strength),
    )  # fmt: skip
    yield check(
        f"{name}, shear and bending at the root", "shear and bending", load_case=case, demand=use, capacity=1.0,
        unit="-", required=required.on_ultimate,
    )  # fmt: skip


def hole_modes(
    name: str,
    metal: Material,
    diameter: Any,
    depth: Any,
    force: Any,
    moment: Any,
    case: str,
    required: Required,
) -> Iterator[Check]:
    """What sticks out of one hole, pressed or screwed in, against the mouth of the hole; force and moment there."""
    V, M = np.hypot(force[..., 0], force[..., 1]), np.hypot(moment[..., 0], moment[..., 1])
    pressure = work(stop_pin.mouth_pressure, V=V, h=0.0, d=diameter, L=depth, M=M)
    strengths = required.both(metal.bearing_yield_ed15, metal.bearing_ultimate_ed15)
    for kind, strength, factor in strengths:
        yield check(
            f"{name} hole, bearing at the mouth, {kind}", "bearing", load_case=case, demand=pressure,
            capacity=strength, unit="MPa", required=factor,
        )  # fmt: skip


class _Placed(Group, Answers[OnPlate]):
    at: Point2 = Field(description="Where it stands.")
    height: PositiveLength = Field(
        description="From the outer face of the plate to where the load acts on it."
    )

    def base(self) -> Any:
        """Height over the plate's outer face at which its root is [mm]."""
        return 0.0

    def fitted(self) -> Mapping[str, Limits]:
        """Limits of what is made to a fit, by name; none unless a post says so."""
        return {}

    def arm(self) -> Any:
        """From its root to where the load acts [mm]."""
        return self.height - self.base()


class TurnedPost(_Placed):
    """A round post left standing on the plate."""

    type: Literal["turned"] = Field(
        "turned", description="A round post left standing on the plate."
    )
    diameter: PositiveLength = Field(description="Diameter of the post.")
    fillet: NonNegativeLength = Field(1.5, description="Root fillet; 0 leaves it sharp.")
    beyond: NonNegativeLength = Field(
        3.0, description="How far it stands past where the load acts."
    )

    def fixture(self, name: str, field: str, thickness: Any, wall: Any, edge_break: Any) -> Fixture:
        top = thickness + self.height + self.beyond
        pad = pad_radius(
            hole=0.0,
            wall=wall,
            foot=self.diameter / 2.0 + self.fillet,
            seat=0.0,
            edge_break=edge_break,
        )
        return Fixture(
            name,
            field,
            self.at,
            pad,
            0.0,
            outer=(Turn(thickness, top, self.diameter, self.fillet),),
        )

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        field, edge_break = site.field, site.edge_break
        tall = self.height + self.beyond
        yield fillet_rule(f"{field}.fillet", self.fillet)
        yield at_most(
            "post.slender", f"{field}.height", tall, SLENDER * self.diameter,
            "a post this slender whips and breaks (four diameters: common practice, no source)",
            "shorten it or make it thicker",
        )  # fmt: skip
        yield at_least(
            "post.low", f"{field}.height", tall, self.fillet + 2.0 * edge_break + 0.1,
            "the root fillet and the edge break take more than the height",
            "raise the post, or lessen its fillet",
        )  # fmt: skip
        yield at_least(
            "post.thin", f"{field}.diameter", self.diameter, np.maximum(4.0 * edge_break, 4.0),
            "no such thin post is turned from a plate", "make it thicker, or press in a steel pin",
        )  # fmt: skip

    def kinds(self, site: OnPlate) -> Sequence[Kind]:
        """What can fail of it and of the plate about it."""
        name = site.name
        return [Kind("post", name), Kind("boss on a plate", name)]

    def modes(self, site: OnPlate, case: LoadCase) -> Iterator[Check]:
        name, metal = site.name, site.metal
        force, moment = site.felt(case)
        required = site.required(case)
        yield from bar_modes(name, metal, self.diameter, force, moment, case.name, required)

    def standing_on(self) -> tuple[Any, Any]:
        """Diameter of what stands on the plate, and its root fillet [mm]."""
        return self.diameter, self.fillet

    def details(self, site: OnPlate, modes: Modes) -> Sequence[Spot]:
        name, metal = site.name, site.metal
        of = f"{name}, bending at the root"
        return (root_spot(f"{name}, root", metal, modes, of, self.diameter, self.fillet),)


class PressedPin(_Placed):
    """A steel pin pressed into a hole of the plate."""

    type: Literal["pressed pin"] = Field(
        "pressed pin", description="A steel pin pressed into a hole of the plate."
    )
    pin: DowelSize | None = Field(
        None,
        description="A dowel pin by its size without its length, as ISO 8734 5; its row gives diameter and strength.",
    )
    diameter: PositiveLength = Field(
        None,  # type: ignore[assignment]
        description="Diameter of a pin that is made; a dowel pin states its own.",
    )
    pin_material: MaterialName = Field(
        None,  # type: ignore[assignment]
        description="Material of a pin that is made; a dowel pin states its own.",
    )
    fit: HoleClass = Field(
        "H7",
        description="ISO 286 class of the hole, reamed for a pin m6 as dowel pins are: H7 by common practice, no "
        "source.",
    )
    boss: Boss | None = Field(None, description="A boss about the hole.")

    @model_validator(mode="before")
    @classmethod
    def _takes_what_its_row_states(cls, data: Any) -> Any:
        if not isinstance(data, Mapping):
            return data
        said = [name for name in ("diameter", "pin_material") if data.get(name) is not None]
        if not data.get("pin"):
            missing = [name for name in ("diameter", "pin_material") if name not in said]
            if missing:
                raise ValueError(
                    f"no `{'` and no `'.join(missing)}`; state it, or name a dowel pin, as in `pin: ISO 8734 5`"
                )
            return data
        if said:
            raise ValueError(f"a dowel pin states its own `{'` and `'.join(said)}`: leave that out")
        of = row_of(lambda size: dowel_pins(size)[0], data["pin"])
        across = 5.0 if of is None else of.nominal
        return {**data, "diameter": f"{across:g} mm", "pin_material": bolt_metal(DOWEL_PIN_STEEL)}

    @model_validator(mode="after")
    def _has_a_fit_of_the_standard(self) -> PressedPin:
        self.fitted()
        return self

    def fitted(self) -> Mapping[str, Limits]:
        """Limits of the hole, by name.

        Raises:
            ValueError: the standard has no such fit at this diameter.
        """
        return {"hole": self._in_hole().hole}

    def _in_hole(self) -> Fit:
        return fit(f"{self.fit}/{PIN_CLASS}", float(self.diameter))

    def clearances(self, site: OnPlate) -> Sequence[Clearance]:
        """The pin in its hole."""
        pair = self._in_hole()
        room, pin = of_limits("hole", pair.hole), of_limits("pin", pair.shaft)
        how = "choose a tighter fit"
        return [
            Clearance(
                f"{site.name}: pin in its hole",
                f"{site.field}.fit",
                (room,),
                (pin,),
                how,
                goes="either",
            )
        ]

    def cautions(self, site: OnPlate) -> Sequence[str]:
        """What else must hold a pin that its fit may leave free."""
        return freed("a pressed pin", self._in_hole())

    def base(self) -> Any:
        return 0.0 if self.boss is None else self.boss.outer

    def given(self) -> frozenset[str]:
        return frozenset(("diameter", "pin_material")) if self.pin else frozenset()

    def dowel(self, thickness: Any) -> DowelPin | None:
        """The shortest dowel pin that fills its hole and stands past the load; None for a pin that is made."""
        if not self.pin:
            return None
        long = float(np.max(self.depth(thickness) + self.arm() + BEYOND * self.diameter))
        made = dowel_pins(self.pin)
        return next((one for one in made if one.length >= long), made[-1])

    def bought(self, site: OnPlate) -> Sequence[Bought]:
        """What is bought for it."""
        of = self.dowel(site.thickness)
        if of is None:
            return ()
        return (Bought(f"dowel pin {of.designation}", 1, site.name, of.source),)

    def touching(self, site: OnPlate) -> dict[str, str]:
        """The surface of the pin, by name."""
        return {f"pin, {self.pin_material.name}": self.pin_material.galvanic_family}

    def depth(self, thickness: Any) -> Any:
        """Depth of the hole, through all [mm]."""
        return thickness + self.base() + (0.0 if self.boss is None else self.boss.inner)

    def fixture(self, name: str, field: str, thickness: Any, wall: Any, edge_break: Any) -> Fixture:
        boss = self.boss
        foot = 0.0 if boss is None else boss.diameter / 2.0 + boss.fillet
        low = 0.0 if boss is None else -boss.inner
        return Fixture(
            name, field, self.at,
            pad_radius(hole=self.diameter, wall=wall, foot=foot, seat=0.0, edge_break=edge_break),
            self.diameter / 2.0,
            outer=() if boss is None else boss.outer_steps(thickness),
            inner=() if boss is None else boss.inner_steps(),
            bores=(Bore((Turn(low, thickness + self.base(), self.diameter),)),),
        )  # fmt: skip

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        field, thickness, plate, edge_break = (
            site.field,
            site.thickness,
            site.plate,
            site.edge_break,
        )
        if self.boss is not None:
            yield from self.boss.rules(f"{field}.boss", self.diameter, plate.wall, edge_break)
        yield at_least(
            "post.seat", f"{field}.diameter", self.depth(thickness), SEATED * self.diameter,
            "a pressed pin works loose in a hole this shallow (1.5 diameters: common practice, no source)",
            "choose a thinner pin, or a boss",
        )  # fmt: skip
        yield at_least(
            "post.height", f"{field}.height", self.arm(), 1.0,
            "the load acts below the face that the pin stands on",
            "raise the point, or lower the boss",
        )  # fmt: skip
        if self.pin:
            yield at_most(
                "post.length", f"{field}.pin", self.depth(thickness) + self.arm() + BEYOND * self.diameter,
                dowel_pins(self.pin)[-1].length, "no dowel pin of this size is made so long",
                "lower the point, or take a larger pin",
            )  # fmt: skip

    def kinds(self, site: OnPlate) -> Sequence[Kind]:
        """What can fail of it and of the plate about it."""
        name = site.name
        return [Kind(kind, name) for kind in ("post", "pressed pin", "boss on a plate")]

    def modes(self, site: OnPlate, case: LoadCase) -> Iterator[Check]:
        name, metal, thickness = site.name, site.metal, site.thickness
        force, moment = site.felt(case)
        required = site.required(case)
        V = np.hypot(force[..., 0], force[..., 1])
        M = np.hypot(moment[..., 0], moment[..., 1])
        # The pin bends most a little below the face, where the hole has taken up the force.
        high = M / np.where(V > 0.0, V, 1.0)
        buried = work(stop_pin.buried_moment, V=V, h=high, L=self.depth(thickness))
        most = np.maximum(buried.value, M)
        yield from bar_modes(
            name, self.pin_material, self.diameter, force, most[..., None] * np.array([1.0, 0.0, 0.0]),
            case.name, required,
        )  # fmt: skip
        yield from hole_modes(
            name, metal, self.diameter, self.depth(thickness), force, moment, case.name, required
        )
        wall = LEAST_WALL if self.boss is None else (self.boss.diameter - self.diameter) / 2.0
        yield self._pressed(name, metal, self.depth(thickness), wall).drawn_out(
            np.maximum(force[..., 2], 0.0), case.name, required
        )

    def _pressed(self, name: str, metal: Material, depth: Any, wall: Any) -> Pressed:
        return Pressed(
            name,
            self.diameter,
            0.0,
            wall,
            depth,
            metal,
            self.pin_material,
            f"{self.fit}/{PIN_CLASS}",
        )

    def standing(self, site: OnPlate) -> Iterator[Check]:
        """The metal about the pin at the tightest of its fit."""
        name, metal, plate = site.name, site.metal, site.plate
        wall = plate.wall
        if self.boss is not None:
            wall = (self.boss.diameter - self.diameter) / 2.0
        yield from self._pressed(name, metal, 1.0, wall).modes()

    def standing_on(self) -> tuple[Any, Any]:
        """Diameter of what stands on the plate, and its root fillet; None where there is no root [mm]."""
        return (self.diameter, None) if self.boss is None else self.boss.standing_on()


class ScrewPost(_Placed, Threaded):
    """A shouldered screw in a tapped hole."""

    type: Literal["screw"] = Field("screw", description="A shouldered screw in a tapped hole.")
    shoulder: PositiveLength = Field(
        description="Diameter of the shoulder or nut that sits on the face."
    )
    boss: Boss | None = Field(None, description="A boss about the hole.")

    def base(self) -> Any:
        return 0.0 if self.boss is None else self.boss.outer

    def engagement(self, thickness: Any) -> Any:
        """Length of thread [mm]."""
        return thickness + self.base() + (0.0 if self.boss is None else self.boss.inner)

    def bought(self, site: OnPlate) -> Sequence[Bought]:
        """The screw, its length open: what it carries is not the plate's to know."""
        deep = float(np.max(self.engagement(site.thickness)))
        return (self.bought_open(site.name, f"into {deep:.4g} mm of thread"),)

    def fixture(self, name: str, field: str, thickness: Any, wall: Any, edge_break: Any) -> Fixture:
        boss, d = self.boss, self.thread.minor_internal
        foot = 0.0 if boss is None else boss.diameter / 2.0 + boss.fillet
        low = 0.0 if boss is None else -boss.inner
        seat = self.shoulder / 2.0 if boss is None else 0.0
        return Fixture(
            name, field, self.at,
            pad_radius(hole=self.thread.major, wall=wall, foot=foot, seat=seat, edge_break=edge_break),
            self.thread.major / 2.0, seat,
            outer=() if boss is None else boss.outer_steps(thickness),
            inner=() if boss is None else boss.inner_steps(),
            bores=(Bore((Turn(low, thickness + self.base(), d),)),),
        )  # fmt: skip

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        field, metal, thickness, plate, edge_break = (
            site.field,
            site.metal,
            site.thickness,
            site.plate,
            site.edge_break,
        )
        yield self.engagement_rule(f"{field}.thread", self.engagement(thickness), metal)
        yield at_least(
            "stud.shoulder", f"{field}.shoulder", self.shoulder, 1.4 * self.thread.major,
            "the shoulder has no face beside the thread to clamp on", "make the shoulder larger",
        )  # fmt: skip
        yield at_least(
            "post.height", f"{field}.height", self.arm(), 1.0, "the load acts below the face that it stands on",
            "raise the point, or lower the boss",
        )  # fmt: skip
        if self.boss is not None:
            yield from self.boss.rules(f"{field}.boss", self.thread.major, plate.wall, edge_break)
            yield at_most(
                "stud.seat", f"{field}.shoulder", self.shoulder, self.boss.diameter - 2.0 * edge_break,
                "the shoulder overhangs its boss", "make the boss larger",
            )  # fmt: skip

    def kinds(self, site: OnPlate) -> Sequence[Kind]:
        """What can fail of it and of the plate about it."""
        name = site.name
        return [
            bolt_kind(name, head=True),
            Kind("tapped hole", name),
            Kind("screwed post", name),
            plate_kind(name, boss=self.boss is not None),
        ]

    def modes(self, site: OnPlate, case: LoadCase) -> Iterator[Check]:
        name, metal, thickness = site.name, site.metal, site.thickness
        force, moment = site.felt(case)
        required = site.required(case)
        pull = of_one(clamped_tension(force, moment, self.shoulder))
        shear = np.hypot(force[..., 0], force[..., 1])
        yield from self.bolt_modes(
            name, pull, shear, case.name, required, "the shoulder pivots on its rim"
        )
        deep = self.engagement(thickness)
        yield self.seated_mode(name, pull, case.name, required)
        yield from self.strip_modes(name, metal, deep, pull, case.name, required)
        yield from self.pull_out_modes(name, metal, deep, force, moment, case.name, required)
        yield from hole_modes(
            name, metal, self.thread.pitch_diameter, deep, force, moment, case.name, required
        )
        if self.boss is not None:
            yield from boss_modes(
                name,
                metal,
                self.boss,
                self.thread.minor_internal,
                force,
                moment,
                case.name,
                required,
            )

    def standing(self, site: OnPlate) -> Iterator[Check]:
        """The thread in the plate and the face under the shoulder at the greatest preload."""
        name, metal, plate, edge_break = site.name, site.metal, site.plate, site.edge_break
        yield from self.tightened_modes(name, metal, self.engagement(plate.thickness))
        mouth = self.thread.major + 2.0 * edge_break
        yield self.pressed_mode(name, "shoulder", metal, self.shoulder, mouth)

    def standing_on(self) -> tuple[Any, Any]:
        """Diameter of what stands on the plate, and its root fillet; None where there is no root [mm]."""
        return (self.shoulder, None) if self.boss is None else self.boss.standing_on()

    def details(self, site: OnPlate, modes: Modes) -> Sequence[Spot]:
        name, metal = site.name, site.metal
        return () if self.boss is None else (boss_root(name, metal, modes, self.boss),)


def boss_root(name: str, metal: Material, modes: Modes, boss: Boss) -> Spot:
    """The root of the boss under a screw, a stub or a post, for its own fatigue."""
    of = f"{name} boss, bending at the root, yield"
    return root_spot(f"{name} boss, root", metal, modes, of, boss.diameter, boss.fillet)


def boss_modes(
    name: str,
    metal: Material,
    boss: Boss,
    bore: Any,
    force: Any,
    moment: Any,
    case: str,
    required: Required,
) -> Iterator[Check]:
    """A bored boss at its root on the plate; force and moment act at its face."""
    arm = boss.outer
    M = np.hypot(moment[..., 0] - force[..., 1] * arm, moment[..., 1] + force[..., 0] * arm)
    for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
        yield check(
            f"{name} boss, bending at the root, {kind}", "bending", load_case=case,
            demand=work(pins.bending_stress, M=M, D=boss.diameter, d=bore), capacity=strength, unit="MPa",
            required=factor,
        )  # fmt: skip


Post = Annotated[TurnedPost | PressedPin | ScrewPost, Field(discriminator="type")]
"""What a spring hooks on or a pedal stops at."""
