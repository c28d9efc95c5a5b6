"""A load that no check feels is said to reach nothing, whatever checks ask the same under any load."""

import pytest

from parts.families import families

NAMED = "what the load case reaches"
# A lever of which the pressed bush asks for itself, a link whose jam nuts do, an arm whose bar does.
CASES = [
    ("foot lever", 1, {"at": "pivot", "force": [0, "30 kN", 0]}),
    ("foot lever", 1, {"at": "pivot", "force": [0, 0, 0], "moment": ["400 N*m", 0, 0]}),
    ("foot lever", 1, {"at": "rod", "force": ["30 kN", 0, 0]}),
    ("adjustable link", 0, {"at": "end a", "force": [0, "30 kN", 0]}),
    ("heim-joint turnbuckle", 0, {"at": "end b", "force": [0, 0, "30 kN"]}),
]


def unfelt(family, number, *forces):
    data = {**families()[family].examples[number], "loads": [{"name": "odd", "forces": [*forces]}]}
    found = families()[family].model_validate(data).check()
    return [one for one in found.checks if one.name == NAMED], found.ok


@pytest.mark.parametrize(("family", "number", "force"), CASES)
def test_a_load_that_its_support_takes_straight_away_falls_short(family, number, force):
    (one,), ok = unfelt(family, number, force)
    assert not one.ok and not ok and f"what acts at {force['at']} goes straight" in one.note


def test_one_load_of_several_that_reaches_nothing_is_named():
    foot = {"at": "toe", "force": [0, "-100 N", 0]}
    assert unfelt("foot lever", 1, foot) == ([], True)
    (one,), ok = unfelt("foot lever", 1, foot, CASES[0][2])
    assert not ok and "pivot" in one.note and "toe" not in one.note


def test_loads_that_hold_each_other_reach_a_link():
    push = [{"at": "end a", "force": ["3 kN", 0, 0]}, {"at": "end b", "force": ["-3 kN", 0, 0]}]
    assert unfelt("adjustable link", 0, *push)[0] == []
