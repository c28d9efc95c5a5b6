"""A fork, an eye and a bearing seat in a script of one's own: the checks and solids that a part with them has."""

import brackets
import numpy as np
import pytest
import torsion_arms

import parts
from parts.core.refusing import BrokenRules
from parts.inputs.problems import InputError


def ears():
    return dict(parts.Clevis.example["ears"])


def test_its_checks_are_those_of_a_clevis():
    """But for friction in the joint, which the clevis adds to what the pin does."""
    data = {k: v for k, v in parts.Clevis.example.items() if k != "family"}
    part = parts.Clevis(**{**data, "friction": 0.0, "loads": [
        {"name": "load", "forces": [{"at": "pin", "force": ["5 kN", "0 N", "0 N"]}]}]})  # fmt: skip
    whole = {one.name: float(one.factor) for one in part.check().checks}
    alone = parts.fork(material_name=data["material"], **ears()).checks([5000.0, 0.0, 0.0])
    assert len(alone) > 5
    for one in alone:
        assert whole[one.name] == pytest.approx(float(one.factor)), one.name


def test_its_solid_is_two_ears_on_a_floor():
    made = parts.fork(material_name="4130 normalized", edge_break=0.0, **ears())
    solid = made.solid().val()
    assert solid.isValid()
    assert solid.BoundingBox().zlen == pytest.approx(float(made.ears.height))


def test_what_is_wrong_is_told():
    with pytest.raises(InputError, match=r"fork: width: .* is a mass"):
        parts.fork(material_name="4130 normalized", **{**ears(), "width": "3 kg"})
    with pytest.raises(BrokenRules, match=r"ears\.width"):
        parts.fork(material_name="4130 normalized", **{**ears(), "width": "10 mm"})


def same(alone, whole):
    """Every check of the lone feature is one of the part's, with the same factor."""
    found = {one.name: float(one.factor) for one in whole.check().checks}
    assert len(alone) > 5
    for one in alone:
        assert found[one.name] == pytest.approx(float(one.factor)), one.name


def test_an_eye_has_the_checks_of_the_arm_that_ends_in_it_and_its_bore():
    whole = torsion_arms.arm()
    [case] = whole.loads
    force = np.asarray(case.forces[0].force)
    end = {k: v for k, v in torsion_arms.EYE.items() if k != "type"}
    made = parts.eye(material_name=whole.metal.name, edge_break=whole.edge_break, **end)
    same(made.checks(force), whole)
    solid = made.solid().val()
    assert solid.isValid()
    r, bore = float(made.feature.diameter) / 2.0, float(made.feature.bore_diameter) / 2.0
    assert solid.Volume() == pytest.approx(
        np.pi * (r**2 - bore**2) * float(made.feature.width), rel=0.02
    )
    with pytest.raises(BrokenRules, match="too little metal stands around the bore"):
        parts.eye(material_name="4130 normalized", **{**end, "diameter": "13 mm"})


def test_a_bearing_seat_bears_what_that_of_a_bracket_does():
    """The metal of the bracket is plate of 29 mm; that of a boss alone may be a bar of its diameter, and weaker."""
    whole = brackets.loaded_everywhere(brackets.bracket("seat"))
    pivot, boss = whole.pedal, whole.pedal.boss
    made = parts.bearing_seat(
        material_name=whole.metal.name, diameter=float(boss.diameter),
        thickness=float(whole.plate.thickness + boss.inner), bearing=pivot.bearing.designation,
        height=float(pivot.height), retention=pivot.retention,
    )  # fmt: skip
    [case] = whole.loads
    found = {one.name: one for one in whole.check().checks if one.load_case in ("", case.name)}
    alone = made.checks(case.forces[0].force)
    assert len(alone) == 8
    for one in alone:
        bracket = found[one.name.replace("shaft", "pedal", 1)]
        assert float(one.demand) == pytest.approx(float(bracket.demand)), one.name
        assert float(one.capacity) <= float(bracket.capacity) * (1.0 + 1e-9)
    solid = made.solid().val()
    assert solid.isValid()
    assert solid.isInside((0.0, float(pivot.bearing.outside) / 2.0 + 4.0, 8.0))
    assert made.tool().val().isValid()
