"""The methods of this library, and what speaks for each of them."""

from __future__ import annotations

import csv
import importlib
import inspect
import pkgutil
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from typing import Any

from parts import strength, vehicle

EVIDENCE = "evidence.csv"
"""How many examples of each kind work each method; `tests/published/evidence.py` writes it."""


def methods() -> Iterator[tuple[str, Any]]:
    """Every method by its name, as `bolted.joint.load_share`, with its function."""
    for room in (strength, vehicle):
        for info in pkgutil.walk_packages(room.__path__, f"{room.__name__}."):
            module = importlib.import_module(info.name)
            for name, function in inspect.getmembers(module, inspect.isfunction):
                if function.__module__ == module.__name__ and hasattr(function, "formula"):
                    stem = info.name.removeprefix("parts.").removeprefix("strength.")
                    yield f"{stem}.{name}", function


@cache
def evidence() -> dict[str, str]:
    """What speaks for each method that an example works: how many of each kind."""
    text = files(__package__).joinpath(EVIDENCE).read_text("utf-8")
    found: dict[str, list[str]] = {}
    for row in csv.DictReader(text.splitlines()):
        found.setdefault(row["method"], []).append(f"{row['examples']} {row['kind']}")
    return {name: ", ".join(kinds) for name, kinds in found.items()}
