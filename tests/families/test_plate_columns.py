"""Sections of a plate by their columns, held against the traced outlines and the exact stress."""

import numpy as np
import pytest
from brackets import bracket, case_of, loaded_everywhere, sharp

from parts.core.search.critical import criticals, solve
from parts.core.search.look import GENEROUS, glance, looks, scans
from parts.features.plate.section.columns import Columns, Framed, columns, rough, von_mises
from parts.strength.section.properties import properties
from parts.strength.section.stress import Resultants

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


def two_webs():
    """Webs of 8 x 10 mm, 40 mm from middle to middle, with an opening of 30 mm between them."""
    metal = np.array([[[True], [False], [True]]])
    return rough(Columns(np.array([[-25.0, -15.0, 15.0, 25.0]]), np.array([0.0, 8.0]), metal))


def one(**forces):
    at_all = dict.fromkeys(("N", "Vy", "Vz", "T", "My", "Mz"), 0.0) | forces
    return Resultants(**{name: np.array([[value]]) for name, value in at_all.items()})


def test_webs_beside_an_opening_bend_by_its_shear_as_the_legs_of_a_frame():
    """1 kN in the plane, 25 mm off the middle of the opening: 500 N a web, 6 M/(t w²), M = 500·25, and the shear of the
    webs 1.5·500/80."""
    stress = von_mises(two_webs(), one(Vy=1000.0), Framed(np.array([25.0]), np.array([50.0])))
    bent = 6.0 * 500.0 * 25.0 / (8.0 * 10.0**2)
    assert stress.item() == pytest.approx(
        np.hypot(bent, np.sqrt(3.0) * 1.5 * 500.0 / 80.0), rel=1e-9
    )


def test_webs_beside_an_opening_share_a_torque_as_they_are_stiff():
    """T = 50 N m. Twist: G·2·J; legs of 50 mm with stiff ends: 2·12 E I y²/l², I = 10·8³/12, y = 20, E/G = 2.6."""
    section, T = two_webs(), 50e3
    legs = 12.0 * 2.6 * 2.0 * (10.0 * 8.0**3 / 12.0) * 20.0**2 / 50.0**2
    lifted = T * legs / (section.J.item() + legs)
    bent = lifted / 40.0 * 25.0 * 6.0 / (10.0 * 8.0**2)
    twisted = T * section.J.item() / (section.J.item() + legs) * section.twist.max()
    stress = von_mises(section, one(T=T), Framed(np.array([25.0]), np.array([50.0])))
    assert stress.item() == pytest.approx(np.hypot(bent, np.sqrt(3.0) * twisted), rel=1e-9)
    assert section.J.item() == pytest.approx(
        2.0 * 0.186 * 10.0 * 8.0**3, rel=0.1
    )  # Roark, b/t = 1.25
