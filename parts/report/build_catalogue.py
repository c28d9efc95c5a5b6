"""What a build file may say."""

from __future__ import annotations

import inspect
from collections.abc import Iterable, Iterator
from typing import Any, get_args

from parts.core.group import Group
from parts.report.text import wrapped
from parts.vehicle.file import forms
from parts.vehicle.file.entries import BuildFile
from parts.vehicle.file.names import OTHERS
from parts.vehicle.loads.statics import FRAME
from parts.vehicle.rear_end.rear import BODIES


def build_catalogue() -> str:
    """Every key of a build file with what it means, the bodies, then every form with an example, 100 columns wide."""
    lines = ["build file", ""]
    lines += [
        line for path, what in build_keys() for line in wrapped(f"{path}: {what}", 100, "    ")
    ]
    lines += ["", *wrapped(_bodies(), 100, "")]
    lines += ["", *(inspect.getdoc(forms) or "").splitlines()]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _bodies() -> str:
    """The names that `body:` of a part, and `not_modelled:`, may use."""
    of_groups: dict[str, list[str]] = {"rear_end": [one for one in BODIES if one not in OTHERS]}
    for body, group in OTHERS.items():
        of_groups.setdefault(group, []).append(body)
    named = "; ".join(f"`{group}:` {', '.join(own)}" for group, own in of_groups.items())
    return (
        f"Bodies that a part may belong to: `{FRAME}`, which holds all others; those under `bodies:` and `links:`, "
        f"whose names are free; and those that a group of the file brings: {named}."
    )


def build_keys() -> Iterator[tuple[str, str]]:
    """Every key of a build file, by its path, with what it means."""
    return _keys(BuildFile)


def _keys(
    group: type[Group], before: str = "", chosen: Iterable[str] | None = None
) -> Iterator[tuple[str, str]]:
    """Paths of the keys of a group, all of them or those that are chosen, with what each means."""
    for name in group.model_fields if chosen is None else chosen:
        field = group.model_fields[name]
        path = before + (field.alias or name)
        yield path, field.description or ""
        groups, many = _groups_in(field.annotation)
        if len(groups) == 1:
            yield from _keys(groups[0], f"{path}{many}.")
        elif groups:
            shared = [key for key in groups[0].model_fields
                      if key != "type" and all(key in one.model_fields for one in groups)]  # fmt: skip
            yield from _keys(groups[0], f"{path}{many}.", shared)
            for one in groups:
                own = [key for key in one.model_fields if key not in shared]
                yield from _keys(one, f"{path}{many} ({', '.join(_types(one))}).", own)


def _types(group: type[Group]) -> tuple[str, ...]:
    return get_args(group.model_fields["type"].annotation)


def _groups_in(annotation: Any) -> tuple[list[type[Group]], str]:
    """The groups that a field may hold, and how it is written where there are several of them at once."""
    if isinstance(annotation, type) and issubclass(annotation, Group):
        return [annotation], ""
    inner = [_groups_in(one)[0] for one in get_args(annotation) if one is not type(None)]
    found = [group for groups in inner for group in groups]
    several = getattr(annotation, "__origin__", None)
    return found, {list: "[]", dict: ".NAME"}.get(several, "") if found else ""
