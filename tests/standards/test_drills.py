"""Stock drills against printed sizes, and the look-ups by name and by size."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from parts.standards.designation import UnknownDesignation
from parts.standards.threads import drills as d

# Inch sizes as ASME B94.11M and the drill charts of the trade print them (from memory).
PRINTED = {
    "#80": 0.0135, "#60": 0.0400, "#43": 0.0890, "#36": 0.1065, "#29": 0.1360, "#25": 0.1495,
    "#21": 0.1590, "#7": 0.2010, "#3": 0.2130, "#1": 0.2280, "A": 0.234, "F": 0.257, "I": 0.272,
    "Q": 0.332, "U": 0.368, "Z": 0.413, "1/64": 0.0156, "5/16": 0.3125, "27/64": 0.4219,
    "1-3/4": 1.7500,
}  # fmt: skip


@pytest.mark.parametrize(("name", "inch"), PRINTED.items())
def test_printed_sizes(name, inch):
    # half a unit of the last place printed
    assert d.drill(name).diameter_in == pytest.approx(inch, abs=0.5e-4)


def test_named_drills_are_complete_and_monotone():
    numbers = [d.drill(f"#{n}").diameter for n in range(80, 0, -1)]
    letters = [d.drill(c).diameter for c in "ABCDEFGHIJKLMNOPQRSTUVWXYZ"]
    assert all(a < b for a, b in pairwise(numbers + letters))
    assert all(d.drill(e.name) == e for e in d.drills())
    assert {e.kind for e in d.drills()} == set(d.KINDS)
    assert all(e.source for e in d.drills())


def test_within_a_kind_no_size_comes_twice():
    for kind in d.KINDS:
        sizes = [e.diameter for e in d.drills((kind,))]
        assert all(b - a > 1e-3 for a, b in pairwise(sizes))


def test_fractional_run_in_64ths():
    run = d.drills(("fractional",))
    assert len(run) == 112  # 1/64 to 112/64 = 1-3/4
    for count, each in enumerate(run, 1):
        assert each.diameter == pytest.approx(count * 25.4 / 64, rel=1e-12)


@settings(deadline=None)
@given(st.sampled_from(d.drills()))
def test_name_to_drill_and_back(each):
    assert d.drill(each.name) == each
    assert each.name in d.names_of(each.diameter)
    assert d.nearest_under(each.diameter).diameter == each.diameter
    assert d.nearest_over(each.diameter).diameter == each.diameter


@settings(deadline=None)
@given(st.floats(0.5, 44.0), st.sampled_from([d.KINDS, d.INCH_KINDS, d.METRIC_KINDS]))
def test_nearest_bracket_the_size(mm, kinds):
    under, over, near = (f(mm, kinds) for f in (d.nearest_under, d.nearest_over, d.nearest))
    assert under.diameter <= mm + 1e-6 and over.diameter >= mm - 1e-6
    assert not [e for e in d.drills(kinds) if under.diameter < e.diameter < over.diameter]
    assert abs(near.diameter - mm) == min(abs(e.diameter - mm) for e in d.drills(kinds))


@pytest.mark.parametrize(
    ("written", "name"),
    [("No. 7", "#7"), ('1"', "1 in"), ("1.0 in", "1 in"), ("no 7", "#7"), ("letter q", "Q"),
     ("8.50mm", "8.5 mm"), ('27/64"', "27/64"),
     ("1 3/32", "1-3/32"), (".375", "3/8"), ("ø6.8 mm", "6.8 mm")],
)  # fmt: skip
def test_names_as_the_bench_writes_them(written, name):
    assert d.drill(written).name == name


def test_quarter_inch_is_also_letter_e():
    assert set(d.names_of(6.35)) == {"1/4", "E"}


@pytest.mark.parametrize(
    ("written", "near"),
    [("7", ("#7", "7 mm")), ("1", ("#1", "1 mm", "1 in")), ("#81", ("#80",)),
     ("8.53 mm", ("8.5 mm",)), ("27/65", ("Z", "27/64")),
     ("2-1/2", ("1-3/4",)), ("spade", ())],
)  # fmt: skip
def test_unknown_names_are_refused(written, near):
    with pytest.raises(UnknownDesignation) as caught:
        d.drill(written)
    assert caught.value.kind == "drill"
    assert set(near) <= set(caught.value.nearest)


def test_sizes_beyond_the_stock_are_refused():
    with pytest.raises(UnknownDesignation, match="so small"):
        d.nearest_under(0.1)
    with pytest.raises(UnknownDesignation, match="so large"):
        d.nearest_over(60)
    with pytest.raises(UnknownDesignation, match="kind of drill"):
        d.drills(("spade",))
