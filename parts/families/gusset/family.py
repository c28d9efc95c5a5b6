"""Gusset plate: a flat plate welded into the corner of two tubes, or across them like a brace."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property, partial
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.check import Check
from parts.core.fatigue_places import Detail
from parts.core.freebody import Acting, reacting
from parts.core.loadpath import Span
from parts.core.loads import Action, ByCase, LoadCase, point_actions
from parts.core.part import Bought, Part, Piece
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.gusset.bridge_plate import Across
from parts.families.gusset.corner_plate import CentrePlane
from parts.families.gusset.cuts import cut_spans
from parts.families.gusset.edge_tab import Tab, tab_spans
from parts.families.gusset.form import Cut, Form, Setting
from parts.families.gusset.free_edge import EdgeShape, StraightEdge, times
from parts.families.gusset.lightening import FlaredRim, Hole, Holes, NoHoles, blank_circles
from parts.families.gusset.plate_set import PlateSet, Share, Single, Standing, set_rules
from parts.families.gusset.strength import mean_shear, net_section_modes, nets, stability_modes
from parts.features.bolts.hardware import galvanic_cautions
from parts.features.pins.tab import TabLug, pin_details, tab_modes
from parts.features.press.pressed import Pressed, coating_facts
from parts.features.weld.plate_edge import (
    Loaded,
    PlateWeld,
    Wall,
    edge_details,
    wall_modes,
    weld_modes,
)
from parts.features.weld.softened import welded, within_reach
from parts.inputs.designations import MaterialName, PlateThickness, TubeName
from parts.inputs.quantities import Angle, NonNegativeLength, PositiveLength
from parts.standards.materials.materials import Material
from parts.strength.plates.plate import free_edge_limit
from parts.strength.section.outline import Outline, circle
from parts.strength.section.properties import properties

if TYPE_CHECKING:
    from parts.core.blank import Blank
    from parts.core.drawing import Drawn
    from parts.core.supports import Held

Plate = Annotated[CentrePlane | Across, Field(discriminator="type")]

LEAST_ANGLE, MOST_ANGLE = np.radians(20.0), np.radians(160.0)
LEAST_THICKNESS = 0.8
THICK_OF_WALL = 2.0
"""Thickness of the plate over the thinnest tube wall, at most: common practice, no source."""
MOST_GAP = 1.0


class Gusset(Part):
    """A gusset plate."""

    summary: ClassVar[str] = (
        "a plate between two tubes that meet at an angle, in their corner or across them"
    )
    axes: ClassVar[str] = (
        "origin where the tubes' centre lines meet; x along tube A away from the joint; tube B in the xy "
        "plane, its angle counted from x toward y; z square to both tubes"
    )
    load_points: ClassVar[Mapping[str, str]] = {"tube b": "", "tab": "`tab`"}
    not_covered: ClassVar[tuple[str, ...]] = (
        "the tubes beyond the wall under the plate, and the weld between them: what a load case states at tube b is "
        "what the plate takes",
        "fatigue of the tubes beside the welds",
        "stiffening by flared rims, which is not counted in the net section",
        "distortion and residual stress of welding",
    )
    example: ClassVar[Mapping[str, Any]] = {
        "family": "gusset plate",
        "name": "HC-108",
        "title": "headstock gusset",
        "material": "4130 normalized",
        "form": "sheet",
        "tube_a": "1-1/4 in x 0.065 in",
        "tube_b": "1 in x 0.058 in",
        "angle": "62 deg",
        "thickness": "0.090 in",
        "plate": {"type": "centre plane", "leg_a": "110 mm", "leg_b": "95 mm"},
        "weld": {"leg": "2.5 mm"},
        "loads": [
            {"name": "braking", "forces": [{"at": "tube b", "force": ["1.2 kN", "-600 N", 0]}]},
        ],
    }

    family: Literal["gusset plate"] = Field(
        "gusset plate", description="A plate between two tubes."
    )
    tube_a: TubeName = Field(description="Tube A: outside diameter and wall.")
    tube_b: TubeName = Field(description="Tube B: outside diameter and wall.")
    tube_material: MaterialName | None = Field(
        None, description="Material of the tubes; that of the plate where left out."
    )
    angle: Angle = Field(
        description="Angle between the tubes' centre lines, between the legs of the plate."
    )
    thickness: PlateThickness = Field(
        description="Thickness of the plate, or the plate that it is cut from, as `plate 0.090 in`."
    )
    gap: NonNegativeLength = Field(
        0.2, description="Gap left between plate and tube for the weld, where they come nearest."
    )
    toe_radius: PositiveLength = Field(
        6.0, description="Radius of the toes: the ends of the legs, or the corners of the horns."
    )
    plate: Plate = Field(description="How the plate stands between the tubes.")
    free_edge: EdgeShape = Field(
        default_factory=StraightEdge,
        description="Shape of the edge that is not welded; across, of both.",
    )
    holes: Holes = Field(default_factory=NoHoles, description="Lightening holes.")
    tab: Tab | None = Field(
        None, description="A tab with a hole on the free edge; none where left out."
    )
    arrangement: PlateSet = Field(
        default_factory=Single, description="One plate, or a mirrored pair."
    )
    weld: PlateWeld = Field(description="The fillets along the plate's edges.")

    def stock_thickness(self) -> Any:
        return self.thickness

    @property
    def walls(self) -> tuple[Any, Any]:
        """Walls of the two tubes [mm]."""
        return self.tube_a.wall_mm, self.tube_b.wall_mm

    @cached_property
    def plates(self) -> tuple[Standing, ...]:
        """The plates that are checked."""
        return tuple(
            Standing(
                share,
                self._form(share.offset),
                self.holes,
                self.tab,
                self.thickness,
                self.weld.stop,
            )
            for share in self.arrangement.shares()
        )

    def flat(self) -> Form:
        """The first plate by its dimensions."""
        return self.plates[0].form

    def lightening(self) -> Sequence[Hole]:
        """The lightening holes of the first plate."""
        return self.plates[0].holes

    def _form(self, offset: Any) -> Form:
        """The plate whose middle stands `offset` off the plane of the tubes' axes [mm]."""
        radii = self.tube_a.width_mm / 2.0, self.tube_b.width_mm / 2.0
        # The nearest angle that the rules allow: what follows from one that they refuse stays a number.
        angle = np.clip(self.angle, LEAST_ANGLE, MOST_ANGLE)
        setting = Setting(*radii, angle, self.thickness, self.gap, self.toe_radius)
        made = self.plate.form(setting, offset, self.free_edge.dip)
        if self.tab is None:
            return made
        backward = isinstance(self.plate, Across)
        return replace(made, stub=self.tab.stub(made.free_edges()[0], backward))

    def points(self) -> Mapping[str, Any]:
        return self._points

    @cached_property
    def _points(self) -> Mapping[str, Any]:
        form = self.flat()
        places = {"tube b": form.seat()}
        if self.tab is not None:
            here = form.frame.place(self.plates[0].foot.centre)
            if self.arrangement.type == "pair astride":
                here = here * np.array([1.0, 1.0, 0.0])
            places["tab"] = here
        return places

    def rules(self) -> Iterator[Rule]:
        form = self.flat()
        yield at_least(
            "gusset.angle", "angle", self.angle, LEAST_ANGLE,
            "tubes this nearly side by side leave no corner for a plate", "measure the angle between the legs",
            "deg",
        )  # fmt: skip
        yield at_most(
            "gusset.angle_flat", "angle", self.angle, MOST_ANGLE,
            "tubes this nearly in line need no gusset", "measure the angle between the legs", "deg",
        )  # fmt: skip
        yield from self._plate_rules()
        yield from set_rules(
            self.arrangement, "arrangement", across=isinstance(self.plate, Across),
            diameters=(self.tube_a.width_mm, self.tube_b.width_mm), thickness=self.thickness, leg=self.weld.leg,
            rim=self.holes.rim,
        )  # fmt: skip
        # Each kind of plate makes its own form.
        yield from self.plate.rules("plate", form, self.weld.leg)  # type: ignore[arg-type]
        yield from self.holes.rules("holes", form, self.thickness, self.metal)
        yield from self.weld.rules("weld", self.thickness, np.minimum(*self.walls))
        if self.tab is not None:
            yield from self.tab.rules("tab", form.free_edges()[0], self.thickness)
            foot = self.plates[0].foot
            for i, hole in enumerate(self.lightening()):
                away = np.linalg.norm(hole.centre - foot.centre, axis=-1)
                yield at_least(
                    "tab.holes", "holes", away - hole.outer / 2.0 - self.tab.pin.bore / 2.0,
                    self.tab.width / 2.0,
                    f"hole {i + 1} comes too near the tab's pin",
                    "move the hole or the tab, or let the tab reach out further",
                )  # fmt: skip

    def _plate_rules(self) -> Iterator[Rule]:
        thin = np.minimum(*self.walls)
        yield at_least(
            "gusset.thin", "thickness", self.thickness, LEAST_THICKNESS,
            "a plate this thin cannot be welded to a tube without burning away; it looks like the wrong unit",
            "check the unit of this value",
        )  # fmt: skip
        yield at_most(
            "gusset.thick", "thickness", self.thickness, THICK_OF_WALL * thin,
            "the plate is so much thicker than the tube's wall that the tube tears beside the weld (twice the "
            "thinnest wall: common practice, no source)",
            "use thinner plate, or a tube with a thicker wall",
        )  # fmt: skip
        yield at_most(
            "gusset.gap", "gap", self.gap, np.minimum(MOST_GAP, 0.5 * self.thickness),
            "so wide a gap falls through when it is welded (half the thickness or 1 mm: common practice, no "
            "source)",
            "fit the plate more closely",
        )  # fmt: skip
        yield at_least(
            "gusset.toe", "toe_radius", self.toe_radius, np.maximum(1.5 * self.thickness, 3.0),
            "a toe this sharp melts away and starts a crack (1.5 times the thickness: common practice, no "
            "source)",
            "give the toes a larger radius",
        )  # fmt: skip
        yield at_most(
            "gusset.toe_large", "toe_radius", self.toe_radius, 40.0,
            "no toe is this large; it looks like the wrong unit", "check the unit of this value",
        )  # fmt: skip
        yield at_most(
            "gusset.break", "edge_break", self.edge_break, self.thickness / 4.0,
            "the chamfers would eat the edges of the plate", "lessen it to a quarter of the thickness",
        )  # fmt: skip

    def _beyond(self, plate: Standing, cut: Cut, case: LoadCase) -> Sequence[Action]:
        """What acts on tube B's side of a cut: the load of tube B, the tab's where it lies there, less what
        tube B's weld takes of the tab's."""
        tube, pulls, taken = self._entering(case)[plate.share.piece]
        if not pulls:
            return tube
        _, off = cut.across(plate.foot.centre)
        there = np.asarray(np.where(off > 0.0, 1.0, 0.0))[..., None]
        tab = [Action(one.at, one.force * there, np.asarray(one.moment) * there) for one in pulls]
        return [*tube, *tab, *taken]

    @cached_property
    def _entering(self) -> ByCase[dict[str, tuple[Sequence[Action], ...]]]:
        return ByCase(self._entered)

    def _entered(self, case: LoadCase) -> dict[str, tuple[Sequence[Action], ...]]:
        """What enters each piece under a load case: by tube B, by the tab, and by tube B's weld against the tab's
        pull."""
        found: dict[str, tuple[Sequence[Action], ...]] = {}
        for plate in self.plates:
            tube, pulls = (self._acting(plate.share, case, at) for at in ("tube b", "tab"))
            taken = [self._taken(plate, pulls)] if pulls else []
            found[plate.share.piece] = tube, pulls, taken
        return found

    def _taken(self, plate: Standing, pulls: Sequence[Action]) -> Action:
        """What tube B's weld does to the plate against the tab's pull, about the hole of the tab."""
        a, b = plate.joints
        centre = plate.form.frame.place(plate.foot.centre)
        force, moment = Loaded("b", b, [((b, a), pulls)]).resultant(centre)
        return Action(centre, -force, -moment)

    def _acting(self, share: Share, case: LoadCase, at: str) -> Sequence[Action]:
        """What a plate takes of the loads at one point."""
        return share.of(point_actions(case, self.points(), [at]))

    def spans(self) -> Sequence[Span]:
        found: list[Span] = []
        for plate in self.plates:
            share, form = plate.share, plate.form
            found += cut_spans(
                plate.cuts, form, plate.holes, self.holes.rim, self.thickness, self.edge_break,
                partial(self._metal_at, plate),
                partial(self._beyond, plate), share.piece, plate.prefix, share.front,
            )  # fmt: skip
            if self.tab is not None:

                def pull(case: LoadCase, share: Share = share) -> Sequence[Action]:
                    return self._acting(share, case, "tab")

                found += tab_spans(
                    self.tab, plate.foot, form.frame, self.thickness, self.edge_break, self._metal_of_tab(plate), pull,
                    share.piece, plate.prefix,
                )  # fmt: skip
        return found

    def kinds(self) -> Sequence[Kind]:
        found: list[Kind] = []
        for plate in self.plates:
            of = plate.prefix
            found += [Kind("gusset plate", of.strip()), Kind("end of a plate weld", f"{of}plate")]
            for side in "ab":
                found += [
                    Kind("plate weld", f"{of}weld {side}"),
                    Kind("tube wall under a plate", f"{of}weld {side}"),
                ]
            if self.tab is not None:
                found += self.tab.kinds(f"{of}tab")
        return found

    def modes(self, case: LoadCase) -> Iterator[Check]:
        for plate in self.plates:
            yield from self._modes(plate, case)

    def _modes(self, plate: Standing, case: LoadCase) -> Iterator[Check]:
        form, share, prefix, required = plate.form, plate.share, plate.prefix, self.factors(case)
        found = nets(
            plate.cuts, form, plate.holes, self.thickness, partial(self._beyond, plate), case,
            partial(self._metal_at, plate),
        )  # fmt: skip
        yield from net_section_modes(found, self._soft, case.name, required, prefix)
        tab = self._entering(case)[share.piece][1]
        edges = self._edges(plate, case)
        sheared = [
            mean_shear(one.resultant(np.zeros(3))[0], one.joint.seat, self.thickness)
            for one in edges
        ]
        yield from stability_modes(
            form, found, plate.holes, np.maximum(*(one.value for one in sheared)), self.thickness, self._soft,
            case.name, required, prefix,
        )  # fmt: skip
        for one, tube in zip(edges, (self.tube_a, self.tube_b), strict=True):
            yield from weld_modes(
                one, self.weld.leg, self.thickness, tube.wall_mm, self._weld_strengths(), case.name, required, prefix
            )  # fmt: skip
            under = Wall(tube.width_mm, tube.wall_mm, self._tube_strength(tube.wall_mm))
            yield from wall_modes(one, under, self.thickness, case.name, required, prefix)
        if self.tab is not None:
            foot = plate.foot
            force = sum((np.asarray(one.force) for one in tab), np.zeros(3))
            axes = (
                form.frame.direction(foot.out),
                form.frame.direction(foot.ahead),
                form.frame.normal,
            )
            own = np.broadcast_arrays(*(np.sum(force * axis, axis=-1) for axis in axes))
            end = self.tab.width / 2.0
            lug = TabLug(
                self.tab.pin, self.tab.pin.bore, self.tab.width, self.thickness, foot.reach, end, form.span_of_tab(),
                self.tab.beside, self._pressed(),
            )  # fmt: skip
            metal = self._metal_of_tab(plate)
            yield from tab_modes(
                lug, np.stack(own, axis=-1), metal, case.name, required, f"{prefix}tab"
            )

    def _edges(self, plate: Standing, case: LoadCase) -> tuple[Loaded, Loaded]:
        """The welded edges with what acts on them: the load of tube B enters by the one and leaves by the other."""
        a, b = plate.joints
        tube, tab, _ = self._entering(case)[plate.share.piece]
        return (
            Loaded("a", a, [((a,), tube), ((a, b), tab)]),
            Loaded("b", b, [((b,), tube), ((b, a), tab)]),
        )

    @cached_property
    def _soft(self) -> Material:
        """The plate's metal beside its welds."""
        return welded(self.metal, self.weld.filler, float(np.max(self.thickness)))

    def _near(self, plate: Standing, places: Any) -> Material:
        """The plate's metal at places (..., 3) [mm]: softened where one of them is near a weld."""
        apart = [
            np.linalg.norm(one.path.points - np.asarray(place)[..., None, :], axis=-1).min()
            for one in plate.joints
            for place in places
        ]
        return within_reach(self.metal, self._soft, min(apart))

    def _metal_at(self, plate: Standing, cut: Cut) -> Material:
        along = [cut.low + share * (cut.high - cut.low) for share in np.linspace(0.0, 1.0, 9)]
        return self._near(plate, [plate.form.frame.place(cut.at(one)) for one in along])

    def _metal_of_tab(self, plate: Standing) -> Material:
        assert self.tab is not None
        foot, half = plate.foot, self.tab.width / 2.0
        root = [
            foot.centre - times(foot.reach, foot.out) + times(s * half, foot.ahead)
            for s in (-1.0, 0.0, 1.0)
        ]
        return self._near(plate, [plate.form.frame.place(one) for one in (foot.centre, *root)])

    def _tube_strength(self, wall: Any) -> float:
        """Yield strength of the tubes beside a weld [MPa]."""
        metal = self.metal if self.tube_material is None else self.tube_material
        return metal.beside_weld(self.weld.filler, float(np.max(wall))).yield_strength

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.families.gusset.supports import plate_held

        found = []
        for plate in self.plates:
            piece, frame = plate.share.piece, plate.form.frame
            tube, pulls, taken = self._entering(case)[piece]
            tab = None
            if self.tab is not None:
                centre = frame.place(plate.foot.centre)
                tab = (centre, frame.normal, float(self.tab.pin.bore), pulls)
            thick, at_b = float(self.thickness), [*tube, *taken]
            stop = float(self.weld.stop)
            found.append(plate_held(piece, plate.joints, thick, frame.normal, at_b, tab, stop))
        return found

    def _weld_strengths(self) -> tuple[float, float]:
        thin = float(np.min(np.minimum(self.thickness, np.minimum(*self.walls))))
        tubes = self.metal if self.tube_material is None else self.tube_material
        return self.weld.strength([self.metal, tubes], thin)

    @model_validator(mode="after")
    def _can_be_welded(self) -> Gusset:
        self._weld_strengths()
        return self

    def blank(self) -> Outline:
        """The flat blank in the plate's own x and y [mm]: outer contour, then holes, as they are cut before
        any rim is flared. Its x runs along tube A from the inner corner, or, across, from tube A's axis to
        tube B's."""
        flat = self.flat().outer()
        for one in self.lightening():
            hole = blank_circles([one])
            assert hole is not None
            flat = flat.minus(hole)
        for bore in self._bores():
            flat = flat.minus(bore)
        return flat

    def _bores(self) -> list[Outline]:
        if self.tab is None:
            return []
        centre = self.plates[0].foot.centre
        return [circle(self.tab.pin.bore, (centre[..., 0], centre[..., 1]))]

    def blanks(self) -> Sequence[Blank]:
        from parts.families.gusset.blank import gusset_blank

        form = self.flat()
        tab = None if self.tab is None else (self.plates[0].foot.centre, self.tab.pin)
        pieces = ("part",) if self.arrangement.mirror is None else ("left", "right")
        holes = self.lightening()
        return [gusset_blank(form, holes, self.holes.rim, tab, float(self.thickness), pieces)]

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        found = []
        for plate in self.plates:
            a, b = plate.joints
            tube, tab, _ = self._entering(case)[plate.share.piece]
            prefix, zero = plate.prefix, np.zeros(3)
            # What is stated at tube b comes in by its weld and goes out by tube a's.
            on_a = Loaded("a", a, [((a,), tube), ((a, b), tab)])
            found.append(reacting(f"{prefix}weld a", zero, on_a.resultant(zero)))
            if tab:
                on_b = Loaded("b", b, [((b, a), tab)])
                found.append(reacting(f"{prefix}weld b", zero, on_b.resultant(zero)))
        return found

    def _pressed(self) -> Pressed | None:
        return (
            None
            if self.tab is None
            else self.tab.pressed(self._metal_of_tab(self.plates[0]), self.thickness)
        )

    def standing(self) -> Iterator[Check]:
        pressed = self._pressed()
        return iter(()) if pressed is None else pressed.modes()

    def details(self) -> Sequence[Detail]:
        found: list[Detail] = []
        for prefix in (plate.prefix for plate in self.plates):
            for edge in ("a", "b"):
                found += edge_details(edge, prefix, self.metal, self.checks_under)
            if self.tab is not None:
                found += pin_details(
                    self.tab.pin, self.tab.beside, f"{prefix}tab", self.checks_under
                )
        return found

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        form = self.flat()
        flat = properties(self.blank())
        a, b = self.plates[0].joints
        found = {
            "blank, length along its x": (flat.y_max - flat.y_min, "mm"),
            "blank, height": (flat.z_max - flat.z_min, "mm"),
            "blank, area": (flat.area, "mm^2"),
            "blank, mass": (flat.area * self.thickness * self.metal.density, "kg"),
            "free edge, length": (form.free_edges()[0].length, "mm"),
            "free edge, longest that bridges leave unstiffened at yield": (
                free_edge_limit(self.metal.E, self.metal.yield_strength, self.thickness),
                "mm",
            ),
            "weld at tube a, each face": (a.length, "mm"),
            "weld at tube b, each face": (b.length, "mm"),
        }
        for i, hole in enumerate(self.lightening(), 1):
            found[f"hole {i}, centre x on the blank"] = (hole.centre[..., 0], "mm")
            found[f"hole {i}, centre y on the blank"] = (hole.centre[..., 1], "mm")
            found[f"hole {i}, finished opening"] = (hole.opening, "mm")
            if isinstance(self.holes.rim, FlaredRim):
                found[f"hole {i}, cut in the blank"] = (hole.blank, "mm")
                found[f"hole {i}, flat beyond"] = (hole.outer, "mm")
        if self.tab is not None:
            found |= self.tab.pin.limits()
        pressed = self._pressed()
        found |= {} if pressed is None else pressed.facts()
        return found | coating_facts(self.finish, self.metal)

    def bought(self) -> Sequence[Bought]:
        return () if self.tab is None else tuple(self.tab.bought(self.thickness))

    def cautions(self) -> Sequence[str]:
        said = [
            "Weld the toes last and run the weld round them; leave no crater or undercut at a toe.",
            "Tack, check the angle, and weld from side to side: a plate in a corner pulls the tubes together.",
        ]
        if isinstance(self.holes.rim, FlaredRim):
            said.append(
                "Smooth the edges of the blank's holes before flaring: a burr there starts a split."
            )
        touching = {} if self.tab is None else self.tab.pin.touching()
        return [*said, *galvanic_cautions(self.metal, touching)]

    def drawn(self) -> Sequence[Drawn]:
        from parts.families.gusset.drawing import gusset_drawn

        form = self.flat()
        tab = None if self.tab is None else (self.tab, self.plates[0].foot)
        pieces = ("part",) if self.arrangement.mirror is None else ("left", "right")
        leg, gap = float(self.weld.leg), float(self.gap)
        notes = [f"Weld with fillets of {leg:g} mm leg on both faces; gap {gap:g} mm to the tubes."]
        thick, rim = float(self.thickness), self.holes.rim
        return [gusset_drawn(form, self.lightening(), rim, tab, thick, pieces, notes)]

    def build(self) -> Sequence[Piece]:
        from parts.families.gusset.solid import plate_solid

        form = self.flat()
        first = plate_solid(
            form,
            self.lightening(),
            self.holes.rim,
            self._bores(),
            float(self.thickness),
            float(self.edge_break),
        )
        plane = self.arrangement.mirror
        if plane is None:
            return [Piece("part", self.metal, first)]
        second = first.mirror("XY", (0.0, 0.0, float(plane)))
        return [Piece("left", self.metal, first), Piece("right", self.metal, second)]
