"""What the checks rest on: critical sections with their figures, stress at notches, plots along the load path."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from parts.core.figures import figure
from parts.report.page.frame import counted
from parts.report.page.html import Html, joined, table, tag
from parts.report.page.loadpath import Mark, stretch_figure
from parts.report.page.section import chains, section_figure
from parts.report.page.stretch import stretches

if TYPE_CHECKING:
    from parts.core.search.critical import Critical
    from parts.core.search.result import Result
    from parts.making.model import Cut, Made

PROPERTIES = (
    ("area", "A", "area_mm2", "mm²"),
    ("second moment about y", "Iyy", "Iyy_mm4", "mm⁴"),
    ("second moment about z", "Izz", "Izz_mm4", "mm⁴"),
    ("product moment", "Iyz", "Iyz_mm4", "mm⁴"),
    ("greater principal second moment", "I₁", "I1_mm4", "mm⁴"),
    ("lesser principal second moment", "I₂", "I2_mm4", "mm⁴"),
    ("from y to principal axis 1", "φ", "principal_angle_deg", "deg"),
    ("lesser elastic modulus about y", "Wel,y", "Wel_y_mm3", "mm³"),
    ("lesser elastic modulus about z", "Wel,z", "Wel_z_mm3", "mm³"),
    ("plastic modulus about y", "Wpl,y", "Wpl_y_mm3", "mm³"),
    ("plastic modulus about z", "Wpl,z", "Wpl_z_mm3", "mm³"),
    ("torsion constant", "J", "J_mm4", "mm⁴"),
)
FORCES = (
    ("N", "N_N", "N"),
    ("Vy", "Vy_N", "N"),
    ("Vz", "Vz_N", "N"),
    ("T", "T_Nmm", "N·mm"),
    ("My", "My_Nmm", "N·mm"),
    ("Mz", "Mz_Nmm", "N·mm"),
)


def critical_sections(made: Made, entry: Mapping[str, Any]) -> Html | None:
    """Each critical section with its figure and properties; `entry` is that of the part in the JSON report."""
    entries = {e["load_case"]: e for e in entry["sections"]}
    inner = [
        _section(several, made.result, entries, number)
        for number, several in enumerate(_distinct(made.cuts), 1)
    ]
    return joined(*inner, _peaks(entry["peaks"])) if inner else None


def _section(
    several: Sequence[Cut], result: Result, entries: Mapping[str, Any], number: int
) -> Html:
    """One critical section: its figure, its properties, and what it bears under each load case there."""
    cases = [case.name for case in result.part.loads]
    cut = max(several, key=lambda one: stress_of(result, one.critical))
    worst = cut.critical
    entry = entries[worst.case.name]
    x, y, z = (figure(v + 0.0) for v in np.round(worst.place, 3))
    described = (
        f"{worst.span.name} at x {x}, y {y}, z {z} mm, cut from the solid, seen from where the loads come. "
        "Hatched: metal. Solid lines: the section's y and z through the centroid, which is the quartered "
        "circle. Dash-dotted: principal axes 1 and 2. "
        f"Cross: the fibre with the highest stress, under {worst.case.name}."
    )
    held = (
        f"The cut agrees with the section that was checked within {cut.difference:.2g}, "
        f"where {cut.band:.2g} is allowed."
    )
    rows = [[name, symbol, _or_none(entry[key]), unit] for name, symbol, key, unit in PROPERTIES]
    centroid = ", ".join(figure(v) for v in entry["centroid_mm"])
    rows.insert(1, ["centroid, from the path", "y, z", centroid, "mm"])
    forces = [
        [
            f"{cases.index(one.critical.case.name) + 1} {one.critical.case.name}",
            *(figure(entries[one.critical.case.name]["resultants"][key]) for _, key, _ in FORCES),
            figure(stress_of(result, one.critical)),
        ]
        for one in several
    ]
    head = ["load case", *(f"{name}, {unit}" for name, _, unit in FORCES), "σ_v, MPa"]
    return joined(
        tag("h3", f"Section {number}: {worst.span.name} at x {x}, y {y}, z {z} mm"),
        tag(
            "div",
            tag("figure", section_figure(cut, number, described), tag("figcaption", described)),
            table(
                f"Properties of section {number}",
                ["property", "symbol", "value", "unit"],
                rows,
                numbers=(2,),
            ),
            class_="sections",
        ),
        table(f"What section {number} bears", head, forces, numbers=tuple(range(1, 8))),
        tag("p", held, class_="what"),
    )


def _peaks(peaks: Sequence[Mapping[str, Any]]) -> Html | None:
    """The highest elastic stress at notches under each load case."""
    rows = [
        [
            one["load_case"],
            one["name"],
            triple(one["place_mm"]),
            *(_or_none(one[key]) for key in ("K_t", "nominal_MPa", "own_load_MPa", "peak_MPa")),
        ]
        for one in peaks
    ]
    if not rows:
        return None
    head = [
        "load case",
        "at",
        "x, y, z in mm",
        "K_t",
        "nominal, MPa",
        "beside it, MPa",
        "peak, MPa",
    ]
    return joined(
        tag("h3", "Stress at notches"),
        table("Highest elastic stress at notches", head, rows, numbers=(3, 4, 5, 6)),
        tag(
            "p",
            "K_t times the nominal stress, and what adds to it: the load of a hole itself, a pull where a hub gives. "
            "For information: ductile metal yields there first.",
            class_="what",
        ),
    )


def _or_none(value: Any) -> str:
    return "none" if value is None else figure(value)


def load_path(made: Made) -> Html | None:
    """Plots along the load path, those with a critical section first."""
    result = made.result
    if not result.scans:
        return None
    every = stretches(result.scans)
    shown: list[Html] = []
    folded: list[Html] = []
    for number, one in enumerate(every, 1):
        marks = [
            Mark(i, place, stress_of(result, worst))
            for i, worst in enumerate(result.criticals, 1)
            if (place := one.place_of(worst)) is not None
        ]
        (shown if marks else folded).append(stretch_figure(one, marks, number))
    if not folded:
        return joined(*shown)
    head = tag(
        "summary",
        f"{counted(len(folded), 'other stretch', 'other stretches')}, none of them critical",
    )
    return joined(*shown, tag("details", head, *folded, id="other-stretches"))


def loops_in_space(cuts: Sequence[Cut]) -> list[np.ndarray]:
    """The outlines of the critical sections, in the part's axes [mm]."""
    found = []
    for cut, *_ in _distinct(cuts):
        worst = cut.critical
        axes = np.asarray(worst.span.axes, float)
        found += [worst.place + points @ axes[1:] for points in chains(cut.boundary)]
    return found


def _distinct(cuts: Sequence[Cut]) -> list[list[Cut]]:
    """The cuts, those of several load cases at one place together."""
    found: dict[Any, list[Cut]] = {}
    for cut in cuts:
        key = (cut.critical.span.name, tuple(np.round(cut.critical.place, 2) + 0.0))
        found.setdefault(key, []).append(cut)
    return list(found.values())


def stress_of(result: Result, worst: Critical) -> float:
    """The von Mises stress [MPa] of a critical section as its check states it: that of the cut."""
    demands = [
        float(one.demand)
        for one in result.checks
        if one.mode == "combined stress" and one.load_case == worst.case.name
    ]
    return demands[0]


def triple(values: Sequence[float]) -> str:
    """Three numbers of a place or a direction."""
    return ", ".join(figure(v) for v in values)
