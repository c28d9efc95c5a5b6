"""Shaded pictures of a build with its hardpoints named on them, so that paper shows what the screen shows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from parts.report.page.html import Html, data_uri, tag
from parts.report.page.svg import text

LETTER, TALL, BOLD = 6.4, 13.0, 1.4
"""Width of a letter and height of a line of a name [px], on the wide side, and how much larger a part's is [-]."""
NEAR = ((8.0, 4.0), (-8.0, 4.0), (0.0, -9.0), (0.0, 17.0))
"""Where a name stands beside its place at first [px]."""
FAR = tuple(
    (far * np.cos(k * np.pi / 8.0), far * np.sin(k * np.pi / 8.0) + 4.0)
    for far in (22.0, 34.0, 48.0, 64.0, 82.0, 104.0, 130.0)
    for k in range(16)
)
"""Where it stands at the end of a leader."""
Box = tuple[float, float, float, float]


@dataclass(frozen=True)
class Named:
    """A shaded picture with what is named on it.

    Attributes:
        said: what is seen.
        picture: a PNG.
        width: of the picture [px].
        height: of the picture [px].
        points: places of the hardpoints on it [px], by name.
        lines: chains of places on it [px], each (n, 2), by what they stand for.
        parts: middles of the parts on it [px], by name.
    """

    said: str
    picture: bytes
    width: float
    height: float
    points: Mapping[str, np.ndarray]
    lines: Mapping[str, np.ndarray]
    parts: Mapping[str, np.ndarray]


def view_figure(one: Named) -> Html:
    """Lay a picture out with its names.

    Args:
        one: the picture.

    Returns:
        A figure.
    """
    inner: list[Html] = [
        tag("title", one.said),
        tag("image", href=data_uri("image/png", one.picture), width=f"{one.width:g}", height=f"{one.height:g}"),
    ]  # fmt: skip
    for name, chain in one.lines.items():
        d = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in chain)
        inner.append(tag("path", tag("title", name), d=d, class_="member"))
    inner += _names(one)
    drawn = tag(
        "svg", *inner, viewBox=f"0 0 {one.width:g} {one.height:g}", class_="view", role="img",
        aria_label=one.said,
    )  # fmt: skip
    return tag("figure", drawn, tag("figcaption", one.said))


def _names(one: Named) -> Iterator[Html]:
    taken: list[Box] = [(x - 4.0, y - 4.0, x + 4.0, y + 4.0) for x, y in one.points.values()]
    for name, at in one.parts.items():
        place = _room(at, name, taken, one, (*NEAR, *FAR), BOLD)
        if place is not None:
            yield from _labelled(at, name, place, "part")
    for name, at in one.points.items():
        place = _room(at, name, taken, one, (*NEAR, *FAR))
        if place is not None:
            yield from _labelled(at, name, place, "label")
        yield tag("circle", tag("title", name), cx=f"{at[0]:.1f}", cy=f"{at[1]:.1f}", r="3.5")


def _labelled(
    at: np.ndarray, name: str, place: tuple[float, float, float, float], kind: str
) -> Iterator[Html]:
    """A name at its place, and a leader where it stands away."""
    left, line, dx, dy = place
    if np.hypot(dx, dy) > 20.0:
        yield tag("line", x1=f"{at[0]:.1f}", y1=f"{at[1]:.1f}", x2=f"{at[0] + dx:.1f}",
                  y2=f"{at[1] + dy - 4.0:.1f}")  # fmt: skip
    yield text(left, line, name, "start", kind)


def _room(
    at: np.ndarray,
    name: str,
    taken: list[Box],
    one: Named,
    away: Sequence[tuple[float, float]],
    larger: float = 1.0,
) -> tuple[float, float, float, float] | None:
    """Where a name covers no other: its left end and line, and how far that is from its place; it is taken then."""
    long, tall = LETTER * larger * len(name), TALL * larger
    for dx, dy in away:
        left = at[0] + dx - (0.0 if dx > 0.5 else long if dx < -0.5 else long / 2.0)
        line = at[1] + dy
        box = (left - 1.0, line - tall + 2.0, left + long + 1.0, line + 3.0)
        inside = box[0] > 0.0 and box[1] > 0.0 and box[2] < one.width and box[3] < one.height
        if inside and all(
            box[2] < t[0] or t[2] < box[0] or box[3] < t[1] or t[3] < box[1] for t in taken
        ):
            taken.append(box)
            return left, line, dx, dy
    return None
