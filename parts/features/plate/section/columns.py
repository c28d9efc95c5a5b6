"""Every section along a line through a plate at once, near enough to rank them.

`plate_section` traces each section exactly, one stretch after another. Here the sections of a whole line are
columns of metal between marks, for all stations in a few operations on arrays; edge breaks and root fillets are
left out, and torsion is that of a row of strips (`strength.strips`).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from parts.core.loadpath import in_axes
from parts.core.loads import resultant
from parts.features.plate.section.crossing import Run
from parts.features.plate.section.layers import Prism
from parts.features.plate.section.tracing import SAME, first_of
from parts.strength.section.outline import Array
from parts.strength.section.stress import Resultants
from parts.strength.section.strips import strip_torsion
from parts.strength.section.torsion import CLEARANCE
from parts.strength.vectors import cross

if TYPE_CHECKING:
    from parts.core.loads import Action, LoadCase

SHEAR = 1.5
"""Peak of the shear stress over its mean [-]: that of a rectangle."""


class Columns(NamedTuple):
    """Sections as columns: `v` (stations, marks) their ends [mm], `metal` (stations, marks - 1, cells) whether
    a column is metal between two of the heights `z` (cells + 1) [mm]."""

    v: Array
    z: Array
    metal: np.ndarray

    @property
    def breadth(self) -> Array:
        """Of each column [mm]."""
        return np.diff(self.v, axis=-1)

    @property
    def parted(self) -> np.ndarray:
        """Whether each section is in several pieces or hollow, (stations,)."""
        there = self.metal & (self.breadth > SAME)[..., None]
        begun = np.diff(there.any(-1).astype(np.int8), axis=-1, prepend=0) == 1
        hollow = (np.diff(there.astype(np.int8), axis=-1, prepend=0) == 1).sum(-1) > 1
        return np.asarray((begun.sum(-1) > 1) | hollow.any(-1))


def columns(prisms: Sequence[tuple[Prism, Sequence[Run]]], s: Array) -> Columns:
    """Cut a pile of prisms at the stations s.

    Args:
        prisms: in the order in which they are added and cut away, each with the runs of its figure.
        s: stations [mm], shape (n,).

    Returns:
        The columns; stations with fewer marks than others end in columns of no breadth.
    """
    z = _heights([prism for prism, _ in prisms])
    v, owner = _marks([runs for _, runs in prisms], s)
    # Between two marks a prism is there after an odd number of its own.
    own = owner[:, :-1, None] == np.arange(len(prisms))
    there = np.logical_xor.accumulate(own, axis=1)
    metal = np.zeros((*there.shape[:2], len(z) - 1), bool)
    for k, (prism, _) in enumerate(prisms):
        low, high = (int(np.argmin(np.abs(z - first_of(e)))) for e in (prism.low, prism.high))
        here = there[:, :, k, None]
        if prism.solid:
            metal[:, :, low:high] |= here
        else:
            metal[:, :, low:high] &= ~here
    return Columns(v, z, metal)


def _heights(prisms: Sequence[Prism]) -> Array:
    every = np.sort([first_of(end) for prism in prisms for end in (prism.low, prism.high)])
    return np.asarray(every[np.append(True, np.diff(every) > SAME)])


def _marks(loops: Sequence[Sequence[Run]], s: Array) -> tuple[Array, np.ndarray]:
    """Crossings of all figures in order of v, and which figure each is of (-1 for none)."""
    runs = [run for loop in loops for run in loop]
    owner = np.repeat(np.arange(len(loops)), [len(loop) for loop in loops])
    s0, s1 = np.array([run.s for run in runs]).T
    v0, v1 = np.array([run.v for run in runs]).T
    centre = np.array([run.centre or (0.0, 0.0) for run in runs])
    radius, side = np.array([(run.radius, run.side) for run in runs]).T
    at = s[:, None]
    crossed = (np.minimum(s0, s1) < at) & (at <= np.maximum(s0, s1))
    line = v0 + (at - s0) * (v1 - v0) / (s1 - s0)
    arc = centre[:, 1] + side * np.sqrt(np.maximum(radius**2 - (at - centre[:, 0]) ** 2, 0.0))
    v = np.where(crossed, np.where(radius > 0.0, arc, line), np.inf)
    most = max(int(crossed.sum(axis=-1).max()), 2)
    order = np.argsort(v, axis=-1, kind="stable")[:, :most]
    v = np.take_along_axis(v, order, -1)
    last = np.max(np.where(np.isfinite(v), v, -np.inf), axis=-1, keepdims=True)
    last = np.where(np.isfinite(last), last, 0.0)
    return np.where(np.isfinite(v), v, last), np.where(np.isfinite(v), owner[order], -1)


class Rough(NamedTuple):
    """Sections by their columns.

    Of shape (stations,) are `area` [mm^2], centroid `y`, `z` [mm], second moments [mm^4], `J` of all strips [mm^4], and
    `out`, how far the shear centre lies from the centroid along y [mm]. Of each column, `twist` is the torsional stress
    [MPa per N*mm]. `share_y` and `share_z` are the mean stress of its piece under unit forces [1/mm^2]: the pieces
    share the forces by their own second moments. `across` and `through` are its second moments about the centroid of
    its piece [mm^4], `middle` and `height` its place and height [mm].
    """

    columns: Columns
    area: Array
    y: Array
    z: Array
    Iyy: Array
    Izz: Array
    Iyz: Array
    out: Array
    twist: Array
    share_y: Array
    share_z: Array
    across: Array
    through: Array
    middle: Array
    height: Array
    J: Array


def rough(cut: Columns) -> Rough:
    """Properties of the sections, exact but for torsion."""
    w, dz = cut.breadth, np.diff(cut.z)
    mid_y, mid_z = (cut.v[:, 1:] + cut.v[:, :-1]) / 2.0, (cut.z[1:] + cut.z[:-1]) / 2.0
    heights = np.stack([dz, dz * mid_z, dz * mid_z**2 + dz**3 / 12.0], axis=-1)
    t, first, second = np.moveaxis(cut.metal.astype(float) @ heights, -1, 0)
    area = np.maximum((w * t).sum(-1), SAME)
    y, z = (w * t * mid_y).sum(-1) / area, (w * first).sum(-1) / area
    Iyy = (w * second).sum(-1) - area * z**2
    Izz = (w * t * mid_y**2 + w**3 * t / 12.0).sum(-1) - area * y**2
    Iyz = (w * first * mid_y).sum(-1) - area * y * z
    stiff = w * t**3
    centre = (stiff * mid_y).sum(-1) / np.maximum(stiff.sum(-1), SAME)
    piece = np.cumsum((w > 0.0) & (t <= 0.0), axis=-1)
    own = np.maximum(_by_piece(piece, w * t), SAME)
    middle = _by_piece(piece, w * t * mid_y) / own
    across = w * t * (mid_y - middle) ** 2 + w**3 * t / 12.0
    height = _by_piece(piece, w * first) / own
    through = w * second - w * first * height
    share_y, share_z = (
        _by_piece(piece, moment) / np.maximum(moment.sum(-1, keepdims=True), SAME) / own
        for moment in (across, through)
    )
    strips = strip_torsion(w, t, CLEARANCE * np.sqrt(own))
    return Rough(
        cut, area, y, z, Iyy, Izz, Iyz, centre - y, strips.stress, share_y, share_z, across, through, middle,
        height, strips.J,
    )  # fmt: skip


def _by_piece(piece: np.ndarray, values: Array) -> Array:
    """The sum of the values over the piece that each column belongs to."""
    found = np.zeros(values.shape)
    for k in range(int(piece.max(initial=0)) + 1):
        of = piece == k
        found = np.where(of, (values * of).sum(-1, keepdims=True), found)
    return found


class Framed(NamedTuple):
    """Openings beside which webs are the legs of a frame, at each station: how far the station is from the middle of
    the opening, where no leg is bent, and how long the opening is [mm]; no `length` where there is none."""

    lever: Array | float = 0.0
    length: Array | float = 0.0


WHOLE = Framed()
OF_STEEL_AND_LIGHT_METAL = 2.6
"""Young's over the shear modulus, 2 (1 + ν) [-]."""


def von_mises(section: Rough, forces: Resultants, frame: Framed = WHOLE) -> Array:
    """The largest von Mises stress of each section, near enough to rank it.

    Args:
        section: the sections.
        forces: what acts at their centroids, of shape (cases, stations).
        frame: openings whose webs are taken as legs of a frame with stiff ends: they bear the shear in the plane by
            bending, and share the torque by twist and by bending through the plate as they are stiff.

    Returns:
        [MPa] shape (cases, stations).
    """
    cut = section.columns
    det = section.Iyy * section.Izz - section.Iyz**2
    det = np.where(det > 0.0, det, np.inf)
    p = (-forces.Mz * section.Iyy - forces.My * section.Iyz) / det
    q = (forces.My * section.Izz + forces.Mz * section.Iyz) / det
    axial = forces.N / section.area
    low = np.where(cut.metal, cut.z[:-1], np.inf).min(-1)
    high = np.where(cut.metal, cut.z[1:], -np.inf).max(-1)
    solid = np.isfinite(low) & (cut.breadth > 0.0)
    torque = forces.T - forces.Vz * section.out
    twisted, lifted = _shared(section, frame, torque)
    bent = np.abs(forces.Vy * frame.lever / np.maximum(section.across.sum(-1), SAME))[..., None]
    normal = np.zeros((*axial.shape, solid.shape[-1]))
    for y in (cut.v[:, :-1], cut.v[:, 1:]):
        for level in (low, high):
            z = np.where(solid, level, 0.0)
            stress = axial[..., None] + p[..., None] * (y - section.y[:, None])
            stress = np.abs(stress + q[..., None] * (z - section.z[:, None]))
            legs = bent * np.abs(y - section.middle) + lifted * np.abs(z - section.height)
            normal = np.maximum(normal, stress + legs)
    tau = twisted[..., None] * section.twist
    by_y, by_z = (np.abs(V)[..., None] for V in (forces.Vy, forces.Vz))
    tau = tau + SHEAR * np.hypot(by_y * section.share_y, by_z * section.share_z)
    return np.asarray(np.where(solid, np.sqrt(normal**2 + 3.0 * tau**2), 0.0).max(-1))


def _shared(section: Rough, frame: Framed, torque: Array) -> tuple[Array, Array]:
    """What of the torque the webs bear by twist [N*mm], shape (cases, stations), and how the rest bends each column
    through the plate: its stress over the distance from the middle of the web [MPa/mm].

    Legs of length l with stiff ends, y off the middle, give 12 E I y²/l³ against a turn, their twist G J/l.
    """
    stiff = section.through
    centre = (stiff * section.middle).sum(-1) / np.maximum(stiff.sum(-1), SAME)
    off = section.middle - centre[:, None]
    spread = np.maximum((stiff * off**2).sum(-1), SAME)
    length = np.asarray(frame.length, float)
    legs = np.where(length > 0.0, spread / np.maximum(length, SAME) ** 2, 0.0)
    legs = 12.0 * OF_STEEL_AND_LIGHT_METAL * legs
    share = section.J / np.maximum(section.J + legs, SAME)
    lifted = np.abs(torque * (1.0 - share) * frame.lever / spread)[..., None] * np.abs(off)
    return np.abs(torque) * share, lifted


def pressed(section: Rough, forces: Resultants) -> Array:
    """Compression at the worse edge of each section with its shear, both of the forces in the plane of the plate
    alone: an equivalent stress [MPa], shape (cases, stations)."""
    cut = section.columns
    p = -forces.Mz / np.maximum(section.Izz, SAME)
    solid = cut.metal.any(-1) & (cut.breadth > 0.0)
    normal = np.zeros((*np.shape(p), solid.shape[-1]))
    for y in (cut.v[:, :-1], cut.v[:, 1:]):
        stress = (forces.N / section.area)[..., None] + p[..., None] * (y - section.y[:, None])
        normal = np.maximum(normal, -stress)
    tau = SHEAR * np.abs(forces.Vy)[..., None] * section.share_y
    return np.asarray(np.where(solid, np.sqrt(normal**2 + 3.0 * tau**2), 0.0).max(-1))


class Stretch(NamedTuple):
    """A stretch of a line from `start` to `end` [mm] with a number of stations."""

    start: float
    end: float
    stations: int

    def at(self, t: Array | None) -> Array:
        """Stations [mm] by the share t of the length; evenly spread where that is None."""
        share = np.linspace(0.0, 1.0, self.stations) if t is None else t
        return self.start + share * (self.end - self.start)


class Line:
    """All stretches of a line through a plate, estimated together at their own stations.

    `prisms` are the plate's, each with the runs of its figure; `origin` (2,) [mm] and the rows of `frame`, along and
    across the line, lie in the plane of the plate; `mirror` is -1 where the part is mirrored in the plane z = 0.
    `actions(s)` gives what acts beyond places s [mm] along the line; along a stretch it changes evenly.
    """

    def __init__(
        self,
        prisms: Sequence[tuple[Prism, Sequence[Run]]],
        origin: Array,
        frame: Array,
        mirror: float,
        stretches: Sequence[Stretch],
        actions: Callable[[Any], Callable[[LoadCase], Sequence[Action]]],
    ) -> None:
        self.prisms, self.stretches = tuple(prisms), tuple(stretches)
        self.origin, self.frame, self.mirror = origin, frame, mirror
        self.actions = actions
        self._found: tuple[tuple[LoadCase, ...], list[Array]] | None = None
        self._worst: dict[int, tuple[LoadCase, float, float]] = {}

    @cached_property
    def parted(self) -> np.ndarray:
        """Whether the section in the middle of each stretch is in several pieces or hollow."""
        middles = [(one.start + one.end) / 2.0 for one in self.stretches]
        return columns(self.prisms, np.array(middles)).parted

    def von_mises(self, k: int, cases: Sequence[LoadCase], t: Array | None = None) -> Array:
        """Estimate of the largest von Mises stress [MPa] at stations t of stretch k, shape (cases, n)."""
        if t is not None:
            return self._estimated([self.stretches[k]], cases, t)[0]
        if self._found is None or self._found[0] != tuple(cases):
            self._found = tuple(cases), self._estimated(self.stretches, cases, None)
        return self._found[1][k]

    def _estimated(
        self, stretches: Sequence[Stretch], cases: Sequence[LoadCase], t: Array | None
    ) -> list[Array]:
        cut = self._sections if t is None else self._cut(stretches, t)
        ends = np.cumsum(cut.many)[:-1]
        return np.split(von_mises(cut.section, self._forces(cut, cases)), ends, axis=-1)

    @cached_property
    def _sections(self) -> _Cut:
        """The sections at the evenly spread stations of every stretch: no load case changes them."""
        return self._cut(self.stretches, None)

    def _cut(self, stretches: Sequence[Stretch], t: Array | None) -> _Cut:
        stations = [one.at(t) for one in stretches]
        s = np.concatenate(stations)
        cut = columns(self.prisms, s)
        if self.mirror < 0.0:
            cut = Columns(cut.v, -cut.z[::-1], cut.metal[..., ::-1])
        return _Cut(tuple(stretches), [len(one) for one in stations], s, rough(cut))

    def worst(self, case: LoadCase, among: Sequence[LoadCase]) -> tuple[float, float]:
        """The largest von Mises stress of the line under a case [MPa], webs beside openings as legs of a frame, and
        the largest compression in the plane of the plate; see `pressed`. `among` are the cases that are looked at
        together, it among them."""
        if id(case) not in self._worst:
            section, forces = self._sections.section, self._forces(self._sections, among)
            each = von_mises(section, forces, self._framed), pressed(section, forces)
            pairs = zip(among, *(stress.max(-1).tolist() for stress in each), strict=True)
            self._worst |= {id(one): (one, bent, folded) for one, bent, folded in pairs}
        return self._worst[id(case)][1:]

    @cached_property
    def _framed(self) -> Framed:
        """The longest opening that each of the evenly spread stations crosses, where that parts its section."""
        s = self._sections.s
        lever, length = np.zeros((2, *s.shape))
        for prism, runs in self.prisms:
            if not prism.solid and runs:
                ends = [one.s for one in runs]
                low, high = min(map(min, ends)), max(map(max, ends))
                longer = (low < s) & (s < high) & (high - low > length)
                length = np.where(longer, high - low, length)
                lever = np.where(longer, np.abs(s - (low + high) / 2.0), lever)
        beside = self._sections.section.columns.parted
        return Framed(np.where(beside, lever, 0.0), np.where(beside, length, 0.0))

    def _forces(self, cut: _Cut, cases: Sequence[LoadCase]) -> Resultants:
        """What acts at the centroids."""
        section, s = cut.section, cut.s
        flat = self.origin + np.stack([s, section.y], axis=-1) @ self.frame
        centroid = np.concatenate([flat, section.z[:, None]], axis=-1)
        axes = np.eye(3)
        axes[:2, :2] = self.frame
        of = np.repeat(np.arange(len(cut.many)), cut.many)
        start, end = np.array([(one.start, one.end) for one in cut.stretches]).T
        share = ((s - start[of]) / (end - start)[of])[:, None]
        force, moment = np.empty((2, len(cases), len(s), 3))
        beyond = self.actions(start), self.actions(end)
        for j, case in enumerate(cases):
            first, last = (
                [np.broadcast_to(v, (len(start), 3))[of] for v in resultant(one(case), np.zeros(3))]
                for one in beyond
            )
            force[j], about = (
                (1.0 - share) * a + share * b for a, b in zip(first, last, strict=True)
            )
            moment[j] = about + cross(-centroid, force[j])
        return in_axes(force, moment, axes)


class _Cut(NamedTuple):
    """Stretches, how `many` stations each has, the stations [mm] of all, and their sections."""

    stretches: Sequence[Stretch]
    many: Sequence[int]
    s: Array
    section: Rough
