"""Gussets to test with: one for every option."""

from typing import Any

import pytest
from pydantic import ValidationError
from stated import part_of

from parts.families.gusset.family import Gusset

FLARE = {"type": "flared", "height": "2.7 mm", "bend_radius": "7 mm"}
PIN = {"diameter": "8 mm", "material": "4130 normalized"}
TAB = {"reach": "18 mm", "width": "26 mm", "pin": PIN}
ACROSS = {"type": "across", "at_a": 90, "at_b": 80, "width_a": 60, "width_b": 56}
LONG = {"type": "centre plane", "leg_a": 150, "leg_b": 140}
WIDE = {"type": "centre plane", "leg_a": 120, "leg_b": 120}
SIDE = [{"name": "side", "forces": [
    {"at": "tube b", "force": ["1.2 kN", "-600 N", "100 N"], "moment": [0, 0, "20 N*m"]},
]}]  # fmt: skip
PULL = [{"name": "pull", "forces": [
    {"at": "tube b", "force": ["1.2 kN", "-600 N", 0]}, {"at": "tab", "force": [800, 800, 50]},
]}]  # fmt: skip

OPTIONS: dict[str, dict[str, Any]] = {
    "plain": {"weld": {"leg": 2.5, "ends": "stopped"}},
    "waisted, chamfered corner": {
        "free_edge": {"type": "waisted", "depth": 14},
        "plate": {**WIDE, "relief": {"type": "chamfer", "size": 12}},
    },
    "curved": {"free_edge": {"type": "curved", "rise": 12}, "tube_material": "E355"},
    "one hole": {"holes": {"type": "largest", "web": 8}, "weld": {"leg": 2.5, "filler": "ER70S-2"}},
    "two holes": {
        "holes": {"type": "largest", "count": 2, "web": 7},
        "free_edge": {"type": "waisted", "depth": 10},
        "plate": WIDE,
    },
    "three holes": {
        "holes": {"type": "largest", "count": 3, "web": 7, "rim": {"type": "plain"}},
        "free_edge": {"type": "curved", "rise": 8},
        "plate": {**WIDE, "leg_a": 135},
    },
    "left and right, flared": {
        "holes": {"type": "largest", "count": 2, "web": 8, "rim": FLARE},
        "plate": LONG,
        "arrangement": {"type": "left and right", "spacing": 120},
    },
    "pair astride, flared": {
        "holes": {"type": "largest", "web": 8, "rim": FLARE},
        "arrangement": {"type": "pair astride", "spacing": 12},
        "thickness": 1.6,
        "toe_radius": 5,
    },
    "placed, off the middle": {
        "holes": {"type": "placed", "web": 6, "places": [{"at": [50, 22], "diameter": 20}]},
        "arrangement": {"type": "single", "offset": 3},
    },
    "tab": {"tab": TAB, "loads": PULL, "plate": WIDE},
    "tab on a waist, bushed": {
        "tab": {**TAB, "pin": {**PIN, "hole": {"type": "bushed", "outside": 12, "material": "C93200"}},
        "width": 38,
                "reach": 22},
        "loads": PULL, "plate": WIDE, "free_edge": {"type": "waisted", "depth": 10},
    },
    "tab on a curve": {
        "tab": {**TAB, "along": 0.6, "pin": {**PIN, "hole": {"type": "clearance"}}},
        "loads": PULL, "plate": WIDE, "angle": "100 deg", "free_edge": {"type": "curved", "rise": 10},
    },
    "across": {"plate": {**ACROSS, "wrap": "180 deg"}, "angle": "90 deg"},
    "across, waisted, two holes": {
        "plate": {**ACROSS, "at_b": 110}, "angle": "90 deg", "free_edge": {"type": "waisted", "depth": 6},
        "holes": {"type": "largest", "count": 2, "web": 8},
    },
    "across, flared, left and right": {
        "plate": {**ACROSS, "at_a": 110, "at_b": 110, "wrap": "120 deg"}, "angle": "90 deg",
        "holes": {"type": "largest", "count": 2, "web": 8, "rim": {**FLARE, "height": "2.9 mm", "toward": "back"}},
        "arrangement": {"type": "left and right", "spacing": 120},
    },
    "across, curved, tab": {
        "plate": {**ACROSS, "at_a": 120, "at_b": 120}, "angle": "80 deg", "tab": TAB, "loads": PULL,
        "free_edge": {"type": "curved", "rise": 6},
    },
}  # fmt: skip


def gusset(**changes: Any) -> Gusset:
    """The family's example with some fields replaced."""
    return part_of(Gusset, {**Gusset.example, "loads": SIDE, **changes})


def option(name: str, **changes: Any) -> Gusset:
    """One of the options, sharp where nothing else is said."""
    return gusset(**{"edge_break": 0.0, **OPTIONS[name], **changes})


def named(part, name, case=0):
    """The one check of that name."""
    (found,) = [one for one in part.modes(part.loads[case]) if one.name == name]
    return found


def broken(**changes):
    """What is said of a gusset that breaks a rule."""
    with pytest.raises(ValidationError) as caught:
        gusset(**changes)
    return str(caught.value)
