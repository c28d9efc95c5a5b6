"""From a YAML file to a checked part: `read` picks the family and says everything that is wrong."""

from __future__ import annotations

import difflib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any, NoReturn, TypeVar

from pydantic import BaseModel, ValidationError

from parts.inputs.document import Document, Path_, dotted, parse_document, read_document
from parts.inputs.file_kinds import BEGINS, Kind, kind_of_data, refuse_other
from parts.inputs.names import PartName
from parts.inputs.problems import InputError, Problem
from parts.inputs.shown import show
from parts.inputs.units import KINDS, LENGTH, Units, kind_of, nearest_unit
from parts.inputs.variants import with_values
from parts.inputs.wording import problems_of

__all__ = [
    "PartName",
    "defaults_as_written",
    "file_schema",
    "is_build",
    "is_survey",
    "read",
    "read_parsed",
    "read_text",
    "refers_to_build",
    "units_of",
    "validated",
    "wanted_as",
    "with_values",
]

M = TypeVar("M", bound=BaseModel)

UNITS_KEY = "units"
FAMILY_KEY = "family"
BUILD_KEY = "build"
SURVEY_KEY = "survey"
TAKEN = "FromTheBuild"
FORM_NAMES = (
    *("distance", "angle", "offset", "point", "toward", "own"),
    *("of", "sum", "less", "half"),
)
FORMS: dict[str, Any] = {
    "type": "object",
    "description": f"A value taken from the build: {', '.join(FORM_NAMES[:-1])} or {FORM_NAMES[-1]}.",
    "anyOf": [{"required": [name]} for name in FORM_NAMES],
}
"""The forms by which a value is taken from a build; `parts.vehicle.file.forms` reads them."""


def is_build(document: Document) -> bool:
    """Whether a file describes a build: it has a name as `build:`, and no family."""
    data = document.data
    return isinstance(data, dict) and BUILD_KEY in data and FAMILY_KEY not in data


def is_survey(document: Document) -> bool:
    """Whether a file holds readings: it has a name as `survey:`, and neither build nor family."""
    data = document.data
    return isinstance(data, dict) and SURVEY_KEY in data and not {BUILD_KEY, FAMILY_KEY} & {*data}


def wanted_as(document: Document, kind: Kind) -> None:
    """Refuse a file that is of another kind.

    Raises:
        InputError: it is; the message says of which, and what to type with it.
    """
    if not isinstance(document.data, dict):
        _refuse(
            document,
            (),
            "not_a_group",
            "the file is not a group of keys",
            f"begin with {BEGINS[kind]}",
        )
    known = kind_of_data(document.data)
    place = (0, 0) if known is None else document.place((known.key,), of_key=True)
    refuse_other(document.file, known, kind, place)


def refers_to_build(document: Document) -> bool:
    """Whether a part's file takes values from a build."""
    data = document.data
    return isinstance(data, dict) and BUILD_KEY in data and FAMILY_KEY in data


def read(path: str | Path, models: Mapping[str, type[M]]) -> M:
    """Read a part from its YAML file.

    Args:
        path: the file.
        models: the model of each family, by the name that a file gives as `family`.

    Returns:
        The model, its values checked and in inside units.

    Raises:
        InputError: with every problem of the file.
    """
    return read_parsed(read_document(path), models)


def read_text(text: str | bytes, models: Mapping[str, type[M]], file: str = "text") -> M:
    """Read a part from the text of a YAML file; `file` is its name for messages.

    Raises:
        InputError: with every problem of the text.
    """
    content = text if isinstance(text, bytes) else text.encode("utf-8", "surrogatepass")
    return read_parsed(parse_document(content, file), models)


def read_parsed(document: Document, models: Mapping[str, type[M]], known: M | None = None) -> M:
    """Read a part from a document.

    Args:
        document: the part's file.
        models: the model of each family.
        known: the part as it was read from a document that says the same in every group.

    Raises:
        InputError: with every problem of the document.
    """
    return validated(document, models[_family(document, models)], known)


def validated(document: Document, model: type[M], known: M | None = None) -> M:
    """Check a document as one model; `units` and `family` may stand beside the model's own keys.

    Args:
        document: the file.
        model: the model.
        known: as for `read_parsed`; its groups are taken over.

    Raises:
        InputError: with every problem of the document.
    """
    units = units_of(document)
    own = {*model.model_fields}
    data = {k: v for k, v in document.data.items() if k not in (UNITS_KEY, FAMILY_KEY) or k in own}
    if known is not None:
        data = {k: one if isinstance(one := getattr(known, k, None), BaseModel) else v
                for k, v in data.items()}  # fmt: skip
    try:
        part = model.model_validate(data, context={"units": units})
    except ValidationError as error:
        errors: Sequence[Any] = error.errors(include_url=False)
        raise InputError(problems_of(errors, model, document, (UNITS_KEY, FAMILY_KEY))) from None
    except ArithmeticError as error:
        wrong = f"these values cannot be calculated with ({type(error).__name__}: {error})"
        _refuse(document, (), "not_calculable", wrong, "look for a dimension that is zero or huge")
    misread = [_bad_truth(document, path) for path in _misread_truths(data, part)]
    if misread:
        raise InputError(misread)
    return part


def file_schema(model: type[BaseModel]) -> dict[str, Any]:
    """The JSON Schema of a model's file, for editors: the model's own, and the keys `units` and `build`.

    A value may also be taken from the build, by one of the forms of `FORMS`.
    """
    schema = _or_taken(defaults_as_written(model.model_json_schema()))
    schema["$defs"] = {**schema.get("$defs", {}), TAKEN: FORMS}
    one = {"type": "string", "examples": ["mm", "in"]}
    by_kind = {
        kind.name: {"type": "string", "examples": kind.spelled.split(", ")} for kind in KINDS
    }
    several = {"type": "object", "properties": by_kind, "additionalProperties": False}
    described = "Units of bare numbers: of lengths alone, or by kind. Bare angles are in degrees."
    units = {"anyOf": [one, several], "description": described}
    build = {
        "type": "string",
        "description": "File of the build that values are taken from.",
        "examples": ["build.yaml"],
    }
    before = {UNITS_KEY: units, BUILD_KEY: build}
    return {**schema, "properties": {**before, **schema.get("properties", {})}}


def defaults_as_written(schema: Any) -> Any:
    """A schema in which the default of every quantity stands as a builder would write it: with its unit, angles in
    degrees."""
    if isinstance(schema, list):
        return [defaults_as_written(one) for one in schema]
    if not isinstance(schema, dict):
        return schema
    found = {key: defaults_as_written(value) for key, value in schema.items()}
    default, examples = found.get("default"), found.get("examples")
    kind = next((one for one in KINDS if examples and examples[0] == one.examples[0]), None)
    if kind is not None and isinstance(default, int | float):
        found["default"] = show(default, kind.name).split(" (")[0]
    return found


def _or_taken(schema: Any) -> Any:
    """A schema in which every quantity, truth, vector and designation may be taken from the build instead."""
    if isinstance(schema, list):
        return [_or_taken(one) for one in schema]
    if not isinstance(schema, dict):
        return schema
    taken = {"$ref": f"#/$defs/{TAKEN}"}
    named = schema.get("type") == "string" and "examples" in schema and "pattern" not in schema
    if named or schema.get("type") in (["string", "number"], "boolean"):
        outer = {k: v for k, v in schema.items() if k in ("description", "title", "default")}
        return {**outer, "anyOf": [{k: v for k, v in schema.items() if k not in outer}, taken]}
    found = {key: _or_taken(value) for key, value in schema.items()}
    kinds = [one.get("type") for one in schema.get("anyOf", ()) if isinstance(one, dict)]
    if kinds[:2] in (["number", "string"], ["array", "object"]):
        found["anyOf"] = [*found["anyOf"], taken]
    return found


def _family(document: Document, models: Mapping[str, Any]) -> str:
    wanted_as(document, "part")
    name = document.data.get(FAMILY_KEY)
    if isinstance(name, str) and name in models:
        return name
    known = ", ".join(f"`{name}`" for name in models)
    if FAMILY_KEY not in document.data:
        wrong, right = f"`{FAMILY_KEY}` is missing", f"the families are {known}"
        problem = _problem(document, (), "missing", wrong, right)
        raise InputError([replace(problem, field=FAMILY_KEY)])
    node = document.node((FAMILY_KEY,))
    text = node.text if node else ""
    near = difflib.get_close_matches(text.casefold(), list(models), 1)
    hint = f"nearest is `{near[0]}`; " if near else ""
    wrong = f"there is no family `{text[:60]}`" if text else "no family is named"
    _refuse(document, (FAMILY_KEY,), "unknown_family", wrong, f"{hint}the families are {known}")


def units_of(document: Document) -> Units:
    """The units that the file declares: `units: in`, or `units: {length: in, force: lbf}`."""
    declared = document.data.get(UNITS_KEY, {})
    if isinstance(declared, str):
        declared = {LENGTH.name: declared}
        paths: dict[str, Path_] = {LENGTH.name: (UNITS_KEY,)}
    elif isinstance(declared, dict):
        paths = {key: (UNITS_KEY, key) for key in declared}
    else:
        right = "write `units: mm` or `units: {length: in, force: lbf}`"
        _refuse(document, (UNITS_KEY,), "bad_units", "no unit is named", right)
    problems = [p for key in declared if (p := _bad_unit(document, paths[key], key, declared[key]))]
    if problems:
        raise InputError(problems)
    return Units(**declared)


def _bad_unit(document: Document, path: Path_, key: str, unit: object) -> Problem | None:
    kind = next((k for k in KINDS if k.name == key), None)
    if kind is None:
        known = ", ".join(f"`{k.name}`" for k in KINDS)
        return _problem(document, path, "bad_units", f"`{key}` has no units", f"right are {known}")
    found = kind_of(unit) if isinstance(unit, str) else None
    if found is not None and found[0] is kind:
        return None
    if not isinstance(unit, str):
        said = "no unit is named"
    else:
        said = f"`{unit}` is {'a unit of ' + found[0].name if found else 'no unit known here'}"
    near = nearest_unit(unit, kind) if isinstance(unit, str) and found is None else ""
    hint = f"nearest is `{near}`; " if near else ""
    return _problem(document, path, "bad_units", said, f"{hint}{kind.called} is in {kind.spelled}")


def _misread_truths(data: Any, value: Any, path: Path_ = ()) -> list[Path_]:
    """Paths within a group or list where `true` was taken for a number, or a number or word for `true`."""
    found: list[Path_] = []
    keys = data if isinstance(data, dict) else range(len(data))
    for key, own in zip(keys, _values(value, keys), strict=False):
        one = data[key]
        if isinstance(one, dict) or (isinstance(one, list) and isinstance(own, list | tuple)):
            found += _misread_truths(one, own, (*path, key))
        elif isinstance(one, bool) != isinstance(own, bool) and isinstance(own, int | float):
            found.append((*path, key))
    return found


def _values(value: Any, keys: Any) -> Any:
    """What a model, a mapping or a list has under keys; None where it has nothing."""
    if isinstance(value, list | tuple):
        return value
    if not isinstance(value, BaseModel):
        return [value.get(key) if isinstance(value, dict) else None for key in keys]
    fields = type(value).model_fields
    named = {info.alias: name for name, info in fields.items() if info.alias}
    return [getattr(value, key if key in fields else named.get(key, ""), None) for key in keys]


def _bad_truth(document: Document, path: Path_) -> Problem:
    node = document.node(path)
    truth = node is not None and isinstance(node.data, bool)
    expected = "a number" if truth else "true or false"
    said = f"`{node.text if node else ''}` is not {expected}"
    return _problem(document, path, "wrong_type", said, f"write {expected}")


def _problem(document: Document, path: Path_, code: str, wrong: str, right: str) -> Problem:
    node = document.node(path)
    place = document.place(path)
    value = node.text[:60] if node else ""
    return Problem(code, document.file, *place, dotted(path), value, wrong, right)


def _refuse(document: Document, path: Path_, code: str, wrong: str, right: str) -> NoReturn:
    raise InputError([_problem(document, path, code, wrong, right)])
