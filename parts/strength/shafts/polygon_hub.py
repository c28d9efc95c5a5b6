"""The thin corners of a square or hexagon bore: the flats wedge them open, and the arm bends the ring about them.

`flats_hoop_stress` is the mean stress of a ring under the flats' push. The ligament between a corner's relief and the
outside bears more, for two reasons: it is bent, because the stiff metal beside the flats turns about it, and an arm
that holds the hub on one side passes the torque round the ring. Both were taken from finite elements with the bar in
contact (`tests/studies/polygon_hub.py`, seeded; square and hexagon hubs drawn at random). No case lies above the bound;
it lies at most 1.5 times above a section stress and 1.6 times above a peak, 1.3 in the middle.

The study is plane: the torque comes in evenly along the bore, and the arm is as thick as the hub is wide. One case was
solved in space too, a square hub 1.2 flats wide with an arm half as thick: its peak was 1.01 times that of the plane.

Worked example: a 20 mm square in a hub of 42 mm, reliefs 4 mm, arm 34 mm, a flat turned to it: t_w = 4.86 mm;
section 3.04·0.243^-0.053·0.2^-0.056·0.81^-0.572·e^0.128 = 4.60 times the mean hoop stress.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.tables import rows
from parts.strength.validity import Truth, between, within

STUDY = "own finite-element study, tests/studies/polygon_hub.py"
WALL, NARROWEST, THICKEST = 0.15, 0.5, 0.6
"""Ends of the study: least wall in widths across flats, least arm in diameters of the hub, greatest wall."""
RELIEF = {4: (0.05, 0.40), 6: (0.05, 0.23)}
"""Diameter of the reliefs in widths across flats, by the number of flats."""


def _studied(
    hoop: Number, n: Number, AF: Number, t_w: Number, d_r: Number, D: Number, w: Number, phi: Number
) -> Truth:
    least, most = (np.where(np.asarray(n) == 4, RELIEF[4][i], RELIEF[6][i]) for i in (0, 1))
    inside = between(np.divide(d_r, AF), least, 1.01 * most)
    inside = inside & between(np.divide(t_w, AF), WALL, THICKEST)
    inside = inside & np.greater_equal(np.divide(w, D), NARROWEST * (1.0 - 1e-9))
    return np.asarray(inside & ((np.asarray(n) == 4) | (np.asarray(n) == 6)))


def _factor(
    kind: str, n: Number, AF: Number, t_w: Number, d_r: Number, D: Number, w: Number, phi: Number
) -> Number:
    wall, relief, arm = np.divide(t_w, AF), np.divide(d_r, AF), np.minimum(np.divide(w, D), 1.0)
    value: Number = np.asarray(np.nan)
    for found in rows("polygon_hub"):
        if found["stress"] == kind:
            c = {name: float(found[name]) for name in ("level", "wall", "relief", "arm", "turn")}
            powers = wall ** c["wall"] * relief ** c["relief"] * arm ** c["arm"]
            here = c["level"] * powers * np.exp(c["turn"] * np.cos(np.multiply(n, phi)))
            value = np.where(np.asarray(n) == int(found["flats"]), here, value)
    return value


VALID = (
    "n 4 or 6; t_w/AF from 0.15 to 0.6; d_r/AF from 0.05 to 0.40 (square) or 0.23 (hexagon); arm at least half as "
    "wide as the hub; else nan"
)


@method(
    formula="σ = σ_h k; square: k = 3.04 (t_w/AF)^-0.053 (d_r/AF)^-0.056 (w/D)^-0.572 e^(0.128 cos 4φ); "
    "hexagon: k = 1.67 (t_w/AF)^-0.149 (d_r/AF)^-0.056 (w/D)^-0.375 e^(0.026 cos 6φ)",
    source=STUDY,
    valid=VALID,
    holds=_studied,
)
def corner_section_stress(
    hoop: Number, n: Number, AF: Number, t_w: Number, d_r: Number, D: Number, w: Number, phi: Number
) -> Number:
    """Stress across the thin ligament over a corner relief, force and moment together, as a straight line.

    For hubs of torsion-bar arms with a square or hexagon bore. Hold it against yield; the notch is left to
    `corner_peak_stress`.

    Args:
        hoop [MPa]: mean hoop stress, from `flats_hoop_stress`.
        n [-]: number of flats, 4 or 6.
        AF [mm]: across the flats of the bore.
        t_w [mm]: ligament between relief and outside.
        d_r [mm]: diameter of the relief drilled at the corner.
        D [mm]: outside diameter of the hub.
        w [mm]: width of the arm where it leaves the hub, square to its length and to the bar.
        phi [rad]: turn of the middle of a flat from the arm.

    Returns:
        [MPa] stress at the worse side of the ligament.
    """
    inside = _studied(hoop, n, AF, t_w, d_r, D, w, phi)
    return within(inside, hoop * _factor("section", n, AF, t_w, d_r, D, w, phi))


@method(
    formula="σ = σ_h k; square: k = 3.98 (t_w/AF)^0.218 (d_r/AF)^-0.496 (w/D)^-0.734 e^(0.158 cos 4φ); "
    "hexagon: k = 2.52 (t_w/AF)^0.224 (d_r/AF)^-0.476 (w/D)^-0.441 e^(0.025 cos 6φ)",
    source=STUDY,
    valid=VALID,
    holds=_studied,
)
def corner_peak_stress(
    hoop: Number, n: Number, AF: Number, t_w: Number, d_r: Number, D: Number, w: Number, phi: Number
) -> Number:
    """Largest principal stress on a corner relief, for fatigue.

    For hubs of torsion-bar arms with a square or hexagon bore. No other notch factor goes on it.

    Args:
        hoop [MPa]: mean hoop stress, from `flats_hoop_stress`.
        n [-]: number of flats, 4 or 6.
        AF [mm]: across the flats of the bore.
        t_w [mm]: ligament between relief and outside.
        d_r [mm]: diameter of the relief drilled at the corner.
        D [mm]: outside diameter of the hub.
        w [mm]: width of the arm where it leaves the hub, square to its length and to the bar.
        phi [rad]: turn of the middle of a flat from the arm.

    Returns:
        [MPa] stress.
    """
    inside = _studied(hoop, n, AF, t_w, d_r, D, w, phi)
    return within(inside, hoop * _factor("peak", n, AF, t_w, d_r, D, w, phi))
