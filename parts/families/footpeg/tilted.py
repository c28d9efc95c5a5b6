"""Pin and eye of a folding peg where its tongue is tilted between its ears."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from parts.core.check import Check, check
from parts.core.freebody import Acting
from parts.core.loads import Required
from parts.features.eye.eye import Eye
from parts.standards.materials.materials import Material
from parts.strength.method import work
from parts.strength.pinned import lug
from parts.strength.pinned import pin as pins
from parts.strength.plates import plate


def tilted_modes(
    eye: Eye, on_pin: Acting, of: Material, required: Required, case: str
) -> Iterator[Check]:
    """Pin and eye where a push along the pin, or a twist of the peg, tilts the tongue between its ears.

    The cheeks of tongue and ears, which may bear some of it, are counted for nothing.

    Args:
        eye: the eye of the tongue, with its pin.
        on_pin: what the pin does to it.
        of: metal of the tongue.
        required: the factors asked for.
        case: name of the load case.
    """
    pin, wide, made = eye.pin, eye.width, eye.pin.material
    P = np.hypot(on_pin.force[..., 0], on_pin.force[..., 2])
    M = np.hypot(on_pin.moment[..., 0], on_pin.moment[..., 2])
    apart = wide + 2.0 * pin.gap + pin.ear
    arm = work(pins.double_shear_arm, t1=pin.ear, t2=wide, g=pin.gap)
    own = work(pins.double_shear_moment, P=P, b=arm)
    couple = work(pins.couple_moment, M=M, w=wide, b=apart)
    bent = work(pins.bending_stress, M=own.value + couple.value, D=pin.diameter)
    pressed = work(lug.bearing_stress, P=P, D_p=pin.diameter, t=wide)
    edge = work(plate.flat_bending_stress, M=M, b=pin.diameter, t=wide)
    for kind, strength, factor in required.both(made.yield_strength, made.ultimate_strength):
        yield check(f"eye pin, tilted in its ears, {kind}", "bending", load_case=case, demand=bent,
            capacity=strength, unit="MPa", required=factor, note="pull and tilt as if in one plane")  # fmt: skip
    for kind, strength, factor in required.both(of.bearing_yield_ed15, of.bearing_ultimate_ed15):
        yield check(f"eye, pressed at its edge by the tilted pin, {kind}", "bearing", load_case=case,
            demand=pressed.value + edge.value, capacity=strength, unit="MPa", required=factor)  # fmt: skip
