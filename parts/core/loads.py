"""Load cases: forces and moments at named points of a part, how often they come, and the factors asked for."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, Generic, TypeVar

import numpy as np
from pydantic import Field, model_validator

from parts.core.group import Group
from parts.core.usual_loads import COMMON, Practice
from parts.inputs.quantities import ForceVector, MomentVector
from parts.strength.vectors import cross

Found = TypeVar("Found")
Of = TypeVar("Of")

DEFAULT_ON_YIELD = 1.5
DEFAULT_ON_ULTIMATE = 2.25
DEFAULT_ON_LIFE = 4.0
FACTORS_SOURCE = (
    "factor on yield 1.5: common practice, no source; on ultimate 2.25: the same times 1.5, the ratio of "
    "ultimate to limit load in 14 CFR 25.303; on life 4: common practice, no source"
)


class Required(Group):
    """The factors of safety asked for."""

    on_yield: float = Field(
        DEFAULT_ON_YIELD, ge=1.0, le=20.0, description="Required factor on yield."
    )
    on_ultimate: float = Field(
        DEFAULT_ON_ULTIMATE, ge=1.0, le=20.0, description="Required factor on ultimate strength."
    )
    on_life: float = Field(
        DEFAULT_ON_LIFE,
        ge=1.0,
        le=100.0,
        description="Required factor on life under a load spectrum.",
    )

    def both(self, yields: Any, ultimate: Any) -> tuple[tuple[str, Any, float], ...]:
        """What is asked of both strengths of a metal [MPa]: the name of each, itself, and its factor."""
        return ("yield", yields, self.on_yield), ("ultimate", ultimate, self.on_ultimate)


class Block(Group):
    """A block of cycles of a load case."""

    cycles: float = Field(
        gt=0.0, le=1e12, description="How often the load comes in the part's life."
    )
    share: float = Field(
        1.0, gt=0.0, le=1.0, description="Share of the case's load that it reaches."
    )


class PointLoad(Group):
    """A force and a moment at one named point, in the part's axes."""

    at: str = Field(description="Load point of the part, as `oneoff list` names them.")
    force: ForceVector = Field((0.0, 0.0, 0.0), description="Force along the part's x, y, z.")
    moment: MomentVector = Field((0.0, 0.0, 0.0), description="Moment about the part's x, y, z.")


def times(loads: Sequence[PointLoad], share: float) -> list[PointLoad]:
    """Loads times a number [-], below nothing turned round; those of many variants as well."""

    def scaled(vector: Any) -> Any:
        if isinstance(vector, np.ndarray):
            return vector * share
        return tuple(one * share for one in vector)

    return [
        PointLoad.model_construct(at=one.at, force=scaled(one.force), moment=scaled(one.moment))
        for one in loads
    ]


class LoadCase(Group):
    """What acts on the part at one moment."""

    name: str = Field(min_length=1, max_length=80, description="Name of the load case.")
    forces: list[PointLoad] = Field(
        default_factory=list,
        max_length=50,
        description="Forces and moments at named points of the part.",
    )
    practice: list[Practice] = Field(
        default_factory=list,
        max_length=20,
        description="Loads by common practice, added to the forces: a weight or a lever times a factor.",
    )
    spectrum: list[Block] = Field(
        default_factory=list,
        max_length=100,
        description="Blocks of cycles that the part bears; left out, the load is a rare peak.",
    )
    ratio: float = Field(
        0.0,
        ge=-1.0,
        lt=1.0,
        description="Least over greatest load in a cycle: 0 pulsating, -1 reversed.",
    )
    required: Required | None = Field(
        None, description="Required factors for this case; the part's own where left out."
    )

    @model_validator(mode="after")
    def _something_acts(self) -> LoadCase:
        found = [PointLoad.model_construct(at=one.at, force=one.force) for one in self.practice]
        # Read again, a case holds them among its forces already.
        self.__dict__["forces"] = [*self.forces, *(one for one in found if one not in self.forces)]
        if not any(any(load.force) or any(load.moment) for load in self.forces):
            raise ValueError(
                f"load case {self.name!r} applies nothing; give it a force or a moment"
            )
        return self

    @cached_property
    def least(self) -> float:
        """The least that the load comes to, as a share of it [-]."""
        return self.ratio * self._most

    @property
    def _most(self) -> float:
        """The largest share of it that comes again and again [-]; 1 of a rare peak."""
        return max((block.share for block in self.spectrum), default=1.0)

    @cached_property
    def turned(self) -> LoadCase | None:
        """The loads turned round, as large as a cycle takes them below nothing; None where none does.

        A part bears them as it bears the case itself: what pulls, pushes or lifts one way alone may fail the other.
        """
        if self.ratio >= 0.0:
            return None
        # Its blocks are shares of the loads that it holds itself.
        blocks = [one.model_copy(update={"share": one.share / self._most}) for one in self.spectrum]
        return self.model_copy(
            update={
                "name": f"{self.name}, turned round", "forces": times(self.forces, self.least), "practice": [],
                "ratio": max(1.0 / self.ratio, -1.0), "spectrum": blocks,
            }
        )  # fmt: skip

    def stated(self) -> dict[str, list[Any]]:
        """What the file states, by key: the loads of common practice are not among the forces here."""
        worked_out = [(one.at, tuple(one.force)) for one in self.practice]
        own = [one for one in self.forces if (one.at, tuple(one.force)) not in worked_out]
        return {"forces": own, "practice": list(self.practice)}


class ByOne(Generic[Of, Found]):
    """What is worked out of a thing that never changes, once for each."""

    def __init__(self, work: Callable[[Of], Found]) -> None:
        self._work = work
        self._known: dict[int, tuple[Of, Found]] = {}

    def __call__(self, of: Of) -> Found:
        known = self._known.get(id(of))
        # The thing is kept beside it: its number may be that of another one that is gone.
        if known is None or known[0] is not of:
            known = self._known[id(of)] = of, self._work(of)
        return known[1]


class ByCase(ByOne[LoadCase, Found]):
    """What is worked out of a load case, once for each: every cut along a load path asks for it again."""


def practices(cases: Sequence[LoadCase]) -> tuple[str, ...]:
    """What the cases take from common practice, a sentence for each."""
    return tuple(
        f"Load case {case.name!r} stands on {one.said}: {COMMON}. Who has measured loads states those."
        for case in cases
        for one in case.practice
    )


@dataclass(frozen=True)
class Action:
    """A force [N] and a moment [N*mm] at a place [mm], each of shape (..., 3), in the part's axes."""

    at: Any
    force: Any
    moment: Any = (0.0, 0.0, 0.0)


def point_actions(
    case: LoadCase, points: Mapping[str, Any], only: Sequence[str] | None = None
) -> tuple[Action, ...]:
    """The actions of a load case at the part's points.

    Args:
        case [-]: the load case.
        points [mm]: places of the part's load points, each of shape (..., 3).
        only [-]: names of the points to take; all where left out.

    Returns:
        [-] one action for each load whose point is taken.
    """
    return tuple(
        Action(points[load.at], np.asarray(load.force), np.asarray(load.moment))
        for load in case.forces
        if only is None or load.at in only
    )


def seen_from(actions: Sequence[Action], at: Any, turn: Any) -> list[Action]:
    """Actions in the axes of the part put into those of a feature.

    Args:
        actions [-]: what acts.
        at [mm]: the feature's origin in the part, shape (..., 3).
        turn [-]: rotation (..., 3, 3) whose columns are the feature's axes in those of the part.

    Returns:
        [-] the same actions.
    """
    back, origin = np.swapaxes(np.asarray(turn, float), -1, -2), np.asarray(at, float)

    def way(v: Any) -> Any:
        return (back @ np.asarray(v, float)[..., None])[..., 0]

    return [
        Action(way(np.asarray(one.at) - origin), way(one.force), way(one.moment)) for one in actions
    ]


def resultant(actions: Sequence[Action], about: Any) -> tuple[np.ndarray, np.ndarray]:
    """Sum actions to one force and one moment about a place.

    Args:
        actions [-]: what acts.
        about [mm]: place of shape (..., 3).

    Returns:
        [N, N*mm] force and moment, each of shape (..., 3).
    """
    force = np.zeros(3)
    moment = np.zeros(3)
    for action in actions:
        f = np.asarray(action.force, float)
        arm = np.asarray(action.at, float) - np.asarray(about, float)
        force = force + f
        moment = moment + np.asarray(action.moment, float) + cross(arm, f)
    return force, moment
