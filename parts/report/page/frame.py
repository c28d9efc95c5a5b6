"""What the pages of parts and of builds have in common: the head, the first screen, what folds, and the foot."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, NamedTuple

from parts.report.page.html import Html, joined, tag

PART_VIEWS = ("slant", "front", "back", "left", "right", "top", "bottom")
BUILD_VIEWS = ("slant", "its left", "its right", "ahead", "behind", "top", "bottom")
"""From where the buttons of a viewer look; the viewer knows these words."""
FOOT = (
    "Made by oneoff-parts. Lengths in mm, forces in N, stresses in MPa unless another unit stands beside the "
    "number."
)


class Fold(NamedTuple):
    """What is folded away on a page: `said` is the line that tells whether to unfold it; no `inner`, no fold."""

    name: str
    title: str
    said: Any
    inner: Html | None


def framed(head: Iterable[Html], glance: Html, folds: Iterable[Fold]) -> Html:
    """Lay out everything between the head and the scripts of a page.

    Args:
        head: what stands at the top.
        glance: the first screen below it.
        folds: everything else; those without content are left out.

    Returns:
        The body.
    """
    return joined(
        tag("a", "To the content", href="#content", class_="skip"),
        tag("header", *head),
        tag("main", glance, *[folded(one) for one in folds if one.inner], id="content"),
        tag("footer", tag("p", FOOT)),
    )


def folded(one: Fold) -> Html:
    """A fold with its title and the line that tells whether to unfold it."""
    summary = tag("summary", tag("h2", one.title), tag("span", one.said, class_="said"))
    return tag(
        "details", summary, tag("div", one.inner, class_="inner"), id=one.name, class_="fold"
    )


def counted(many: int, one: str, several: str = "") -> str:
    """So many of something, as `1 sheet` and `2 sheets`."""
    return f"{many} {one if many == 1 else several or f'{one}s'}"


def listed(entries: Iterable[Any], **more: Any) -> Html | None:
    """A list of entries; None where there are none."""
    items = [tag("li", one) for one in entries]
    return tag("ul", *items, **more) if items else None


def view_buttons(views: Iterable[str]) -> list[Html]:
    """The buttons that turn a viewer to each of the views, and those that bring the eye closer and farther."""
    turned = [
        tag("button", name, type="button", data_view=name, aria_label=f"look at it: {name}")
        for name in views
    ]
    moved = [
        tag("button", name, type="button", data_key=key)
        for name, key in (("closer", "+"), ("farther", "-"))
    ]
    return [*turned, *moved]
