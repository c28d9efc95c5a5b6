"""Torques for the bench, by hand, and what keeps a pin where it is."""

import numpy as np
import pytest
from clevises import EARS, clevis

from parts.features.bolts.grip import plain_shank
from parts.features.bolts.torque import tightening_facts
from parts.standards.threads.threads import thread


def test_an_m8_of_class_8_8_by_hand() -> None:
    """580 MPa proof on 36.6 mm^2: 15.9 kN preload, 25.5 N*m dry, and 65 % of the preload at the least."""
    torque, preload, opens = tightening_facts("M8", thread("M8"), 580.0).values()
    area = np.pi / 4 * (8.0 - 0.9382 * 1.25) ** 2
    assert preload[0] == pytest.approx(
        0.75 * 580.0 * area, rel=1e-4
    )  # 0.9382 is rounded in the standard
    assert torque == (pytest.approx(0.2 * 8.0 * preload[0] / 1000.0), "N*m")
    assert opens[0] == pytest.approx(0.65 * preload[0])


def test_a_pad_says_how_tight_its_bolts_are() -> None:
    facts = clevis("pad").facts()
    proof = 580.0  # ISO 898-1, class 8.8 up to M16
    torque, unit = facts["torque of a pad bolt, dry, by common practice"]
    assert (torque, unit) == (
        pytest.approx(0.2 * 6 * 0.75 * proof * thread("M6").stress_area / 1000),
        "N*m",
    )


def test_the_thread_of_a_bolt_that_is_the_pin() -> None:
    part = clevis(ears__pin={"bolt": "AN6"})
    joint = part.ears.kept()
    inside, _ = part.facts()["its thread within the stack, at the nut's end"]
    head = joint.under_head * joint.washer.thickness
    assert inside == pytest.approx(max(part.ears.height - plain_shank(joint.bolt) + head, 0.0))
    # None of it lies in the ear up to its shear plane: that is what the rule of the grip is for.
    assert inside <= part.ears.thickness


BLADE = {"type": "blade", "thickness": "10 mm", "end": "10 mm"}


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, "walks out"),
        ({"ears__pin": {"bolt": "AN6"}}, "self-locking nut"),
        ({"ears__pin": {"bolt": "AN6", "nut": "slotted"}}, "split pin"),
        ({"ears__pin": {"clevis_pin": "ISO 2341 B 8"}, "ears__throat": BLADE}, "split pin"),
        (EARS["tapped ear"], "thread locker"),
    ],
)
def test_what_keeps_the_pin(changes, words) -> None:
    assert any(words in caution for caution in clevis(**changes).cautions())
