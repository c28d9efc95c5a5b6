"""Bolts by the shop's names for them, and what goes with them. Lengths in mm, stresses in MPa.

`bolt("M8x30 8.8")`, `bolt("3/8-24 x 1-1/2 grade 8")`, `bolt("AN6-14")`, `bolt("NAS6606-14")`;
`nut`, `washer`, `jam_nut`, `circlip`, `clevis_pin`, `spring_pin`, `wrench_flat`.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from fractions import Fraction

from parts.standards.designation import (
    MM_PER_INCH,
    Row,
    UnknownDesignation,
    inches,
    nearest_sizes,
)
from parts.standards.fasteners.aircraft import aircraft_bolt
from parts.standards.fasteners.bolt_form import Bolt, BoltClass, bolt_class, class_names, read_heads
from parts.standards.fasteners.circlips import Circlip, circlip, circlips
from parts.standards.fasteners.jam_nuts import JamNut, jam_nut
from parts.standards.fasteners.nuts import Nut, Washer, nut, washer
from parts.standards.fasteners.pins import (
    ClevisPin,
    DowelPin,
    SpringPin,
    clevis_pin,
    dowel_pin,
    spring_pin,
)
from parts.standards.threads.threads import Thread, thread

__all__ = [
    "Bolt",
    "BoltClass",
    "Circlip",
    "ClevisPin",
    "DowelPin",
    "JamNut",
    "NoLength",
    "Nut",
    "SpringPin",
    "Washer",
    "bolt",
    "bolt_class",
    "circlip",
    "circlips",
    "class_names",
    "clevis_pin",
    "dowel_pin",
    "jam_nut",
    "nut",
    "spring_pin",
    "washer",
    "wrench_flat",
]

HEADS = ("hex", "socket", "countersunk")

# Preferred nominal lengths [mm], ISO 888.
METRIC_LENGTHS = (
    6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100, 110, 120, 130, 140,
    150, 160, 180, 200,
)  # fmt: skip

_HEAD_WORDS = {
    "hex": "hex", "hexagon": "hex",
    "socket": "socket", "shcs": "socket",
    "countersunk": "countersunk", "csk": "countersunk",
}  # fmt: skip
_METRIC = re.compile(
    r"(M\d+(?:\.\d+)?)(?:\s*x\s*(\d*\.?\d+))?\s*x\s*(\d+)(?:\s*mm)?(?:[\s\-]+(.*))?", re.I
)
_INCH = re.compile(
    r"(.+?-\d+)(?:\s*UN[A-Z]*)?\s*x\s*(\d+(?:-\d+/\d+)?|\d+/\d+|\d*\.\d+)"
    r"(?:\s*(?:in(?:ch)?\b|\"))?(?:[\s\-]+(.*))?",
    re.I,
)
_NO_LENGTH = re.compile(
    r"(?P<metric>M\d+(?:\.\d+)?(?:\s*x\s*\d*\.?\d+)?)\s+(?P<tail>.+)|(?P<inch>.+?-\d+)(?:\s*UN[A-Z]*)?\s+(?P<end>.+)",
    re.I,
)
_EXAMPLES = ("M8x30 8.8", "3/8-24 x 1-1/2 grade 8", "AN6-14")


class NoLength(UnknownDesignation):
    """A bolt by its thread and strength alone; `nearest` holds it with a few lengths."""


def bolt(designation: str) -> Bolt:
    """The bolt of a designation.

    Metric: thread x length and property class, "M8x30 8.8", "M10x1.25x40 10.9 socket"; inch: thread x
    length and grade, "3/8-24 x 1-1/2 grade 8", "1/4-28 x 1 socket" (an inch socket screw is A574).
    The head is a hexagon where none is said. Aircraft: "AN6-14A", "NAS6606-14".

    Raises:
        NoLength: it says thread and strength alone.
        UnknownDesignation: when it is unknown or incomplete; `nearest` holds what would be right.
    """
    text = designation.strip().replace("\u00d7", "x")
    if aircraft := aircraft_bolt(text):
        return aircraft
    if found := _METRIC.fullmatch(text):
        of = thread(f"{found[1]}x{found[2]}" if found[2] else found[1])
        said = f"{found[1].upper()}x{found[2]}x" if found[2] else f"{found[1].upper()}x"
        length = _metric_length(designation, said, int(found[3]), found[4] or "")
        return _made(designation, of, f"{said}{length}", float(length), found[4] or "")
    if found := _INCH.fullmatch(text):
        of = thread(found[1])
        name = f"{of.size}-{of.tpi} x "
        long = _inch_length(designation, name, inches(found[2]), found[3] or "")
        said = name + _fraction(long)
        return _made(designation, of, said, float(long) * MM_PER_INCH, found[3] or "")
    if sizes := _with_lengths(text):
        raise NoLength("bolt", designation, "it does not say its length", sizes)
    raise UnknownDesignation(
        "bolt", designation, "it is no thread x length and no part number", _EXAMPLES
    )


def _with_lengths(text: str) -> tuple[str, ...]:
    """A few lengths of a bolt that says thread and strength alone, those near three diameters; else none."""
    found = _NO_LENGTH.fullmatch(text)
    if not found:
        return ()
    said, tail = found["metric"] or found["inch"], found["tail"] or found["end"]
    try:
        of = thread(said)
        lengths = (
            {_fraction(Fraction(n, 8)): n / 8 * MM_PER_INCH for n in range(2, 25)}
            if of.is_inch
            else {str(known): float(known) for known in METRIC_LENGTHS}
        )
        cross = " x " if of.is_inch else "x"
        return tuple(
            bolt(f"{said}{cross}{length} {tail}").designation
            for length in nearest_sizes(3.0 * of.major, lengths)
        )
    except UnknownDesignation:
        return ()


def _fraction(size: Fraction) -> str:
    """An inch size as the shop writes it: 3/8, 1, 1-1/2."""
    whole, rest = divmod(size, 1)
    if not rest:
        return str(whole)
    return f"{whole}-{rest}" if whole else str(rest)


def _metric_length(designation: str, said: str, length: int, tail: str) -> int:
    if length in METRIC_LENGTHS:
        return length
    sizes = {f"{said}{known} {tail}".strip(): float(known) for known in METRIC_LENGTHS}
    raise UnknownDesignation(
        "bolt", designation, f"{length} mm is no preferred length", nearest_sizes(length, sizes)
    )


def _inch_length(designation: str, name: str, length: Fraction, tail: str) -> Fraction:
    """Inch bolts go by eighths to 3 in and by quarters to 8 in: common practice, no source."""
    eighths = [Fraction(n, 8) for n in range(2, 25)] + [Fraction(n, 4) for n in range(13, 33)]
    if length in eighths:
        return length
    sizes = {f"{name}{_fraction(known)} {tail}".strip(): float(known) for known in eighths}
    raise UnknownDesignation(
        "bolt",
        designation,
        f"{float(length):g} in is no usual length",
        nearest_sizes(float(length), sizes),
    )


def _split(tail: str) -> tuple[str, str]:
    """Head and class from the words behind the length; "" where one is not said."""
    words = tail.lower().replace("class ", "").split()
    heads = [_HEAD_WORDS[word] for word in words if word in _HEAD_WORDS]
    rest = " ".join(w for w in words if w not in _HEAD_WORDS and w not in ("head", "bolt", "screw"))
    grade = re.fullmatch(r"(?:grade|gr\.?|g)\s*(\d)", rest)
    name = f"grade {grade[1]}" if grade else rest.upper()
    return heads[0] if heads else "", name


def _made(designation: str, of: Thread, said: str, length: float, tail: str) -> Bolt:
    """The bolt of a thread, a length [mm] and the words behind."""
    head, class_name = _split(tail)
    head = head or "hex"
    if not class_name:
        if of.is_inch and head == "socket":
            class_name = "A574"
        else:
            raise UnknownDesignation(
                "bolt", designation, "it does not say its strength", _choices(of, said, head)
            )
    row = _head_row(designation, head, of, lambda: _other_heads(of, said, class_name))
    try:
        strength = bolt_class(class_name, of)
    except UnknownDesignation as unknown:
        raise UnknownDesignation(
            "bolt", designation, unknown.reason, _choices(of, said, head)
        ) from None
    scale = MM_PER_INCH if row["unit"] == "in" else 1.0
    return Bolt(
        designation=f"{said} {class_name}" + ("" if head == "hex" else f" {head}"),
        head=head,
        thread=of,
        length=length,
        grip=_grip(of, head, length, row),
        shank=of.major,
        shank_min=None,
        wrench=float(row["wrench"]) * scale,
        head_diameter=float(row["head_diameter"]) * scale if row["head_diameter"] else None,
        head_height=float(row["head_height"]) * scale,
        strength=strength,
        source=row["source"],
    )


def _choices(of: Thread, said: str, head: str) -> list[str]:
    names = ("grade 5", "grade 8", "A574") if of.is_inch else ("8.8", "10.9", "12.9")
    return [f"{said} {name}" + ("" if head == "hex" else f" {head}") for name in names]


def _head_row(
    designation: str, head: str, of: Thread, choices: Callable[[], Iterable[str]] = tuple
) -> Row:
    """The row of a head on a thread, or the refusal with `choices` or else the sizes it comes in."""
    row = read_heads().get((head, of.size))
    if row is None:
        sizes = {
            size: float(size[1:]) if size[0] == "M" else _inch_size(size)
            for known, size in read_heads()
            if known == head and (size[0] == "M") != of.is_inch
        }
        raise UnknownDesignation(
            "bolt",
            designation,
            f"no {head} head is tabulated for {of.size}",
            tuple(choices()) or nearest_sizes(of.major, sizes),
        )
    return row


def _other_heads(of: Thread, said: str, class_name: str) -> list[str]:
    """The same bolt with the heads that are tabulated for its thread, else the nearest sizes."""
    heads = [known for known, size in read_heads() if size == of.size]
    if heads:
        return [choice for head in heads for choice in _choices(of, said, head)[-1:]]
    if of.is_inch:
        return []
    sizes = {
        size: float(size[1:]) for known, size in read_heads() if known == "hex" and size[0] == "M"
    }
    length = said.rpartition("x")[2]
    return [f"{size}x{length} {class_name}" for size in nearest_sizes(of.major, sizes)]


def _inch_size(size: str) -> float:
    return float(inches("#10" if size == "10" else size)) * MM_PER_INCH


def _grip(of: Thread, head: str, length: float, row: Row) -> float:
    """Nominal plain shank [mm]: length less the standard thread length, or 0 when all thread."""
    if not of.is_inch:
        extra = 6.0 if head == "hex" and length <= 125.0 else 12.0
        return length - 2.0 * of.major - extra if length >= float(row["partial_from_mm"]) else 0.0
    # ASME B18.2.1: 2 D + 1/4 in to 6 in, 2 D + 1/2 in above; B18.3: 2 D + 1/2 in.
    extra = 0.25 if head == "hex" and length <= 6.0 * MM_PER_INCH else 0.5
    grip = length - 2.0 * of.major - extra * MM_PER_INCH
    # Where no more than the run-out of 2.5 threads would stay plain, the thread goes to the head.
    return grip if grip > 2.5 * of.pitch else 0.0


def wrench_flat(designation: str, head: str = "hex") -> float:
    """Wrench size [mm] across flats for a thread: "hex", "socket", "countersunk", "nut" or "jam".

    Raises:
        UnknownDesignation: when the thread is unknown or its table has no such size.
    """
    if head == "nut":
        return nut(designation).across_flats
    if head == "jam":
        return jam_nut(designation).across_flats
    if head not in HEADS:
        raise UnknownDesignation("bolt head", head, "the heads are named", (*HEADS, "nut", "jam"))
    row = _head_row(designation, head, thread(designation))
    return float(row["wrench"]) * (MM_PER_INCH if row["unit"] == "in" else 1.0)
