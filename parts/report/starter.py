"""A YAML file to start a part from: the family's example, each key with what it means."""

from __future__ import annotations

import copy
import difflib
import json
import re
import textwrap
from collections.abc import Collection, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from parts.core.cautions import IN_SHORT
from parts.core.group import Group
from parts.core.part import Part
from parts.families import families
from parts.inputs.document import steps_of
from parts.inputs.problems import InputError
from parts.inputs.reading import read_text
from parts.report.catalogue import dimensions
from parts.study.dimension import refusal
from parts.study.starts import start

COLUMN = 44


def starter(family: type[Part], chosen: Sequence[str] = (), name: str = "") -> str:
    """Write a family's example, with the options that are asked for, as commented YAML.

    Args:
        family: the family.
        chosen: options and values, as "shank=spigot" or "throat.rod_end=5/16-24 male".
        name: of the part; the example's where left out.

    Returns:
        A file that makes a valid part at once.

    Raises:
        InputError: an option is none, or the part that they give breaks a rule.
    """
    document = started(family, chosen)
    if name:
        document["name"] = name
    text = _text(family, document)
    if chosen:
        read_text(text, families(), f"new {document['family']}")
    return text


def next_number(folder: Path) -> str:
    """The part number after the highest of a folder's own; empty where it has none."""
    numbers: dict[str, tuple[int, int]] = {}
    for one in sorted(folder.glob("*.yaml"))[:1000] if folder.is_dir() else ():
        if not one.is_file() or one.stat().st_size > 1_000_000:
            continue
        text = one.read_text("utf-8", "replace")
        if found := re.search(r"(?m)^name: *[\"']?(.*?)(\d+)[\"']? *(?:#.*)?$", text):
            before, digits = found[1], found[2]
            numbers[before] = max(numbers.get(before, (0, 0)), (int(digits), len(digits)))
    if not numbers:
        return ""
    before, (number, width) = max(numbers.items(), key=lambda one: one[1])
    return f"{before}{number + 1:0{width}d}"


def _text(family: type[Part], document: Mapping[str, Any]) -> str:
    name = str(family.example["family"])
    known = _notes(family)
    head = [
        f"# yaml-language-server: $schema={name.replace(' ', '-')}.schema.json",
        f"# {name}: {family.summary}",
        *_axes(family.axes),
        "# These loads are an example: find yours.",
        *(f"# {line}" for line in textwrap.wrap(IN_SHORT, 100)),
        _noted("units: mm", "unit of bare numbers; any value may carry its own, as in 3/8 in"),
    ]
    return "\n".join([*head, *_lines(document, "", 0, known)]) + "\n"


def started(family: type[Part], chosen: Sequence[str]) -> dict[str, Any]:
    """A family's example with options and values in place of its own; see `starter`."""
    document: dict[str, Any] = copy.deepcopy(dict(family.example))
    for said in chosen:
        path, equals, value = (part.strip() for part in said.partition("="))
        if not equals or not value:
            raise refusal(
                "request",
                said,
                "bad_choice",
                "this names no value",
                "write it as in `shank=spigot`",
            )
        _choose(family, document, path.removesuffix(".type"), value)
    return document


def options(family: type[Part]) -> dict[str, tuple[str, ...]]:
    """Every option of a family, "path=word", and the options within which it stands."""
    found: dict[str, tuple[str, ...]] = {}
    for path, *_ in dimensions(family):
        if not path.endswith(").type") or path.startswith(("loads", "outputs")):
            continue
        tags = [one for one in re.finditer(r" \(([^()]*)\)", path)]
        within = tuple(
            f"{_bare(path[: tag.start()])}={word}"
            for tag in tags[:-1]
            for word in tag[1].split(", ")[:1]
        )
        for word in tags[-1][1].split(", "):
            found.setdefault(f"{_bare(path[: tags[-1].start()])}={word}", within)
    return found


def _choose(family: type[Part], document: dict[str, Any], path: str, value: str) -> None:
    """Set an option, with all that it starts from, or a value."""
    known = options(family)
    named = _whole(re.sub(r"\[\d+\]", "", path), {one.partition("=")[0] for one in known})
    if named is None:
        fields = {_bare(one) for one, *_ in dimensions(family)}
        found = _whole(re.sub(r"\[\d+\]", "", path), fields, document)
        if found is None:
            raise _unknown(path, sorted({one for one in fields if not one.startswith("loads")}))
        at = path if "[" in path else found
        try:
            for gone in _given_by(family, document, at, value):
                _put(document, f"{at.rpartition('.')[0]}.{gone}", None)
            _put(document, at, yaml_value(value))
        except (IndexError, TypeError):
            wrong = f"`{path}` names no entry of the part to start from"
            raise refusal("request", path, "no_entry", wrong, "the first is [1]") from None
        return
    if f"{named}={value}" not in known:
        words = [one.partition("=")[2] for one in known if one.startswith(f"{named}=")]
        raise refusal(
            "request",
            named,
            "no_option",
            f"`{value}` is none of its options",
            f"they are {', '.join(words)}",
        )
    if (_at(document, named) or {}).get("type") == value:
        return
    for outer in known[f"{named}={value}"]:
        around, _, option = outer.partition("=")
        if (_at(document, around) or {}).get("type", option) != option or _at(
            document, around
        ) is None:
            _choose(family, document, around, option)
    if (_at(document, named) or {}).get("type") == value:
        return  # it came with what it stands in
    for place, group in start(family, named, value).items() or [(named, {"type": value})]:
        _put(document, place, group)


def _given_by(
    family: type[Part], document: Mapping[str, Any], path: str, value: str
) -> Collection[str]:
    """Keys beside one that the row gives which it names."""
    try:
        owner: Any = family.model_validate(document)
    except ValueError:
        return ()  # it becomes a part once all that is chosen stands in it
    for step in steps_of(path)[:-1]:
        owner = owner[0] if isinstance(owner, list) and not isinstance(step, int) else owner
        owner = owner[step] if isinstance(step, int) else getattr(owner, step, None)
    owner = owner[0] if isinstance(owner, list) and owner else owner
    name = path.rpartition(".")[2]
    return owner.given_with(name, value) if isinstance(owner, Group) else ()


def _whole(
    path: str, known: Collection[str], document: Mapping[str, Any] | None = None
) -> str | None:
    """The one path that is this, or ends with it; of several the one whose group the document has."""
    if path in known:
        return path
    ends = [one for one in known if one.endswith(f".{path}")]
    if len(ends) > 1 and document is not None:
        ends = [one for one in ends if _at(document, one.rpartition(".")[0]) is not None]
    return ends[0] if len(ends) == 1 else None


def _unknown(path: str, known: Sequence[str]) -> InputError:
    near = difflib.get_close_matches(path, known, 3, 0.5)
    right = (
        f"nearest is {', '.join(f'`{one}`' for one in near)}"
        if near
        else "`oneoff list FAMILY` shows all"
    )
    return refusal("request", path, "no_field", "there is no such option or dimension", right)


def yaml_value(text: str) -> Any:
    """A value as YAML reads it: a number, a truth or a text."""
    import yaml

    value = yaml.safe_load(text)
    return value if isinstance(value, str | int | float | bool) else text


def _at(data: Any, path: str) -> Any:
    """What stands at a path; in a list, of its first entry."""
    for key in path.split("."):
        data = data[0] if isinstance(data, list) and data else data
        data = data.get(key) if isinstance(data, Mapping) else None
    return data


def _put(data: Any, path: str, value: Any) -> None:
    """Set what stands at a path; in every entry of a list, or in one by its number. None takes it away."""
    key, _, rest = path.partition(".")
    name, *number = steps_of(key)
    if isinstance(data, list):
        for one in data:
            _put(one, path, value)
    elif not rest and not number:
        if value is None:
            data.pop(name, None)
        else:
            data[name] = copy.deepcopy(value)
    else:
        inner = data.setdefault(name, {})
        _put(inner[number[0]] if number else inner, rest, value)


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
