"""A critical section drawn to scale: hatched metal, centroid, all axes, and the fibre that decides."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.figures import figure
from parts.report.page.html import Html, tag

if TYPE_CHECKING:
    from parts.making.model import Cut
    from parts.strength.section.outline import Boundary

SCALES = (20.0, 10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02)
"""Scales of technical drawings; ISO 5455 lists them."""
ROOM = 84.0
"""Longest side of the section on paper [mm]."""
AROUND = 19.0
"""Left round it for axes and dimensions [mm on paper]."""
STRAIGHT = 1e-6
"""Sag over chord below which a curve is drawn as a line [-]."""
BARS = (1, 2, 5, 10, 20, 50, 100, 200)


def chains(boundary: Boundary, pieces: int = 60) -> list[np.ndarray]:
    """Each loop of a boundary as a closed chain of points [mm], (n, 2), the first not repeated."""
    return [np.concatenate([_chain(curve, pieces) for curve in loop]) for loop in boundary.loops]


def _chain(curve: Any, pieces: int) -> np.ndarray:
    points = curve.at(np.linspace(0.0, 1.0, pieces + 1))[0]
    chord = points[-1] - points[0]
    length = float(np.hypot(*chord))
    off = points - points[0]
    sag = np.abs(off[:, 0] * chord[1] - off[:, 1] * chord[0]) / max(length, 1e-12)
    straight = length > 0.0 and float(sag.max()) <= STRAIGHT * length
    return np.asarray(points[:1] if straight else points[:-1])


def scale_for(width: float, height: float) -> float:
    """The largest scale of a drawing at which a section [mm] has room."""
    longest = max(width, height)
    return next((scale for scale in SCALES if scale * longest <= ROOM), ROOM / longest)


def scale_text(scale: float) -> str:
    """A scale as a drawing states it: 2 : 1, 1 : 5."""
    return f"{scale:g} : 1" if scale >= 1.0 else f"1 : {1.0 / scale:.3g}"


def section_figure(cut: Cut, number: int, described: str) -> Html:
    """Draw a section as it was cut from the solid.

    Args:
        cut: the section.
        number: of the figure on the page; ids hang on it.
        described: what it shows, for those who do not see it.

    Returns:
        An SVG whose size on paper is true to its scale.
    """
    own = cut.section
    centre = np.array([float(own.y), float(own.z)])
    loops = [points - centre for points in chains(cut.boundary)]
    y_min, y_max = float(own.y_min), float(own.y_max)
    z_min, z_max = float(own.z_min), float(own.z_max)
    scale = scale_for(y_max - y_min, z_max - z_min)
    left, top = AROUND - scale * y_min, AROUND + scale * z_max
    wide = scale * (y_max - y_min) + 2.0 * AROUND
    high = scale * (z_max - z_min) + 2.0 * AROUND + 8.0

    def at(y: float, z: float) -> tuple[float, float]:
        return left + scale * y, top - scale * z

    hatch = f"hatch-{number}"
    peak = cut.critical.stress
    inner = [
        tag("title", f"Section {number}, scale {scale_text(scale)}", id=f"section-{number}-title"),
        tag("desc", described, id=f"section-{number}-desc"),
        _hatching(hatch),
        tag("path", d=_path(loops, at), class_="metal", fill=f"url(#{hatch})", fill_rule="evenodd"),
        *_axes(float(own.angle), (y_min, y_max, z_min, z_max), at),
        *_centroid(*at(0.0, 0.0)),
        *_peak(*at(float(peak.y) - centre[0], float(peak.z) - centre[1])),
        *_extents((y_min, y_max, z_min, z_max), at),
        *_bar(scale, wide, high),
    ]
    return tag(
        "svg",
        *inner,
        class_="section",
        viewBox=f"0 0 {wide:.2f} {high:.2f}",
        width=f"{wide:.2f}mm",
        height=f"{high:.2f}mm",
        role="img",
        aria_labelledby=f"section-{number}-title section-{number}-desc",
    )


def _hatching(name: str) -> Html:
    line = tag("path", d="M0 0V2.4", class_="hatch")
    pattern = tag(
        "pattern", tag("rect", width="2.4", height="2.4", class_="ground"), line,
        id=name, width="2.4", height="2.4", patternUnits="userSpaceOnUse", patternTransform="rotate(45)",
    )  # fmt: skip
    return tag("defs", pattern)


def _path(loops: list[np.ndarray], at: Any) -> str:
    said = []
    for points in loops:
        places = [at(*map(float, point)) for point in points]
        said.append("M" + "L".join(f"{x:.3f} {y:.3f}" for x, y in places) + "Z")
    return "".join(said)


def _axes(angle: float, box: tuple[float, float, float, float], at: Any) -> Iterator[Html]:
    """The section's y and z at their positive ends, the principal axes 1 and 2 at their negative."""
    y_min, y_max, z_min, z_max = box
    (x0, y0), (x1, y1) = at(y_min, 0.0), at(y_max, 0.0)
    yield _line(x0 - 4.0, y0, x1 + 7.0, y1, "axis", arrow=True)
    yield _text(x1 + 9.0, y1 + 1.2, "y")
    (x0, y0), (x1, y1) = at(0.0, z_min), at(0.0, z_max)
    yield _line(x0, y0 + 4.0, x1, y1 - 7.0, "axis", arrow=True)
    yield _text(x1, y1 - 8.6, "z")
    middle = np.array(at(0.0, 0.0))
    for name, turned in (("1", angle), ("2", angle + np.pi / 2.0)):
        way = np.array([np.cos(turned), -np.sin(turned)])
        way *= np.sign(way[0]) if abs(way[0]) > abs(way[1]) else -np.sign(way[1])
        corners = np.array([at(y_min, z_max), at(y_max, z_min)]) - middle
        back, ahead = _exit(-way, *corners) + 4.0, _exit(way, *corners) + 2.0
        (x0, y0), (x1, y1) = middle - way * back, middle + way * ahead
        yield _line(float(x0), float(y0), float(x1), float(y1), "principal")
        label = middle - way * (back + 2.6)
        yield _text(label[0], label[1] + 1.2, name)


def _exit(way: np.ndarray, low: np.ndarray, high: np.ndarray) -> float:
    """How far from the origin a ray leaves the box between two corners."""
    side = np.where(way > 0.0, high, low)
    return float((side / np.where(np.abs(way) > 1e-9, way, np.sign(side) * 1e-9)).min())


def _centroid(x: float, y: float) -> Iterator[Html]:
    r = 1.5
    yield tag("circle", cx=f"{x:.2f}", cy=f"{y:.2f}", r=r, class_="centroid")
    quarters = (
        f"M{x:.2f} {y:.2f}V{y - r:.2f}A{r} {r} 0 0 1 {x + r:.2f} {y:.2f}Z"
        f"M{x:.2f} {y:.2f}V{y + r:.2f}A{r} {r} 0 0 1 {x - r:.2f} {y:.2f}Z"
    )
    yield tag("path", d=quarters, class_="filled")


def _peak(x: float, y: float) -> Iterator[Html]:
    yield tag("path", d=f"M{x:.2f} {y:.2f}m-1.7 -1.7l3.4 3.4m0 -3.4l-3.4 3.4", class_="peak")


def _extents(box: tuple[float, float, float, float], at: Any) -> Iterator[Html]:
    """Overall breadth below and height to the left."""
    y_min, y_max, z_min, z_max = box
    (x0, low), (x1, _) = at(y_min, z_min), at(y_max, z_min)
    below = low + 13.0
    for x in (x0, x1):
        yield _line(x, low + 1.0, x, below + 1.5, "thin")
    yield _line(x0, below, x1, below, "thin", arrow=True, both=True)
    yield _text((x0 + x1) / 2.0, below - 1.0, figure(y_max - y_min), "dimension")
    (left, y0), (_, y1) = at(y_min, z_min), at(y_min, z_max)
    beside = left - 13.0
    for y in (y0, y1):
        yield _line(left - 1.0, y, beside - 1.5, y, "thin")
    yield _line(beside, y0, beside, y1, "thin", arrow=True, both=True)
    middle = (y0 + y1) / 2.0
    yield _text(
        beside - 1.0, middle, figure(z_max - z_min), "dimension",
        transform=f"rotate(-90 {beside - 1.0:.2f} {middle:.2f})",
    )  # fmt: skip


def _bar(scale: float, wide: float, high: float) -> Iterator[Html]:
    """A bar of a round length, so that the scale holds on any screen."""
    long = max((one for one in BARS if one * scale <= wide - 2.0 * AROUND), default=BARS[0])
    x0, y = AROUND, high - 4.0
    x1 = x0 + long * scale
    yield tag(
        "path", class_="bar",
        d=f"M{x0:.2f} {y - 1.2:.2f}V{y:.2f}H{x1:.2f}V{y - 1.2:.2f}",
    )  # fmt: skip
    yield _text(x0, y + 3.6, f"{long} mm, scale {scale_text(scale)} on paper", anchor="start")


def _line(
    x0: float,
    y0: float,
    x1: float,
    y1: float,
    kind: str,
    *,
    arrow: bool = False,
    both: bool = False,
) -> Html:
    """A line, with slender heads at its end or both."""
    d = f"M{x0:.2f} {y0:.2f}L{x1:.2f} {y1:.2f}"
    length = float(np.hypot(x1 - x0, y1 - y0)) or 1.0
    u, v = (x1 - x0) / length, (y1 - y0) / length
    ends = [(x1, y1, u, v)] if arrow else []
    ends += [(x0, y0, -u, -v)] if both else []
    for x, y, a, b in ends:
        for side in (0.35, -0.35):
            d += f"M{x:.2f} {y:.2f}l{-1.8 * a - side * 1.8 * b:.2f} {-1.8 * b + side * 1.8 * a:.2f}"
    return tag("path", d=d, class_=kind)


def _text(
    x: float, y: float, said: str, kind: str = "label", anchor: str = "middle", **more: str
) -> Html:
    return tag("text", said, x=f"{x:.2f}", y=f"{y:.2f}", class_=kind, text_anchor=anchor, **more)
