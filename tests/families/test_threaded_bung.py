"""A threaded bung's checks worked by hand: bungs that fall short, and the nearest that hold."""

import numpy as np
import pytest
from pydantic import ValidationError

from parts.families.threaded_bung import ThreadedBung

STEEL, CLOSED, *_ = ThreadedBung.examples
SHORT, HOLDS = False, True


def bung(data, force, **changes):
    loads = [{"name": "load", "forces": [{"at": "end", "force": [f"{v} N" for v in force]}]}]
    return ThreadedBung.model_validate({**data, "loads": loads, **changes})


def named(part, name):
    return next(one for one in part.check().checks if one.name == name)


@pytest.mark.parametrize(("pull", "ok"), [(15_400.0, SHORT), (14_900.0, HOLDS)])
def test_the_softened_ring_of_the_weld_is_pulled_apart(pull, ok):
    # 6061-T6 beside a weld: 103.4 MPa of yield, 1.5 wanted; through the prep, 3/4 of 3.175 deep:
    # F = 103.4/1.5·π/4·(31.75² - 26.99²) = 15.1 kN.
    part = bung(CLOSED, (-pull, 0.0, 0.0), mate="4130 Q&T 180 ksi", thread="M12 LH", engagement="20 mm",
        bung=CLOSED["bung"] | {"spigot": "22 mm"})  # fmt: skip
    inner = 31.75 - 2.0 * 0.75 * 3.175
    found = named(part, "bung, beside the weld, yield")
    assert found.demand == pytest.approx(pull / (np.pi / 4.0 * (31.75**2 - inner**2)), rel=1e-6)
    assert found.capacity == pytest.approx(15.0 * 6.894757, rel=1e-3)
    assert found.ok == part.check().ok == ok


@pytest.mark.parametrize(("push", "ok"), [(1_400.0, SHORT), (1_350.0, HOLDS)])
def test_a_side_force_bends_what_screws_in_at_the_mouth(push, ok):
    # M12 rod of 125 ksi at 30 mm: 32 F·30/(π·10.36³) of 861.8/2.25 MPa: F = 1.39 kN.
    part = bung(STEEL, (0.0, push, 0.0))
    d = np.sqrt(4.0 / np.pi * np.pi / 4.0 * (12.0 - 0.938194 * 1.75) ** 2)
    found = named(part, "mating male thread, pull with bending, ultimate")
    assert found.demand == pytest.approx(32.0 * push * 30.0 / (np.pi * d**3), rel=1e-3)
    assert found.ok == part.check().ok == ok


@pytest.mark.parametrize(("push", "ok"), [(2_010.0, SHORT), (1_950.0, HOLDS)])
def test_a_long_reach_bends_the_tube_where_its_heat_ends(push, ok):
    # 1-1/8 x 0.095 of 4130: at 60 + 10 + 1 + 25 = 96 mm; W = π/32·(28.575⁴ - 23.749⁴)/28.575 = 1198 mm³;
    # so thick a wall folds at its yield of 358 MPa: F·96/1198 of 356.9/2.25 MPa is 1.98 kN. Beside it the tube's own
    # stress, with the shear of a thin ring, 2 F/A.
    part = bung(
        STEEL, (0.0, push, 0.0), reach="60 mm", thread="M16", engagement="24 mm", mate="4130 Q&T 180 ksi",
        bung=STEEL["bung"] | {"spigot": "30 mm", "relief": False},
    )  # fmt: skip
    area = np.pi / 4.0 * (28.575**2 - 23.749**2)
    modulus = np.pi / 32.0 * (28.575**4 - 23.749**4) / 28.575
    stress = np.hypot(push * 96.0 / modulus, np.sqrt(3.0) * 2.0 * push / area)
    found = named(part, "bung, tube softened by the weld, ultimate")
    assert found.demand == pytest.approx(stress, rel=1e-4)
    folds = named(part, "tube wall wrinkling")
    assert folds.demand == pytest.approx(push * 96.0 / modulus, rel=1e-4)
    assert folds.ok == part.check().ok == ok


@pytest.mark.parametrize(("pull", "ok"), [(5_200.0, SHORT), (4_950.0, HOLDS)])
def test_a_thread_in_softened_metal_strips(pull, ok):
    # M10 in 6061 beside a weld. Area of the nut's turns π n L d_min (1/(2n) + 0.57735 (d_min - D2_max)), L = 10 mm;
    # shear strength of the softened metal is that of the bar by 24/42 ksi; 4.5 wanted: 22.8/4.5 = 5.08 kN.
    part = bung(CLOSED, (-pull, 0.0, 0.0), mate="4130 Q&T 180 ksi", engagement="10 mm",
        required={"on_ultimate": 4.5, "on_yield": 1.5})  # fmt: skip
    soft, hard = part._tapped, part.metal
    assert soft.shear_ultimate == pytest.approx(hard.shear_ultimate * 24.0 / 42.0, rel=1e-3)
    major, pitch_max = part.thread.external().major_min, part.thread.internal().pitch_max
    area = np.pi / 1.5 * 10.0 * major * (1.5 / 2.0 + 0.57735 * (major - pitch_max))
    found = named(part, "bung female thread strip")
    assert float(found.capacity) == pytest.approx(area * soft.shear_ultimate, rel=1e-3)
    assert found.ok == part.check().ok == ok


def test_a_plain_pull_of_the_weld_in_fatigue_ends_by_the_class_of_its_root():
    # Class 12 over 1.35 of the IIW in aluminium: N = 2e6 (8.889/Δσ)³ for a tube that is not fused through.
    part = ThreadedBung.model_validate(CLOSED)
    found = named(part, "fatigue, bung, weld root")
    inner = 31.75 - 2.0 * 0.75 * 3.175
    area = np.pi / 4.0 * (31.75**2 - inner**2)
    modulus = np.pi / 32.0 * (31.75**4 - inner**4) / 31.75
    swing = np.hypot(
        2000.0 / area + 60.0 * (30.0 + 22.0) / modulus, np.sqrt(3.0) * 2.0 * 60.0 / area
    )
    assert found.demand == pytest.approx(20_000.0 / (2e6 * (12.0 / 1.35 / swing) ** 3), rel=1e-3)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"engagement": "10 mm"}, "diameters of engagement"),
        ({"bung": STEEL["bung"] | {"thread_depth": "18 mm"}}, "more thread must engage"),
        ({"thread": "M22", "engagement": "22 mm"}, "less than 1 mm of wall"),
        ({"bung": STEEL["bung"] | {"spigot": "5 mm"}}, "does not hold the tube straight"),
        ({"weld": {"type": "fillet"}}, "leaves no ledge"),
    ],
)
def test_what_cannot_be_made_is_said(changes, says):
    with pytest.raises(ValidationError, match=says):
        bung(STEEL, (1000.0, 0.0, 0.0), **changes)


def test_a_metal_that_is_not_welded_is_refused():
    with pytest.raises(ValidationError, match="7075"):
        bung(CLOSED, (100.0, 0.0, 0.0), material="7075-T6")
