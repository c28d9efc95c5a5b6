"""What the tables say of materials, of metals that touch, of stock sizes and of splines."""

from __future__ import annotations

import re
from collections.abc import Iterator

from parts.report.lookup.answer import Answer, Entry, Grid, Group, Plain
from parts.standards.designation import UnknownDesignation, inch_to_mm
from parts.standards.materials.galvanic import LIMITS, LIMITS_SOURCE, Couple, families, family, pair
from parts.standards.materials.materials import Material, material, material_rows
from parts.standards.materials.names import CONDITION_MISSING, CommonName, bare, common_names
from parts.standards.splines.form import PinMeasurement, Spline
from parts.standards.splines.splines import spline
from parts.standards.stock.stock import stock

TOLERANCE_CLASSES = (4, 5, 6, 7)
USUAL_CLASS = 5

_THICKNESS = re.compile(
    r"(?P<name>.+?)[\s,]+(?P<number>(?:\d+[\s-])?\d+/\d+|\d*\.?\d+)\s*"
    r"(?P<unit>mm|in(?:ch)?\.?|\"|″|”)(?:\s+(?:thick|diameter|dia|wall))?",
    re.I,
)
_BETWEEN = re.compile(r"\s*(?:[/,;+&|]|\b(?:and|on|in|with|against|to|beside|touching)\b)\s*", re.I)


def of_material(text: str) -> Answer:
    """A material: what counts for the form and thickness said, every row, weld, fatigue, cautions."""
    common = common_names().get(bare(text))
    if common is not None:
        return _common(text, common)
    try:
        of = _material(text)
    except UnknownDesignation as unknown:
        if not unknown.reason.startswith(CONDITION_MISSING):
            raise
        of_alloy = CommonName((), "an alloy in several conditions", unknown.nearest, "", "")
        return _common(text, of_alloy)
    return Answer(
        "material",
        of.name,
        (
            *_strengths(of),
            _elastic(of),
            _rows(of),
            *_welds(of),
            *_fatigue(of),
            Group("corrosion", (Entry("galvanic family", of.galvanic_family or "none"),)),
        ),
        (*of.notes, *of.cautions),
    )


def _common(text: str, of: CommonName) -> Answer:
    """What a name of the trade or of another country may stand for, with the strength of each."""
    rows: list[tuple[Plain, ...]] = []
    for name in of.nearest:
        found = material(name)
        rows.append((name, ", ".join(found.aliases[:3]), found.form, found.yield_strength,
                     found.ultimate_strength, found.weldability))  # fmt: skip
    columns = (
        ("material", ""), ("also called", ""), ("form", ""), ("yield", "MPa"), ("ultimate", "MPa"), ("weld", ""),
    )  # fmt: skip
    named = tuple(Entry(*one) for one in (("what it is", of.standard), ("also called", ", ".join(of.names)))
                  if one[1])  # fmt: skip
    groups: list[Group | Grid] = [Group("name", named, of.source)]
    if rows:
        title = "nearest by what it is" if of.names else "its conditions"
        groups.append(
            Grid(title, columns, tuple(rows), "lowest of all forms; see each by its name")
        )
    nearest = "The certificate says what a bar is, and a file names one of these rows: nearest is not alike."
    return Answer(
        "material", " ".join(text.split()), tuple(groups), tuple(filter(None, (of.note, nearest)))
    )


def _material(text: str) -> Material:
    """The material of a name, with a thickness behind it where one is said."""
    try:
        return material(text)
    except UnknownDesignation:
        said = _THICKNESS.fullmatch(text)
        if not said:
            raise
        millimetres = said["unit"].casefold() == "mm"
        if millimetres and "/" in said["number"]:
            raise
        thickness = float(said["number"]) if millimetres else inch_to_mm(said["number"])
        return material(said["name"], thickness_mm=thickness)


def _strengths(of: Material) -> Iterator[Group]:
    tensile = (
        Entry("yield", of.yield_strength, "MPa"),
        Entry("ultimate", of.ultimate_strength, "MPa"),
        Entry("elongation", 100.0 * of.elongation, "%"),
        Entry("basis", of.basis),
        Entry("taken from", of.selection),
    )
    shear = (
        Entry("yield", of.shear_yield, "MPa"),
        Entry("ultimate", of.shear_ultimate, "MPa"),
    )
    bearing = (
        Entry("yield, edge 2 d", of.bearing_yield, "MPa"),
        Entry("ultimate, edge 2 d", of.bearing_ultimate, "MPa"),
        Entry("yield, edge 1.5 d", of.bearing_yield_ed15, "MPa"),
        Entry("ultimate, edge 1.5 d", of.bearing_ultimate_ed15, "MPa"),
    )
    yield Group("minimum strength in tension", tensile, of.strength_source)
    if of.fit_up_only:
        return
    yield Group("in shear", shear, f"{of.shear_yield_source}; {of.shear_source}")
    yield Group("in bearing", bearing, of.bearing_source)


def _elastic(of: Material) -> Group:
    entries = (
        Entry("E", of.E, "MPa"),
        Entry("G", of.G, "MPa"),
        Entry("Poisson's ratio", of.poisson),
        Entry("density", of.density * 1e9, "kg/m3"),
    )
    return Group("elastic constants and density", entries, of.elastic_source)


def _rows(of: Material) -> Grid:
    rows: list[tuple[Plain, ...]] = []
    every = material_rows(of.name)
    for row in every:
        rows.append(
            (
                row.form, row.thickness_above_mm, row.thickness_up_to_mm, row.yield_strength,
                row.ultimate_strength, row.shear_ultimate, row.bearing_ultimate, row.basis,
            )
        )  # fmt: skip
    columns = (
        ("form", ""), ("over", "mm"), ("up to", "mm"), ("yield", "MPa"), ("ultimate", "MPa"),
        ("shear", "MPa"), ("bearing 2 d", "MPa"), ("basis", ""),
    )  # fmt: skip
    source = "; ".join(dict.fromkeys(row.strength_source for row in every))
    return Grid("rows by form and thickness", columns, tuple(rows), source)


def _welds(of: Material) -> Iterator[Grid | Group]:
    yield Group("weldability", (Entry("fusion weld", of.weldability),))
    if not of.weld_zones:
        words = "no strength beside a weld may be counted on"
        yield Group("beside a weld", (Entry("strength", words),))
        return
    rows = tuple(
        (zone.above_mm, zone.up_to_mm, zone.yield_strength, zone.ultimate_strength,
         ", ".join(zone.fillers))
        for zone in of.weld_zones
    )  # fmt: skip
    columns = (
        ("over", "mm"), ("up to", "mm"), ("yield", "MPa"), ("ultimate", "MPa"), ("fillers", "")
    )  # fmt: skip
    source = "; ".join(dict.fromkeys(zone.source for zone in of.weld_zones))
    yield Grid("beside a weld", columns, rows, source)


def _fatigue(of: Material) -> Iterator[Group]:
    found = of.fatigue
    if found is None:
        return
    entries = (
        Entry("stress amplitude", found.strength, "MPa", found.kind),
        Entry("cycles", f"{found.cycles:.3g}"),
        Entry("stress ratio", found.stress_ratio),
        Entry("limit for ever", of.endurance_limit),
    )
    yield Group("fatigue of bare specimens", entries, found.source)


def of_galvanic_pair(text: str) -> Answer:
    """Two metals that touch, with a stroke, a comma or a word such as "on" between them."""
    halves = [half for half in _BETWEEN.split(text) if half]
    if len(halves) != 2:
        raise UnknownDesignation(
            "galvanic pair", text, "it takes two metals", ["titanium / cadmium plate"]
        )
    one, other = (_surface(half) for half in halves)
    return _pair(pair(one, other))


def of_galvanic(text: str) -> Answer:
    """Two metals that touch, also with no more than a blank between them, or one against every other."""
    words = text.split()
    found: dict[str, Answer] = {}
    try:
        return of_galvanic_pair(text)
    except UnknownDesignation as unknown:
        for place in range(1, len(words)):
            try:
                answer = of_galvanic_pair(
                    " / ".join((" ".join(words[:place]), " ".join(words[place:])))
                )
            except UnknownDesignation:
                continue
            found[answer.designation] = answer
        if len(found) == 1:
            return next(iter(found.values()))
        try:
            return _one_metal(text)
        except UnknownDesignation as alone:
            raise (unknown if _BETWEEN.search(text) else alone) from None


def _surface(name: str) -> str:
    """The galvanic family of a metal, of a plating, or of a material of the tables."""
    try:
        return family(name).name
    except UnknownDesignation as unknown:
        try:
            found = material(name).galvanic_family
        except UnknownDesignation:
            raise unknown from None
        if not found:
            raise unknown from None
        return found


def _pair(of: Couple) -> Answer:
    entries = [
        Entry("difference of potential", of.difference, "V"),
        Entry("corrodes", of.anode or "neither more than the other"),
    ]
    entries += [
        Entry(f"bare in {where} surroundings", allowed, note=f"limit {LIMITS[where]:.2f} V")
        for where, allowed in of.allowed.items()
    ]
    groups = (Group("galvanic pair", tuple(entries), of.source),)
    return Answer("galvanic", f"{of.first} / {of.second}", groups, of.warnings)


def _one_metal(text: str) -> Answer:
    of = family(text)
    rows: list[tuple[Plain, ...]] = []
    for other in families():
        couple = pair(of.name, other)
        good = [where for where, allowed in couple.allowed.items() if allowed]
        cautioned = "; ".join(couple.warnings)
        rows.append(
            (other, couple.difference, couple.anode, good[0] if good else "none", cautioned)
        )
    columns = (
        ("against", ""), ("difference", "V"), ("corrodes", ""), ("harshest bare", ""),
        ("caution", ""),
    )  # fmt: skip
    head = (Entry("potential below gold", of.index, "V"),)
    groups = (
        Group("anodic index", head, of.source),
        Grid("beside other metals", columns, tuple(rows), LIMITS_SOURCE),
    )
    return Answer("galvanic", of.name, groups)


def of_stock(text: str) -> Answer:
    """A size of bar, tube or plate: whether it can be bought, and what it measures."""
    of = stock(text)
    is_tube, is_plate = "tube" in of.shape, of.shape == "plate"
    entries = [Entry("shape", of.shape)]
    if is_plate:
        entries.append(Entry("thickness", of.width_mm, "mm"))
    else:
        round_ = of.shape.startswith("round")
        name = (
            "outside diameter" if round_ else "across flats" if of.shape == "hex bar" else "width"
        )
        entries.append(Entry(name, of.width_mm, "mm"))
    if of.height_mm != of.width_mm:
        entries.append(
            Entry("thickness" if of.shape == "flat bar" else "height", of.height_mm, "mm")
        )
    if is_tube:
        entries += [Entry("wall", of.wall_mm, "mm"), Entry("inside", of.bore_mm, "mm")]
    if not is_plate:
        entries.append(Entry("area of the section", of.area_mm2, "mm2", "corners taken as sharp"))
    entries.append(Entry("in the lists", of.is_stock))
    if of.is_stock:
        entries.append(Entry("listed in", ", ".join(of.metals)))
    else:
        entries.append(Entry("nearest that is listed", "; ".join(of.nearest)))
    return Answer("stock", of.name, (Group("size", tuple(entries), of.source),))


def of_spline(text: str) -> Answer:
    """An involute spline: every diameter, the widths by class, what it measures over pins."""
    of = spline(text)
    sizes = (
        Entry("teeth", of.teeth),
        Entry("pitch", f"{of.pitch:g}/{2 * of.pitch:g}" if of.pitch else f"module {of.module:g}"),
        Entry("root", of.root),
        Entry("module", of.module, "mm"),
        Entry("pitch diameter", of.pitch_diameter, "mm"),
        Entry("base diameter", of.base_diameter, "mm"),
        Entry("basic space width, tooth thickness", of.width, "mm"),
    )
    bore = (
        Entry("major diameter", of.major_internal, "mm", "root of the bore"),
        Entry("form diameter", of.form_internal, "mm"),
        Entry("minor diameter", of.minor_internal, "mm", "tips of the bore's teeth"),
        Entry("root fillet", of.fillet_radius, "mm"),
    )
    shaft = (
        Entry("major diameter", of.major_external, "mm", "outside of the shaft"),
        Entry("form diameter", of.form_external, "mm"),
        Entry("minor diameter", of.minor_external, "mm", "root of the shaft"),
    )
    groups = (
        Group("spline", sizes, of.source),
        Group("internal", bore, of.source),
        Group("external", shaft, of.source),
        _widths(of),
        _pins(of),
    )
    return Answer("spline", of.designation, groups)


def _widths(of: Spline) -> Grid:
    rows: list[tuple[Plain, ...]] = []
    for number in TOLERANCE_CLASSES:
        for side, w in (
            ("space", of.space_widths(number)),
            ("tooth", of.tooth_thicknesses("h", number)),
        ):
            ends = (w.actual_min, w.actual_max, w.effective_min, w.effective_max)
            rows.append((number, side, *ends))
    columns = (
        ("class", ""), ("of", ""), ("actual least", "mm"), ("actual largest", "mm"),
        ("effective least", "mm"), ("effective largest", "mm"),
    )  # fmt: skip
    source = f"{of.source}; fit h, a module spline as long as half its pitch diameter"
    return Grid("width on the pitch circle", columns, tuple(rows), source)


def _pins(of: Spline) -> Group:
    """Measurement with the usual pins; refused pins are named, not guessed at."""
    entries: list[Entry] = []
    space, tooth = of.space_widths(USUAL_CLASS), of.tooth_thicknesses("h", USUAL_CLASS)
    for name, measure, width in (
        ("between pins, internal", of.between_pins, space),
        ("over pins, external", of.over_pins, tooth),
    ):
        try:
            low: PinMeasurement = measure(width.actual_min)
            high: PinMeasurement = measure(width.actual_max, low.pin)
        except ValueError as refused:
            entries.append(Entry(name, str(refused)))
            continue
        entries += [
            Entry(f"pin {name.split()[0]}", low.pin, "mm"),
            Entry(name, (low.size, high.size), "mm", "actual limits"),
        ]
    return Group(f"measurement by pins, class {USUAL_CLASS}", tuple(entries), of.source)
