"""What a machine that leans or falls over touches the ground with first.

It leans about the line on which its wheels stand; tyres count as thin, and the suspension as it was measured.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from parts.core.check import Check, check
from parts.strength.method import work
from parts.vehicle.file.case_entries import CorneringCase
from parts.vehicle.loads.dynamics import lean_at_touch

if TYPE_CHECKING:
    from parts.vehicle.build import Build

BESIDE = 20.0
"""From the middle plane to what touches the ground at all [mm]: nearer, the wheels' own width keeps it up."""
TURNED = frozenset({"footpeg", "foot lever"})
"""Families whose own ends may touch the ground."""


class Tip(NamedTuple):
    """An end that may touch the ground: of which part, and where [mm]."""

    part: str
    family: str
    at: np.ndarray


def lean_checks(build: Build) -> Iterator[Check]:
    """The lean of turns against what touches the ground first, and each peg against the levers on its side.

    Args:
        build: the build.

    Yields:
        Checks whose demand is a lean from upright [deg].
    """
    tips = [*_tips(build)]
    pegs = [one for one in tips if one.family == "footpeg"]
    for peg in pegs:
        for lever in tips:
            if lever.family == "foot lever" and lever.at[1] * peg.at[1] > 0.0:
                yield check(
                    f"{peg.part} strikes before {lever.part}", "lean", load_case="fall", unit="deg", required=1.0,
                    demand=_lean(build, peg.at), capacity=_lean(build, lever.at),
                    note="as the machine falls over on flat ground the peg takes it; a lever that a stone strikes is "
                    "scrap",
                )  # fmt: skip
    turns = [one for one in build.entry.cases if isinstance(one, CorneringCase) and one.lean]
    if not pegs or not turns:
        return
    most = max(turns, key=lambda one: abs(one.lean or 0.0))
    order = sorted(_all(build, tips), key=lambda one: float(_lean(build, one.at).value))
    said = ", ".join(f"{one.part} at {float(_lean(build, one.at).value):.1f}°" for one in order[:3])
    pegs_at = ", ".join(f"{one.part} at {float(_lean(build, one.at).value):.1f}°" for one in pegs)
    yield check(
        "machine leans until it touches", "lean", load_case=most.name or most.type, unit="deg", required=1.0,
        demand=float(np.degrees(abs(most.lean or 0.0))), capacity=_lean(build, order[0].at),
        note=f"the first to touch: {said}; the pegs: {pegs_at}; a peg warns the rider, a frame lifts the wheel",
    )  # fmt: skip


def _lean(build: Build, at: np.ndarray) -> Any:
    vehicle = build.vehicle
    ground = 0.0 if vehicle is None else float(vehicle.contacts[0][2])
    return work(lean_at_touch, y=float(at[1]), z=float(at[2]) - ground)


def _tips(build: Build) -> Iterator[Tip]:
    for name, entry in build.entries.items():
        if entry.place is None or (here := build.frame(name)) is None:
            continue
        part: Any = build.bare(name)
        if part.family in TURNED:
            yield Tip(name, part.family, _lowest(here, part))


def _lowest(here: Any, part: Any) -> np.ndarray:
    """The outermost end of a peg or of a lever's toe, at its lower edge, in vehicle axes [mm]."""
    if part.family == "footpeg":
        end = here.out(part.points()["end"])
        return np.asarray(end - np.array([0.0, 0.0, float(part.stock_thickness()) / 2.0]))
    up = np.asarray(part.toe.up * part.toe.height_of_foot, float) / 2.0
    end = here.out(part.points()["toe"] + np.array([0.0, 0.0, float(up)]))
    return np.asarray(end - np.array([0.0, 0.0, float(part.toe.hole) / 2.0]))


def _all(build: Build, tips: Sequence[Tip]) -> Sequence[Tip]:
    """Pegs, toes, and the hardpoints beside the middle plane that are not theirs."""
    own = {at for one in tips for at in build.entries[one.part].points.values()}
    frame = [
        Tip(name, "frame", at)
        for name, at in build.points.items()
        if name not in own and abs(at[1]) > BESIDE and at[2] > 0.0
    ]
    return [*tips, *frame]
