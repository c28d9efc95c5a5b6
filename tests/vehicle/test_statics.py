"""Bodies on a hinge and a link, against statics written out."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from parts.vehicle.loads.statics import FRAME, Body, Link, StaticsError, solve

POINTS = {
    "hinge": np.array([0.0, 0.0, 0.0]),
    "pad": np.array([150.0, 0.0, 0.0]),
    "eye": np.array([0.0, 0.0, 40.0]),
    "post": np.array([-200.0, 0.0, 40.0]),
}
PEDAL = Body("pedal", ("pad",), "hinge", Link("rod", "post", "eye"))
TOLERANCE = 1e-9  # rounding


def on(found, body, point, by=None):
    (one,) = [h for h in found.held if h.body == body and h.point == point and by in (None, h.by)
              and not h.mirrored]  # fmt: skip
    return one.force


def test_a_pedal_multiplies_by_its_levers():
    found = solve(PEDAL, {"pad": np.array([0.0, 0.0, -600.0])}, POINTS)
    pull = 600.0 * 150.0 / 40.0
    assert on(found, "pedal", "eye") == pytest.approx([-pull, 0.0, 0.0], rel=TOLERANCE)
    assert on(found, "rod", "eye") == pytest.approx([pull, 0.0, 0.0], rel=TOLERANCE)
    assert on(found, FRAME, "post") == pytest.approx([pull, 0.0, 0.0], rel=TOLERANCE)
    assert on(found, "pedal", "hinge") == pytest.approx([pull, 0.0, 600.0], rel=TOLERANCE)
    assert [b.error for b in found.balances] == ["", ""]


def test_a_pair_of_struts_shares_the_load():
    one = solve(PEDAL, {"pad": np.array([0.0, 0.0, -600.0])}, POINTS)
    aside = {**POINTS, "eye": POINTS["eye"] + [0, 90.0, 0], "post": POINTS["post"] + [0, 90.0, 0]}
    body = Body("pedal", ("pad",), "hinge", Link("rod", "post", "eye", sides=2))
    two = solve(body, {"pad": np.array([0.0, 0.0, -600.0])}, aside)
    assert on(two, "rod", "eye") == pytest.approx(on(one, "rod", "eye") / 2.0, rel=TOLERANCE)
    assert [b.error for b in two.balances] == ["", ""]


coordinates = st.tuples(*[st.floats(-400.0, 400.0)] * 3).map(np.array)
forces = st.tuples(*[st.floats(-5e3, 5e3)] * 3).map(np.array)


@given(coordinates, coordinates, coordinates, coordinates, forces, st.sampled_from([1, 2]))
def test_whatever_is_solved_balances_and_hands_the_load_to_the_frame(
    hinge, pad, eye, post, force, sides
):
    assume(np.linalg.norm(force) > 1.0)
    points = {"hinge": hinge * [1, 0, 1], "pad": pad, "eye": eye, "post": post}
    body = Body("pedal", ("pad",), "hinge", Link("rod", "post", "eye", sides))
    try:
        found = solve(body, {"pad": force}, points)
    except StaticsError:
        return
    assert all(b.ok for b in found.balances), [b.error for b in found.balances]
    struts = [h.force for h in found.held if h.body == FRAME and h.point == "post"]
    assert len(struts) == sides
    (hinge_force,) = [h.force for h in found.held if h.body == FRAME and h.point == "hinge"]
    total = hinge_force + sum(struts)
    assert np.linalg.norm(total - force) <= 1e-9 * max(
        np.linalg.norm(hinge_force), np.linalg.norm(force), *map(np.linalg.norm, struts)
    )


def test_what_does_not_load_a_body_leaves_it_alone():
    assert solve(PEDAL, {"elsewhere": np.ones(3)}, POINTS) is None


@pytest.mark.parametrize(
    ("point", "place", "words"),
    [
        ("eye", (-100.0, 0.0, 0.0), "points at the hinge"),
        ("post", (0.0, 0.0, 40.0), "coincide"),
    ],
)
def test_a_link_that_cannot_hold_is_refused(point, place, words):
    points = {**POINTS, "post": np.array([-200.0, 0.0, 0.0]), point: np.array(place)}
    with pytest.raises(StaticsError, match=words):
        solve(PEDAL, {"pad": np.array([0.0, 0.0, -1.0])}, points)
