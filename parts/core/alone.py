"""A feature by itself, for a script of one's own: its checks, without a part around it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Generic, TypeVar

import numpy as np

from parts.core.check import Check
from parts.core.feature import Actions, Site
from parts.core.loads import Action, LoadCase, PointLoad, point_actions
from parts.core.refusing import BrokenRules
from parts.core.rules import broken

if TYPE_CHECKING:
    from parts.core.feature import Feature

S = TypeVar("S", bound=Site)
HERE = "here"


def acting_at(place: Any) -> Actions:
    """What the load of a lone feature does, at a place in its axes [mm]."""

    def acting(case: LoadCase) -> Sequence[Action]:
        return point_actions(case, {HERE: np.asarray(place, float)})

    return acting


@dataclass(frozen=True)
class Alone(Generic[S]):
    """A feature at a site of its own; lengths in mm.

    Raises:
        BrokenRules: it cannot be built, or should not be.
    """

    feature: Feature[S]
    site: S

    def __post_init__(self) -> None:
        if wrong := broken(self.feature.rules(self.site)):
            raise BrokenRules(wrong)

    def checks(
        self, force: Sequence[float], moment: Sequence[float] = (0.0, 0.0, 0.0)
    ) -> tuple[Check, ...]:
        """What can fail of it under a load, and by its press alone.

        Args:
            force: along x, y, z of its axes [N].
            moment: about x, y, z [N*mm].

        Returns:
            The checks that a part with this feature would show; those of the body around it are the caller's.
        """
        (fx, fy, fz), (mx, my, mz) = map(float, force), map(float, moment)
        load = PointLoad(at=HERE, force=(fx, fy, fz), moment=(mx, my, mz))
        case = LoadCase(name="load", forces=[load])
        return (*self.feature.modes(self.site, case), *self.feature.standing(self.site))
