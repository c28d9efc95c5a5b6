"""What every family owes its builder, tried on the examples that it declares: a new one needs no line here."""

import json
from collections.abc import Mapping
from importlib.resources import files
from typing import Any, ClassVar

import jsonschema
import numpy as np
import pytest
from options import options
from pydantic import BaseModel

from parts.core.part import Part
from parts.families import families
from parts.inputs.variants import with_values
from parts.making.bench.measured import measured
from parts.report.document import json_bytes

EXAMPLES = {
    f"{name}, {i}": (family, data)
    for name, family in families().items()
    for i, data in enumerate(family.examples, 1)
}
EACH = pytest.mark.parametrize("name", EXAMPLES)


@pytest.fixture(scope="module")
def parts_by_name():
    return {name: family.model_validate(dict(data)) for name, (family, data) in EXAMPLES.items()}


@pytest.fixture(scope="module")
def checked(parts_by_name):
    found = {}

    def check(name):
        if name not in found:
            found[name] = parts_by_name[name].check()
        return found[name]

    return check


@pytest.mark.parametrize("name", families())
def test_its_load_points_are_listed_with_what_brings_them_in(name):
    listed = families()[name].load_points
    met = {point for part in options(name).values() for point in part.points()}
    assert met == {*listed}
    for part in options(name).values():
        assert {point for point, by in listed.items() if not by} <= {*part.points()}


def test_every_family_has_an_example_and_says_what_it_is():
    for name, family in families().items():
        assert family.example in family.examples, name
        assert family.summary and family.axes, name


@EACH
def test_it_holds_and_every_check_is_a_number(name, checked):
    result = checked(name)
    assert result.part.loads and result.checks
    assert [one.name for one in result.checks if not one.ok] == []
    for one in result.checks:
        assert not np.isnan(one.factor), one.name


@EACH
def test_loads_and_what_holds_it_balance(name, checked):
    result = checked(name)
    assert len(result.balances) >= len(result.part.loads)
    assert all(held.ok for _, held in result.balances)


@pytest.fixture(scope="module")
def schema():
    text = files("parts.report").joinpath("report.schema.json").read_text()
    return jsonschema.Draft202012Validator(json.loads(text))


@pytest.mark.parametrize(
    "name",
    [
        pytest.param(one, marks=[] if one.endswith(", 1") else [pytest.mark.slow])
        for one in EXAMPLES
    ],
)
def test_its_json_is_valid(name, checked, schema):
    schema.validate(json.loads(json_bytes([checked(name)])))


@EACH
def test_its_rules_are_met_and_say_so_in_sentences(name, parts_by_name):
    part = parts_by_name[name]
    rules = list(part.rules())
    assert rules
    for rule in rules:
        assert np.all(rule.ok), rule.code
        assert rule.why.strip() and rule.how.strip() and rule.field, rule.code
        assert not rule.why.endswith(".") and rule.wrong(), rule.code


NO_DIMENSIONS = ("required", "milling", "print_fit", "cutting", "drawing")


def lengths(owner, path=""):
    """Dotted paths of the numbers of a part that are not whole ones, but those of loads and factors."""
    for name in type(owner).model_fields:
        value, at = getattr(owner, name), f"{path}{name}"
        if isinstance(value, float) and value > 0.0:
            yield at, value
        elif isinstance(value, BaseModel) and name not in NO_DIMENSIONS:
            yield from lengths(value, f"{at}.")


def one_plate_alone(check):
    """Whether a check is worked for one plate at a time: a sweep says that it leaves it out."""
    bent = check.startswith("plate toward") and ("on a slant" in check or "buckling" in check)
    return bent or check.startswith("webs between windows")


@EACH
def test_rules_and_checks_broadcast(name, parts_by_name):
    """Every number twice over, as it is and a little larger, gives what it gives alone."""
    part = parts_by_name[name]
    paths = list(lengths(part))
    assert paths
    alone = list(part.rules())
    case = part.loads[0]
    demands = {one.name: one.factor for one in part.modes(case)}
    both = with_values(part, {at: np.array([value, value * 1.0001]) for at, value in paths})
    for rule, one in zip(both.rules(), alone, strict=True):
        first = np.ravel(np.asarray(rule.value, float))[0]
        assert first == pytest.approx(one.value, rel=1e-6, abs=1e-9), rule.code
    for one in both.modes(case):
        first, factor = np.ravel(one.factor)[0], demands.pop(one.name)
        # Of many plates no figure is drawn: the pad alone counts, which is less.
        safe = "plate beside it" in one.name and first < factor
        assert safe or first == pytest.approx(factor, rel=1e-6), one.name
    assert all(one_plate_alone(name) for name in demands)


@pytest.mark.parametrize(
    "name",
    [
        # The first example of each family by default; a family's own tests build its options.
        pytest.param(one, marks=[] if one.endswith(" 1") else [pytest.mark.slow])
        for one in EXAMPLES
    ],
)
def test_it_is_one_closed_solid_as_drawn(name, parts_by_name):
    part = parts_by_name[name]
    assert part.pieces
    for piece in part.pieces:
        [solid] = piece.solid.solids().vals()
        assert solid.isValid() and solid.Volume() > 0.0, piece.name
        assert all(shell.Closed() for shell in solid.Shells()), piece.name
    solids = {piece.name: piece.solid.val() for piece in part.pieces}
    for drawn in part.drawn():
        wrong = [one.words() for one in measured(drawn.marks, solids[drawn.piece]) if not one.ok]
        assert wrong == [], drawn.title


def test_a_family_without_examples_of_its_own_takes_its_example():
    class Alone(Part):
        example: ClassVar[Mapping[str, Any]] = {"family": "alone"}

    assert Alone.examples == ({"family": "alone"},)


@EACH
def test_it_gives_way_for_a_print(name, parts_by_name):
    part = parts_by_name[name]
    assert type(part.eased(0.1)) is type(part)
