"""Section properties against closed forms and against a meshed reference."""

import time

import numpy as np
import pytest
from figures import Ellipse, angle_section, polygon, reference, spread
from hypothesis import given, settings
from hypothesis import strategies as st

from parts.strength.section.figures import annulus, circle, rectangle, rounded_rectangle
from parts.strength.section.outline import Boundary
from parts.strength.section.plastic import plastic_moduli
from parts.strength.section.properties import properties

CHORDS = 5e-4
"""The reference cuts each arc into 60 chords: up to 5e-4 of the area of a half disc."""


@pytest.mark.parametrize("name", spread())
def test_against_the_meshed_reference(name):
    figure = spread()[name]
    ours, mesh = properties(figure), reference(figure, 5.0)
    mesh.calculate_geometric_properties()
    assert ours.area == pytest.approx(mesh.get_area(), rel=CHORDS)
    assert (ours.y, ours.z) == pytest.approx(mesh.get_c(), abs=0.01)
    Ixx, Iyy, Ixy = mesh.get_eic()
    assert ours.Iyy == pytest.approx(Ixx, rel=3 * CHORDS)
    assert ours.Izz == pytest.approx(Iyy, rel=3 * CHORDS)
    assert ours.Iyz == pytest.approx(Ixy, rel=3 * CHORDS, abs=1e-4 * ours.I1)
    I1, I2 = mesh.get_eip()
    assert pytest.approx(I1, rel=3 * CHORDS) == ours.I1
    assert pytest.approx(I2, rel=3 * CHORDS) == ours.I2
    assert ours.perimeter >= mesh.get_perimeter() * (1 - CHORDS)


@pytest.mark.parametrize("name", ["I", "channel with fillets", "angle", "plate with two bores"])
def test_plastic_moduli_against_the_meshed_reference(name):
    figure = spread()[name]
    mesh = reference(figure, 5.0)
    mesh.calculate_geometric_properties()
    mesh.calculate_plastic_properties()
    # With a yield strength of 1 the reference's plastic moments are the plastic moduli.
    assert plastic_moduli(figure) == pytest.approx(mesh.get_mp(), rel=2e-3)


def test_plastic_moduli_in_closed_form():
    b, h, D, d = 12.0, 30.0, 40.0, np.array([0.0, 22.0])
    assert plastic_moduli(rectangle(b, h)) == pytest.approx((b * h**2 / 4, h * b**2 / 4), rel=1e-12)
    for modulus in plastic_moduli(annulus(D, d).moved(7, -90)):
        assert modulus == pytest.approx((D**3 - d**3) / 6, rel=1e-12)


def test_plastic_moduli_turn_with_the_figure():
    figure, turn = rounded_rectangle(20, 10, 2), 0.3
    turned = plastic_moduli(figure.rotated(turn), turn)
    assert turned == pytest.approx(plastic_moduli(figure), rel=1e-12)


def test_principal_axes_of_an_equal_angle_lie_at_45_degrees():
    s = properties(angle_section(40, 6))
    assert abs(np.sin(2 * s.angle)) == pytest.approx(1.0)
    assert s.Ip == pytest.approx(s.I1 + s.I2)
    turned = properties(angle_section(40, 6).rotated(-s.angle))
    assert (turned.Iyy, turned.Izz) == pytest.approx((s.I1, s.I2))
    assert turned.Iyz == pytest.approx(0.0, abs=1e-9 * s.I1)


def test_extreme_fibres_reach_round_arcs():
    s = properties(rounded_rectangle(20, 20, 6).rotated(np.pi / 4))
    reach = (
        np.sqrt(2) * 4 + 6
    )  # to the arc's middle: from centre to centre of the arc, and its radius
    assert (s.y_max, s.z_max, -s.y_min, -s.z_min) == pytest.approx((reach,) * 4)
    assert s.Wel_y == pytest.approx(s.Iyy / reach)


def test_boundary_of_an_ellipse():
    a, b = 15.0, 6.0
    s = properties(Boundary([[Ellipse(a, b)]]))
    assert s.area == pytest.approx(np.pi * a * b, rel=1e-9)
    assert s.Iyy == pytest.approx(np.pi * a * b**3 / 4, rel=1e-9)
    assert s.Izz == pytest.approx(np.pi * b * a**3 / 4, rel=1e-9)
    assert s.z_max == pytest.approx(b, rel=1e-7)


@pytest.mark.parametrize("name", spread())
def test_boundary_and_outline_agree(name):
    figure = spread()[name].moved(11, -7).rotated(0.4)
    one, other = properties(figure), properties(figure.boundary())
    for key, value in vars(one).items():
        assert getattr(other, key) == pytest.approx(value, rel=1e-9, abs=1e-7), key


def test_bending_stress_of_an_unsymmetric_section_balances_its_moments():
    s = properties(angle_section(40, 6))
    My, Mz = 3e4, -2e4
    p, q = s.curvature(My, Mz)
    # Integrals of z*stress and of -y*stress over the section, with stress = p*y + q*z.
    assert p * s.Iyz + q * s.Iyy == pytest.approx(My)
    assert -(p * s.Izz + q * s.Iyz) == pytest.approx(Mz)


@given(st.lists(st.floats(0.3, 1.0), min_size=5, max_size=9))
@settings(max_examples=15, deadline=None)
def test_star_polygons_against_a_sum_of_triangles(radii):
    n = len(radii)
    w = 2 * np.pi * np.arange(n) / n
    p = np.stack([30 * np.array(radii) * np.cos(w), 30 * np.array(radii) * np.sin(w)], axis=-1)
    q = np.roll(p, -1, axis=0)
    area = (p[:, 0] * q[:, 1] - p[:, 1] * q[:, 0]) / 2
    # A triangle integrates a square by the mean of the squares at the middles of its edges.
    middles = (p / 2, q / 2, (p + q) / 2)
    Szz = sum((area / 3 * m[:, 1] ** 2).sum() for m in middles)
    z = sum((area / 3 * m[:, 1]).sum() for m in middles) / area.sum()
    s = properties(polygon(*p))
    assert s.area == pytest.approx(area.sum(), rel=1e-11)
    assert s.Iyy == pytest.approx(Szz - area.sum() * z**2, rel=1e-9)


@pytest.mark.slow
def test_a_hundred_thousand_variants_in_one_call():
    n = 100_000
    b, d = np.linspace(5, 50, n), np.linspace(1, 4, n)
    start = time.process_time()
    s = properties(rectangle(b, 20.0).minus(circle(d)))
    # 0.2 s on a bench machine; ten times that leaves room for a loaded one.
    assert time.process_time() - start < 2.0
    assert s.area == pytest.approx(b * 20 - np.pi / 4 * d**2)
