"""Bought-in hardware on the page of a part: closed surfaces, in place, pulled out on the side that it goes in."""

import numpy as np
import pytest

from parts.families import families
from parts.report.hardware import GAP, hardware
from parts.report.stacks import within
from parts.vehicle.space.envelopes import envelopes


@pytest.fixture(scope="module")
def of_bracket():
    family = families()["foot-control bracket"]
    part = family.model_validate(dict(family.example))
    plate = np.array([[0.0, 0.0, 0.0], [1.0, 0.0, float(part.plate.thickness)]]), None
    return part, hardware(part, [plate])


def test_each_surface_is_closed_and_has_its_cylinders_volume(of_bracket):
    part, found = of_bracket
    for one in envelopes(part):
        (points, corners), _ = found[one.name]
        a, b, c = (points[corners[:, k]] for k in range(3))
        volume = np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6.0
        # A prism of 24 sides within a cylinder: n/2 sin(2 pi / n) for pi.
        area = 24 / 2 * np.sin(2 * np.pi / 24) * (one.diameter / 2.0) ** 2
        assert volume == pytest.approx(area * np.linalg.norm(one.end - one.start))


def test_a_bolt_comes_out_at_its_heads_side_with_its_head_before_it(of_bracket):
    part, found = of_bracket
    every = {one.name: one for one in envelopes(part)}
    bolt = every["mount 1 bolt"]
    long = np.linalg.norm(bolt.end - bolt.start)
    out = (bolt.end - bolt.start) / long
    assert found["mount 1 bolt"][1] == pytest.approx(out * (long + GAP))
    assert found["mount 1 bolt head"][1] == pytest.approx(out * (long + 2 * GAP))


WITHOUT = {"gusset plate", "coped tube", "threaded bung"}
"""Families whose hardware is not shown: a gusset's tab, and what is bought by no part of these."""


@pytest.mark.parametrize("name", sorted(set(families()) - WITHOUT))
def test_hardware_of_every_option_is_shown_and_each_name_once(name):
    family = families()[name]
    for stated in (family.example, *family.examples):
        part = family.model_validate(dict(stated))
        shown = [*envelopes(part), *within(part)]
        assert len({one.name for one in shown}) == len(shown)
        assert all(np.linalg.norm(one.end - one.start) > 0.0 < one.diameter for one in shown)
        plugs = [one for one in part.bought() if one.designation.startswith("end plug")]
        assert shown or len(part.bought()) == len(plugs)


def test_a_base_bolt_clamps_what_is_stated_and_bearings_come_out_at_the_mouth():
    family = families()["sheet bracket"]
    part = family.model_validate(dict(family.example))
    bolts = [one for one in within(part) if one.name.startswith("base bolt") and one.kind == "pin"]
    assert len(bolts) == len(part.base.at)
    for one in bolts:
        ends = sorted((one.start[2], one.end[2]))
        assert ends == pytest.approx([-part.base.onto, part.thickness])
    cup = families()["bearing cup"]
    part = cup.model_validate(dict(cup.examples[2]))
    [bearings] = within(part)
    assert (
        bearings.start[0] == pytest.approx(part.seat.depth) and bearings.end[0] < bearings.start[0]
    )
