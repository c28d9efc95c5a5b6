"""What the tables say of bolts, nuts, washers, circlips and pins."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from fractions import Fraction
from typing import TypeAlias, TypeVar, get_args

from parts.report.lookup.answer import Answer, Entry, Grid, Group, Plain, Undecided
from parts.standards.designation import UnknownDesignation
from parts.standards.fasteners.bolt_form import Bolt, BoltClass
from parts.standards.fasteners.circlips import GROOVE_WIDTH_CLASS, Side
from parts.standards.fasteners.fasteners import (
    Circlip,
    NoLength,
    bolt,
    circlip,
    clevis_pin,
    dowel_pin,
    jam_nut,
    nut,
    spring_pin,
    washer,
)
from parts.standards.fasteners.nuts import NUT_FORMS, WASHER_FORMS
from parts.standards.fasteners.rivet_nuts import rivet_nut
from parts.standards.fits.iso286 import class_limits
from parts.standards.threads.threads import thread, threads

Found = TypeVar("Found")
Sourced: TypeAlias = tuple[tuple[Plain, ...], str]
"""A row and where it comes from."""

_FORM = re.compile(
    r"\s*\b(?P<form>nylon[\s-]insert|self[\s-]locking|jam|thin|slotted|castle|hex|plain|flat|aircraft|AN\s*960)\b\s*",
    re.I,
)
_CIRCLIP_SIDE = re.compile(r"\s*\b(?:for\s+)?(?:an?\s+)?(?P<side>bore|shaft)\b\s*", re.I)


_PART_NUMBER = re.compile(r"(?:AN\s*\d+|NAS\s*6[36]\d\d)(?P<dash>\s*-?\s*\d+)?", re.I)


def any_length(text: str) -> Bolt:
    """A bolt, or one of its length that is usual where the designation says none, as the file of a part does.

    Raises:
        UnknownDesignation: it is no bolt.
    """
    try:
        return bolt(text)
    except NoLength as short:
        return bolt(short.nearest[0])
    except UnknownDesignation:
        if not _without_a_length(text):
            raise
        for dash in (14, 20, 10, 7, 5):  # AN counts inches and eighths, NAS the grip in sixteenths
            try:
                return bolt(f"{text.strip()}-{dash}")
            except UnknownDesignation as unknown:
                refused = unknown
        raise refused from None


def _without_a_length(text: str) -> bool:
    found = _PART_NUMBER.fullmatch(text.strip())
    return found is not None and found["dash"] is None


def of_bolt(text: str) -> Answer:
    """A bolt: sizes, strengths, and the nuts and washers that go with it; all but its length where it says none."""
    said = True
    try:
        of = bolt(text)
    except UnknownDesignation as unknown:
        if not (isinstance(unknown, NoLength) or _without_a_length(text)):
            raise
        of, said = any_length(text), False
    designation = of.designation if said else " ".join(text.split())
    kind = of.strength
    sizes = (
        Entry("head", of.head),
        Entry("thread", of.thread.designation),
        *(
            _lengths(of)
            if said
            else (Entry("length", "as the file of a part takes it: the stack gives it"),)
        ),
        Entry("shank, largest", of.shank, "mm"),
        Entry("shank, least", of.shank_min, "mm"),
        Entry("across flats", of.wrench, "mm"),
        Entry("head diameter", of.head_diameter, "mm"),
        Entry("head height", of.head_height, "mm"),
    )
    strengths: tuple[tuple[str, float | None, str], ...] = (
        ("ultimate strength", kind.ultimate, "MPa"),
        ("proof stress", kind.proof, "MPa"),
        ("yield strength", kind.yield_strength, "MPa"),
        ("ultimate in shear", kind.shear, "MPa"),
        ("tensile stress area", of.thread.stress_area, "mm2"),
        ("proof load", of.proof_load, "N"),
        ("breaking load in tension", of.tensile_load, "N"),
    )
    given = (Entry("class", kind.name), *(Entry(*each) for each in strengths))
    groups: tuple[Group | Grid, ...] = (
        Group("sizes", sizes, of.source),
        Group("least strength", given, kind.source),
        *_companions(of),
    )
    return Answer("bolt", designation, groups)


def _lengths(of: Bolt) -> tuple[Entry, ...]:
    return (
        Entry("length", of.length, "mm"),
        Entry("grip", of.grip, "mm", "plain shank under the head, nominal"),
        Entry("thread length", of.thread_length, "mm"),
    )


def _companions(of: Bolt) -> Iterator[Grid]:
    """Nuts and washers of the bolt's thread, as far as they are tabulated."""
    name = of.thread.designation
    nuts: list[Sourced] = []
    washers: list[Sourced] = []
    for form in NUT_FORMS:
        try:
            found = nut(name, form)
        except UnknownDesignation:
            continue
        nuts.append(((form, found.across_flats, found.height), found.source))
    for form in WASHER_FORMS:
        try:
            flat = washer(name, form)
        except UnknownDesignation:
            continue
        washers.append(((form, flat.inside, flat.outside, flat.thickness), flat.source))
    yield from _joined("nuts", (("form", ""), ("across flats", "mm"), ("height", "mm")), nuts)
    columns = (("form", ""), ("inside", "mm"), ("outside", "mm"), ("thickness", "mm"))
    yield from _joined("washers", columns, washers)


def _joined(name: str, columns: tuple[tuple[str, str], ...], rows: list[Sourced]) -> Iterator[Grid]:
    if rows:
        source = "; ".join(dict.fromkeys(source for _, source in rows))
        yield Grid(name, columns, tuple(row for row, _ in rows), source)


def of_size(find: Callable[[str], Found], text: str) -> Found:
    """Look up by a thread, or by its size alone: nuts and washers are the same for all its pitches."""
    try:
        return find(text)
    except UnknownDesignation:
        size = text.strip().removeprefix("#").removesuffix('"').removesuffix("in").strip()
        of_size = [each.basic for each in threads() if each.size == size]
        if not of_size:
            raise
        return find(of_size[0])


def _with_form(text: str, usual: str) -> tuple[str, str]:
    """The designation without the word for its form, and that word."""
    found = _FORM.search(text)
    if not found:
        return text.strip(), usual
    form = re.sub(r"[\s-]+", " ", found["form"].casefold())
    form = "AN960" if form.replace(" ", "") == "an960" else form
    rest = f"{text[: found.start()]} {text[found.end() :]}".strip(" -")
    return rest, form


def of_nut(text: str) -> Answer:
    """A nut of a thread or its size, in one of its forms."""
    rest, form = _with_form(text, "hex")
    of = of_size(lambda name: nut(name, form), rest)
    sizes = (
        Entry("across flats", of.across_flats, "mm"),
        Entry("height, greatest", of.height, "mm"),
    )
    name = f"{of.thread.designation if rest != of.thread.size else rest} {of.form}"
    return Answer("nut", name, (Group("sizes", sizes, of.source),))


def of_jam_nut(text: str) -> Answer:
    """A jam nut of a thread or its size."""
    of = of_size(jam_nut, text)
    sizes = (
        Entry("across flats", of.across_flats, "mm"),
        Entry("height, greatest", of.height, "mm"),
    )
    name = of.thread.designation if text.strip() != of.thread.size else of.thread.size
    return Answer("jam nut", name, (Group("sizes", sizes, of.source),))


def of_rivet_nut(text: str) -> Answer:
    """A blind rivet nut of a thread or its size: its hole, the sheet that it grips, its thread."""
    of = of_size(lambda name: rivet_nut(thread(name)), text)
    low, high = of.sheet
    sizes = (
        Entry("hole to drill", of.hole, "mm", "deburred, a fit for the body"),
        Entry("sheet that it grips", (low, high), "mm"),
        Entry("head, thickness", of.head, "mm"),
        Entry("full thread", of.thread_length, "mm"),
        Entry("bore behind the thread", of.bore, "mm", "where it folds"),
    )
    return Answer("rivet nut", of.thread.size, (Group("sizes", sizes, of.source),))


def of_washer(text: str) -> Answer:
    """A washer of a thread or its size, in one of its forms."""
    rest, form = _with_form(_WASHER_STANDARD.sub("", text), "flat")
    if form == "aircraft" or form == "AN960":
        rest = _size_of_dash(rest)
    of = of_size(lambda name: washer(name, form), rest)
    sizes = (
        Entry("inside diameter", of.inside, "mm"),
        Entry("outside diameter", of.outside, "mm"),
        Entry("thickness", of.thickness, "mm"),
    )
    return Answer("washer", f"{of.size} {of.form}", (Group("sizes", sizes, of.source),))


_WASHER_STANDARD = re.compile(r"\bISO\s*7089\b|\bASME\s*B18\.21\.1\b|\btype\s*A\b|\bnarrow\b", re.I)


def _size_of_dash(text: str) -> str:
    """The size of an AN960 dash number: 616 is 6/16 in, 10 is No. 10."""
    dash = text.strip(" -")
    if not (dash.isdecimal() and len(dash) > 2 and dash.endswith("16")):
        return text
    return str(Fraction(int(dash[:-2]), 16))


def of_circlip(text: str) -> Answer:
    """A circlip and its groove; a bare diameter must leave no doubt whether bore or shaft."""
    found = _CIRCLIP_SIDE.search(text)
    rest = _CIRCLIP_SIDE.sub(" ", text).strip()
    if found:
        side: Side = "bore" if found["side"].casefold() == "bore" else "shaft"
        of = circlip(rest, side)
    elif re.match(r"din", rest, re.I):
        of = circlip(rest)
    else:
        of = _only_side(rest)
    sizes = (
        Entry("for", f"{of.side} of {of.nominal:g} mm"),
        Entry("ring thickness", of.thickness, "mm"),
        Entry("groove diameter", of.groove, "mm", f"tolerance {of.groove_tolerance}"),
        Entry("groove width, least", of.groove_width, "mm", f"tolerance {GROOVE_WIDTH_CLASS}"),
        Entry("groove depth", of.groove_depth, "mm"),
        Entry("groove to the end, least", of.edge_margin, "mm", "three groove depths"),
    )
    groove, wide = of.groove_limits()
    limits = (
        Entry("groove diameter", groove.sizes, "mm"),
        Entry("groove width", wide.sizes, "mm"),
    )
    groups = (
        Group("ring and groove", sizes, of.source),
        Group("limits of the groove", limits, groove.source),
    )
    return Answer("circlip", of.designation, groups)


def _only_side(text: str) -> Circlip:
    """The circlip of a diameter that only bores or only shafts have one for.

    Raises:
        Undecided: both have.
    """
    found: list[Circlip] = []
    for side in get_args(Side):
        try:
            found.append(circlip(text, side))
        except UnknownDesignation:
            continue
    if len(found) > 1:
        names = [each.designation for each in found]
        raise Undecided("circlip", text, "say bore or shaft", names)
    return found[0] if found else circlip(text)


def of_clevis_pin(text: str) -> Answer:
    """A clevis pin with its split-pin hole."""
    of = clevis_pin(text)
    sizes = (
        Entry("diameter", of.diameter, "mm", "tolerance h11"),
        Entry("length under the head", of.length, "mm"),
        Entry("head diameter", of.head_diameter, "mm"),
        Entry("head height", of.head_height, "mm"),
        Entry("split-pin hole", of.hole, "mm"),
        Entry("hole to the end, least", of.hole_to_end, "mm"),
        Entry("longest stack", of.grip, "mm", "head to the split pin, washer included"),
    )
    groups = (Group("sizes", sizes, of.source), _least_strength(of.strength))
    return Answer("clevis pin", of.designation, groups)


def of_dowel_pin(text: str) -> Answer:
    """A hardened dowel pin."""
    of = dowel_pin(text)
    hole = class_limits("H7", of.nominal)
    sizes = (
        Entry("length", of.length, "mm"),
        Entry("diameter", (of.least, of.largest), "mm", "tolerance m6"),
        Entry("hole H7", (hole.min, hole.max), "mm"),
        Entry("double shear, least", of.double_shear, "N"),
    )
    groups = (Group("sizes", sizes, of.source), _least_strength(of.strength))
    return Answer("dowel pin", of.designation, groups)


def _least_strength(of: BoltClass) -> Group:
    given = (
        ("ultimate strength", of.ultimate),
        ("yield strength", of.yield_strength),
        ("ultimate in shear", of.shear),
    )
    return Group(
        "least strength", tuple(Entry(name, value, "MPa") for name, value in given), of.source
    )


def of_spring_pin(text: str) -> Answer:
    """A slotted spring pin."""
    of = spring_pin(text)
    hole = class_limits("H12", of.nominal)
    sizes = (
        Entry("length", of.length, "mm"),
        Entry("diameter before driving", (of.free_min, of.free_max), "mm"),
        Entry("wall", of.wall, "mm"),
        Entry("hole H12", (hole.min, hole.max), "mm"),
        Entry("double shear, least", of.double_shear, "N"),
    )
    return Answer("spring pin", of.designation, (Group("sizes", sizes, of.source),))
