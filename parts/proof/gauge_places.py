"""Where the gauges of a proof load stand, and what each must read, with its band."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from parts.core.part import Part
from parts.core.supports import Held
from parts.proof.elastic import solve
from parts.proof.field import fields
from parts.proof.gauges import Gauge
from parts.proof.piece import Proved
from parts.proof.skin import skin
from parts.standards.fits.general_tolerances import deviation_of, general_deviations

MODULUS, SCALE = 0.03, 0.02
"""What the modulus of the metal and the scale of the pull may be off [-]; common practice, no source."""
SOFTER, STIFFER = 0.5, 4.0
"""Between how many times the stiffness of its supports a part may be held [-]; common practice, no source."""
BESIDE = 0.6
"""Share of the way to the pull within which a face lies beside a joint [-]; common practice, no source."""
SEEN = 3.0
"""How far beside a line a place of the surface still lies on it [mm]: the size of the mesh."""
MOST = 3
"""Loaded places that have a gauge of their own at most."""
WIDE = 10.0
"""How far three references stand apart at least for a plane through their readings [mm]."""


def placed_gauges(
    part: Part, held: Held, proved: Proved
) -> tuple[tuple[Gauge, ...], tuple[Gauge, ...]]:
    """Gauges beside the joints, and those that are read: at each loaded place, and halfway from them to the joints.

    Args:
        part: the part under its proof load.
        held: how it is held and pulled; the largest pull is applied first.
        proved: what the elements found.

    Returns:
        The reference gauges, and the others.
    """
    found = proved.fields[0]
    surface = skin("", [found], ("",), [(0.0, (0.0, 0.0, 0.0))])
    places = surface.places
    loaded = [_middle([one]) for one in held.applied]
    joints = [_middle([one]) for one in held.supports]
    ends = [
        _beside(
            places, one.patches[0], middle, min(float(np.linalg.norm(at - middle)) for at in loaded)
        )
        for one, middle in zip(held.supports, joints, strict=True)
    ][:8]
    halfway = (np.mean(loaded, axis=0) + np.mean(joints, axis=0)) / 2.0
    marks = list(dict.fromkeys(_reached(places, at) for at in (*loaded[:MOST], halfway)))
    moved = [surface.states[0].moved, *_held_otherwise(proved)]
    axis, weights = _read_along(places, marks[0], ends, moved[0])
    kept = [k for k in range(len(ends)) if weights[0][k] != 0.0 or len(ends) <= 3]
    references = tuple(
        Gauge(f"R{n + 1}", _triple(places[ends[k]]), axis, (), float(moved[0][ends[k], axis]), 0.0)
        for n, k in enumerate(kept)
    )
    own = [ends[k] for k in kept]
    gauges = []
    for n, mark in enumerate(marks):
        w = _weights(places, mark, own, axis)
        readings = [float(u[mark, axis] - w @ u[own, axis]) for u in moved]
        gauges.append(Gauge(f"G{n + 1}", _triple(places[mark]), axis, tuple(float(v) for v in w), readings[0],
                            _band(part, proved, readings)))  # fmt: skip
    return references, tuple(gauges)


def _held_otherwise(proved: Proved) -> list[np.ndarray]:
    """How the skin moves with softer and with stiffer supports."""
    settled = proved.settled.solved
    found = []
    for by in (SOFTER, STIFFER):
        springs = tuple(replace(one, stiffness=by * one.stiffness) for one in settled.solid.springs)
        other = solve(settled.meshed, replace(settled.solid, springs=springs), settled.order)
        field = fields(other)[0]
        found.append(skin("", [field], ("",), [(0.0, (0.0, 0.0, 0.0))]).states[0].moved)
    return found


def _read_along(
    places: np.ndarray, mark: int, ends: Sequence[int], moved: np.ndarray
) -> tuple[int, list[np.ndarray]]:
    """The axis along which the loaded place moves most once the joints' motion is taken off, and the weights for it.

    An axis along which the references see how the joints turn comes before those along which they do not.
    """
    weights = [_weights(places, mark, ends, axis) for axis in range(3)]
    motion = [
        abs(float(moved[mark, axis] - weights[axis] @ moved[list(ends), axis])) for axis in range(3)
    ]
    seen = [_in_a_plane(places, ends, axis) for axis in range(3)]
    axis = max(range(3), key=lambda k: (seen[k], motion[k]))
    return axis, [weights[axis]]


def _in_a_plane(places: np.ndarray, ends: Sequence[int], axis: int) -> bool:
    """Whether the references stand wide apart both ways across an axis, so that a plane goes through them."""
    across = places[list(ends)][:, [k for k in range(3) if k != axis]]
    return len(ends) >= 3 and float(np.linalg.svd(across - across.mean(axis=0))[1].min()) > WIDE


def _weights(places: np.ndarray, mark: int, ends: Sequence[int], axis: int) -> np.ndarray:
    """What of each reference is taken off: a plane through three or more of them, their mean where they are in line."""
    across = [k for k in range(3) if k != axis]
    known = np.column_stack([np.ones(len(ends)), places[list(ends)][:, across]])
    if _in_a_plane(places, ends, axis):
        wanted = np.concatenate([[1.0], places[mark][across]])
        return np.asarray(np.linalg.lstsq(known.T, wanted, rcond=None)[0])
    return np.full(len(ends), 1.0 / len(ends))


def _band(part: Part, proved: Proved, readings: Sequence[float]) -> float:
    """Share by which a reading may differ: metal, thickness, supports, elements and the scale of the pull [-]."""
    thickness = float(np.max(part.stock_thickness()))
    rows = general_deviations(part.drawing.tolerance) or general_deviations("ISO 2768-m")
    off = deviation_of(thickness, rows)
    bent = 3.0 * (0.0 if np.isnan(off) else off) / thickness
    size = max(abs(readings[0]), 1e-9)
    supports = max(abs(one - readings[0]) / size for one in readings[1:])
    return float(np.sqrt(MODULUS**2 + SCALE**2 + bent**2 + proved.settled.error**4) + supports)


def _middle(some: Sequence[Any]) -> np.ndarray:
    found = [_of_patch(patch) for one in some for patch in one.patches]
    return np.asarray(np.mean(found, axis=0))


def _of_patch(patch: Any) -> np.ndarray:
    if hasattr(patch, "places"):
        return np.asarray(patch.places, float).reshape(-1, 3).mean(axis=0)
    centre = np.asarray(patch.centre, float)
    if hasattr(patch, "low"):
        axis = np.asarray(patch.axis, float)
        return centre + axis / np.linalg.norm(axis) * (patch.low + patch.high) / 2.0
    return centre


def _beside(places: np.ndarray, patch: Any, middle: np.ndarray, pulled: float) -> int:
    """Where a tip can stand beside a joint: on the face away from what holds it, clear of the bolt's head; or outside
    the wall of a bore. A face as far off as the pull is not beside it: then as near as may be."""
    along = getattr(patch, "normal", getattr(patch, "axis", None))
    radius = getattr(patch, "outer", getattr(patch, "diameter", 0.0) / 2.0)
    if along is None or not radius:
        return _nearest(places, middle)
    unit = np.asarray(along, float) / np.linalg.norm(along)
    off = places - middle
    deep = off @ unit
    aside = np.linalg.norm(off - deep[:, None] * unit, axis=1)
    near = (aside > 0.9 * radius) & (aside < 1.6 * radius)
    if not near.any():
        return _nearest(places, middle)
    # A bolt's face: the far side of the piece. A bore: whatever lies nearest.
    far = hasattr(patch, "outer") and float(np.abs(deep)[near].max()) < BESIDE * pulled
    better = np.abs(deep) if far else -np.abs(deep)
    top = float(better[near].max())
    return int(
        np.argmin(np.where(near & (better > top - 1.0), np.abs(aside - 1.2 * radius), np.inf))
    )


def _reached(places: np.ndarray, at: np.ndarray) -> int:
    """Where a tip can stand nearest to a place: of a place within a bore, on the wall's outside."""
    nearest = _nearest(places, at)
    way = places[nearest] - at
    long = float(np.linalg.norm(way))
    if long < SEEN:
        return nearest
    off = places - at
    along = off @ (way / long)
    beside = np.linalg.norm(off - along[:, None] * way / long, axis=1) < SEEN
    if not np.any(beside & (along < -SEEN / 4.0)):  # nothing behind it: it is seen from outside
        return nearest
    return int(np.argmax(np.where(beside, along, -np.inf)))


def _nearest(places: np.ndarray, at: np.ndarray) -> int:
    return int(np.argmin(np.linalg.norm(places - at, axis=1)))


def _triple(row: Any) -> tuple[float, float, float]:
    x, y, z = (float(v) for v in row)
    return x, y, z
