"""Involute splines against the standards' equations and tables and against drawn geometry."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.standards.designation import UnknownDesignation, read_table
from parts.standards.splines.involute import involute, involute_angle
from parts.standards.splines.splines import inch_spline, module_spline, modules, pitches, spline

# Drawn flanks are chords of 1/400 of the flank: their sagitta stays below a tenth of a micron.
DRAWN = 1e-4
INCH = 25.4

any_spline = st.one_of(
    st.builds(inch_spline, st.integers(8, 100), st.sampled_from(pitches())),
    st.builds(
        inch_spline,
        st.integers(8, 100),
        st.sampled_from([p for p in pitches() if p <= 32]),
        st.just("flat"),
    ),
    st.builds(
        module_spline,
        st.integers(8, 100),
        st.sampled_from(modules()),
        st.sampled_from(["fillet", "flat"]),
    ),
)


@pytest.mark.parametrize(
    ("degrees", "printed"),
    # Machinery's Handbook, Involute Functions, from memory.
    [(14.5, 0.0055448), (20.0, 0.014904), (25.0, 0.029975), (30.0, 0.053751), (45.0, 0.21460)],
)
def test_involute_function(degrees: float, printed: float) -> None:
    assert involute(math.radians(degrees)) == pytest.approx(printed, rel=5e-5)  # five digits


@given(st.floats(1e-6, 1.5))
def test_involute_angle_inverts(angle: float) -> None:
    # Cancellation in tan(a) - a leaves about 1e-16/a**3 of relative error.
    assert involute_angle(involute(angle)) == pytest.approx(angle, rel=1e-9 + 1e-15 / angle**3)


def test_no_angle_below_zero() -> None:
    with pytest.raises(ValueError, match="no pressure angle"):
        involute_angle(-0.01)


@pytest.mark.parametrize(
    ("name", "expected"),
    # ANSI B92.1-1970, equations for basic dimensions, 30 degrees, in inches: (N + k)/P.
    [
        ("24T 24/48 fillet root", [(24, 24), (25.8, 24), (23, 24), (25, 24), (22, 24)]),
        ("24T 24/48 flat root", [(24, 24), (25.35, 24), (23, 24), (25, 24), (22.65, 24)]),
        ("10T 8/16 fillet root", [(10, 8), (11.8, 8), (9, 8), (11, 8), (8.2, 8)]),
        ("36T 48/96 fillet root", [(36, 48), (37.8, 48), (35, 48), (37, 48), (34, 48)]),
    ],
)
def test_basic_dimensions_of_b92_1(name: str, expected: list[tuple[float, float]]) -> None:
    part = spline(name)
    found = (
        part.pitch_diameter,
        part.major_internal,
        part.minor_internal,
        part.major_external,
        part.minor_external,
    )
    assert found == pytest.approx([INCH * above / below for above, below in expected])
    assert part.base_diameter == pytest.approx(part.pitch_diameter * math.sqrt(3) / 2)
    assert part.width == pytest.approx(INCH * math.pi / (2 * part.pitch))


@pytest.mark.parametrize(
    ("name", "clearance_in"), [("16T 48/96", 0.002), ("60T 12/24", 0.005), ("60T 3/6", 0.010)]
)
def test_form_clearance_of_b92_1(name: str, clearance_in: float) -> None:
    """ANSI B92.1: 0.001 D, at least 0.002 in and at most 0.010 in."""
    part = spline(name)
    assert part.form_internal - part.major_external == pytest.approx(2 * clearance_in * INCH)
    assert part.minor_internal - part.form_external == pytest.approx(2 * clearance_in * INCH)


@pytest.mark.parametrize(
    ("name", "machining", "variation"),
    # Machinery's Handbook, "Maximum Tolerances for ... Tolerance Class 5 Splines", in 0.0001 in;
    # from memory.
    [
        ("10T 2.5/5", 15.8, 23.5),
        ("20T 3/6", 17.6, 27.0),
        ("20T 4/8", 16.0, 22.6),
        ("30T 5/10", 17.5, 24.9),
        ("10T 6/12", 12.5, 17.0),
        ("40T 8/16", 17.0, 23.0),
        ("20T 10/20", 13.0, 17.4),
        ("50T 12/24", 16.0, 22.5),
        ("30T 16/32", 13.1, 16.6),
        ("10T 24/48", 11.7, 12.2),
        ("40T 48/96", 13.8, 15.8),
        ("100T 32/64", 18.0, 23.0),
    ],
)
def test_class_5_tolerances(name: str, machining: float, variation: float) -> None:
    widths = spline(name).space_widths(5)
    assert (widths.actual_max - widths.actual_min) / INCH * 1e4 == pytest.approx(machining)
    assert (widths.actual_min - widths.effective_min) / INCH * 1e4 == pytest.approx(variation)
    twice = spline(name).space_widths(7)
    assert twice.actual_max - twice.actual_min == pytest.approx(2 * machining * 1e-4 * INCH)


def test_basic_dimensions_of_iso_4156() -> None:
    """Equations of Machinery's Handbook, Metric Module Involute Splines, worked out by hand."""
    part = spline("20 teeth module 1")
    assert (part.pitch_diameter, part.major_internal, part.major_external) == (20.0, 21.8, 21.0)
    assert part.minor_external == pytest.approx(18.2)
    # (0.5 * 17.3205)^2 + (0.5 * 20 * 0.5 - 0.6/0.5)^2 = 75 + 14.44
    assert part.form_external == pytest.approx(2 * math.sqrt(75 + 3.8**2))
    assert part.minor_internal == pytest.approx(part.form_external + 0.2)
    assert part.form_internal == pytest.approx(21.2)
    assert spline("20T m1 flat").major_internal == pytest.approx(21.5)


def test_iso_total_tolerance_and_variation() -> None:
    """Class 7, 24 teeth of module 2, 24 mm long; Machinery's Handbook 31st ed. p. 2356 Table 16."""
    part = module_spline(24, 2.0)
    widths = part.space_widths(7, length=24.0)
    index = 7.1 * math.sqrt(math.pi * 2 * 24 / 2) + 18
    profile = 6.3 * 2 * (1 + 0.0125 * 24) + 40
    lead = 2.0 * math.sqrt(24.0) + 10
    variation = 0.6e-3 * math.sqrt(index**2 + profile**2 + lead**2)
    assert widths.actual_min - widths.effective_min == pytest.approx(variation)
    i_d = 0.001 * (0.45 * 48 ** (1 / 3) + 0.001 * 48)
    i_e = 0.001 * (0.45 * math.pi ** (1 / 3) + 0.001 * math.pi)
    assert widths.actual_max - widths.effective_min == pytest.approx(40 * i_d + 160 * i_e)


# Machinery's Handbook 31st ed. p. 2356 Table 17: es/tan(alpha) at 30 degrees, fits d, e, f.
PRINTED_30 = """0.035 0.024 0.010; 0.052 0.035 0.017; 0.069 0.043 0.023; 0.087 0.055 0.028;
0.113 0.069 0.035; 0.139 0.087 0.043; 0.173 0.104 0.052; 0.208 0.125 0.062; 0.251 0.147 0.074;
0.294 0.173 0.087; 0.329 0.191 0.097; 0.364 0.217 0.107; 0.398 0.234 0.118; 0.450 0.251 0.132;
0.502 0.277 0.139; 0.554 0.294 0.149"""


def test_thinning_against_the_30_degree_columns() -> None:
    printed = [tuple(map(float, line.split())) for line in PRINTED_30.split(";")]
    for row, columns in zip(read_table("spline_es"), printed, strict=True):
        for fit, value in zip("def", columns, strict=True):
            # Printed to 0.001 mm, es itself rounded to the same.
            assert float(row[f"{fit}_mm"]) / math.tan(math.radians(30)) == pytest.approx(
                value, abs=1.1e-3
            )


def test_fits_grow_looser() -> None:
    part = module_spline(20, 1.25)
    most = [part.tooth_thicknesses(fit).effective_max for fit in "hfed"]
    assert most == sorted(most, reverse=True)
    assert most[0] == part.width
    assert most[0] - most[1] == pytest.approx(0.020)  # f, 18 to 30 mm
    assert part.tooth_thicknesses("h", 5).actual_max < part.space_widths(5).actual_min


@given(any_spline)
def test_designation_round_trip(part) -> None:  # type: ignore[no-untyped-def]
    assert spline(part.designation) == part


@given(any_spline)
def test_diameters_in_order(part) -> None:  # type: ignore[no-untyped-def]
    assert part.minor_external < part.form_external < part.minor_internal < part.pitch_diameter
    assert part.pitch_diameter < part.major_external < part.form_internal < part.major_internal


@given(st.integers(8, 100), st.sampled_from(pitches()), st.floats(0.0, 1.0))
def test_nominal_diameter_names_one_pitch(teeth: int, pitch: float, share: float) -> None:
    """Whatever a shop measures between pitch and outside diameter leads to the same spline."""
    wanted = inch_spline(teeth, pitch)
    size = wanted.pitch_diameter + share * (wanted.major_external - wanted.pitch_diameter)
    assert spline(f"{teeth} teeth {size / INCH:.9f} in") == wanted


@pytest.mark.parametrize(
    ("said", "meant"),
    [
        ("48 teeth 1 in", "48T 48/96 fillet root"),
        ("48-spline 1 in", "48T 48/96 fillet root"),
        ('24 tooth 1" flat root', "24T 24/48 flat root"),
        ("24T 24/48", "24T 24/48 fillet root"),
        ("36 teeth 1-1/8 inch", "36T 32/64 fillet root"),
        ("20 teeth module 1", "20T module 1 fillet root"),
        ("24 teeth 24.5 mm", "24T module 1 fillet root"),
        ("24 teeth 1/2 in", "24T 48/96 fillet root"),
    ],
)
def test_as_the_shop_writes_it(said: str, meant: str) -> None:
    assert spline(said).designation == meant


@pytest.mark.parametrize(
    ("said", "reason", "nearest"),
    [
        ("48 teeth 1.1 in", "no standard spline has that diameter", "48T 48/96 fillet root"),
        ("36 teeth 1-1/4 in", "no standard spline has that diameter", "36T 32/64 fillet root"),
        ("24 teeth 20 mm", "no standard spline has that diameter", "24T module 0.75 fillet root"),
        ("3T 24/48", "6 to 100 teeth", "6T 24/48"),
        ("24T 25/50", "not a standard size", "24T 24/48"),
        ("24T module 1.1", "not a standard size", "24T module 1"),
        ("24T 7/8", "a diameter needs its unit", "24T 6/12"),
        ("24T 48/96 flat root", "flat roots end", "24T 48/96 fillet root"),
        ("24T", "needs a pitch, a module or a diameter", "24T 24/48"),
        ("1 in, 48 teeth", "does not start with a number of teeth", "24T 24/48"),
    ],
)
def test_refused_with_what_stands_nearest(said: str, reason: str, nearest: str) -> None:
    with pytest.raises(UnknownDesignation, match=reason) as caught:
        spline(said)
    assert caught.value.nearest[0] == nearest
    for choice in caught.value.nearest:
        spline(choice)


def test_refused_fits_classes_and_roots() -> None:
    with pytest.raises(UnknownDesignation, match="no such side fit"):
        spline("24T 24/48").tooth_thicknesses("f")
    with pytest.raises(UnknownDesignation, match="classes are 4 to 7"):
        spline("24T 24/48").space_widths(9)
    with pytest.raises(UnknownDesignation, match="roots are fillet and flat"):
        inch_spline(24, 24.0, "round")


def distance_to(outline, x: float) -> float:  # type: ignore[no-untyped-def]
    """Distance from (x, 0) to a drawn line of chords."""
    best = math.inf
    for (ax, ay), (bx, by) in pairwise(outline):
        dx, dy = bx - ax, by - ay
        along = ((x - ax) * dx - ay * dy) / (dx * dx + dy * dy)
        along = min(max(along, 0.0), 1.0)
        best = min(best, math.hypot(ax + along * dx - x, ay + along * dy))
    return best


def seat(outline, pin: float, low: float, high: float) -> float:  # type: ignore[no-untyped-def]
    """Where on the x axis a pin just touches a drawn space that narrows from low to high."""
    for _ in range(60):
        middle = 0.5 * (low + high)
        if distance_to(outline, middle) > 0.5 * pin:
            low = middle
        else:
            high = middle
    return low


@pytest.mark.parametrize("name", ["48 teeth 1 in", "24T 24/48 flat root", "20T m1", "33T 16/32"])
def test_between_pins_against_the_drawn_space(name: str) -> None:
    """A pin pushed into the drawn outline seats where the formula says."""
    part = spline(name)
    pins = part.between_pins()
    drawn = part.internal_space(400).outline(50)
    at = seat(drawn, pins.pin, 0.5 * part.minor_internal, 0.5 * part.major_internal)
    factor = 1.0 if part.teeth % 2 == 0 else math.cos(math.pi / 2 / part.teeth)
    assert 2 * at * factor - pins.pin == pytest.approx(pins.size, abs=DRAWN)


@pytest.mark.parametrize("name", ["48 teeth 1 in", "24T 24/48 flat root", "20T m1", "33T 16/32"])
def test_over_pins_against_the_drawn_tooth(name: str) -> None:
    """The same outside: two involutes unwound from the base circle, a pin dropped between them."""
    part = spline(name)
    pins = part.over_pins()
    base = 0.5 * part.base_diameter
    half_space = math.pi / part.teeth - part.width / part.pitch_diameter
    start = half_space - involute(math.radians(30))  # half-angle of the gap at the base circle
    flank = []
    for step in range(4000):
        roll = 1.2 * step / 3999
        turn = start + roll
        flank.append(
            (
                base * (math.cos(turn) + roll * math.sin(turn)),
                base * (math.sin(turn) - roll * math.cos(turn)),
            )
        )
    low, high = base, 2.0 * part.major_external
    for _ in range(60):  # this space widens outward: the pin falls until it touches
        middle = 0.5 * (low + high)
        low, high = (low, middle) if distance_to(flank, middle) > 0.5 * pins.pin else (middle, high)
    factor = 1.0 if part.teeth % 2 == 0 else math.cos(math.pi / 2 / part.teeth)
    assert 2 * high * factor + pins.pin == pytest.approx(pins.size, abs=DRAWN)


def test_wider_spaces_and_thinner_teeth_move_the_pins() -> None:
    part = spline("48 teeth 1 in")
    basic, widest = part.between_pins(), part.between_pins(part.space_widths(5).actual_max)
    assert widest.size > basic.size
    thin = part.over_pins(part.tooth_thicknesses("h", 5).actual_min)
    assert thin.size < part.over_pins().size


@pytest.mark.parametrize("pin", [0.2, 3.0])
def test_pins_that_miss_the_flank(pin: float) -> None:
    part = spline("48 teeth 1 in")
    with pytest.raises(ValueError, match="choose another pin"):
        part.over_pins(pin=pin)
    with pytest.raises(ValueError, match="choose another pin"):
        part.between_pins(pin=pin)


@given(any_spline)
def test_drawn_space(part) -> None:  # type: ignore[no-untyped-def]
    """Flank, fillet and root meet tangentially and the space is as wide as it should be."""
    space = part.internal_space(9)
    assert math.hypot(*space.flank[0]) == pytest.approx(0.5 * part.minor_internal)
    assert space.touch_radius >= 0.5 * part.form_internal - 1e-9
    assert 0.0 < space.fillet_radius <= part.rack_fillet
    centre = math.atan2(space.root[2][1], space.root[2][0])
    at = 0.5 * part.major_internal - space.fillet_radius
    middle = (at * math.cos(centre), at * math.sin(centre))
    for point in space.fillet:
        assert math.dist(point, middle) == pytest.approx(space.fillet_radius, rel=1e-6)
    # At the pitch circle the half-angle is half the basic width over the pitch radius.
    half = part.flank.half_angle(0.5 * part.pitch_diameter)
    assert half * part.pitch_diameter == pytest.approx(part.width)
    outline = space.outline()
    assert outline[0] == (space.flank[0][0], -space.flank[0][1])
    angles = [math.atan2(y, x) for x, y in outline]
    assert angles[0] < 0.0 < angles[-1]
    assert max(math.hypot(x, y) for x, y in outline) <= 0.5 * part.major_internal + 1e-9


@given(any_spline)
def test_fillet_is_tangent_to_the_flank(part) -> None:  # type: ignore[no-untyped-def]
    space = part.internal_space(400)
    (ax, ay), (bx, by) = space.flank[-2:]
    centre = math.atan2(space.root[2][1], space.root[2][0])
    at = 0.5 * part.major_internal - space.fillet_radius
    to_centre = (at * math.cos(centre) - bx, at * math.sin(centre) - by)
    along = ((bx - ax) * to_centre[0] + (by - ay) * to_centre[1]) / (
        math.hypot(bx - ax, by - ay) * space.fillet_radius
    )
    # The last chord of 400 differs from the tangent by half its turn.
    assert along == pytest.approx(0.0, abs=5e-3)


def test_a_flank_needs_two_points() -> None:
    with pytest.raises(ValueError, match="at least 2 points"):
        spline("24T 24/48").internal_space(1)


@pytest.mark.parametrize(
    ("diameters", "printed"),
    # ISO 4156-1:2005, annex A, examples A.2 to A.5, 25 teeth of module 1, as repeated in print.
    [
        ("base_diameter", 21.6506), ("form_internal", 26.20), ("minor_internal", 24.09),
        ("major_external", 26.00), ("form_external", 23.89),
    ],
)  # fmt: skip
def test_diameters_of_the_examples_of_iso_4156(diameters: str, printed: float) -> None:
    assert getattr(spline("25T module 1 flat root"), diameters) == pytest.approx(printed, abs=5e-3)


@pytest.mark.parametrize(
    ("fit", "tolerance_class", "length", "printed"),
    # The same: actual min and max, effective min and max. H is the internal spline.
    [
        ("H", 5, None, (1.593, 1.626, 1.571, 1.603)),
        ("H", 7, 25.0, (1.620, 1.708, 1.571, 1.660)),
        ("h", 4, None, (1.536, 1.555, 1.552, 1.571)),
        ("e", 6, None, (1.445, 1.498, 1.477, 1.531)),
    ],
)
def test_widths_of_the_examples_of_iso_4156(
    fit: str, tolerance_class: int, length: float | None, printed: tuple[float, ...]
) -> None:
    part = module_spline(25, 1.0)
    if fit == "H":
        widths = part.space_widths(tolerance_class, length)
    else:
        widths = part.tooth_thicknesses(fit, tolerance_class, length)
    found = (widths.actual_min, widths.actual_max, widths.effective_min, widths.effective_max)
    assert found == pytest.approx(printed, abs=0.51e-3)  # three printed places


def test_a_drawn_internal_spline_of_b92_1() -> None:
    """36 teeth 16/32, fillet root side fit, as the data block of a published drawing states it [in]."""
    part = spline("36T 16/32 fillet root")
    found = [part.base_diameter, part.pitch_diameter, part.major_internal, part.form_internal,
             part.minor_internal, part.width]  # fmt: skip
    printed = (1.949, 2.25, 2.363, 2.317, 2.188, 0.0982)
    assert [size / INCH for size in found] == pytest.approx(printed, abs=0.51e-3)
