"""Second methods for the bolts of a pad, by hand: instantaneous centre, prying, wire inserts."""

import numpy as np
import pytest
from clevises import CORNERS, PAD, checks, clevis
from pydantic import ValidationError

from parts.inputs.variants import with_values
from parts.standards.threads.threads import thread

SPENT = (1.0 - np.exp(-10.0 * 0.34)) ** 0.55
"""Share of its strength that a bolt has at the end of AISC's curve, 0.34 in of travel."""


def test_a_square_of_bolts_twisted_and_pushed_by_hand() -> None:
    """All four lie as far from the middle, so each is spent: C is 4, less the end of the curve."""
    part = clevis("pad")
    pushed = checks(part, (0.0, 1000.0, 0.0))["pad bolts, about their instantaneous centre"]
    strength = (
        thread("M6").stress_area * 0.5 * 800.0
    )  # EN 1993-1-8, table 3.4: half the tensile strength
    assert pushed.demand == pytest.approx(1000.0 / strength)
    assert pushed.capacity == pytest.approx(4 * SPENT, rel=1e-6)
    twisted = checks(part, moment=(40000.0, 0.0, 0.0))[
        "pad bolts, about their instantaneous centre"
    ]
    reach = np.hypot(*CORNERS[0])
    # A twist alone stands as a very small force very far off: its factor is that of the twist.
    assert twisted.factor == pytest.approx(4 * SPENT * strength * reach / 40000.0, rel=1e-4)


def test_both_methods_agree_on_a_group_without_a_weak_bolt() -> None:
    """Pushed through the middle the elastic method gives a quarter each: the curve's end alone differs."""
    found = checks(clevis("pad"), (0.0, 0.0, 500.0))
    elastic, other = found["pad bolt, shear"], found["pad bolts, about their instantaneous centre"]
    assert other.factor / elastic.factor == pytest.approx(SPENT, rel=1e-6)


def test_no_load_uses_nothing() -> None:
    found = checks(clevis("pad"), (1000.0, 0.0, 0.0))
    assert found["pad bolts, about their instantaneous centre"].factor == np.inf


def test_prying_by_hand() -> None:
    """Corner bolts 20 by 25 from the middle of a body 22 by 26.8: AISC's tee, b from bolt to body."""
    part = clevis("pad", friction=0)
    found = checks(part, (8000.0, 0.0, 0.0))["pad bolt, pull with prying"]
    half = part.ears.width / 2, part.ears.height / 2
    b = np.hypot(20 - half[0], 25 - half[1])
    d, hole, t, F_u = 6.0, 6.5, 8.0, part.metal.ultimate_strength
    a = min(30 - 20, 35 - 25, 1.25 * b)
    p = min(40.0, 2 * b)
    b_in, rho, delta = b - d / 2, (b - d / 2) / (a + d / 2), 1 - hole / p
    B = thread("M6").stress_area * 800.0
    ratio = 0.9 * p * F_u * t**2 / (4 * B * b_in)
    alpha = np.clip((1 / ratio - 1) / (delta * (1 + rho)), 0, 1)
    assert found.demand == pytest.approx(2000.0)
    assert found.capacity == pytest.approx(B * min(ratio * (1 + delta * alpha), 1.0))


def test_a_thin_pad_is_pried_on() -> None:
    """Thinner metal bends over its bolts: less pull for each of them, until they carry nothing but prying."""
    part = clevis("pad")
    many = with_values(part, {"shank.thickness": np.array([3.0, 5.0, 8.0, 20.0])})
    found = checks(many, (8000.0, 0.0, 0.0))["pad bolt, pull with prying"]
    assert np.all(np.diff(found.capacity) >= 0) and found.capacity[0] < 0.6 * found.capacity[-1]
    for i, t in enumerate((3.0, 5.0, 8.0, 20.0)):
        alone = checks(with_values(part, {"shank.thickness": t}), (8000.0, 0.0, 0.0))
        assert alone["pad bolt, pull with prying"].capacity == pytest.approx(found.capacity[i])


def test_wire_inserts_take_a_wider_drill_and_hold_by_their_outer_thread() -> None:
    part = clevis("tapped pad", friction=0, shank__holes={"type": "tapped", "insert": True})
    # d + 3√3/4 p less twice 5/8 of the height of the thread.
    D = 6.0 + 0.75 * np.sqrt(3)
    assert part.shank.hole == pytest.approx(D - 1.25 * np.sqrt(3) / 2)
    found = checks(part, (8000.0, 0.0, 0.0))["pad bolt insert, pulled out"]
    area = 0.7 * 7 / 8 * np.pi * D * PAD["thickness"]
    assert found.demand == pytest.approx(2000.0)
    assert found.capacity == pytest.approx(area * part.metal.shear_ultimate, rel=1e-9)
    with pytest.raises(ValidationError):
        clevis("tapped pad", shank__holes={"type": "tapped", "insert": "perhaps"})
