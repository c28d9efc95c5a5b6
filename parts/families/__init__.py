"""The part families. Each file of this folder is one family, whole; a family outside registers through the
entry-point group `oneoff_parts.families`, each entry of which names a class derived from `parts.part.Part`.
"""

from __future__ import annotations

import importlib
import inspect
import pkgutil
from functools import cache
from importlib.metadata import entry_points
from types import MappingProxyType, ModuleType
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from parts.part import Part

GROUP = "oneoff_parts.families"


@cache
def families() -> Mapping[str, type[Part]]:
    """Every family by the name that a YAML file gives as `family`, in alphabetical order.

    Raises:
        ValueError: two families claim one name.
    """
    found: dict[str, type[Part]] = {}
    own = (importlib.import_module(f"{__name__}.{m.name}") for m in pkgutil.iter_modules(__path__))
    classes = [family for module in own for family in _defined_in(module)]
    classes += [entry.load() for entry in entry_points(group=GROUP)]
    for family in classes:
        name = family_name(family)
        if name in found:
            raise ValueError(f"two families are called {name!r}: {found[name]} and {family}")
        found[name] = family
    return MappingProxyType(dict(sorted(found.items())))


def family_name(family: type[Part]) -> str:
    """The name by which YAML files call a family."""
    return str(family.model_fields["family"].default)


def _defined_in(module: ModuleType) -> list[type[Part]]:
    from parts.part import Part

    return [
        member
        for _, member in inspect.getmembers(module, inspect.isclass)
        if issubclass(member, Part) and member.__module__ == module.__name__
    ]
