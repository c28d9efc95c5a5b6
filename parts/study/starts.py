"""What each option of a family starts from: a valid group of dimensions, and what around it must go with it."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from parts.core.part import Part

FILE = Path(__file__).parent / "starts.yaml"
THERE = "there"
"""The option of a group that has none: it is stated."""


@cache
def _file() -> Mapping[str, Mapping[str, Mapping[str, Any]]]:
    import yaml

    found: Mapping[str, Mapping[str, Mapping[str, Any]]] = yaml.safe_load(FILE.read_text("utf-8"))
    return found


def start(family: type[Part], path: str, option: str) -> dict[str, Any]:
    """What an option starts from: values by dotted path, its own group among them; empty where none is known.

    Args:
        family: the family.
        path: dotted path of the group, without marks of list entries.
        option: its type.
    """
    of_family = _file().get(str(family.example["family"]), {})
    found = of_family.get(f"{path}={option}")
    around, _, last = path.rpartition(".")
    if found is None:
        found = _file()["any"].get(f"{last}={option}", {})
        found = {f"{around}.{key}".lstrip("."): one for key, one in found.items()}
    return copy.deepcopy(dict(found))


def group_start(family: type[Part], path: str, option: str) -> dict[str, Any]:
    """The group that an option starts from, or that of an example with this option; empty where there is neither."""
    known = (start(family, path, option).get(path), *(_within(e, path) for e in family.examples))
    found = (one for one in known if isinstance(one, Mapping) and one.get("type") == option)
    return copy.deepcopy(dict(next(found, {})))


def entry(family: type[Part], path: str) -> Any:
    """What a group that may be left out, or the first entry of a list, starts from; None where nothing is known.

    Args:
        family: the family.
        path: dotted path of the group or list, without marks of list entries.
    """
    own = _file().get(str(family.example["family"]), {})
    for known in ({path: start(family, path, THERE).get(path)}, *own.values(), *family.examples):
        found = _within(known, path)
        if found is not None:
            return copy.deepcopy(found[0] if isinstance(found, list) else found)
    return None


def _within(data: Any, path: str) -> Any:
    """What stands at a dotted path, also where keys are dotted themselves; of a list its first entry that has it."""
    if isinstance(data, list | tuple):
        return next((one for each in data if (one := _within(each, path)) is not None), None)
    if not isinstance(data, Mapping):
        return None
    if path in data:
        return data[path] or None
    for key, inner in data.items():
        if path.startswith(f"{key}."):
            found = _within(inner, path.removeprefix(f"{key}."))
            if found is not None:
                return found
    return None
