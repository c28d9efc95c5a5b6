"""Assembly sheets of welded parts: balloons, pieces, symbols of welds, and distances that are those of the solids."""

from functools import cache
from pathlib import Path

import numpy as np
import pytest
from clevises import clevis

import parts
from parts.core.drawing import Angle, Balloon, Weld
from parts.families import families
from parts.making.bench.figures import Figures
from parts.making.bench.ink import Arc, Letters, Line, extent
from parts.making.bench.legible import unreadable
from parts.making.bench.toleranced import signs
from parts.making.bench.views import NoRoom
from parts.making.bench.weld_sheet import weld_drawn, weld_sheet
from parts.making.bench.weld_signs import LEVEL, SIDE, Numbered, WeldSign


@cache
def welded(name):
    if name == "link":
        (path,) = Path("params").glob("hc-102*.yaml")
        return parts.load(path)
    if name in CLEVISES:
        return clevis(name)
    if name in TUBES:
        tube = families()["coped tube"]
        return tube.model_validate({**tube.example, **TUBES[name]})
    if name in GUSSETS:
        gusset = families()["gusset plate"]
        return gusset.model_validate({**gusset.example, **GUSSETS[name]})
    return families()["frame tab"].model_validate(dict(families()["frame tab"].examples[int(name)]))


@cache
def sheet_of(name):
    part = welded(name)
    return weld_sheet(part, part.weldment(), 0.2).numbered(1, 1)


ACROSS = {
    "type": "across",
    "at_a": "80 mm",
    "at_b": "80 mm",
    "width_a": "50 mm",
    "width_b": "44 mm",
}
GUSSETS = {
    "corner": {},
    "astride": {"arrangement": {"type": "pair astride", "spacing": "12 mm"}},
    "across": {"plate": ACROSS},
}
TUBES = {
    "coped": {},
    "square on boxes": {
        "a": {"type": "on a box", "tube": "40 x 40 x 3 mm"},
        "b": {"type": "on a box", "tube": "50 x 40 x 3 mm"},
    },
}
CLEVISES = ["spigot", "spigot on a stub", "foot", "leaning foot"]
SLOW = ("link", "coped", "square on boxes", "astride", "across", "spigot on a stub", "foot")
NAMES = ["link", "0", "1", *GUSSETS, *TUBES, *CLEVISES]


@pytest.mark.parametrize(
    "name",
    [pytest.param(one, marks=[pytest.mark.slow] if one in SLOW else []) for one in NAMES],
)
def test_the_sheet_can_be_read_and_names_every_piece(name):
    part, sheet = welded(name), sheet_of(name)
    assert unreadable(sheet.ink) == []
    texts = [one.text for one in sheet.ink if isinstance(one, Letters)]
    of = part.weldment()
    for number, member in enumerate(of.members, 1):
        assert str(number) in texts
        assert any(member.piece in text and "1 off" in text for text in texts)
    assert {"PIECES", "SEQUENCE", "AFTER WELDING"} <= set(texts)
    assert min(one.height for one in sheet.ink if isinstance(one, Letters)) >= 2.5


def test_the_link_states_what_its_jig_holds_and_its_welds():
    """Groove welds through the wall of 1.24 mm (0.049 in), root gap 1, all round, ERTi-9."""
    part, sheet = welded("link"), sheet_of("link")
    texts = [one.text for one in sheet.ink if isinstance(one, Letters)]
    long = float(part.link.body)
    assert f"{long:.2f}".rstrip("0").rstrip(".") in texts
    assert texts.count("1.24") == 2 and texts.count("gap 1, ERTi-9") == 2
    sides = [one for one in part.weldment().welds if one.all_round and one.kind == "bevel"]
    assert len(sides) == 2


def test_the_toes_of_a_gusset_are_measured_from_the_crossing_of_its_tubes():
    """Leg 110 and, at 62 deg, the inner corner (b + a cos 62) / sin 62 along tube A; a, b: half the tube, gap 0.2."""
    (toe, *_) = welded("corner").weldment().jig
    a, b = 31.75 / 2 + 0.2, 25.4 / 2 + 0.2
    assert toe.value == pytest.approx(
        110 + (b + a * np.cos(np.radians(62))) / np.sin(np.radians(62))
    )
    # The sequence tells the welder to check the angle, and the sheet says which: it is measured on the tubes.
    (angle,) = [one for one in welded("corner").weldment().jig if isinstance(one, Angle)]
    assert np.degrees(angle.value) == pytest.approx(62.0)
    (*_, apart) = welded("astride").weldment().jig
    assert apart.value == pytest.approx(12 + 0.090 * 25.4)


def test_a_coped_tube_stands_between_its_neighbours():
    """320 between its points; of boxes 40 deep at both ends it is 280 from face to face."""
    assert welded("coped").weldment().jig == ()
    (between,) = welded("square on boxes").weldment().jig
    assert (between.start[0], between.value) == (pytest.approx(20.0), pytest.approx(280.0))
    assert [weld.size for weld in welded("coped").weldment().welds] == pytest.approx(
        [3.0, 1.5 * 1.651]
    )
    assert any("60.0° and 75.0°" in said for said in welded("coped").weldment().sequence)


def test_a_distance_that_the_solids_do_not_have_is_refused():
    from dataclasses import replace

    part = welded("link")
    of = part.weldment()
    wrong = replace(of.jig[0], value=of.jig[0].value + 0.5)
    with pytest.raises(NoRoom, match="over the faces of the bungs"):
        weld_sheet(part, replace(of, jig=(wrong,)), 0.2)


def test_the_symbols_follow_the_standard_asked_for():
    """ISO 2553 system A: arrow side on the full line, dashes beside it; AWS A2.4: arrow side below, no dashes."""
    part = welded("0")
    american = part.model_copy(
        update={"drawing": part.drawing.model_copy(update={"weld_symbols": "AWS A2.4"})}
    )
    asked = [
        weld_drawn(one, part.weldment()).marks.dimensions[-1].signs[0].american
        for one in (part, american)
    ]
    assert asked == [False, True]
    iso, aws = (WeldSign("fillet", "z3", american=us).ink(0.0, 0.0, 1.0) for us in (False, True))
    assert [one.layer for one in iso].count("hidden") == 1 and [one.layer for one in aws].count(
        "hidden"
    ) == 0
    triangle = [
        np.vstack([i.points for i in ink if isinstance(i, Line) and np.ptp(i.points[:, 1]) > 1.0])
        for ink in (iso, aws)
    ]
    assert triangle[0][:, 1].max() == pytest.approx(LEVEL + SIDE) and triangle[0][
        :, 1
    ].min() == pytest.approx(LEVEL)
    assert triangle[1][:, 1].min() == pytest.approx(LEVEL - SIDE)


def test_both_sides_and_all_round_are_drawn():
    ink = WeldSign("fillet", "z3", "ER70S-2", both=True, all_round=True).ink(0.0, 0.0, -1.0)
    assert sum(isinstance(one, Arc) for one in ink) == 1
    sizes = [one for one in ink if isinstance(one, Letters) and one.text == "z3"]
    assert len(sizes) == 2 and not any(one.layer == "hidden" for one in ink)
    assert unreadable(ink) == []


@pytest.mark.parametrize("hand", [1.0, -1.0])
@pytest.mark.parametrize("kind", ["fillet", "bevel", "square"])
def test_a_symbol_keeps_to_its_room(kind, hand):
    sign = WeldSign(kind, "z2.5", "gap 1, ERTi-9", all_round=True)
    low, high = extent(sign.ink(0.0, 0.0, hand))
    assert low[0] >= -2.3 and high[0] <= sign.width + 2.3


def test_a_fillet_is_stated_by_its_leg():
    """ISO 2553 writes z before a leg; AWS A2.4 the size alone."""
    weld = Weld("w", (0, 0, 0), "fillet", 2.5)
    (iso,) = signs([weld], Figures("mm"))
    (aws,) = signs([Weld("w", (0, 0, 0), "fillet", 2.54, american=True)], Figures("in"))
    assert (iso.size, aws.size) == ("z2.5", "0.100")
    assert signs([Balloon(3, (0, 0, 0))], Figures("mm")) == (Numbered(3),)
