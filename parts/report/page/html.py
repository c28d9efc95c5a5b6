"""HTML and SVG built from Python, every text escaped unless it was built here."""

from __future__ import annotations

import base64
import hashlib
from html import escape
from typing import Any

VOID = frozenset({"br", "hr", "img", "input", "link", "meta"})


class Html(str):
    """Text that is markup already, and is put into other markup as it stands."""

    __slots__ = ()


def tag(name: str, /, *inner: Any, **attributes: Any) -> Html:
    """An element.

    Args:
        name: of the element.
        inner: what is in it: `Html` as it stands, None not at all, everything else as text.
        attributes: by name; a trailing underscore is dropped (`class_`), others become hyphens; None and False
            are left out, True stands bare.

    Returns:
        The markup.
    """
    said = "".join([_attribute(key, value) for key, value in attributes.items()])
    if name in VOID:
        return Html(f"<{name}{said}>")
    return Html(f"<{name}{said}>{joined(*inner)}</{name}>")


def joined(*inner: Any) -> Html:
    """Pieces of markup and text one after another."""
    return Html("".join([_inside(one) for one in inner]))


def script(name: str, content: str) -> Html:
    """A `script` or `style` element, whose content HTML does not unescape.

    Raises:
        ValueError: the content would end the element.
    """
    if "</" in content:
        raise ValueError("a script or style sheet of the page holds `</`, which would end it")
    return Html(f"<{name}>{content}</{name}>")


def source_hash(content: str) -> str:
    """The hash by which a content security policy allows an inline script or style sheet."""
    digest = hashlib.sha256(content.encode()).digest()
    return f"'sha256-{base64.b64encode(digest).decode()}'"


def data_uri(kind: str, content: bytes) -> str:
    """Content as an address that carries it."""
    return f"data:{kind};base64,{base64.b64encode(content).decode()}"


def _inside(one: Any) -> str:
    if isinstance(one, Html):
        return one
    if one is None or one is False:
        return ""
    if isinstance(one, list | tuple):
        return joined(*one)
    return escape(str(one), quote=False)


def _attribute(key: str, value: Any) -> str:
    if value is None or value is False:
        return ""
    name = key.rstrip("_").replace("_", "-")
    return f" {name}" if value is True else f' {name}="{escape(str(value))}"'


def table(
    caption: str,
    head: list[Any],
    rows: list[list[Any]],
    *,
    numbers: tuple[int, ...] = (),
    narrow: bool = False,
    **more: Any,
) -> Html:
    """A table whose first cell in each row heads it; `numbers` are the columns set to the right.

    Args:
        caption: what the table shows.
        head: heads of the columns.
        rows: cells, row by row.
        numbers: places of the columns that hold numbers.
        narrow: whether it has room on a phone as it is; else each row becomes a card there, its cells named.
        more: attributes of the table.

    Returns:
        The table in a box that scrolls sideways where the screen is narrow.
    """

    def kind(i: int) -> str | None:
        return "number" if i in numbers else None

    def cell(i: int, one: Any) -> Html:
        if i == 0:
            return tag("th", one, scope="row", class_=kind(0))
        return tag("td", one, class_=kind(i), data_head=None if narrow or one == "" else head[i])

    body = [tag("tr", *[cell(i, one) for i, one in enumerate(row)]) for row in rows]
    top = tag("tr", *[tag("th", h, scope="col", class_=kind(i)) for i, h in enumerate(head)])
    shape = "narrow" if narrow else "rows"
    whole = tag(
        "table",
        tag("caption", caption),
        tag("thead", top),
        tag("tbody", *body),
        class_=shape,
        **more,
    )
    return tag("div", whole, class_="wide", role="region", aria_label=caption, tabindex="0")
