"""What each of two ears bears of what acts at their pin."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from parts.core.loads import Action, resultant
from parts.strength.pinned.ear import load_share


def ear_actions(actions: Sequence[Action], middle: Any, off: Any = 0.0) -> Sequence[Action]:
    """The share of one ear, taken at +z, in what acts at the pin: the greater of both ears' in every part.

    The ears share the force across the pin as two supports of a beam; with its side play to one side, what
    sits in the throat loads the nearer one more. Each takes half a moment about the pin, and the force that a
    couple about x or y adds; a force along the pin leans on one ear alone, since nothing ties the ears together
    at their ends.

    Args:
        actions: what acts on the pin.
        middle: distance of the ear's middle from the middle of the throat [mm].
        off: how far what sits in the throat may stand off its middle [mm].

    Returns:
        One action at the middle of the ear.
    """
    force, moment = resultant(actions, (0.0, 0.0, 0.0))
    middle = np.asarray(middle, float)
    away = np.asarray(off, float)
    nearer = load_share(1.0, middle - away, middle + away)
    part = np.stack(np.broadcast_arrays(nearer, nearer, 0.5), axis=-1)
    share = force * part + np.stack(
        np.broadcast_arrays(
            _with_sign(moment[..., 1] / (2.0 * middle), force[..., 0]),
            _with_sign(moment[..., 0] / (2.0 * middle), force[..., 1]),
            np.abs(force[..., 2]) - force[..., 2] / 2.0,
        ),
        axis=-1,
    )
    about_pin = moment * np.array([0.0, 0.0, 0.5])
    zero = np.zeros_like(middle)
    return (Action(np.stack([zero, zero, middle], axis=-1), share, about_pin),)


def _with_sign(size: Any, sign_of: Any) -> Any:
    return np.abs(size) * np.where(np.asarray(sign_of) < 0.0, -1.0, 1.0)
