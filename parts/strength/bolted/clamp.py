"""Split clamps on a plain bar: what pinch bolts hold by friction, and what the ears bear.

How a clamp hugs its bar decides how much friction its bolts buy. `N` is the force that presses the
two halves of the clamp on the bar; the friction torque is c·μ·N·d with
  RIGID    c = 1     stiff hub bored a little large: it touches along two lines,
  COSINE   c = 4/π   pressure falling off as the cosine from the middle of each half,
  FLEXIBLE c = π/2   hub that follows the bar: the same pressure all round (H7/h6 or closer, thin).
Without a measured fit use RIGID. Friction holds only while bolts stay tight and faces stay dry.

Worked example: two bolts of 12 kN in a clamp split on one side, on a bar of 20 mm; from the hinge
line at the back it is 30 mm to the bolts and 15 mm to the bar's middle: N = 2·12 000·30/15 =
48 000 N; with μ = 0.12 and RIGID, T = 0.12·48 000·20 = 115 200 N*mm.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.validity import between, within

RIGID = 1.0
COSINE = 4.0 / np.pi
FLEXIBLE = np.pi / 2.0

COMMON = "statics; common practice in texts on machine elements (clamped hubs), no source"


@method(
    formula="N = n F a / b",
    source=COMMON + ": halves hinged at the back; for a clamp in two halves with bolts on both "
    "sides put n for all bolts and a = b",
    valid="a and b positive; the slit stays open",
    holds=lambda n, F, a, b: (np.asarray(a) > 0.0) & (np.asarray(b) > 0.0),
)
def clamp_force(n: Number, F: Number, a: Number, b: Number) -> Number:
    """Force that presses the halves on the bar, the back of the clamp bending like a hinge.

    Args:
        n [-]: number of pinch bolts.
        F [N]: preload of one bolt, less what closing the slit uses up (`closing_force`).
        a [mm]: from the hinge line at the back to the bolts.
        b [mm]: from the hinge line at the back to the middle of the bar.

    Returns:
        [N] force between the halves and the bar.
    """
    ok = (np.asarray(a) > 0.0) & (np.asarray(b) > 0.0)
    return within(ok, np.divide(np.multiply(n, F) * a, b))


@method(
    formula="N = 2 n F",
    source="band under tension nF: p = 2nF/(dL) all round, no friction along the band",
)
def band_force(n: Number, F: Number) -> Number:
    """Force on the bar in a thin clamp that works as a band; use it with FLEXIBLE only.

    Args:
        n [-]: number of pinch bolts.
        F [N]: preload of one bolt.

    Returns:
        [N] force between the halves and the bar.
    """
    return 2.0 * np.multiply(n, F)


@method(
    formula="T = c μ N d",
    source=COMMON + "; each c is an integral of the stated pressure round the bar",
    valid="c from 1 (RIGID) to π/2 (FLEXIBLE)",
    holds=lambda N, d, mu, c=RIGID: between(c, RIGID, FLEXIBLE),
)
def friction_torque(N: Number, d: Number, mu: Number, c: Number = RIGID) -> Number:
    """Torque at which the clamp slips round the bar.

    Args:
        N [N]: force that presses the halves on the bar.
        d [mm]: diameter of the bar.
        mu [-]: coefficient of friction; 0.10 to 0.15 for dry machined steel, common practice.
        c [-]: RIGID, COSINE or FLEXIBLE.

    Returns:
        [N*mm] torque at slip.
    """
    return within(between(c, RIGID, FLEXIBLE), c * np.multiply(mu, N) * d)


@method(
    formula="F_a = 2 c μ N",
    source=COMMON + "; the same friction as in `friction_torque`, along the bar",
    valid="c from 1 (RIGID) to π/2 (FLEXIBLE)",
    holds=lambda N, mu, c=RIGID: between(c, RIGID, FLEXIBLE),
)
def friction_force(N: Number, mu: Number, c: Number = RIGID) -> Number:
    """Force at which the clamp slips along the bar.

    Args:
        N [N]: force that presses the halves on the bar.
        mu [-]: coefficient of friction.
        c [-]: RIGID, COSINE or FLEXIBLE.

    Returns:
        [N] force at slip.
    """
    return within(between(c, RIGID, FLEXIBLE), 2.0 * c * np.multiply(mu, N))


@method(
    formula="T_e = √(T² + (F d/2)²)",
    source="statics: friction at the surface acts against the resultant of both",
)
def torque_with_thrust(T: Number, F: Number, d: Number) -> Number:
    """Torque that asks as much friction as a torque and a force along the bar together.

    Args:
        T [N*mm]: torque.
        F [N]: force along the bar.
        d [mm]: diameter of the bar.

    Returns:
        [N*mm] torque to hold against `friction_torque`.
    """
    return np.hypot(T, np.multiply(F, d) / 2.0)


@method(
    formula="p = N / (d L)", source="projected area; the peak where pressure is the same all round"
)
def mean_pressure(N: Number, d: Number, L: Number) -> Number:
    """Pressure between clamp and bar on the projected area; the peak for FLEXIBLE.

    Args:
        N [N]: force that presses the halves on the bar.
        d [mm]: diameter of the bar.
        L [mm]: length of the clamp.

    Returns:
        [MPa] pressure.
    """
    return np.divide(N, np.multiply(d, L))


@method(formula="p = 4 N / (π d L)", source="integral of p cos φ over each half")
def cosine_pressure(N: Number, d: Number, L: Number) -> Number:
    """Peak pressure where it falls off as the cosine from the middle of each half.

    Args:
        N [N]: force that presses the halves on the bar.
        d [mm]: diameter of the bar.
        L [mm]: length of the clamp.

    Returns:
        [MPa] peak pressure.
    """
    return 4.0 / np.pi * mean_pressure(N, d, L)


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


@method(formula="τ = 1.5 n F / (w t)", source="beam theory: rectangle in shear")
def ear_shear_stress(n: Number, F: Number, w: Number, t: Number) -> Number:
    """Largest shear stress at the root of a clamp's ear.

    Args:
        n [-]: number of pinch bolts on this ear.
        F [N]: preload of one bolt.
        w [mm]: width of the ear along the bar; holes that cross the root taken off.
        t [mm]: thickness of the ear in the direction of the bolts.

    Returns:
        [MPa] shear stress.
    """
    return 1.5 * np.multiply(n, F) / np.multiply(w, t)


@method(
    formula="F_c = δ E I / (3 π R³)",
    source="split ring pulled together at its slit (Castigliano, bending only); Roark's Formulas, "
    "7th ed., ch. 9 treats the same ring",
)
def closing_force(delta: Number, E: Number, I: Number, R: Number) -> Number:  # noqa: E741
    """Pull across the slit, at the ring's mean radius, that is spent on closing the clamp itself.

    Thin ring, bending only: a ring thicker than a third of its radius is a little softer than this.

    Args:
        delta [mm]: how much the slit closes until the clamp touches the bar: π times the clearance.
        E [MPa]: Young's modulus of the clamp.
        I [mm^4]: second moment of area of the ring's section about the axis along the bar.
        R [mm]: mean radius of the ring.

    Returns:
        [N] pull of all bolts together.
    """
    return np.multiply(delta, E) * I / (3.0 * np.pi * np.power(R, 3.0))
