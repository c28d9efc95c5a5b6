"""Rules of a gusset, the messages that a builder reads, and its schema."""

import json

import pytest
from gussets import (
    ACROSS,
    FLARE,
    LONG,
    PIN,
    TAB,
    WIDE,
    broken,
)

from parts.families.gusset.family import Gusset
from parts.inputs.problems import InputError
from parts.inputs.reading import file_schema, read_text


@pytest.mark.parametrize(
    ("changes", "field", "says"),
    [
        ({"angle": "15 deg"}, "angle", "no corner for a plate"),
        ({"angle": "170 deg"}, "angle", "need no gusset"),
        ({"thickness": 0.5}, "thickness", "wrong unit"),
        ({"thickness": 4.0}, "thickness", "twice the"),
        ({"gap": 1.1}, "gap", "falls through"),
        ({"toe_radius": 2}, "toe_radius", "starts a crack"),
        ({"toe_radius": 45}, "toe_radius", "wrong unit"),
        ({"edge_break": 0.7}, "edge_break", "a quarter of the thickness"),
        ({"plate": {**WIDE, "leg_a": 25}}, "plate.leg_a", "too little straight edge"),
        ({"plate": {**WIDE, "leg_b": "110 in"}}, "plate.leg_b", "wrong unit"),
        ({"plate": {**WIDE, "relief": {"type": "round", "size": 3}}}, "plate.relief.size",
        "weld between the tubes"),
        ({"free_edge": {"type": "waisted", "depth": 45}}, "free_edge", "hollowed or bowed"),
        ({"plate": {**WIDE, "leg_a": 45, "leg_b": 390}, "angle": "20 deg", "free_edge": {"type": "curved",
          "rise": 10}}, "free_edge", "square to its own leg"),
        ({"plate": {**WIDE, "leg_a": 45, "leg_b": 390}, "angle": "20 deg", "free_edge": {"type": "curved",
          "rise": 40}}, "free_edge", "square to its own leg"),
        ({"plate": {**WIDE, "leg_a": 390, "leg_b": 390}, "angle": "150 deg", "toe_radius": 3.5, "free_edge": {
          "type": "waisted", "depth": 60}}, "free_edge", "feather"),
        ({"angle": "155 deg", "plate": {**WIDE, "leg_a": 42, "leg_b": 42}}, "plate",
        "between the inner corner"),
        ({"weld": {"leg": 0.5}}, "weld.leg", "smaller than the parts ask"),
        ({"weld": {"leg": 6}}, "weld.leg", "burns through"),
        ({"arrangement": {"type": "single", "offset": 9}}, "arrangement", "nearer to the plane"),
        ({"arrangement": {"type": "pair astride", "spacing": 5}}, "arrangement.spacing", "inner welds"),
        ({"arrangement": {"type": "left and right", "spacing": 20}}, "arrangement.spacing", "pair astride"),
        ({"arrangement": {"type": "left and right", "spacing": "110 in"}}, "arrangement.spacing", "wrong unit"),
        ({"holes": {"type": "largest", "web": 2}}, "holes.web", "twice the thickness"),
        ({"holes": {"type": "largest", "web": 25, "count": 3}}, "holes", "too small to lighten"),
        ({"holes": {"type": "placed", "web": 6, "places": [{"at": [50, 12], "diameter": 20}]}}, "holes",
        "near an edge"),
        ({"holes": {"type": "placed", "web": 6, "places": [{"at": [50, 22], "diameter": 16}, {"at": [68, 24],
          "diameter": 16}]}}, "holes", "near each other"),
        ({"holes": {"type": "largest", "web": 8, "rim": {**FLARE, "bend_radius": 4}}}, "holes.rim.bend_radius",
        "cracks"),
        ({"holes": {"type": "largest", "web": 8, "rim": {**FLARE, "angle": "10 deg"}}}, "holes.rim.angle",
        "flat"),
        ({"holes": {"type": "largest", "web": 8, "rim": {**FLARE, "angle": "88 deg"}}}, "holes.rim.angle",
        "die"),
        ({"holes": {"type": "largest", "web": 8, "rim": {**FLARE, "height": 1.5}}}, "holes.rim.height",
        "no cone"),
        ({"holes": {"type": "largest", "web": 8, "rim": {**FLARE, "height": "3 in"}}}, "holes.rim.height",
        "wrong unit"),
        ({"plate": LONG, "holes": {"type": "placed", "web": 6, "places": [{"at": [80, 40], "diameter": 10}],
          "rim": FLARE}}, "holes.rim", "splits"),
        ({"plate": LONG, "holes": {"type": "placed", "web": 6, "places": [{"at": [80, 40], "diameter": 6.2}],
          "rim": {**FLARE, "height": 12}}}, "holes.rim", "next to no hole"),
        ({"material": "Ti-6Al-4V annealed", "plate": LONG, "holes": {"type": "largest", "web": 8,
        "rim": FLARE}},
         "holes.rim.bend_radius", "softer sheet"),
        ({"plate": WIDE, "tab": {**TAB, "width": 20}}, "tab.width", "tear out of the tab"),
        ({"plate": WIDE, "tab": {**TAB, "along": 0.05}}, "tab.along", "between the toes"),
        ({"plate": WIDE, "tab": {**TAB, "reach": 8}}, "tab.reach", "past the hole"),
        ({"plate": WIDE, "tab": {**TAB, "reach": 150}}, "tab.reach", "wrong unit"),
        ({"plate": WIDE, "tab": {**TAB, "width": 60, "pin": {**PIN, "diameter": 18}}}, "tab", "wallows"),
        ({"plate": WIDE, "tab": {**TAB, "reach": 9, "root_radius": 2}, "holes": {"type": "placed", "web": 5,
          "places": [{"at": [76, 45.7], "diameter": 26}]}}, "holes", "tab's pin"),
        ({"angle": "90 deg", "plate": {**ACROSS, "wrap": "80 deg"}}, "plate.wrap", "little to weld"),
        ({"angle": "90 deg", "plate": {**ACROSS, "wrap": "190 deg"}}, "plate.wrap", "half way"),
        ({"angle": "90 deg", "plate": {**ACROSS, "at_a": 160}}, "plate.at_a", "feather"),
        ({"angle": "90 deg", "plate": {**ACROSS, "width_a": 40}}, "plate.width_a", "horns"),
        ({"angle": "90 deg", "plate": {**ACROSS, "width_a": 300}}, "plate.width_a", "wrong unit"),
        ({"angle": "90 deg", "plate": {**ACROSS, "at_a": 900, "at_b": 900}}, "plate.at_a", "wrong unit"),
        ({"angle": "90 deg", "plate": {**ACROSS, "at_a": 28, "at_b": 28}}, "plate", "between the two notches"),
        ({"angle": "90 deg", "plate": {**ACROSS, "at_a": 110, "at_b": 110}, "free_edge": {"type": "waisted",
          "depth": 19}}, "free_edge", "waist leaves too little"),
        ({"angle": "90 deg", "plate": ACROSS, "free_edge": {"type": "curved", "rise": 40}}, "free_edge",
        "bowed"),
        ({"angle": "90 deg", "plate": ACROSS, "arrangement": {"type": "single", "offset": 3}}, "arrangement",
        "middle"),
    ],
)  # fmt: skip
def test_each_rule_says_what_is_wrong(changes, field, says):
    said = broken(**changes)
    assert f"{field}:" in said
    assert says in said


def test_a_pair_astride_across_is_refused():
    said = broken(plate=ACROSS, angle="90 deg", arrangement={"type": "pair astride", "spacing": 20})
    assert "left and right" in said


def test_metal_that_nothing_may_be_counted_on_beside_a_weld_is_refused():
    assert "none may be counted on" in broken(material="7075-T6", form=None)
    assert "no such filler here" in broken(weld={"leg": 2.5, "filler": "ER4043"})


YAML = """
family: gusset plate
name: HC-190
material: 4130 normalized
tube_a: 1-1/4 in x 0.065 in
tube_b: 1 in x 0.058 in
angle: 62 deg
thickness: 0.090 in
plate: {type: centre plane, leg_a: 110 mm, leg_b: 95 mm}
weld: {leg: 2.5 mm}
"""


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("0.090 in", "0.090", "thickness"),
        ("62 deg", "62 mm", "angle"),
        ("centre plane", "center plane", "centre plane"),
        ("1 in x 0.058 in", "1 in", "tube_b"),
        ("leg_b", "leg_c", "leg_b"),
        ("leg_a: 110 mm", "leg_a: 20 mm", "too little straight edge"),
        ("4130 normalized", "4131", "4130"),
    ],
)
def test_messages_name_the_line_and_what_would_be_right(old, new, says):
    known = {"gusset plate": Gusset}
    assert read_text(YAML, known).thickness == pytest.approx(2.286)
    with pytest.raises(InputError) as caught:
        read_text(YAML.replace(old, new), known)
    assert says in str(caught.value)


def test_every_option_stands_in_the_schema_with_a_description():
    schema = file_schema(Gusset)
    text = json.dumps(schema)
    for word in (
        "centre plane",
        "across",
        "waisted",
        "curved",
        "flared",
        "pair astride",
        "left and right",
        "returned",
    ):
        assert f'"{word}"' in text
    groups = [schema, *schema["$defs"].values()]
    for group in groups:
        for name, field in group.get("properties", {}).items():
            assert field.get("description") or "$ref" in field or name == "units", name
