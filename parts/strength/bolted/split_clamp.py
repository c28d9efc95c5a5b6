"""What the bolts of a split clamp lose before they grip: closing the slit, settling, and the wrench.

`pinch` says what a force on the bar holds; this says which force can be counted on. A hub bored with
clearance has to be bent round the bar first, and the bolts that do it are tightened by one wrench, which errs
the same way on all of them: their scatter does not shrink with their number.

Worked example: aluminium hub (70 000 MPa), bar 22 mm with 0.05 mm clearance, ring 9 mm thick and 20 mm wide
(R = 15.5 mm, I = 1215 mm⁴), bolt 18 mm from the bar's centre: F_c = 0.05·70 000·1215·18/(15.5²·(2·18² +
15.5²)) = 359 N.
"""

from __future__ import annotations

import numpy as np

from parts.strength.bolted import joint
from parts.strength.method import Number, method
from parts.strength.tables import row, rows
from parts.strength.validity import Truth, within

RING = (
    "thin curved bar, bending only (Castigliano); Timoshenko, Strength of Materials, part I, section 79, and "
    "Roark's Formulas, 7th ed., ch. 9 treat the same ring"
)


def _bends(R: Number, e: Number, free: Number) -> Truth:
    """The bolt lies outside the ring's own radius, and some of the ring is free to bend."""
    return np.asarray(
        (np.asarray(e) >= np.asarray(R)) & (np.asarray(free) > 0.0) & (np.asarray(free) <= np.pi)
    )


def _lever_sums(R: Number, e: Number, free: Number) -> tuple[Number, Number]:
    """∫(e − R cos φ) dφ and ∫(e − R cos φ)² dφ from the slit to where the ring is held."""
    e, free = np.asarray(e, float), np.asarray(free, float)
    once = e * free - R * np.sin(free)
    twice = (
        e**2 * free
        - 2.0 * e * R * np.sin(free)
        + np.square(R) * (free / 2.0 + np.sin(2.0 * free) / 4.0)
    )
    return once, twice


@method(
    formula="F_c = c EI ∫(e − R cos φ) dφ / (2 R² ∫(e − R cos φ)² dφ), φ from the slit to `free`; "
    "all round: c EI e / (R² (2 e² + R²))",
    source=RING + "; the ring bent until it follows the bar all round",
    valid="bolt no nearer to the bar's centre than R, free from 0 to π; ring no thicker than its radius",
    holds=lambda c, EI, R, e, free=np.pi: _bends(R, e, free),
)
def closing_force(c: Number, EI: Number, R: Number, e: Number, free: Number = np.pi) -> Number:
    """Pull of all bolts together that is spent on bending a clamp round its bar before it grips.

    For the pinched hubs of arms, links and brackets. It is on the safe side: own finite elements of rings
    0.3 to 0.6 of R thick, with and without ears, touch the bar at 0.80 to 0.84 of it. An arm or web that
    grows out of the hub holds the ring still: `free` ends there, and what is left is far stiffer.

    Args:
        c [mm]: largest clearance of the fit, on the diameter; a press fit gives a gain, counted as nil.
        EI [N*mm^2]: bending stiffness of the ring: modulus · width · thickness³ / 12.
        R [mm]: mean radius of the ring.
        e [mm]: centre of the bar to the bolts.
        free [rad]: from the slit round to where the ring is held; π where nothing holds it.

    Returns:
        [N] pull of all bolts together; not a number outside the range.

    Example: that of the head of this file.
        >>> round(float(closing_force(0.05, 70.0e3 * 1215.0, 15.5, 18.0)))
        359
    """
    once, twice = _lever_sums(R, e, free)
    curl = np.maximum(c, 0.0) * np.asarray(EI) / (2.0 * np.square(R))
    with np.errstate(divide="ignore", invalid="ignore"):
        return within(_bends(R, e, free), curl * once / twice)


@method(
    formula="x = c ∫(e − R cos φ) dφ / R, φ from the slit to `free`; all round: π c e/R",
    source=RING + "; geometry of a ring whose curvature changes evenly",
    valid="bolt no nearer to the bar's centre than R, free from 0 to π",
    holds=lambda c, R, e, free=np.pi: _bends(R, e, free),
)
def slit_closure(c: Number, R: Number, e: Number, free: Number = np.pi) -> Number:
    """How much the slit closes at the bolts until the clamp follows its bar; the slit must be wider.

    Args:
        c [mm]: largest clearance of the fit, on the diameter.
        R [mm]: mean radius of the ring.
        e [mm]: centre of the bar to the bolts.
        free [rad]: from the slit round to where the ring is held; π where nothing holds it.

    Returns:
        [mm] closure at the bolts.

    Example:
        >>> round(float(slit_closure(0.05, 15.5, 18.0)), 3)
        0.182
    """
    once, _ = _lever_sums(R, e, free)
    return within(_bends(R, e, free), np.maximum(c, 0.0) * once / np.asarray(R, float))


@method(
    formula="F = n (F_i (1 − Γ) − ΔF) − F_c",
    source="NASA-STD-5020A (minimum preload), with n bolts that err together; common practice, no source",
    valid="scatter from 0 to 1",
    holds=lambda F_i, n, scatter, loss=0.0, F_c=0.0: (
        (np.asarray(scatter) >= 0.0) & (np.asarray(scatter) <= 1.0)
    ),
)
def least_grip(
    F_i: Number, n: Number, scatter: Number, loss: Number = 0.0, F_c: Number = 0.0
) -> Number:
    """Pull of a clamp's bolts that is left to press it on its bar; goes into `pinch.pinch_force`.

    Args:
        F_i [N]: mean preload of one bolt.
        n [-]: number of bolts.
        scatter [-]: relative scatter of the preload, from `slots.tightening_scatter` or 0.35 dry, 0.25 oiled.
        loss [N]: what one bolt loses by settling, from `joint.embedding_loss`.
        F_c [N]: pull of all bolts together that closes the clamp, from `closing_force`.

    Returns:
        [N] pull of all bolts together, not below nil.

    Example: two M6 of 9 kN, 25 % scatter, 0.5 kN lost each, 4 kN to close the slit.
        >>> float(least_grip(9.0e3, 2.0, 0.25, 500.0, 4.0e3))
        8500.0
    """
    one = joint.least_preload(F_i, scatter, loss)
    return np.maximum(np.multiply(n, one) - F_c, 0.0)


@method(
    formula="p = F / (π/4 (d_w² − d_h²))",
    source="VDI 2230-1, R10",
    valid="head wider than its hole",
    holds=lambda F, d_w, d_h: np.asarray(d_w) > np.asarray(d_h),
)
def head_pressure(F: Number, d_w: Number, d_h: Number) -> Number:
    """Pressure under a head, nut or washer; hold it against `creep_pressure` of the softer face.

    For every bolt that clamps soft metal; take the largest preload and what the load adds. A slot under the
    head takes off its own strip: put the hole that has the same area.

    Args:
        F [N]: largest tension of the bolt.
        d_w [mm]: outer diameter of the face that bears.
        d_h [mm]: hole, with its chamfer.

    Returns:
        [MPa] pressure; not a number where the hole is as wide as the head.

    Example: M8 at 20 kN, face 13 mm, hole 9 mm.
        >>> round(float(head_pressure(20.0e3, 13.0, 9.0)))
        289
    """
    ring = np.pi / 4.0 * np.subtract(np.square(d_w), np.square(d_h), dtype=float)
    with np.errstate(divide="ignore", invalid="ignore"):
        return within(np.asarray(d_w) > np.asarray(d_h), np.divide(F, ring))


def creep_pressure(metal: str) -> float:
    """Pressure under a head above which this metal yields away and the bolt loses its preload.

    Args:
        metal [-]: as the table `head_pressure` names it.

    Returns:
        [MPa] pressure.

    Raises:
        KeyError: no such metal; the message lists those there are.
    """
    return float(row("head_pressure", "metal", metal)["p_mpa"])


def settling(Rz: float, shear: bool, faces: int, heads: int = 2) -> float:
    """How far the faces of a joint settle after tightening, for `joint.embedding_loss`.

    Args:
        Rz [um]: roughness of the roughest face.
        shear [-]: True where the joint is loaded across its bolts.
        faces [-]: faces between the parts that touch.
        heads [-]: heads and nuts; 1 for a bolt in a tapped hole.

    Returns:
        [mm] settling of all faces together.

    Raises:
        ValueError: faces rougher than the table.

    Example: two milled parts, head and nut, loaded across: 3 + 2·4.5 + 2.5 µm.
        >>> settling(25.0, True, 1)
        0.0145
    """
    load = "shear" if shear else "tension"
    for one in rows("settling"):
        if one["load"] == load and float(one["rz_max_um"]) >= Rz:
            thread, head, face = (float(one[k]) for k in ("thread", "head_or_nut", "interface"))
            return 1e-3 * (thread + heads * head + faces * face)
    raise ValueError(f"Rz {Rz:g} um is rougher than the table of settling, which ends at 160 um")


@method(
    formula="σ = 6 n F e / (w t²)",
    source="beam theory: ear built in at the hub, bolt's pull at its end",
    valid="ear no shorter than half its thickness; for a stubbier one shear rules",
    holds=lambda n, F, e, w, t: np.asarray(e) >= 0.5 * np.asarray(t),
)
def ear_bending_stress(n: Number, F: Number, e: Number, w: Number, t: Number) -> Number:
    """Bending stress at the root of a clamp's ear.

    Args:
        n [-]: number of pinch bolts on this ear.
        F [N]: preload of one bolt.
        e [mm]: from the root of the ear to the bolts.
        w [mm]: width of the ear along the bar; holes that cross the root taken off.
        t [mm]: thickness of the ear in the direction of the bolts.

    Returns:
        [MPa] bending stress.
    """
    return 6.0 * np.multiply(n, F) * e / (w * np.square(t))
