"""Dimensions as the shop writes them, held to published factors and to pint's."""

import math
import subprocess
import sys
from fractions import Fraction

import jsonschema
import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel, Field, TypeAdapter, ValidationError

from parts.inputs import units
from parts.inputs.quantities import (
    Angle,
    Force,
    ForceVector,
    Length,
    Mass,
    Moment,
    MomentVector,
    NonNegativeLength,
    Point2,
    Point3,
    PositiveLength,
    PositiveRatio,
    Ratio,
    Stress,
    Units,
    as_fraction,
    show,
)

INCH = 25.4


def take(kind, value, **context):
    return TypeAdapter(kind).validate_python(value, context=context or None)


def refusal(kind, value, **context):
    with pytest.raises(ValidationError) as caught:
        take(kind, value, **context)
    return [error["msg"] for error in caught.value.errors()]


@pytest.mark.parametrize(
    ("written", "mm"),
    [
        ("12 mm", 12.0),
        ("12mm", 12.0),
        ("  12.50   mm ", 12.5),
        (".5 mm", 0.5),
        ("5. mm", 5.0),
        ("1.2e2 mm", 120.0),
        ("+3 mm", 3.0),
        ("-3 mm", -3.0),
        ("−3 mm", -3.0),
        ("0.375 in", 9.525),
        ("3/8 in", 9.525),
        ("-3/8 in", -9.525),
        ("1-1/4 in", 31.75),
        ("-1-1/4 in", -31.75),
        ("1 1/4 in", 31.75),
        ('1-1/4"', 31.75),
        ('3/8"', 9.525),
        ("3/8″", 9.525),
        ("3/8 in.", 9.525),
        ("2 inches", 50.8),
        ("1/3 in", INCH / 3),
        ("2 ft", 609.6),
        ("2'", 609.6),
        ("10 thou", 0.254),
        ("10 mil", 0.254),
        ("2.5 cm", 25.0),
        ("0.3 m", 300.0),
        ("50 um", 0.05),
    ],
)
def test_lengths_as_the_shop_writes_them(written, mm):
    assert take(Length, written) == mm


@given(
    whole=st.integers(0, 10_000),
    over=st.integers(0, 127),
    under=st.integers(1, 128),
    sign=st.sampled_from([1, -1]),
)
def test_any_mixed_fraction_prints_and_reads_back(whole, over, under, sign):
    inches = sign * (whole + Fraction(over, under))
    # Exact arithmetic up to one rounding, so the result is the float nearest to the exact one.
    assert take(Length, as_fraction(inches)) == float(inches * Fraction(254, 10))


@given(st.floats(-1e6, 1e6), st.sampled_from(["mm", "in", "ft", "cm", "thou"]))
def test_a_bare_number_means_the_same_as_the_number_with_its_unit(number, unit):
    assert take(Length, number, units=Units(length=unit)) == take(Length, f"{number!r} {unit}")


def test_fractions_print_as_on_a_drawing():
    said = [as_fraction(Fraction(n, 8)) for n in (10, -3, 16, 0, -11)]
    assert said == ["1-1/4 in", "-3/8 in", "2 in", "0 in", "-1-3/8 in"]


# NIST Special Publication 811 (2008), appendix B.8: factors to SI, printed to seven figures. The
# figures stand here from memory; they follow from the exact definitions in the same appendix.
NIST_SP_811 = [
    (Force, "1 lbf", 4.448222),
    (Force, "1 kip", 4.448222e3),
    (Force, "1 kgf", 9.80665),
    (Moment, "1 lbf ft", 1.355818e3),
    (Moment, "1 lbf in", 1.129848e2),
    (Moment, "1 kgf m", 9.80665e3),
    (Stress, "1 psi", 6.894757e-3),
    (Stress, "1 ksi", 6.894757),
    (Mass, "1 lb", 0.45359237),
    (Mass, "1 oz", 2.834952e-2),
    (Length, "1 in", 25.4),
    (Length, "1 ft", 304.8),
    (Length, "1 mil", 0.0254),
]


@pytest.mark.parametrize(("kind", "written", "printed"), NIST_SP_811)
def test_factors_agree_with_those_published(kind, written, printed):
    # The table rounds to seven figures: half a unit of the seventh is at most 5e-7 of the value.
    assert take(kind, written) == pytest.approx(printed, rel=5e-7)


PINT = {"length": "mm", "force": "N", "moment": "N*mm", "stress": "MPa", "mass": "kg"}
# pint knows `mil` as another unit, and the marks of inch and foot not at all.
SPELLED = {"mil": "thou", '"': "inch", "″": "inch", "”": "inch", "in.": "inch", "'": "foot",
           "′": "foot", "’": "foot", "mils": "thou", "N/mm2": "N/mm^2", "Nm": "N*m", "Nmm": "N*mm",
           "kNm": "kN*m", "Msi": "1e6*psi"}  # fmt: skip


def test_every_unit_has_the_factor_that_pint_gives_it():
    registry = pint.UnitRegistry()
    for kind in units.KINDS[:5]:
        inside = registry(PINT[kind.name])
        for unit, factor in kind.factors.items():
            theirs = registry(SPELLED.get(unit, unit)).to(inside.units).magnitude
            # pint multiplies several floats, each rounded.
            assert float(factor) == pytest.approx(theirs, rel=1e-14), unit


@pytest.mark.parametrize("force", ["N", "kN", "lbf", "kgf"])
@pytest.mark.parametrize("length", ["mm", "m", "in", "ft"])
@pytest.mark.parametrize("pattern", ["{f} {l}", "{l} {f}", "{f}*{l}", "{l}-{f}", "{f}·{l}"])
def test_a_moment_is_any_force_times_any_length(force, length, pattern):
    written = pattern.format(f=force, l=length)
    expected = take(Force, f"1 {force}") * take(Length, f"1 {length}")
    assert take(Moment, f"3 {written}") == pytest.approx(3 * expected, rel=1e-15)


@pytest.mark.parametrize(
    ("kind", "written", "inside"),
    [
        (Force, "2.5 kN", 2500.0),
        (Moment, "30 Nm", 30_000.0),
        (Stress, "0.2 GPa", 200.0),
        (Stress, "200 N/mm2", 200.0),
        (Mass, "250 g", 0.25),
        (Force, "250 lbf", 250 * 4.4482216152605),
        (Stress, "90 ksi", float(90_000 * Fraction("4.4482216152605") / Fraction("25.4") ** 2)),
        (Angle, "30 deg", math.radians(30)),
        (Angle, "30°", math.radians(30)),
        (Angle, "0.5 rad", 0.5),
        (Angle, 30, math.radians(30)),
        (Angle, "30", math.radians(30)),
        (Ratio, 1.25, 1.25),
        (Ratio, "3/4", 0.75),
    ],
)
def test_other_quantities(kind, written, inside):
    assert take(kind, written) == inside


@pytest.mark.parametrize(
    ("kind", "written", "inside"),
    # By definition: NIST SP 811 (2008), appendix B.8; the arc minute and the gon by ISO 80000-3.
    [
        (Length, "1-1/4 yd", 1.25 * 914.4),
        (Length, "2 dm", 200.0),
        (Length, "50 micron", 0.05),
        (Length, "1 mile", 1_609_344.0),
        (Force, "1e5 dyn", 1.0),
        (Force, "12 ozf", 0.75 * 4.4482216152605),
        (Moment, "16 ozf in", 4.4482216152605 * 25.4),
        (Moment, "10 kgf cm", 980.665),
        (Stress, "10 bar", 1.0),
        (Stress, "1 kgf/cm2", 0.0980665),
        (Stress, "1 kgf/mm^2", 9.80665),
        (Stress, "1 kN/mm²", 1000.0),
        (Stress, "1 lbf/in^2", 6.894757293168361e-3),
        (Mass, "1.5 t", 1500.0),
        (Mass, "2 stone", 28 * 0.45359237),
        (Angle, "90 arcmin", math.radians(1.5)),
        (Angle, "1/4 turn", math.pi / 2),
        (Angle, "100 gon", math.pi / 2),
        (Angle, "5 mrad", 0.005),
    ],
)
def test_units_that_only_pint_knows(kind, written, inside):
    # pint and the turn to radians round a few times.
    assert take(kind, written) == pytest.approx(inside, rel=1e-14)
    assert take(Length, 2, units=Units(length="yd")) == 2 * 914.4


PREFIXES = ("p", "n", "f", "k", "M", "c", "d", "h", "G", "da", "m", "pico", "kilo", "mega")
SHOP = (
    (Length, "in"), (Length, "inch"), (Length, "ft"), (Length, "foot"), (Length, "yd"),
    (Force, "lbf"), (Stress, "psi"), (Mass, "lb"), (Mass, "oz"), (Mass, "slug"), (Angle, "deg"),
)  # fmt: skip


@given(st.floats(0.01, 100), st.sampled_from(PREFIXES), st.sampled_from(SHOP))
def test_no_prefix_stands_before_a_unit_of_the_shop(number, prefix, unit):
    kind, name = unit
    try:
        found = take(kind, f"{number} {prefix}{name}")
    except ValidationError:
        return
    # What is read all the same is a word of its own, as in `kip`, and never a thousand times or so of the unit.
    whole = take(kind, f"{number} {name}")
    assert not any(
        found == pytest.approx(whole * 10.0**n) for n in (-12, -9, -3, -2, -1, 1, 2, 3, 6)
    )


KINDS_OF = dict(
    zip(
        (kind.name for kind in units.KINDS),
        (Length, Force, Moment, Stress, Mass, Angle),
        strict=True,
    )
)


@given(
    st.text("abcdefghijklmnopqrstuvwxyzNMPG*/^ 2", min_size=1, max_size=8),
    st.sampled_from(list(KINDS_OF)),
)
def test_any_word_for_a_unit_is_read_as_pint_reads_it_or_refused_in_one_message(unit, kind):
    try:
        found = take(KINDS_OF[kind], f"7 {unit}")
    except ValidationError as caught:
        [error] = caught.errors()
        assert "; " in error["msg"] and "\n" not in error["msg"]
        return
    asked = " ".join(unit.split())
    if units.kind_of(asked) or not asked:
        return
    inside = {**PINT, "angle": "radian"}[kind]
    squared = asked[:-1] + "**2" if asked.endswith("2") and asked[-2] not in "*^" else asked
    theirs = pint.application_registry.get()(f"7 {squared.replace(' ', '*')}").to(inside).magnitude
    assert found == pytest.approx(theirs, rel=1e-12)


def test_pint_is_asked_only_for_what_the_table_does_not_hold():
    """It costs more than reading a file."""
    read = "from pydantic import TypeAdapter as T; from parts.inputs.quantities import Length; import sys; "
    for written, asked in (("3/8 in", False), ("2 yd", True)):
        run = f"{read}T(Length).validate_python({written!r}); print('pint' in sys.modules)"
        found = subprocess.run(
            [sys.executable, "-c", run], capture_output=True, text=True, check=True
        )
        assert found.stdout.strip() == str(asked)


WRITE = "write a length, as in `12 mm` or `3/8 in`"
NOT_ONE = f"is not one number with one unit; work it out first, then {WRITE}"
WRITE_MOMENT = "write a moment, as in `30 N m` or `22 lbf ft`"
WRITE_ANGLE = "write an angle, as in `30 deg` or `0.5 rad`"
WRITE_RATIO = "write a ratio, as in `1.5` or `0.25`"
POUNDS = "pounds of force are `lbf`: write"
NO_PART = "which no part is measured in"
FORCES = "a force is in N, kN, lbf, kip, kgf"
MOMENTS = "a moment is in N m, N mm, lbf ft, lbf in"
STRESSES = "a stress is in MPa, GPa, psi, ksi"
ANGLES = "an angle is in deg, rad"
LENGTHS = "a length is in mm, cm, m, in, ft, thou"
MASSES = "a mass is in kg, g, lb, oz"


@pytest.mark.parametrize(
    ("kind", "written", "message"),
    [
        (Length, "12 kg", f"`12 kg` is a mass, not a length; {WRITE}"),
        (Moment, "30 N", "`30 N` is a force, not a moment; " + WRITE_MOMENT),
        (Force, "250 lb", f"`250 lb` is a mass, not a force; {POUNDS} `250 lbf`"),
        (Moment, "30 ft lb", f"`ft lb` is no unit known here; {POUNDS} `30 ft lbf`"),
        (Angle, "30 mm", f"`30 mm` is a length, not an angle; {WRITE_ANGLE}"),
        (Ratio, "2 mm", f"`2 mm` has a unit, and this is a plain number; {WRITE_RATIO}"),
        (Length, "12 MM", f"`MM` is no unit known here; nearest is `mm`; {LENGTHS}"),
        (Length, "12 nm", f"`nm` reads as nano meter, {NO_PART}; did you mean `12 mm`? {LENGTHS}"),
        (Length, "5 px", f"`px` reads as pixel, {NO_PART}; did you mean `5 mm`? {LENGTHS}"),
        (Mass, "500 gr", f"`gr` reads as grain, {NO_PART}; did you mean `500 g`? {MASSES}"),
        (Length, "12 pin", f"`pin` reads as pico inch, {NO_PART}; did you mean `12 in`? {LENGTHS}"),
        (Length, "-1-1/4 pin",
         f"`pin` reads as pico inch, {NO_PART}; did you mean `-1-1/4 in`? {LENGTHS}"),
        (Length, "12 M", f"`M` is no unit known here; nearest is `m`; {LENGTHS}"),
        (Force, "12 n", f"`n` is no unit known here; nearest is `N`; {FORCES}"),
        (Length, "12 q", f"`q` is no unit known here; {LENGTHS}"),
        (Length, "12 Mm", f"`Mm` is no unit known here; nearest is `mm`; {LENGTHS}"),
        (Length, "12 mmm", f"`mmm` is no unit known here; nearest is `mm`; {LENGTHS}"),
        (Length, "12 angstrom", f"`angstrom` is no unit for the size of a part; {LENGTHS}"),
        (Length, "12 sec", f"`sec` is a time; {LENGTHS}"),
        (Length, "12 mm2", f"`mm2` is an area; {LENGTHS}"),
        (Length, "12 pt", f"`pt` is a volume; {LENGTHS}"),
        (Length, "12 m/m", f"`m/m` is a plain number; {LENGTHS}"),
        (Length, "12 percent", f"`percent` is a plain number; {LENGTHS}"),
        (Length, "12 degC", f"`degC` has a zero of its own and is no size; {LENGTHS}"),
        (Length, "12 m**2**9", f"`12 m**2**9` is not a length; {WRITE}"),
        (Force, "12 klbf", f"`klbf` reads as kilo force pound, {NO_PART}; did you mean `12 lbf`? {FORCES}"),
        (Force, "12 mN", f"`mN` reads as milli newton, {NO_PART}; did you mean `12 N`? {FORCES}"),
        (Force, "12 KN", f"`KN` is no unit known here; nearest is `kN`; {FORCES}"),
        (Force, "2 tonne", f"`tonne` is a mass; {FORCES}"),
        (Moment, "12 kJ", f"`kJ` is an energy; {MOMENTS}"),
        (Moment, "12 BTU", f"`BTU` is an energy; {MOMENTS}"),
        (Stress, "12 N/mm", f"`N/mm` is of another kind; {STRESSES}"),
        (Stress, "12 kpsi", "`kpsi` reads as kilo pound force per square inch, "
                            f"{NO_PART}; did you mean `12 psi`? {STRESSES}"),
        (Mass, "2 ton", "`ton` may be short, long or metric; did you mean `2 t`? a mass is in kg, g, lb, oz"),
        (Angle, "12 percent", f"`percent` is a plain number; {ANGLES}"),
        (Angle, "12 bit", f"`bit` is a plain number; {ANGLES}"),
        (Length, "0.5 in + 2 mm", f"`0.5 in + 2 mm` {NOT_ONE}"),
        (Length, "1 - 1/4 in", f"`1 - 1/4 in` {NOT_ONE}"),
        (Length, "5' 3-1/2\"", f"`5' 3-1/2\"` {NOT_ONE}"),
        (Length, "1-5/4 in", "`1-5/4 in` has a fraction of one or more behind a whole number; "
                             "write a fraction below one, as in `1-1/4 in`"),
        (Length, "3/0 in", f"`3/0 in` divides by zero; {WRITE}"),
        (Length, "12,5 mm", "`12,5 mm` has a comma in its number; "
                            "write a point for decimals and nothing between thousands, "
 "as in `1250.5`"),
        (Length, "nan", f"`nan` is not a finite number; {WRITE}"),
        (Length, "-inf mm", f"`-inf mm` is not a finite number; {WRITE}"),
        (Length, math.nan, f"`nan` is not a finite number; {WRITE}"),
        (Length, math.inf, f"`inf` is not a finite number; {WRITE}"),
        (Length, "1e400 mm", "`1e400 mm` is beyond any part; stay within 1e9 mm"),
        (Length, 1e300, "`1e+300` is beyond any part; stay within 1e9 mm"),
        (Length, "", f"nothing is written here; {WRITE}"),
        (Length, "   ", f"nothing is written here; {WRITE}"),
        (Length, None, f"nothing is written here; {WRITE}"),
        (Length, True, f"`true` is not a length; {WRITE}"),
        (Length, [1.0], f"a list is not a length; {WRITE}"),
        (Length, "mm", f"`mm` is not a length; {WRITE}"),
        (Length, "wide", f"`wide` is not a length; {WRITE}"),
        (Length, "in 3", f"`in 3` is not a length; {WRITE}"),
        (Length, "9" * 65 + " mm", f"68 characters are too many for one length; {WRITE}"),
        (Length, "٣ mm", f"`٣ mm` is not a length; {WRITE}"),
        (PositiveLength, "0 mm", "this length is nothing; write more than 0"),
        (PositiveLength, "-3/8 in", "this length is negative; write more than 0"),
        (NonNegativeLength, "-1 mm", "this length is negative; write 0 or more"),
        (PositiveRatio, -1.0, "this ratio is negative; write more than 0"),
    ],
)  # fmt: skip
def test_what_is_refused_says_what_is_wrong_and_what_would_be_right(kind, written, message):
    assert refusal(kind, written) == [message]


def test_a_file_that_declares_no_unit_may_write_no_bare_number():
    none = Units()
    assert refusal(Length, 12, units=none) == [
        "no unit; write `12 mm`, or declare `units: mm` at the top"
    ]
    assert refusal(Length, "3/8", units=none) == [
        "no unit; write `3/8 in`, or declare `units: mm` at the top"
    ]
    assert refusal(Force, 250, units=Units(length="mm")) == [
        "no unit; write `250 N`, or declare `units: {force: N}` at the top"
    ]
    assert take(Length, 0, units=none) == 0.0
    assert take(Length, "3/8 in", units=none) == 9.525
    assert take(Angle, 180, units=none) == math.pi


def test_bare_numbers_are_in_the_unit_the_file_declares():
    shop = Units(length="in", force="lbf", moment="lbf ft")
    assert take(Length, 0.375, units=shop) == 9.525
    assert take(Length, "1-1/4", units=shop) == 31.75
    assert take(Force, 250, units=shop) == take(Force, "250 lbf")
    assert take(Moment, 22, units=shop) == take(Moment, "22 lbf ft")
    assert take(Length, "12 mm", units=shop) == 12.0


def test_a_bare_fraction_is_never_millimetres():
    assert refusal(Length, "3/8", units=Units(length="mm")) == [
        "a fraction without a unit, where bare numbers are in mm; "
        "write `3/8 in` if inches are meant"
    ]


def test_units_must_be_of_their_kind():
    with pytest.raises(units.BadQuantity, match="`1 kg` is a mass, not a length"):
        Units(length="kg")


def test_vectors_take_lists_and_axes():
    assert take(ForceVector, ["1 kN", 0, "-2 kN"]) == (1000.0, 0.0, -2000.0)
    assert take(ForceVector, {"z": "-2 kN"}) == (0.0, 0.0, -2000.0)
    assert take(MomentVector, {"x": "1 N m"}) == (1000.0, 0.0, 0.0)
    assert take(Point3, ["1 in", "2 in", 3]) == (25.4, 50.8, 3.0)
    assert take(Point2, {"y": "1 in"}) == (0.0, 25.4)


@pytest.mark.parametrize(
    ("kind", "written", "message"),
    [
        (Point3, [1, 2], "2 values where 3 are needed; write [12 mm, 0, 0] or {x: 12 mm}"),
        (Point2, {"z": 1}, "`z` is no axis; the axes are x and y; write [12 mm, 0] or {x: 12 mm}"),
        (Point3, {}, "no axis is given; write [12 mm, 0, 0] or {x: 12 mm}"),
        (ForceVector, "1 N", "one value where 3 are needed; write [1500 N, 0, 0] or {x: 1500 N}"),
        (ForceVector, 3, "one value where 3 are needed; write [1500 N, 0, 0] or {x: 1500 N}"),
    ],
)
def test_vectors_say_what_is_wrong(kind, written, message):
    assert refusal(kind, written) == [message]


class Sample(BaseModel):
    width: PositiveLength = Field(30.0, gt=5.0)
    offset: Length | None = None
    load: ForceVector = (0.0, 0.0, 0.0)


def test_limits_of_a_field_hold_inside_and_arrays_pass_by_copy():
    with pytest.raises(ValidationError, match="greater than 5"):
        Sample(width="3 mm")
    assert Sample(width="1/4 in", offset="-1 in").offset == -25.4
    assert Sample().model_copy(update={"width": [1.0, 2.0]}).width == [1.0, 2.0]


SCHEMA = Sample.model_json_schema()


@pytest.mark.parametrize("written", ["12 mm", "3/8 in", '1-1/4"', "1 1/4 in", 12, 0.5, "-.5e1 mm"])
def test_the_json_schema_takes_what_is_taken(written):
    jsonschema.validate({"offset": written}, SCHEMA)


@pytest.mark.parametrize("written", ["wide", "mm", "", True, [1], "1 - 1/4 in", "1--3 in"])
def test_the_json_schema_refuses_what_is_refused(written):
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({"offset": written}, SCHEMA)


def test_the_json_schema_of_vectors_and_signs():
    jsonschema.validate({"load": {"z": "-2 kN"}}, SCHEMA)
    jsonschema.validate({"load": ["1 N", 0, 0]}, SCHEMA)
    for wrong in ({"load": {"w": 1}}, {"load": [1]}, {"load": {}}, {"width": 0}):
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate(wrong, SCHEMA)


def test_values_are_shown_in_both_units():
    assert show(9.525) == "9.525 mm (0.375 in)"
    assert show(12.0, "length") == "12 mm (0.4724 in)"
    assert show(1500.0, "force") == "1500 N (337.2 lbf)"
    assert show(100_000.0, "moment") == "100 N m (73.76 lbf ft)"
    assert show(276.0, "stress") == "276 MPa (40.03 ksi)"
    assert show(math.radians(30), "angle") == "30 deg"
    assert show(0.0) == "0 mm (0 in)"
    assert show(1.5, "ratio") == "1.5"


@given(st.text(max_size=70))
def test_no_text_breaks_the_reader(text):
    for kind in (Length, Moment, Angle, Ratio):
        try:
            assert math.isfinite(take(kind, text))
        except ValidationError as error:
            assert error.errors()[0]["msg"].count(";") >= 1


@given(
    st.from_regex(r"[-+]?[0-9./eE -]{1,12} ?(mm|in|lbf|\"|N m|deg)?", fullmatch=True).map(str.strip)
)
def test_number_like_text_is_read_right_or_refused(text):
    try:
        value = take(Length, text)
    except ValidationError:
        return
    number = text.removesuffix("mm").removesuffix("in").removesuffix('"').strip()
    scale = INCH if text.endswith(("in", '"')) else 1.0
    sign = -1 if number.startswith("-") else 1
    # The whole number and the fraction add up: a hyphen between them is no minus.
    bits = number.lstrip("+-").replace("-", " ").split() if "/" in number else [number.lstrip("+-")]
    assert value == pytest.approx(sign * float(sum(map(Fraction, bits))) * scale, rel=1e-12)


def test_reading_quantities_loads_no_unit_library():
    heavy = "{'pint', 'cadquery', 'OCP', 'vtkmodules', 'scipy', 'shapely'}"
    code = f"import sys, parts.inputs.reading; print({heavy} & {{*sys.modules}})"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "set()"
