"""A bearing cup's checks worked by hand: cups that fall short, and the nearest that hold."""

import numpy as np
import pytest
from pydantic import ValidationError

from parts.families.bearing_cup.family import BearingCup

PLATE, TUBE, PAIR = BearingCup.examples
SHORT, HOLDS = False, True


def cup(data, force, moment=(0, 0, 0), **changes):
    loads = [
        {
            "name": "load",
            "forces": [
                {"at": "bearing", "force": [f"{v} N" for v in force], "moment": [f"{v} N m" for v in moment]}
            ],
        }
    ]  # fmt: skip
    return BearingCup.model_validate({**data, "loads": loads, **changes})


def named(part, name):
    return next(one for one in part.check().checks if one.name == name)


@pytest.mark.parametrize(("force", "ok"), [(1_230.0, SHORT), (1_180.0, HOLDS)])
def test_a_thin_wall_of_softened_metal_is_pushed_out_of_round(force, ok):
    # 6061-T6 beside a weld: 103.4 MPa of yield, 1.5 wanted. Wall 3.5 about a 35 x 11 bearing: M = 0.04736·F·19.25;
    # 6 M (1 + 3.5/38.5)/(11·3.5²) + F/(2·11·3.5): F = 1.20 kN.
    part = cup(PAIR, (0.0, force, 0.0), diameter="42 mm", seat={"bearing": "6202-2RS", "retention": "press"},
        length="24 mm", welded=PAIR["welded"] | {"at": "12 mm", "thickness": "5 mm", "leg": "3 mm"})  # fmt: skip
    bent = 6.0 * 0.047358 * force * 19.25 * (1.0 + 3.5 / 38.5) / (11.0 * 3.5**2)
    found = named(part, "cup wall as a ring, yield")
    assert found.demand == pytest.approx(bent + force / 77.0, rel=1e-4)
    assert found.ok == part.check().ok == ok


@pytest.mark.parametrize(("tilt", "ok"), [(19.5, SHORT), (18.7, HOLDS)])
def test_a_moment_tilts_the_cup_out_of_a_thin_plate(tilt, ok):
    # Cup of 50 in 3 mm of softened 6061-T6, on hinges at 60: 6 M S/(π d t²), S = 0.850 for a trunnion of d/(2 a) =
    # 0.417 (Roark, central couple): M = 68.9·π·50·9/(6·0.850) = 19.1 N m.
    part = cup(PAIR, (0.0, 0.0, 0.0), (0, 0, tilt),
        welded=PAIR["welded"] | {"thickness": "3 mm", "leg": "3 mm", "held_within": "60 mm"})  # fmt: skip
    found = named(part, "plate round the cup, yield")
    k, nu = 25.0 / 60.0, 0.33
    held = 1.0 - 4.0 * k**2 * (1.0 + nu + (1.0 - nu) * k**2) / (
        6.0 + 2.0 * nu + (2.0 - 2.0 * nu) * k**4
    )
    assert found.demand == pytest.approx(6.0 * tilt * 1e3 * held / (np.pi * 50.0 * 9.0), rel=1e-6)
    assert found.ok == part.check().ok == ok


def test_a_push_along_the_shaft_dishes_the_plate_and_loads_both_fillets():
    # Clamped to a rigid middle of 23, on hinges at 60 (Roark, table 11.2, case 1b): 1.5 F/(π t²)·(2 (1.3 ln x + 1)/
    # (1.3 + 0.7/x²) - 1), x = 60/23. Both rings share the push: q = F/(4 π 23), throat stress q·√2/4.
    part = cup(PLATE, (1000.0, 0.0, 0.0))
    x = 60.0 / 23.0
    rise = 2.0 * (1.3 * np.log(x) + 1.0) / (1.3 + 0.7 / x**2) - 1.0
    bent = 1.5 * 1000.0 / (np.pi * 25.0) * rise
    assert named(part, "plate round the cup, yield").demand == pytest.approx(bent, rel=1e-6)
    throat = 1000.0 / (4.0 * np.pi * 23.0) * np.sqrt(2.0) / 4.0
    assert named(part, "weld cup, throat, yield").demand == pytest.approx(throat, rel=1e-6)


@pytest.mark.parametrize(("kept", "ok"), [("press", SHORT), ("circlip", HOLDS)])
def test_a_pull_out_of_the_mouth_wants_a_circlip(kept, ok):
    # N7 in the cup, h6 on the ring: at the loosest 8 µm of press less 16.1 of ring leave nothing that holds.
    part = cup(PLATE, (-300.0, 0.0, 0.0), seat={"bearing": "6202-2RS", "retention": kept})
    assert part.check().ok == ok
    if kept == "circlip":
        # Groove 37 in a bore of 35: π/4 (37² - 35²) of 335 MPa of yield, over 1.2; wall 3 mm.
        assert named(part, "cup circlip groove, yield").capacity == pytest.approx(
            np.pi / 4.0 * (37.0**2 - 35.0**2) * 335.0 / 1.2, rel=1e-6
        )


def test_a_cup_on_a_tube_bends_its_weld_and_the_tube_where_its_heat_ends():
    part = cup(TUBE, (0.0, 1000.0, 0.0))
    inner = 50.8 - 2.0 * 0.75 * 2.413
    modulus = np.pi / 32.0 * (50.8**4 - inner**4) / 50.8
    area = np.pi / 4.0 * (50.8**2 - inner**2)
    stress = np.hypot(1000.0 * (30.0 - 6.0) / modulus, np.sqrt(3.0) * 2.0 * 1000.0 / area)
    assert named(part, "cup, beside the weld, yield").demand == pytest.approx(stress, rel=1e-6)
    inner = 50.8 - 2.0 * 2.413
    modulus = np.pi / 32.0 * (50.8**4 - inner**4) / 50.8
    area = np.pi / 4.0 * (50.8**2 - inner**2)
    stress = np.hypot(1000.0 * (30.0 - 6.0 + 26.0) / modulus, np.sqrt(3.0) * 2.0 * 1000.0 / area)
    assert named(part, "cup, tube softened by the weld, yield").demand == pytest.approx(
        stress, rel=1e-6
    )


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"length": "16 mm"}, "leave no lip"),
        ({"diameter": "39 mm"}, "too thin to hold it round"),
        ({"welded": PLATE["welded"] | {"at": "20 mm"}}, "no cup to stand on"),
        ({"welded": PLATE["welded"] | {"held_within": "20 mm"}}, "ends where the cup begins"),
        ({"allowance": "0.05 mm"}, "shrinks the bore"),
        ({"seat": {"bearing": "6202-2RS", "retention": "press", "fit": "H7"}}, "loose in its seat"),
    ],
)
def test_what_cannot_be_made_is_said(changes, says):
    with pytest.raises(ValidationError, match=says):
        cup(PLATE, (100.0, 0.0, 0.0), **changes)


def test_no_bearing_holds_its_shaft_against_turning():
    """30 N m about the shaft was said to hold: it ran through the ring, which turns."""
    with pytest.raises(ValidationError, match="turns freely"):
        cup(PLATE, (0.0, 300.0, 0.0), (30.0, 0.0, 0.0))
    assert cup(PLATE, (0.0, 300.0, 0.0), (0.4, 0.0, 0.0)).check().ok
