"""Small builds in a folder of their own: a clevis at each of a few hardpoints."""

import re
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from textwrap import dedent
from typing import Any
from unittest import mock

import pytest

from parts.core.part import Part
from parts.inputs.problems import InputError, Problem
from parts.vehicle.build import Build
from parts.vehicle.file.loading import build_of

CLEVIS = """
family: clevis
name: {name}
build: build.yaml
material: Ti-6Al-4V annealed
edge_break: 0
outputs: [step]
ears:
  thickness: 6 mm
  width: 23 mm
  edge: 14 mm
  depth: 24 mm
  corner: 3 mm
  floor_thickness: 8 mm
  throat: {{type: blade, thickness: 8 mm, clearance: 0.2 mm, end: 12 mm}}
  pin: {{diameter: 8 mm, material: 4130 Q&T 150 ksi, hole: {{type: reamed, fit: H7}}}}
shank:
  type: male thread
  thread: 7/16-20 UNF
  length: {length}
  engagement: 16 mm
  mate: 4130 normalized
  neck: {{diameter: 15 mm, length: 11 mm, flats: 13 mm}}
"""

BUILD = """
build: small
units: mm
hardpoints:
  one: {at: [0, 0, 0], within: 1}
  two: {at: [30, 0, 0], within: 2}
  three: {at: [0, 0, 100]}
  four: {from: three, offset: [0, 0, 32], within: 0.5}
  aside: {at: [0, 200, 0]}
parts:
  - file: a.yaml
    place: {origin: one, x: forward, z: up}
  - file: b.yaml
    place: {origin: three, x: [three, four], z: forward}
"""
REAR = """
  pivot: {at: [0, 0, 437]}
  axle: {at: [-486, 0, 320]}
  pick up: {at: [-258, -64, 386]}
  bar: {at: [-80, -64, 278]}
  arm end: {at: [-262, -64, 251]}
  machine: {at: [184, 0, 520]}
  rider: {at: [-40, 0, 980]}
vehicle: {machine_mass: 120 kg, machine_centre: machine, rider_mass: 85 kg, rider_centre: rider,
  wheelbase: 1340, rear_axle: axle, tyre_radius: 320, rear_unsprung: 16 kg}
rear_end:
  pivot: pivot
  axle: axle
  pick_up: pick up
  arm_end: arm end
  bar_line: bar
  travel: 110
  bar: {diameter: 18.5, length: 420, material: 51CrV4 spring +QT}
  preload: 3.4 deg
  turnbuckle: {shortest: 124, longest: 145, per_turn: 3}
not_modelled: {swing arm: bought, wheel: bought, link: bought, arm: bought, pivot: frame, bar: frame}
parts:"""
DEMO = Path(__file__).parents[2] / "params" / "build.yaml"
DISTANCES = {"a.yaml": "{distance: [one, two]}", "b.yaml": "{distance: [three, four]}"}


def write(folder: Path, build: str = BUILD, lengths: dict[str, str] = DISTANCES) -> Path:
    """Write a build and a clevis for each length; the name of a part is that of its file."""
    (folder / "build.yaml").write_text(dedent(build))
    for file, length in lengths.items():
        name = file.removesuffix(".yaml").upper()
        (folder / file).write_text(CLEVIS.format(name=name, length=length))
    return folder / "build.yaml"


def copied(folder: Path, *changes: tuple[str, str]) -> Path:
    """The demo build in a folder, texts of its file replaced."""
    for file in DEMO.parent.glob("*.yaml"):
        (folder / file.name).write_text(file.read_text())
    for old, new in changes:
        moved(folder / "build.yaml", old, new)
    return folder / "build.yaml"


def begun(folder: Path, name: str, starter: str, *changes: tuple[str, str]) -> Path:
    """A build that `new build` begins with, texts of it replaced, beside the clevis that it takes."""
    text = f"build: {name}\nunits: mm\n{starter}"
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    (folder / "build.yaml").write_text(text)
    (folder / "first.yaml").write_text(CLEVIS.format(name="first", length="30 mm"))
    return folder / "build.yaml"


@cache
def checked() -> dict[str, Any]:
    """What the checks of every part of the demo say, worked once."""
    build = build_of(DEMO)
    return {name: build.part(name).check() for name in build.names}


@contextmanager
def parts_as_checked() -> Iterator[None]:
    """The command takes what the parts of the demo say as it stands: the own checks of the build are looked at, and no
    part is checked anew, nor is sought what would mend it."""
    known, anew = checked(), Part.check
    with mock.patch.object(Part, "check", lambda part: known.get(part.name) or anew(part)):
        yield


def exact(path: Path) -> Path:
    """The same build measured without a fault, its link as drawn and not to be turned."""
    text, count = re.subn(r", within: [\d.]+", "", path.read_text())
    text, links = re.subn(r"  turnbuckle:\n(    .*\n)+", "", text)
    assert count > 20 and links == 1
    path.write_text(text)
    return path


def moved(path: Path, old: str, new: str) -> Path:
    """Replace a text of the build, which must be there."""
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new, 1))
    return path


def with_rear_end(*changes: tuple[str, str]) -> str:
    """The build with a rear end, texts of it replaced."""
    text = BUILD.replace("\nparts:", REAR, 1)
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    return text


def refused(path: Path) -> list[Problem]:
    """What is wrong with a build, asked for everything that it has."""
    with pytest.raises(InputError) as caught:
        build = Build(path)
        for name in build.names:
            build.part(name)
        _ = build.ends, build.rear
    return caught.value.problems
