"""A YAML file to start a part from: the family's example, each key with what it means."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from typing import Any

from parts.core.part import Part
from parts.report.catalogue import dimensions

COLUMN = 44


def starter(family: type[Part]) -> str:
    """Write a family's example as commented YAML.

    Args:
        family: the family.

    Returns:
        A file that makes a valid part at once.
    """
    name = str(family.example["family"])
    known = _notes(family)
    head = [
        f"# yaml-language-server: $schema={name.replace(' ', '-')}.schema.json",
        f"# {name}: {family.summary}",
        *_axes(family.axes),
        _noted("units: mm", "unit of bare numbers; any value may carry its own, as in 3/8 in"),
    ]
    return "\n".join([*head, *_lines(family.example, "", 0, known)]) + "\n"


def _notes(family: type[Part]) -> dict[str, str]:
    """What each field is by its bare path; of a choice, the choices."""
    notes: dict[str, str] = {}
    choices: dict[str, list[str]] = {}
    for path, what, _ in dimensions(family):
        bare = _bare(path)
        notes.setdefault(bare, what)
        option = re.search(r"\(([^()]*)\)\.type$", path)
        if option:
            choices.setdefault(bare, []).extend(option[1].split(", "))
    return notes | {
        path: f"one of: {', '.join(dict.fromkeys(names))}"
        for path, names in choices.items()
        if len(set(names)) > 1
    }


def _axes(text: str) -> list[str]:
    return [f"# axes: {text}"] if text else []


def _bare(path: str) -> str:
    """A dotted path without the marks of list entries and of options."""
    steps = [step.split(" (")[0].removesuffix("[]") for step in path.split(".")]
    return ".".join(steps)


def _lines(
    group: Mapping[str, Any], prefix: str, depth: int, known: Mapping[str, str]
) -> Iterator[str]:
    pad = "  " * depth
    for key, value in group.items():
        path = f"{prefix}{key}"
        if isinstance(value, Mapping):
            yield _noted(f"{pad}{key}:", known.get(path, ""))
            yield from _lines(value, f"{path}.", depth + 1, known)
        elif isinstance(value, list) and value and isinstance(value[0], Mapping):
            yield _noted(f"{pad}{key}:", known.get(path, ""))
            for entry in value:
                first, *rest = _lines(entry, f"{path}.", depth + 2, known)
                yield f"{pad}  - {first.lstrip()}"
                yield from rest
        else:
            yield _noted(f"{pad}{key}: {_scalar(value)}", known.get(path, ""))


def _noted(line: str, note: str) -> str:
    return f"{line:<{COLUMN}}# {note}" if note else line


def _scalar(value: Any) -> str:
    if isinstance(value, list | tuple):
        return f"[{', '.join(_scalar(entry) for entry in value)}]"
    if isinstance(value, str):
        return value if _is_plain(value) else json.dumps(value, ensure_ascii=False)
    return json.dumps(value)


def _is_plain(text: str) -> bool:
    """True for text that YAML reads back as the same text without quotes."""
    import yaml

    try:
        return bool(yaml.safe_load(text) == text) and not any(sign in text for sign in ":#,[]{}")
    except yaml.YAMLError:
        return False
