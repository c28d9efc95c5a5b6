"""A rectangular tube welded end-on to another tube, flat or round: how its weld carries, what the wall bears, its peak.

The face is stiff at the side walls alone. Walls of the tube that run along the neighbour stand near those and carry
all over; walls that run across it carry near their corners alone, over an effective width. The weld is a figure of
lines with that width taken away. A round neighbour is stiffer than a flat face as wide, of the same wall.

`h` is the side of the tube along the neighbour, `b` the side across, `b_e` what counts of the walls across.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from parts.strength.method import Number, method
from parts.strength.validity import Truth, between, within
from parts.strength.welded.tube_joint import face_peak
from parts.strength.welded.tube_wall import transverse_plate_pull

AISC = "AISC 360-16, Table K5.1, T, Y and cross connections"
EN_ROUND = (
    "EN 1993-1-8:2005, Table 7.4, rectangular sections on round tubes, and the bound of Table 7.3 for a plate across it"
    "; from memory"
)
MEMORY = "; from memory, at full width that of Shigley's Table 9-2 (rectangle)"


@method(
    formula="b_e = 10 (t0/b0) (f_y t0/(f_y1 t1)) b, no more than b/2",
    source=AISC
    + " (b_eoi, and its bound beyond 0.85 of the width or 50 degrees, counted always)"
    + "; EN 1993-1-8:2005, Table 7.11; from memory",
    valid="b/b0 up to 1",
    holds=lambda b, b0, t0, t1, f_y, f_y1: between(np.divide(b, b0), 0.0, 1.0),
)
def effective_width(
    b: Number, b0: Number, t0: Number, t1: Number, f_y: Number, f_y1: Number
) -> Number:
    """What counts of a wall that runs across the face of a rectangular tube.

    Args:
        b [mm]: width of the tube across its neighbour.
        b0 [mm]: width of the neighbour's face.
        t0 [mm]: wall of the neighbour.
        t1 [mm]: wall of the tube.
        f_y [MPa]: yield strength of the neighbour's wall as welded.
        f_y1 [MPa]: yield strength of the tube's wall as welded.

    Returns:
        [mm] width, both ends of the wall together.

    Example: 30 mm of 2 on a face of 60 by 3, one metal: 10/20·1.5·30 = 22.5, a half counts.
        >>> float(effective_width(30.0, 60.0, 3.0, 2.0, 300.0, 300.0))
        15.0
    """
    b0, t1 = np.asarray(b0, float), np.asarray(t1, float)
    share = 10.0 * np.square(t0) * f_y / (b0 * t1 * f_y1)
    return within(between(np.divide(b, b0), 0.0, 1.0), np.minimum(share, 0.5) * b)


def _flow(
    b: Number, h: Number, b_e: Number, N: Number, V: Number, M_i: Number, M_o: Number, T: Number
) -> tuple[Any, Any]:
    """Force on each mm square to the weld and along it [N/mm]."""
    b, h, b_e = np.asarray(b, float), np.asarray(h, float), np.asarray(b_e, float)
    along = h**2 / 3.0 + b_e * h
    across = h * b + b**2 / 3.0 - (b - b_e) ** 3 / (3.0 * b)
    direct = np.abs(N) / (2.0 * h + 2.0 * b_e) + np.abs(M_i) / along + np.abs(M_o) / across
    sheared = 0.75 * np.abs(V) / np.minimum(b, h) + np.abs(T) / (2.0 * b * h)
    return direct, sheared


def _narrower(b: Number, h: Number, b_e: Number, *_: Number, **__: Number) -> Truth:
    return np.asarray((np.asarray(b_e) > 0.0) & (np.asarray(b_e) <= np.asarray(b) * (1.0 + 1e-9)))


@method(
    formula="q = √(q_n² + q_s²), q_n = |N|/(2 h + 2 b_e) + |M_i|/(h²/3 + b_e h) + "
    "|M_o|/(h b + b²/3 − (b − b_e)³/(3 b)), q_s = 0.75 |V|/min(b, h) + |T|/(2 b h)",
    source=AISC
    + MEMORY
    + "; shear flow of a closed thin wall (Bredt; V Q/I is never more than 0.75 V over a side)",
    valid="b_e up to b",
    holds=_narrower,
)
def box_fillet_force(
    b: Number, h: Number, b_e: Number, N: Number, V: Number, M_i: Number, M_o: Number, T: Number
) -> Number:
    """Largest force on each mm of a fillet round a rectangular tube on a flat face.

    Parts are added at one point, though shear and bending peak at different ones.

    Args:
        b [mm]: side of the tube across its neighbour.
        h [mm]: side along it.
        b_e [mm]: what counts of the sides across.
        N [N]: force along the tube.
        V [N]: force across it.
        M_i [N*mm]: moment that rocks it along its neighbour.
        M_o [N*mm]: moment that rocks it across.
        T [N*mm]: torque.

    Returns:
        [N/mm] force for each length.

    Example: 30 by 40, half of the sides across: 11 kN on 110 mm.
        >>> float(box_fillet_force(30.0, 40.0, 15.0, 11.0e3, 0.0, 0.0, 0.0, 0.0))
        100.0
    """
    direct, sheared = _flow(b, h, b_e, N, V, M_i, M_o, T)
    force: Number = np.hypot(direct, sheared)
    return force


@method(
    formula="σ_v = √(q_n² + 3 q_s²)/t, q_n and q_s as for the fillet round it",
    source=AISC + MEMORY,
    valid="b_e up to b",
    holds=_narrower,
)
def box_end_stress(
    b: Number,
    h: Number,
    b_e: Number,
    t: Number,
    N: Number,
    V: Number,
    M_i: Number,
    M_o: Number,
    T: Number,
) -> Number:
    """Equivalent stress in the wall of a rectangular tube beside its weld on a flat face.

    Args:
        b [mm]: side of the tube across its neighbour.
        h [mm]: side along it.
        b_e [mm]: what counts of the sides across.
        t [mm]: wall of the tube.
        N [N]: force along the tube.
        V [N]: force across it.
        M_i [N*mm]: moment that rocks it along its neighbour.
        M_o [N*mm]: moment that rocks it across.
        T [N*mm]: torque.

    Returns:
        [MPa] von Mises stress.

    Example: 100 N/mm of pull in a wall of 2.
        >>> float(box_end_stress(30.0, 40.0, 15.0, 2.0, 11.0e3, 0.0, 0.0, 0.0, 0.0))
        50.0
    """
    direct, sheared = _flow(b, h, b_e, N, V, M_i, M_o, T)
    stress: Number = np.hypot(direct, np.sqrt(3.0) * sheared) / np.asarray(t, float)
    return stress


@method(
    formula="k = 1.4 k_r max(1, (1 + b/h)/2), k_r the peak of a round tube as wide",
    source="`face_peak` over π/4, once more for a deeper fillet so that it lies above CIDECT Design Guide 8, square "
    "tubes, T joints in pull and in bending, fillet welds; b/h by the load on each mm of face; from memory",
    valid="b/b0 0.4 to 0.8, b0/t0 10 to 30, t1/t0 up to 1",
    holds=lambda b, h, b0, t0, t1, e=0.0: _on_face(b, b0, t0, t1),
)
def box_peak(b: Number, h: Number, b0: Number, t0: Number, t1: Number, e: Number = 0.0) -> Number:
    """Peak at the toe of a rectangular tube on the flat face of another, over any stress along the tube.

    Args:
        b [mm]: side of the tube across its neighbour.
        h [mm]: side along it.
        b0 [mm]: width of the face.
        t0 [mm]: its wall.
        t1 [mm]: wall of the tube.
        e [mm]: how far the tube stands off the middle of the face.

    Returns:
        [-] factor.

    Example: half as wide on a face of 20 walls, as thick: 1.4 times the 25.8 of a round tube.
        >>> round(float(box_peak(30.0, 30.0, 60.0, 3.0, 3.0)), 1)
        36.1
    """
    flat = np.maximum(1.0, (1.0 + np.divide(b, h)) / 2.0)
    return 1.4 * np.asarray(face_peak(b0, t0, b, t1, e)) * flat


def _on_face(b: Number, b0: Number, t0: Number, t1: Number) -> Truth:
    return np.asarray(
        between(np.divide(b, b0), 0.4, 0.8)
        & between(np.divide(b0, t0), 10.0, 30.0)
        & np.less_equal(np.divide(t1, t0), 1.0 + 1e-9)
    )


def _on_round(d0: Number, t0: Number, b: Number, h: Number) -> Truth:
    return np.asarray(
        between(np.divide(b, d0), 0.2, 1.0)
        & between(np.divide(h, d0), 0.0, 4.0)
        & np.less_equal(np.divide(d0, t0), 50.0 * (1.0 + 1e-9))
    )


ON_ROUND = "d0/t0 up to 50, b/d0 from 0.2 to 1, h/d0 up to 4"


def _wall_range(
    d0: Number, t0: Number, b: Number, h: Number, f_y: Number, k: Number = 1.0
) -> Truth:
    return _on_round(d0, t0, b, h)


@method(
    formula="N = k f_y t0² min(4 + 20 β², 5/(1 − 0.81 β)) (1 + 0.25 η), β = b/d0, η = h/d0",
    source=EN_ROUND,
    valid=ON_ROUND,
    holds=_wall_range,
)
def round_pull(
    d0: Number, t0: Number, b: Number, h: Number, f_y: Number, k: Number = 1.0
) -> Number:
    """Pull or push, square to a round tube, on a rectangular one that ends on it.

    Args:
        d0 [mm]: diameter of the neighbour.
        t0 [mm]: its wall, counted up to a tenth of the diameter.
        b [mm]: side of the tube across its neighbour.
        h [mm]: side along it.
        f_y [MPa]: yield strength of the neighbour's wall as welded.
        k [-]: factor for compression along the neighbour.

    Returns:
        [N] force.

    Example: 19 mm across and 38 along on 38 by 2: 350·4·min(9, 8.403)·1.25.
        >>> round(float(round_pull(38.0, 2.0, 19.0, 38.0, 350.0)))
        14706
    """
    plate = transverse_plate_pull(d0, t0, b, f_y, k)
    pull = np.asarray(plate) * (1.0 + 0.25 * np.divide(h, d0))
    return within(_on_round(d0, t0, b, h), pull)


@method(
    formula="M = h N/(1 + 0.25 η), N of `round_pull`, η = h/d0",
    source=EN_ROUND + " (its row of I sections; h N for rectangular tubes)",
    valid=ON_ROUND,
    holds=_wall_range,
)
def round_moment_along(
    d0: Number, t0: Number, b: Number, h: Number, f_y: Number, k: Number = 1.0
) -> Number:
    """Moment that rocks a rectangular tube along the round one that it ends on.

    Args:
        d0 [mm]: diameter of the neighbour.
        t0 [mm]: its wall, counted up to a tenth of the diameter.
        b [mm]: side of the tube across its neighbour.
        h [mm]: side along it.
        f_y [MPa]: yield strength of the neighbour's wall as welded.
        k [-]: factor for compression along the neighbour.

    Returns:
        [N*mm] moment.

    Example: 38 times what a plate as wide bears, 11764 N.
        >>> round(float(round_moment_along(38.0, 2.0, 19.0, 38.0, 350.0)))
        447059
    """
    moment = np.multiply(h, transverse_plate_pull(d0, t0, b, f_y, k))
    return within(_on_round(d0, t0, b, h), moment)


@method(
    formula="M = 0.5 b N, N of `round_pull`",
    source=EN_ROUND,
    valid=ON_ROUND,
    holds=_wall_range,
)
def round_moment_across(
    d0: Number, t0: Number, b: Number, h: Number, f_y: Number, k: Number = 1.0
) -> Number:
    """Moment that rocks a rectangular tube across the round one that it ends on.

    Args:
        d0 [mm]: diameter of the neighbour.
        t0 [mm]: its wall, counted up to a tenth of the diameter.
        b [mm]: side of the tube across its neighbour.
        h [mm]: side along it.
        f_y [MPa]: yield strength of the neighbour's wall as welded.
        k [-]: factor for compression along the neighbour.

    Returns:
        [N*mm] moment.

    Example: half of 19 times 14706 N.
        >>> round(float(round_moment_across(38.0, 2.0, 19.0, 38.0, 350.0)))
        139706
    """
    return 0.5 * np.asarray(b) * round_pull(d0, t0, b, h, f_y, k)


PULLED, ALONG = 1.5, 2.0
"""Peaks at the toe of a rectangular tube over those of a round one as wide, by the study: of a pull and of a moment
across the neighbour, and of a moment along it [-]."""


@method(
    formula="k = c k_r √max(h/b, 1)",
    source="a bound on a study in solid elements (tests/studies/square_on_round.py), 14 joints of d0/t0 10 to 30, "
    "whose peaks reach 0.35 to 0.88 of it; all of them stood square",
    valid="b/d0 0.4 to 0.8, h/b 0.5 to 2",
    holds=lambda k_r, b, h, c: between(np.divide(h, b), 0.5, 2.0),
)
def round_peak(k_r: Number, b: Number, h: Number, c: Number) -> Number:
    """Peak at the toe of a rectangular tube on a round one, over its own stress.

    Args:
        k_r [-]: peak of a round tube as wide on the same neighbour, its wall as thick; the higher of one that leans as
            much and of one that stands square.
        b [mm]: side of the tube across its neighbour.
        h [mm]: side along it.
        c [-]: what corners add: 1.5 of a pull and of a moment across, 2 of a moment along.

    Returns:
        [-] factor.

    Example: twice as long as wide, pulled, where a round one has 8: 1.5·8·√2.
        >>> round(float(round_peak(8.0, 20.0, 40.0, 1.5)), 1)
        17.0
    """
    oblong = np.sqrt(np.maximum(np.divide(h, b), 1.0))
    return within(between(np.divide(h, b), 0.5, 2.0), np.multiply(c, k_r) * oblong)
