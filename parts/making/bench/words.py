"""What is written beside a dimension: the value in the units of the drawing, fits, threads, depths."""

from __future__ import annotations

from parts.core.drawing import Angle, Callout, Diameter, Hole, Linear, Radius
from parts.making.bench.figures import Figures

SPOT = 1.0
"""A counterbore no deeper than this only makes a seat: a spotface [mm]; common practice, no source."""


def dimension_words(one: Linear | Diameter | Radius | Angle, figures: Figures) -> str:
    """One line for a dimension line, a radius or an angle."""
    if one.name in figures.names:
        return figures.names[one.name].replace("\n", "; ")
    if isinstance(one, Diameter) and one.text:
        value = one.text
    elif isinstance(one, Angle):
        value = figures.angle(one.value)
    else:
        sign = {Diameter: "Ø", Radius: "R"}.get(type(one), "")
        fit = "" if isinstance(one, Radius) else one.fit
        value = sign + figures.length(one.value, fine=bool(fit))
        if not isinstance(one, Radius) and one.limits is not None:
            named = f" {fit}" if fit else ""
            value += f"{named} ({_deviations(one.limits, one.value, figures)})"
    if isinstance(one, Linear) and one.reference:
        value = f"({value})"
    times = f"{one.count}× " if one.count > 1 else ""
    return f"{times}{value}{f' {one.callout}' if one.callout else ''}"


def _deviations(limits: tuple[float, float], nominal: float, figures: Figures) -> str:
    """Upper and lower deviation of a size with a fit."""
    low, high = (figures.deviation(limit - nominal) for limit in limits)
    return f"{high} / {low}"


def callout_words(one: Callout, figures: Figures) -> tuple[str, ...]:
    """The lines of a callout, its sizes filled in."""
    if one.name in figures.names:
        return tuple(figures.names[one.name].split("\n"))
    sizes = (dimension_words(size, figures) for size in one.sizes)
    return tuple(figures.said(one.text).format(*sizes).split("\n"))


def hole_words(hole: Hole, count: int, figures: Figures) -> tuple[str, ...]:
    """The lines of a hole's leader: what it is finished to, then what goes before."""
    if hole.name in figures.names:
        return tuple(figures.names[hole.name].split("\n"))
    times = f"{count}× " if count > 1 else ""
    deep = "through" if hole.depth is None else f"× {figures.length(hole.depth)} deep"
    lines: list[str]
    if hole.thread is not None:
        full = "through" if hole.tapped is None else f"× {figures.length(hole.tapped)} deep"
        lines = [f"{times}{hole.thread.called('internal')} {full}"]
        if hole.depth is not None:
            lines.append(f"drill {deep[2:]}, full diameter")
    else:
        size = figures.length(hole.diameter, fine=bool(hole.fit))
        lines = [f"{times}Ø{size}{f' {hole.fit}' if hole.fit else ''} {deep}"]
    if hole.limits is not None:
        lines.append(_deviations(hole.limits, hole.diameter, figures))
    if hole.counterbore is not None:
        wide, down = hole.counterbore
        seat = "spotface" if down <= SPOT else "counterbore"
        lines.append(f"{seat} Ø{figures.length(wide)} × {figures.length(down)} deep")
    if hole.countersink > hole.diameter:
        lines.append(f"countersink Ø{figures.length(hole.countersink)} × 90°")
    if hole.callout:
        lines += figures.said(hole.callout).split("\n")
    return tuple(lines)


def edge_words(edge_break: float, figures: Figures) -> str:
    """The general note on edges; `edge_break` is their chamfer [mm]."""
    if edge_break > 0.0:
        edge = figures.length(float(edge_break))
        return f"Break outside edges {edge} × 45°, holes too, unless stated; drawn sharp."
    return "Deburr; leave edges sharp unless stated."
