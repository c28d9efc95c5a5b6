"""The turned steps of a footpeg, from its shoulder to its outer end."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from parts.families.footpeg.bolted import BoltedShank
from parts.features.section.notches import SHARP, turned_fillet
from parts.features.thread import turned
from parts.features.thread.turned import Step

if TYPE_CHECKING:
    from parts.core.loadpath import Notch


def peg_steps(peg: Any) -> list[Step]:
    """Every turned step from the shoulder to the outer end."""
    c, D, L = peg.edge_break, peg.diameter, peg.length
    grip, hollow_grip = _grooved(peg, 0.0), _grooved(peg, peg.bore)
    if peg.plate is not None:
        edge = Step("end edge", L - c, L, D, D - 2.0 * c, bore=peg.bore)
        return [Step("tube", 0.0 * L, L - c, D, bore=peg.bore, notch=hollow_grip), edge]
    bolted = isinstance(peg.shank, BoltedShank)
    hole = L - peg.bored
    through = peg.through
    found = [Step("shoulder edge", 0.0 * L, c, D - 2.0 * c, D, bore=through, notch=SHARP)]
    here = c
    if peg.flats is not None:
        across, end = peg.flats.across, peg.flats.length
        found[0] = found[0]._replace(flats=across)
        found.append(Step("flats", here, end, D, flats=across, bore=through, notch=SHARP))
        here = end
    rim = L if peg.lip is None else L - peg.lip.width - peg.lip.fillet
    solid_to = np.minimum(peg.solid_to, rim)
    found.append(
        Step(
            "bar",
            here,
            solid_to,
            D,
            bore=through,
            notch=SHARP if bolted and not peg.grip[0] else grip,
        )
    )
    if np.any(np.greater(peg.bore, 0.0)):
        found.append(
            Step(
                "hollow bar",
                solid_to,
                np.minimum(L - c, rim),
                D,
                bore=peg.bore,
                notch=hollow_grip,
            )
        )
    if peg.lip is not None:
        r, wide = peg.lip.fillet, peg.lip.diameter
        bored = np.where(hole < L - peg.lip.width - r, peg.bore, 0.0)
        found += [
            Step("rim fillet", rim, rim + r, D, D + 2.0 * r, bore=bored, fillet=True,
                notch=turned_fillet(wide, D, r)),
            Step("rim", rim + r, L - c, wide, bore=bored),
        ]  # fmt: skip
    last = found[-1].diameter
    found.append(Step("end edge", L - c, L, last, last - 2.0 * c, bore=peg.bore))
    return found


def _grooved(peg: Any, bore: Any) -> Notch:
    """The grooves of the grip in a bar that is as thick as it was: three times the stress on their bottom."""
    said, deep = peg.grip
    if not said:
        return turned.SMOOTH
    whole, left = (
        (wide**4 - np.power(bore, 4)) / wide for wide in (peg.diameter, peg.diameter - 2.0 * deep)
    )
    return SHARP._replace(K_t=SHARP.K_t * whole / left)
