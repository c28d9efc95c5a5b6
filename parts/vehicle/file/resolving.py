"""Documents with their forms resolved: plain values in place, each still knowing its line and column."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from parts.inputs.document import Document, Node, Path_, dotted
from parts.inputs.problems import Problem
from parts.vehicle.file.forms import FormError, is_form

Resolve = Callable[[Mapping[str, Any]], Any]


def resolved(
    document: Document, resolve: Resolve
) -> tuple[Document, dict[str, Any], list[Problem]]:
    """A copy of a document with every form replaced by what it stands for.

    Args:
        document: the file as written.
        resolve: gives the value of a form; FormError where it has none.

    Returns:
        The copy, the values by the path of the form, and what could not be resolved.
    """
    taken: dict[str, Any] = {}
    problems: list[Problem] = []
    root = _copy(document.root, (), document, resolve, taken, problems)
    return Document(document.file, root), taken, problems


def _copy(
    node: Node,
    path: Path_,
    document: Document,
    resolve: Resolve,
    taken: dict[str, Any],
    problems: list[Problem],
) -> Node:
    if is_form(node.data):
        try:
            value = resolve(node.data)
        except FormError as error:
            problems.append(
                problem(document, (*path, *error.path), error.code, error.wrong, error.right)
            )
            return node
        taken[dotted(path)] = value
        return plain(value, node.line, node.column, said=json.dumps(node.data))
    if not node.children:
        return node
    children = {
        key: _copy(inner, (*path, key), document, resolve, taken, problems)
        for key, inner in node.children.items()
    }
    if isinstance(node.data, dict):
        data: Any = {key: children[key].data for key in node.data}
    else:
        data = [children[i].data for i in range(len(node.data))]
    return Node(node.line, node.column, node.text, data, node.size, children, node.keys)


def plain(value: Any, line: int, column: int, said: str = "") -> Node:
    """A value as a node that stands at a place."""
    text = said if isinstance(value, list | dict) or not said else f"{value} from {said}"
    if isinstance(value, dict):
        children: dict[str | int, Node] = {k: plain(v, line, column) for k, v in value.items()}
        return Node(line, column, text, value, 1, children, dict.fromkeys(value, (line, column)))
    if isinstance(value, Sequence) and not isinstance(value, str):
        items: dict[str | int, Node] = {i: plain(v, line, column) for i, v in enumerate(value)}
        return Node(line, column, text, list(value), 1, items)
    return Node(line, column, text or str(value), value)


def with_entries(document: Document, key: str, entries: list[Any]) -> Document:
    """The document with entries added at the end of a list at its top."""
    before = document.node((key,))
    line, column = document.place((key,), of_key=True)
    children = dict(before.children) if before else {}
    data = list(before.data) if before and isinstance(before.data, list) else []
    for entry in entries:
        children[len(data)] = plain(entry, line, column)
        data.append(entry)
    root = document.root
    own = Node(line, column, "", data, 1, children)
    return Document(
        document.file,
        Node(
            root.line, root.column, root.text, {**root.data, key: data}, root.size,
            {**root.children, key: own}, {key: (line, column), **root.keys},
        ),
    )  # fmt: skip


def without(document: Document, *keys: str) -> Document:
    """The document without some keys at its top."""
    root = document.root
    data = {k: v for k, v in root.data.items() if k not in keys}
    children = {k: v for k, v in root.children.items() if k not in keys}
    return Document(
        document.file,
        Node(root.line, root.column, root.text, data, root.size, children, root.keys),
    )


def without_inner(document: Document, group: str, *path: str) -> Document:
    """The document without what stands at a path of keys below a group at its top."""
    root, inner = document.root, document.node((group,))
    if inner is None or not isinstance(inner.data, dict) or path[0] not in inner.data:
        return document
    of = Document(document.file, inner)
    left = (without(of, *path) if len(path) == 1 else without_inner(of, *path)).root
    return Document(
        document.file,
        Node(
            root.line, root.column, root.text, {**root.data, group: left.data}, root.size,
            {**root.children, group: left}, root.keys,
        ),
    )  # fmt: skip


def problem(document: Document, path: Path_, code: str, wrong: str, right: str) -> Problem:
    """A problem at a path of a document."""
    node = document.node(path)
    line, column = document.place(path)
    return Problem(
        code, document.file, line, column, dotted(path), node.text if node else "", wrong, right
    )
