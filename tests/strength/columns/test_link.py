"""What a preload leaves over, and a bar pushed and bent, against hand calculations."""

import numpy as np
import pytest

from parts.strength.columns.column import stepped_load
from parts.strength.columns.link import (
    added_by_push,
    left_by_preload,
    moments_together,
    off_axis_moment,
    pushed_and_bent_stress,
)


def test_a_preload_is_taken_off_and_never_leaves_less_than_nothing():
    assert left_by_preload(18e3, 7e3) == 11e3
    assert np.array_equal(left_by_preload(np.array([5e3, 9e3]), 7e3), [0.0, 2e3])


def test_push_and_two_bendings_add_at_the_outer_fibre():
    b, h = 10.0, 20.0  # a rectangle: A = b h, W = b h^2/6
    stress = pushed_and_bent_stress(4e3, b * h, 3e4, 1e4, b * h**2 / 6.0)
    assert stress == pytest.approx(4e3 / 200.0 + 4e4 / 666.6666666666666)


def test_a_third_moment_adds_too():
    assert pushed_and_bent_stress(0.0, 1.0, 3.0, 4.0, 2.0, 5.0) == 6.0
    assert moments_together(3.0, 4.0) == 7.0


COLUMNS = [
    ((25.0e6, 277.0e6, 46.0e6), (50.0, 254.5, 31.2)),  # a tube on two unlike shanks
    ((5.0e6, 277.0e6, 5.0e6), (60.0, 100.0, 60.0)),  # slender shanks carry it
    ((1.0e6, 1.0e6, 1.0e6), (50.0, 100.0, 50.0)),  # one bar throughout
]


@pytest.mark.parametrize(("stiff", "long"), COLUMNS)
@pytest.mark.parametrize("share", [0.05, 0.2, 0.44, 0.8])
def test_what_a_push_adds_is_what_the_deflected_column_bears(
    stiff, long, share, bent_by_differences
):
    EI = dict(zip(("EI_1", "EI_2", "EI_3"), stiff, strict=True))
    L = dict(zip(("L_1", "L_2", "L_3"), long, strict=True))
    P_E = float(stepped_load(**EI, **L))
    for x in (0.4 * long[0], long[0], long[0] + 0.2 * long[1]):
        added = added_by_push(**EI, **L, F=100.0, P=share * P_E, P_E=P_E, x=x)
        whole = bent_by_differences(stiff, long, 100.0, share * P_E, 0.0, x)
        assert 50.0 * x + added == pytest.approx(whole, rel=3e-3)
    assert added_by_push(**EI, **L, F=100.0, P=0.0, P_E=P_E, x=40.0) == pytest.approx(0.0, abs=1e-9)
    assert added_by_push(**EI, **L, F=100.0, P=P_E, P_E=P_E, x=40.0) == np.inf


@pytest.mark.parametrize(("stiff", "long"), COLUMNS)
@pytest.mark.parametrize("share", [0.05, 0.2, 0.44, 0.8])
def test_a_push_off_the_axis_bends_as_the_deflected_column(stiff, long, share, bent_by_differences):
    EI = dict(zip(("EI_1", "EI_2", "EI_3"), stiff, strict=True))
    L = dict(zip(("L_1", "L_2", "L_3"), long, strict=True))
    P_E = float(stepped_load(**EI, **L))
    for x in (0.4 * long[0], long[0] + 0.2 * long[1], sum(long) / 2.0, sum(long) - 0.5 * long[2]):
        found = off_axis_moment(**EI, **L, P=share * P_E, e=0.5, P_E=P_E, x=x)
        assert found == pytest.approx(
            bent_by_differences(stiff, long, 0.0, share * P_E, 0.5, x), rel=3e-3
        )
    assert off_axis_moment(**EI, **L, P=P_E, e=0.5, P_E=P_E, x=40.0) == np.inf
    assert off_axis_moment(**EI, **L, P=0.0, e=0.5, P_E=P_E, x=40.0) == 0.0
