"""Stock: sizes read as the bench writes them, what the lists hold, and the next size up."""

from __future__ import annotations

import math
import time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.standards.designation import UnknownDesignation, read_table
from parts.standards.materials.names import alloys
from parts.standards.stock.stock import SHAPES, Stock, listed, stock

EVERY = [size for shape in SHAPES for size in listed(shape)]


def dims(size: Stock) -> tuple[float, float, float]:
    return size.width_mm, size.height_mm, size.wall_mm


# ----------------------------------------------------------------------------------------- the lists


def test_every_list_names_its_source_and_a_family_of_material():
    families = {a.family for a in alloys().values()}
    for row in read_table("stock_sizes"):
        assert row["source"] and row["shape"] in SHAPES and row["unit"] in ("in", "mm")
        assert set(row["metals"].split("|")) <= families


def test_every_size_is_a_body():
    for size in EVERY:
        assert min(size.width_mm, size.height_mm) > 0 and size.area_mm2 > 0, size
        assert ("tube" in size.shape) == (size.wall_mm > 0) == (size.bore_mm > 0), size
        assert size.is_stock and size.source and not size.nearest


def test_each_shape_comes_in_inch_and_metric_and_in_steel():
    for shape in SHAPES:
        names = [s.name for s in listed(shape, "carbon steel")]
        assert any(n.endswith(" in") for n in names) and any(n.endswith(" mm") for n in names)


@pytest.mark.parametrize(
    "text, metal",
    [
        # Sizes every supplier of the trade has on the rack; common practice, no source.
        ("1-1/4 x 0.065 in", "low-alloy steel"),
        ("7/8 x 0.058 in", "low-alloy steel"),
        ("1 x 0.120 in", "carbon steel"),
        ("25 x 2 mm", "carbon steel"),
        ("3/4 x 0.035 in", "titanium"),
        ("plate 1/4 in", "titanium"),
        ("plate 12 mm", "aluminium"),
        ("hex 7/8 in", "carbon steel"),
        ("flat 40 x 8 mm", "carbon steel"),
        ("1 x 2 x 0.065 in", "carbon steel"),
        ("round 1-1/2 in", "titanium"),
    ],
)
def test_common_sizes_are_listed(text, metal):
    assert stock(text, metal=metal, must_be_stock=True).name == text


# ------------------------------------------------------------------------------------------- reading


@pytest.mark.parametrize(
    "text, shape, width, height, wall",
    [
        ("1-1/4 in x 0.065 in", "round tube", 1.25 * 25.4, 1.25 * 25.4, 0.065 * 25.4),
        ('1-1/4" x .065"', "round tube", 1.25 * 25.4, 1.25 * 25.4, 0.065 * 25.4),
        ("1 1/4 x .065", "round tube", 1.25 * 25.4, 1.25 * 25.4, 0.065 * 25.4),
        ("1 in x .065", "round tube", 25.4, 25.4, 0.065 * 25.4),
        ("1 in x 2 mm", "round tube", 25.4, 25.4, 2.0),
        ("25 x 2 mm", "round tube", 25.0, 25.0, 2.0),
        ("tube 25×2 mm", "round tube", 25.0, 25.0, 2.0),
        ("25 by 2 mm tubing", "round tube", 25.0, 25.0, 2.0),
        ("1 x 2 x 0.065 in", "rectangular tube", 25.4, 50.8, 0.065 * 25.4),
        ("2 x 1 x 0.065 in", "rectangular tube", 25.4, 50.8, 0.065 * 25.4),
        ("1 x 1 x 0.065 in", "square tube", 25.4, 25.4, 0.065 * 25.4),
        ("square tube 20 x 2 mm", "square tube", 20.0, 20.0, 2.0),
        ("hex 7/8 in", "hex bar", 0.875 * 25.4, 0.875 * 25.4, 0.0),
        ("Ø25 mm", "round bar", 25.0, 25.0, 0.0),
        ("25 mm round bar", "round bar", 25.0, 25.0, 0.0),
        ("flat 8 x 40 mm", "flat bar", 40.0, 8.0, 0.0),
        ("square 20 mm", "square bar", 20.0, 20.0, 0.0),
        ("sheet 0.063 in", "plate", 0.063 * 25.4, 0.063 * 25.4, 0.0),
    ],
)
def test_sizes_as_the_bench_writes_them(text, shape, width, height, wall):
    size = stock(text)
    assert size.shape == shape
    assert dims(size) == pytest.approx((width, height, wall))


@given(st.sampled_from(EVERY))
def test_a_name_on_the_list_reads_as_itself(size):
    assert stock(size.name) == size


@given(st.sampled_from([s for s in EVERY if s.shape == "round tube"]))
def test_a_tube_measured_in_millimetres_to_two_places_finds_its_inch_name(size):
    found = stock(f"{size.width_mm:.2f} x {size.wall_mm:.2f} mm")
    # Half a hundredth is lost in the writing, on each of the two.
    assert dims(found) == pytest.approx(dims(size), abs=0.011)
    assert found.is_stock


@given(st.text(alphabet='0123456789/.- xinmroundhexplate"', max_size=20))
def test_any_text_is_read_or_refused_in_one_way(text):
    try:
        size = stock(text)
    except UnknownDesignation as refused:
        assert refused.kind == "stock size"
    else:
        assert size.area_mm2 > 0 and (size.is_stock or size.nearest)


def test_odd_tube_is_read_and_told_apart_with_what_could_be_bought():
    odd = stock("26 x 2 mm")
    assert not odd.is_stock and odd.source == ""
    assert dims(odd) == (26.0, 26.0, 2.0)
    assert "25 x 2 mm" in odd.nearest and all(stock(n).is_stock for n in odd.nearest)


def test_what_one_metal_comes_in_another_may_not():
    assert stock("1 x 0.250 in", metal="low-alloy steel").is_stock
    assert not stock("1 x 0.250 in", metal="titanium").is_stock


@pytest.mark.parametrize(
    "text, reason",
    [
        ("25 mm", "the shape is missing"),
        ("25 x 2", "a unit is missing"),
        ("1 in x 2 mm x 3", "a unit is missing"),
        ("1/2 x 2 mm", "a fraction is an inch size"),
        ("25 x 13 mm", "leaves no bore"),
        ("25 x 12.5 mm", "leaves no bore"),
        ("tube 25 mm", "takes 2 numbers"),
        ("hex 7/8 x 2 in", "takes 1 number"),
        ("1 x 2 x 3 x 4 in", "takes 3 numbers"),
        ("0 x 2 mm", "more than nothing"),
        ("1 2 3 x 2 in", "not a number"),
        ("1/0 x 2 in", "not a number"),
        ("a bit of tube", "not a size of stock"),
        ("", "not a size of stock"),
    ],
)
def test_sizes_that_cannot_be_are_refused(text, reason):
    with pytest.raises(UnknownDesignation, match=reason) as caught:
        stock(text)
    assert caught.value.kind == "stock size"


def test_an_odd_size_is_refused_only_where_asked():
    with pytest.raises(UnknownDesignation, match="no list of round tube in titanium") as caught:
        stock("1 x 0.250 in", metal="titanium", must_be_stock=True)
    assert "1 x 0.065 in" in caught.value.nearest


def test_shape_and_text_must_agree():
    assert stock("40 x 8 mm", shape="flat").shape == "flat bar"
    assert stock("square tube 40 x 2 mm", shape="rectangular tube").shape == "square tube"
    with pytest.raises(UnknownDesignation, match="it says hex bar, yet a round bar is asked for"):
        stock("hex 7/8 in", shape="round bar")
    with pytest.raises(UnknownDesignation, match="no such shape"):
        stock("25 mm", shape="blob")
    with pytest.raises(UnknownDesignation, match="no list is of that metal"):
        stock("25 x 2 mm", metal="unobtanium")


# -------------------------------------------------------------------------------- sections, next up


def test_areas_are_those_of_geometry():
    tube = stock("1-1/4 x 0.065 in")
    d, t = 1.25 * 25.4, 0.065 * 25.4
    assert tube.area_mm2 == pytest.approx(math.pi * (d - t) * t)
    assert tube.bore_mm == pytest.approx(d - 2 * t)
    assert stock("hex 24 mm").area_mm2 == pytest.approx(math.sqrt(3) / 2 * 24**2)
    assert stock("1 x 2 x 0.065 in").area_mm2 == pytest.approx(
        25.4**2 * (1 * 2 - (1 - 0.13) * (2 - 0.13))
    )
    assert stock("flat 40 x 8 mm").area_mm2 == 320.0


def test_a_look_up_is_fast():
    start = time.perf_counter()
    for size in EVERY[::20]:
        stock(size.name)
    # The budget is 20 ms each.
    assert (time.perf_counter() - start) / len(EVERY[::20]) < 0.01
