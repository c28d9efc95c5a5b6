"""Tap drills, clearance holes and reliefs of threads: shop charts, printed values, formulas and refusals."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parts.standards.designation import MM_PER_INCH, UnknownDesignation, read_table
from parts.standards.threads.drills import drills
from parts.standards.threads.threads import thread, threads


# Tap drills for about 75 % of thread in shop charts (common practice, no source).
@pytest.mark.parametrize(
    ("name", "stock"),
    [("1/4-20", "#7"), ("10-32", "#21"), ("1/4-28", "#3"), ("3/8-24", "Q"), ("5/16-24", "I"),
     ("3/8-16", "5/16"), ("1/2-13", "27/64"), ("1/2-20", "29/64"), ("8-32", "#29"),
     ("M6", "5 mm"), ("M8", "6.8 mm"), ("M10", "8.5 mm"), ("M10x1.25", "8.8 mm"), ("M16", "14 mm")],
)  # fmt: skip
def test_tap_drills(name, stock):
    tap = thread(name).tap_drill()
    assert tap.drill.name == stock
    assert tap.in_limits
    full = 1.299038 * thread(name).pitch
    assert tap.percent == pytest.approx(100 * (thread(name).major - tap.drill.diameter) / full)


@settings(deadline=None)
@given(st.sampled_from(threads()), st.floats(50, 85))
def test_tap_drill_gives_about_what_was_asked(it, percent):
    tap = it.tap_drill(percent)
    step = 0.5 if it.major > 14 else 0.4  # widest gap between two stock drills, mm
    assert abs(tap.hole - tap.drill.diameter) <= step / 2
    assert it.major - tap.hole == pytest.approx(percent / 100 * 1.299038 * it.pitch, rel=1e-6)
    assert tap.in_limits == (tap.minor_min - 1e-6 <= tap.drill.diameter <= tap.minor_max + 1e-6)


def test_tap_drill_outside_the_limits_names_another_inside():
    for tap in (it.tap_drill() for it in threads()):
        inside = [e for e in drills() if tap.minor_min - 1e-6 <= e.diameter <= tap.minor_max + 1e-6]
        if tap.in_limits or not inside:
            assert tap.instead is None
        else:
            assert tap.instead in inside
            assert abs(tap.instead.diameter - tap.hole) == min(
                abs(e.diameter - tap.hole) for e in inside
            )


def test_tap_drill_of_9_16_18():
    # ASME B1.1, 9/16-18 UNF-2B: minor 0.502 to 0.515 in (from memory); 33/64 in is 0.5156 in,
    # 12.9 mm is 0.5079 in.
    tap = thread("9/16-18").tap_drill()
    assert (tap.drill.name, tap.in_limits) == ("33/64", False)
    assert tap.instead is not None and tap.instead.name == "12.9 mm"


@pytest.mark.parametrize("percent", [0, -5, 101])
def test_impossible_percentage_is_refused(percent):
    with pytest.raises(UnknownDesignation, match="up to 100 %"):
        thread("M10").tap_drill(percent)


# ASME B18.2.8 (Machinery's Handbook, 31st ed., p. 1741, table 1a, least holes) in inches, and
# ISO 273 (open charts) in mm.
@pytest.mark.parametrize(
    ("name", "fit", "size"),
    [("4-40", "normal", 0.128), ("4-40", "loose", 0.144), ("5-40", "loose", 0.172),
     ("6-32", "loose", 0.185), ("8-32", "loose", 0.213), ("1/4-20", "loose", 0.297),
     ("5/16-24", "loose", 0.359), ("3/8-24", "loose", 0.422), ("7/16-20", "loose", 0.484),
     ("1/2-20", "loose", 0.609), ("5/8-18", "loose", 0.734), ("3/4-16", "loose", 0.906),
     ("1-12", "loose", 1.156), ("1-1/2-12", "loose", 1.734), ("3/8-24", "normal", 0.406)],
)  # fmt: skip
def test_inch_clearance_holes(name, fit, size):
    hole = thread(name).clearance_hole(fit).diameter / MM_PER_INCH
    # Printed to three places, and drills of numbers cut to three: one unit of the last place.
    assert hole == pytest.approx(size, abs=1.01e-3)


@pytest.mark.parametrize(
    ("name", "fits"),
    [("M5", (5.3, 5.5, 5.8)), ("M6", (6.4, 6.6, 7)), ("M8", (8.4, 9, 10)),
     ("M10", (10.5, 11, 12)), ("M12", (13, 13.5, 14.5)), ("M16", (17, 17.5, 18.5)),
     ("M20", (21, 22, 24)), ("M24", (25, 26, 28)), ("M30", (31, 33, 35)), ("M36", (37, 39, 42))],
)  # fmt: skip
def test_metric_clearance_holes(name, fits):
    it = thread(name)
    assert tuple(it.clearance_hole(f).diameter for f in ("close", "normal", "loose")) == fits
    assert tuple(it.clearance_hole(f).diameter for f in ("fine", "medium", "coarse")) == fits


@pytest.mark.parametrize("row", read_table("clearance_holes"), ids=lambda r: r["size"])
def test_every_clearance_row_is_a_thread_and_grows(row):
    it = next(t for t in threads() if t.size == row["size"])
    holes = [it.clearance_hole(fit).diameter for fit in ("close", "normal", "loose")]
    assert it.major < holes[0] < holes[1] < holes[2]


def test_clearance_hole_refusals():
    with pytest.raises(UnknownDesignation, match="no such fit") as caught:
        thread("M10").clearance_hole("sloppy")
    assert caught.value.nearest == ("close", "normal", "loose")
    with pytest.raises(UnknownDesignation, match=r"ASME B18\.2\.8 has no such size"):
        thread("9/16-18").clearance_hole()
    with pytest.raises(UnknownDesignation, match="ISO 273 has no such size"):
        thread("M15x1").clearance_hole()


# DIN 76-1 (from memory): pitch, bolt undercut below d, g1, g2, r; nut relief above D.
@pytest.mark.parametrize(
    ("name", "below", "clear", "total", "radius", "above"),
    [("M6", 1.6, 2.1, 3.5, 0.6, 0.5), ("M8", 2.0, 2.7, 4.4, 0.6, 0.5),
     ("M10", 2.3, 3.2, 5.2, 0.8, 0.5), ("M12", 2.6, 3.9, 6.1, 1.0, 0.5),
     ("M16", 3.0, 4.5, 7.0, 1.0, 0.5), ("M20", 3.6, 5.6, 8.7, 1.2, 0.5)],
)  # fmt: skip
def test_reliefs(name, below, clear, total, radius, above):
    it = thread(name)
    out = it.relief("external")
    assert (out.diameter, out.clear_width, out.total_width, out.radius) == pytest.approx(
        (it.major - below, clear, total, radius)
    )
    assert it.relief("internal").diameter == pytest.approx(it.major + above)


RELIEVED = [it for it in threads() if 0.5 <= it.pitch <= 4]


def test_relief_clears_the_thread():
    for it in RELIEVED:
        clears(it)


def clears(it):
    bolt, nut = it.relief("external"), it.relief("internal")
    assert bolt.diameter < it.minor_external
    assert nut.diameter > it.major
    for side in (bolt, nut):
        assert it.pitch < side.clear_width < side.total_width
        assert side.radius < side.total_width / 2
        short = it.relief(side.gender, "short")
        assert short.total_width < side.total_width and short.clear_width < side.clear_width


def test_relief_table_is_monotone():
    rows = read_table("thread_reliefs")
    for column in [c for c in rows[0] if c.endswith("_mm")]:
        run = [float(r[column]) for r in rows]
        assert all(a <= b for a, b in pairwise(run)), column
    # DIN 76-1:2004, foreword: the greatest width of a regular bolt undercut is 3.5 P, of a short one
    # 2.5 P; its table rounds to handy figures.
    for r in rows:
        p = float(r["pitch_mm"])
        assert float(r["total_regular_mm"]) == pytest.approx(3.5 * p, abs=0.26)
        assert float(r["total_short_mm"]) == pytest.approx(2.5 * p, abs=0.3)


def test_relief_refusals():
    with pytest.raises(UnknownDesignation, match="no such form"):
        thread("M10").relief(form="long")
    with pytest.raises(UnknownDesignation, match="from a pitch of"):
        thread("M3x0.35").relief()
