"""A pair of ears with a throat between them, and the pin through both: the fork of a clevis.

Axes of the feature: the pin lies on z, the ears stand out toward +x, and the throat is open there. The
origin is the middle of the pin.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.check import Check
from parts.core.clearances import Clearance
from parts.core.fatigue_places import Detail, Spot, demand_of, thread_spot
from parts.core.feature import Answers, Modes, Site
from parts.core.loads import Action, LoadCase, resultant
from parts.core.part import Bought
from parts.core.rules import Rule
from parts.core.ways import Kind
from parts.features.bolts.hardware import SURFACES
from parts.features.fork.ball import rating_modes
from parts.features.fork.ears import EarPair
from parts.features.fork.rules import break_rules, eye_rules, throat_rules
from parts.features.fork.shares import ear_actions
from parts.features.fork.stability import drawn_together, shim_caution, stability_modes
from parts.features.fork.strength import ear_modes
from parts.features.fork.tapped_ear import tapped_modes, tapped_share
from parts.features.fork.throat import RodEndThroat
from parts.features.pins.bought_pin import SplitPinned
from parts.features.pins.pin import BushedHole, ClearanceHole, TappedHole
from parts.features.press.pressed import Pressed
from parts.features.section.notches import beside_pin, flat_fillet, pin_rim, same, toward_fillet
from parts.features.section.outlines import beside_bore, chamfered
from parts.standards.materials.materials import Material
from parts.strength.section.outline import Outline

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Marks
    from parts.core.loadpath import Span
    from parts.core.supports import Applied

LOOSE = "nothing draws them together: the pin is not tightened"
KEPT = "what acts along the pin leans on an ear and not on the pin; a caution says what keeps it"
ALONG_X = np.eye(3)
ALONG_Z = np.array([[0.0, 0.0, 1.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])
"""Axes of a section square to the pin: its y axis is the part's x, its z axis the part's y."""


@dataclass(frozen=True, kw_only=True)
class InFork(Site):
    """A pair of ears on a body; `metal` is that beside their bores, and what acts is what acts at the pin.

    Attributes:
        root: what the ears are made of at the floor of the throat; the same where left out.
        floor: what the floor is made of; the same where left out.
        backed: how far from the middle of the throat the floor is backed, along the pin [mm].
        open_back: whether the body goes on behind the floor, so that it has no back to measure to.
    """

    root: Material | None = None
    floor: Material | None = None
    backed: Any = np.inf
    open_back: bool = True

    @property
    def called(self) -> str:
        """What the names of the checks begin with."""
        return f"{self.name} ear".strip()


class Ears(EarPair, Answers[InFork]):
    """Two ears alike, with the floor of the throat behind them."""

    def rules(self, site: InFork) -> Iterator[Rule]:
        """Rules of pin, throat, ears and nose, and of the edge break of the part."""
        field = site.field
        yield from self.pin.rules(f"{field}.pin")
        yield from self.throat.rules(f"{field}.throat", self.pin.diameter)
        yield from eye_rules(self, field)
        yield from throat_rules(self, field)
        yield from self.nose_rules(field)
        yield from self.pin.length_rules(f"{field}.pin", self.height, self.last_plane)
        yield from break_rules(self, "edge_break", site.edge_break)

    def spans(self, site: InFork) -> Sequence[Span]:
        """The load path through one ear: beside the bore, from there to the throat's floor, and along the floor."""
        return (*self._ear_spans(site), *self._floor_spans(site))

    def _ear_spans(self, site: InFork) -> Sequence[Span]:
        from parts.core.loadpath import Span

        middle, t, w, c, r = self.middle, self.thickness, self.width, site.edge_break, self.radius
        metal = site.root or site.metal
        hole = self.pin.bore / 2.0
        first, last = np.maximum(1.02 * hole, hole + 1.05 * c), self.depth - 0.9 * r

        def one_ear(case: LoadCase) -> Sequence[Action]:
            return self.shared(site.actions(case))

        def beside(s: Any) -> Outline:
            strip = beside_bore(w / 2.0, t, self.pin.bore, c, 0.98 * hole * s)
            return strip + strip.mirrored()

        def behind(s: Any) -> Outline:
            run = np.maximum(first + s * (last - first) - (self.depth - r), 0.0)
            grown = r - np.sqrt(np.maximum(r**2 - run**2, 0.0))
            return chamfered(w, t + grown, c, (0.0, -grown / 2.0))

        def at(x: Any) -> Any:
            return np.stack(np.broadcast_arrays(-np.asarray(x, float), 0.0, middle), axis=-1)

        def span(
            where: str,
            start: Any,
            stop: Any,
            outline: Any,
            stations: int,
            notch: Any,
            rim: Any = None,
        ) -> Span:
            return Span(
                f"ear {where} the bore", at(start), at(stop), ALONG_X, outline, one_ear, metal, site.piece,
                stations, notch, rim=rim,
            )  # fmt: skip

        loose = isinstance(self.pin.hole, ClearanceHole | TappedHole)
        bored = same(beside_pin(self.pin.bore, w, self.end, loose=loose))
        room = np.minimum(w, 2.0 * self.end)
        rim = pin_rim(one_ear, ALONG_X[2], self.pin.bore, t, room, loose=loose)
        # The step at the root is half the throat, on one side; the fit has it on both.
        root = flat_fillet(t + self.throat.width, t, r)
        return (
            span("beside", 0.0 * hole, 0.98 * hole, beside, 9, bored, rim),
            span(
                "behind", first, last, behind, 31,
                toward_fillet(r, first, self.depth, last - first, root),
            ),
        )  # fmt: skip

    def _floor_spans(self, site: InFork) -> Sequence[Span]:
        """The floor of the throat, bent by one ear about what holds its middle.

        One span, from where the floor is backed to the ear's corner radius; none where the backing
        reaches that far. Among many variants, those without such a stretch bear nothing in it.
        """
        from parts.core.loadpath import Span

        stop = self.throat.width / 2.0 - self.radius
        held, metal = site.backed, site.floor or site.metal
        there = stop - held > 0.02 * self.throat.width
        if not np.any(there):
            return ()
        start = np.where(there, held, 0.9 * stop)
        deep, c = self.floor_thickness, site.edge_break

        def one_ear(case: LoadCase) -> Sequence[Action]:
            return [
                Action(one.at, one.force * there[..., None], one.moment * there[..., None])
                for one in self.shared(site.actions(case))
            ]

        def outline(s: Any) -> Outline:
            return chamfered(deep + 0.0 * np.asarray(s), self.width, c)

        def at(z: Any) -> Any:
            return np.stack(np.broadcast_arrays(-(self.depth + deep / 2.0), 0.0, z), axis=-1)

        there = np.asarray(there)
        root = flat_fillet(deep + 2.0 * self.depth, deep, self.radius)
        notch = toward_fillet(self.radius, start, stop + self.radius, stop - start, root)
        return (
            Span(
                "floor of the throat", at(start), at(stop), ALONG_Z, outline, one_ear, metal, site.piece, 9, notch,
            ),
        )  # fmt: skip

    def shared(self, actions: Sequence[Action]) -> Sequence[Action]:
        """What one ear, taken at +z, bears of what acts at the pin; of a tapped one all that the other does not."""
        (even,) = ear_actions(actions, self.middle, self.throat.clearance / 2.0)
        if not isinstance(self.pin.hole, TappedHole):
            return (even,)
        return (tapped_share(self, even, resultant(actions, np.zeros(3))[0]),)

    def kinds(self, site: InFork) -> list[Kind]:
        """What can fail of it."""
        name = site.called
        loose = {} if self.tightened else {"ears drawn together": LOOSE}
        found = [
            Kind("fork", name, loose), Kind("pin in a lug", name), Kind("pin", f"{name} pin", {"walked out": KEPT})
        ]  # fmt: skip
        if isinstance(self.pin.hole, BushedHole):
            found.append(Kind("pressed-in ring", f"{name} bush"))
        if isinstance(self.pin.hole, TappedHole):
            found.append(Kind("bolt in a tapped ear", name))
        if isinstance(self.throat, RodEndThroat):
            found.append(Kind("rod end in a throat", name))
        return found

    def modes(self, site: InFork, case: LoadCase) -> Iterator[Check]:
        """Pin and ear, the ear's stability, what sits in the throat, and the bushes along the pin."""
        name, material, required = site.called, site.metal, site.required(case)
        actions = site.actions(case)
        (one,) = self.shared(actions)
        force, _ = resultant(actions, np.zeros(3))
        if self.tightened:
            yield drawn_together(self, name, material, case.name)
        if isinstance(self.pin.hole, TappedHole):
            yield from tapped_modes(self, name, material, case.name, force, required)
        yield from ear_modes(self, name, material, case.name, one.force, required)
        yield from stability_modes(self, name, material, case.name, one.force, required)
        yield from rating_modes(self.throat, name, case, site.loads, force, required)
        pressed = self.pressed(site)
        hole = self.pin.hole
        if pressed is not None and isinstance(hole, BushedHole) and hole.thrust == "press":
            yield pressed.along(name, case.name, force[..., 2], required)

    def pressed(self, site: InFork) -> Pressed | None:
        """The bush in each ear; None without."""
        return self.bush(site.called, site.metal)

    def standing(self, site: InFork) -> Iterator[Check]:
        """The press of a bush in its ear."""
        pressed = self.pressed(site)
        return iter(()) if pressed is None else pressed.modes()

    def details(self, site: InFork, modes: Modes) -> Sequence[Detail]:
        """The pin bent to and fro, for fatigue."""
        pin, hole, name = self.pin, self.pin.hole, site.called
        if isinstance(hole, TappedHole):
            stress = demand_of(modes, f"{name} pin, bent at the tapped ear, yield")
            return [thread_spot(f"{name} pin", hole.thread, pin.material, stress)]
        stress = demand_of(modes, f"{name} pin, bending, yield")
        return [
            Spot(f"{name} pin", pin.material, stress, pin.diameter, note="fretting not counted")
        ]

    def applied(self, site: InFork, case: LoadCase) -> Sequence[Applied]:
        """What the pin does to both bores."""
        from parts.features.fork.supports import pin_loads

        return pin_loads(self, site.actions(case))

    def marks(self, site: InFork) -> Marks:
        """Sizes of ears, throat and nose, and the hole of the pin."""
        from parts.features.fork.drawing import ear_marks

        return ear_marks(self, float(site.edge_break), open_back=site.open_back)

    def facts(self, site: InFork) -> Mapping[str, tuple[Any, str]]:
        """Throat and grip, limits of the bore, thread of a bolt within the stack, swing, and a bush's press."""
        found: dict[str, tuple[Any, str]] = {
            "throat": (self.throat.width, "mm"),
            "pin grip": (self.height, "mm"),
            **self.pin.limits(),
            **self._pin_facts(),
        }
        if isinstance(self.throat, RodEndThroat):
            found["rod end swing each way"] = (np.degrees(self.throat.swing()), "deg")
        pressed = self.pressed(site)
        return found | ({} if pressed is None else pressed.facts())

    def _pin_facts(self) -> dict[str, tuple[Any, str]]:
        joint = self.kept()
        if joint is None:
            return {}
        if isinstance(joint, SplitPinned):
            return {
                "clevis pin": (joint.pin.designation, ""),
                "its slack, for washers": (joint.slack, "mm"),
            }
        return {
            "bolt that is the pin": (joint.bolt.designation, ""),
            "its thread within the stack, at the nut's end": (self.thread_inside, "mm"),
        }

    def bought(self, site: InFork) -> Sequence[Bought]:
        """The pin with what keeps it, the bushes, and what sits in the throat."""
        pin, hole, fits = self.pin, self.pin.hole, site.name or "the ears"
        found = list(self.pin_bought(fits))
        if isinstance(hole, BushedHole):
            size = f"{pin.diameter:g} x {hole.outside:g} x {self.thickness:g} mm"
            found.append(Bought(f"bush {size}, {hole.material.name}", 2, f"{fits}, pressed in"))
        return [*found, *self.throat.bought(pin.diameter)]

    def touching(self, site: InFork) -> Mapping[str, str]:
        """The surface of what touches the ears, by name."""
        touching = self.pin.touching()
        if isinstance(self.throat, RodEndThroat):
            touching[f"rod end {self.throat.rod_end.designation}"] = SURFACES["rod end"]
        return touching

    def clearances(self, site: InFork) -> Sequence[Clearance]:
        """The pin in the ears, and what sits in the throat."""
        joint = site.called
        return [
            *self.pin.clearances(joint, f"{site.field}.pin", "the ears"),
            *self.throat.clearances(joint, f"{site.field}.throat", self.pin.sized()),
            *self.pin.thread_left(joint, f"{site.field}.pin", self.height, self.last_plane),
        ]

    def cautions(self, site: InFork) -> Sequence[str]:
        """What keeps the pin where it is, and how its bushes are reamed."""
        shim = shim_caution(self, site.metal) if self.tightened else ()
        if isinstance(self.pin.hole, BushedHole):
            return (
                *shim,
                *self.pin_cautions(),
                "Ream the bushes in line after pressing: their bores shrink.",
            )
        return (*shim, *self.pin_cautions())

    def solid(
        self, edge_break: float, back: float | None = None, *, open_back: bool = False
    ) -> cq.Workplane:
        """The fork as a solid; see `parts.features.fork.solid.fork_solid`."""
        from parts.features.fork.solid import fork_solid

        return fork_solid(self, edge_break, back, open_back=open_back)


if TYPE_CHECKING:
    from parts.core.feature import Feature

    _: type[Feature[InFork]] = Ears
