"""Where the ends and the body of a link stand, and what they bear there under a load case."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple, Protocol

from parts.core.feature import Actions, Site
from parts.core.loads import Action, LoadCase
from parts.families.links.adjustment import Adjustment
from parts.families.links.statics import EndForce
from parts.features.weld.tube_weld import Bears
from parts.standards.materials.materials import Material
from parts.strength.method import Worked


class Beyond(Protocol):
    """What acts on the +x side of a section, for a load case and a half of the link (-1 or +1)."""

    def __call__(self, case: LoadCase, side: float) -> Sequence[Action]: ...


class EndLoad(NamedTuple):
    """What an end bears, at whichever length of the link it is most.

    `bent` is the largest moment in its shank, where it enters the body and as if its jam nut were loose; `rubs` the
    part of it that friction makes, which changes its sign with every swing [N*mm]. `twist` is the torque along the
    link [N*mm].
    """

    force: EndForce
    bent: Worked
    rubs: Worked
    twist: Any


@dataclass(frozen=True, kw_only=True)
class AtEnd(Site):
    """An end of a link: which, the link at every length, and what it screws into.

    `male` is what its shank is made of, `female` the body round it, softened where a weld is near; `face` the least
    width of the body's face [mm]. `pins` is what its pin does, in its own axes; with what bends the end beside, as a
    load off its axis and friction, that is `actions`, and `reversing` the part that changes its sign with every
    swing.
    """

    i: int
    link: Adjustment
    male: Material
    female: Callable[[], Material]
    face: Any
    load: Callable[[LoadCase], EndLoad]
    pins: Actions
    reversing: Actions


@dataclass(frozen=True, kw_only=True)
class BetweenEnds(Site):
    """The body of a link: both ends, where its face for end a lies on x [mm], and what acts along it.

    `reversing` is the part of `beyond` that changes its sign with every swing; `bears` what the body bears under a
    load case at a distance [mm] from its face for an end, up to its middle. `middle` is what acts at its middle, and
    `at_end` what its end does to it; `pushed` the push [N] along it and the largest stress [MPa] that it makes with all
    that bends it. `eccentricity` is how far the load may stand off the axis at both ends [mm].
    """

    link: Adjustment
    ends: tuple[AtEnd, AtEnd]
    start: Any
    beyond: Beyond
    reversing: Beyond
    bears: Callable[[LoadCase, int, Any], Bears]
    middle: Callable[[LoadCase], Action]
    at_end: Callable[[LoadCase, int], Sequence[Action]]
    pushed: Callable[[LoadCase], tuple[Any, Worked]]
    eccentricity: Any
