"""What a sheet must say and once did not: the turn of a shank, roots of forks, grooves, threads by their class."""

import brackets
import clevises
import links
import numpy as np
import pytest
import torsion_arms
from by_turns import by_turns
from making.process.held import plans

from parts.making.bench.dimensioning import angle_ink
from parts.making.bench.field import Field
from parts.making.bench.files import sharp_solids, sheets
from parts.making.bench.legible import unreadable
from parts.making.bench.measured import faces_of, measured
from parts.making.model import model
from parts.standards.threads.threads import thread


def _marks(part):
    (drawn,) = part.drawn()
    return drawn.marks


@pytest.mark.parametrize(
    ("shank", "changes", "note"),
    [
        (
            "male thread with neck",
            {"clocking": "30 deg"},
            "Wrench flats turned 30° clockwise against the ears, seen from the shank's end.",
        ),
        pytest.param(
            "counterbored pad",
            {"clocking": "-15 deg", "root_fillet": "1.5 mm"},
            "Pad turned 15° anticlockwise against the ears, seen from the shank's end.",
            marks=pytest.mark.slow,
        ),
        pytest.param(
            "spigot", {"clocking": "45 deg", "root_fillet": "1 mm"}, None, marks=pytest.mark.slow
        ),
    ],
)
def test_a_clocked_shank_is_drawn_and_says_its_turn(shank, changes, note):
    part = clevises.clevis(shank, **changes)
    marks = _marks(part)
    assert [n for n in marks.notes if "turned" in n] == ([note] if note else [])
    assert [one for one in measured(marks, part.pieces[0].solid.val()) if not one.ok] == []
    # refuses a sheet on which no view shows a dimension, or that cannot be read
    assert [*sheets(part, model(part), sharp_solids(part))]


def test_the_turn_is_that_of_the_solid():
    """Seen from the shank's end, y up, z lies to the right: a turn from y toward z is clockwise."""
    part = clevises.clevis("male thread with neck", clocking="30 deg")
    flats = [np.array(f.normalAt().toTuple()) for f in part.pieces[0].solid.faces("#X").vals()]
    wanted = np.array([0.0, np.cos(np.radians(30)), np.sin(np.radians(30))])
    assert sum(abs(n @ wanted) > 1.0 - 1e-9 for n in flats if abs(n[0]) < 1e-9) == 2


@pytest.mark.parametrize("angle", [8.0, 12.0, 20.0, 90.0])
def test_the_legs_of_a_small_angle_miss_its_figures(angle):
    lean = np.radians(90.0 - angle)
    legs = np.array([0.0, 1.0]), np.array([np.cos(lean), np.sin(lean)])
    ink = angle_ink(Field(), np.zeros(2), *legs, f"{angle:g}°")
    assert ink is not None
    assert unreadable(ink) == []


def test_a_circlip_groove_is_no_hole_to_bore_from_its_mouth():
    marks = _marks(brackets.bracket("seat"))
    groove = next(one for one in marks.dimensions if one.name == "groove of pedal")
    diameter, width, ends = (float(size.value) for size in groove.sizes)
    # DIN 472 for 35 mm: groove 37 mm, 1.6 mm wide for the circlip of 1.5 mm; the ring is 11 mm wide
    assert (diameter, width) == (37.0, pytest.approx(1.6, abs=1e-9))
    assert ends == pytest.approx(11.0 + 1.6, abs=1e-9)
    bores = [h.diameter for h in marks.holes if h.name.startswith("pedal")]
    assert 37.0 not in bores
    assert bores.count(35.0) == 1


def test_the_root_of_a_fork_is_stated():
    name = next(
        n for n, o in brackets.OPTIONS.items() if o.get("peg", {}).get("type") == "clevised"
    )
    part = brackets.bracket(name)
    fork = next(one for one in _marks(part).dimensions if one.name == "fork of the peg")
    roots = [size.value for size in fork.sizes if size.name.startswith("root fillet")]
    assert roots == [part.peg.fillet]


@pytest.mark.parametrize(
    ("hand", "clear", "tapped"),
    [("right", "the right", "the left"), ("left", "the left", "the right")],
)
def test_a_tapped_ear_of_a_fork_is_called_out_as_such(hand, clear, tapped):
    """It was drawn as a plain hole of the thread's minor diameter, and no set-up tapped it."""
    name = next(
        n for n, o in brackets.OPTIONS.items() if o.get("peg", {}).get("type") == "clevised"
    )
    peg = brackets.OPTIONS[name]["peg"]
    pin = {**peg["ears"]["pin"], "hole": {"type": "tapped", "thread": "M8"}}
    pin = {key: value for key, value in pin.items() if key not in ("bolt", "nut", "clevis_pin")}
    pin |= {"diameter": "8 mm", "material": "4130 Q&T 125 ksi"}
    part = brackets.bracket(name, hand=hand, peg={**peg, "ears": {**peg["ears"], "pin": pin}})
    holes = {one.name: one for one in _marks(part).holes if one.noted}
    assert holes["peg, tapped ear"].thread == thread("M8")
    for of, side in (("peg, pin hole", clear), ("peg, tapped ear", tapped)):
        assert holes[of].callout == f"in the ear toward {side} of the front view"
    (one,) = plans(part)
    taps = [step for setup in one.setups for step in setup.steps if step.kind == "tap"]
    assert any("peg, tapped ear" in step.makes and "M8x1.25" in step.tool for step in taps)


@pytest.mark.parametrize("clocking", by_turns(["20 deg", "0 deg"]))
def test_the_pinch_bolts_stand_as_far_apart_as_the_sheet_says(clocking):
    bore = {**torsion_arms.CLAMP, "clocking": clocking}
    part = torsion_arms.arm(hub__bore=bore, hub__diameter="54 mm")
    apart = [one.value for one in _marks(part).dimensions if one.name.startswith("pinch bolts")]
    solid = part.pieces[0].solid
    turn = np.radians(float(clocking.split()[0]))
    along = np.array([-np.sin(turn), np.cos(turn), 0.0])
    places = {
        round(float(one.place[2]), 4)
        for one in faces_of(solid.val()).rounds
        if one.kind == "cylinder" and abs(one.axis @ along) > 1.0 - 1e-6
    }
    assert len(places) == 2
    assert apart == [pytest.approx(max(places) - min(places))]


@pytest.mark.parametrize(
    ("named", "gender", "called"),
    [
        ("3/8-24 UNF LH", "internal", "3/8-24 UNF-2B-LH"),
        ("3/8-24 UNF-3A LH", "external", "3/8-24 UNF-3A-LH"),
        ("M14x1.5 LH", "external", "M14x1.5-6g-LH"),
        ("M8", "internal", "M8x1.25-6H"),
    ],
)
def test_a_thread_is_called_out_with_its_class_and_its_hand_last(named, gender, called):
    assert thread(named).called(gender) == called
    assert thread(called).hand == thread(named).hand


@pytest.mark.parametrize("clocking", ["0 deg", "20 deg"])
def test_the_hinge_relief_is_a_hole_with_its_place(clocking):
    bore = {**torsion_arms.CLAMP, "relief": "5 mm", "clocking": clocking}
    part = torsion_arms.arm(hub__bore=bore, hub__diameter="60 mm")
    marks = _marks(part)
    relief = next(hole for hole in marks.holes if hole.name == "hinge relief")
    turn = np.radians(float(clocking.split()[0]))
    # half the bore of 24.02 mm and a quarter of the relief, opposite the slit
    assert relief.place[:2] == pytest.approx(13.26 * np.array([np.cos(turn), np.sin(turn)]))
    assert any(
        one.name == "bar to the hinge relief" and one.value == pytest.approx(13.26)
        for one in marks.dimensions
    )


@pytest.mark.parametrize("shank", ["male thread with neck", "female thread"])
def test_wrench_flats_are_stated_with_their_length(shank):
    part = clevises.clevis(shank)
    grip = getattr(part.shank, "neck", part.shank)
    named = {one.name: one for one in _marks(part).dimensions}
    # from where the root fillet ends to the end of the round that they are milled on
    wanted = float(grip.length) - float(part.root_fillet)
    assert named["length of the flats"].value == pytest.approx(wanted)


def test_the_diameter_of_a_flatted_bar_is_shown_from_its_end():
    part = links.turnbuckle(body=links.BODIES["flatted, no witness holes"])
    named = {one.name: one for one in _marks(part).dimensions}
    assert named["outside diameter"].view == named["across flats"].view == "left"
    assert [*sheets(part, model(part), sharp_solids(part))]


def test_points_of_a_bracket_in_line_have_one_dimension():
    part = brackets.bracket("plain", mounts__1={"at": ["75 mm", "85 mm"], "bolt": "M8 10.9"})
    first, *points = part.fixtures()
    wanted = {
        (name, round(float(one.place[k] - first.place[k]), 6))
        for one in points
        for k, name in enumerate("xy")
        if abs(one.place[k] - first.place[k]) > 1e-6
    }
    stated = [
        (name, round(float(one.end[k] - one.start[k]), 6))
        for one in _marks(part).dimensions
        for k, name in enumerate("xy")
        if one.name.endswith(f", {name}")
    ]
    # every level once, though two of the mounts stand at one height
    assert sorted(stated) == sorted(wanted)
    assert len(stated) < 2 * len(points)
