"""What the dimensions of a sheet bracket must meet, in a builder's words."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from parts.core.rules import Rule, at_least, at_most
from parts.families.sheet_bracket.leg import ROUND, Standing
from parts.families.sheet_bracket.shape import WASHER, BracketShape
from parts.features.bolts.grip import grip_rules, length_rule
from parts.features.pins.pin import TappedHole
from parts.features.pins.tab_hole import InTab, TabHole
from parts.features.thread.threaded import engagement_rule
from parts.inputs.document import dotted
from parts.standards.stock.bends import least_bend_radius

DIE = 8.0
"""Opening of the die over the thickness [-]; common practice, no source."""
LEAST_LEG = 0.7
"""Least leg, outside, over the opening of the die, or it slips in [-]; common practice, no source."""
FROM_BEND = 2.0
"""Edge of a hole to where a bend begins, over the thickness: nearer holes are pulled oval [-]; common practice, no
source."""
TURN = np.radians((5.0, 135.0))
"""Least and most that a sheet is bent by [rad]; common practice, no source."""


def bracket_rules(part: BracketShape) -> Iterator[Rule]:
    """Every rule of a sheet bracket."""
    t, base, plate = part.thickness, part.base, part.plate
    d, hole = base.bolts.diameter, base.hole
    rows = [
        (at_least, "thin", "thickness", t, 0.8, "thinner sheet is no bracket; it looks like the wrong unit",
         "check it"),
        (at_most, "thick", "thickness", t, 6.4, "thicker plate is not folded on a sheet brake (common practice, no "
         "source)", "use thinner sheet"),
        (at_most, "sharp", "edge_break", part.edge_break, 0.0, "sheet is deburred, no chamfer is cut", "leave it at 0"),
        (at_least, "edge", "base.margin", plate.edge(), 1.5 * hole, "a hole of the base is too near its edge (1.5 "
         "diameters: common practice, no source)", "enlarge the margin, or the base"),
        (at_least, "pitch", "base.at", np.minimum(plate.pitch(), 1e6), WASHER * d + 1.0, "the washers of the base meet",
         "move the holes apart"),
        (at_most, "gap", "base.gap", base.gap, 0.15 * d + 0.5, "the bolts would not locate the base", "lessen it"),
        (at_most, "corner", "base.corner", base.corner, np.minimum(plate.width, plate.height) / 2.0 - 0.1,
         "the corners of the base meet", "lessen it"),
        (at_most, "large", "base", np.maximum(plate.width, plate.height), 600.0, "no bracket of a one-off vehicle is "
         "this large; it looks like the wrong unit", "check it"),
    ]  # fmt: skip
    for kind, code, field, value, limit, why, how in rows:
        yield kind(f"sheet.{code}", field, value, limit, why, how)
    if base.onto is not None and base.bolts.bolt is not None:
        stack = t + base.onto
        if size := base.bolts.without_length:
            yield length_rule("base.bolts.bolt", size, stack, 0.0)
        elif (joint := base.joint(t)) is not None:
            yield from grip_rules("base.bolts.bolt", joint, stack, last_plane=0.0)
    if base.into is not None:
        yield from base.into.rules(base.bolts, t)
    for k, one in enumerate(part.stands.values()):
        yield from _leg_rules(part, one, dotted(("legs", k)))
        yield from _bend_rules(part, one, dotted(("legs", k)))
    for side, after in zip(ROUND, (*ROUND[1:], ROUND[0]), strict=True):
        both = [part.stands.get(name) for name in (side, after)]
        full = [one is not None and one.full for one in both]
        wide = sum(1.0 for one in both if one is not None) if any(full) else 0.0
        yield at_most(
            "sheet.corner_free", "legs", wide, 1.0,
            f"the legs to the {side} and to the {after} would meet at their corner, and the sheet tears there",
            "state a `width` for both, less than their sides", unit="-",
        )  # fmt: skip


def _leg_rules(part: BracketShape, one: Standing, field: str) -> Iterator[Rule]:
    leg, t, d, side = one.leg, part.thickness, one.leg.drilled, part.side(one)
    off = 0.0 if leg.pitch is None else leg.pitch / 2.0
    until = 0.0 if not leg.bends else one.strip.last
    name = one.name
    near = leg.reach - until - d / 2.0
    rows = [
        (at_least, "side", f"{field}.width", one.wide / 2.0 - off, d, "too little metal beside a hole (one diameter: "
         "common practice, no source)", "widen the leg, or choose a smaller bolt"),
        (at_least, "end", f"{field}.beyond", leg.end, 1.25 * d, "the bolt would tear out of the end (1.25 diameters: "
         "common practice, no source)", "let the leg reach further beyond its holes"),
        (at_most, "leg_corner", f"{field}.corner", leg.corner, np.minimum(one.wide / 2.0, leg.end) - 0.05,
         "the corners of the leg meet", "lessen it"),
        (at_most, "long", f"{field}.reach", leg.reach, 300.0, "no leg of a bracket is so long; it looks like the wrong "
         "unit", "check it"),
        (at_least, "hole_bend", f"{field}.reach", near, FROM_BEND * t if leg.bends else d, "a hole so near the bend, "
         "or the base, is pulled oval (two thicknesses: common practice, no source)", "move the hole out"),
        (at_least, "base_bend", "base.margin", part.to_legs.min(axis=-1), np.maximum(
            part.base.hole / 2.0 + FROM_BEND * t, WASHER * part.base.bolts.diameter / 2.0),
         f"a hole of the base is too near where the leg to the {name} turns up: it is pulled oval, or its washer "
         "climbs the bend (two thicknesses: common practice, no source)", "enlarge the margin, or the first flat"),
    ]  # fmt: skip
    if leg.pitch is not None:
        rows.append((at_least, "holes", f"{field}.pitch", leg.pitch, WASHER * leg.pin.diameter + 1.0, "the washers "
                     "meet", "move the holes apart"))  # fmt: skip
    if one.full:
        rows.append((at_most, "offset", f"{field}.offset", np.abs(leg.offset), 0.0, "a leg as wide as its side stands "
                     "in its middle", "state its `width`, or leave the offset out"))  # fmt: skip
    else:
        neighbours = [part.stands.get(ROUND[(ROUND.index(name) + k) % 4]) for k in (1, -1)]
        corner = 0.0 if any(n is not None and n.full for n in neighbours) else part.base.corner
        rows.append((at_most, "narrow", f"{field}.width", one.wide / 2.0 + np.abs(leg.offset) + part.relieved + corner,
                     side / 2.0, "the leg with the radius beside it does not stand within its side",
                     "narrow it, leave its width out, or lessen the corners"))  # fmt: skip
        first = leg.bends[0].flat if leg.bends else leg.reach - d
        at = f"{field}.bends" if leg.bends else f"{field}.reach"
        rows.append((at_least, "relief", at, first, part.relieved + 0.1,
                     "the bend begins within the radius beside the leg, and the sheet tears there",
                     "let the first flat be longer than `relief`"))  # fmt: skip
    for kind, code, at, value, limit, why, how in rows:
        yield kind(f"sheet.{code}", at, value, limit, why, how)
    site = InTab(
        field=f"{field}.pin", metal=part.metal, name=name, thickness=t, axes=np.eye(3), width=one.wide,
        reach=leg.reach, end=leg.end, behind=one.wide, **leg.in_hole,
    )  # fmt: skip
    yield from TabHole(leg.pin).rules(site)
    if (nut := leg.pin.set_nut(t, part.material, name)) is not None:
        yield from nut.rules("thickness")
        yield at_least(
            "rivet_nut.edge", f"{field}.beyond", np.minimum(leg.end, one.wide / 2.0 - off), 1.5 * d,
            "a rivet nut's hole stands a diameter and a half from every edge of its sheet (common practice, no source)",
            "widen the leg, or let it reach further beyond its holes",
        )  # fmt: skip
    if isinstance(leg.pin.hole, TappedHole):
        yield engagement_rule("thickness", t, leg.pin.hole.thread, 0.5)


def _bend_rules(part: BracketShape, one: Standing, field: str) -> Iterator[Rule]:
    t, leg = part.thickness, one.leg
    for i, bend in enumerate(leg.bends):
        at = f"{field}.bends{dotted((i,))}"
        beyond = (
            leg.bends[i + 1].flat
            if i + 1 < len(leg.bends)
            else leg.reach + leg.end - one.strip.last
        )
        yield at_least(
            "sheet.radius", f"{at}.radius", bend.radius, least_bend_radius(part.metal, t),
            "the metal cracks in so tight a bend", "use a larger radius, or a softer metal",
        )  # fmt: skip
        yield at_most(
            "sheet.wide_radius", f"{at}.radius", bend.radius, 20.0 * t,
            "so wide a bend is rolled, not folded, and springs far back (common practice, no source)", "lessen it",
        )  # fmt: skip
        flat = (
            f"{field}.bends{dotted((i + 1,))}.flat" if i + 1 < len(leg.bends) else f"{field}.reach"
        )
        yield at_least(
            "sheet.least_leg", flat, beyond + bend.radius + t, LEAST_LEG * DIE * t,
            f"the flat beyond it is too short to lie on the die, {DIE:g} thicknesses wide (common practice, no source)",
            "lengthen the leg",
        )  # fmt: skip
        turn = np.abs(bend.angle)
        yield at_least(
            "sheet.no_bend", f"{at}.angle", turn, TURN[0], "that is no bend", "leave it out", "deg"
        )
        yield at_most(
            "sheet.closed",
            f"{at}.angle",
            turn,
            TURN[1],
            "no brake bends so far",
            "lessen it",
            "deg",
        )
    if len(leg.bends) > 1:
        away = np.abs(one.strip.way(one.strip.last)[1])
        yield at_most(
            "sheet.curled", f"{field}.bends", away, np.radians(180.5), "the leg would run into itself",
            "bend it the other way, or less", "deg",
        )  # fmt: skip
