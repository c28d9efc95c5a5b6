"""What a drawing says of a stub: its journal and its groove from the face that the inner ring seats on."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np

from parts.core.drawing import Linear, Marks
from parts.families.foot_bracket.retention import BoltedOn, Retention
from parts.features.plate.fixture import Fixture, Turn
from parts.features.plate.on_plate import OnPlate
from parts.features.plate.point_marks import (
    SAME,
    SEAT,
    Stated,
    Z,
    bore_marks,
    foot_fillet,
    limits_of,
    standing,
    turned,
)
from parts.features.press.fit import AXIAL
from parts.standards.bearings.bearings import BallBearing
from parts.standards.fasteners.circlips import Circlip
from parts.standards.fits.iso286 import Limits


def stub_marks(
    one: Fixture, site: OnPlate, fitted: Mapping[str, Limits], bearing: BallBearing, rise: Any,
    clip: Circlip | None, kept: Retention,
) -> Marks:  # fmt: skip
    """Words over the face for boss, collar and journal, and the hole of its bolt.

    Args:
        one: what the stub adds to the plate.
        site: where.
        fitted: limits of what is turned to a fit, by name.
        bearing: on the journal.
        rise: height over the plate of the face that the inner ring seats on [mm].
        clip: that keeps the bearings.
        kept: how they are kept.
    """
    collar = float(site.thickness) + float(rise)

    def special(step: Turn, first: int) -> Stated | None:
        if step.low < collar - SAME:
            return None
        return _on_journal(one, step, collar, first, fitted, clip)

    head = f", journal for two {bearing.designation}, {SEAT}"
    found = Marks(tuple(standing(one, site, fitted, head, special)))
    for bore in one.bores:
        assert isinstance(kept, BoltedOn)
        found += bore_marks(one, bore, {}, kept.thread, tapped=float(kept.depth))
    return found


def _on_journal(
    one: Fixture, step: Turn, collar: float, first: int, fitted: Mapping[str, Limits], clip: Circlip | None
) -> Stated:  # fmt: skip
    """By lengths from elsewhere, circlip or washer would hold the rings only by luck."""
    size, name = float(step.diameter), one.name
    low, high = (np.array([*one.place, float(z)]) for z in (step.low, step.high))
    base, long = np.array([*one.place, collar]), float(step.high) - collar
    if clip is not None and abs(size - clip.groove) < SAME:
        of, wide = clip.groove_limits()
        across = Linear(
            f"width of the groove of {name}", low, high, Z, float(step.high - step.low),
            fit=wide.tolerance_class, limits=wide.sizes,
        )  # fmt: skip
        far = Linear(f"groove of {name}", base, high, Z, long, limits=(long, long + AXIAL))
        words = f"circlip groove {{{first}}} × {{{first + 1}}} wide,\n"
        words += f"outer side {{{first + 2}}} over the collar, DIN 471"
        return words, [turned(one, step, of), across, far]
    sizes: list[Any] = [turned(one, step, limits_of(fitted, size))]
    words = f"{{{first}}} to the groove"
    if clip is None or step.low > collar + SAME:
        limits = (long - AXIAL, long) if clip is None else None
        sizes.append(Linear(f"length of the journal of {name}", base, high, Z, long, limits=limits))
        words = f"{{{first}}} to {{{first + 1}}} over the collar"
    foot = foot_fillet(one, step)
    if foot:
        words += f", {{{first + len(sizes)}}} at the foot"
    return words, sizes + foot
