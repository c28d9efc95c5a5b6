"""The load cases that a rear end gives by itself: through its travel, and of its damper."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import cast

import numpy as np

from parts.core.freebody import Acting, balance
from parts.inputs.document import dotted
from parts.vehicle.file.case_entries import SpectrumEntry
from parts.vehicle.file.rear_entries import DamperLoadEntry
from parts.vehicle.loads import vehicle_cases
from parts.vehicle.loads.build_case import STATED, BuildCase, CaseError
from parts.vehicle.loads.statics import FRAME, Held
from parts.vehicle.loads.swung import Load, Loads, standing, stop_on_arm
from parts.vehicle.loads.vehicle_cases import Factor
from parts.vehicle.loads.worst_setting import NOTHING, worst_for_stop
from parts.vehicle.rear_end.damper import damping_force
from parts.vehicle.rear_end.linkage import UP
from parts.vehicle.rear_end.rear import AT_REST, SWING_ARM, WHEEL, Rear
from parts.vehicle.rear_end.suspension import Response

FULL_BUMP = "rear wheel at full bump"
CLOSE = 0.005
"""How far a stated ratio of loads may lie above the solved one [-]: rounding of what was read off the page."""


def rear_cases(
    rear: Rear,
    points: Mapping[str, np.ndarray],
    within: Mapping[str, float] = NOTHING,
    riding: Sequence[str] = (),
) -> Iterator[BuildCase]:
    """The load cases of the rear end: at full droop, at rest with the rider, and at full bump.

    At rest the load is the rider's and the link stands as drawn; at both ends of the travel it is the worst over
    the range of the link and the tolerance of the hardpoints. So it is where the link pulls hardest, if that is at
    neither end. At full bump the stop's own hardpoints are where it bears most.

    Args:
        rear: the rear end.
        points: places of the hardpoints [mm].
        within: tolerance of the stops' hardpoints [mm], those without fault left out.
        riding: hardpoints that move with the swing arm.

    Raises:
        CaseError: the stated ratio of the bumps makes their range smaller than it is.
    """
    positions = dict(rear.positions)
    pull = np.abs(np.asarray(rear.whole.link_force))
    if 0 < (most := int(np.argmax(pull))) < len(pull) - 1:
        travel = float(np.asarray(rear.whole.motion.travel)[most])
        positions[f"rear wheel at {travel:.0f} mm, link pulls hardest"] = travel
    for name, travel in positions.items():
        now, said = (rear.at(travel), "link as drawn") if name == AT_REST else rear.worst(travel)
        bump, force, note = name == FULL_BUMP, float(now.wheel_force), ""
        if bump and rear.vehicle is not None:
            strike = vehicle_cases.at_full_bump(rear.vehicle, rear.entry.strike, force)
            note = strike.note
            if stop_on_arm(rear):
                force = float(np.linalg.norm(next(iter(strike.forces.values()))))
        wheel = Load(rear.entry.axle, force * np.asarray(UP), np.zeros(3), WHEEL)
        loads = cast(Loads, lambda _, wheel=wheel: (wheel,))
        off = worst_for_stop(rear, travel, loads, points, within) if bump else {}
        one = standing(rear, now, loads, {**points, **off}, riding)
        yield BuildCase(
            name, one.points, one.held, one.balances, "F = i T, N = T / h",
            _stands_on(rear, now, travel, said), one.note or note, bumps_of(rear) if bump else None,
        )  # fmt: skip


def bumps_of(rear: Rear) -> SpectrumEntry | None:
    """How often bumps come, with the least over the greatest load of the link from the solved droop and bump.

    Raises:
        CaseError: the file states a ratio that makes the range of the load smaller than it is.
    """
    stated = rear.entry.bumps
    if stated is None:
        return None
    least, where = let_off(rear)
    if stated.ratio is None:
        ratio = float(np.clip(np.floor(1000.0 * least) / 1000.0, -1.0, 0.999))
        return SpectrumEntry(blocks=stated.blocks, ratio=ratio)
    if stated.ratio > least + CLOSE:
        raise CaseError(
            "ratio", f"from full bump to full droop the link's load falls to {least:.3f} of itself, {where}; with the "
            f"{stated.ratio:g} that is stated, parts would be checked for too small a range",
            f"leave it out, or write at most {least:.3f}",
        )  # fmt: skip
    return SpectrumEntry(blocks=stated.blocks, ratio=stated.ratio)


def let_off(rear: Rear) -> tuple[float, str]:
    """How much of the link's load at full bump is left at full droop, at the worst length of the link.

    Returns:
        Share of the greatest load [-], with the tolerance of the hardpoints; and the length of the link.
    """
    most = abs(float(rear.worst(float(rear.entry.travel))[0].link_force))
    swept, said = max((rear.swept(said), said) for said in rear.lengths)
    return 1.0 - swept / most, said


def _stands_on(rear: Rear, now: Response, travel: float, said: str) -> tuple[Factor, ...]:
    """Where the wheel is, how the link is set, and what the tolerance of the hardpoints adds."""
    length = float(np.asarray(now.motion.link_length))
    exact = rear.at(travel, rear.lengths[said])
    found = (
        Factor("travel of the wheel [mm]", round(travel, 1), "the rear end through its travel"),
        Factor("length of the link [mm]", round(length, 1), said),
    )
    share = float(np.divide(now.torque, exact.torque)) if exact.torque else 1.0
    if share == 1.0:
        return found
    return (
        *found,
        Factor(
            "tolerance of the hardpoints [-]", round(share, 4), "every coordinate to the worse side"
        ),
    )


def damper_cases(
    rear: Rear, points: Mapping[str, np.ndarray], riding: Sequence[str] = ()
) -> Iterator[BuildCase]:
    """The loads of the damper on its mounts.

    The wheel stands at rest with the rider, where the build says where that is. The ground and the wheel's inertia
    press it no further than the damper allows.

    Raises:
        CaseError: a load states neither its force nor rate and velocity, or both.
    """
    one = rear.entry.damper
    if one is None or not one.loads:
        return
    travel = float(rear.positions.get(AT_REST, rear.entry.drawn_at))
    moved = {**points, **rear.moved(rear.at(travel).motion)}
    way = moved[one.on_swing_arm] - moved[one.on_frame]
    for i, load in enumerate(one.loads):
        force, factors, formula = _damper_force(load, i)
        push = (1.0 if load.way == "closing" else -1.0) * force * way / np.linalg.norm(way)
        on_arm = Load(one.on_swing_arm, push, np.zeros(3), "damper")
        still = rear.worst(travel)[0]
        found = standing(rear, still, lambda _, on=on_arm: (on,), points, riding, by_ground=True)  # type: ignore[misc]
        ends = [Acting(moved[at], -f, by=by) for at, f, by in
                ((one.on_frame, -push, FRAME), (one.on_swing_arm, push, SWING_ARM))]  # fmt: skip
        yield BuildCase(
            load.name, found.points, (*found.held, Held(FRAME, one.on_frame, -push, np.zeros(3), "damper")),
            (*found.balances, balance("damper", ends)), formula, factors,
            "the ground under the wheel, or its inertia, holds the swing arm against it",
        )  # fmt: skip


def _damper_force(load: DamperLoadEntry, index: int) -> tuple[float, tuple[Factor, ...], str]:
    """Force [N], what was chosen for it, and how it was found."""
    if load.force is not None and load.rate is None and load.velocity is None:
        return load.force, (Factor("force of the damper [N]", load.force, STATED),), "stated"
    if load.force is None and load.rate is not None and load.velocity is not None:
        factors = (
            Factor("rate of the damper [N*s/mm]", load.rate, STATED),
            Factor("velocity of its rod [mm/s]", load.velocity, STATED),
        )
        return float(damping_force(load.rate, load.velocity)), factors, "F = C v"
    raise CaseError(
        dotted(("loads", index)), f"{load.name!r} needs its force, or its rate and velocity, and not both",
        "state `force: 2.5 kN`, or `rate: 1.2` in N*s/mm and `velocity: 1500` in mm/s",
    )  # fmt: skip
