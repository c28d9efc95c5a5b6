"""What keeps the bearings on a stub: a bolt with a washer in its end, or a circlip."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any, Literal, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.check import Check
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.rules import Rule, at_least, at_most
from parts.features.bolts.slip import BOLT_E, screwed_loss
from parts.features.mounts.stud import Threaded
from parts.features.plate.on_plate import OnPlate
from parts.features.thread.threaded import DRILL_POINT
from parts.inputs.quantities import PositiveLength
from parts.standards.materials.materials import Material

LEAD, LEAST_LEAD = 3.0, 2.0
"""Pitches that a hole is drilled beyond its full thread, and the fewest, for the lead of a bottoming tap; common
practice, no source."""


class Seated(NamedTuple):
    """What a bolt in the end of a stub clamps: diameters of journal and inner ring, both rings with the spacer, and
    the spacer between them [mm]."""

    journal: Any
    ring: Any
    stack: Any
    spacer: Any


class BoltedOn(Threaded):
    """A bolt and washer in the end of the stub."""

    type: Literal["bolt"] = Field("bolt", description="A bolt and washer in the end of the stub.")
    depth: PositiveLength = Field(description="Depth of full thread in the stub.")
    drill: PositiveLength | None = Field(
        None,
        description="Depth of the drilled hole to its full diameter; three pitches beyond the thread where left out.",
    )

    @property
    def drilled(self) -> Any:
        """Depth of the hole to its full diameter [mm]."""
        return self.depth + LEAD * self.thread.pitch if self.drill is None else self.drill

    @property
    def bottom(self) -> Any:
        """Depth of the hole to the tip of the drill's point [mm]."""
        return self.drilled + self.thread.minor_internal / 2.0 * DRILL_POINT

    def rules(self, field: str, journal: Any, room: Any) -> Iterator[Rule]:
        """Rules of its hole in a journal [mm], with so much depth before the plate [mm]."""
        bore = self.thread.major
        yield at_least(
            "stub.wall", f"{field}.thread", (journal - bore) / 2.0,
            np.maximum(0.15 * journal, 2.0),
            "the wall of the stub about its thread is too thin (0.15 diameters: common practice, no source)",
            "choose a smaller thread",
        )  # fmt: skip
        yield at_least(
            "stub.thread", f"{field}.depth", self.depth, self.thread.major,
            "the thread holds less than one diameter", "deepen it",
        )  # fmt: skip
        yield at_least(
            "stub.drill", f"{field}.drill", self.drilled, self.depth + LEAST_LEAD * self.thread.pitch,
            "the tap would meet the bottom of the hole before the thread is cut so deep (two pitches: common "
            "practice, no source)",
            "drill deeper, or shorten the thread",
        )  # fmt: skip
        yield at_most(
            "stub.depth", f"{field}.depth", self.bottom, room,
            "the hole runs on into the plate", "shorten the thread",
        )  # fmt: skip

    def modes(self, site: OnPlate, pull: Any, case: LoadCase, seat: Seated) -> Iterator[Check]:
        """The bolt and its thread under what pulls the rings off [N]."""
        name, metal, required = f"{site.name} retaining", site.metal, site.required(case)
        yield from self.bolt_modes(name, pull, np.zeros_like(pull), case.name, required)
        loss = screwed_loss(metal, self.thread, *self._clamped(metal, seat))
        yield self.seated_mode(name, pull, case.name, required, loss)
        yield from self.strip_modes(name, metal, self.depth, pull, case.name, required)
        yield from self.tired_modes(name, pull, case, site, loss=loss)

    def _clamped(self, metal: Material, seat: Seated) -> tuple[int, tuple[Any, Any]]:
        """Faces between washer, rings, spacer and collar, and the stiffness of the stub and of the rings [N/mm].

        The stub stretches before its thread; a thread that reaches to its foot counts a tenth of the stack.
        """
        d, D = seat.journal, seat.ring
        free = np.maximum(seat.stack - self.depth, 0.1 * seat.stack)
        stub = metal.E * np.pi / 4.0 * (d**2 - self.thread.major**2) / free
        rings = BOLT_E * np.pi / 4.0 * (D**2 - d**2) / seat.stack
        return (4 if bool(np.any(np.greater(seat.spacer, 0.0))) else 3), (stub, rings)


class SnappedOn(Group):
    """A circlip on the stub, DIN 471."""

    type: Literal["circlip"] = Field("circlip", description="A circlip on the stub, DIN 471.")


Retention = Annotated[BoltedOn | SnappedOn, Field(discriminator="type")]
