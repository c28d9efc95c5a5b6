"""The key to the dimensions: each name stands where the drawing has its value, found by moving the field."""

import re
import xml.etree.ElementTree as ET
from pathlib import Path

import numpy as np
import pytest
from by_turns import by_turns

from parts.families import families
from parts.inputs.variants import with_values
from parts.making.bench.key import key
from parts.making.bench.key_fields import every_field, fields_of, named
from parts.making.bench.load_points import load_points
from parts.making.bench.views import NoRoom

UNNAMED = Path(__file__).with_name("unnamed_fields.txt").read_text().splitlines()
"""Fields that no picture of their family names: what they set lies in another part, or in a check. It only grows
shorter."""


def example(name, k=0):
    family = families()[name]
    return family.model_validate(dict(family.examples[k]))


def said(part):
    """What stands at each size, by the name that the drawing has for it."""
    return {
        mark.split(" ", 1)[1]: text for _, names in named(part) for mark, (text, _) in names.items()
    }


def test_each_name_stands_where_the_drawing_has_its_value():
    found = said(example("clevis"))
    assert found["depth of the throat"] == "ears.depth"
    assert found["thickness of an ear"] == "ears.thickness"
    assert found["width of the ears"] == "ears.width"
    assert found["thread"] == "shank.thread"
    # The throat is the rod end's ball with a spacer and half the clearance on each side.
    assert set(found["throat"].split(" + ")) == {
        "ears.throat.rod_end", "ears.throat.spacer × 2", "ears.throat.clearance",
    }  # fmt: skip


@pytest.mark.parametrize("name", by_turns(sorted(families()), of=6))
def test_no_field_that_moves_a_size_of_the_drawing_is_missing(name):
    part = example(name)
    fields = {
        field for _, names in named(part) for _, several in names.values() for field in several
    }
    before = [
        float(getattr(one, "value", 0.0))
        for drawn in part.drawn()
        for one in drawn.marks.dimensions
    ]
    missing = []
    for field, value in fields_of(part):
        try:
            other = with_values(part, {field: value * 1.0001 + 1e-4}).drawn()
            after = [
                float(getattr(one, "value", 0.0))
                for drawn in other
                for one in drawn.marks.dimensions
            ]
        except (ValueError, ArithmeticError, LookupError):
            continue
        if (
            len(after) == len(before)
            and max(map(abs, (a - b for a, b in zip(after, before, strict=True)))) > 1e-5
        ):
            missing += [field] * (field not in fields)
    assert missing == [] and len(fields) >= 3


def test_a_key_is_a_picture_with_its_names():
    part = example("spacer")
    found = key(part)
    assert [names for _, names in named(part)] == [names for _, names in named(part)]
    root = ET.fromstring(found.svg)
    words = " ".join("".join(one.itertext()) for one in root.iter() if one.tag.endswith("text"))
    there = (*found.fields, *found.below, *found.noted)
    assert found.fields and all(field in words for field in (*there, *found.apart))
    assert {*there} == named_in(part) and {*there} | {*found.apart} == {*every_field(part)}
    assert "edge_break" in found.noted and "Break edges 0.4 mm" in words


def test_what_finds_no_room_stands_below_and_a_key_without_room_is_one_still(monkeypatch):
    part = example("spacer")
    whole = key(part)

    def full(*_):
        raise NoRoom("no room")

    monkeypatch.setattr("parts.making.bench.key._views", full)
    found = key(part)
    assert found.fields == () and set(found.below) == {*whole.fields, *whole.below}
    assert (found.noted, found.apart) == (whole.noted, whole.apart)
    words = [
        "".join(one.itertext())
        for one in ET.fromstring(found.svg).iter()
        if one.tag.endswith("text")
    ]
    assert "Without room in the views:" in words and set(found.below) <= set(words)


def named_in(part):
    return {one for _, names in named(part) for _, several in names.values() for one in several}


@pytest.mark.parametrize("name", by_turns(sorted(families()), share=1, of=3))
def test_a_field_that_no_picture_of_its_family_names_is_listed(name):
    there, lost = set(), set()
    for k in range(len(families()[name].examples)):
        part = example(name, k)
        said_ = named_in(part)
        for field in every_field(part):
            plain = re.sub(r"\[\d+\]", "[]", field)
            (there if field in said_ else lost).add(f"{name}: {plain}")
    assert lost - there == {one for one in UNNAMED if one.startswith(f"{name}: ")}


def test_the_bends_of_a_tube_are_named_where_they_lie():
    part = example("bent tube")
    ((drawn, names),) = named(part)
    at = {
        field: np.asarray(one.at)
        for one in drawn.marks.dimensions
        if one.name in names and hasattr(one, "at")
        for field in names[one.name][1]
    }
    # A half turn of two bends of 90°: the first straight runs along x, the second along y, the third back.
    R, first, second = part.bends[0].radius, part.bends[0].after, part.bends[1].after
    assert at["bends[1].angle"] == pytest.approx([first + R, R + second / 2.0, 0.0], abs=1e-6)
    half = R * np.sin(np.pi / 4.0)
    assert at["bends[1].after"] == pytest.approx([first + half, R - half, 0.0], abs=1e-6)
    assert at["bends[2].angle"][1] == pytest.approx(2.0 * R + second, abs=1e-6)
    noted = {field: name for name, (_, several) in names.items() for field in several}
    assert "oval" in noted["ovality"]


def test_the_sides_of_an_arm_are_named_on_its_outline():
    part = example("torsion-bar arm")
    ((drawn, names),) = named(part)
    own = {one.name: one for one in drawn.marks.dimensions}
    wide = next(own[name] for name, (_, several) in names.items() if several == ("arm.width",))
    assert abs(wide.at[1]) == pytest.approx(part.arm.width / 2.0, rel=0.2)


def test_every_option_of_a_small_family_is_drawn():
    for k in range(len(families()["frame tab"].examples)):
        assert len(key(example("frame tab", k)).fields) >= 4


def test_load_points_stand_where_the_part_has_them():
    part = example("clevis")
    root = ET.fromstring(load_points(part))
    words = {"".join(one.itertext()): one for one in root.iter() if one.tag.endswith("text")}
    assert {"x", "y", "z", *part.points()} <= {*words}
    (ring,) = [one for one in root.iter() if one.tag.endswith("circle") and one.get("r") == "1.400"]
    # Its pin is the origin of its axes: all four begin there.
    starts = [one.get("points").split()[0] for one in root.iter() if one.tag.endswith("polyline")]
    at = f"{float(ring.get('cx')):.3f},{float(ring.get('cy')):.3f}"
    assert sum(start == at for start in starts) == 4
