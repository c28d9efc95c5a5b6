"""Where other views are cut, as a view shows it: the line of the cut and its letters."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from parts.making.bench.dimensioning import arrow
from parts.making.bench.field import Field, letters_box
from parts.making.bench.ink import Letters, Patch, line
from parts.making.bench.looks import Looked


def planes_across(views: Sequence[Looked], index: int) -> list[tuple[str, Looked]]:
    """The cut views whose planes are to be drawn in this view: the first that sees them on edge."""
    found = []
    for other in views:
        if other.view.cut is not None and other is not views[index]:
            normal = other.frame.toward
            edge = [i for i, v in enumerate(views) if v.view.cut is None and v.frame.holds(normal)]
            if edge and edge[0] == index:
                found.append((f"cut {other.letter}", other))
    return found


def planes(
    there: Field, cuts: Sequence[tuple[str, Looked]], view: Looked, scale: float, aside: bool
) -> list[str]:
    """The lines along which other views cut.

    Returns:
        The names of those that found no room.
    """
    crowded = []
    for name, other in cuts:
        assert other.view.cut is not None
        place = view.frame.flat(other.view.cut) * scale
        if not _plane(there, place, view.frame.flat(other.frame.toward), other.letter, aside):
            crowded.append(name)
    return crowded


def _plane(there: Field, place: np.ndarray, out: np.ndarray, letter: str, aside: bool) -> bool:
    """One cutting plane as a line with arrows at its ends, each end as near to the part as there is room.

    Its letter stands at the end of the line, or `aside` at the tail of the arrow, where an extension line may
    run along the plane.
    """
    along = np.array([-out[1], out[0]])
    reach = (there.of("outline").reshape(-1, 2) - place) @ along
    ends = []
    for way, edge in ((1.0, float(reach.max())), (-1.0, float(-reach.min()))):
        for run in np.arange(4.0, 90.0, 2.0):
            end = place + along * way * (edge + run)
            marks = [
                line("cutting", place + along * way * edge, end),
                line("outline", end, end - along * way * 3.0),
                line("dimension", end + out * 6.5, end),
            ]
            at = (end + out * 10.5 if aside else end + along * way * 2.6) + np.array([0.0, -1.75])
            sign = Letters(letter, at, 3.5, 0.0, "middle", bold=True)
            lines = np.array([mark.points for mark in marks])
            if there.clear(lines) and there.free(letters_box(sign)):
                ends.append([*marks, sign, arrow(end, -out)])
                break
    if len(ends) < 2:
        return False
    # Words within the view break the line off: its ends alone tell where the plane lies.
    whole = line("cutting", *(one[0].points[0] for one in ends))
    across = [whole] if there.clear(whole.points[None]) else []
    for each in (*across, *ends[0], *ends[1]):
        there.draw(each, "" if isinstance(each, Letters | Patch) else "cutting")
    return True
