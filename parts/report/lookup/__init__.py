"""Look-ups on the bench: any designation of the tables, with or without the word for its kind.

`look_up(["3/8-24", "UNF", "LH"])` is the thread, since it can be nothing else; `look_up(["drill", "10", "mm"])`
needs its kind, since 10 mm is also a circlip, a bush and a spherical bearing.
"""

from __future__ import annotations

import difflib
import json
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from importlib import import_module

from parts.report.lookup.answer import Answer, Undecided, as_json, as_text
from parts.standards.designation import UnknownDesignation, plain_name

__all__ = ["KINDS", "Answer", "Kind", "as_json", "as_text", "kinds_json", "kinds_text", "look_up"]

LONGEST = 80
"""No designation comes near this many characters; a longer text is none."""
LIKE_A_KIND = 0.75
"""How alike a word must be to the name of a kind to be taken for a slip of the pen."""

# A size by itself names nothing: it may be a bore, a thread, a tube or a drill. 1.7734 is the number of a steel.
_BARE_SIZE = re.compile(
    r"(?!1\.\d{4}$)(?:[\d./\s-]*\d\.?\s*(?:mm|in(?:ch)?\.?|\"|''|″|”)|\d{1,2}|[\d\s-]*[./][\d/]+)",
    re.I,
)


@dataclass(frozen=True)
class Kind:
    """One kind of look-up.

    Attributes:
        name: what it is called.
        example: a designation that it reads.
        reader: "file.function" of this package; imported when it is asked, since each costs time.
        others: other words for the kind, in front of a designation and no part of it.
        leading: words in front that say the kind and are part of the designation.
        alone: the reader of a designation in front of which no kind is said; empty where it must be said.
    """

    name: str
    example: str
    reader: str
    others: tuple[str, ...] = ()
    leading: tuple[str, ...] = ()
    alone: str = ""

    def read(self, text: str) -> Answer:
        """The answer to a designation of this kind.

        Raises:
            UnknownDesignation: no table holds it.
        """
        return _reader(self.reader)(text)

    def read_alone(self, text: str) -> Answer:
        """The answer to a designation that must say by itself what it is.

        Raises:
            UnknownDesignation: it is none of this kind.
        """
        return _reader(self.alone)(text)


def _reader(name: str) -> Callable[[str], Answer]:
    file, _, function = name.partition(".")
    read: Callable[[str], Answer] = getattr(import_module(f"{__name__}.{file}"), function)
    return read


def _always(name: str, example: str, reader: str, *others: str) -> Kind:
    """A kind that reads the same with and without its word in front."""
    return Kind(name, example, reader, others, alone=reader)


KINDS: tuple[Kind, ...] = (
    _always("thread", "3/8-24 UNF LH", "holes.of_thread", "threads", "tap", "tap drill", "screw thread"),
    _always("fit", "15 H7/p6", "holes.of_fit", "fits"),
    _always("tolerance", "15 H7", "holes.of_tolerance", "limits"),
    _always("drill", "9.8 mm", "holes.of_drill", "drills", "drill size", "twist drill"),
    _always("bearing", "6202-2RS", "rolling.of_bearing", "bearings", "ball bearing"),
    _always("needle thrust bearing", "AXK 1528", "rolling.of_thrust", "thrust", "thrust bearing",
            "needle thrust"),
    _always("flanged bush", "12 x 15", "rolling.of_bush", "bush", "bushing"),
    _always("rod end", "3/8-24 male LH", "jointed.of_rod_end", "rod ends"),
    _always("spherical bearing", "10 mm", "jointed.of_spherical", "spherical"),
    _always("bolt", "AN6-14", "hardware.of_bolt", "bolts", "screw", "hex bolt"),
    Kind("torque", "M8 8.8", "tightening.of_torque", ("tightening torque", "preload")),
    Kind("clearance hole", "3/8 close", "holes.of_clearance", ("clearance", "clearance drill")),
    Kind("nut", "M8 nylon insert", "hardware.of_nut", ("nuts", "hex nut")),
    Kind("jam nut", "3/8-24 LH", "hardware.of_jam_nut", ("jam", "thin nut")),
    Kind("rivet nut", "M6", "hardware.of_rivet_nut", ("rivet nuts", "blind rivet nut")),
    Kind("washer", "M8", "hardware.of_washer", ("washers", "flat washer")),
    _always("circlip", "bore 35", "hardware.of_circlip", "circlips", "retaining ring"),
    _always("clevis pin", "8 x 40", "hardware.of_clevis_pin"),
    _always("dowel pin", "5 x 32", "hardware.of_dowel_pin", "parallel pin"),
    _always("spring pin", "4 x 24", "hardware.of_spring_pin", "roll pin"),
    _always("spline", "48 teeth 1 in", "metals.of_spline", "splines"),
    Kind("stock", "1-1/4 x 0.065 in", "metals.of_stock", ("stock size",),
         ("tube", "bar", "plate", "sheet", "round", "flat", "hex", "square", "rod"), "metals.of_stock"),
    _always("material", "6061-T6 plate", "metals.of_material", "materials", "metal"),
    Kind("galvanic", "titanium / cadmium plate", "metals.of_galvanic", ("galvanic pair", "corrosion"),
         alone="metals.of_galvanic_pair"),
)  # fmt: skip


def kinds_text() -> str:
    """Every kind with an example, one a line."""
    return "".join(f"{kind.name:<22}  {kind.example}\n" for kind in KINDS)


def kinds_json() -> str:
    """The same as one JSON document."""
    kinds = [{"kind": kind.name, "example": kind.example} for kind in KINDS]
    return json.dumps({"kinds": kinds}, indent=2) + "\n"


def look_up(words: Sequence[str]) -> Answer:
    """The answer to a designation, with the word for its kind in front or without it.

    Args:
        words: kind and designation, in one string or in several.

    Returns:
        The answer.

    Raises:
        UnknownDesignation: no table holds it, or it may be several things; `nearest` holds what would
            be right.
    """
    parts = " ".join(words).split()
    text = " ".join(parts)
    if len(text) > LONGEST or not text.isprintable():
        shown = text[:LONGEST] + "..." if len(text) > LONGEST else text
        raise UnknownDesignation(
            "designation", shown, "it is too long, or no plain text, to be one"
        )
    found = _said(parts)
    if found is None:
        return _inferred(parts)
    kind, rest = found
    if not rest:
        raise UnknownDesignation(
            kind.name, "", "a designation must follow", [f"{kind.name} {kind.example}"]
        )
    return kind.read(rest)


def _said(parts: Sequence[str]) -> tuple[Kind, str] | None:
    """The kind that the first words say, the longest name first, and the designation behind it."""
    for count in (3, 2, 1):
        head = plain_name(" ".join(parts[:count]))
        for kind in KINDS if len(parts) >= count else ():
            # One word may be written as two, "rodend", but two never make one: "drill S" is no "drills".
            names = (name for name in (kind.name, *kind.others) if count in (1, len(name.split())))
            if head in map(plain_name, names):
                return kind, " ".join(parts[count:])
            if head in kind.leading and parts[count:]:
                return kind, " ".join(parts)
    return None


def _inferred(parts: Sequence[str]) -> Answer:
    """The one reading of a designation whose kind is not said."""
    text = " ".join(parts)
    read: list[Answer] = []
    readings: list[str] = []
    refused: list[tuple[Kind, UnknownDesignation]] = []
    lacking: list[Undecided] = []
    for kind in KINDS:
        if not kind.alone:
            continue
        try:
            read.append(kind.read_alone(text))
            readings.append(f"{kind.name} {text}")
        except Undecided as undecided:
            lacking.append(undecided)
            readings += (f"{kind.name} {near}" for near in undecided.nearest)
        except UnknownDesignation as unknown:
            refused.append((kind, unknown))
    bare = _BARE_SIZE.fullmatch(text)
    if len(read) == len(readings) == 1 and not bare:
        return read[0]
    if len(lacking) == 1 and not read and not bare:
        raise lacking[0]  # one kind alone knows it, and says what it lacks
    if readings:
        so = "a size alone does not say what it is" if bare else "it has several meanings"
        raise UnknownDesignation("designation", text, f"{so}; put the kind in front", readings)
    raise _misspelt_kind(parts) or _likest(text, refused)


def _misspelt_kind(parts: Sequence[str]) -> UnknownDesignation | None:
    """The refusal of a word that is nearly the name of a kind, where what follows it can be read."""
    names = {plain_name(name): kind for kind in KINDS for name in (kind.name, *kind.others)}
    for count in (2, 1):
        if len(parts) <= count:
            continue
        near = difflib.get_close_matches(
            plain_name(" ".join(parts[:count])), names, n=1, cutoff=LIKE_A_KIND
        )
        if not near:
            continue
        kind, rest = names[near[0]], " ".join(parts[count:])
        try:
            kind.read(rest)
        except UnknownDesignation:
            continue
        said = " ".join(parts[:count])
        return UnknownDesignation("kind", said, "there is no such kind", [f"{kind.name} {rest}"])
    return None


def _likest(text: str, refused: Iterable[tuple[Kind, UnknownDesignation]]) -> UnknownDesignation:
    """The refusal whose nearest designation or example is most like the text, of those of all kinds.

    A designation that goes on where the text ends is the likest: the text then lacks no more than its end.
    """
    wanted = plain_name(text)
    best, likeness = None, 0.5
    for kind, unknown in refused:
        for near in (*unknown.nearest, kind.example):
            name = plain_name(near)
            like = difflib.SequenceMatcher(None, wanted, name).ratio()
            like = 1.0 if name.startswith(wanted) else like
            if like > likeness:
                best, likeness = unknown, like
    if best is not None:
        return best
    return UnknownDesignation(
        "designation",
        text,
        f"no table holds it; with its kind in front it would be as in {KINDS[0].name} "
        f"{KINDS[0].example}; the kinds are {', '.join(kind.name for kind in KINDS)}",
    )
