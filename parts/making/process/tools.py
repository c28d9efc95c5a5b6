"""The tools at hand: what the builder says is in the drawer, else what is on sale; and how fast each cuts."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from parts.core.part import Part
from parts.inputs.units import MM_PER_INCH
from parts.standards.cutting.cutting import (
    EndMill,
    Speed,
    cutting_speed,
    drill_feed,
    end_mills,
    tooth_feed,
)
from parts.standards.materials.materials import Material
from parts.standards.threads.drills import KINDS, Drill, drills
from parts.standards.threads.threads import Thread

SLOWER = {
    "ream": 0.5,
    "tap": 0.35,
    "counterbore": 0.5,
    "countersink": 0.4,
    "thread": 0.35,
    "part": 0.5,
}
"""Share of the cutting speed [-]: a reamer takes half to two thirds (the same public table); the others are common
practice, no source."""
LEAST_SPOT = 6.0
SAME = 0.005
REAMERS = (0.5, 25.4 / 64.0)
"""Steps in diameter of stock reamers [mm]; they are ground for holes H7 (common practice, no source)."""
TURNED = 0.1
"""Feed of a finishing cut on the lathe and of a boring head [mm a turn]; common practice, no source."""


@dataclass(frozen=True)
class Drawer:
    """Drills, end mills and reamers at hand, and the metal that they cut."""

    drills: tuple[Drill, ...]
    mills: tuple[EndMill, ...]
    metal: Material
    reach: float
    stated: bool
    reamers: tuple[float, ...] = ()
    taps: tuple[Thread, ...] = ()
    saws: tuple[float, ...] = ()

    @classmethod
    def of(cls, part: Part, metal: Material) -> Drawer:
        """The drawer of a part's builder."""
        milling, units = part.milling, part.drawing.units
        kinds = {"mm": ("metric",), "in": ("fractional", "number", "letter")}.get(units, KINDS)
        stock = milling.drills or drills(kinds)
        sizes = [each for kind in _systems(units) for each in end_mills(kind)]
        if milling.end_mills:
            sizes = [_mill(float(size), milling.reach) for size in milling.end_mills]
        return cls(
            tuple(sorted(stock)),
            tuple(sorted(sizes)),
            metal,
            milling.reach,
            bool(milling.drills),
            tuple(map(float, milling.reamers)),
            tuple(milling.taps),
            tuple(sorted(map(float, milling.saws))),
        )

    @cached_property
    def speed(self) -> Speed:
        return cutting_speed(self.metal)

    def drill_of(self, diameter: float, off: float) -> Drill | None:
        """The drill within a tolerance of a size [mm]; of any kind on sale where nothing is stated."""
        stock = self.drills if self.stated else (*self.drills, *drills())
        near = [one for one in stock if abs(one.diameter - diameter) <= off]
        return min(near, key=lambda one: (abs(one.diameter - diameter) > SAME, one not in self.drills,
                                          abs(one.diameter - diameter))) if near else None  # fmt: skip

    def drill_under(self, most: float) -> Drill | None:
        """The largest drill up to a size [mm]."""
        fit = [one for one in self.drills if one.diameter <= most + 1e-9]
        return fit[-1] if fit else None

    def mill_under(self, most: float, deep: float = 0.0) -> EndMill | None:
        """The largest end mill up to a size that reaches so deep [mm]; the largest of all where none does."""
        fit = [one for one in self.mills if one.diameter <= most + 1e-6]
        long = [one for one in fit if self.reaches(one, deep)]
        return (long or fit or [None])[-1]  # type: ignore[list-item]

    def reams(self, diameter: float) -> bool:
        """Whether a reamer makes a size: one of the drawer, or of those on sale where none is stated."""
        if self.reamers:
            return any(abs(one - diameter) < SAME for one in self.reamers)
        return any(abs(diameter / step - round(diameter / step)) < 1e-4 for step in REAMERS)

    def taps_it(self, thread: Thread) -> bool:
        """Whether a tap of the drawer cuts a thread; any does where none is stated."""
        return not self.taps or any(
            one.basic == thread.basic and one.hand == thread.hand for one in self.taps
        )

    def saw_under(self, wide: float) -> float | None:
        """The widest slitting saw that goes into a slot [mm]; one as wide as it where none is stated."""
        fit = [one for one in self.saws if one <= wide + 1e-6]
        return (fit[-1] if fit else None) if self.saws else wide

    def reaches(self, one: EndMill, deep: float) -> bool:
        return deep <= self.reach * one.diameter + 1e-6

    def pace(self, kind: str, diameter: float, teeth: int = 4) -> tuple[float, float]:
        """Turns and feed a minute [mm] of an operation's tool."""
        turns = self.speed.rpm(diameter, SLOWER.get(kind, 1.0))
        if kind in ("drill", "counterbore", "countersink", "spot"):
            a_turn = drill_feed(diameter) * (1.0 if kind in ("drill", "spot") else 0.5)
        elif kind == "ream":
            a_turn = 2.0 * drill_feed(diameter)
        elif kind in ("bore", "turn", "face the end", "part off", "groove", "recess"):
            a_turn = TURNED
        else:
            a_turn = teeth * tooth_feed(diameter, self.metal)
        return turns, a_turn * turns


def _systems(units: str) -> tuple[str, ...]:
    return {"mm": ("metric",), "in": ("inch",)}.get(units, ("metric", "inch"))


def _mill(size: float, reach: float) -> EndMill:
    whole = abs(size - round(size, 2)) < 1e-6 and abs(size * 64 / MM_PER_INCH % 1.0) > 1e-6
    name = f"{size:g} mm" if whole else f"{size / MM_PER_INCH:.4g} in"
    return EndMill(size, reach * size, 4, name, "stated")
