"""What sticks out of a hole or a face: the root of a round post, and the mouth of its hole."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import Required
from parts.standards.materials.materials import Material
from parts.strength.method import work
from parts.strength.pinned import pin as pins
from parts.strength.pinned import stop_pin


def bar_modes(
    name: str,
    metal: Material,
    diameter: Any,
    force: Any,
    moment: Any,
    case: str,
    required: Required,
    bore: Any = None,
) -> Iterator[Check]:
    """A round post at its root, bored or not: bending against yield, and bending with shear against ultimate.

    A twist counts as three quarters of its square: von Mises of 32 M/(π d³) and 16 T/(π d³).
    """
    hollow = {} if bore is None else {"d": bore}
    M = np.sqrt(np.sum(np.square(moment) * [1.0, 1.0, 0.75], axis=-1))
    V = np.hypot(force[..., 0], force[..., 1])
    yield check(
        f"{name}, bending at the root", "bending", load_case=case,
        demand=work(pins.bending_stress, M=M, D=diameter, **hollow), capacity=metal.yield_strength, unit="MPa",
        required=required.on_yield,
    )  # fmt: skip
    use = work(
        pins.shear_and_bending, V=V,
        V_u=work(pins.shear_load, D=diameter, F_s=metal.shear_ultimate, n=1.0, **hollow),
        M=M, M_u=work(pins.bending_moment_capacity, D=diameter, F=metal.ultimate_strength, **hollow),
    )  # fmt: skip
    yield check(
        f"{name}, shear and bending at the root", "shear and bending", load_case=case, demand=use, capacity=1.0,
        unit="-", required=required.on_ultimate,
    )  # fmt: skip


def hole_modes(
    name: str,
    metal: Material,
    diameter: Any,
    depth: Any,
    force: Any,
    moment: Any,
    case: str,
    required: Required,
) -> Iterator[Check]:
    """What sticks out of one hole, pressed or screwed in, against the mouth of the hole; force and moment there."""
    V, M = np.hypot(force[..., 0], force[..., 1]), np.hypot(moment[..., 0], moment[..., 1])
    pressure = work(stop_pin.mouth_pressure, V=V, h=0.0, d=diameter, L=depth, M=M)
    strengths = required.both(metal.bearing_yield_ed15, metal.bearing_ultimate_ed15)
    for kind, strength, factor in strengths:
        yield check(
            f"{name} hole, bearing at the mouth, {kind}", "bearing", load_case=case, demand=pressure,
            capacity=strength, unit="MPa", required=factor,
        )  # fmt: skip
