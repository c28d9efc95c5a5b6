"""What a builder is told of a broken rule: the dimension that he typed, and a limit that is a number."""

import random
import re
from copy import deepcopy

import pytest
import yaml
from drawn import mutated, pool, stated

from parts.families import families
from parts.inputs.problems import InputError
from parts.inputs.reading import read_text

NO_NUMBER = re.compile(r"\b(nan|inf)\b")


def said(family, **changes):
    """The message of a family's example with some values changed, by dotted path with two underscores."""
    data = deepcopy({"family": family, **families()[family].example})
    for path, value in changes.items():
        owner, (*steps, last) = data, path.split("__")
        for step in steps:
            owner = owner[step]
        owner[last] = value
    with pytest.raises(InputError) as found:
        read_text(yaml.safe_dump(data), families())
    return str(found.value)


def test_a_rule_on_what_a_dimension_leaves_is_told_as_the_limit_of_the_dimension():
    """An arm 44 mm wide leaves a hub of 48 mm 0.485 mm beside it where 0.5 is needed: the hub wants 48.04 mm."""
    told = said("torsion-bar arm", arm__width="44 mm", arm__end_width="26 mm")
    assert "hub.diameter: 48 mm" in told and "at least 48.04 mm" in told
    data = deepcopy({"family": "torsion-bar arm", **families()["torsion-bar arm"].example})
    data["arm"] |= {"width": "44 mm", "end_width": "26 mm"}
    data["hub"]["diameter"] = "48.04 mm"
    assert "hub.diameter" not in str(read_or_none(data))


def read_or_none(data):
    try:
        read_text(yaml.safe_dump(data), families())
    except InputError as error:
        return error
    return None


def test_a_default_that_nobody_typed_is_not_blamed():
    """A fork narrower than its arm: `arm.end_fillet` was told, which the file does not have, in half widths."""
    import torsion_arms

    data = stated(torsion_arms.arm(**torsion_arms.VARIANTS["clevis"]))
    del data["arm"]["end_fillet"]
    data["end"]["ears"]["width"] = "26 mm"
    data["arm"]["end_width"] = "40 mm"
    told = str(read_or_none(data))
    assert "end.ears.width: 26 mm" in told and "arm.end_fillet:" not in told


def test_thick_stock_is_blamed_on_what_was_typed():
    """A sheet bracket takes its shaking along when it is copied, and the material was blamed."""
    assert "thickness: 76.2 mm" in said("sheet bracket", thickness="3 in")


def test_a_sum_is_told_as_the_limit_of_what_can_meet_it():
    """A spigot of 22 in: the shoulder of 10 mm was told to be 568.8 mm."""
    told = said("threaded bung", bung__spigot="22 in")
    assert "bung.spigot: 558.8 mm" in told and "at most 240 mm" in told


def test_a_crank_is_never_held_to_less_than_nothing():
    assert "at most -" not in said("foot lever", arm__length="4.5 mm")


def test_a_welded_clevis_says_whether_width_or_thickness_is_short():
    spigot = {"type": "spigot", "tube": "1 in x 0.065 in", "tube_material": "4130 normalized",
              "length": "30 mm", "shoulder": "8 mm", "weld_prep": "1.5 mm"}  # fmt: skip
    told = said(
        "clevis",
        shank=spigot,
        material="4130 normalized",
        ears__width="26 mm",
        ears__thickness="8 mm",
    )
    assert "larger than the ears are wide" in told and "body is thick" not in told


def test_no_message_of_any_family_holds_what_is_no_number():
    draw = random.Random(7)
    every = [part for parts in pool().values() for part in parts]
    refused = 0
    for part in draw.sample(every, 60):
        error = read_or_none(mutated(part, draw))
        refused += error is not None
        assert not NO_NUMBER.search(str(error)), error
    assert refused > 30


@pytest.mark.parametrize("angle", ["0 deg", "180 deg"])
@pytest.mark.filterwarnings("error")
def test_an_angle_of_nothing_is_told_as_the_angle_alone(angle):
    """It gave `nan deg where at least 30 deg is needed` of the plate's two places, and a warning of numpy's."""
    import gussets

    data = stated(gussets.option("across"))
    told = str(read_or_none({**data, "angle": angle}))
    assert "angle: " in told and not NO_NUMBER.search(told)
