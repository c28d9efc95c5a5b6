"""Where the gauges of a proof load stand, and what each must read, with its band."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import numpy as np

from parts.core.part import Part
from parts.core.supports import Applied, Held, Support
from parts.proof.elastic import Push, solve
from parts.proof.errors import ProofError
from parts.proof.field import fields
from parts.proof.gauges import LEAST, Gauge
from parts.proof.piece import Proved
from parts.proof.skin import skin
from parts.proof.touching import PLUNGER, Touchable
from parts.standards.fits.general_tolerances import deviation_of, general_deviations

MODULUS, SCALE = 0.03, 0.02
"""What the modulus of the metal and the scale of the pull may be off [-]; common practice, no source."""
SOFTER, STIFFER = 0.5, 4.0
"""Between how many times the stiffness of its supports a part may be held [-]; common practice, no source."""
BESIDE = 0.6
"""Share of the way to the pull within which a face lies beside a joint [-]; common practice, no source."""
ALONG = 0.7
"""Cosine above which a gauge reads along a bolt and not across it [-]."""
HEAD, CLEAR, DEEP = 6.0, 5.0, 30.0
"""How far the head of a pin reaches beyond its hole at most, how far a gauge stands clear of a head, and how deep the
plate under a bolt's head is taken to be [mm]; common practice, no source."""
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

    Raises:
        ProofError: no gauge can stand where it would tell something.
    """
    surface = skin("", [proved.fields[0]], ("",), [(0.0, (0.0, 0.0, 0.0))])
    bare = Touchable(surface)
    bare.bare &= ~_covered(held, proved, bare)
    loaded = [_middle([one]) for one in held.applied]
    joints = [_middle([one]) for one in held.supports]
    near = [min(float(np.linalg.norm(joint - at)) for at in loaded) for joint in joints]
    halfway = (np.mean(loaded, axis=0) + np.mean(joints, axis=0)) / 2.0
    moved = [surface.states[0].moved, *_held_otherwise(proved)]
    places = bare.places
    axis, marks, ends = _read_along(part.name, bare, moved[0], (*loaded[:MOST], halfway), [
        (one.patches[0], middle, pulled)
        for one, middle, pulled in zip(held.supports[:8], joints, near, strict=False)
    ])  # fmt: skip
    weights = _weights(places, marks[0], ends, axis)
    kept = [k for k in range(len(ends)) if weights[k] != 0.0 or len(ends) <= 3]
    references = tuple(
        Gauge(f"R{n + 1}", _triple(places[ends[k]]), axis, (), float(moved[0][ends[k], axis]), 0.0)
        for n, k in enumerate(kept)
    )
    own = [ends[k] for k in kept]
    gauges: list[Gauge] = []
    for mark in marks:
        w = _weights(places, mark, own, axis)
        readings = [float(u[mark, axis] - w @ u[own, axis]) for u in moved]
        if abs(readings[0]) < LEAST:
            continue
        gauges.append(Gauge(f"G{len(gauges) + 1}", _triple(places[mark]), axis, tuple(float(v) for v in w), readings[0],
                            _band(part, proved, readings)))  # fmt: skip
    if not gauges:
        raise ProofError(
            f"{part.name}: no place that a dial gauge can touch moves by {LEAST:g} mm, which it could tell "
            "from nothing; name another load case with --case"
        )
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
    name: str,
    bare: Touchable,
    moved: np.ndarray,
    wanted: Sequence[np.ndarray],
    joints: Sequence[tuple[Any, np.ndarray, float]],
) -> tuple[int, list[int], list[int]]:
    """The axis along which the loaded place moves most once the joints' motion is taken off; where the gauges that are
    read along it stand, and those beside the joints.

    An axis along which the references see how the joints turn comes before those along which they do not.
    """
    found = []
    for axis in range(3):
        touched = [bare.nearest(at, axis) for at in wanted]
        if touched[0] is None:
            continue
        marks = list(dict.fromkeys(k for k in touched if k is not None))
        beside = [_beside(bare, *one, axis) for one in joints]
        ends = list(dict.fromkeys(k for k in beside if k is not None and k not in marks))
        if not ends:
            continue  # nothing would take off what the joints give
        weights = _weights(bare.places, marks[0], ends, axis)
        motion = abs(float(moved[marks[0], axis] - weights @ moved[ends, axis]))
        found.append((_in_a_plane(bare.places, ends, axis), motion, axis, marks, ends))
    if not found:
        raise ProofError(
            f"{name}: no bare face lies so that a dial gauge could touch it where it is pulled, and another beside "
            "what holds it; name another load case with --case"
        )
    _, _, axis, marks, ends = max(found, key=lambda one: one[:2])
    return axis, marks, ends


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
        return np.asarray(np.reshape(patch.places, (-1, 3)).mean(axis=0))
    centre: np.ndarray = np.asarray(patch.centre, float)
    if hasattr(patch, "low"):
        axis = np.asarray(patch.axis, float)
        return np.asarray(centre + axis / np.linalg.norm(axis) * (patch.low + patch.high) / 2.0)
    return centre


def _beside(
    bare: Touchable, patch: Any, middle: np.ndarray, pulled: float, axis: int
) -> int | None:
    """Where a tip can stand beside a joint: read along its bolt, clear of the head on the face away from what holds it;
    read across, as near as may be. A face as far off as the pull is not beside it."""
    if (ring := _ring(patch)) is None or abs(ring[0][axis]) < ALONG:
        return bare.nearest(middle, axis)
    unit, radius = ring
    deep, aside = _about(bare.places, middle, unit)
    cost = np.abs(aside - radius - CLEAR)
    if hasattr(patch, "outer"):
        cost = cost + 1e3 * ((deep < CLEAR / 4.0) | (deep > BESIDE * pulled))
    return bare.first(bare.by(cost, axis), axis)


def _covered(held: Held, proved: Proved, skin: Touchable) -> np.ndarray:
    """Whether each place is covered by what holds or loads the piece, or by the heads of its bolts and pins (n,)."""
    solved = proved.settled.solved
    pushed = [one for one in solved.solid.cases[0] if isinstance(one, Push)]
    faces = {f for some in (solved.solid.springs, pushed) for one in some for f in one.faces}
    known = {tuple(row) for row in np.round(solved.meshed.places_on(faces), 3) + 0.0}
    found = np.array([tuple(row) in known for row in np.round(skin.places, 3) + 0.0])
    every: list[Support | Applied] = [*held.supports, *held.applied]
    for one in every:
        for patch in one.patches:
            if (ring := _ring(patch)) is None:
                continue
            deep, aside = _about(skin.places, _of_patch(patch), ring[0])
            high = (getattr(patch, "high", DEEP) - getattr(patch, "low", -DEEP)) / 2.0
            wide = max(ring[1], getattr(one, "covers", 0.0)) + PLUNGER
            square = np.abs(skin.normals @ ring[0]) > ALONG
            found |= square & (aside < wide) & (deep < high + 2.0 * HEAD)
    return found


def _ring(patch: Any) -> tuple[np.ndarray, float] | None:
    """Direction of a joint's bolt or pin, and how far its head reaches [mm]; none of a patch that is not round."""
    along = getattr(patch, "normal", getattr(patch, "axis", None))
    wall = getattr(patch, "diameter", 0.0) / 2.0
    radius = getattr(patch, "outer", wall + min(wall, HEAD))
    if along is None or not radius:
        return None
    unit = np.asarray(along, float)
    return unit / np.linalg.norm(unit), float(radius)


def _about(places: np.ndarray, middle: np.ndarray, unit: np.ndarray) -> tuple[np.ndarray, ...]:
    """How far places lie from a point along a direction, either way, and how far beside it [mm]."""
    off = places - middle
    deep = off @ unit
    return np.abs(deep), np.linalg.norm(off - deep[:, None] * unit, axis=1)


def _triple(row: Any) -> tuple[float, float, float]:
    x, y, z = (float(v) for v in row)
    return x, y, z
