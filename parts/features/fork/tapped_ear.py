"""A bolt locked in a tapped ear: a cantilever, until it has used up the clearance of the other ear."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import Action, Required
from parts.features.fork.ears import EarPair
from parts.features.pins.lug import wall_bearing_modes
from parts.features.pins.pin import TappedHole
from parts.features.thread.threaded import strip_strengths
from parts.standards.materials.materials import Material
from parts.strength.bolted import threads_loaded
from parts.strength.method import plain, work
from parts.strength.pinned import pin as pins
from parts.strength.pinned import stop_pin
from parts.strength.pinned.ear import load_share


def _bolt(ears: EarPair, V: Any) -> dict[str, Any]:
    """The bolt as a cantilever from the face of the tapped ear; what sits in the throat stands off by its play."""
    hole = ears.pin.hole
    assert isinstance(hole, TappedHole)
    width = ears.throat.width
    return {
        "V": V,
        "c": hole.gap,
        "s": (width + ears.throat.clearance) / 2.0,
        "w": width + ears.thickness / 2.0,
        "EI": ears.pin.material.E * np.pi / 64.0 * np.power(ears.pin.diameter, 4.0),
    }


def tapped_share(ears: EarPair, shared: Action, force: Any) -> Action:
    """What the tapped ear bears: all that the far ear does not bear, and the moment of the bolt.

    Args:
        ears: the ears, one of them tapped.
        shared: what an ear bears of a pin that both hold alike, at its middle.
        force: on the pin, shape (..., 3) [N].

    Returns:
        One action at the middle of the ear.
    """
    across = np.hypot(force[..., 0], force[..., 1])
    bolt = _bolt(ears, across)
    far = plain(stop_pin.far_ear_load(**bolt))
    some = np.where(across > 0.0, across, 1.0)
    middle, away = np.asarray(ears.middle, float), np.asarray(ears.throat.clearance, float) / 2.0
    evenly = load_share(1.0, middle - away, middle + away)
    # No less than its share of a pin that both ears hold.
    more = np.maximum((across - far) / some, evenly) - evenly
    inside = ears.thickness / 2.0
    turn = (across * (bolt["s"] + inside) - far * (bolt["w"] + inside)) / some
    more = np.stack(np.broadcast_arrays(more, more, 0.0), axis=-1)
    moment = np.stack(
        np.broadcast_arrays(turn * force[..., 1], -turn * force[..., 0], 0.0), axis=-1
    )
    return Action(shared.at, shared.force + more * force, shared.moment + moment)


def tapped_modes(
    ears: EarPair, name: str, material: Material, case: str, force: Any, required: Required
) -> Iterator[Check]:
    """The bolt bent and cut at the face of the tapped ear, its thread's bearing there, and its pull-out.

    Args:
        ears: the ears.
        name: prefix of the checks' names.
        material: what the ears are made of.
        case: name of the load case.
        force: on the pin, shape (..., 3) [N].
        required: the factors asked for.

    Returns:
        The checks.
    """
    pin, hole = ears.pin, ears.pin.hole
    assert isinstance(hole, TappedHole)
    thread = hole.thread
    made, root, deep = pin.material, thread.minor_external, ears.thickness
    across = np.hypot(force[..., 0], force[..., 1])
    bolt = _bolt(ears, across)
    face = work(stop_pin.one_ear_moment, **bolt)
    cut = across - plain(stop_pin.far_ear_load(**bolt))
    arm = plain(face) / np.where(cut > 0.0, cut, 1.0)
    moment = work(stop_pin.buried_moment, V=cut, h=arm, L=deep)
    note = "the bolt as a cantilever from the tapped ear until the other ear's clearance is used up"
    on = partial(check, load_case=case, note=note)
    yield on(
        f"{name} pin, shear", "shear", demand=work(pins.single_shear, F=cut, D=root),
        capacity=made.shear_ultimate, unit="MPa", required=required.on_ultimate,
    )  # fmt: skip
    stress = work(pins.bending_stress, M=moment, D=root)
    for kind, strength, factor in required.both(made.yield_strength, made.ultimate_strength):
        yield on(
            f"{name} pin, bent at the tapped ear, {kind}", "bending", demand=stress, capacity=strength, unit="MPa",
            required=factor,
        )  # fmt: skip
    yield on(
        f"{name} pin, shear with bending", "shear and bending", capacity=1.0, unit="-",
        demand=work(
            pins.shear_and_bending, V=cut, V_u=work(pins.shear_load, D=root, F_s=made.shear_ultimate, n=1.0),
            M=moment, M_u=work(pins.bending_moment_capacity, D=root, F=made.ultimate_strength),
        ),
        required=required.on_ultimate,
    )  # fmt: skip
    pressure = work(
        stop_pin.mouth_pressure, V=cut, h=0.0, d=thread.pitch_diameter, L=deep, M=plain(face)
    )
    near = np.minimum(ears.end, ears.width / 2.0) / thread.pitch_diameter
    yield from wall_bearing_modes(
        f"{name} thread at the mouth", "ear", material, near, pressure, case, required
    )
    pull = work(
        threads_loaded.moment_as_pull, N=force[..., 2], M=plain(face), d2=thread.pitch_diameter
    )
    around = np.minimum(ears.width, 2.0 * np.asarray(ears.end))
    strengths = strip_strengths(thread, deep, made.shear_ultimate, material.shear_ultimate, around)
    for side, strength in zip(("male", "female"), strengths, strict=True):
        yield on(
            f"{name} pin, {side} thread strips under its moment", "thread strip", demand=pull, capacity=strength,
            unit="N", required=required.on_ultimate,
        )  # fmt: skip
