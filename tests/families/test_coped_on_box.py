"""A tube's end on the face of a square tube: pairs by hand, its cut against geometry and the solid."""

import numpy as np
import pytest
from pydantic import ValidationError

from parts.families.coped_tube.family import CopedTube
from parts.making.flat.unrolled import unrolled
from parts.standards.stock.stock import box
from parts.strength.welded.tube_joint import face_peak

BASE = CopedTube.example
BOX = {"type": "on a box", "tube": "50 x 50 x 3 mm", "leg": "3 mm"}
SHORT, HOLDS = False, True
D, T = 25.4, 1.651
WALL = 0.9 * 358.527
"""What counts of the softened yield of 4130 [MPa]: EN 1993-1-8 takes 0.9 of it over 355."""
KEPT = 1.3 - 0.4 * 0.5 * 50.0 / D
"""What half of the box's strength used in compression leaves, EN 1993-1-8, Table 7.10."""


def tube(force, end=BOX, b=None, **changes):
    loads = [
        {"name": "load", "forces": [{"at": "b", "force": [f"{f} N" for f in force]}], **changes}
    ]
    return CopedTube.model_validate(
        {**BASE, "length": "140 mm", "a": end, "b": b or end, "loads": loads}
    )


def named(part, name):
    return next(one for one in part.check().checks if one.name == name)


@pytest.mark.parametrize(("pull", "ok"), [(10_800.0, SHORT), (10_600.0, HOLDS)])
def test_the_face_is_pulled_out(pull, ok):
    # EN 1993-1-8, Table 7.11, π/4 for a round post: β = η = 0.508: 0.785·0.906·322.7·9·(2.066 + 5.703) = 16.05 kN/1.5.
    found = named(tube((pull, 0, 0)), "end a, wall of the other tube")
    free = 1.0 - D / 50.0
    bears = np.pi / 4.0 * KEPT * WALL * 9.0 * (2.0 * D / 50.0 / free + 4.0 / np.sqrt(free))
    assert found.demand == pytest.approx(pull / bears, rel=1e-4)
    assert found.ok == ok


@pytest.mark.parametrize(("aside", "ok"), [(1150.0, SHORT), (1100.0, HOLDS)])
def test_the_tube_rocks_on_the_face(aside, ok):
    # A square post of π/4·25.4 = 19.95, β = η = 0.399: 0.906·322.7·9·19.95·(1.253 + 2.580 + 0.664) = 236 N m; 140 mm.
    found = named(tube((0, aside, 0), b={"type": "square"}), "end a, wall of the other tube")
    share = np.pi / 4.0 * D / 50.0
    shape = 1.0 / (2.0 * share) + 2.0 / np.sqrt(1.0 - share) + share / (1.0 - share)
    bears = KEPT * WALL * 9.0 * np.pi / 4.0 * D * shape
    assert found.demand == pytest.approx(aside * 140.0 / bears, rel=1e-4)
    assert found.ok == ok


@pytest.mark.parametrize(("pull", "ok"), [(18_700.0, SHORT), (18_300.0, HOLDS)])
def test_the_tube_tears_a_piece_out_of_the_face(pull, ok):
    # 1.5·F/A on 1.651 mm against 3 mm of 322.7/√3 MPa: 338.5 MPa, over 1.5.
    found = named(tube((pull, 0, 0)), "end a, wall of the other tube torn out")
    area = np.pi * (D - T) * T
    assert found.demand == pytest.approx(1.5 * pull / area, rel=1e-4)
    assert found.capacity == pytest.approx(3.0 * WALL / np.sqrt(3.0) / T, rel=1e-4)
    assert found.ok == ok


@pytest.mark.parametrize(("pull", "ok"), [(7_950.0, SHORT), (7_750.0, HOLDS)])
@pytest.mark.parametrize("end", [BOX, {"type": "coped", "tube": "2 in x 0.120 in", "leg": "3 mm"}])
def test_a_weld_at_the_toe_of_a_flat_end_is_thin(end, pull, ok):
    # At 45 degrees the toe opens by 135: throat 3·cos 67.5° = 1.148, at 0.6·482.6 MPa 332.4 N/mm over 2.25; 1.5 of the
    # mean of π·25.4. On a saddle as on a face.
    found = named(tube((pull, 0, 0), end=end | {"angle": "45 deg"}), "end a, weld, ultimate")
    assert found.demand == pytest.approx(1.5 * pull / (np.pi * D), rel=1e-4)
    assert found.capacity == pytest.approx(3.0 * np.sin(np.pi / 8.0) * 0.6 * 482.633, rel=1e-3)
    assert found.ok == ok


@pytest.mark.parametrize(("cycles", "ok"), [(147_000, SHORT), (138_000, HOLDS)])
def test_the_toe_cracks_where_the_face_bends(cycles, ok):
    # L = 47, a = 10.8, τ counted as 0.75: 7.5·0.75·10.8·36.2/(47·3) = 15.6 times 800/123.2 MPa. Class 90 over 1.35.
    part = tube((800, 0, 0), spectrum=[{"cycles": cycles}], ratio=0)
    found = named(part, "fatigue, end a, toe")
    stress = 7.5 * 0.75 * 10.8 * 36.2 / (47.0 * 3.0) * 800.0 / (np.pi * (D - T) * T)
    assert found.factor == pytest.approx(2e6 * (90.0 / 1.35 / stress) ** 3 / cycles, rel=0.02)
    assert found.ok == ok


@pytest.mark.parametrize("beta", [0.4, 0.5, 0.6, 0.7, 0.8])
@pytest.mark.parametrize("slack", [10.0, 20.0, 30.0])
def test_its_peak_lies_above_that_of_the_design_guide(beta, slack):
    # CIDECT Design Guide 8, T joints of square tubes under pull, lines B and C of the chord with π/4 for a round tube,
    # and A and E of the tube; from memory.
    for tau in (0.5, 1.0):
        chord = max(
            (0.143 - 0.204 * beta + 0.064 * beta**2)
            * slack ** (1.377 + 1.715 * beta - 1.103 * beta**2),
            (0.077 - 0.129 * beta + 0.061 * beta**2 - 0.0003 * slack)
            * slack ** (1.565 + 1.874 * beta - 1.028 * beta**2),
        )
        own = (0.013 + 0.693 * beta - 0.278 * beta**2) * slack ** (
            0.790 + 1.898 * beta - 2.109 * beta**2
        )
        ours = face_peak(slack * 3.0, 3.0, beta * slack * 3.0, tau * 3.0)
        assert ours >= max(np.pi / 4.0 * chord * tau**0.75, own)


def test_its_end_is_a_plane_on_the_solid():
    import cadquery as cq

    part = tube((100, 0, 0), end=BOX | {"angle": "60 deg", "turn": "40 deg"})
    solid = part.pieces[0].solid.val()
    assert solid.isValid() and len(solid.Solids()) == 1
    shell = cq.Compound.makeCompound(solid.Faces())
    for i in (0, 1):
        edge = part.edge(i)
        for place in edge[::60]:
            assert shell.distance(cq.Vertex.makeVertex(*map(float, place))) < 1e-5
        # Half a side and half a millimetre from the box's axis, (r cos φ cos θ + 25.5)/sin θ along the tube.
        x = edge[:, 0] if i == 0 else 140.0 - edge[:, 0]
        assert x.max() == pytest.approx((25.5 + 12.7 * 0.5) / np.sin(np.pi / 3.0), abs=1e-3)
        assert x.min() == pytest.approx((25.5 - 12.7 * 0.5) / np.sin(np.pi / 3.0), abs=1e-3)
        # The plane: as much off square as the angle, so the edge is a sine round the unrolled tube.
        phi = unrolled(part.to_cut)[i][:, 0] / (D / 2.0)
        sine = np.stack([np.ones_like(phi), np.cos(phi), np.sin(phi)], axis=-1)
        left = np.linalg.lstsq(sine, edge_of(part, i, phi), rcond=None)[1]
        assert np.all(left < 1e-9)


def edge_of(part, i, phi):
    return part.edge(i, turn=phi)[:, 0]


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"tube": "70 x 70 x 4 mm"}, "dents the face"),
        ({"tube": "30 x 30 x 2 mm"}, "past the flat"),
        ({"tube": "60 x 60 x 1.9 mm"}, "so thin a wall"),
        ({"tube": "40 x 90 x 4 mm"}, "so flat a box"),
        ({"tube": "50 x 50 x 6 mm"}, "no face that bends"),
    ],
)
def test_what_cannot_be_made_is_told(changes, says):
    with pytest.raises(ValidationError, match=says):
        tube((100, 0, 0), end=BOX | changes)


def test_the_side_that_stands_first_is_the_face():
    wide, high = box("40 x 20 x 2 mm"), box("20 x 40 x 2 mm")
    assert (wide.width_mm, wide.height_mm) == (40.0, 20.0) == (high.height_mm, high.width_mm)
    assert box(wide.name) == wide


def test_a_square_end_is_whole_from_its_face_on():
    # Else a proof parts its face by a thousandth, which no mesh follows.
    part = tube((100, 0, 0))
    assert part.full[1] == pytest.approx(140.0 - 25.5, abs=1e-9)
    assert float(part.tip(1)[0]) == pytest.approx(140.0 - 25.5, abs=1e-9)
