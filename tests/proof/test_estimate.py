"""The prover's own parts: the error that it reports against one that is known, curved and divided elements whole."""

from dataclasses import replace

import numpy as np
import pytest

pytest.importorskip("ngsolve", reason="needs the extra `proof`")

import cadquery as cq
import spread
from test_limits import box, pulled

from parts.families.gusset.family import Gusset
from parts.families.links.turnbuckle import Turnbuckle
from parts.proof import piece as proving
from parts.proof.corners import near
from parts.proof.curving import POINTS, determinants, gauss, leading, products, quadratic
from parts.proof.elastic import solve
from parts.proof.errors import ProofError
from parts.proof.field import fields
from parts.proof.mesh import meshed
from parts.proof.prove import prove
from parts.proof.refine import Aim, estimate, refined
from parts.proof.vibration import frequencies


def setup_of(part):
    """The mesh and the loads that a part is proved with."""
    found = []

    def keep(mesh, solid, *_):
        found.append((mesh, solid))
        raise ProofError("enough")

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(proving, "settle", keep)
        prove(part, Aim())
    return found[0]


def energies(solved):
    return np.array(
        [
            np.dot(f.vec.FV().NumPy(), u.vec.FV().NumPy())
            for f, u in zip(solved.loads, solved.moved, strict=True)
        ]
    )


@pytest.mark.parametrize(
    "family",
    [
        pytest.param(Turnbuckle, marks=pytest.mark.slow),
        Gusset,
    ],  # its long narrow bore takes many elements
    ids=lambda one: one.__name__,
)
def test_the_estimated_error_is_that_against_a_far_finer_solution(family):
    """Galerkin: the energy that a mesh misses is the square of its error in the energy norm."""
    mesh, solid = setup_of(spread.parts(family, 1)[0])
    solved = solve(mesh, solid)
    shares, found = estimate(solved, fields(solved))
    np.testing.assert_allclose(2.0 * np.array(found), energies(solved), rtol=1e-12)
    finer = refined(mesh, np.max(shares, axis=0), 0.7)
    best = energies(solve(finer, solid, 3))
    true = np.sqrt((best - energies(solved)) / best)
    # Measured on the demo's parts: 0.95 to 1.3 of the true error, 0.8 on the coarsest meshes of thin plates.
    ratio = np.sqrt([share.sum() for share in shares]) / true
    assert np.all((ratio > 0.75) & (ratio < 1.45)), ratio


@pytest.mark.slow
def test_refinement_keeps_every_element_whole_on_a_curved_solid():
    solid = cq.Workplane().circle(10.0).circle(7.0).extrude(12.0).edges().fillet(1.0).val()
    mesh = meshed(solid)
    random = np.random.default_rng(0)
    for _ in range(2):
        volume = determinants(mesh.nodes.places)
        assert volume.min() > 0.0
        # What is missing is the chord's rise over the second-order elements' own shape.
        assert volume.mean(axis=1).sum() / 6.0 == pytest.approx(solid.Volume(), rel=4e-3)
        mesh = refined(mesh, random.random(len(volume)), 0.3)
    assert determinants(mesh.nodes.places).min() > 0.0


def test_a_bar_under_a_pull_has_the_stress_and_energy_of_a_bar():
    """Uniform stress F/A lies in the space of the elements: no error is left, and none is estimated."""
    solid = pulled()
    # Springs that let the foot draw in: it would be no uniform stress otherwise.
    free = replace(solid.springs[0], stiffness=np.diag([1e5, 1e-3, 1e-3]))
    solved = solve(meshed(box()), replace(solid, springs=(free,)))
    (found,) = fields(solved)
    np.testing.assert_allclose(found.raw[..., 0], 1e3 / 200.0, rtol=1e-5)
    np.testing.assert_allclose(found.smooth[..., 1:], 0.0, atol=1e-4)
    shares, _ = estimate(solved, [found])
    assert shares[0].sum() < 1e-10


def test_a_rigid_block_on_springs_swings_by_its_mass():
    """f = √(k A / m) / 2π along springs that are far softer than the block."""
    solid = pulled()
    soft = replace(solid.springs[0], stiffness=1e-2 * np.eye(3))
    heavy = replace(solid, stuff=replace(solid.stuff, density=7.85e-6), springs=(soft,))
    found = frequencies(solve(meshed(box()), heavy), 3)
    mass = 7.85e-6 * 8000.0 * 1e-3  # t
    along = np.sqrt(1e-2 * 200.0 / mass) / (2.0 * np.pi)
    assert min(abs(found - along)) < 1e-3 * along


def test_polynomials_are_led_and_integrated_exactly():
    share, weight = gauss(2)
    # A linear field from the points of the rule to the ten points.
    line = np.array([1.0, -2.0, 0.5, 3.0])
    np.testing.assert_allclose(
        leading(share, weight, 1) @ (share @ line), POINTS @ line, atol=1e-12
    )
    # ∫ λ₁² over the reference element is 2! / 5! = 1/60; the ten points' values of λ₁ are exact in their shapes.
    one = POINTS[:, 0]
    assert one @ products() @ one == pytest.approx(1.0 / 60.0)
    np.testing.assert_allclose(quadratic(POINTS), np.eye(10), atol=1e-12)


def test_near_places_are_those_within_the_distance():
    random = np.random.default_rng(0)
    places, sources = random.uniform(0.0, 10.0, (500, 3)), random.uniform(-1.0, 5.0, (80, 3))
    away = np.linalg.norm(places[:, None] - sources[None], axis=2).min(axis=1)
    np.testing.assert_array_equal(near(places, sources, 0.9), away < 0.9)
