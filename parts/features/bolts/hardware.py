"""Whether bought-in hardware fits the part that takes it: balls, threads, bearings, metals that touch.

Plain functions of plain dimensions: each family calls those that concern it from its rules, checks and
cautions. Any dimension may be an array over variants. For bolts see `parts.features.bolts.grip`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from parts.core.rules import Rule, at_least, at_most
from parts.standards.bearings.bearings import BallBearing
from parts.standards.bearings.sphericals import Spherical
from parts.standards.fasteners.circlips import Circlip
from parts.standards.fasteners.fasteners import Bolt
from parts.standards.materials.galvanic import pair
from parts.standards.materials.materials import Material
from parts.standards.rod_ends.rod_ends import RodEnd
from parts.standards.threads.threads import Thread
from parts.strength.pinned import rod_end as mechanics

MOST_PLAY = 0.5
"""Side play of a ball with its spacers before the ears are drawn together [mm]; common practice, no source."""
LOOSE_PIN = 0.3
"""How much thinner than a ball's bore a pin may be before it hammers [mm]; common practice, no source."""
SPIGOT_WALL = 1.0
"""Least wall of the spigot of a stepped spacer [mm]; common practice, no source."""
LEAST_SEAT_WALL = 3.0
SEAT_WALL_SHARE = 0.1
"""Wall beside a bearing, in its outside diameters and in mm at the least; common practice, no source."""
SURROUNDINGS = "harsh"
"""Rain, road and salt: what a vehicle sees."""
SURFACES: Mapping[str, str] = {
    "AN": "cadmium",
    "NAS": "cadmium",
    "A286": "stainless steel",
    "grade": "zinc",
    "8.8": "zinc",
    "10.9": "zinc",
    "12.9": "steel",
    "A574": "steel",
    "rod end": "zinc",
    "bearing": "steel",
    "circlip": "steel",
    "spring pin": "steel",
}
"""Usual surface of bought hardware where its maker says nothing else; common practice, no source."""
SACRIFICIAL = ("zinc", "galvanized", "cadmium")
"""Platings that protect steel by being eaten first: wanted on steel, so no caution; common practice."""


@dataclass(frozen=True)
class Match(Rule):
    """A rule that is met or not, with no size to show: value 1 where the two go together, else 0."""

    def wrong(self) -> str:
        """What is wrong."""
        return self.why


def matching(code: str, field: str, together: bool, why: str, how: str) -> Match:
    """A rule that two things go together; see `Match`."""
    return Match(code, field, float(together), "at least", 1.0, why, how, "")


def ball_rules(
    field: str, rod_end: RodEnd, gap: Any, *, spacer: Any = 0.0, shoulder: Any = None
) -> Iterator[Rule]:
    """A rod end's ball and its spacers against the gap between two ears.

    Args:
        field: dotted path of the gap's dimension.
        rod_end: the rod end.
        gap: between the ears [mm].
        spacer: length of the spacer on each side of the ball [mm].
        shoulder: diameter of the spacer where it stands on the ball [mm]; not checked where None.

    Returns:
        Two rules, or three.
    """
    filled = rod_end.ball_width + 2.0 * np.asarray(spacer, float)
    yield at_least(
        "hardware.ball", field, gap, filled,
        f"the ball of rod end {rod_end.designation} with its spacers does not go between the ears",
        "widen the gap, or shorten the spacers",
    )  # fmt: skip
    yield at_most(
        "hardware.play", field, gap, filled + MOST_PLAY,
        f"the ball of rod end {rod_end.designation} with its spacers does not fill the gap, so the bolt draws "
        "the ears together or the ball knocks (common practice, no source)",
        "narrow the gap, or lengthen the spacers",
    )  # fmt: skip
    if shoulder is not None:
        yield at_most(
            "hardware.shoulder", field, shoulder, rod_end.face_diameter,
            "a spacer larger than the ball's flat face fouls the race when the joint swings",
            "turn the spacer's shoulder down to the ball's flat face",
        )  # fmt: skip


def swing(rod_end: RodEnd, gap: Any, shoulder: Any = None) -> Any:
    """Swing of a rod end to one side between flat, wide ears [rad].

    Args:
        rod_end: the rod end.
        gap: between the ears [mm].
        shoulder: diameter of what stands on the ball [mm]; its flat face where None.

    Returns:
        The least that race and head allow; nil for a gap that the head does not enter.
    """
    r, gap = rod_end, np.asarray(gap, float)
    on_ball = mechanics.swing_at_shoulder(
        r.face_diameter if shoulder is None else shoulder, r.head_width, r.ball_diameter
    )
    ears = mechanics.swing_between_ears(
        np.minimum(gap, r.head_diameter), r.head_width, r.head_diameter
    )
    return np.where(gap >= r.head_diameter, on_ball, np.minimum(on_ball, ears))[()]


def swing_rule(field: str, rod_end: RodEnd, gap: Any, needed: Any, *, shoulder: Any = None) -> Rule:
    """The swing that a joint must have, to one side [rad], against what rod end and clevis allow."""
    return at_least(
        "hardware.swing", field, swing(rod_end, gap, shoulder), needed,
        f"rod end {rod_end.designation} meets an ear or its spacer before it has swung so far to one side",
        "widen the gap with longer spacers of a smaller shoulder, or ask for less swing", "deg",
    )  # fmt: skip


def thread_rules(field: str, male: Thread, female: Thread) -> Iterator[Rule]:
    """A male thread against the female one that it screws into: size, pitch, hand, and class by gender.

    Args:
        field: dotted path of the thread that the builder should look at.
        male: of the bolt, stud or shank.
        female: of the nut or tapped hole.

    Returns:
        Four rules.
    """
    both = f"{male.designation} in {female.designation}"
    same_size = abs(male.major - female.major) < 1e-6 and abs(male.pitch - female.pitch) < 1e-6
    yield matching(
        "hardware.thread", field, same_size, f"{both}: diameter or pitch differ, so they do not screw together",
        f"make both {male.basic}, or both {female.basic}",
    )  # fmt: skip
    yield matching(
        "hardware.hand", field, male.hand == female.hand,
        f"{both}: one is a {male.hand}-hand thread, the other a {female.hand}-hand one",
        "give both the same hand",
    )  # fmt: skip
    yield male_class(field, male)
    yield female_class(field, female)


def male_class(field: str, of: Thread) -> Rule:
    """A thread that is cut on a shank is not named by a class of nuts."""
    return matching(
        "hardware.male_class", field, of.gender != "internal",
        f"{of.designation} screws in, yet {of.tolerance_class} is a class of nuts and tapped holes",
        f"name a class of bolts, as in {of.basic}-{'2A' if of.is_inch else '6g'}",
    )  # fmt: skip


def female_class(field: str, of: Thread) -> Rule:
    """A thread that is tapped is not named by a class of bolts."""
    return matching(
        "hardware.female_class", field, of.gender != "external",
        f"{of.designation} is tapped, yet {of.tolerance_class} is a class of bolts",
        f"name a class of nuts, as in {of.basic}-{'2B' if of.is_inch else '6H'}",
    )  # fmt: skip


def opposite_hands(field: str, one: Thread, other: Thread) -> Rule:
    """The two ends of a body that is turned to change a length: one right-hand, one left-hand."""
    return matching(
        "hardware.opposite", field, one.hand != other.hand,
        f"both ends have a {one.hand}-hand thread, so turning the body changes no length",
        "make one end right-hand and the other left-hand",
    )  # fmt: skip


def seat_rules(
    field: str,
    of: BallBearing | Spherical,
    boss: Any,
    *,
    count: int = 1,
    depth: Any = None,
    shoulder: Any = None,
    fillet: Any = 0.0,
) -> Iterator[Rule]:
    """A bearing's ring against the boss that houses it.

    Args:
        field: dotted path of the group of the seat.
        of: the bearing.
        count: how many of it sit side by side.
        boss: least outside size of the metal around the seat [mm].
        depth: depth of the seat [mm]; not checked where None.
        shoulder: bore of the shoulder that the ring stands on [mm]; not checked where None.
        fillet: radius in the corner of the seat [mm].

    Returns:
        The rules.
    """
    wall = np.maximum(LEAST_SEAT_WALL, SEAT_WALL_SHARE * of.outside)
    yield at_least(
        "hardware.wall", field, (np.asarray(boss, float) - of.outside) / 2.0, wall,
        f"the wall around bearing {of.designation} ({of.outside:g} mm) would be too thin to hold it round (a "
        "tenth of its outside diameter and 3 mm: common practice, no source)",
        "make the boss larger, or take a bearing with a smaller outside diameter",
    )  # fmt: skip
    ring, low, high, corner = _ring(of)
    yield at_most(
        "hardware.fillet", field, fillet, corner,
        f"the corner of the seat would hold the ring of bearing {of.designation} off its shoulder",
        "lessen the fillet below the ring's chamfer, or undercut the corner",
    )  # fmt: skip
    if depth is not None:
        yield at_least(
            "hardware.depth", field, depth, count * ring,
            f"the ring of bearing {of.designation} would stand out of its seat", "deepen the seat",
        )  # fmt: skip
    if shoulder is not None:
        yield at_least(
            "hardware.shoulder_low", field, shoulder, low,
            f"the shoulder would touch what moves in bearing {of.designation}", "open the shoulder's bore",
        )  # fmt: skip
        yield at_most(
            "hardware.shoulder_high", field, shoulder, high,
            f"the ring of bearing {of.designation} would not bear on its shoulder",
            "make the shoulder's bore smaller",
        )  # fmt: skip


def _ring(of: BallBearing | Spherical) -> tuple[float, float, float, float]:
    """Width of the outer ring, bounds of the shoulder's bore, and the largest corner radius [mm]."""
    if isinstance(of, Spherical):
        # The ball swings out of its ring: a shoulder as wide as the ball never meets it.
        corner = of.chamfer_outer
        return of.ring_width, of.ball_diameter, of.outside - 2.0 * corner, corner
    seat = of.abutment()
    return of.width, seat.housing_min, seat.housing_max, seat.fillet_max


def circlip_rules(field: str, of: Circlip, seat: Any, ring: Any, depth: Any) -> Iterator[Rule]:
    """A circlip that keeps a bearing in its bore.

    Args:
        field: dotted path of the group of the seat.
        of: the circlip.
        seat: diameter of the bore [mm].
        ring: width of the ring that it keeps [mm].
        depth: depth of the bore from its mouth to the shoulder [mm].

    Returns:
        Two rules.
    """
    seat = np.asarray(seat, float)
    yield matching(
        "hardware.circlip", field, of.side == "bore" and bool(np.all(np.abs(seat - of.nominal) < 0.1)),
        f"circlip {of.designation} is for a {of.side} of {of.nominal:g} mm",
        "take the circlip for the bore's diameter",
    )  # fmt: skip
    yield at_least(
        "hardware.groove", field, depth, ring + of.groove_width + of.edge_margin,
        f"the wall between the groove of circlip {of.designation} and the mouth of the bore would shear off "
        "(three groove depths: common practice, no source)",
        "deepen the bore",
    )  # fmt: skip


def seated(of: BallBearing, clip: Circlip | None) -> dict[str, str]:
    """The surface of a bearing and of the circlip that keeps it, by name."""
    touching = {f"bearing {of.designation}": SURFACES["bearing"]}
    return (
        touching
        if clip is None
        else touching | {f"circlip {clip.designation}": SURFACES["circlip"]}
    )


def usual_surface(of: Bolt) -> str:
    """The surface of a bolt by its class, as for `SURFACES`; bare steel where nothing is known."""
    return surface_of(of.strength.name)


def surface_of(name: str) -> str:
    """The usual surface of what bears a class's name, as for `SURFACES`."""
    return next((surface for key, surface in SURFACES.items() if name.startswith(key)), "steel")


def galvanic_cautions(material: Material, hardware: Mapping[str, str]) -> tuple[str, ...]:
    """Cautions for hardware that touches a part, outdoors.

    Args:
        material: what the part is made of.
        hardware: the surface of each piece of hardware by its name: a metal or a plating, as in
            {"bolt AN6-14": "cadmium"}; a material gives its `galvanic_family`.

    Returns:
        One caution for each surface that should not go bare; none for a part of plastic.

    Raises:
        UnknownDesignation: the table of the anodic index holds a surface not.
    """
    if material.fit_up_only:
        return ()
    found = []
    named: dict[str, list[str]] = {}
    for name, surface in hardware.items():
        named.setdefault(surface, []).append(name)
    for surface, names in named.items():
        couple = pair(material.galvanic_family, surface)
        if couple.ok or {couple.first, couple.second} in ({"steel", each} for each in SACRIFICIAL):
            continue
        said = list(couple.warnings)
        if not couple.allowed[SURROUNDINGS]:
            said.append(
                f"{couple.difference:.2f} V apart, the {couple.anode} corrodes in rain and salt; part them "
                "with sealant, grease or an insulating bush, or take hardware nearer to the metal"
            )
        head = f"{', '.join(names)} ({couple.second}) on {material.name} ({couple.first})"
        found.append(f"{head}: {'; '.join(said)}.")
    return tuple(found)
