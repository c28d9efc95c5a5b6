"""Gusset plate: a flat plate welded into the corner of two tubes, or across them like a brace."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import cached_property, partial
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Literal

import numpy as np
from pydantic import Field, model_validator

from parts.core.assembled import Assembled, Placed
from parts.core.check import Check
from parts.core.freebody import Acting
from parts.core.loadpath import Span
from parts.core.loads import Action, LoadCase, point_actions
from parts.core.part import Piece
from parts.core.rules import Rule
from parts.core.ways import Kind
from parts.families.gusset.bridge_plate import Across
from parts.families.gusset.corner_plate import CentrePlane
from parts.families.gusset.cuts import cut_spans
from parts.families.gusset.edge_tab import Tab
from parts.families.gusset.examples import HEADSTOCK
from parts.families.gusset.form import LEAST_ANGLE, MOST_ANGLE, Cut, Form, Setting, setting_rules
from parts.families.gusset.free_edge import EdgeShape, StraightEdge
from parts.families.gusset.lightening import Holes, LargestHoles, NoHoles, PlacedHoles
from parts.families.gusset.plate_set import Astride, LeftAndRight, PlateSet, Single
from parts.families.gusset.rim import Hole
from parts.families.gusset.sites import OnPlate
from parts.families.gusset.standing import Standing
from parts.families.gusset.strength import Net, Slender, mean_shear, net, net_section_modes
from parts.features.bolts.hardware import galvanic_cautions
from parts.features.press.pressed import coating_facts
from parts.features.weld.plate_edge import OnTube, PlateWeld, Wall
from parts.features.weld.softened import welded, within_reach
from parts.inputs.designations import MaterialName, PlateThickness, TubeName
from parts.inputs.quantities import Angle, NonNegativeLength, PositiveLength
from parts.standards.materials.materials import Material
from parts.strength.plates.plate import free_edge_limit
from parts.strength.section.outline import Outline
from parts.strength.section.properties import properties

if TYPE_CHECKING:
    from parts.core.blank import Blank
    from parts.core.drawing import Drawn
    from parts.core.feature import Feature
    from parts.core.supports import Held
    from parts.core.weldment import Weldment

    _: tuple[type[Feature[OnPlate]], ...] = (
        CentrePlane, Across, NoHoles, LargestHoles, PlacedHoles, Single, Astride, LeftAndRight, Tab
    )  # fmt: skip
    _weld: type[Feature[OnTube]] = PlateWeld

Plate = Annotated[CentrePlane | Across, Field(discriminator="type")]


AT_CORNER = 2.2
"""Bending across the thickness at the inner corner over the mean of the worst cut [-]: no less than the elements' over
nominal stress of nine random plates, 1.95 at the most (tests/proof/long_run.csv, gusset plates 0 to 8)."""


class Gusset(Assembled):
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
    example: ClassVar[Mapping[str, Any]] = HEADSTOCK

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
                share, self._form(share.offset), self.holes, self.tab, self.thickness, self.weld.stop, self._acting
            )
            for share in self.arrangement.shares()
        )  # fmt: skip

    def flat(self) -> Form:
        """The first plate by its dimensions."""
        return self.plates[0].form

    def lightening(self) -> Sequence[Hole]:
        """The lightening holes of the first plate."""
        return self.plates[0].holes

    def _setting(self) -> Setting:
        """What the plates fit."""
        radii = self.tube_a.width_mm / 2.0, self.tube_b.width_mm / 2.0
        # The nearest angle that the rules allow: what follows from one that they refuse stays a number.
        angle = np.clip(self.angle, LEAST_ANGLE, MOST_ANGLE)
        return Setting(*radii, angle, self.thickness, self.gap, self.toe_radius)

    def _form(self, offset: Any) -> Form:
        """The plate whose middle stands `offset` off the plane of the tubes' axes [mm]."""
        made = self.plate.form(self._setting(), offset, self.free_edge.dip)
        if self.tab is None:
            return made
        return replace(made, stub=self.tab.stub(made.free_edges()[0], made.across))

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
        thin = np.minimum(*self.walls)
        yield from setting_rules(self.angle, self._setting(), thin, self.edge_break)
        on = self._on(self.plates[0])
        yield from self.arrangement.rules(replace(on, field="arrangement"))
        yield from self.plate.rules(replace(on, field="plate"))
        yield from self.holes.rules(replace(on, field="holes"))
        walls = Wall(np.nan, thin, np.nan)
        yield from self.weld.rules(
            OnTube(field="weld", metal=self.material, thickness=self.thickness, under=walls)
        )
        if self.tab is not None:
            yield from self.tab.rules(replace(on, field="tab"))

    def _acting(self, case: LoadCase, at: str) -> Sequence[Action]:
        """The loads on the joint at one point."""
        return point_actions(case, self.points(), [at])

    def _on(self, plate: Standing) -> OnPlate:
        """Where the features of a plate stand."""
        piece = plate.share.piece
        return OnPlate(
            field="", metal=self.metal, name=plate.prefix.strip(), edge_break=self.edge_break,
            thickness=self.thickness, piece=piece, form=plate.form, leg=self.weld.leg,
            diameters=(self.tube_a.width_mm, self.tube_b.width_mm), near=partial(self._near, plate),
            holes=plate.holes, rim=self.holes.rim, required=self.factors,
            actions=lambda case: plate.entering(case).pulls,
        )  # fmt: skip

    @cached_property
    def _first(self) -> OnPlate:
        """Where the features of the first plate stand."""
        return self._on(self.plates[0])

    def _near(self, plate: Standing, places: Sequence[Any]) -> Material:
        return within_reach(self.metal, self._soft, plate.apart(places))

    def _metal_at(self, plate: Standing, cut: Cut) -> Material:
        return within_reach(self.metal, self._soft, plate.cut_apart(cut))

    def _of(self, plate: Standing) -> list[Placed]:
        """The features of a plate that bear load: its welded edges and its tab."""
        found = [Placed(self.weld, self._welded(plate, side)) for side in "ab"]
        return found if self.tab is None else [*found, Placed(self.tab, self._on(plate))]

    def features(self) -> Sequence[Placed]:
        return [one for plate in self.plates for one in self._of(plate)]

    def once(self) -> Sequence[Placed]:
        found = [Placed(self.plate, self._first), Placed(self.holes, self._first)]
        return found if self.tab is None else [*found, Placed(self.tab, self._first)]

    def spans(self) -> Sequence[Span]:
        found: list[Span] = []
        for plate in self.plates:
            share = plate.share
            found += cut_spans(
                plate.cuts, plate.form, plate.holes, self.holes.rim, self.thickness, self.edge_break,
                partial(self._metal_at, plate), plate.beyond, share.piece, plate.prefix, share.front,
            )  # fmt: skip
            found += [span for one in self._of(plate) for span in one.feature.spans(one.site)]
        return found

    def kinds(self) -> Sequence[Kind]:
        found: list[Kind] = []
        for plate in self.plates:
            of = plate.prefix
            found += [Kind("gusset plate", of.strip()), Kind("end of a plate weld", f"{of}plate")]
            found += [kind for one in self._of(plate) for kind in one.feature.kinds(one.site)]
        return found

    def modes(self, case: LoadCase) -> Iterator[Check]:
        for plate in self.plates:
            yield from self._modes(plate, case)
            for one in self._of(plate):
                yield from one.feature.modes(one.site, case)

    def _nets(self, plate: Standing, case: LoadCase) -> list[Net]:
        return [
            net(one, plate.beyond(one.cut, case), self._metal_at(plate, one.cut))
            for one in plate.net_sections
        ]

    def _drawn(self, plate: Standing, case: LoadCase) -> Any:
        """Bending across the thickness at the inner corner, where the way from tube to tube is short [MPa]."""
        if plate.form.across:
            return 0.0
        bent = [one.bent for one in self._nets(plate, case)]
        return AT_CORNER * np.maximum.reduce(np.broadcast_arrays(*bent))

    def _modes(self, plate: Standing, case: LoadCase) -> Iterator[Check]:
        form, prefix, required = plate.form, plate.prefix, self.factors(case)
        found = self._nets(plate, case)
        sheared = [
            mean_shear(one.resultant(np.zeros(3))[0], one.joint.seat, self.thickness)
            for one in plate.edges(case)
        ]
        slender = Slender(
            form, found, plate.holes, np.maximum(*(one.value for one in sheared)), plate.along(case), self.thickness,
            self._soft,
        )  # fmt: skip
        aside = [one.bent_aside(slender.share, required.on_yield) for one in found]
        yield from net_section_modes(aside, self._soft, case.name, required, prefix)
        yield from slender.modes(case.name, required, prefix)

    def _welded(self, plate: Standing, side: str) -> OnTube:
        """Where an edge of a plate is welded to its tube."""
        tube, i = (self.tube_a, 0) if side == "a" else (self.tube_b, 1)
        return OnTube(
            field="weld", metal=self.metal, name=side, thickness=self.thickness, prefix=plate.prefix,
            under=Wall(tube.width_mm, tube.wall_mm, self._tube_strength(tube.wall_mm)), required=self.factors,
            strengths=self._weld_strengths(), loaded=lambda case: plate.edges(case)[i],
            drawn=partial(self._drawn, plate),
        )  # fmt: skip

    @cached_property
    def _soft(self) -> Material:
        """The plate's metal beside its welds."""
        return welded(self.metal, self.weld.filler, float(np.max(self.thickness)))

    @property
    def _tube_metal(self) -> Material:
        return self.tube_material or self.metal

    def _tube_strength(self, wall: Any) -> float:
        """Yield strength of the tubes beside a weld [MPa]."""
        return self._tube_metal.beside_weld(self.weld.filler, float(np.max(wall))).yield_strength

    def held(self, case: LoadCase) -> Sequence[Held]:
        from parts.families.gusset.supports import plate_held

        return [
            plate_held(
                plate,
                [load for one in self._of(plate) for load in one.feature.applied(one.site, case)],
                case,
            )
            for plate in self.plates
        ]

    def _weld_strengths(self) -> tuple[float, float]:
        thin = float(np.min(np.minimum(self.thickness, np.minimum(*self.walls))))
        return self.weld.strength([self.metal, self._tube_metal], thin)

    @model_validator(mode="after")
    def _can_be_welded(self) -> Gusset:
        self._weld_strengths()
        return self

    def blank(self) -> Outline:
        """The flat blank in the plate's own x and y [mm]; see `blank_outline`."""
        from parts.families.gusset.blank import blank_outline

        return blank_outline(self.flat(), self.lightening(), self.plates[0].bores)

    def blanks(self) -> Sequence[Blank]:
        from parts.families.gusset.blank import gusset_blank

        form = self.flat()
        tab = None if self.tab is None else (self.plates[0].foot.centre, self.tab.pin)
        holes = self.lightening()
        return [gusset_blank(form, holes, self.holes.rim, tab, float(self.thickness), self._names)]

    @property
    def _names(self) -> tuple[str, ...]:
        """The names of its pieces."""
        return ("part",) if self.arrangement.mirror is None else ("left", "right")

    def holding(self, case: LoadCase) -> Sequence[Acting]:
        return [one for plate in self.plates for one in plate.holding(case)]

    def facts(self) -> Mapping[str, tuple[Any, str]]:
        form = self.flat()
        flat = properties(self.blank())
        a, b = self.plates[0].joints
        found: dict[str, tuple[Any, str]] = {
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
        return {**found, **super().facts(), **coating_facts(self.finish, self.metal)}

    def cautions(self) -> Sequence[str]:
        return [
            "Weld the toes last and run the weld round them; leave no crater or undercut at a toe.",
            "Tack, check the angle, and weld from side to side: a plate in a corner pulls the tubes together.",
            *super().cautions(),
            *galvanic_cautions(self.metal, self.touching()),
        ]

    def drawn(self) -> Sequence[Drawn]:
        from parts.families.gusset.drawing import gusset_drawn

        leg, gap = float(self.weld.leg), float(self.gap)
        notes = [f"Weld with fillets of {leg:g} mm leg on both faces; gap {gap:g} mm to the tubes."]
        return [gusset_drawn(self.flat(), self.marks(), float(self.thickness), self._names, notes)]

    def weldment(self) -> Weldment:
        from parts.families.gusset.weldment import gusset_weldment

        return gusset_weldment(self)

    def build(self) -> Sequence[Piece]:
        from parts.families.gusset.solid import plate_solid

        first = plate_solid(
            self.flat(), self.lightening(), self.holes.rim, self.plates[0].bores, float(self.thickness),
            float(self.edge_break),
        )  # fmt: skip
        plane = self.arrangement.mirror
        solids = [first] if plane is None else [first, first.mirror("XY", (0.0, 0.0, float(plane)))]
        return [Piece(name, self.metal, one) for name, one in zip(self._names, solids, strict=True)]
