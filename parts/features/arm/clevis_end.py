"""A clevis at the end of an arm, its pin along the bar.

Axes of the feature: origin at the load point, the arm comes from -x, pin and bar lie on z. It has a flat back,
`set_back` behind its load point, which the arm runs into.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, ClassVar, Literal

from pydantic import Field

from parts.core.check import Check
from parts.core.clearances import Clearance
from parts.core.fatigue_places import Detail
from parts.core.feature import Answers, Modes
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule
from parts.core.ways import Kind
from parts.features.arm.tip import AtTip
from parts.features.fork.fork import Ears, InFork
from parts.features.fork.throat import RodEndThroat
from parts.strength.pinned.ball_friction import race_friction

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Marks
    from parts.core.loadpath import Span
    from parts.core.supports import Applied


class ClevisEnd(Group, Answers[AtTip]):
    """Two ears with the pin along the bar."""

    seen_from_its_end: ClassVar[bool] = False
    """Whether its end shows what no other view does."""

    type: Literal["clevis"] = Field("clevis", description="Two ears, their pin along the bar.")
    ears: Ears = Field(description="The ears, their throat and their pin.")

    @property
    def set_back(self) -> Any:
        """Load point to the flat back [mm]."""
        return self.ears.back

    @property
    def ahead(self) -> float:
        """Load point back to the face that the arm is measured to [mm]: none here."""
        return 0.0

    @property
    def rim(self) -> float:
        """Radius of a round end [mm]: none here."""
        return 0.0

    @property
    def rubbing(self) -> tuple[Any, float]:
        """Diameter [mm] on which the joint turns under load, and the friction there [-]."""
        throat, mu = self.ears.throat, race_friction("steel on steel")
        if isinstance(throat, RodEndThroat):
            return throat.rod_end.ball_diameter, mu
        return self.ears.pin.diameter, mu

    @property
    def width(self) -> Any:
        """Width of the back across the arm, y [mm]."""
        return self.ears.width

    @property
    def height(self) -> Any:
        """Height of the back along the bar, z [mm]."""
        return self.ears.height

    def in_fork(self, site: AtTip) -> InFork:
        """Where its ears stand."""
        return InFork(
            field=f"{site.field}.ears", metal=site.metal, edge_break=site.edge_break, backed=site.room,
            actions=site.actions, required=site.required, loads=site.loads,
        )  # fmt: skip

    def rules(self, site: AtTip) -> Iterator[Rule]:
        return self.ears.rules(self.in_fork(site))

    def spans(self, site: AtTip) -> Sequence[Span]:
        return self.ears.spans(self.in_fork(site))

    def facts(self, site: AtTip) -> Mapping[str, tuple[Any, str]]:
        return self.ears.facts(self.in_fork(site))

    def cautions(self, site: AtTip) -> Sequence[str]:
        return self.ears.cautions(self.in_fork(site))

    def bought(self, site: AtTip) -> Sequence[Bought]:
        return self.ears.bought(self.in_fork(site))

    def clearances(self, site: AtTip) -> Sequence[Clearance]:
        return self.ears.clearances(self.in_fork(site))

    def standing(self, site: AtTip) -> Iterator[Check]:
        return self.ears.standing(self.in_fork(site))

    def touching(self, site: AtTip) -> Mapping[str, str]:
        return self.ears.touching(self.in_fork(site))

    def details(self, site: AtTip, modes: Modes) -> Sequence[Detail]:
        return self.ears.details(self.in_fork(site), modes)

    def kinds(self, site: AtTip) -> list[Kind]:
        """What can fail of it."""
        return self.ears.kinds(self.in_fork(site))

    def modes(self, site: AtTip, case: LoadCase) -> Iterator[Check]:
        return self.ears.modes(self.in_fork(site), case)

    def applied(self, site: AtTip, case: LoadCase) -> Sequence[Applied]:
        return self.ears.applied(self.in_fork(site), case)

    def marks(self, site: AtTip) -> Marks:
        return self.ears.marks(self.in_fork(site))

    def solid(self, edge_break: float) -> cq.Workplane:
        """The end, pin hole and all."""
        return self.ears.solid(edge_break)

    def cut_from(self, body: cq.Workplane, edge_break: float, place: Any) -> cq.Workplane:
        """Cut what reaches into the arm: nothing, for the ears come bored."""
        return body
