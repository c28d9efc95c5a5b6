"""A rounded tab with a pin's hole on the free edge of a plate: a lug of the plate's own thickness."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Annotated, Any, NamedTuple

import numpy as np
from pydantic import Field

from parts.core.check import Check
from parts.core.clearances import Clearance
from parts.core.fatigue_places import Detail
from parts.core.feature import Answers, Modes
from parts.core.group import Group
from parts.core.loadpath import Span
from parts.core.loads import LoadCase
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.gusset.form import Frame
from parts.families.gusset.free_edge import FreeEdge, Stub, times
from parts.families.gusset.sites import OnPlate
from parts.features.pins.pin import BushedHole, ClearanceHole, Pin, ReamedHole
from parts.features.pins.tab_hole import InTab, TabHole
from parts.features.section.notches import beside_pin, flat_fillet, pin_rim, same, toward_fillet
from parts.features.section.outlines import beside_bore, chamfered
from parts.inputs.quantities import PositiveLength, PositiveRatio
from parts.standards.materials.materials import Material
from parts.strength.section.outline import Outline
from parts.strength.vectors import cross

if TYPE_CHECKING:
    from parts.core.drawing import Dimension, Marks
    from parts.core.supports import Applied

Z = np.eye(3)[2]
LEAST_EDGE = 1.5
"""Least half width of the tab, in bores: the edge distance for which bearing strengths are published."""
NEAR = 0.98
"""How far from the hole's middle a cut beside it goes, as a share of its radius."""


class TabPin(Pin):
    """The pin of the tab: bought in, made of a stated material."""

    hole: Annotated[ClearanceHole | ReamedHole | BushedHole, Field(discriminator="type")] = Field(
        default_factory=ReamedHole, description="How the hole takes the pin."
    )


class Tab(Group, Answers[OnPlate]):
    """A tab on the free edge, rounded about its hole."""

    along: PositiveRatio = Field(
        0.5,
        lt=1.0,
        description="Where on the free edge it stands: 0 at tube A's toe, 1 at tube B's.",
    )
    reach: PositiveLength = Field(description="Centre of the hole to the free edge beneath it.")
    width: PositiveLength = Field(
        description="Width of the tab; its end is round, half as large in radius."
    )
    beside: PositiveLength | None = Field(
        None,
        description="Thickness of what the pin holds beside the plate: a rod end's ball with its spacers, or a "
        "lever; it sets the length of a bolt, and how far off the plate's middle the load bends and twists the tab. "
        "Left out, the load acts in the plate's middle, as in a clevis.",
    )
    root_radius: PositiveLength = Field(
        6.0, description="Fillets where the tab leaves the free edge."
    )
    pin: TabPin = Field(description="The pin in the tab.")

    def stub(self, edge: FreeEdge, from_last: bool) -> Stub:
        """Where the tab stands on an edge, which runs toward tube A where `from_last`."""
        share = 1.0 - self.along if from_last else self.along
        x = share * edge.chord
        return Stub(x, self.width / 2.0, edge.height(x) + self.reach, self.root_radius)

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        """Rules of the tab on its edge, and of the lightening holes beside it."""
        field, thickness, edge = site.field, site.thickness, site.form.free_edges()[0]
        yield from self.hole.rules(replace(self._in_tab(site), field=f"{field}.pin"))
        bore = self.pin.bore
        yield at_least(
            "tab.edge", f"{field}.width", self.width / 2.0, LEAST_EDGE * bore,
            "the pin would tear out of the tab (half width of 1.5 bores: common practice, no source)",
            "widen the tab, or choose a smaller pin",
        )  # fmt: skip
        yield at_least(
            "tab.thin", field, thickness, 0.15 * bore,
            "the hole of a tab this thin wallows (0.15 of the bore: common practice, no source)",
            "use thicker plate, or a smaller pin",
        )  # fmt: skip
        yield at_most(
            "tab.reach", f"{field}.reach", self.reach, 4.0 * self.width,
            "a tab this long is no tab; it looks like the wrong unit", "bring the hole nearer to the edge",
        )  # fmt: skip
        assert edge.stub is not None
        x, half, f = edge.stub.x, edge.stub.half, edge.stub.fillet
        (start, _), (end, _) = edge.ends
        (left, _), (right, _) = edge.roots
        yield at_least(
            "tab.room", f"{field}.along", np.minimum(left - start, end - right), 1.0,
            "the tab with its root fillets does not fit between the toes",
            "move the tab toward the middle, or make it or its fillets smaller",
        )  # fmt: skip
        heights = [edge.fillet_centre(x + side * (half + f)) for side in (-1.0, 1.0)]
        yield at_least(
            "tab.root", f"{field}.reach", edge.stub.top - np.maximum(*heights), 0.5 * bore + 0.5,
            "the root fillets would reach past the hole", "move the hole out, or lessen the fillets",
        )  # fmt: skip
        centre = self.foot(edge).centre
        for i, hole in enumerate(site.holes):
            away = np.linalg.norm(hole.centre - centre, axis=-1)
            yield at_least(
                "tab.holes", "holes", away - hole.outer / 2.0 - bore / 2.0, self.width / 2.0,
                f"hole {i + 1} comes too near the tab's pin",
                "move the hole or the tab, or let the tab reach out further",
            )  # fmt: skip

    def made_of(self, site: OnPlate) -> Material:
        """What the tab is made of, softened where a weld of the plate is near."""
        foot, half, frame = self.foot(site.form.free_edges()[0]), self.width / 2.0, site.form.frame
        root = [
            foot.centre - times(foot.reach, foot.out) + times(s * half, foot.ahead)
            for s in (-1.0, 0.0, 1.0)
        ]
        return site.near([frame.place(one) for one in (foot.centre, *root)])

    @property
    def hole(self) -> TabHole:
        """Its hole with the pin."""
        return TabHole(self.pin)

    def _in_tab(self, site: OnPlate) -> InTab:
        """Where its hole lies; what it is made of is told apart, for rules do without."""
        form, foot = site.form, self.foot(site.form.free_edges()[0])
        return InTab(
            field=site.field, metal=site.metal, name=f"{site.prefix}tab", thickness=site.thickness,
            at=form.frame.place(foot.centre), axes=foot.axes(form.frame), width=self.width, reach=foot.reach,
            end=self.width / 2.0, behind=form.span_of_tab(), beside=self.beside, actions=site.actions,
            required=site.required,
        )  # fmt: skip

    def _at_hole(self, site: OnPlate) -> InTab:
        return replace(self._in_tab(site), metal=self.made_of(site))

    def spans(self, site: OnPlate) -> Sequence[Span]:
        """The load path through the tab: beside its hole, and from there to the root fillets; in the part's axes."""
        frame, foot = site.form.frame, self.foot(site.form.free_edges()[0])
        thickness, edge_break, metal = site.thickness, site.edge_break, self.made_of(site)
        hole = self.pin.bore / 2.0
        axes = foot.axes(frame)
        axes = np.stack(
            [axes[..., 0, :], axes[..., 1, :], cross(axes[..., 0, :], axes[..., 1, :])], axis=-2
        )
        first, last = np.maximum(1.02 * hole, hole + 1.05 * edge_break), foot.straight

        def at(back: Any) -> Any:
            return frame.place(foot.centre - np.asarray(back, float)[..., None] * foot.out)

        def beside(s: Any) -> Outline:
            strip = beside_bore(
                self.width / 2.0, thickness, self.pin.bore, edge_break, NEAR * hole * s
            )
            return strip + strip.mirrored()

        def behind(s: Any) -> Outline:
            return chamfered(self.width + 0.0 * np.asarray(s, float), thickness, edge_break)

        loose, r = isinstance(self.pin.hole, ClearanceHole), self.root_radius
        bored = same(beside_pin(self.pin.bore, self.width, self.width / 2.0, loose=loose))
        rim = pin_rim(site.actions, frame.normal, self.pin.bore, thickness, self.width, loose=loose)
        root = flat_fillet(2.0 * self.width, self.width, r)
        rows = (
            ("beside the hole", 0.0 * hole, NEAR * hole, beside, bored),
            (
                "behind the hole",
                first,
                last,
                behind,
                toward_fillet(r, first, last + r, last - first, root),
            ),
        )
        return [
            Span(
                f"{site.prefix}tab {where}",
                at(a),
                at(b),
                axes,
                outline,
                site.actions,
                metal,
                site.piece,
                9,
                notch,
                rim=rim if notch is bored else None,
            )
            for where, a, b, outline, notch in rows
        ]

    def kinds(self, site: OnPlate) -> Sequence[Kind]:
        return self.hole.kinds(self._in_tab(site))

    def modes(self, site: OnPlate, case: LoadCase) -> Iterator[Check]:
        return self.hole.modes(self._at_hole(site), case)

    def standing(self, site: OnPlate) -> Iterator[Check]:
        return self.hole.standing(self._at_hole(site))

    def details(self, site: OnPlate, modes: Modes) -> Sequence[Detail]:
        return self.hole.details(self._at_hole(site), modes)

    def facts(self, site: OnPlate) -> Mapping[str, tuple[Any, str]]:
        return self.hole.facts(self._at_hole(site))

    def bought(self, site: OnPlate) -> Sequence[Bought]:
        return self.hole.bought(self._in_tab(site))

    def clearances(self, site: OnPlate) -> Sequence[Clearance]:
        return self.hole.clearances(replace(self._in_tab(site), field="tab.pin"))

    def touching(self, site: OnPlate) -> Mapping[str, str]:
        return self.pin.touching()

    def applied(self, site: OnPlate, case: LoadCase) -> Sequence[Applied]:
        return self.hole.applied(self._in_tab(site), case)

    def marks(self, site: OnPlate) -> Marks:
        """Its end, its root, and the hole of its pin with its place."""
        from parts.core.drawing import Marks, Radius
        from parts.families.gusset.edge_marks import lifted
        from parts.families.gusset.places import place_sizes
        from parts.features.pins.pin_marks import pin_hole

        edge, thickness = site.form.free_edges()[0], float(site.thickness)
        foot = self.foot(edge)
        h, half, r = thickness / 2.0, float(self.width) / 2.0, float(self.root_radius)
        centre = lifted(foot.centre, h)
        out, ahead = (np.array([*np.asarray(v, float), 0.0]) for v in (foot.out, foot.ahead))
        way = (out + ahead) / np.sqrt(2.0)
        assert edge.stub is not None
        x = edge.stub.x + half + r
        root = lifted(edge.place(x, edge.fillet_centre(x)), h)
        sizes: tuple[Dimension, ...] = (
            Radius("end of the tab", centre, Z, way, half, callout="full", view="front"),
            Radius("root of the tab", root, Z, -way, r, count=2, view="front"),
            *place_sizes(site.form, "pin of the tab", foot.centre),
        )
        return Marks(sizes, (pin_hole("pin of the tab", self.pin, centre, -Z, thickness),))

    def foot(self, edge: FreeEdge) -> TabFrame:
        """The tab's place on its edge."""
        assert edge.stub is not None
        stub = edge.stub
        sides = [edge.fillet_centre(stub.x + s * (stub.half + stub.fillet)) for s in (-1.0, 1.0)]
        root = edge.height(stub.x)
        return TabFrame(
            edge.place(stub.x, stub.top),
            edge.outward,
            edge.ahead,
            stub.top - root,
            stub.top - np.maximum(*sides),
        )


class TabFrame(NamedTuple):
    """The tab on the plate: centre of its hole, directions out of the edge and along it, and the distances
    from the hole back to the free edge and to where the fillets end [mm]."""

    centre: Any
    out: Any
    ahead: Any
    reach: Any
    straight: Any

    def axes(self, frame: Frame) -> np.ndarray:
        """Axes of the sections across the tab: outward, along the edge, across the plate."""
        return np.stack(
            np.broadcast_arrays(
                frame.direction(self.out), frame.direction(self.ahead), frame.normal
            ),
            axis=-2,
        )
