"""A plate loaded through a boss, peg or post: the plate bends locally round it, and so does the root of the boss.

A section of the plate counts its full width, but the load enters over the width of the boss. `trunnion_stress` and
`rigid_post_stress` are exact for a round plate with a rigid middle. The stresses `boss_bending_stress`,
`boss_twist_stress` and `boss_force_stress` bound a plate strip with a boss: the strip's own stress and the trunnion's,
shared by how wide the strip is. They were held against finite elements of plates drawn at random
(`tests/studies/boss_on_plate.py`, seeded): they lie from 1.0 to 1.7 times the largest stress on the smooth face beside
the boss, 1.3 in the middle. Finer meshes give 2 % more, under twist 4 %. Stresses of several loads are added, signs
left out.

Worked example: a moment of 50 N*m from a boss of 20 mm into a plate 60 x 8 mm, all toward one mount 70 mm away: full
section 6 M/(W t²) = 78.1 MPa; k = 1/7, S = 0.984; σ = 50e3/64·(1.05·6/60 + 6/(π·20)·(1 - 1/3)·0.984) = 131.0 MPa.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.validity import Truth, between, within

ROARK = "Roark's Formulas for Stress and Strain, 7th ed., Table 11.2, "
PLATES = "Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., "
STRIP = 1.05
"""How much more than its even share the middle of a narrow strip bears beside a rigid boss; from the study."""
THINNEST, THICKEST, WIDEST, SHARPEST = 0.15, 0.6, 6.0, 10.0
"""Ends of the study: thickness and width of the plate in diameters of the boss, thickness in radii of the fillet."""
STUDY = "own finite-element study, tests/studies/boss_on_plate.py"


def _middle_held(d: Number, a: Number, **_: Number) -> Truth:
    return np.asarray(np.less(np.divide(d, 2.0), a))


def _edge(d: Number, a: Number, nu: Number) -> Number:
    """Share of the infinite plate's trunnion stress that a simply supported edge at a radius leaves."""
    square = np.square(np.divide(d, 2.0 * np.asarray(a, float)))
    above = (1.0 + nu) + (1.0 - nu) * square
    share: Number = 1.0 - 4.0 * square * above / ((6.0 + 2.0 * nu) + (2.0 - 2.0 * nu) * square**2)
    return share


@method(
    formula="σ = 6 M S/(π d t²), S = 1 - 4 k² ((1 + ν) + (1 - ν) k²)/((6 + 2 ν) + (2 - 2 ν) k⁴), k = d/(2 a)",
    source=ROARK
    + "central couple on a trunnion, edge simply supported, in closed form; the infinite plate (S = 1): "
    + PLATES
    + "chapter 9",
    valid="boss within the plate",
    holds=lambda M, t, d, a, nu=0.3: _middle_held(d, a),
)
def trunnion_stress(M: Number, t: Number, d: Number, a: Number, nu: Number = 0.3) -> Number:
    """Bending stress at the rim of a rigid boss that a moment tilts in the middle of a round plate.

    For bosses with metal and supports all round; `boss_bending_stress` covers strips.

    Args:
        M [N*mm]: moment that the boss hands to the plate, about an axis in the plate.
        t [mm]: thickness of the plate.
        d [mm]: diameter of the boss.
        a [mm]: middle of the boss to the support round it; infinite is on the safe side.
        nu [-]: Poisson's ratio.

    Returns:
        [MPa] radial stress at the faces; nan where the boss is as large as the plate.
    """
    stress = 6.0 * np.abs(M) * _edge(d, a, nu) / (np.pi * np.multiply(d, np.square(t)))
    return within(_middle_held(d, a), stress)


@method(
    formula="σ = 3 P/(2 π t²) (2 ((1 + ν) ln x + 1)/((1 + ν) + (1 - ν)/x²) - 1), x = 2 a/d",
    source=PLATES
    + "section 17 (plate with a hole or a rigid middle), from its constants; "
    + ROARK
    + "case 1b",
    valid="boss within the plate",
    holds=lambda P, t, d, a, nu=0.3: _middle_held(d, a),
)
def rigid_post_stress(P: Number, t: Number, d: Number, a: Number, nu: Number = 0.3) -> Number:
    """Bending stress at the rim of a rigid boss that a force pushes through a round plate, its edge simply supported.

    For bosses with supports all round.

    Args:
        P [N]: force square to the plate.
        t [mm]: thickness of the plate.
        d [mm]: diameter of the boss.
        a [mm]: middle of the boss to the support round it; the farthest where it is no circle.
        nu [-]: Poisson's ratio.

    Returns:
        [MPa] radial stress at the faces; nan where the boss is as large as the plate.
    """
    x = 2.0 * np.divide(a, d)
    rise = 2.0 * ((1.0 + nu) * np.log(x) + 1.0) / ((1.0 + nu) + (1.0 - nu) / x**2) - 1.0
    return within(_middle_held(d, a), 1.5 * np.abs(P) / (np.pi * np.square(t)) * rise)


def _strip(t: Number, d: Number, W: Number, **_: Number) -> Truth:
    thick = np.greater_equal(np.divide(t, d), THINNEST * (1.0 - 1e-9))
    return np.asarray(thick & np.less_equal(d, W))


def _spread(t: Number, d: Number, W: Number, a: Number, wider: float = 0.0) -> Number:
    """Stress of the trunnion within a strip, for a moment of 1 [1/mm^3]; the boss counts as wider by a share of t."""
    trunnion = np.asarray(trunnion_stress(1.0, t, d, a)) * np.divide(d, d + wider * np.asarray(t))
    share: Number = (1.0 - np.divide(d, W)) * trunnion
    return share


@method(
    formula="σ = 1.05 · 6 M/(W t²) + (1 - d/W) σ_tr, σ_tr = trunnion_stress(M, t, d, a)",
    source=STUDY + "; in its limits a strip bent along itself and " + ROARK + "trunnion",
    valid="d up to W, t/d at least 0.15, else nan",
    holds=lambda M, t, d, W, a: _strip(t, d, W),
)
def boss_bending_stress(M: Number, t: Number, d: Number, W: Number, a: Number) -> Number:
    """Stress on the face of a plate beside a boss that hands it a moment along the strip to its mounts.

    For tapped, forked and stub pegs, pivots, posts and stood-off mounts on a foot bracket, and any boss on a plate. It
    stands in place of the section's stress by this moment, not beside it.

    Args:
        M [N*mm]: moment that flows to one side: all of it where the mounts are on one side, else the larger share.
        t [mm]: thickness of the plate.
        d [mm]: diameter of the boss; of a block that is no circle its least width.
        W [mm]: width of the plate across the moment's way, at the boss, less how far the boss stands off its middle;
            the least up to the mounts.
        a [mm]: middle of the boss to the nearest mount.

    Returns:
        [MPa] stress.
    """
    strip = 6.0 * STRIP * np.abs(M) / (np.asarray(W) * np.square(t))
    stress = strip + np.abs(M) * np.asarray(_spread(t, d, W, a))
    return within(_strip(t, d, W), stress)


@method(
    formula="σ = 1.18 T (3 + 1.8 t/W)/(W t²) + (1 - d/W) σ_tr d/(d + 0.75 t), σ_tr = trunnion_stress(M, t, d, a)",
    source=STUDY
    + "; in its limits a strip in torsion (flat_twist_stress) and "
    + ROARK
    + "trunnion",
    valid="d up to W, t/d at least 0.15, else nan",
    holds=lambda M, T, t, d, W, a: _strip(t, d, W),
)
def boss_twist_stress(M: Number, T: Number, t: Number, d: Number, W: Number, a: Number) -> Number:
    """Stress on the face of a plate beside a boss that hands it a moment across the strip, which twists it.

    For the same places as `boss_bending_stress`, and the moment square to the one there.

    Args:
        M [N*mm]: moment that the boss hands to the plate, about the axis along the strip.
        T [N*mm]: torque in the strip on its side with more: M where the mounts are on one side.
        t [mm]: thickness of the plate.
        d [mm]: diameter of the boss; of a block that is no circle its least width.
        W [mm]: width of the plate at the boss, less how far the boss stands off its middle; the least up to the
            mounts.
        a [mm]: middle of the boss to the nearest mount.

    Returns:
        [MPa] largest principal stress.
    """
    twist = 1.18 * np.abs(T) * (3.0 + 1.8 * np.divide(t, W)) / (np.asarray(W) * np.square(t))
    stress = twist + np.abs(M) * np.asarray(_spread(t, d, W, a, wider=0.75))
    return within(_strip(t, d, W), stress)


@method(
    formula="σ = 6 M/(w t²) + 0.107 (F/t²) (1 - d/w) (d/t)^1.25, w = min(W, 6 d)",
    source=STUDY,
    valid="d up to W, t/d at least 0.15, else nan",
    holds=lambda F, M, t, d, W: _strip(t, d, W),
)
def boss_force_stress(F: Number, M: Number, t: Number, d: Number, W: Number) -> Number:
    """Stress on the face of a plate beside a boss that a force pushes or pulls square to it.

    For the same places as `boss_bending_stress`. It stands in place of the section's stress by this force.

    Args:
        F [N]: force square to the plate.
        M [N*mm]: moment of this force in the strip half a thickness beyond the boss, and no less than in its middle.
        t [mm]: thickness of the plate.
        d [mm]: diameter of the boss.
        W [mm]: width of the plate at the boss, less how far the boss stands off its middle.

    Returns:
        [MPa] stress.
    """
    w = np.minimum(W, WIDEST * np.asarray(d))
    local = 0.107 * np.abs(F) * (1.0 - np.divide(d, w)) * np.power(np.divide(d, t), 1.25)
    return within(_strip(t, d, W), (6.0 * np.abs(M) / w + local) / np.square(t))


@method(
    formula="σ = √3 2 T/(π d² t)",
    source="the plate sheared along the rim of what turns in it: Shigley, Mechanical Engineering Design, ch. 3 (thin "
    "ring in torsion); from memory",
)
def boss_turning_stress(T: Number, t: Number, d: Number) -> Number:
    """Stress in a plate round what a torque in the plane of the plate turns, as a shear of the same von Mises stress.

    For bosses that hold a bar, and cups.

    Args:
        T [N*mm]: torque about what stands square to the plate.
        t [mm]: thickness of the plate.
        d [mm]: diameter of what is turned.

    Returns:
        [MPa] stress.
    """
    stress: Number = np.sqrt(3.0) * 2.0 * np.abs(T) / (np.pi * np.square(d) * t)
    return stress


@method(
    formula="σ = σ_along + σ_across + σ_square + V/(d t)",
    source="signs left out: the worst places of all four are taken to meet; common practice, no source",
)
def beside_boss_stress(
    along: Number, across: Number, square: Number, V: Number, t: Number, d: Number
) -> Number:
    """Stress on the face of a plate beside a boss under all that the boss hands it.

    For the same places as `boss_bending_stress`.

    Args:
        along [MPa]: stress of the moment along the strip, from `boss_bending_stress`.
        across [MPa]: stress of the moment across it, from `boss_twist_stress`.
        square [MPa]: stress of the force square to the plate, from `boss_force_stress`.
        V [N]: force in the plane of the plate, borne over the width of the boss.
        t [mm]: thickness of the plate.
        d [mm]: diameter of the boss.

    Returns:
        [MPa] stress.
    """
    stress: Number = np.add(along, across) + square + np.abs(V) / np.multiply(d, t)
    return stress


def _filleted(t: Number, d: Number, r: Number) -> Truth:
    inside = between(np.divide(t, d), THINNEST, THICKEST)
    return np.asarray(inside & np.less_equal(np.divide(t, SHARPEST), r))


@method(
    formula="K = 1.95 (t/r)^0.55 (t/d)^0.2, not below 1",
    source=STUDY,
    valid="t/d from 0.15 to 0.6, r at least t/10, else nan; blunter than 0.9 t is taken as that",
    holds=_filleted,
)
def boss_fillet_factor(t: Number, d: Number, r: Number) -> Number:
    """Largest principal stress on the root fillet of a boss over the bound of the plate's stress beside it.

    For fatigue of the roots of bosses on a plate: times the sum of `boss_bending_stress`, `boss_twist_stress` and
    `boss_force_stress`. Over the study the product is 1.0 to 2.0 times the peak of the elements under a moment,
    1.5 in the middle, and up to 4.4 times under a force alone.

    Args:
        t [mm]: thickness of the plate.
        d [mm]: diameter of the boss.
        r [mm]: radius of the fillet between boss and plate.

    Returns:
        [-] K.
    """
    r = np.minimum(r, 0.9 * np.asarray(t))
    with np.errstate(divide="ignore", invalid="ignore"):
        factor = 1.95 * np.power(np.divide(t, r), 0.55) * np.power(np.divide(t, d), 0.2)
    return within(_filleted(t, d, r), np.maximum(factor, 1.0))


@method(
    formula="σ = 32 (M + V h) d/(π (d⁴ - d_i⁴))",
    source="beam theory; Gere & Goodno, Mechanics of Materials, chapter 5",
    valid="bore less than the boss",
    holds=lambda V, h, d, d_i=0.0, M=0.0: np.less(d_i, d),
)
def boss_root_bending(
    V: Number, h: Number, d: Number, d_i: Number = 0.0, M: Number = 0.0
) -> Number:
    """Nominal bending stress of a boss at its root, under a shear that acts at a height.

    For mount bosses that stand off, peg bosses, posts and stubs; the factor of a fillet on a shaft (`round_fillet`
    with D twice the boss) goes on it, in fatigue too.

    Args:
        V [N]: shear across the boss.
        h [mm]: height over the root at which it acts: the top of a stood-off mount.
        d [mm]: diameter of the boss.
        d_i [mm]: bore: of a clearance hole, or the major diameter of a tapped one.
        M [N*mm]: further moment at the root, as that of a peg.

    Returns:
        [MPa] stress; nan where the bore is as large as the boss.
    """
    ring = np.power(d, 4.0) - np.power(d_i, 4.0)
    with np.errstate(divide="ignore"):
        stress = 32.0 * (np.abs(M) + np.abs(np.multiply(V, h))) * d / (np.pi * ring)
    return within(np.less(d_i, d), stress)
