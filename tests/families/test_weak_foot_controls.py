"""Foot levers and footpegs made just too weak on purpose, each beside the nearest that holds, worked by hand."""

import math

import pytest

from parts.families.foot_lever.examples import PEDAL
from parts.families.foot_lever.family import FootLever
from parts.families.footpeg.family import SHANK, Footpeg

SHORT, HOLDS = False, True


def lever(data=PEDAL, **changes):
    return FootLever.model_validate({**data, **changes})


def peg(**changes):
    return Footpeg.model_validate({**Footpeg.example, **changes})


def down(force, **more):
    """A load case that presses a peg down where the foot bears."""
    return [{"name": "foot", "forces": [{"at": "foot", "force": [0, 0, f"{-force} N"]}], **more}]


def across(push, **more):
    """A load case that pushes a lever's toe across."""
    return [{"name": "boot", "forces": [{"at": "toe", "force": [0, f"{push} N", 0]}], **more}]


def named(part, name):
    return next(one for one in part.check().checks if one.name == name)


@pytest.mark.parametrize("share, holds", [(1.03, SHORT), (0.97, HOLDS)])
def test_a_toes_screw_has_less_preload_by_what_its_shoulder_settles(share, holds):
    """M10 8.8 in 7075, shoulder 18 mm, foot 18 mm over it: an M10 in the mean at 0.75 x 580 MPa x 58.0 mm².

    The wrench leaves 0.65 of 25.2 kN: 16.4 kN. Thread and shoulder settle 3 + 4.5 µm (VDI 2230-1, Table 5: loaded
    across, Rz 10 to 40). What yields: 0.4 d as a bar of 10 mm, 0.5 d of the stress area, 0.33 d of aluminium as a bar
    of 10 mm; no length is clamped beside. The shoulder pivots on its rim: pull = F x 18/9, and 1.5 is asked.
    """
    area = math.pi / 4 * 10.0**2
    yields = 4.0 / (205e3 * area) + 5.0 / (205e3 * 58.0) + 3.3 / (71e3 * area)
    loss = 0.0075 / yields
    assert 5.0e3 < loss < 6.5e3
    push = (0.65 * 0.75 * 580.0 * 58.0 - loss) / 1.5 * 9.0 / 18.0
    part = lever(loads=across(-share * push))
    found = named(part, "toe joint, opening at the least preload")
    assert found.capacity == pytest.approx(1.5 * 2.0 * push, rel=0.01)
    assert found.ok == holds


@pytest.mark.parametrize("force, holds", [(3000.0, SHORT), (1500.0, HOLDS)])
def test_the_sharpest_undercut_of_a_thick_peg_has_a_number(force, holds):
    """M24x2: undercut 21 with a radius of 1, r/d 0.048, a shoulder without ears. Bent by 32 F (77 + 5.5)/(π 21³).

    Peterson's round fillet, h/r 10.5 from 42 to 21: K_t near 2.5, of which steel of 1070 MPa feels 0.92 at 1 mm: 2.38.
    """
    thick = {"diameter": "44 mm", "length": "110 mm", "lip": None, "flats": None,
             "shank": SHANK | {"thread": "M24x2", "length": "40 mm", "engagement": "30 mm"}}  # fmt: skip
    part = peg(**thick, loads=down(force, spectrum=[{"cycles": 2e5}], ratio=0))
    found = named(part, "fatigue, undercut")
    bent = 32.0 * force * 82.5 / (math.pi * 21.0**3)
    (swing,) = {float(s.value[0]) for s in found.steps if s.function.__name__ == "cycle_amplitude"}
    assert swing == pytest.approx(2.38 * bent / 2.0, rel=0.01)
    assert found.ok == holds
