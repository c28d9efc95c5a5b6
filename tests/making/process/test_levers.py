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


@pytest.fixture(params=["pedal", "shift_lever"])
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
