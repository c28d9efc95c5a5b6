"""The wall beside a thread that is cut into a bar or a bung: its least section, pulled, bent, and in fatigue."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any

import numpy as np

from parts.core.check import Check, check
from parts.core.fatigue_places import Spot, demand_of
from parts.core.feature import Modes
from parts.core.loads import LoadCase, Required
from parts.features.bung.stretches import Outside, area_and_modulus, wall_hole
from parts.features.section.notches import TAPPED
from parts.features.weld.tube_weld import Bears
from parts.standards.materials.materials import Material
from parts.standards.threads.threads import Thread
from parts.strength.method import Worked, work
from parts.strength.section import bar

THINNED = "down to the root of the thread, beside a witness hole if there is one, with all that bends the shank"


def wall_modes(
    name: str,
    walls: tuple[Any, Any],
    metal: Material,
    bears: Bears,
    case: str,
    required: Required,
) -> Iterator[Check]:
    """The wall beside a thread, pulled and bent; `walls` are its least area [mm^2] and section modulus [mm^3]."""
    stress = work(
        bar.round_tube_stress, A=walls[0], W=walls[1], N=bears.N, V=bears.V, M=bears.M, T=bears.T
    )
    for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
        yield check(
            f"{name} wall beside the thread, {kind}", "net tension", load_case=case, unit="MPa",
            demand=stress, capacity=strength, required=factor, note=f"wall {THINNED}",
        )  # fmt: skip


def wall_spot(
    name: str,
    walls: tuple[Any, Any],
    metal: Material,
    wide: Any,
    modes: Modes,
    rubs: Callable[[LoadCase], Any],
) -> Spot:
    """The same for fatigue; `wide` is its width [mm], `rubs` the moment that changes its sign with every swing
    [N*mm]."""

    def rubbed(case: LoadCase) -> Worked:
        return work(bar.bending_stress, M=rubs(case), W=walls[1])

    return Spot(
        f"{name} wall beside the thread", metal, demand_of(modes, f"{name} wall beside the thread, yield"),
        wide, TAPPED.K_f, counted=True, note="cut thread", reversed=rubbed,
    )  # fmt: skip


def threaded_wall(outside: Outside, thread: Thread, witness: Any | None) -> tuple[Any, Any]:
    """Area [mm^2] and least section modulus [mm^3] of a wall bored to the root of a thread, and through the witness
    hole where there is one."""
    if witness is None:
        return area_and_modulus(outside.bored(thread.major))
    return area_and_modulus(wall_hole(outside, thread.major, witness, 0.0))


def slanted(shapes: Sequence[Outside]) -> Any:
    """The greatest width over corners by width over flats of several outsides [-]."""
    return np.maximum.reduce(np.broadcast_arrays(*(one.corner / one.across for one in shapes)))[()]


def least(sections: Sequence[tuple[Any, Any]]) -> tuple[Any, Any]:
    """The least area and the least modulus of several sections."""
    a, b = (np.minimum.reduce(np.broadcast_arrays(*one)) for one in zip(*sections, strict=True))
    return a, b
