"""Where the loads of a build end: on a part, or on something that the build names and does not model."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import NamedTuple

import numpy as np

from parts.inputs.document import Path_
from parts.vehicle.file.entries import BuildFile, PartEntry
from parts.vehicle.file.names import points_named
from parts.vehicle.loads.build_case import BuildCase
from parts.vehicle.loads.statics import FRAME, SPRING, STOP

Wrong = tuple[Path_, str, str, str]
"""Path, code, what is wrong, what would be right."""
MOST = 2
"""Load cases that are told by name at one joint beside the worst [-]."""
APART = ("parts", "vehicle")
"""Groups of the file whose hardpoints say nothing of what a load passes."""
LEAST = 1e-6
"""Force [N] or moment [N*mm] below which nothing acts."""


class Taker(NamedTuple):
    """A part that takes a load, and the load point of it that does."""

    part: str
    point: str


class End(NamedTuple):
    """What acts on a body at a joint in a load case: by whom, how much, and what takes it.

    `force` [N] and `moment` [N*mm] in vehicle axes. `not_modelled` says what stands there where no part does; both
    are empty where the load ends nowhere.
    """

    body: str
    joint: str
    by: str
    force: np.ndarray
    moment: np.ndarray
    takers: tuple[Taker, ...]
    not_modelled: str


def ends_of(
    case: BuildCase, parts: Mapping[str, PartEntry], not_modelled: Mapping[str, str]
) -> tuple[End, ...]:
    """Every body and joint that a load case passes.

    Args:
        case: the case.
        parts: entries of the parts, by name.
        not_modelled: what takes loads that no part does, by hardpoint or body.

    Returns:
        One for each force on a body; twins on the other side are left out.
    """
    found = []
    for one in case.held:
        size = max(np.max(np.abs(one.force)), np.max(np.abs(one.moment)))
        if one.mirrored or one.also or not size > LEAST:
            continue
        takers = tuple(
            Taker(name, own)
            for name, entry in parts.items()
            if entry.body == one.body
            for own, sits in entry.points.items()
            if entry.carries.get(own, sits) == one.point
        )
        if one.by in (SPRING, STOP):  # a lever works its own spring and stop out
            takers = tuple(
                Taker(name, one.by) for name, entry in parts.items() if entry.body == one.body
            )
        said = not_modelled.get(one.point, not_modelled.get(one.body, ""))
        found.append(
            End(one.body, one.point, one.by, one.force, one.moment, takers, "" if takers else said)
        )
    return tuple(found)


def lost(
    entry: BuildFile,
    parts: Mapping[str, PartEntry],
    ends: Mapping[str, Sequence[End]],
    only: Collection[str] | None = None,
) -> Iterator[Wrong]:
    """Loads that end nowhere, parts that lost theirs, and bodies and links that nothing loads.

    Args:
        entry: the build's file.
        parts: entries of the parts, by name.
        ends: of each load case, those of the file first, in its order.
        only: bodies whose every load is among these; of parts on others nothing is said. All where None.

    Yields:
        One line for each.
    """
    told: set[tuple[str, str]] = set()
    for case, passed in ends.items():
        for one in passed:
            if one.takers or one.not_modelled or (one.body, one.joint) in told:
                continue
            told.add((one.body, one.joint))
            wrong = (
                f"{case!r} puts {np.linalg.norm(one.force):.0f} N on {_called(one.body)} at `{one.joint}`, and no part "
                "of the build takes it there"
            )
            yield (
                _place_of(entry, one), "load_lost", wrong,
                f"give a part of {_called(one.body)} `points: {{its load point: {one.joint}}}`, or say under "
                f"`not_modelled:` what takes it, as in `{one.joint}: lug on the frame`",
            )  # fmt: skip
    loaded = {one.body for passed in ends.values() for one in passed}
    yield from _parts_unloaded(parts, ends, only)
    for name, body in entry.bodies.items():
        if name not in loaded:
            yield (
                ("bodies", name, "loaded_at"), "body_unloaded", f"no load case reaches `{name}`",
                f"state a case at {' or '.join(body.loaded_at)}, or delete the body",
            )  # fmt: skip
    for name in entry.links:
        if name not in [one for body in entry.bodies.values() for one in (body.link, *body.links)]:
            yield (
                ("links", name), "link_unloaded", f"`{name}` holds no body, so no load reaches it",
                "name it as the `link:` of a body, or delete it",
            )  # fmt: skip


def _parts_unloaded(
    parts: Mapping[str, PartEntry],
    ends: Mapping[str, Sequence[End]],
    only: Collection[str] | None,
) -> Iterator[Wrong]:
    """Parts with points of which no load reaches any."""
    passed = [one for case in ends.values() for one in case]
    taking = {taker.part for one in passed for taker in one.takers}
    for i, (name, part) in enumerate(parts.items()):
        joints = dict.fromkeys(one.joint for one in passed if one.body == part.body)
        if name in taking or not (only is None or part.body in only):
            continue
        if part.body != FRAME and joints:
            yield (
                ("parts", i, "points"), "load_lost",
                f"no load of {_called(part.body)} reaches {name}, which belongs to it",
                f"say which load point sits where {_called(part.body)} is loaded: {', '.join(joints)}",
            )  # fmt: skip
        elif part.body == FRAME and part.points and passed:
            at = dict.fromkeys(part.carries.get(own, sits) for own, sits in part.points.items())
            yield (
                ("parts", i, "points"), "load_lost", f"no load case reaches {name}: none loads {' or '.join(at)}",
                "state a case that does, or name the hardpoint that its load comes at",
            )  # fmt: skip


def not_modelled(ends: Mapping[str, Sequence[End]]) -> tuple[str, ...]:
    """Sentences on the joints where loads end on something that is no part of the build: how much at most, in which
    case, and in which others.

    Args:
        ends: of each load case.
    """
    found: dict[str, dict[str, np.ndarray]] = {}
    for case, passed in ends.items():
        for one in passed:
            if one.not_modelled:
                said = f"{one.joint} on {one.body}, not modelled ({one.not_modelled})"
                by_case = found.setdefault(said, {})
                by_case[case] = by_case.get(case, 0.0) + np.array([one.force, one.moment])
    return tuple(f"{said}: {_most(by_case)}" for said, by_case in found.items())


def _most(by_case: Mapping[str, np.ndarray]) -> str:
    """Cases by the force and the moment that they bring, the worst with its size."""
    sizes = {case: np.linalg.norm(one, axis=1) for case, one in by_case.items()}
    worst = max(sizes, key=lambda case: tuple(sizes[case]))
    force, moment = sizes[worst]
    most = f"{force:.0f} N" if force > LEAST else f"{moment / 1000.0:.0f} N*m"
    others = [case for case in by_case if case != worst]
    if not others:
        return f"{most} in {worst}"
    more = len(others) - MOST
    named = others if more <= 1 else [*others[:MOST], f"{more} more cases"]
    return f"up to {most}, in {worst}; less in {', '.join(named)}"


def _called(body: str) -> str:
    return "the frame" if body == FRAME else f"`{body}`"


def _place_of(entry: BuildFile, end: End) -> Path_:
    """Where the file names the joint that a load is lost at, a load case before all else."""
    named = [path for path, at in points_named(entry) if at == end.joint and path[0] not in APART]
    otherwise: Path_ = ("cases",) if entry.cases else ("rear_end",)
    return min(named, key=lambda path: path[0] != "cases", default=otherwise)
