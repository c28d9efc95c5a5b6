"""What each option of a family starts from: a valid group of dimensions, and what around it must go with it."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from parts.core.part import Part

FILE = Path(__file__).parent / "starts.yaml"


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
    """The group that an option starts from; empty where none is known."""
    found = start(family, path, option).get(path, {})
    return found if isinstance(found, dict) else {}
