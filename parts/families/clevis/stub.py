"""A stub slimmer than the tube that a spigot plugs, so that the ears need not be as large as that tube."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.core.rules import Rule, at_least, at_most
from parts.features.section.notches import turned_fillet
from parts.features.thread.body import root_steps
from parts.features.thread.turned import Step
from parts.inputs.quantities import PositiveLength

if TYPE_CHECKING:
    from parts.core.drawing import Dimension

X, Y, Z = np.eye(3)
SHARPEST = 0.4
"""Least fillet of a turned shoulder [mm]; common practice, no source."""
LONGEST = 10.0
"""Length over diameter beyond which it is no stub [-]."""


class Stub(Group):
    """A round between ears and shoulder, slimmer than the tube."""

    diameter: PositiveLength = Field(description="Diameter of the stub.")
    length: PositiveLength = Field(
        description="Length from the body to the shoulder, fillets at both ends included."
    )
    fillet: PositiveLength = Field(
        3.0,
        description="Fillet where it rises to the shoulder; half the difference to the tube makes it one sweep.",
    )

    def rules(self, field: str, outside: Any, root_fillet: Any) -> Iterator[Rule]:
        """Rules of the stub before a shoulder as large as the tube [mm]."""
        yield at_most(
            "stub.wide", f"{field}.diameter", self.diameter + 2.0 * self.fillet, outside,
            "with its fillet it is larger than the tube that it carries",
            "lessen it or its fillet, or leave the stub out",
        )  # fmt: skip
        yield at_least(
            "stub.sharp", f"{field}.fillet", self.fillet, SHARPEST,
            "a root this sharp starts a crack, and no cutter leaves it (common practice, no source)",
            "enlarge its fillet",
        )  # fmt: skip
        yield at_least(
            "stub.short", f"{field}.length", self.length, root_fillet + self.fillet + 0.5,
            "the fillets at its ends meet", "lengthen the stub, or lessen a fillet",
        )  # fmt: skip
        yield at_most(
            "stub.long", f"{field}.length", self.length, LONGEST * self.diameter,
            "a stub this long is a bar; it looks like the wrong unit", "check the unit of this value",
        )  # fmt: skip

    def steps(self, outside: Any, root_fillet: Any, edge_break: Any) -> list[Step]:
        """From the back of the body to the face of the shoulder, whose rim is broken as far as the fillet leaves it."""
        d, f, end = self.diameter, self.fillet, self.length
        root = root_steps("root fillet", root_fillet, d)
        rim = np.minimum(edge_break, np.maximum((outside - d) / 2.0 - f, 0.0))
        notch = turned_fillet(outside, d, f)
        return [
            *root,
            Step("stub", root_fillet if root else 0.0, end - f, d),
            Step("stub fillet", end - f, end, d, d + 2.0 * f, fillet=True, notch=notch),
            Step("rim of the shoulder", end, end + rim, outside - 2.0 * rim, outside),
        ]

    def marks(self, outside: float) -> list[Dimension]:
        """Its diameter, its length, and the fillet at its shoulder; the stub lies on -x from the back."""
        from parts.core.drawing import Diameter, Linear, Radius

        d, f, end = float(self.diameter), float(self.fillet), float(self.length)
        centre = np.array([-(end - f), d / 2.0 + f, 0.0])
        way = (-X - Y) / np.sqrt(2.0)
        found: list[Dimension] = [
            Diameter("stub", (-(end - f), 0, 0), X, d, view="top"),
            Radius("fillet of the stub", centre, Z, way, f, callout="all round", view="front"),
        ]
        if d / 2.0 + f < outside / 2.0 - 1e-6:
            face = (-end, -(d / 2.0 + f), 0)
            found.append(Linear("length of the stub", face, (0, -d / 2, 0), X, end, view="front"))
        return found
