"""A welded toe's checks worked by hand: levers that fall short, and the nearest that hold."""

import numpy as np
import pytest
from pydantic import ValidationError

from parts.families.foot_lever.family import FootLever

WELDED = FootLever.examples[-1]
TOE = WELDED["toe"]
SHORT, HOLDS = False, True
SOFT, WHOLE = 358.527, 482.633
"""Yield strength of 4130 normalized beside a weld and away from it, in this thickness [MPa]."""


def lever(force, toe=None, **changes):
    case = {"name": "foot", "forces": [{"at": "toe", "force": [f"{f} N" for f in force]}]}
    case |= {k: changes.pop(k) for k in ("spectrum", "ratio") if k in changes}
    return FootLever.model_validate(
        {**WELDED, "toe": TOE | (toe or {}), "loads": [case], **changes}
    )


def named(part, name):
    return next(one for one in part.check().checks if one.name == name)


@pytest.mark.parametrize(("force", "ok"), [(1420.0, SHORT), (1380.0, HOLDS)])
def test_the_fillet_yields(force, ok):
    # 18 F/(π 6²) square to it and F/(π 6) along: 0.1678 F against 2.4/√2 mm at 358.5/√3: 351.3 N/mm over 1.5.
    found = named(lever((0, -force, 0), {"leg": "2.4 mm"}), "toe peg, weld, yield")
    q = np.hypot(18.0 / (np.pi * 36.0), 1.0 / (np.pi * 6.0)) * force
    assert found.demand == pytest.approx(q, rel=1e-6)
    assert found.capacity == pytest.approx(2.4 / np.sqrt(2.0) * SOFT / np.sqrt(3.0), rel=1e-4)
    assert found.ok == ok


@pytest.mark.parametrize(("force", "ok"), [(680.0, SHORT), (655.0, HOLDS)])
def test_the_softened_peg_bends(force, ok):
    # 8 mm thick: 18 F/(π 8³/32), over 1.5.
    found = named(
        lever((0, -force, 0), {"peg": "8 mm", "leg": "3 mm"}), "toe peg, bending at the root"
    )
    assert found.demand == pytest.approx(18.0 * force / (np.pi * 8.0**3 / 32.0), rel=1e-6)
    assert found.capacity == pytest.approx(SOFT, rel=1e-4)
    assert found.ok == ok


@pytest.mark.parametrize(("force", "ok"), [(6100.0, SHORT), (6000.0, HOLDS)])
def test_the_boss_twists_beside_the_weld(force, ok):
    # 12 thick, 26 wide, the weld 20 across: M 1.18·(3 + 1.8·12/26)/(26·144) + (1 - 20/26) M 6/(π 20·144)·20/29, and
    # F/(20·12); across the arm's run the foot twists the boss. Over 1.5.
    twist = 1.18 * (3.0 + 1.8 * 12.0 / 26.0) / (26.0 * 144.0)
    spread = (1.0 - 20.0 / 26.0) * 6.0 / (np.pi * 20.0 * 144.0) * 20.0 / (20.0 + 0.75 * 12.0)
    # The last limb lies 25° from x: force and moment turn with it.
    along, across = np.sin(np.radians(25.0)), np.cos(np.radians(25.0))
    bent = 1.05 * 6.0 / (26.0 * 144.0) + (1.0 - 20.0 / 26.0) * 6.0 / (np.pi * 20.0 * 144.0)
    found = named(lever((0, -force, 0)), "toe peg, boss beside the weld, yield")
    hand = force * (18.0 * (across * (twist + spread) + along * bent) + 1.0 / 240.0)
    assert found.demand == pytest.approx(hand, rel=0.01)
    assert found.capacity == pytest.approx(SOFT, rel=1e-4)
    assert found.ok == ok


@pytest.mark.parametrize(("cycles", "ok"), [(155_000, SHORT), (151_000, HOLDS)])
def test_the_root_of_the_fillet_cracks(cycles, ok):
    # 2.4/√2 of throat: 0.1678·400/1.697 = 39.6 MPa, class 36 over 1.35, four lives.
    part = lever((0, -400.0, 0), {"leg": "2.4 mm"}, spectrum=[{"cycles": cycles}], ratio=0)
    found = named(part, "fatigue, toe peg, weld root")
    q = np.hypot(18.0 / (np.pi * 36.0), 1.0 / (np.pi * 6.0)) * 400.0
    stress = q / (2.4 / np.sqrt(2.0))
    assert found.factor == pytest.approx(2e6 * (36.0 / 1.35 / stress) ** 3 / cycles, rel=0.02)
    assert found.ok == ok


@pytest.mark.parametrize(("cycles", "ok"), [(36_000, SHORT), (35_000, HOLDS)])
def test_the_toe_of_the_fillet_cracks(cycles, ok):
    # 8 mm: 18·400/50.27 = 143 MPa, class 80 over 1.35, four lives.
    part = lever(
        (0, -400.0, 0), {"peg": "8 mm", "leg": "6 mm"}, spectrum=[{"cycles": cycles}], ratio=0
    )
    found = named(part, "fatigue, toe peg, toe of its weld")
    stress = 18.0 * 400.0 / (np.pi * 8.0**3 / 32.0)
    assert found.factor == pytest.approx(2e6 * (80.0 / 1.35 / stress) ** 3 / cycles, rel=0.02)
    assert found.ok == ok


@pytest.mark.parametrize(
    ("long", "near"), [(60.0, False), (54.0, False), (50.0, True), (40.0, True)]
)
def test_what_lies_within_an_inch_of_the_weld_is_softened(long, near):
    # From the toe to the middle of the knee, less the 16 of the arm's widest place, its hub, and the weld's 10: below
    # 51 mm less than 25 are left.
    knee = WELDED["knees"][0]
    part = lever((0, -100.0, 0), knees=[knee | {"arm": knee["arm"] | {"length": f"{long} mm"}}])
    first, last, rod = part.limbs
    assert part._metal_of(last).yield_strength == pytest.approx(SOFT, rel=1e-4)
    assert part._metal_of(rod).yield_strength == pytest.approx(WHOLE, rel=1e-4)
    assert part._on_pivot.metal.yield_strength == pytest.approx(WHOLE, rel=1e-4)
    assert part._metal_of(first).yield_strength == pytest.approx(SOFT if near else WHOLE, rel=1e-4)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"toe": TOE | {"leg": "2 mm"}}, "does not fuse"),
        ({"toe": TOE | {"leg": "7 mm"}}, "no room on the face"),
        ({"toe": TOE | {"diameter": "36 mm", "leg": "10 mm"}}, "draws the peg"),
        ({"toe": TOE | {"peg_material": "6061-T6"}}, "not welded to"),
        ({"toe": TOE | {"peg_material": "15-5PH H900"}}, "beside a weld of 15-5PH"),
        ({"material": "7075-T6"}, "beside a weld of 7075-T6"),
    ],
)
def test_what_cannot_be_welded_is_told(changes, says):
    with pytest.raises(ValidationError, match=says):
        FootLever.model_validate({**WELDED, **changes})
