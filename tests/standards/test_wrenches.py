"""Wrench sizes against the flats of standard nuts."""

import numpy as np
import pytest

from parts.standards.jamnuts import jam_nut
from parts.standards.wrenches import nearest_wrench, wrench_sizes


@pytest.mark.parametrize(
    "size", ["M6", "M8", "M10", "M12", "M16", "M20", "1/4-28", "3/8-24", "1/2-20", "3/4-16"]
)
def test_every_standard_nut_has_its_wrench(size):
    flats = jam_nut(size).across_flats
    assert nearest_wrench(flats) == pytest.approx(flats, abs=0.01)


def test_many_at_once():
    assert nearest_wrench(np.array([[12.9], [17.2]])).tolist() == [[13.0], [17.0]]
    assert nearest_wrench([14.1, 14.25]) == pytest.approx([14.0, 9 / 16 * 25.4])
    assert (np.diff(wrench_sizes()) > 0.0).all()
