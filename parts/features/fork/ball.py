"""The rod end in a throat: its rating; and the friction of ball or pin, which bends what the fork stands on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import Action, Required, resultant
from parts.features.fork.ears import EarPair
from parts.features.fork.throat import BladeThroat, RodEndThroat
from parts.strength.method import work
from parts.strength.pinned import ball_friction, rated_ball

UNKNOWN = ball_friction.race_friction("steel on bronze")
"""Friction of a ball or pin where nothing is known of its liner [-]."""


def rating_modes(
    throat: RodEndThroat | BladeThroat, name: str, case: str, force: Any, required: Required
) -> Iterator[Check]:
    """The static rating of the rod end in the throat; none of a blade.

    Args:
        throat: what the throat takes.
        name: prefix of the check's name.
        case: name of the load case.
        force: on the pin, shape (..., 3), z along it [N].
        required: the factors asked for.

    Returns:
        The check.
    """
    if not isinstance(throat, RodEndThroat):
        return
    of = throat.rod_end
    yield check(
        f"{name}, rod end in the throat", "rating", load_case=case, capacity=1.0, unit="-",
        demand=work(
            rated_ball.rated_use, F_r=np.hypot(force[..., 0], force[..., 1]), F_a=force[..., 2],
            C_0=of.static_radial(),
        ),
        required=required.on_yield,
        note=f"generic rating of {of.designation}, a body of low-carbon steel; a tenth of it along the pin. The "
        "maker's rating governs where it is lower",
    )  # fmt: skip


def friction_actions(ears: EarPair, friction: Any, actions: Sequence[Action]) -> Sequence[Action]:
    """What the ball in its race, or the pin in its blade, does to the fork by its friction as it swings under the load.

    A ball's moment turns the way in which the load across the shank bends it most, about the pin where there is none;
    a pin's turns about the pin.

    Args:
        ears: the ears.
        friction: of ball or pin [-].
        actions: what acts at the pin.

    Returns:
        One action, a moment.
    """
    force, _ = resultant(actions, np.zeros(3))
    y, z = force[..., 1], force[..., 2]
    if isinstance(ears.throat, RodEndThroat):
        pressed, diameter = np.linalg.norm(force, axis=-1), ears.throat.rod_end.ball_diameter
        across = np.hypot(y, z)
    else:
        pressed, diameter = np.hypot(force[..., 0], y), ears.pin.diameter
        across = 0.0 * y
    size = ball_friction.friction_moment(pressed, diameter, friction)
    some = np.where(across > 0.0, across, 1.0)
    way = np.stack(
        np.broadcast_arrays(0.0, np.where(across > 0.0, -z, 0.0) / some, np.where(across > 0.0, y / some, 1.0)),
        axis=-1,
    )  # fmt: skip
    return (Action(np.zeros(3), np.zeros(3), np.asarray(size)[..., None] * way),)
