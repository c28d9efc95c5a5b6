"""The sheet of a gusset plate, in the corner of its tubes or across them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from parts.core.drawing import Datum, Drawn, Marks, View, run_of
from parts.families.gusset.form import Form


def gusset_drawn(
    form: Form, marks: Marks, thickness: float, pieces: tuple[str, ...], notes: Sequence[str]
) -> Drawn:
    """The sheet of a gusset.

    Args:
        form: the plate.
        marks: of the plate, its holes and its tab, in the plate's axes.
        thickness: of the plate [mm].
        pieces: the pieces that are made alike, the first as it is drawn, the second its mirror image.
        notes: what else is to be said.

    Returns:
        The sheet; the plate is seen from its front.
    """
    frame = form.frame
    if len(pieces) > 1:
        notes = [f"{pieces[0].capitalize()} as drawn; {pieces[1]} is its mirror image.", *notes]
    axes = [np.asarray(v, float) for v in (frame.x, frame.y, frame.normal)]
    high = thickness / 2.0
    notched = [loop for one in form.notches() for loop in one.loops]
    profiles = (
        *(run_of("outline", loop, high) for loop in form.body().loops),
        *(run_of(f"notch {i}", loop, high, tabled=False) for i, loop in enumerate(notched, 1)),
    )
    marks = marks + Marks(notes=tuple(notes), profiles=profiles)
    return Drawn(
        right=axes[0],
        up=axes[1],
        views=(View("front"), View("top")),
        marks=marks.moved(frame.origin, axes),
        datum=Datum(np.asarray(frame.origin, float), form.origin_words),
        piece=pieces[0],
        title="plate",
        count=len(pieces),
        hand="both" if len(pieces) > 1 else "",
    )
