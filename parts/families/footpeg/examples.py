"""Footpegs by which the house tries itself: one for each option."""

from __future__ import annotations

SHANK = {
    "type": "male thread",
    "thread": "M16x1.5",
    "length": "30 mm",
    "engagement": "20 mm",
    "mate": "7075-T6",
}
BASE = {
    "family": "footpeg", "name": "HC-115", "title": "footpeg", "material": "17-4PH H1025", "form": "bar",
    "diameter": "28 mm", "length": "85 mm", "shank": SHANK, "flats": {"across": "24 mm", "length": "12 mm"},
    "knurl": {"pitch": "1.6 mm"}, "lip": {"diameter": "36 mm", "width": "5 mm"},
    "loads": [{"name": "standing", "forces": [{"at": "foot", "force": [0, 0, "-1.1 kN"]}]}],
}  # fmt: skip

EXAMPLES = (
    BASE,
    BASE | {
        "title": "hollow footpeg", "material": "7075-T6", "diameter": "32 mm", "knurl": None, "lip": None,
        "bore": "20 mm", "bored": "50 mm", "flats": {"across": "27 mm", "length": "13 mm"},
        "shank": SHANK | {"thread": "M18x1.5"},
    },
    BASE | {
        "title": "bolted footpeg", "material": "7075-T6", "diameter": "34 mm", "knurl": None, "lip": None,
        "bore": "22 mm", "bored": "72 mm", "flats": None,
        "shank": {"type": "bolted", "bolt": "M12 10.9 socket", "engagement": "24 mm",
            "washer": "21.5 mm"},
    },
    BASE | {
        "title": "folding footpeg", "diameter": "34 mm", "knurl": None, "lip": None, "flats": None,
        "bore": "22 mm", "bored": "60 mm", "teeth": {"pitch": "4 mm", "depth": "1.5 mm"}, "cap": {},
        "shank": {"type": "folding", "reach": "18 mm", "over": "34 mm", "fold": "60 deg",
            "eye": {"type": "eye", "diameter": "30 mm", "width": "15 mm",
                "bore": {"type": "plain", "gap": "0.05 mm"},
                "pin": {"bolt": "AN6", "nut": "slotted", "ear": "8 mm", "beyond": "18 mm"}},
            "spring": {"type": "torsion", "thickness": "2 mm", "outside": "22 mm", "coils": 8, "about": "10 mm",
                "leg": "25 mm", "other_leg": "20 mm", "preload": "50 deg"}},
    },
    BASE | {
        "title": "fabricated footpeg", "material": "4130 normalized", "form": "tube",
        "diameter": "32 mm", "length": "90 mm", "bore": "24 mm", "knurl": None, "lip": None, "flats": None, "cap": {},
        "shank": {"type": "folding plate", "reach": "22 mm", "over": "34 mm", "fold": "60 deg", "tab": "30 mm",
            "height": "42 mm", "weld": {"leg": "4 mm", "filler": "ER70S-2"},
            "eye": {"type": "eye", "diameter": "30 mm", "width": "10 mm", "bore": {"type": "plain", "gap": "0.05 mm"},
                "pin": {"bolt": "AN6", "nut": "slotted", "ear": "8 mm"}}},
    },
)  # fmt: skip
