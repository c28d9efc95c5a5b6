"""Weld roots against EN 1993-1-9 worked by hand, and against its own detail for the throat."""

import numpy as np
import pytest

from parts.strength.welded import detail, root, weld

X, Z = np.array([1.0, 0.0, 0.0]), np.array([0.0, 0.0, 1.0])


def test_the_throat_stress_does_not_ask_for_the_angle_of_the_throat():
    """σ⊥ and τ⊥ of a 45 degree throat, as the directional method takes them apart."""
    q_a, q_b, a = 70.0, -110.0, 3.5
    sigma, tau = (q_a + q_b) / (np.sqrt(2.0) * a), (q_a - q_b) / (np.sqrt(2.0) * a)
    got = root.transverse_range(np.array([25.0, q_a, q_b]), X, a)
    assert got == pytest.approx(np.hypot(sigma, tau))
    assert root.along_range(np.array([25.0, q_a, q_b]), X, a) == pytest.approx(25.0 / a)


def test_both_parts_are_the_vector_method_on_the_throat():
    q = np.array([40.0, -60.0, 90.0])
    both = np.hypot(root.transverse_range(q, X, 3.5), root.along_range(q, X, 3.5))
    assert both == pytest.approx(weld.throat_stress(q, 3.5 * np.sqrt(2.0)))


def test_classes_are_those_of_the_standard():
    assert (root.STEEL_ROOT, root.STEEL_SHEAR) == (36.0, 80.0)
    assert (root.ALUMINIUM_ROOT, root.ALUMINIUM_SHEAR) == (12.0, 28.0)


def test_class_36_by_hand():
    """Points of its curve: 2e6 at 36 MPa, 5e6 at 0.737·36, none below 0.405·36; shear ends at 0.457·80."""
    assert root.damage(2e6, 36.0, 0.0, 1.0) == pytest.approx(1.0)
    assert root.damage(5e6, 0.7368 * 36.0, 0.0, 1.0) == pytest.approx(1.0, rel=1e-3)
    assert root.damage(1e9, 0.40 * 36.0, 0.45 * 80.0, 1.0) == 0.0
    assert root.damage(2e6, 0.0, 80.0, 1.0) == pytest.approx(1.0)
    # Twice the range: eight times the damage across, thirty-two times along.
    assert root.damage(1e5, 72.0, 0.0, 1.0) == pytest.approx(8.0 * 1e5 / 2e6)
    assert root.damage(1e5, 0.0, 160.0, 1.0) == pytest.approx(32.0 * 1e5 / 2e6)


def test_at_two_million_the_damages_are_the_terms_of_equation_8_3():
    """Above the knee of class 36 the damage of 2e6 cycles is the sum of cube and fifth power."""
    d_sigma, d_tau = np.array([30.0, 34.0]), np.array([[50.0], [70.0]])
    got = root.damage(2e6, d_sigma, d_tau, 1.0)
    np.testing.assert_allclose(got, (d_sigma / 36.0) ** 3 + (d_tau / 80.0) ** 5)
    np.testing.assert_allclose(got, root.use_at_two_million(d_sigma, d_tau, 1.0))


def test_a_thin_weld_fails_at_its_root_and_a_thick_one_at_the_toe():
    """Two fillets on a plate of 6 mm: class 36 on the throats against class 80 on the plate."""
    t, pull = 6.0, 400.0  # N for each mm of plate
    toe = 1e5 / detail.cycles(pull / t, 80.0)
    at_root = [root.damage(1e5, pull / (2.0 * a), 0.0, 1.0) for a in (3.0, 8.0)]
    assert at_root[0] > toe > at_root[1]


def test_a_fillet_on_one_side_is_bent():
    """Section theory: the throat as a bar of depth a, pulled and bent."""
    a, e, q = 4.0, 3.0, 60.0
    assert root.one_sided_range(q, a, e) == pytest.approx(q / a + q * e / (a**2 / 6.0))
    assert root.one_sided_range(q, a, 0.0) == pytest.approx(q / a)


def test_aluminium_has_no_endless_range():
    assert root.damage_aluminium(2e6, 12.0, 0.0, 1.0) == pytest.approx(1.0)
    assert root.damage_aluminium(1e9, 1.0, 0.0, 1.0) > 0.0
    assert root.damage_aluminium(2e6, 0.0, 28.0, 1.0) == pytest.approx(1.0)
    assert root.use_iiw(12.0, 0.0, 12.0, 28.0, 1.0, CV=1.0) == pytest.approx(1.0)


def test_arrays_broadcast():
    q = np.zeros((4, 5, 3))
    q[..., 2] = np.arange(1.0, 6.0)
    got = root.transverse_range(q, X, np.array([3.0, 4.0, 5.0, 6.0])[:, None])
    assert got.shape == (4, 5) and got[1, 4] == pytest.approx(5.0 / 4.0)
