"""The end of an ear or a tongue beyond its pin: round, bullet or square."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Literal

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.core.rules import Rule, at_least, at_most, none_or_at_least
from parts.features.section.outlines import figure
from parts.inputs.quantities import NonNegativeLength, PositiveLength
from parts.strength.section.outline import QUARTER, Outline

OGIVE_TIP = 0.25
"""Radius of the tip of a bullet nose over its width [-]."""


class Nose(Group):
    """Width and end of an ear; the origin is the middle of its bore, x points to the end."""

    width: PositiveLength = Field(description="Width of the ears across the pull.")
    nose: Literal["round", "bullet", "square"] = Field(
        "round", description="Shape of the end: round about the pin, bullet, or square."
    )
    edge: PositiveLength | None = Field(
        None, description="Pin centre to the end of the nose; half the width for a round nose."
    )
    nose_corner: NonNegativeLength = Field(1.0, description="Corner radius of a square nose.")

    @property
    def end(self) -> Any:
        """Pin centre to the end of the nose [mm]."""
        return self.width / 2.0 if self.edge is None or self.nose == "round" else self.edge

    def end_at(self, y: Any) -> Any:
        """Pin centre to the end of the nose, `y` off the middle line [mm]."""
        y = np.abs(y)
        if self.nose == "square":
            into = np.maximum(y - (self.width / 2.0 - self.nose_corner), 0.0)
            return self.end - self.nose_corner + np.sqrt(self.nose_corner**2 - into**2)
        if self.nose == "round":
            return np.sqrt(np.maximum(self.width**2 / 4.0 - y**2, 0.0))
        tip, flank = OGIVE_TIP * self.width, self._ogive()
        _, meet = self._meeting()
        on_tip = self.end - tip + np.sqrt(np.maximum(tip**2 - y**2, 0.0))
        on_flank = np.sqrt(np.maximum(flank**2 - (y + flank - self.width / 2.0) ** 2, 0.0))
        return np.where(y < meet, on_tip, on_flank)[()]

    def _ogive(self) -> Any:
        """Radius of the flanks of a bullet nose [mm]: tangent to the sides and to the tip's radius."""
        tip = OGIVE_TIP * self.width
        run = self.end - tip
        return (self.width**2 / 4.0 + run**2 - tip**2) / (self.width - 2.0 * tip)

    def _along(self) -> Any:
        """Direction from a flank's centre through the tip's, on which flank and tip meet [rad]."""
        return np.arctan2(self._ogive() - self.width / 2.0, self.end - OGIVE_TIP * self.width)

    def _meeting(self) -> tuple[Any, Any]:
        """Where flank and tip of a bullet nose meet: x and y [mm]."""
        tip, along = OGIVE_TIP * self.width, self._along()
        return self.end - tip + tip * np.cos(along), tip * np.sin(along)

    def nose_profile(self, back: Any) -> Outline:
        """The ears seen along the pin, x toward the nose: from its back to the nose [mm].

        Args:
            back: where the figure begins, behind the pin [mm].

        Returns:
            The figure.
        """
        w, b = self.width / 2.0, back
        if self.nose == "square":
            r, e = self.nose_corner, self.end
            return figure(
                [(-b, -w), (e - r, -w), (e, -w + r), (e, w - r), (e - r, w), (-b, w)],
                [0.0, QUARTER, 0.0, QUARTER, 0.0, 0.0],
            )
        if self.nose == "round":
            return figure([(-b, -w), (0.0, -w), (0.0, w), (-b, w)], [0.0, 1.0, 0.0, 0.0])
        x, y = self._meeting()
        along = self._along()
        flank, tip = np.tan((np.pi / 2.0 - along) / 4.0), np.tan(along / 2.0)
        return figure(
            [(-b, -w), (0.0, -w), (x, -y), (x, y), (0.0, w), (-b, w)],
            [0.0, flank, tip, flank, 0.0, 0.0],
        )

    def nose_rules(self, field: str) -> Iterator[Rule]:
        """Rules of the end; `field` is the dotted path of the group."""
        if self.nose == "square":
            yield none_or_at_least(
                "ears.fine_corner", f"{field}.nose_corner", self.nose_corner, 0.05,
                "no shop makes a radius this fine", "enlarge the corner radius, or state 0 for sharp corners",
            )  # fmt: skip
            yield at_most(
                "ears.nose_corner", f"{field}.nose_corner", self.nose_corner,
                np.minimum(self.width / 2.0, self.end) - 0.1,
                "the corner radius eats the nose", "lessen it, or ask for a round nose",
            )  # fmt: skip
        if self.nose == "bullet":
            yield at_least(
                "ears.bullet", f"{field}.edge", self.end, 0.55 * self.width,
                "a bullet nose is longer than a round one", "move the end out, or ask for a round nose",
            )  # fmt: skip
        if self.nose != "round":
            yield at_most(
                "ears.long_nose", f"{field}.edge", self.end, 3.0 * self.width,
                "a nose this long is no nose; it looks like the wrong unit", "check the unit of this value",
            )  # fmt: skip

    def corner_rules(self, field: str, edge_break: Any) -> Iterator[Rule]:
        """Rules of a chamfer that runs round the end; `field` is the edge break's path."""
        if self.nose == "square":
            yield at_most(
                "ears.break_corner", field, edge_break, self.nose_corner / 1.2,
                "the corners of a square nose must be rounder than the chamfer that runs round them",
                "lessen the edge break, or give the nose larger corner radii",
            )  # fmt: skip
