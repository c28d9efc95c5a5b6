"""A footpeg's checks worked by hand: pegs that fall short, and the nearest that hold."""

import numpy as np
import pytest
from pydantic import ValidationError

from parts.families.footpeg.family import Footpeg

SOLID, HOLLOW, BOLTED = Footpeg.examples
SHORT, HOLDS = False, True


def peg(data=SOLID, **changes):
    return Footpeg.model_validate({**data, **changes})


def load(at, down, **more):
    return [{"name": "load", "forces": [{"at": at, "force": [0, 0, f"{-down} N"]}], **more}]


def named(part, name):
    return next(one for one in part.check().checks if one.name == name)


@pytest.mark.parametrize(("force", "ok"), [(1400.0, SHORT), (1300.0, HOLDS)])
def test_the_foot_bends_the_undercut(force, ok):
    # 7075-T6, M18x1.5: undercut 15.7; F·(59.5 + 4.05)/(pi/32·15.7³) of 517.1 MPa, 2.25 wanted.
    part = peg(HOLLOW, loads=load("foot", force))
    found = named(part, "critical section, ultimate")
    groove = part.shank.thread.relief("external")
    run_out = groove.total_width - (part.shank.thread.major - groove.diameter) / 2.0
    bent = force * (0.7 * 85.0 + run_out) / (np.pi / 32.0 * groove.diameter**3)
    assert found.demand == pytest.approx(bent, rel=2e-3)
    assert found.ok == part.check().ok == ok


@pytest.mark.parametrize(("force", "ok"), [(1000.0, SHORT), (900.0, HOLDS)])
def test_a_blow_on_the_end_bends_it_more(force, ok):
    part = peg(HOLLOW, loads=load("end", force))
    assert part.check().ok == ok


def test_a_knurl_takes_its_depth_from_a_thin_wall():
    # 20.2 bored 15, grooves 0.8 deep: 18.6 counts; F·(60 - 0.4)/(pi/32·(18.6⁴ - 15⁴)/18.6), shear added.
    part = peg(
        HOLLOW, diameter="20.2 mm", bore="15 mm", bored="49 mm", flats=None, length="78 mm", foot="60 mm",
        shank=HOLLOW["shank"] | {"thread": "M16x1.5"}, knurl={"pitch": "1.6 mm"}, loads=load("foot", 500.0),
    )  # fmt: skip
    modulus = np.pi / 32.0 * (18.6**4 - 15.0**4) / 18.6
    area = np.pi / 4.0 * (18.6**2 - 15.0**2)
    stress = np.hypot(500.0 * (60.0 - 0.4) / modulus, np.sqrt(3.0) * 2.0 * 500.0 / area)
    assert named(part, "under the knurl, ultimate").demand == pytest.approx(stress, rel=1e-3)


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"bored": "60 mm"}, "too near the thread"),
        ({"bore": "29 mm"}, "too thin a wall"),
        ({"foot": "100 mm"}, "beyond the end"),
        ({"length": "3 mm"}, "wrong unit"),
        ({"knurl": {"pitch": "3 mm"}}, "DIN 82"),
        ({"flats": {"across": "18 mm", "length": "13 mm"}}, "wrench|shoulder|deep"),
    ],
)
def test_what_cannot_be_made_is_told(changes, says):
    with pytest.raises(ValidationError, match=says):
        peg(HOLLOW, **changes)


@pytest.mark.parametrize(("force", "ok"), [(3300.0, SHORT), (2900.0, HOLDS)])
def test_the_bolt_of_a_peg_is_pulled_as_the_shoulder_rocks(force, ok):
    # Foot 59.5 mm out, the shoulder pivots on its rim of 17 mm: T = F·59.5/17 against the least preload over 1.5.
    part = peg(BOLTED, loads=load("foot", force))
    found = named(part, "peg joint, opening at the least preload")
    assert found.demand == pytest.approx(force * 59.5 / 17.0)
    # 0.75·830 MPa·84.3 mm², and the wrench 35 % off.
    preload = 0.75 * 830.0 * part.shank.thread.stress_area * 0.65
    assert found.capacity == pytest.approx(preload, rel=0.02)


def test_a_head_without_a_washer_sinks_into_light_alloy():
    bare = peg(BOLTED, shank=BOLTED["shank"] | {"washer": None})
    assert not named(bare, "peg, pressure under the head").ok
    assert named(peg(BOLTED), "peg, pressure under the head").ok


def test_the_head_needs_room_in_the_hollow():
    with pytest.raises(ValidationError, match="does not go into the hollow"):
        peg(BOLTED, bore="18 mm")
    with pytest.raises(ValidationError, match="under the head"):
        peg(BOLTED, bored="78 mm")
