"""The plate beside what stands on it: it bends locally there, and the roots of bosses and posts tire first.

A section across the plate counts its full width, but a load enters over the width of a boss. `parts.strength.plates.
boss` bounds the stress beside it. The plate is taken as a strip toward each mount in turn, and the worst counts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

import numpy as np

from parts.core.check import Check, check
from parts.core.fatigue_places import Spot, Stress
from parts.core.feature import Modes
from parts.core.loads import LoadCase, Required
from parts.core.ways import Kind
from parts.standards.materials.materials import Material
from parts.strength.fatigue.notch import hole_in_plate, round_fillet
from parts.strength.method import work
from parts.strength.plates import boss as bosses

SHARP = 0.25
"""Radius of a root that is stated sharp: the nose of a cutter [mm]; common practice, no source."""
SHARPEST_STEP = 20.0
"""Height of a step over its fillet up to which `round_fillet` has a factor [-]."""
WAYS = 72
"""Directions in which the edge of a plate is looked for."""


class Beside(NamedTuple):
    """A place of the plate where a boss, post, fork or stub stands.

    `diameter` is that of what stands there, of a block its least width, and `fillet` its root's, None where it has
    none; `toward` (..., mounts, 2) is the way to each mount, `width` (..., mounts) the metal across it at the edge of
    what stands there [mm].
    """

    thickness: Any
    diameter: Any
    fillet: Any
    width: Any
    toward: Any

    @property
    def counted(self) -> Any:
        """The diameter that the bounds take [mm]: no more than their study reached, which is on the safe side."""
        d = np.minimum(self.diameter, self.thickness / bosses.THINNEST)
        return np.minimum(np.asarray(d, float)[..., None], self.width)

    def modes(
        self, name: str, metal: Material, force: Any, moment: Any, case: str, required: Required
    ) -> Iterator[Check]:
        """The stress beside it, against yield and ultimate; force [N] and moment [N*mm] at the plate's middle."""
        stress = self._stress(force, moment)
        for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
            yield check(
                f"{name}, plate beside it, {kind}", "local bending", load_case=case, demand=stress,
                capacity=strength, unit="MPa", required=factor,
                note="the plate as a strip toward the mount for which it comes out worst",
            )  # fmt: skip

    def _stress(self, force: Any, moment: Any) -> Any:
        t, d, W = np.asarray(self.thickness, float)[..., None], self.counted, self.width
        far = np.hypot(self.toward[..., 0], self.toward[..., 1])
        u = self.toward / far[..., None]
        M = np.asarray(moment, float)[..., None, :]
        along = np.abs(M[..., 0] * u[..., 1] - M[..., 1] * u[..., 0])
        across = np.abs(M[..., 0] * u[..., 0] + M[..., 1] * u[..., 1])
        each = {"t": t, "d": d, "W": W, "a": np.maximum(far.min(-1)[..., None], d)}
        worse = np.asarray(
            bosses.boss_bending_stress(along, **each)
            + bosses.boss_twist_stress(across, across, **each)
        )
        worst = np.argmax(worse, axis=-1)[..., None]

        def there(value: Any) -> Any:
            return np.take_along_axis(np.broadcast_to(value, worse.shape), worst, -1)[..., 0]

        size = {name: there(value) for name, value in each.items()}
        t, d, W, a = size.values()
        push = np.abs(np.asarray(force, float)[..., 2])
        return work(
            bosses.beside_boss_stress,
            along=work(bosses.boss_bending_stress, M=there(along), **size),
            across=work(bosses.boss_twist_stress, M=there(across), T=there(across), **size),
            square=work(
                bosses.boss_force_stress, F=push, M=push * np.maximum((d + t) / 2.0, a), t=t, d=d, W=W
            ),
            V=np.hypot(np.asarray(force)[..., 0], np.asarray(force)[..., 1]), t=t, d=d,
        )  # fmt: skip

    def root(self, name: str, metal: Material, modes: Modes) -> Spot:
        """The root of what stands there, for fatigue of the plate."""
        beside = f"{name}, plate beside it, yield"
        if self.fillet is None:
            return Spot(
                f"{name}, plate beside it", metal, _asked(modes, beside), self.diameter,
                work(hole_in_plate, beta=0.0), note="as beside a hole",
            )  # fmt: skip
        t = self.thickness
        d = np.clip(self.diameter, t / bosses.THICKEST, t / bosses.THINNEST)
        blunt = np.maximum(self.fillet, t / bosses.SHARPEST)
        # Sharper than the study the stress rises no faster than at the root of a crack.
        sharper = np.sqrt(blunt / np.minimum(np.maximum(self.fillet, SHARP), blunt))
        K = work(bosses.boss_fillet_factor, t=t, d=d, r=blunt)
        return Spot(
            f"{name}, root on the plate", metal, _asked(modes, beside, sharper), self.diameter, K,
            note="the plate beside it times the factor of its fillet, felt in full",
        )  # fmt: skip


def least_room(place: Any, rims: Sequence[tuple[Any, Any]]) -> Any:
    """Distance of a place from the edge of a plate that reaches round some discs without a gap [mm].

    Args:
        place: shape (..., 2) [mm].
        rims: centre and radius of each disc [mm].

    Returns:
        The least of all directions.
    """
    found = []
    for angle in np.linspace(0.0, 2.0 * np.pi, WAYS, endpoint=False):
        x, y = np.cos(angle), np.sin(angle)
        edge = np.maximum.reduce([at[0] * x + at[1] * y + radius for at, radius in rims])
        found.append(edge - place[..., 0] * x - place[..., 1] * y)
    return np.minimum.reduce(found)


def root_spot(
    name: str, metal: Material, modes: Modes, of: str, diameter: Any, fillet: Any
) -> Spot:
    """The root fillet of a post, a journal or a boss, for its own fatigue.

    Args:
        name: of the place.
        metal: what it is of.
        modes: the checks of the part under a load case.
        of: name of the check that gives its nominal stress [MPa].
        diameter: of the post [mm].
        fillet: radius at its root [mm].

    Returns:
        The place.
    """
    radius = np.clip(fillet, np.maximum(SHARP, diameter / (2.0 * SHARPEST_STEP)), diameter)
    K = work(round_fillet, D=2.0 * diameter, d=diameter, r=radius, load="bending")
    return Spot(
        name, metal, _asked(modes, of), diameter, K, note="shaft fillet in bending, felt in full"
    )


def _asked(modes: Modes, name: str, scale: Any = 1.0) -> Stress:
    """The demand of the check of this name under a load case [MPa]; nil where it loads nothing there."""

    def stress(case: LoadCase) -> Any:
        found = [scale * one.demand for one in modes(case) if one.name == name]
        return found[0] if found else 0.0

    return stress


def plate_kind(name: str, boss: bool) -> Kind:
    """What can fail of the plate beside what stands on it, and of the boss that stands there, if one does."""
    none = (
        {} if boss else {"boss bent at its root": "no boss stands there that its load would bend"}
    )
    return Kind("boss on a plate", name, left_out=none)
