"""Ball bearings of a pivot, and the groove of a circlip that keeps them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import Required
from parts.core.rules import Rule, at_most
from parts.features.press.fit import RING_CLASS
from parts.features.press.pressed import Pressed
from parts.standards.bearings.bearings import BallBearing
from parts.standards.fasteners.circlips import Circlip
from parts.standards.materials.materials import Material, material
from parts.strength.bearings import axial
from parts.strength.bearings import ball_bearing as ball
from parts.strength.bearings import moment as tilted
from parts.strength.method import work

RING = "4130 Q&T 125 ksi"
"""Steel that stands for that of a bearing's ring, which is stronger and as stiff."""
DRAG = 500.0
"""Torque about its shaft that a bearing's seals and grease drag along [N*mm]; common practice, no source."""


def turning_rules(twists: Sequence[Any], axis: str) -> Iterator[Rule]:
    """No load case may turn what is free to turn: moments about its axis, one for each case [N*mm], and its name."""
    if twists:
        most = np.max(np.stack(np.broadcast_arrays(*map(np.abs, twists))), axis=0)
        yield at_most(
            "pivot.turned", "loads", most, DRAG, "what stands here turns freely: nothing holds a moment about its axis",
            f"leave the moment about {axis} out, or let what stops it take it", unit="N*mm",
        )  # fmt: skip


def bearing_modes(
    name: str,
    part: Any,
    count: int,
    spread: Any,
    force: Any,
    moment: Any,
    case: str,
    required: Required,
) -> Iterator[Check]:
    """Static load of the worst of one or two ball bearings.

    `force` and `moment` act at the middle of the pair; two bearings `spread` apart share the force, and a couple loads
    one more than the other. A single one bears the moment within itself.
    """
    radial, along = np.hypot(force[..., 0], force[..., 1]) / count, np.abs(force[..., 2])
    M = np.hypot(moment[..., 0], moment[..., 1])
    if count == 2:
        load = work(ball.static_equivalent, F_r=radial + M / spread, F_a=along)
    else:
        pitch = work(ball.generic_pitch, d=part.bore, D=part.outside)
        load = work(tilted.static_equivalent, F_r=radial, F_a=along, M=M, D_pw=pitch)
    rating = work(ball.generic_static_rating, d=part.bore, D=part.outside)
    yield check(
        f"{name} bearing, static load", "bearing rating", load_case=case, demand=load,
        capacity=rating, unit="N",
        required=1.0,
        note="generic rating: the maker's governs; S_0 of 1 is asked of a bearing that swings (ISO 76)",
    )  # fmt: skip


def groove_modes(
    name: str,
    metal: Material,
    clip: Circlip,
    of: BallBearing,
    thrust: Any,
    case: str,
    required: Required,
) -> Iterator[Check]:
    """A circlip under the thrust of a bearing: the groove's wall yields, the land beyond it shears, the bearing's round
    corner turns the ring out."""
    shallow = clip.groove_limits()[0]
    d_g = shallow.min if clip.side == "bore" else shallow.max
    yield check(
        f"{name} circlip groove, yield", "circlip groove", load_case=case, demand=thrust,
        capacity=work(
            axial.groove_load, d=clip.nominal, d_g=d_g, R=metal.yield_strength, n=clip.edge_margin
        ),
        unit="N", required=required.on_yield,
    )  # fmt: skip
    yield check(
        f"{name} circlip, turned out of its groove", "circlip", load_case=case, demand=thrust, unit="N",
        capacity=work(
            axial.ring_load, s=clip.thickness, g=of.abutment().chamfer_radial_max, k=axial.DISHED[clip.side]
        ),
        required=required.on_yield, note="the largest chamfer of the bearing's ring; no washer between",
    )  # fmt: skip
    yield check(
        f"{name} circlip groove, land sheared off", "circlip groove", load_case=case, demand=thrust,
        capacity=work(axial.land_shear_load, d_g=d_g, n=clip.edge_margin, tau=metal.shear_ultimate),
        unit="N", required=required.on_ultimate,
    )  # fmt: skip


def ring_in(
    name: str, of: BallBearing, count: int, wall: Any, metal: Material, seat: str
) -> Pressed:
    """The outer rings of ball bearings in a seat.

    Args:
        name: what they are called.
        of: the bearing.
        count: how many sit side by side.
        wall: least metal beside the seat [mm].
        metal: what the seat is in.
        seat: ISO 286 class of the seat.

    Returns:
        The press, its ring as thick as a generic one.
    """
    race = ball.generic_pitch(of.bore, of.outside) + ball.generic_ball(of.bore, of.outside)
    return Pressed(
        name, of.outside, race, wall, count * of.width, metal, material(RING), f"{seat}/{RING_CLASS}"
    )  # fmt: skip
