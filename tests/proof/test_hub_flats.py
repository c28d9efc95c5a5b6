"""A polygon bar in its hub, as a proof loads it: half of each flat is pressed, and the corners are wedged open."""

import numpy as np
import pytest
from torsion_arms import SQUARE, arm

from parts.proof import hand
from parts.proof.elastic import on_faces, reactions, traction
from parts.proof.peaks import Stressed
from parts.proof.piece import stated
from parts.proof.refine import Aim, settle

ng = pytest.importorskip("ngsolve", reason="needs the extra `proof`")
ROUGH = Aim(error=0.2, unknowns=60_000, steps=2)


@pytest.fixture(scope="module")
def proved():
    """A 22 mm square in a hub of 51 mm, its arm of 180 mm loaded with 2.8 kN: part, solution, what is pressed."""
    load = {"name": "case", "forces": [{"at": "end", "force": [0, "2800 N", 0]}]}
    part = arm(hub__bore=SQUARE, hub__diameter="51 mm", arm__width="32 mm", material="7075-T6",
               arm__end_width="26 mm", edge_break="0 mm", loads=[load])  # fmt: skip
    held = part.held(part.loads[0])
    _, _, mesh, setup, _ = stated(part.pieces[0], held, ROUGH)
    return part, settle(mesh, setup, ROUGH), setup.cases[0][-1]


@pytest.mark.slow
def test_each_flat_is_pressed_and_never_pulled(proved):
    _, settled, push = proved
    mesh, n = settled.solved.meshed, ng.specialcf.normal(3)
    field, where = traction(mesh, push), on_faces(mesh, push.faces)
    pressure = -ng.InnerProduct(field, n)
    pulled = ng.Integrate(ng.IfPos(pressure, 0.0, -pressure) * where, mesh.mesh)
    pressed = ng.Integrate(pressure * where, mesh.mesh)
    # The push on a flat from nil at its middle to most at the relief, at 2/3 of half a flat and a little less.
    torque = 2800.0 * 180.0
    half = (22.05 - 3.0) / 2.0
    assert pulled == pytest.approx(0.0, abs=1e-6 * pressed)
    assert pressed == pytest.approx(torque / (2.0 / 3.0 * half), rel=0.1)


def test_the_springs_carry_the_force_and_no_torque(proved):
    _, settled, _ = proved
    found = reactions(settled.solved, 0)["bearing beside the hub"]
    assert found[1] == pytest.approx(-2800.0, rel=1e-6)
    assert found[5] == pytest.approx(0.0, abs=0.5)


def test_the_corner_opens_as_the_check_says(proved):
    part, settled, _ = proved
    piece, case = part.pieces[0], part.loads[0]
    looked = hand.looked_at(part.check(), piece.name)
    places = hand.spots(part.check(), piece, case)
    what, known = hand.worst_known(part.check(), piece, case, [], places, looked)
    assert what == "corners of the hub's bore"
    field = settled.fields[0]
    places = field.places.reshape(-1, 3)
    off = np.hypot(*(places[:, :2]).T)
    # On a relief at mid-width: within 1.6 mm of where two flats would meet.
    near = (np.abs(off - 22.05 / np.sqrt(2.0)) < 1.6) & (np.abs(places[:, 2]) < 8.0)
    peak = Stressed.at(field, near).peak()
    # The check is a bound over its study: its scatter lies on the safe side.
    assert 1.0 < known / peak.principal[2] < 1.6
