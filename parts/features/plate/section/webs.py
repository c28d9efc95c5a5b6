"""The webs between the windows of a plate as the bars of a frame in space: each cut by itself, not across the plate.

A straight cut through a plate with windows takes the webs that it crosses as one section. Webs that bear a torque in
the plane, as spokes about an anchor, bend one by one: that only a frame shows.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, NamedTuple

import numpy as np

from parts.core.loads import Action
from parts.features.plate.figure import Figure
from parts.features.section.notches import flat_fillet
from parts.strength.section.outline import Array, Loop
from parts.strength.vectors import cross

OF_STEEL_AND_LIGHT_METAL = 2.6
"""Young's over the shear modulus, 2 (1 + ν) [-]."""
SHEAR = 1.2
"""Share by which shear's own stiffness falls short of G A: 6/5 of a rectangle [-]."""
HELD = 1e-9
"""Stiffness that holds the frame in space, as a share of its stiffest [-]: loads and answers balance."""
WIDE = 3.0
"""A pad beside a web, in widths of the web, for the notch at the corner of a window [-]."""
BESIDE = 1.2
"""How far from the middle of a web its windows' straight edges lie at most, in half widths [-]."""


class Web(NamedTuple):
    """A bar between two points of the plate: which, from where to where along their line it is narrow [mm], its width
    [mm], and whether windows make it narrow. A pad counts as no stiffer than a web."""

    i: int
    j: int
    straight: tuple[float, float]
    width: float
    narrow: bool


def webs(figure: Figure, places: Array, width: float) -> list[Web]:
    """The bars of the frame: a web between windows, or a solid triangle that is as wide as it is high.

    Args:
        figure: of the plate.
        places: its points [mm], shape (n, 2).
        width: of its webs [mm].
    """
    straights = [(a, b) for one in figure.windows for a, b, bulge in _sides(one) if bulge == 0.0]
    found = []
    for i, j in sorted(
        {(min(p), max(p)) for a, b, c in figure.mesh for p in ((a, b), (b, c), (c, a))}
    ):
        way = places[j] - places[i]
        long = float(np.hypot(*way))
        way = way / long
        beside = []
        for a, b in straights:
            (s0, v0), (s1, v1) = (
                ((p - places[i]) @ way, cross2(way, p - places[i])) for p in (a, b)
            )
            if (
                max(abs(v0), abs(v1)) < BESIDE * width / 2.0
                and v0 * v1 > 0.0
                and abs(v0 - v1) < 1e-3
            ):
                beside.append((min(s0, s1), max(s0, s1), np.sign(v0)))
        solid = [
            _height(places[list(one)], places[i], way)
            for one in figure.mesh
            if {i, j} <= set(one)
            and not any(_inside(places[list(one)], w.points) for w in figure.windows)
        ]
        open_ = bool(beside) and not solid
        straight = 0.0, long
        if open_:
            straight = min(s for s, _, _ in beside), max(e for _, e, _ in beside)
        found.append(Web(i, j, straight, width if open_ else width + sum(solid), open_))
    return found


def cross2(a: Array, b: Array) -> float:
    return float(a[0] * b[1] - a[1] * b[0])


def _sides(loop: Loop) -> list[tuple[Array, Array, float]]:
    points, bulges = loop.points, loop.bulge
    return list(zip(points, np.roll(points, -1, axis=0), map(float, bulges), strict=True))


def _height(corners: Array, on: Array, way: Array) -> float:
    return float(max(abs(cross2(way, one - on)) for one in corners))


def _inside(corners: Array, points: Array) -> bool:
    middle = points.mean(axis=0)
    turns = [cross2(corners[k] - corners[k - 1], middle - corners[k - 1]) for k in range(3)]
    return min(turns) > 0.0 or max(turns) < 0.0


@dataclass(frozen=True)
class WebFrame:
    """The frame of a plate: its bars, its points [mm] of shape (n, 2), and the plate's thickness [mm], whose middle
    lies in z = 0 for the actions."""

    bars: Sequence[Web]
    places: Array
    thickness: float

    def stress(self, acting: Sequence[tuple[Array, Action]]) -> float:
        """The largest von Mises stress at the ends of the narrow webs [MPa], their bending one by one with it.

        Args:
            acting: loads and answers, which balance, each with its place on the plate; each acts on the nearest point.
        """
        n = len(self.places)
        force = np.zeros((n, 6))
        for place, acts in acting:
            near = int(np.argmin(np.hypot(*(self.places - place).T)))
            arm = np.asarray(acts.at, float) - np.append(self.places[near], 0.0)
            force[near, :3] += acts.force
            force[near, 3:] += np.asarray(acts.moment) + cross(arm, np.asarray(acts.force))
        moved = np.linalg.solve(self._stiffness, force.ravel()).reshape(n, 6)
        return max(
            (
                _web_stress(
                    one, self.thickness, k @ turn @ np.concatenate([moved[one.i], moved[one.j]])
                )
                for one, (k, turn) in zip(self.bars, self._ends, strict=True)
                if one.narrow
            ),
            default=0.0,
        )

    @cached_property
    def _ends(self) -> list[tuple[Array, Array]]:
        return [_bar(one, self.places, self.thickness) for one in self.bars]

    @cached_property
    def _stiffness(self) -> Array:
        """Of the whole over Young's modulus, (6 n, 6 n): no load changes it."""
        whole = np.zeros((6 * len(self.places), 6 * len(self.places)))
        for one, (k, turn) in zip(self.bars, self._ends, strict=True):
            at = np.r_[6 * one.i : 6 * one.i + 6, 6 * one.j : 6 * one.j + 6]
            whole[np.ix_(at, at)] += turn.T @ k @ turn
        return np.asarray(whole + HELD * np.abs(whole).max() * np.eye(len(whole)))


def _web_stress(one: Web, t: float, felt: Array) -> float:
    """The largest von Mises stress at the ends of a web that feels this at its first point, in its own axes [MPa]."""
    N, Vy, Vz, T = felt[:4]
    w, wide, thin = one.width, max(one.width, t), min(one.width, t)
    A = w * t
    bent = 0.0
    for x in one.straight:
        Mz, My = felt[5] - Vy * x, felt[4] + Vz * x
        bent = max(bent, 6.0 * abs(Mz) / (t * w**2) + 6.0 * abs(My) / (w * t**2))
    twist = abs(T) * (3.0 + 1.8 * thin / wide) / (wide * thin**2)
    shear = 1.5 * np.hypot(Vy, Vz) / A + twist
    # Shear is nil where bending is greatest; torsion is not.
    return max(
        float(np.hypot(abs(N) / A + bent, np.sqrt(3.0) * twist)), float(np.sqrt(3.0) * shear)
    )


def _bar(one: Web, places: Array, t: float) -> tuple[Array, Array]:
    """Stiffness (12, 12) of a bar over Young's modulus in its axes, x along it and z square to the plate, and the turn
    of its ends into them (12, 12)."""
    way = places[one.j] - places[one.i]
    L = float(np.hypot(*way))
    w = one.width
    A, Iz, Iy = w * t, t * w**3 / 12.0, w * t**3 / 12.0
    a, b = max(w, t), min(w, t)
    J = a * b**3 * (1.0 / 3.0 - 0.21 * b / a * (1.0 - (b / a) ** 4 / 12.0))
    k = np.zeros((12, 12))
    for stiff, x in ((A / L, 0), (J / OF_STEEL_AND_LIGHT_METAL / L, 3)):
        k[np.ix_([x, x + 6], [x, x + 6])] = stiff * np.array([[1.0, -1.0], [-1.0, 1.0]])
    for second, v, r, s in ((Iz, 1, 5, 1.0), (Iy, 2, 4, -1.0)):
        soft = 12.0 * second * OF_STEEL_AND_LIGHT_METAL * SHEAR / (A * L**2)
        k[np.ix_([v, r, v + 6, r + 6], [v, r, v + 6, r + 6])] = second / (L**3 * (1.0 + soft)) * np.array([
            [12.0, s * 6 * L, -12.0, s * 6 * L],
            [s * 6 * L, (4 + soft) * L**2, -s * 6 * L, (2 - soft) * L**2],
            [-12.0, -s * 6 * L, 12.0, -s * 6 * L],
            [s * 6 * L, (2 - soft) * L**2, -s * 6 * L, (4 + soft) * L**2],
        ])  # fmt: skip
    x, y = way / L
    way = np.array([[x, y, 0.0], [-y, x, 0.0], [0.0, 0.0, 1.0]])
    return k, np.kron(np.eye(4), way)


def corner_notch(width: Any, radius: Any) -> Any:
    """K_t at the corner of a window, of a web in bending or pull [-]; arrays too."""
    return flat_fillet(WIDE * width, width, radius).K_t
