"""The webs between the windows of a plate as the bars of a frame in space: each cut by itself, not across the plate.

A straight cut through a plate with windows takes the webs that it crosses as one section. Webs that bear a torque in
the plane, as spokes about an anchor, bend one by one: that only a frame shows. A bar is as wide as the metal is across
it, at its pads too: what is taken too stiff takes load off the webs beside it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, NamedTuple

import numpy as np

from parts.core.loads import Action
from parts.features.plate.figure import Figure
from parts.features.plate.section.crossing import runs
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


STEPS = 24
"""Even steps of a bar in which its width is taken [-]."""


class Web(NamedTuple):
    """A bar between two points of the plate.

    `i` and `j` are the points. `straight` says from where to where along their line windows lie straight beside the bar
    [mm]. The width [mm] is one number, or one for the middle of each of some even steps where it differs along the bar.
    The last says whether windows lie beside it.
    """

    i: int
    j: int
    straight: tuple[float, float]
    width: Any
    windowed: bool


def webs(figure: Figure, places: Array, width: float, pads: Array) -> list[Web]:
    """The bars of the frame: a web between windows, or a solid triangle that is no wider than it is high.

    Args:
        figure: of the plate.
        places: its points [mm], shape (n, 2).
        width: of its webs [mm].
        pads: radii of the pads of its points [mm], shape (n,).

    Returns:
        The bars; none of a plate without windows. A line through the pad of a third point is no bar: its metal is that
        of the bars to this point.
    """
    if not figure.windows:
        return []
    straights = [(a, b) for one in figure.windows for a, b, bulge in _sides(one) if bulge == 0.0]
    lines = {(min(p), max(p)) for a, b, c in figure.mesh for p in ((a, b), (b, c), (c, a))}
    found = []
    for i, j in sorted(lines):
        way = places[j] - places[i]
        long = float(np.hypot(*way))
        way = way / long
        between = [
            k
            for k in range(len(places))
            if {(min(i, k), max(i, k)), (min(j, k), max(j, k))} <= lines
        ]
        if any(_lies_on(places[k] - places[i], way, long, pads[k]) for k in between):
            continue
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
        solid = [0.0, 0.0]
        for one in figure.mesh:
            if {i, j} <= set(one) and not any(
                _inside(places[list(one)], w.points) for w in figure.windows
            ):
                off = sum(cross2(way, places[k] - places[i]) for k in one)
                solid[int(off > 0.0)] = abs(off)
        straight = (
            min((s for s, _, _ in beside), default=0.0),
            max((e for _, e, _ in beside), default=long),
        )
        steps = (np.arange(STEPS) + 0.5) / STEPS * long
        chord = [
            np.sqrt(np.maximum(pads[k] ** 2 - away**2, 0.0))
            for k, away in ((i, steps), (j, long - steps))
        ]
        most = np.maximum(np.maximum(*chord), width / 2.0)
        sides = _metal_beside(figure, places[i], way, steps)
        across = sum(np.minimum(v, np.maximum(most, h)) for v, h in zip(sides, solid, strict=True))
        found.append(Web(i, j, straight, across, bool(beside)))
    return found


def cross2(a: Array, b: Array) -> float:
    return float(a[0] * b[1] - a[1] * b[0])


def _sides(loop: Loop) -> list[tuple[Array, Array, float]]:
    points, bulges = loop.points, loop.bulge
    return list(zip(points, np.roll(points, -1, axis=0), map(float, bulges), strict=True))


def _lies_on(at: Array, way: Array, long: float, pad: float) -> bool:
    """Whether a line of that length passes through a pad between its ends."""
    return abs(cross2(way, at)) < pad and 0.0 < float(at @ way) < long


def _metal_beside(figure: Figure, start: Array, way: Array, steps: Array) -> tuple[Array, Array]:
    """How far the metal reaches from a line to its right and to its left at these steps along it [mm]."""
    frame = np.array([way, [-way[1], way[0]]])
    s0, v0 = frame @ start
    s, right, left = s0 + steps, np.full(len(steps), np.inf), np.full(len(steps), np.inf)
    for one in (run for loop in (figure.outer, *figure.windows) for run in runs(loop, frame)):
        there = (min(one.s) < s) & (s <= max(one.s))
        v = np.asarray(one.across(s[there])) - v0
        right[there] = np.minimum(right[there], np.where(v < 0.0, -v, np.inf))
        left[there] = np.minimum(left[there], np.where(v > 0.0, v, np.inf))
    return right, left


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
        """The largest von Mises stress of the webs beside windows [MPa], their bending one by one with it.

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
                    one,
                    self.thickness,
                    float(np.hypot(*(self.places[one.j] - self.places[one.i]))),
                    k @ turn @ np.concatenate([moved[one.i], moved[one.j]]),
                )
                for one, (k, turn) in zip(self.bars, self._ends, strict=True)
                if one.windowed
            ),
            default=0.0,
        )

    @cached_property
    def along(self) -> Array:
        """Places in the middle of the webs, as far as windows lie straight beside them and half a width into the pads
        [mm], shape (n, 2)."""
        found = [np.zeros((0, 2))]
        for one in self.bars:
            way = self.places[one.j] - self.places[one.i]
            long = float(np.hypot(*way))
            if one.windowed:
                x, w = _beside_windows(one, long)
                into = np.array([x[0] - w[0] / 2.0, *x, x[-1] + w[-1] / 2.0])
                found.append(self.places[one.i] + into[:, None] * way / long)
        return np.concatenate(found)

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


def _web_stress(one: Web, t: float, long: float, felt: Array) -> float:
    """The largest von Mises stress of a web beside its windows that feels this at its first point, in its own axes
    [MPa]."""
    N, Vy, Vz, T = felt[:4]
    x, w = _beside_windows(one, long)
    wide, thin = np.maximum(w, t), np.minimum(w, t)
    A = w * t
    Mz, My = felt[5] - Vy * x, felt[4] + Vz * x
    bent = 6.0 * np.abs(Mz) / (t * w**2) + 6.0 * np.abs(My) / (w * t**2)
    twist = abs(T) * (3.0 + 1.8 * thin / wide) / (wide * thin**2)
    shear = 1.5 * np.hypot(Vy, Vz) / A + twist
    # Shear is nil where bending is greatest; torsion is not.
    return float(
        np.maximum(np.hypot(abs(N) / A + bent, np.sqrt(3.0) * twist), np.sqrt(3.0) * shear).max()
    )


def _beside_windows(one: Web, long: float) -> tuple[Array, Array]:
    """Stations of a web where windows lie straight beside it, both ends among them, and its width there, of two steps
    the lesser [mm]."""
    widths = np.atleast_1d(np.asarray(one.width, float))
    middles = (np.arange(len(widths)) + 0.5) * long / len(widths)
    low, high = one.straight
    x = np.array([low, *middles[(low < middles) & (middles < high)], high])
    before = np.clip(np.searchsorted(middles, x, side="right") - 1, 0, len(widths) - 1)
    behind = np.clip(np.searchsorted(middles, x), 0, len(widths) - 1)
    return x, np.minimum(widths[before], widths[behind])


def _bar(one: Web, places: Array, t: float) -> tuple[Array, Array]:
    """Stiffness (12, 12) of a bar over Young's modulus in its axes, x along it and z square to the plate, and the turn
    of its ends into them (12, 12)."""
    way = places[one.j] - places[one.i]
    L = float(np.hypot(*way))
    w = np.broadcast_to(np.asarray(one.width, float), (STEPS,))
    step = L / STEPS
    ahead = L - (np.arange(STEPS) + 0.5) * step
    A, a, b = w * t, np.maximum(w, t), np.minimum(w, t)
    J = a * b**3 * (1.0 / 3.0 - 0.21 * b / a * (1.0 - (b / a) ** 4 / 12.0))
    # How the second end gives, held at the first, by what acts there; each step bends as its own width does.
    gives = np.diag(
        [np.sum(step / A), 0.0, 0.0, OF_STEEL_AND_LIGHT_METAL * np.sum(step / J), 0.0, 0.0]
    )
    for second, v, r, sign in ((t * w**3 / 12.0, 1, 5, 1.0), (w * t**3 / 12.0, 2, 4, -1.0)):
        turned, soft = np.sum(step / second), OF_STEEL_AND_LIGHT_METAL * SHEAR * np.sum(step / A)
        gives[v, v] = np.sum(step * ahead**2 / second) + step**2 / 12.0 * turned + soft
        gives[v, r] = gives[r, v] = sign * np.sum(step * ahead / second)
        gives[r, r] = turned
    stiff, carried = np.linalg.inv(gives), np.eye(6)
    carried[5, 1], carried[4, 2] = L, -L
    k = np.block([[carried @ stiff @ carried.T, -carried @ stiff], [-stiff @ carried.T, stiff]])
    x, y = way / L
    way = np.array([[x, y, 0.0], [-y, x, 0.0], [0.0, 0.0, 1.0]])
    return k, np.kron(np.eye(4), way)


def corner_notch(width: Any, radius: Any) -> Any:
    """K_t at the corner of a window, of a web in bending or pull [-]; arrays too."""
    return flat_fillet(WIDE * width, width, radius).K_t
