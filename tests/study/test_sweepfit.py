"""The fitted stress of many variants: through what is known, exact on a plane, held against rows that were solved."""

import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.interpolate import RBFInterpolator
from variants_of import written

from parts.inputs.reading import with_values
from parts.study.stress_fit import BESIDE, THROUGH, spread, surface
from parts.study.sweep import ONE_BY_ONE, sweep_part

RNG = np.random.default_rng(11)
KNOWN = RNG.uniform(size=(30, 2))
ASKED = RNG.uniform(size=(50, 2))


def test_the_surface_is_the_cubic_spline_of_a_reference_library():
    values = np.stack([np.sin(3.0 * KNOWN[:, 0]) + KNOWN[:, 1] ** 2, KNOWN.prod(axis=1)])
    reference = RBFInterpolator(KNOWN, values.T, kernel="cubic", degree=1)(ASKED).T
    assert surface(KNOWN, values, ASKED) == pytest.approx(reference, rel=1e-8, abs=1e-10)
    assert surface(KNOWN, values, KNOWN) == pytest.approx(values, rel=1e-9, abs=1e-10)


@given(st.lists(st.floats(-10.0, 10.0), min_size=3, max_size=3))
@settings(max_examples=20, deadline=None)
def test_a_plane_stays_a_plane(tilt):
    a, b, c = tilt
    values = (a + b * KNOWN[:, 0] + c * KNOWN[:, 1])[None, :]
    wanted = a + b * ASKED[:, 0] + c * ASKED[:, 1]
    assert surface(KNOWN, values, ASKED)[0] == pytest.approx(wanted, rel=1e-7, abs=1e-8)


def test_rows_along_one_line_of_two_dimensions_are_fitted_too():
    line = np.linspace(0.0, 1.0, 9)[:, None] * np.array([[1.0, 1.0]])
    found = surface(line, np.exp(line[:, :1]).T, np.array([[0.37, 0.37]]))
    # A cubic spline on nine knots: the error is of h^4 in the middle.
    assert found[0, 0] == pytest.approx(np.exp(0.37), rel=1e-4)


def test_spread_places_are_distinct_and_hold_the_corners():
    grid = np.stack(np.meshgrid(np.linspace(0, 1, 40), np.linspace(0, 1, 30)), -1).reshape(-1, 2)
    taken = spread(grid, 25)
    assert len(set(taken.tolist())) == 25
    corners = {(0.0, 0.0), (0.0, 1.0), (1.0, 0.0), (1.0, 1.0)}
    assert corners <= {tuple(one) for one in grid[taken]}
    near = np.linalg.norm(grid[:, None] - grid[taken][None], axis=-1).min(axis=1)
    # 25 places on a unit square: a mesh of a quarter has no point farther than 0.18 from a corner.
    assert near.max() < 0.2
    assert len(spread(np.zeros((5, 2)), 3)) == 1


@pytest.mark.slow
def test_a_bracket_of_many_rows_is_fitted_as_well_as_it_says(tmp_path):
    ranges = ["plate.thickness=14 mm to 20 mm in 51", "plate.web=10 mm to 14 mm in 17"]
    found = sweep_part(written(tmp_path, "foot-control bracket"), ranges)
    assert (found.broken == "").sum() > ONE_BY_ONE
    # A note for the rows of each strength: that of the plate steps with its thickness.
    said = [one for one in found.notes if f"solved for {THROUGH + BESIDE} rows" in one]
    low, high = (
        max(float(re.findall(r"([\d.]+)% too", one)[k]) for one in said) / 100.0 for k in (0, 1)
    )
    assert low < 0.1 and high < 0.1
    rows = np.flatnonzero(found.broken == "")
    for row in np.random.default_rng(3).choice(rows, 12, replace=False):
        values = {c.path: c.value(int(row)) for c in found.columns}
        use = float(with_values(found.stated.part, values).check().governing.use)
        # Twice what the rows beside showed: they are a sample.
        off = 1.0 / found.reserve[row] / use - 1.0
        assert -2.0 * low - 0.005 <= off <= 2.0 * high + low + 0.01


@pytest.mark.slow
def test_a_hundred_thousand_brackets_take_half_a_minute(tmp_path):
    import time

    ranges = ["plate.thickness=14 mm to 22 mm in 400", "plate.web=10 mm to 14 mm in 250"]
    before = time.process_time()
    found = sweep_part(written(tmp_path, "foot-control bracket"), ranges)
    assert len(found.mass) == 100_000 and found.ok.any() and found.edge.any()
    # About twenty seconds on one idle core.
    assert time.process_time() - before < 90.0
