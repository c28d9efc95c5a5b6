"""How an ear and its pin fail: the pin by shear and bending, the ear by tension, bearing, tear-out, bending."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import Required
from parts.features.fork.ears import EarPair
from parts.features.fork.stability import grown_side_force
from parts.features.pins.lug import wall_bearing_modes
from parts.features.pins.lug_standards import (
    PinnedPlate,
    manual_modes,
    shear_plane_offset,
    standard_modes,
)
from parts.features.pins.pin import BushedHole, TappedHole
from parts.standards.materials.materials import Material
from parts.strength.bolted import threads_loaded
from parts.strength.method import work
from parts.strength.pinned import ear as beams
from parts.strength.pinned import lug
from parts.strength.pinned import pin as pins


def ear_modes(
    ears: EarPair, name: str, material: Material, case: str, force: Any, required: Required
) -> Iterator[Check]:
    """Every check of one ear and of a pin that both ears hold, under the share of one ear.

    Args:
        ears: the ears.
        name: prefix of the checks' names.
        material: what the ears are made of.
        case: name of the load case.
        force: force on the ear, shape (..., 3): x toward the nose, z along the pin [N].
        required: the factors asked for.

    Returns:
        The checks.
    """
    across = np.hypot(force[..., 0], force[..., 1])
    if not isinstance(ears.pin.hole, TappedHole):
        yield from pin_modes(ears, name, case, across, required)
    yield from _bearing(ears, name, material, case, across, required)
    yield from _tension(ears, name, material, case, np.maximum(force[..., 0], 0.0), required)
    yield from _tear_out(ears, name, material, case, force, required)
    yield from _side_bending(ears, name, material, case, force, required)
    pull = np.maximum(force[..., 0], 0.0)
    by_standard = _plate(ears, shear_plane_offset(ears.pin.bearing_diameter, ears.pin.bore))
    yield from standard_modes(by_standard, name, material, case, pull, across, required)
    by_manual = _plate(ears, 0.5 * np.asarray(ears.pin.bore, float) * np.sin(lug.SHEAR_PLANE))
    yield from manual_modes(by_manual, name, material, case, force, pull, required)


def _plate(ears: EarPair, off: Any) -> PinnedPlate:
    """One ear on its pin; its end is taken as square at the height of the shear planes, `off` the middle [mm],
    which is exact for any shape of nose."""
    pin = ears.pin
    bears = threads_loaded.bearing_thickness(ears.thickness, ears.thread_inside)
    return PinnedPlate(
        ears.width, pin.bore, pin.bearing_diameter, bears, ears.end, ears.end_at(off),
        np.minimum(ears.end, ears.width / 2.0) - np.asarray(pin.bore) / 2.0,
        turning=ears.throat.type == "blade" and not isinstance(pin.hole, BushedHole),
    )  # fmt: skip


def pin_modes(ears: EarPair, name: str, case: str, ear: Any, required: Required) -> Iterator[Check]:
    """Shear and bending of the pin, alone and together; `ear` is the force on one ear [N]."""
    pin = ears.pin
    made = pin.material
    on = partial(check, load_case=case)
    thin = pin.diameter
    yield on(
        f"{name} pin, shear", "shear", demand=work(pins.single_shear, F=ear, D=thin),
        capacity=made.shear_ultimate,
        unit="MPa", required=required.on_ultimate,
    )  # fmt: skip
    gap = (ears.throat.width - ears.throat.tongue) / 2.0
    arm = work(pins.double_shear_arm, t1=ears.thickness, t2=ears.throat.tongue, g=gap)
    moment = work(pins.double_shear_moment, P=2.0 * ear, b=arm)
    yield on(
        f"{name} pin, bending, yield", "bending", demand=work(pins.bending_stress, M=moment, D=pin.diameter),
        capacity=made.yield_strength, unit="MPa", required=required.on_yield,
    )  # fmt: skip
    plastic = PLASTIC_PIN if made.elongation >= DUCTILE else 1.0
    bends = work(pins.bending_moment_capacity, D=pin.diameter, F=made.ultimate_strength, k=plastic)
    yield on(
        f"{name} pin, bending, ultimate", "bending", demand=moment, capacity=bends, unit="N*mm",
        required=required.on_ultimate,
    )  # fmt: skip
    yield on(
        f"{name} pin, shear with bending", "shear and bending",
        demand=work(
            pins.shear_and_bending, V=ear, V_u=work(pins.shear_load, D=thin, F_s=made.shear_ultimate, n=1.0),
            M=moment,
            M_u=bends,
        ),
        capacity=1.0, unit="-", required=required.on_ultimate,
    )  # fmt: skip


def _bearing(
    ears: EarPair, name: str, material: Material, case: str, ear: Any, required: Required
) -> Iterator[Check]:
    pin = ears.pin
    near = np.minimum(ears.end, ears.width / 2.0) / pin.bearing_diameter
    bears = work(threads_loaded.bearing_thickness, t=ears.thickness, x=ears.thread_inside)
    pressure = work(lug.bearing_stress, P=ear, D_p=pin.bearing_diameter, t=bears)
    yield from wall_bearing_modes(name, "ear", material, near, pressure, case, required)
    if isinstance(pin.hole, BushedHole):
        # A compressive yield is not in the tables; the tensile one stands in for it.
        bush = pin.hole.material
        inner = work(lug.bearing_stress, P=ear, D_p=pin.diameter, t=ears.thickness)
        yield check(
            f"{name} bush bearing, yield", "bearing", load_case=case, demand=inner,
            capacity=bush.yield_strength,
            unit="MPa", required=required.on_yield, note="tensile yield for the compressive",
        )  # fmt: skip
        yield check(
            f"{name} bush bearing, ultimate", "bearing", load_case=case, demand=ear,
            capacity=work(lug.bush_load, D_p=pin.diameter, t=ears.thickness, F_cy=bush.yield_strength),
            unit="N",
            required=required.on_ultimate, note="tensile yield for the compressive",
        )  # fmt: skip


def _tension(
    ears: EarPair, name: str, material: Material, case: str, pull: Any, required: Required
) -> Iterator[Check]:
    net = work(lug.net_section_stress, P=pull, w=ears.width, D_h=ears.pin.bore, t=ears.thickness)
    for kind, strength, factor in required.both(
        material.yield_strength, material.ultimate_strength
    ):
        yield check(
            f"{name} net section, {kind}", "net tension", load_case=case, demand=net, capacity=strength,
            unit="MPa",
            required=factor, note="the part of the load that pulls toward the nose",
        )  # fmt: skip


def _tear_out(
    ears: EarPair, name: str, material: Material, case: str, force: Any, required: Required
) -> Iterator[Check]:
    bore = ears.pin.bore
    t = threads_loaded.bearing_thickness(ears.thickness, ears.thread_inside)
    pull, side = np.maximum(force[..., 0], 0.0), np.abs(force[..., 1])
    plane = ears.end_at(0.5 * bore * np.sin(lug.SHEAR_PLANE))
    # The end is taken as square at the height of the shear planes, which is exact for any shape of nose.
    yield check(
        f"{name} shear-out through the nose", "shear-out", load_case=case, demand=pull, unit="N",
        capacity=work(lug.shear_out_load, R=plane, D_h=bore, t=t, r=np.inf, F_s=material.shear_ultimate),
        required=required.on_ultimate, note="a pull toward the nose; a push bears on the root instead",
    )  # fmt: skip
    yield check(
        f"{name} shear-out through the side", "shear-out", load_case=case, demand=side, unit="N",
        capacity=work(lug.tear_out_load, R=ears.width / 2.0, D_h=bore, t=t, F_s=material.shear_ultimate),
        required=required.on_ultimate, note="a pull across the ears",
    )  # fmt: skip


def _side_bending(
    ears: EarPair, name: str, material: Material, case: str, force: Any, required: Required
) -> Iterator[Check]:
    stress = work(
        beams.root_stress, P=np.abs(force[..., 0]), V=grown_side_force(ears, material, force, required),
        L=ears.depth - ears.radius, w=ears.width, t=ears.thickness,
    )  # fmt: skip
    for kind, strength, factor in required.both(
        material.yield_strength, material.ultimate_strength
    ):
        yield check(
            f"{name} side bending, {kind}", "side bending", load_case=case, demand=stress, capacity=strength,
            unit="MPa",
            required=factor,
            note="one ear takes all of the force along the pin; a push bends it further, the more the nearer it comes "
            "to the ear's buckling load",
        )  # fmt: skip


PLASTIC_PIN, DUCTILE = 1.56, 0.05
"""Plastic bending factor of a pin [-] and the elongation from which it counts [-]: AFFDL-TR-69-42, section
9.4, from memory."""
