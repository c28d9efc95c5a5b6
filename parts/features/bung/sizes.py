"""A threaded bung by its dimensions, and what follows from them alone.

Distances are measured from the outer face of the bung, into the tube.
"""

from __future__ import annotations

from typing import Any, Literal

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.features.bung.stretches import Outside
from parts.features.bung.wall import least, threaded_wall
from parts.features.bung.wrench import FlattedShoulder, HexShoulder, PlainShoulder, Wrench
from parts.features.thread import threaded
from parts.inputs.quantities import NonNegativeLength, PositiveLength
from parts.standards.threads.threads import Thread


class BungSizes(Group):
    """A turned bung, tapped at its outer face and welded into a tube."""

    shoulder: PositiveLength = Field(description="Outer face to the weld.")
    diameter: PositiveLength | None = Field(
        None, description="Diameter of the round shoulder; that of the tube where left out."
    )
    wrench: Wrench = Field(default_factory=PlainShoulder, description="What a wrench holds it by.")
    spigot: PositiveLength = Field(description="Length that plugs into the tube.")
    clearance: NonNegativeLength = Field(
        0.1, description="Clearance of the spigot in the tube's bore, on diameter."
    )
    lead_in: PositiveLength = Field(1.0, description="Length of the taper at the spigot's tip.")
    weld_prep: NonNegativeLength | None = Field(
        None,
        description="Leg of the 45 degree chamfer for the weld; three quarters of the wall where left out.",
    )
    bore: Literal["open", "closed"] = Field(
        "open", description="Open into the tube, or closed by a floor behind the thread."
    )
    thread_depth: PositiveLength | None = Field(
        None, description="Full thread from the face; past the witness hole where left out."
    )
    relief: bool = Field(
        True, description="Clear bore or groove behind the thread, so that the shank runs on."
    )
    beyond_thread: threaded.BeyondThread = threaded.BEYOND
    witness_hole: PositiveLength | None = Field(
        2.0, description="Diameter of the witness hole; null leaves it out."
    )
    witness_in: Literal["wrench", "shoulder", "spigot"] = Field(
        "shoulder",
        description="Where the witness hole comes to lie: in the wrench flats, in the round shoulder, or "
        "through tube and spigot.",
    )

    def round(self, tube: Any) -> Outside:
        """The round shoulder in a tube of an outside diameter [mm]."""
        return Outside("round", tube if self.diameter is None else self.diameter)

    def gripped(self, tube: Any) -> Outside | None:
        """The outside where a wrench holds; None without."""
        if isinstance(self.wrench, HexShoulder):
            return Outside("hex", 0.0, self.wrench.across_flats)
        if isinstance(self.wrench, FlattedShoulder):
            return Outside("flatted", self.round(tube).diameter, self.wrench.across_flats)
        return None

    @property
    def grip(self) -> Any:
        """Length that a wrench holds [mm]."""
        return 0.0 if isinstance(self.wrench, PlainShoulder) else self.wrench.length

    @property
    def length(self) -> Any:
        """Over all [mm]."""
        return self.shoulder + self.spigot

    @property
    def witness(self) -> Any:
        return 0.0 if self.witness_hole is None else self.witness_hole

    def plug(self, inside: Any) -> Any:
        """Diameter of the spigot in a tube of a bore [mm]."""
        return inside - self.clearance

    def prep(self, wall: Any) -> Any:
        """Leg of the weld prep [mm]."""
        return 0.75 * wall if self.weld_prep is None else self.weld_prep

    def tapped(self, least: Any) -> Any:
        """Full thread [mm]."""
        return least if self.thread_depth is None else self.thread_depth

    def full_thread(self, thread: Thread, wanted: Any, edge_break: Any) -> Any:
        """Full thread from the face [mm] that leaves the engagement wanted and two turns beyond the witness hole."""
        lost = threaded.tapped_mouth(thread, edge_break)
        return self.tapped(wanted + lost + 2.0 * thread.pitch + self.witness)

    def face(self, tube: Any) -> Any:
        """Least width of its outside beside its thread [mm]."""
        held, d = self.gripped(tube), self.round(tube).diameter
        return d if held is None else np.minimum(d, held.across)

    def walls(self, thread: Thread, tube: Any) -> tuple[Any, Any]:
        """Least area [mm^2] and section modulus [mm^3] of its wall beside the root of its thread."""
        held, plain = self.gripped(tube), self.round(tube)
        found = [threaded_wall(one, thread, None) for one in (held, plain) if one is not None]
        if self.witness_hole is not None and self.witness_in != "spigot":
            shape = plain if held is None or self.witness_in == "shoulder" else held
            found.append(threaded_wall(shape, thread, self.witness_hole))
        return least(found)

    def open_to(self, thread: Thread, depth: Any) -> Any:
        """How deep the shank may go [mm]; very far where only the other end stops it."""
        if not self.relief:
            return depth
        if self.bore == "closed":
            return depth + threaded.behind_thread(thread, relief=True)
        return 1e4 + 0.0 * depth

    def behind(self, thread: Thread) -> Any:
        """Bore behind the thread [mm]."""
        return thread.relief("internal").diameter if self.relief else thread.minor_internal

    def widest(self, tube: Any) -> Any:
        """Diameter of the bar that it is turned from [mm]."""
        held = self.gripped(tube)
        d = self.round(tube).diameter
        return d if held is None else np.maximum(d, held.corner)
