"""General tolerances against the printed table of ISO 2768-1 as the trade repeats it."""

import pytest

from parts.standards.fits.general_tolerances import general_deviations


def of(stated, length):
    (row,) = [r for r in general_deviations(stated) if r.above < length <= r.to]
    return row.deviation


@pytest.mark.parametrize(
    ("stated", "length", "deviation"),
    [
        # ISO 2768-1:1989, table 1.
        ("ISO 2768-mK", 10.0, 0.2), ("ISO 2768-m", 30.0, 0.2), ("ISO 2768-mK", 100.0, 0.3),
        ("ISO 2768-mK", 250.0, 0.5), ("ISO 2768-fH", 100.0, 0.15), ("iso 2768-cL", 20.0, 0.5),
        ("ISO 2768 - v", 50.0, 1.5),
    ],
)  # fmt: skip
def test_deviations_of_the_table(stated, length, deviation):
    assert of(stated, length) == deviation


def test_a_coarser_class_allows_more():
    for length in (4.0, 20.0, 100.0, 300.0):
        found = [of(f"ISO 2768-{c}", length) for c in "fmcv"]
        assert found == sorted(found) and len(set(found)) == 4


def test_a_statement_of_ones_own_has_no_table():
    assert general_deviations("±0.005 in unless stated") == ()
