"""How a welded plate between two tubes is held at the first and loaded at the second: what its proof needs."""

from __future__ import annotations

from collections.abc import Sequence

from parts.core.loads import LoadCase
from parts.core.supports import Along, Applied, Held, Support, longer
from parts.families.gusset.standing import Standing

BANDWIDTH = 0.75
"""How far the faces along a weld may reach from its line, in thicknesses [-]."""
CUT_LOOSE = "held along tube A's weld; what tube B's weld carries is applied along that weld"
STEADY = "for buckling tube B keeps its edge from swaying out of the plate's plane"


def plate_held(plate: Standing, tab: Sequence[Applied], case: LoadCase) -> Held:
    """A plate under a load case; `tab` is what the pin does to its tab, nothing without a tab.

    A weld that ends before the end of its edge holds the whole edge all the same.
    """
    thickness, stop = float(plate.thickness), float(plate.stop)
    edges = [Along(longer(one.path.points, stop), BANDWIDTH * thickness) for one in plate.joints]
    tube, _, taken = plate.entering(case)
    loads = [Applied("tube b", (edges[1],), (*tube, *taken)), *tab]
    support = Support("tube a", (edges[0],), 0.5 * thickness)
    guide = Support("tube b", (edges[1],), 0.5 * thickness, "along", plate.form.frame.normal)
    return Held(
        plate.share.piece, (support,), tuple(loads), slender=True, guides=(guide,),
        notes=(CUT_LOOSE, STEADY),
    )  # fmt: skip
