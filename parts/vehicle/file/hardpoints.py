"""Hardpoints: named points of a build in vehicle axes, measured ones and those stated from others."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from parts.inputs.document import Document
from parts.inputs.problems import InputError, Problem
from parts.vehicle.file.entries import HardpointEntry
from parts.vehicle.file.forms import nearest
from parts.vehicle.file.references import CircularReference, in_order
from parts.vehicle.file.resolving import problem


class Hardpoint(NamedTuple):
    """A point: its place [mm], the tolerance that it is known to [mm], and the point that it is stated from."""

    name: str
    at: np.ndarray
    within: float
    stated_from: str = ""


def placed(
    entries: Mapping[str, HardpointEntry],
    document: Document,
    surveyed: Mapping[str, Hardpoint] | None = None,
) -> dict[str, Hardpoint]:
    """Find the place of every hardpoint.

    Args:
        entries: as the file states them.
        document: the file, for messages.
        surveyed: those that follow from readings; one that the file states too is held against them.

    Returns:
        The hardpoints by name, in the order of the file.

    Raises:
        InputError: one is stated twice or not at all, from one that is unknown, in a circle, or elsewhere than
            the readings have it.
    """
    surveyed = surveyed or {}
    names = {**surveyed, **entries}
    problems = [p for name, entry in entries.items() if (p := _wrong(name, entry, names, document))]
    if problems:
        raise InputError(problems)
    references = {
        name: [entry.of] if entry.of and entry.of in entries else []
        for name, entry in entries.items()
    }
    try:
        order = in_order(references)
    except CircularReference as error:
        first = error.circle[0]
        raise InputError(
            [
                problem(
                    document, ("hardpoints", first, "from"), "circular_reference",
                    f"hardpoints are stated from each other in a circle: {error}",
                    "measure one of them and write it as `at:`",
                )
            ]
        ) from None  # fmt: skip
    found: dict[str, Hardpoint] = dict(surveyed)
    for name in order:
        entry = entries[name]
        if entry.of is None:
            found[name] = Hardpoint(name, np.asarray(entry.at, float), entry.within)
        else:
            base = found[entry.of]
            at = base.at + np.asarray(entry.offset, float)
            found[name] = Hardpoint(name, at, base.within + entry.within, entry.of)
    if apart := [p for name in entries if name in surveyed
                 and (p := _elsewhere(found[name], surveyed[name], document))]:  # fmt: skip
        raise InputError(apart)
    return {name: found[name] for name in names}


def _elsewhere(stated: Hardpoint, read: Hardpoint, document: Document) -> Problem | None:
    off = float(np.linalg.norm(stated.at - read.at))
    if off <= stated.within + read.within:
        return None
    at = ", ".join(f"{v:.1f}" for v in read.at)
    return problem(
        document, ("hardpoints", stated.name), "not_as_read",
        f"it lies {off:.1f} mm from where the readings have it, {read.within:.1f} mm about [{at}]",
        "leave it out here, or read again",
    )  # fmt: skip


def _wrong(
    name: str, entry: HardpointEntry, names: Mapping[str, object], document: Document
) -> Problem | None:
    path = ("hardpoints", name)
    stated = (entry.at is not None, entry.of is not None, entry.offset is not None)
    if stated not in ((True, False, False), (False, True, True)):
        return problem(
            document, path, "bad_hardpoint", "a hardpoint is measured, or set off from another one",
            "write `at: [x, y, z]`, or `from:` with `offset: [x, y, z]`",
        )  # fmt: skip
    if entry.of is not None and entry.of not in names:
        return problem(
            document, (*path, "from"), "unknown_hardpoint", f"there is no hardpoint `{entry.of}`",
            nearest(entry.of, names),
        )  # fmt: skip
    return None
