"""Strength at temperature against published figures that the table was not made from."""

import numpy as np
import pytest

from parts.strength.fatigue import temperature
from parts.strength.tables import rows


@pytest.mark.parametrize(
    ("alloy", "condition", "celsius", "tensile", "cold"),
    [
        # Aluminum Standards and Data, typical tensile strength in ksi after 10 000 hours, 212 and 300 °F; from memory.
        ("6061", "T6", 100.0, 42.0, 45.0),
        ("6061", "T6", 148.9, 34.0, 45.0),
        ("7075", "T6", 100.0, 70.0, 83.0),
        ("7075", "T6", 148.9, 31.0, 83.0),
    ],
)
def test_aluminium_after_ten_thousand_hours(alloy, condition, celsius, tensile, cold):
    got = temperature.ultimate_factor(celsius, alloy, condition)
    assert got == pytest.approx(tensile / cold, abs=0.06)
    assert got < tensile / cold + 0.005


def test_low_alloy_steel_keeps_more_than_the_fire_code_gives_at_its_limit_of_proportion():
    """EN 1993-1-2, Table 3.1: 0.807 at 200 °C and 0.613 at 300 (from memory), a lower limit for yield."""
    got = temperature.yield_factor(np.array([200.0, 300.0]), "4130", "normalized")
    assert np.all(got > [0.807, 0.613]) and np.all(got < 1.0)


def test_above_the_table_there_is_no_number_and_below_nothing_is_gained():
    got = temperature.yield_factor(np.array([-40.0, 20.0, 200.0, 201.0]), "7075", "T651")
    assert got[0] == got[1] == 1.0
    assert np.isfinite(got[2]) and np.isnan(got[3])
    holds = temperature.yield_factor.holds(np.array([200.0, 201.0]), "7075", "T651")
    assert holds.tolist() == [True, False]
    assert np.isnan(temperature.least_factor(160.0, "2024", "T3"))


def test_an_unknown_condition_is_refused():
    with pytest.raises(KeyError, match="7075 T6"):
        temperature.yield_factor(100.0, "7075", "T73")


def test_the_weaker_of_both_stands_for_shear():
    T = np.linspace(20.0, 500.0, 25)
    least = temperature.least_factor(T, "304", "annealed")
    np.testing.assert_allclose(
        least,
        np.minimum(
            temperature.yield_factor(T, "304", "annealed"),
            temperature.ultimate_factor(T, "304", "annealed"),
        ),
    )


def test_every_curve_starts_at_one_and_falls():
    names = {(one["alloy"], one["conditions"].split("|")[0]) for one in rows("strength_warm")}
    for alloy, condition in names:
        T = np.arange(20.0, 151.0, 5.0)
        for factor in (temperature.yield_factor, temperature.ultimate_factor):
            got = np.asarray(factor(T, alloy, condition))
            assert got[0] == 1.0 and np.all(np.diff(got) <= 1e-12)
