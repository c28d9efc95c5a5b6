"""How levers are made: leaning faces with the set-up tilted, two seats in line, rows where their faces are made."""

import numpy as np
import pytest
from held import faults, plans

import parts


@pytest.fixture(scope="module")
def pedal():
    (one,) = plans(parts.load("params/hc-113-brake-pedal.yaml"))
    return one


@pytest.fixture(scope="module")
def shift_lever():
    (one,) = plans(parts.load("params/hc-114-shift-lever.yaml"))
    return one


@pytest.fixture(params=[pytest.param("pedal", marks=pytest.mark.slow), "shift_lever"])
def lever(request):
    return request.getfixturevalue(request.param)


def test_every_step_agrees_with_the_solid(lever):
    assert faults(lever) == []


def test_leaning_faces_are_cut_by_the_end_of_a_cutter_with_the_set_up_tilted(lever):
    """Seen edge on, the rim of the hub stands before them at their roots: no cutter's side gets there."""
    solid = lever.plan.solid
    leaning = {
        face.index for face in solid.faces
        if face.flat and 0.02 < np.linalg.norm(face.normal[:2]) < 0.5
    }  # fmt: skip
    assert leaning
    for setup in lever.setups:
        for step in setup.steps:
            for i in leaning & set(step.faces):
                assert setup.tilt
                assert solid.faces[i].normal @ setup.frame.toward == pytest.approx(1.0)


def test_no_wall_is_milled_deeper_than_the_part_is_thick(lever):
    thick = float(np.ptp(lever.plan.solid.points[:, 2]))
    assert all(
        step.top - step.bottom <= thick + 1e-6
        for setup in lever.setups for step in setup.steps if step.kind in ("outline", "boss", "step")
    )  # fmt: skip


def test_lengths_to_a_leaning_face_are_measured_where_it_is_milled(lever):
    rows = {row.number: row.name for row in lever.rows}
    mine = {n for setup in lever.setups if setup.tilt for step in setup.steps for n in step.numbers}
    assert {"arm: face of the hub to the arm at the hub's rim"} <= {rows[n] for n in mine}


@pytest.mark.slow
def test_two_seats_lie_on_one_axis(pedal):
    """The second is bored with the part turned over: its axis is found on the first, and the sheet says how well."""
    rows = {row.number: row for row in pedal.rows}
    (zone,) = [row for row in rows.values() if row.name.startswith("coaxiality")]
    assert (zone.high, zone.words) == (pytest.approx(0.025), "Ø0.025 to B")
    made = {
        rows[n].name: k for k, setup in enumerate(pedal.setups) for step in setup.steps for n in step.numbers
    }  # fmt: skip
    assert made["bearing seat below"] < made["bearing seat"] == made[zone.name]
    second = pedal.setups[made["bearing seat"]]
    assert "indicator on the bore Ø35 of set-up 1, within 0.0125 mm" in " ".join(second.words)


@pytest.mark.slow
def test_what_a_later_set_up_cuts_away_does_not_stop_a_tap_or_hide_a_bore(pedal, shift_lever):
    """A tap run to the far face of the toe stood on the bottom of its drill, 13 mm of raw plate below; and no indicator
    reached the bearing seat of set-up 1 through the 11 mm above it."""
    first = pedal.setups[0]
    toe = {step.kind: first.z(step.bottom) for step in first.steps if step.makes == "toe"}
    # 16 wide; a lead of 5.5 pitches of 1.5 runs through, and the drill makes 1 mm more room.
    assert toe["tap"] == pytest.approx(-16.0 - 5.5 * 1.5)
    assert toe["drill"] == pytest.approx(-17.0 - 5.5 * 1.5)
    window = next(step for step in first.steps if step.kind == "window")
    assert window.bottom == pytest.approx(first.low[2]) and window.to == "into waste"
    assert "dial indicator on the bore Ø35 of set-up 1" in " ".join(pedal.setups[1].words)
    reamer = next(
        step for step in shift_lever.setups[0].steps if step.tool.startswith("reamer Ø10")
    )
    assert shift_lever.setups[0].z(reamer.bottom) == pytest.approx(-15.0 - 2.5)


def test_a_plate_is_cut_free_last_and_held_by_its_bores(shift_lever):
    """Its outline was cut first, clamps moved about it, and its bores after that."""
    first = shift_lever.setups[0]
    kinds = [step.kind for step in first.steps]
    assert kinds[-1] == "boss" and kinds.index("drill") < kinds.index("boss")
    assert "the last cut, bolted down through its bores" in first.steps[-1].note
    assert "the outline is cut last" in first.holding


def test_a_lever_on_end_is_not_held_by_20_mm_in_a_vice(shift_lever):
    on_end = shift_lever.setups[-1]
    assert "104 mm out of a vice" in on_end.holding and "angle plate" in on_end.holding
    assert on_end.jaws == -1 and on_end.grip == 0.0


@pytest.mark.slow
def test_every_later_set_up_of_a_mill_says_by_what_its_zero_is_found(pedal, shift_lever):
    """A bore, edges, what was turned; of a tilted piece a pin, whose centre stands where the solid has it."""
    for one in (pedal, shift_lever):
        for setup in one.setups[1:]:
            assert any(word.startswith(("Find that axis", "Metal covers", "It lies", "Put a pin"))
                       for word in setup.words), setup.words  # fmt: skip
    tilted = shift_lever.setups[2]
    (pin,) = [word for word in tilted.words if word.startswith("Put a pin")]
    # The hub is 24 mm long, its datum in the middle; tilted by 2.40 degrees its face stands aside by 12 sin(2.40).
    assert f"X {12.0 * np.sin(np.radians(2.40)):.2f} mm" in pin.replace("-", "")
    assert "Y 0.00 mm" in pin
