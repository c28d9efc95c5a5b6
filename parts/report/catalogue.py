"""The list of families and their dimensions, as text and as JSON, read from the models themselves."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any

from parts.core.part import Part
from parts.core.ways import tally
from parts.families import families
from parts.inputs.reading import defaults_as_written
from parts.report.text import way_rows

WIDTH = 100


def catalogue(chosen: Mapping[str, type[Part]] | None = None) -> str:
    """Families with one line each; a single one with all its dimensions and load points.

    Args:
        chosen: families by name; all where None.

    Returns:
        Text of at most 100 columns.
    """
    if chosen is None:
        lines = [
            line for name, family in families().items() for line in _wrapped(name, family.summary)
        ]
        lines += [
            "",
            "`oneoff list FAMILY` shows the dimensions of one, `oneoff new FAMILY` starts a part of it.",
        ]
    else:
        lines = [line for name, family in chosen.items() for line in _family(name, family)]
    return "\n".join(lines) + "\n"


def catalogue_json(chosen: Mapping[str, type[Part]] | None = None) -> str:
    """The same as one JSON document."""
    listed = families() if chosen is None else chosen
    document = {
        "families": [
            {
                "name": name,
                "summary": family.summary,
                "axes": family.axes,
                "load_points": list(family.load_points),
                "load_points_with": dict(family.load_points),
                "dimensions": [
                    {"field": path, "what": what, "default": default}
                    for path, what, default in dimensions(family)
                ],
                "not_covered": list(family.not_covered),
            }
            for name, family in listed.items()
        ]
    }
    return json.dumps(document, indent=2, ensure_ascii=False) + "\n"


def modes_text(family: type[Part]) -> str:
    """Every way in which the joints and members of a family's example can fail, and what answers it.

    Args:
        family: the family.

    Returns:
        Text of at most 100 columns.
    """
    result = family.model_validate(dict(family.example)).check()
    if not result.answers:
        return "The family does not say which joints and members it holds.\n"
    lines = textwrap.wrap(f"What can fail of the example: {family.summary}", WIDTH)
    where = ""
    for joint, way, said in way_rows(result.answers):
        lines += ["", joint] if joint != where else []
        where = joint
        lines += textwrap.wrap(f"  {way:<34}  {said}", WIDTH, subsequent_indent=" " * 38)
    return "\n".join([*lines, "", f"{tally(result.answers).said}."]) + "\n"


def modes_json(family: type[Part]) -> str:
    """The same as one JSON document, with what each row means and which books list it."""
    result = family.model_validate(dict(family.example)).check()
    rows = [
        {
            "kind": one.kind.name,
            "at": one.kind.at,
            "way": one.way.name,
            "what": one.way.what,
            "checks": [each.name for each in one.checks],
            "left_out": one.reason,
            "source": one.way.source,
        }
        for one in result.answers
    ]
    return json.dumps({"modes": rows}, indent=2, ensure_ascii=False) + "\n"


@cache
def dimensions(family: type[Part]) -> tuple[tuple[str, str, str], ...]:
    """Every field of a family: dotted path, description, and default ("" where it must be given)."""
    schema = defaults_as_written(family.model_json_schema())
    return tuple(_fields(schema, schema, "", ()))


def _family(name: str, family: type[Part]) -> Iterator[str]:
    yield from textwrap.wrap(f"{name}: {family.summary}", WIDTH)
    yield from textwrap.wrap(f"axes: {family.axes}", WIDTH, subsequent_indent="  ")
    yield from textwrap.wrap(
        f"load points: {'; '.join(_points(family))}", WIDTH, subsequent_indent="  "
    )
    yield ""
    for path, what, default in dimensions(family):
        given = f" ({default} where left out)" if default else ""
        yield from _wrapped(path, f"{what}{given}")


def _points(family: type[Part]) -> list[str]:
    """Every load point, with what brings it in."""
    return [f"{name} (with {by})" if by else name for name, by in family.load_points.items()]


def _wrapped(head: str, text: str) -> list[str]:
    return textwrap.wrap(f"{head:<28}  {text}", WIDTH, subsequent_indent=" " * 30)


def _fields(
    node: Mapping[str, Any], root: Mapping[str, Any], prefix: str, within: tuple[str, ...]
) -> Iterator[tuple[str, str, str]]:
    needed = node.get("required", ())
    for name, field in node.get("properties", {}).items():
        path = f"{prefix}{name}"
        default = "" if name in needed or "default" not in field else _shown(field["default"])
        yield path, _described(field, root), default
        for branch, inner in _groups(field, root):
            if branch in within:
                continue
            kind = inner.get("properties", {}).get("type", {})
            tag = kind.get("const") or ", ".join(kind.get("enum", ()))
            many = "[]" if field.get("type") == "array" else ""
            step = f"{path}{many}" + (f" ({tag})" if tag else "")
            yield from _fields(inner, root, f"{step}.", (*within, branch))


def _described(field: Mapping[str, Any], root: Mapping[str, Any]) -> str:
    """A field's description; one that repeats its group's own stands with the group alone."""
    group = root.get("$defs", {}).get(field.get("$ref", "").rsplit("/", 1)[-1], {})
    return str(field.get("description") or group.get("description", ""))


def _groups(
    field: Mapping[str, Any], root: Mapping[str, Any]
) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """The groups that a field may hold: itself, one of several, or the entries of a list."""
    nodes = [field, field.get("items", {}), *field.get("anyOf", ()), *field.get("oneOf", ())]
    nodes += [*field.get("items", {}).get("oneOf", ()), *field.get("items", {}).get("anyOf", ())]
    nodes += [deeper for node in field.get("anyOf", ()) for deeper in node.get("oneOf", ())]
    for node in nodes:
        if "$ref" in node:
            name = node["$ref"].rsplit("/", 1)[-1]
            yield name, root["$defs"][name]


def _shown(default: Any) -> str:
    if default is None:
        return "nothing"
    if isinstance(default, str | int | float) and not isinstance(default, bool):
        return f"{default}"
    return (
        json.dumps(default, ensure_ascii=False)
        if isinstance(default, bool | list)
        else "its own defaults"
    )
