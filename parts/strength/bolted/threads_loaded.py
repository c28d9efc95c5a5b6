"""Threads loaded in ways that they are not made for: pulled on one side by a moment, and borne on across.

A moment on a shank screwed into a tapped hole pulls the thread on one side of its circle and pushes on the other.
The side of the hole helps, more so in a deep one (`stop_pin.mouth_pressure`); each is asked to carry all of it
here, which is on the safe side.

Worked example: 3 kN along and 20 N·m on an M10 shank (d2 9.026): as 3000 + 4·20 000/9.026 = 11 863 N along.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method


@method(
    formula="F = |N| + 4 |M|/d2",
    source="Shigley, Mechanical Engineering Design, Table 9-2 (a ring that is a line: π r² against bending), the "
    "whole circle loaded as its worst place",
)
def moment_as_pull(N: Number, M: Number, d2: Number) -> Number:
    """Pull that loads all of a thread as hard as a force and a moment load its worst side.

    For rod ends, studs, pegs and adjusters screwed into a body; hold it against the strip capacity of either
    thread (`stripping.strip_capacity`).

    Args:
        N [N]: force along the shank.
        M [N*mm]: bending moment of the shank where it enters the hole.
        d2 [mm]: pitch diameter.

    Returns:
        [N] pull.

    Example: that of the head of this file.
        >>> round(float(moment_as_pull(3000.0, 20.0e3, 9.026)))
        11863
    """
    pull: Number = np.abs(N) + 4.0 * np.abs(M) / np.asarray(d2, float)
    return pull


@method(
    formula="t_e = max(t − x, 0)",
    source="common practice, no source: thread in a bearing length touches on its crests and counts nothing; FAA "
    "AC 43.13-1B, chapter 7, lets no thread bear",
)
def bearing_thickness(t: Number, x: Number) -> Number:
    """Thickness of an ear or plate that bears on plain shank, where some thread lies in it.

    Args:
        t [mm]: thickness of the ear or plate.
        x [mm]: length of thread in it, run-out counted, from `pin.thread_in_grip`.

    Returns:
        [mm] thickness for bearing, tear-out and lug formulas.

    Example:
        >>> float(bearing_thickness(8.0, 2.5))
        5.5
    """
    return np.maximum(np.subtract(t, x, dtype=float), 0.0)
