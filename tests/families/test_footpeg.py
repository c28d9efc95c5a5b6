"""A footpeg's checks worked by hand: pegs that fall short, and the nearest that hold."""

import numpy as np
import pytest
from pydantic import ValidationError

from parts.core.supports import NotProved
from parts.families.footpeg.family import Footpeg

SOLID, HOLLOW, BOLTED, FOLDING, FABRICATED = Footpeg.examples
SHORT, HOLDS = False, True


def peg(data=SOLID, **changes):
    return Footpeg.model_validate({**data, **changes})


def load(at, down, **more):
    return [{"name": "load", "forces": [{"at": at, "force": [0, 0, f"{-down} N"]}], **more}]


def named(part, name):
    return next(one for one in part.check().checks if one.name == name)


@pytest.mark.parametrize(("force", "ok"), [(1400.0, SHORT), (1300.0, HOLDS)])
def test_the_foot_bends_the_undercut(force, ok):
    # 7075-T6, M18x1.5: undercut 15.7; F·(59.5 + 4.05)/(pi/32·15.7³) of 517.1 MPa, 2.25 wanted.
    part = peg(HOLLOW, loads=load("foot", force))
    found = named(part, "critical section, ultimate")
    groove = part.shank.thread.relief("external")
    run_out = groove.total_width - (part.shank.thread.major - groove.diameter) / 2.0
    bent = force * (0.7 * 85.0 + run_out) / (np.pi / 32.0 * groove.diameter**3)
    assert found.demand == pytest.approx(bent, rel=2e-3)
    assert found.ok == part.check().ok == ok


@pytest.mark.parametrize(("force", "ok"), [(1000.0, SHORT), (900.0, HOLDS)])
def test_a_blow_on_the_end_bends_it_more(force, ok):
    part = peg(HOLLOW, loads=load("end", force))
    assert part.check().ok == ok


def test_a_knurl_is_stated_by_form_pitch_length_and_what_is_turned_before_it():
    """DIN 82, form RGE: rolled up to 32 mm over it from 32 - 0.67 x 1.6 = 30.93 mm."""
    part = peg(knurl={"pitch": "1.6 mm"}, diameter="32 mm")
    (said,) = [one for one in part.drawn()[0].marks.dimensions if one.name == "knurl"]
    assert "DIN 82 - RGE 1.6" in said.text and "32.00 mm over it" in said.text
    assert "turned to 30.93 mm" in said.text and not part.drawn()[0].marks.notes


def test_a_knurl_takes_its_depth_from_a_thin_wall():
    # 20.2 bored 15, grooves 0.8 deep: 18.6 counts; F·(60 - 0.4)/(pi/32·(18.6⁴ - 15⁴)/18.6), shear added.
    part = peg(
        HOLLOW, diameter="20.2 mm", bore="15 mm", bored="49 mm", flats=None, length="78 mm", foot="60 mm",
        shank=HOLLOW["shank"] | {"thread": "M16x1.5"}, knurl={"pitch": "1.6 mm"}, loads=load("foot", 500.0),
    )  # fmt: skip
    modulus = np.pi / 32.0 * (18.6**4 - 15.0**4) / 18.6
    area = np.pi / 4.0 * (18.6**2 - 15.0**2)
    stress = np.hypot(500.0 * (60.0 - 0.4) / modulus, np.sqrt(3.0) * 2.0 * 500.0 / area)
    assert named(part, "under the knurl, ultimate").demand == pytest.approx(stress, rel=1e-3)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"bored": "60 mm"}, "too near the thread"),
        ({"bore": "29 mm"}, "too thin a wall"),
        ({"foot": "100 mm"}, "beyond the end"),
        ({"length": "3 mm"}, "wrong unit"),
        ({"knurl": {"pitch": "3 mm"}}, "DIN 82"),
        ({"knurl": {"pitch": "1.3 mm"}}, "DIN 82"),
        ({"flats": {"across": "18 mm", "length": "13 mm"}}, "wrench|shoulder|deep"),
    ],
)
def test_what_cannot_be_made_is_told(changes, says):
    with pytest.raises(ValidationError, match=says):
        peg(HOLLOW, **changes)


@pytest.mark.parametrize(("force", "ok"), [(2050.0, SHORT), (1800.0, HOLDS)])
def test_the_grooves_of_teeth_crack_on_their_bottom(force, ok):
    """A bolted peg of 7075-T6, 34 over teeth 2 mm deep, bored 22: the sharp groove counts three times the stress of
    what is left, (34⁴ - 22⁴)/34 over (30⁴ - 22⁴)/30 = 1.78 times that of the bar."""
    part = peg(
        BOLTED, teeth={"pitch": "5 mm", "depth": "2 mm"},
        loads=load("foot", force, spectrum=[{"cycles": 1e6}], ratio=-1),
    )  # fmt: skip
    (bar,) = (one for one in part.spans() if one.name == "hollow bar")
    left = ((34.0**4 - 22.0**4) / 34.0) / ((30.0**4 - 22.0**4) / 30.0)
    assert bar.notch(np.array(0.0)).K_t == pytest.approx(3.0 * left)
    assert named(part, "fatigue, hollow bar").ok == ok


@pytest.mark.parametrize(("force", "ok"), [(5300.0, SHORT), (4950.0, HOLDS)])
def test_the_bolt_of_a_peg_is_pulled_as_the_shoulder_rocks(force, ok):
    # Foot 59.5 mm out, the shoulder pivots on its rim of 17 mm: T = F·59.5/17 against the least preload over 1.5.
    part = peg(BOLTED, loads=load("foot", force))
    found = named(part, "peg joint, opening at the least preload")
    assert found.demand == pytest.approx(force * 59.5 / 17.0)
    # 0.75·830 MPa·84.3 mm², and the wrench 35 % off; thread 3, head 4.5 and shoulder 2.5 µm settle, and 13 mm of
    # aluminium shrink by 6 µm more than steel in 40 K of cold, of a bolt of 205 GPa on 13 + 12 mm and a frustum of
    # 71 GPa, 13 mm high (Shigley, eq. 8-22): 0.016·453 kN.
    area, lies = part.shank.thread.stress_area, 0.5774 * 13.0
    frustum = 0.5774 * np.pi * 71016.0 * 12.0 / (2.0 * np.log(5.0 * (lies + 6.0) / (lies + 30.0)))
    loss = (0.010 + 11.6e-6 * 40.0 * 13.0) / (25.0 / (205e3 * area) + 1.0 / frustum)
    assert loss == pytest.approx(7260.0, rel=0.01)
    assert found.capacity == pytest.approx(0.75 * 830.0 * area * 0.65 - loss, rel=2e-3)
    assert found.ok == ok


def test_a_head_without_a_washer_sinks_into_light_alloy():
    bare = peg(BOLTED, shank=BOLTED["shank"] | {"washer": None})
    assert not named(bare, "peg, pressure under the head").ok
    assert named(peg(BOLTED), "peg, pressure under the head").ok


def test_the_head_needs_room_in_the_hollow():
    with pytest.raises(ValidationError, match="does not go into the hollow"):
        peg(BOLTED, bore="18 mm")
    with pytest.raises(ValidationError, match="under the head"):
        peg(BOLTED, bored="78 mm")


def folding(**changes):
    return peg(FOLDING, **changes)


def shank(**changes):
    return folding(shank=FOLDING["shank"] | changes)


@pytest.mark.parametrize(("force", "ok"), [(1250.0, SHORT), (1150.0, HOLDS)])
def test_the_heel_levers_at_the_pin(force, ok):
    """Foot 59.5 + 18 mm from the pin, the heel 0.8·15 = 12 below it: the pin bears the foot and (F·77.5 + M)/12, M of
    the spring."""
    part = folding(loads=load("foot", force))
    pin, heel, _ = part.shank._held(part.acting(part.loads[0]))
    push = (force * 77.5 + part.shank.spring.moment(0.0)) / 12.0
    assert heel.force == pytest.approx([push, 0.0, 0.0])
    assert heel.at == pytest.approx([-18.0 - 15.0, 0.0, -12.0])
    assert pin.force == pytest.approx([-push, 0.0, force])
    # AN6 of 9.525: M = P/2 (8/2 + 0.2 + 15/4) by its parts, pi/32 d³, at 125 ksi.
    found = named(part, "eye pin, bending, ultimate")
    moment = np.hypot(push, force) / 2.0 * (8.0 / 2.0 + 0.2 + 15.0 / 4.0)
    assert found.demand == pytest.approx(moment / (np.pi / 32.0 * 9.525**3), rel=0.02)
    assert named(part, "eye pin, shear with bending").ok == ok


@pytest.mark.parametrize(("force", "ok"), [(7000.0, SHORT), (6600.0, HOLDS)])
def test_the_heel_beds_into_the_floor(force, ok):
    """0.4·15 by 15 - 4 mm bear F·77.5/12 and the spring's moment over 12; 999.7 MPa of 17-4PH over 1.5."""
    part = folding(loads=load("foot", force))
    found = named(part, "heel, crushed on the floor, yield")
    turn = force * 77.5 + part.shank.spring.moment(0.0)
    assert found.demand == pytest.approx(turn / 12.0 / (0.4 * 15.0 * 11.0))
    assert found.ok == ok == (found.demand * 1.5 <= 999.74)


@pytest.mark.parametrize(("force", "ok"), [(-3.5, SHORT), (-3.0, HOLDS)])
def test_a_load_that_lifts_a_folding_peg_folds_it(force, ok):
    """On the end, 85 + 18 mm from the pin. The spring of 2 mm wire about 20 mm, 8 coils with legs of 25 and 20 mm that
    give as 45/(3 π 20) coils, wound 50°: E d⁴/(64 D n) · 0.873, E 206 GPa. The peg weighs as much as in the test
    below. Nothing else is against the load, whose moment the heel does not hold."""
    part = folding(loads=load("end", force))
    found = named(part, "peg on its heel, folded up by the load")
    spring = 206e3 * 2.0**4 / (64.0 * 20.0 * (8.0 + 45.0 / (60.0 * np.pi))) * np.radians(50.0)
    weight = 7.8e-6 * 9.80665 * np.pi / 4.0 * (34**2 * 85 * 60.5 - 22**2 * 60 * 73.0)
    assert found.demand == pytest.approx(-force * 103.0)
    assert found.capacity == pytest.approx(spring + weight, rel=0.01)
    assert found.ok == part.check().ok == ok
    _, heel, _ = part.shank._held(part.acting(part.loads[0]))
    assert np.all(heel.force >= 0.0)
    bare = folding(loads=load("end", force), shank=FOLDING["shank"] | {"spring": None})
    assert not bare.check().ok


def test_a_peg_that_a_load_folds_is_not_proved():
    part = folding(loads=load("end", -400.0))
    with pytest.raises(NotProved, match="folds"):
        part.held(part.loads[0])
    held = folding(loads=load("end", 400.0))
    pushed = [one for one in held.held(held.loads[0])[0].applied if "spring" in one.name]
    assert pushed[0].actions[0].moment[1] == pytest.approx(held.shank.spring.moment(0.0))


@pytest.mark.parametrize(("preload", "ok"), [(40.0, SHORT), (46.0, HOLDS)])
def test_a_bump_folds_a_peg_whose_spring_is_slack(preload, ok):
    """Its weight once more than it weighs: 7.8 kg/dm³, bar of 34 by 85 less the hole of 22 by 60, about the pin."""
    part = shank(spring=FOLDING["shank"]["spring"] | {"preload": f"{preload} deg"})
    found = named(part, "folding spring, holds the peg down")
    volume = np.pi / 4.0 * np.array([34.0**2 * 85.0, -(22.0**2) * 60.0])
    weight = part.metal.density * 9.80665 * (volume @ np.array([18.0 + 42.5, 18.0 + 55.0]))
    n = 8.0 + 45.0 / (3.0 * np.pi * 20.0)
    spring = 206e3 * 2.0**4 / (64.0 * 20.0 * n) * np.radians(preload)
    assert found.demand == pytest.approx(weight)
    assert found.capacity == pytest.approx(spring)
    assert found.ok == ok == (spring >= weight)


def test_it_folds_until_its_side_meets_the_plate():
    """Shoulder 18 from the pin, side 17 from its axis: at φ the corner lies 18 cos φ - 17 sin φ before the pin."""
    part = shank(over="12 mm", fold="50 deg")
    angle = part.shank.folds_to(34.0)
    assert 18.0 * np.cos(angle) - 17.0 * np.sin(angle) == pytest.approx(-12.0)
    assert shank(over="34 mm").shank.folds_to(34.0) == pytest.approx(np.pi / 2.0)


@pytest.mark.parametrize(("force", "ok"), [(4600.0, SHORT), (4400.0, HOLDS)])
def test_teeth_take_their_depth(force, ok):
    """34 less two teeth of 1.5, bored 22 all along: W = pi/32 (31⁴ - 22⁴)/31, from the shoulder's edge."""
    part = peg(
        BOLTED, material="6061-T6", teeth={"pitch": "4 mm", "depth": "1.5 mm"}, loads=load("foot", force)
    )  # fmt: skip
    found = named(part, "under the teeth, ultimate")
    W = np.pi / 32.0 * (31.0**4 - 22.0**4) / 31.0
    area = np.pi / 4.0 * (31.0**2 - 22.0**2)
    bent = force * (59.5 - part.edge_break) / W
    assert found.demand == pytest.approx(
        np.hypot(bent, np.sqrt(3.0) * 2.0 * force / area), rel=1e-3
    )
    assert found.ok == ok


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"diameter": "32 mm", "bore": "20 mm"}, "does not come out of the bar"),
        ({"shank": FOLDING["shank"] | {"reach": "15 mm"}}, "runs into the ears"),
        ({"shank": FOLDING["shank"] | {"over": "5 mm"}}, "meets the plate"),
        ({"shank": FOLDING["shank"] | {"fold": "20 deg"}}, "digs in all the same"),
        ({"knurl": {"pitch": "1.6 mm"}}, "a knurl or teeth"),
        ({"teeth": {"pitch": "4 mm", "depth": "2.5 mm"}}, "run together"),
        ({"bore": "0 mm", "bored": "0 mm"}, "needs no cap"),
    ],
)
def test_what_cannot_fold_is_told(changes, says):
    with pytest.raises(ValidationError, match=says):
        folding(**changes)


def test_the_bolt_goes_through_the_spring_too():
    """Ears 2 x 8, tongue 15 and its gaps 0.4: a grip of 31.4; (8 + 1) coils of 2 mm stand on the pin beside them, and
    grips come in sixteenths of an inch."""
    spring = shank().shank.spring
    assert spring.room == pytest.approx(18.0)
    eye = FOLDING["shank"]["eye"]
    short = eye | {"pin": {k: v for k, v in eye["pin"].items() if k != "beyond"}}
    with pytest.raises(ValidationError, match="the bolt that is bought would be too short"):
        shank(eye=short)
    grips = {
        name: part.shank.eye.pin.kept(part.shank.eye.stack, part.shank.eye.last_plane).bolt.grip
        for name, part in (("without", shank(eye=short, spring=None)), ("with", folding()))
    }
    assert grips["with"] - grips["without"] == pytest.approx(18.0, abs=25.4 / 16.0)
    with pytest.raises(ValidationError, match="thinner than the pin in it"):
        shank(spring=FOLDING["shank"]["spring"] | {"about": "9 mm"})


def fabricated(force=1100.0, **changes):
    return peg(FABRICATED, loads=load("foot", force), **changes)


def plate_shank(**changes):
    return fabricated(shank=FABRICATED["shank"] | changes)


@pytest.mark.parametrize(("force", "ok"), [(7100.0, SHORT), (6900.0, HOLDS)])
def test_the_tube_bears_alone_at_the_end_of_its_slots(force, ok):
    """Tube 32 x 4, slots 10.3 wide: A = pi (16² - 12²) - 2·10.3·4, I = pi/4 (16⁴ - 12⁴) - 2·10.3 (16³ - 12³)/3. The
    foot 63 mm out, the tab 30: F·33 on I/16 with a shear of 2F/A, of 483 MPa softened, 2.25 wanted."""
    found = named(fabricated(force), "tube at the end of its slots, ultimate")
    area = np.pi * (16.0**2 - 12.0**2) - 2.0 * 10.3 * 4.0
    inertia = np.pi / 4.0 * (16.0**4 - 12.0**4) - 2.0 * 10.3 * (16.0**3 - 12.0**3) / 3.0
    stress = np.hypot(force * 33.0 * 16.0 / inertia, np.sqrt(3.0) * 2.0 * force / area)
    assert found.demand == pytest.approx(stress)
    assert found.ok == ok


@pytest.mark.parametrize(("force", "ok"), [(10800.0, SHORT), (10400.0, HOLDS)])
def test_four_fillets_carry_the_foot_as_lines(force, ok):
    """Four lines 30 long at y = ±5, z = ±sqrt(16² - 5²): I = 4·30³/12 + 4·30 z² about their middle, 48 mm from the
    foot; the worst end bears F/120 + M·15/I across and M z/I along, on a throat of 4/sqrt 2 mm."""
    found = named(fabricated(force), "weld at the upper slot, throat, ultimate")
    high = np.sqrt(16.0**2 - 5.0**2)
    inertia = 4.0 * 30.0**3 / 12.0 + 4.0 * 30.0 * high**2
    turn = force * 48.0
    flow = np.hypot(force / 120.0 + turn * 15.0 / inertia, turn * high / inertia)
    assert found.demand == pytest.approx(flow / (4.0 / np.sqrt(2.0)), rel=1e-6)
    assert found.ok == ok


@pytest.mark.parametrize(("force", "ok"), [(11300.0, SHORT), (11000.0, HOLDS)])
def test_the_plate_bends_at_the_mouth_of_the_tube(force, ok):
    """6 F·63 / (10·42²) of 359 MPa beside its weld, 1.5 wanted."""
    found = named(fabricated(force), "plate at the mouth of the tube, yield")
    assert found.demand == pytest.approx(6.0 * force * 63.0 / (10.0 * 42.0**2))
    assert found.ok == ok


@pytest.mark.parametrize(("force", "ok"), [(1300.0, SHORT), (1150.0, HOLDS)])
def test_the_end_of_a_slot_cracks_as_en_1993_says(force, ok):
    """EN 1993-1-9, Table 8.6: a slit tube on a plate is of class 63 (from memory); over 1.35, N = 2·10⁶ (46.7/range)³
    down to 5·10⁶ cycles. A million cycles from nothing, of which a quarter of the life may be used."""
    part = peg(FABRICATED, loads=load("foot", force, spectrum=[{"cycles": 1e6}], ratio=0))
    found = named(part, "fatigue, tube, end of its slots")
    stress = named(part, "tube at the end of its slots, yield").demand
    used = 1e6 / (2e6 * (63.0 / 1.35 / float(stress)) ** 3)
    assert float(found.demand) == pytest.approx(used, rel=1e-6)
    assert found.ok == ok


def test_the_plate_widens_by_its_radius_and_then_straight():
    """From 15 beside the pin to 21 at the tube, 22 mm out: a slope of 6/7, which the radius of 5 runs into."""
    plate = fabricated().shank
    slope = np.arctan(6.0 / 7.0)
    start, end = plate.widens
    assert plate.half_height(start) == pytest.approx(15.0)
    assert plate.half_height(end) == pytest.approx(15.0 + 5.0 * (1.0 - np.cos(slope)))
    assert end - start == pytest.approx(5.0 * np.sin(slope))
    assert plate.half_height(22.0) == pytest.approx(21.0)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"height": "40 mm"}, "far enough for its fillets"),
        ({"tab": "20 mm"}, "by its end alone"),
        ({"tab": "52 mm"}, "counts less of the plate"),
        ({"gap": "0.8 mm"}, "so wide a gap"),
        ({"height": "52 mm", "reach": "24 mm"}, "more than 45 degrees"),
        ({"weld": {"leg": "2 mm"}}, "smaller than the parts ask"),
    ],
)
def test_a_plate_that_cannot_be_welded_in_is_told(changes, says):
    with pytest.raises(ValidationError, match=says):
        plate_shank(**changes)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"bored": "40 mm"}, "a tube is hollow all along"),
        ({"bore": "0 mm", "cap": None}, "state its inside diameter"),
        ({"flats": {"across": "27 mm", "length": "13 mm"}}, "neither flats nor lip"),
        ({"material": "7075-T6"}, "7075-T6"),
        ({"length": "60 mm"}, "bears over the tab"),
    ],
)
def test_a_tube_states_what_a_tube_has(changes, says):
    with pytest.raises(ValidationError, match=says):
        fabricated(**changes)


def test_a_fabricated_peg_is_two_pieces_and_a_weld_sheet():
    """What is cut of the tube by its slots, and the plate by its blank: 30 x 42 of tab, and so on."""
    part = fabricated()
    tube, plate = part.pieces
    assert (tube.name, plate.name) == ("tube", "plate")
    assert plate.material.name == tube.material.name == "4130 normalized"
    (blank,) = part.blanks()
    assert blank.pieces == ("plate",) and blank.thickness == 10.0
    assert part.weldment().welds[0].both and len(part.weldment().welds) == 2
    assert [one.piece for one in part.drawn()] == ["tube", "plate"]
    assert part.cut_from("tube").wall_mm == pytest.approx(4.0) and part.cut_from("plate") is None
    solid = tube.solid.val().Volume()
    ring = np.pi / 4.0 * (32.0**2 - 24.0**2) * 90.0
    assert ring - solid == pytest.approx(2.0 * 4.0 * 10.3 * (31.0 + np.pi / 8.0 * 10.3), rel=0.06)
