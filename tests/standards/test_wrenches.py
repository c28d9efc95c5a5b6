"""Wrench sizes against widths across flats as they are printed."""

import numpy as np
import pytest

from parts.standards.fasteners.wrenches import nearest_wrench, wrench_sizes


# M6, M8, M10, M12, M16, M20 of ISO 4032 and 1/4, 3/8, 1/2, 3/4 of ASME B18.2.2 [mm], as the open fastener tables
# iso4032def.csv and asmeb18.2.2.5def.csv print them.
@pytest.mark.parametrize("flats", [10, 13, 16, 18, 24, 30, 11.1125, 14.2875, 19.05, 28.575])
def test_every_standard_nut_has_its_wrench(flats):
    assert nearest_wrench(flats) == pytest.approx(flats, abs=0.01)
    assert nearest_wrench(flats + 0.1) == pytest.approx(flats, abs=0.01)


def test_many_at_once():
    assert nearest_wrench(np.array([[12.9], [17.2]])).tolist() == [[13.0], [17.0]]
    assert nearest_wrench([14.1, 14.25]) == pytest.approx([14.0, 9 / 16 * 25.4])
    assert (np.diff(wrench_sizes()) > 0.0).all()
