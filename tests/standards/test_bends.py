"""Least bend radii: the rows of the table, thickness by thickness."""

import numpy as np
from numpy.testing import assert_allclose

from parts.standards.materials.materials import material
from parts.standards.stock.bends import bend_source, least_bend_radius


def test_titanium_bends_as_its_sheet_standard_tests_it():
    # ASTM B265, bend test, from memory: grade 2 at 2 T below 0.070 in and 2.5 T above.
    grade2 = material("CP titanium grade 2")
    assert_allclose(least_bend_radius(grade2, np.array([1.6, 2.0])), [3.2, 5.0])
    assert "B265" in bend_source(grade2, 2.0)


def test_an_alloy_or_thickness_without_a_row_has_no_radius():
    assert np.isnan(least_bend_radius(material("4130 normalized"), 12.0))
    assert np.isnan(least_bend_radius(material("7075-T6"), 2.0))
    assert bend_source(material("7075-T6"), 2.0) == ""


def test_hard_tempers_bend_wider_than_soft_ones():
    soft, hard = material("5052-H32"), material("6061-T6")
    assert least_bend_radius(soft, 2.0) < least_bend_radius(hard, 2.0)
