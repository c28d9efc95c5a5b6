"""The checks of every load case in one go: all cases as one whose loads are arrays, where the family takes those."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.check import Check
from parts.core.loads import LoadCase, PointLoad, Required
from parts.core.part import Part
from parts.core.service import warmed


@dataclass(frozen=True)
class AtOnce:
    """Checks whose demands and capacities are arrays over load cases, those turned round among them.

    What hangs on how often a load comes is not among them, nor what a family works out of one load alone. Where a
    method takes the worst of all that it is given, a check may use more here than under any case by itself.
    """

    cases: tuple[LoadCase, ...]
    checks: tuple[Check, ...]

    @property
    def worst(self) -> LoadCase | None:
        """The load case under which a check falls short by most; None where none does."""
        found = [(_uses(one, len(self.cases)), one) for one in self.checks]
        short = [use.max(initial=0.0) for use, one in found if not np.all(one.ok)]
        if not short:
            return None
        use = next(use for use, one in found if use.max() == max(short) and not np.all(one.ok))
        return self.cases[int(use.argmax())]


def _uses(one: Check, count: int) -> np.ndarray:
    """How much of its allowable a check uses under each case [-]; infinite where that is no number."""
    use = np.broadcast_to(np.asarray(one.use, float), count)
    return np.where(np.isnan(use), np.inf, use)


def at_once(part: Part) -> AtOnce | None:
    """What `modes` of a part gives under all its load cases together.

    Args:
        part: the part; its numbers are single values.

    Returns:
        The checks; None of a part with less than two cases, and of one whose family does not take loads as arrays.
    """
    cases = [one for case in part.loads for one in (case, case.turned) if one is not None]
    if len(cases) < 2:
        return None
    factors = [part.factors(one) for one in cases]
    required: dict[str, Any] = {
        k: np.array([getattr(one, k) for one in factors]) for k in Required.model_fields
    }
    every = LoadCase.model_construct(
        name="every load case", forces=_joined(cases), practice=[], spectrum=[], ratio=0.0,
        required=Required.model_construct(**required),
    )  # fmt: skip
    try:
        with np.errstate(all="ignore"):
            return AtOnce(tuple(cases), tuple(warmed(part, part.modes(every))))
    except (ValueError, TypeError, LookupError):
        return None


def _joined(cases: Sequence[LoadCase]) -> list[PointLoad]:
    """The loads of several cases, each vector of shape (cases, 3): nil where a case has none at that point."""
    found: dict[tuple[str, int], tuple[Any, Any]] = {}
    for k, case in enumerate(cases):
        times: dict[str, int] = {}
        for load in case.forces:
            time = times[load.at] = times.get(load.at, 0) + 1
            nil = np.zeros((2, len(cases), 3))
            force, moment = found.setdefault((load.at, time), (nil[0], nil[1]))
            force[k], moment[k] = load.force, load.moment
    return [
        PointLoad.model_construct(at=at, force=force, moment=moment)
        for (at, _), (force, moment) in found.items()
    ]
