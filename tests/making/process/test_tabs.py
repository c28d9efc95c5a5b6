"""A frame tab from its sheet: measured where a gauge reaches, its blank, and what is bent."""

import numpy as np
import pytest
from held import plans
from stated import part_of

from parts.families.frame_tab.family import FrameTab
from parts.making.flat.files import _held
from parts.making.stock import cuts


def _bent():
    return part_of(FrameTab, next(one for one in FrameTab.examples if "bend" in one))


def test_a_bent_tab_is_measured_to_corners_that_a_height_gauge_reaches():
    """Not to where the bend begins: no gauge finds that."""
    tab = _bent()
    (drawn,) = tab.drawn()
    sizes = {one.name: one for one in drawn.marks.dimensions}
    box = tab.model_copy(update={"edge_break": 0.0}).build()[0].solid.val().BoundingBox()
    assert "tube to the bend" not in sizes
    assert sizes["outer face to the end"].value == pytest.approx(box.zlen, abs=1e-4)
    far = sizes["tube to the end"]
    assert (far.end[0], far.value) == pytest.approx(
        (box.xmax, box.xmax - float(tab.on.depth)), abs=1e-4
    )


def test_a_tab_is_cut_from_sheet_as_long_as_its_neutral_line():
    """Stem 12, arc of 60° about the neutral line, flat to the end: DIN 6935 at r/t = 3 takes k = 0.65 + 0.5 lg 3."""
    tab = _bent()
    (blank,) = tab.blanks()
    low, high = blank.outline.box()
    k, angle = 0.65 + 0.5 * np.log10(3.0), np.radians(60.0)
    arc, neutral = angle * (12.0 + 2.0), angle * (12.0 + k * 2.0)
    assert high[0] - low[0] == pytest.approx(38.0 + 18.0 - arc + neutral)
    assert tab.facts()["blank, length"][0] == pytest.approx(
        high[0] - low[0], abs=0.2
    )  # the hollow of the root
    assert cuts(tab, tab.pieces[0])[0].stock.shape == "plate"


@pytest.mark.parametrize("data", FrameTab.examples, ids=lambda one: one["title"])
def test_the_blank_of_a_tab_is_its_solid_and_only_a_bent_one_goes_to_the_press(data):
    tab = part_of(FrameTab, data)
    (one,) = plans(tab)
    _held(tab, tab.blanks()[0])
    machines = [setup.machine for setup in one.setups]
    assert machines[0] == "waterjet" and ("press" in machines) == (tab.bend is not None)
