"""The boss that a footpeg is bolted to: tapped for its bolt, or a fork in which it folds."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Annotated, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check, check
from parts.core.clearances import Clearance
from parts.core.fatigue_places import Spot
from parts.core.feature import Modes
from parts.core.loads import Action, LoadCase, resultant
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most
from parts.core.ways import Kind
from parts.families.foot_bracket.screw_post import ScrewPost
from parts.features.fork.fork import Ears, InFork
from parts.features.plate.fixture import MARGIN, Block, Boss, Fixture, fillet_rule
from parts.features.plate.on_plate import OnPlate, along_z
from parts.features.plate.plate_feature import AtHeight
from parts.inputs.quantities import Angle, NonNegativeLength, Point2, PositiveLength
from parts.standards.fits.iso286 import Limits
from parts.strength.method import work
from parts.strength.plates import plate as plates
from parts.strength.vectors import cross

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.drawing import Hole, Marks
    from parts.core.loadpath import Span
    from parts.core.supports import Applied


EARS = (
    "the right", "the upper right", "the top", "the upper left", "the left", "the lower left", "the bottom",
    "the lower right",
)  # fmt: skip
"""Sides of the front view, by eighths of a turn from its right."""


class TappedPeg(ScrewPost):
    """A boss tapped for the bolt that clamps the peg's shoulder."""

    type: Literal["tapped"] = Field(  # type: ignore[assignment]
        "tapped", description="A boss tapped for the bolt that clamps the peg's shoulder."
    )
    boss: Boss = Field(description="The boss.")

    def cautions(self, site: OnPlate) -> Sequence[str]:
        """What keeps the peg on."""
        return (
            "tighten the peg's bolt with thread locker and look at it before every ride: the peg rocks it",
        )


class ForkedPeg(AtHeight):
    """A fork on the plate in which the peg folds about a pin; its heel bears on the floor of the fork."""

    type: Literal["clevised"] = Field(
        "clevised", description="A fork on the plate in which the peg folds about a pin."
    )
    at: Point2 = Field(description="Where the middle of the fork stands.")
    height: PositiveLength = Field(
        description="From the outer face of the plate to where the load acts on the peg."
    )
    angle: Angle = Field(0.0, description="Direction of the pin in the plate, from x toward y.")
    ears: Ears = Field(description="The ears, their throat and their pin.")
    heel: PositiveLength | None = Field(
        None,
        description="From the pin's axis to where the peg's heel bears; half the ears' width where left out.",
    )
    fillet: NonNegativeLength = Field(2.0, description="Root fillet of the fork on the plate.")

    def cautions(self, site: OnPlate) -> Sequence[str]:
        """What keeps the pin in the fork, on which the peg folds."""
        return self.ears.pin_cautions()

    def clearances(self, site: OnPlate) -> Sequence[Clearance]:
        """The pin of the fork, and what sits in its throat."""
        return self.ears.clearances(InFork(f"{site.field}.ears", site.metal, site.name))

    def fitted(self) -> Mapping[str, Limits]:
        """Limits of the pin's hole, by name."""
        return {"pin hole": self.ears.pin.bore_limits()}

    def details(self, site: OnPlate, modes: Modes) -> Sequence[Spot]:
        """The pin of the fork, whose fatigue is checked besides that of the plate."""
        name, metal = site.name, site.metal

        def where_loaded(pin: Spot) -> Spot:
            def stress(case: LoadCase) -> Any:
                there = any(one.name.startswith(f"{name} ear") for one in modes(case))
                return pin.stress(case) if there else 0.0

            return pin._replace(stress=stress)

        pins = self.ears.details(InFork("peg.ears", metal, name), modes)
        return tuple(where_loaded(one) for one in pins if isinstance(one, Spot))

    def standing_on(self) -> tuple[Any, Any]:
        """Least width of the fork on the plate, and its root fillet [mm]."""
        return np.minimum(self.ears.width, self.ears.height), self.fillet

    @property
    def arm(self) -> Any:
        """From the pin's axis to the heel [mm]."""
        return self.ears.width / 2.0 if self.heel is None else self.heel

    @property
    def radius(self) -> Any:
        """Of the disc that holds the fork and its fillet [mm]."""
        return np.hypot(self.ears.width, self.ears.height) / 2.0 + self.fillet

    def _frame(self, sign: float) -> np.ndarray:
        """Rows: the fork's x (out of the plate), y and z (the pin) in the part's axes."""
        c, s = np.cos(self.angle), np.sin(self.angle)
        return np.array([[0.0, 0.0, sign], [sign * s, -sign * c, 0.0], [c, s, 0.0]])

    def touching(self, site: OnPlate) -> dict[str, str]:
        return dict(self.ears.touching(InFork("peg.ears", self.ears.pin.material)))

    def bought(self, site: OnPlate) -> Sequence[Bought]:
        return tuple(self.ears.pin_bought(site.name))

    def fixture(self, site: OnPlate) -> Fixture:
        pad = self.radius + site.edge_break + MARGIN
        block = Block(self.radius, self.ears.back + self.ears.end, self._solids)
        return Fixture(site.name, site.field, self.at, pad, 0.0, self.radius, block=block)

    def marks(self, site: OnPlate) -> Marks:
        """The fork in words: its pin lies at any angle in the plate, so that no view need show it true."""
        from parts.core.drawing import Callout, Linear, Marks, Radius

        thickness, rise, r = float(site.thickness), float(self.ears.back), float(self.fillet)
        place, frame = (float(self.at[0]), float(self.at[1])), np.asarray(self._frame(1.0), float)
        pin = InFork("peg.ears", self.ears.pin.material, edge_break=site.edge_break)
        x, y, z = np.eye(3)
        marks = self.ears.marks(pin)
        if r > 0.0:
            centre = (r - rise, float(self.ears.width) / 2.0 + r, 0.0)
            marks += Marks(
                (Radius("root fillet all round", centre, z, -(x + y) / np.sqrt(2.0), r),)
            )
        foot, over = (*place, thickness), (*place, thickness + rise)
        marks = marks.moved(over, frame)
        sizes: list[Any] = [one for one in marks.dimensions if isinstance(one, Linear | Radius)]
        sizes.append(Linear("pin over the face", foot, over, z, rise))
        lines = [f"{site.name}: fork, pin at {np.degrees(float(self.angle)):.1f}°"]
        lines += [f"{size.name} {{{i}}}" for i, size in enumerate(sizes)]
        words = Callout("fork of the peg", over, "\n".join(lines), tuple(sizes), view="front")
        holes = tuple(self._noted(one, site) for one in marks.holes)
        return Marks((words,), holes, ways=tuple(frame))

    def _noted(self, hole: Hole, site: OnPlate) -> Hole:
        """A hole of the fork as the notes state it; one that goes through one ear alone says which."""
        middle = np.asarray(hole.place, float) + np.asarray(hole.axis, float) * hole.through / 2.0
        x, y = middle[:2] - np.array([float(one) for one in self.at])
        said = hole.callout
        if np.hypot(x, y) > hole.through / 2.0:
            # The front view looks at the face toward the foot: that of a left-hand bracket has x to the left.
            turn = round(float(np.arctan2(y, site.sign * x)) / (np.pi / 4.0)) % 8
            said = f"in the ear toward {EARS[turn]} of the front view"
        return replace(hole, name=f"{site.name}, {hole.name}", callout=said, noted=True)

    def rules(self, site: OnPlate) -> Iterator[Rule]:
        field, metal, edge_break = site.field, site.metal, site.edge_break
        yield from self.ears.rules(InFork(f"{field}.ears", metal, edge_break=edge_break))
        yield at_most(
            "fork.fillet", f"{field}.fillet", self.fillet, 0.6 * self.ears.floor_thickness,
            "the root fillet would climb past the floor of the throat", "lessen it, or thicken the floor",
        )  # fmt: skip
        yield fillet_rule(f"{field}.fillet", self.fillet)
        yield at_least(
            "fork.height", f"{field}.height", self.height, self.ears.back,
            "the load acts below the pin that the peg folds about", "raise the point",
        )  # fmt: skip
        yield at_least(
            "fork.heel", f"{field}.heel", self.arm, self.ears.pin.bore / 2.0 + 2.0,
            "the heel bears too near to the pin to hold the peg up", "move the heel away from the pin",
        )  # fmt: skip

    def _at_pin(self, force: Any, moment: Any) -> Sequence[Action]:
        """What acts on the pin in the fork's axes, from force and moment at the root as on the right hand.

        The moment about the pin is held by the heel, whose push on the floor the pin answers with a pull.
        """
        frame = self._frame(1.0)
        about = moment - cross(along_z(self.ears.back), force)
        F, M = force @ frame.T, about @ frame.T
        pull = np.abs(M[..., 2]) / self.arm
        zero = np.zeros_like(pull)
        return (
            Action(
                np.zeros(3),
                F + np.stack([pull, zero, zero], axis=-1),
                np.stack([M[..., 0], M[..., 1], zero], axis=-1),
            ),
        )

    def applied(self, site: OnPlate, case: LoadCase) -> Sequence[Applied]:
        """What its pin does to both bores and its heel to the floor of the throat.

        Raises:
            NotProved: the floor is round, and the heel bears on no flat.
        """
        from parts.core.supports import Applied, Flat, NotProved, turned
        from parts.features.fork.supports import pin_loads

        if self.ears.floor == "full radius":
            raise NotProved("the heel of a folding peg on a round floor is not proved yet")
        frame, back = self._frame(site.sign), float(self.ears.back)
        pin = np.asarray(site.at, float) + back * frame[0]
        force, moment = resultant(site.actions(case), pin)
        F, M = frame @ force, frame @ moment
        push = np.array([abs(M[2]) / float(self.arm), 0.0, 0.0])
        found = pin_loads(self.ears, [Action(np.zeros(3), F + push, M * [1.0, 1.0, 0.0])])
        if push[0] > 0.0:
            floor, side = -float(self.ears.depth), float(np.sign(M[2]))
            level = float(self.ears.throat.width) / 2.0 - float(self.ears.radius)
            r = min(0.9 * level, 0.2 * float(self.ears.width))
            middle = side * min(float(self.arm), float(self.ears.width) / 2.0 - 1.1 * r)
            heel = Flat(np.array([floor, middle, 0.0]), np.array([1.0, 0.0, 0.0]), r)
            bears = Action(np.array([floor, side * float(self.arm), 0.0]), -push)
            found = (*found, Applied("heel", (heel,), (bears,)))
        return turned(found, frame.T, pin)

    def kinds(self, site: OnPlate) -> Sequence[Kind]:
        name = site.name
        return [
            *self.ears.kinds(InFork("peg.ears", self.ears.pin.material, name)),
            Kind("boss on a plate", name),
        ]

    def modes(self, site: OnPlate, case: LoadCase) -> Iterator[Check]:
        """The pin, the ears, and the fork bent at its root."""
        name, metal = site.name, site.metal
        force, moment = site.felt(case)
        required = site.required(case)
        load = LoadCase.model_construct(name=case.name, forces=[], required=required)
        at_pin = self._at_pin(force, moment)
        yield from self.ears.modes(InFork("peg.ears", metal, name, actions=lambda _: at_pin), load)
        M = moment @ self._frame(1.0).T
        wide, tall = self.ears.width, self.ears.height
        about_pin = work(plates.flat_bending_stress, M=np.abs(M[..., 2]), b=tall, t=wide)
        across = work(plates.flat_bending_stress, M=np.abs(M[..., 1]), b=wide, t=tall)
        for kind, strength, factor in required.both(metal.yield_strength, metal.ultimate_strength):
            yield check(
                f"{name} fork, bending at the root, {kind}", "bending", load_case=case.name,
                demand=about_pin.value + across.value, capacity=strength, unit="MPa", required=factor,
                note="6 M/(b t²) about both axes of the block, added",
            )  # fmt: skip

    def spans(self, site: OnPlate) -> Sequence[Span]:
        """The load path through one ear, in the part's axes."""
        frame = self._frame(site.sign)
        pin = np.asarray(site.at) + self.ears.back * frame[0]

        def on_pin(case: LoadCase) -> Sequence[Action]:
            return self._at_pin(*site.felt(case))

        def moved(actions: Any, case: LoadCase) -> list[Action]:
            return [
                Action(
                    pin + np.asarray(one.at) @ frame,
                    one.force @ frame,
                    np.asarray(one.moment) @ frame,
                )
                for one in actions(case)
            ]

        return [
            replace(
                span,
                name=f"peg {span.name}",
                start=pin + np.asarray(span.start) @ frame,
                end=pin + np.asarray(span.end) @ frame,
                axes=np.asarray(span.axes) @ frame,
                actions=partial(moved, span.actions),
            )
            for span in self.ears.spans(
                InFork("peg.ears", site.metal, edge_break=site.edge_break, actions=on_pin)
            )
        ]

    def _solids(self, thickness: float, edge_break: float) -> list[cq.Workplane]:
        """The fork on the axis z, sunk to the middle of the plate, and its root fillets."""
        import cadquery as cq

        from parts.shapes.workplane import Workplane

        back = float(self.ears.back) + thickness / 2.0
        fork = self.ears.solid(edge_break, back, open_back=True)
        out, _, pin = self._frame(1.0)
        plane = cq.Plane((0.0, 0.0, thickness + float(self.ears.back)), tuple(out), tuple(pin))
        placed = Workplane(obj=fork.val().located(cq.Location(plane)))
        if float(self.fillet) <= 0.0:
            return [placed]
        return [
            placed,
            *flared(self._base(edge_break), float(self.fillet), thickness, thickness / 2.0),
        ]

    def _base(self, edge_break: float) -> np.ndarray:
        """Corners of the fork where it meets the plate, counter-clockwise, from its own middle [mm]."""
        w, h, c = float(self.ears.width) / 2.0, float(self.ears.height) / 2.0, edge_break
        corners = [
            (w, -h + c),
            (w, h - c),
            (w - c, h),
            (-w + c, h),
            (-w, h - c),
            (-w, -h + c),
            (-w + c, -h),
            (w - c, -h),
        ]
        corners = corners if c > 0.0 else corners[0::2]
        flat = np.array(corners) @ self._frame(1.0)[1:, :2]
        return np.asarray(flat if _turns_left(flat) else flat[::-1])


def flared(corners: np.ndarray, radius: float, face: float, root: float) -> list[cq.Workplane]:
    """The hollow root fillet of a straight-sided block: a bar along every side, a sector at every corner.

    Args:
        corners: of the block on the face (n, 2), counter-clockwise and convex [mm].
        radius: of the fillet [mm].
        face: height of the face [mm].
        root: how deep the solids reach below it, as a height [mm].

    Returns:
        The solids.
    """
    import cadquery as cq

    from parts.shapes.workplane import Workplane

    found = []
    ways = np.roll(corners, -1, axis=0) - corners
    lengths = np.hypot(*ways.T)
    ways = ways / lengths[:, None]
    hollow = radius * (1.0 - np.sqrt(0.5))
    for k, (start, way, length) in enumerate(zip(corners, ways, lengths, strict=True)):
        before = ways[k - 1]
        turn = float(np.degrees(np.arctan2(before[0] * way[1] - before[1] * way[0], before @ way)))
        for along, sector in ((way, False), (before, True)):
            plane = cq.Plane((*start, 0.0), (along[1], -along[0], 0.0), (-along[0], -along[1], 0.0))
            profile = (
                Workplane(plane).moveTo(0.0, root).lineTo(radius, root).lineTo(radius, face)
                .threePointArc((hollow, face + hollow), (0.0, face + radius)).close()
            )  # fmt: skip
            found.append(
                profile.revolve(turn, (0.0, 0.0), (0.0, 1.0))
                if sector
                else profile.extrude(-length)
            )
    return found


def _turns_left(corners: np.ndarray) -> bool:
    x, y = corners.T
    return bool(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y) > 0.0)


Peg = Annotated[TappedPeg | ForkedPeg, Field(discriminator="type")]
"""How the footpeg is held."""
