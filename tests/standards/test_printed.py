"""Every table against at least ten values as printed elsewhere: those that other tests here hold, and more below.

Values stand in the units of the table, with their source. `COVERED` says which test reads which table, and how many
printed values each of its cases holds; the count is made from the cases themselves.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from importlib import import_module
from itertools import pairwise
from typing import Any, NamedTuple

import pytest
from hypothesis import given
from hypothesis import strategies as st
from test_lookup import every_designation

from parts.report.lookup import look_up
from parts.standards.bearings.bearings import bearing
from parts.standards.designation import DATA, UnknownDesignation, data_files, read_table
from parts.standards.fasteners.counterbores import counterbore
from parts.standards.fasteners.fasteners import bolt_class, dowel_pin
from parts.standards.fasteners.pins import pin_lengths
from parts.standards.threads.drills import drills
from parts.standards.threads.threads import thread

LEAST = 10
TABLES = sorted(data_files(DATA))
WORDS = {
    "material_conditions": "how conditions are written",
    "material_cautions": "sentences",
    "common_names": "names and sentences",
    "insert_holes": "common practice, no source",
    "print_shrink": "common practice, no source",
}
"""Tables that hold nothing printed: words, or what builders find."""


class Held(NamedTuple):
    """A test whose every case holds so many printed values of a table, or of the table that `table` finds."""

    test: str
    table: str | Callable[[tuple[Any, ...]], str]
    each: int


def _series(case: tuple[Any, ...]) -> str:
    return f"bearings_{bearing(case[0]).series.lower()}"


def _drill(case: tuple[Any, ...]) -> str:
    return "drills_named" if str(case[0])[0] in "#ABCDEFGHIJKLMNOPQRSTUVWXYZ" else "drills_series"


def _head(case: tuple[Any, ...]) -> str:
    return {"nut": "nuts", "jam": "jam_nuts"}.get(case[1], "bolt_heads")


def _rod_end(case: tuple[Any, ...]) -> str:
    return "rod_ends_metric" if str(case[0]).startswith("M") else "rod_ends_inch"


COVERED = (
    Held(
        "an_strengths.test_rated_tension_is_125_ksi_at_the_root_of_the_sharp_thread",
        "an_strengths",
        1,
    ),
    Held("bearings.test_metric_boundary_dimensions", _series, 3),
    Held("bearings.test_inch_boundary_dimensions", "bearings_r", 3),
    Held("bearings.test_thrust_needles", "thrust_needle", 4),
    Held("bearings.test_flanged_bushes", "flanged_bushes", 3),
    Held("drills.test_printed_sizes", _drill, 1),
    Held("fasteners.test_an_grips", "bolts_an", 2),
    Held("fasteners.test_close_tolerance_bolts", "bolts_nas", 2),
    Held("fasteners.test_stainless_close_tolerance_bolts", "bolts_nas", 3),
    Held("fasteners.test_classes", "bolt_classes", 3),
    Held("fasteners.test_wrench_flats", _head, 1),
    Held("fasteners.test_inch_hex_heads", "bolt_heads", 2),
    Held("fasteners.test_nuts", "nuts", 1),
    Held("fasteners.test_washers", "washers", 3),
    Held("circlips_and_pins.test_circlips", "circlips", 3),
    Held("circlips_and_pins.test_clevis_pins", "clevis_pins", 4),
    Held("circlips_and_pins.test_spring_pins", "spring_pins", 3),
    Held("fits.test_printed_deviations", "iso286_deviations", 2),
    Held("fits.test_printed_fits", "iso286_preferred_fits", 4),
    Held("fits.test_printed_clearances_of_inch_fits", "inch_fits", 2),
    Held("galvanic.test_printed_anodic_indices", "anodic_index", 1),
    Held("general_tolerances.test_deviations_of_the_table", "general_tolerances", 1),
    Held("materials.test_values_of_mil_hdbk_5j", "strengths", 5),
    Held("rodends.test_printed_sizes", _rod_end, 4),
    Held("rodends.test_spherical_series_e", "spherical_iso12240_e", 3),
    Held("rodends.test_jam_nuts", "jam_nuts", 2),
    Held("splines.test_class_5_tolerances", "spline_pitches", 2),
    Held("spring_wire.test_strength_is_as_printed", "spring_wires", 1),
    Held("stock.test_common_sizes_are_listed", "stock_sizes", 1),
    Held("threads.test_basic_sizes_of_fine_threads", "threads_inch", 3),
    Held("threads.test_stress_area_and_root_of_metric_threads", "threads_metric", 2),
    Held("threads.test_charted_limits_of_metric_threads", "iso965_pitch", 3),
    Held("threads.test_charted_limits_of_metric_threads", "iso965_pitch_diameter", 3),
    Held("thread_holes.test_inch_clearance_holes", "clearance_holes", 1),
    Held("thread_holes.test_metric_clearance_holes", "clearance_holes", 3),
    Held("thread_holes.test_reliefs", "thread_reliefs", 5),
    Held("wrenches.test_every_standard_nut_has_its_wrench", "wrench_sizes", 1),
)


def _rows(columns: str, lines: str) -> list[dict[str, str]]:
    """Printed rows: the names of the columns, and a line for each; `-` stands for an empty cell."""
    names = columns.split()
    return [
        {n: "" if v == "-" else v for n, v in zip(names, line.split(), strict=True)}
        for line in lines.strip().splitlines()
    ]


class Printed(NamedTuple):
    """Printed values of a table: rows found by `keys`, their other columns compared."""

    table: str
    keys: tuple[str, ...]
    rows: list[dict[str, str]]


MORE = (
    # AC 43.13-1B Table 7-1, nuts on fine threads in tension and in shear; from memory.
    Printed("aircraft_torques", ("thread",), _rows("thread tension_low_inlbf tension_high_inlbf shear_high_inlbf", """
        10-32 20 25 15
        1/4-28 50 70 40
        5/16-24 100 140 85
        3/8-24 160 190 110""")),
    # ISO 15 as bearing catalogues repeat it, from memory.
    Printed("bearings_63", ("number",), _rows("number bore_mm outside_mm width_mm", """
        6305 25 62 17
        6306 30 72 19""")),
    Printed("bearings_68", ("number",), _rows("number bore_mm outside_mm width_mm", """
        6805 25 37 7
        6806 30 42 7""")),
    # ISO 582 as a bearing catalogue repeats it: largest chamfers of a ring by its least.
    Printed("bearing_chamfers", ("r_min_mm", "bore_upto_mm"), _rows(
        "r_min_mm bore_upto_mm radial_max_mm axial_max_mm", """
        0.3 40 0.6 1
        0.3 - 0.8 1
        0.6 40 1 2
        0.6 - 1.3 2
        1 50 1.5 3
        1.5 120 2.3 4
        2 80 3 4.5""")),
    # Anodic index of MIL-DTL-14072; from memory.
    Printed("anodic_index", ("family",), _rows("family index_V", """
        silver 0.15
        nickel 0.30
        bronze 0.35
        brass 0.40
        chromium 0.60
        tin 0.65
        lead 0.70
        galvanized 1.20
        zinc 1.25
        magnesium 1.75""")),
    # ISO 286-1:2010, table 1, from memory: IT5 to IT11 [um].
    Printed("iso286_grades", ("over_mm",), _rows("over_mm IT5_um IT6_um IT7_um IT8_um IT9_um IT11_um", """
        3 5 8 12 18 30 75
        6 6 9 15 22 36 90
        10 8 11 18 27 43 110
        18 9 13 21 33 52 130
        30 11 16 25 39 62 160
        50 13 19 30 46 74 190
        80 15 22 35 54 87 220""")),
    # ISO 2768-1:1989, table 1, as the trade repeats it.
    Printed("general_tolerances", ("class", "above_mm"), _rows("class above_mm deviation_mm", """
        f 0.5 0.05
        f 30 0.15
        f 400 0.3
        m 0.5 0.1
        m 6 0.2
        m 30 0.3
        m 400 0.8
        m 1000 1.2
        c 0.5 0.2
        c 3 0.3
        c 30 0.8
        c 120 1.2
        v 6 1
        v 400 4""")),
    # ASME B18.8.5M; from memory.
    Printed("dowel_pins", ("nominal_mm",), _rows("nominal_mm min_mm max_mm double_shear_kN", """
        3 3.003 3.008 14.8
        5 5.003 5.008 41.2
        6 6.003 6.009 59.4
        8 8.003 8.009 105
        12 12.003 12.009 238
        20 20.003 20.009 660""")),
    # DIN 974-1, row 1, from memory.
    Printed("counterbores", ("size",), _rows("size diameter_mm clearance_mm", """
        M3 6.5 0.4
        M4 8 0.4
        M5 10 0.4
        M6 11 0.4
        M8 15 0.6
        M10 18 0.6
        M12 20 0.6
        M16 26 0.6
        M20 33 0.6""")),
    # MIL-HDBK-5J, the tables that the rows name: E, G [Msi], Poisson's ratio, density [lb/in^3].
    Printed("alloys", ("alloy",), _rows("alloy E G poisson density", """
        Ti-6Al-4V 16.0 6.2 0.31 0.160
        4130 29.0 11.0 0.32 0.283
        6061 9.9 3.8 0.33 0.098
        7075 10.3 3.9 0.33 0.101
        2024 10.5 4.0 0.33 0.100
        5052 10.1 3.85 0.33 0.097
        17-4PH 28.5 11.2 0.27 0.282""")),
    # Aluminum Standards and Data, typical, rotating beam, 5e8 cycles; ASM for titanium; from memory.
    Printed("fatigue_strengths", ("alloy", "conditions"), _rows("alloy conditions strength cycles", """
        6061 T6|T651 14 5e8
        7075 T6|T651 23 5e8
        2024 T3|T351|T4 20 5e8
        5052 H32 17 5e8
        6063 T6 10 5e8
        Ti-6Al-4V annealed 500 1e7""")),
    # Aluminum Design Manual 2010, table A.3.5 [ksi]; ASTM A240 and B265 [MPa]; from memory.
    Printed("weld_zones", ("alloy", "conditions", "fillers", "above_mm"), _rows(
        "alloy conditions fillers above_mm yield ultimate", """
        6061 T6|T651 ER4043 0 15 24
        6061 T6|T651 ER4043 9.5 11 24
        6063 T6 ER4043|ER5356 0 8 17
        5083 H116|H321 ER5183|ER5556 0 18 40
        304L * ER308L 0 170 485
        316L * ER316L 0 170 485""")),
    # ASTM B265, bend test: radius in thicknesses below and from 0.070 in; from memory.
    Printed("bend_radii", ("alloy", "above_mm"), _rows("alloy above_mm radius_over_thickness", """
        Ti-6Al-4V 0 4.5
        Ti-6Al-4V 1.8 5.0
        Ti-3Al-2.5V 0 2.5
        Ti-3Al-2.5V 1.8 3.0""") + [
        {"alloy": f"CP titanium grade {grade}", "above_mm": above, "radius_over_thickness": radius}
        for grade, thin, thick in (("1", "1.5", "2"), ("2", "2", "2.5"), ("3", "2", "2.5"), ("4", "2.5", "3"))
        for above, radius in (("0", thin), ("1.8", thick))
    ]),
    # A technical college's public table of cutting speeds with high-speed steel tools [ft/min], lower ends.
    Printed("cutting_speeds", ("family", "up_to_hb"), [
        {"family": family, "up_to_hb": hb, "speed_fpm": speed}
        for family, row in (("carbon steel", "150 80 170 70 190 60 220 50 280 40 350 30 425 15"),
                            ("low-alloy steel", "175 60 225 50 275 45 325 35 375 30 425 15"),
                            ("stainless steel", "185 40 275 30 425 15"))
        for hb, speed in zip(row.split()[::2], row.split()[1::2], strict=True)
    ]),
    # Flat-headed rivet nuts of steel with a round body: hole, and sheet that the shortest grips [mm]; from memory.
    Printed("rivet_nuts", ("size",), _rows("size hole sheet_min sheet_max", """
        M4 6 0.5 3
        M5 7 0.5 3
        M6 9 0.5 3
        M8 11 0.5 3
        M10 13 1 3.5
        M12 16 1 4""")),
    # DIN 844, usual and long series [mm]; from memory.
    Printed("end_mills", ("kind", "diameter"), _rows("kind diameter flutes flutes_long", """
        metric 4 11 19
        metric 6 13 24
        metric 8 19 38
        metric 10 22 45
        metric 12 26 53
        metric 16 32 63
        metric 20 38 75""")),
)  # fmt: skip
# ISO 2306 and common tap drills [mm]: sizes that are sold.
METRIC_DRILLS = (2.5, 3.3, 4.2, 5.0, 6.8, 8.5, 10.2, 12.0, 14.0, 15.5, 17.5, 19.5, 21.0, 24.0, 26.5)
# ASME B94.11M [in]: fractions of an inch as decimals.
INCH_DRILLS = (0.0156, 0.0625, 0.1094, 0.2031, 0.3281, 0.5312, 0.8750, 1.7500)


def _cases(test: str) -> list[tuple[Any, ...]]:
    """The cases of a parametrized test."""
    module, name = test.split(".")
    [mark] = [
        m
        for m in getattr(import_module(f"test_{module}"), name).pytestmark
        if m.name == "parametrize"
    ]
    return [each if isinstance(each, tuple) else (each,) for each in mark.args[1]]


def _counts() -> Mapping[str, int]:
    counts: Counter[str] = Counter()
    for held in COVERED:
        for case in _cases(held.test):
            counts[held.table if isinstance(held.table, str) else held.table(case)] += held.each
    for printed in MORE:
        counts[printed.table] += sum(len(row) - len(printed.keys) for row in printed.rows)
    counts["spline_es"] += len(import_module("test_splines").PRINTED_30.replace(";", " ").split())
    counts["drills_series"] += len(METRIC_DRILLS) + len(INCH_DRILLS)
    return counts


@pytest.mark.parametrize("table", [table for table in TABLES if table not in WORDS])
def test_ten_printed_values_or_more(table: str) -> None:
    """A table of fewer rows is held row by row."""
    assert _counts()[table] >= min(LEAST, len(read_table(table)))


@pytest.mark.parametrize("table", WORDS)
def test_what_holds_nothing_printed_says_so(table: str) -> None:
    rows = read_table(table)
    if "source" in rows[0] and WORDS[table].startswith("common practice"):
        assert all(row["source"].startswith("common practice, no source") for row in rows)
    else:
        assert not any(_is_number(cell) for row in rows for cell in row.values())


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True


@pytest.mark.parametrize("printed", MORE, ids=lambda printed: printed.table)
def test_rows_as_printed(printed: Printed) -> None:
    for row in printed.rows:
        [found] = [
            each
            for each in read_table(printed.table)
            if all(_same(each[key], row[key]) for key in printed.keys)
        ]
        for column in row:
            assert _same(found[column], row[column]), (row, column)


def _same(found: str, printed: str) -> bool:
    if _is_number(found) and _is_number(printed):
        return float(found) == float(printed)
    return found == printed


def test_drills_that_are_sold() -> None:
    sizes = [each.diameter for each in drills(("metric",))]
    assert all(any(abs(size - each) < 1e-9 for each in sizes) for size in METRIC_DRILLS)
    inches = [each.diameter / 25.4 for each in drills(("fractional",))]
    assert all(any(abs(size - each) < 0.51e-4 for each in inches) for size in INCH_DRILLS)


@pytest.mark.parametrize("table", TABLES)
def test_no_row_stands_twice(table: str) -> None:
    """What a row is found by, all but what it gives and where from, is there once."""
    rows = [
        {k: v for k, v in row.items() if k not in ("source", "note")} for row in read_table(table)
    ]
    assert len({tuple(row.items()) for row in rows}) == len(rows)


@pytest.mark.parametrize(
    ("table", "by", "columns", "group"),
    [
        ("dowel_pins", "nominal_mm", "min_mm max_mm double_shear_kN", ""),
        ("clevis_pins", "diameter_mm", "head_diameter_mm head_mm hole_mm hole_to_end_mm", ""),
        ("spring_pins", "nominal_mm", "free_min_mm free_max_mm wall_mm double_shear_kN", ""),
        ("bolts_an", "name", "shank_max_in across_flats_in", ""),
        ("bolts_nas", "name", "shank_min_in shank_max_in across_flats_in head_height_in thread_length_in", "steel"),
        ("iso286_grades", "over_mm", "IT5_um IT6_um IT7_um IT8_um IT11_um IT14_um", ""),
        ("general_tolerances", "above_mm", "deviation_mm", "class"),
        ("iso965_pitch", "pitch_mm", "e_um f_um g_um Td6_um TD1_6_um", ""),
        ("iso965_pitch_diameter", "pitch_mm", "TD2_4_um TD2_6_um Td2_4_um Td2_6_um Td2_8_um", "over_mm"),
        ("spline_es", "upto_mm", "d_mm e_mm f_mm", ""),
        ("bearing_chamfers", "r_min_mm", "shoulder_min_mm", ""),
        ("insert_holes", "hole_mm", "hole_mm", "unit"),
        ("bend_radii", "above_mm", "radius_over_thickness", "alloy conditions"),
    ],
)  # fmt: skip
def test_tables_grow_with_their_sizes(table: str, by: str, columns: str, group: str) -> None:
    groups: dict[tuple[str, ...], list[dict[str, str]]] = {}
    for row in read_table(table):
        groups.setdefault(tuple(row.get(key, "") for key in group.split()), []).append(row)
    for rows in groups.values():
        rows = rows if by == "name" else sorted(rows, key=lambda row: float(row[by]))
        for column in columns.split():
            values = [float(row[column]) for row in rows if row[column]]
            assert all(a <= b for a, b in pairwise(values)), (table, column)


@pytest.mark.parametrize("table", ["dowel_pins", "spring_pins", "bolts_nas"])
def test_least_lies_below_largest(table: str) -> None:
    pairs = {"dowel_pins": ("min_mm", "max_mm"), "spring_pins": ("free_min_mm", "free_max_mm"),
             "bolts_nas": ("shank_min_in", "shank_max_in")}  # fmt: skip
    low, high = pairs[table]
    assert all(float(row[low]) < float(row[high]) for row in read_table(table))


def test_counterbores_clear_their_heads() -> None:
    for row in read_table("counterbores"):
        of = counterbore(thread(row["size"]))
        head = next(
            r for r in read_table("bolt_heads") if (r["head"], r["size"]) == ("socket", row["size"])
        )
        assert of.diameter >= float(head["head_diameter"]) + 0.9 and of.depth > float(head["head_height"])  # fmt: skip
    with pytest.raises(UnknownDesignation, match="nearest: M10, M8"):
        counterbore(thread("M9x1"))


@given(st.sampled_from([3, 4, 5, 6, 8, 10, 12, 16, 20, 25]), st.sampled_from(pin_lengths()))
def test_dowel_pins_round_trip(diameter: int, length: int) -> None:
    try:
        of = dowel_pin(f"{diameter} x {length}")
    except UnknownDesignation as unknown:
        assert length > 20 * diameter and unknown.nearest
        return
    assert dowel_pin(of.designation) == of == dowel_pin(f"DIN 6325 {diameter}x{length} mm")


EVERY = [(kind, name) for kind, names in every_designation().items() for name in names]


@given(st.sampled_from(EVERY), st.randoms(use_true_random=False))
def test_a_designation_is_read_however_it_is_spaced(one: tuple[str, str], random: Any) -> None:
    """Designation to row to designation, with more blanks than are needed between its words."""
    kind, name = one
    said = "".join(c * random.randint(1, 3) if c == " " else c for c in name)
    answer = look_up([kind, *said.split(" ")])
    assert answer.designation == look_up([kind, name]).designation
    assert look_up([kind, answer.designation]).designation == answer.designation


def test_classes_say_what_they_bear_in_order() -> None:
    for name in ("8.8", "10.9", "12.9", "grade 5", "grade 8"):
        of = bolt_class(name, thread("3/8-24" if "grade" in name else "M10"))
        assert of.proof < of.yield_strength < of.ultimate
