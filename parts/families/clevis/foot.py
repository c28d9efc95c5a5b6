"""A foot coped to a tube and welded to it all round.

The foot is the body of the clevis carried on behind the floor of its throat, cut to the tube's outside.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, ClassVar, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.fatigue_places import HOT_SPOT, ROOT, Detail, Weld, demand_of
from parts.core.feature import Modes
from parts.core.freebody import Acting, reacting
from parts.core.loads import Action, LoadCase, Required, resultant
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.features.section.outlines import figure
from parts.features.thread.body import MOVES, Body, OnBody, Shank
from parts.features.weld.softened import SHEAR_SHARE, weaker, welded
from parts.inputs.designations import MaterialName, TubeName
from parts.inputs.quantities import Angle, PositiveLength
from parts.standards.materials.materials import Material
from parts.strength.method import Worked, plain, work
from parts.strength.vectors import cross
from parts.strength.welded import tube_joint, tube_wall, weld
from parts.strength.welded.line import Path

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Dimension, Marks
    from parts.core.supports import Support

X, Y, Z = np.eye(3)
SIDE_STATIONS = 33
"""Stations of the weld along each side of the foot; odd, for Simpson's rule."""
WIDEST = 0.85
"""Half the foot across the tube, at most this share of the tube's radius: beyond, its edges are feathers."""
STEP = 1e-5
"""Step of the central difference along a side of the foot [-]: good to its square."""
FAR = 1e3
"""Beyond every part [mm]."""
STEEPEST = np.radians(45.0)
TUBE_USED = 2.0 / 3.0
"""Share of its yield to which the tube itself is taken to be pushed along, for its wall [-]: what a factor of 1.5
allows it."""


class Foot(Shank):
    """A foot coped to a tube and welded to it all round."""

    backs_ears: ClassVar[bool] = False
    welded: ClassVar[bool] = True
    open_back: ClassVar[bool] = True
    filleted: ClassVar[bool] = False

    type: Literal["foot"] = Field(
        "foot", description="A foot coped to a tube and welded to it all round."
    )
    tube: TubeName = Field(description="The tube by outside diameter and wall.")
    tube_material: MaterialName = Field(
        description="Material of the tube, for the strength beside the weld."
    )
    filler: str = Field(
        "", max_length=20, description="Filler metal; the weakest of the usual ones where left out."
    )
    distance: PositiveLength = Field(description="From the pin to the axis of the tube, along x.")
    tube_axis: Literal["y", "z"] = Field(
        "z",
        description="Axis of the tube: along y, or along z as the pin; clocking turns it about x.",
    )
    tilt: Angle = Field(
        0.0, description="Lean of the tube's axis toward the pin, out of square to x."
    )
    leg: PositiveLength = Field(description="Leg of the fillet weld.")

    def axes(self, body: Body) -> np.ndarray:
        """Three unit rows: out of the tube toward the pin, across the tube, and along it; shape (..., 3, 3)."""
        turn = np.asarray(body.clocking) + (0.0 if self.tube_axis == "z" else -np.pi / 2.0)
        turn, tilt = np.broadcast_arrays(np.asarray(turn, float), np.asarray(self.tilt, float))
        c, s, ct, st, zero = np.cos(turn), np.sin(turn), np.cos(tilt), np.sin(tilt), 0.0 * turn
        rows = (ct, st * s, -st * c), (zero, c, s), (st, -ct * s, ct * c)
        return np.stack([np.stack(row, axis=-1) for row in rows], axis=-2)

    def surface(self, body: Body, y: Any, z: Any) -> Any:
        """The tube's outside that faces the pin: its x at y and z [mm], each with a last axis of places."""
        out, across, _ = np.moveaxis(self.axes(body), -2, 0)
        u = across[..., 1, None] * y + across[..., 2, None] * z
        v = np.sqrt(np.maximum((self.tube.width_mm / 2.0) ** 2 - u**2, 0.0))
        lean = out[..., 1, None] * y + out[..., 2, None] * z
        return (v - lean) / out[..., 0, None] - np.asarray(self.distance, float)[..., None]

    def _reach(self, body: Body, row: int) -> Any:
        """How far the foot's corners lie from its axis along a row of `axes` [mm]."""
        one = np.abs(self.axes(body)[..., row, :])
        return (one[..., 1] * body.width + one[..., 2] * body.height) / 2.0

    def end(self, body: Body) -> Any:
        """From the pin to where the tube first meets the foot, at the least [mm]."""
        lean = np.cos(self.tilt)
        return self.distance - (self.tube.width_mm / 2.0 + self._reach(body, 0)) / lean

    def marks(self, site: OnBody) -> Marks:
        """Its cope and where the tube lies, in the axes of the ears."""
        from parts.core.drawing import Angle, Callout, CentreLine, Linear, Marks, Radius, Worded

        body = site.body
        out, across, along = np.asarray(self.axes(body), float)
        distance, outside = float(self.distance), float(self.tube.width_mm)
        axis = np.array([-distance, 0.0, 0.0])
        words = f"cope to {self.tube.name} tube"
        sizes: list[Dimension] = [
            Linear("pin to the tube's axis", axis, (0, 0, 0), X, distance, view="front"),
        ]
        straight = abs(float(along @ X)) < 1e-9 and max(abs(along)) > 1.0 - 1e-9
        side = "front" if abs(along[2]) > 0.5 else "top"
        if straight:
            sizes.append(Radius("cope", axis, along, out, outside / 2, callout=words, view=side))
        else:
            lean = f", leaning {np.degrees(float(self.tilt)):.1f}°" if self.tilt else ""
            side = "front" if abs(across[2]) > 0.5 else "top"
            turn = f", turned {np.degrees(float(body.clocking)):.1f}°" if body.clocking else ""
            sizes.append(
                Callout("cope", axis + out * outside / 2, f"{words}{lean}{turn}", view=side)
            )
        if self.tilt and max(abs(across)) > 1.0 - 1e-9:
            square = (along - (along @ X) * X) / np.linalg.norm(along - (along @ X) * X)
            angle = Angle("lean of the tube", axis, square, along, abs(float(self.tilt)), view=side)
            sizes.append(angle)
        centre = CentreLine(axis - along * outside * 0.6, axis + along * outside * 0.6)
        note = (
            f"Fillet weld all round, leg {float(self.leg):.2f}; tack and square to the tube first."
        )
        cope = Worded("cope", axis, along, outside, outside)
        centres = (centre, CentreLine((0, 0, 0), axis))
        return Marks(tuple(sizes), (), (), centres, (note,), worded=(cope,))

    def rules(self, site: OnBody) -> Iterator[Rule]:
        """Rules of the foot; `field` is its dotted path."""
        field, body = site.field, site.body
        half = self.tube.width_mm / 2.0
        yield at_most(
            "foot.tilt", f"{field}.tilt", np.abs(self.tilt), STEEPEST,
            "no torch reaches into the acute side of the joint", "lean the tube by 45 degrees at most", "deg",
        )  # fmt: skip
        yield at_most(
            "foot.wide", f"{field}.tube", self._reach(body, 1), WIDEST * half,
            "the foot is too wide for the tube: the edges of its cope would be feathers",
            "choose a larger tube, turn the tube, or narrow the ears",
        )  # fmt: skip
        yield at_least(
            "foot.near", f"{field}.distance", self.end(body), body.back,
            "the tube would cut into the floor of the throat", "move the tube back",
        )  # fmt: skip
        yield at_most(
            "foot.far", f"{field}.distance", self.distance, body.back + half + 300.0,
            "a foot this long is no foot; it looks like the wrong unit", "check the unit of this value",
        )  # fmt: skip
        yield at_most(
            "foot.leg", f"{field}.leg", self.leg, 1.5 * self.tube.wall_mm + 0.5,
            "a fillet this large burns through the wall of the tube (common practice, no source)",
            "lessen the leg, or choose a thicker tube",
        )  # fmt: skip
        yield at_least(
            "foot.thin_leg", f"{field}.leg", self.leg, 1.5,
            "a fillet this small is not welded (common practice, no source)",
            "make the leg at least 1.5 mm",
        )  # fmt: skip

    def path(self, body: Body) -> Path:
        """The root line of the weld: the rectangle of the foot laid onto the tube, its corners sharp."""
        w, h = np.broadcast_arrays(
            np.asarray(body.width, float) / 2.0, np.asarray(body.height, float) / 2.0
        )
        corners = np.stack(
            [np.stack([a * w, b * h], axis=-1) for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))],
            axis=-2,
        )
        t = np.linspace(0.0, 1.0, SIDE_STATIONS)
        simpson = np.where(np.arange(SIDE_STATIONS) % 2, 4.0, 2.0) / (3.0 * (SIDE_STATIONS - 1))
        simpson[[0, -1]] /= 2.0
        total: Path | None = None
        for i in range(4):
            a, b = corners[..., i, :], corners[..., (i + 1) % 4, :]
            side = self._side(body, a, b, t, simpson)
            total = side if total is None else total + side
        assert total is not None
        return total

    def _side(self, body: Body, a: Any, b: Any, t: Any, simpson: Any) -> Path:
        flat = a[..., None, :] + t[:, None] * (b - a)[..., None, :]
        way = (b - a)[..., None, :]
        ahead, behind = flat + STEP * way, flat - STEP * way
        x, further, nearer = (
            self.surface(body, p[..., 0], p[..., 1]) for p in (flat, ahead, behind)
        )
        flat = np.broadcast_to(flat, (*x.shape, 2))
        points = np.concatenate([x[..., None], flat], axis=-1)
        rate = np.concatenate(
            [((further - nearer) / (2.0 * STEP))[..., None], np.broadcast_to(way, flat.shape)],
            axis=-1,
        )
        speed = np.linalg.norm(rate, axis=-1)
        return Path(points, rate / speed[..., None], speed * simpson)

    def soft(self, metal: Material) -> Material:
        """The metal of the clevis beside the weld."""
        return welded(metal, self.filler, None)

    def weld_at(self, body: Body) -> Any:
        """From the pin to the weld [mm]."""
        return self.end(body)

    def kinds(self, site: OnBody) -> list[Kind]:
        """What can fail of it and of the tube that it stands on."""
        return [Kind("plate weld", "foot"), Kind("tube wall under a plate", "foot")]

    def modes(self, site: OnBody, case: LoadCase) -> Iterator[Check]:
        """The weld as a line in space, against throat, leg and the tube's wall; and the wall dented or torn."""
        body, metal, actions, required = (
            site.body,
            site.metal,
            site.actions(case),
            site.required(case),
        )
        q = self._line(body, actions)
        zone = weaker(
            metal.beside_weld(self.filler),
            self.tube_material.beside_weld(self.filler, self.tube.wall_mm),
        )
        largest = np.linalg.norm(q, axis=-1).max(axis=-1)
        for kind, strength, factor in required.both(zone.yield_strength, zone.ultimate_strength):
            shear = SHEAR_SHARE * strength
            yield check(
                f"foot weld, {kind}", "weld", load_case=case.name, demand=largest, unit="N/mm",
                capacity=work(
                    weld.fillet_capacity, h=self.leg, t=self.tube.wall_mm, S_w=shear, tau_haz=shear,
                    sigma_haz=strength,
                ),
                required=factor,
                note="largest force on each mm of the weld all round as a line in space (Blodgett, 7.4; Shigley, "
                f"9-3 and 9-4); strength of {zone.source}",
            )  # fmt: skip
        yield self._wall_check(body, case, actions, required)

    def _line(self, body: Body, actions: Sequence[Action]) -> np.ndarray:
        """Force on each mm of the weld [N/mm]."""
        force, moment = body.carried(actions, -np.asarray(body.back))
        return weld.line_force(self.path(body), force, moment, np.zeros(3))

    def _wall_check(
        self, body: Body, case: LoadCase, actions: Sequence[Action], required: Required
    ) -> Check:
        """The wall of the tube under the foot, dented by what acts square to it and rocks on it."""
        axes, d0, t0 = self.axes(body), self.tube.width_mm, self.tube.wall_mm
        top = -(np.asarray(self.distance, float) - d0 / 2.0 / np.cos(self.tilt))
        place = np.stack(np.broadcast_arrays(top, 0.0, 0.0), axis=-1)
        out, across, along = (axes[..., i, :] for i in range(3))
        force, moment = resultant(actions, place)
        zone = self.tube_material.beside_weld(self.filler, t0)
        f_y = zone.yield_strength * plain(tube_wall.high_yield_factor(zone.yield_strength))
        wide, long = (
            1.0 / np.maximum(np.abs(way[..., 1]) / body.width, np.abs(way[..., 2]) / body.height)
            for way in (across, along)
        )
        wall = {"d0": d0, "t0": t0, "f_y": f_y, "k": tube_wall.chord_factor(TUBE_USED)}
        # The foot holds the plate along the tube that it could be cut down to, and the one across it.
        pulls = [
            work(tube_wall.longitudinal_plate_pull, h=long, **wall),
            work(tube_wall.transverse_plate_pull, b=wide, **wall),
        ]
        lengthwise = work(tube_wall.longitudinal_plate_moment, h=long, **wall)
        sideways = [
            work(tube_wall.transverse_plate_moment, b=wide, **wall),
            work(tube_wall.sideways_plate_moment, t0=t0, L=long, f_y=f_y),
        ]

        return check(
            "tube wall under the foot", "tube wall", load_case=case.name, capacity=1.0, unit="-",
            demand=work(
                tube_wall.wall_use, N=(force * out).sum(-1), N_R=_stronger(*pulls), M_i=(moment * across).sum(-1),
                M_iR=lengthwise, M_o=(moment * along).sum(-1), M_oR=_stronger(*sideways),
            ),
            required=required.on_yield,
            note=f"{pulls[0].source}; the foot as the stronger of the plates along and across the tube that it holds; "
            f"the tube itself pushed to {TUBE_USED:.2g} of its yield, which nobody stated; strength of {zone.source}",
        )  # fmt: skip

    def holding(self, site: OnBody, case: LoadCase) -> Sequence[Acting]:
        """What holds the clevis: its weld, as the sum of what each mm of it takes."""
        body, actions = site.body, site.pins(case)
        force, moment = body.carried(actions, -np.asarray(body.back))
        path, foot = self.path(body), body.behind(0.0)
        q = weld.line_force(path, force, moment, np.zeros(3)) * path.lengths[..., None]
        turn = cross(path.points - foot[..., None, :], q).sum(axis=-2)
        return [reacting("weld to the tube", foot, (q.sum(axis=-2), turn))]

    def details(self, site: OnBody, modes: Modes) -> Sequence[Detail]:
        """The root of the fillet, and its toe in the tube's wall, as a moment along the tube stresses it at most."""
        body, metal, reversing = site.body, site.metal, site.reversing
        zone = self.tube_material.beside_weld(self.filler, self.tube.wall_mm)
        at_wall = zone.yield_strength * max(tube_joint.AT_TOE)
        throat = weld.THROAT * np.asarray(self.leg)

        def rubs(case: LoadCase) -> Any:
            return np.linalg.norm(self._line(body, reversing(case)), axis=-1).max(axis=-1) / throat

        return [
            Weld(
                "foot weld root",
                metal,
                demand_of(modes, "foot weld, yield", 1.0 / throat),
                ROOT,
                rubs,
            ),
            Weld(
                "foot weld, toe in the tube's wall",
                metal,
                demand_of(modes, "tube wall under the foot", at_wall),
                HOT_SPOT,
            ),
        ]

    def supports(self, site: OnBody) -> Sequence[Support]:
        """The cope that is welded to the tube."""
        from parts.core.supports import Round, Support

        at = np.array([-float(self.distance), 0.0, 0.0])
        along = np.asarray(self.axes(site.body), float)[2]
        cope = Round(at, along, float(self.tube.width_mm), -FAR, FAR)
        return (Support("weld", (cope,), float(self.tube.wall_mm)),)

    def cautions(self, site: OnBody) -> Sequence[str]:
        """What the heat of its weld does."""
        return (MOVES,)

    def body_end(self, body: Body) -> Any:
        """How far behind the pin the body keeps its section [mm]: to where the tube first meets it."""
        return self.end(body)

    def welds(self) -> Sequence[tuple[Material, float | None]]:
        """Metals welded besides the clevis's own, each with the thickness that its strength is for [mm]."""
        return ((self.tube_material, self.tube.wall_mm),)

    def fork_back(self, body: Body) -> float:
        """How far behind the pin the uncut body must reach [mm]."""
        return float(self.distance + self._reach(body, 0) / np.cos(self.tilt)) + 1.0

    def join(self, fork: cq.Workplane, body: Body) -> cq.Workplane:
        """The fork with its end coped to the tube, exactly."""
        import cadquery as cq

        from parts.shapes.profile import wire
        from parts.shapes.workplane import Workplane

        out, _, along = self.axes(body)
        r = self.tube.width_mm / 2.0
        far = 2.0 * float(self.fork_back(body)) + body.width + body.height
        middle = cq.Vector(-float(self.distance), 0.0, 0.0)
        direction = cq.Vector(*map(float, along))
        plane = cq.Plane(middle - direction * far, cq.Vector(*map(float, out)), direction)
        slot = figure([(-far, -r), (0.0, -r), (0.0, r), (-far, r)], [0.0, 1.0, 0.0, 0.0])
        tool = cq.Solid.extrudeLinear(wire(slot.loops[0], plane), [], direction * (2.0 * far))
        return fork.cut(Workplane(obj=tool))


def _stronger(one: Worked, other: Worked) -> Any:
    """The stronger of two, a number that is none left out; worked where one is so everywhere."""
    a, b = plain(one), plain(other)
    most = np.fmax(a, b)
    return one if np.all(most == a) else other if np.all(most == b) else most
