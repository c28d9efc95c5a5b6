"""What a part takes from a row of a table that another part names."""

from pathlib import Path

import pytest

import parts
from parts.inputs.problems import InputError
from parts.study.dimension import dimension
from parts.vehicle.file.values import _field

PARAMS = Path(__file__).parents[2] / "params"


@pytest.fixture(scope="module")
def strut():
    return parts.load(PARAMS / "hc-102-subframe-link.yaml")


def test_the_strut_takes_thickness_and_width_of_the_seat_gussets_tab(strut):
    """Its clevis stands astride the tab: no eccentric load, as a rod end beside the tab would bring."""
    gusset = parts.load(PARAMS / "hc-109-seat-gusset.yaml")
    throat = strut.end_a.ears.throat
    assert throat.thickness == gusset.thickness == pytest.approx(0.090 * 25.4)
    assert throat.end == gusset.tab.width / 2.0 == 15.0


@pytest.mark.parametrize(
    ("path", "mm"),
    [
        ("end_b.rod_end.bore", 9.525),
        ("end_b.rod_end.thread.pitch", 25.4 / 24),
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
        "end_b.rod_end.source",
        "end_b.rod_end.thread.tpi",
        "end_b.rod_end.swing",
        "end_b.rod_end.thread.x.y",
    ],
)
def test_what_is_no_length_of_a_row_is_not_given(strut, path):
    assert _field(strut, path) is None


@pytest.mark.parametrize(
    ("stem", "path"),
    [
        ("hc-101-seat-strut-clevis", "ears.pin.diameter"),
        ("hc-101-seat-strut-clevis", "ears.pin.material"),
        ("hc-105-foot-bracket-right", "mounts[2].thread"),
        ("hc-105-foot-bracket-right", "spring.diameter"),
    ],
)
def test_what_a_row_gives_is_not_varied_by_itself(stem, path):
    part = parts.load(PARAMS / f"{stem}.yaml")
    with pytest.raises(InputError, match=r"has no dimension"):
        dimension(part, path)
