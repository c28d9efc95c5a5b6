"""Stroke letters and the place where a label goes."""

import string
from itertools import pairwise

import numpy as np
import pytest
from numpy.testing import assert_allclose

from parts.making.labelling import best_label, inside
from parts.making.lettering import _STROKES, extent, strokes


def test_every_letter_of_a_part_number_has_strokes_of_its_own():
    letters = string.ascii_uppercase + string.digits + "-_.#"
    assert set(letters) <= set(_STROKES)
    shapes = [_STROKES[letter] for letter in letters]
    assert len(set(shapes)) == len(shapes)


@pytest.mark.parametrize("lines", [("HC-108",), ("FIT-UP ONLY", "DO NOT RIDE")])
def test_text_fills_its_box_and_no_more(lines):
    points = np.concatenate(strokes(lines, 5.0))
    wide, tall = extent(lines, 5.0)
    assert points[:, 1].max() == pytest.approx(tall / 2) and points[:, 1].min() == pytest.approx(
        -tall / 2
    )
    assert points[:, 0].max() <= wide / 2 + 1e-9 and points[:, 0].min() >= -wide / 2 - 1e-9


def ring(points, count=200):
    rows = np.array([*points, points[0]], float)
    return np.concatenate([np.linspace(a, b, count, endpoint=False) for a, b in pairwise(rows)])


def test_inside_counts_holes_out():
    outer, hole = ring([(0, 0), (10, 0), (10, 10), (0, 10)]), ring([(4, 4), (6, 4), (6, 6), (4, 6)])
    places = np.array([(1, 1), (5, 5), (12, 5), (5.9, 9)], float)
    assert inside([outer, hole], places).tolist() == [True, False, False, True]


def test_a_label_keeps_clear_of_edge_and_hole():
    outer = ring([(0, 0), (100, 0), (100, 40), (0, 40)])
    t = np.linspace(0, 2 * np.pi, 300, endpoint=False)
    hole = np.stack([50 + 15 * np.cos(t), 20 + 15 * np.sin(t)], axis=-1)
    label = best_label([outer, hole], [("HC-108",)], clear=2.0, least=2.0, most=20.0)
    assert label is not None
    points = np.concatenate([label.place(s) for s in strokes(label.lines, label.height)])
    assert inside([outer, hole], points).all()
    away = np.linalg.norm(points[:, None] - np.concatenate([outer, hole])[None], axis=-1)
    assert away.min() >= 2.0 - 1e-6
    # A strip 34 mm long beside the hole takes a number 5.5 wide and 1 high, lying along the side.
    assert label.height > 4.0


def test_a_label_in_two_lines_where_that_is_taller_and_none_where_nothing_fits():
    square = ring([(0, 0), (30, 0), (30, 30), (0, 30)])
    one, two = ("FIT-UP ONLY DO NOT RIDE",), ("FIT-UP ONLY", "DO NOT RIDE")
    label = best_label([square], [one, two], clear=1.0, least=1.0, most=20.0)
    assert label is not None and label.lines == two
    assert best_label([square], [one], clear=1.0, least=5.0, most=20.0) is None
    capped = best_label([square], [("A",)], clear=1.0, least=1.0, most=3.0)
    assert_allclose(capped.height, 3.0)
