"""A link of two ends screwed into one body: its length, and its engagement at the extremes.

End a points to -x, end b to +x; the origin lies midway between the pins.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, NamedTuple, Protocol

import numpy as np
from pydantic import Field

from parts.core.group import Group
from parts.core.rules import Rule, at_least, at_most
from parts.inputs.quantities import PositiveLength
from parts.standards.fasteners.jam_nuts import JamNut
from parts.standards.threads.threads import Thread

LONGEST, SHORTEST = 1500.0, 40.0
"""Pin to pin [mm]: beyond these a length is taken for a slip of units."""
TIP_GAP = 1.0
"""Least distance between the tips of two ends inside the body [mm]; common practice, no source."""
TIP_POINT = 1.0
"""Pitches of the tip of a male thread that are not full thread [-]; common practice, no source."""
USUAL_ENGAGEMENT = 1.5
"""Least engagement in diameters where none is stated [-]; common practice, no source."""
LEAST_ENGAGEMENT = 1.0
"""In diameters [-]; common practice for steel in steel, no source."""


class PinToPin(Group):
    """The lengths that the link must have, from pin to pin."""

    minimum: PositiveLength = Field(description="Shortest length, pin to pin.")
    nominal: PositiveLength = Field(description="Usual length, pin to pin.")
    maximum: PositiveLength = Field(description="Longest length, pin to pin.")


class End(Protocol):
    """What a link asks of either of its ends."""

    @property
    def thread(self) -> Thread: ...
    @property
    def nut(self) -> JamNut: ...
    @property
    def reach(self) -> Any: ...
    @property
    def full_thread(self) -> Any: ...


class Mouth(NamedTuple):
    """The tapped hole in the body for one end. Lengths in mm, from the face of the body.

    `depth` is the full thread of the hole; `open_to` how deep the tip of the end may go, whether there is
    thread or not; `countersink` the depth of the countersink; `witness` the diameter of the witness hole, 0
    for none.
    """

    depth: Any
    open_to: Any
    countersink: Any
    witness: Any


@dataclass(frozen=True)
class Adjustment:
    """The link at any length: how deep each end is in the body, and how much thread it holds by."""

    lengths: PinToPin
    ends: tuple[End, End]
    mouths: tuple[Mouth, Mouth]
    wanted: tuple[Any, Any]
    stated_body: Any = None

    @property
    def opposite(self) -> bool:
        """True for a right- and a left-hand thread, so that turning the body changes the length."""
        a, b = self.ends
        return a.thread.hand != b.thread.hand

    @property
    def per_turn(self) -> Any:
        """Change in length for one turn of the body between fixed ends [mm]."""
        a, b = (end.thread.pitch for end in self.ends)
        return a + b if self.opposite else abs(a - b)

    def share(self, i: int) -> Any:
        """The part of a change in length that end i takes [-]."""
        a, b = (end.thread.pitch for end in self.ends)
        return (a, b)[i] / (a + b) if self.opposite else 0.5

    def lost(self, i: int) -> Any:
        """Length of the tip in the body that holds by no full thread [mm]."""
        return self.mouths[i].countersink + TIP_POINT * self.ends[i].thread.pitch

    def least_entry(self, i: int) -> Any:
        """Depth of the tip [mm] at which end i holds by the engagement wanted and covers the witness hole."""
        return self.wanted[i] + self.lost(i) + self.mouths[i].witness

    @property
    def least_body(self) -> Any:
        """Length of the body [mm] that gives just the engagement wanted at the longest."""
        reach = sum(self.ends[i].reach - self.least_entry(i) for i in (0, 1))
        return self.lengths.maximum - reach

    @property
    def body(self) -> Any:
        """Length of the body over the faces that the jam nuts bear on [mm]."""
        return self.least_body if self.stated_body is None else self.stated_body

    def entry(self, i: int, length: Any) -> Any:
        """Depth of the tip of end i in the body at a length pin to pin [mm]."""
        shorter = self.lengths.maximum - length + self.body - self.least_body
        return self.least_entry(i) + self.share(i) * shorter

    def engaged(self, i: int, length: Any) -> Any:
        """Full thread that end i holds by at a length pin to pin [mm]."""
        full = self.entry(i, length) - TIP_POINT * self.ends[i].thread.pitch
        return np.minimum(full, self.mouths[i].depth) - self.mouths[i].countersink

    def bare(self, i: int, length: Any) -> Any:
        """Pin of end i to the face of the body at a length pin to pin [mm]."""
        return self.ends[i].reach - self.entry(i, length)

    def free(self, i: int, length: Any) -> Any:
        """Pin of end i to the face of its jam nut [mm]."""
        return self.bare(i, length) - self.ends[i].nut.height

    def witness_at(self, i: int) -> Any:
        """Face of the body to the middle of the witness hole [mm].

        A wire stops against the shank only once it has passed the near edge of the hole, and there it
        holds by the engagement wanted.
        """
        return self.wanted[i] + self.lost(i) + self.mouths[i].witness / 2.0

    def cautions(self) -> tuple[str, ...]:
        """What keeps the shanks in the body, and how to see that they are deep enough."""
        seen = [bool(np.any(np.asarray(mouth.witness) > 0.0)) for mouth in self.mouths]
        said = ["Lock both jam nuts against the body and mark them with paint."]
        if any(seen):
            said.append("Check that a wire pushed into each witness hole stops against the shank.")
        if not all(seen):
            said.append(
                "Where there is no witness hole nothing shows how deep a shank sits: measure it before its nut "
                "is locked."
            )
        return tuple(said)

    def face(self, length: Any) -> Any:
        """Place of the face for end a on x [mm]."""
        return -np.asarray(length, float) / 2.0 + self.bare(0, length)

    def _shortest_for(self, i: int, deepest: Any) -> Any:
        """Length pin to pin at which the tip of end i is so deep [mm]."""
        slack = deepest - self.least_entry(i)
        return self.lengths.maximum + self.body - self.least_body - slack / self.share(i)

    def rules(self, assembled: Any) -> Iterator[Rule]:
        """Rules of lengths and engagement; `assembled` is the length at which the link is drawn [mm]."""
        low, middle, high = self.lengths.minimum, self.lengths.nominal, self.lengths.maximum
        at = "pin_to_pin"
        yield at_most(
            "link.long", f"{at}.maximum", high, LONGEST, "no link of a one-off vehicle is this long; it looks "
            "like the wrong unit", "check the unit of this value",
        )  # fmt: skip
        yield at_least(
            "link.short", f"{at}.minimum", low, SHORTEST, "a link this short is not meant; it looks like the "
            "wrong unit", "check the unit of this value",
        )  # fmt: skip
        yield at_least(
            "link.nominal_low", f"{at}.nominal", middle, low, "the usual length is below the shortest",
            "put it between minimum and maximum",
        )  # fmt: skip
        yield at_most(
            "link.nominal_high", f"{at}.nominal", middle, high, "the usual length is above the longest",
            "put it between minimum and maximum",
        )  # fmt: skip
        if assembled is not middle:  # the usual length has had its say
            yield at_least(
                "link.length_low", "length", assembled, low, "the link does not go so short",
                "assemble it between minimum and maximum",
            )  # fmt: skip
            yield at_most(
                "link.length_high", "length", assembled, high, "the link does not go so long",
                "assemble it between minimum and maximum",
            )  # fmt: skip
        yield from self._end_rules(0, "a")
        yield from self._end_rules(1, "b")
        room = self.body - TIP_GAP - self.least_entry(0) - self.least_entry(1)
        yield at_least(
            "link.tips", f"{at}.minimum", low, high + self.body - self.least_body - room,
            "the two ends would meet in the middle of the body", "make the shortest length longer, or "
            "choose ends with shorter shanks",
        )  # fmt: skip

    def _end_rules(self, i: int, name: str) -> Iterator[Rule]:
        end, mouth, lengths = self.ends[i], self.mouths[i], self.lengths
        thread, pitch = end.thread, end.thread.pitch
        yield at_least(
            "link.engagement", "engagement", self.wanted[i], LEAST_ENGAGEMENT * thread.major,
            f"{thread.designation} of end {name} needs one diameter of engagement (common practice, no source)",
            "engage more thread",
        )  # fmt: skip
        yield at_most(
            "link.reach", "pin_to_pin.maximum", lengths.maximum,
            lengths.maximum + self.body - self.least_body,
            f"beyond that end {name} holds by less than the {_mm(self.wanted[i])} that must engage (and "
            "uncovers its witness hole, where there is one)",
            "lengthen the body, shorten the longest length, or choose ends with longer shanks",
        )  # fmt: skip
        yield at_least(
            "link.thread", "engagement", mouth.depth - mouth.countersink, self.wanted[i],
            f"the tapped hole of end {name} holds less full thread than must engage", "tap it deeper",
        )  # fmt: skip
        yield at_least(
            "link.nut_room", "pin_to_pin.minimum", lengths.minimum,
            self._shortest_for(i, end.full_thread - end.nut.height - TIP_POINT * pitch),
            f"shorter than that the jam nut of end {name} has no thread left to sit on",
            "make the shortest length longer, narrow the range, or choose an end with more thread",
        )  # fmt: skip
        yield at_least(
            "link.bottom", "pin_to_pin.minimum", lengths.minimum, self._shortest_for(i, mouth.open_to),
            f"shorter than that the thread of end {name} bottoms in its hole",
            "make the shortest length longer, or the hole deeper",
        )  # fmt: skip

    def facts(self, assembled: Any) -> Mapping[str, tuple[Any, str]]:
        """Lengths, engagement and change per turn."""
        found: dict[str, tuple[Any, str]] = {"assembled, pin to pin": (assembled, "mm")}
        a, b = (end.thread.pitch for end in self.ends)
        if self.opposite:
            found["change in length per turn of the body"] = (self.per_turn, "mm")
        else:
            found["change in length per turn of the body in place"] = (self.per_turn, "mm")
            found["least step, half a turn of end a off its pin"] = (a / 2.0, "mm")
            found["least step, half a turn of end b off its pin"] = (b / 2.0, "mm")
        for i, name in ((0, "a"), (1, "b")):
            thread = self.ends[i].thread
            drill = thread.tap_drill().drill.name
            found[f"thread at end {name}"] = (f"{thread.designation}, tap drill {drill}", "")
            for word, length in (
                ("longest", self.lengths.maximum),
                ("shortest", self.lengths.minimum),
            ):
                found[f"engagement of end {name} at the {word}"] = (self.engaged(i, length), "mm")
            found[f"shank of end {name} in the body as assembled"] = (
                self.entry(i, assembled),
                "mm",
            )
            if np.any(np.asarray(self.mouths[i].witness) > 0.0):
                found[f"witness hole {name}, from the face to its middle"] = (
                    self.witness_at(i),
                    "mm",
                )
        return found


def _mm(value: Any) -> str:
    return f"{float(np.max(value)):.4g} mm"
