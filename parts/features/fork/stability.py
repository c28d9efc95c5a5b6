"""Ears that give way sideways: as columns under a push, and by toppling under a force across them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import Required
from parts.features.fork.ears import EarPair
from parts.features.fork.throat import RodEndThroat
from parts.standards.materials.materials import Material
from parts.strength.columns import column, lateral, sway
from parts.strength.method import Worked, plain, work
from parts.strength.pinned import ear

FAR_PIVOT = 5.0
"""From the pin to the far pivot of what pushes, in lengths of the ear, at the least [-]; common practice, no source."""

SLENDER = 8.0
"""Length of an ear over its thickness past which a proof looks for buckling [-]: slenderness 55 with a free tip."""


def clamped(ears: EarPair) -> bool:
    """Whether a tight bolt ties both ears: through a rod end's ball, with a nut that is tightened."""
    pin = ears.pin
    return bool(pin.bolt) and pin.nut_form != "slotted" and isinstance(ears.throat, RodEndThroat)


def slender(ears: EarPair) -> Any:
    """Whether the ears are so thin for their length that a proof looks for buckling."""
    return ears.depth > SLENDER * ears.thickness


def length_factor(ears: EarPair) -> Worked | float:
    """Effective length over length of an ear under a push [-]."""
    if clamped(ears):
        return sway.CLAMPED_PIN
    return work(sway.sway_length_factor, L=ears.depth, c=FAR_PIVOT * ears.depth)


def grown_side_force(ears: EarPair, material: Material, force: Any, required: Required) -> Any:
    """The force along the pin on an ear [N], grown as a push that is as large as required bends the ear further."""
    return _grown(force[..., 2], ears, material, force, required)


def _grown(value: Any, ears: EarPair, material: Material, force: Any, required: Required) -> Any:
    """What bends or topples an ear over a share of the push that sways it: the more of that, the less of this."""
    inertia = ears.width * np.power(ears.thickness, 3.0) / 12.0
    critical = column.euler_load(
        material.E, inertia, np.multiply(plain(length_factor(ears)), ears.depth)
    )
    share = np.maximum(-force[..., 0], 0.0) / critical
    return column.grown_moment(value, share, required.on_ultimate)


def stability_modes(
    ears: EarPair, name: str, material: Material, case: str, force: Any, required: Required
) -> Iterator[Check]:
    """Sway of one ear under its push, and toppling under the force across it.

    Args:
        ears: the ears.
        name: prefix of the checks' names.
        material: what the ears are made of.
        case: name of the load case.
        force: force on the ear, shape (..., 3): x toward the nose, y across it [N].
        required: the factors asked for.

    Returns:
        The checks.
    """
    t, w, L = ears.thickness, ears.width, ears.depth
    held = (
        "the bolt clamps both ears square to itself"
        if clamped(ears)
        else f"what pushes is taken to pivot {FAR_PIVOT:g} lengths of the ear beyond the pin"
    )
    yield check(
        f"{name}, push, sways as a column", "buckling", load_case=case, unit="N", required=required.on_ultimate,
        demand=np.maximum(-force[..., 0], 0.0),
        capacity=work(
            sway.ear_push_load, E=material.E, t=t, w=w, L=L, K=length_factor(ears), F_cy=material.yield_strength,
            n=1.0,
        ),
        note=f"the ear with the larger share, alone; {held}; tensile yield for the compressive",
    )  # fmt: skip
    thin, deep = np.minimum(t, w), np.maximum(t, w)
    critical = work(
        lateral.end_load_buckling, EI_z=material.E * w * np.power(t, 3.0) / 12.0, L=L,
        GJ=material.G * lateral.rectangle_torsion_constant(thin, deep),
    )  # fmt: skip
    yield check(
        f"{name}, side force, topples", "lateral buckling", load_case=case, unit="N*mm",
        demand=_grown(np.abs(force[..., 1]) * L, ears, material, force, required), required=required.on_yield,
        capacity=work(
            lateral.toppling_resistance, M_cr=_times(critical, L), W=t * np.square(w) / 6.0,
            F_y=material.yield_strength,
        ),
        note="the ear as a cantilever from the floor of the throat, its tip free; grown by its push, as large as "
        "required, over what sways it",
    )  # fmt: skip


def drawn_together(ears: EarPair, name: str, material: Material, case: str) -> Check:
    """Each ear bent by half the stated side play as the pin is tightened; it holds once the play is no more than
    stated."""
    loosest, stated, most = _play(ears, material)
    once = f"its throat is shimmed to {stated:.2g} mm of side play, {loosest:.2g} mm at the limits of its sizes"
    return check(
        f"{name}, drawn together", "ears drawn together", load_case=case, unit="mm",
        demand=ears.throat.clearance / 2.0, required=1.0, capacity=_yields_at(ears, material),
        note="half the stated side play, against what brings an ear to yield; it stops there, so no factor beyond is "
        "asked",
        once=once if loosest > most else "",
    )  # fmt: skip


def _yields_at(ears: EarPair, material: Material) -> Worked:
    """How far an ear may be drawn in before its root yields [mm]."""
    L = ears.depth - ears.radius
    force = work(ear.side_load, L=L, w=ears.width, t=ears.thickness, F=material.yield_strength)
    return work(ear.side_deflection, V=force, L=L, E=material.E, w=ears.width, t=ears.thickness)


def _play(ears: EarPair, material: Material) -> tuple[float, float, float]:
    """Side play at the limits of the sizes of throat and stack, as stated, and as much as brings the ears to yield
    [mm]; of many ears the worst."""
    most = 2.0 * float(np.min(plain(_yields_at(ears, material))))
    return float(np.max(ears.throat.loosest)), float(np.max(ears.throat.clearance)), most


def shim_caution(ears: EarPair, material: Material) -> tuple[str, ...]:
    """What the bench must do where the sizes of a throat and its stack may leave more play than its ears can close."""
    loosest, stated, most = _play(ears, material)
    if loosest <= most:
        return ()
    return (
        f"Measure throat and stack: at the limits of their sizes they leave {loosest:.2f} mm of side play, and the "
        f"ears yield if more than {most:.2f} mm is drawn together. Shim to {stated:.2g} mm before the nut is tight.",
    )


def _times(load: Worked, length: Any) -> Any:
    return np.multiply(plain(load), length)
