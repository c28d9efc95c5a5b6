"""The rod end in a throat: its rating; and the friction of ball or pin, which bends what the fork stands on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.cycles import turns_round
from parts.core.loads import Action, LoadCase, Required, resultant
from parts.features.fork.ears import EarPair
from parts.features.fork.throat import BladeThroat, RodEndThroat
from parts.strength.method import work
from parts.strength.pinned import ball_friction, rated_ball, rod_end

UNKNOWN = ball_friction.race_friction("steel on bronze")
"""Friction of a ball or pin where nothing is known of its liner [-]."""
PULSATING, TO_AND_FRO = 0.5, 0.25
"""Share of the static rating for a load that comes often, from nil or both ways [-]; common practice, no source."""


def often_modes(
    name: str, case: LoadCase, loads: Sequence[LoadCase], radial: Any, rating: Any
) -> Iterator[Check]:
    """The head of a rod end under a load that comes often, from nil or both ways; none for a rare peak.

    Args:
        name: of the rod end.
        case: the load case.
        loads: all of the part: what one pulls and another pushes goes both ways.
        radial: on the ball, across its pin [N].
        rating: static, radial [N].

    Returns:
        The check.
    """
    if case.spectrum:
        share = TO_AND_FRO if turns_round(case, loads) else PULSATING
        most = max(block.share for block in case.spectrum)
        yield check(
            f"{name}, to and fro", "rod end head in fatigue", load_case=case.name, unit="N", required=1.0,
            demand=most * radial, capacity=work(rod_end.reversing_capacity, C_0=rating, share=share),
            note="a share of its static rating for a load that comes often; its maker's fatigue rating governs where "
            "it is lower",
        )  # fmt: skip


def rating_modes(
    throat: RodEndThroat | BladeThroat,
    name: str,
    case: LoadCase,
    loads: Sequence[LoadCase],
    force: Any,
    required: Required,
) -> Iterator[Check]:
    """The static rating of the rod end in the throat, and its head under a load that comes often; none of a blade.

    Args:
        throat: what the throat takes.
        name: prefix of the check's name.
        case: the load case.
        loads: all of the part.
        force: on the pin, shape (..., 3), z along it [N].
        required: the factors asked for.

    Returns:
        The checks.
    """
    if not isinstance(throat, RodEndThroat):
        return
    of, radial = throat.rod_end, np.hypot(force[..., 0], force[..., 1])
    yield check(
        f"{name}, rod end in the throat", "rating", load_case=case.name, capacity=1.0, unit="-",
        demand=work(
            rated_ball.rated_use, F_r=radial, F_a=force[..., 2], C_0=of.static_radial(),
        ),
        required=required.on_yield,
        note=f"generic rating of {of.designation}, a body of low-carbon steel; a tenth of it along the pin. The "
        "maker's rating governs where it is lower",
    )  # fmt: skip
    yield from often_modes(
        f"{name}, rod end in the throat", case, loads, radial, of.static_radial()
    )


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
