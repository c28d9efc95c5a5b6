"""Frames of parts, and mirrored twins."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from parts.vehicle.file.places import MIRROR, NEARLY_ALONG, Frame, PlaceError, frame
from parts.vehicle.space.assembly import twin

vectors = st.tuples(*[st.floats(-100.0, 100.0)] * 3).map(np.array)


@given(vectors, vectors, vectors, st.sampled_from(["xy", "xz", "yz", "zx"]), st.booleans())
def test_frames_are_right_handed_and_hold_what_they_are_told_to(origin, one, other, names, first):
    assume(min(np.linalg.norm(one), np.linalg.norm(other)) > 1.0)
    sine = np.linalg.norm(np.cross(one, other)) / np.linalg.norm(one) / np.linalg.norm(other)
    assume(sine > 2.0 * NEARLY_ALONG)
    hold = names[0] if first else names[1]
    found = frame(origin, {names[0]: one, names[1]: other}, hold)
    # 1e-9: rounding of unit vectors.
    assert found.axes @ found.axes.T == pytest.approx(np.eye(3), abs=1e-9)
    assert np.linalg.det(found.axes) == pytest.approx(1.0, abs=1e-9)
    held = one if first else other
    assert found.axes["xyz".index(hold)] @ held == pytest.approx(np.linalg.norm(held), rel=1e-9)
    free = other if first else one
    assert found.axes["xyz".index(names[1] if first else names[0])] @ free > 0.0
    assert found.into(found.out(one)) == pytest.approx(one, abs=1e-9 * 300.0)


@given(vectors, vectors)
def test_a_twin_stands_where_the_mirror_shows_it(origin, place):
    here = frame(origin, {"x": (1.0, 2.0, 0.5), "z": (0.0, 1.0, 3.0)})
    other = twin(here)
    assert np.linalg.det(other.axes) == pytest.approx(1.0)
    assert other.out(place * [1, 1, -1]) == pytest.approx(
        here.out(place) * MIRROR, abs=1e-9 * 300.0
    )


@pytest.mark.parametrize(
    ("stated", "words"),
    [
        ({"x": (1, 0, 0)}, "1 axes"),
        ({"x": (1, 0, 0), "y": (0, 1, 0), "z": (0, 0, 1)}, "3 axes"),
        ({"x": (1, 0, 0), "z": (-2, 0, 0)}, "along one line"),
        ({"x": (0, 0, 0), "z": (0, 0, 1)}, "coincide"),
    ],
)
def test_axes_that_fix_no_frame_are_refused(stated, words):
    with pytest.raises(PlaceError, match=words):
        frame(np.zeros(3), stated)


def test_a_force_keeps_its_size():
    here = Frame(np.ones(3), frame(np.zeros(3), {"x": (3, 1, 0), "y": (0, 1, 1)}).axes)
    assert np.linalg.norm(here.turned_into((3.0, 4.0, 12.0))) == pytest.approx(13.0)
