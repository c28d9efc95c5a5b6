"""A pair of ears with a throat between them, and the pin through both: the fork of a clevis.

Axes of the feature: the pin lies on z, the ears stand out toward +x, and the throat is open there. The
origin is the middle of the pin.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any, Literal

import numpy as np
from pydantic import Field

from parts.core.check import Check
from parts.core.fatigue_places import Detail, Spot, demand_of, thread_spot
from parts.core.feature import Modes
from parts.core.loads import Action, LoadCase, Required, resultant
from parts.core.part import Bought
from parts.core.rules import Rule, at_least, at_most, none_or_at_least
from parts.core.ways import Kind
from parts.features.bolts.grip import Joint, plain_shank
from parts.features.bolts.hardware import SURFACES
from parts.features.fork.ball import rating_modes
from parts.features.fork.nose import Nose
from parts.features.fork.stability import drawn_together, stability_modes
from parts.features.fork.strength import ear_modes
from parts.features.fork.tapped_ear import tapped_modes, tapped_share
from parts.features.fork.throat import BladeThroat, RodEndThroat, Throat
from parts.features.pins.bought_pin import SplitPinned
from parts.features.pins.pin import BushedHole, ClearanceHole, Pin, TappedHole
from parts.features.press.pressed import Pressed
from parts.features.section.notches import beside_pin, flat_fillet, same, toward_fillet
from parts.features.section.outlines import beside_bore, chamfered, figure
from parts.features.thread import threaded
from parts.inputs.quantities import PositiveLength
from parts.standards.designation import UnknownDesignation
from parts.standards.materials.materials import Material
from parts.strength.pinned.ear import load_share
from parts.strength.pinned.pin import thread_in_grip
from parts.strength.section.outline import QUARTER, Outline

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.loadpath import Span

__all__ = ["BladeThroat", "Ears", "RodEndThroat", "Throat", "ear_actions"]

LEAST_EDGE = 1.0
LEAST_WALL = 0.25
LEAST_CORNER = 0.4
FINEST = 0.05
"""Smallest chamfer or fillet that is made at all [mm]; common practice, no source."""
TAPPED_ENGAGEMENT = 0.8
LOOSE = "nothing draws them together: the pin is not tightened"
KEPT = "what acts along the pin leans on an ear and not on the pin; a caution says what keeps it"
ALONG_X = np.eye(3)
ALONG_Z = np.array([[0.0, 0.0, 1.0], [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])
"""Axes of a section square to the pin: its y axis is the part's x, its z axis the part's y."""


class Ears(Nose):
    """Two ears alike, with the floor of the throat behind them."""

    thickness: PositiveLength = Field(description="Thickness of each ear.")
    depth: PositiveLength = Field(description="Pin centre to the floor of the throat.")
    corner: PositiveLength = Field(
        2.0, description="Radius where the throat's floor meets the ears; not for a full radius."
    )
    floor: Literal["flat", "full radius"] = Field(
        "flat", description="Floor of the throat: flat with corner radii, or one full radius."
    )
    floor_thickness: PositiveLength = Field(description="Metal behind the floor of the throat.")
    throat: Throat = Field(description="What the throat takes.")
    pin: Pin = Field(description="The pin and its hole.")

    @property
    def radius(self) -> Any:
        """Radius at the throat's floor [mm]."""
        return self.throat.width / 2.0 if self.floor == "full radius" else self.corner

    @property
    def height(self) -> Any:
        """Over both ears, along the pin [mm]."""
        return self.throat.width + 2.0 * self.thickness

    @property
    def last_plane(self) -> Any:
        """From the outside of one ear to the shear plane before the other [mm]."""
        return self.thickness + self.throat.width

    def kept(self) -> Joint | SplitPinned | None:
        """The pin with what keeps it, where a table names it."""
        return self.pin.kept(self.height, self.last_plane)

    def pin_bought(self, fits: str) -> Sequence[Bought]:
        """The pin, or what a table names as the pin with what keeps it."""
        pin = self.pin
        if isinstance(pin.hole, TappedHole):
            size = f"{float(pin.diameter):.4g} mm, {pin.material.name}"
            through = f"{pin.hole.thread.designation} bolt {size}"
            return (Bought(f"{through}, grip {float(self.height):.4g} mm", 1, fits),)
        return pin.bought(self.height, self.last_plane, fits)

    def pin_facts(self) -> dict[str, tuple[Any, str]]:
        """How much thread of a bolt lies within the stack."""
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

    def pin_cautions(self) -> Sequence[str]:
        """What keeps the pin where it is."""
        if isinstance(self.pin.hole, TappedHole):
            return (
                "Shim the throat before tightening the pin bolt: the tapped ear lets it pull the ears together.",
                "Lock the pin bolt with a jam nut, wire or thread locker: a joint that moves unscrews it.",
            )
        if self.pin.nut_form == "slotted":
            return ("Spread the split pin of the slotted nut, and look at it before every ride.",)
        if self.pin.bolt and isinstance(self.throat, BladeThroat):
            return (
                "This joint turns on its bolt, which unscrews a self-locking nut: take `nut: slotted`, with a split "
                "pin (FAA AC 43.13-1B, 7-64, from memory).",
            )
        if self.pin.bolt:
            return (
                "A self-locking nut holds where its bolt stands still, clamped with the ball: see that the ball turns "
                "in its race and not the bolt in the ears (FAA AC 43.13-1B, 7-64, from memory).",
            )
        if self.pin.clevis_pin:
            return (
                "Fill the slack of the clevis pin with washers, spread its split pin, and look at both before "
                "every ride.",
            )
        return (
            "The pin needs a head and a split pin or clip, or a nut: no check covers one that walks out.",
        )

    def pressed(self, material: Material) -> Pressed | None:
        """The bush in each ear; None without."""
        hole, least = self.pin.hole, np.minimum(self.end, self.width / 2.0) - self.pin.bore / 2.0
        if not isinstance(hole, BushedHole):
            return None
        return Pressed(
            "ear bush", hole.outside, self.pin.diameter, least, self.thickness, material, hole.material,
            hole.fit,
        )  # fmt: skip

    def touching(self) -> dict[str, str]:
        """The surface of what touches the ears, by name."""
        touching = self.pin.touching()
        if isinstance(self.throat, RodEndThroat):
            touching[f"rod end {self.throat.rod_end.designation}"] = SURFACES["rod end"]
        return touching

    @property
    def middle(self) -> Any:
        """From the middle of the throat to the middle of an ear [mm]."""
        return (self.throat.width + self.thickness) / 2.0

    @property
    def back(self) -> Any:
        """Where the body behind the floor ends: distance behind the pin [mm]."""
        return self.depth + self.floor_thickness

    def rules(self, field: str) -> Iterator[Rule]:
        """Rules of the ears; `field` is the dotted path of this group."""
        yield from self.pin.rules(f"{field}.pin")
        yield from self.throat.rules(f"{field}.throat", self.pin.diameter)
        yield from self._eye_rules(field)
        yield from self._throat_rules(field)
        yield from self.nose_rules(field)
        yield from self.pin.length_rules(f"{field}.pin", self.height, self.last_plane)

    def _eye_rules(self, field: str) -> Iterator[Rule]:
        bore, hole = self.pin.bore, self.pin.hole
        yield at_least(
            "ears.edge", f"{field}.width" if self.nose == "round" else f"{field}.edge", self.end,
            LEAST_EDGE * bore,
            "the pin would tear out through the nose (edge distance of one bore: common practice, no source)",
            "move the end of the nose out, or choose a smaller pin",
        )  # fmt: skip
        yield at_least(
            "ears.wall", f"{field}.width", (self.width - bore) / 2.0, np.maximum(LEAST_WALL * bore, 1.5),
            "too little metal stands beside the bore (a quarter of the bore: common practice, no source)",
            "make the ears wider, or choose a smaller pin or bush",
        )  # fmt: skip
        yield at_least(
            "ears.thin", f"{field}.thickness", self.thickness, np.maximum(0.2 * bore, 1.5),
            "an ear this thin bends and its bore wallows (a fifth of the bore: common practice, no source)",
            "make the ears thicker",
        )  # fmt: skip
        if isinstance(hole, BushedHole):
            yield at_least(
                "ears.bush", f"{field}.thickness", self.thickness, (hole.outside - self.pin.diameter) / 2.0,
                "the ear is thinner than the wall of its bush", "make the ears thicker, or the bush thinner",
            )  # fmt: skip
        if isinstance(hole, TappedHole):
            yield threaded.engagement_rule(
                f"{field}.thickness", self.thickness, hole.thread, TAPPED_ENGAGEMENT
            )

    def _throat_rules(self, field: str) -> Iterator[Rule]:
        hole, r = self.pin.bore / 2.0, self.radius
        yield at_most(
            "ears.large", f"{field}.depth", self.depth, 400.0,
            "no clevis of a one-off vehicle is this long; it looks "
            "like the wrong unit", "check the unit of this value",
        )  # fmt: skip
        yield at_least(
            "ears.sharp", f"{field}.corner", r, LEAST_CORNER,
            "a root this sharp starts a crack, and no cutter leaves it (common practice, no source)",
            "give the corners of the throat a radius",
        )  # fmt: skip
        yield at_most(
            "ears.corner", f"{field}.corner", r, self.throat.width / 2.0,
            "the two corner radii would meet", "lessen the radius, or ask for a full-radius floor",
        )  # fmt: skip
        yield at_least(
            "ears.depth", f"{field}.depth", self.depth, self.throat.reach + r + 0.5,
            "what sits in the throat would touch its floor or the corner radii",
            "deepen the throat, or lessen the corner radius",
        )  # fmt: skip
        yield at_least(
            "ears.root", f"{field}.depth", self.depth, 1.1 * hole + r + 1.0,
            "the corner radius would run into the bore", "deepen the throat, or lessen the corner radius",
        )  # fmt: skip
        yield at_least(
            "ears.floor", f"{field}.floor_thickness", self.floor_thickness, 0.8 * self.thickness,
            "the floor is weaker than the ears that it carries (common practice, no source)",
            "make the floor at least 0.8 of an ear's thickness",
        )  # fmt: skip

    def break_rules(self, field: str, edge_break: Any) -> Iterator[Rule]:
        """Rules that hold the edge break of the part against the ears; `field` is the edge break's path."""
        yield none_or_at_least(
            "ears.fine_break", field, edge_break, FINEST, "no shop makes a chamfer this fine",
            "enlarge the edge break, or state 0 for sharp edges",
        )  # fmt: skip
        room = np.minimum(self.thickness, self.floor_thickness) / 4.0
        room = np.minimum(room, (self.width - self.pin.bore) / 8.0)
        yield at_most(
            "ears.break", field, edge_break, room, "the chamfers would eat the faces of the ears",
            "lessen the edge break to a quarter of the ear's thickness and of the wall beside the bore",
        )  # fmt: skip
        yield from self.corner_rules(field, edge_break)

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
        from parts.core.loadpath import Span

        middle, t, w, c, r = self.middle, self.thickness, self.width, edge_break, self.radius
        hole = self.pin.bore / 2.0
        first, last = np.maximum(1.02 * hole, hole + 1.05 * c), self.depth - 0.9 * r

        def one_ear(case: LoadCase) -> Sequence[Action]:
            return self.shared(actions(case))

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
            where: str, start: Any, stop: Any, outline: Any, stations: int, notch: Any
        ) -> Span:
            return Span(
                f"{name} {where} the bore", at(start), at(stop), ALONG_X, outline, one_ear, material, piece,
                stations, notch,
            )  # fmt: skip

        loose = isinstance(self.pin.hole, ClearanceHole | TappedHole)
        bored = same(beside_pin(self.pin.bore, w, self.end, loose=loose))
        # The step at the root is half the throat, on one side; the fit has it on both.
        root = flat_fillet(t + self.throat.width, t, r)
        return (
            span("beside", 0.0 * hole, 0.98 * hole, beside, 9, bored),
            span(
                "behind", first, last, behind, 31,
                toward_fillet(r, first, self.depth, last - first, root),
            ),
        )  # fmt: skip

    def floor_spans(
        self,
        name: str,
        material: Material,
        edge_break: Any,
        actions: Any,
        held: Any,
        piece: str = "part",
    ) -> Sequence[Span]:
        """The floor of the throat, bent by one ear about what holds its middle.

        Args:
            name: name of the span.
            material: what the floor is made of.
            edge_break: chamfer of its edges [mm].
            actions: gives the actions at the pin for a load case.
            held: how far from the middle of the throat the floor is backed, along the pin [mm].
            piece: the piece of the part.

        Returns:
            One span, from where the floor is backed to the ear's corner radius; none where the backing
            reaches that far. Of many variants, those without such a stretch bear nothing in it.
        """
        from parts.core.loadpath import Span

        stop = self.throat.width / 2.0 - self.radius
        there = stop - held > 0.02 * self.throat.width
        if not np.any(there):
            return ()
        start = np.where(there, held, 0.9 * stop)
        deep, c = self.floor_thickness, edge_break

        def one_ear(case: LoadCase) -> Sequence[Action]:
            return [
                Action(one.at, one.force * there[..., None], one.moment * there[..., None])
                for one in self.shared(actions(case))
            ]

        def outline(s: Any) -> Outline:
            return chamfered(deep + 0.0 * np.asarray(s), self.width, c)

        def at(z: Any) -> Any:
            return np.stack(np.broadcast_arrays(-(self.depth + deep / 2.0), 0.0, z), axis=-1)

        there = np.asarray(there)
        root = flat_fillet(deep + 2.0 * self.depth, deep, self.radius)
        notch = toward_fillet(self.radius, start, stop + self.radius, stop - start, root)
        return (
            Span(name, at(start), at(stop), ALONG_Z, outline, one_ear, material, piece, 9, notch),
        )

    @property
    def tightened(self) -> bool:
        """Whether a nut or the tapped ear pulls the ears together as the pin is tightened."""
        pin = self.pin
        return isinstance(pin.hole, TappedHole) or (bool(pin.bolt) and pin.nut_form != "slotted")

    def details(self, name: str, modes: Modes) -> Sequence[Detail]:
        """The pin bent to and fro, for fatigue; `modes` gives the part's checks under a load case."""
        pin, hole = self.pin, self.pin.hole
        if isinstance(hole, TappedHole):
            stress = demand_of(modes, f"{name} pin, bent at the tapped ear, yield")
            return [thread_spot(f"{name} pin", hole.thread, pin.material, stress)]
        stress = demand_of(modes, f"{name} pin, bending, yield")
        return [
            Spot(f"{name} pin", pin.material, stress, pin.diameter, note="fretting not counted")
        ]

    def kinds(self, name: str) -> list[Kind]:
        """What can fail of it, its checks called by `name`."""
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

    def modes(
        self,
        name: str,
        material: Material,
        case: LoadCase,
        actions: Sequence[Action],
        required: Required,
    ) -> Iterator[Check]:
        """Pin and ear, the ear's stability, what sits in the throat, and the bushes along the pin.

        Args:
            name: prefix of the checks' names.
            material: what the ears are made of.
            case: the load case.
            actions: what acts at the pin.
            required: the factors asked for.

        Returns:
            The checks.
        """
        (one,) = self.shared(actions)
        force, _ = resultant(actions, np.zeros(3))
        if self.tightened:
            yield drawn_together(self, name, material, case.name)
        if isinstance(self.pin.hole, TappedHole):
            yield from tapped_modes(self, name, material, case.name, force, required)
        yield from ear_modes(self, name, material, case.name, one.force, required)
        yield from stability_modes(self, name, material, case.name, one.force, required)
        yield from rating_modes(self.throat, name, case.name, force, required)
        pressed = self.pressed(material)
        hole = self.pin.hole
        if pressed is not None and isinstance(hole, BushedHole) and hole.thrust == "press":
            yield pressed.along(name, case.name, force[..., 2], required)

    def shared(self, actions: Sequence[Action]) -> Sequence[Action]:
        """What one ear, taken at +z, bears of what acts at the pin; of a tapped one all that the other does not."""
        (even,) = ear_actions(actions, self.middle, self.throat.clearance / 2.0)
        if not isinstance(self.pin.hole, TappedHole):
            return (even,)
        return (tapped_share(self, even, resultant(actions, np.zeros(3))[0]),)

    @property
    def thread_inside(self) -> Any:
        """Length of the bolt's thread that lies in the ear at its nut [mm]; 0 for a pin that is made."""
        if not self.pin.bolt:
            return 0.0
        return np.vectorize(self._thread_inside, otypes=[float])(self.height, self.last_plane)[()]

    def _thread_inside(self, stack: float, last_plane: float) -> float:
        try:
            joint = self.pin.kept(stack, last_plane)
        except UnknownDesignation:  # a rule says that no length goes with the stack
            return np.nan
        assert isinstance(joint, Joint)
        head = joint.under_head * joint.washer.thickness
        return float(thread_in_grip(stack, plain_shank(joint.bolt) - head))

    def solid(
        self, edge_break: float, back: float | None = None, *, open_back: bool = False
    ) -> cq.Workplane:
        """The fork as a solid, pin hole and all.

        Args:
            edge_break: chamfer of its outside edges and of the bores [mm].
            back: where its flat back lies behind the pin [mm]; at the back of the body where left out.
            open_back: leave the edges of the back sharp, for what joins it there.

        Returns:
            The solid.
        """
        from parts.shapes.profile import prism

        half, gap = float(self.height) / 2.0, float(self.throat.width) / 2.0
        end = float(self.back if back is None else back)
        body = prism(self.nose_profile(end), -half, half)
        if edge_break > 0.0:
            body = _broken_outside(body, end, edge_break, open_back)
        body = body.cut(self._throat_tool(gap))
        if edge_break > 0.0:
            body = body.newObject(_throat_edges(body, gap)).chamfer(edge_break)
        return body.cut(self._bores(edge_break))

    def _throat_tool(self, gap: float) -> cq.Workplane:
        from parts.shapes.profile import prism

        r, d, far, wide = self.radius, self.depth, self.end + 5.0, self.width
        # Coordinates are (z, x): the figure is seen along y.
        shape = figure(
            [(gap - r, -d), (gap, -d + r), (gap, far), (-gap, far), (-gap, -d + r), (-gap + r, -d)],
            [QUARTER, 0.0, 0.0, 0.0, QUARTER, 0.0],
        )
        return prism(shape, -wide, wide, "y")

    def _bores(self, edge_break: float) -> cq.Workplane:
        from parts.shapes.profile import broken_hole

        half, gap, pin = self.height / 2.0, self.throat.width / 2.0, self.pin
        upper = broken_hole(pin.bore, gap, half, edge_break)
        if not isinstance(pin.hole, TappedHole):
            return upper.union(broken_hole(pin.bore, -half, -gap, edge_break))
        thread = pin.hole.thread
        sunk = (thread.major - thread.minor_internal) / 2.0 + edge_break
        return upper.union(broken_hole(thread.minor_internal, -half, -gap, sunk))


def ear_actions(actions: Sequence[Action], middle: Any, off: Any = 0.0) -> Sequence[Action]:
    """The share of one ear, taken at +z, in what acts at the pin: the greater of both ears' in every part.

    The ears share the force across the pin as two supports of a beam; with its side play to one side, what
    sits in the throat loads the nearer one more. Each takes half a moment about the pin, and the force that a
    couple about x or y adds; a force along the pin leans on one ear alone, since nothing ties the ears together
    at their ends.

    Args:
        actions: what acts on the pin.
        middle: distance of the ear's middle from the middle of the throat [mm].
        off: how far what sits in the throat may stand off its middle [mm].

    Returns:
        One action at the middle of the ear.
    """
    force, moment = resultant(actions, (0.0, 0.0, 0.0))
    middle = np.asarray(middle, float)
    away = np.asarray(off, float)
    nearer = load_share(1.0, middle - away, middle + away)
    part = np.stack(np.broadcast_arrays(nearer, nearer, 0.5), axis=-1)
    share = force * part + np.stack(
        np.broadcast_arrays(
            _with_sign(moment[..., 1] / (2.0 * middle), force[..., 0]),
            _with_sign(moment[..., 0] / (2.0 * middle), force[..., 1]),
            np.abs(force[..., 2]) - force[..., 2] / 2.0,
        ),
        axis=-1,
    )
    about_pin = moment * np.array([0.0, 0.0, 0.5])
    zero = np.zeros_like(middle)
    return (Action(np.stack([zero, zero, middle], axis=-1), share, about_pin),)


def _with_sign(size: Any, sign_of: Any) -> Any:
    return np.abs(size) * np.where(np.asarray(sign_of) < 0.0, -1.0, 1.0)


def _broken_outside(
    body: cq.Workplane, back: float, edge_break: float, open_back: bool
) -> cq.Workplane:
    """Break the edges of both flat faces, and of the back; its corners along the pin where they stay open."""
    edges = body.faces("|Z").edges().vals()
    if open_back:
        edges = [edge for edge in edges if edge.Center().x > -back + 1e-6]
    else:
        edges += body.faces("<X").edges("|Z").vals()
    return body.newObject(edges).chamfer(edge_break)


def _throat_edges(body: cq.Workplane, gap: float) -> list[cq.Edge]:
    """The closed run of edges that the throat leaves: around both noses, along the sides and the floor."""
    found = []
    for edge in body.edges().vals():
        box = edge.BoundingBox()
        inside = box.zmax < gap + 1e-6 and box.zmin > -gap - 1e-6
        across = box.ymax - box.ymin > 1e-6 and box.xmax - box.xmin < 1e-6
        # Edges across the ears at the floor only part the flat floor from its smooth corner radii.
        if inside and not (across and box.xmax < 0.0):
            found.append(edge)
    return found
