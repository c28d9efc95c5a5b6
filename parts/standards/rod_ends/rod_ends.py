"""Rod ends, spherical bearings and jam nuts, by the shop's names for them.

`rod_end("M10 male LH")` is ISO 12240-4 series K; `rod_end("3/8-24 male")` the common inch series;
`spherical("10 mm")` ISO 12240-1 series E; `jam_nut("3/8-24 LH")` ASME B18.2.2 or ISO 4035.
Lengths in mm, angles in rad, forces in N.

The mechanics are those of `parts.strength.pinned.rod_end`, imported where they are asked for, so that reading a
designation does not wait for numpy.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from functools import cache
from typing import Literal, NamedTuple

from parts.standards.bearings.sphericals import Spherical, spherical
from parts.standards.designation import (
    MM_PER_INCH,
    Row,
    UnknownDesignation,
    inches,
    nearest_names,
    nearest_sizes,
    read_table,
)
from parts.standards.fasteners.jam_nuts import JamNut, jam_nut
from parts.standards.threads.threads import Hand, Thread, thread

__all__ = [
    "BODY_YIELD",
    "RATING_NOTE",
    "JamNut",
    "RodEnd",
    "Spherical",
    "jam_nut",
    "rod_end",
    "rod_ends",
    "spherical",
]

Gender = Literal["male", "female"]

# Yield strengths [MPa] that stand for the two common bodies, so that a rating says what it assumes.
BODY_YIELD = {
    "low-carbon": 370.0,  # cold-drawn low-carbon steel (SAE J1397 estimate for 1018), from memory
    "alloy": 690.0,  # low-alloy steel heat treated to 125 ksi ultimate, 100 ksi yield, from memory
}

RATING_NOTE = (
    "Generic static radial load at first yield of race, head or shank, pulled straight along the "
    "shank; no bending, shock, fatigue or wear. The maker's rating of the actual part governs "
    "where it is lower."
)


@dataclass(frozen=True)
class RodEnd:
    """One rod end. All lengths in mm, angles in rad.

    Attributes:
        size: "10" or "3/8": the bore as the trade names it.
        series: "K" (ISO 12240-4) or "inch".
        bore, ball_width, ball_diameter: of the ball.
        head_width: width of the body over the race.
        head_diameter: outside diameter of the eye.
        thread: of the shank; its hand is the rod end's.
        length: from the eye's centre to the end of the shank.
        thread_length: full thread on a male shank, least depth of thread in a female one.
        swing: to one side, with a shoulder no larger than the ball's flat face and no ear in the
        way.
    """

    size: str
    series: str
    gender: Gender
    bore: float
    ball_width: float
    ball_diameter: float
    head_width: float
    head_diameter: float
    thread: Thread
    length: float
    thread_length: float
    source: str

    @property
    def hand(self) -> Hand:
        return self.thread.hand

    @property
    def designation(self) -> str:
        """The name that `rod_end` reads back."""
        return f"{_basic(self.thread)} {self.gender} {'LH' if self.hand == 'left' else 'RH'}"

    @property
    def face_diameter(self) -> float:
        """Diameter of the ball's flat faces [mm]: the largest shoulder that keeps the whole swing."""
        return math.sqrt(self.ball_diameter**2 - self.ball_width**2)

    @property
    def swing(self) -> float:
        """To one side [rad], with a shoulder as large as the ball's flat face and no ear in the way."""
        return self.swing_between(self.head_diameter)

    def swing_between(self, between_ears: float, shoulder: float | None = None) -> float:
        """Swing to one side [rad] in a clevis with flat, wide ears.

        Args:
            between_ears: gap of the clevis [mm], at least the ball's width.
            shoulder: diameter at the ball of what fills the gap [mm]; the ball's flat face where
            not given.

        Raises:
            ValueError: when the ball does not go between the ears.
        """
        if between_ears < self.ball_width:
            raise ValueError(
                f"rod end {self.designation}: the ears stand {between_ears:.2f} mm apart and "
                f"the ball is {self.ball_width:.2f} mm wide."
            )
        from parts.strength.pinned import rod_end as mechanics

        on_ball = mechanics.swing_at_shoulder(
            shoulder or self.face_diameter, self.head_width, self.ball_diameter
        )
        if between_ears >= self.head_diameter:
            return float(on_ball)
        ears = mechanics.swing_between_ears(between_ears, self.head_width, self.head_diameter)
        return float(min(on_ball, ears))

    def static_radial(self, body: str = "low-carbon") -> float:
        """Generic static radial load [N] at yield; see RATING_NOTE.

        The least of what race, head (rounded or flat, whichever is less) and threaded shank carry. A
        female shank is rated as a male one of its thread, which is the smaller section.

        Raises:
            UnknownDesignation: for a body that BODY_YIELD does not hold.
        """
        if body not in BODY_YIELD:
            raise UnknownDesignation(
                "rod end body", body, "the generic bodies are named", sorted(BODY_YIELD)
            )
        from parts.strength.pinned import rod_end as mechanics

        strength = BODY_YIELD[body]
        eye = (self.head_diameter, self.head_width, self.ball_diameter)
        head = min(mechanics.head_area_flat(*eye), mechanics.head_area_round(*eye))
        return float(
            min(
                mechanics.race_capacity(self.ball_diameter, self.head_width, strength),
                mechanics.head_capacity(head, strength),
                mechanics.shank_capacity(self.thread.minor_external, strength),
            )
        )

    def jam_nut(self) -> JamNut:
        """The jam nut that locks this rod end."""
        return jam_nut(self.thread.designation)


class _Body(NamedTuple):
    """A row of one of the rod end tables in mm and rad, both genders."""

    size: str
    series: str
    threads: tuple[str, ...]
    sizes: tuple[float, float, float, float, float]
    lengths: dict[Gender, tuple[float, float]]
    source: str


def _metric(row: Row) -> _Body:
    names = ("bore", "ball_width", "ball_diameter", "head_width", "head_diameter")
    bore, width, ball, head, eye = (float(row[f"{name}_mm"]) for name in names)
    return _Body(
        size=row["bore_mm"],
        series="K",
        threads=tuple(t for t in (row["thread"], row["other_thread"]) if t),
        sizes=(bore, width, ball, head, eye),
        lengths={
            "male": (float(row["male_length_mm"]), float(row["male_thread_mm"])),
            "female": (float(row["female_length_mm"]), float(row["female_thread_mm"])),
        },
        source=row["source"],
    )


def _inch(row: Row) -> _Body:
    names = ("bore", "ball_width", "ball_diameter", "head_width", "head_diameter")
    bore, width, ball, head, eye = (float(row[f"{name}_in"]) * MM_PER_INCH for name in names)
    lengths: dict[Gender, tuple[float, float]] = {}
    genders: tuple[Gender, Gender] = ("male", "female")
    for gender in genders:
        if row[f"{gender}_length_in"]:
            lengths[gender] = (
                float(row[f"{gender}_length_in"]) * MM_PER_INCH,
                float(row[f"{gender}_thread_in"]) * MM_PER_INCH,
            )
    return _Body(
        row["size"],
        "inch",
        (row["thread"],),
        (bore, width, ball, head, eye),
        lengths,
        row["source"],
    )


@cache
def _bodies() -> tuple[_Body, ...]:
    return tuple(map(_metric, read_table("rod_ends_metric"))) + tuple(
        map(_inch, read_table("rod_ends_inch"))
    )


def _basic(shank: Thread) -> str:
    """A shank's thread as rod ends are ordered: 3/8-24, M10x1.5."""
    if shank.tpi is None:
        return f"M{shank.major:g}x{shank.pitch:g}"
    return f"{shank.size}-{shank.tpi}"


@cache
def _shanks() -> dict[str, _Body]:
    """Rod end bodies by the thread of their shank; the first thread of a body is the usual one."""
    return {name: body for body in _bodies() for name in body.threads}


def rod_ends() -> tuple[str, ...]:
    """Every rod end by designation, right hand."""
    return tuple(
        f"{name} {gender} RH" for name, body in _shanks().items() for gender in body.lengths
    )


_GENDERS: dict[str, Gender] = {
    "male": "male", "external": "male", "female": "female", "internal": "female",
}  # fmt: skip
_HANDS = {"rh": "RH", "right": "RH", "lh": "LH", "left": "LH"}
_NOISE = {"rod", "end", "rod-end", "hand", "thread", "bore", "x"}


def _words(designation: str) -> tuple[list[str], list[Gender], list[str]]:
    """The words that size, gender and hand are said with."""
    size: list[str] = []
    genders: list[Gender] = []
    hands: list[str] = []
    for word in re.split(r"[\s,]+", designation.strip()):
        key = word.lower().strip(".")
        if key in _GENDERS:
            genders.append(_GENDERS[key])
        elif hand := _HANDS.get(key.replace(".", "").removesuffix("-hand")):
            hands.append(hand)
        elif key not in _NOISE:
            size.append(word)
    return size, genders, hands


def rod_end(designation: str) -> RodEnd:
    """The rod end that a designation names: a shank thread or a bore, "male" or "female", a hand.

    "M10 male LH", "M10x1.25 female", "10 mm male", "3/8-24 male", "3/8 male RH". A hand that is not
    said is right. A bore alone takes the usual thread of its size.

    Raises:
        UnknownDesignation: when no rod end, or more than one, is named; `nearest` holds the
        choices.
    """
    size, genders, hands = _words(designation)
    if len(set(hands)) > 1 or len(set(genders)) > 1:
        choices = [
            f"{' '.join(size)} {gender} {hand}"
            for gender in sorted(set(genders)) or ["male"]
            for hand in sorted(set(hands)) or ["RH"]
        ]
        raise UnknownDesignation(
            "rod end", designation, "it names two hands or two genders", choices
        )
    hand = hands[0] if hands else "RH"
    shank, body = _find(designation, " ".join(size), genders[0] if genders else "male", hand)
    if not genders:
        raise UnknownDesignation(
            "rod end",
            designation,
            "it does not say whether the shank is male or female",
            [f"{shank} {gender} {hand}" for gender in body.lengths],
        )
    gender = genders[0]
    if gender not in body.lengths:
        other = [
            name for name, known in _shanks().items()
            if gender in known.lengths and known.series == body.series
        ]  # fmt: skip
        raise UnknownDesignation(
            "rod end",
            designation,
            f"no {gender} rod end of that size stands in the table",
            [f"{shank} male {hand}", *(f"{name} {gender} {hand}" for name in other[-2:])],
        )
    bore, width, ball, head, eye = body.sizes
    length, thread_length = body.lengths[gender]
    return RodEnd(
        size=body.size,
        series=body.series,
        gender=gender,
        bore=bore,
        ball_width=width,
        ball_diameter=ball,
        head_width=head,
        head_diameter=eye,
        thread=thread(f"{shank} {hand}"),
        length=length,
        thread_length=thread_length,
        source=body.source,
    )


def _find(designation: str, size: str, gender: Gender, hand: str) -> tuple[str, _Body]:
    """The shank thread and the body that `size` names, by thread first, then by bore."""
    metric = re.fullmatch(r"(?:m\s*)?(\d+(?:\.\d+)?)(?:\s*mm)?", size, re.I)
    if metric and (size.lower().startswith("m") or size.lower().endswith("mm")):
        column = "thread" if size.lower().startswith("m") else "bore"
        for name, body in _shanks().items():
            said = name.partition("x")[0][1:] if column == "thread" else body.size
            if body.series == "K" and said == f"{float(metric[1]):g}":
                return name, body
        return _none_near(designation, float(metric[1]), "K", gender, hand)
    try:
        shank = _basic(thread(size))
    except UnknownDesignation:
        shank = ""
    if shank in _shanks():
        return shank, _shanks()[shank]
    try:
        wanted = float(inches(size))
    except UnknownDesignation:
        names = [f"{name} {gender} {hand}" for name in _shanks()]
        near = nearest_names(designation, names) or ("3/8-24 male RH", "M10x1.5 male RH")
        raise UnknownDesignation(
            "rod end", designation, "it names no shank thread and no bore that is made", near
        ) from None
    for body in _bodies():
        if body.series == "inch" and abs(float(inches(body.size)) - wanted) < 1e-4:
            return body.threads[0], body
    return _none_near(designation, wanted * MM_PER_INCH, "inch", gender, hand)


def _none_near(
    designation: str, bore: float, series: str, gender: Gender, hand: str
) -> tuple[str, _Body]:
    """Refuse a size [mm] that the series does not have, with those around it."""
    sizes = {
        f"{b.threads[0]} {gender} {hand}": b.sizes[0]
        for b in _bodies()
        if b.series == series and gender in b.lengths
    }
    raise UnknownDesignation(
        "rod end", designation, "that size is not made", nearest_sizes(bore, sizes)
    )
