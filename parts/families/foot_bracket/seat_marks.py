"""What a drawing says of a bearing seat: its bores, and the groove of its circlip from the floor of the seat."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from parts.core.drawing import Callout, Diameter, Linear, Marks
from parts.features.plate.fixture import Bore, Fixture
from parts.features.plate.on_plate import OnPlate
from parts.features.plate.point_marks import SEAT, Z, bore_marks, class_of, standing
from parts.features.press.fit import AXIAL
from parts.standards.bearings.bearings import BallBearing
from parts.standards.fits.iso286 import Limits


def seat_marks(
    one: Fixture, site: OnPlate, fitted: Mapping[str, Limits], bearing: BallBearing
) -> Marks:
    """Words over the face for a boss, the seat and its lip, and the groove."""
    outside, words = float(bearing.outside), f"seat for {bearing.designation}, {SEAT}"
    found = Marks(tuple(standing(one, site, fitted)))
    for bore in one.bores:
        found += bore_marks(one, bore, fitted, wider=words, grooves_over=outside)
        found += Marks(tuple(_grooves(one, bore, fitted, outside)))
    return found


def _grooves(
    one: Fixture, bore: Bore, fitted: Mapping[str, Limits], outside: float
) -> Iterator[Callout]:
    """From the mouth, the room for ring and circlip would hang on two lengths: so from the floor."""
    floor = float(bore.steps[0].high)
    for step in bore.steps:
        if float(step.diameter) <= outside:
            continue
        top, low, size = float(step.high), float(step.low), float(step.diameter)
        fit, limits = class_of(fitted["groove"])
        wide, widths = class_of(fitted["groove width"])
        foot, far = (*one.place, low), (*one.place, top)
        sizes = (
            Diameter(f"groove of {one.name}", foot, Z, size, fit=fit, limits=limits),
            Linear(
                f"width of the groove of {one.name}", foot, far, Z, top - low, fit=wide, limits=widths
            ),
            Linear(
                f"groove of {one.name}", (*one.place, floor), far, Z, top - floor,
                limits=(top - floor, top - floor + AXIAL),
            ),
        )  # fmt: skip
        words = "circlip groove {0} × {1} wide,\nouter side {2} from the floor of the seat, DIN 472"
        at = (*(np.asarray(one.place) + np.array([size / 2.0, 0.0])), top)
        yield Callout(f"groove of {one.name}", at, words, sizes, view="front")
