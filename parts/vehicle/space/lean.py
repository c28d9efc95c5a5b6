"""What a machine that leans or falls over touches the ground with first.

It leans about the line on which its wheels stand; tyres count as thin. In a turn the wheels stand as that turn presses
them, the front one sunk by as much as the rear one; in a fall as they were measured.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from parts.core.check import Check, check
from parts.strength.method import work
from parts.strength.section.outline import farthest
from parts.vehicle.file.case_entries import CorneringCase
from parts.vehicle.loads.dynamics import lean_at_touch
from parts.vehicle.space.envelopes import envelopes

if TYPE_CHECKING:
    from parts.vehicle.build import Build

BESIDE = 20.0
"""From the middle plane to what touches the ground at all [mm]: nearer, the wheels' own width keeps it up."""
TURNED = frozenset({"footpeg", "foot lever"})
"""Families whose own ends may touch the ground."""
UNWARNED = 5.0
"""Lean that is left where something touches that gives no warning, as the frame does [deg]; common practice, no
source."""
WAYS = np.radians(np.arange(0.0, 91.0))
"""Leans at which a plate is looked at for what touches first."""


class Tip(NamedTuple):
    """An end that may touch the ground: of which part, and where [mm]; of a peg that folds, what may after it has."""

    part: str
    family: str
    at: np.ndarray
    folded: np.ndarray | None = None


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
                said = (
                    "the peg takes it"
                    if peg.folded is None
                    else "what is left of the folded peg, or its fork, takes it"
                )
                yield check(
                    f"{peg.part} strikes before {lever.part}", "lean", load_case="fall", unit="deg", required=1.0,
                    demand=_taken(build, peg), capacity=_lean(build, lever.at),
                    note=f"as the machine falls over on flat ground {said}; a lever that a stone strikes is scrap",
                )  # fmt: skip
    # Each of them: one that leans less may press the wheels up further.
    turns = [one for one in build.entry.cases if isinstance(one, CorneringCase) and _leans(one)]
    touching = _all(build, tips) if turns else ()
    yield from (_turn_check(build, turn, touching) for turn in turns if touching)


def _taken(build: Build, peg: Tip) -> Any:
    """The lean at which a peg takes a fall: one that folds does so once it has folded, or its fork does."""
    places = [peg.at] if peg.folded is None else peg.folded
    return min((_lean(build, at) for at in places), key=lambda one: float(one.value))


def _leans(turn: CorneringCase) -> float:
    """Lean of the machine in a turn [deg]: as stated, else with the load."""
    return float(np.degrees(abs(np.arctan(turn.lateral) if turn.lean is None else turn.lean)))


def _turn_check(build: Build, turn: CorneringCase, touching: Sequence[Tip]) -> Check:
    """The lean of a turn against what touches first; where that is no peg, nothing warns the rider."""
    name, most = turn.name or turn.type, _leans(turn)
    sunk = _sunk(build, name)
    found = sorted(touching, key=lambda one: float(_lean(build, one.at, sunk).value))
    leans: dict[str, float] = {}
    for one in found:
        leans.setdefault(one.part, float(_lean(build, one.at, sunk).value))
    own = [one.part for one in found if one.family == "footpeg"]
    first = found[0]
    said = ", ".join(f"{one} at {leans[one]:.1f}°" for one in [*leans][:3])
    pegs = ", ".join(f"{one} at {leans[one]:.1f}°" for one in dict.fromkeys(own)) or "none"
    warns = first.family == "footpeg"
    left = "" if warns else (
        f"; what touches first is no peg, so nothing warns the rider: {UNWARNED:g}° are kept from it (common practice, "
        "no source)"
    )  # fmt: skip
    return check(
        "machine leans until it touches", "lean", load_case=name, unit="deg", required=1.0,
        demand=most + (0.0 if warns else UNWARNED), capacity=_lean(build, first.at, sunk),
        note=f"wheels {sunk:.0f} mm up, as that turn presses them; the first to touch: {said}; the pegs: {pegs}{left}",
    )  # fmt: skip


def _sunk(build: Build, case: str) -> float:
    """How far the rear axle has come up from where it was measured in a load case [mm]."""
    vehicle = build.entry.vehicle
    if vehicle is None:
        return 0.0
    stands = [one.points for one in build.cases if one.name == case]
    return max(
        (float(one[vehicle.rear_axle][2] - build.points[vehicle.rear_axle][2]) for one in stands),
        default=0.0,
    )


def _lean(build: Build, at: np.ndarray, sunk: float = 0.0) -> Any:
    vehicle = build.vehicle
    ground = sunk + (0.0 if vehicle is None else float(vehicle.contacts[0][2]))
    return work(lean_at_touch, y=float(at[1]), z=float(at[2]) - ground)


def _tips(build: Build) -> Iterator[Tip]:
    for name, entry in build.entries.items():
        if entry.place is None or (here := build.frame(name)) is None:
            continue
        part: Any = build.bare(name)
        if part.family in TURNED:
            yield Tip(name, part.family, _lowest(here, part), _folded(here, part))


def _folded(here: Any, part: Any) -> np.ndarray | None:
    if part.family != "footpeg" or not part.shank.type.startswith("folding"):
        return None
    return np.stack([here.out(at) for at in part.shank.strikes(part.diameter, part.length)])


def _lowest(here: Any, part: Any) -> np.ndarray:
    """The outermost end of a peg or of a lever's toe, at its lower edge, in vehicle axes [mm]."""
    if part.family == "footpeg":
        end = here.out(part.points()["end"])
        return np.asarray(end - np.array([0.0, 0.0, float(part.stock_thickness()) / 2.0]))
    up = np.asarray(part.toe.up * part.toe.height_of_foot, float) / 2.0
    end = here.out(part.points()["toe"] + np.array([0.0, 0.0, float(up)]))
    return np.asarray(end - np.array([0.0, 0.0, float(part.toe.hole) / 2.0]))


def _all(build: Build, tips: Sequence[Tip]) -> Sequence[Tip]:
    """Pegs, toes, plates and hardware, and the hardpoints beside the middle plane that no part sits at."""
    own = {at for one in build.entries.values() for at in one.points.values()}
    frame = [Tip(name, "frame", at) for name, at in build.points.items() if name not in own]
    found = [*tips, *frame, *_of_parts(build)]
    return [one for one in found if abs(one.at[1]) > BESIDE and one.at[2] > 0.0]


def _of_parts(build: Build) -> Iterator[Tip]:
    """The corners of plates that touch first at some lean, and the ends of bought-in hardware."""
    across = np.stack([np.sin(WAYS), -np.cos(WAYS)], axis=-1)
    for name, entry in build.entries.items():
        here = build.frame(name)
        if entry.place is None or here is None:
            continue
        part = build.bare(name)
        places = [np.asarray(one) for one in part.points().values()]
        for blank in part.blanks():
            axes = blank.axes
            faces = np.multiply.outer((-0.5, 0.5), blank.thickness * axes[0])
            for side in (1.0, -1.0):
                way = across[:, :1] * side * here.axes[:, 1] + across[:, 1:] * here.axes[:, 2]
                _, corner = farthest(blank.finished(), way @ axes[1:].T)
                flat = np.asarray(blank.origin) + np.asarray(corner) @ axes[1:]
                places += [*(flat[None] + faces[:, None]).reshape(-1, 3)]
        for one in envelopes(part):
            long = one.end - one.start
            along = here.axes.T @ long / max(float(np.linalg.norm(long)), 1e-9)
            down = float(np.sqrt(max(1.0 - along[2] ** 2, 0.0))) * one.diameter / 2.0
            low = np.array([0.0, 0.0, down]) @ here.axes.T
            places += [one.start - low, one.end - low]
        for place in places:
            yield Tip(name, part.family, here.out(place))
