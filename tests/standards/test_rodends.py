"""Rod ends: tables against their own geometry, designations, spacers and jam nuts."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.standards.designation import UnknownDesignation, read_table
from parts.standards.rod_ends.rod_ends import BODY_YIELD, jam_nut, rod_end, rod_ends, spherical

INCH = 25.4
METRIC = read_table("rod_ends_metric")
INCHES = read_table("rod_ends_inch")
SERIES_E = read_table("spherical_iso12240_e")


@pytest.mark.parametrize("row", METRIC, ids=lambda row: row["bore_mm"])
def test_metric_angle_agrees_with_ball_and_widths(row) -> None:  # type: ignore[no-untyped-def]
    """The tabulated angle is asin(B/dk) - asin(C/dk), cut to whole degrees."""
    ball = float(row["ball_diameter_mm"])
    angle = math.degrees(
        math.asin(float(row["ball_width_mm"]) / ball)
        - math.asin(float(row["head_width_mm"]) / ball)
    )
    assert math.floor(angle) == int(row["angle_deg"])


@pytest.mark.parametrize("row", SERIES_E, ids=lambda row: row["bore_mm"])
def test_series_e_angle_agrees_with_ball_and_widths(row) -> None:  # type: ignore[no-untyped-def]
    part = spherical(row["bore_mm"])
    assert math.floor(math.degrees(part.swing)) == int(row["angle_deg"])
    # The flat face of the ball leaves a wall round the bore.
    assert math.sqrt(part.ball_diameter**2 - part.ball_width**2) > part.bore
    assert part.ball_diameter < part.outside


@pytest.mark.parametrize("row", INCHES, ids=lambda row: row["size"])
def test_inch_total_angle_agrees_with_the_head(row) -> None:  # type: ignore[no-untyped-def]
    """The tabulated total is 2 (asin(W/D) - asin(H/D)), to a degree (0.6: its inputs)."""
    part = rod_end(f"{row['size']} male")
    total = 2.0 * math.degrees(part.swing_between(part.ball_width))
    assert total == pytest.approx(float(row["total_angle_deg"]), abs=0.6)


@pytest.mark.parametrize("name", rod_ends())
def test_sizes_hang_together(name: str) -> None:
    part = rod_end(name)
    assert part.bore < part.face_diameter < part.ball_diameter < part.head_diameter
    assert part.head_width < part.ball_width
    assert 0.0 < part.thread_length < part.length
    # The eye and the thread's end do not overlap.
    assert part.length - part.thread_length > 0.5 * part.ball_diameter
    assert part.thread.major >= part.bore - 1e-6 or part.size == "25"  # 25 mm has an M24 shank
    assert part.jam_nut().across_flats > part.thread.major


@pytest.mark.parametrize(
    ("name", "bore", "width", "head", "length"),
    # ISO 12240-4 series K (male h) and common inch catalog sizes, from memory.
    [
        ("M5 male", 5, 8, 18, 33),
        ("M6 male", 6, 9, 20, 36),
        ("M8 male", 8, 12, 24, 42),
        ("M10 male", 10, 14, 28, 48),
        ("M12 male", 12, 16, 32, 54),
        ("M16 male", 16, 21, 42, 66),
        ("M20 male", 20, 25, 50, 78),
        ("M10 female", 10, 14, 28, 43),
        ("M12 female", 12, 16, 32, 50),
        ("1/4-28 male", 0.25 * INCH, 0.375 * INCH, 0.75 * INCH, 1.562 * INCH),
        ("3/8-24 male", 0.375 * INCH, 0.5 * INCH, 1.0 * INCH, 1.938 * INCH),
        ("1/2-20 male", 0.5 * INCH, 0.625 * INCH, 1.312 * INCH, 2.438 * INCH),
    ],
)
def test_printed_sizes(name: str, bore: float, width: float, head: float, length: float) -> None:
    part = rod_end(name)
    found = (part.bore, part.ball_width, part.head_diameter, part.length)
    assert found == pytest.approx((bore, width, head, length))


@given(st.sampled_from(rod_ends()), st.sampled_from(["RH", "LH"]))
def test_designation_round_trip(name: str, hand: str) -> None:
    part = rod_end(f"{name.removesuffix(' RH')} {hand}")
    assert rod_end(part.designation) == part
    assert part.hand == ("left" if hand == "LH" else "right")


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("M10 male LH", "M10x1.5 male LH"),
        ("m10x1.25 female", "M10x1.25 female RH"),
        ("10 mm male", "M10x1.5 male RH"),
        ("25 mm female", "M24x2 female RH"),
        ("3/8-24 male", "3/8-24 male RH"),
        ("3/8-24 UNF male left hand", "3/8-24 male LH"),
        ("3/8 male RH", "3/8-24 male RH"),
        ('rod end 3/8" male', "3/8-24 male RH"),
        ("1 in male", "1-1/4-12 male RH"),
        ("3/16 male L.H.", "10-32 male LH"),
    ],
)
def test_as_the_shop_writes_it(said: str, meant: str) -> None:
    assert rod_end(said).designation == meant


@pytest.mark.parametrize(
    ("said", "reason", "nearest"),
    [
        ("M10 LH", "male or female", "M10x1.5 male LH"),
        ("11/32 male", "not made", "3/8-24 male RH"),
        ("M7 female", "not made", "M6x1 female RH"),
        ("9.5 mm male", "not made", "M10x1.5 male RH"),
        ("5/8 female", "no female rod end", "5/8-18 male RH"),
        ("3/8-16 male", "no shank thread and no bore", "3/4-16 male RH"),
        ("balljoint", "no shank thread and no bore", "3/8-24 male RH"),
        ("M10 male female", "two hands or two genders", "M10 female RH"),
        ("M10 male RH LH", "two hands or two genders", "M10 male LH"),
    ],
)
def test_refused_with_what_stands_nearest(said: str, reason: str, nearest: str) -> None:
    with pytest.raises(UnknownDesignation, match=reason) as caught:
        rod_end(said)
    assert caught.value.kind == "rod end"
    assert caught.value.nearest[0] == nearest
    for choice in caught.value.nearest:
        rod_end(choice)


@given(st.sampled_from(rod_ends()), st.floats(1.0, 3.0), st.floats(1.0, 1.5))
def test_wider_clevis_never_swings_less(name: str, wide: float, wider: float) -> None:
    part = rod_end(name)
    gap = part.ball_width * wide
    assert part.swing_between(gap * wider) >= part.swing_between(gap)
    assert part.swing_between(gap) <= part.swing + 1e-12


def test_spacers_open_the_swing() -> None:
    part = rod_end("1/2-20 male")
    bare = part.swing_between(part.ball_width)
    assert bare < part.swing_between(38.1) == pytest.approx(part.swing)
    small = part.swing_between(38.1, shoulder=12.7)
    assert small > part.swing


def test_ears_closer_than_the_ball() -> None:
    with pytest.raises(ValueError, match="the ears stand"):
        rod_end("3/8 male").swing_between(12.0)


def test_static_load_is_the_least_of_three_sections() -> None:
    part = rod_end("3/8-24 male")
    root = part.thread.minor_external
    shank = math.pi / 4 * root**2
    head = (1.0 - 0.719) * 0.406 * INCH**2
    race = 0.719 * 0.406 * INCH**2
    assert part.static_radial("alloy") == pytest.approx(
        min(shank, head, race) * BODY_YIELD["alloy"]
    )
    assert part.static_radial() < part.static_radial("alloy")
    with pytest.raises(UnknownDesignation, match="generic bodies") as caught:
        part.static_radial("cheese")
    assert caught.value.nearest == ("alloy", "low-carbon")


@pytest.mark.parametrize(
    ("bore", "outside", "ball", "ring"),
    # ISO 12240-1 series E, from memory.
    [
        (4, 12, 5, 3), (5, 14, 6, 4), (6, 14, 6, 4), (8, 16, 8, 5), (10, 19, 9, 6),
        (12, 22, 10, 7), (15, 26, 12, 9), (17, 30, 14, 10), (20, 35, 16, 12), (25, 42, 20, 16),
        (30, 47, 22, 18), (40, 62, 28, 22),
    ],
)  # fmt: skip
def test_spherical_series_e(bore: int, outside: int, ball: int, ring: int) -> None:
    part = spherical(f"{bore} mm spherical")
    assert (part.outside, part.ball_width, part.ring_width) == (outside, ball, ring)
    assert spherical(part.designation) is part


def test_spherical_refused() -> None:
    with pytest.raises(UnknownDesignation, match="no bore of 11 mm") as caught:
        spherical("ISO 12240-1 E 11")
    assert caught.value.nearest[:2] == ("ISO 12240-1 E 10", "ISO 12240-1 E 12")
    with pytest.raises(UnknownDesignation, match="a bore in mm"):
        spherical("big one")


@pytest.mark.parametrize(
    ("name", "flats", "height"),
    # ISO 4035 (s, m max) as in iso4035def.csv of an open set of fastener tables; ASME B18.2.2 jam nuts from memory.
    [
        ("M5", 8, 2.7), ("M6", 10, 3.2), ("M8", 13, 4), ("M10 LH", 16, 5), ("M12x1.25", 18, 6),
        ("M16", 24, 8), ("M20x1.5", 30, 10),
        ("1/4-28", 7 / 16 * INCH, 0.163 * INCH), ("5/16-24", 1 / 2 * INCH, 0.195 * INCH),
        ("3/8-24 LH", 9 / 16 * INCH, 0.227 * INCH), ("1/2-20", 3 / 4 * INCH, 0.323 * INCH),
        ("5/8-18", 15 / 16 * INCH, 0.387 * INCH), ("3/4-16", 9 / 8 * INCH, 0.446 * INCH),
    ],
)  # fmt: skip
def test_jam_nuts(name: str, flats: float, height: float) -> None:
    nut = jam_nut(name)
    assert (nut.across_flats, nut.height) == pytest.approx((flats, height))
    assert nut.thread.hand == ("left" if "LH" in name else "right")


@pytest.mark.parametrize(("name", "nearest"), [("8-32", "10"), ("M33", "M30")])
def test_jam_nut_refused(name: str, nearest: str) -> None:
    with pytest.raises(UnknownDesignation, match="no such size") as caught:
        jam_nut(name)
    assert caught.value.nearest[0] == nearest


def test_reading_a_rod_end_does_not_wait_for_numpy() -> None:
    import subprocess
    import sys

    code = (
        "import sys; from parts.standards.rod_ends.rod_ends import rod_end; rod_end('3/8-24 male LH'); "
        "sys.exit(any(m in sys.modules for m in ('numpy', 'pydantic', 'pint', 'cadquery')))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
