"""What a drawing shows of a hole that is tapped along x from a face: the drilled hole, full thread, and its relief."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from parts.features.thread import threaded
from parts.standards.threads.threads import Thread

if TYPE_CHECKING:
    from parts.core.drawing import Dimension, Hole, ThreadLines

X = np.eye(3)[0]


class TappedMarks(NamedTuple):
    """The hole, the lines of its thread, and where it has a relief, the depth of full thread and the relief."""

    hole: Hole
    lines: ThreadLines
    full: tuple[Dimension, ...]
    relief: tuple[Dimension, ...]


def tapped_marks(
    name: str, thread: Thread, mouth: float, into: float, depth: float, *, relief: bool, beyond: float, sink: float,
    relief_name: str = "relief", view: str = "",
) -> TappedMarks:  # fmt: skip
    """Marks of a hole that is tapped along x.

    Args:
        name: of the hole.
        thread: its thread.
        mouth: x of the face [mm].
        into: 1 where the hole runs toward +x, -1 toward -x.
        depth: of full thread [mm].
        relief: whether a groove is cut behind the thread.
        beyond: as the feature states it.
        sink: how much wider than the thread it is sunk at its mouth, on the diameter [mm].
        relief_name: how the groove is called.
        view: on which the hole is shown round; chosen by the layout where empty.
    """
    from parts.core.drawing import Callout, Diameter, Hole, Linear, ThreadLines

    drilled = depth + float(threaded.behind_thread(thread, relief=relief, beyond=beyond))
    minor, major = float(thread.minor_internal), float(thread.major)

    def at(deep: float) -> tuple[float, float, float]:
        return (mouth + into * deep, 0.0, 0.0)

    def along(name: str, *ends: float, **more: Any) -> Linear:
        low, high = sorted(at(deep) for deep in ends)
        return Linear(name, low, high, X, abs(ends[1] - ends[0]), **more)

    hole = Hole(
        name, at(0.0), into * X, minor, depth=drilled, thread=thread, tapped=depth, countersink=major + sink, view=view
    )  # fmt: skip
    lines = ThreadLines(at(depth), at(0.0), major, minor, internal=True)
    if not relief:
        return TappedMarks(hole, lines, (), ())
    groove = float(thread.relief("internal").diameter)
    x, y, _ = at((depth + drilled) / 2.0)
    sizes = (
        Diameter("relief", (x, y, 0.0), X, groove),
        along("width of the relief", depth, drilled, reference=True),
    )
    words = Callout(relief_name, (x, 0.0, groove / 2.0), "relief {0} × {1} wide", sizes, view="top")
    return TappedMarks(
        hole, lines, (along("depth of full thread", 0.0, depth, view="top"),), (words,)
    )
