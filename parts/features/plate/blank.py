"""The flat blank of a bracket: profile and windows cut through the whole stock, the rest milled after."""

from __future__ import annotations

from parts.core.blank import Blank, BlankHole
from parts.features.plate.fixture import Bore, Fixture
from parts.features.plate.shape import Shape
from parts.strength.section.outline import Outline


def plate_blank(shape: Shape, sign: float) -> Blank:
    """The blank of a bracket: profile and windows cut through the whole stock, the rest milled after.

    Args:
        shape: of the plate.
        sign: sense of z toward the foot.
    """
    thickness, stock = float(shape.plate.thickness), float(shape.stock)
    figure = Outline((shape.figure.outer,))
    for window in shape.figure.windows:
        figure = figure.minus(Outline((window,)))
    notes, holes = [], []
    for one in shape.fixtures:
        if one.slot is not None:
            figure = figure.minus(Outline((one.slot,)))
        holes += [hole for bore in one.bores for hole in _bored(one, bore, thickness)]
    if stock > thickness + 1e-9:
        notes.append(
            f"cut from {stock:.2f} mm stock; what stands on the plate is milled out of it, "
            f"down to {thickness:.2f} mm"
        )
    if any(one.ears for one in shape.fixtures):
        notes.append(
            "the bore, the bolts and the slit of the clamp come after: no slit is cut here"
        )
    notes.append("leave the taper of the cut for the cutter: the profile is finished on the mill")
    return Blank(
        figure, stock, (0.0, 0.0, sign * thickness / 2.0), (1.0, 0.0, 0.0), (0.0, 1.0, 0.0),
        tuple(holes), ("part",), (), tuple(notes),
        later=tuple(Outline((loop,)) for one in shape.fixtures for loop in one.parted),
    )  # fmt: skip


def _bored(one: Fixture, bore: Bore, thickness: float) -> list[BlankHole]:
    """A hole that goes through the plate, as it is where it crosses the middle of it."""
    low, high = float(bore.steps[0].low), float(bore.steps[-1].high)
    if not (bore.open_low and bore.open_high) or low > 1e-9 or high < thickness - 1e-9:
        return []
    least = min(float(step.diameter) for step in bore.steps)
    middle = next(step for step in bore.steps if float(step.high) >= thickness / 2.0)
    profile = None if one.teeth is None else Outline((one.teeth,))
    words = "drilled or bored to size" + ("" if profile is None else ", then broached")
    return [BlankHole(one.name, one.place, least, words, float(middle.diameter), profile)]
