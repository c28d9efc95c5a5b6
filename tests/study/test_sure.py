"""How sure a part is: chances, Sobol indices, and what would make it surer."""

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from scipy.stats import beta, norm

import parts
from parts.features.bar_bore.spline_bore import MPA_PER_BRINELL, allowable
from parts.inputs.problems import InputError
from parts.report.page.sure import sure_page
from parts.report.sure import sure_json, sure_text
from parts.study.stating import Stated
from parts.study.sure.asked import lengths_of, shares_of
from parts.study.sure.chances import Chance
from parts.study.sure.deciding import sobol
from parts.study.sure.drawing import Drawing
from parts.study.sure.fitted_path import _plane
from parts.study.sure.given import BELOW_MINIMUM, givens
from parts.study.sure.sure import how_sure

CLEVIS = Path("params/hc-107-brake-rod-clevis.yaml")
BRACKET = Path("params/hc-104-foot-bracket-left.yaml")


@pytest.fixture(scope="module")
def clevis():
    return how_sure(CLEVIS, draws=4000)


def test_indices_of_the_ishigami_function():
    """Ishigami and Homma (1990): sin x1 + 7 sin² x2 + 0.1 x3⁴ sin x1 on [-pi, pi]. Saltelli et al., Global Sensitivity
    Analysis: The Primer (2008), section 4.9 and the closed form: first order 0.3139, 0.4424, 0; total 0.5576, 0.4424,
    0.2437."""

    def of(shares):
        x = np.pi * (2.0 * shares - 1.0)
        return np.sin(x[0]) + 7.0 * np.sin(x[1]) ** 2 + 0.1 * x[2] ** 4 * np.sin(x[0])

    found = sobol(of, [("x1", [0]), ("x2", [1]), ("x3", [2])], 3, 8192)
    assert [one.first for one in found] == pytest.approx([0.3139, 0.4424, 0.0], abs=0.01)
    assert [one.total for one in found] == pytest.approx([0.5576, 0.4424, 0.2437], abs=0.01)
    assert all(abs(one.first - known) < 3.0 * one.first_error + 1e-3
               for one, known in zip(found, (0.3139, 0.4424, 0.0), strict=True))  # fmt: skip


def test_indices_of_a_group_are_those_of_its_sum():
    """Of x1 + 2 x2 + 2 x3 with alike x the shares of the variance are 1/9, and 8/9 of the other two together."""
    found = sobol(lambda u: u[0] + 2.0 * u[1] + 2.0 * u[2], [("a", [0]), ("b", [1, 2])], 3, 2048)
    assert [one.total for one in found] == pytest.approx([1.0 / 9.0, 8.0 / 9.0], abs=0.01)


def test_limits_of_a_chance():
    """None of n: the upper limit at 95 % two-sided is 1 - 0.025^(1/n) (Clopper and Pearson 1934); else by the beta
    distribution."""
    assert Chance(0, 1000).limits == pytest.approx((0.0, 1.0 - 0.025 ** (1.0 / 1000)))
    low, high = Chance(20, 1000).limits
    assert low < 0.02 < high
    assert (low, high) == pytest.approx((beta.ppf(0.025, 20, 981), beta.ppf(0.975, 21, 980)))


def test_chance_of_a_bar_is_that_of_two_lognormals(clevis):
    """The critical section carries its load alone: its factor is the drawn one times strength over load, both
    lognormal, the strength's middle exp(2.326 s) over its minimum.
    The sizes' own spread is next to nothing beside them, so that
    the middle of the factor and its spread follow by hand."""
    one = next(c for c in clevis.checks if c.name == "critical section, ultimate")
    strength = next(
        g for g in clevis.drawing.givens if g.kind == "strength" and "" in g.paths
    ).spread
    load = 0.15
    middle = one.drawn * np.exp(BELOW_MINIMUM * strength)
    assert one.median == pytest.approx(middle, rel=0.02)
    assert one.low == pytest.approx(
        middle * np.exp(norm.ppf(0.01) * np.hypot(strength, load)), rel=0.04
    )


def test_draws_are_the_full_checks(clevis):
    """A draw's closed forms are those of a part stated so; the section's lie on the safe side, by little."""
    drawing = clevis.drawing
    shares = np.random.default_rng(3).random((len(drawing.givens), 3))
    values = np.array([one.at(share) for one, share in zip(drawing.givens, shares, strict=True)])
    rows = {(row.name, row.case): row.factor for row in drawing.rows(values)}
    for k in range(3):
        full = drawing.model(values[:, k]).check()
        for one in full.checks:
            factor = float(np.broadcast_to(rows[one.name, one.load_case], (3,))[k])
            if one.name.startswith("critical section"):
                assert 0.97 * float(one.factor) <= factor <= 1.005 * float(one.factor)
            else:
                assert factor == pytest.approx(float(one.factor), rel=1e-6), one.name


def test_a_part_that_its_limits_draw_out_of_its_rules_says_which():
    """HC-101's bolt has 31.8 mm of grip: ears of 6.35 ± 0.2 mm and a spacer beside each side of the ball are wider in
    one part of six. A check that is no number counts as failing, and is nowhere told as unbounded."""
    found = how_sure("params/hc-101-seat-strut-clevis.yaml", {}, {}, 300)
    assert 0.1 < found.no_number.value < 0.25
    assert "no length of it has a grip for a stack of" in found.no_number_why
    text = " ".join(sure_text(found).split())
    assert "A CHECK IS NO NUMBER, which counts as failing" in text
    assert "none is not reached by 1 in 20" in text
    assert json.loads(sure_json(found))["no_number"]["why"] == found.no_number_why


def test_what_was_not_drawn_is_named(clevis):
    names = {one.name for one in clevis.checks} | set(clevis.not_drawn)
    assert names == {one.name for one in parts.load(CLEVIS).check().checks}


def test_what_decides_is_the_load_that_leads(clevis):
    lead = clevis.checks[0]
    most = max(clevis.indices, key=lambda one: one.total)
    assert most.name == f"load, {lead.case}"
    assert clevis.swings[0].given.name == most.name
    assert clevis.swings[0].low > clevis.swings[0].high  # more load, less factor


def test_a_load_that_is_known_better_is_surer(clevis):
    as_it_is, measured = clevis.buys[0], clevis.buys[1]
    assert measured.thousandth > as_it_is.thousandth


def test_readings_of_hardpoints_move_what_is_taken_from_them():
    """The frame tab is known to 0.5 mm beside the bolt that it is stated from, one axis along the plate. What both
    share moves nothing: the peg is set off the bolt as drawn, and the bolt's own 0.3 mm move plate and peg alike."""
    found = {one.name: one for one in givens(Stated(BRACKET), {}, {}) if one.kind == "reading"}
    assert found["frame tab, left, x"].moves == pytest.approx({"mounts[2].at[1]": 1.0})
    assert found["frame tab, left, x"].spread == pytest.approx(0.25)
    assert not any(name.startswith(("left peg", "lower engine bolt")) for name in found)


def test_sizes_lie_within_the_limits_of_the_sheet():
    found = {one.name: one for one in givens(Stated(CLEVIS), {}, {"ears.thickness": 0.05})}
    assert found["ears.thickness"].at(np.array([0.0, 1.0])) == pytest.approx([-0.05, 0.05])
    width = found["ears.width"]
    assert "by its sheet" in width.said
    assert width.at(1.0) - width.at(0.0) == pytest.approx(0.4)  # ISO 2768-m at 6 to 30 mm: ±0.2


@pytest.mark.slow
def test_same_draws_on_every_run(clevis):
    again = how_sure(CLEVIS, draws=4000)
    assert sure_json(again) == sure_json(clevis)


def test_text_and_json_say_the_same(clevis):
    text, data = sure_text(clevis), json.loads(sure_json(clevis))
    assert data["part"] == "HC-107"
    assert data["draws"] == 4000
    assert f"{data['least_factor']['share_0.001']:.4g}" in text
    for one in clevis.drawing.givens:
        assert one.name in text


@pytest.mark.parametrize("text", ["much", "side swing=", "-5%", "nan", "300%"])
def test_spread_that_is_none_is_refused(text):
    with pytest.raises(InputError) as refused:
        shares_of([text], "part.yaml")
    assert refused.value.problems[0].code == "bad_value"


def test_unknown_case_and_dimension_are_refused():
    with pytest.raises(InputError, match="no load case `swing`"):
        how_sure(CLEVIS, {"swing": 0.1})
    with pytest.raises(InputError, match="no dimension"):
        how_sure(CLEVIS, {}, lengths_of(["ears.thick=0.1 mm"], ""))
    with pytest.raises(InputError):
        how_sure(CLEVIS, {}, {"ears.thickness": "much"})


def test_heat_that_was_tested_keeps_its_middle():
    one = next(g for g in givens(Stated(CLEVIS), {}, {}) if g.kind == "strength")
    known = one.narrowed(0.5)
    assert known.at(0.5) == pytest.approx(one.at(0.5))
    assert known.at(0.01) == pytest.approx(np.exp(one.spread * BELOW_MINIMUM * 0.5))
    assert one.at(0.01) == pytest.approx(1.0, abs=1e-6)


def test_sizes_that_take_no_arrays_are_named():
    stated = Stated(CLEVIS)
    drawing = Drawing(stated.part, givens(stated, {}, {}))
    assert drawing.left_out == ()


def test_page_stands_alone_and_says_what_the_text_says(clevis):
    page = sure_page(clevis).decode()
    assert page.startswith("<!DOCTYPE html>")
    assert page.count('class="chart"') == 2
    for one in clevis.checks[:12]:
        assert one.name in page
    assert clevis.swings[0].given.name in page


def test_a_look_far_above_the_others_leaves_the_plane_as_it_is():
    """Forty looks on a plane, two of them raised fiftyfold, as beside a hole that all but meets an edge."""
    random = np.random.default_rng(2)
    known = np.vstack([np.ones(40), random.normal(size=(3, 40))])
    true = np.array([[0.3, 1.0, -0.5, 0.2], [0.1, 0.0, 0.4, -0.3]])
    seen = true @ known + random.normal(0.0, 0.01, (2, 40))
    seen[:, [5, 17]] += np.log(50.0)
    plane, rest = _plane(known, seen, None)
    assert np.flatnonzero(~rest).tolist() == [5, 17]
    assert plane == pytest.approx(true, abs=0.02)


def test_a_part_a_little_larger_is_fitted_like_the_other_and_as_safely(clevis):
    """The slopes taken over, the level found from ten looks: within 3 % of a fit of its own, and no draw solved lies
    above."""
    drawing = clevis.drawing
    part = clevis.stated.variant({"ears.floor_thickness": "6 mm"})
    near, own = (Drawing(part, drawing.givens, like=like) for like in (drawing, None))
    shares = np.random.default_rng(9).random((len(drawing.givens), 4))
    values = np.array([g.at(share) for g, share in zip(drawing.givens, shares, strict=True)])
    found, exact = near.shares(values), own.shares(values)
    assert found == pytest.approx(exact, rel=0.03)
    for k in range(4):
        for case, one in enumerate(near.model(values[:, k]).check().criticals):
            assert found[case, k] >= one.stress.von_mises / one.span.material.yield_strength * 0.995


def test_heats_keep_apart():
    """A heat softer than the row that the others reach takes its own allowable, not theirs (Dudley's rows begin at 230
    and 302 HB); a draw alone stands as it does among many."""
    metal = parts.load("params/hc-103-torsion-arm.yaml").metal
    heats = replace(metal, ultimate_strength=np.array([250.0, 310.0, 100.0]) * MPA_PER_BRINELL)
    own = [
        allowable(replace(metal, ultimate_strength=one), "shear") for one in heats.ultimate_strength
    ]
    assert allowable(heats, "shear") == pytest.approx(own)
    assert own[0] < own[1]
    assert own[2] == 0.0


@pytest.mark.slow
@pytest.mark.parametrize("file", ["hc-122-head-steady-tube", "hc-131-reservoir-bracket"])
def test_draws_of_tubes_and_sheet_keep_apart(file):
    stated = Stated(f"params/{file}.yaml")
    drawing = Drawing(stated.part, givens(stated, {}, {}))
    assert drawing.left_out == ()
    shares = np.random.default_rng(4).random((len(drawing.givens), 3))
    values = np.array([g.at(share) for g, share in zip(drawing.givens, shares, strict=True)])
    assert drawing.apart(values) == ()


def test_loads_that_follow_from_masses_are_drawn_as_well():
    """A bracket whose loads are those of shaking, its first case drawn: the least and the greatest of 200 draws stand
    either side of the force as drawn, as far off as ±30 % at 95 % lets them (a quarter at the least)."""
    stated = Stated("params/hc-131-reservoir-bracket.yaml")
    loads = [one for one in givens(stated, {}, {}) if one.kind == "load"]
    drawing = Drawing(stated.part, loads)
    shares = np.tile(np.linspace(0.005, 0.995, 200), (len(drawing.givens), 1))
    model = drawing.model(np.array([g.at(s) for g, s in zip(drawing.givens, shares, strict=True)]))
    for own, moved in zip(stated.part.loads, model.loads, strict=True):
        size = np.linalg.norm(moved.forces[0].force, axis=-1) / np.linalg.norm(own.forces[0].force)
        assert size.min() < 0.75 and size.max() > 1.25
        assert np.median(size) == pytest.approx(1.0, abs=0.03)
