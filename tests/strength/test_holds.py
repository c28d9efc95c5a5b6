"""Every method's range of validity can be asked with the arguments the method itself takes."""

import importlib
import inspect
import pkgutil

import parts.strength


def ranged():
    for info in pkgutil.walk_packages(parts.strength.__path__, "parts.strength."):
        module = importlib.import_module(info.name)
        for _, function in inspect.getmembers(module, inspect.isfunction):
            if function.__module__ == module.__name__ and getattr(function, "holds", None):
                yield function


def test_holds_takes_what_the_method_takes():
    """A `Worked` step passes on just the arguments it was given: all of them, or only the needed ones."""
    for function in ranged():
        given = inspect.signature(function).parameters
        needed = {n for n, p in given.items() if p.default is p.empty}
        asked = inspect.signature(function.holds)
        asked.bind(**dict.fromkeys(given))
        asked.bind(**dict.fromkeys(needed))
