"""The root of a boss on a plate, under a screw, a stub or a post."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.fatigue_places import Spot
from parts.core.feature import Modes
from parts.core.loads import Required
from parts.features.plate.fixture import Boss
from parts.features.plate.roots import root_spot
from parts.standards.materials.materials import Material
from parts.strength.method import work
from parts.strength.pinned import pin as pins


def boss_root(name: str, metal: Material, modes: Modes, boss: Boss) -> Spot:
    """The root of the boss under a screw, a stub or a post, for its own fatigue."""
    of = f"{name} boss, bending at the root, yield"
    return root_spot(f"{name} boss, root", metal, modes, of, boss.diameter, boss.fillet)


def boss_modes(
    name: str,
    metal: Material,
    boss: Boss,
    bore: Any,
    force: Any,
    moment: Any,
    case: str,
    required: Required,
) -> Iterator[Check]:
    """A bored boss at its root on the plate; force and moment act at its face."""
    arm = boss.outer
    M = np.hypot(moment[..., 0] - force[..., 1] * arm, moment[..., 1] + force[..., 0] * arm)
    for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
        yield check(
            f"{name} boss, bending at the root, {kind}", "bending", load_case=case,
            demand=work(pins.bending_stress, M=M, D=boss.diameter, d=bore), capacity=strength, unit="MPa",
            required=factor,
        )  # fmt: skip
