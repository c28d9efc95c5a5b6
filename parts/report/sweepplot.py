"""The plot of a sweep: mass against reserve, the efficient edge marked; told apart by shape, not by colour."""

from __future__ import annotations

from typing import TYPE_CHECKING
from xml.sax.saxutils import escape

import numpy as np

if TYPE_CHECKING:
    from parts.study.sweep import Swept

WIDE, HIGH = 900, 600
LEFT, RIGHT, TOP, BOTTOM = 80, 30, 118, 70
CELL = 7
"""Side of a cell of the sheet [px]: one mark a cell is drawn, so that many rows stay a small file."""
HALO = "stroke='#fff' stroke-width='4' stroke-linejoin='round' paint-order='stroke'"
"""Keeps a word readable over dots."""
RULES = 4
"""Broken rules that are named, those that most rows break."""
LABELLED = 10
"""Points of the edge that bear the number of their row."""


def sweep_svg(found: Swept) -> bytes:
    """The plot as SVG; rows that break a rule have no place on it and are counted above it."""
    drawn = np.isfinite(found.mass) & np.isfinite(found.reserve)
    if not drawn.any():
        return _sheet(found, ["<text x='80' y='150'>No row meets every rule.</text>"])
    mass, reserve = found.mass, found.reserve
    edge = np.flatnonzero(found.edge & drawn)
    edge = edge[np.argsort(mass[edge], kind="stable")]
    across = _scale(mass[drawn], LEFT, WIDE - RIGHT, 0.05)
    up = _scale(np.append(reserve[drawn], (0.9, 1.1)), HIGH - BOTTOM, TOP, 0.05)
    x, y = across.at(mass), up.at(reserve)
    lines = [*_axes(across, up), *_cloud(x, y, found.ok, drawn)]
    level = up.at(np.array(1.0))
    lines.append(
        f"<path d='M{LEFT} {level:.1f}H{WIDE - RIGHT}' stroke='#000' stroke-dasharray='8 5' fill='none'/>"
        f"<text x='{WIDE - RIGHT}' y='{level - 6:.1f}' text-anchor='end' {HALO}>required</text>"
    )
    lines += _edge(x[edge], y[edge], edge)
    return _sheet(found, lines)


def _counted(found: Swept) -> list[str]:
    """How many rows hold, fall short and break a rule, as lengths of a bar and in words."""
    broken = found.broken != ""
    rules, many = np.unique(found.broken[broken].astype(str), return_counts=True)
    first = sorted(zip(many.tolist(), rules.tolist(), strict=True), reverse=True)[:RULES]
    said = ", ".join(f"{rule} {n}" for n, rule in first) + (", ..." if len(rules) > RULES else "")
    parts = [
        (int(found.ok.sum()), "hold", "#444"),
        (int((~broken & ~found.ok).sum()), "fall short", "#777"),
        (int(broken.sum()), f"break a rule ({said})" if said else "break a rule", "#fff"),
    ]
    words = "; ".join(f"{n} {what}" for n, what, _ in parts)
    lines, at, wide = [], float(LEFT), (WIDE - LEFT - RIGHT) / max(len(broken), 1)
    for n, _, ink in parts:
        lines.append(
            f"<rect x='{at:.1f}' y='82' width='{n * wide:.1f}' height='12' fill='{ink}' stroke='#000'/>"
        )
        at += n * wide
    return [f"<text x='{LEFT}' y='72'>{escape(words)}</text>", *lines]


class _Scale:
    """Straight from values to pixels, with ticks at round values."""

    def __init__(self, low: float, high: float, first: float, last: float) -> None:
        self.low, self.high, self.first, self.last = low, high, first, last

    def at(self, value: np.ndarray) -> np.ndarray:
        share = (value - self.low) / (self.high - self.low)
        return np.asarray(self.first + share * (self.last - self.first))

    def ticks(self) -> list[float]:
        span = self.high - self.low
        step = 10.0 ** np.floor(np.log10(span / 4.0))
        step *= max(k for k in (1.0, 2.0, 5.0) if span / (k * step) >= 4.0)
        return [
            float(k * step) for k in range(int(np.ceil(self.low / step)), int(self.high / step) + 1)
        ]


def _scale(values: np.ndarray, first: float, last: float, margin: float) -> _Scale:
    low, high = float(values.min()), float(values.max())
    room = margin * (high - low) or 0.05 * abs(high) or 1.0
    return _Scale(low - room if low != 0.0 else 0.0, high + room, first, last)


def _axes(across: _Scale, up: _Scale) -> list[str]:
    bottom = HIGH - BOTTOM
    lines = [f"<path d='M{LEFT} {TOP}V{bottom}H{WIDE - RIGHT}' stroke='#000' fill='none'/>"]
    for tick in across.ticks():
        x = float(across.at(np.array(tick)))
        lines.append(f"<path d='M{x:.1f} {bottom}v6' stroke='#000'/>"
                     f"<text x='{x:.1f}' y='{bottom + 22}' text-anchor='middle'>{tick:.4g}</text>")  # fmt: skip
    for tick in up.ticks():
        y = float(up.at(np.array(tick)))
        lines.append(f"<path d='M{LEFT} {y:.1f}h-6' stroke='#000'/>"
                     f"<text x='{LEFT - 10}' y='{y + 5:.1f}' text-anchor='end'>{tick:.4g}</text>")  # fmt: skip
    lines.append(
        f"<text x='{(LEFT + WIDE - RIGHT) / 2}' y='{HIGH - 20}' text-anchor='middle'>mass, kg</text>"
    )
    lines.append(f"<text transform='translate(24 {(TOP + bottom) / 2}) rotate(-90)' text-anchor='middle'>"
                 "governing factor over its required factor</text>")  # fmt: skip
    return lines


def _cloud(x: np.ndarray, y: np.ndarray, ok: np.ndarray, drawn: np.ndarray) -> list[str]:
    """Dots for rows that hold, crosses for those that fall short; one mark a cell, the holding first."""
    rows = np.flatnonzero(drawn)
    rows = rows[np.argsort(~ok[rows], kind="stable")]
    cells = np.stack([x[rows] // CELL, y[rows] // CELL], axis=-1).astype(int)
    first = np.sort(np.unique(cells, axis=0, return_index=True)[1])
    dots, crosses = [], []
    for row in rows[first]:
        if ok[row]:
            dots.append(f"M{x[row]:.1f} {y[row]:.1f}h0")
        else:
            crosses.append(f"M{x[row] - 3:.1f} {y[row] - 3:.1f}l6 6m0-6l-6 6")
    return [
        f"<path d='{''.join(crosses)}' stroke='#777' stroke-width='1.4' fill='none'/>",
        f"<path d='{''.join(dots)}' stroke='#444' stroke-width='6' stroke-linecap='round' fill='none'/>",
    ]


def _edge(x: np.ndarray, y: np.ndarray, rows: np.ndarray) -> list[str]:
    """The edge as a stepped line: at every mass the most that can be had for it."""
    if not len(rows):
        return []
    steps = f"M{x[0]:.1f} {y[0]:.1f}" + "".join(
        f"H{a:.1f}V{b:.1f}" for a, b in zip(x[1:], y[1:], strict=True)
    )
    lines = [f"<path d='{steps}' stroke='#000' stroke-width='2' fill='none'/>"]
    shown = np.unique(np.linspace(0, len(rows) - 1, LABELLED).astype(int))
    for k in shown:
        circle = f"<circle cx='{x[k]:.1f}' cy='{y[k]:.1f}' r='5' stroke='#000' stroke-width='2' fill='#fff'/>"
        lines += [
            circle,
            f"<text x='{x[k] + 7:.1f}' y='{y[k] - 9:.1f}' {HALO}>{rows[k] + 1}</text>",
        ]
    return lines


def _sheet(found: Swept, lines: list[str]) -> bytes:
    part = found.stated.part
    title = f"{part.name}: {', '.join(one.path for one in found.columns)}"
    key = "dot: holds;  cross: falls short;  stepped line: efficient edge, circles with their row in the table"
    head = [
        f"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 {WIDE} {HIGH}' font-family='sans-serif' "
        "font-size='14'>",
        f"<title>{escape(title)}</title>",
        f"<rect width='{WIDE}' height='{HIGH}' fill='#fff'/>",
        f"<text x='{LEFT}' y='28' font-size='17'>{escape(title)}</text>",
        f"<text x='{LEFT}' y='50'>{key}</text>",
    ]
    return "\n".join([*head, *_counted(found), *lines, "</svg>", ""]).encode()
