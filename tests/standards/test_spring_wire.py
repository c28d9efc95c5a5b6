"""Spring wire: what its table prints, and what it refuses."""

import pytest

from parts.standards.designation import UnknownDesignation
from parts.standards.materials.spring_wire import spring_wire

PRINTED = [
    # Shigley, 10th ed., solutions: problem 10-3 (A228 of 2.5 mm); the rest of table 10-4 at 1 mm; EN 10270-1, table 3,
    # which rounds to tens, from memory.
    ("ASTM A228", 2.5, 1936.0, 1.0),
    ("ASTM A228", 1.0, 2211.0, 0.5),
    ("ASTM A313", 1.0, 1867.0, 0.5),
    ("EN 10270-1 SH", 1.0, 2230.0, 15.0),
    ("EN 10270-1 SH", 2.0, 1980.0, 15.0),
    ("EN 10270-1 SH", 3.0, 1840.0, 15.0),
    ("EN 10270-1 SM", 1.0, 1980.0, 15.0),
    ("EN 10270-1 SM", 2.0, 1760.0, 15.0),
    ("EN 10270-1 SM", 3.0, 1630.0, 15.0),
    ("EN 10270-1 SM", 4.0, 1530.0, 15.0),
]


@pytest.mark.parametrize(("name", "d", "strength", "off"), PRINTED)
def test_strength_is_as_printed(name, d, strength, off):
    assert spring_wire(name, d).strength == pytest.approx(strength, abs=off)


def test_what_no_table_holds_is_refused_with_what_is_near():
    with pytest.raises(UnknownDesignation, match="EN 10270-1 SH"):
        spring_wire("EN 10270-1 XY", 2.0)
    with pytest.raises(UnknownDesignation, match=r"drawn from 0\.1|drawn from 0\.3 to 6\.5 mm"):
        spring_wire("ASTM A228", 8.0)
