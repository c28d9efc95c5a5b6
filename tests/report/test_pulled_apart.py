"""Bought-in hardware on the page of a part: closed surfaces, in place, pulled out on the side that it goes in."""

import numpy as np
import pytest

from parts.families import families
from parts.report.hardware import GAP, hardware
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
