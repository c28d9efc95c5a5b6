"""Where something stands on a plate, and what its plate says of it there."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.feature import Site
from parts.core.loads import LoadCase
from parts.features.plate.fixture import Fixture, Turn
from parts.features.plate.plate import Plate

if TYPE_CHECKING:
    from parts.core.supports import Applied, Patch, Round

Felt = Callable[[LoadCase], tuple[Any, Any]]
"""Force [N] and moment [N*mm] at a place under a load case, each (..., 3), as on the right-hand bracket."""


Places = Callable[[], Sequence[tuple[Any, Any]]]
"""Place and radius of the pad of the other points of a plate [mm]."""


def _alone() -> Sequence[tuple[Any, Any]]:
    return ()


def _nothing(_: LoadCase) -> tuple[Any, Any]:
    return np.zeros(3), np.zeros(3)


@dataclass(frozen=True, kw_only=True)
class OnPlate(Site):
    """A peg, a pivot, a post, a cylinder or a mount on a plate.

    Marks and fixtures are in the axes of the plate, z toward the foot.

    Attributes:
        plate: the plate.
        sign: +1 on the right-hand bracket, -1 on the left-hand one.
        point: its load point; empty of a mount, which every load reaches.
        felt: at its root; what a mount feels of the plate.
        bending: at the middle of the plate below it.
        reach: from it to the foot of the peg [mm].
        runs: whether it runs along its slot, because other mounts hold the plate.
        middle: of all points of the bracket [mm]; away from it a drawing has room.
        others: the other points of the plate.
        far: what a bolt goes through to its nut besides what is stated of it, as a second plate [mm].
    """

    plate: Plate
    sign: float = 1.0
    point: str = ""
    felt: Felt = _nothing
    bending: Felt = _nothing
    reach: Any = np.nan
    runs: bool = False
    middle: Any = (0.0, 0.0)
    others: Places = _alone
    far: Any = 0.0

    def pad(self, fixture: Fixture) -> Any:
        """Radius of the pad of what stands there [mm]: no web is wider."""
        return np.maximum(fixture.pad, self.plate.web / 2.0 + 0.5)

    def pressed(
        self, patch: Patch | Sequence[Patch], case: LoadCase, covers: Any = 0.0
    ) -> tuple[Applied, ...]:
        """What acts on it, on its patches in the axes of the part; what stands there covers so much about them [mm]."""
        from parts.core.supports import Applied

        patches = tuple(patch) if isinstance(patch, Sequence) else (patch,)
        return (Applied(self.name, patches, tuple(self.actions(case)), covers=float(covers)),)

    def round_patch(self, fixture: Fixture, step: Turn, foot: Any = 0.0) -> Round:
        """The round wall of a step, from over the fillet at its foot [mm]."""
        from parts.core.supports import Round

        centre, axis = np.array([*fixture.place, 0.0]), (0.0, 0.0, self.sign)
        low = float(step.low) + float(foot)
        return Round(centre, axis, float(step.diameter), low, float(step.high))

    def twists(self) -> Sequence[Any]:
        """Moment about its axis in each load case [N*mm]."""
        return [self.felt(case)[1][..., 2] for case in self.loads]

    def loaded(self, case: LoadCase) -> bool:
        """Whether a load case reaches it."""
        return not self.point or any(load.at == self.point for load in case.forces)


def mirrored(sign: float, force: Any, moment: Any) -> tuple[Any, Any]:
    """Force and moment on a bracket as the right-hand one would feel them, and back again."""
    turn = np.array([1.0, 1.0, sign])
    return np.asarray(force) * turn, np.asarray(moment) * turn * sign


def place_of(sign: float, at: Any, z: Any) -> np.ndarray:
    """A place in the part's axes from a point of the plate and a height toward the foot [mm]."""
    flat = np.broadcast_arrays(*(np.asarray(v, float) for v in (at[0], at[1], sign * z)))
    return np.stack(flat, axis=-1)


def along_z(height: Any) -> Any:
    """A vector along z [mm]."""
    zero = np.zeros_like(np.asarray(height, float))
    return np.stack([zero, zero, np.asarray(height, float)], axis=-1)
