"""What acts on a part and what holds it, for its page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.figures import figure
from parts.report.page.frame import counted
from parts.report.page.html import Html, joined, table, tag
from parts.report.page.stresses import triple

if TYPE_CHECKING:
    from parts.core.part import Part


def loads_shown(part: Part, balances: Sequence[Mapping[str, Any]]) -> Html | None:
    """Tables of what acts on a part and of what holds it; None where nothing acts."""
    rows = []
    points = part.points()
    for i, case in enumerate(part.loads, 1):
        cycles = sum(block.cycles for block in case.spectrum)
        for load in case.forces:
            at = ", ".join(figure(v) for v in np.asarray(points[load.at], float))
            rows.append(
                [f"{i} {case.name}", f"{load.at} ({at})", *map(figure, load.force),
                 *(figure(v / 1000.0) for v in load.moment), figure(cycles) if cycles else "rare peak"]
            )  # fmt: skip
    if not rows:
        return None
    forces = [f"F{axis}, N" for axis in "xyz"] + [f"M{axis}, N·m" for axis in "xyz"]
    head = ["load case", "at point (x, y, z in mm)", *forces, "cycles"]
    axes = tag("p", f"Axes of the part: {part.axes}") if part.axes else None
    acting = table("What acts on the part", head, rows, numbers=tuple(range(2, 8)))
    held = [
        [one["load_case"], f"{by['by']} ({triple(by['at_mm'])})",
         *(figure(v) for v in by["force_N"]), *(figure(v / 1000.0) for v in by["moment_Nmm"])]
        for one in balances
        for by in one["reactions"]
        if any(by["force_N"]) or any(by["moment_Nmm"])
    ]  # fmt: skip
    if not held:
        return joined(axes, acting)
    head = ["load case", "by, at (x, y, z in mm)", *forces]
    caption = "What holds it: loads and these sum to nothing"
    return joined(axes, acting, table(caption, head, held, numbers=tuple(range(2, 8))))


def loads_said(part: Part) -> str:
    """How many load cases there are, and the largest force among them."""
    forces = [
        (float(np.linalg.norm(load.force)), load.at, case.name)
        for case in part.loads
        for load in case.forces
    ]
    if not forces:
        return ""
    most, at, name = max(forces)
    return f"{counted(len(part.loads), 'load case')}; the largest force is {figure(most)} N at {at} under {name}"
