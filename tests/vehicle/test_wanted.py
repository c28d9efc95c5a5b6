"""Bars for a wanted ride: each gives the rate and the sag that were asked, and stays within stress and room."""

import json
from dataclasses import replace

import numpy as np
import pytest
from builds import DEMO, copied, refused, with_rear_end, write

from parts.standards.materials.materials import material
from parts.standards.stock.stock import listed
from parts.vehicle.build import Build
from parts.vehicle.file.loading import build_of
from parts.vehicle.rear_end.ride import rest
from parts.vehicle.rear_end.suspension import Bar, RearEnd, response
from parts.vehicle.rear_end.wanted import bars, wanted_data, wanted_of

BAR = "  bar: {diameter: 18.5"


def rear_of(tmp_path, wanted):
    text = with_rear_end((BAR, f"  wanted: {wanted}\n{BAR}"))
    return Build(write(tmp_path, text)).rear


def test_every_bar_rests_at_the_wanted_sag_with_the_wanted_rate(tmp_path):
    rear = rear_of(tmp_path, "{wheel_rate: 18, sag: 33, shortest: 150, longest: 700}")
    wanted, found = wanted_of(rear), bars(rear)
    assert wanted.load == pytest.approx(float(rear.loads[1])) and len(found) >= 2
    masses = [one.mass for one in found]
    assert masses == sorted(masses)
    G = material("51CrV4 spring +QT", thickness_mm=18.5).G
    for one in found:
        # Put together anew from what the table says, and set down under the load by the ride's own solution.
        end = RearEnd(rear.end.linkage, Bar(one.stock.width_mm, one.length, G), one.preload)
        still = rest(end, wanted.load)
        assert float(still.travel) == pytest.approx(33.0, abs=1e-6)
        assert float(still.wheel_rate) == pytest.approx(18.0, rel=1e-6)
        assert 150.0 <= one.length <= 700.0
        assert np.max(one.whole.shear) < one.shear <= float(rear.shear.capacity)


def test_a_proposed_bar_is_checked_to_the_stress_that_was_said(tmp_path):
    one = wanted_data(build_of(DEMO).rear)["exact"][0]
    path = copied(
        tmp_path,
        (
            "bar: {diameter: 18.5, length: 405",
            f"bar: {{diameter: {one['diameter_mm']}, length: {one['length_mm']}",
        ),
        ("preload: 3.4 deg", f"preload: {one['preload_deg']} deg"),
    )
    found = Build(path).rear
    # Range of the turnbuckle and tolerance of the points on top of the stress as drawn.
    assert float(np.max(np.abs(found.whole.shear))) < 0.98 * one["bump_shear_MPa"]
    assert found.greatest_shear.ok
    assert float(found.greatest_shear.demand) == pytest.approx(one["bump_shear_MPa"], rel=1e-3)


def test_what_cannot_be_had_is_said_and_not_listed(tmp_path):
    # Room for 30 mm of bar: the stress would be far beyond what is allowed.
    data = wanted_data(
        rear_of(tmp_path, "{wheel_rate: 18, sag: 33, shortest: 20, longest: 30, arms: [180]}")
    )
    assert data["exact"] == [] and data["proposals"] == [] and len(data["said"]) == 2
    assert "no stock size gives that ride" in data["said"][0]
    assert "MPa" in data["said"][1]


def test_other_arms_are_proposed_as_plain_values():
    data = wanted_data(build_of(DEMO).rear)
    arms = {one["arm_mm"] for one in data["proposals"]}
    assert arms and arms <= {160.0, 184.0, 210.0}
    assert json.loads(json.dumps(data, allow_nan=False)) == data
    for one in data["proposals"]:
        # Put together anew: the arm's end along the arm as drawn, the pick-up where it is; the link's force by statics.
        rear = build_of(DEMO).rear
        drawn = rear.end.linkage
        bar, out = np.asarray(drawn.bar, float), np.asarray(drawn.arm_end) - np.asarray(drawn.bar)
        out = out * [1, 0, 1] / np.hypot(out[0], out[2])
        end = bar + one["arm_mm"] * out + (np.asarray(drawn.arm_end) - bar) * [0, 1, 0]
        G = material("300M", thickness_mm=18.5).G
        diameter = next(bar.width_mm for bar in listed("round bar") if bar.name == one["stock"])
        made = RearEnd(
            replace(drawn, arm_end=end),
            Bar(diameter, one["length_mm"], G),
            np.radians(one["preload_deg"]),
        )
        found = response(made, np.linspace(0.0, 110.0, 45))
        # Length and preload are printed to a hundredth.
        assert np.max(np.abs(found.link_force)) == pytest.approx(one["link_force_N"], rel=2e-3)
        assert float(rest(made, data["load_N"]).travel) == pytest.approx(35.0, abs=0.1)
    for one in data["exact"]:
        assert len(one["bar_shear_MPa"]) == 45 and one["bump_shear_MPa"] <= data["allowable_MPa"]


@pytest.mark.parametrize(
    ("wanted", "field", "words"),
    [
        ("{wheel_rate: 18, sag: 120}", "rear_end.wanted", "leaves nothing of 110 mm"),
        ("{wheel_rate: 18}", "rear_end.wanted.sag", "sag"),
        ("{wheel_rte: 18, sag: 30}", "rear_end.wanted.wheel_rte", "nearest is `wheel_rate`"),
        ("{wheel_rate: 18 N, sag: 30}", "rear_end.wanted.wheel_rate", "18 N"),
    ],
)
def test_wanted_rides_that_make_no_sense(tmp_path, wanted, field, words):
    problems = refused(write(tmp_path, with_rear_end((BAR, f"  wanted: {wanted}\n{BAR}"))))
    told = [one for one in problems if one.field == field]
    assert len(told) == 1 and words in str(told[0]) and told[0].line > 0, [
        str(one) for one in problems
    ]
