"""What the pages of parts and of builds have in common: head, links, sections, foot, and a viewer's buttons."""

from __future__ import annotations

from collections.abc import Iterable

from parts.report.page.html import Html, joined, tag

PART_VIEWS = ("slant", "front", "back", "left", "right", "top", "bottom")
BUILD_VIEWS = ("slant", "its left", "its right", "ahead", "behind", "top", "bottom")
"""From where the buttons of a viewer look; the viewer knows these words."""
FOOT = (
    "Made by oneoff-parts. Lengths in mm, forces in N, stresses in MPa unless another unit stands beside the "
    "number."
)


def framed(head: Iterable[Html], sections: Iterable[tuple[str, str, Html | None]]) -> Html:
    """Lay out everything between the head and the scripts of a page.

    Args:
        head: what stands at the top.
        sections: name, title and content of each; those without content are left out.

    Returns:
        The body.
    """
    kept = [(name, said, inner) for name, said, inner in sections if inner]
    links = [tag("li", tag("a", said, href=f"#{name}")) for name, said, _ in kept]
    return joined(
        tag("a", "To the content", href="#content", class_="skip"),
        tag("header", *head),
        tag("nav", tag("ul", *links), aria_label="On this page"),
        tag(
            "main",
            *[
                tag("section", tag("h2", said, id=f"{name}-head"), inner, id=name,
                    aria_labelledby=f"{name}-head")
                for name, said, inner in kept
            ],
            id="content",
        ),
        tag("footer", tag("p", FOOT)),
    )  # fmt: skip


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
