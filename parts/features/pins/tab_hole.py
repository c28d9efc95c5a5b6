"""The pin of a tab, with the hole that it stands in: how the tab fails there as a lug, and the pin with it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.check import Check
from parts.core.clearances import Clearance
from parts.core.fatigue_places import Detail
from parts.core.feature import Answers, Modes, Site
from parts.core.loads import Action, LoadCase, resultant
from parts.core.part import Bought
from parts.core.rules import Rule
from parts.core.ways import Kind
from parts.features.pins.pin import BushedHole, Pin, TappedHole
from parts.features.pins.tab import TabLug, pin_details, tab_bush, tab_kinds, tab_modes
from parts.features.press.pressed import Pressed

if TYPE_CHECKING:
    from parts.core.supports import Applied


@dataclass(frozen=True, kw_only=True)
class InTab(Site):
    """A hole in a tab, called by `name`; what acts on its pin, and where it lies, are in the axes of the part.

    Attributes:
        axes: rows (..., 3, 3): out of the edge that the tab stands on, along that edge, across the tab.
        width: of the tab at the hole [mm].
        reach: from the hole to the root of the tab [mm].
        end: from the hole to the end of the tab [mm].
        behind: width behind the root that can take a pull [mm].
        beside: thickness of what the pin holds beside the tab [mm]; None where it holds the tab astride.
        plain_to: from the head to where a bolt must be plain [mm]; to a thread before its nut where None.
        spread: width at the root over which a load across the tab bends it [mm]; `width` where None.
        shank: diameter that shears and bends [mm], as of a thread in the hole; the pin's where None.
    """

    axes: Any
    width: Any
    reach: Any
    end: Any
    behind: Any
    beside: Any = None
    plain_to: Any = None
    shank: Any = None
    spread: Any = None


def beside_the_tab(
    actions: Sequence[Action], axes: Any, thickness: Any, beside: Any
) -> Sequence[Action]:
    """What acts on a pin that holds something beside its tab: half of both thicknesses off the tab's middle, on the
    side on which the pull bends the tab as the force across it does.

    Args:
        actions: what acts at the hole, in the middle of the tab.
        axes: of the tab, as in `InTab`.
        thickness: of the tab [mm].
        beside: thickness of what the pin holds [mm]; None where it holds the tab astride, which leaves all as it is.

    Returns:
        The same at their distance.
    """
    if beside is None:
        return actions
    arm = (np.asarray(thickness, float) + beside) / 2.0

    def off(one: Action) -> Any:
        out, _, across = (np.sum(one.force * axes[..., i, :], axis=-1) for i in range(3))
        return (arm * np.where(out * across > 0.0, -1.0, 1.0))[..., None] * axes[..., 2, :]

    return [Action(one.at + off(one), one.force, one.moment) for one in actions]


@dataclass(frozen=True)
class TabHole(Answers[InTab]):
    """A hole in a tab, and its pin."""

    pin: Pin

    @property
    def passes(self) -> Any:
        """Diameter that the hole takes out of the tab [mm]: of a thread, the major one."""
        hole = self.pin.hole
        return hole.thread.major if isinstance(hole, TappedHole) else self.pin.bore

    @property
    def drilled(self) -> Any:
        """Diameter that is drilled or bored [mm]: of a thread, the minor one."""
        hole = self.pin.hole
        return hole.thread.minor_internal if isinstance(hole, TappedHole) else self.pin.bore

    def rules(self, site: InTab) -> Iterator[Rule]:
        yield from self.pin.rules_in_a_tab(site.field)
        if site.beside is not None:
            yield from self.pin.length_rules(
                site.field, site.thickness + site.beside, site.plain_to
            )

    def force(self, site: InTab, case: LoadCase) -> Any:
        """Force on the pin (..., 3): out of the edge, along it, across the tab [N]."""
        force = resultant(site.actions(case), np.zeros(3))[0]
        return np.sum(force[..., None, :] * site.axes, axis=-1)

    def pressed(self, site: InTab) -> Pressed | None:
        """The bush in the tab; None without."""
        return tab_bush(self.pin, site.width, site.thickness, site.metal, site.name)

    def kinds(self, site: InTab) -> Sequence[Kind]:
        return tab_kinds(self.pin, site.beside, site.name)

    def modes(self, site: InTab, case: LoadCase) -> Iterator[Check]:
        lug = TabLug(
            self.pin, self.passes, site.width, site.thickness, site.reach, site.end, site.behind, site.beside,
            self.pressed(site), site.shank, site.spread,
        )  # fmt: skip
        force = self.force(site, case)
        return tab_modes(lug, force, site.metal, case.name, site.required(case), site.name)

    def standing(self, site: InTab) -> Iterator[Check]:
        pressed = self.pressed(site)
        return iter(()) if pressed is None else pressed.modes()

    def details(self, site: InTab, modes: Modes) -> Sequence[Detail]:
        return pin_details(self.pin, site.beside, site.name, modes)

    def facts(self, site: InTab) -> Mapping[str, tuple[Any, str]]:
        pressed = self.pressed(site)
        return {**self.pin.limits(), **({} if pressed is None else pressed.facts())}

    def touching(self, site: InTab) -> Mapping[str, str]:
        return self.pin.touching()

    def clearances(self, site: InTab) -> Sequence[Clearance]:
        if isinstance(self.pin.hole, TappedHole):
            return ()
        found = list(self.pin.clearances(site.name, site.field, "the tab"))
        if site.beside is not None:
            stack = site.thickness + site.beside
            found += self.pin.thread_left(site.name, site.field, stack, site.plain_to)
        return found

    def bought(self, site: InTab) -> Sequence[Bought]:
        """The pin with what keeps it, and the bush where there is one."""
        return list(self._bought(site))

    def _bought(self, site: InTab) -> Iterator[Bought]:
        pin, hole = self.pin, self.pin.hole
        if site.beside is not None:
            yield from pin.bought(site.thickness + site.beside, site.plain_to, site.name)
        elif pin.by_name:
            yield Bought(f"{pin.named}, its grip that of the tab with what takes it", 1, site.name)
        else:
            yield Bought(f"pin {pin.diameter:g} mm, {pin.material.name}", 1, site.name)
        if isinstance(hole, BushedHole):
            size = f"{pin.diameter:g} x {hole.outside:g} mm"
            yield Bought(f"bush {size}, {hole.material.name}", 1, f"{site.name}, {hole.fit}")

    def applied(self, site: InTab, case: LoadCase) -> Sequence[Applied]:
        """What the pin does to the bore, in the axes of the part."""
        from parts.core.supports import Applied, Round

        t = float(site.thickness)
        hole = Round(np.asarray(site.at, float), site.axes[2], float(self.drilled), -t, t)
        return (Applied(site.name, (hole,), tuple(site.actions(case)), "bearing"),)
