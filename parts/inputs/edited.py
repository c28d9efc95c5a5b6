"""The text of a YAML file with some of its values changed, as a person would change them: all else stays as it is.

Values are replaced at their marks. Comments, order, spacing, quotes and line ends of what does not change stay, and a
comment behind a changed value keeps its column where there is room.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

import yaml

from parts.inputs.document import Path_, dotted, parse_document
from parts.inputs.problems import InputError

AXES = "xyz"
_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_ANCHOR = re.compile(r"&\S+\s+")
_BEFORE_COMMENT = re.compile(r"([^#\r\n\"']*?)( {2,})#")
_PLAIN = re.compile(r"(?![-?:][ ]|[#&*!|>'\"%@`,\[\]{}\-?:]$|[#&*!|>'\"%@`,\[\]{}])\S(?:.*\S)?")


class NotEdited(ValueError):
    """A value that cannot be changed in the file; the text says why, and what would be right."""


class Text(str):
    """Text that is to be read as text, also where it looks like a number, as the class 10.9 of a bolt."""


def as_stated(value: Any) -> Any:
    """What a file holds, so that it is read as the same where it is written once more."""
    if isinstance(value, Mapping):
        return {key: as_stated(one) for key, one in value.items()}
    if isinstance(value, list | tuple):
        return [as_stated(one) for one in value]
    return Text(value) if isinstance(value, str) else value


@dataclass(frozen=True)
class Edit:
    """One change of a file.

    Attributes:
        path: of the value, as `Document.node` takes it.
        value: what is to stand there: text as a builder types it, a number, a truth, or lists and groups of these.
        does: "set" a value, whether or not it stands there yet; "drop" a key or an entry of a list; "add" an entry
            at the end of a list.
        order: the keys of the group in the order of its family, for the place of a new one.
    """

    path: Path_
    value: Any = None
    does: Literal["set", "drop", "add"] = "set"
    order: Sequence[str] = ()


@dataclass
class _Mark:
    """Where a value stands in the text: from `start` up to `end`."""

    start: int
    end: int
    kind: Literal["value", "group", "list", "alias"]
    flow: bool = False
    quote: str = ""
    children: dict[str | int, _Mark] = field(default_factory=dict)
    keys: dict[str, int] = field(default_factory=dict)


def edited(text: str, edits: Sequence[Edit]) -> str:
    """The text of a file after some changes, one after another.

    Args:
        text: of the file; it must be YAML.
        edits: the changes.

    Returns:
        The new text.

    Raises:
        NotEdited: a change has no place in the file.
    """
    for one in edits:
        text = _Text(text).after(one)
    return text


def scalar(value: Any, *, within_brackets: bool = False) -> str:
    """A value as YAML states it, in quotes only where it would be read as something else."""
    if isinstance(value, bool) or value is None:
        return {True: "true", False: "false", None: "null"}[value]
    if isinstance(value, float):
        return f"{value:.10g}"
    if isinstance(value, int):
        return str(value)
    text = str(value)
    if isinstance(value, Text) and not isinstance(_read(text), str):
        return json.dumps(text)
    plain = _PLAIN.fullmatch(text) and not re.search(r":(\s|$)|\s#|[\n\r\t]", text)
    if plain and not (within_brackets and re.search(r"[,\[\]{}]|:$", text)):
        return text
    return json.dumps(text, ensure_ascii=False)


def _read(text: str) -> Any:
    """What a file that holds this text alone is read as; itself where it would be no YAML."""
    try:
        return parse_document(f"a: {text}".encode(), "").data["a"]
    except InputError:
        return text


def flowing(value: Any) -> str:
    """A value as YAML states it on one line."""
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key}: {flowing(one)}" for key, one in value.items()) + "}"
    if isinstance(value, list | tuple):
        return "[" + ", ".join(map(flowing, value)) + "]"
    return scalar(value, within_brackets=True)


def _lines(value: Any, indent: int) -> list[str]:
    """A group or list in lines of its own."""
    pad, found = " " * indent, []
    if isinstance(value, Mapping):
        for key, one in value.items():
            if _is_block(one):
                found += [f"{pad}{key}:", *_lines(one, indent + 2)]
            else:
                found.append(f"{pad}{key}: {_on_one_line(one)}")
        return found
    for one in value:
        first, *rest = (
            _lines(one, indent + 2) if _is_block(one) else [f"{pad}  {_on_one_line(one)}"]
        )
        found += [f"{pad}- {first.lstrip()}", *rest]
    return found


def _is_block(value: Any) -> bool:
    if isinstance(value, Mapping):
        return bool(value)
    return isinstance(value, list | tuple) and any(isinstance(one, Mapping) for one in value)


def _on_one_line(value: Any) -> str:
    return flowing(value) if isinstance(value, Mapping | list | tuple) else scalar(value)


class _Text:
    """A text with the marks of everything in it."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.newline = "\r\n" if "\r\n" in text else "\n"
        self.root = _marks(text)

    def after(self, edit: Edit) -> str:
        path = self._as_written(edit.path)
        if edit.does == "add":
            return self._added(path, edit.value)
        found = self._at(path)
        if edit.does == "drop":
            return self.text if found is None else self._dropped(path)
        if found is not None:
            return self._replaced(found, edit.value)
        return self._inserted(path, edit.value, edit.order)

    def _as_written(self, path: Path_) -> Path_:
        """The path as the file has it: a vector may stand by axis."""
        found: list[str | int] = []
        mark: _Mark | None = self.root
        for step in path:
            if isinstance(step, int) and mark is not None and mark.kind == "group":
                step = AXES[step]
            found.append(step)
            mark = mark.children.get(step) if mark is not None else None
        return tuple(found)

    def _at(self, path: Path_) -> _Mark | None:
        mark: _Mark | None = self.root
        for i, step in enumerate(path):
            if mark is not None and mark.kind == "alias":
                name = self.text[mark.start : mark.end]
                said = f"`{dotted(path[:i])}` stands in the file as {name}"
                raise NotEdited(f"{said}; change it where &{name[1:]} stands, or write it out")
            mark = mark.children.get(step) if mark is not None else None
        return mark

    def _put(self, start: int, end: int, new: str) -> str:
        return self.text[:start] + new + self.text[end:]

    def _replaced(self, mark: _Mark, value: Any) -> str:
        if isinstance(value, Mapping | list | tuple) or mark.kind in ("group", "list"):
            return self._replaced_whole(mark, value)
        start = mark.start
        if anchor := _ANCHOR.match(self.text, start, mark.end):
            start = anchor.end()
        new = scalar(value, within_brackets=mark.flow)
        if mark.quote and isinstance(value, str):
            new = _quoted(value, mark.quote)
        if start == mark.end:  # nothing stands behind the colon
            new = f" {new}"
        return self._behind(start, mark.end, new)

    def _behind(self, start: int, end: int, new: str) -> str:
        """The text with a value replaced; a comment behind it keeps its column where there is room."""
        comment = _BEFORE_COMMENT.match(self.text, end)
        if comment and "\n" not in self.text[start:end]:
            room = max(2, len(comment[2]) - (len(new) - (end - start)))
            return self._put(start, comment.end(2), new + comment[1] + " " * room)
        return self._put(start, end, new)

    def _replaced_whole(self, mark: _Mark, value: Any) -> str:
        if mark.kind in ("value", "alias") or mark.flow:
            new = _on_one_line(value)
            lead = " " if mark.start == mark.end else ""
            return self._behind(mark.start, mark.end, lead + new)
        # A group in lines becomes one in lines, at its own indent.
        indent = self._column(mark.start)
        if not _is_block(value):
            start = len(self.text[: mark.start].rstrip())
            lead = " "
            return self._put(start, mark.end, lead + _on_one_line(value))
        new = self.newline.join(_lines(value, indent)).lstrip()
        return self._put(mark.start, mark.end, new)

    def _inserted(self, path: Path_, value: Any, order: Sequence[str]) -> str:
        deep = len(path)
        while self._at(path[: deep - 1]) is None:
            deep -= 1
        inside = self._at(path[: deep - 1])
        assert inside is not None
        for step in reversed(path[deep:]):
            if isinstance(step, int):
                raise NotEdited(
                    f"`{dotted(path)}` is not stated in the file; state the whole of it"
                )
            value = {step: value}
        key = path[deep - 1]
        if inside.kind == "value" and inside.start == inside.end and isinstance(key, str):
            return self._replaced_whole(inside, {key: value})
        if inside.kind != "group" or isinstance(key, int):
            raise NotEdited(f"`{dotted(path)}` has no place in the file; state it there by hand")
        return self._with_key(inside, key, value, order if deep == len(path) else ())

    def _with_key(self, group: _Mark, key: str, value: Any, order: Sequence[str]) -> str:
        if group.flow:
            said = f"{key}: {flowing(value)}"
            if not group.children:
                return self._put(group.start, group.end, "{" + said + "}")
            last = max(one.end for one in group.children.values())
            return self._put(last, last, f", {said}")
        before = self._before(group, key, order)
        indent = self._column(min(group.keys.values()))
        at = self._line_end(group.children[before].end)
        new = self.newline.join(_lines({key: value}, indent))
        return self._put(at, at, self.newline + new)

    def _before(self, group: _Mark, key: str, order: Sequence[str]) -> str:
        """The key behind which a new one stands: the nearest that comes before it in its family, else the last."""
        if key in order:
            earlier = [one for one in order[: order.index(key)] if one in group.keys]
            if earlier:
                return earlier[-1]
        return max(group.keys, key=lambda one: group.keys[one])

    def _added(self, path: Path_, value: Any) -> str:
        entries = self._at(path)
        if entries is None:
            return self._inserted(path, [value], ())
        if entries.kind != "list":
            raise NotEdited(f"`{dotted(path)}` is no list in the file")
        if entries.flow:
            if not entries.children:
                return self._put(entries.start, entries.end, f"[{flowing(value)}]")
            last = entries.children[len(entries.children) - 1].end
            return self._put(last, last, f", {flowing(value)}")
        at = self._line_end(entries.children[len(entries.children) - 1].end)
        indent = self._column(entries.start)
        new = self.newline.join(_lines([value], indent))
        return self._put(at, at, self.newline + new)

    def _dropped(self, path: Path_) -> str:
        around, step = self._at(path[:-1]), path[-1]
        assert around is not None
        mark = around.children[step]
        alone = len(around.children) == 1
        if alone and not around.flow:
            start = len(self.text[: around.start].rstrip(" \r\n"))
            if self.text[:start].endswith("-"):
                start = around.start - 1
            return self._put(start, mark.end, " {}" if around.kind == "group" else " []")
        start = around.keys[step] if isinstance(step, str) else mark.start
        starts = sorted(
            around.keys.values()
            if around.kind == "group"
            else (one.start for one in around.children.values())
        )
        later = [one for one in starts if one > start]
        if around.flow:
            if later:
                return self._put(start, later[0], "")
            earlier = [one.end for one in around.children.values() if one.end < start]
            return self._put(max(earlier, default=start), mark.end, "")
        line = self.text.rfind("\n", 0, start) + 1
        head = self.text[line:start]
        if head.strip(" ") and not (around.kind == "list" and head.strip(" ") == "-"):
            return self._put(
                start, later[0], ""
            )  # the first key of an entry: the next one takes its line
        end = self._line_end(mark.end)
        end += len(self.newline) if self.text.startswith(self.newline, end) else 0
        return self._put(line, end, "")

    def _column(self, at: int) -> int:
        return at - (self.text.rfind("\n", 0, at) + 1)

    def _line_end(self, at: int) -> int:
        found = self.text.find(self.newline, at)
        return len(self.text) if found < 0 else found


def _quoted(value: str, quote: str) -> str:
    return (
        f"'{value.replace(chr(39), chr(39) * 2)}'"
        if quote == "'"
        else json.dumps(value, ensure_ascii=False)
    )


def _marks(text: str) -> _Mark:
    """The marks of everything in a text."""
    root: _Mark | None = None
    unfinished: list[tuple[_Mark, list[str]]] = []
    for event in yaml.parse(text, _LOADER):
        start, end = (mark.index if mark else 0 for mark in (event.start_mark, event.end_mark))
        if isinstance(event, yaml.MappingEndEvent | yaml.SequenceEndEvent):
            mark, _ = unfinished.pop()
            inner = [one.end for one in mark.children.values()]
            mark.end = end if mark.flow else max(inner, default=mark.start)
        elif isinstance(event, yaml.MappingStartEvent | yaml.SequenceStartEvent):
            kind: Literal["group", "list"] = (
                "group" if isinstance(event, yaml.MappingStartEvent) else "list"
            )
            mark = _Mark(start, end, kind, flow=bool(event.flow_style))
            _take(unfinished, mark)
            root = root or mark
            unfinished.append((mark, []))
        elif isinstance(event, yaml.AliasEvent):
            _take(unfinished, _Mark(start, end, "alias"))
        elif isinstance(event, yaml.ScalarEvent):
            if unfinished and unfinished[-1][0].kind == "group" and not unfinished[-1][1]:
                unfinished[-1][0].keys[event.value] = start
                unfinished[-1][1].append(event.value)
                continue
            quote = event.style if event.style in ("'", '"') else ""
            flow = bool(unfinished) and unfinished[-1][0].flow
            _take(unfinished, _Mark(start, end, "value", flow=flow, quote=quote))
    if root is None:
        raise NotEdited("the file is no group of keys")
    return root


def _take(unfinished: Sequence[tuple[_Mark, list[str]]], mark: _Mark) -> None:
    """Put a mark into what is being read around it."""
    if unfinished:
        around, waiting = unfinished[-1]
        around.children[waiting.pop() if around.kind == "group" else len(around.children)] = mark
