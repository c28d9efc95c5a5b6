"""Cycles counted from one load case to another, by hand."""

import numpy as np
import pytest

from parts.core.cycles import least_ratio, spectrum_of, turns_round
from parts.core.loads import LoadCase, times
from parts.families.foot_lever.family import FootLever


def case(name, force, cycles=None, ratio=0.0, share=1.0):
    return LoadCase(
        name=name,
        forces=[{"at": "pin", "force": [f"{v} N" for v in force]}],
        spectrum=[{"cycles": cycles, "share": share}] if cycles else [],
        ratio=ratio,
    )


def counted(*cases, felt=lambda force: float(np.linalg.norm(force))):
    """Range and number of every cycle that has a range, the widest first, at a place that feels a force so."""
    found = spectrum_of(cases)
    peaks = [felt(sum(np.asarray(load.force) for load in one.forces)) for one in found.asked]
    of = found.cycles(peaks, np.zeros(len(peaks)))
    rows = zip(of.peak * (1.0 - of.ratio), of.number, strict=True)
    return [(pytest.approx(width), number) for width, number in rows if width > 1e-9]


def pulled(force):
    """A place that feels pulls alone, as a bolt."""
    return max(float(force[0]), 0.0)


def test_a_pull_and_a_push_make_one_wide_cycle() -> None:
    """5 kN one way and 3 kN the other: 8 kN, as often as the rarer comes; the rest of the pulls stay as stated."""
    found = counted(case("pull", (5000, 0, 0), 100), case("push", (-3000, 0, 0), 40))
    assert found == [(8000.0, 40), (5000.0, 60)]


def test_loads_of_one_way_leave_each_other_alone() -> None:
    found = counted(case("hard", (5000, 0, 0), 100), case("easy", (3000, 0, 0), 40))
    assert found == [(5000.0, 100), (3000.0, 40)]


def test_loads_across_each_other_lie_as_far_apart_as_their_difference() -> None:
    found = counted(case("along", (3000, 0, 0), 10), case("across", (0, 4000, 0), 10))
    assert found == [(5000.0, 10)]


def test_a_share_of_a_case_goes_with_it() -> None:
    """Half of 4 kN across beside 3 kN along: √(3² + 2²) kN."""
    found = counted(case("along", (3000, 0, 0), 10), case("across", (0, 4000, 0), 10, share=0.5))
    assert found == [(np.hypot(3000.0, 2000.0), 10)]


def test_what_feels_pulls_alone_is_not_charged_with_a_push() -> None:
    found = counted(case("pull", (5000, 0, 0), 100), case("push", (-9000, 0, 0), 100), felt=pulled)
    assert found == [(5000.0, 100)]


def test_a_push_that_turns_round_pulls() -> None:
    """A push of 4 kN with a ratio of -0.5 pulls a bolt with 2 kN in every cycle."""
    assert counted(case("push", (-4000, 0, 0), 100, ratio=-0.5), felt=pulled) == [(2000.0, 100)]


def test_what_turns_round_comes_again_as_large_as_its_block_takes_it() -> None:
    """Half of 4 kN, and of that the ratio of -0.5: 1 kN, all of it again and again; a smaller block by its share."""
    push = case("push", (-4000, 0, 0), 100, ratio=-0.5, share=0.5)
    small = push.spectrum[0].model_copy(update={"share": 0.1})
    turned = push.model_copy(update={"spectrum": [*push.spectrum, small]}).turned
    assert turned.forces[0].force[0] == pytest.approx(1000.0)
    assert [block.share for block in turned.spectrum] == pytest.approx([1.0, 0.2])


def test_one_case_alone_is_as_it_is_stated() -> None:
    found = counted(case("to and fro", (4000, 0, 0), 100, ratio=-1.0))
    assert found == [(8000.0, 100)]


def test_what_is_no_number_stays_none() -> None:
    found = spectrum_of([case("one", (1, 0, 0), 10), case("other", (-1, 0, 0), 10)])
    of = found.cycles([np.nan, 1.0, 2.0], np.zeros(3))
    assert np.isnan(of.peak).any()
    assert np.isinf(found.cycles([np.inf, 1.0, 2.0], np.zeros(3)).peak).any()
    # Nor is it left over where the others could be paired without it.
    often = spectrum_of([case("one", (1, 0, 0), 200), case("other", (-1, 0, 0), 100)])
    assert np.isnan(often.cycles([np.nan, 1.0, 2.0], np.zeros(3)).peak).any()


def test_loads_of_many_variants_turn_round_where_those_of_one_do():
    """Two forces against each other, one of them of a part in three variants; and two along each other."""
    push, pull = case("push", (-900, 0, 0), 1e4), case("pull", (1000, 0, 0), 1e4)
    sizes = np.array([[900.0, 0, 0], [1000.0, 0, 0], [1100.0, 0, 0]])
    three = pull.model_copy(update={"forces": [pull.forces[0].model_copy(update={"force": sizes})]})
    assert np.array_equal(times(three.forces, -0.5)[0].force, -0.5 * sizes)
    assert turns_round(three, [push, three]) and turns_round(push, [push, three])
    assert not turns_round(three, [three, pull])


def test_what_a_bolt_feels_least_hangs_on_what_comes_after() -> None:
    """A case that never lets go alone; one that lets go between others; one that another acts against."""
    held = case("held", (4000, 0, 0), 100, ratio=0.5)
    assert least_ratio(held, [held]) == 0.5
    assert least_ratio(held, [held, case("aside", (0, 10, 0), 100)]) == 0.0
    assert least_ratio(held, [held, case("back", (-10, 0, 0), 100)]) == -1.0
    assert least_ratio(held, [held, case("rare", (-10, 0, 0))]) == 0.5


def test_moments_act_against_each_other_and_so_may_loads_of_other_points() -> None:
    def acts(name, at, moment):
        forces = [{"at": at, "moment": [f"{v} N m" for v in moment]}]
        return LoadCase(name=name, forces=forces, spectrum=[{"cycles": 100}])

    one, back = acts("one", "pin", (0, 9, 0)), acts("back", "pin", (0, -1, 0))
    assert least_ratio(one, [one, back]) == -1.0
    assert least_ratio(one, [one, acts("on", "pin", (0, 1, 0))]) == 0.0
    assert least_ratio(one, [one, acts("elsewhere", "end", (0, 9, 0))]) == -1.0


def test_a_toe_s_bolt_bears_the_cycles_of_all_cases_times_the_factor_on_life() -> None:
    toe = next(one for one in FootLever.examples if one.get("toe", {}).get("type") == "tapped")
    spectrum = [{"cycles": 3e4}]
    first = {**toe["loads"][0], "spectrum": spectrum, "ratio": 0}
    again = {**first, "name": "once more"}
    part = FootLever.model_validate({**toe, "loads": [first, again], "required": {"on_life": 10}})
    found = [one for one in part.check().checks if one.name == "toe bolt, fatigue of its thread"]
    assert found and all(one.note.startswith("6e+05 cycles") for one in found)
