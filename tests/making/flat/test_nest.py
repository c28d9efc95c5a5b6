"""The nest: nothing overlaps, all lies on the sheet, and utilisation is the share that becomes blanks."""

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parts.making.flat.nest import nest


def boxes(sheet, size):
    return [
        (
            s.x,
            s.y,
            s.x + (size[1] if s.turned else size[0]),
            s.y + (size[0] if s.turned else size[1]),
        )
        for s in sheet
    ]


def gap(a, b):
    """Distance between two boxes along the axis on which they are apart."""
    return max(b[0] - a[2], a[0] - b[2], b[1] - a[3], a[1] - b[3])


@settings(max_examples=40, deadline=None)
@given(
    st.tuples(st.floats(20, 200), st.floats(20, 200)),
    st.integers(1, 25),
    st.floats(0.5, 12),
)
def test_copies_keep_apart_and_on_the_sheet(size, copies, spacing):
    sheet = (500.0, 300.0)
    found = nest(size, copies, sheet, spacing)
    assert sum(map(len, found.sheets)) == copies
    for one in found.sheets:
        rows = boxes(one, size)
        for low_x, low_y, high_x, high_y in rows:
            assert min(low_x, low_y) >= spacing - 1e-9
            assert high_x <= sheet[0] - spacing + 1e-6 and high_y <= sheet[1] - spacing + 1e-6
        for a, b in combinations(rows, 2):
            assert gap(a, b) >= spacing - 1e-6
    assert max(box[2] for box in boxes(found.sheets[-1], size)) == pytest.approx(
        found.used - spacing
    )


def test_squares_fill_a_sheet_made_for_them():
    # Six squares of 90 in rows of three, 10 apart and 10 to the edge, need just 310 x 210.
    found = nest((90.0, 90.0), 6, (310.0, 210.0), 10.0)
    assert len(found.sheets) == 1
    assert found.utilisation(8100.0, (310.0, 210.0)) == pytest.approx(6 * 8100 / (310 * 210))


def test_a_quarter_turn_is_taken_where_it_saves_a_sheet():
    # As drawn one strip of 150 x 40 fits on a sheet 100 wide: none. Turned, two do.
    found = nest((150.0, 40.0), 2, (100.0, 170.0), 5.0)
    assert len(found.sheets) == 1 and all(spot.turned for spot in found.sheets[0])


def test_mixed_turns_beat_either_alone():
    # 60 x 40 on 100 x 120: three as drawn or four turned; three as drawn leave a strip for two more turned.
    found = nest((60.0, 40.0), 5, (100.6, 120.7), 0.1)
    assert len(found.sheets) == 1
    assert sorted(spot.turned for spot in found.sheets[0]) == [False] * 3 + [True] * 2


def test_what_does_not_fit_has_no_sheet():
    found = nest((400.0, 40.0), 3, (300.0, 200.0), 5.0)
    assert found.sheets == () and found.utilisation(1.0, (300.0, 200.0)) == 0.0
