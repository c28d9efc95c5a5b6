"""Figures and reference solutions that the tests of sections, torsion and stress share."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from parts.strength.section.figures import annulus, circle, rectangle
from parts.strength.section.outline import QUARTER, Loop, Outline


def polygon(*points: tuple[float, float]) -> Outline:
    return Outline((Loop(np.array(points, float), np.zeros(len(points))),))


def i_section(b: float, h: float, tw: float, tf: float) -> Outline:
    y, z, w = b / 2, h / 2, tw / 2
    return polygon(
        (-y, -z), (y, -z), (y, -z + tf), (w, -z + tf), (w, z - tf), (y, z - tf),
        (y, z), (-y, z), (-y, z - tf), (-w, z - tf), (-w, -z + tf), (-y, -z + tf),
    )  # fmt: skip


def angle_section(leg: float, t: float) -> Outline:
    return polygon((0, 0), (leg, 0), (leg, t), (t, t), (t, leg), (0, leg))


def channel(b: float, h: float, t: float, r: float = 0.0) -> Outline:
    """Web on the left, open to +y; r rounds the two inner corners (0: edges of no length there)."""
    points = [
        (0, 0),
        (b, 0),
        (b, t),
        (t + r, t),
        (t, t + r),
        (t, h - t - r),
        (t + r, h - t),
        (b, h - t),
        (b, h),
        (0, h),
    ]
    bulge = np.zeros(10)
    bulge[[3, 5]] = -QUARTER if r else 0.0
    return Outline((Loop(np.array(points, float), bulge),))


def slit_tube(R: float, t: float, gap: float) -> Outline:
    """A tube of mean radius R and wall t, slit along its length at +y by `gap` radians."""
    a, b = R + t / 2, R - t / 2
    w = gap / 2
    ends = [(a, w), (a, np.pi), (a, -w), (b, -w), (b, np.pi), (b, w)]
    points = np.array([(r * np.cos(v), r * np.sin(v)) for r, v in ends])
    k = np.tan((np.pi - w) / 4)
    return Outline((Loop(points, np.array([k, k, 0.0, -k, -k, 0.0])),))


@dataclass(frozen=True)
class Ellipse:
    """A whole ellipse as one curve: half axes a along y and b along z [mm]."""

    a: float
    b: float
    breaks = (0.0, 1.0)

    def at(self, t):
        w = 2 * np.pi * np.asarray(t)
        c, s = np.cos(w), np.sin(w)
        return (
            np.stack([self.a * c, self.b * s], axis=-1),
            2 * np.pi * np.stack([-self.a * s, self.b * c], axis=-1),
        )


def spread() -> dict[str, Outline]:
    return {
        "rectangle": rectangle(12, 30),
        "I": i_section(40, 60, 5, 7),
        "channel with fillets": channel(30, 50, 5, 4),
        "angle": angle_section(40, 6),
        "tube with eccentric bore": circle(40).minus(circle(22, (4.0, -2.0))),
        "plate with two bores": rectangle(50, 20).minus(circle(9, (-12, 1)) + circle(6, (14, -2))),
        "two ears": rectangle(6, 30, (-15, 0)) + rectangle(8, 24, (13, 4)),
        "tube": annulus(30, 24),
    }


def reference(outline: Outline, size: float, nu: float = 0.0):
    """The same figure in the finite-element package sectionproperties; arcs in 60 chords each."""
    from sectionproperties.analysis import Section as Meshed
    from sectionproperties.pre import Geometry, Material
    from shapely.geometry import Polygon

    fine = outline.boundary()
    t = np.linspace(0, 1, 61)[:-1]
    rings = []
    for loop in fine.loops:
        rings.append(np.concatenate([c.at(t if c.bulge else np.zeros(1))[0] for c in loop]))
    shells = [Polygon(r) for r in rings if Polygon(r).exterior.is_ccw]
    holes = [Polygon(r) for r in rings if not Polygon(r).exterior.is_ccw]
    for hole in holes:
        shells = [s.difference(hole) for s in shells]
    steel = Material(
        name="reference", elastic_modulus=1.0, poissons_ratio=nu,
        yield_strength=1.0, density=1.0, color="w",
    )  # fmt: skip
    pieces = [Geometry(shell, material=steel) for shell in shells]
    geometry = sum(pieces[1:], pieces[0])
    return Meshed(geometry.create_mesh(mesh_sizes=[size]))
