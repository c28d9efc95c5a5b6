"""A fork in a script of one's own: the checks and the solid that a clevis with the same ears has."""

import pytest

import parts
from parts.core.part import BrokenRules
from parts.features.fork.alone import fork
from parts.inputs.problems import InputError


def ears():
    return dict(parts.Clevis.example["ears"])


def test_its_checks_are_those_of_a_clevis():
    """But for friction in the joint, which the clevis adds to what the pin does."""
    data = {k: v for k, v in parts.Clevis.example.items() if k != "family"}
    part = parts.Clevis(**{**data, "friction": 0.0, "loads": [
        {"name": "load", "forces": [{"at": "pin", "force": ["5 kN", "0 N", "0 N"]}]}]})  # fmt: skip
    whole = {one.name: float(one.factor) for one in part.check().checks}
    alone = fork(material_name=data["material"], **ears()).checks([5000.0, 0.0, 0.0])
    assert len(alone) > 5
    for one in alone:
        assert whole[one.name] == pytest.approx(float(one.factor)), one.name


def test_its_solid_is_two_ears_on_a_floor():
    made = fork(material_name="4130 normalized", edge_break=0.0, **ears())
    solid = made.solid().val()
    assert solid.isValid()
    assert solid.BoundingBox().zlen == pytest.approx(float(made.ears.height))


def test_what_is_wrong_is_told():
    with pytest.raises(InputError, match=r"fork: width: .* is a mass"):
        fork(material_name="4130 normalized", **{**ears(), "width": "3 kg"})
    with pytest.raises(BrokenRules, match=r"ears\.width"):
        fork(material_name="4130 normalized", **{**ears(), "width": "10 mm"})
