"""A ball with a printed rating, loaded across its pin and along it at once.

A rod end in the throat of a clevis is part of the joint: its rating bounds the clevis as much as the ears do. A
side load on the link presses the ball out along the pin, where it bears a tenth or a fifth of its rating.

Worked example: 6 kN across and 0.5 kN along on a rod end rated 20 kN, share 0.1: 6/20 + 0.5/2 = 0.55.
"""

from __future__ import annotations

import numpy as np

from parts.strength.method import Number, method
from parts.strength.pinned import rod_end
from parts.strength.validity import within


@method(
    formula="R = |F_r|/C_0 + |F_a|/(share C_0)",
    source="common practice, no source: the parts that the two loads use, added; makers' factors for both together "
    "ask less",
    valid="rating over nil, share over 0 to 1",
    holds=lambda F_r, F_a, C_0, share=0.1: (
        (np.asarray(C_0) > 0.0) & (np.asarray(share) > 0.0) & (np.asarray(share) <= 1.0)
    ),
)
def rated_use(F_r: Number, F_a: Number, C_0: Number, share: Number = 0.1) -> Number:
    """Share of its static rating that a rod end or spherical bearing uses.

    For the rod end in a clevis's throat, at both ends of a link, and for spherical bearings in arms.

    Args:
        F_r [N]: force across the pin: the pull or push of the link.
        F_a [N]: force along the pin.
        C_0 [N]: static radial rating; for reversing load `rodend.reversing_capacity` of it.
        share [-]: part of the rating that counts along the pin.

    Returns:
        [-] use; 1 is the limit.

    Example: that of the head of this file.
        >>> round(float(rated_use(6000.0, 500.0, 20.0e3)), 2)
        0.55
    """
    ok = (np.asarray(C_0) > 0.0) & (np.asarray(share) > 0.0) & (np.asarray(share) <= 1.0)
    with np.errstate(divide="ignore", invalid="ignore"):
        across = np.abs(F_r) / np.asarray(C_0, float)
        along = np.abs(F_a) / np.asarray(rod_end.axial_capacity(C_0, share), float)
    return within(ok, across + along)
