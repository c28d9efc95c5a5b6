"""A plate of a gusset as it stands: what enters it under a load case, its cuts, and its welded edges."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any, NamedTuple

import numpy as np

from parts.core.freebody import Acting, reacting
from parts.core.loads import Action, ByCase, ByOne, LoadCase, resultant
from parts.families.gusset.edge_tab import Tab, TabFrame
from parts.families.gusset.form import Cut, Form
from parts.families.gusset.lightening import Holes
from parts.families.gusset.plate_set import Share
from parts.families.gusset.rim import Hole
from parts.families.gusset.strength import Along, NetSection, net_section
from parts.features.pins.tab_hole import beside_the_tab
from parts.features.weld.plate_edge import Joint, Loaded
from parts.strength.columns.strip import stations
from parts.strength.section.figures import circle
from parts.strength.section.outline import Outline


class Entering(NamedTuple):
    """What enters a plate under a load case: by tube B, by the tab, and by tube B's weld against the tab's pull."""

    tube: Sequence[Action]
    pulls: Sequence[Action]
    taken: Sequence[Action]


@dataclass(frozen=True)
class Standing:
    """A plate of the set as it stands.

    Attributes:
        share: what it takes of the joint's load.
        form: its dimensions.
        lightening: its lightening holes.
        tab: its tab; None without.
        thickness: of the plate [mm].
        stop: length at each end of a weld that is not counted [mm].
        acting: what acts on the joint at a point under a load case.
    """

    share: Share
    form: Form
    lightening: Holes
    tab: Tab | None
    thickness: Any
    stop: Any
    acting: Callable[[LoadCase, str], Sequence[Action]]

    @property
    def prefix(self) -> str:
        """What the names of its checks begin with."""
        return "" if self.share.piece == "part" else f"{self.share.piece} "

    @cached_property
    def holes(self) -> Sequence[Hole]:
        """Its lightening holes."""
        return self.lightening.holes(self.form, self.thickness)

    @cached_property
    def cuts(self) -> Sequence[Cut]:
        """Cuts that part tube A's edge from tube B's, one through each of its holes among them."""
        return self.form.cuts([hole.centre for hole in self.holes])

    @cached_property
    def foot(self) -> TabFrame:
        """Where its tab stands; of a plate that has one."""
        assert self.tab is not None
        return self.tab.foot(self.form.free_edges()[0])

    @cached_property
    def bores(self) -> list[Outline]:
        """The hole of its tab, in the plate's own axes."""
        if self.tab is None:
            return []
        x, y = (self.foot.centre[..., k] for k in (0, 1))
        return [circle(self.tab.pin.bore, (x, y))]

    @cached_property
    def joints(self) -> tuple[Joint, Joint]:
        """Its edges welded to tube A and to tube B."""
        return self.form.joints(self.stop)

    @cached_property
    def entering(self) -> ByCase[Entering]:
        """What enters it under a load case."""
        return ByCase(self._entered)

    def _entered(self, case: LoadCase) -> Entering:
        tube, pulls = (self.share.of(self.acting(case, at)) for at in ("tube b", "tab"))
        if pulls and self.tab is not None:
            axes = self.foot.axes(self.form.frame)
            pulls = beside_the_tab(pulls, axes, self.thickness, self.tab.beside)
        return Entering(tube, pulls, [self._taken(pulls)] if pulls else [])

    def _taken(self, pulls: Sequence[Action]) -> Action:
        """What tube B's weld does to the plate against the tab's pull, about the hole of the tab."""
        a, b = self.joints
        centre = self.form.frame.place(self.foot.centre)
        force, moment = Loaded("b", b, [((b, a), pulls)]).resultant(centre)
        return Action(centre, -force, -moment)

    def beyond(self, cut: Cut, case: LoadCase) -> Sequence[Action]:
        """What acts on tube B's side of a cut: the load of tube B, the tab's where it lies there, less what
        tube B's weld takes of the tab's."""
        tube, pulls, taken = self.entering(case)
        if not pulls:
            return tube
        _, off = cut.across(self.foot.centre)
        there = np.asarray(np.where(off > 0.0, 1.0, 0.0))[..., None]
        tab = [Action(one.at, one.force * there, np.asarray(one.moment) * there) for one in pulls]
        return [*tube, *tab, *taken]

    @cached_property
    def crossings(self) -> Sequence[NetSection]:
        """Net sections at the stations of a strip between two welds; none of a plate in a corner."""
        cuts = self.form.crossings(list(stations()))
        return [net_section(cut, self.form, self.holes, self.thickness) for cut in cuts]

    def along(self, case: LoadCase) -> Along | None:
        """What goes along a strip between two welds under a load case; None of a plate in a corner."""
        if not self.crossings:
            return None
        tube, pulls, taken = self.entering(case)
        area = np.stack(np.broadcast_arrays(*(one.area for one in self.crossings)), axis=-1)
        push, moment = self._along_of([*tube, *taken])
        if self.tab is None or not pulls:
            return Along(area, push, moment, 0.0, 0.5)
        first, last = (one.cut.start for one in (self.crossings[0], self.crossings[-1]))
        place = self.foot.centre
        share = (place[..., 0] - first[..., 0]) / (last[..., 0] - first[..., 0])
        within = np.where(stations() < share[..., None], 1.0, 0.0)
        more = self._along_of(pulls)
        out = self.form.frame.direction(self.foot.out)
        pressed = -np.sum(sum(one.force for one in pulls) * out, axis=-1)
        lifted = np.maximum(pressed, 0.0) * np.abs(place[..., 1])
        return Along(area, push + within * more[0], moment + within * more[1], lifted, share)

    def _along_of(self, actions: Sequence[Action]) -> tuple[Any, Any]:
        """Push and moment at the stations from what acts beyond all of them."""
        ends = []
        for one in (self.crossings[0], self.crossings[-1]):
            force, turn = resultant(actions, one.place)
            ends.append((-np.sum(force * one.normal, axis=-1), np.sum(turn * one.up, axis=-1)))
        (push, low), (_, high) = ends
        push, low, high = (np.asarray(one)[..., None] for one in (push, low, high))
        return push + 0.0 * stations(), low + (high - low) * stations()

    @cached_property
    def edges(self) -> ByCase[tuple[Loaded, Loaded]]:
        """The welded edges with what acts on them under a load case: the load of tube B enters by the one and leaves by
        the other."""
        return ByCase(self._edges)

    def _edges(self, case: LoadCase) -> tuple[Loaded, Loaded]:
        tube, pulls, _ = self.entering(case)
        return self._on_edges(tube, pulls)

    def _on_edges(self, tube: Sequence[Action], pulls: Sequence[Action]) -> tuple[Loaded, Loaded]:
        a, b = self.joints
        return (
            Loaded("a", a, [((a,), tube), ((a, b), pulls)]),
            Loaded("b", b, [((b,), tube), ((b, a), pulls)]),
        )

    def holding(self, case: LoadCase) -> list[Acting]:
        """Its welds; what is stated at tube b comes in by its weld and goes out by tube a's."""
        a, b = self.joints
        zero = np.zeros(3)
        tube, pulls = (self.share.of(self.acting(case, at)) for at in ("tube b", "tab"))
        on_a, _ = self._on_edges(tube, pulls)
        found = [reacting(f"{self.prefix}weld a", zero, on_a.resultant(zero))]
        if pulls:
            on_b = Loaded("b", b, [((b, a), pulls)])
            found.append(reacting(f"{self.prefix}weld b", zero, on_b.resultant(zero)))
        return found

    def apart(self, places: Sequence[Any]) -> float:
        """How near one of places (..., 3) comes to a weld [mm]."""
        return float(
            min(
                np.sqrt(((one.path.points - np.asarray(place)[..., None, :]) ** 2).sum(-1).min())
                for one in self.joints
                for place in places
            )
        )

    @cached_property
    def cut_apart(self) -> ByOne[Cut, float]:
        """How near a cut comes to a weld [mm], by places along it."""
        return ByOne(lambda cut: self.apart(self._along(cut)))

    def _along(self, cut: Cut) -> list[Any]:
        places = [cut.low + share * (cut.high - cut.low) for share in np.linspace(0.0, 1.0, 9)]
        return [self.form.frame.place(cut.at(one)) for one in places]

    @cached_property
    def net_sections(self) -> Sequence[NetSection]:
        """The net section of each cut."""
        return [net_section(cut, self.form, self.holes, self.thickness) for cut in self.cuts]
