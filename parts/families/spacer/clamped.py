"""A sleeve under the push of its bolt: pressure on its faces, and buckling of the sleeve and of its wall."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial
from typing import Any, NamedTuple

import numpy as np

from parts.core.check import Check, check
from parts.core.loads import Required
from parts.families.spacer.ends import End
from parts.standards.materials.materials import Material
from parts.strength.bolted import split_clamp
from parts.strength.columns import column, wrinkling
from parts.strength.method import work
from parts.strength.section import bar


class Sleeve(NamedTuple):
    """A sleeve: its metal, outside diameter, bore and length [mm], and its ends."""

    metal: Material
    diameter: Any
    bore: Any
    length: Any
    ends: tuple[End, End]

    @property
    def area(self) -> Any:
        """Area of its section [mm^2]."""
        return np.pi / 4.0 * (np.square(self.diameter) - np.square(self.bore))


def clamped_modes(
    sleeve: Sleeve, push: Any, case: str, required: Required, rocks: Sequence[Any] = (0.0, 0.0)
) -> Iterator[Check]:
    """Checks of a clamped sleeve.

    Args:
        sleeve: the sleeve.
        push: on it [N].
        case: name of the load case.
        required: the factors asked for.
        rocks: moments that press the rims of its head and of its base harder [N*mm].
    """
    on, m = partial(check, load_case=case, required=required.on_yield), sleeve.metal
    thick = sleeve.diameter - sleeve.bore
    for end, rock in zip(sleeve.ends, rocks, strict=True):
        soft = np.minimum(m.yield_strength, (end.material or m).yield_strength)
        yield on(f"bearing on the {end.name}", "bearing", unit="MPa", capacity=soft,
            note="the softer face yields, at its rim where a moment rocks it",
            demand=work(split_clamp.head_pressure, F=push + rock / end.kern, d_w=end.outer, d_h=end.inner))  # fmt: skip
    yield on("sleeve as a column", "buckling", demand=push, unit="N", note="its faces taken as hinged",
        capacity=work(column.johnson_euler_load, E=m.E, A=sleeve.area, F_cy=m.yield_strength, L=sleeve.length,
            I_min=np.pi / 64.0 * (sleeve.diameter**4 - sleeve.bore**4)))  # fmt: skip
    yield on("wall of the sleeve", "buckling", demand=work(bar.direct_stress, F=push, A=sleeve.area), unit="MPa",
        capacity=work(wrinkling.wall_buckling_stress, E=m.E, r=(sleeve.diameter - thick / 2.0) / 2.0, t=thick / 2.0,
            F_cy=m.yield_strength, nu=m.poisson))  # fmt: skip
