"""The damper's stroke by differences, its loads by work and balance."""

import numpy as np
import pytest
from hill_climb import DAMPER, LINKAGE
from linkages import SKEWED, turned

from parts.core.freebody import Acting, balance
from parts.vehicle.rear_end.damper import Damper, damper_motion, damping_force
from parts.vehicle.rear_end.linkage import LinkageError
from parts.vehicle.rear_end.motion import motion

CASES = [
    pytest.param(LINKAGE, DAMPER, id="hill climb"),
    pytest.param(SKEWED, Damper((-250.0, -60.0, 720.0), (-330.0, -40.0, 400.0)), id="skewed"),
]


@pytest.mark.parametrize(("linkage", "damper"), CASES)
def test_length_and_ratio_follow_the_swing_arm(linkage, damper):
    s = np.linspace(1.0, 109.0, 9)
    found = damper_motion(linkage, damper, s)
    for i, swing in enumerate(motion(linkage, s).swing):
        mount = turned(damper.on_swing_arm, linkage.pivot, linkage.pivot_axis, swing)
        assert found.length[i] == pytest.approx(np.linalg.norm(mount - damper.on_frame), rel=1e-12)
    h = 0.01
    shorter = (
        damper_motion(linkage, damper, s - h).length - damper_motion(linkage, damper, s + h).length
    )
    # Central differences, error of order h².
    assert found.ratio == pytest.approx(shorter / (2 * h), rel=1e-6)


def test_mount_loads_are_opposite_along_the_damper_and_balance():
    found = damper_motion(LINKAGE, DAMPER, np.linspace(0.0, 110.0, 5))
    closing = found.ratio * 1500.0
    force = damping_force(1.2, closing)
    frame, arm = found.mount_loads(force)
    # The damper as a body feels the opposite of what it does to its mounts.
    assert balance("damper", (Acting(DAMPER.on_frame, -frame), Acting(found.on_swing_arm, -arm))).ok
    assert np.linalg.norm(arm, axis=-1) == pytest.approx(1.2 * closing)
    # While the wheel rises the swing arm is pushed down, while it falls held up.
    assert np.all(arm[:, 2] < 0.0)
    assert np.all(found.mount_loads(damping_force(1.2, -closing))[1][:, 2] > 0.0)


def test_mounts_that_coincide_are_refused():
    with pytest.raises(LinkageError, match="mounts of the damper coincide"):
        damper_motion(LINKAGE, Damper((-330.0, -60.0, 400.0), (-330.0, -60.0, 400.0)), 0.0)
