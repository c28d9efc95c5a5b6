"""Free bodies: what acts on a part or a vehicle's member, and whether it balances.

A part at rest, or one whose own mass is left out, is in balance when its forces and their moments sum to nothing. Loads
that do not balance were found wrongly, so every load that this package hands on is tested for balance.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

from parts.core.loads import Action, resultant

TOLERANCE = 1e-6
"""Share of the largest force, or of the largest moment, that may be left over [-]."""

SHORT, LONG = 1.0, 1000.0
"""Arms [mm] by which a force is compared with moments at the least, and a couple with forces."""


@dataclass(frozen=True)
class Acting(Action):
    """A force and a moment at a place of a body, with the name of what exerts it.

    Attributes:
        at: place [mm], shape (..., 3).
        force: [N], shape (..., 3).
        moment: beside that of the force [N*mm], shape (..., 3).
        by: what exerts it, as "ground" or "link".
    """

    by: str = ""


class Balance(NamedTuple):
    """What is left when all that acts on a body is summed.

    Attributes:
        body: name of the body.
        acting: what acts on it.
        about: place of the moments [mm], the middle of the places of all forces.
        force: left over [N], shape (..., 3).
        moment: left over [N*mm], shape (..., 3).
        share: the larger of both, each over the largest of its kind [-].
    """

    body: str
    acting: tuple[Acting, ...]
    about: Any
    force: Any
    moment: Any
    share: Any

    @property
    def ok(self) -> bool:
        """True where no more than `TOLERANCE` is left over, at every position."""
        return bool(np.all(np.asarray(self.share) <= TOLERANCE))

    @property
    def error(self) -> str:
        """What does not balance, in a sentence; empty where all does."""
        if self.ok:
            return ""
        share = np.asarray(self.share, float)
        worst = np.unravel_index(
            int(np.argmax(np.where(np.isnan(share), np.inf, share))), share.shape
        )
        left, turn = (
            np.broadcast_to(v, (*share.shape, 3))[worst] for v in (self.force, self.moment)
        )
        return (
            f"{self.body} is out of balance: {np.linalg.norm(left):.4g} N and {np.linalg.norm(turn):.4g} "
            f"N*mm are left over, {share[worst]:.2g} of the largest; a force on it is missing or wrong"
        )


def balance(body: str, acting: Sequence[Acting]) -> Balance:
    """Sum what acts on a body.

    Args:
        body: its name.
        acting: forces [N] and moments [N*mm] at places [mm]; arrays of shape (..., 3) broadcast.

    Returns:
        what is left over, in absolute terms and as a share of the largest.

    Raises:
        ValueError: nothing acts on it.
    """
    if not acting:
        raise ValueError(f"{body}: nothing acts on it; give the forces and where they act")
    places = [np.asarray(each.at, float) for each in acting]
    about = sum(places[1:], places[0]) / len(places)
    force, moment = resultant(acting, about)
    reach = _largest([place - about for place in places])
    pull = _largest([np.asarray(each.force, float) for each in acting])
    turn = np.maximum(_largest([np.asarray(each.moment, float) for each in acting]), pull * reach)
    # Where all forces meet in one place, or nothing but couples act, rounding is all there is to compare with.
    share = np.maximum(
        _over(_size(force), np.maximum(pull, turn / LONG)),
        _over(_size(moment), np.maximum(turn, pull * SHORT)),
    )
    return Balance(body, tuple(acting), about, force, moment, share)


class OutOfBalance(ValueError):
    """What acts on a part does not balance: a load is lost within the check."""


def reacting(by: str, at: Any, carried: tuple[Any, Any]) -> Acting:
    """What holds a part at a place, from the force [N] and the moment [N*mm] that it brings there.

    Args:
        by: what holds it.
        at: the place [mm], shape (..., 3).
        carried: force and moment about the place.

    Returns:
        The equal and opposite.
    """
    force, moment = carried
    return Acting(np.asarray(at, float), -np.asarray(force), -np.asarray(moment), by)


def _size(vector: Any) -> np.ndarray:
    return np.asarray(np.linalg.norm(vector, axis=-1))


def _largest(vectors: Sequence[np.ndarray]) -> np.ndarray:
    """The largest length among the vectors, position by position."""
    sizes = np.broadcast_arrays(*map(_size, vectors))
    return np.asarray(np.max(sizes, axis=0))


def _over(left: Any, largest: Any) -> np.ndarray:
    """What is left over the largest [-]: nil where nothing is left, infinite where nothing acts."""
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.where(np.asarray(left) == 0.0, 0.0, np.divide(left, largest))
