"""Pins and posts that stick out of one plate, and bolts that are held by one ear: nothing holds the far end.

A post in a hole turns about the middle of its engagement: the pressure runs straight from a peak at the mouth
to a peak the other way at the bottom. A bolt locked in a tapped ear is the same: it works as a cantilever until
its far end has used up the clearance of the other ear.

Worked example: 2 kN at 12 mm above the face on a pin of 8 mm pressed 10 mm deep:
p = 2000/(8·10)·(4 + 6·12/10) = 280 MPa, where V/(d L) is 25.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.validity import within

LINEAR = (
    "statics with a straight run of pressure; Roloff/Matek, Maschinenelemente, ch. 9 (pin pressed in and bent), "
    "and Niemann, Maschinenelemente; from memory"
)


@method(
    formula="p = V/(d L) (4 + 6 h/L) + 6 M/(d L²)",
    source=LINEAR,
    valid="engaged length over nil",
    holds=lambda V, h, d, L, M=0.0: np.asarray(L) > 0.0,
)
def mouth_pressure(V: Number, h: Number, d: Number, L: Number, M: Number = 0.0) -> Number:
    """Largest pressure of a post in its hole, at the mouth; hold it against the bearing yield of the softer.

    For stop pins, spring posts, pegs, studs and bolts held by one wall, pressed or screwed in.

    Args:
        V [N]: force across the post.
        h [mm]: force above the face.
        d [mm]: diameter in the hole; of a thread its pitch diameter.
        L [mm]: engaged length, less chamfers.
        M [N*mm]: moment beside, that turns the same way.

    Returns:
        [MPa] pressure.

    Example: that of the head of this file.
        >>> float(mouth_pressure(2000.0, 12.0, 8.0, 10.0))
        280.0
    """
    V, area = np.abs(V), np.multiply(d, L)
    with np.errstate(divide="ignore", invalid="ignore"):
        p = V / area * (4.0 + 6.0 * np.divide(h, L)) + 6.0 * np.abs(M) / (area * np.asarray(L))
    return within(np.asarray(L) > 0.0, p)


@method(
    formula="p = V/(d L) (2 + 6 h/L) + 6 M/(d L²)",
    source=LINEAR,
    valid="engaged length over nil",
    holds=lambda V, h, d, L, M=0.0: np.asarray(L) > 0.0,
)
def bottom_pressure(V: Number, h: Number, d: Number, L: Number, M: Number = 0.0) -> Number:
    """Pressure of a post in its hole at the inner end, on the other side.

    Args:
        V [N]: force across the post.
        h [mm]: force above the face.
        d [mm]: diameter in the hole; of a thread its pitch diameter.
        L [mm]: engaged length, less chamfers.
        M [N*mm]: moment beside, that turns the same way.

    Returns:
        [MPa] pressure.

    Example:
        >>> float(bottom_pressure(2000.0, 12.0, 8.0, 10.0))
        230.0
    """
    return mouth_pressure(V, h, d, L, M) - 2.0 * np.abs(V) / np.multiply(d, L)


@method(
    formula="M = V (h + L/(2 k) − L/(6 k²)), k = 3 + 6 h/L",
    source=LINEAR + "; the moment where the shear has fallen to nil, at L/k below the face",
    valid="engaged length over nil",
    holds=lambda V, h, L: np.asarray(L) > 0.0,
)
def buried_moment(V: Number, h: Number, L: Number) -> Number:
    """Largest bending moment of a post: a little below the face, where the hole has taken up the force.

    Args:
        V [N]: force across the post.
        h [mm]: force above the face.
        L [mm]: engaged length.

    Returns:
        [N*mm] moment; hold the post's section in the hole, or its thread root, against it.

    Example: 4 % more than V h here.
        >>> round(float(buried_moment(2000.0, 12.0, 10.0)))
        24948
    """
    L = np.asarray(L, float)
    with np.errstate(divide="ignore", invalid="ignore"):
        k = 3.0 + 6.0 * np.divide(h, L)
        arm = h + L / (2.0 * k) - L / (6.0 * k**2)
    return within(L > 0.0, np.abs(V) * arm)


@method(
    formula="V_c = 6 EI c / (s² (3 w − s))",
    source="cantilever loaded at s, deflection at w; Shigley, Table A-9; Beer & Johnston, Appendix D",
    valid="load between the ears, s from over nil to w",
    holds=lambda c, s, w, EI: (np.asarray(s) > 0.0) & (np.asarray(s) <= np.asarray(w)),
)
def closing_load(c: Number, s: Number, w: Number, EI: Number) -> Number:
    """Load at which a bolt held by one ear first touches the other.

    Args:
        c [mm]: clearance that the bolt has to take up at the far ear, on one side: from resting against the
            wrong side it is the whole of hole less bolt.
        s [mm]: face of the ear that holds the bolt to the load: half the throat for a rod end in the middle.
        w [mm]: the same to the middle of the far ear's bearing.
        EI [N*mm^2]: bending stiffness of the bolt, of its thread root where that lies in the throat.

    Returns:
        [N] load.

    Example: M8 shank, 0.2 mm, throat 14 mm and far ear 6 mm thick.
        >>> round(float(closing_load(0.2, 7.0, 17.0, 205.0e3 * 201.1)))
        22946
    """
    s, w = np.asarray(s, float), np.asarray(w, float)
    ok = (s > 0.0) & (s <= w)
    with np.errstate(divide="ignore", invalid="ignore"):
        return within(ok, 6.0 * np.asarray(EI) * c / (s**2 * (3.0 * w - s)))


@method(
    formula="M = V s − w R, R = max(V s² (3 w − s)/(2 w³) − 3 EI c/w³, 0)",
    source="cantilever, then propped at its end; Shigley, Table A-9; Roark's Formulas, 7th ed., Table 8.1",
    valid="load between the ears, s from over nil to w",
    holds=lambda V, c, s, w, EI: (np.asarray(s) > 0.0) & (np.asarray(s) <= np.asarray(w)),
)
def one_ear_moment(V: Number, c: Number, s: Number, w: Number, EI: Number) -> Number:
    """Bending moment of a bolt at the ear that holds it, before and after the far ear helps.

    For a bolt screwed and locked in a tapped ear with the other ear bored to pass it. The ear is taken as
    rigid: one that gives lets the far ear help sooner.

    Args:
        V [N]: load of the rod end or tongue.
        c [mm]: clearance that the bolt has to take up at the far ear.
        s [mm]: face of the ear that holds the bolt to the load.
        w [mm]: the same to the middle of the far ear's bearing.
        EI [N*mm^2]: bending stiffness of the bolt.

    Returns:
        [N*mm] moment at the face of the ear.

    Example: M8 shank under 6 kN: still a cantilever.
        >>> round(float(one_ear_moment(6000.0, 0.2, 7.0, 17.0, 205.0e3 * 201.1)))
        42000
    """
    V, s, w = np.abs(np.asarray(V, float)), np.asarray(s, float), np.asarray(w, float)
    ok = (s > 0.0) & (s <= w)
    with np.errstate(divide="ignore", invalid="ignore"):
        prop = V * s**2 * (3.0 * w - s) / (2.0 * w**3) - 3.0 * np.asarray(EI) * c / w**3
        return within(ok, V * s - w * np.maximum(prop, 0.0))


@method(
    formula="V_2 = max(V s² (3 w − s)/(2 w³) − 3 EI c/w³, 0)",
    source="cantilever, then propped at its end; Shigley, Table A-9",
    valid="load between the ears, s from over nil to w",
    holds=lambda V, c, s, w, EI: (np.asarray(s) > 0.0) & (np.asarray(s) <= np.asarray(w)),
)
def far_ear_load(V: Number, c: Number, s: Number, w: Number, EI: Number) -> Number:
    """Load that the far ear takes of a bolt held by the near one; the near ear has the rest, and the moment.

    Args:
        V [N]: load of the rod end or tongue.
        c [mm]: clearance that the bolt has to take up at the far ear.
        s [mm]: face of the ear that holds the bolt to the load.
        w [mm]: the same to the middle of the far ear's bearing.
        EI [N*mm^2]: bending stiffness of the bolt.

    Returns:
        [N] load on the far ear; nil while its gap is open.

    Example: no clearance: 5/16 of a load at the middle.
        >>> float(far_ear_load(1600.0, 0.0, 10.0, 20.0, 205.0e3 * 200.0))
        500.0
    """
    moment = one_ear_moment(V, c, s, w, EI)
    share: Number = (np.abs(V) * np.asarray(s) - moment) / w
    return share
