"""Jam nuts under torque: what keeps a link from being screwed apart by the twist between its ends.

A link with a fork or a bolted tongue at each end carries torque, and at one end the torque unscrews. What
resists is the bite of the jam nut: friction in the thread, less its lead, and under the nut's face. The bite
comes from the same friction, so what holds is a share of the wrench's torque, least where friction is least.

It can let go in two ways: the body turns under the nut's face, or the shank turns in nut and body together,
which their face then keeps as one. The weaker counts.

Worked example: M10 (d2 9.026, p 1.5), face 12.5 mm on the mean, μ = 0.10: 0.65 of the wrench's torque is
held; tightened to 40 N·m by a wrench that may fall 25 % short, 19.6 N·m.
"""

from __future__ import annotations

import numpy as np

from parts.strength.bolted import joint, tightening
from parts.strength.method import Number, method
from parts.strength.validity import Truth, within

SHIGLEY = "Shigley, Mechanical Engineering Design, eq. 8-26, tightened and loosened with the same friction"


def _screws(d2: Number, p: Number) -> Truth:
    return np.asarray(np.asarray(p) < 0.5 * np.asarray(d2))


@method(
    formula="η = min(d2/2 tan(ρ − λ) + μ D_b/2, d2/2 (tan(ρ − λ) + tan(ρ + λ))) / (d2/2 tan(ρ + λ) + μ D_b/2), "
    "tan ρ = μ/cos 30°, tan λ = p/(π d2)",
    source=SHIGLEY,
    valid="60 degree thread, single start",
    holds=lambda d2, p, mu, D_b: _screws(d2, p),
)
def held_share(d2: Number, p: Number, mu: Number, D_b: Number) -> Number:
    """Share of its tightening torque at which a jam nut lets its joint unscrew.

    Args:
        d2 [mm]: pitch diameter.
        p [mm]: pitch.
        mu [-]: least friction in thread and under the face: 0.08 oiled or plated, 0.10 to 0.12 as received.
        D_b [mm]: mean diameter of the nut's face.

    Returns:
        [-] share; nil where the thread would run off by itself.

    Example: that of the head of this file.
        >>> round(float(held_share(9.026, 1.5, 0.10, 12.5)), 2)
        0.65
    """
    up = tightening.tightening_torque(1.0, d2, p, mu, mu, D_b)
    down = tightening.loosening_torque(1.0, d2, p, mu, mu, D_b)
    both = tightening.loosening_torque(1.0, d2, p, mu, 0.0, 0.0) + np.asarray(
        tightening.tightening_torque(1.0, d2, p, mu, 0.0, 0.0)
    )
    with np.errstate(divide="ignore", invalid="ignore"):
        share = np.minimum(down, both) / np.asarray(up)
    return within(_screws(d2, p), np.maximum(share, 0.0))


@method(
    formula="T_h = η T (1 − Γ)(1 − loss)",
    source=SHIGLEY + "; scatter of the wrench as in NASA-STD-5020A; common practice, no source",
    valid="scatter and loss from 0 to 1; 60 degree thread",
    holds=lambda T, d2, p, mu, D_b, scatter, loss=0.0: (
        _screws(d2, p)
        & (np.asarray(scatter) >= 0.0)
        & (np.asarray(scatter) <= 1.0)
        & (np.asarray(loss) >= 0.0)
        & (np.asarray(loss) <= 1.0)
    ),
)
def torque_held(
    T: Number, d2: Number, p: Number, mu: Number, D_b: Number, scatter: Number, loss: Number = 0.0
) -> Number:
    """Torque between the ends of a link that its jam nut surely holds.

    For turnbuckles and links whose ends are both kept from turning by what they are pinned to. One end always
    unscrews, whatever the hand of its thread. Rod ends with a ball at either end carry no such torque.

    Args:
        T [N*mm]: torque to which the nut is tightened.
        d2 [mm]: pitch diameter.
        p [mm]: pitch.
        mu [-]: least friction in thread and under the face.
        D_b [mm]: mean diameter of the nut's face.
        scatter [-]: how far the wrench may fall short; the friction's own scatter is in `mu`.
        loss [-]: share of the bite lost to settling; 0.1 to 0.2 on short thick parts, common practice.

    Returns:
        [N*mm] torque.

    Example: that of the head of this file.
        >>> round(float(torque_held(40.0e3, 9.026, 1.5, 0.10, 12.5, 0.25)))
        19554
    """
    ok = (np.asarray(scatter) >= 0.0) & (np.asarray(scatter) <= 1.0)
    ok = ok & (np.asarray(loss) >= 0.0) & (np.asarray(loss) <= 1.0)
    left = np.multiply(T, 1.0 - np.asarray(scatter)) * (1.0 - np.asarray(loss))
    return within(ok, held_share(d2, p, mu, D_b) * left)


@method(
    formula="F_j = T (1 − Γ)/(T per newton at the most friction) − loss",
    source="Shigley, Mechanical Engineering Design, eq. 8-26; VDI 2230-1, R13; scatter as in NASA-STD-5020A",
    valid="scatter from 0 to 1; 60 degree thread",
    holds=lambda T, d2, p, mu_most, D_b, scatter, loss=0.0: (
        _screws(d2, p) & (np.asarray(scatter) >= 0.0) & (np.asarray(scatter) <= 1.0)
    ),
)
def least_bite(
    T: Number, d2: Number, p: Number, mu_most: Number, D_b: Number, scatter: Number, loss: Number = 0.0
) -> Number:  # fmt: skip
    """Preload of a jam nut that can be counted on; hold it against `joint.jam_preload_needed`.

    Args:
        T [N*mm]: torque to which the nut is tightened.
        d2 [mm]: pitch diameter.
        p [mm]: pitch.
        mu_most [-]: greatest friction in thread and under the face: 0.20 dry.
        D_b [mm]: mean diameter of the nut's face.
        scatter [-]: how far the wrench may fall short; the friction's own scatter is in `mu_most`.
        loss [N]: lost to settling, from `joint.embedding_loss`.

    Returns:
        [N] preload, not below nil.

    Example: M10 at 40 N·m, dry and 10 % short.
        >>> round(float(least_bite(40.0e3, 9.026, 1.5, 0.20, 12.5, 0.1)))
        14135
    """
    mean = tightening.preload_by_friction(T, d2, p, mu_most, mu_most, D_b)
    return within(_screws(d2, p), np.asarray(joint.least_preload(mean, scatter, loss)))


@method(
    formula="T_h = P d2/2 (μ' − tan λ)/(1 + μ' tan λ), μ' = μ/cos 30°, not below 0",
    source="Shigley, Mechanical Engineering Design, eq. 8-26 without the face (power screw, lowering)",
    valid="60 degree thread, single start",
    holds=lambda P, d2, p, mu: _screws(d2, p),
)
def torque_held_loose(P: Number, d2: Number, p: Number, mu: Number) -> Number:
    """Torque that a thread holds by the steady pull in the link when its jam nut is loose.

    Nothing is held where the pull comes and goes: then P is nil, and vibration turns the end by itself.

    Args:
        P [N]: least steady tension or compression in the link.
        d2 [mm]: pitch diameter.
        p [mm]: pitch.
        mu [-]: least friction in the thread.

    Returns:
        [N*mm] torque.

    Example: M10 with 5 kN at all times.
        >>> round(float(torque_held_loose(5000.0, 9.026, 1.5, 0.10)))
        1403
    """
    held = tightening.loosening_torque(np.abs(P), d2, p, mu, 0.0, 0.0)
    return within(_screws(d2, p), np.maximum(held, 0.0))
