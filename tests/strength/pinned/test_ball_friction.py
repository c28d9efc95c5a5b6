"""Ball friction against statics written out."""

import numpy as np
import pytest

from parts.strength.pinned import ball_friction, rod_end


def test_the_moment_is_what_rubbing_all_round_the_ball_gives():
    """A ball pressed at one spot slides there at its radius: force times friction times radius."""
    got = ball_friction.friction_moment(np.array([-8.0e3, 8.0e3]), 19.0, 0.15)
    np.testing.assert_allclose(got, 8.0e3 * 0.15 * 9.5)
    assert np.isnan(ball_friction.friction_moment(8.0e3, 19.0, -0.1))


def test_the_shank_feels_it_as_a_moment_beside_its_load():
    """The same stress as the rod end's own method gives for a moment alone, with a grease hole too."""
    M = np.array([[5.0e3], [2.0e4]])
    got = ball_friction.shank_amplitude(M, 8.16, np.array([0.0, 3.0]))
    np.testing.assert_allclose(
        got, rod_end.shank_stress(0.0, 0.0, 40.0, 8.16, np.array([0.0, 3.0]), M)
    )
    assert got[0, 0] == pytest.approx(5.0e3 / (np.pi * 8.16**3 / 32.0))


def test_the_housing_is_a_ring_round_the_thread():
    modulus = np.pi / 32.0 * (18.0**4 - 10.0**4) / 18.0
    assert ball_friction.housing_amplitude(1.52e4, 18.0, 10.0) == pytest.approx(1.52e4 / modulus)
    assert np.isnan(ball_friction.housing_amplitude(1.0, 9.0, 10.0))
    assert np.isnan(ball_friction.shank_amplitude(1.0, 8.0, 8.0))


def test_the_dry_end_of_the_range_is_given():
    assert ball_friction.race_friction("steel on steel") == 0.20
    with pytest.raises(KeyError, match="PTFE"):
        ball_friction.race_friction("ice")
