"""Circlips and pins: printed values, formulas, round trips and refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.standards.designation import UnknownDesignation
from parts.standards.fasteners.fasteners import circlip, circlips, clevis_pin, spring_pin
from parts.standards.fasteners.pins import pin_lengths

INCH = 25.4
KSI = 6.894757
THOU = 0.0255  # half a printed thousandth of an inch each way, twice, in mm


@pytest.mark.parametrize(
    ("name", "groove", "ring", "width"),
    [
        # DIN 472, groove and ring as in the open fastener table; width from memory.
        (8, 8.4, 0.8, 0.9), (10, 10.4, 1.0, 1.1), (12, 12.5, 1.0, 1.1), (14, 14.6, 1.0, 1.1),
        (15, 15.7, 1.0, 1.1), (16, 16.8, 1.0, 1.1), (18, 19.0, 1.0, 1.1),
        (22, 23, 1.0, 1.1), (26, 27.2, 1.2, 1.3), (30, 31.4, 1.2, 1.3), (35, 37, 1.5, 1.6),
        (40, 42.5, 1.75, 1.85), (42, 44.5, 1.75, 1.85), (47, 49.5, 1.75, 1.85), (52, 55, 2, 2.15),
        (62, 65, 2, 2.15), (72, 75, 2.5, 2.65),
        # DIN 471, likewise.
        ("DIN 471 4", 3.8, 0.4, 0.5), ("DIN 471 6", 5.7, 0.7, 0.8), ("DIN 471 8", 7.6, 0.8, 0.9),
        ("DIN 471 10", 9.6, 1.0, 1.1), ("DIN 471 11", 10.5, 1.0, 1.1),
        ("DIN 471 12", 11.5, 1.0, 1.1), ("DIN 471 15", 14.3, 1.0, 1.1),
        ("DIN 471 20", 19, 1.2, 1.3), ("DIN 471 25", 23.9, 1.2, 1.3),
        ("DIN 471 30", 28.6, 1.5, 1.6),
    ],
)  # fmt: skip
def test_circlips(name: float | str, groove: float, ring: float, width: float) -> None:
    part = circlip(name)
    assert (part.groove, part.thickness, part.groove_width) == (groove, ring, width)


@pytest.mark.parametrize(
    ("bore", "margin"),
    # DIN 472 edge margin n, to 0.1 mm; from memory.
    [(8, 0.6), (10, 0.6), (12, 0.8), (13, 0.9), (14, 0.9), (15, 1.1), (16, 1.2), (18, 1.5)],
)
def test_circlip_edge_margin(bore: float, margin: float) -> None:
    assert circlip(bore).edge_margin == pytest.approx(margin, abs=0.051)


@pytest.mark.parametrize("part", circlips("bore") + circlips("shaft"), ids=lambda p: p.designation)
def test_circlips_hang_together(part) -> None:  # type: ignore[no-untyped-def]
    assert circlip(part.designation) == part
    assert circlip(part.nominal, part.side) == part
    assert (part.groove > part.nominal) == (part.side == "bore")
    # The groove is 0.1 mm wider than a ring to 1.75 mm, 0.15 mm above.
    extra = 0.1 if part.thickness <= 1.75 else 0.15
    assert part.groove_width - part.thickness == pytest.approx(extra)
    assert 0.0 < part.groove_depth < part.thickness


@pytest.mark.parametrize(
    ("said", "reason", "nearest"),
    [
        (33, "none for a bore of 33 mm", "DIN 472 32 x 1.2"),
        ("DIN 471 33", "none for a shaft", "DIN 471 32 x 1.5"),
        ("DIN 472 35 x 2", "1.5 mm thick", "DIN 472 35 x 1.5"),
        ("snap ring", "a diameter in mm", "DIN 472 35 x 1.5"),
    ],
)
def test_circlips_refused(said: float | str, reason: str, nearest: str) -> None:
    with pytest.raises(UnknownDesignation, match=reason) as caught:
        circlip(said)
    assert caught.value.nearest[0] == nearest


@pytest.mark.parametrize(
    ("name", "head", "height", "hole", "end"),
    # ISO 2341 form B, from memory.
    [
        ("4 x 20", 6, 1, 1, 2.2), ("5 x 20", 8, 1.6, 1.2, 2.9), ("6 x 30", 10, 2, 1.6, 3.2),
        ("8 x 40", 14, 3, 2, 3.5), ("10 x 50", 18, 4, 3.2, 4.5), ("12 x 50", 20, 4, 3.2, 5.5),
        ("14 x 60", 22, 4, 4, 6), ("16 x 60", 25, 4.5, 4, 6), ("18 x 60", 28, 5, 5, 7),
        ("20 x 80", 30, 5, 5, 8),
    ],
)  # fmt: skip
def test_clevis_pins(name: str, head: float, height: float, hole: float, end: float) -> None:
    part = clevis_pin(name)
    found = (part.head_diameter, part.head_height, part.hole, part.hole_to_end)
    assert found == (head, height, hole, end)
    assert part.grip == pytest.approx(part.length - end - hole / 2)
    assert clevis_pin(f"ISO 2341 A {name}").hole == 0.0


@pytest.mark.parametrize(
    ("nominal", "low", "high", "shear"),
    # ISO 8752; from memory: free diameter [mm], least double shear [kN].
    [
        (1.5, 1.7, 1.8, 1.58), (2, 2.3, 2.4, 2.82), (2.5, 2.8, 2.9, 4.38), (3, 3.3, 3.5, 6.32),
        (3.5, 3.8, 4.0, 9.06), (4, 4.4, 4.6, 11.24), (5, 5.4, 5.6, 17.54), (6, 6.4, 6.7, 26.04),
        (8, 8.5, 8.8, 42.76), (10, 10.5, 10.8, 70.16),
    ],
)  # fmt: skip
def test_spring_pins(nominal: float, low: float, high: float, shear: float) -> None:
    part = spring_pin(f"{nominal:g} x 20")
    assert (part.free_min, part.free_max) == (low, high)
    assert part.double_shear == pytest.approx(1e3 * shear)
    # Two ring sections of spring steel: between 500 and 1000 MPa in shear.
    ring = math.pi * (nominal - part.wall) * part.wall
    assert 500 < part.double_shear / (2 * ring) < 1000


@given(
    st.sampled_from([4, 5, 6, 8, 10, 12, 16, 20]),
    st.sampled_from([n for n in pin_lengths() if 16 <= n <= 80]),
)
def test_pin_round_trips(diameter: int, length: int) -> None:
    pin = clevis_pin(f"{diameter} x {length}")
    assert clevis_pin(pin.designation) == pin
    if diameter <= 12:
        sprung = spring_pin(f"ISO 8752 {diameter}x{length}")
        assert spring_pin(sprung.designation) == sprung


def test_pin_lengths_are_commercial() -> None:
    # ISO 2341 and ISO 8752: 6, 8, ... 32, 35, 40, 45, ... 100, 120, ... 200.
    assert pin_lengths() == (*range(6, 33, 2), *range(35, 101, 5), *range(120, 201, 20))


@pytest.mark.parametrize(
    ("make", "said", "reason", "nearest"),
    [
        (clevis_pin, "9 x 40", "diameter is not made", "ISO 2341 B 10 x 40"),
        (clevis_pin, "8 x 41", "length is not a standard one", "ISO 2341 B 8 x 40"),
        (clevis_pin, "16 x 6", "too short", "ISO 2341 B 16 x 12"),
        (clevis_pin, "a pin", "diameter x length", "ISO 2341 B 8 x 40"),
        (spring_pin, "7 x 24", "diameter is not made", "ISO 8752 6 x 24"),
        (spring_pin, "4 x 25", "length is not a standard one", "ISO 8752 4 x 24"),
        (spring_pin, "roll pin", "diameter x length", "ISO 8752 4 x 24"),
    ],
)
def test_pins_refused(make, said: str, reason: str, nearest: str) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(UnknownDesignation, match=reason) as caught:
        make(said)
    assert caught.value.nearest[0] == nearest
    for choice in caught.value.nearest:
        make(choice)
