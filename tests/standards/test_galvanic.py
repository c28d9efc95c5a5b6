"""Galvanic couples: the anodic index table, the limits by surroundings, and cadmium on titanium."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from parts.standards.designation import UnknownDesignation, plain_name
from parts.standards.materials.galvanic import LIMITS, families, family, pair

NAMES = list(families())

# MIL-DTL-14072 Table VI, anodic index [V]; from memory.
PRINTED = {
    "gold": 0.00,
    "titanium": 0.30,
    "stainless": 0.50,
    "steel": 0.85,
    "6061": 0.90,
    "cadmium": 0.95,
}


@pytest.mark.parametrize("name, index", PRINTED.items())
def test_printed_anodic_indices(name, index):
    assert family(name).index == index


def test_the_table_runs_from_noble_to_base_and_names_its_sources():
    indices = [f.index for f in families().values()]
    assert indices == sorted(indices)
    assert all(f.source for f in families().values())


def test_no_name_stands_for_two_families():
    every = [plain_name(n) for f in families().values() for n in {f.name, *f.aliases}]
    assert len(every) == len(set(every))


def test_aluminium_on_stainless_corrodes_the_aluminium_in_salt_and_indoors():
    couple = pair("6061", "stainless steel")
    assert couple.difference == pytest.approx(0.40)
    assert couple.anode == "aluminium"
    assert couple.allowed == {"harsh": False, "normal": False, "controlled": True}
    assert not couple.ok


def test_steel_on_aluminium_may_go_bare():
    couple = pair("aluminium", "steel")
    assert couple.difference == pytest.approx(0.05) and couple.ok


def test_a_difference_of_just_the_limit_is_allowed():
    # 0.90 - 0.75 = 0.15 V, the limit for harsh surroundings, which binary fractions miss by 2e-17.
    assert pair("aluminium", "2024").allowed["harsh"]


@pytest.mark.parametrize("plating", ["cadmium", "cad plate", "cadmium-plated steel"])
def test_cadmium_on_titanium_is_warned_of_whichever_way_round(plating):
    for couple in (pair("titanium", plating), pair(plating, "titanium")):
        assert any("embrittles" in w for w in couple.warnings)
        assert not couple.ok
    assert not pair("steel", plating).warnings


def test_zinc_on_titanium_and_carbon_on_aluminium_are_warned_of():
    assert pair("zinc-plated steel", "titanium").warnings
    assert pair("carbon fibre", "6061").warnings


@given(st.sampled_from(NAMES), st.sampled_from(NAMES))
def test_a_couple_reads_the_same_from_both_sides(a, b):
    one, other = pair(a, b), pair(b, a)
    assert (one.difference, one.anode, one.allowed) == (
        other.difference,
        other.anode,
        other.allowed,
    )
    assert set(one.warnings) == set(other.warnings)
    assert one.difference >= 0 and (one.anode == "") == (one.difference < 1e-9)
    # What is good enough for harsh surroundings is good enough for milder ones.
    assert [one.allowed[w] for w in LIMITS] == sorted(one.allowed[w] for w in LIMITS)


def test_an_unknown_metal_is_refused_with_the_nearest():
    with pytest.raises(UnknownDesignation) as caught:
        pair("titanium", "stainles")
    assert caught.value.kind == "galvanic family"
    assert "stainless" in caught.value.nearest


def test_a_plastic_corrodes_nothing_and_is_corroded_by_nothing():
    for couple in (pair("insulator", "titanium"), pair("zinc plate", "insulator")):
        assert couple.ok and couple.anode == "" and couple.difference == 0.0
    with pytest.raises(UnknownDesignation):
        pair("insulator", "stainles")
