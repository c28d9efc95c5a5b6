"""A steel pin pressed into a hole of a plate."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check
from parts.core.clearances import Clearance, of_limits
from parts.core.feature import Modes
from parts.core.loads import LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.features.bearing_seat.strength import turning_rules
from parts.features.bolts.pattern import bolt_metal
from parts.features.pins.bought_pin import DowelSize, dowel_pins, row_of
from parts.features.pins.post import bar_modes, hole_modes
from parts.features.plate.fixture import (
    Bore,
    Boss,
    Fixture,
    Turn,
    about,
    foot_of,
    over_plate,
    pad_radius,
    steps_of,
    under_plate,
)
from parts.features.plate.on_plate import OnPlate
from parts.features.plate.plate_feature import AtHeight
from parts.features.plate.roots import NEAT, rim_stress
from parts.features.plate.section.rims import Rim
from parts.features.press.fit import FINE, HoleClass, freed
from parts.features.press.pressed import Pressed
from parts.inputs.designations import MaterialName
from parts.inputs.quantities import PositiveLength
from parts.standards.fasteners.pins import DOWEL_PIN_STEEL, DowelPin
from parts.standards.fits.fits import Fit, fit
from parts.standards.fits.iso286 import Limits
from parts.standards.materials.materials import Material
from parts.strength.method import work
from parts.strength.pinned import stop_pin

if TYPE_CHECKING:
    from parts.core.drawing import Marks
    from parts.core.supports import Applied

PIN_CLASS = "m6"
"""Tolerance class of a pressed pin; that of ISO 8734, and of a pin that is made to replace one."""
SEATED = 1.5
"""Depth in diameters that a pressed pin needs; common practice, no source."""
BEYOND = 0.5
"""How far a pin stands past where the load acts, in diameters; common practice, no source."""
LEAST_WALL = 2.0
"""Wall about a hole that every plate keeps [mm]: the least that its rule allows."""


class PressedPin(AtHeight):
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
        pair, joint = self._in_hole(), f"{site.name}: pin in its hole"
        room, pin = (of_limits("hole", pair.hole),), (of_limits("pin", pair.shaft),)
        how = "choose a tighter fit"
        return [Clearance(joint, f"{site.field}.fit", room, pin, how, goes="either")]

    def cautions(self, site: OnPlate) -> Sequence[str]:
        """What else must hold a pin that its fit may leave free."""
        return freed("a pressed pin", self._in_hole())

    def base(self) -> Any:
        return over_plate(self.boss)

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
        of = self.dowel(site.thickness)
        if of is None:
            return ()
        return (Bought(f"dowel pin {of.designation}", 1, site.name, of.source),)

    def touching(self, site: OnPlate) -> dict[str, str]:
        return {f"pin, {self.pin_material.name}": self.pin_material.galvanic_family}

    def depth(self, thickness: Any) -> Any:
        """Depth of the hole, through all [mm]."""
        return thickness + self.base() - under_plate(self.boss)

    def fixture(self, site: OnPlate) -> Fixture:
        boss, t = self.boss, site.thickness
        outer, inner = steps_of(boss, t)
        hole = Turn(under_plate(boss), t + self.base(), self.diameter)
        pad = pad_radius(
            hole=self.diameter, wall=site.plate.wall, foot=foot_of(boss), seat=0.0,
            edge_break=site.edge_break,
        )  # fmt: skip
        return Fixture(
            site.name, site.field, self.at, pad, self.diameter / 2.0, 0.0, outer, inner, (Bore((hole,)),)
        )  # fmt: skip

    def marks(self, site: OnPlate) -> Marks:
        from parts.features.plate.point_marks import of_point

        words = f"{FINE}\nfor a pressed pin {PIN_CLASS}"
        return of_point(self.fixture(site), site, self.fitted(), callout=words)

    def applied(self, site: OnPlate, case: LoadCase) -> Sequence[Applied]:
        fixture = self.fixture(site)
        return site.pressed(site.round_patch(fixture, fixture.bores[0].steps[-1]), case)

    def rims(self, site: OnPlate, modes: Modes) -> Sequence[Rim]:
        of, d = f"{site.name} hole, bearing at the mouth, yield", self.diameter
        room = about(self.boss, site.pad(self.fixture(site)))
        own = rim_stress(modes, of, d, room, NEAT)
        return (Rim(self.at, d / 2.0, own),)

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        field, thickness = site.field, site.thickness
        if self.boss is not None:
            yield from self.boss.rules(
                f"{field}.boss", self.diameter, site.plate.wall, site.edge_break
            )
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
        yield from turning_rules(site.twists(), "z")
        if self.pin:
            yield at_most(
                "post.length", f"{field}.pin", self.depth(thickness) + self.arm() + BEYOND * self.diameter,
                dowel_pins(self.pin)[-1].length, "no dowel pin of this size is made so long",
                "lower the point, or take a larger pin",
            )  # fmt: skip

    def kinds(self, site: OnPlate) -> Sequence[Kind]:
        name = site.name
        return [
            Kind(kind, name)
            for kind in ("post", "pressed pin", "seat in a plate", "boss on a plate")
        ]

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
