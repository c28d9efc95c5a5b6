"""Balance of forces and moments."""

import numpy as np
import pytest

from parts.core.freebody import TOLERANCE, Acting, balance


def test_a_worked_beam_balances_and_its_reactions_do_not_without_each_other():
    # Simply supported over 1000 mm, 600 N at 250 mm: 450 N and 150 N by the law of the lever.
    left = Acting((0, 0, 0), (0, 0, 450.0), by="left")
    right = Acting((1000, 0, 0), (0, 0, 150.0), by="right")
    load = Acting((250, 0, 0), (0, 0, -600.0), by="load")
    assert balance("beam", (left, right, load)).ok
    swapped = (Acting((0, 0, 0), (0, 0, 150.0)), Acting((1000, 0, 0), (0, 0, 450.0)), load)
    wrong = balance("beam", swapped)
    assert np.allclose(wrong.force, 0.0)
    # 300 N too much at one end and too little at the other, a metre apart.
    assert np.linalg.norm(wrong.moment) == pytest.approx(300.0 * 1000.0)
    assert "beam is out of balance: 0 N and 3e+05 N*mm" in wrong.error


@pytest.mark.parametrize(("share", "ok"), [(0.5, True), (2.0, False)])
def test_the_limit_is_one_in_a_million_of_the_largest(share, ok):
    off = 1000.0 * (1.0 + share * TOLERANCE)
    found = balance("rod", (Acting((0, 0, 0), (off, 0, 0)), Acting((9, 0, 0), (-1000.0, 0, 0))))
    assert found.ok is ok
    assert bool(found.error) is not ok


def test_a_pure_couple_needs_its_answer():
    couple = Acting((5, 5, 5), (0, 0, 0), (0, 0, 7.0))
    assert not balance("hub", (couple,)).ok
    assert balance("hub", (couple, Acting((0, 0, 0), (0, 0, 0), (0, 0, -7.0)))).ok


def test_arrays_are_held_position_by_position_and_the_worst_is_told():
    push = np.array([[1.0, 0, 0], [2.0, 0, 0]])
    found = balance("rod", (Acting((0, 0, 0), push), Acting((1, 0, 0), (-1.0, 0, 0))))
    assert found.share == pytest.approx([0.0, 0.5])
    assert "1 N" in found.error


def test_what_is_no_number_never_balances():
    assert not balance("rod", (Acting((0, 0, 0), (np.nan, 0, 0)),)).ok


def test_a_body_on_which_nothing_acts_is_an_error():
    with pytest.raises(ValueError, match="nothing acts on it"):
        balance("peg", ())
