"""The passes of a hole, and the rules that its tools set: taps, flat floors, reamers, the drawer."""

import numpy as np
import pytest

from parts.core.drawing import Hole
from parts.core.shop import Milling
from parts.making.process.holes import passes, reaming, tool_rules
from parts.making.process.tools import Drawer
from parts.standards.cutting.cutting import cutting_speed, end_mills
from parts.standards.materials.materials import material
from parts.standards.threads.drills import drill, drills
from parts.standards.threads.threads import thread

Z = np.array([0.0, 0.0, 1.0])
STEEL = material("4130 normalized")


def drawer(*names, mills=(), kinds=("metric",), **more):
    """A drawer of these drills and end mills; what is on sale where none is named."""
    stock = tuple(sorted(map(drill, names))) if names else drills(kinds)
    sizes = [one for one in end_mills("metric") if not mills or one.diameter in mills]
    return Drawer(stock, tuple(sizes), STEEL, 4.0, bool(names), **more)


USUAL = drawer()


def kinds(hole, tools=USUAL):
    return [one.kind for one in passes(hole, tools)]


def broken(hole, tools=USUAL, beyond=2.0):
    return [rule.code for rule in tool_rules(hole, tools, beyond) if not rule.ok]


def tapped(deep, full):
    m6 = thread("M6")
    return Hole("t", (0, 0, 0), -Z, m6.minor_internal, depth=deep, thread=m6, tapped=full)


def test_operations_follow_the_trade():
    steps = {one.kind: one for one in passes(tapped(18.0, 12.0), USUAL)}
    assert list(steps) == ["spot", "drill", "tap"]
    assert (steps["drill"].diameter, steps["drill"].depth) == (5.0, 18.0)  # M6: 5 mm, ISO 2306
    assert (steps["tap"].depth, steps["tap"].tool) == (12.0, "bottoming tap M6x1-6H")
    assert kinds(Hole("r", (0, 0, 0), -Z, 9.525, fit="H7")) == ["spot", "drill", "ream"]
    # Above the chuck a pilot goes first; above 25 mm no drill, and no reamer: the boring head.
    assert kinds(Hole("b", (0, 0, 0), -Z, 35.0, fit="H7")) == ["spot", "drill", "drill", "bore"]
    [one] = [p for p in passes(Hole("e", (0, 0, 0), -Z, 8.731), USUAL) if p.kind == "drill"]
    assert one.tool == "drill 11/32"  # 8.731 mm
    sunk = Hole("c", (0, 0, 0), -Z, 6.6, counterbore=(11.0, 6.0))
    assert kinds(sunk) == ["spot", "drill", "counterbore"]


@pytest.mark.parametrize(
    "deep, full, ok", [(14.0, 14.0, False), (15.9, 14.0, False), (16.0, 14.0, True)]
)
def test_a_tap_needs_two_pitches_beyond_its_thread(deep, full, ok):
    """M6 14 deep, drilled 14 deep: no tap can do that. Its pitch is 1 mm, so that 16 is the least."""
    assert broken(tapped(deep, full)) == ([] if ok else ["process.tap"])


def test_a_plug_tap_asks_for_more():
    assert broken(tapped(16.0, 14.0), beyond=4.0) == ["process.tap"]
    assert broken(tapped(18.0, 14.0), beyond=4.0) == []
    assert Milling().beyond_thread == 2.0


def test_a_flat_floor_gets_a_flat_tool():
    """A drill of 14.5 for a counterbore, of 23.5 for a spotface 1 deep: its point would go through the floor."""
    for hole in (
        Hole("counterbore", (0, 0, 0), -Z, 15.0, depth=5.0),
        Hole("spotface", (0, 0, 0), -Z, 24.0, depth=1.0),
        Hole("seat", (0, 0, 0), -Z, 22.0, fit="M7", depth=20.0),
    ):
        found = list(passes(hole, USUAL))
        assert "drill" not in [one.kind for one in found] and found[-1].to == "floor"
        assert all(one.diameter <= hole.diameter for one in found)
        assert broken(hole) == []
    small = Hole("spotface", (0, 0, 0), -Z, 12.0, depth=1.0)
    assert broken(small, drawer(mills=(16.0, 20.0))) == ["process.flat"]


def test_what_a_drill_keeps_is_drilled_and_a_deep_seat_is_bored():
    """A spring pin's hole Ø3 H12 20 deep was to be milled; a cutter Ø22 was to go 79 deep."""
    pin = Hole("pin", (0, 0, 0), -Z, 3.0, fit="H12", limits=(3.0, 3.1), depth=20.0)
    assert kinds(pin) == ["spot", "drill"] and broken(pin) == []
    # A drill under the least size is no drill for it: the boring head.
    odd = Hole("odd", (0, 0, 0), -Z, 6.02, fit="H12", limits=(6.02, 6.14))
    assert kinds(odd) == ["spot", "drill", "bore"]
    peg = Hole("bolt", (0, 0, 0), -Z, 13.5, through=92.0, counterbore=(22.0, 79.0))
    *_, drill, bore = passes(peg, USUAL)
    # The point of 118 degrees is 0.3 diameters high: 79 - 21.5 x 0.3004 = 72.54.
    assert (drill.kind, drill.diameter, round(drill.depth, 2)) == ("drill", 21.5, 72.54)
    assert (bore.kind, bore.diameter, bore.depth, bore.to) == ("bore", 22.0, 79.0, "floor")
    # No end mill under 10 mm goes 60 deep: drilled, then bored flat.
    assert kinds(Hole("seat", (0, 0, 0), -Z, 10.0, fit="H7", depth=60.0)) == [
        "spot",
        "drill",
        "bore",
    ]


@pytest.mark.parametrize("size", [4.0, 6.35, 9.525, 10.0, 12.0, 19.05, 25.0, 26.0])
@pytest.mark.parametrize("of", [("metric",), ("fractional", "number", "letter")])
def test_a_reamer_is_left_no_more_and_no_less_than_it_takes(size, of):
    """Drill 25, then ream 26: a millimetre is five times what a reamer takes."""
    hole = Hole("r", (0, 0, 0), -Z, size, fit="H7")
    found = [one for one in passes(hole, drawer(kinds=of)) if one.kind in ("drill", "bore", "ream")]
    assert found[-1].kind == "ream" and broken(hole, drawer(kinds=of)) == []
    least, most = reaming(size)
    assert least - 1e-9 <= size - found[-2].diameter <= most + 1e-9


def test_a_drawer_without_the_drill_bores_before_it_reams_and_says_what_it_lacks():
    hole = Hole("r", (0, 0, 0), -Z, 10.0, fit="H7")
    assert kinds(hole, drawer("9 mm", "6 mm")) == ["spot", "drill", "bore", "ream"]
    assert kinds(hole, drawer("9.8 mm")) == ["spot", "drill", "ream"]
    assert broken(tapped(18.0, 12.0), drawer("6.8 mm")) == ["process.tap_drill"]
    assert broken(tapped(18.0, 12.0), drawer("5 mm")) == []
    assert broken(Hole("h", (0, 0, 0), -Z, 3.0), drawer("6.8 mm")) == ["process.drill"]


def test_taps_and_reamers_are_those_of_the_drawer():
    hole = Hole("r", (0, 0, 0), -Z, 10.0, fit="H7")
    assert kinds(hole, drawer(reamers=(8.0, 10.0)))[-1] == "ream"
    assert kinds(hole, drawer(reamers=(8.0,)))[-1] == "bore"
    # A size that is on no list, and the builder has its reamer.
    assert kinds(Hole("r", (0, 0, 0), -Z, 6.05, fit="H7"), drawer(reamers=(6.05,)))[-1] == "ream"
    blind = tapped(16.0, 14.0)
    assert broken(blind, drawer(taps=(thread("M6"), thread("M8")))) == []
    for others in (thread("M8"),), (thread("M6 LH"),), (thread("M6x0.75"),):
        assert broken(blind, drawer(taps=others)) == ["process.tap_size"]


def test_speeds_are_those_of_the_table_at_the_hardness():
    # 4130 normalized: 90 to 95 ksi, some 190 HB; alloy steel up to 225 HB: 50 ft/min.
    speed = cutting_speed(STEEL)
    assert speed.metres == pytest.approx(50 * 0.3048)
    assert speed.rpm(10.0) == pytest.approx(1000 * 50 * 0.3048 / (np.pi * 10.0), rel=0.1)
    assert cutting_speed(material("Ti-6Al-4V annealed")).metres == pytest.approx(40 * 0.3048)
