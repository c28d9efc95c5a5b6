"""What every bolt has: thread, length, grip, head and the strength of its class. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

from parts.standards.designation import (
    MM_PER_INCH,
    Row,
    UnknownDesignation,
    nearest_names,
    read_table,
)
from parts.standards.threads.threads import Thread

MPA_PER_KSI = 6.894757


class BoltClass(NamedTuple):
    """Least strengths [MPa] of a property class at one size; None where the standard gives none.

    Attributes:
        shear: ultimate in shear, where the standard itself gives one.
        on_thread: rated tension over the stress area, where a table rates the bolt below its metal.
    """

    name: str
    ultimate: float
    source: str
    proof: float | None = None
    yield_strength: float | None = None
    shear: float | None = None
    on_thread: float | None = None


@dataclass(frozen=True)
class Bolt:
    """A bolt or screw. Lengths in mm.

    Attributes:
        designation: the name that `bolt` reads back.
        head: "hex", "socket" or "countersunk".
        length: under the head; over all on a countersunk screw.
        grip: plain shank under the head, nominal; 0 where the thread runs up to the head. On a
            commercial bolt the last five threads before it may be incomplete.
        shank: diameter of the plain shank at its greatest; `shank_min` where the standard gives it.
        wrench: across flats of the hexagon, outside or in the socket.
        head_diameter, head_height: None where the table does not give them.
    """

    designation: str
    head: str
    thread: Thread
    length: float
    grip: float
    shank: float
    shank_min: float | None
    wrench: float
    head_diameter: float | None
    head_height: float | None
    strength: BoltClass
    source: str

    @property
    def thread_length(self) -> float:
        """From the end of the grip to the end of the bolt [mm]."""
        return self.length - self.grip

    @property
    def proof_load(self) -> float | None:
        """Proof stress x tensile stress area [N]; None where the class has no proof stress."""
        proof = self.strength.proof
        return None if proof is None else proof * self.thread.stress_area

    @property
    def tensile_load(self) -> float:
        """Least ultimate stress x tensile stress area [N].

        A countersunk head tears first: ISO 10642 allows 80 per cent.
        """
        share = 0.8 if self.head == "countersunk" else 1.0
        return share * self.strength.ultimate * self.thread.stress_area


@cache
def read_heads() -> dict[tuple[str, str], Row]:
    """The rows of the heads by form and size."""
    return {(row["head"], row["size"]): row for row in read_table("bolt_heads")}


@cache
def class_names() -> tuple[str, ...]:
    """The names of every property class, once each."""
    return tuple(dict.fromkeys(row["class"] for row in read_table("bolt_classes")))


def bolt_class(name: str, of: Thread) -> BoltClass:
    """The strengths of a class at a thread's size.

    Raises:
        UnknownDesignation: when no such class is tabulated at that size.
    """
    size = of.major / MM_PER_INCH if of.is_inch else of.major
    system = "in" if of.is_inch else "m"
    unit = MPA_PER_KSI if of.is_inch else 1.0
    rows = [row for row in read_table("bolt_classes") if row["system"] == system]
    fitting = [row for row in rows if float(row["over"]) < size <= float(row["upto"]) + 1e-9]
    for row in fitting:
        if row["class"] == name:
            proof, least, ultimate = (
                float(row[column]) * unit for column in ("proof", "yield", "ultimate")
            )
            return BoltClass(name, ultimate, row["source"], proof, least)
    able = [row["class"] for row in fitting]
    raise UnknownDesignation(
        "bolt class",
        name,
        f"no such class stands in the table for {of.basic}",
        nearest_names(name, able) or able,
    )
