"""The plate beside what stands on it: it bends locally there, and the roots of bosses and posts tire first.

A section across the plate counts its full width, but a load enters over the width of a boss. `parts.strength.plates.
boss` bounds the stress beside it. The plate is taken as a strip toward each mount in turn, and the worst counts.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

import numpy as np

from parts.core.check import Check, check
from parts.core.fatigue_places import Spot
from parts.core.feature import Modes
from parts.core.loads import Required
from parts.features.mounts.mount_set import MountSet
from parts.features.plate.roots import SHARP, stress_of
from parts.features.plate.section.crossing import metal_across
from parts.features.plate.shape import Shape
from parts.standards.materials.materials import Material
from parts.strength.fatigue.notch import hole_in_plate
from parts.strength.method import work
from parts.strength.plates import boss as bosses

DIAGONAL, ROOM = 0.75, 1.0
"""Half the diagonal of a square block over its width, rounded up [-]; how far a root is felt beyond its fillet [mm]."""
WAYS = 72
"""Directions in which the edge of a plate is looked for."""


class Beside(NamedTuple):
    """A place of the plate where a boss, post, fork or stub stands.

    `diameter` is that of what stands there, of a block its least width, and `fillet` its root's, None where it has
    none; `toward` (..., mounts, 2) is the way to each mount, `width` (..., mounts) the metal across it at the edge of
    what stands there, `at` (..., 2) where it stands [mm].
    """

    name: str
    thickness: Any
    diameter: Any
    fillet: Any
    width: Any
    toward: Any
    at: Any

    @property
    def around(self) -> tuple[Any, Any, Any]:
        """A cylinder that holds its root, the corners of a square block as well; see `Spot`."""
        place = np.concatenate([self.at, np.zeros_like(self.at[..., :1])], axis=-1)
        fillet = 0.0 if self.fillet is None else self.fillet
        return place, np.array([0.0, 0.0, 1.0]), DIAGONAL * self.diameter + fillet + ROOM

    @property
    def counted(self) -> Any:
        """The diameter that the bounds take [mm]: no more than their study reached, which is on the safe side."""
        d = np.minimum(self.diameter, self.thickness / bosses.THINNEST)
        return np.minimum(np.asarray(d, float)[..., None], self.width)

    def modes(
        self, metal: Material, force: Any, moment: Any, case: str, required: Required
    ) -> Iterator[Check]:
        """The stress beside it, against yield and ultimate; force [N] and moment [N*mm] at the plate's middle."""
        stress = self._stress(force, moment)
        for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
            yield check(
                f"{self.name}, plate beside it, {kind}", "local bending", load_case=case, demand=stress,
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
        bent = work(bosses.boss_twist_stress, M=there(across), T=there(across), **size)
        turned = work(bosses.boss_turning_stress, T=moment[..., 2], t=t, d=d)
        return work(
            bosses.beside_boss_stress,
            along=work(bosses.boss_bending_stress, M=there(along), **size),
            across=bent.value + turned.value,
            square=work(
                bosses.boss_force_stress, F=push, M=push * np.maximum((d + t) / 2.0, a), t=t, d=d, W=W
            ),
            V=np.hypot(np.asarray(force)[..., 0], np.asarray(force)[..., 1]), t=t, d=d,
        )  # fmt: skip

    def root(self, metal: Material, modes: Modes) -> Spot:
        """The root of what stands there, for fatigue of the plate."""
        name = self.name
        beside = f"{name}, plate beside it, yield"
        if self.fillet is None:
            return Spot(
                f"{name}, plate beside it", metal, stress_of(modes, beside), self.diameter,
                work(hole_in_plate, beta=0.0), note="as beside a hole", around=self.around,
            )  # fmt: skip
        t = self.thickness
        d = np.clip(self.diameter, t / bosses.THICKEST, t / bosses.THINNEST)
        blunt = np.maximum(self.fillet, t / bosses.SHARPEST)
        # Sharper than the study the stress rises no faster than at the root of a crack.
        sharper = np.sqrt(blunt / np.minimum(np.maximum(self.fillet, SHARP), blunt))
        K = work(bosses.boss_fillet_factor, t=t, d=d, r=blunt)
        return Spot(
            f"{name}, root on the plate", metal, stress_of(modes, beside, sharper), self.diameter, K,
            note="the plate beside it times the factor of its fillet, felt in full", around=self.around,
        )  # fmt: skip


def plate_beside(
    shape: Shape, mounted: MountSet, at: Any, pad: Any, name: str, diameter: Any, fillet: Any
) -> Beside:
    """The plate beside what stands at a place; its width there is that of the metal within the pad across the way
    to each mount, or of all that lies between the points where no window is cut.

    Args:
        shape: of the plate.
        mounted: its mounts.
        at: the place [mm].
        pad: radius of the pad there [mm].
        name: of what stands there, as its fixture is called; a cylinder's foot, which stands on two, has none.
        diameter: of it [mm].
        fillet: at its root [mm]; None where it has none.
    """
    away = np.stack(np.broadcast_arrays(*(np.asarray(v, float) for v in at)), axis=-1)
    others = [k for k in range(len(mounted.mounts)) if f"mount {k + 1}" != name]
    toward = (mounted.places - away[..., None, :])[..., others, :]

    def each(value: Any) -> Any:
        return np.asarray(value, float)[..., None] * np.ones(toward.shape[-2])

    if shape.plate.windows == "none":
        rims = [(one.at, shape.plate.web / 2.0) for one in shape.fixtures]
        width = each(2.0 * np.maximum(pad, least_room(away, rims)))
    elif all(one.name != name for one in shape.fixtures):
        width = each(2.0 * pad)
    elif shape.one_figure:
        edge = min(float(diameter) / 2.0, float(pad))
        ways = toward / np.hypot(toward[..., 0], toward[..., 1])[..., None]
        outer, windows = shape.figure.outer, shape.figure.windows
        width = np.array(
            [metal_across(outer, windows, away + edge * way, way, float(pad)) for way in ways]
        )
    else:
        # Of many plates at once the figure is not drawn: of the pad alone, which is less.
        width = each(2.0 * np.sqrt(np.square(pad) - np.square(np.minimum(diameter / 2.0, pad))))
    return Beside(name, shape.plate.thickness, diameter, fillet, width, toward, away)


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
