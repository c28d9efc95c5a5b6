"""Foot levers by which the house tries itself: one for each option."""

from __future__ import annotations

PEDAL = {
    "family": "foot lever", "name": "HC-113", "title": "brake pedal", "material": "7075-T6", "form": "plate",
    "hub": {"diameter": "48 mm",
        "pivot": {"type": "bearings", "bearing": "6202-2RS", "spacer": "4 mm", "thrust": "AXK 2035"}},
    "arm": {"length": "115 mm", "width": "30 mm", "end_width": "20 mm", "thickness": "14 mm", "crank": "8 mm",
        "root_fillet": "8 mm"},
    "toe": {"type": "tapped", "diameter": "26 mm", "width": "16 mm", "bolt": "M10 8.8", "shoulder": "18 mm",
        "height_of_foot": "18 mm"},
    "rod": {"angle": "104 deg", "along": "180 deg",
        "arm": {"length": "48 mm", "width": "17 mm", "end_width": "14 mm", "thickness": "8 mm",
            "root_fillet": "5 mm", "end_fillet": "4 mm"},
        "end": {"type": "eye", "diameter": "18 mm", "width": "8 mm", "bore": {"type": "plain", "gap": "0.05 mm"},
            "pin": {"bolt": "AN4", "ear": "5 mm"}}},
    "loads": [{"name": "hard braking", "forces": [{"at": "toe", "force": [0, "-500 N", "30 N"]}]}],
}  # fmt: skip
SHIFT = PEDAL | {
    "name": "HC-114", "title": "shift lever", "material": "6061-T6",
    "hub": {"diameter": "32 mm", "pivot": {"type": "bush", "journal": "12 mm", "outside": "16 mm",
        "material": "C93200 bronze", "length": "18 mm", "washer": "26 mm"}},
    "arm": {"length": "70 mm", "width": "20 mm", "end_width": "16 mm", "thickness": "10 mm", "crank": "3 mm",
        "root_fillet": "6 mm"},
    "knees": [{"turn": "25 deg", "diameter": "22 mm", "width": "14 mm",
        "arm": {"length": "60 mm", "width": "16 mm", "end_width": "14 mm", "thickness": "10 mm", "crank": "2 mm",
            "root_fillet": "5 mm"}}],
    "toe": {"type": "pinned", "diameter": "20 mm", "width": "14 mm", "peg": "10 mm",
        "peg_material": "17-4PH H1025", "cross_pin": "ISO 8752 3 x 20", "height_of_foot": "18 mm"},
    "rod": {"angle": "90 deg",
        "arm": {"length": "52 mm", "width": "14 mm", "end_width": "9 mm", "thickness": "10 mm",
            "root_fillet": "4 mm", "end_fillet": "3.5 mm"},
        "end": {"type": "clevis", "ears": {"thickness": "5 mm", "width": "18 mm", "nose": "round", "depth": "15 mm",
            "corner": "2 mm", "floor_thickness": "6 mm",
            "throat": {"type": "rod end", "rod_end": "M6 male", "spacer": "0.5 mm"},
            "pin": {"bolt": "M6 8.8", "hole": {"type": "reamed", "fit": "H7"}}}}},
    "loads": [{"name": "boot", "forces": [{"at": "toe", "force": [0, "-180 N", "20 N"]}],
        "spectrum": [{"cycles": 20000}], "ratio": -1}],
}  # fmt: skip

LUG = {"width": "9 mm", "thickness": "6 mm", "root_fillet": "4 mm", "end_fillet": "4 mm"}
RETURNED = PEDAL | {
    "title": "brake pedal with its return spring", "travel": {"rod": "12 mm", "free": "5 mm"}, "reach": "150 mm",
    "spring": {"type": "extension", "thickness": "1.8 mm", "outside": "13 mm", "coils": 18, "wound_in": "5 N",
        "lug": LUG | {"angle": "160 deg", "length": "40 mm",
            "end": {"diameter": "12 mm", "width": "6 mm", "bore": "4 mm"}},
        "anchor": {"angle": "-128 deg", "distance": "64 mm"}},
    "stop": {"limb": "arm", "radius": "60 mm", "side": "+y", "post": "14 mm", "eccentric": "1.5 mm"},
    "switch": LUG | {"angle": "-110 deg", "length": "40 mm",
        "end": {"diameter": "12 mm", "width": "6 mm", "bore": "5.2 mm"}},
    "loads": [*PEDAL["loads"], {"name": "kicked up", "forces": [{"at": "toe", "force": [0, "350 N", 0]}]}],
}  # fmt: skip
CENTRED = SHIFT | {
    "title": "shift lever with its torsion spring", "travel": {"rod": "8 mm", "free": "1 mm"},
    "spring": {"type": "torsion", "thickness": "2.5 mm", "outside": "30 mm", "coils": 5, "about": "18 mm",
        "leg": "30 mm", "other_leg": "30 mm", "preload": "40 deg"},
    "stop": {"limb": "rod arm", "radius": "24 mm", "side": "+y", "post": "8 mm"},
    "loads": [{"name": "boot", "forces": [{"at": "toe", "force": [0, "-180 N", "20 N"]}],
        "spectrum": [{"cycles": 20000}], "ratio": 0}],
}  # fmt: skip
WELDED = SHIFT | {
    "title": "shift lever with a welded peg", "material": "4130 normalized",
    "hub": {"diameter": "32 mm", "pivot": {"type": "bush", "journal": "12 mm", "outside": "22 mm",
        "material": "C93200 bronze", "length": "18 mm", "washer": "26 mm", "fit": "H7/n6"}},
    "toe": {"type": "welded", "diameter": "26 mm", "width": "12 mm", "peg": "12 mm", "leg": "4 mm",
        "height_of_foot": "18 mm"},
}  # fmt: skip
