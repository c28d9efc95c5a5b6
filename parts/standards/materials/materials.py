"""Materials by name: minimum strengths, stiffness, density, welds, fatigue, shop cautions.

Strengths are minimum values (A- or S-basis) where a standard or a handbook prints them; `basis` and
the `..._source` fields say which. Where a shear or bearing strength is not printed it is estimated
low, and the source names the estimate. Which row of the tables applies depends on form and
thickness; where they are not given, each strength is the lowest of the rows that could apply, and
`selection` says so.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from math import inf, nan, sqrt
from typing import NamedTuple

from parts.standards.designation import MM_PER_INCH, Row, UnknownDesignation, read_table
from parts.standards.materials.names import (
    KIND,
    Alloy,
    bare,
    canonical_names,
    form_of,
    read_name,
    words,
)
from parts.standards.materials.strengths import (
    ESTIMATES,
    MPA,
    Strengths,
    fitting,
    interchangeable,
    joined,
    rows_of,
    source_of,
)

__all__ = ["Fatigue", "Material", "WeldZone", "canonical_names", "material", "material_rows"]

# Exact: 1 lb = 0.45359237 kg.
KG_PER_LB = 0.45359237

_KG_PER_MM3 = {"kg/m3": 1e-9, "lb/in3": KG_PER_LB / MM_PER_INCH**3}

SHEAR_YIELD_SHARE = 1.0 / sqrt(3.0)
_SHEAR_YIELD_SOURCE = "estimate: yield over the square root of 3 (von Mises)"


class WeldZone(NamedTuple):
    """Strength beside a fusion weld as welded, without heat treatment afterwards.

    Attributes:
        fillers: filler metals it holds for.
        above_mm, up_to_mm: thicknesses it holds for [mm].
        yield_strength, ultimate_strength: of weld metal and heat-affected zone, the weaker [MPa].
        source: where the figures come from.
    """

    fillers: tuple[str, ...]
    above_mm: float
    up_to_mm: float
    yield_strength: float
    ultimate_strength: float
    source: str


class Fatigue(NamedTuple):
    """Fatigue strength of bare specimens, from which surface, notch, size and welds come off.

    Attributes:
        strength: stress amplitude [MPa].
        cycles: number of cycles it was found at [-].
        stress_ratio: lowest over highest stress of the cycle [-]; -1 is fully reversed.
        kind: minimum or typical, and of which specimen.
        source: where the figure comes from.
    """

    strength: float
    cycles: float
    stress_ratio: float
    kind: str
    source: str


@dataclass(frozen=True)
class Material:
    """One material in one condition, for a form and a range of thickness.

    A strength that is not a number (nan) is not known: no check made with it can pass.

    Attributes:
        name: canonical name, as "Ti-6Al-4V annealed" or "6061-T6".
        aliases: other names of the alloy.
        kind: "metal", "plastic" or "print plastic".
        family: "titanium", "low-alloy steel", "carbon steel", "spring steel", "stainless steel",
            "aluminium", "bronze", "brass", "plastic" or "print plastic".
        alloy: the alloy alone.
        condition: temper or heat treatment.
        form: "sheet", "plate", "bar", "tube", "extrusion" or "print"; several joined by " or ".
        thickness_above_mm, thickness_up_to_mm: thickness, diameter or wall that the values hold
            for: more than the first, at most the second [mm].
        yield_strength: tensile, 0.2 % offset [MPa].
        ultimate_strength: tensile [MPa].
        shear_ultimate, shear_yield: [MPa].
        bearing_ultimate, bearing_yield: at an edge distance of 2.0 diameters [MPa].
        bearing_ultimate_ed15, bearing_yield_ed15: at an edge distance of 1.5 diameters [MPa].
        elongation: at rupture, share of the gauge length [-]; nan where not known.
        E, G: elastic modulus in tension and in shear [MPa].
        poisson: Poisson's ratio [-].
        density: [kg/mm^3].
        expansion: mean linear, between 0 and 100 °C [1/K].
        fatigue: printed fatigue strength; None where none is in the table.
        endurance_limit: True where stresses below a limit may be cycled for ever.
        weldability: "yes", "with care" or "no".
        weld_zones: strength beside a weld by filler; empty where none may be counted on.
        galvanic_family: key of the table of `parts.standards.materials.galvanic`.
        fit_up_only: True for a print: never a part that is loaded.
        basis: what the minimum is: "A", "S", "estimated minimum", "estimate", "none".
        notes: what to know of these values.
        cautions: what the shop must watch out for.
        selection: which row of the tables was taken, and why.
        strength_source, shear_source, shear_yield_source, bearing_source, elastic_source: where the
            figures of each group come from.
    """

    name: str
    aliases: tuple[str, ...]
    kind: str
    family: str
    alloy: str
    condition: str
    form: str
    thickness_above_mm: float
    thickness_up_to_mm: float
    yield_strength: float
    ultimate_strength: float
    shear_ultimate: float
    shear_yield: float
    bearing_ultimate: float
    bearing_yield: float
    bearing_ultimate_ed15: float
    bearing_yield_ed15: float
    elongation: float
    E: float
    G: float
    poisson: float
    density: float
    expansion: float
    fatigue: Fatigue | None
    endurance_limit: bool
    weldability: str
    weld_zones: tuple[WeldZone, ...]
    galvanic_family: str
    fit_up_only: bool
    basis: str
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    selection: str
    strength_source: str
    shear_source: str
    shear_yield_source: str
    bearing_source: str
    elastic_source: str

    def beside_weld(self, filler: str = "", thickness_mm: float | None = None) -> WeldZone:
        """The strength beside a weld; where several could apply, the lowest.

        Args:
            filler: classification of the filler metal, as "ER4043"; empty where it is not known.
            thickness_mm: thickness of the thinnest part welded [mm]; None where it is not known.

        Raises:
            UnknownDesignation: when nothing may be counted on beside a weld, or for that filler;
                kind "strength beside a weld".
        """
        kind = "strength beside a weld"
        if not self.weld_zones:
            raise UnknownDesignation(
                kind, self.name, f"none may be counted on (weldability: {self.weldability})"
            )
        zones = [z for z in self.weld_zones if not filler or bare(filler) in map(bare, z.fillers)]
        if not zones:
            known = dict.fromkeys(f for z in self.weld_zones for f in z.fillers)
            raise UnknownDesignation(kind, f"{self.name}, {filler}", "no such filler here", known)
        if thickness_mm is not None:
            zones = [z for z in zones if z.above_mm < thickness_mm <= z.up_to_mm]
        if not zones:
            raise UnknownDesignation(
                kind, self.name, f"none for a thickness of {thickness_mm:g} mm"
            )
        return min(zones, key=lambda z: (z.yield_strength, z.ultimate_strength))


def _weld_zones(alloy: str, condition: str, limits: Mapping[str, float]) -> tuple[WeldZone, ...]:
    """The zones of an alloy, none stronger than the metal beside them."""
    zones = []
    for row in read_table("weld_zones"):
        if row["alloy"] != alloy or not {"*", condition} & set(words(row["conditions"])):
            continue
        scale = MPA[row["stress_unit"]]
        zones.append(
            WeldZone(
                words(row["fillers"]),
                float(row["above_mm"]),
                float(row["up_to_mm"] or inf),
                min(float(row["yield"]) * scale, limits["yield"]),
                min(float(row["ultimate"]) * scale, limits["ultimate"]),
                row["source"],
            )
        )
    return tuple(zones)


def _fatigue(alloy: str, condition: str) -> Fatigue | None:
    for row in read_table("fatigue_strengths"):
        if row["alloy"] == alloy and condition in words(row["conditions"]):
            return Fatigue(
                float(row["strength"]) * MPA[row["stress_unit"]],
                float(row["cycles"]),
                float(row["stress_ratio"]),
                row["kind"],
                row["source"],
            )
    return None


def _cautions(keys: Sequence[str]) -> tuple[str, ...]:
    texts = {row["key"]: row["text"] for row in read_table("material_cautions")}
    return tuple(texts[key] for key in keys)


def _selection(
    rows: Sequence[Strengths], form: str, thickness_mm: float | None, assumed: str
) -> str:
    if len(rows) == 1:
        chosen = f"row: {rows[0].label}"
    else:
        missing = [w for w, there in (("form", form), ("thickness", thickness_mm)) if not there]
        labels = ", ".join(r.label for r in rows)
        why = f"no {' or '.join(missing)} given" if missing else "several rows apply"
        chosen = f"each strength the lowest of {len(rows)} rows ({labels}): {why}"
    return joined([assumed, chosen])


@cache
def _alloy_row(alloy: str) -> Row:
    return next(row for row in read_table("alloys") if row["alloy"] == alloy)


def _build(alloy: Alloy, condition: str, rows: Sequence[Strengths], selection: str) -> Material:
    row = _alloy_row(alloy.name)
    low = {k: min(r.values[k] for r in rows) for k in rows[0].values}
    low["elongation"] = min((e for r in rows if (e := r.values["elongation"]) == e), default=nan)
    modulus = MPA[row["modulus_unit"]]
    bearing = [k for k in ESTIMATES if k.startswith("bearing")]
    is_print = row["kind"] == "print plastic"
    return Material(
        name=alloy.full_name(condition),
        aliases=alloy.aliases,
        kind=row["kind"],
        family=alloy.family,
        alloy=alloy.name,
        condition=condition,
        form=" or ".join(dict.fromkeys(r.form for r in rows)),
        thickness_above_mm=min(r.above_mm for r in rows),
        thickness_up_to_mm=max(r.up_to_mm for r in rows),
        yield_strength=low["yield"],
        ultimate_strength=low["ultimate"],
        shear_ultimate=low["shear_ultimate"],
        shear_yield=SHEAR_YIELD_SHARE * low["yield"],
        bearing_ultimate=low["bearing_ultimate_ed2"],
        bearing_yield=low["bearing_yield_ed2"],
        bearing_ultimate_ed15=low["bearing_ultimate_ed1_5"],
        bearing_yield_ed15=low["bearing_yield_ed1_5"],
        elongation=low["elongation"],
        E=float(row["E"]) * modulus,
        G=float(row["G"]) * modulus,
        poisson=float(row["poisson"]),
        density=float(row["density"]) * _KG_PER_MM3[row["density_unit"]],
        expansion=1e-6 * float(row["expansion"]),
        fatigue=_fatigue(alloy.name, condition),
        endurance_limit=row["endurance_limit"] == "yes",
        weldability=row["weldability"],
        weld_zones=_weld_zones(alloy.name, condition, low),
        galvanic_family=row["galvanic_family"],
        fit_up_only=is_print,
        basis=joined([r.row["basis"] for r in rows]),
        notes=tuple(dict.fromkeys(r.row["note"] for r in rows if r.row["note"])),
        cautions=_cautions(words(row["cautions"])),
        selection=selection,
        strength_source=joined([r.row["source"] for r in rows]),
        shear_source=source_of(rows, ["shear_ultimate"]),
        shear_yield_source=_SHEAR_YIELD_SOURCE,
        bearing_source=source_of(rows, bearing),
        elastic_source=row["source"],
    )


@cache
def material(name: str, thickness_mm: float | None = None, form: str | None = None) -> Material:
    """The material of a name, for a form and a thickness.

    Args:
        name: as the bench writes it: "Ti-6Al-4V annealed", "Grade 5", "6061 T6", "4130N tube".
        thickness_mm: thickness, diameter or wall [mm]; None where it is not known.
        form: "sheet", "plate", "bar", "tube" or "extrusion"; None where it is not known. Sheet and
            plate are one: the thickness decides.

    Returns:
        the material; where the rows differ and form or thickness is not given, each strength is the
        lowest, and `selection` says so.

    Raises:
        UnknownDesignation: when no table holds the name, it contradicts itself, its condition is
            missing, or no row holds for that form or thickness; kind "material" (or "form of
            material").
    """
    reading = read_name(name)
    wanted = form_of(form) if form else ""
    if wanted and reading.form and wanted not in interchangeable(reading.form):
        reason = f"the name says {reading.form}, yet the form is {wanted}"
        raise UnknownDesignation(KIND, name, reason, [reading.form, wanted])
    wanted = wanted or reading.form
    full_name = reading.alloy.full_name(reading.condition)
    every = rows_of(reading.alloy.name, reading.condition)
    rows = fitting(full_name, every, wanted, thickness_mm)
    chosen = _selection(rows, wanted, thickness_mm, reading.assumed)
    return _build(reading.alloy, reading.condition, rows, chosen)


def material_rows(name: str) -> tuple[Material, ...]:
    """The material of a name once for every row of the tables, in their order: each form and thickness.

    Raises:
        UnknownDesignation: as `material` for a name; kind "material".
    """
    reading = read_name(name)
    rows = rows_of(reading.alloy.name, reading.condition)
    return tuple(
        _build(reading.alloy, reading.condition, [row], f"row: {row.label}") for row in rows
    )
