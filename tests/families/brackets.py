"""Foot brackets for tests: each option of the family by name, and ways to look at one."""

from functools import partial

from stated import changed, part_of

from parts.core.loads import LoadCase, PointLoad
from parts.families.foot_bracket.family import FootControlBracket

BOSS = {"diameter": "24 mm", "inner": "6 mm", "outer": "3 mm", "fillet": "1.5 mm"}
STUB = {
    "type": "stub", "at": ["-8 mm", "108 mm"], "bearing": "6202-2RS", "thrust": "AXK 2035", "spacer": "4 mm",
    "boss": {"diameter": "38 mm", "outer": "4 mm", "fillet": "2 mm"},
    "retention": {"type": "bolt", "thread": "M6", "depth": "14 mm"},
}  # fmt: skip
FORK = {
    "type": "clevised", "at": ["-40 mm", "48 mm"], "angle": "15 deg", "height": "90 mm", "fillet": "2 mm",
    "ears": {
        "thickness": "9 mm", "width": "26 mm", "depth": "20 mm", "floor_thickness": "8 mm",
        "throat": {"type": "blade", "thickness": "18 mm", "end": "13 mm"},
        "pin": {"diameter": "12 mm", "material": "4130 Q&T 150 ksi"},
    },
}  # fmt: skip
SEAT = {"type": "seat", "at": ["-8 mm", "108 mm"], "bearing": "6202-2RS"}
TAPPED = {
    "type": "tapped",
    "at": ["-8 mm", "108 mm"],
    "thread": "M8",
    "shoulder": "14 mm",
    "height": "20 mm",
}

OPTIONS = {
    "plain": {},
    "left": {"hand": "left", "mounts__0__boss": BOSS},
    "two mounts": {
        "mounts": [
            {"at": ["0 mm", "0 mm"], "thread": "M8", "bolt_class": "10.9"},
            {"at": ["75 mm", "10 mm"], "thread": "M8", "bolt_class": "10.9"},
        ]
    },
    "named hardware": {
        "plate__thickness": "16 mm",
        "mounts__0": {"at": ["0 mm", "0 mm"], "bolt": "M8 10.9", "onto": "4 mm"},
        "mounts__1": {"at": ["75 mm", "10 mm"], "bolt": "M8 10.9 socket", "onto": "4 mm",
                      "hole": {"type": "counterbored", "depth": "5 mm"}},
        "spring": {"type": "pressed pin", "at": ["40 mm", "-25 mm"], "height": "12 mm", "pin": "ISO 8734 5"},
    },
    "straight edges": {"plate__edges": "straight"},
    "no windows": {"plate__windows": "none"},
    "solid under the load": {"plate__windows": "clear of the load path"},
    "bosses on both sides": {"mounts__0__boss": BOSS, "mounts__1__boss": {"diameter": "22 mm",
    "outer": "9 mm"}},
    "counterbored": {"mounts__0__hole": {"type": "counterbored", "diameter": "15 mm", "depth": "5 mm"}},
    "counterbored inside": {
        "mounts__0__hole": {"type": "counterbored", "diameter": "15 mm", "depth": "5 mm", "side": "inner"}
    },
    "spotfaced": {"mounts__0__hole": {"type": "spotfaced", "diameter": "20 mm", "depth": "1 mm",
    "fit": "close"}},
    "tapped mount": {"mounts__0__hole": {"type": "tapped"}},
    "slot": {"mounts__1__hole": {"type": "slot", "travel": "6 mm", "angle": "30 deg", "fit": "loose"}},
    "forked peg": {"peg": FORK},
    "forked peg, left": {"peg": FORK, "hand": "left"},
    "stub": {"pedal": STUB},
    "stub, left": {"pedal": STUB, "hand": "left"},
    "stub with a circlip": {"pedal": {**STUB, "retention": {"type": "circlip"}}},
    "stub without thrust bearing": {
        "pedal": {**{k: v for k, v in STUB.items() if k not in ("thrust", "boss")}, "collar": "20 mm",
                  "collar_height": "3 mm", "collar_fillet": "1 mm"}
    },
    "seat": {"pedal": {**SEAT, "at": ["-16 mm", "112 mm"], "height": "10 mm",
    "boss": {"diameter": "56 mm", "inner": "5 mm"}}},
    "seat for two, pressed": {
        "pedal": {**SEAT, "count": 2, "retention": "press", "lip": "29.5 mm",
                  "boss": {"diameter": "52 mm", "outer": "8 mm"}}
    },
    "tapped pivots": {
        "pedal": {**TAPPED, "boss": {"diameter": "20 mm", "outer": "5 mm"}},
        "shift": {**TAPPED, "at": ["110 mm", "60 mm"], "boss": None},
    },
    "master cylinder": {
        "master_cylinder": {
            "at": ["100 mm", "60 mm"], "pitch": "40 mm", "angle": "80 deg", "thread": "M6",
            "foot_width": "16 mm",
            "axis_height": "18 mm", "hole": {"type": "tapped"},
            "boss": {"diameter": "18 mm", "outer": "4 mm"},
        },
        "reservoir": {"at": ["60 mm", "115 mm"], "thread": "M5"},
    },
    "turned posts": {
        "spring": {"type": "turned", "at": ["40 mm", "-25 mm"], "diameter": "8 mm", "height": "12 mm"},
        "stop": {"type": "turned", "at": ["100 mm", "50 mm"], "diameter": "12 mm", "height": "15 mm",
                 "fillet": "2 mm", "beyond": "4 mm"},
    },
    "pins and screws": {
        "spring": {"type": "pressed pin", "at": ["40 mm", "-25 mm"], "diameter": "5 mm", "height": "14 mm",
                   "pin_material": "4130 normalized", "boss": {"diameter": "18 mm", "outer": "4 mm"}},
        "stop": {"type": "screw", "at": ["100 mm", "50 mm"], "thread": "M8", "shoulder": "14 mm",
                 "height": "18 mm", "boss": {"diameter": "20 mm", "outer": "5 mm", "inner": "4 mm"}},
    },
}  # fmt: skip


def stated(option="plain", **changes):
    """A bracket as YAML would state it; `plate__web` stands for `plate.web`, `mounts__0__at` for the first."""
    return changed(FootControlBracket.example, **{**OPTIONS[option], **changes})


def bracket(option="plain", **changes):
    return part_of(FootControlBracket, stated(option, **changes))


def sharp(option="plain", **changes):
    """The same with every chamfer and fillet left out."""
    data = stated(option, **changes)
    data["edge_break"] = "0 mm"
    _without_fillets(data)
    return part_of(FootControlBracket, data)


def _without_fillets(owner):
    for value in owner.values() if isinstance(owner, dict) else owner:
        if isinstance(value, dict | list):
            _without_fillets(value)
    if isinstance(owner, dict):
        bossed = "diameter" in owner and ({"outer", "inner"} & set(owner))
        for key in ("fillet", "collar_fillet"):
            if key in owner or (
                key == "fillet" and (bossed or owner.get("type") in ("turned", "stub"))
            ):
                owner[key] = "0 mm"


def loaded_everywhere(part):
    """The same part with a load at every one of its points, so that every load path is looked at."""
    force = (300.0, -900.0, 120.0)
    case = LoadCase(name="all", forces=[PointLoad(at=name, force=force) for name in part.points()])
    return part.model_copy(update={"loads": [case]})


def every_part():
    return {name: partial(bracket, name) for name in OPTIONS}


def case_of(at, force=(0.0, 0.0, 0.0), moment=(0.0, 0.0, 0.0)):
    return LoadCase(name="case", forces=[PointLoad(at=at, force=force, moment=moment)])


def checks(part, at, force=(0.0, 0.0, 0.0), moment=(0.0, 0.0, 0.0)):
    return {one.name: one for one in part.modes(case_of(at, force, moment))}
