"""What takes its dimensions from what in a build: parts, rear end and hardpoints by the forms that they hold."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from parts.vehicle.file.entries import PlaceEntry
from parts.vehicle.file.forms import forms_in, in_part_axes, owners_of, points_of
from parts.vehicle.file.hardpoints import Hardpoint
from parts.vehicle.file.placing import names_of
from parts.vehicle.file.references import REAR

RANGE = "turnbuckle"
"""The group of the rear end that states the range of its link."""


def references_of(
    points: Mapping[str, Hardpoint], file: Mapping[str, Any], parts: Mapping[str, tuple[PlaceEntry | None, Any]]
) -> dict[str, tuple[str, ...]]:  # fmt: skip
    """What each part, the rear end and each hardpoint takes its dimensions from.

    Hardpoints are named `hardpoint NAME`, so that a part may be called like one. The range of the link stands
    for itself: the rear end gives nothing that hangs on it, so the link may take from the rear end.

    Args:
        points: the hardpoints.
        file: what the build's file says.
        parts: place of each part, and what its own file says.
    """
    found = {
        _point(name): tuple([_point(one.stated_from)] if one.stated_from else [])
        for name, one in points.items()
    }
    entry = file.get("rear_end")
    if isinstance(entry, dict):
        named = [v for v in entry.values() if isinstance(v, str) and v in points]
        moves = [{key: v for key, v in entry.items() if key != RANGE}, file.get("vehicle")]
        taken = [one for group in moves for one in _taken(group)]
        found[REAR] = tuple(dict.fromkeys([*map(_point, named), *taken]))
        found[f"{REAR}, {RANGE}"] = tuple(dict.fromkeys(_taken(entry.get(RANGE))))
    for name, (place, data) in parts.items():
        own = [*_taken(data)]
        if any(in_part_axes(form) for _, form in forms_in(data)):
            own += map(_point, names_of(place))
        found[name] = tuple(dict.fromkeys(own))
    return found


def _taken(data: Any) -> Iterator[str]:
    for _, form in forms_in(data):
        yield from (_point(name) for name in points_of(form))
        yield from owners_of(form)


def _point(name: str) -> str:
    return f"hardpoint {name}"
