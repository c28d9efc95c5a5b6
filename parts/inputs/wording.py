"""What a model found wrong, in the words of the person who wrote the file."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from pydantic import BaseModel

from parts.inputs.document import Document, Path_, dotted, steps_of
from parts.inputs.problems import Problem
from parts.inputs.quantities import Quantity
from parts.inputs.shown import show
from parts.inputs.tracing import Place, keys_below, keys_of, tag_values, trace
from parts.standards.designation import UnknownDesignation

MOST_PROBLEMS = 100
_LONGEST_VALUE = 60

# Codes of the validation library that say the same thing to a builder, and that thing.
_EXPECTED = {
    "string": "text",
    "int": "a whole number",
    "float": "a number",
    "bool": "true or false",
    "list": "a list",
    "tuple": "a list",
    "set": "a list",
    "dict": "a group of keys",
    "model": "a group of keys",
    "dataclass": "a group of keys",
}
_BOUNDS = {
    "greater_than": ("gt", "is not more than", "write more than"),
    "greater_than_equal": ("ge", "is less than", "write at least"),
    "less_than": ("lt", "is not less than", "write less than"),
    "less_than_equal": ("le", "is more than", "write at most"),
}


def problems_of(
    errors: Sequence[Mapping[str, Any]],
    model: type[BaseModel],
    document: Document,
    extra_keys: Iterable[str] = (),
) -> list[Problem]:
    """Turn validation errors into problems.

    Args:
        errors: the errors as pydantic lists them.
        model: the model that the file was read as.
        document: the file.
        extra_keys: keys that the file may have at its top beside those of the model.

    Returns:
        The problems; one for each place and code, a mistyped key only once.
    """
    report = _Report(model, document, tuple(extra_keys))
    found: dict[tuple[str, str], Problem] = {}
    for error in errors[:MOST_PROBLEMS]:
        place = trace(model, error["loc"], document)
        for problem in report.tell(error, place):
            key = (problem.field, "" if place.of_union else problem.code)
            found[key] = _joined(found[key], problem) if key in found else problem
    mistyped = {dotted((*p, right)) for p, right in report.meant}
    kept = [p for p in found.values() if p.code != "missing" or p.field not in mistyped]
    if len(errors) > MOST_PROBLEMS:
        wrong = f"there are {len(errors) - MOST_PROBLEMS} more problems"
        kept.append(Problem("more", document.file, 0, 0, "", "", wrong, "mend these first"))
    return kept


def _joined(first: Problem, second: Problem) -> Problem:
    """One problem of two that several types of a union have with one value."""
    if second.right in first.right:
        return first
    return replace(first, right=f"{first.right}, or {second.right}")


class _Report:
    """Tells errors of one file; `meant` keeps mistyped keys: where, and the right one."""

    def __init__(
        self, model: type[BaseModel], document: Document, extra_keys: tuple[str, ...]
    ) -> None:
        self.model = model
        self.document = document
        self.extra_keys = extra_keys
        self.meant: list[tuple[Path_, str]] = []

    def tell(self, error: Mapping[str, Any], place: Place) -> Iterator[Problem]:
        code, context = error["type"], error.get("ctx", {})
        cause = context.get("error")
        if code == "missing":
            path = place.path[:-1]
            yield self._at(path, "missing", f"`{place.path[-1]}` is missing", self._example(place),
                           field=place.path, of_key=True)  # fmt: skip
        elif code == "extra_forbidden":
            yield self._unknown_key(place)
        elif code in ("union_tag_invalid", "union_tag_not_found"):
            yield self._tag(code, context, place)
        elif rules := getattr(cause, "rules", None):
            yield from (self._rule(place.path, rule) for rule in rules)
        elif isinstance(cause, UnknownDesignation):
            right = (
                f"nearest: {', '.join(cause.nearest)}"
                if cause.nearest
                else "look it up in the tables"
            )
            wrong = f"{cause.kind} `{_short(cause.value)}`: {cause.reason}"
            yield self._at(
                self._looked_up(place.path, cause.kind), "unknown_designation", wrong, right
            )
        elif cause is not None:
            wrong, _, right = str(cause).rstrip(".").partition("; ")
            yield self._at(place.path, "broken_rule", wrong, right)
        elif "wrong" in context:
            yield self._at(place.path, code, context["wrong"], context["right"])
        else:
            yield self._of_type(code, context, place, error["msg"])

    def _looked_up(self, path: Path_, kind: str) -> Path_:
        """The key of a designation that its group looked up as a whole, as a material for its thickness."""
        of_kind = (*path, kind)
        return path if self.document.node(of_kind) is None else of_kind

    def _at(
        self,
        path: Path_,
        code: str,
        wrong: str,
        right: str,
        *,
        field: Path_ | None = None,
        of_key: bool = False,
    ) -> Problem:
        line, column = self.document.place(path, of_key=of_key)
        value = self._typed(path) if field is None else ""
        named = dotted(path if field is None else field)
        return Problem(code, self.document.file, line, column, named, value, wrong, right)

    def _typed(self, path: Path_) -> str:
        node = self.document.node(path)
        return _short(node.text) if node and node.data is not None else ""

    def _unknown_key(self, place: Place) -> Problem:
        *around, key = place.path
        path, named = tuple(around), str(key)
        known = [k for m in place.within for k in keys_of(m)]
        known += [k for k in self.extra_keys if not path and k not in known]
        written = self.document.node(path)
        free = [k for k in known if written is None or k not in written.children]
        elsewhere = {k: g for k, g in keys_below(self.model).items() if dotted(path) not in g}
        if near := difflib.get_close_matches(named, free, 1):
            self.meant.append((path, near[0]))
            right = f"nearest is `{near[0]}`"
        elif other := difflib.get_close_matches(named, elsewhere, 1, 0.85):
            groups = " and ".join(f"`{g}`" if g else "the top" for g in elsewhere[other[0]][:3])
            right = f"`{other[0]}` belongs in {groups}"
        else:
            right = f"the keys here are {_listed(known)}" if known else "delete it"
        line, column = self.document.place(place.path, of_key=True)
        wrong = f"`{_short(named)}` is no key here"
        return Problem(
            "unknown_key", self.document.file, line, column, dotted(place.path), "", wrong, right
        )

    def _tag(self, code: str, context: Mapping[str, Any], place: Place) -> Problem:
        key = str(context["discriminator"]).strip("'")
        path = (*place.path, key)
        tags = re.findall(r"'([^']*)'", str(context.get("expected_tags", ""))) or _tags(place, key)
        if code == "union_tag_not_found":
            right = f"write `{key}:` with one of {_listed(tags)}"
            return self._at(place.path, "missing", f"`{key}` is missing", right, field=path,
                            of_key=True)  # fmt: skip
        return self._choice(path, self._typed(path), tags)

    def _choice(self, path: Path_, value: str, choices: Sequence[Any]) -> Problem:
        names = [str(c) for c in choices]
        near = difflib.get_close_matches(value, names, 1)
        hint = f"nearest is `{near[0]}`; " if near and len(names) > 1 else ""
        right = f"{hint}write {'one of ' if len(names) > 1 else ''}{_listed(names)}"
        shown = f"`{value}`" if value else self._what(path)
        return self._at(path, "not_a_choice", f"{shown} is no choice here", right)

    def _rule(self, within: Path_, rule: Any) -> Problem:
        return self._at((*within, *steps_of(rule.field)), rule.code, rule.wrong(), rule.how)

    def _example(self, place: Place) -> str:
        name = place.path[-1]
        if choices := place.choices():
            return f"write `{name}:` with {'one of ' if len(choices) > 1 else ''}{_listed(choices)}"
        about = f" ({told})" if (told := _described(place)) else ""
        if quantity := place.mark(Quantity):
            return f"write `{name}: {quantity.kind.examples[0]}`, with your own figure{about}"
        return f"write `{name}:`{about}"

    def _of_type(self, code: str, context: Mapping[str, Any], place: Place, said: str) -> Problem:
        path, typed = place.path, self._typed(place.path)
        shown = f"`{typed}`" if typed else self._what(path)
        if code == "literal_error":
            return self._choice(path, typed, place.choices())
        if code in _BOUNDS:
            key, wrong, right = _BOUNDS[code]
            limit = _limit(context[key], place)
            return self._at(path, "out_of_bounds", f"{shown} {wrong} {limit}", f"{right} {limit}")
        if code in ("too_short", "too_long", "string_too_short", "string_too_long"):
            return self._length(code, context, path)
        if code == "string_pattern_mismatch":
            wrong, pattern = f"{shown} is not of the form needed here", context["pattern"]
            return self._at(
                path, "wrong_form", wrong, _described(place) or f"the form is {pattern}"
            )
        expected = _EXPECTED.get(code.split("_")[0])
        if code in ("int_from_float", "finite_number"):
            expected = "a whole number" if code == "int_from_float" else "a finite number"
        if expected:
            hint = f"write {expected}"
            if expected == "text":
                hint = "put it in quotes" if typed else "write text"
            return self._at(path, "wrong_type", f"{shown} is not {expected}", hint)
        return self._at(path, code, f"{shown} does not fit here", said[:1].lower() + said[1:])

    def _length(self, code: str, context: Mapping[str, Any], path: Path_) -> Problem:
        of_text, least = code.startswith("string"), code.endswith("short")
        count = context["min_length" if least else "max_length"]
        one, many = ("character", "characters") if of_text else ("entry", "entries")
        right = f"write {'at least' if least else 'at most'} {count} {one if count == 1 else many}"
        wrong = f"the {'text' if of_text else 'list'} is too {'short' if least else 'long'}"
        return self._at(path, code.removeprefix("string_"), wrong, right)

    def _what(self, path: Path_) -> str:
        node = self.document.node(path)
        if node is None or node.data is None or node.data == "":
            return "nothing"
        return "a list" if isinstance(node.data, list) else "a group of keys"


def _described(place: Place) -> str:
    """The description of a field, to go on a sentence with; empty where it has none."""
    for mark in place.marks:
        if text := getattr(mark, "description", None):
            text = str(text).rstrip(".")
            return text if text[1:2].isupper() else text[:1].lower() + text[1:]
    return ""


def _tags(place: Place, key: str) -> list[str]:
    return [str(t) for kind in place.kinds for t in tag_values(kind, key)]


def _limit(limit: Any, place: Place) -> str:
    quantity = place.mark(Quantity)
    return show(limit, quantity.kind.name) if quantity else f"{limit:.6g}"


def _listed(names: Sequence[Any]) -> str:
    said = [f"`{name}`" for name in names]
    return said[0] if len(said) == 1 else f"{', '.join(said[:-1])} and {said[-1]}"


def _short(text: str) -> str:
    line = " ".join(text.split())
    return line if len(line) <= _LONGEST_VALUE else f"{line[: _LONGEST_VALUE - 3]}..."
