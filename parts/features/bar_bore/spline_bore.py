"""A hub's bore with an involute spline: its form, its rules, and what it bears."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Any, ClassVar, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.clearances import Clearance, Sized
from parts.core.fatigue_places import Detail, Spot, demand_of
from parts.core.feature import Answers, Modes
from parts.core.group import Group
from parts.core.loads import LoadCase
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.features.bar_bore.in_hub import InHub
from parts.inputs.designations import SplineName
from parts.inputs.quantities import Angle, NonNegativeLength
from parts.standards.materials.materials import Material
from parts.standards.splines.form import PRESSURE_ANGLE, Spline
from parts.strength.method import work
from parts.strength.section.outline import Loop
from parts.strength.shafts import spline as dudley

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Dimension, Marks
    from parts.core.supports import Round

X, _, Z = np.eye(3)
STEELS = ("low-alloy steel", "carbon steel", "stainless steel")
MPA_PER_BRINELL = 3.45
"""Tensile strength of steel per unit of Brinell hardness [MPa]; ASTM A370 conversions, from memory."""
SPLINE_CLASS = 5
"""Tolerance class of both splines: the basic class of ANSI B92.1, whose teeth are never wider than basic."""
DESIGN_ALLOWABLE = "Dudley's allowable is meant to be reached: it holds its own factor"
TEETH = "the teeth of the hub are left out: its bore is plain at their largest diameter"
CLEAR = 0.01
"""By how much a plain bore clears the teeth that it replaces [mm]."""
ROOTS = (3.0, False, "roots of teeth in the wall: three, common practice, no source")
"""Fatigue factor of the wall over a tooth space, that the finish is not in it, and where it is from."""


class SplineBore(Group, Answers[InHub]):
    """An involute spline of 30 degrees, side fit."""

    seen_from_below: ClassVar[bool] = False

    type: Literal["spline"] = Field("spline", description="An involute spline of 30 degrees.")
    spline: SplineName = Field(description="Spline by its teeth and size.")
    clocking: Angle = Field(
        0.0, description="Turn of the bar's reference tooth from the arm, about +z."
    )
    lead_in: NonNegativeLength = Field(
        0.8, description="Depth of the 45 degree chamfer at both mouths of the bore."
    )
    seating: Literal["fixed", "loose"] = Field(
        "fixed",
        description="Fixed: pinned, clamped or piloted so that it cannot rock. Loose: free to rock.",
    )
    shock: Literal["uniform", "light shock", "intermittent shock", "heavy shock"] = Field(
        "light shock", description="How roughly the load comes, beside a uniform source of torque."
    )
    cycles: float = Field(
        1e4, ge=1.0, le=1e7, description="Torque cycles in its life, as large as the load cases."
    )
    reversing: bool = Field(False, description="Whether the torque changes its sense.")
    misalignment: float = Field(
        0.001, ge=0.0, le=0.008, description="Misalignment of the bar in the hub, mm per mm."
    )

    hardness: Literal["160-200 HB", "230-260 HB", "302-351 HB", "48-53 HRC", "58-63 HRC"] | None = (
        Field(
            None,
            description="Hardness of the hub's teeth; by the strength of a steel hub where left out.",
        )
    )

    @property
    def largest(self) -> Any:
        """Largest diameter of the bore [mm]."""
        return self.spline.major_internal

    @property
    def widest(self) -> float:
        """Largest diameter, lead-in and all [mm]: past it nothing narrow is left."""
        return float(np.maximum(self.largest, self.spline.minor_internal + 2.0 * self.lead_in))

    def plain(self, width: float) -> tuple[Round, Round]:
        """The wall of a bore without teeth in a hub of that width, about its middle, and what it is bored out with: a
        proof leaves the teeth out."""
        from parts.core.supports import Round

        d, half = self.widest + CLEAR, width / 2.0
        wall = Round(np.zeros(3), (0.0, 0.0, 1.0), d, -half, half)
        return wall, replace(wall, low=-half - 1.0, high=half + 1.0)

    @property
    def shock_factor(self) -> float:
        """How much a torque is raised for how roughly it comes [-], on the teeth and on the bar under them."""
        return dudley.application_factor("uniform", self.shock)

    @property
    def shaft(self) -> Any:
        """Diameter of the bar's end that goes through the bore [mm]."""
        return self.spline.minor_external

    def engagement(self, width: Any) -> Any:
        """Length of full teeth in a hub [mm]."""
        return width - 2.0 * self.lead_in

    def shaft_shear(self, site: InHub, case: LoadCase) -> Any:
        """Shear stress of the bar's end in the hub, worked [MPa]."""
        return work(
            dudley.root_shear_stress, T=site.torque(case), D_re=self.spline.minor_external, D_h=site.hollow,
            K_a=self.shock_factor, K_f=1.0,
        )  # fmt: skip

    def rules(self, site: InHub) -> Iterator[Rule]:
        """Rules of the bore."""
        field, width = site.field, site.width
        wall = (site.diameter - self.largest) / 2.0
        yield at_least(
            "spline.wall", site.wide, wall, np.maximum(0.15 * self.spline.pitch_diameter, 3.0),
            "the hub would burst: its wall is under 0.15 of the pitch diameter (common practice, no source)",
            "make the hub larger, or choose a smaller spline",
        )  # fmt: skip
        yield at_least(
            "spline.engagement", site.long, self.engagement(width), 0.5 * self.spline.pitch_diameter,
            "the teeth engage over less than half the pitch diameter (common practice, no source)",
            "make the hub wider",
        )  # fmt: skip
        yield at_most(
            "spline.long", site.long, width, 101.6, "the published load distribution ends at 4 in of length",
            "make the hub narrower",
        )  # fmt: skip
        depth = (self.spline.major_internal - self.spline.minor_internal) / 2.0
        yield at_most(
            "spline.lead_in", f"{field}.lead_in", self.lead_in, np.minimum(wall, 4.0 * depth) / 2.0 + depth,
            "the lead-in chamfer eats the face of the hub", "lessen the lead-in",
        )  # fmt: skip

    def kinds(self, site: InHub) -> list[Kind]:
        """What can fail of it."""
        return [Kind("spline in a hub", "spline")]

    def modes(self, site: InHub, case: LoadCase) -> Iterator[Check]:
        """Teeth in shear, flanks in pressure and the hub in bursting."""
        s, material, torque, required = (
            self.spline,
            site.metal,
            site.torque(case),
            site.required(case),
        )
        long = self.engagement(site.width)
        shared = {
            "K_a": self.shock_factor,
            "K_m": work(dudley.load_distribution_factor, misalignment=self.misalignment, L=long),
        }
        life = work(
            dudley.fatigue_life_factor, cycles=self.cycles, reversed_share=float(self.reversing)
        )
        t = work(dudley.tooth_thickness, D=s.pitch_diameter, N=s.teeth)
        size = {"T": torque, "D": s.pitch_diameter, "N": s.teeth, "L_e": long}
        shear = partial(work, dudley.tooth_shear_stress, **size, t=t, **shared)
        depth = (s.major_external - s.minor_internal) / 2.0
        pressure = partial(work, dudley.flank_pressure_flexible, **size, h=depth, **shared)
        fixed = work(dudley.flank_pressure_fixed, **size, h=depth, **shared, K_f=life)
        wall = (site.diameter - self.largest) / 2.0
        burst = partial(
            work, dudley.bursting_stress,
            s_1=work(
                dudley.hub_radial_tension, T=torque, D=s.pitch_diameter, t_w=wall, L=long, phi=PRESSURE_ANGLE
            ),
            s_3=work(dudley.tooth_beam_tension, T=torque, D=s.pitch_diameter, L_e=long), **shared,
        )  # fmt: skip
        on = partial(check, load_case=case.name, unit="MPa")
        hardness = self.hardness or hardness_row(material)
        if hardness:
            note = f"{DESIGN_ALLOWABLE}; row {hardness}" + (
                "" if self.hardness else " by the hub's strength"
            )
            wear = pressure(K_w=1.0) if self.seating == "loose" else fixed
            for name, demand, kind in (
                ("spline teeth, shear", shear(K_f=life), "shear"),
                ("spline flanks, pressure", wear, "compression"),
                ("spline hub, bursting", burst(K_f=life), "tension"),
            ):
                yield on(
                    f"{name}, in service", f"spline {kind}", demand=demand, required=1.0, note=note,
                    capacity=dudley.allowable(self.hardness, kind) if self.hardness else allowable(material, kind),
                )  # fmt: skip
        still = "once, without the life factor"
        teeth = required.both(material.shear_yield, material.shear_ultimate)
        for name, demand, kind, strength, factor in (
            *((f"teeth, shear, {which}", shear(), "shear", *one) for which, *one in teeth),
            (
                "flanks, pressure, yield",
                pressure(),
                "compression",
                material.yield_strength,
                required.on_yield,
            ),
            (
                "hub, bursting, yield",
                burst(),
                "tension",
                material.yield_strength,
                required.on_yield,
            ),
        ):
            yield on(
                f"spline {name}", f"spline {kind}", demand=demand, capacity=strength, required=factor, note=still
            )  # fmt: skip

        # Both pull the wall over a tooth space at once: wedging teeth all round, and the arm on one side.
        together = burst(s_2=site.wall_stress(case, self.largest))
        for of, strength, factor in required.both(
            material.yield_strength, material.ultimate_strength
        ):
            yield on(
                f"spline hub's wall, teeth and {site.beside} together, {of}", "spline tension", demand=together,
                capacity=strength, required=factor, note=still,
            )  # fmt: skip

    def details(self, site: InHub, modes: Modes) -> Sequence[Detail]:
        """The hub's wall over the roots of its teeth."""
        stress = demand_of(modes, f"spline hub's wall, teeth and {site.beside} together, yield")
        wall = (site.diameter - self.largest) / 2.0
        return [
            Spot("spline hub's wall at the roots of its teeth", site.metal, stress, wall, *ROOTS)
        ]

    def clearances(self, site: InHub) -> Sequence[Clearance]:
        """Teeth of the bar in the spaces of the hub, side by side on the pitch circle."""
        spaces, tooth = self.spline.space_widths(SPLINE_CLASS), self.spline.width
        by = f"class {SPLINE_CLASS}, side fit"
        room = Sized("space of the hub, effective", spaces.effective_min, spaces.actual_max, by)
        filled = Sized("tooth of the bar, effective", 2.0 * tooth - spaces.actual_max, tooth, by)
        return [
            Clearance(
                "spline in the hub", f"{site.field}.spline", (room,), (filled,), "choose a class of spline that goes",
                eased=self.spline.eased,
            )
        ]  # fmt: skip

    def cautions(self, site: InHub) -> list[str]:
        """What the builder must know of this bore."""
        fit = self.spline.between_pins()
        notes = [
            f"Spline {self.spline.designation}: measure {fit.size:.3f} mm between pins of {fit.pin:.3f} mm, at "
            f"the basic space width; mark the reference tooth on bar and hub before the {site.beside} comes off.",
        ]
        if not (self.hardness or hardness_row(site.metal)):
            notes.append(
                "Published spline allowables are for steel of 160 HB and more: for this hub the teeth are held "
                "against yield alone, and wear of the flanks is not covered."
            )
        return notes

    def facts(self, site: InHub) -> dict[str, tuple[Any, str]]:
        return {
            "clocking of the reference tooth": (np.degrees(self.clocking), "deg"),
            f"change of {site.beside} angle for each tooth": (360.0 / self.spline.teeth, "deg"),
        }

    def marks(self, site: InHub) -> Marks:
        """Its spline, the lead-in, and how the teeth stand to the arm."""
        from parts.core.drawing import Callout, Diameter, Linear, Marks, Worded

        half = float(site.width) / 2.0
        one = self.spline
        small = float(one.minor_internal)
        lead = float(self.lead_in)
        turn = np.radians(150.0)
        at = np.array([small / 2 * np.cos(turn), small / 2 * np.sin(turn), half])
        words = f"spline {one.designation}, see notes\nminor diameter {{0}}"
        sizes: list[Dimension] = [
            Callout(
                "spline",
                at,
                words,
                (Diameter("minor diameter", (0, 0, half), Z, small),),
                view="front",
            ),
        ]
        if lead > 0.0:
            cone = small + 2.0 * lead
            mouth = Callout(
                "lead-in", (-cone / 2 + lead / 2, 0, half - lead / 2), "lead-in {0} × 45°, both ends",
                (Linear("lead-in", (0, 0, half - lead), (0, 0, half), Z, lead),), view="top",
            )  # fmt: skip
            sizes.append(mouth)
        clock = np.degrees(float(self.clocking))
        notes = (
            f"Internal involute spline {one.designation}: {one.teeth} teeth, 30° pressure angle, side fit; "
            f"pitch diameter {one.pitch_diameter:.4f} mm, major {one.major_internal:.3f} mm, "
            f"minor {one.minor_internal:.3f} mm.",
            f"A tooth space of the hub stands {clock:.2f}° from "
            + ("the arm's centre line" if site.beside == "arm" else "x")
            + ", counter-clockwise as drawn.",
        )
        wide = float(one.major_internal) + 0.2
        return Marks(
            tuple(sizes), notes=notes, worded=(Worded("spline", (0, 0, 0), Z, small, wide),)
        )

    def loop(self, place: tuple[float, float]) -> Loop:
        """Its whole profile about a place [mm], counter-clockwise."""
        turn = float(self.clocking) + 2.0 * np.pi / self.spline.teeth * np.arange(self.spline.teeth)
        points, bulges = space_profile(self.spline)
        around = np.stack([np.cos(turn), np.sin(turn)])
        x, y = points.T
        ring = np.stack([np.outer(around[0], x) - np.outer(around[1], y),
                         np.outer(around[1], x) + np.outer(around[0], y)], axis=-1)  # fmt: skip
        return Loop(ring.reshape(-1, 2) + np.asarray(place), np.tile(bulges, self.spline.teeth))

    def cut_from(self, body: cq.Workplane, width: float) -> cq.Workplane:
        """Cut the bore and its lead-in chamfers; the hub lies from -width/2 to width/2."""
        from parts.features.bar_bore.spline_tool import splined
        from parts.shapes.workplane import Workplane

        hub = body.val()
        bored = splined(hub, self.spline, float(width), float(self.lead_in), self._turn)
        return body.cut(self.tool(width)) if bored is None else Workplane(obj=bored)

    def tool(self, width: float) -> cq.Workplane:
        """What is cut away, about the middle of a hub of that width."""
        from parts.features.bar_bore.spline_tool import spline_tool
        from parts.shapes.workplane import Workplane

        tool = Workplane(obj=spline_tool(self.spline, float(width), float(self.lead_in)))
        return tool.rotate((0, 0, 0), (0, 0, 1), self._turn) if self._turn else tool

    @property
    def _turn(self) -> float:
        """Its clocking [degrees]; the kernel breaks on an angle that is next to nothing but not nothing."""
        return round(float(np.degrees(self.clocking)), 9)


def space_profile(spline: Spline) -> tuple[np.ndarray, np.ndarray]:
    """One tooth space about +x from the middle of a tooth to the middle of the next: points (n, 2) [mm] without the
    last, and the bulge that leaves each (n,)."""
    space = spline.internal_space(points=3)
    flank, fillet = np.asarray(space.flank, float), np.asarray(space.fillet, float)
    tip, edge = np.hypot(*flank[0]), np.arctan2(flank[0][1], flank[0][0])
    middle = np.pi / spline.teeth
    # A flank is an arc through its ends and its middle: to a thousandth of a millimetre it is one.
    up = [flank[0], flank[2], fillet[2]]
    down = [(x, -y) for x, y in up]
    tooth, side, corner = np.tan((middle - edge) / 4.0), _bulge(*flank), _bulge(*fillet)
    start = tip * np.array([np.cos(middle), -np.sin(middle)])
    if space.full_fillet:
        points, roots = [start, *down, *reversed(up[:-1])], [-corner, -corner]
    else:
        root = np.tan(np.arctan2(up[-1][1], up[-1][0]) / 2.0)
        points, roots = [start, *down, *reversed(up)], [-corner, root, -corner]
    return np.array(points), np.array([tooth, -side, *roots, -side, tooth])


def _bulge(start: np.ndarray, middle: np.ndarray, end: np.ndarray) -> float:
    """Bulge of the arc through three points, as it runs from start to end."""
    chord = end - start
    off = (middle - (start + end) / 2.0) @ np.array([chord[1], -chord[0]]) / np.hypot(*chord)
    return float(2.0 * off / np.hypot(*chord))


HARDNESSES = ((160.0, "160-200 HB"), (230.0, "230-260 HB"), (302.0, "302-351 HB"))
"""The least hardness of each row of Dudley's allowables [HB], and its name."""


def hardness_row(material: Material) -> str:
    """The row of Dudley's allowables for a material, by its tensile strength, of many heats the hardest; empty where
    there is none."""
    if material.family not in STEELS:
        return ""
    hardness = float(np.max(material.ultimate_strength)) / MPA_PER_BRINELL
    return max(((low, name) for low, name in HARDNESSES if hardness >= low), default=(0.0, ""))[1]


def allowable(material: Material, kind: str) -> Any:
    """Dudley's allowable stress of each heat of a material [MPa], by its tensile strength; 0 below the softest row."""
    hardness = np.asarray(material.ultimate_strength) / MPA_PER_BRINELL
    rows = HARDNESSES[::-1]
    return np.select(
        [hardness >= low for low, _ in rows], [dudley.allowable(name, kind) for _, name in rows]
    )[()]
