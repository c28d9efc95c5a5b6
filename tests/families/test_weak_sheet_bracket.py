"""Weak sheet brackets: each way of failing by a part that falls short and the nearest that holds, worked by hand."""

import numpy as np
import pytest

from parts.families.sheet_bracket.family import EXAMPLE, SheetBracket

SHORT, HOLDS = False, True
YIELD, ULTIMATE, E = 235.0, 360.0, 205e3
LEG = {"side": "front", "bends": [{"flat": "6 mm", "angle": "90 deg", "radius": "6 mm"}], "reach": "40 mm",
       "pin": {"bolt": "M6 8.8", "hole": {"type": "clearance", "gap": "0.4 mm"}}, "beside": "4 mm"}  # fmt: skip
FLAT = {key: value for key, value in LEG.items() if key != "bends"}
BOLTS = {"bolt": "M6x20 8.8"}


def bracket(leg=LEG, **changes):
    bare = {key: value for key, value in EXAMPLE.items() if key != "shaking"}
    return SheetBracket.model_validate({**bare, "legs": [leg], **changes})


def load(*force, **more):
    return [
        {"name": "load", "forces": [{"at": "front", "force": [f"{f} N" for f in force]}], **more}
    ]


def named(part, name):
    return next(one for one in part.check().checks if one.name == name)


@pytest.mark.parametrize(("force", "ok"), [(370.0, SHORT), (355.0, HOLDS)])
def test_the_inside_of_a_bend_yields(force, ok):
    """Flat 6, arc π/2·7.5 = 11.78, so that the hole stands 22.22 beyond it and 29.72 over the middle of the flat.
    The load spreads over 12 + 22.22/0.509 = 55.7, more than the 54 that are there. 370·29.72 + 370·3/6 = 11.18 N m on
    54 mm, 3 mm about 6 mm (r_n = 3/ln 1.5 = 7.399): 1.153 · 6·11180/(54·9) = 159 MPa of 157."""
    part = bracket(base=EXAMPLE["base"] | {"margin": "12 mm"}, loads=load(force, 0, 0))
    found = named(part, "inside of the bend of front, yield")
    wide = float(part.stands["front"].wide)
    beyond = 40.0 - 6.0 - np.pi / 2.0 * 7.5
    moment = force * (beyond + 7.5) + force * 3.0 / 6.0
    neutral = 3.0 / np.log(1.5)
    raised = 3.0 * (neutral - 6.0) / (6.0 * (7.5 - neutral) * 6.0)
    width = min(12.0 + beyond / 0.509, wide)
    assert found.demand == pytest.approx(raised * 6.0 * moment / (width * 9.0), rel=1e-6)
    assert found.ok == ok


@pytest.mark.parametrize(("force", "ok"), [(190.0, SHORT), (180.0, HOLDS)])
def test_the_base_bends_beside_its_bolts(force, ok):
    """Flat leg: 12 + 40 = 52 from bolts to load. Two bolts hold 2·(12 + 12/0.509) = 71, more than the 54 that are
    there, less two holes of 6.4: 41.2. The slip of the load under the bolts' line adds nothing: 6·190·52/(41.2·9)."""
    part = bracket(FLAT, loads=load(0, 0, force))
    found = named(part, "base beside its bolts toward front, yield")
    own = 6.0 * force * 52.0 / ((54.0 - 12.8) * 9.0) + force / (41.2 * 3.0)
    assert found.demand == pytest.approx(own, rel=1e-6)
    assert found.ok == part.check().ok == ok


@pytest.mark.parametrize(("thickness", "ok"), [("1.2 mm", SHORT), ("1.5 mm", HOLDS)])
def test_a_head_pulls_through_the_sheet(thickness, ok):
    """1.5 kN straight up at the leg's hole: 0.6 π·9.6·1.2·360 = 7817 N of the 2.25·3600 that are wanted."""
    part = bracket(FLAT | {"reach": "16 mm"}, thickness=thickness, loads=load(0, 0, 3600))
    found = named(part, "sheet at the holes of front, pulled through")
    t = float(thickness.split()[0])
    assert found.capacity == pytest.approx(0.6 * np.pi * 1.6 * 6.0 * t * ULTIMATE, rel=1e-6)
    assert found.demand == pytest.approx(3600.0)
    assert found.ok == ok


def heavy(mass, reach="40 mm", z="1.5 mm", out="52 mm", **leg):
    return FLAT | {"reach": reach, "carries": {"mass": mass, "centre": [out, 0, z]}, **leg}


SHAKEN = {"acceleration": [0, 0, 2], "engine": {"top_speed": 6000}, "damping": 0.05}


@pytest.mark.parametrize(("mass", "ok"), [("0.7 kg", SHORT), ("0.62 kg", HOLDS)])
def test_an_order_meets_the_natural_frequency(mass, ok):
    """A strip 54 wide and 3 thick, 52 from its bolts to the mass: 52³/(3·205e3·54·27/12) = 1.882e-3 mm/N, 1/324 of it
    more in its plane. Alone, 0.7 kg swings at 138 Hz, less than 1.4 times the 100 Hz of 6000/min."""
    part = bracket(heavy(mass, out="52 mm"), shaking=SHAKEN)
    found = named(part, "natural frequency of front")
    second, plane, m = 54.0 * 27.0 / 12.0, 3.0 * 54.0**3 / 12.0, float(mass.split()[0])
    gives = 52.0**3 / (3.0 * E) * (1.0 / second + 1.0 / plane)
    alone = 1.0 / (2.0 * np.pi * np.sqrt(1e-3 * gives * m))
    assert 0.97 * alone < found.capacity < alone
    assert found.demand == pytest.approx(100.0)
    assert found.ok == ok


@pytest.mark.parametrize(("force", "ok"), [(78.0, SHORT), (75.0, HOLDS)])
def test_the_base_tires_at_the_rims_of_its_holes(force, ok):
    """Endurance 0.5·360 MPa by finish 4.51·360^-0.265 = 0.948, size (10.28/7.62)^-0.107 = 0.968 and 99 % 0.814: 134.5.
    A load that comes and goes has amplitude and mean s: s/(1 − s/360) = 134.5 at s = 97.9, so that 195.8 at the rim
    is the most; three times 0.8496 F of what is left beside the holes: 76.8 N."""
    part = bracket(FLAT, loads=load(0, 0, force, spectrum=[{"cycles": 1e7}]))
    found = named(part, "fatigue, base beside its bolts toward front")
    assert found.ok == part.check().ok == ok


@pytest.mark.parametrize(("side", "ok"), [("8 mm", SHORT), ("6 mm", HOLDS)])
def test_a_mass_beside_a_single_bolt_turns_about_it(side, ok):
    """320 N along x, 8 mm beside an M6 8.8: 2560 N mm. Its least preload, 0.65·0.75·580·20.1 = 5.7 kN, holds
    0.12·5680·4.8 = 3270 N mm by the head, where 1.5·2560 = 3840 are wanted; 6 mm want 2880."""
    carried = {"mass": "0.1 kg", "centre": ["52 mm", side, "1.5 mm"]}
    force = [{"at": "front mass", "force": ["320 N", 0, 0]}]
    part = bracket(FLAT | {"carries": carried}, loads=[{"name": "load", "forces": force}])
    found = named(part, "front, turns about its bolt")
    assert found.demand == pytest.approx(320.0 * float(side.split()[0]))
    assert found.capacity == pytest.approx(0.12 * 0.65 * 0.75 * 580.0 * 20.1 * 4.8, rel=0.05)
    assert found.ok == ok
