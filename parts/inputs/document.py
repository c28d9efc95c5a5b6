"""A YAML file as plain data in which every value knows its line and column.

Less of YAML is read than YAML allows, so that nothing in a file means what it does not seem to:
`no`, `on` and `1:30` are text, a number is decimal, a key stands once, and there are no tags. Depth
and size are bounded, so that no file, however made, costs more than a moment.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path
from typing import Any, NoReturn

import yaml

from parts.inputs.file_kinds import refuse_other_ending
from parts.inputs.problems import InputError, Problem

LARGEST_FILE = 1_000_000  # bytes
DEEPEST = 24  # mappings and lists within each other
MOST_NODES = 20_000  # values, each alias counted as often as it is used
LONGEST_TEXT = 500  # characters of one key or value: names and patterns are searched for in each

Path_ = tuple[str | int, ...]
_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)

_INTEGER = re.compile(r"[-+]?(?:0|[1-9][0-9]{0,17})")
_FLOAT = re.compile(r"[-+]?(?:\.[0-9]+|(?:0|[1-9][0-9]*)(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?")
_NOT_FINITE = re.compile(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)")
_WORDS: dict[str, bool | None] = {"": None, "~": None, "null": None, "true": True, "false": False}
_NO_TEXT = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")

_BEGINS_A_NUMBER = frozenset("+-.0123456789")

_ALIKE = "indent every key of one group alike, and write nothing behind a closing quotation mark"
_HINTS = (
    (
        "mapping values are not allowed",
        "there is a colon too many, or the line is indented too far",
    ),
    ("expected ':'", "a key needs a colon and a space behind it, as in `width: 12 mm`"),
    ("unexpected end of stream", "a quotation mark or a bracket is opened and never closed"),
    ("expected ',' or", "a bracket is opened and never closed, or a comma is missing"),
    ("expected <block end>", _ALIKE),
    ("did not find expected key", _ALIKE),
    ("maximum nesting depth", "write it flatter"),
    ("cannot start any token", "put text that begins with a sign such as @ or ` in quotes"),
    ("block sequence entries", "begin a list on a line of its own, under its key"),
    ("undefined alias", "text that begins with * goes in quotes"),
    ("unknown escape", "write a backslash twice, or use single quotes"),
)


@dataclass(slots=True)
class Node:
    """A value of the file: where it stands, its text if it is a scalar, and what is within it."""

    line: int
    column: int
    text: str = ""
    data: Any = None
    size: int = 1
    children: dict[str | int, Node] = field(default_factory=dict)
    keys: dict[str, tuple[int, int]] = field(default_factory=dict)


@dataclass(frozen=True)
class Document:
    """A file that was read: its name for messages, its data, and the place of everything in it."""

    file: str
    root: Node

    @property
    def data(self) -> Any:
        return self.root.data

    def node(self, path: Path_) -> Node | None:
        """The value at a path such as ("ears", 0, "thickness"); None where there is none."""
        node: Node | None = self.root
        for step in path:
            node = node.children.get(step) if node else None
        return node

    def place(self, path: Path_, *, of_key: bool = False) -> tuple[int, int]:
        """Line and column of a value or its key; of the nearest thing around one that is absent."""
        while path and self.node(path) is None:
            path, of_key = path[:-1], True
        parent, node = self.node(path[:-1]), self.node(path)
        if of_key and path and parent and isinstance(path[-1], str):
            return parent.keys[path[-1]]
        assert node is not None
        return node.line, node.column


def read_document(path: str | Path) -> Document:
    """Read a YAML file.

    Raises:
        InputError: it cannot be read, is no UTF-8 text, is no YAML, or uses what is not read here.
    """
    path = Path(path)
    return parse_document(content_of(path), str(path))


def content_of(path: Path) -> bytes:
    """The content of a file, of one that is too large no more than shows it.

    Raises:
        InputError: it cannot be read.
    """
    try:
        if path.exists() and not path.is_file():
            what = "a folder" if path.is_dir() else "not a regular file"
            _refuse("not_a_file", str(path), f"this is {what}", "name one YAML file")
        with path.open("rb") as handle:
            return handle.read(LARGEST_FILE + 1)
    except FileNotFoundError:
        near = _nearest_file(path)
        _refuse("no_file", str(path), "there is no such file", near or "name an existing YAML file")
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        _refuse("unreadable", str(path), f"it cannot be read: {reason}", "name a file you may read")


@lru_cache(maxsize=2)
def parse_document(content: bytes, file: str) -> Document:
    """Read the content of a YAML file; `file` is its name for messages.

    A file that is looked at to see what it is, and then read, is parsed once; no document is changed in place.

    Raises:
        InputError: as `read_document` does.
    """
    refuse_other_ending(file, content)
    text = _decoded(content, file)
    composition = _Composition(file)
    try:
        root = composition.compose(iter(_LOADER(text).get_event, None))
    except yaml.MarkedYAMLError as error:
        raise InputError([*composition.problems, _syntax(error, text, file)]) from None
    except yaml.YAMLError as error:
        reason = " ".join(str(error).split())
        _refuse("not_yaml", file, f"this is not YAML: {reason}", "write plain text in YAML")
    if composition.problems:
        raise InputError(composition.problems)
    return Document(file, root)


def _decoded(content: bytes, file: str) -> str:
    if len(content) > LARGEST_FILE:
        most = f"keep it within {LARGEST_FILE // 1000} kB"
        _refuse("too_large", file, "the file is too large for a part", most)
    if content.startswith((b"\xff\xfe", b"\xfe\xff", b"\0\0\xfe\xff")):
        wide = "UTF-32" if b"\0\0" in content[:4] else "UTF-16"
        _refuse("not_utf8", file, f"the file is in {wide}", "save it as UTF-8")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        if b"\0" in content:
            _refuse("binary", file, "this is no text file", "name a YAML file")
        before = content[: error.start]
        line = before.count(b"\n") + 1
        column = error.start - (before.rfind(b"\n") + 1) + 1
        byte = f"0x{content[error.start]:02x}"
        _refuse(
            "not_utf8", file, f"byte {byte} is not UTF-8", "save the file as UTF-8", line, column
        )
    if found := _NO_TEXT.search(text):
        if "\0" in text:
            _refuse("binary", file, "this is no text file", "name a YAML file")
        line = text.count("\n", 0, found.start()) + 1
        column = found.start() - (text.rfind("\n", 0, found.start()) + 1) + 1
        sign = f"U+{ord(found[0]):04X}"
        _refuse(
            "not_text", file, f"there is a control character ({sign})", "delete it", line, column
        )
    return text


def _nearest_file(path: Path) -> str:
    import difflib

    try:
        names = [p.name for p in path.parent.iterdir() if p.suffix in (".yaml", ".yml")]
    except OSError:
        return ""
    near = difflib.get_close_matches(path.name, sorted(names), 1)
    return f"nearest is {path.parent / near[0]}" if near else ""


def _syntax(error: yaml.MarkedYAMLError, text: str, file: str) -> Problem:
    mark = error.problem_mark or error.context_mark
    line, column = (mark.line + 1, mark.column + 1) if mark else (0, 0)
    lines = text.splitlines()
    written = lines[line - 1] if 0 < line <= len(lines) else ""
    if "\t" in written[: len(written) - len(written.lstrip())]:
        column = written.index("\t") + 1
        return Problem(
            "tab", file, line, column, "", "", "the line is indented with a tab", "use spaces"
        )
    said = " ".join(str(error.problem).split())
    hint = next((h for sign, h in _HINTS if sign in said), "check this line and the one above it")
    return Problem("not_yaml", file, line, column, "", "", f"this is not YAML: {said}", hint)


def _refuse(
    code: str, file: str, wrong: str, right: str, line: int = 0, column: int = 0
) -> NoReturn:
    raise InputError([Problem(code, file, line, column, "", "", wrong, right)])


@dataclass(slots=True)
class _Open:
    """A mapping or list that is being read; `key` is the key that waits for its value."""

    node: Node
    anchor: str | None
    is_mapping: bool
    key: str | None = None


class _Composition:
    """Builds nodes from the events of the parser, without recursion, and keeps what is wrong."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.problems: list[Problem] = []
        self.anchors: dict[str, Node] = {}
        self.unfinished: list[_Open] = []
        self.root: Node | None = None
        self.documents = 0
        self.values = 0

    def compose(self, events: Iterator[Any]) -> Node:
        take: dict[type, Callable[[Any], None]] = {
            yaml.DocumentStartEvent: self._begin_document,
            yaml.AliasEvent: self._alias,
            yaml.ScalarEvent: self._scalar,
            yaml.MappingStartEvent: self._open,
            yaml.SequenceStartEvent: self._open,
            yaml.MappingEndEvent: self._close,
            yaml.SequenceEndEvent: self._close,
        }
        for event in events:
            if of_kind := take.get(type(event)):
                of_kind(event)
        if self.root is None:
            _refuse("empty", self.file, "the file is empty", "begin with `family:` and `name:`")
        return self.root

    def _begin_document(self, event: Any) -> None:
        self.documents += 1
        if self.documents > 1:
            right = "give each part a file of its own"
            self._stop("two_documents", event, "a second document begins here", right)

    def _alias(self, event: Any) -> None:
        node = self.anchors.get(event.anchor)
        if node is None:
            wrong = f"nothing finished above is marked &{event.anchor}"
            self._stop("unknown_alias", event, wrong, "text that begins with * goes in quotes")
        if self._waits_for_key():
            right = "write the key out"
            self._stop("not_a_key", event, "a key is written as an alias", right)
        self.values += node.size
        self._place(node, None, event)

    def _scalar(self, event: Any) -> None:
        line, column = _at(event)
        self._no_tag(event)
        if len(event.value) > LONGEST_TEXT:
            wrong = f"{len(event.value)} characters stand here in one piece"
            self._stop("too_long", event, wrong, f"keep within {LONGEST_TEXT}")
        if found := _NO_TEXT.search(event.value):  # written as an escape, as in "\\0"
            wrong = f"there is a control character (U+{ord(found[0]):04X})"
            self._stop("not_text", event, wrong, "delete it")
        if self._waits_for_key():
            mapping = self.unfinished[-1]
            key, node = event.value, mapping.node
            if key in node.keys:
                first = node.keys[key][0]
                wrong = f"`{key}` stands twice, first in line {first}"
                self._note("duplicate_key", event, wrong, "keep one of them")
            node.keys[key] = (line, column)
            mapping.key = key
            return
        self.values += 1
        plain = event.style in (None, "")
        data: Any = self._resolved(event) if plain else event.value
        self._place(Node(line, column, event.value, data), event.anchor, event)

    def _open(self, event: Any) -> None:
        self._no_tag(event)
        if self._waits_for_key():
            self._stop(
                "not_a_key", event, "a key is a list or a mapping", "write a word as the key"
            )
        if len(self.unfinished) >= DEEPEST:
            self._stop(
                "too_deep", event, f"there are more than {DEEPEST} levels", "write it flatter"
            )
        is_mapping = isinstance(event, yaml.MappingStartEvent)
        node = Node(*_at(event), data={} if is_mapping else [])
        self.values += 1
        self.unfinished.append(_Open(node, event.anchor, is_mapping))

    def _close(self, event: Any) -> None:
        closed = self.unfinished.pop()
        self._place(closed.node, closed.anchor, event)

    def _place(self, node: Node, anchor: str | None, event: Any) -> None:
        """Put a finished node into what is being read around it."""
        if anchor is not None:
            self.anchors[anchor] = node
        if not self.unfinished:
            self.root = node
            return
        around = self.unfinished[-1]
        around.node.size += node.size
        if self.values > MOST_NODES:
            self._stop("too_many_values", event, f"there are more than {MOST_NODES} values",
                       "split the file")  # fmt: skip
        if around.key is not None:
            around.node.data[around.key] = node.data
            around.node.children[around.key] = node
            around.key = None
        else:
            around.node.children[len(around.node.data)] = node
            around.node.data.append(node.data)

    def _waits_for_key(self) -> bool:
        return (
            bool(self.unfinished)
            and self.unfinished[-1].is_mapping
            and self.unfinished[-1].key is None
        )

    def _resolved(self, event: Any) -> Any:
        text = event.value
        if text in _WORDS:
            return _WORDS[text]
        if text[0] not in _BEGINS_A_NUMBER:
            return text
        if _INTEGER.fullmatch(text):
            return int(text)
        number = float(text) if _FLOAT.fullmatch(text) else None
        if _NOT_FINITE.fullmatch(text) or (number is not None and not math.isfinite(number)):
            wrong = f"`{text}` is not a finite number"
            self._note("not_finite", event, wrong, "write a number, or put text in quotes")
        return text if number is None else number

    def _no_tag(self, event: Any) -> None:
        if event.tag is not None:
            tag = event.tag.replace("tag:yaml.org,2002:", "!!")
            wrong = f"the tag {tag[:40]} is not read here"
            right = "delete it, or put text that begins with ! in quotes"
            self._note("tag", event, wrong, right)

    def _note(self, code: str, event: Any, wrong: str, right: str) -> None:
        self.problems.append(Problem(code, self.file, *_at(event), self._field(), "", wrong, right))
        if len(self.problems) >= 100:
            raise InputError(self.problems)

    def _stop(self, code: str, event: Any, wrong: str, right: str) -> NoReturn:
        problem = Problem(code, self.file, *_at(event), self._field(), "", wrong, right)
        raise InputError([*self.problems, problem])

    def _field(self) -> str:
        steps = [o.key if o.is_mapping else len(o.node.data) for o in self.unfinished]
        return dotted(tuple(s for s in steps if s is not None))


def _at(event: Any) -> tuple[int, int]:
    return event.start_mark.line + 1, event.start_mark.column + 1


def dotted(path: Path_) -> str:
    """A path as a builder reads it, its entries counted from one as on a drawing: `mounts[1].at` is that of mount 1."""
    said = "".join(f"[{step + 1}]" if isinstance(step, int) else f".{step}" for step in path)
    return said.removeprefix(".")


def steps_of(field_path: str) -> Path_:
    """The path that `dotted` prints; an entry 0 is a name, for there is none."""
    return tuple(
        name or (int(index) - 1 if int(index) else "[0]")
        for name, index in re.findall(r"([^.\[\]]+)(?![^\[]*\])|\[(\d+)\]", field_path)
    )
