"""The part families. A room of this folder holds one family or more and names them in `FAMILIES`, by module; a
family of one file has the file's name, its underscores as blanks. A family outside registers through the
entry-point group `oneoff_parts.families`, each entry of which names a class derived from `parts.core.part.Part`.
"""

from __future__ import annotations

import importlib
import inspect
import pkgutil
from collections.abc import Iterator, Mapping
from functools import cache, cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from parts.core.part import Part

GROUP = "oneoff_parts.families"
OTHER_NAMES = {"rod-end turnbuckle": "heim-joint turnbuckle"}
"""What some call a family, and its name here."""


@cache
def families() -> Mapping[str, type[Part]]:
    """Every family by the name that a YAML file gives as `family`, in alphabetical order.

    A family is loaded when it is looked up. All names are known without loading one of this folder; those that are
    installed beside it are asked only where a name is not here, or where all are listed. A ValueError says where two
    families claim one name.
    """
    return _Families()


def family_name(family: type[Part]) -> str:
    """The name by which YAML files call a family."""
    return str(family.model_fields["family"].default)


class _Families(Mapping[str, type["Part"]]):
    def __getitem__(self, name: str) -> type[Part]:
        name = OTHER_NAMES.get(name, name)
        if name in self._here:
            return _family_in(self._here[name])
        return self._beside[name]

    def __contains__(self, name: object) -> bool:
        return name in self._here or name in OTHER_NAMES or name in self._beside

    def __iter__(self) -> Iterator[str]:
        return iter(sorted([*self._here, *self._beside]))

    def __len__(self) -> int:
        return len(self._here) + len(self._beside)

    @cached_property
    def _here(self) -> dict[str, str]:
        """The module of each family of this folder."""
        found: dict[str, str] = {}
        for one in pkgutil.iter_modules(__path__):
            inside = {one.name.replace("_", " "): ""}
            if one.ispkg:
                inside = importlib.import_module(f"{__name__}.{one.name}").FAMILIES
            for name, module in inside.items():
                found[name] = ".".join(filter(None, (__name__, one.name, module)))
        return found

    @cached_property
    def _beside(self) -> dict[str, type[Part]]:
        # Asking everything that is installed takes longer than reading a part.
        from importlib.metadata import entry_points

        found: dict[str, type[Part]] = {}
        for family in (entry.load() for entry in entry_points(group=GROUP)):
            name = family_name(family)
            if name in found or name in self._here:
                other = found[name] if name in found else self._here[name]
                raise ValueError(f"two families are called {name!r}: {other} and {family}")
            found[name] = family
        return found


@cache
def _family_in(module: str) -> type[Part]:
    from parts.core.part import Part

    members = inspect.getmembers(importlib.import_module(module), inspect.isclass)
    return next(one for _, one in members if issubclass(one, Part) and one.__module__ == module)
