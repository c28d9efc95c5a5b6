"""The part families. Each file of this folder is one family, whole; a family outside registers through the
entry-point group `oneoff_parts.families`, each entry of which names a class derived from `parts.part.Part`.
"""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
from collections.abc import Iterator, Mapping
from functools import cache, cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from parts.part import Part

GROUP = "oneoff_parts.families"


@cache
def families() -> Mapping[str, type[Part]]:
    """Every family by the name that a YAML file gives as `family`, in alphabetical order.

    Only what is asked for is loaded: one family by its name, or all of them to be listed, which raises a
    ValueError where two of them claim one name.
    """
    return _Families()


def family_name(family: type[Part]) -> str:
    """The name by which YAML files call a family."""
    return str(family.model_fields["family"].default)


class _Families(Mapping[str, type["Part"]]):
    """The families by name: those of this folder first, and only then those that are installed beside it."""

    def __getitem__(self, name: str) -> type[Part]:
        # `gusset.py` holds the gusset plate: most often the likely file is the only one that is loaded.
        words = {*re.findall(r"\w+", name)}
        files = sorted(self._files, key=lambda file: not words.issuperset(file.split("_")))
        for family in (one for file in files for one in _families_in(file)):
            if family_name(family) == name:
                return family
        return self._every[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._every)

    def __len__(self) -> int:
        return len(self._every)

    @cached_property
    def _files(self) -> list[str]:
        return [module.name for module in pkgutil.iter_modules(__path__)]

    @cached_property
    def _every(self) -> dict[str, type[Part]]:
        # Asking everything that is installed takes longer than reading a part.
        from importlib.metadata import entry_points

        found: dict[str, type[Part]] = {}
        classes = [family for file in self._files for family in _families_in(file)]
        for family in [*classes, *(entry.load() for entry in entry_points(group=GROUP))]:
            name = family_name(family)
            if name in found:
                raise ValueError(f"two families are called {name!r}: {found[name]} and {family}")
            found[name] = family
        return dict(sorted(found.items()))


@cache
def _families_in(file: str) -> list[type[Part]]:
    from parts.part import Part

    module = importlib.import_module(f"{__name__}.{file}")
    return [
        member
        for _, member in inspect.getmembers(module, inspect.isclass)
        if issubclass(member, Part) and member.__module__ == module.__name__
    ]
