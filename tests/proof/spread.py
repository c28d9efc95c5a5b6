"""Valid parts of every family drawn at random, the same on every run: what the proof must agree with by hand."""

from __future__ import annotations

import copy
from collections.abc import Callable, Iterator, Mapping
from typing import Any

import numpy as np
from pydantic import ValidationError

from parts.core.part import Part
from parts.families.clevis.family import Clevis
from parts.families.foot_bracket.family import FootControlBracket
from parts.families.gusset.family import Gusset
from parts.families.links.adjustable_link import AdjustableLink
from parts.families.links.turnbuckle import Turnbuckle
from parts.families.torsion_arm.family import TorsionArm

Ranges = Mapping[str, tuple[float, float]]
LENGTHS: Mapping[type[Part], Ranges] = {
    Clevis: {
        "root_fillet": (1.0, 3.0),
        "ears.thickness": (5.0, 9.0),
        "ears.width": (20.0, 28.0),
        "ears.depth": (18.0, 30.0),
        "ears.corner": (1.0, 4.0),
        "ears.floor_thickness": (6.0, 12.0),
        "shank.neck.diameter": (15.0, 19.0),
        "shank.neck.length": (9.0, 16.0),
    },
    AdjustableLink: {"body.bung.shoulder": (22.0, 30.0), "body.bung.spigot": (12.0, 18.0)},
    FootControlBracket: {
        "plate.thickness": (12.0, 20.0),
        "plate.web": (9.0, 14.0),
        "plate.wall": (5.0, 8.0),
        "mounts.1.at.0": (60.0, 95.0),
        "mounts.1.at.1": (-5.0, 25.0),
        "mounts.2.at.0": (0.0, 45.0),
        "mounts.2.at.1": (70.0, 100.0),
        "peg.at.0": (-55.0, -25.0),
        "peg.at.1": (30.0, 62.0),
        "peg.height": (60.0, 100.0),
        "peg.boss.diameter": (33.0, 42.0),
        "peg.boss.outer": (5.0, 12.0),
        "peg.boss.fillet": (1.0, 4.0),
    },
    Gusset: {
        "thickness": (2.0, 5.0),
        "plate.leg_a": (85.0, 135.0),
        "plate.leg_b": (75.0, 120.0),
    },
    TorsionArm: {
        "hub.diameter": (44.0, 54.0),
        "hub.width": (30.0, 42.0),
        "arm.length": (130.0, 230.0),
        "arm.width": (32.0, 46.0),
        "arm.end_width": (22.0, 32.0),
        "arm.thickness": (14.0, 24.0),
        "arm.root_fillet": (4.0, 14.0),
        "arm.crank": (-12.0, 12.0),
        "end.diameter": (32.0, 40.0),
        "end.width": (16.0, 26.0),
    },
    Turnbuckle: {},
}
"""From where to where lengths are drawn [mm]."""
CHOICES: Mapping[type[Part], Mapping[str, tuple[str, ...]]] = {
    Clevis: {"material": ("4130 normalized", "7075-T6"), "ears.nose": ("round", "square")},
    AdjustableLink: {"body.tube": ("7/8 in x 0.065 in", "1 in x 0.065 in", "1 in x 0.083 in")},
    FootControlBracket: {
        "plate.windows": ("none", "all", "clear of the load path"),
        "hand": ("left", "right"),
    },
    Gusset: {
        "angle": ("50 deg", "62 deg", "75 deg", "90 deg"),
        "tube_a": ("1-1/4 in x 0.065 in", "1-1/8 in x 0.065 in"),
    },
    TorsionArm: {},
    Turnbuckle: {"body.across_flats": ("17 mm", "19 mm", "22 mm")},
}
FORCES: Mapping[type[Part], tuple[str, tuple[tuple[float, float], ...]]] = {
    Clevis: ("pin", ((-5e3, 5e3), (-400.0, 400.0), (-250.0, 250.0))),
    AdjustableLink: ("end b", ((-4e3, 4e3), (0.0, 0.0), (0.0, 0.0))),
    FootControlBracket: ("peg", ((-500.0, 500.0), (-2e3, -1e3), (-300.0, 300.0))),
    Gusset: ("tube b", ((-1.5e3, 1.5e3), (-800.0, 800.0), (0.0, 0.0))),
    TorsionArm: ("end", ((-800.0, 800.0), (2e3, 5e3), (-300.0, 300.0))),
    Turnbuckle: ("end b", ((-3e3, 3e3), (0.0, 0.0), (0.0, 0.0))),
}
"""Where a force acts, and from where to where its components are drawn [N]."""
PIN_TO_PIN: Mapping[type[Part], tuple[float, float]] = {
    AdjustableLink: (280.0, 380.0),
    Turnbuckle: (132.0, 170.0),
}
FAMILIES = tuple(LENGTHS)
TRIES = 400


def parts(family: type[Part], count: int) -> list[Part]:
    """So many valid parts of a family, named by their number.

    Raises:
        RuntimeError: too few of those drawn meet the rules; the ranges must be drawn closer.
    """
    random = np.random.default_rng(FAMILIES.index(family))
    found: list[Part] = []
    for _ in range(TRIES):
        if len(found) == count:
            return found
        data = _drawn(family, random)
        try:
            found.append(family.model_validate({**data, "name": f"R-{len(found):02d}"}))
        except ValidationError:
            continue
    raise RuntimeError(f"only {len(found)} of {TRIES} parts drawn of {family.__name__} are valid")


def _drawn(family: type[Part], random: np.random.Generator) -> dict[str, Any]:
    data = copy.deepcopy(dict(family.example))
    for path, ends in LENGTHS[family].items():
        _put(data, path, f"{random.uniform(*ends):.1f} mm")
    for path, values in CHOICES[family].items():
        _put(data, path, values[int(random.integers(len(values)))])
    if family in PIN_TO_PIN:
        nominal = random.uniform(*PIN_TO_PIN[family])
        rows = zip(("minimum", "nominal", "maximum"), (-4.0, 0.0, 4.0), strict=True)
        data["pin_to_pin"] = {name: f"{nominal + off:.1f} mm" for name, off in rows}
    at, ends = FORCES[family]
    force = [f"{random.uniform(*one):.0f} N" for one in ends]
    data["loads"] = [{"name": "drawn at random", "forces": [{"at": at, "force": force}]}]
    return data


def _put(data: dict[str, Any], path: str, value: str) -> None:
    *groups, last = path.split(".")
    owner: Any = data
    for name in groups:
        owner = owner[int(name) if name.isdigit() else name]
    owner[int(last) if last.isdigit() else last] = value


def outside(proofs: Iterator[Any], say: Callable[[str], None] = lambda _: None) -> list[str]:
    """What of the proofs failed, or promises more by hand than the elements give, a line each."""
    found = []
    for proof in proofs:
        say(f"{proof.part}: {proof.seconds:.0f} s")
        found += [f"not proved: {text}" for text in proof.failed]
        for piece, case, one in proof.disagreements():
            if not one.unsafe:
                continue
            found.append(
                f"{proof.part} {piece.piece} at {case.span}: {one.what}: {one.ratio:.2f}, band {one.low} to {one.high}"
            )
    return found
