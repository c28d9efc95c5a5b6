"""Vehicles by chance: the demo's with points, masses and stiffnesses moved about, its parts or one clevis on it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import yaml

from parts.inputs.problems import InputError
from parts.vehicle.build import Build
from tests.vehicle.builds import CLEVIS, DEMO

IN_PLANE = (
    {"type": "acceleration"},
    {"type": "chain snatch"},
    {"type": "reverse torque"},
    {"type": "climbing", "slope": "12 deg"},
    {"type": "front brake"},
    {"type": "rear brake"},
    {"type": "landing", "height": 500, "rider": "standing"},
    {"type": "bump at speed", "wheel": "rear", "speed": 10, "ramp": "9 deg"},
    {"type": "bump at speed", "wheel": "front", "speed": 10, "ramp": "9 deg"},
    {"type": "kick lever", "at": "kick lever pad"},
    {"type": "lifting", "at": ["head steady", "tail hinge"]},
    {"type": "engine vibration", "speed": 8000},
    {"type": "brake pedal", "at": "brake pedal pad"},
    {"type": "stated", "name": "missed gear", "at": "shift toe", "force": "400 N"},
    {"type": "one peg", "at": "right peg"},
)
SIDEWAYS = (
    {"type": "cornering", "lateral": 0.9, "lean": "20 deg"},
    {"type": "side load", "wheel": "rear"},
    {"type": "side load", "wheel": "front"},
    {"type": "landing", "name": "askew", "height": 200, "wheels": "rear", "lean": "10 deg"},
    {"type": "fall", "at": "bar end", "gives": 60},
    {"type": "fall", "at": "left peg", "gives": 60},
    {"type": "fall", "at": "brake pedal pad", "gives": 60},
    {"type": "fall", "at": "shift toe", "gives": 60},
    {
        "type": "stated",
        "name": "boot",
        "at": "brake pedal pad",
        "force": "250 N",
        "direction": "left",
    },
    {"type": "seat", "at": "seat"},
)
WITHOUT_CORNER = "hc-108"
"""The gusset of the corner that vehicles by chance do not have."""
ON_LINE = "bar anchor"
"""The point that stays where the bar's line is."""
OF_LEVERS = "pedal", "brake pedal", "master cylinder", "shift", "gearbox shaft arm"
"""Points that a lever, its bracket and its stop are drawn to; with the parts on they stay with the engine's bolts."""
KEPT = ("machine centre", "rider centre", "rear axle", "front axle")


def vehicle(seed: int, parts: bool = False) -> dict[str, Any]:
    """A build file by chance; with the demo's parts, or with a clevis on the tail alone."""
    chance = np.random.default_rng(seed)
    data = yaml.safe_load(DEMO.read_text())
    for name, one in data["hardpoints"].items():
        one["within"] = 0
        key = "at" if "at" in one else "offset"
        free = [1.0, 0.0 if key == "at" and one[key][1] == 0 else 1.0, 1.0]
        size = 4.0 if name in KEPT else 12.0
        if name == ON_LINE or (parts and name.startswith(OF_LEVERS)):
            size = 0.0
        one[key] = [
            round(float(v), 3) for v in np.add(one[key], free * chance.uniform(-size, size, 3))
        ]
    places = data["hardpoints"]
    places["rear axle"]["at"][1] = 0.0
    front, rear = places["front axle"]["at"], places["rear axle"]["at"]
    data["vehicle"] |= {
        "wheelbase": round(front[0] - rear[0], 3),
        "machine_mass": f"{chance.uniform(90, 190):.2f} kg",
        "rider_mass": f"{chance.uniform(55, 110):.2f} kg",
        "tyre_radius": round(float(rear[2]), 3),
        "tyre_rate": round(float(chance.uniform(120, 260)), 2),
        "grip": round(float(chance.uniform(0.5, 1.4)), 3),
    }
    end = data["rear_end"]
    for key in ("turnbuckle", "wanted", "bumps", "teeth"):
        del end[key]
    end["bar"] = {
        "diameter": round(float(chance.uniform(17, 21)), 2),
        "length": 400,
        "material": "300M",
    }
    end["preload"] = f"{chance.uniform(1, 6):.3f} deg"
    if not parts:
        end["damper"].pop("loads")
        pedal = data["bodies"]["brake pedal"]
        pedal["spring"]["pull"] = f"{chance.uniform(20, 400):.2f} N"
        along, up = (round(float(v), 3) for v in chance.uniform(-0.3, 0.3, 2))
        pedal["axis"] = [along, 1.0, up]
        if chance.random() < 0.3:
            del pedal["stop"]
    if chance.random() < 0.5:
        data["rear_brake"]["torque_arm"] = {"carrier": "brake carrier", "frame": "brake stay"}
        places["brake carrier"] = {
            "from": "rear axle",
            "offset": [30, -74, float(chance.uniform(60, 110))],
        }
        places["brake stay"] = {"at": [-60, -74, float(chance.uniform(400, 500))]}
    if chance.random() < 0.3 and not parts:
        del data["engine"]
    elif chance.random() < 0.5:
        data["engine"]["loaded_at"].append("gearbox shaft arm")
    if chance.random() < 0.3 and not parts:
        data["bodies"]["tail"]["hinge"] = "damper on swing arm"
    del data["front_end"]["corner"]
    data["cases"] = [
        dict(one)
        for one in (*IN_PLANE, *SIDEWAYS)
        if "engine" in data or "engine" not in one["type"]
    ]
    place = {"origin": "seat mount", "x": ["seat mount", "strut foot"], "z": "forward"}
    part = {"file": "first.yaml", "body": "tail", "sides": "both", "place": place}
    own = [one for one in data["parts"] if parts and not one["file"].startswith(WITHOUT_CORNER)]
    data["parts"] = [part | {"points": {"pin": "seat mount"}}, *own]
    bodies = {"swing arm", "wheel", "link", "arm", "fork", *data["bodies"], *data["links"]}
    bodies |= {"engine"} if "engine" in data else set()
    bodies |= {"torque arm"} if "torque_arm" in data["rear_brake"] else set()
    data["not_modelled"] = {name: "named" for name in (*places, *sorted(bodies))}
    return data


def mirrored(data: dict[str, Any]) -> dict[str, Any]:
    """The same with left and right exchanged."""
    places = {
        name: {k: [v[0], -v[1], v[2]] if k in ("at", "offset") else v for k, v in one.items()}
        for name, one in data["hardpoints"].items()
    }
    pedal = data["bodies"]["brake pedal"]
    if "axis" in pedal:
        x, y, z = pedal["axis"]
        pedal = {**pedal, "axis": [x, -y, z]}
    return {**data, "hardpoints": places, "bodies": {**data["bodies"], "brake pedal": pedal}}


def renamed(data: Any, names: dict[str, str], under: str = "") -> Any:
    """The same with other names for the hardpoints; types and bodies keep theirs."""
    if isinstance(data, dict):
        keys = names if under in ("hardpoints", "not_modelled") else {}
        return {keys.get(key, key): renamed(value, names, key) for key, value in data.items()}
    if isinstance(data, list):
        return [renamed(one, names, under) for one in data]
    return names.get(data, data) if isinstance(data, str) and under != "type" else data


def built(data: dict[str, Any], folder: Path) -> Build | None:
    """The build of a file; None where it cannot be put together."""
    folder.mkdir(exist_ok=True)
    (folder / "build.yaml").write_text(yaml.safe_dump(data, sort_keys=False))
    for one in data["parts"][1:]:
        (folder / one["file"]).write_text((DEMO.parent / one["file"]).read_text())
    (folder / "first.yaml").write_text(CLEVIS.format(name="first", length="14 mm"))
    build, parts = Build(folder / "build.yaml"), [one["file"] for one in data["parts"][1:]]
    try:
        _ = build.ends
    except InputError as error:
        known = ("linkage", "statics", "vehicle", "bad_case")
        # The pedal's spring is asked for by the build: a bracket's own rule may refuse where its points went.
        own = ["." in one.code and Path(one.file).name in parts for one in error.problems]
        assert all(
            one.code in known or of_part for one, of_part in zip(error.problems, own, strict=True)
        ), str(error)
        return None
    return build
