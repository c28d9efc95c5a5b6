"""Reading inch sizes and data files, and the error that names what stands nearest."""

from __future__ import annotations

import pickle
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parts.standards import designation as d


@pytest.mark.parametrize(
    ("text", "inch"),
    [
        ("3/8", Fraction(3, 8)),
        ('3/8"', Fraction(3, 8)),
        ("3/8 in", Fraction(3, 8)),
        ("1-1/4", Fraction(5, 4)),
        ("1 1/4", Fraction(5, 4)),
        ("1 - 1/4 inches", Fraction(5, 4)),
        ("0.065", Fraction(65, 1000)),
        (".375", Fraction(3, 8)),
        ("2", Fraction(2)),
        ("No. 10", Fraction(190, 1000)),  # ASME B1.1: No. 10 is 0.1900 in
        ("No.4", Fraction(112, 1000)),  # ASME B1.1: No. 4 is 0.1120 in
        ("#10", Fraction(190, 1000)),
    ],
)
def test_inch_sizes_as_written(text, inch):
    assert d.inches(text) == inch
    assert d.inch_to_mm(text) == pytest.approx(float(inch) * d.MM_PER_INCH, rel=1e-15)


@settings(deadline=None)
@given(st.integers(0, 12), st.integers(1, 63))
def test_mixed_fraction_round_trip(whole, over_64):
    value = whole + Fraction(over_64, 64)
    part = value - whole
    text = f"{whole}-{part}" if whole else str(part)
    assert d.inches(text) == value


@pytest.mark.parametrize("text", ["", "three", "3/0", "#44", "3//8", "1,25", "-3/8", "1.2.3"])
def test_unreadable_inch_size_is_refused(text):
    with pytest.raises(d.UnknownDesignation) as caught:
        d.inches(text)
    assert caught.value.kind == "inch size"
    assert caught.value.value == text


def test_error_says_what_and_what_is_nearest():
    reason = "M10 has no pitch of 1.4 mm"
    error = d.UnknownDesignation("thread", "M10x1.4", reason, ["M10x1.5", "M10"])
    assert str(error) == "thread 'M10x1.4': M10 has no pitch of 1.4 mm; nearest: M10x1.5, M10."
    assert isinstance(error, ValueError)
    again = pickle.loads(pickle.dumps(error))
    assert (again.kind, again.nearest, str(again)) == (error.kind, error.nearest, str(error))


def test_nearest_names_ignore_spelling_habits():
    names = ["3/8-24 UNF", "3/8-16 UNC", "M10x1.25"]
    assert d.nearest_names("3/8 24unf", names)[0] == "3/8-24 UNF"
    assert d.nearest_names("m10 X 1.25", names)[0] == "M10x1.25"
    assert d.nearest_names("zzzz", names) == ()


def test_nearest_sizes():
    assert d.nearest_sizes(1.4, {"a": 1.0, "b": 1.5, "c": 1.25}, 2) == ("b", "c")


def test_table_that_is_not_there():
    with pytest.raises(FileNotFoundError):
        d.read_table("no_such_table")
