"""Places of a part that fatigue is checked at besides its sections: threads, welds, a torsion bar.

A family states them in `Part.details()`; `parts.core.fatigue` sums what the spectrum does there.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any, NamedTuple

import numpy as np

from parts.core.check import Check
from parts.core.loadpath import Notch
from parts.core.loads import LoadCase
from parts.standards.materials.materials import Material
from parts.standards.threads.threads import Thread
from parts.strength.bolted.fatigue import thread_fatigue_factor
from parts.strength.fatigue import sensitivity
from parts.strength.method import work

BUTT = "round tubes end to end, butt weld, wall under 8 mm"
SOCKET = "tube to flange or socket, fillet weld"
ROOT = "fillet weld root, cruciform or tee"
TOE = "fillet weld toe, cruciform or tee, up to 50 mm"
HOT_SPOT = "toe of a fillet weld, hot-spot stress"
ALONG = "longitudinal gusset up to 50 mm long"
SLIT = "round tube slit and welded to a plate, holes at the ends"
"""Details as `parts.strength.welded.detail` names them."""

ALUMINIUM_PETERSON = 0.51
"""Peterson's length of wrought aluminium [mm]; Dowling, Mechanical Behavior of Materials, from memory."""
STEELS = ("low-alloy steel", "carbon steel", "spring steel", "stainless steel")

Stress = Callable[[LoadCase], Any]
"""The nominal stress [MPa] under a load case, its sign left out; a number or worked."""


class Spot(NamedTuple):
    """A place of one round section with a nominal stress and a stated fatigue factor.

    `counted` says that the factor holds the finish of the surface too, as that of a thread does. `reversed` is the
    part of the stress that changes its sign with every cycle, whatever the ratio of the load: friction. `around` is a
    cylinder that holds it, where it is stated: a place on its axis [mm], its direction, and its radius [mm]; of what
    stands at several places alike there are as many places (n, 3).
    """

    name: str
    material: Material
    stress: Stress
    diameter: Any
    K_f: Any = 1.0
    counted: bool = False
    note: str = ""
    reversed: Stress | None = None
    around: tuple[Any, Any, Any] | None = None


class Weld(NamedTuple):
    """A weld or its toe, by its detail of `parts.strength.welded.detail`; the stress is the one it goes with.

    `reversed` is the part of it that changes its sign with every cycle, as in `Spot`.
    """

    name: str
    material: Material
    stress: Stress
    detail: str
    reversed: Stress | None = None

    @property
    def known(self) -> bool:
        """Whether a class is published here for the metal."""
        return self.material.family != "titanium"


Detail = Spot | Weld


def demand_of(modes: Callable[[LoadCase], Iterable[Check]], name: str, scale: Any = 1.0) -> Stress:
    """The stress that a check of the family asks, so that it is worked out in one place.

    Args:
        modes: the family's checks under a load case.
        name: of the check.
        scale: what its demand is multiplied by to be the stress of the detail; 1 for one in MPa.
    """

    def stress(case: LoadCase) -> Any:
        found = next(one for one in modes(case) if one.name == name)
        return np.multiply(found.demand, scale)

    return stress


def thread_spot(
    name: str, of: Thread, material: Material, stress: Stress, both_ways: Stress | None = None
) -> Spot:
    """The first engaged turn of a thread, taken as cut; its stress is that of the stress area.

    `both_ways` is the part of it that changes its sign with every cycle.
    """
    K_f = work(thread_fatigue_factor, S_ut=material.ultimate_strength, made="cut")
    return Spot(name, material, stress, of.major, K_f, counted=True, note="cut thread",
                reversed=both_ways)  # fmt: skip


def fatigue_factor(material: Material, notch: Notch) -> Any:
    """How much of a notch fatigue feels [-]: by Peterson in steel and aluminium; other metals feel all of it."""
    if notch.K_f is not None:
        return notch.K_f
    q: Any = 1.0
    if material.family in STEELS:
        length = work(sensitivity.peterson_length, S_ut=material.ultimate_strength)
        q = work(sensitivity.peterson, a=length, r=notch.radius)
    elif material.family == "aluminium":
        q = work(sensitivity.peterson, a=ALUMINIUM_PETERSON, r=notch.radius)
    return work(sensitivity.fatigue_factor, K_t=notch.K_t, q=q)
