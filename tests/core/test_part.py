"""A part from Python: built with keyword arguments, changed, copied, shown."""

import math
import pickle

import numpy as np
import pytest
from pydantic import ValidationError

import parts
from parts.core.refusing import BrokenRules
from parts.core.rules import at_least, at_most, broken
from parts.families import families
from parts.inputs.problems import InputError
from parts.inputs.reading import with_values
from parts.report.starter import starter


@pytest.fixture
def clevis():
    family = families()["clevis"]
    return family(**{k: v for k, v in family.example.items() if k != "family"})


def test_a_family_is_a_class_of_the_package(clevis):
    assert type(clevis) is parts.Clevis
    with pytest.raises(AttributeError, match="no attribute 'Bicycle'"):
        _ = parts.Bicycle


def test_a_changed_part_is_read_as_from_a_file(clevis):
    deeper = clevis.changed({"ears.depth": "1 in", "clocking": "30 deg"})
    assert deeper.ears.depth == 25.4 and deeper.clocking == pytest.approx(math.pi / 6)
    assert clevis.ears.depth != 25.4 and clevis.clocking == 0.0
    with pytest.raises(KeyError, match="nearest is `depth`"):
        clevis.changed({"ears.dept": 20})
    with pytest.raises(ValidationError, match="kg"):
        clevis.changed({"ears.depth": "3 kg"})
    with pytest.raises(BrokenRules, match=r"ears\.depth"):
        clevis.changed({"ears.depth": "5 mm"})


def test_what_a_row_gives_goes_with_the_row(clevis):
    """A bolt named in place of a made pin kept the pin's diameter and metal: an AN4 held as a pin of 9.525 mm."""
    named = clevis.changed({"ears.pin.bolt": "NAS6306"})
    assert named.ears.pin.diameter == pytest.approx(9.5123)
    assert named.ears.pin.material.name == "A286 160 ksi bolt"
    with pytest.raises(BrokenRules, match="the pin rattles in the ball"):
        named.changed({"ears.pin.bolt": "AN4"})
    with pytest.raises(ValidationError, match="a bolt states its own diameter"):
        named.changed({"ears.pin.diameter": "8 mm"})


def test_a_part_whose_loads_follow_a_copy_is_changed_by_text():
    family = families()["sheet bracket"]
    part = family.model_validate(dict(family.example))
    assert part.changed({"thickness": "2.5 mm"}).thickness == 2.5


def test_nothing_worked_out_from_old_values_stays(clevis):
    metal, thicker = clevis.metal, with_values(clevis, {"ears.width": 60.0})
    assert thicker.stock_thickness() == 60.0
    assert "metal" not in thicker.__dict__ and clevis.metal is metal


def test_a_part_is_never_changed_in_place(clevis):
    with pytest.raises(ValidationError, match="frozen"):
        clevis.edge_break = 0.1


def test_a_notebook_shows_checks_and_escapes_text(clevis):
    page = clevis.changed({"title": "<script>alert(1)</script>"})._repr_html_()
    assert "<script>" not in page and "&lt;script&gt;" in page
    assert "ear pin" in page and "factor" in page


def test_loads_act_only_at_points_of_the_part():
    example = dict(families()["clevis"].example)
    example["loads"] = [{"name": "pull", "forces": [{"at": "pen", "force": {"x": "1 kN"}}]}]
    with pytest.raises(ValidationError, match="no point of this part"):
        families()["clevis"].model_validate(example)


def test_a_load_at_no_point_is_shown_where_it_stands(tmp_path):
    text = starter(families()["clevis"])
    file = tmp_path / "part.yaml"
    file.write_text(text.replace("at: pin ", "at: pinn ", 1))
    line = next(i for i, row in enumerate(file.read_text().splitlines(), 1) if "at: pinn" in row)
    with pytest.raises(InputError) as found:
        parts.load(file)
    (problem,) = found.value.problems
    assert (problem.line, problem.field) == (line, "loads[1].forces[1].at")
    assert "nearest is `pin`" in problem.right


def test_two_load_cases_of_one_name_are_refused_where_the_second_stands(tmp_path):
    file = tmp_path / "part.yaml"
    text = starter(families()["clevis"]).replace("name: push with side load", "name: pull")
    file.write_text(text)
    line = [i for i, row in enumerate(text.splitlines(), 1) if "name: pull" in row][1]
    with pytest.raises(InputError) as found:
        parts.load(file)
    (problem,) = found.value.problems
    assert (problem.line, problem.field, problem.code) == (line, "loads[2].name", "same_name")


def test_stock_thicker_than_any_row_is_told_at_the_dimension_that_makes_it_so(tmp_path):
    """As where millimetres are typed as inches."""
    file = tmp_path / "part.yaml"
    text = starter(families()["clevis"]).replace("width: 22 mm", "width: 22 in")
    file.write_text(text)
    line = next(i for i, row in enumerate(text.splitlines(), 1) if "width: 22 in" in row)
    with pytest.raises(InputError, match=r"558\.8 mm .* at most 38\.1 mm") as found:
        parts.load(file)
    (problem,) = found.value.problems
    assert (problem.line, problem.field) == (line, "ears.width")


def test_more_load_never_raises_a_factor(clevis):
    double = with_values(
        clevis, {"loads[1].forces[1].force": tuple(2 * np.array(clevis.loads[0].forces[0].force))}
    )
    case = clevis.loads[0].name
    before = {c.name: float(c.factor) for c in clevis.check().checks if c.load_case == case}
    after = {c.name: float(c.factor) for c in double.check().checks if c.load_case == case}
    assert all(after[name] <= before[name] * (1 + 1e-9) for name in before)


@pytest.mark.parametrize("spread", [0.0, np.array([0.0, 0.5])])
def test_rules_held_all_at_once_break_where_each_alone_does(spread):
    """Over single values, and over variants of which one alone is beyond the limit."""
    rules = [
        make(f"{make.__name__} {value}", "field", value + spread, limit, "why", "how")
        for make in (at_least, at_most)
        for value, limit in (
            (1.0, 1.0),
            (0.9, 1.0),
            (1.1, 1.0),
            (1.0 + 1e-12, 1.0),
            (math.nan, 1.0),
        )
    ]
    rules.append(at_most("of one value among many", "field", 2.0, 1.0, "why", "how"))
    found = [rule.code for rule in broken(rules)]
    assert found == [rule.code for rule in rules if not np.all(rule.ok)]
    assert "at_least nan" in found and "at_most nan" in found and "at_most 1.1" in found
    assert broken([]) == []


def test_the_critical_section_says_whether_its_shear_was_solved_for():
    """A pull alone has no shear, so that its bound is the stress; a couple that twists has to be solved for."""
    from parts.families.clevis.family import Clevis

    def noted(**load):
        loads = [{"name": "one", "forces": [{"at": "pin", **load}]}]
        blade = {"type": "blade", "thickness": "12 mm", "end": "14 mm"}
        ears = {**Clevis.example["ears"], "throat": blade}
        part = Clevis.model_validate(
            {**Clevis.example, "ears": ears, "friction": 0, "loads": loads}
        )
        return {one.name: one for one in part.check().checks}["critical section, yield"].note

    assert "not solved for" in noted(force=["2 kN", 0, 0])
    assert "not solved for" not in noted(force=[0, 0, 0], moment=["9 N*m", 0, 0])


def test_a_limit_that_no_value_can_meet_is_told_so_with_what_else_to_change(tmp_path):
    """A hexagon of 8 mm round a relief of 10.5 mm leaves less than no wall: no chamfer fits there."""
    from parts.families.links.turnbuckle import Turnbuckle

    with pytest.raises(ValidationError) as caught:
        Turnbuckle.model_validate(
            {**Turnbuckle.example, "body": {"type": "hex", "across_flats": "8 mm"}}
        )
    (error,) = caught.value.errors()
    told = {rule.field: rule for rule in error["ctx"]["error"].rules}
    assert "where no value fits, for the limit comes out at -" in told["edge_break"].wrong()
    assert "`body.across_flats`" in told["edge_break"].how
    assert "lessen" not in told["edge_break"].how
    # A limit that some value can meet is told as before.
    assert all("is needed" in one.wrong() for field, one in told.items() if field != "edge_break")


@pytest.mark.parametrize("family", families())
def test_a_checked_part_travels_to_another_process(family):
    # The proof sends parts that were checked: what was worked out of them, with its functions, stays behind.
    part = families()[family].model_validate(dict(families()[family].example))
    checks = part.check().checks
    sent = pickle.loads(pickle.dumps(part))
    assert repr(sent) == repr(part) and len(sent.check().checks) == len(checks)
