"""Bushes and rings in their bores, by hand after Lamé."""

import numpy as np
import pytest

from parts.families.clevis.family import Clevis
from parts.families.torsion_arm.family import TorsionArm
from parts.features.press.pressed import FRICTION, ROUGHNESS, Pressed, coating_facts
from parts.inputs.variants import with_values
from parts.standards.materials.materials import material

STEEL, BRONZE, LIGHT = (material(n) for n in ("4130 normalized", "bronze 660", "7075-T6"))
BUSH = Pressed("bush", 14.0, 10.0, 6.0, 8.0, LIGHT, BRONZE, "H7/p6")


def lame(delta: float) -> float:
    """Shigley's eq. 3-56: hub 26 outside, fit 14, bush 10 inside."""
    hub = ((26.0**2 + 14.0**2) / (26.0**2 - 14.0**2) + LIGHT.poisson) / LIGHT.E
    bush = ((14.0**2 + 10.0**2) / (14.0**2 - 10.0**2) - BRONZE.poisson) / BRONZE.E
    return delta / (14.0 * (hub + bush))


def test_the_fit_is_that_of_the_standard() -> None:
    """ISO 286-2 at 14 mm: H7 is 0 to +18 µm, p6 is +18 to +29 µm, so 0 to 29 µm of interference."""
    assert BUSH.interference() == pytest.approx((0.029, 0.0))


def test_hub_and_bush_at_the_tightest() -> None:
    p = lame(0.029)
    hub, bush = BUSH.modes()
    hoop = p * (26.0**2 + 14.0**2) / (26.0**2 - 14.0**2)
    assert hub.demand == pytest.approx(np.sqrt(hoop**2 + hoop * p + p**2))
    assert hub.capacity == LIGHT.yield_strength and hub.required == 1.0
    assert bush.demand == pytest.approx(2 * p * 14.0**2 / (14.0**2 - 10.0**2))
    assert bush.capacity == BRONZE.yield_strength


def test_what_pushes_the_bush_out_counts_the_loosest_fit_less_its_roughness() -> None:
    tight = Pressed("bush", 14.0, 10.0, 6.0, 8.0, LIGHT, BRONZE, "H7/u6")
    _, loose = tight.interference()
    left = loose - 0.8 * 2 * ROUGHNESS
    assert left > 0
    out, unit = tight.facts()["bush, force that pushes it out of the loosest fit"]
    assert (out, unit) == (pytest.approx(np.pi * 14.0 * 8.0 * FRICTION * lame(left)), "N")
    closes, _ = tight.facts()["bush, its bore closes by at most"]
    most, _ = tight.interference()
    assert closes == pytest.approx(
        2 * lame(most) * 14.0**2 * 10.0 / (BRONZE.E * (14.0**2 - 10.0**2))
    )
    # H7/p6 may have no interference at all: nothing then holds the bush but its ears.
    assert BUSH.facts()["bush, force that pushes it out of the loosest fit"][0] == 0.0


def test_many_bores_equal_one_at_a_time() -> None:
    bores = np.array([12.0, 14.0, 20.0])
    many = list(Pressed("bush", bores, 8.0, 6.0, 8.0, STEEL, BRONZE, "H7/p6").modes())
    for i, bore in enumerate(bores):
        alone = list(Pressed("bush", bore, 8.0, 6.0, 8.0, STEEL, BRONZE, "H7/p6").modes())
        assert [one.demand[i] for one in many] == pytest.approx([one.demand for one in alone])


def test_a_fit_without_interference_presses_on_nothing() -> None:
    assert not list(Pressed("bush", 14.0, 10.0, 6.0, 8.0, LIGHT, BRONZE, "H7/g6").modes())


def test_a_bushed_clevis_and_a_bearing_in_an_arm_are_checked_once() -> None:
    hole = {"type": "bushed", "outside": "13 mm", "material": "bronze 660", "fit": "H7/p6"}
    data = dict(Clevis.example)
    data["ears"] = data["ears"] | {"width": "27 mm", "pin": data["ears"]["pin"] | {"hole": hole}}
    result = Clevis.model_validate(data).check()
    assert [one.name for one in result.checks if one.mode == "press fit"] == [
        "ear bush, hub about the press", "ear bush, squeezed"
    ]  # fmt: skip
    assert "ear bush, greatest interference" in result.part.facts()
    wide = with_values(result.part, {"ears.width": np.array([27.0, 35.0])})
    demands = next(wide.standing()).demand
    assert demands.shape == (2,) and demands[0] > demands[1] * 0.9
    eye = {
        "type": "eye", "diameter": "38 mm", "width": "10 mm",
        "bore": {"type": "spherical", "bearing": "12 mm spherical"},
        "pin": {"diameter": "12 mm", "material": "4340 Q&T 150 ksi", "ear": "8 mm"},
    }  # fmt: skip
    arm = dict(TorsionArm.example)
    arm["arm"] = arm["arm"] | {"end_thickness": "10 mm"}
    arm = TorsionArm.model_validate(arm | {"end": eye})
    ring = next(arm.standing())
    assert ring.name == "eye bearing's ring, hub about the press"
    bearing = next(c for c in arm.check().checks if c.name == "eye bearing, static load")
    of = arm.end.bore.bearing
    # A ball on the projected width of its ring.
    assert bearing.capacity == pytest.approx(
        of.ball_diameter * of.ring_width * material("4130 Q&T 150 ksi").yield_strength
    )


@pytest.mark.parametrize(
    ("finish", "shrinks"),
    # Half of 50 µm grows out of each wall of hard anodise, a third of the common kind.
    [
        ("hard anodised", 0.050),
        ("anodized", 0.010 * 2 / 3),
        ("anodise 18 um", 0.018 * 2 / 3),
        ("zinc plated", None),
    ],
)
def test_anodise_shrinks_bores(finish, shrinks) -> None:
    found = coating_facts(finish, LIGHT)
    assert (
        (not found)
        if shrinks is None
        else [v for v, _ in found.values()] == pytest.approx([shrinks])
    )
    assert not coating_facts(finish, STEEL)
