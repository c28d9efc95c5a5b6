"""What a part takes from a row of a table that another part names."""

from pathlib import Path

import pytest

import parts
from parts.build.values import _field

PARAMS = Path(__file__).parents[2] / "params"


@pytest.fixture(scope="module")
def strut():
    return parts.load(PARAMS / "hc-102-subframe-link.yaml")


def test_the_seat_gusset_takes_the_ball_and_spacers_of_the_strut(strut):
    """A 3/8 in rod end has a ball of 1/2 in (SAE series); 3 mm of spacer on each side."""
    tab = parts.load(PARAMS / "hc-109-seat-gusset.yaml").tab
    assert tab.beside == pytest.approx(12.7 + 2 * 3.0)
    assert tab.beside == strut.end_a.rod_end.ball_width + 2 * strut.end_a.spacer


@pytest.mark.parametrize(
    ("path", "mm"),
    [
        ("end_a.rod_end.bore", 9.525),
        ("end_a.rod_end.thread.pitch", 25.4 / 24),
        ("end_b.rod_end.thread.major", 9.525),
        ("body.tube.width_mm", 19.05),
        ("body.tube.wall_mm", 0.049 * 25.4),
    ],
)
def test_lengths_of_rows(strut, path, mm):
    value, kind = _field(strut, path)
    assert value == pytest.approx(mm) and kind.name == "length"


@pytest.mark.parametrize(
    "path",
    [
        "end_a.rod_end.source",
        "end_a.rod_end.thread.tpi",
        "end_a.rod_end.swing",
        "end_a.rod_end.thread.x.y",
    ],
)
def test_what_is_no_length_of_a_row_is_not_given(strut, path):
    assert _field(strut, path) is None
