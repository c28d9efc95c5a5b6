"""A stretch of an arm between its hub, or a knee, and what stands at its tip: load path and ways of failing.

Axes of the feature: the hub's axis is z, its middle the origin; the blade runs along +x.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

from parts.core.check import Check, check
from parts.core.fatigue_places import Detail
from parts.core.feature import Actions, Answers, Modes, Site, no_actions
from parts.core.loadpath import Notch, Span
from parts.core.loads import Action, LoadCase, resultant
from parts.core.ways import Kind
from parts.features.arm.blade import Blade
from parts.features.arm.joining import step_at_hub
from parts.features.arm.slender import AtRoot, pocket_modes, slender, toppling_modes
from parts.strength.method import work
from parts.strength.section import bar as bars
from parts.strength.section.properties import Section, properties

AXES = np.eye(3)
RATE_STATIONS = 101
ROOT = 2.0
"""How far from the hub its giving is felt, in root fillets [-]; common practice, no source."""


@dataclass(frozen=True)
class OnHub(Site):
    """Where a blade leaves its hub; `name` is what it is called.

    Attributes:
        tip: the load point that the blade ends at [mm], shape (..., 3).
        rubbing: what the joint at the tip puts on the blade by its friction, which changes its sign with every swing.
        beyond: the blades that go on from its tip, one after another.
        far: the load point that the last of them ends at [mm].
    """

    tip: Any = (0.0, 0.0, 0.0)
    beyond: Sequence[Blade] = ()
    far: Any = (0.0, 0.0, 0.0)
    rubbing: Actions = no_actions

    def rubbed(self, case: LoadCase) -> Sequence[Action]:
        """The loads with that friction."""
        return [*self.actions(case), *self.rubbing(case)]


class Rooted(NamedTuple):
    """How much more a hub that gives raises the stress at a root's fillets [-]: of all that acts; of a pull along the
    arm; and, times the first, of what bends the arm along the pivot."""

    all: Any = 1.0
    pull: Any = 1.0
    aside: Any = 1.0


STIFF = Rooted()


@dataclass(frozen=True)
class Leg(Answers[OnHub]):
    """A blade as a member: what bends, twists and topples it."""

    blade: Blade
    hub: str = "hub"
    root: Rooted = STIFF
    """How its hub gives."""

    def kinds(self, site: OnHub) -> Sequence[Kind]:
        pocketed = self.blade.arm.pocket is not None
        return [Kind("arm", site.name), *([Kind("pocketed arm", site.name)] if pocketed else [])]

    def spans(self, site: OnHub) -> Sequence[Span]:
        blade, c, name = self.blade, site.edge_break, site.name
        if blade.arm.pocket is None:
            return [self._span(site, name, blade.start, blade.end, blade.outline, 61)]
        low, high = blade.pocket_span()
        clear = 1.05 * c
        return [
            self._span(site, f"{name} at the {self.hub}", blade.start, low - clear, blade.outline, 15),
            self._span(site, f"{name} at the pockets", low, high, blade.pocketed_outline, 61),
            self._span(site, f"{name} at the end", high + clear, blade.end, blade.outline, 15),
        ]  # fmt: skip

    def _span(
        self, site: OnHub, name: str, low: Any, high: Any, outline: Any, stations: int
    ) -> Span:
        blade = self.blade

        def at(x: Any) -> np.ndarray:
            return np.stack(np.broadcast_arrays(x, 0.0 * x, blade.middle(x)), axis=-1)

        def section(s: Any) -> Any:
            return outline(low + np.asarray(s, float) * (high - low), site.edge_break)

        def notch(s: Any) -> Notch:
            x = low + np.asarray(s, float) * (high - low)
            found = blade.notch(x)
            return found._replace(K_t=np.where(self._near(x), self.root.all, 1.0) * found.K_t)

        def more(cases: Sequence[LoadCase], s: np.ndarray) -> np.ndarray:
            x, found = low + s * (high - low), np.zeros((len(cases), len(s)))
            near = np.flatnonzero(self._near(x))
            if near.size:
                own, K_t = properties(section(s[near])), notch(s[near]).K_t
                felt = np.stack([self._more(site, case, at(x[near]), own) for case in cases])
                found[:, near] = felt * K_t / self.root.all
            return found

        return Span(
            name, at(low), at(high), AXES, section, site.rubbed, site.metal, stations=stations,
            notch=notch, reversing=site.rubbing, rim=None if self.root is STIFF else more,
        )  # fmt: skip

    def _near(self, x: Any) -> Any:
        return x - self.blade.start < ROOT * self.blade.arm.root_fillet

    def _more(self, site: OnHub, case: LoadCase, place: np.ndarray, of: Section) -> Any:
        """What pull and bending along the pivot have more of a peak at a root than all counts alike there, as stress of
        the section [MPa]."""
        force, moment = resultant(site.rubbed(case), place)
        pulled, bent = np.abs(force[..., 0]) / of.area, np.abs(moment[..., 1]) / of.Wel_y
        own = self.root
        return np.maximum(own.pull - own.all, 0.0) * pulled + (own.aside - 1.0) * own.all * bent

    @property
    def _root(self) -> np.ndarray:
        """Where the centre line leaves the hub's rim [mm]."""
        x = self.blade.start
        return np.stack(np.broadcast_arrays(x, 0.0, self.blade.middle(x)), axis=-1)

    def modes(self, site: OnHub, case: LoadCase) -> Iterator[Check]:
        """Bending in the plane of travel where it leaves the hub, and what buckles of it."""
        blade, required, metal = self.blade, site.required(case), site.metal
        actions, name = site.actions(case), site.name
        force, moment = resultant(actions, self._root)
        section = properties(blade.outline(np.asarray(blade.start, float), site.edge_break))
        stress = work(bars.bending_stress, M=np.abs(moment[..., 2]), W=section.Wel_z_right)
        for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
            yield check(
                f"{name} bending at the {self.hub}, {kind}", "bending", load_case=case.name, demand=stress,
                capacity=strength, unit="MPa", required=factor,
                note="in the plane of travel alone; the critical section has everything",
            )  # fmt: skip
        chain = site.beyond
        end_moment = resultant(actions, site.far if chain else site.tip)[1][..., 2]
        long = (
            np.asarray(site.tip, float)[..., 0] - blade.start + sum(one.arm.length for one in chain)
        )
        at = AtRoot(force, moment, end_moment, long, chain)
        given = name, blade, metal, site.edge_break, at, case.name, required
        yield from toppling_modes(*given)
        if blade.arm.pocket is not None:
            yield from pocket_modes(*given)

    def details(self, site: OnHub, modes: Modes) -> Sequence[Detail]:
        found = step_at_hub(self.blade, site.metal, site.edge_break, site.rubbed)
        return [found._replace(name=f"{site.name}'s faces at the {self.hub}")]

    @property
    def slender(self) -> bool:
        """Whether it is so thin that a proof looks for buckling."""
        return bool(slender(self.blade.arm))

    def rate(self, site: OnHub) -> Any:
        """Rate of its own bending at its tip, in the plane of travel [N/mm]; shear left out."""
        flexibility: Any = 0.0
        share = np.linspace(0.0, 1.0, RATE_STATIONS)
        for span in self.spans(site):
            # One axis for the stations, in front of those of variants.
            t = share.reshape(-1, *[1] * np.ndim(span.place(np.asarray(0.0))[..., 0]))
            x = span.place(t)[..., 0]
            inertia = np.asarray(properties(span.outline(t)).Izz)
            bent = (np.asarray(site.tip, float)[..., 0] - x) ** 2 / (site.metal.E * inertia)
            flexibility = flexibility + np.trapezoid(bent, x, axis=0)
        return 1.0 / flexibility
