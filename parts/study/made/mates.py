"""What a part as it was made does to its mates in the build: parts that take sizes from it, joints that share a pin."""

from __future__ import annotations

import copy
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from parts.core.check import Check, worsened
from parts.core.clearances import Clearance
from parts.inputs.document import Document
from parts.inputs.problems import InputError
from parts.study.made.fits import Fit, Reading, as_read
from parts.study.stating import first_problem, put
from parts.vehicle.build import Build
from parts.vehicle.file.forms import forms_in, owners_of
from parts.vehicle.file.resolving import plain

MOVED = 1e-4
"""Share of its factor by which a check of a mate moves at least to be told [-]."""


@dataclass(frozen=True)
class Mate:
    """Another part of the build: the joints that a measured size is part of, and what moved of its checks.

    `worst` is the check that got worst, as drawn and as made; `broken` what rule its new sizes break.
    """

    part: str
    fits: tuple[Fit, ...] = ()
    worst: tuple[Check, Check] | None = None
    broken: str = ""

    @property
    def ok(self) -> bool:
        return not self.broken and all(one.ok for one in self.fits) and (
            self.worst is None or self.worst[1].ok
        )  # fmt: skip


def mates_of(
    build: Build, name: str, values: Mapping[str, Any], readings: Sequence[Reading]
) -> tuple[Mate, ...]:
    """The mates that measured sizes reach.

    Args:
        build: the build.
        name: of the part that was made.
        values: its measured dimensions, by path, as a file states them.
        readings: measured sizes of its joints.

    Returns:
        One for each other part that takes a size of it, or has a joint at one of its hardpoints with a size that was
        measured.
    """
    found: dict[str, Mate] = {}
    own = build.entries[name].points
    at = {one.joint: _point(own, one) for one in build.bare(name).clearances()}
    ours = [(at.get(r.joint), r) for r in readings if r.joint]
    for other in build.names:
        fits = tuple(_shared(build, other, ours)) if other != name else ()
        if fits:
            found[other] = Mate(other, fits)
    takers = [
        other
        for other in build.names
        if any(name in owners_of(form) for _, form in forms_in(build.written(other).data))
    ]
    if takers and values:
        made = _made_so(build, name, values)
        for other in takers:
            one = _moved(build, made, other)
            if one is not None:
                fits = found[other].fits if other in found else ()
                found[other] = Mate(other, fits, one.worst, one.broken)
    return tuple(found.values())


def _point(points: Mapping[str, str], one: Clearance) -> str | None:
    """The hardpoint that a joint of a part sits at; None where the part does not say."""
    own = one.field.partition(".")[0].replace("_", " ")
    return points.get(own) or (next(iter(points.values())) if len(points) == 1 else None)


def _shared(build: Build, name: str, ours: Sequence[tuple[str | None, Reading]]) -> Iterator[Fit]:
    """The joints of a mate at our hardpoint that hold a bought size of ours, by its name: its pin is this pin."""
    for one in build.bare(name).clearances():
        at = _point(build.entries[name].points, one)
        own = [Reading(r.size, r.value, r.error, one.joint) for here, r in ours
               if at is not None and here == at and any(s.name == r.size for s in one.filled)]  # fmt: skip
        moved, read = as_read(one, own)
        if read:
            yield Fit(one, moved, read)


def _made_so(build: Build, name: str, values: Mapping[str, Any]) -> Build:
    """The build with measured sizes in the file of one part; what takes from it takes these."""
    other = Build(build.path)
    document, taken = other.resolved(name)
    data = copy.deepcopy(document.data)
    for path, value in values.items():
        put(data, path, value, build.bare(name))
    other._resolved[name] = Document(document.file, plain(data, 0, 0)), taken
    return other


def _moved(build: Build, made: Build, name: str) -> Mate | None:
    """What of the checks of a part moved, the worst first; None where nothing did."""
    before = {(one.name, one.load_case): one for one in build.part(name).check().checks}
    try:
        after = made.part(name).check().checks
    except InputError as error:
        return Mate(name, broken=first_problem(error))
    both = [(before[key], one) for one in after if (key := (one.name, one.load_case)) in before]
    moved = [
        pair for pair in both
        if float(pair[0].factor) != float(pair[1].factor)
        and not abs(float(pair[1].factor) / float(pair[0].factor) - 1.0) < MOVED
    ]  # fmt: skip
    if not moved:
        return None
    return Mate(name, worst=max(moved, key=lambda pair: worsened(*pair)))
