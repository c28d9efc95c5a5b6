"""A pair of ears with a throat between them, and the pin through both: the fork of a clevis.

Axes of the feature: the pin lies on z, the ears stand out toward +x, and the throat is open there. The
origin is the middle of the pin.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Annotated, Any, Literal

import numpy as np
from pydantic import Field

from parts.features.outlines import chamfered
from parts.features.pinhole import BushedHole, Pin, TappedHole
from parts.group import Group
from parts.inputs.designations import RodEndName
from parts.inputs.quantities import NonNegativeLength, PositiveLength
from parts.loads import Action, LoadCase, Required, resultant
from parts.rules import Rule, at_least, at_most
from parts.standards.materials import Material
from parts.strength import lug
from parts.strength import pin as pins
from parts.strength.check import Check, check
from parts.strength.method import work
from parts.strength.outline import Loop, Outline

if TYPE_CHECKING:
    import cadquery as cq

    from parts.loadpath import Span

LEAST_EDGE = 1.0
LEAST_WALL = 0.25
OGIVE_TIP = 0.25


class RodEndThroat(Group):
    """A throat for the ball of a rod end and a spacer on each side of it."""

    type: Literal["rod end"] = Field(
        "rod end", description="A throat for a rod end's ball and spacers."
    )
    rod_end: RodEndName = Field(description="The rod end by its designation.")
    spacer: NonNegativeLength = Field(
        0.0, description="Thickness of the spacer on each side of the ball."
    )
    clearance: NonNegativeLength = Field(0.1, description="Side clearance, both sides together.")

    @property
    def width(self) -> Any:
        return self.rod_end.ball_width + 2.0 * self.spacer + self.clearance

    @property
    def tongue(self) -> Any:
        """Thickness that the pin passes between the ears [mm]."""
        return self.rod_end.ball_width

    @property
    def reach(self) -> Any:
        """How far what sits in the throat stands from the pin [mm]."""
        return self.rod_end.head_diameter / 2.0


class BladeThroat(Group):
    """A throat for a flat blade with side clearance."""

    type: Literal["blade"] = Field(
        "blade", description="A throat for a flat blade with side clearance."
    )
    thickness: PositiveLength = Field(description="Thickness of the blade.")
    clearance: NonNegativeLength = Field(0.2, description="Side clearance, both sides together.")
    end: PositiveLength = Field(description="How far the blade stands past the pin.")

    @property
    def width(self) -> Any:
        return self.thickness + self.clearance

    @property
    def tongue(self) -> Any:
        return self.thickness

    @property
    def reach(self) -> Any:
        return self.end


Throat = Annotated[RodEndThroat | BladeThroat, Field(discriminator="type")]


class Ears(Group):
    """Two ears alike, with the floor of the throat behind them."""

    thickness: PositiveLength = Field(description="Thickness of each ear.")
    width: PositiveLength = Field(description="Width of the ears across the pull.")
    nose: Literal["round", "bullet", "square"] = Field(
        "round", description="Shape of the end: round about the pin, bullet, or square."
    )
    edge: PositiveLength | None = Field(
        None, description="Pin centre to the end of the nose; half the width for a round nose."
    )
    depth: PositiveLength = Field(description="Pin centre to the floor of the throat.")
    corner: NonNegativeLength = Field(
        2.0, description="Radius where the throat's floor meets the ears; 0 leaves it sharp."
    )
    floor: Literal["flat", "full radius"] = Field(
        "flat", description="Floor of the throat: flat with corner radii, or one full radius."
    )
    floor_thickness: PositiveLength = Field(description="Metal behind the floor of the throat.")
    nose_corner: NonNegativeLength = Field(1.0, description="Corner radius of a square nose.")
    throat: Throat = Field(description="What the throat takes.")
    pin: Pin = Field(description="The pin and its hole.")

    @property
    def end(self) -> Any:
        """Pin centre to the end of the nose [mm]."""
        return self.width / 2.0 if self.edge is None or self.nose == "round" else self.edge

    @property
    def radius(self) -> Any:
        """Radius at the throat's floor [mm]."""
        return self.throat.width / 2.0 if self.floor == "full radius" else self.corner

    @property
    def height(self) -> Any:
        """Over both ears, along the pin [mm]."""
        return self.throat.width + 2.0 * self.thickness

    @property
    def back(self) -> Any:
        """Where the body behind the floor ends: distance behind the pin [mm]."""
        return self.depth + self.floor_thickness

    @property
    def nose_radius(self) -> Any:
        """Radius of the end as the shear planes see it [mm]; infinite for a square nose."""
        return {"round": self.width / 2.0, "bullet": self._ogive(), "square": np.inf}[self.nose]

    def _ogive(self) -> Any:
        """Radius of the flanks of a bullet nose [mm]: tangent to the sides and to the tip's radius."""
        tip = OGIVE_TIP * self.width
        run = self.end - tip
        return (self.width**2 / 4.0 + run**2 - tip**2) / (self.width - 2.0 * tip)

    def profile(self) -> Outline:
        """The ears seen along the pin, x toward the nose: from the back of the body to the nose [mm]."""
        w, back = self.width / 2.0, self.back
        if self.nose == "square":
            r, e = self.nose_corner, self.end
            quarter = np.tan(np.pi / 8.0) if np.all(np.asarray(r) > 0.0) else 0.0
            return _loop(
                [(-back, -w), (e - r, -w), (e, -w + r), (e, w - r), (e - r, w), (-back, w)],
                [0.0, quarter, 0.0, quarter, 0.0, 0.0],
            )
        if self.nose == "round":
            return _loop([(-back, -w), (0.0, -w), (0.0, w), (-back, w)], [0.0, 1.0, 0.0, 0.0])
        tip, flank = OGIVE_TIP * self.width, self._ogive()
        # Where flank and tip meet: on the line from the flank's centre (0, w - flank) through the tip's.
        along = np.arctan2(flank - w, self.end - tip)
        x, y = self.end - tip + tip * np.cos(along), tip * np.sin(along)
        turn = np.pi / 2.0 - along
        flank_bulge, tip_bulge = np.tan(turn / 4.0), np.tan(along / 2.0)
        return _loop(
            [(-back, -w), (0.0, -w), (x, -y), (x, y), (0.0, w), (-back, w)],
            [0.0, flank_bulge, tip_bulge, flank_bulge, 0.0, 0.0],
        )

    def rules(self, field: str) -> Iterator[Rule]:
        """Rules of the ears; `field` is the dotted path of this group."""
        yield from self.pin.rules(f"{field}.pin")
        bore, wide = self.pin.bore, self.width
        yield at_least(
            "ears.edge", f"{field}.edge" if self.nose != "round" else f"{field}.width", self.end, LEAST_EDGE * bore,
            "the pin would tear out through the nose (edge distance of one bore: common practice, no source)",
            "move the end of the nose out, or choose a smaller pin",
        )  # fmt: skip
        yield at_least(
            "ears.wall", f"{field}.width", (wide - bore) / 2.0, np.maximum(LEAST_WALL * bore, 1.5),
            "too little metal stands beside the bore (a quarter of the bore: common practice, no source)",
            "make the ears wider, or choose a smaller pin or bush",
        )  # fmt: skip
        if isinstance(self.pin.hole, BushedHole):
            yield at_least(
                "ears.bush", f"{field}.thickness", self.thickness, (self.pin.hole.outside - self.pin.diameter) / 2.0,
                "the ear is thinner than the wall of its bush", "make the ears thicker, or the bush thinner",
            )  # fmt: skip
        yield at_least(
            "ears.thin", f"{field}.thickness", self.thickness, np.maximum(0.2 * bore, 1.5),
            "an ear this thin bends and its bore wallows (a fifth of the bore: common practice, no source)",
            "make the ears thicker",
        )  # fmt: skip
        yield at_most(
            "ears.corner", f"{field}.corner", self.radius, self.throat.width / 2.0,
            "the two corner radii would meet", "lessen the radius, or ask for a full-radius floor",
        )  # fmt: skip
        yield at_least(
            "ears.depth", f"{field}.depth", self.depth, self.throat.reach + self.radius + 0.5,
            "what sits in the throat would touch its floor or the corner radii",
            "deepen the throat, or lessen the corner radius",
        )  # fmt: skip
        yield at_least(
            "ears.root", f"{field}.depth", self.depth, bore / 2.0 + self.radius,
            "the corner radius would run into the bore", "deepen the throat, or lessen the corner radius",
        )  # fmt: skip
        yield at_least(
            "ears.floor", f"{field}.floor_thickness", self.floor_thickness, 0.8 * self.thickness,
            "the floor is weaker than the ears that it carries (common practice, no source)",
            "make the floor at least 0.8 of an ear's thickness",
        )  # fmt: skip
        if self.nose == "square":
            yield at_most(
                "ears.nose_corner", f"{field}.nose_corner", self.nose_corner,
                np.minimum(self.width / 2.0, self.end) - 0.1,
                "the corner radius eats the nose", "lessen it, or ask for a round nose",
            )  # fmt: skip
        if self.nose == "bullet":
            yield at_least(
                "ears.bullet", f"{field}.edge", self.end, 0.55 * self.width,
                "a bullet nose is longer than a round one", "move the end out, or ask for a round nose",
            )  # fmt: skip

    def break_rules(self, field: str, edge_break: Any) -> Iterator[Rule]:
        """Rules that hold the edge break of the part against the ears."""
        room = np.minimum(self.thickness, self.floor_thickness) / 4.0
        if self.nose == "square":
            room = np.where(np.asarray(self.nose_corner) > 0.0, np.minimum(room, 10.0), room)
        yield at_most(
            "ears.break", field, edge_break, room, "the chamfers would eat the faces of the ears",
            "lessen the edge break to a quarter of the ear's thickness",
        )  # fmt: skip

    def spans(
        self, name: str, material: Material, edge_break: Any, actions: Any, piece: str = "part"
    ) -> Sequence[Span]:
        """The load path through one ear, from the pin to the throat's floor.

        Args:
            name: prefix of the spans' names.
            material: what the ear is made of.
            edge_break: chamfer of its edges [mm].
            actions: gives the actions at the pin for a load case.
            piece: the piece of the part that holds the ears.

        Returns:
            Two spans: beside the bore, and from there to the start of the floor.
        """
        from parts.loadpath import Span

        axes = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]])
        middle = (self.throat.width + self.thickness) / 2.0
        t, w, c, r = self.thickness, self.width, edge_break, self.radius
        hole = self.pin.bore / 2.0
        turned = self.depth - 0.9 * r

        def one_ear(case: LoadCase) -> Sequence[Action]:
            return ear_actions(actions(case), middle)

        def beside(s: Any) -> Outline:
            half = np.sqrt(np.maximum(hole**2 - (0.98 * hole * s) ** 2, 0.0))
            strip = w / 2.0 - half
            at = (w / 2.0 + half) / 2.0
            return _strips(strip, t, c, at)

        def behind(s: Any) -> Outline:
            x = 1.02 * hole + s * (turned - 1.02 * hole)
            run = np.maximum(x - (self.depth - r), 0.0)
            grown = r - np.sqrt(np.maximum(r**2 - run**2, 0.0))
            return chamfered(w, t + grown, c, (0.0, -grown / 2.0))

        def at(x: Any) -> Any:
            zero = np.zeros_like(np.asarray(x, float))
            return np.stack(np.broadcast_arrays(-np.asarray(x, float), zero, middle), axis=-1)

        return (
            Span(
                f"{name} beside the bore",
                at(0.0 * hole),
                at(0.98 * hole),
                axes,
                beside,
                one_ear,
                material,
                piece,
                9,
            ),
            Span(
                f"{name} behind the bore",
                at(1.02 * hole),
                at(turned),
                axes,
                behind,
                one_ear,
                material,
                piece,
            ),
        )

    def modes(
        self,
        name: str,
        material: Material,
        case: LoadCase,
        actions: Sequence[Action],
        required: Required,
    ) -> Iterator[Check]:
        """Pin shear and bending; ear net tension, bearing and shear-out.

        Args:
            name: prefix of the checks' names.
            material: what the ears are made of.
            case: the load case.
            actions: what acts at the pin.
            required: the factors asked for.

        Returns:
            The checks.
        """
        force, moment = resultant(actions, (0.0, 0.0, 0.0))
        middle = (self.throat.width + self.thickness) / 2.0
        across = np.hypot(force[..., 0], force[..., 1])
        couple = np.hypot(moment[..., 0], moment[..., 1]) / (2.0 * middle)
        ear = across / 2.0 + couple
        on = {"load_case": case.name}
        ultimate, yields = required.on_ultimate, required.on_yield
        pin = self.pin
        gap = (self.throat.width - self.throat.tongue) / 2.0
        yield check(
            f"{name} pin, shear", "shear", demand=work(pins.single_shear, F=ear, D=pin.diameter),
            capacity=pin.material.shear_ultimate, unit="MPa", required=ultimate, **on,
        )  # fmt: skip
        arm = work(pins.double_shear_arm, t1=self.thickness, t2=self.throat.tongue, g=gap)
        bending = work(
            pins.bending_stress,
            M=work(pins.double_shear_moment, P=2.0 * ear, b=arm),
            D=pin.diameter,
        )
        yield check(
            f"{name} pin, bending", "bending", demand=bending, capacity=pin.material.yield_strength,
            unit="MPa", required=yields, **on,
        )  # fmt: skip
        net = work(lug.net_section_stress, P=ear, w=self.width, D_h=pin.bore, t=self.thickness)
        bearing = work(lug.bearing_stress, P=ear, D_p=pin.bearing_diameter, t=self.thickness)
        for kind, factor, tension, pressure in (
            ("yield", yields, material.yield_strength, material.bearing_yield),
            ("ultimate", ultimate, material.ultimate_strength, material.bearing_ultimate),
        ):
            yield check(
                f"{name} net section, {kind}", "net tension", demand=net, capacity=tension, unit="MPa",
                required=factor, **on,
            )  # fmt: skip
            yield check(
                f"{name} bearing, {kind}", "bearing", demand=bearing, capacity=pressure, unit="MPa",
                required=factor, **on,
            )  # fmt: skip
        yield check(
            f"{name} shear-out", "shear-out", demand=ear, unit="N", required=ultimate,
            capacity=work(
                lug.tear_out_load, R=np.minimum(self.end, self.width / 2.0), D_h=pin.bore, t=self.thickness,
                F_s=material.shear_ultimate,
            ),
            note="least of the end and side distances, whichever way the pin pulls", **on,
        )  # fmt: skip

    def solid(self, edge_break: float) -> cq.Workplane:
        """The fork as a solid, pin hole and all, its back flat at `-back`."""
        from parts.shapes.profile import prism

        half, gap = self.height / 2.0, self.throat.width / 2.0
        body = prism(self.profile(), -half, half)
        if edge_break > 0.0:
            body = body.faces("|Z").edges("not(<X)").chamfer(edge_break)
        body = body.cut(self._throat_tool(gap))
        if edge_break > 0.0:
            body = _break_throat(body, gap, edge_break)
        return body.cut(self._bores(edge_break))

    def _throat_tool(self, gap: float) -> cq.Workplane:
        from parts.shapes.profile import prism

        r, d, far, wide = self.radius, self.depth, self.end + 5.0, self.width
        bulge = np.tan(np.pi / 8.0) if r > 0.0 else 0.0
        # Coordinates are (z, x): the figure is seen along y.
        figure = _loop(
            [(gap - r, -d), (gap, -d + r), (gap, far), (-gap, far), (-gap, -d + r), (-gap + r, -d)],
            [bulge, 0.0, 0.0, 0.0, bulge, 0.0],
        )
        return prism(figure, -wide, wide, "y")

    def _bores(self, edge_break: float) -> cq.Workplane:
        from parts.shapes.profile import broken_hole

        half, gap, pin = self.height / 2.0, self.throat.width / 2.0, self.pin
        lower = pin.hole.thread.minor_internal if isinstance(pin.hole, TappedHole) else pin.bore
        upper_tool = broken_hole(pin.bore, gap, half, edge_break)
        return upper_tool.union(broken_hole(lower, -half, -gap, edge_break))


def ear_actions(actions: Sequence[Action], middle: Any) -> Sequence[Action]:
    """The share of the ear at +z in what acts at the pin.

    Each ear takes half the force across the pin, and the force that a couple about x or y adds; a force
    along the pin leans on one ear alone, since nothing ties the ears together at their ends.

    Args:
        actions: what acts on the pin.
        middle: distance of the ear's middle from the middle of the throat [mm].

    Returns:
        One action at the middle of the ear.
    """
    force, moment = resultant(actions, (0.0, 0.0, 0.0))
    share = force / 2.0
    share = share + np.stack(
        [
            _with_sign(moment[..., 1] / (2.0 * middle), force[..., 0]),
            _with_sign(moment[..., 0] / (2.0 * middle), force[..., 1]),
            np.abs(force[..., 2]) - force[..., 2] / 2.0,
        ],
        axis=-1,
    )
    zero = np.zeros_like(np.asarray(middle, float))
    return (Action(np.stack([zero, zero, np.asarray(middle, float)], axis=-1), share),)


def _with_sign(size: Any, sign_of: Any) -> Any:
    return np.abs(size) * np.where(np.asarray(sign_of) < 0.0, -1.0, 1.0)


def _strips(strip: Any, thickness: Any, edge_break: Any, at: Any) -> Outline:
    """The two strips beside the bore; their outside edges and those of the bore are broken alike."""
    upper = chamfered(strip, thickness, edge_break, (at, 0.0))
    lower = chamfered(strip, thickness, edge_break, (-np.asarray(at), 0.0))
    return upper + lower


def _loop(points: Sequence[tuple[Any, Any]], bulges: Sequence[Any]) -> Outline:
    flat = np.broadcast_arrays(*(np.asarray(v, float) for point in points for v in point))
    places = np.stack([np.stack(flat[0::2], axis=-1), np.stack(flat[1::2], axis=-1)], axis=-1)
    bulge = np.stack(np.broadcast_arrays(*(np.asarray(b, float) for b in bulges)), axis=-1)
    return Outline((Loop(places, bulge),))


def _break_throat(body: cq.Workplane, gap: float, edge_break: float) -> cq.Workplane:
    """Break the edges that the throat leaves: one closed run around its mouth, sides and floor."""
    faces = body.faces(f"(>Z[{-2}]) or (<Z[{-2}])")
    return faces.edges().chamfer(edge_break)
