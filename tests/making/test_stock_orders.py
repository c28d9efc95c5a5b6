"""Stock that holds a piece, whichever way it is turned, and is called the same wherever it is ordered."""

import csv
import io

import cadquery as cq
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.core.part import Piece
from parts.families.clevis.family import Clevis
from parts.families.links.adjustable_link import AdjustableLink
from parts.making.enclosing import Enclosed
from parts.making.stock import csv_bytes, cuts, orders
from parts.standards.materials.materials import material


def box(wide, high):
    return np.array([[x * wide / 2, y * high / 2] for x in (-1, 1) for y in (-1, 1)])


def regular(n, across_corners):
    turn = 2 * np.pi * np.arange(n) / n
    return across_corners / 2 * np.stack([np.cos(turn), np.sin(turn)], axis=-1)


# A rectangle a by b, b the shorter, fits a hexagon across flats a/2 + b √3/2 where its long side lies across the flats
# and both corners touch, as elementary geometry has it; never less than b.
@pytest.mark.parametrize(("wide", "high"), [(47.6, 34.9), (17.0, 15.3), (22.0, 14.8), (60.0, 10.0)])
def test_a_rectangle_in_a_hexagon(wide, high):
    tilted = min(
        max(
            wide * abs(np.cos(t - k * np.pi / 3)) + high * abs(np.sin(t - k * np.pi / 3))
            for k in range(3)
        )
        for t in np.linspace(0.0, np.pi, 20001)
    )
    assert Enclosed.of(box(wide, high)).hexagon == pytest.approx(tilted, rel=1e-6)


def test_regular_figures_have_their_textbook_sizes():
    six = Enclosed.of(regular(6, 20.0))
    assert six.hexagon == pytest.approx(10.0 * np.sqrt(3.0))
    assert six.circle == pytest.approx(20.0)
    # The least square about a regular hexagon of side 10: 10 (1 + √3)/√2 (elementary geometry).
    assert six.square == pytest.approx(10.0 * (1.0 + np.sqrt(3.0)) / np.sqrt(2.0), rel=1e-4)
    four = Enclosed.of(box(10.0, 10.0))
    assert (four.square, four.circle) == pytest.approx((10.0, 10.0 * np.sqrt(2.0)))
    three = Enclosed.of(regular(3, 20.0))
    assert three.circle == pytest.approx(20.0)


@given(
    st.lists(st.tuples(st.floats(-50, 50), st.floats(-50, 50)), min_size=4, max_size=40),
    st.floats(0, 3),
)
def test_every_size_holds_its_figure_and_no_turn_changes_it(points, turn):
    p = np.array(points)
    if np.linalg.matrix_rank(p - p.mean(axis=0), tol=1e-3) < 2:
        return
    found = Enclosed.of(p)
    c, s = np.cos(turn), np.sin(turn)
    turned = Enclosed.of(p @ np.array([[c, s], [-s, c]]))
    far = np.hypot(*(p[:, None] - p[None]).T).max()
    assert found.circle >= far - 1e-6 and found.circle <= far * 2 / np.sqrt(3) + 1e-6
    assert turned.circle == pytest.approx(found.circle, rel=1e-4)
    assert turned.hexagon == pytest.approx(found.hexagon, rel=2e-3)
    assert turned.square == pytest.approx(found.square, rel=2e-3)
    # A hexagon holds no more than its circle, and needs no less than the figure's least width.
    assert found.hexagon <= found.circle * (1.0 + 1e-6)
    assert found.least_rectangle[1] <= found.hexagon + 1e-6


def milled(wide, high, long, metal="7075-T6"):
    """A clevis in name, whose one piece is a block."""
    part = Clevis.model_validate({**Clevis.example, "material": metal, "form": "bar"})
    solid = cq.Workplane(obj=cq.Solid.makeBox(long, wide, high))
    return part, Piece("part", material(metal, form="bar"), solid)


def test_a_section_gets_a_hexagon_only_where_its_corners_fit():
    part, piece = milled(47.6, 34.9, 200.0)
    for one in cuts(part, piece):
        if one.stock.shape == "hex bar":
            assert one.stock.width_mm >= 54.1
        if one.stock.shape == "round bar":
            assert one.stock.width_mm >= np.hypot(47.6, 34.9)
        assert one.volume > piece.solid.val().Volume()


def test_a_tube_is_cut_from_tube():
    part = AdjustableLink.model_validate(dict(AdjustableLink.example))
    [tube] = [one for one in part.pieces if one.name == "tube"]
    [cut] = cuts(part, tube)
    assert cut.stock.shape == "round tube" and cut.stock.wall_mm == part.body.tube.wall_mm


def test_what_was_meshed_before_is_ordered_the_same():
    part = Clevis.model_validate(dict(Clevis.example))
    before = orders({"A": part}, {"A": 1})
    part.solid().val().tessellate(0.5, 0.8)
    assert orders({"A": part}, {"A": 1}) == before
    [row] = csv.DictReader(io.StringIO(csv_bytes(before).decode()))
    assert row["stock"] == cuts(part, part.pieces[0])[0].stock.name
