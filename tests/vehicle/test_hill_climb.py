"""The hill-climb motorcycle as a whole: figures that a builder would call sensible."""

import subprocess
import sys

import numpy as np
import pytest
from hill_climb import (
    ANCHOR_TEETH,
    ARM_TEETH,
    DAMPER,
    LINKAGE,
    REAR,
    ROD_END,
    STEEL,
    TRAVEL,
    TURNBUCKLE,
    VEHICLE,
)

from parts.strength.shafts import torsion_bar
from parts.vehicle.rear_end.clocking import finest_step
from parts.vehicle.rear_end.damper import damper_motion
from parts.vehicle.rear_end.ride import adjustment, rest
from parts.vehicle.rear_end.suspension import free_bodies, response, shear_check, swing_check

WHOLE = response(REAR, np.linspace(0.0, TRAVEL, 23))
LOADS = np.array([VEHICLE.rear_sprung_load(rider=False), VEHICLE.rear_sprung_load()])


def test_sag_and_rate_are_those_of_an_off_road_motorcycle():
    # A quarter to a third of the travel with the rider, the machine alone just off its top: common practice,
    # no source.
    found = rest(REAR, LOADS)
    assert 0.25 <= found.share[1] <= 0.33
    assert 0.0 < found.travel[0] < 0.1 * TRAVEL and not np.any(found.topped | found.bottomed)
    assert np.all((WHOLE.wheel_rate > 12.0) & (WHOLE.wheel_rate < 20.0))
    assert 1.5 < found.frequency[1] < 3.0


def test_full_bump_carries_two_to_three_times_the_load_at_rest():
    assert 2.0 < WHOLE.wheel_force[-1] / LOADS[1] < 3.0
    assert WHOLE.wheel_force[0] > 0.0


def test_bar_and_joints_stay_within_what_they_allow():
    share = torsion_bar.shear_share(
        "hardened and tempered carbon and low-alloy steel", preset=False
    )
    shear = shear_check(REAR, WHOLE, STEEL.ultimate_strength, share)
    assert 1.5 < shear.factor < 3.0
    limit = ROD_END.swing_between(ROD_END.ball_width)
    moved = WHOLE.motion
    assert all(swing_check("joint", t, limit).ok for t in (moved.pick_up_swing, moved.arm_swing))
    assert np.all(WHOLE.motion.leverage > 0.9)


def test_every_part_balances_through_the_travel():
    assert [b.error for b in free_bodies(REAR, WHOLE)] == [""] * 4


def test_the_vernier_is_finer_than_a_turn_of_the_turnbuckle():
    per_turn = abs(float(WHOLE.motion.turn_per_length[0])) * TURNBUCKLE.per_turn
    assert finest_step(ANCHOR_TEETH, ARM_TEETH) < per_turn
    assert TURNBUCKLE.shortest >= 2.0 * ROD_END.length


def test_a_turn_each_way_is_a_useful_change():
    found = adjustment(REAR, TURNBUCKLE, [-1.0, 0.0, 1.0], LOADS)
    assert np.all(np.abs(np.diff(found.sag[:, 1])) < 20.0)


def test_the_damper_closes_by_a_usual_share_of_the_travel():
    found = damper_motion(LINKAGE, DAMPER, np.array([0.0, TRAVEL]))
    assert 0.5 < (found.length[0] - found.length[1]) / TRAVEL < 0.8


@pytest.mark.parametrize(
    "module", ["rear_end.bars", "rear_end.damper", "rear_end.clocking", "loads.vehicle_cases"]
)
def test_nothing_heavy_is_imported(module):
    code = f"import sys, parts.vehicle.{module}; print(*sys.modules)"
    loaded = set(
        subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True
        ).stdout.split()
    )
    assert not loaded & {"scipy", "cadquery", "OCP", "vtkmodules", "shapely"}
