"""Loads by common practice: by hand, as a file states them, and what the report says of them."""

import copy

import numpy as np
import pytest
from pydantic import ValidationError

import parts
from parts.core.cautions import cautions
from parts.core.loads import LoadCase, practices
from parts.core.usual_loads import OnLever, TimesWeight
from parts.families.clevis.family import Clevis

G = 9.80665


def test_a_rider_landing_is_a_multiple_of_the_weight() -> None:
    """85 kg at 3 g: 2500.7 N, straight down."""
    load = TimesWeight(at="peg", along=(0, -2, 0), mass=85.0, factor=3.0)
    assert load.force == pytest.approx((0.0, -3 * 85 * G, 0.0))


def test_a_slanting_direction_keeps_the_size() -> None:
    load = TimesWeight(at="peg", along=(1, 2, -2), mass=85.0)
    assert np.linalg.norm(load.force) == pytest.approx(3 * 85 * G)
    assert load.force == pytest.approx(tuple(3 * 85 * G * np.array([1, 2, -2]) / 3))


def test_a_foot_on_a_pedal_of_four_to_one() -> None:
    load = OnLever(at="pin", along=(1, 0, 0), force_on_lever=600.0, ratio=4.0, factor=1.5)
    assert load.force == pytest.approx((3600.0, 0.0, 0.0))


CASE = {
    "name": "landing",
    "practice": [
        {"type": "weight", "at": "pin", "along": [-1, 0, 0], "mass": "85 kg", "factor": 2}
    ],
}


def with_case(case):
    data = copy.deepcopy(dict(Clevis.example))
    data["loads"] = [case]
    return Clevis.model_validate(data)


def test_it_loads_the_part_as_a_stated_force_would() -> None:
    by_practice = with_case(CASE)
    force = f"{2 * 85 * G:.12g} N"
    stated = with_case({"name": "landing", "forces": [{"at": "pin", "force": {"x": f"-{force}"}}]})
    one, other = by_practice.check().checks, stated.check().checks
    assert [float(c.demand) for c in one] == pytest.approx([float(c.demand) for c in other])


def test_it_adds_to_stated_forces_and_is_read_again_as_it_is() -> None:
    both = LoadCase.model_validate(
        CASE | {"forces": [{"at": "pin", "force": ["0 N", "100 N", "0 N"]}]}
    )
    assert [load.force for load in both.forces] == [(0, 100, 0), pytest.approx((-2 * 85 * G, 0, 0))]
    again = LoadCase.model_validate(both.model_dump())
    assert again == both


def test_the_report_says_that_it_has_no_source() -> None:
    part = with_case(CASE)
    (said,) = practices(part.loads)
    assert said.startswith(
        "Load case 'landing' stands on 2 times the weight of 85 kg at pin: common practice"
    )
    assert cautions(part)[0] == said


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"along": [0, 0, 0]}, "it points nowhere"),
        ({"mass": "85 N"}, "kg"),
        ({"factor": 50}, "less than or equal to 20"),
        ({"at": "seat"}, "is no point of this part"),
        ({"type": "impact"}, "weight"),
    ],
)
def test_what_a_builder_may_get_wrong(change, words) -> None:
    with pytest.raises(ValidationError) as found:
        with_case(CASE | {"practice": [CASE["practice"][0] | change]})
    assert words in str(found.value)


def test_a_case_with_neither_applies_nothing() -> None:
    with pytest.raises(ValidationError, match="applies nothing"):
        LoadCase(name="none")


def test_as_a_file_states_it(tmp_path) -> None:
    text = """
family: clevis
name: HC-199
material: 4130 normalized
ears:
  thickness: 6 mm
  width: 22 mm
  depth: 22 mm
  floor_thickness: 8 mm
  throat: {type: blade, thickness: 8 mm, end: 10 mm}
  pin: {bolt: AN6}
shank: {type: male thread, thread: M12x1.5, length: 30 mm, engagement: 16 mm}
loads:
  - name: panic stop
    practice:
      - {type: lever, at: pin, along: [1, 0, 0], force_on_lever: 600 N, ratio: 4}
"""
    file = tmp_path / "hc-199.yaml"
    file.write_text(text, encoding="utf-8")
    part = parts.load(file)
    assert part.loads[0].forces[0].force == pytest.approx((2400.0, 0.0, 0.0))


def test_a_direction_is_stated_by_axes_as_a_force_is():
    """`along: {x: 1, z: 2}` was refused where `force: {x: ..., z: ...}` is taken."""
    shown = TimesWeight(at="peg", along={"x": 1, "z": 2}, mass="80 kg")
    assert shown.along == (1.0, 0.0, 2.0)
