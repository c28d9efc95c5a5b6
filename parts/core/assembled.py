"""A part whose features answer for it: the family says what it is made of and where each feature stands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from parts.core.check import Check
from parts.core.clearances import Clearance
from parts.core.fatigue_places import Detail
from parts.core.feature import Feature
from parts.core.freebody import Acting
from parts.core.loads import LoadCase
from parts.core.part import Bought, Part
from parts.core.ways import Kind

if TYPE_CHECKING:
    from parts.core.drawing import Marks
    from parts.core.loadpath import Span


class Placed(NamedTuple):
    """A feature and its site."""

    feature: Feature[Any]
    site: Any


class Assembled(Part):
    """A part that asks its features. A family overrides an answer to add what is its own, and begins with `super()`.

    Spans of a feature come in its own axes; a family whose features stand elsewhere than at the origin places them.
    """

    def features(self) -> Sequence[Placed]:
        """The features that it is made of, each where it stands."""
        raise NotImplementedError

    def once(self) -> Sequence[Placed]:
        """The features whose facts, hardware, cautions, marks and standing checks count: of identical pieces only the
        first."""
        return self.features()

    def spans(self) -> Sequence[Span]:
        return [span for one in self.features() for span in one.feature.spans(one.site)]

    def kinds(self) -> Sequence[Kind]:
        return [kind for one in self.features() for kind in one.feature.kinds(one.site)]

    def modes(self, case: LoadCase) -> Iterator[Check]:
        for one in self.features():
            yield from one.feature.modes(one.site, case)

    def standing(self) -> Iterator[Check]:
        for one in self.once():
            yield from one.feature.standing(one.site)

    def details(self) -> Sequence[Detail]:
        modes = self.checks_under
        return [spot for one in self.features() for spot in one.feature.details(one.site, modes)]

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        return [held for one in self.features() for held in one.feature.holding(one.site, case)]

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        return {k: v for one in self.once() for k, v in one.feature.facts(one.site).items()}

    def clearances(self) -> Sequence[Clearance]:
        return [found for one in self.once() for found in one.feature.clearances(one.site)]

    def bought(self) -> Sequence[Bought]:
        return [item for one in self.once() for item in one.feature.bought(one.site)]

    def touching(self) -> Mapping[str, str]:
        """The galvanic surface of what touches it, by name."""
        return {k: v for one in self.once() for k, v in one.feature.touching(one.site).items()}

    def cautions(self) -> Sequence[str]:
        return [said for one in self.once() for said in one.feature.cautions(one.site)]

    def marks(self) -> Marks:
        """What a drawing says of its features, each in its own axes."""
        from parts.core.drawing import Marks

        return sum((one.feature.marks(one.site) for one in self.once()), Marks())
