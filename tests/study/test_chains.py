"""Tolerance chains: worst case, draws, and what a build's hardpoints do to its links and holes."""

import json
from types import SimpleNamespace

import numpy as np
import pytest
from scipy.stats import norm

from parts.core.clearances import Clearance, within
from parts.features.press.fit import bolt_in_hole, bolt_through_both
from parts.report.chains import chains_json, chains_text
from parts.report.page.chains import chains_page
from parts.study.stating import Stated
from parts.study.sure.chains import Chain, Term, _joint, _Moved, _places, _plays, chains_of
from parts.study.sure.given import givens
from parts.vehicle.build import Build
from parts.vehicle.file.loading import build_of
from tests.vehicle.builds import CLEVIS, DEMO


def test_gap_beside_three_sleeves():
    """Shigley, 9th edition, example 1-3, page 20 [in]: a shank of 1.750 +- 0.003 less sleeves of 0.750 +- 0.001,
    0.120 +- 0.005 and 0.875 +- 0.001 leaves 0.005 +- 0.010; with 0.867 it keeps 0.003."""

    def gap(d):
        room = (within("a", 1.750, 0.003, 0.003, "maker"),)
        sleeves = (("b", 0.750, 0.001), ("c", 0.120, 0.005), ("d", d, 0.001))
        filled = tuple(within(name, size, off, off, "maker") for name, size, off in sleeves)
        return _joint("bolt", Clearance("gap", "d", room, filled, "make d shorter"))

    assert gap(0.875).middle == pytest.approx(0.005)
    assert gap(0.875).worst == pytest.approx((-0.005, 0.015))
    assert not gap(0.875).goes_at_worst
    assert gap(0.867).worst[0] == pytest.approx(0.003)
    assert gap(0.867).goes_at_worst
    assert gap(0.867).short.count == 0


def test_draws_have_the_spread_of_their_sum():
    """Variances add: half²/3 of a size, half²/4 of a reading. Of readings alone the chance is that of the normal."""
    mixed = Chain(
        "p", "mixed", "place", 10.0, (Term("size", 0.3, "", even=True), Term("reading", 0.4, ""))
    )
    assert np.std(mixed.drawn) == pytest.approx(np.sqrt(0.3**2 / 3.0 + 0.4**2 / 4.0), rel=0.01)
    assert mixed.leads.name == "reading"
    assert not mixed.limited
    normal = Chain("p", "normal", "place", 10.0, (Term("reading", 0.4, ""),), 9.6, 10.4)
    low, high = normal.short.limits
    assert low < 0.0455 < high  # outside two standard deviations
    assert normal.goes_at_worst
    assert normal.usual == pytest.approx((10.0 - 1.96 * 0.2, 10.0 + 1.96 * 0.2), abs=0.01)
    assert np.array_equal(normal.drawn, Chain(**vars_of(normal)).drawn)


def vars_of(chain):
    return {name: getattr(chain, name) for name in Chain.__dataclass_fields__}


def test_hole_that_would_take_it_up_is_told():
    """Two readings of +-1 mm and a hole with half a millimetre either way: 95 % lie within 1.96 hypot(0.5, 0.5), 1.386;
    0.886 more on either side is a hole 1.8 mm larger."""
    tight = Chain("p", "at", "place", 0.0, (Term("a", 1.0, ""), Term("b", 1.0, "")), -0.5, 0.5)
    assert not tight.goes_at_worst
    assert tight.needs.startswith("a hole 1.8 mm larger")


@pytest.fixture(scope="module")
def chains(tmp_path_factory):
    """A clevis, and a rod between two points of which the upper is stated from the lower."""
    folder = tmp_path_factory.mktemp("chains")
    (folder / "build.yaml").write_text("""
build: tail
units: mm
hardpoints:
  low: {at: [0, 0, 0], within: 0.4}
  high: {from: low, offset: [0, 0, 330], within: 0.6}
links: {rod: {frame: low, body: high}}
parts: [{file: rod.yaml, place: {origin: low, x: forward, z: up}}]
""")
    (folder / "rod.yaml").write_text(CLEVIS.format(name="A", length="30 mm"))
    return folder / "build.yaml"


def test_link_is_off_by_its_ends_once(chains):
    """The upper end is stated from the lower one: only its own 0.6 mm stretch the rod, and a mm across turns it by
    1/330 rad."""
    build = Build(chains)
    found = {one.name: one for one in chains_of(build) if one.part == "rod"}
    long, lean = found["length, low to high"], found["leans sideways, low to high"]
    assert long.worst == pytest.approx((329.4, 330.6), abs=1e-4)
    assert lean.unit == "deg"
    assert lean.worst[1] == pytest.approx(np.degrees(0.6 / 330.0), rel=1e-3)
    assert lean.goes_at_worst


def test_text_json_and_page_say_the_same(chains):
    build = Build(chains)
    found = chains_of(build)
    data = json.loads(chains_json(build.name, found))
    text, page = chains_text(build.name, found), chains_page(build.name, found).decode()
    assert len(data["chains"]) == len(found)
    for one in found:
        assert f"{one.part}, {one.name}" in text
        assert one.name in page
    assert page.startswith("<!DOCTYPE html>")


@pytest.mark.slow
def test_chains_of_the_demo():
    """The upper tab of HC-104 is known to 0.2 mm from the engine bolt; a bolt of 8 through two holes of 8.4
    goes in where they lie 0.4 apart, and its own hole may be off by 0.2. The slotted one has 9 in both, and 2 more."""
    chains = chains_of(build_of("params/build.yaml"))
    found = {f"{one.part}, {one.name}": one for one in chains}
    tight, slotted = found["HC-104, mounts[3].at[1]"], found["HC-104, mounts[2].at[1]"]
    assert tight.worst == pytest.approx((21.6, 22.4), abs=1e-3)
    assert (tight.least, tight.most) == pytest.approx((21.6, 22.4))
    assert slotted.most - slotted.middle == pytest.approx(1.0 + 2.0 * np.cos(np.radians(10.0)))
    assert max(one.short.value for one in chains if one.kind == "place") < 0.01
    assert found["HC-102, length, strut foot to seat mount"].goes_at_worst


def test_a_place_that_was_read_too_roughly_falls_short(tmp_path):
    """The same tab known to 0.5: a reading of 0.25 for one standard deviation and an even 0.2 beyond 0.4, by
    integration."""
    text = DEMO.read_text()
    assert "offset: [22, 0, 92], within: 0.2" in text
    for file in DEMO.parent.glob("*.yaml"):
        (tmp_path / file.name).write_text(file.read_text())
    (tmp_path / "build.yaml").write_text(
        text.replace("[22, 0, 92], within: 0.2", "[22, 0, 92], within: 0.5")
    )
    build = Build(tmp_path / "build.yaml")
    places = _places(build, "HC-104", build.bare("HC-104"), _Moved(build))
    (tight,) = [one for one in places if one.name == "mounts[3].at[1]"]
    off = np.linspace(-0.2, 0.2, 2001)
    beyond = float(np.mean(norm.sf((0.4 - off) / 0.25) + norm.cdf((-0.4 - off) / 0.25)))
    assert beyond == pytest.approx(0.15, abs=0.02)
    assert tight.short.limits[0] < beyond < tight.short.limits[1]
    assert "a hole 0." in tight.needs


def test_a_bolt_screwed_into_the_other_piece_has_the_play_of_one_hole():
    """M8 through a hole of 9 into a thread: 0.5 either way, of which the hole's own zone of 0.5 takes 0.25; through two
    such holes to its nut it has 1.0, of which its own zone of 1.0 takes 0.5."""
    for fixed, zone, room, own in ((True, 0.5, 0.5, 0.25), (False, 1.0, 1.0, 0.5)):
        hole, bolt = within("hole", 9.0, 0.0, 0.0, "maker"), within("bolt", 8.0, 0.0, 0.0, "maker")
        part = SimpleNamespace(mounts=[SimpleNamespace()], clearances=lambda: (
            bolt_in_hole("mount 1: bolt in its hole", "mounts[1].hole", 9.0, bolt),  # noqa: B023
            bolt_through_both("both", "mounts[1].hole", hole, bolt, zone, fixed=fixed),  # noqa: B023
        ))  # fmt: skip
        play = _plays(part)["mounts[1]"]
        assert play.along == pytest.approx((room, room), abs=1e-9)
        assert play.zone == pytest.approx(own)


def test_points_of_one_survey_share_their_errors_in_chains_and_draws(tmp_path):
    """How far a shank between points of the demo's readings may be off, beside places drawn from all of the covariance;
    a tape between them holds them closer than each is known for itself."""
    (tmp_path / "readings.yaml").write_text(
        (DEMO.parent / "readings" / "rear-end.yaml").read_text()
    )
    (tmp_path / "build.yaml").write_text("""
build: tail
units: mm
survey: readings.yaml
parts: [{file: a.yaml, place: {origin: torsion bar, x: forward, z: up}}]
""")
    part = CLEVIS.format(
        name="A", length="{less: [{distance: [torsion bar, link on swing arm]}, 180 mm]}"
    )
    (tmp_path / "a.yaml").write_text(part)
    build = Build(tmp_path / "build.yaml")
    of = build.survey.adjustment
    middle = np.concatenate([of.places[one] for one in of.unknown])
    drawn = np.random.default_rng(1).multivariate_normal(middle, of.covariance, 40_000)
    ends = [
        drawn[:, 3 * k : 3 * k + 3]
        for k in map(of.unknown.index, ("torsion bar", "link on swing arm"))
    ]
    spread = float(np.std(np.linalg.norm(ends[0] - ends[1], axis=1)))
    (chain,) = [one for one in chains_of(build) if one.kind == "place"]
    assert chain.terms[0].name == "readings of torsion bar, link on swing arm"
    assert chain.terms[0].half == pytest.approx(2.0 * spread, rel=0.02)
    alone = np.hypot(*(of.within(one) for one in ("torsion bar", "link on swing arm"))) / 2.0
    assert spread < 0.5 * alone
    read = [one for one in givens(Stated(tmp_path / "a.yaml"), {}, {}) if one.kind == "reading"]
    (path,) = {path for one in read for path in one.moves}
    assert np.sqrt(sum((one.spread * one.moves[path]) ** 2 for one in read)) == pytest.approx(
        spread, rel=0.02
    )
