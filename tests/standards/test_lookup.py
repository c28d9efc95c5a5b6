"""Look-ups of every kind: what published tables say, names that read back, names that are refused."""

import json
import shutil
from collections import defaultdict

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parts.report.lookup import KINDS, as_json, as_text, look_up
from parts.standards import designation
from parts.standards.bearings import bearings
from parts.standards.bearings.bearings import bearings as bearing_numbers
from parts.standards.designation import UnknownDesignation, read_table
from parts.standards.materials.galvanic import families
from parts.standards.materials.materials import canonical_names, material, material_rows
from parts.standards.rod_ends.rod_ends import rod_ends
from parts.standards.stock.stock import SHAPES, listed
from parts.standards.threads.threads import threads

INCH = 25.4
KSI = 6.894757
# Half of the last printed place, so that a value may be what the table was rounded from.
TENTH = 0.00005 * INCH
MICRON = 0.0005


def found(*words: str) -> dict:
    return json.loads(as_json(look_up(words)))


def row(grid: list[dict], **wanted: object) -> dict:
    (one,) = (r for r in grid if all(r[key] == value for key, value in wanted.items()))
    return one


def test_thread() -> None:
    """3/8-24 UNF: ASME B1.1 as in Machinery's Handbook, standard series and limits of size."""
    answer = found("3/8-24 UNF LH")
    assert answer["kind"] == "thread"
    basic = answer["basic_sizes"]
    assert basic["hand"] == "left"
    assert basic["major_diameter_mm"] == pytest.approx(0.375 * INCH)
    assert basic["tensile_stress_area_mm2"] == pytest.approx(
        0.0878 * INCH**2, abs=0.00005 * INCH**2
    )
    for name, diameter, least, largest in [
        ("2A", "major", 0.3667, 0.3739), ("2A", "pitch", 0.3430, 0.3468),
        ("3A", "pitch", 0.3450, 0.3479), ("2B", "pitch", 0.3479, 0.3528),
        ("2B", "minor", 0.330, 0.340), ("3B", "pitch", 0.3479, 0.3516),
    ]:  # fmt: skip
        limit = row(answer["limits_of_size"], **{"class": name, "diameter": diameter})
        assert limit["least_mm"] == pytest.approx(least * INCH, abs=TENTH)
        assert limit["largest_mm"] == pytest.approx(largest * INCH, abs=TENTH)


def test_tap_drill_and_clearance_of_a_thread() -> None:
    """Tap drill Q, 79 per cent, and clearance 25/64, 13/32, 27/64: Machinery's Handbook."""
    answer = found("thread 3/8-24")
    tap = row(answer["tap_drills"], asked_percent=75.0, stock="inch")
    assert tap["drill"] == "Q"
    assert tap["its_thread_percent"] == pytest.approx(79, abs=0.5)
    # Full thread is 1.299038 pitches deep: the hole for 75 per cent, written out.
    assert tap["hole_mm"] == pytest.approx((0.375 - 0.75 * 1.299038 / 24) * INCH, abs=MICRON)
    assert [r["drill"] for r in answer["clearance_holes"]] == ["25/64", "13/32", "27/64"]


def test_a_class_alone_where_one_is_named() -> None:
    """M10x1.25-6g: ISO 965-2 prints 9.972 to 9.760 major, 9.160 to 9.042 pitch."""
    limits = found("M10x1.25-6g")["limits_of_size"]
    assert {r["class"] for r in limits} == {"6g"}
    assert [(r["least_mm"], r["largest_mm"]) for r in limits[:2]] == [
        (pytest.approx(9.760, abs=MICRON), pytest.approx(9.972, abs=MICRON)),
        (pytest.approx(9.042, abs=MICRON), pytest.approx(9.160, abs=MICRON)),
    ]


def test_fit() -> None:
    """15 H7/p6: ISO 286-2 prints 0/+18 and +18/+29 micrometres."""
    answer = found("15 H7/p6")
    assert answer["fit"]["kind_of_fit"] == "interference"
    assert answer["fit"]["clearance_min_mm"] == pytest.approx(-0.029)
    assert answer["fit"]["clearance_max_mm"] == pytest.approx(0.0)
    assert answer["hole"]["size_max_mm"] == pytest.approx(15.018)
    assert answer["shaft"]["size_min_mm"] == pytest.approx(15.018)
    assert answer["shaft"]["size_max_mm"] == pytest.approx(15.029)


def test_tolerance_is_half_of_the_fit() -> None:
    assert found("15 H7")["hole"] == found("15 H7/p6")["hole"]


@pytest.mark.parametrize(
    ("size", "under", "over", "metric_under", "metric_over"),
    # 9.8 mm lies between V (0.377 in) and W (0.386 in); 0.2 in between #8 (0.199) and #7 (0.201):
    # number and letter drills of ASME B94.11M.
    [("9.8 mm", "V", "W", "9.8 mm", "9.8 mm"), ("0.2 in", "#8", "#7", "5 mm", "5.1 mm")],
)
def test_drill_both_ways(size, under, over, metric_under, metric_over) -> None:
    beside = found("drill", size)["stock_drills_beside_it"]
    assert row(beside, stock="inch", side="under")["drill"] == under
    assert row(beside, stock="inch", side="over")["drill"] == over
    assert row(beside, stock="metric", side="under")["drill"] == metric_under
    assert row(beside, stock="metric", side="over")["drill"] == metric_over


def test_bearing() -> None:
    """6202 is 15 x 35 x 11 by ISO 15; ratings are marked as generic."""
    answer = found("6202")
    sizes = answer["sizes"]
    assert (sizes["bore_mm"], sizes["outside_diameter_mm"], sizes["width_mm"]) == (15, 35, 11)
    assert all("generic" in key for key in answer["generic_ratings"] if key.endswith("_N"))
    assert any("generic" in caution for caution in answer["cautions"])
    housing = row(answer["recommended_fits"], load="inner rotates", seat="housing")
    # 35 H7 of ISO 286-2: 0/+25 micrometres.
    assert (housing["class"], housing["least_mm"], housing["largest_mm"]) == ("H7", 35.0, 35.025)
    abutment = answer["abutment"]
    assert sizes["bore_mm"] < abutment["shoulder_on_the_shaft_min_mm"]
    assert abutment["shoulder_in_the_housing_max_mm"] < sizes["outside_diameter_mm"]


def test_bolt() -> None:
    """AN6-14 has a grip of 15/16 in in the table of AN grips, from memory."""
    assert found("AN6-14")["sizes"]["grip_mm"] == pytest.approx(15 / 16 * INCH)
    eight = found("M8x30 8.8")["least_strength"]
    # ISO 898-1 prints a proof load of 21.2 kN for M8 of class 8.8, cut to three places.
    assert eight["proof_load_N"] == pytest.approx(21200, abs=50)


def test_circlip() -> None:
    """DIN 472 for a bore of 35: ring 1.5, groove 37 H12, as in the tables of the standard."""
    ring = found("circlip bore 35")["ring_and_groove"]
    assert (ring["ring_thickness_mm"], ring["groove_diameter_mm"]) == (1.5, 37.0)


def test_spline() -> None:
    """ANSI B92.1: D = N/P, major diameter of the shaft (N + 1)/P, minor of the bore (N - 1)/P."""
    answer = found("48 teeth 1 in")
    assert answer["spline"]["pitch_diameter_mm"] == pytest.approx(48 / 48 * INCH)
    assert answer["external"]["major_diameter_mm"] == pytest.approx(49 / 48 * INCH)
    assert answer["internal"]["minor_diameter_mm"] == pytest.approx(47 / 48 * INCH, abs=MICRON)
    pins = answer["measurement_by_pins_class_5"]
    assert pins["over_pins_external_max_mm"] > answer["external"]["major_diameter_mm"]
    assert pins["between_pins_internal_max_mm"] < answer["internal"]["minor_diameter_mm"]


def test_stock() -> None:
    size = found("1-1/4 x 0.065 in")["size"]
    assert size["outside_diameter_mm"] == pytest.approx(1.25 * INCH)
    # Ring area pi (D - t) t, closed form; JSON keeps six decimals.
    assert size["area_of_the_section_mm2"] == pytest.approx(
        3.14159265 * (1.25 - 0.065) * 0.065 * INCH**2, abs=1e-5
    )
    assert size["in_the_lists"] is True
    odd = found("30 x 2.3 mm")["size"]
    assert odd["in_the_lists"] is False and "30 x 2.5 mm" in odd["nearest_that_is_listed"]


def test_material() -> None:
    """6061-T6 sheet: 42 and 35 ksi, MIL-HDBK-5J Table 3.6.2.0(b1)."""
    answer = found("6061-T6 sheet 3 mm")
    tension = answer["minimum_strength_in_tension"]
    assert tension["ultimate_MPa"] == pytest.approx(42 * KSI, rel=1e-6)
    assert tension["yield_MPa"] == pytest.approx(35 * KSI, rel=1e-6)
    assert "MIL-HDBK-5J" in tension["source"]
    rows = answer["rows_by_form_and_thickness"]
    assert {"sheet", "plate", "bar", "tube", "extrusion"} <= {r["form"] for r in rows}
    assert all(zone["yield_MPa"] < tension["yield_MPa"] for zone in answer["beside_a_weld"])
    assert any("weld" in caution for caution in answer["cautions"])


def test_a_thickness_behind_a_material_chooses_its_row() -> None:
    thick = found("6061-T6 plate 3 in")["minimum_strength_in_tension"]
    assert thick["taken_from"].startswith("row: plate over 50.8")
    assert found("6061-T6 plate 76.2 mm")["minimum_strength_in_tension"] == thick


@pytest.mark.parametrize("name", canonical_names())
def test_rows_of_a_material_hold_its_lowest_strength(name) -> None:
    """Without form and thickness each strength is the lowest of the rows, by the table's own rule."""
    low = material(name)
    if low.kind == "metal":
        assert min(r.yield_strength for r in material_rows(name)) == low.yield_strength
        assert min(r.shear_ultimate for r in material_rows(name)) == low.shear_ultimate


def test_galvanic_pair() -> None:
    answer = found("titanium / cadmium plate")
    assert answer["galvanic_pair"]["corrodes"] == "cadmium"
    assert answer["galvanic_pair"]["bare_in_harsh_surroundings"] is False
    assert any("cadmium" in caution for caution in answer["cautions"])
    assert found("galvanic titanium cadmium plate") == answer
    assert found("galvanic Ti-6Al-4V annealed, cad plate") == answer


def test_one_metal_against_every_other() -> None:
    rows = found("galvanic titanium")["beside_other_metals"]
    assert [r["against"] for r in rows] == list(families())


def every_designation() -> dict[str, list[str]]:
    """What the tables hold, by kind."""
    found = defaultdict(list)
    for kind, name in [
        *(("thread", each.basic) for each in threads()),
        *(("bearing", number) for number in bearing_numbers()),
        *(("rod end", name) for name in rod_ends()),
        *(("material", name) for name in canonical_names()),
        *(("stock", size.name) for shape in SHAPES for size in listed(shape)[::7]),
        *(("spherical bearing", f"{r['bore_mm']} mm") for r in read_table("spherical_iso12240_e")),
        *(("circlip", f"{r['side']} {r['nominal_mm']}") for r in read_table("circlips")),
        *(("fit", f"20 {r['fit']}") for r in read_table("iso286_preferred_fits")),
        *(("drill", r["name"]) for r in read_table("drills_named")),
        *(
            ("bolt", name)
            for name in ("AN3-10", "AN6-14A", "NAS6606-14", "M10x1.25x40 10.9 socket")
        ),
    ]:
        found[kind].append(name)
    return found


@pytest.mark.parametrize(("kind", "names"), every_designation().items())
def test_every_row_is_found_and_reads_back(kind, names) -> None:
    """The designation of an answer gives the same answer; no line is wider than 100; figures are finite."""
    for name in names:
        answer = look_up([kind, name])
        again = look_up([kind, answer.designation])
        assert as_json(again) == as_json(answer), name
        assert max(map(len, as_text(answer).splitlines())) <= 100, name
        assert answer.sources, name
        json.loads(as_json(answer), parse_constant=lambda bad: pytest.fail(f"{bad} is no JSON"))


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_the_example_of_each_kind(kind) -> None:
    answer = look_up([kind.name, kind.example])
    assert as_text(answer).startswith(answer.kind)
    for word in kind.others:
        assert as_json(look_up([*word.split(), kind.example])) == as_json(answer)


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("3/8-24 UNF LH", "thread"), ("M10", "thread"), ("10-32", "thread"), ("6202", "bearing"),
        ("R8-2RS", "bearing"), ("15 H7/p6", "fit"), ("5/8 in RC4", "fit"), ("15 H7", "tolerance"),
        ("AXK 1528", "needle thrust bearing"), ("M10 male LH", "rod end"), ("3/8-24 female", "rod end"),
        ("10 mm spherical", "spherical bearing"), ("M8x30 8.8", "bolt"), ("AN6-14", "bolt"),
        ("DIN 472 35", "circlip"), ("ISO 2341 B 8 x 40", "clevis pin"), ("24T 24/48", "spline"),
        ("25 x 2 mm", "stock"), ("hex 7/8 in", "stock"), ("plate 6 mm", "stock"),
        ("4130 normalized", "material"), ("Grade 5", "material"), ("steel / aluminium", "galvanic"),
        ("#7", "drill"), ("letter Q", "drill"),
    ],
)  # fmt: skip
def test_the_kind_may_be_left_out(name, kind) -> None:
    assert look_up(name.split()).kind == kind
    assert as_json(look_up([name])) == as_json(look_up([kind, name]))


@pytest.mark.parametrize(
    ("name", "readings"),
    [
        ("10 mm", ("drill 10 mm", "spherical bearing 10 mm", "circlip DIN 472 10 x 1")),
        ("3/8", ("drill 3/8",)),
        ("8 x 40", ("clevis pin 8 x 40", "spring pin 8 x 40")),
        ("35", ("circlip DIN 472 35 x 1.5", "circlip DIN 471 35 x 1.5")),
    ],
)
def test_what_may_be_several_things_is_refused_with_them(name, readings) -> None:
    with pytest.raises(UnknownDesignation, match="put the kind in front") as refused:
        look_up([name])
    assert set(readings) <= set(refused.value.nearest)
    for reading in refused.value.nearest:
        look_up([reading])


@pytest.mark.parametrize(
    ("name", "near"),
    [
        ("3/8-23 UNF", "3/8-24 UNF"), ("bearing 6212", "6202"), ("6202-XX", "6202-2RS"),
        ("15 H7/q6", "15"), ("Ti-6Al-4V anealed", "Ti-6Al-4V annealed"),
        ("M8x30", "M8x30 8.8"), ("AN6-8", "AN6-7"), ("M10 mael", "M10x1.5 male RH"),
        ("drill 10", "#10"), ("drill 99 mm", "50 mm"), ("circlip 35", "DIN 472 35 x 1.5"),
        ("48 teeth 2.7 in", "48T 16/32 fillet root"), ("galvanic titan / zinc", "titanium"),
        ("beering 6202", "bearing 6202"), ("washer M77", "M36"), ("spline 200T 24/48", "100T 24/48"),
    ],
)  # fmt: skip
def test_a_wrong_designation_names_the_nearest(name, near) -> None:
    with pytest.raises(UnknownDesignation) as refused:
        look_up([name])
    said = str(refused.value)
    assert near in said
    assert said.count("\n") == 0 and len(said) < 700


def test_a_kind_with_nothing_behind_it() -> None:
    with pytest.raises(UnknownDesignation, match="must follow") as refused:
        look_up(["rod", "end"])
    look_up([refused.value.nearest[0]])


def test_what_no_table_holds_is_told_the_kinds() -> None:
    with pytest.raises(UnknownDesignation) as refused:
        look_up(["qqqq"])
    assert all(kind.name in str(refused.value) for kind in KINDS)


@pytest.mark.parametrize("text", ["9" * 500, "M" + "1" * 400, "6202\x1b[31m", "\0", ""])
def test_no_plain_text_is_refused(text) -> None:
    with pytest.raises(UnknownDesignation) as refused:
        look_up([text])
    assert "\x1b" not in str(refused.value)


SCRAPS = st.sampled_from(
    [*(kind.name for kind in KINDS), *(kind.example for kind in KINDS), "M", "x", "/", "-", "mm", "in",
     "0", "0.0", "1/0", "9999999", "teeth", "T", "H7", "LH", "male", "DIN 472", "AN", "#", '"', "ø"]
)  # fmt: skip


@settings(max_examples=80, deadline=None)
@given(st.lists(SCRAPS | st.text(max_size=6), max_size=5), st.sampled_from(["", " "]))
def test_any_text_is_answered_or_refused(scraps, between) -> None:
    """No text makes a look-up fail in another way, and no answer is wider than a terminal."""
    try:
        answer = look_up([between.join(scraps)])
    except UnknownDesignation as refused:
        assert "\n" not in str(refused)
        return
    assert max(map(len, as_text(answer).splitlines())) <= 100
    json.loads(as_json(answer))


@pytest.fixture
def another_series(tmp_path, monkeypatch):
    """The data folder with one more series of bearings, which is a file and nothing else."""
    data = tmp_path / "data"
    shutil.copytree(designation.DATA, data)
    heading = (data / "bearings" / "bearings_60.csv").read_text("utf-8").splitlines()[1]
    (data / "bearings_160.csv").write_text(
        f'{heading}\n16002,,15,32,8,8,0.3,"invented for this test"\n', "utf-8"
    )
    for module in (designation, bearings):
        monkeypatch.setattr(module, "DATA", data)
    caches = (designation.read_table, bearings.series, bearings._table)
    for cached in caches:
        cached.cache_clear()
    yield
    monkeypatch.undo()
    for cached in caches:
        cached.cache_clear()


def test_a_new_series_needs_its_data_file_alone(another_series) -> None:
    answer = look_up(["16002-2RS"])
    assert (answer.kind, answer.designation) == ("bearing", "16002-2RS")
    document = json.loads(as_json(answer))
    assert document["sizes"]["series"] == "160"
    assert document["sizes"]["outside_diameter_mm"] == 32
    assert "invented for this test" in answer.sources


def test_the_new_series_is_gone_again() -> None:
    with pytest.raises(UnknownDesignation):
        look_up(["bearing", "16002"])


@pytest.mark.parametrize(
    ("text", "diameter"),
    [("M10 10.9", 10.0), ("bolt M10 10.9", 10.0), ("M10x1.25 12.9 socket", 10.0), ("3/8-24 grade 8", 9.525),
     ("AN5", 0.312 * 25.4), ("NAS6306", 0.3745 * 25.4)],
)  # fmt: skip
def test_a_bolt_without_its_length_is_shown_as_the_file_of_a_part_takes_it(text, diameter) -> None:
    """Shanks of AN5 and NAS6306 at their greatest: 0.312 and 0.3745 in by their standards, from memory."""
    sizes = found(text)["sizes"]
    assert sizes["shank_largest_mm"] == pytest.approx(diameter, abs=0.02)
    assert "grip_mm" not in sizes and "stack" in sizes["length"]


def test_what_is_tightened_dry_and_oiled_comes_near_the_tables_of_machine_makers() -> None:
    """M8 8.8: 28 N m dry and 22 lubricated in a public table of a machine's manual; M10 10.9: 80 and 63."""
    for text, dry, oiled in (("M8 8.8", 28.0, 22.0), ("M10 10.9", 80.0, 63.0)):
        rows = found(f"torque {text}")[
            "tightened_to_75_of_proof_for_a_bolt_that_is_taken_out_again"
        ]
        assert [row["torque_Nm"] for row in rows] == pytest.approx([dry, oiled], rel=0.15)
        assert rows[0]["may_be_N"] < rows[0]["preload_N"] < rows[0]["up_to_N"]


def test_an_aircraft_nut_is_tightened_by_its_own_table() -> None:
    """5/16-24: 100 to 140 lbf in, AC 43.13-1B Table 7-1, from memory."""
    said = found("torque AN5")["torque_of_the_nut_dry"]
    assert said["nut_in_tension_min_Nm"] == pytest.approx(100 * 0.112985, rel=1e-4)


@pytest.mark.parametrize(
    ("text", "kind", "designation"),
    [
        ("H7 16", "tolerance", "16 H7"), ("H7 at 16 mm", "tolerance", "16 H7"), ("tap M8", "thread", "M8x1.25"),
        ("clearance 3/8 close", "clearance hole", "3/8 close"), ("EN8", "material", "080M40 normalized"),
        ("EN24T", "material", "817M40T +QT"), ("EN16T", "material", "605M36T +QT"),
        ("T45", "material", "T45 cold drawn"),
        ("S275", "material", "S275JR hot rolled"), ("brass", "material", "C36000 H02"), ("acetal", "material", "POM-C"),
        ("PEEK", "material", "PEEK"), ("1.7734", "material", "1.7734"), ("DOM", "material", "DOM"),
        ("mild steel", "material", "mild steel"), ("stainless", "material", "stainless"),
        ("bronze", "material", "bronze"),
    ],
)  # fmt: skip
def test_what_a_builder_types_is_understood(text, kind, designation) -> None:
    answer = look_up([text])
    assert (answer.kind, answer.designation) == (kind, designation)


@pytest.mark.parametrize(
    ("text", "nearest"),
    [("mild steel", "S235JR hot rolled"), ("S45C", "C45 +N"), ("SS400", "A36 hot rolled"), ("E36", "S355J2 hot rolled"),
     ("Fe430", "S275JR hot rolled"), ("1.7734", "15CDV6 Q&T 980 MPa"), ("DOM", "1020 DOM")],
)  # fmt: skip
def test_a_name_of_the_trade_or_of_another_country_leads_to_rows_by_what_it_is(
    text, nearest
) -> None:
    assert nearest in as_text(look_up([text]))
