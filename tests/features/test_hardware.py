"""Bought-in hardware against the part that takes it: by hand, with arrays, and every message."""

import numpy as np
import pytest

from parts.features.bolts import hardware
from parts.features.bolts.hardware import (
    ball_rules,
    circlip_rules,
    galvanic_cautions,
    opposite_hands,
    seat_rules,
    swing,
    swing_rule,
    thread_rules,
    usual_surface,
)
from parts.standards.bearings.bearings import bearing, bearings
from parts.standards.bearings.sphericals import spherical
from parts.standards.fasteners.fasteners import bolt, circlip
from parts.standards.materials.galvanic import families
from parts.standards.materials.materials import canonical_names, material
from parts.standards.rod_ends.rod_ends import rod_end
from parts.standards.threads.threads import thread

END = rod_end("3/8-24 male LH")


def broken(rules) -> dict[str, str]:
    return {rule.code: rule.wrong() for rule in rules if not np.all(rule.ok)}


def test_ball_and_spacers_in_a_throat() -> None:
    """Ball 1/2 in, spacers 3 mm each side: the gap is from 18.7 to 19.2 mm."""
    filled = 12.7 + 2 * 3.0
    for gap, code in [
        (filled, None), (filled + 0.5, None), (filled - 0.01, "hardware.ball"), (filled + 0.51, "hardware.play")
    ]:  # fmt: skip
        found = broken(ball_rules("throat", END, gap, spacer=3.0))
        assert list(found) == ([code] if code else [])


def test_a_spacer_as_wide_as_the_balls_face_and_no_wider() -> None:
    """The flat face of a ball E wide B is sqrt(E^2 - B^2)."""
    face = np.sqrt(END.ball_diameter**2 - END.ball_width**2)
    assert not broken(ball_rules("x", END, END.ball_width, shoulder=face))
    found = broken(ball_rules("x", END, END.ball_width, shoulder=face + 0.1))
    assert "fouls the race" in found["hardware.shoulder"]


@pytest.mark.parametrize("gap", [13.0, 16.0, 20.0, 25.3, 25.4, 40.0])
def test_swing_is_that_of_the_table(gap) -> None:
    assert swing(END, gap) == pytest.approx(END.swing_between(gap), rel=1e-12)
    shoulder = 11.0
    assert swing(END, gap, shoulder) == pytest.approx(END.swing_between(gap, shoulder), rel=1e-12)


def test_swing_against_a_clevis() -> None:
    """By hand: asin(16/25.4) - asin(10.3124/25.4) is 15.09 deg at the ears, acos(face/E) - asin(T/E) less."""
    ears = np.degrees(np.arcsin(16.0 / 25.4) - np.arcsin(0.406 / 1.0))
    ball = np.degrees(np.arccos(END.face_diameter / END.ball_diameter) - np.arcsin(0.406 / 0.719))
    least = min(ears, ball)
    assert np.degrees(swing(END, 16.0)) == pytest.approx(least, abs=1e-9)
    assert np.all(swing_rule("x", END, 16.0, np.radians(least)).ok)
    rule = swing_rule("x", END, 16.0, np.radians(least + 0.1))
    assert not rule.ok and "deg" in rule.wrong()


def test_arrays_equal_one_at_a_time() -> None:
    gaps, needed = np.array([13.0, 15.0, 30.0]), np.radians(5.0)
    many = swing_rule("x", END, gaps, needed).ok
    assert list(many) == [bool(swing_rule("x", END, gap, needed).ok) for gap in gaps]
    for whole, *single in zip(
        ball_rules("x", END, gaps, spacer=0.4),
        *(ball_rules("x", END, g, spacer=0.4) for g in gaps),
        strict=True,
    ):
        assert list(whole.ok) == [bool(one.ok) for one in single]
    for whole, *single in zip(
        seat_rules("x", bearing("6202"), gaps + 25.0, depth=gaps),
        *(seat_rules("x", bearing("6202"), g + 25.0, depth=g) for g in gaps), strict=True,
    ):  # fmt: skip
        assert list(np.broadcast_to(whole.ok, gaps.shape)) == [bool(one.ok) for one in single]


@pytest.mark.parametrize(
    ("male", "female", "code", "says"),
    [
        ("3/8-24", "3/8-24", None, ""),
        ("3/8-24-2A", "3/8-24-2B", None, ""),
        ("3/8-24-3A LH", "3/8-24 LH", None, ""),
        ("3/8-24", "3/8-16", "hardware.thread", "pitch"),
        ("3/8-24", "M10", "hardware.thread", "diameter"),
        ("M10x1.25", "M10x1.5", "hardware.thread", "pitch"),
        ("3/8-24 LH", "3/8-24", "hardware.hand", "left-hand"),
        ("M10-6H", "M10", "hardware.male_class", "class of nuts"),
        ("M10", "M10-6g", "hardware.female_class", "class of bolts"),
    ],
)
def test_thread_against_thread(male, female, code, says) -> None:
    found = broken(thread_rules("x", thread(male), thread(female)))
    assert list(found) == ([code] if code else [])
    assert says in "".join(found.values())


def test_a_turned_body_has_a_left_and_a_right_hand_thread() -> None:
    right, left = thread("3/8-24"), thread("3/8-24 LH")
    assert opposite_hands("x", right, left).ok and opposite_hands("x", left, right).ok
    assert not opposite_hands("x", left, left).ok
    assert "changes no length" in opposite_hands("x", right, right).wrong()


def test_wall_around_a_bearing() -> None:
    """6202 is 35 mm outside: a tenth is 3.5 mm of wall, so the boss is 42 mm; 608 takes the least, 3 mm."""
    assert not broken(seat_rules("seat", bearing("6202"), 42.0))
    assert "too thin" in broken(seat_rules("seat", bearing("6202"), 41.9))["hardware.wall"]
    assert not broken(seat_rules("seat", bearing("608"), 22.0 + 6.0))
    assert broken(seat_rules("seat", bearing("608"), 22.0 + 5.9))


@pytest.mark.parametrize("number", [*bearings(), "spherical"])
def test_every_bearing_has_a_seat_that_holds(number) -> None:
    """In the middle of its shoulder's range no rule is broken; beyond either end one is."""
    of = spherical("10") if number == "spherical" else bearing(number)
    ring = of.ring_width if number == "spherical" else of.width
    _, low, high, corner = hardware._ring(of)
    assert low <= high
    good = {"depth": ring, "shoulder": 0.5 * (low + high), "fillet": corner}
    assert not broken(seat_rules("x", of, 2.0 * of.outside, **good))
    for change, code in [
        ({"depth": ring - 0.1}, "hardware.depth"), ({"fillet": corner + 0.01}, "hardware.fillet"),
        ({"shoulder": low - 0.1}, "hardware.shoulder_low"),
        ({"shoulder": high + 0.1}, "hardware.shoulder_high"),
    ]:  # fmt: skip
        assert code in broken(seat_rules("x", of, 2.0 * of.outside, **{**good, **change}))


def test_a_circlip_keeps_a_bearing() -> None:
    """DIN 472 for 35 mm: groove 1.6 wide, 1 mm deep, three depths to the mouth: 11 + 1.6 + 3 mm."""
    clip = circlip("DIN 472 35")
    assert not broken(circlip_rules("x", clip, 35.0, 11.0, 15.6))
    assert list(broken(circlip_rules("x", clip, 35.0, 11.0, 15.5))) == ["hardware.groove"]
    assert list(broken(circlip_rules("x", clip, 32.0, 11.0, 20.0))) == ["hardware.circlip"]
    assert (
        "for a shaft"
        in broken(circlip_rules("x", circlip("DIN 471 35"), 35.0, 11.0, 20.0))["hardware.circlip"]
    )


def test_plated_steel_on_titanium_is_cautioned() -> None:
    titanium = material("Ti-6Al-4V annealed")
    (caution,) = galvanic_cautions(titanium, {"bolt AN6-14": usual_surface(bolt("AN6-14"))})
    assert caution.startswith("bolt AN6-14 (cadmium) on Ti-6Al-4V annealed (titanium): no cadmium")
    (zinc,) = galvanic_cautions(titanium, {"rod end": hardware.SURFACES["rod end"]})
    assert "eaten fast" in zinc
    # Stainless at 0.50 V and titanium at 0.30 V: over 0.15 V, so not bare in rain and salt.
    (stainless,) = galvanic_cautions(titanium, {"bolt": "stainless"})
    assert "0.20 V apart, the stainless 18Cr corrodes" in stainless
    # Five cautions stand on a sheet: those of one surface are one.
    (both,) = galvanic_cautions(titanium, {"jam nut": "zinc", "rod end": "zinc"})
    assert both.startswith("jam nut, rod end (zinc) on Ti-6Al-4V annealed (titanium): ")


def test_what_may_touch_goes_without_a_caution() -> None:
    assert galvanic_cautions(material("6061-T6"), {"bolt": "cadmium"}) == ()
    assert galvanic_cautions(material("4130 normalized"), {"bolt": "zinc", "pin": "steel"}) == ()
    assert galvanic_cautions(material("PETG"), {"bolt": "zinc"}) == ()


def test_cautions_of_every_material_and_surface_are_sentences() -> None:
    for name in canonical_names():
        for caution in galvanic_cautions(
            material(name), {f"bolt of {surface}": surface for surface in families()}
        ):
            assert caution.endswith(".") and ": " in caution


@pytest.mark.parametrize(
    ("name", "surface"),
    [("AN6-14", "cadmium"), ("NAS6606-14", "cadmium"), ("M8x30 8.8", "zinc"), ("M8x30 12.9", "steel"),
     ("3/8-24 x 1-1/2 grade 8", "zinc"), ("1/4-28 x 1 socket", "steel")],
)  # fmt: skip
def test_usual_surfaces(name, surface) -> None:
    assert usual_surface(bolt(name)) == surface
