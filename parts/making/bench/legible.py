"""Whether a finished sheet can be read: no letters on letters, none on the part or on another line."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from parts.making.bench.field import Boxes, letters_box, segments_of
from parts.making.bench.ink import Ink, Letters

TOUCH = 0.05
"""Clear space below which letters count as touched [mm]."""


def unreadable(ink: Sequence[Ink]) -> list[str]:
    """What cannot be read on a sheet.

    Args:
        ink: everything on it.

    Returns:
        One sentence for each pair of letters that overlap and each line of text that something crosses.
    """
    letters = [one for one in ink if isinstance(one, Letters) and one.text]
    boxes = [letters_box(one, TOUCH) for one in letters]
    found = []
    for i, box in enumerate(boxes):
        rest = boxes[i + 1 :]
        if rest and Boxes.of(rest).overlap(box):
            others = [
                letters[i + 1 + k].text for k, b in enumerate(rest) if Boxes.of([b]).overlap(box)
            ]
            found += [f"{letters[i].text!r} lies on {other!r}" for other in others]
    lines = [one for one in ink if not isinstance(one, Letters)]
    pieces = [segments_of(one) for one in lines]
    owner = np.repeat(np.arange(len(lines)), [len(p) for p in pieces])
    crossed = Boxes.of(boxes).meet(np.concatenate(pieces))
    for i, k in zip(*np.nonzero(crossed), strict=True):
        found.append(f"{letters[i].text!r} is crossed by a line of {lines[owner[k]].layer}")
    return list(dict.fromkeys(found))
