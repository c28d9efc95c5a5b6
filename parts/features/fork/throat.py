"""What the throat between two ears takes: a rod end's ball with its spacers, or a flat blade."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Annotated, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.clearances import Clearance, Sized, general, of_class, within
from parts.core.group import Group
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.features.bolts.hardware import LOOSE_PIN, SPIGOT_WALL, ball_rules, swing, swing_rule
from parts.features.press.fit import SPACER_CLASS
from parts.inputs.designations import RodEndName
from parts.inputs.quantities import Angle, NonNegativeLength, PositiveLength

THROAT_CLASS = "H11"
"""Tolerance of a throat: never narrower than what its stack was given room in; common practice, no source."""
BALL_NARROW = 0.127
"""What a ball may be narrower than its row [mm]: 0.12 by ISO 12240-4, 0.005 in on inch ones; from memory."""
BALL_BORE = 0.038
"""What a ball's bore may be larger than its row [mm]: 0.0015 in on inch ones, H7 on metric ones; from memory."""
GROWS = 0.5
"""What a throat may come out looser than its stated side clearance [mm]; common practice, no source."""


class RodEndThroat(Group):
    """A throat for the ball of a rod end and a spacer on each side of it."""

    type: Literal["rod end"] = Field(
        "rod end", description="A throat for a rod end's ball and spacers."
    )
    rod_end: RodEndName = Field(description="The rod end by its designation.")
    spacer: NonNegativeLength = Field(
        0.0, description="Length of the spacer on each side of the ball; 0 for none."
    )
    spacers: Literal["plain", "high misalignment"] = Field(
        "plain",
        description="Plain spacers on a pin that fills the ball, or stepped ones that take the ball's bore "
        "down to a thinner pin.",
    )
    clearance: NonNegativeLength = Field(0.1, description="Side clearance, both sides together.")
    swing_needed: Angle = Field(0.0, description="Swing to one side that the joint must have.")

    @property
    def width(self) -> Any:
        """Between the ears [mm]."""
        return self.rod_end.ball_width + 2.0 * self.spacer + self.clearance

    @property
    def tongue(self) -> Any:
        """Thickness that the pin passes between the ears [mm]."""
        return self.rod_end.ball_width

    @property
    def reach(self) -> Any:
        """How far what sits in the throat stands from the pin [mm]."""
        return self.rod_end.head_diameter / 2.0

    def stack(self) -> tuple[Sized, ...]:
        """Ball and spacers, end to end."""
        ball = within("ball", self.rod_end.ball_width, BALL_NARROW, 0.0, "its maker")
        spaced = np.any(np.asarray(self.spacer) > 0.0)
        return ball, *((of_class("spacer", SPACER_CLASS, self.spacer),) * 2 if spaced else ())

    @property
    def loosest(self) -> Any:
        """Side clearance at the limits of its sizes [mm]."""
        return in_throat(self, "", "").greatest

    def clearances(self, joint: str, field: str, pin: Sized) -> Iterator[Clearance]:
        """Ball and spacers between the ears, and the pin in the ball."""
        yield in_throat(self, joint, field)
        if self.spacers == "plain":
            bore = self.rod_end.bore
            room = within("bore of the ball", bore, 0.0, BALL_BORE, "its maker")
            yield Clearance(
                f"{joint}: pin in the ball",
                f"{field}.rod_end",
                (room,),
                (pin,),
                "choose a thinner pin",
            )

    def note(self) -> str:
        """What the sheet says of it."""
        with_spacers = ""
        if float(self.spacer) > 0.0:
            size = of_class("", SPACER_CLASS, self.spacer)
            long = f"{float(size.least):.2f} to {float(size.most):.2f} mm"
            with_spacers = f" with two spacers {long} long ({SPACER_CLASS})"
        return f"Throat takes rod end {self.rod_end.designation}{with_spacers}; try it before finishing."

    def swing(self) -> Any:
        """Swing of the rod end to one side before head or ball meets something [rad]."""
        return swing(self.rod_end, self.width)

    def bought(self, pin: Any) -> Sequence[Bought]:
        """The rod end and its spacers; `pin` is the pin's diameter [mm]."""
        found = [
            Bought(f"rod end {self.rod_end.designation}", 1, "the throat", self.rod_end.source)
        ]
        if np.any(np.asarray(self.spacer) > 0.0):
            size = f"{self.spacer:g} mm for a {pin:g} mm pin"
            found.append(Bought(f"{self.spacers} spacer {size}", 2, "the throat, beside the ball"))
        return found

    def rules(self, field: str, pin: Any) -> Iterator[Rule]:
        """Rules of what sits in the throat; `pin` is the pin's diameter [mm]."""
        yield from ball_rules(f"{field}.clearance", self.rod_end, self.width, spacer=self.spacer)
        yield swing_rule(f"{field}.swing_needed", self.rod_end, self.width, self.swing_needed)
        bore = self.rod_end.bore
        if self.spacers == "plain":
            yield at_most(
                "throat.pin", f"{field}.rod_end", pin, bore + 0.01, "the pin does not enter the ball",
                "choose a thinner pin or a larger rod end",
            )  # fmt: skip
            yield at_least(
                "throat.loose", f"{field}.rod_end", pin, bore - LOOSE_PIN,
                "the pin rattles in the ball (common practice, no source)",
                "choose a pin that fills the ball, or high misalignment spacers that sleeve it",
            )  # fmt: skip
            return
        yield at_most(
            "throat.spigot", f"{field}.spacers", pin, bore - 2.0 * SPIGOT_WALL,
            "the spigot of the spacer would have less than 1 mm of wall",
            "choose a thinner pin or a larger rod end",
        )  # fmt: skip
        yield at_least(
            "throat.step", f"{field}.spacer", self.spacer, 1.0,
            "a high misalignment spacer needs a collar outside the ball",
            "give the spacer a length of 1 mm or more",
        )  # fmt: skip


class BladeThroat(Group):
    """A throat for a flat blade with side clearance."""

    type: Literal["blade"] = Field(
        "blade", description="A throat for a flat blade with side clearance."
    )
    thickness: PositiveLength = Field(description="Thickness of the blade.")
    clearance: NonNegativeLength = Field(0.2, description="Side clearance, both sides together.")
    end: PositiveLength = Field(description="How far the blade stands past the pin.")

    @property
    def width(self) -> Any:
        """Between the ears [mm]."""
        return self.thickness + self.clearance

    @property
    def tongue(self) -> Any:
        """Thickness that the pin passes between the ears [mm]."""
        return self.thickness

    @property
    def reach(self) -> Any:
        """How far the blade stands past the pin [mm]."""
        return self.end

    def stack(self) -> tuple[Sized, ...]:
        """The blade."""
        return (general("blade", self.thickness),)

    @property
    def loosest(self) -> Any:
        """Side clearance at the limits of its sizes [mm]."""
        return in_throat(self, "", "").greatest

    def clearances(self, joint: str, field: str, pin: Sized) -> Iterator[Clearance]:
        """The blade between the ears."""
        yield in_throat(self, joint, field)

    def note(self) -> str:
        """What the sheet says of it: nothing, for the width says it."""
        return ""

    def bought(self, pin: Any) -> Sequence[Bought]:
        """Nothing: the blade is part of something else."""
        return ()

    def rules(self, field: str, pin: Any) -> Iterator[Rule]:
        """Rules of the blade; `pin` is the pin's diameter [mm]."""
        yield at_least(
            "throat.blade", f"{field}.end", self.end, 0.75 * np.asarray(pin, float),
            "the pin would break the end of the blade (common practice, no source)",
            "let the blade stand further past the pin",
        )  # fmt: skip
        yield at_most(
            "throat.side", f"{field}.clearance", self.clearance, 0.2 * self.thickness + 0.5,
            "a blade this loose rattles and bends its pin (common practice, no source)",
            "lessen the side clearance",
        )  # fmt: skip


def in_throat(of: RodEndThroat | BladeThroat, joint: str, field: str) -> Clearance:
    """What sits between the ears."""
    room = (of_class("throat", THROAT_CLASS, of.width),)
    return Clearance(
        f"{joint}: stack in the throat", f"{field}.clearance", room, of.stack(),
        "give the throat more side clearance", of.clearance + GROWS, eased=lambda more: of.clearance + more,
    )  # fmt: skip


Throat = Annotated[RodEndThroat | BladeThroat, Field(discriminator="type")]
