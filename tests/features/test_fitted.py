"""Fits of seats, journals, pressed pins, bars and grooves: their defaults, limits, and what is said of them.

Limits are those of ISO 286-2 (tables as printed; J, K, N: from memory beside them), of DIN 471 and DIN 472.
"""

import io

import brackets
import pytest
import torsion_arms
from by_turns import by_turns
from pydantic import ValidationError
from pypdf import PdfReader

from parts.core.drawing import Callout, Diameter, Hole, Linear
from parts.making.bench.figures import Figures
from parts.making.bench.files import bench_files
from parts.making.bench.measured import measured
from parts.making.bench.words import callout_words, dimension_words, hole_words
from parts.making.model import model

MM, INCH = Figures("mm"), Figures("in")
# Pins and bars of 5 and 24 mm, seats of 35 mm, journals of 15 mm; least and largest size [mm], ISO 286-2.
PRINTED = {
    "seat": {"seat of pedal K7": (34.982, 35.007), "groove of pedal H12": (37.0, 37.25),
             "groove width of pedal H13": (1.6, 1.74)},
    "seat for two, pressed": {"seat of pedal N7": (34.967, 34.992)},
    "stub": {"journal of pedal h6": (14.989, 15.0), "collar of pedal h8": (19.967, 20.0)},
    "stub with a circlip": {"journal of pedal h6": (14.989, 15.0), "groove of pedal h11": (14.19, 14.3),
                            "groove width of pedal H13": (1.1, 1.24)},
    "pins and screws": {"hole of spring H7": (5.0, 5.012)},
    "forked peg": {"pin hole of peg H7": (12.0, 12.018)},
}  # fmt: skip


@pytest.mark.parametrize("option", PRINTED)
def test_the_facts_of_a_bracket_state_the_printed_limits(option):
    facts = brackets.bracket(option).facts()
    for name, limits in PRINTED[option].items():
        assert (facts[f"{name}, least"][0], facts[f"{name}, largest"][0]) == pytest.approx(limits)


@pytest.mark.parametrize(
    ("changes", "name", "limits"),
    [
        # H7 of 18 to 30 mm is +21 µm, H9 +52 µm, M7 of 22 mm 0 to -21 µm: ISO 286-2.
        ({"hub__bore": torsion_arms.CLAMP, "hub__diameter": "52 mm"}, "bore for the bar H7", (24.02, 24.041)),
        ({}, "across the flats H9", (22.05, 22.102)),
        ({}, "bore of the eye H7", (12.05, 12.068)),
        ({"end": {**torsion_arms.EYE, "bore": {"type": "plain", "gap": 0, "fit": "F8"}}},
         "bore of the eye F8", (12.016, 12.043)),
        ({"end": torsion_arms.CLEVIS, "arm__end_fillet": "2 mm"}, "bore H7", (12.0, 12.018)),
    ],
)  # fmt: skip
def test_the_facts_of_an_arm_state_the_printed_limits(changes, name, limits):
    facts = torsion_arms.arm(**changes).facts()
    assert (facts[f"{name}, least"][0], facts[f"{name}, largest"][0]) == pytest.approx(limits)


def said(part, figures=MM):
    """Every line of the sheet's dimensions, callouts and holes."""
    (drawn,) = part.drawn()
    for one in drawn.marks.dimensions:
        yield from (
            callout_words(one, figures)
            if isinstance(one, Callout)
            else (dimension_words(one, figures),)
        )
    for hole in drawn.marks.holes:
        yield from hole_words(hole, 1, figures)


SAID = {
    "seat": (
        "Ø35 K7 × 15.6 deep", "+0.007 / -0.018", "circlip groove Ø37 H12 (+0.250 / 0) × 1.6 H13 (+0.140 / 0) wide,",
        # A ring 11 mm wide and a groove of 1.6 mm.
        "outer side 12.6 (+0.100 / 0) from the floor of the seat, DIN 472",
    ),
    "stub": (
        "Ø20 h8 (0 / -0.033) to 8.3 over the face",
        # Two rings of 11 mm and a spacer of 4 mm, less 0.4 mm by which the washer clamps them.
        "Ø15 h6 (0 / -0.011) to 25.6 (0 / -0.100) over the collar, R0.3 at the foot",
    ),
    "stub with a circlip": (
        "Ø15 h6 (0 / -0.011) to the groove, R0.3 at the foot",
        "circlip groove Ø14.3 h11 (0 / -0.110) × 1.1 H13 (+0.140 / 0) wide,",
        "outer side 27.1 (+0.100 / 0) over the collar, DIN 471",
        "Ø15 h6 (0 / -0.011) to 28.15 over the collar",
    ),
    "pins and screws": ("Ø5 H7 through", "+0.012 / 0", "for a pressed pin m6"),
    "forked peg": ("Ø12 H7 through", "+0.018 / 0", "both ears in line, Ra 1.6"),
}  # fmt: skip


@pytest.mark.parametrize("option", SAID)
def test_the_sheet_of_a_bracket_states_them(option):
    part = brackets.bracket(option)
    lines = list(said(part))
    for words in SAID[option]:
        assert words in lines


@pytest.mark.parametrize("option", by_turns(SAID, of=3))
def test_the_solid_of_a_bracket_has_them(option):
    part = brackets.bracket(option)
    (drawn,) = part.drawn()
    assert [one for one in measured(drawn.marks, part.pieces[0].solid.val()) if not one.ok] == []


def test_the_sheet_of_an_arm_states_them():
    lines = list(said(torsion_arms.arm(hub__bore=torsion_arms.CLAMP, hub__diameter="52 mm")))
    assert {"Ø24.02 H7 through", "+0.021 / 0", "Ø12.05 H7 through", "+0.018 / 0"} <= set(lines)
    assert "22.05 H9 (+0.052 / 0) hex bore" in list(said(torsion_arms.arm()))


@pytest.mark.slow
def test_they_read_back_from_the_drawing():
    files = bench_files(model(brackets.bracket("seat", drawing={"units": "mm"})))
    pdf = next(data for name, data in files.items() if name.endswith("drawing.pdf"))
    text = PdfReader(io.BytesIO(pdf)).pages[0].extract_text()
    for words in SAID["seat"]:
        assert words in text


def test_inches_carry_their_deviations_in_inches():
    one = Diameter("journal", (0, 0, 0), (0, 0, 1), 25.4, fit="h6", limits=(25.387, 25.4))
    assert dimension_words(one, INCH) == "Ø1.0000 h6 (0 / -0.0005)"
    far = Linear("groove", (0, 0, 0), (0, 0, 25.4), (0, 0, 1), 25.4, limits=(25.4, 25.5))
    assert dimension_words(far, INCH) == "1.000 (+0.0039 / 0)"


def test_a_stated_fit_goes_before_the_default():
    stated = {**brackets.STUB, "fit": "j6"}
    assert brackets.bracket("stub", pedal=stated).pedal.fitted()["journal"].sizes == (
        14.997,
        15.008,
    )
    seat = {**brackets.OPTIONS["seat"]["pedal"], "fit": "J7"}
    # J7 of 30 to 50 mm: +14 to -11 µm, ISO 286-2.
    assert brackets.bracket("seat", pedal=seat).pedal.fitted()["seat"].sizes == (34.989, 35.014)


@pytest.mark.parametrize(("group", "wrong"), [("pedal", "h6"), ("pedal", "Q7"), ("pedal", "K9")])
def test_a_class_that_is_none_of_a_hole_is_refused(group, wrong):
    seat = {**brackets.OPTIONS["seat"][group], "fit": wrong}
    with pytest.raises(ValidationError, match=r"pedal\.\w+\.?fit|Q7|K9"):
        brackets.bracket("seat", **{group: seat})


@pytest.mark.parametrize(("fit", "ok"), [("N7", True), ("M7", True), ("K7", False), ("H7", False)])
def test_a_ring_that_only_its_fit_holds_is_not_bored_loose(fit, ok):
    """By hand: h6 of 35 mm lies at -8 µm in its middle, N7 at -20.5, M7 at -12.5, K7 at -5.5, H7 at +12.5."""
    seat = {**brackets.OPTIONS["seat for two, pressed"]["pedal"], "fit": fit}
    if ok:
        brackets.bracket("seat for two, pressed", pedal=seat)
        return
    with pytest.raises(ValidationError, match="the ring is loose in its seat"):
        brackets.bracket("seat for two, pressed", pedal=seat)
    clipped = {**seat, "retention": "circlip", "count": 1}
    assert brackets.bracket("seat for two, pressed", pedal=clipped).pedal.seat_class == fit


def test_what_a_press_may_leave_free_is_said():
    # H7/m6 at 5 mm: 12 - 4 = 8 µm of play at the most; P7 leaves -8 - 4 = -12: always tight.
    loose = brackets.bracket("pins and screws")
    tight = brackets.bracket("pins and screws", spring__fit="P7")
    assert any("8 µm free (5 H7/m6)" in one for one in loose.cautions())
    assert not any("µm free" in one for one in tight.cautions())


def test_hole_records_carry_both_limits():
    (drawn,) = brackets.bracket("seat").drawn()
    (seat,) = (hole for hole in drawn.marks.holes if hole.fit == "K7")
    assert isinstance(seat, Hole) and seat.limits == (34.982, 35.007)
