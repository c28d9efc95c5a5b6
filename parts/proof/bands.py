"""How near finite elements must come to the hand calculation, by kind of number, and why.

Bands bound finite elements over hand. A hand value is wrong on the unsafe side where it lies a tenth below the
elements'; on the safe side it costs weight and hides errors.
"""

from __future__ import annotations

from typing import NamedTuple


class Band(NamedTuple):
    """Least and greatest of finite elements over hand [-], and the reason."""

    low: float
    high: float
    why: str
    change: str
    """What to change where the hand value is on the unsafe side."""


ANY = 1e6
UNSAFE = 1.0 / 0.90
"""A hand value may lie a tenth below that of the elements [-]."""
SECTION, NOTCH, HIGHEST = "critical section", "notch", "highest peak"
BUCKLING, BOLT, DEFLECTION = "buckling factor", "bolt", "deflection"
BANDS = {
    SECTION: Band(
        1.0 / 1.25, UNSAFE,
        "the resultants follow from statics; broken edges, shares of branches and loads that are spread near the "
        "section may take some",
        "make that section larger, or move the load",
    ),
    NOTCH: Band(
        1.0 / 1.6, UNSAFE,
        "by hand one factor, that of pull or bending, whichever is larger, stands on the whole nominal stress of the "
        "section, shear as well",
        "make its radius larger, or the section beside it",
    ),
    HIGHEST: Band(
        1.0 / 1.6, UNSAFE,
        "the highest stress anywhere, away from supports and sharp inward edges, beside the worst that any check of "
        "the case knows",
        "make the radius there larger or the wall thicker: no check looks there",
    ),
    BUCKLING: Band(
        0.95, ANY,
        "checks of buckling take yield and bows into account, which elements do not: they may only stand below",
        "make it thicker or shorter, or hold its free edge",
    ),
    BOLT: Band(
        0.80, 1.25,
        "the greatest of a rigid plate on equal springs and of a plate that gives, beside the elastic plate on rings",
        "take a larger bolt there, or a thicker plate that spreads the load",
    ),
    DEFLECTION: Band(0.90, 1.10, "the theory of bars with ends that give", "count with the elements' value"),
}  # fmt: skip


def band_of(low: float, high: float) -> str:
    """A band in words."""
    return f"{low:.2f} or more" if high >= ANY else f"{low:.2f} to {high:.2f}"
