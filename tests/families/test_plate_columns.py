"""Sections of a plate by their columns, held against the traced outlines and the exact stress."""

import numpy as np
import pytest
from brackets import bracket, case_of, loaded_everywhere, sharp

from parts.core.search.critical import criticals, solve
from parts.core.search.look import GENEROUS, glance, looks, scans
from parts.families.foot_bracket.section.columns import columns, rough
from parts.strength.section.properties import properties

EVERY = ("plain", "stub", "stub, left", "forked peg")


def plate_spans(part):
    return [span for span in part.spans() if span.estimate is not None]


def line_of(span):
    line, k = span.estimate.func.__self__, span.estimate.args[0]
    return line, line.stretches[k]


@pytest.mark.parametrize("option", ["plain", "forked peg", "stub without thrust bearing"])
def test_columns_have_the_properties_of_the_outlines(option):
    part = loaded_everywhere(sharp(option))
    for span in plate_spans(part)[::3]:
        line, stretch = line_of(span)
        found = rough(columns(line.prisms, stretch.at(np.array([0.2, 0.5]))))
        exact = properties(span.outline(np.array([0.2, 0.5])))
        for name in ("area", "Iyy", "Izz"):
            # What a drill's point takes is neither in the columns nor in the outline.
            assert getattr(found, name) == pytest.approx(getattr(exact, name), rel=1e-9), name
        assert found.y == pytest.approx(exact.y, abs=1e-8)
        assert found.z == pytest.approx(exact.z, abs=1e-8)


def test_columns_know_where_a_section_is_parted():
    part = loaded_everywhere(sharp("plain"))
    for span in plate_spans(part)[::2]:
        line, stretch = line_of(span)
        loops = len(span.outline(np.asarray(0.5)).loops)
        assert line.parted[line.stretches.index(stretch)] == (loops > 1)


@pytest.mark.parametrize("option", EVERY)
def test_the_estimate_lies_near_the_solved_stress(option):
    part = loaded_everywhere(bracket(option))
    spans = plate_spans(part)
    ratios = []
    worst = max(one.stress.von_mises for one in criticals(looks(spans, part.loads)))
    for span in spans[::2]:
        t = np.array([0.5])
        exact = solve(span, part.loads, 0.5)[0].stress.von_mises
        if exact > 0.15 * worst:  # what is far below never governs
            ratios.append(float(span.estimate(part.loads, t)[0, 0] / exact))
    assert len(ratios) >= 3
    assert min(ratios) > 1.0 / GENEROUS, "a section could be passed over"
    assert max(ratios) < 1.6


def test_no_section_is_worse_than_the_one_found():
    """Every span solved at every station, against the few that the estimate picks."""
    part = bracket("plain")
    case = case_of("peg", (400.0, -2500.0, 150.0), (1e3, 2e4, 5e3))
    spans = plate_spans(part.model_copy(update={"loads": [case]}))
    (found,) = criticals(looks(spans, [case]))
    every = [
        solve(one.span, [case], float(t))[0].stress.von_mises
        for one in scans(spans, [case])
        for t in one.t
    ]
    assert found.stress.von_mises >= 0.999 * max(every)


def test_a_closer_look_agrees_with_the_first():
    part = loaded_everywhere(bracket("stub"))
    span = plate_spans(part)[4]
    first = glance(span, part.loads)
    near = first.closer(2)
    here = int(np.argmin(np.abs(near.t - first.t[2])))
    assert near.stress[:, here] == pytest.approx(first.stress[:, 2], rel=1e-9)
