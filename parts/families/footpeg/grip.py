"""What a foot feels of a peg, and what closes it: flats, rim, knurl, teeth and the plug in its end."""

from __future__ import annotations

from typing import Any

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.core.rules import at_least, at_most
from parts.inputs.quantities import PositiveLength


class Flats(Group):
    """Wrench flats beside the shoulder."""

    across: PositiveLength = Field(description="Distance across the flats.")
    length: PositiveLength = Field(description="How far they reach from the shoulder.")


class Lip(Group):
    """A rim at the outer end, which keeps the foot on the peg."""

    diameter: PositiveLength = Field(description="Outside diameter of the rim.")
    width: PositiveLength = Field(description="Width of the rim.")
    fillet: PositiveLength = Field(1.5, description="Fillet where the rim begins.")


class Knurl(Group):
    """A knurl as a grip, from the flats or the shoulder to the rim or the end."""

    pitch: PositiveLength = Field(1.2, description="Pitch of the knurl, as DIN 82 lists it.")

    @property
    def depth(self) -> Any:
        """How deep it is: half its pitch, its grooves at 90 degrees (DIN 82) [mm]."""
        return self.pitch / 2.0

    def before(self, diameter: Any) -> Any:
        """The diameter that is turned before rolling, which raises the points of form RGE [mm]: DIN 82, nominal less
        0.67 pitches; from memory."""
        return diameter - 0.67 * self.pitch

    @property
    def listed(self) -> Any:
        """The pitch of DIN 82 next to it [mm]; from memory."""
        series = np.array([0.5, 0.6, 0.8, 1.0, 1.2, 1.6])
        return series[np.abs(np.asarray(self.pitch)[..., None] - series).argmin(axis=-1)]


class Teeth(Group):
    """Teeth milled all round as a grip, in place of a knurl: rings with notches along them."""

    pitch: PositiveLength = Field(description="From tooth to tooth.")
    depth: PositiveLength = Field(description="How deep their grooves are.")


class Cap(Group):
    """A plug that closes the hollow end, so that no mud fills it."""

    length: PositiveLength = Field(8.0, description="How far it goes in.")


def grip_rows(peg: Any) -> list[tuple[Any, ...]]:
    """Rules of rim, knurl, teeth and plug: kind, code, field, value, limit, why, how."""
    rows: list[tuple[Any, ...]] = []
    if peg.lip is not None:
        rows += [
            (at_least, "lip", "lip.diameter", peg.lip.diameter,
             peg.diameter + 2.0 * peg.lip.fillet + 2.0 * peg.edge_break,
             "the rim does not reach past its fillet", "widen the rim"),
            (at_least, "lip_edge", "lip.width", peg.lip.width, 2.0 * peg.edge_break + 1.0,
             "its edge breaks leave nothing of the rim", "widen it"),
        ]  # fmt: skip
    if peg.knurl is not None:
        rows += [
            (at_least, "fine", "knurl.pitch", peg.knurl.pitch, peg.knurl.listed - 1e-9, "DIN 82 has no such pitch",
             "take 0.5, 0.6, 0.8, 1, 1.2 or 1.6"),
            (at_most, "coarse", "knurl.pitch", peg.knurl.pitch, peg.knurl.listed + 1e-9, "DIN 82 has no such pitch",
             "take 0.5, 0.6, 0.8, 1, 1.2 or 1.6"),
        ]  # fmt: skip
    if peg.teeth is not None:
        rows += [
            (at_least, "blunt", "teeth.pitch", peg.teeth.pitch, 2.0 * peg.teeth.depth,
             "the teeth run together to a point", "space them wider, or cut them less deep"),
            (at_most, "deep", "teeth.depth", peg.teeth.depth, peg.diameter / 8.0,
             "so deep teeth leave no peg (an eighth: common practice, no source)", "cut them less deep"),
        ]  # fmt: skip
    if peg.cap is not None and np.any(np.greater(peg.bore, 0.0)):
        rows.append((at_most, "cap", "cap.length", peg.cap.length, peg.hollow_to, "the plug is longer than its hole",
            "shorten it"))  # fmt: skip
    return rows
