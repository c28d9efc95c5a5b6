"""Sheet brackets: blanks, what shaking adds to the loads, and what cannot be bent."""

import numpy as np
import pytest
from pydantic import ValidationError

from parts.families.sheet_bracket.family import EXAMPLE, EXAMPLES, SheetBracket
from parts.features.sheet.strip import Strip, Turn
from parts.inputs.variants import with_values
from parts.strength.section.properties import properties


@pytest.fixture(scope="module")
def angle():
    return SheetBracket.model_validate(EXAMPLE)


def test_a_blank_by_din_6935():
    """2 mm sheet, 90 degrees about 3 mm, legs of 40 mm outside: 35 + 35 + π/2 (3 + 0.738) = 75.87 mm."""
    strip = Strip([Turn(35.0, np.pi / 2.0, 3.0)], 2.0)
    end = strip.last + 35.0
    k = 0.65 + 0.5 * np.log10(1.5)
    assert strip.flat(end) == pytest.approx(70.0 + np.pi / 2.0 * (3.0 + k), rel=1e-9)
    place, turned = strip.way(end)
    assert place == pytest.approx([39.0, 39.0])  # the middle of the sheet, 40 outside
    assert turned == pytest.approx(np.pi / 2.0)
    assert strip.flat(end, 0.5) == pytest.approx(end)


def test_a_bent_blank_has_the_metal_of_the_part(angle):
    blank = angle.blanks()[0]
    volume = float(properties(blank.finished()).area) * blank.thickness
    assert volume == pytest.approx(angle.pieces[0].solid.val().Volume(), rel=1e-9)
    assert len(blank.folds) == 1
    # The blank is shorter than the middle of the sheet, for the inside of the bend stretches less.
    assert float(properties(blank.outline).area) < float(properties(blank.bent).area)


def test_shaking_adds_a_load_case_for_each_way(angle):
    assert [case.name for case in angle.loads] == [f"shaken along {way}" for way in "xyz"]
    for case, a in zip(angle.loads, (3.0, 3.0, 5.0), strict=True):
        felt = angle.facts()["shaking that front feels, over that of its foot"][0]
        size = np.linalg.norm(case.forces[0].force)
        assert size == pytest.approx(0.15 * 9.80665 * (a * felt + 1.0))
        assert case.ratio == -1.0


def test_the_loads_of_shaking_follow_what_is_changed(angle):
    heavier = angle.changed({"legs[1].carries.mass": "0.5 kg"})
    assert np.linalg.norm(heavier.loads[0].forces[0].force) > 2.0 * np.linalg.norm(
        angle.loads[0].forces[0].force
    )
    many = with_values(angle, {"legs[1].carries.mass": np.array([0.15, 0.5])})
    for k, one in enumerate((angle, heavier)):
        assert many.loads[0].forces[0].force[k] == pytest.approx(one.loads[0].forces[0].force)
    assert len(many.loads) == 3


def test_through_resonance_the_loads_grow_by_it():
    shaken = EXAMPLE["shaking"] | {"through_resonance": True, "engine": {"top_speed": 24000}}
    part = SheetBracket.model_validate({**EXAMPLE, "shaking": shaken})
    felt = part.facts()["shaking that front feels, over that of its foot"][0]
    # At resonance √(1 + 4 ζ²)/(2 ζ), for ζ = 0.02.
    assert felt == pytest.approx(np.sqrt(1.0 + 4.0 * 0.0004) / 0.04, rel=1e-3)
    assert "natural frequency of front" not in [one.name for one in part.check().checks]


@pytest.mark.parametrize(
    ("leg", "said"),
    [
        ({"bends": [{"flat": "6 mm", "angle": "90 deg", "radius": "2 mm"}]}, "cracks in so tight a bend"),
        ({"bends": [{"flat": "1 mm", "angle": "90 deg", "radius": "4.5 mm"}], "width": "30 mm"}, "tears there"),
        ({"reach": "18 mm"}, "pulled oval"),
        ({"reach": "17 mm", "beyond": "9 mm", "bends": [{"flat": "6 mm", "angle": "45 deg", "radius": "4.5 mm"}]},
         "pulled oval"),
        ({"bends": [{"flat": "6 mm", "angle": "150 deg", "radius": "4.5 mm"}]}, "no brake bends so far"),
        ({"width": "52 mm"}, "does not stand within its side"),
        ({"offset": "0.6 mm"}, "as wide as its side stands in its middle"),
        ({"beyond": "4 mm"}, "tear out of the end"),
    ],
)  # fmt: skip
def test_what_cannot_be_bent_is_refused(leg, said):
    with pytest.raises(ValidationError, match=said):
        SheetBracket.model_validate({**EXAMPLE, "legs": [{**EXAMPLE["legs"][0], **leg}]})


def test_two_legs_cannot_share_a_side_or_a_corner():
    leg = EXAMPLE["legs"][0]
    with pytest.raises(ValidationError, match="give each its own side"):
        SheetBracket.model_validate({**EXAMPLE, "legs": [leg, leg]})
    with pytest.raises(ValidationError, match="meet at their corner"):
        SheetBracket.model_validate({**EXAMPLE, "legs": [leg, {**leg, "side": "left"}]})


def test_every_example_has_its_blank():
    for data in EXAMPLES:
        part = SheetBracket.model_validate(data)
        blank = part.blanks()[0]
        assert len(blank.folds) == sum(len(leg.bends) for leg in part.legs)
        assert len(blank.holes) == len(part.base.at) + sum(len(leg.offsets) for leg in part.legs)
