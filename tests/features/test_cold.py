"""What the cold takes of a steel bolt's preload in a light alloy, by hand."""

import pytest

import parts
from parts.features.bolts.slip import settled_loss
from parts.standards.materials.materials import material
from parts.strength.bolted.stiffness import member_stiffness

OPENS = "shift joint, opening at the least preload"


@pytest.mark.parametrize(
    ("metal", "shrinks"),
    # 20 mm, 40 K colder: aluminium (ASM Handbook vol. 2) against steel (EN 1993-1-1, 3.2.6), then steel, then titanium.
    [
        ("7075-T6", (23.6e-6 - 12e-6) * 40.0 * 20.0),
        ("S355J2 hot rolled", 0.0),
        ("Ti-6Al-4V annealed", 0.0),
    ],
)
def test_a_bolt_loses_what_its_faces_settle_and_what_they_shrink(metal, shrinks):
    of = material(metal)
    # VDI 2230-1, table 5, milled faces loaded across: thread, head, nut and one face, 3 + 4.5 + 4.5 + 2.5 µm.
    k_b, k_m = 205e3 * 36.6 / 28.0, member_stiffness(of.E, 8.0, 20.0)
    by_hand = (0.0145 + shrinks) * k_b * k_m / (k_b + k_m)
    assert float(settled_loss(of, 8.0, 36.6, 20.0, 2).value) == pytest.approx(by_hand, rel=1e-9)


@pytest.mark.parametrize(
    ("changes", "holds"),
    [({"shift.bolt": "M8 8.8", "shift.shoulder": "14 mm"}, False), ({}, True)],
)
def test_a_shouldered_screw_in_aluminium_that_opens_in_the_cold_falls_short(changes, holds):
    bracket = parts.load("params/hc-104-foot-bracket-left.yaml").changed(changes)
    opens = [one for one in bracket.check().checks if one.name == OPENS]
    # In the shop the first held, 1.65 of 1.5: half a diameter of thread shrinks by 1.86 µm more than its screw.
    assert all(one.ok for one in opens) is holds and min(float(one.factor) for one in opens) > 1.2
