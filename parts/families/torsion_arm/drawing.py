"""What a drawing says of an arm on a torsion bar: hub, blade and end, in the arm's own axes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from parts.core.drawing import (
    Callout,
    CentreLine,
    Datum,
    Diameter,
    Dimension,
    Drawn,
    Hole,
    Linear,
    Marks,
    Radius,
    ThreadLines,
    View,
)
from parts.families.torsion_arm.blade import Blade
from parts.families.torsion_arm.clamp_bore import SPOT_DEPTH, ClampBore
from parts.families.torsion_arm.ends import ClevisEnd, TappedEnd
from parts.families.torsion_arm.eye import BushBore, Eye, SphericalBore
from parts.families.torsion_arm.flats_bore import FlatsBore
from parts.families.torsion_arm.hub import Hub
from parts.families.torsion_arm.sites import AtTip
from parts.families.torsion_arm.spline_bore import SplineBore
from parts.features.fork.drawing import FINE
from parts.features.thread import threaded

X, Y, Z = np.eye(3)


def arm_drawn(
    hub: Hub, blade: Blade, end: Eye | ClevisEnd | TappedEnd, site: AtTip, edge_break: float
) -> Drawn:
    """The sheet of an arm.

    Args:
        hub: its hub.
        blade: its blade.
        end: its end.
        site: where the end stands.
        edge_break: of its edges [mm].

    Returns:
        The sheet: the arm seen along the bar, and cut along its middle.
    """
    place = np.array([float(blade.arm.length), 0.0, float(blade.arm.crank)])
    marks = _hub(hub, edge_break) + Marks(tuple(_blade(blade, end)))
    if isinstance(end, Eye):
        marks += _eye(end).moved(place)
    elif isinstance(end, ClevisEnd):
        marks += end.marks(site).moved(place)
    else:
        marks += _tapped(end, edge_break).moved(place)
    marks += Marks(tuple(_between(hub, end, place)))
    views = [View("front"), View("top", cut=(0.0, 0.0, 0.0))]
    views += [View("right")] if isinstance(end, TappedEnd) else []
    if isinstance(hub.bore, ClampBore) and abs(float(hub.bore.clocking)) < 1e-9:
        views.append(View("bottom"))
    return Drawn(
        right=X,
        up=Y,
        views=tuple(views),
        marks=marks,
        datum=Datum((0.0, 0.0, 0.0), "axis of the hub"),
    )


def _between(hub: Hub, end: Eye | ClevisEnd | TappedEnd, place: np.ndarray) -> Iterator[Dimension]:
    """How the end lies to the hub along the bar: from face to face."""
    low, high = float(hub.width) / 2.0, place[2] + float(end.height) / 2.0
    if abs(high - low) > 1e-6:
        way = Z * np.sign(high - low)
        start, stop = (0.0, 0.0, low), (place[0], 0.0, high)
        yield Linear(
            "face of the hub to face of the end", start, stop, way, abs(high - low), view="top"
        )


def _hub(hub: Hub, edge_break: float) -> Marks:
    wide, half = float(hub.diameter), float(hub.width) / 2.0
    sizes: list[Dimension] = [
        Diameter("hub", (0, 0, half), Z, wide, view="front"),
        Linear(
            "width of the hub", (-wide / 2, 0, -half), (-wide / 2, 0, half), Z, 2 * half, view="top"
        ),
    ]
    bored = {SplineBore: _spline, FlatsBore: _flats, ClampBore: _clamp}[type(hub.bore)]
    axis = CentreLine((0, 0, -half), (0, 0, half))
    own: Marks = bored(hub.bore, half)  # type: ignore[operator]
    return Marks(tuple(sizes), centres=(axis,)) + own


def _spline(bore: SplineBore, half: float) -> Marks:
    one = bore.spline
    small = float(one.minor_internal)
    lead = float(bore.lead_in)
    turn = np.radians(150.0)
    at = np.array([small / 2 * np.cos(turn), small / 2 * np.sin(turn), half])
    words = f"spline {one.designation}, see notes\nminor diameter {{0}}"
    sizes: list[Dimension] = [
        Callout(
            "spline", at, words, (Diameter("minor diameter", (0, 0, half), Z, small),), view="front"
        ),
    ]
    if lead > 0.0:
        cone = small + 2.0 * lead
        mouth = Callout(
            "lead-in", (-cone / 2 + lead / 2, 0, half - lead / 2), "lead-in {0} × 45°, both ends",
            (Linear("lead-in", (0, 0, half - lead), (0, 0, half), Z, lead),), view="top",
        )  # fmt: skip
        sizes.append(mouth)
    clock = np.degrees(float(bore.clocking))
    notes = (
        f"Internal involute spline {one.designation}: {one.teeth} teeth, 30° pressure angle, side fit; "
        f"pitch diameter {one.pitch_diameter:.4f} mm, major {one.major_internal:.3f}, "
        f"minor {one.minor_internal:.3f} mm.",
        f"A tooth space of the hub stands {clock:.2f}° from the arm's centre line, counter-clockwise as drawn.",
    )
    return Marks(tuple(sizes), notes=notes)


def _flats(bore: FlatsBore, half: float) -> Marks:
    across, turn, of = float(bore.bore), float(bore.clocking), bore.bore_limits()
    way = np.array([np.cos(turn), np.sin(turn), 0.0])
    corner = np.pi / bore.sides
    reach = across / 2 / np.cos(corner)
    at = reach * np.array([np.cos(turn + corner), np.sin(turn + corner), 0.0]) + Z * half
    relief = Diameter("corner relief", at, Z, float(bore.corner_relief))
    rim = at + relief.value / 2 * np.array([np.cos(turn + corner), np.sin(turn + corner), 0.0])
    sizes: list[Dimension] = [
        Linear(
            "across the flats of the bore", Z * half - way * across / 2, Z * half + way * across / 2, way,
            across, callout=f"{bore.type} bore", view="front", fit=of.tolerance_class, limits=of.sizes,
        ),
        Callout("corner reliefs", rim, f"{bore.sides}× {{0}} at the corners", (relief,), view="front"),
    ]  # fmt: skip
    notes = []
    if bore.lead_in > 0.0:
        notes.append(f"Lead-in {float(bore.lead_in):g} mm × 45° at both mouths of the bore.")
    if turn:
        notes.append(
            f"The middle of a flat stands {np.degrees(turn):.2f}° from the arm's centre line."
        )
    return Marks(tuple(sizes), notes=tuple(notes))


def _clamp(bore: ClampBore, half: float) -> Marks:
    size, turn, of = float(bore.bore), float(bore.clocking), bore.bore_limits()
    c, s = np.cos(turn), np.sin(turn)
    axes = np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])
    gap, ear, off = float(bore.slit), float(bore.ear), float(bore.offset)
    face, reach = gap / 2 + ear, float(bore.reach)
    hole = Hole(
        "bore for the bar", (0, 0, half), -Z, size, through=2 * half, fit=of.tolerance_class, limits=of.sizes,
        callout=f"before it is slit, {FINE}", view="front",
    )  # fmt: skip
    sizes: list[Dimension] = [
        Linear(
            "slit",
            (-reach, -gap / 2, half),
            (-reach, gap / 2, half),
            Y,
            gap,
            callout="slit",
            view="front",
        ),
        Linear(
            "over the clamp's ears",
            (-reach, -face, half),
            (-reach, face, half),
            Y,
            2 * face,
            view="front",
        ),
        Linear("bar to the pinch bolts", (-off, 0, half), (0, 0, half), X, off, view="front"),
        Linear(
            "bar to the end of the ears", (-reach, 0, half), (0, 0, half), X, reach, view="front"
        ),
    ]
    straight = abs(turn) < 1e-9
    holes = [hole, *_pinch_bolts(bore, half, noted=not straight)]
    notes = []
    if not straight:
        notes.append(f"The slit stands {np.degrees(turn):.1f}° from the line opposite the arm.")
        words = f"{bore.count}× Ø{bore.hole:.2f} mm clear, Ø{bore.head:.1f} mm spotface; "
        words += f"far ear {bore.bolt.thread.designation} through"
        notes.append(f"Pinch bolts, square to the slit: {words}; places in the hole chart.")
    if bore.count > 1:
        apart = float(bore.pitch(2 * half))
        notes.append(
            f"Pinch bolts {apart:.2f} mm apart along the bar, about the middle of the hub."
        )
    if bore.relief > 0.0:
        at, small = float(bore.relief_at), float(bore.relief)
        holes.append(
            Hole(
                "hinge relief", (at, 0, half), -Z, small, through=2 * half,
                callout="hinge relief\ndrill before boring", view="front",
            )
        )  # fmt: skip
        sizes.append(
            Linear("bar to the hinge relief", (0, 0, half), (at, 0, half), X, at, view="front")
        )
    return Marks(tuple(sizes), tuple(holes), notes=tuple(notes)).moved((0, 0, 0), axes)


def _pinch_bolts(bore: ClampBore, half: float, *, noted: bool) -> Iterator[Hole]:
    """The holes of the pinch bolts, tapped in one ear and clear in the other; `noted` where they stand aslant."""
    of, ear, off = bore.bolt.thread, float(bore.ear), float(bore.offset)
    face = float(bore.slit) / 2.0 + ear
    apart = float(bore.pitch(2 * half))
    for i in range(bore.count):
        z = (i - (bore.count - 1) / 2.0) * apart
        yield Hole(
            f"pinch bolt {i + 1}", (-off, -face, z), Y, float(of.minor_internal), through=ear, thread=of,
            countersink=float(of.major), callout="this ear only", view="bottom", noted=noted,
        )  # fmt: skip
        yield Hole(
            f"clearance for pinch bolt {i + 1}", (-off, face - SPOT_DEPTH, z), -Y, bore.hole,
            through=ear - SPOT_DEPTH, callout=f"far ear, spotface Ø{bore.head:.1f} mm", view="bottom",
            noted=noted,
        )  # fmt: skip


def _blade(blade: Blade, end: Eye | ClevisEnd | TappedEnd) -> Iterator[Dimension]:
    arm = blade.arm
    length, crank = float(arm.length), float(arm.crank)
    face = length - float(end.stand_off) if isinstance(end, TappedEnd) else length
    name = "hub to the face of the end" if isinstance(end, TappedEnd) else "length of the arm"
    yield Linear(name, (0, 0, 0), (face, 0, crank), X, face, view="front")
    root, tip = blade.root(), blade.tip()
    for where, fillet, radius in (("root", root, arm.root_fillet), ("end", tip, arm.end_fillet)):
        x, y = (float(v) for v in fillet.side)
        if radius <= 0.0:
            x = float(blade.start if where == "root" else blade.end)
            y = float(blade.straight(x))
        wide = Linear(
            f"width where the {where} fillet begins", (x, -y, 0), (x, y, 0), Y, 2 * y, view="front"
        )
        yield wide
        if radius > 0.0:
            centre = np.array([*(float(v) for v in fillet.centre), 0.0])
            middle = (np.array([x, y]) + [float(v) for v in fillet.rim]) / 2.0 - centre[:2]
            toward = np.array([*middle / np.linalg.norm(middle), 0.0])
            yield Radius(f"{where} fillet", centre, Z, toward, float(radius), count=2, view="front")
            if abs(float(blade.slope)) > 1e-9:
                yield Linear(
                    f"hub to where the {where} fillet begins",
                    (0, 0, 0),
                    (x, y, 0),
                    X,
                    x,
                    view="front",
                )
    for where, x in (("hub", float(blade.start)), ("end", float(blade.end))):
        if where == "end" and arm.end_thickness is None:
            continue
        z, half = float(blade.middle(x)), float(blade.thickness(x)) / 2.0
        yield Linear(
            f"thickness at the {where}'s rim",
            (x, 0, z - half),
            (x, 0, z + half),
            Z,
            2 * half,
            view="top",
        )
    if arm.pocket is not None:
        yield from _pocket(blade)


def _pocket(blade: Blade) -> Iterator[Dimension]:
    pocket = blade.arm.pocket
    assert pocket is not None
    low, high = (float(v) for v in blade.pocket_span())
    for name, x in (("near", low), ("far", high)):
        yield Linear(
            f"hub to the {name} end of the pockets", (0, 0, 0), (x, 0, 0), X, x, view="front"
        )
    x = (low + high) / 2.0
    z, half = float(blade.middle(x)), float(pocket.floor) / 2.0
    long = np.sqrt(1.0 + (float(blade.arm.crank) / float(blade.reach)) ** 2)
    if long < 1.0 + 1e-9:
        floor = Linear(
            "floor of the pockets", (x, 0, z - half), (x, 0, z + half), Z, 2 * half, view="top"
        )
        yield floor
    else:
        floor = Linear("floor of the pockets", (x, 0, z - half), (x, 0, z + half), Z, 2 * half)
        yield Callout("floor", (x, 0, z + half), "floor {0}, along the bar", (floor,), view="top")
    slope = float(blade.slope)
    out = np.array([-slope, 1.0, 0.0]) / np.sqrt(1.0 + slope**2)
    side = np.array([x, float(blade.straight(x)), 0.0])
    wide = float(pocket.flange)
    yield Linear("flange", side - out * wide, side, out, wide, count=2, view="front")
    cx, cy, _ = (float(v) for v in blade.pocket_corner(True))
    toward = np.array([-1.0, 1.0, 0.0]) / np.sqrt(2.0)
    yield Radius(
        "corner of the pockets", (cx, cy, 0), Z, toward, float(pocket.corner), count=8, view="front"
    )


def _eye(eye: Eye) -> Marks:
    half, bore = float(eye.width) / 2.0, float(eye.bore_diameter)
    of, words = eye.bore_limits(), FINE
    if isinstance(eye.bore, BushBore):
        words = f"{FINE}\nfor bush, {eye.bore.fit}"
    elif isinstance(eye.bore, SphericalBore):
        words = f"{FINE}\nseat for {eye.bore.bearing.designation}"
    hole = Hole(
        "bore of the eye", (0, 0, half), -Z, bore, through=2 * half, fit=of.tolerance_class, limits=of.sizes,
        callout=words,
    )  # fmt: skip
    r = float(eye.diameter) / 2.0
    sizes = (
        Radius("eye", (0, 0, half), Z, (X + Y) / np.sqrt(2.0), r, view="front"),
        Linear("width of the eye", (r, 0, -half), (r, 0, half), Z, 2 * half, view="top"),
    )
    return Marks(sizes, (hole,))


def _tapped(end: TappedEnd, edge_break: float) -> Marks:
    thread, off, long = end.thread, float(end.stand_off), float(end.length)
    wide, high, depth = float(end.width) / 2.0, float(end.height) / 2.0, float(end.depth)
    drilled = depth + float(threaded.behind_thread(thread, relief=end.relief))
    minor, major = float(thread.minor_internal), float(thread.major)
    hole = Hole(
        "tapped end", (-off, 0, 0), -X, minor, depth=drilled, thread=thread, tapped=depth,
        countersink=major + 2.0 * edge_break, view="right",
    )  # fmt: skip
    sizes: list[Dimension] = [
        Linear(
            "length of the block", (-off - long, wide, 0), (-off, wide, 0), X, long, view="front"
        ),
        Linear("width of the block", (-off, -wide, 0), (-off, wide, 0), Y, 2 * wide, view="right"),
        Linear("height of the block", (-off, 0, -high), (-off, 0, high), Z, 2 * high, view="top"),
    ]
    if end.relief:
        groove = float(thread.relief("internal").diameter)
        x = -off - (depth + drilled) / 2.0
        parts: tuple[Any, ...] = (
            Diameter("relief", (x, 0, 0), X, groove),
            Linear(
                "width of the relief",
                (-off - drilled, 0, 0),
                (-off - depth, 0, 0),
                X,
                drilled - depth,
            ),
        )
        sizes.append(
            Callout("relief", (x, 0, groove / 2), "relief {0} × {1} wide", parts, view="top")
        )
        sizes.append(
            Linear("depth of full thread", (-off - depth, 0, 0), (-off, 0, 0), X, depth, view="top")
        )
    lines = ThreadLines((-off - depth, 0, 0), (-off, 0, 0), major, minor, internal=True)
    note = f"The rod end's middle stands {off:.2f} mm off the face; lock its jam nut."
    return Marks(
        tuple(sizes), (hole,), (lines,), (CentreLine((-off - long, 0, 0), (-off, 0, 0)),), (note,)
    )
