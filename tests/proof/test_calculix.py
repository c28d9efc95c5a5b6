"""Parts of the demo solved twice: by the house's own finite elements, and by CalculiX on a mesh of gmsh's.

Both take the same solid, the first as it is and the second from its STEP, and the same named faces as supports and
loads. Between them stand two meshers, two orders of integration, two ways to smooth stress and two solvers; what they
share is the family's statement of how the part is held and loaded, and that is what a builder must judge.
"""

from dataclasses import dataclass
from pathlib import Path

import cadquery as cq
import calculix
import numpy as np
import pytest

from parts import load
from parts.core.loads import Action
from parts.core.supports import Applied, Flat, Held, Round, Support, Whole
from parts.proof.field import von_mises

pytest.importorskip("ngsolve", reason="needs the extra `proof`")
pytestmark = pytest.mark.skipif(bool(calculix.MISSING), reason=calculix.MISSING or "all is there")

PARAMS = Path(__file__).parents[2] / "params"
SAME = 0.03
"""How far both may lie apart [-]: each has an error of discretisation of one or two per cent in the stress at a fillet
and in the springs of a support, whose pressure is steep at its rim."""


@dataclass(frozen=True)
class Twice:
    """A part to be solved twice: how exactly by the house [-], and gmsh's elements: over all, at the peak [mm], and to
    a whole turn of a curved face."""

    file: str
    error: float
    size: float
    fine: float
    turn: int


PARTS = (
    Twice("hc-101-seat-strut-clevis", 0.10, 6.0, 0.07, 8),
    Twice("hc-103-torsion-arm", 0.08, 8.0, 0.5, 10),
    Twice("hc-104-foot-bracket-left", 0.12, 7.0, 0.25, 8),
    Twice("hc-108-headstock-gusset", 0.08, 6.0, 0.6, 10),
    Twice("hc-109-seat-gusset", 0.08, 6.0, 0.5, 10),
)


def proved(twice):
    """The first piece of a part, its proof, and the solid and supports of the load case with the highest peak."""
    from parts.proof.piece import prove_piece
    from parts.proof.prove import _by_piece
    from parts.proof.refine import Aim
    from parts.proof.surface import bored, parted

    part = load(PARAMS / f"{twice.file}.yaml").model_copy(update={"edge_break": 0.0})
    name, cases = next(iter(_by_piece(part).items()))
    piece = next(one for one in part.pieces if one.name == name)
    aim = Aim(error=twice.error, unknowns=250_000)
    proof = prove_piece(part, part.check(), piece, cases, aim, lambda _: None).proof
    worst = max(range(len(cases)), key=lambda k: proof.cases[k].peak.mises)
    held = cases[worst][1]
    patches = [p for one in (*held.supports, *held.applied) for p in one.patches]
    solid = parted(bored(piece.solid.val(), held.bored), patches).solid
    return proof, proof.cases[worst], held, solid


@pytest.fixture(scope="module", params=PARTS, ids=lambda one: one.file[:6])
def both(request, tmp_path_factory):
    """A load case by the house and by CalculiX, with what the latter took."""
    twice, folder = request.param, tmp_path_factory.mktemp("calculix")
    proof, case, held, solid = proved(twice)
    assert proof.reached, proof.stopped
    fine = [(np.array(case.peak.place), twice.fine)]
    mesh, cost = calculix.mesh(solid, folder, twice.size, fine, twice.turn)
    return case, calculix.solve(mesh, cost, [held], proof.E, proof.nu, folder)


@pytest.mark.slow
def test_the_peak_is_the_same_at_its_own_place(both):
    case, answer = both
    found = von_mises(calculix.at(answer.mesh, answer.stress[0], case.peak.place))
    assert float(found) == pytest.approx(case.peak.mises, rel=SAME)


@pytest.mark.slow
def test_the_loads_move_alike(both):
    case, answer = both
    assert case.moved
    for name, ours in case.moved.items():
        apart = np.linalg.norm(answer.shifts[0][name] - ours)
        assert apart <= SAME * np.linalg.norm(ours), (name, ours, answer.shifts[0][name])


@pytest.mark.slow
def test_every_support_holds_alike(both):
    case, answer = both
    most = max(np.linalg.norm(force) for force in case.reactions.values())
    assert set(answer.reactions[0]) == set(case.reactions)
    for name, ours in case.reactions.items():
        apart = np.linalg.norm(answer.reactions[0][name] - ours)
        assert apart <= SAME * most, (name, ours, answer.reactions[0][name])


# What writes the input is held against closed forms first.


@pytest.fixture
def bar(tmp_path):
    """A bar 10 by 10 by 40, meshed."""
    solid = cq.Workplane().box(10, 10, 40, centered=(True, True, False)).val()
    return calculix.mesh(solid, tmp_path, 5.0)


def foot(**how):
    return Support("foot", (Whole([(0.0, 0.0, 0.0)]),), 5.0, **how)


def test_a_bar_on_springs_stretches_by_hooke(bar, tmp_path):
    """F L / E A of the bar and F / k A of the springs, k = E / 5 mm, to the digits that CalculiX prints."""
    pull = Action((0.0, 0.0, 40.0), (0.0, 0.0, 1000.0))
    held = Held("bar", (foot(),), (Applied("head", (Whole([(0.0, 0.0, 40.0)]),), (pull,)),))
    answer = calculix.solve(*bar, [held], 200e3, 0.0, tmp_path)
    expected = 1000.0 / 100.0 * (40.0 + 5.0) / 200e3
    assert answer.shifts[0]["head"] == pytest.approx((0.0, 0.0, expected), abs=1e-4 * expected)
    assert answer.reactions[0]["foot"] == pytest.approx((0.0, 0.0, -1000.0), abs=0.01)
    assert calculix.at(answer.mesh, answer.stress[0], (1.0, 2.0, 20.0)) == pytest.approx(
        (0.0, 0.0, 10.0, 0.0, 0.0, 0.0), abs=1e-3
    )


@pytest.mark.parametrize(
    ("ways", "expected"),
    [
        pytest.param("all", (1.0, 1.0, 1.0), marks=pytest.mark.slow),
        pytest.param("along", (1.0, 1.0, 0.0), marks=pytest.mark.slow),
        ("across", (0.0, 0.0, 1.0)),
    ],
)
def test_springs_hold_in_their_own_directions(bar, ways, expected):
    """Along (1, 1, 0) or square to it; a shift of 1 µm each way on 40e3 N/mm³ and 100 mm² takes 4 kN."""
    mesh, _ = bar
    (bed,) = calculix.beds(mesh, Held("bar", (foot(ways=ways, axis=(1.0, 1.0, 0.0)),), ()), 200e3)
    moved = np.full((len(mesh.nodes), 3), 1e-3)
    assert calculix.held_with(bed, moved) == pytest.approx(-4000.0 * np.array(expected), abs=1e-6)


def test_the_rule_on_triangles_integrates_the_fourth_order():
    """∫ x^a y^b over the unit triangle is a! b! / (a + b + 2)!."""
    from math import factorial

    x, y = calculix.RULE[:, 0], calculix.RULE[:, 1]
    for a in range(5):
        for b in range(5 - a):
            exact = factorial(a) * factorial(b) / factorial(a + b + 2)
            assert 0.5 * calculix.WEIGHTS @ (x**a * y**b) == pytest.approx(exact, rel=1e-12)


def test_pressure_on_a_bore_has_the_force_and_the_moment_stated(tmp_path):
    """And presses on one half of the wall only; a bore 8 mm wide through a plate."""
    solid = cq.Workplane().box(30, 30, 6).faces(">Z").workplane().hole(8.0).val()
    bore = Round((0.0, 0.0, 0.0), (0.0, 0.0, 1.0), 8.0, -3.0, 3.0)
    mesh, _ = calculix.mesh(solid, tmp_path, 4.0)
    held = Held(
        "plate", (), (Applied("pin", (bore,), (Action((0.0, 0.0, 0.5), (300.0, 400.0, 0.0)),), "bearing"),)
    )  # fmt: skip
    forces = calculix.forces(mesh, held)
    assert forces.sum(axis=0) == pytest.approx((300.0, 400.0, 0.0), abs=1e-9)
    moment = np.cross(mesh.nodes, forces).sum(axis=0)
    assert moment == pytest.approx((-200.0, 150.0, 0.0), abs=1e-6)
    wall = calculix.points(mesh, calculix.on_patch(mesh, bore))
    pressed = calculix.pressed(wall, (Action((0.0, 0.0, 0.0), (300.0, 400.0, 0.0)),), True)
    lee = wall.places @ (0.6, 0.8, 0.0) < -0.5
    assert lee.any()
    assert np.abs(pressed[lee]).max() < 0.01 * np.abs(pressed).max()


def test_a_ring_and_a_plane_are_found_on_the_mesh(tmp_path):
    """A flat ring of 10 mm about a hole of 4 mm, parted from the face it lies on: π (5² - 2²) mm²."""
    from parts.proof.surface import parted

    solid = cq.Workplane().box(30, 30, 6).faces(">Z").workplane().hole(4.0).val()
    ring = Flat((0.0, 0.0, 3.0), (0.0, 0.0, 1.0), 5.0, 2.0)
    mesh, _ = calculix.mesh(parted(solid, [ring]).solid, tmp_path, 3.0)
    found = calculix.points(mesh, calculix.on_patch(mesh, ring))
    assert found.areas.sum() == pytest.approx(np.pi * (25.0 - 4.0), rel=1e-3)
    assert found.normals[..., 2] == pytest.approx(1.0)
