"""The two pieces of a fabricated footpeg, plate and tube: blank, solids, sheets, how they are welded and proved."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.blank import Blank, BlankHole
from parts.core.drawing import (
    Callout,
    Datum,
    Drawn,
    Linear,
    Marks,
    Profile,
    Radius,
    View,
    Weld,
)
from parts.core.weldment import Member, Weldment
from parts.families.footpeg.plate_tongue import PLAY, PlateTongue
from parts.families.footpeg.tongue_shape import IN_EYE, heel_callout, tongue_end
from parts.features.section.outlines import figure
from parts.strength.section.outline import Loop, Outline

if TYPE_CHECKING:
    import cadquery as cq

    from parts.core.loads import Action
    from parts.core.supports import Applied, Rectangle, Support
    from parts.features.arm.tip import AtTip

X, Y, Z = np.eye(3)
QUARTER = float(np.tan(np.pi / 8.0))
"""Bulge of a quarter round [-]."""


def _outline(plate: PlateTongue, end: bool) -> Outline:
    """The plate in x and z, with its end about the pin, or from the pin on."""
    reach, r, high, tab = (
        float(v) for v in (plate.reach, plate.eye.rim, plate.height / 2.0, plate.tab)
    )
    first, last = (float(v) - reach for v in plate.widens)
    wide, hollow = float(plate.half_height(last + reach)), -float(np.tan(plate.slope / 4.0))
    low = (-reach - r, -r) if end else (-reach, -r)
    rows = [
        (low, 0.0), ((first, -r), hollow), ((last, -wide), 0.0), ((0.0, -high), 0.0), ((tab, -high), 0.0),
        ((tab, high), 0.0), ((0.0, high), 0.0), ((last, wide), hollow), ((first, r), 0.0),
        ((-reach, r), QUARTER if end else 0.0),
    ]  # fmt: skip
    if end:
        rows.append(((-reach - r, 0.0), 0.0))
    return figure([point for point, _ in rows], [bulge for _, bulge in rows])


def plate_blank(plate: PlateTongue) -> Blank:
    """The blank of the plate, in x and z of the peg; its eye is cut small and reamed when the peg is welded."""
    eye = BlankHole(
        "eye", (-float(plate.reach), 0.0), float(plate.eye.bore_diameter), "reamed after welding"
    )
    return Blank(
        _outline(plate, end=True), float(plate.eye.width), (0.0, 0.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0),
        (eye,), pieces=("plate",),
        notes=("edges as cut, deburred; both upright edges of the heel are broken as its sheet says",),
    )  # fmt: skip


def plate_solid(plate: PlateTongue, edge_break: float) -> cq.Workplane:
    """The plate with its eye and its heel."""
    from parts.shapes.profile import broken_hole, prism

    half, reach = float(plate.eye.width) / 2.0, float(plate.reach)
    (loop,) = _outline(plate, end=False).loops
    # A prism along y takes (z, x).
    turned = Outline((Loop(loop.points[..., ::-1], -loop.bulge),))
    whole = prism(turned, -half, half, "y").union(tongue_end(reach, float(plate.eye.rim), half))
    bore = float(plate.eye.bore_diameter)
    return whole.cut(broken_hole(bore, -half, half, edge_break, "y", (-reach, 0.0, 0.0)))


def slotted(tube: cq.Workplane, plate: PlateTongue, diameter: float) -> cq.Workplane:
    """A tube with its two slots, open at its end and round at their far ends."""
    from parts.shapes.profile import cylinder
    from parts.shapes.workplane import Workplane

    w, straight = float(plate.slot), float(plate.tab) + PLAY
    run = (
        Workplane("XY")
        .box(straight + 1.0, w, 2.0 * diameter)
        .translate((straight / 2.0 - 0.5, 0.0, 0.0))
    )
    return tube.cut(run.union(cylinder(w, -diameter, diameter, "z", (straight, 0.0, 0.0))))


def slot_marks(plate: PlateTongue, diameter: float) -> Marks:
    """What the sheet of the tube says of its slots."""
    w, straight, R = float(plate.slot), float(plate.tab) + PLAY, diameter / 2.0
    centre = np.array([straight, 0.0, R])
    edge = np.sqrt(R**2 - w**2 / 4.0)
    sizes = (
        Radius("end of the slots", centre, Z, X, w / 2.0, count=2),
        Linear("width of the slots", (straight / 2.0, -w / 2.0, edge), (straight / 2.0, w / 2.0, edge), Y, w),
        Linear("centre of their ends", (0.0, w / 2.0, edge), centre, X, straight),
    )  # fmt: skip
    words = (
        "two slots in line, above and below\nends {0}, {1} wide\nend of the tube to the centre {2}"
    )
    return Marks((Callout("slots", centre + X * w / 2.0, words, sizes, view="top"),))


def plate_drawn(plate: PlateTongue, in_eye: AtTip) -> Drawn:
    """The sheet of the plate, seen from its side."""
    t, reach, r = float(plate.eye.width), float(plate.reach), float(plate.eye.rim)
    three = np.array([0.0, 0.5, 1.0])
    (loop,) = _outline(plate, end=True).loops
    flat = np.array([curve.at(three)[0] for curve in loop.curves()])
    places = np.stack([flat[..., 0], np.full(flat.shape[:2], t / 2.0), flat[..., 1]], axis=-1)
    at = np.asarray(plate.pin_at, float)
    holes = tuple(replace(one, view="front", left=0.5) for one in plate.eye.marks(in_eye).holes)
    tab = float(plate.tab)
    sizes: tuple[Any, ...] = (
        Linear("tube to the pin", at + t / 2.0 * Y, (0.0, t / 2.0, float(plate.height) / 2.0), X, reach, view="front"),
        Linear("thickness", (tab, -t / 2.0, 0.0), (tab, t / 2.0, 0.0), Y, t, view="top"),
        heel_callout(at, r, t / 2.0, "top"),
    )  # fmt: skip
    notes = (
        "The half of the tongue that ends round about its pin stands up as it is ridden; the square half below is "
        "its heel.",
        "The tab is the end away from the pin; it goes into the tube as far as the slope.",
    )
    marks = Marks(sizes, notes=notes, profiles=(Profile("outline", -Y, places),))
    return Drawn(
        X, Z, (View("front"), View("top")), marks + Marks((), holes).moved(at, IN_EYE),
        Datum((0.0, 0.0, 0.0), "end of the tube, on the axis"), piece="plate", title="plate", sheet_metal=t,
    )  # fmt: skip


def peg_weldment(plate: PlateTongue, diameter: float, length: float, metal: str) -> Weldment:
    """The plate in its tube: four fillets, one along each face of the tab at each slot."""
    R, t, tab, reach, high = (
        float(v)
        for v in (diameter / 2.0, plate.eye.width, plate.tab, plate.reach, plate.height / 2.0)
    )
    edge = float(np.sqrt(R**2 - t**2 / 4.0))
    leg, filler = float(plate.weld.leg), plate.weld.filler
    welds = tuple(
        Weld(f"{name} slot", (tab * share, -t / 2.0, side * edge), "fillet", leg, both=True, filler=filler)
        for name, side, share in (("upper", 1.0, 0.4), ("lower", -1.0, 0.7))
    )  # fmt: skip
    members = (
        Member("plate", f"{t:g} mm, {metal}", (-reach / 2.0, 0.0, 0.0)),
        Member("tube", f"{diameter:g} mm, {metal}", (0.6 * length, 0.0, -R)),
    )
    jig = (
        Linear("pin to the end of the tube", plate.pin_at, (0.0, 0.0, edge), X, reach, view="front"),
        Linear("over the plate", (tab / 2.0, 0.0, -high), (tab / 2.0, 0.0, high), Z, 2.0 * high, reference=True,
            view="front"),
    )  # fmt: skip
    ends = (
        "return the fillets round the end of the plate at the mouth of the tube"
        if plate.weld.ends == "returned"
        else "stop the fillets a throat short of both ends"
    )
    sequence = (
        "Clean plate and tube bright inside and out, a hand's breadth about the slots.",
        "Push the tab into the slots until the slope of the plate meets the end of the tube; set the plate square to "
        "the bore by a pin through the eye; tack at the four corners, opposite ones after each other.",
        "Weld from the far end of the slots to the mouth of the tube: upper slot, one face, then lower slot, the other "
        f"face; let it cool to the hand; then the two that are left. {ends[0].upper()}{ends[1:]}.",
        "Leave the round ends of the slots open: they keep the crack from starting, and vent the tube.",
    )
    after = (
        "Ream the eye in one pass when it is cold; try the pin, and the tongue in its fork.",
        "File the heel until it bears on the floor of the fork with the peg level.",
    )
    return Weldment(X, Z, (View("front"), View("top")), members, welds, jig, sequence, after)


def on_tab(plate: PlateTongue, actions: Sequence[Action]) -> tuple[Applied, ...]:
    """What the tube does to both faces of the tab, for finite elements."""
    from parts.core.supports import Applied

    return (Applied("tab", _faces(plate, float(plate.eye.width) / 2.0, 1.0, None), tuple(actions)),)


def in_slots(plate: PlateTongue, diameter: float, bore: float) -> Support:
    """The tube held by the sides of its slots, for finite elements."""
    from parts.core.supports import Support

    walls = _faces(plate, float(plate.slot) / 2.0, -1.0, (bore / 2.0, diameter / 2.0))
    return Support("slots", walls, (diameter - bore) / 2.0)


def _faces(
    plate: PlateTongue, off: float, sense: float, between: tuple[float, float] | None
) -> tuple[Rectangle, ...]:
    """Rectangles along the tab at both its sides: over its height, or between two heights above and below the axis."""
    from parts.core.supports import Rectangle

    tab, high = float(plate.tab), float(plate.height) / 2.0
    if between is None:
        levels = [(0.0, 2.0 * high)]
    else:
        middle, tall = sum(between) / 2.0, between[1] - between[0]
        levels = [(middle, tall), (-middle, tall)]
    return tuple(
        Rectangle(np.array([tab / 2.0, side * off, z]), side * sense * Y, X, tab, tall)
        for side in (1.0, -1.0)
        for z, tall in levels
    )
