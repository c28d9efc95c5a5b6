"""The pin of a joint and the hole that it runs in."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Any, Literal

from pydantic import Field, model_validator

from parts.core.clearances import Clearance, of_class, of_limits
from parts.core.group import Group
from parts.core.rules import Rule, at_least, at_most
from parts.features.pins.bought_pin import BoughtPin
from parts.features.press.fit import DRILLED_CLASS, FitPair, HoleClass, limit_facts
from parts.inputs.designations import MaterialName, ThreadName
from parts.inputs.quantities import PositiveLength
from parts.standards.fits.fits import fit
from parts.standards.fits.iso286 import Limits, class_limits

SMALLEST_PIN = 3.0
LARGEST_PIN = 60.0
THINNEST_BUSH = 1.0


class ClearanceHole(Group):
    """A drilled hole that leaves the pin loose."""

    type: Literal["clearance"] = Field(
        "clearance", description="A drilled hole that leaves the pin loose."
    )
    gap: PositiveLength = Field(0.2, description="Hole diameter less pin diameter.")

    def bore(self, pin: Any) -> Any:
        return pin + self.gap


class ReamedHole(Group):
    """A hole reamed to a fit on the pin."""

    type: Literal["reamed"] = Field(
        "reamed", description="A hole reamed to a fit on the pin; the nominal bore is modelled."
    )
    fit: HoleClass = Field("H7", description="ISO 286 class of the hole.")

    def bore(self, pin: Any) -> Any:
        return pin


class BushedHole(Group):
    """A hole for a press-in bush that carries the pin."""

    type: Literal["bushed"] = Field(
        "bushed", description="A hole for a press-in bush that carries the pin."
    )
    outside: PositiveLength = Field(
        description="Outside diameter of the bush: the bore of the ear."
    )
    material: MaterialName = Field(description="Material of the bush, for its bearing strength.")
    fit: FitPair = Field("H7/p6", description="Fit of the bush in the ear.")
    thrust: Literal["press", "flange", "washer"] = Field(
        "press",
        description="What takes a force along the pin: the press alone, a flange of the bush on the inner face, or a "
        "washer there that is wider than the bush.",
    )

    def bore(self, pin: Any) -> Any:
        return self.outside


class TappedHole(Group):
    """One ear tapped for the bolt that is the pin; the other drilled to clear it."""

    type: Literal["tapped"] = Field("tapped", description="The ear at -z tapped for the pin bolt.")
    thread: ThreadName = Field(description="Thread of the pin bolt.")
    gap: PositiveLength = Field(
        0.2, description="Clearance of the bolt in the other ear, on diameter."
    )

    def bore(self, pin: Any) -> Any:
        return pin + self.gap


PinHole = Annotated[
    ClearanceHole | ReamedHole | BushedHole | TappedHole, Field(discriminator="type")
]


class Pin(BoughtPin):
    """The pin of a joint: bought by its designation, or made of a stated material."""

    hole: PinHole = Field(default_factory=ReamedHole, description="How the hole takes the pin.")

    @model_validator(mode="after")
    def _has_a_nut_of_its_own(self) -> Pin:
        if self.by_name and isinstance(self.hole, TappedHole):
            raise ValueError(
                f"{self.named} goes through both ears and is kept behind them: take another `hole`, or state "
                "`diameter` and `material` of the bolt that the tapped ear takes"
            )
        return self

    @property
    def bore(self) -> Any:
        """Bore in the ear or eye [mm]: the largest of a joint's."""
        return self.hole.bore(self.diameter)

    @model_validator(mode="after")
    def _has_a_fit_of_the_standard(self) -> Pin:
        self.bore_limits()
        return self

    def bore_limits(self) -> Limits:
        """Limits of a bore: of its fit, or of the drilled hole that clears the pin.

        Raises:
            ValueError: the standard has no such fit at this diameter.
        """
        hole = self.hole
        if isinstance(hole, ReamedHole):
            return class_limits(hole.fit, self.diameter)
        if isinstance(hole, BushedHole):
            return fit(hole.fit, hole.outside).hole
        return class_limits(DRILLED_CLASS, float(self.bore))

    def limits(self) -> Mapping[str, tuple[Any, str]]:
        """Limits of the bore as facts: least and largest diameter by name [mm]; none of a drilled hole."""
        fitted = isinstance(self.hole, ReamedHole | BushedHole)
        return limit_facts("bore", self.bore_limits()) if fitted else {}

    def clearances(self, joint: str, field: str, where: str) -> Iterator[Clearance]:
        """The pin in its hole, and the bush in its own; `where` says what is bored."""
        hole = self.hole
        if isinstance(hole, BushedHole):
            pair = fit(hole.fit, hole.outside)
            yield Clearance(
                f"{joint}: bush in {where}", f"{field}.hole.fit", (of_limits(where, pair.hole),),
                (of_limits("bush", pair.shaft),), "choose another fit", goes="pressed",
            )  # fmt: skip
            room = of_class("bush, reamed when it is pressed in", "H7", self.diameter)
        elif isinstance(hole, ReamedHole):
            room = of_class(where, hole.fit, self.diameter)
        else:
            room = of_class(where, DRILLED_CLASS, self.bore)
        path = "hole.gap" if isinstance(hole, ClearanceHole | TappedHole) else "hole.fit"
        yield Clearance(
            f"{joint}: pin in {where}", f"{field}.{path}", (room,), (self.sized(),),
            "choose a looser fit, as H7 on a pin of its nominal size",
        )  # fmt: skip

    @property
    def bearing_diameter(self) -> Any:
        """Diameter that presses on the ear [mm]: the bush's where there is one."""
        return self.hole.outside if isinstance(self.hole, BushedHole) else self.diameter

    @property
    def after_cutting(self) -> str:
        """What follows where its hole is cut in a blank; empty where it is cut to size."""
        hole = self.hole
        if isinstance(hole, ReamedHole):
            return f"reamed {hole.fit}"
        if isinstance(hole, BushedHole):
            return f"bored {hole.fit.split('/')[0]} for a bush"
        return f"tapped {hole.thread.designation}" if isinstance(hole, TappedHole) else ""

    def touching(self) -> dict[str, str]:
        """The surface of what touches the part here, by name: the bush where there is one, else the pin."""
        if isinstance(self.hole, BushedHole):
            return {f"bush, {self.hole.material.name}": self.hole.material.galvanic_family}
        return {self.named: self.surface}

    def rules(self, field: str) -> Iterator[Rule]:
        """Rules of the pin and its hole; `field` is the dotted path of this group."""
        yield at_least(
            "pin.small", f"{field}.diameter", self.diameter, SMALLEST_PIN,
            "a load-bearing pin this thin is not meant; it looks like the wrong unit",
            "check the unit of this value",
        )  # fmt: skip
        yield at_most(
            "pin.large", f"{field}.diameter", self.diameter, LARGEST_PIN,
            "no pin of a one-off vehicle is this thick; it looks like the wrong unit",
            "check the unit of this value",
        )  # fmt: skip
        hole = self.hole
        if isinstance(hole, BushedHole):
            yield at_least(
                "bush.wall", f"{field}.hole.outside", hole.outside, self.diameter + 2.0 * THINNEST_BUSH,
                "the bush would have less than 1 mm of wall", "choose a bush with a larger outside diameter",
            )  # fmt: skip
        if isinstance(hole, ClearanceHole | TappedHole):
            yield at_most(
                "pin.gap", f"{field}.hole.gap", hole.gap, 0.1 * self.diameter,
                "a pin this loose hammers its hole", "lessen the gap, or ream the hole to a fit",
            )  # fmt: skip
        if isinstance(hole, TappedHole):
            yield at_most(
                "pin.thread", f"{field}.hole.thread", hole.thread.major, self.diameter + 0.05,
                "the thread does not pass the clearance hole of the other ear",
                "use a bolt whose thread is no larger than its shank",
            )  # fmt: skip

    def rules_in_a_tab(self, field: str) -> Iterator[Rule]:
        """Rules of the pin of a tab, which has no other ear: its shank goes into the thread."""
        yield from self.rules(field)
        if isinstance(self.hole, TappedHole):
            yield at_most(
                "pin.shank", f"{field}.diameter", self.diameter, self.hole.thread.major + 0.05,
                "a bolt whose shank is thicker than its thread does not enter the tapped hole",
                "state the thread's own diameter, or a larger thread",
            )  # fmt: skip
