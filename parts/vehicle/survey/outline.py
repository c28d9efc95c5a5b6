"""Closed curves of an SVG as points, and the circle that a curve is."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
from numpy.typing import NDArray

from parts.inputs.problems import InputError, Problem

Array = NDArray[np.float64]
STEPS = 24
"""Points on each curved piece of a path."""
ROUND = 0.03
"""By how much of its radius a traced hole may be out of round [-]; common practice, no source."""
_PIECE = re.compile(r"([MmLlHhVvCcSsQqTtAaZz])([^MmLlHhVvCcSsQqTtAaZz]*)")
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
_TURNED = re.compile(r"(\w+)\s*\(([^)]*)\)")
_COUNTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7}


def curves_of(file: Path) -> Iterator[Array]:
    """Points of each closed curve, shape (n, 2), in units of the drawing, y downward.

    Raises:
        InputError: it is no SVG.
    """
    try:
        root = ElementTree.fromstring(file.read_bytes())
    except ElementTree.ParseError as error:
        raise InputError([Problem("bad_svg", str(file), error.position[0], error.position[1], "", "",
                                  "it is no SVG", "save the outline as plain SVG")]) from None  # fmt: skip
    yield from _curves(root, np.eye(3))


def _curves(node: ElementTree.Element, seen: Array) -> Iterator[Array]:
    here = seen @ _transform(node.get("transform", ""))
    kind = node.tag.rpartition("}")[2]
    if kind in ("defs", "clipPath", "mask", "symbol"):
        return
    if kind in ("circle", "ellipse"):
        r = [float(node.get(name, node.get("r", 0.0))) for name in ("rx", "ry")]
        turn = np.linspace(0.0, 2.0 * np.pi, 4 * STEPS, endpoint=False)
        middle = [float(node.get(name, 0.0)) for name in ("cx", "cy")]
        yield _placed(here, np.column_stack([r[0] * np.cos(turn), r[1] * np.sin(turn)]) + middle)
    elif kind == "path":
        for points in path_points(node.get("d", "")):
            yield _placed(here, points)
    elif kind == "polygon":
        yield _placed(here, np.array(_numbers(node.get("points", ""))).reshape(-1, 2))
    for child in node:
        yield from _curves(child, here)


def _placed(seen: Array, points: Array) -> Array:
    return np.asarray(points @ seen[:2, :2].T + seen[:2, 2])


def _numbers(text: str) -> list[float]:
    return [float(one) for one in _NUMBER.findall(text)]


def _transform(text: str) -> Array:
    """The matrix of an SVG transform (SVG 1.1, 7.6)."""
    found = np.eye(3)
    for name, inner in _TURNED.findall(text):
        v, one = _numbers(inner), np.eye(3)
        if name == "translate":
            one[:2, 2] = v[0], v[1] if len(v) > 1 else 0.0
        elif name == "scale":
            one[0, 0], one[1, 1] = v[0], v[-1]
        elif name == "matrix":
            one[:2] = np.array(v).reshape(3, 2).T
        elif name == "rotate":
            c, s = np.cos(np.radians(v[0])), np.sin(np.radians(v[0]))
            one[:2, :2] = [[c, -s], [s, c]]
            if len(v) > 2:
                one[:2, 2] = np.array(v[1:]) - one[:2, :2] @ np.array(v[1:])
        found = found @ one
    return found


def path_points(d: str) -> Iterator[Array]:
    """The closed pieces of a path's `d` as points, shape (n, 2) (SVG 1.1, 8.3)."""
    points: list[Array] = []
    at, handle = np.zeros(2), np.zeros(2)
    for letter, inner in _PIECE.findall(d):
        kind, numbers = letter.upper(), _numbers(inner)
        if kind == "Z":
            yield np.array(points)
            at = points[0] if points else at
            points = [at]
            continue
        many = _COUNTS[kind]
        for k in range(0, len(numbers) - many + 1, many):
            v = np.array(numbers[k : k + many])
            base = at if letter.islower() else np.zeros(2)
            if kind == "M" and k == 0:
                if _closed(points):
                    yield np.array(points)
                at = base + v
                points = [at]
                handle = at
                continue
            mirror = 2.0 * at - handle if points else at
            drawn, handle = _drawn(kind, at, v, base, mirror)
            points.extend(drawn)
            at = points[-1]
    if _closed(points):
        yield np.array(points)


def _closed(points: list[Array]) -> bool:
    return len(points) > 3 and bool(np.linalg.norm(points[0] - points[-1]) < 1e-6)


def _drawn(kind: str, at: Array, v: Array, base: Array, mirror: Array) -> tuple[list[Array], Array]:
    """The points of one piece after its start, and the handle that a smooth piece behind it mirrors."""
    if kind in ("M", "L"):
        return [base + v], base + v
    if kind in ("H", "V"):
        end = np.array([base[0] + v[0], at[1]] if kind == "H" else [at[0], base[1] + v[0]])
        return [end], end
    if kind == "A":
        return _arc(at, v, base + v[5:]), base + v[5:]
    pairs = [base + pair for pair in v.reshape(-1, 2)]
    if kind in ("S", "T"):
        pairs = [mirror, *pairs]
    return _bezier([at, *pairs]), pairs[-2]


def _bezier(handles: list[Array]) -> list[Array]:
    found = []
    for t in np.linspace(0.0, 1.0, STEPS + 1)[1:]:
        level = handles
        while len(level) > 1:
            level = [(1.0 - t) * a + t * b for a, b in pairwise(level)]
        found.append(level[0])
    return found


def _arc(start: Array, v: Array, end: Array) -> list[Array]:
    """An elliptical arc by its ends (SVG 1.1, F.6.5)."""
    rx, ry, phi, large, sweep = abs(v[0]), abs(v[1]), np.radians(v[2]), v[3] != 0.0, v[4] != 0.0
    if not rx or not ry or np.allclose(start, end):
        return [end]
    turn = np.array([[np.cos(phi), np.sin(phi)], [-np.sin(phi), np.cos(phi)]])
    x, y = turn @ (start - end) / 2.0
    grow = np.sqrt(max((x / rx) ** 2 + (y / ry) ** 2, 1.0))
    rx, ry = rx * grow, ry * grow
    left = max((rx * ry) ** 2 - (rx * y) ** 2 - (ry * x) ** 2, 0.0)
    size = np.sqrt(left / ((rx * y) ** 2 + (ry * x) ** 2)) * (-1.0 if large == sweep else 1.0)
    c = size * np.array([rx * y / ry, -ry * x / rx])
    middle = turn.T @ c + (start + end) / 2.0
    first = np.arctan2((y - c[1]) / ry, (x - c[0]) / rx)
    span = np.arctan2((-y - c[1]) / ry, (-x - c[0]) / rx) - first
    if (span < 0.0) == sweep:
        span += 2.0 * np.pi if sweep else -2.0 * np.pi
    angles = first + span * np.linspace(0.0, 1.0, STEPS + 1)[1:]
    return [turn.T @ np.array([rx * np.cos(t), ry * np.sin(t)]) + middle for t in angles]


def circle_through(points: Array) -> tuple[tuple[float, float], float] | None:
    """Centre and diameter of the circle that a closed curve is, by least squares; None where it is not round.

    The fit takes the points as spread evenly: the curve is walked at equal steps first.
    """
    if len(points) < 8:
        return None
    loop = np.vstack([points, points[:1]])
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(loop, axis=0), axis=1))])
    walk = np.linspace(0.0, along[-1], 4 * STEPS, endpoint=False)
    even = np.column_stack([np.interp(walk, along, loop[:, k]) for k in (0, 1)])
    middle = even.mean(axis=0)
    off = even - middle
    known = np.column_stack([2.0 * off, np.ones(len(off))])
    a, b, c = np.linalg.lstsq(known, np.sum(off**2, axis=1), rcond=None)[0]
    radius = float(np.sqrt(max(c + a * a + b * b, 0.0)))
    out = np.abs(np.hypot(off[:, 0] - a, off[:, 1] - b) - radius)
    if not radius or float(out.max()) > ROUND * radius:
        return None
    return (float(middle[0] + a), float(middle[1] + b)), 2.0 * radius
