"""A worked method keeps its steps; a check says when its method does not hold."""

import importlib
import inspect
import pkgutil
from itertools import chain

import numpy as np
import pytest

from parts import strength, vehicle
from parts.core.check import check
from parts.strength.method import method, units_of, work


@method(formula="A = b h", source="geometry")
def area(b, h):
    """Area of a rectangle.

    Args:
        b [mm]: breadth.
        h [mm]: height.

    Returns:
        [mm^2] area.
    """
    return b * h


@method(
    formula="σ = F / A", source="geometry", valid="A at least 1 mm^2", holds=lambda F, A: A >= 1.0
)
def stress(F, A):
    """Mean stress.

    Args:
        F [N]: force.
        A [mm^2]: area.

    Returns:
        [MPa] stress.
    """
    return F / A


def test_steps_come_in_working_order_and_inputs_are_kept():
    worked = work(stress, F=100.0, A=work(area, b=2.0, h=5.0))
    assert worked.value == 10.0
    assert [s.formula for s in worked.steps()] == ["A = b h", "σ = F / A"]
    assert worked.unit == "MPa"
    found = check(
        "bar", "tension", load_case="pull", demand=worked, capacity=30.0, unit="MPa", required=1.5
    )
    assert found.factor == 3.0
    assert found.ok
    assert found.inputs == {"b": 2.0, "h": 5.0, "F": 100.0, "A": 10.0}


def test_one_symbol_of_several_steps_stands_for_what_was_given_last():
    """A stress found by one step and put into the next, and two areas: each keeps its own value."""
    first = work(stress, F=100.0, A=work(area, b=2.0, h=5.0))
    second = work(stress, F=first, A=4.0)
    found = check(
        "bar", "tension", load_case="pull", demand=second, capacity=work(stress, F=9.0, A=2.0), unit="MPa",
        required=1.0,
    )  # fmt: skip
    assert found.inputs == {
        "b": 2.0, "h": 5.0, "F (stress)": 100.0, "A (stress)": 10.0, "F (stress, 2)": 10.0, "A (stress, 2)": 4.0,
        "F": 9.0, "A": 2.0,
    }  # fmt: skip
    alone = check("b", "t", load_case="", demand=second, capacity=1.0, unit="MPa", required=1.0)
    assert (alone.inputs["F"], alone.inputs["F (stress)"]) == (100.0, 10.0)


def test_out_of_range_is_said():
    worked = work(stress, F=100.0, A=np.array([0.5, 2.0]))
    found = check(
        "bar", "tension", load_case="pull", demand=worked, capacity=300.0, unit="MPa", required=1.5
    )
    assert list(found.in_range) == [False, True]
    assert "A at least 1 mm^2" in found.note


@pytest.mark.parametrize(("demand", "factor", "ok"), [(0.0, np.inf, True), (np.nan, np.nan, False)])
def test_no_demand_is_safe_and_no_number_is_not(demand, factor, ok):
    found = check(
        "bar", "tension", load_case="", demand=demand, capacity=1.0, unit="N", required=1.0
    )
    np.testing.assert_equal(found.factor, factor)
    assert found.ok == ok


def methods():
    inside = (
        pkgutil.walk_packages(one.__path__, f"{one.__name__}.") for one in (strength, vehicle)
    )
    for info in chain.from_iterable(inside):
        module = importlib.import_module(info.name)
        for name, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ == module.__name__ and hasattr(function, "formula"):
                yield f"{info.name}.{name}", function


def test_every_method_states_units_formula_and_source():
    for name, function in methods():
        units, result = units_of(function)
        assert set(units) == set(inspect.signature(function).parameters), name
        assert result, f"the docstring of {name} gives no unit after Returns:"
        assert function.formula and function.source, name
        assert bool(function.valid) == (function.holds is not None), f"valid and holds of {name}"
