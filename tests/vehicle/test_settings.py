"""Cases of the whole machine over the link's range and the tolerance of the hardpoints: parts bear the worst."""

from dataclasses import replace

import numpy as np
import pytest
from builds import DEMO, copied, exact

from parts.vehicle.build import Build
from parts.vehicle.build_loads import at_rest, riding
from parts.vehicle.loads.cases import whole_case
from parts.vehicle.loads.swung import settled
from parts.vehicle.loads.wheels import MOST_ON_STOP, Gear, rear_wheel
from parts.vehicle.rear_end.rear import POINTS


@pytest.fixture(scope="module")
def demo():
    return Build(DEMO)


def pulled(case):
    return max(np.linalg.norm(one.force) for one in case.held if one.body == "link")


def stopped(case):
    return max(np.linalg.norm(one.force) for one in case.held if one.by == "bump stop")


def case_of(build, name):
    (found,) = [one for one in build.cases if one.name == name]
    return found


@pytest.mark.parametrize("name", ["rear brake", "acceleration", "landing"])
def test_no_setting_and_no_slip_of_the_tape_pulls_the_link_harder(demo, name):
    """By another route: each length of the link with hardpoints thrown about within their tolerances."""
    rear, chance = demo.rear, np.random.default_rng(7)
    (entry,) = [one for one in demo.entry.cases if name in (one.type, one.name) and not one.name]
    vehicle, sunk = at_rest(demo.vehicle, rear, float(demo.points["front axle"][0]))
    gear = Gear(demo.entry, vehicle, rear, demo.points, riding(demo), sunk)
    whole, found = whole_case(entry, vehicle, gear), []
    for length in (None, rear.turnbuckle.shortest, rear.turnbuckle.longest):
        for throw in [np.zeros((5, 3)), *chance.uniform(-1.0, 1.0, (3, 5, 3))]:
            linkage = rear.end.linkage
            places = {
                key: np.asarray(getattr(linkage, key)) + rear.within[key] * off
                for key, off in zip(POINTS, throw, strict=True)
            }
            long = float(linkage.drawn_length) if length is None else length
            end = rear.end._replace(linkage=replace(linkage, **places))
            other = replace(rear, end=end, length=long, _known={})
            found.append(settled(
                other, lambda there: rear_wheel(whole, gear, there).on_arm, {**demo.points, **other.drawn},
                gear.riding,
            ))  # fmt: skip
    worst = max(pulled(one) for one in found)
    own = pulled(case_of(demo, name))
    # No throw reaches every coordinate's end at once, so the worst stands above them all, and not far.
    assert worst <= own <= 1.08 * worst
    assert own > 1.01 * pulled(found[0])


def test_the_stop_bears_most_with_the_link_that_lets_the_bar_off(demo):
    landing, stop = case_of(demo, "landing"), case_of(demo, "landing" + MOST_ON_STOP)
    assert "link at its shortest" in landing.note and "link at its longest" in stop.note
    assert stopped(stop) > 1.03 * stopped(landing) and pulled(landing) > 1.1 * pulled(stop)
    assert not [one.error for one in (*landing.balances, *stop.balances) if one.error]
    names = {one.name for one in demo.part("HC-103").loads}
    assert {"landing", "landing" + MOST_ON_STOP} <= names


def test_a_link_that_cannot_be_turned_and_points_without_fault_are_as_drawn(tmp_path):
    build = Build(exact(copied(tmp_path)))
    assert not [one.name for one in build.cases if MOST_ON_STOP in one.name]
    assert not [
        one.name for one in build.cases if "link at" in one.note or "worse side" in one.note
    ]
    assert pulled(case_of(build, "rear brake")) < pulled(case_of(Build(DEMO), "rear brake"))
