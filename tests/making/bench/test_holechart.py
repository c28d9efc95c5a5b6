"""The hole chart: places from the datum, tools in order, and the depth of each."""

import csv
import io

import numpy as np
import pytest

from parts.core.drawing import Datum, Drawn, Hole, Marks, View
from parts.making.bench.figures import Figures
from parts.making.bench.holechart import csv_bytes, depth_words, hole_chart, operations
from parts.standards.threads.drills import drills
from parts.standards.threads.threads import thread

Z = np.array([0.0, 0.0, 1.0])


def sheet(*holes):
    return Drawn(
        right=(1, 0, 0),
        up=(0, 1, 0),
        views=(View("front"),),
        marks=Marks(holes=tuple(holes)),
        datum=Datum((5.0, -2.0, 10.0), "lower left corner"),
    )


def kinds(hole, units="mm"):
    return [one.kind for one in operations(hole, units)]


def test_places_are_measured_from_the_datum_in_the_view_of_the_spindle():
    near = Hole("near", (25.0, 8.0, 10.0), -Z, 6.6, through=10.0)
    (setup,) = hole_chart(sheet(near), "mm")
    (spot,) = setup.spots
    assert (setup.side, spot.label) == ("front", "A1")
    assert (spot.x, spot.y, spot.z) == (20.0, 10.0, 0.0)


def test_a_hole_from_behind_is_another_set_up_seen_from_behind():
    far = Hole("far", (25.0, 8.0, 0.0), Z, 6.6, through=10.0)
    (setup,) = hole_chart(sheet(far), "mm")
    (spot,) = setup.spots
    # From behind, x runs the other way and the face lies 10 mm above the datum.
    assert (setup.side, spot.x, spot.y, spot.z) == ("back", -20.0, 10.0, 10.0)


def test_operations_follow_the_trade():
    m6 = thread("M6")
    tapped = Hole(
        "t", (0, 0, 0), -Z, m6.minor_internal, depth=18.0, thread=m6, tapped=12.0, countersink=6.6
    )
    assert kinds(tapped) == ["spot", "drill", "countersink", "tap"]
    steps = {one.kind: one for one in operations(tapped, "mm")}
    assert (steps["drill"].diameter, steps["drill"].depth) == (5.0, 18.0)  # M6: 5 mm, ISO 2306
    assert (steps["tap"].depth, steps["tap"].tool) == (12.0, "M6x1")
    reamed = Hole("r", (0, 0, 0), -Z, 9.525, fit="H7", limits=(9.525, 9.540))
    assert kinds(reamed) == ["spot", "drill", "ream"]
    bored = Hole("b", (0, 0, 0), -Z, 35.0, fit="H7")
    assert kinds(bored) == ["spot", "drill", "bore"]
    # The point of a drill would go through the floor of a seat or a spotface (common practice).
    assert kinds(Hole("f", (0, 0, 0), -Z, 22.0, fit="H7", depth=8.0)) == [
        "spot",
        "counterbore",
        "bore",
    ]
    assert kinds(Hole("f", (0, 0, 0), -Z, 24.0, depth=1.0)) == ["spot", "counterbore"]
    # The largest stock drill under 26 mm is 25 mm: too much for a reamer.
    assert kinds(Hole("w", (0, 0, 0), -Z, 26.0, fit="H7")) == ["spot", "drill", "bore"]
    [drill] = [
        one for one in operations(Hole("e", (0, 0, 0), -Z, 8.731), "mm") if one.kind == "drill"
    ]
    assert drill.tool == "11/32"  # 8.731 mm
    [drill] = [
        one
        for one in operations(Hole("o", (0, 0, 0), -Z, 2.5, one_wall=True), "mm")
        if one.kind == "drill"
    ]
    assert depth_words(drill, Figures("mm")) == "one wall"
    # No reamer is sold for an M7, for 12.05 mm, or to the floor of a blind seat.
    for more in ({"fit": "M7"}, {"fit": "H7", "depth": 20.0}):
        assert kinds(Hole("s", (0, 0, 0), -Z, 22.0, **more)) == ["spot", "drill", "bore"]
    assert kinds(Hole("p", (0, 0, 0), -Z, 12.05, fit="H7")) == ["spot", "drill", "bore"]
    sunk = Hole("c", (0, 0, 0), -Z, 6.6, counterbore=(11.0, 6.0))
    assert kinds(sunk) == ["spot", "drill", "counterbore"]


@pytest.mark.parametrize("units", ["mm", "in", "both"])
@pytest.mark.parametrize("diameter", [4.0, 6.35, 9.525, 12.0, 19.05, 35.0])
def test_the_drill_before_a_reamer_is_a_stock_drill_that_leaves_metal(diameter, units):
    hole = Hole("r", (0, 0, 0), -Z, diameter, fit="H7")
    drill = next(one for one in operations(hole, units) if one.kind == "drill")
    assert any(abs(each.diameter - drill.diameter) < 1e-9 for each in drills())
    assert diameter - 10.5 < drill.diameter <= diameter - 0.1


def test_each_tool_goes_in_once_and_in_order():
    holes = [Hole(f"h{i}", (10.0 * i, 0, 10), -Z, 6.6, through=10.0) for i in range(4)]
    m6 = thread("M6")
    holes.append(
        Hole("t", (50.0, 0, 10), -Z, m6.minor_internal, depth=18.0, thread=m6, tapped=12.0)
    )
    (setup,) = hole_chart(sheet(*holes), "mm")
    steps = setup.steps()
    assert [one.kind for one, _ in steps] == ["spot", "drill", "drill", "tap"]
    assert steps[0][1] == ("A1", "A2", "A3", "A4", "A5")
    assert [one.diameter for one, _ in steps[1:3]] == [5.0, 6.6]


def test_the_table_for_a_spreadsheet_reads_back():
    hole = Hole("h", (25.0, 8.0, 10.0), -Z, 6.6, depth=12.0)
    drawn = sheet(hole)
    *rows, last = csv.DictReader(io.StringIO(csv_bytes(hole_chart(drawn, "mm"), drawn).decode()))
    assert last["from"].startswith("Caution: ")
    assert [row["operation"] for row in rows] == ["spot", "drill"]
    assert float(rows[1]["x_mm"]) == 20.0 and float(rows[1]["depth_mm"]) == 12.0
    assert float(rows[1]["x_in"]) == pytest.approx(20.0 / 25.4, abs=1e-4)
    assert {row["datum"] for row in rows} == {"lower left corner"}


def test_figures_are_written_as_a_drawing_writes_them():
    assert Figures("mm").length(12.700) == "12.7"
    assert Figures("mm").length(30.0) == "30"
    assert Figures("mm").length(9.525, fine=True) == "9.525"
    assert Figures("in").length(9.525) == "0.375"
    assert Figures("both").length(25.4) == "25.4 [1.000]"
    assert Figures("mm").deviation(0.015) == "+0.015"
    assert Figures("mm").deviation(0.0) == "0"
    assert Figures("mm").angle(np.radians(22.5)) == "22.5°"
