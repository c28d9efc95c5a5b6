"""The linkage against root finding on its closure, differences, and a parallelogram's closed form."""

import numpy as np
import pytest
from hill_climb import LINKAGE
from hypothesis import assume, given
from hypothesis import strategies as st
from linkages import DROOP, LENGTH, PARALLEL, SKEWED, closure
from scipy.optimize import root

from parts.vehicle.rear_end.linkage import Line, Linkage, LinkageError
from parts.vehicle.rear_end.motion import motion

EVERY = [pytest.param(each, id=name) for name, each in
         (("hill climb", LINKAGE), ("skewed", SKEWED), ("parallel", PARALLEL))]  # fmt: skip


def solved(open_ends, guess):
    """Turns that close the linkage, by Powell's hybrid method from a guess nearby.

    It takes its first step in proportion to the unknowns, so they are counted from 1 and not from nothing.
    """
    return root(lambda x: open_ends(x - 1.0), np.add(guess, 1.0), tol=1e-14).x - 1.0


@pytest.mark.parametrize("linkage", EVERY)
@pytest.mark.parametrize("longer", [-3.0, 0.0, 3.0])
def test_turns_are_the_roots_of_the_loop_closure(linkage, longer):
    link = float(linkage.drawn_length) + longer
    travel = np.linspace(0.0, linkage.travel, 12)
    found = motion(linkage, travel, link)
    guess = [0.0, 0.0]
    # The independent solver follows the linkage from the drawn position with its drawn link, a step at a time.
    for share in np.linspace(0.0, 1.0, 9):
        at_first = closure(linkage, linkage.drawn_at, linkage.drawn_length + share * longer)
        guess = solved(at_first, guess)
    for start in np.linspace(linkage.drawn_at, 0.0, 9):
        guess = solved(closure(linkage, start, link), guess)
    for i, s in enumerate(travel):
        guess = solved(closure(linkage, s, link), guess)
        # What is left open is a rounding of lengths of some hundred millimetres.
        assert np.max(np.abs(closure(linkage, s, link)(guess))) < 1e-10
        assert found.swing[i] == pytest.approx(guess[0], abs=1e-9)
        assert found.arm_turn[i] == pytest.approx(guess[1], abs=1e-9)


@pytest.mark.parametrize("linkage", EVERY)
def test_ratio_and_its_slope_are_differences_of_the_turn(linkage):
    h = 0.01
    s = np.linspace(1.0, linkage.travel - 1.0, 23)
    low, here, high = (motion(linkage, s + d) for d in (-h, 0.0, h))
    # Central differences: the error is of order h², about 1e-8 of a ratio that bends over 100 mm.
    assert here.ratio == pytest.approx((high.bar_turn - low.bar_turn) / (2 * h), rel=1e-6)
    assert here.ratio_slope == pytest.approx(
        (high.ratio - low.ratio) / (2 * h), rel=1e-5, abs=1e-11
    )
    assert np.all(here.ratio > 0.0)


@pytest.mark.parametrize("linkage", EVERY)
def test_a_longer_link_winds_the_bar_as_the_difference_says(linkage):
    h, s, link = 0.01, np.linspace(0.0, linkage.travel, 7), linkage.drawn_length
    change = motion(linkage, s, link + h).bar_turn - motion(linkage, s, link - h).bar_turn
    assert motion(linkage, s).turn_per_length == pytest.approx(change / (2 * h), rel=1e-6)


@pytest.mark.parametrize("linkage", EVERY)
def test_as_drawn_nothing_has_moved(linkage):
    at = motion(linkage, linkage.drawn_at)
    assert at.swing == pytest.approx(0.0, abs=1e-12)
    assert at.arm_turn == pytest.approx(0.0, abs=1e-12)
    for name in ("axle", "pick_up", "arm_end"):
        assert getattr(at, name) == pytest.approx(np.asarray(getattr(linkage, name)), abs=1e-9)


def test_in_a_parallelogram_the_arm_turns_as_the_swing_arm_does():
    s = np.linspace(0.0, PARALLEL.travel, 21)
    found = motion(PARALLEL, s)
    phi = np.arcsin((LENGTH * np.sin(DROOP) + s) / LENGTH)
    assert found.bar_turn == pytest.approx(phi - DROOP, abs=1e-12)
    assert found.ratio == pytest.approx(1.0 / (LENGTH * np.cos(phi)), rel=1e-12)
    assert found.ratio_slope == pytest.approx(
        np.sin(phi) / (LENGTH**2 * np.cos(phi) ** 3), rel=1e-9
    )


coordinate = st.floats(-150.0, 150.0)
place = st.tuples(coordinate, coordinate, coordinate)


@given(place, place, place, st.floats(-40.0, 40.0))
def test_any_linkage_that_is_not_refused_keeps_its_lengths(pick_up, arm_end, bar, height):
    try:
        linkage = Linkage(
            pivot=(0, 0, 0), axle=(-500.0, 0.0, height - 55.0), pick_up=pick_up, arm_end=arm_end,
            bar=bar, travel=110.0, bar_axis=(0.3, 1.0, 0.2),
        )  # fmt: skip
        found = motion(linkage, np.linspace(0.0, 110.0, 23))
    except LinkageError:
        assume(False)
    assert np.linalg.norm(found.pick_up - found.arm_end, axis=-1) == pytest.approx(
        float(linkage.drawn_length),
        rel=1e-9,
        abs=1e-9,  # a link of a hundredth of a mm may be drawn
    )
    assert found.axle[:, 2] - linkage.axle[2] == pytest.approx(found.travel, abs=1e-8)
    assert linkage.torsion_bar.radius(found.arm_end) == pytest.approx(
        float(linkage.arm_length), rel=1e-9
    )
    # One branch throughout: no jump between neighbouring stations as large as a change of branch would be.
    assert np.all(np.abs(np.diff(found.arm_turn)) < np.pi / 2)
    assert np.all(found.leverage > 0.0) and np.all(found.leverage <= 1.0 + 1e-12)


def test_many_linkages_in_one_call_equal_one_at_a_time():
    offsets = np.array([40.0, 52.0, 60.0])
    pick_up = np.stack([np.zeros(3), offsets, np.full(3, 514.0)], axis=-1)
    fields = {n: getattr(LINKAGE, n) for n in ("pivot", "axle", "arm_end", "bar", "travel")}
    travel = np.linspace(0.0, 110.0, 5)
    together = motion(Linkage(**fields, pick_up=pick_up), travel[:, None])
    for i in range(3):
        alone = motion(Linkage(**fields, pick_up=tuple(pick_up[i])), travel)
        assert together.ratio[:, i] == pytest.approx(alone.ratio, rel=1e-12)
        assert together.pick_up_swing[:, i] == pytest.approx(alone.pick_up_swing, abs=1e-9)


def test_joint_swing_of_parallel_pins_is_the_lean_of_the_link():
    found = motion(LINKAGE, np.linspace(0.0, 110.0, 5))
    lean = np.arcsin(8.0 / float(LINKAGE.drawn_length))
    # Pins crosswise as both axes are: the offset of 8 mm stays, and so does the lean.
    assert found.pick_up_swing == pytest.approx(lean, abs=1e-9)
    assert found.arm_swing == pytest.approx(lean, abs=1e-9)


def test_joint_swing_as_drawn_is_the_angle_between_link_and_the_plane_square_to_the_pin():
    link = np.subtract(SKEWED.pick_up, SKEWED.arm_end)
    at = motion(SKEWED, SKEWED.drawn_at)
    for pin, swing in ((SKEWED.pick_up_pin, at.pick_up_swing), (SKEWED.arm_pin, at.arm_swing)):
        cosine = np.dot(link, pin) / np.linalg.norm(link) / np.linalg.norm(pin)
        assert swing == pytest.approx(abs(np.pi / 2 - np.arccos(cosine)), abs=1e-9)


def test_locked_jam_nuts_add_the_roll_of_one_pin_against_the_other():
    # The eyes are held to the link's body: turn the two pins about it as far as each joint tilts at best.
    moved = motion(SKEWED, 110.0)
    upper = turned_way(SKEWED.pick_up_pin, SKEWED.pivot_axis, moved.swing)
    lower = turned_way(SKEWED.arm_pin, SKEWED.bar_axis, moved.arm_turn)
    link = moved.link
    bare = np.abs(np.arcsin([np.dot(link, upper), np.dot(link, lower)]))
    eyes_drawn = [
        eye(p, np.subtract(SKEWED.pick_up, SKEWED.arm_end))
        for p in (SKEWED.pick_up_pin, SKEWED.arm_pin)
    ]
    between = signed(*eyes_drawn, np.subtract(SKEWED.pick_up, SKEWED.arm_end))
    best = np.inf
    for spin in np.linspace(-0.5, 0.5, 4001):
        first = spun(eye(upper, link), link, spin)
        second = spun(first, link, between)
        tilts = [np.arccos(abs(np.dot(first, upper))), np.arccos(abs(np.dot(second, lower)))]
        # Shared evenly about the link: the spin at which both joints are turned alike about it.
        share = abs(
            abs(signed(eye(upper, link), first, link)) - abs(signed(eye(lower, link), second, link))
        )
        if share < best:
            best, chosen = share, tilts
    # A grid of 0.00025 rad in the spin.
    assert [moved.pick_up_swing, moved.arm_swing] == pytest.approx(chosen, abs=1e-3)
    assert moved.pick_up_swing >= bare[0] and moved.arm_swing >= bare[1]


def turned_way(way, axis, angle):
    found = Line((0, 0, 0), axis).turned(way, angle)
    return found / np.linalg.norm(found)


def eye(pin, link):
    link = link / np.linalg.norm(link)
    across = pin - np.dot(pin, link) * link
    return across / np.linalg.norm(across)


def signed(first, second, link):
    link = link / np.linalg.norm(link)
    return np.arctan2(np.dot(link, np.cross(first, second)), np.dot(first, second))


def spun(way, link, angle):
    return Line((0, 0, 0), link).turned(way, angle)


def altered(**fields):
    names = ("pivot", "axle", "pick_up", "arm_end", "bar", "travel", "drawn_at", "bar_axis")
    return Linkage(**{n: getattr(LINKAGE, n) for n in names} | fields)


@pytest.mark.parametrize(
    ("fields", "message"),
    [
        ({"axle": LINKAGE.pivot}, "axle and the swing arm's axis coincide"),
        ({"pick_up": (0.0, 52.0, 437.0)}, "pick-up and the swing arm's axis coincide"),
        ({"arm_end": (-152.0, 60.0, 640.0)}, "arm's end and the bar's axis coincide"),
        ({"pick_up": LINKAGE.arm_end}, "two ends of the link coincide"),
        ({"bar_axis": (0, 0, 0)}, "bar axis has no direction"),
        ({"bar": (0, 0)}, "bar needs three finite numbers"),
        ({"travel": 0.0}, "travel is 0 mm"),
        ({"drawn_at": 120.0}, "drawn at 120 mm of travel, which runs from 0"),
    ],
)
def test_what_cannot_be_drawn_is_refused(fields, message):
    with pytest.raises(LinkageError, match=message):
        altered(**fields)


@pytest.mark.parametrize(
    ("fields", "link", "travel", "message"),
    [
        ({}, None, 111.0, "asked to 111 mm; its travel runs from 0"),
        ({}, None, -1.0, "asked to -1 mm"),
        ({}, -5.0, 10.0, "link is -5 mm long"),
        ({}, 30.0, 0.0, "lock-over|link cannot reach"),
        ({}, 400.0, 0.0, "lock-over|link cannot reach"),
        ({"arm_end": (-130.0, 60.0, 632.0)}, None, 110.0, "lock-over|link cannot reach"),
        ({"axle": (-90.0, 0.0, 400.0), "travel": 140.0}, None, 140.0, "too short to reach"),
        ({"axle": (-1.0, 0.0, 320.0)}, None, 0.0, "straight above or below"),
        ({"pick_up": (-60.0, 52.0, 470.0)}, None, 50.0, "dead centre"),
    ],
)
def test_positions_that_cannot_be_reached_are_refused(fields, link, travel, message):
    with pytest.raises(LinkageError, match=message):
        motion(altered(**fields), travel, link)
