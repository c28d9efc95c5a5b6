"""What finishes take off the fatigue strength, and what a finish's words mean."""

import math

import pytest

from parts.strength.fatigue import finish
from parts.strength.tables import rows


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("hard anodised", "hard anodise"),
        ("Hard-anodized 50 um", "hard anodise"),
        ("hardcoat", "hard anodise"),
        ("chromic acid anodised", "anodise"),
        ("black anodised", "anodise"),
        ("chromate conversion coated", "conversion"),
        ("hard chrome", "chromium"),
        ("zinc plated", "zinc"),
        ("hot-dip galvanised", ""),
        ("powder coated", "paint"),
        ("shot peened", "peened"),
        ("as machined", "none"),
        ("", "none"),
        ("gold plated", ""),
    ],
)
def test_words_of_a_finish(text, kind):
    assert finish.coating(text) == kind


def test_hard_anodise_by_alloy():
    """Printed pairs, bare and coated, in ksi: 7075 22 and 9, 6061 15 and 6, 2024 19 and 15."""
    for alloy, bare, coated in (("7075", 22.0, 9.0), ("6061", 15.0, 6.0), ("2024", 19.0, 15.0)):
        got = finish.finish_factor("hard anodised", "aluminium", alloy)
        assert got == pytest.approx(coated / bare, abs=0.01)
    assert finish.finish_factor("hard anodised", "aluminium", "6082") == 0.40


def test_plating_on_steel():
    assert finish.finish_factor("chrome plated", "steel", "4130") == 0.5
    assert finish.finish_factor("zinc plated", "steel", "4130") == 1.0


def test_what_is_not_known_is_not_a_number_and_says_why():
    for text, family in (
        ("silver plated", "steel"),
        ("zinc plated", "aluminium"),
        ("anodised", "titanium"),
    ):
        assert math.isnan(finish.finish_factor(text, family, ""))
        assert family in finish.finish_source(text, family, "")


def test_every_row_has_a_source_and_takes_nothing_back():
    for row in rows("coating_fatigue"):
        assert row["source"] and 0.0 < float(row["factor"]) <= 1.0
