"""A clevis under a push: how near its shank is to leaning over, and what that adds to all that bends it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.loadpath import Span
from parts.core.loads import Action, Required, resultant
from parts.features.fork.stability import FAR_PIVOT
from parts.strength.columns import column, sway
from parts.strength.method import plain, work
from parts.strength.section.properties import properties

ENDS = (0.0, 1.0)


@dataclass(frozen=True)
class Leaning:
    """Body and shank behind the pin as a cantilever column that the pin pushes.

    Each stretch is as weak all along as it is at its weaker end. What pushes pivots some lengths beyond the pin, and
    leans with it.

    Attributes:
        stretches: body and shank, from the throat to what holds them; their axis is x, the pin at 0.
        yields: least yield strength of what they are made of [MPa].
    """

    stretches: Sequence[Span]
    yields: Any

    @cached_property
    def _weakest(self) -> tuple[Any, Any, Any]:
        """Sum of lever times length over bending stiffness [1/N], least second moment [mm^4], least area [mm^2]."""
        gives, inertia, area = 0.0, np.inf, np.inf
        for one in self.stretches:
            near, far = (np.abs(np.asarray(at, float)[..., 0]) for at in (one.start, one.end))
            here = [properties(one.outline(np.asarray(t))) for t in ENDS]
            least = np.minimum(*(section.I2 for section in here))
            gives = gives + np.abs(np.square(far) - np.square(near)) / 2.0 / (
                one.material.E * least
            )
            inertia = np.minimum(inertia, least)
            area = np.minimum(area, np.minimum(*(section.area for section in here)))
        return (1.0 + 1.0 / FAR_PIVOT) * sway.FLOOR * gives, inertia, area

    def _share(self, push: Any) -> Any:
        return plain(work(sway.leaning_use, u=push * self._weakest[0]))

    def more(self, actions: Sequence[Action], n: float) -> Action:
        """What a push, `n` times as large, adds to the moments across the shank where it is held [N*mm]."""
        held = self.stretches[-1].start
        force, moment = resultant(actions, np.asarray(held, float))
        push = np.maximum(-force[..., 0], 0.0)
        bent = moment * np.array([0.0, 1.0, 1.0])
        share = self._share(push)
        grown = plain(column.grown_moment(1.0, share, column.borne_before(share, 1.0, n))) - 1.0
        return Action(np.zeros(3), np.zeros(3), np.asarray(grown)[..., None] * bent)

    def check(self, push: Any, case: str, required: Required) -> Check:
        """The push against what buckles body and shank."""
        gives, inertia, area = self._weakest
        E = self.stretches[0].material.E
        return check(
            "shank, leans under its push", "buckling", load_case=case, demand=push, unit="N",
            required=required.on_ultimate,
            capacity=work(
                column.johnson_euler_load, E=E, A=area, I_min=inertia, L=np.pi * np.sqrt(E * inertia * gives),
                F_cy=self.yields,
            ),
            note="body and shank as a cantilever, on the length of a column of the least section that buckles alike: "
            f"each stretch alone taken to give, a lower bound; what pushes pivots {FAR_PIVOT:g} lengths beyond the "
            "pin; tensile yield for the compressive",
        )  # fmt: skip
