"""How an eye and its pin fail: the lug, what bears in it, what is pressed in, and the pin."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import LoadCase, Required
from parts.features.arm.tip import AtTip
from parts.features.eye.eye_sizes import (
    RING_STEEL,
    BushBore,
    EyeSizes,
    PlainBore,
    SphericalBore,
)
from parts.features.pins.lug import wall_bearing_modes
from parts.features.pins.lug_standards import PinnedPlate, manual_modes, standard_modes
from parts.standards.materials.materials import Material
from parts.standards.materials.materials import material as steel
from parts.strength.method import work
from parts.strength.pinned import lug, rod_end
from parts.strength.pinned import pin as pins


def lug_modes(
    eye: EyeSizes, material: Material, case: str, force: Any, across: Any, required: Required
) -> Iterator[Check]:
    bore, t, r = eye.bore_diameter, eye.width, eye.diameter / 2.0
    on = partial(check, load_case=case)
    pull = np.abs(force[..., 0])
    net = work(lug.net_section_stress, P=pull, w=eye.diameter, D_h=bore, t=t)
    for kind, strength, factor in required.both(
        material.yield_strength, material.ultimate_strength
    ):
        yield on(
            f"eye net section, {kind}", "net tension", demand=net, capacity=strength, unit="MPa",
            required=factor,
            note="the part of the load along the arm",
        )  # fmt: skip
    yield on(
        "eye shear-out", "shear-out", demand=across, unit="N", required=required.on_ultimate,
        capacity=work(lug.tear_out_load, R=r, D_h=bore, t=t, F_s=material.shear_ultimate),
        note="whichever way the load points",
    )  # fmt: skip
    F_y = material.yield_strength
    along = work(
        lug.axial_load, w=eye.diameter, D_h=bore, R=r, t=t, r=r, F_tu=F_y, F_ty=F_y,
        F_su=F_y / np.sqrt(3.0),
    )  # fmt: skip
    side = work(lug.transverse_load, h=eye.wall, D_h=bore, t=t, F_ty=F_y)
    yield on(
        "eye, slanting load, yield", "lug", capacity=1.0, unit="-", required=required.on_yield,
        demand=work(lug.oblique_use, P_a=force[..., 0], P_au=along, P_t=force[..., 1], P_tu=side),
        note="a push is taken like a pull of its size",
    )  # fmt: skip
    one = PinnedPlate(
        eye.diameter, bore, eye.presses, t, r, r, eye.wall, radius=r,
        braced=eye.pin.support == "both sides", turning=isinstance(eye.bore, PlainBore),
        note="whichever way the load points",
    )  # fmt: skip
    yield from standard_modes(one, "eye", material, case, across, across, required)
    yield from manual_modes(one, "eye", material, case, force, pull, required)


def bearing_modes(
    eye: EyeSizes, material: Material, case: str, across: Any, required: Required
) -> Iterator[Check]:
    near = eye.diameter / 2.0 / eye.presses
    pressure = work(lug.bearing_stress, P=across, D_p=eye.presses, t=eye.bears)
    yield from wall_bearing_modes("eye", "eye", material, near, pressure, case, required)
    if isinstance(eye.bore, SphericalBore):
        of = eye.bore.bearing
        C_0 = work(
            rod_end.race_capacity,
            E=of.ball_diameter,
            T=of.ring_width,
            p=steel(RING_STEEL).yield_strength,
        )
        yield check(
            "eye bearing, static load", "bearing", load_case=case, demand=across, capacity=C_0, unit="N",
            required=required.on_yield,
            note="generic: the ball on the projected width of its ring, at the yield of a 150 ksi steel; a "
            "maker's static rating may be higher or lower",
        )  # fmt: skip
    if isinstance(eye.bore, BushBore):
        yield check(
            "eye bush bearing, ultimate", "bearing", load_case=case, demand=across, unit="N",
            capacity=work(
                lug.bush_load, D_p=eye.pin.diameter, t=eye.width, F_cy=eye.bore.material.yield_strength
            ),
            required=required.on_ultimate, note="tensile yield for the compressive",
        )  # fmt: skip


def seat_modes(eye: EyeSizes, site: AtTip, case: LoadCase, along: Any) -> Iterator[Check]:
    """What keeps a bearing or a bush in its seat along the pin: a stated force, or the press at its loosest."""
    pressed = eye.pressed(site.metal)
    if pressed is None or isinstance(eye.bore, PlainBore):
        return
    if isinstance(eye.bore, BushBore) and eye.pin.support == "both sides":
        return  # the ears on both sides keep it in
    stated, required = eye.bore.retention, site.required(case)
    name = "eye bearing" if isinstance(eye.bore, SphericalBore) else "eye"
    if not np.any(stated):
        yield pressed.along(name, case.name, along, required)
        return
    yield check(
        f"{name} {pressed.name.split()[-1]}, pushed out along its bore", "push-out", load_case=case.name,
        demand=along, capacity=stated, unit="N", required=required.on_yield, note="the stated `retention`",
    )  # fmt: skip


def pin_modes(eye: EyeSizes, case: str, across: Any, required: Required) -> Iterator[Check]:
    pin = eye.pin
    d, made = pin.diameter, pin.material
    if pin.support == "both sides":
        shear = work(pins.double_shear, F=across, D=d)
        arm = work(pins.double_shear_arm, t1=pin.ear, t2=eye.tongue, g=pin.gap)
        moment = work(pins.double_shear_moment, P=across, b=arm)
    else:
        shear = work(pins.single_shear, F=across, D=d)
        moment = work(pins.single_shear_moment, P=across, t1=pin.ear, t2=eye.tongue, g=pin.gap)
    yield check(
        "eye pin, shear", "shear", load_case=case, demand=shear, capacity=made.shear_ultimate, unit="MPa",
        required=required.on_ultimate,
    )  # fmt: skip
    single = np.where(pin.support == "both sides", across / 2.0, across)
    yield check(
        "eye pin, shear with bending", "shear and bending", load_case=case, capacity=1.0, unit="-",
        demand=work(
            pins.shear_and_bending, V=single, V_u=work(pins.shear_load, D=d, F_s=made.shear_ultimate, n=1.0),
            M=moment, M_u=work(pins.bending_moment_capacity, D=d, F=made.ultimate_strength, k=1.0),
        ),
        required=required.on_ultimate,
    )  # fmt: skip
    bending = work(pins.bending_stress, M=moment, D=d)
    for kind, strength, factor in required.both(made.yield_strength, made.ultimate_strength):
        yield check(
            f"eye pin, bending, {kind}", "bending", load_case=case, demand=bending, capacity=strength,
            unit="MPa",
            required=factor,
        )  # fmt: skip
