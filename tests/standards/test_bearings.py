"""Bearings: boundary dimensions, numbers, suffixes, seats; a new series from a data file alone."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.standards.bearings import bearings as shelf
from parts.standards.bearings.bearings import bearing, bearings, flanged_bush, series, thrust_needle
from parts.standards.designation import UnknownDesignation

INCH = 25.4


@pytest.mark.parametrize(
    ("name", "bore", "outside", "width"),
    [
        # Series 6000 and 6200 as in the table bearings.blt of BOLTS (number, bore, outside, width in mm).
        ("6000", 10, 26, 8), ("6001", 12, 28, 8), ("6002", 15, 32, 9), ("6003", 17, 35, 10),
        ("6004", 20, 42, 12), ("6005", 25, 47, 12), ("6006", 30, 55, 13), ("6007", 35, 62, 14),
        ("6008", 40, 68, 15), ("6009", 45, 75, 16), ("6010", 50, 80, 16),
        ("6200", 10, 30, 9), ("6201", 12, 32, 10), ("6202", 15, 35, 11), ("6203", 17, 40, 12),
        ("6204", 20, 47, 14), ("6205", 25, 52, 15), ("6206", 30, 62, 16), ("6207", 35, 72, 17),
        ("6208", 40, 80, 18), ("6209", 45, 85, 19), ("6210", 50, 90, 20),
        # ISO 15, from memory.
        ("608", 8, 22, 7), ("626", 6, 19, 6), ("6300", 10, 35, 11), ("6303", 17, 47, 14),
        ("6305", 25, 62, 17), ("6802", 15, 24, 5), ("6804", 20, 32, 7), ("6806", 30, 42, 7),
        ("6902", 15, 28, 7), ("6904", 20, 37, 9), ("6905", 25, 42, 9), ("6907", 35, 55, 10),
    ],
)  # fmt: skip
def test_metric_boundary_dimensions(name: str, bore: int, outside: int, width: int) -> None:
    part = bearing(name)
    assert (part.bore, part.outside, part.width) == (bore, outside, width)


@pytest.mark.parametrize(
    ("name", "bore", "outside", "width"),
    # Published chart of inch R bearings, sealed or shielded widths, in inches.
    [
        ("R2-ZZ", 0.1250, 0.3750, 0.1562), ("R4-ZZ", 0.2500, 0.6250, 0.1960),
        ("R6-ZZ", 0.3750, 0.8750, 0.2812), ("R8-2RS", 0.5000, 1.1250, 0.3125),
        ("R10-2RS", 0.6250, 1.3750, 0.3438), ("R12-2RS", 0.7500, 1.6250, 0.4375),
        # Open, from memory.
        ("R6", 0.3750, 0.8750, 0.2188), ("R8", 0.5000, 1.1250, 0.2500),
        ("R12", 0.7500, 1.6250, 0.3125), ("R16", 1.0000, 2.0000, 0.3750),
    ],
)  # fmt: skip
def test_inch_boundary_dimensions(name: str, bore: float, outside: float, width: float) -> None:
    part = bearing(name)
    found = (part.bore / INCH, part.outside / INCH, part.width / INCH)
    assert found == pytest.approx((bore, outside, width))


@pytest.mark.parametrize("name", [n for n in bearings() if len(n) == 4 and n[0] == "6"])
def test_bore_code(name: str) -> None:
    """ISO 15 practice: 00, 01, 02, 03 are 10, 12, 15, 17 mm; from 04 on, five times the code."""
    code = int(name[2:])
    assert bearing(name).bore == {0: 10, 1: 12, 2: 15, 3: 17}.get(code, 5 * code)


@pytest.mark.parametrize("name", [n for n in bearings() if n[0] == "R"])
def test_inch_bore_code(name: str) -> None:
    """The number of an R bearing is its bore in sixteenths of an inch."""
    assert bearing(name).bore == pytest.approx(int(name[1:]) * INCH / 16)


@pytest.mark.parametrize("name", bearings())
def test_inner_consistency(name: str) -> None:
    part = bearing(name)
    assert part.bore < part.outside
    assert part.width < 0.6 * (part.outside - part.bore) + 3.0
    assert 2.0 * part.chamfer < 0.5 * (part.outside - part.bore)
    seat = part.abutment()
    assert part.bore < seat.shaft_min <= seat.shaft_max < part.pitch_diameter
    assert part.pitch_diameter < seat.housing_min <= seat.housing_max < part.outside
    assert seat.fillet_max == part.chamfer < seat.chamfer_axial_max
    # The shoulder stands above the ring's largest chamfer, so that a face is left to bear on.
    assert seat.shaft_min - part.bore > seat.chamfer_radial_max
    assert bearing(f"{name}-2RS").width >= part.width


def test_series_grow_in_their_order() -> None:
    """At one bore the outside grows from series 68 over 69, 60, 62 to 63."""
    for code in range(11):
        outsides = [bearing(f"{s}{code:02d}").outside for s in ("68", "69", "60", "62", "63")]
        assert outsides == sorted(outsides)
        assert len(set(outsides)) == 5


@pytest.mark.parametrize(
    ("name", "dynamic_kn", "static_kn"),
    # Common catalogue ratings, from memory. Generic ratings lie below them, by a third at most.
    [
        ("6202", 7.8, 3.75), ("6204", 13.5, 6.55), ("6205", 14.0, 7.8), ("6005", 11.9, 6.55),
        ("6305", 22.5, 11.6), ("6008", 17.8, 11.0), ("6902", 4.36, 2.24),
    ],
)  # fmt: skip
def test_generic_ratings(name: str, dynamic_kn: float, static_kn: float) -> None:
    dynamic, static = bearing(name).generic_ratings()
    assert 0.66 * dynamic_kn < dynamic / 1e3 <= dynamic_kn
    assert 0.66 * static_kn < static / 1e3 <= static_kn


def test_no_rating_outside_the_estimate() -> None:
    assert all(math.isnan(value) for value in bearing("6300").generic_ratings())


@pytest.mark.parametrize(
    ("name", "shaft", "housing"),
    # Catalogue abutments: 6300 da min 14.2 and Da max 30.8, 6301 da 17.6 and Da 31.4; 6000 da 12.
    [("6300", 14.2, 30.8), ("6301", 17.6, 31.4), ("6000", 12.0, 24.0)],
)
def test_abutments(name: str, shaft: float, housing: float) -> None:
    seat = bearing(name).abutment()
    assert (seat.shaft_min, seat.housing_max) == pytest.approx((shaft, housing))


@pytest.mark.parametrize(("name", "ring"), [("6300", 17.7), ("6301", 19.5)])
def test_ring_estimate_stays_on_the_ring(name: str, ring: float) -> None:
    """The inner ring's land measures 17.7 and 19.5 mm in a catalogue: the estimate stays within."""
    estimate = bearing(name).abutment().shaft_max
    assert ring - 0.5 < estimate <= ring


@given(
    st.sampled_from(bearings()),
    st.sampled_from(["", "2RS", "RS", "ZZ", "2Z", "Z", "2RS-C3", "ZZ-C3", "C3"]),
    st.sampled_from(["-", " ", "", "/"]),
)
def test_designation_round_trip(number: str, suffix: str, joint: str) -> None:
    # Without a joint "6202" + "2RS" reads as another number; the shop always sets one there.
    joint = joint or ("-" if suffix[:1].isdigit() else "")
    part = bearing(f"{number}{joint}{suffix}")
    assert part.number == number
    assert part.suffix == suffix
    assert bearing(part.designation) == part


def test_iso_names_of_thin_series() -> None:
    assert bearing("61802") == bearing("6802")
    assert bearing("61902-2RS").designation == "6902-2RS"
    assert bearing("6202").closure == "open"
    assert bearing("6202-2RS").closure == "seal"
    assert bearing("6202 zz").closure == "shield"


@pytest.mark.parametrize(
    ("said", "reason", "nearest"),
    [
        ("6222", "none of the series", "6202"),
        ("R7", "none of the series", "R2"),
        ("6202-XX", "suffix XX is not known", "6202-2RS"),
        ("6202-2RZ", "suffix 2RZ is not known", "6202-2Z"),
        ("bearing", "none of the series", "6202"),
    ],
)
def test_refused_with_what_stands_nearest(said: str, reason: str, nearest: str) -> None:
    with pytest.raises(UnknownDesignation, match=reason) as caught:
        bearing(said)
    assert nearest in caught.value.nearest
    for choice in caught.value.nearest:
        bearing(choice)


def test_fits() -> None:
    assert bearing("6202").fits() == ("j5", "H7")
    assert bearing("6205").fits("inner rotates") == ("k5", "H7")
    assert bearing("6205").fits("outer rotates") == ("g6", "N7")
    with pytest.raises(UnknownDesignation, match="which ring turns"):
        bearing("6205").fits("both")  # type: ignore[arg-type]


def test_a_seventh_series_is_a_data_file(tmp_path, monkeypatch) -> None:  # type: ignore[no-untyped-def]
    """A file laid into the data folder is found by its name; no code knows the series."""
    import shutil

    from parts.standards import designation

    folder = tmp_path / "data"
    shutil.copytree(designation.DATA, folder)
    (folder / "bearings_64.csv").write_text(
        "number,also,bore_mm,outside_mm,width_mm,sealed_width_mm,r_min_mm,source\n"
        "6405,,25,80,21,21,1.5,ISO 15\n"
    )
    assert "64" not in series()
    for module in (designation, shelf):
        monkeypatch.setattr(module, "DATA", folder)
    caches = (shelf.series, shelf._table, designation.read_table)
    try:
        for cached in caches:
            cached.cache_clear()
        assert shelf.series() == ("60", "62", "63", "64", "68", "69", "R")
        part = bearing("6405-2RS")
        assert (part.bore, part.outside, part.width, part.series) == (25, 80, 21, "64")
    finally:
        for cached in caches:
            cached.cache_clear()


@pytest.mark.parametrize(
    ("name", "bore", "outside", "cage", "thick"),
    # ISO 3031 AXK cages and LS washers, from memory.
    [
        ("AXK 0619", 6, 19, 2, 2.75), ("AXK 0821", 8, 21, 2, 2.75), ("AXK1024", 10, 24, 2, 2.75),
        ("AXK1226", 12, 26, 2, 2.75), ("AXK 1528", 15, 28, 2, 2.75), ("AXK1730", 17, 30, 2, 2.75),
        ("AXK2035", 20, 35, 2, 2.75), ("AXK2542", 25, 42, 2, 3), ("AXK3047", 30, 47, 2, 3),
        ("AXK3552", 35, 52, 2, 3.5), ("AXK4060", 40, 60, 3, 3.5),
    ],
)  # fmt: skip
def test_thrust_needles(name: str, bore: int, outside: int, cage: float, thick: float) -> None:
    part = thrust_needle(name)
    assert (part.bore, part.outside, part.cage) == (bore, outside, cage)
    assert part.stack() == cage + 2.0
    assert part.stack(("LS", "none")) == cage + thick
    assert thrust_needle(part.designation) == part
    assert thrust_needle(f"{bore} x {outside}") == part
    assert thrust_needle(f"AS {bore:02d}{outside}") == part


def test_thrust_needles_refused() -> None:
    with pytest.raises(UnknownDesignation, match="no such size") as caught:
        thrust_needle("AXK 1629")
    assert caught.value.nearest[0] == "AXK 1528"
    with pytest.raises(UnknownDesignation, match="no bore and outside"):
        thrust_needle("thin one")
    with pytest.raises(UnknownDesignation, match="none of them"):
        thrust_needle("15 mm").stack(("AS", "GS"))


@pytest.mark.parametrize(
    ("name", "outside", "rim", "flange"),
    # ISO 4379 form F series 2, from memory.
    [
        ("6 x 6", 12, 14, 3), ("8 x 10", 14, 18, 3), ("10 x 10", 16, 20, 3), ("12 x 15", 18, 22, 3),
        ("14 x 20", 20, 25, 3), ("15 x 20", 21, 27, 3), ("16 x 20", 22, 28, 3),
        ("18 x 20", 24, 30, 3), ("20 x 20", 26, 32, 3), ("25 x 30", 32, 38, 4),
        ("30 x 40", 38, 44, 4),
    ],
)  # fmt: skip
def test_flanged_bushes(name: str, outside: int, rim: int, flange: int) -> None:
    part = flanged_bush(name)
    assert (part.outside, part.flange_diameter, part.flange) == (outside, rim, flange)
    assert part.bore < part.outside < part.flange_diameter
    assert flanged_bush(part.designation) == part


def test_flanged_bushes_refused() -> None:
    assert flanged_bush("12 mm").length == 10
    with pytest.raises(UnknownDesignation, match="no such bore") as caught:
        flanged_bush("13 x 20")
    assert caught.value.nearest
    with pytest.raises(UnknownDesignation, match="not made 17 mm long") as caught:
        flanged_bush("12 x 17")
    assert caught.value.nearest[0] == "12 x 15"
    with pytest.raises(UnknownDesignation, match="bore x length"):
        flanged_bush("half inch")
