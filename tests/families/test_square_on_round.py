"""Rectangular tubes coped to round ones: pairs by hand, the peak over its study, the cut against geometry and solid."""

import csv
from pathlib import Path

import numpy as np
import pytest
from box_legs import HOLDS, SHORT, SOFT, ULTIMATE, leg_on, named
from pydantic import ValidationError

from parts.making.flat.unrolled import unrolled
from parts.strength.welded.box_end import ALONG, PULLED, round_peak
from parts.strength.welded.tube_joint import axial_peak, peak_across, peak_along

END = {"type": "coped", "tube": "60 x 3 mm", "leg": "3 mm"}
STUDY = Path(__file__).parents[1] / "studies" / "square_on_round.csv"
COUNTED = 0.775 * 0.9 * SOFT
"""What counts of it in a wall used to a half in compression, EN 1993-1-8, 7.1.1 and Table 7.2 [MPa]."""
leg = leg_on(END)


@pytest.mark.parametrize(("pull", "ok"), [(13_300.0, SHORT), (12_900.0, HOLDS)])
def test_the_wall_is_pulled_out(pull, ok):
    # 40 along and 25 across 60 by 3, EN 1993-1-8, Table 7.4: β = 0.417: min(4 + 20 β², 5/(1 - 0.81 β)) = min(7.472,
    # 7.547); η = 0.667: 0.775·0.9·358.5·9·7.472·1.167 = 19.6 kN over 1.5.
    found = named(leg((pull, 0, 0)), "end a, wall of the other tube")
    beta = 25.0 / 60.0
    bears = (
        COUNTED * 9.0 * min(4.0 + 20.0 * beta**2, 5.0 / (1.0 - 0.81 * beta)) * (1.0 + 10.0 / 60.0)
    )
    assert found.demand == pytest.approx(pull / bears, rel=1e-4)
    assert found.ok == ok


@pytest.mark.parametrize(("way", "aside", "ok"), [("along", 2300.0, SHORT), ("along", 2200.0, HOLDS),
                                                  ("across", 830.0, SHORT), ("across", 810.0, HOLDS)])  # fmt: skip
def test_it_rocks_on_the_wall(way, aside, ok):
    # At 200 mm. Along: 40 times the pull of a plate as wide, as I sections; across: half of 25 times its own pull.
    force = (0, aside, 0) if way == "along" else (0, 0, aside)
    found = named(leg(force, b={"type": "square"}), "end a, wall of the other tube")
    plate = COUNTED * 9.0 * (4.0 + 20.0 * (25.0 / 60.0) ** 2)
    bears = {"along": 40.0 * plate, "across": 12.5 * plate * (1.0 + 10.0 / 60.0)}[way]
    assert found.demand == pytest.approx(aside * 200.0 / bears, rel=1e-4)
    assert found.ok == ok


@pytest.mark.parametrize(("wide", "pull", "ok"), [(25.0, 18_300.0, SHORT), (25.0, 17_900.0, HOLDS),
                                                  (40.0, 13_900.0, SHORT), (40.0, 13_500.0, HOLDS)])  # fmt: skip
def test_its_weld_is_thin_where_the_round_falls_away(wide, pull, ok):
    # A side stands asin(b/60) down the round: 3·cos(45° + 12.3°) = 1.62 at b = 25, 3·cos(45° + 20.9°) = 1.23 at 40; at
    # 0.6·482.6 MPa over 2.25. 1.5 of the mean of 130 mm.
    end = END | ({} if wide == 25.0 else {"turn": "90 deg"})
    found = named(leg((pull, 0, 0), a=end, b={"type": "square"}), "end a, weld, ultimate")
    throat = 3.0 * np.cos(np.pi / 4.0 + np.arcsin(wide / 60.0) / 2.0)
    assert found.demand == pytest.approx(1.5 * pull / 130.0, rel=1e-6)
    assert found.capacity == pytest.approx(throat * 0.6 * ULTIMATE, rel=1e-3)
    assert found.ok == ok


@pytest.mark.parametrize(("pull", "ok"), [(32_600.0, SHORT), (32_000.0, HOLDS)])
def test_it_tears_a_piece_out_of_the_wall(pull, ok):
    # 1.5·F/130 on one plane of 3 mm at 0.9·358.5/√3: 558.9 N/mm over 1.5.
    found = named(leg((pull, 0, 0)), "end a, wall of the other tube torn out")
    assert found.demand * 2.0 == pytest.approx(1.5 * pull / 130.0, rel=1e-6)
    assert found.capacity * 2.0 == pytest.approx(3.0 * 0.9 * SOFT / np.sqrt(3.0), rel=1e-4)
    assert found.ok == ok


@pytest.mark.parametrize(("cycles", "ok"), [(228000, SHORT), (214000, HOLDS)])
def test_the_toe_cracks_where_the_wall_bends(cycles, ok):
    # Efthymiou at β 0.417, γ 10, τ 1: saddle 10·(1.11 - 3·0.1033²) = 10.78; 1.5 of it times √1.6 = 20.45, times
    # 1000/A. Class 90 over 1.35, four lives.
    part = leg((1000, 0, 0), spectrum=[{"cycles": cycles}], ratio=0)
    area = 2.0 * (40.0 + 25.0) * 2.0 - 16.0 - (4.0 - np.pi) * (16.0 - 4.0)
    peak = 10.0 * (1.11 - 3.0 * (25.0 / 60.0 - 0.52) ** 2)
    stress = 1.5 * peak * np.sqrt(1.6) * 1000.0 / area
    found = named(part, "fatigue, end a, toe")
    assert found.factor == pytest.approx(2e6 * (90.0 / 1.35 / stress) ** 3 / cycles, rel=0.02)
    assert found.ok == ok


def test_its_peak_lies_above_the_elements():
    with STUDY.open(encoding="utf-8") as file:
        rows = [{k: float(v) for k, v in row.items()} for row in csv.DictReader(file)]
    assert len(rows) >= 14
    shares = []
    for row in rows:
        size = {
            "d0": row["d0"],
            "t0": row["t0"],
            "d1": row["b"],
            "t1": row["t0"],
            "theta": np.pi / 2.0,
        }
        for name, method, c in (
            ("N", axial_peak, PULLED),
            ("M_i", peak_along, ALONG),
            ("M_o", peak_across, PULLED),
        ):
            bound = round_peak(method(**size), row["b"], row["h"], c)
            shares.append(row[name] / float(bound))
    assert 0.85 < max(shares) < 1.0
    assert min(shares) > 0.3


def test_an_end_beside_the_middle_rocks_the_toe():
    # The pull times 5 mm, beside the pull itself.
    on, off = (
        leg((1000, 0, 0), a=END | {"offset": f"{e} mm"}, spectrum=[{"cycles": 1000}], ratio=0)
        for e in (0, 5)
    )
    lives = [named(one, "fatigue, end a, toe").factor for one in (on, off)]
    k_N, k_o = (m(60.0, 3.0, 25.0, 3.0, np.pi / 2.0) for m in (axial_peak, peak_across))
    one = on.hollow
    more = 1.0 + 5.0 * k_o / float(one.modulus) / (k_N / float(one.section.area))
    assert lives[0] / lives[1] == pytest.approx(more**3, rel=0.02)


def test_its_cope_meets_geometry_and_the_solid():
    import cadquery as cq

    part = leg(a=END | {"angle": "60 deg", "offset": "3 mm"}, b=END | {"turn": "90 deg"})
    solid = part.pieces[0].solid.val()
    assert solid.isValid() and len(solid.Solids()) == 1
    shell = cq.Compound.makeCompound(solid.Faces())
    for i, below in ((0, 0.0), (0, 2.0), (1, 0.0)):
        for place in part.edge(i, below)[::24]:
            assert shell.distance(cq.Vertex.makeVertex(*map(float, place))) < 1e-5
    # Middle of the flat at +y: 20 toward the acute side, 3 beside the middle: (√(30.5² - 3²) + 20·cos 60°)/sin 60°.
    points = unrolled(part.to_cut)[0]
    assert points[0, 1] == pytest.approx(
        (np.sqrt(30.5**2 - 9.0) + 10.0) / np.sin(np.pi / 3.0), abs=0.2
    )
    assert part.edge(0, turn=np.zeros(1))[0, 0] == pytest.approx(
        (np.sqrt(30.5**2 - 9.0) + 10.0) / np.sin(np.pi / 3.0)
    )


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"a": END | {"turn": "30 deg"}}, "sides along and across"),
        ({"a": END | {"tube": "70 x 4 mm"}}, "no peak is known of it"),
        ({"a": END | {"offset": "12 mm"}}, "falls away too steeply"),
        ({"a": END | {"tube": "60 x 1.9 mm"}, "tube": "40 x 25 x 1.5 mm"}, "so thin a wall"),
        ({"a": END | {"tube": "45 x 3 mm", "turn": "90 deg"}}, "falls away too steeply"),
    ],
)
def test_what_cannot_be_made_is_told(changes, says):
    with pytest.raises(ValidationError, match=says):
        leg(**changes)
