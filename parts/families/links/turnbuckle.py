"""Heim-joint turnbuckle: a body with a thread at each end, and two rod ends with their jam nuts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

import numpy as np
from pydantic import BeforeValidator, Field

from parts.core.rules import Rule
from parts.families import OTHER_NAMES
from parts.families.links.adjustment import Mouth
from parts.families.links.link import LinkPart
from parts.families.links.rod_end import RodEndEnd
from parts.families.links.turn_forms import FlattedBody, HexBody, RoundBody
from parts.features.bolts.hardware import opposite_hands
from parts.features.thread.threaded import tapped_mouth

if TYPE_CHECKING:
    from parts.core.feature import Feature
    from parts.families.links.sites import BetweenEnds

    _bodies: tuple[type[Feature[BetweenEnds]], ...] = (HexBody, RoundBody, FlattedBody)

Body = Annotated[HexBody | RoundBody | FlattedBody, Field(discriminator="type")]


def _here(name: Any) -> Any:
    """The name that it has here, of one that some call it by."""
    return OTHER_NAMES.get(name, name) if isinstance(name, str) else name


class Turnbuckle(LinkPart):
    """A turnbuckle on rod ends."""

    summary: ClassVar[str] = (
        "hex, round or flatted body on two rod ends, its length set by turning it"
    )
    axes: ClassVar[str] = (
        "origin midway between the pins; x along the link, end a at -x and end b at +x; z along the pins; "
        "y square to both, the way that the first flat and the witness holes face"
    )
    load_points: ClassVar[Mapping[str, str]] = {"end a": "", "end b": "", "middle": ""}
    not_covered: ClassVar[tuple[str, ...]] = (
        "wear of balls and races",
        "impact beyond the stated load cases",
        "the clevises that the rod ends work in, and their bolts",
    )
    example: ClassVar[Mapping[str, Any]] = {
        "family": "heim-joint turnbuckle",
        "name": "turnbuckle",
        "title": "shift linkage turnbuckle",
        "material": "7075-T6",
        "form": "bar",
        "pin_to_pin": {"minimum": "138 mm", "nominal": "142 mm", "maximum": "146 mm"},
        "end_a": {"rod_end": "M10 male RH", "steel": "4130 Q&T 125 ksi"},
        "end_b": {"rod_end": "M10 male LH", "steel": "4130 Q&T 125 ksi"},
        "engagement": "12 mm",
        "body": {"type": "hex", "across_flats": "19 mm"},
        "loads": [
            {"name": "pull", "forces": [{"at": "end b", "force": ["3 kN", 0, 0]}]},
            {"name": "push", "forces": [{"at": "end b", "force": ["-2.5 kN", 0, 0]}]},
        ],
    }

    family: Annotated[Literal["heim-joint turnbuckle"], BeforeValidator(_here)] = Field(
        "heim-joint turnbuckle", description="A body on two rod ends, its length set by turning it."
    )
    end_a: RodEndEnd = Field(description="The rod end at -x.")
    end_b: RodEndEnd = Field(description="The rod end at +x.")
    body: Body = Field(description="The body between the rod ends.")

    def mouth(self, i: int, least: Any) -> Mouth:
        first = self._first_mouths[i]
        # Where the shank meets no wider relief, the thread goes on for it to the shortest length.
        deepest = self.adjusted(self._first_mouths).entry(i, self.pin_to_pin.minimum)
        clear = self.body.clears(i, self._threads)
        run_on = np.maximum(first.depth, deepest + self._threads[i].pitch)
        depth = self.body.tapped(np.where(clear, first.depth, run_on)[()])
        open_to = np.where(clear, 2.0 * self.pin_to_pin.maximum, depth)
        return first._replace(depth=depth, open_to=open_to)

    @cached_property
    def _first_mouths(self) -> tuple[Mouth, Mouth]:
        """The mouths as deep as the engagement at the longest asks."""
        witness = 0.0 if self.body.witness_hole is None else self.body.witness_hole

        def mouth(thread: Any, least: Any) -> Mouth:
            sink = tapped_mouth(thread, self.edge_break)
            depth = least + sink + 2.0 * thread.pitch + witness
            return Mouth(depth, depth, sink, witness)

        a, b = map(mouth, self._threads, self.wanted)
        return a, b

    @property
    def _threads(self) -> tuple[Any, Any]:
        return self.end_a.thread, self.end_b.thread

    def rules(self) -> Iterator[Rule]:
        a, b = self._threads
        if a.pitch == b.pitch:
            yield opposite_hands("end_b.rod_end", a, b)
        yield from super().rules()
