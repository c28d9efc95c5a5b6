"""The key to a part's dimensions on a page: the picture, whose names light up with those of the list."""

from __future__ import annotations

from parts.report.page.html import Html, tag


def key_figure(svg: bytes, said: str, number: int = 1) -> Html:
    """The key as a figure.

    Args:
        svg: as `parts.making.bench.key` draws it.
        said: what it shows.
        number: of the key on its page; ids hang on it.

    Returns:
        A figure; `key.js` joins it to the list of dimensions.
    """
    return _figure(
        svg, said, f"key-title-{number}", "key", "Each name stands at what its value sets."
    )


def picture_figure(svg: bytes, said: str) -> Html:
    """A picture with axes and load points as a figure, one a page."""
    return _figure(
        svg, said, "points-title", "points", "Each name stands at the point where its load acts."
    )


def _figure(svg: bytes, said: str, title: str, kind: str, described: str) -> Html:
    text = svg.decode()
    text = text[text.index("<svg ") :].replace('<g id="', '<g class="layer-')
    first, _, rest = text.partition(">")
    # Drawn as large as on paper at the most, and as wide as the screen.
    first = first.replace("<svg ", f'<svg class="{kind}" role="img" aria-labelledby="{title}" ')
    rest = rest.replace("<title>", f'<title id="{title}">', 1)
    rest = rest.replace("</title>", f"</title><desc>{described}</desc>", 1)
    return tag("figure", Html(f"{first}>{rest.rstrip()}"), tag("figcaption", said), class_="keyed")
