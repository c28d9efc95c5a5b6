"""Every method of the vehicle states formula, source and units, as those of the strength chapters do."""

import importlib
import inspect
import pkgutil

import pytest

import parts.vehicle
from parts.strength.method import units_of


def methods():
    for info in pkgutil.walk_packages(parts.vehicle.__path__, "parts.vehicle."):
        module = importlib.import_module(info.name)
        for name, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ == module.__name__ and hasattr(function, "formula"):
                yield pytest.param(function, id=f"{info.name}.{name}")


def test_there_are_methods():
    assert len(list(methods())) >= 10


@pytest.mark.parametrize("function", list(methods()))
def test_every_method_states_units_formula_and_source(function):
    units, result = units_of(function)
    assert set(units) == set(inspect.signature(function).parameters)
    assert result, "the docstring gives no unit after Returns:"
    assert function.formula and function.source
    assert bool(function.valid) == (function.holds is not None), "valid and holds go together"
