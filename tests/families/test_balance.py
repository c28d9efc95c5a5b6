"""Loads on a part and what holds it sum to nothing, by what each family's own checks work out."""

import copy

import numpy as np
import pytest
from clevises import SHANKS, case_of, clevis

from parts.core.freebody import OutOfBalance, balance
from parts.core.loads import LoadCase, PointLoad, resultant
from parts.families.clevis.family import Clevis
from parts.families.foot_bracket.family import FootControlBracket
from parts.families.gusset.family import Gusset
from parts.families.links.adjustable_link import AdjustableLink
from parts.families.links.turnbuckle import Turnbuckle
from parts.families.torsion_arm.family import TorsionArm
from parts.report.document import part_entry
from parts.report.text import text_report

FAMILIES = (Clevis, AdjustableLink, TorsionArm, Turnbuckle, Gusset, FootControlBracket)
LOAD = ((1500.0, -400.0, 250.0), (9000.0, -7000.0, 4000.0))


def loaded(family, point, force, moment=(0, 0, 0)):
    data = copy.deepcopy(dict(family.example))
    data["loads"] = [
        {
            "name": "one",
            "forces": [{
                "at": point, "force": [f"{f} N" for f in force], "moment": [f"{m} N*mm" for m in moment]
            }],
        }
    ]  # fmt: skip
    return family.model_validate(data)


@pytest.mark.parametrize("family", FAMILIES)
def test_every_family_says_what_holds_it(family) -> None:
    result = family.model_validate(dict(family.example)).check()
    assert len(result.balances) == len(result.part.loads)
    for case, held in result.balances:
        force, moment = resultant(held.acting, (17.0, -5.0, 3.0))  # about any place at all
        most = max(np.abs(one.force).max() for one in held.acting[: len(case.forces)])
        assert np.abs(force).max() < 1e-6 * most
        assert np.abs(moment).max() < 1e-4 * most  # the same share, at arms of some 100 mm


@pytest.mark.parametrize("shank", SHANKS)
def test_every_shank_holds_force_and_moment(shank) -> None:
    part, case = clevis(shank), case_of(*LOAD)
    held = balance("x", [*loads_of(part, case), *part.holding(case)])
    assert held.ok, held.error


@pytest.mark.parametrize("shank", SHANKS)
def test_rounding_is_no_imbalance(shank) -> None:
    """A pull through the middle has no moment to compare with, a couple no force."""
    part = clevis(shank)
    for load in (((5000.0, 0.0, 0.0),), ((0.0, 0.0, 0.0), (0.0, 8000.0, 0.0))):
        case = case_of(*load)
        held = balance("x", [*loads_of(part, case), *part.holding(case)])
        assert held.ok, held.error


def loads_of(part, case):
    from parts.core.loads import point_actions

    return list(point_actions(case, part.points()))


def test_bolts_of_a_pad_by_hand() -> None:
    """Pulled through the middle, four bolts hold a quarter each, at the back of the pad."""
    part = clevis("pad")
    bolts = part.holding(case_of((4000.0, 0.0, 0.0)))
    assert [one.by for one in bolts] == [f"bolt {i}" for i in (1, 2, 3, 4)]
    assert all(one.force == pytest.approx([-1000.0, 0.0, 0.0]) for one in bolts)
    assert bolts[0].at == pytest.approx([-(part.ears.back + 8.0), -20.0, -25.0])


def test_pins_of_a_link_by_hand() -> None:
    """300 N across the middle is held by half at each pin; a pull at end b by end a."""
    part = loaded(AdjustableLink, "middle", (0, 300, 0))
    a, b = part.holding(part.loads[0])
    assert a.force == pytest.approx([0, -150, 0]) and b.force == pytest.approx([0, -150, 0])
    part = loaded(AdjustableLink, "end b", (2000, 0, 0))
    a, b = part.holding(part.loads[0])
    assert a.force == pytest.approx([-2000, 0, 0]) and b.force == pytest.approx([0, 0, 0])


def test_the_bar_holds_the_torque_and_the_bearing_the_rest() -> None:
    part = loaded(TorsionArm, "end", (0, 1000, 200))
    bar, bearing = part.holding(part.loads[0])
    R = part.arm.length
    assert bar.moment == pytest.approx([0, 0, -1000 * R]) and bar.force == pytest.approx([0, 0, 0])
    assert bearing.force == pytest.approx([0, -1000, -200])
    assert bearing.moment == pytest.approx([0, 200 * R, 0])


def test_a_load_that_is_lost_is_an_error(monkeypatch) -> None:
    part = Clevis.model_validate(dict(Clevis.example))
    true = Clevis.holding

    def leaky(self, case):
        return [type(one)(one.at, 0.9 * one.force, one.moment, one.by) for one in true(self, case)]

    monkeypatch.setattr(Clevis, "holding", leaky)
    with pytest.raises(OutOfBalance, match="HC-100 under 'pull' is out of balance: 500 N"):
        part.check()


def test_reports_show_what_holds_the_part() -> None:
    result = loaded(Turnbuckle, "end b", (2000, 0, 0)).check()
    assert "- one: pin of end a (-2000, 0, 0 N)" in text_report(result)
    assert "pin of end b" not in text_report(result)  # nothing acts there but the load
    (entry,) = part_entry(result)["balance"]
    assert entry["loads"][0] == {
        "by": "end b", "at_mm": entry["loads"][0]["at_mm"], "force_N": [2000.0, 0.0, 0.0],
        "moment_Nmm": [0.0, 0.0, 0.0],
    }  # fmt: skip
    assert [one["by"] for one in entry["reactions"]] == ["pin of end a", "pin of end b"]
    assert entry["left_over"] == 0.0


def test_mounts_of_a_bracket_hold_it_on_either_side() -> None:
    """The left bracket is the mirror image of the right: its mounts answer as theirs do, mirrored in z."""
    data = dict(FootControlBracket.example) | {"loads": []}
    case = case_at("peg", (200.0, -1500.0, 300.0), (5000.0, -4000.0, 2000.0))
    mirrored = case_at("peg", (200.0, -1500.0, -300.0), (-5000.0, 4000.0, 2000.0))
    right = FootControlBracket.model_validate(data | {"hand": "right"})
    left = FootControlBracket.model_validate(data | {"hand": "left"})
    for one, other in zip(right.holding(case), left.holding(mirrored), strict=True):
        assert one.force * [1, 1, -1] == pytest.approx(other.force)
        assert np.asarray(one.moment) * [-1, -1, 1] == pytest.approx(other.moment)


def case_at(point, force, moment):
    return LoadCase(name="one", forces=[PointLoad(at=point, force=force, moment=moment)])
