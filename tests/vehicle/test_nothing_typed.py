"""Nothing is typed in a part of the demo that its build knows: no number in its file is one that the build gives."""

from itertools import combinations

import numpy as np
import pytest
from builds import DEMO, copied

from parts.inputs.document import dotted
from parts.inputs.reading import units_of
from parts.inputs.units import ANGLE, FORCE, LENGTH, BadQuantity, read_number
from parts.vehicle.build import Build
from parts.vehicle.file.forms import forms_in, is_form
from parts.vehicle.file.loading import build_of
from parts.vehicle.file.placing import names_of
from parts.vehicle.rear_end.taken import values_of

LEAST = 15.0
"""Lengths [mm] and angles [deg] below which two numbers are alike by chance."""
NEAR = 0.06
"""Distance of a number that was read off a rounded one [mm], [deg]."""

BY_CHANCE = {
    "HC-105 mounts[1].boss.diameter": "a diameter, no place",
    "HC-105 peg.shoulder": "a diameter, no place",
    "HC-105 peg.boss.diameter": "a diameter, no place",
    "HC-105 pedal.boss.diameter": "a diameter, no place",
    "HC-105 master_cylinder.pitch": "the cylinder's own",
}


def numbers(node, path=()):
    """Every plain number of a file with its path; what is a form is passed over."""
    data = node.data
    if is_form(data):
        return
    if isinstance(data, dict):
        for key in data:
            yield from numbers(node.children[key], (*path, key))
    elif isinstance(data, list):
        for i in range(len(data)):
            yield from numbers(node.children[i], (*path, i))
    elif data is not None and not isinstance(data, bool):
        yield path, data


def sizes(build, name):
    """What the build knows of the lengths [mm] and angles [deg] of a part, by words for it."""
    entry, frame = build.entries[name], build.frame(name)
    named = list(
        dict.fromkeys([*names_of(entry.place), *entry.points.values(), *entry.carries.values()])
    )
    for at in named:
        for axis, value in zip("xyz", frame.into(build.points[at]), strict=True):
            yield f"{at}, {axis} of the part", abs(float(value)), "mm"
    for a, b in combinations(named, 2):
        way = build.points[b] - build.points[a]
        yield f"{a} to {b}", float(np.linalg.norm(way)), "mm"
        for axis, value in zip("xyz", way, strict=True):
            yield f"{a} to {b}, along {axis}", abs(float(value)), "mm"
    lines = [build.points[b] - build.points[a] for a, b in combinations(named, 2)]
    lines = [line / np.linalg.norm(line) for line in lines if np.linalg.norm(line) > 1.0]
    for one, other in combinations(lines, 2):
        angle = float(np.degrees(np.arccos(np.clip(one @ other, -1.0, 1.0))))
        yield "an angle between its points", angle, "deg"
        yield "an angle between its points", 180.0 - angle, "deg"
    for what, (value, kind) in values_of(build.rear).items():
        if kind is LENGTH or kind is ANGLE:
            yield (
                f"rear end, {what}",
                abs(float(np.degrees(value) if kind is ANGLE else value)),
                ("deg" if kind is ANGLE else "mm"),
            )


def read(text, kind, units):
    try:
        return float(read_number(text, kind, units))
    except BadQuantity:
        return None


def test_no_length_and_no_angle_of_a_part_is_one_that_its_build_knows():
    build, told = build_of(DEMO), []
    for name in build.names:
        document = build.written(name)
        units = units_of(document)
        known = [one for one in sizes(build, name) if one[1] > LEAST]
        for path, text in numbers(document.root):
            for kind, unit in ((LENGTH, "mm"), (ANGLE, "deg")):
                value = read(text, kind, units)
                if value is None:
                    continue
                value = abs(np.degrees(value) if kind is ANGLE else value)
                for words, size, of in known:
                    if of == unit and value > LEAST and abs(value - size) < NEAR:
                        told.append(f"{name} {dotted(path)}: {text} is {words}, {size:.3f} {unit}")
    strange = [one for one in told if one.partition(":")[0] not in BY_CHANCE]
    assert not strange, "\n".join(strange)
    assert {one.partition(":")[0] for one in told} == {*BY_CHANCE}


def test_no_load_of_a_part_is_one_that_its_build_gives():
    build, told = build_of(DEMO), []
    for name in build.names:
        document, given = build.written(name), []
        for case in build.loads(name):
            for one in case["forces"]:
                given += [abs(float(value.split()[0])) for value in one["force"]]
        for path, text in numbers(document.root):
            value = read(text, FORCE, units_of(document))
            if (
                value
                and any(abs(value - one) < 0.01 * one for one in given if one > 50.0)
                and "loads" in path
            ):
                told.append(f"{name} {dotted(path)}: {text}")
    assert not told, "\n".join(told)


def test_no_load_of_a_part_has_the_direction_of_a_line_that_its_build_knows():
    build, told = build_of(DEMO), []
    for name in build.names:
        frame, part = build.frame(name), build.part(name)
        given = {one["name"] for one in build.loads(name)}
        data = build.written(name).data.get("loads", [])
        formed = {one["name"] for one in data if any(True for _ in forms_in(one))}
        ways = [
            frame.turned_into(far - build.points[at])
            for at in build.entries[name].points.values()
            for far in build.points.values()
            if np.linalg.norm(far - build.points[at]) > 1.0
        ]
        for case in part.loads:
            for load in case.forces if case.name not in {*given, *formed} else ():
                force = np.asarray(load.force)
                if np.count_nonzero(np.abs(force) > 1e-6) < 2:
                    continue  # along an axis of the part, and that follows
                for way in ways:
                    turn = np.linalg.norm(np.cross(force, way)) / np.linalg.norm(force)
                    if turn < np.sin(np.radians(0.5)) * np.linalg.norm(way):
                        told.append(f"{name}, {case.name}, {load.at}: {load.force} is along a line")
    assert not told, "\n".join(told)


def test_lengths_loads_and_joints_of_parts_follow_the_build(tmp_path):
    """The seat gusset's stay goes down, the pedal's post and the ride-height link move, a plate gets thicker."""
    path = copied(
        tmp_path,
        ("offset: [-104.9294, 0, 3.85]", "offset: [-104.8, 0, -12]"),
        ("pedal stop: {from: pedal pivot, offset: [43.1,", "pedal stop: {from: pedal pivot, offset: [43.6,"),
        ("link on swing arm: {at: [-258,", "link on swing arm: {at: [-250,"),
    )  # fmt: skip
    file = path.parent / "hc-104-foot-bracket-left.yaml"
    file.write_text(file.read_text().replace("thickness: 24  ", "thickness: 25  "))
    before, build = build_of(DEMO), Build(path)
    gusset = build.part("HC-109")
    assert gusset.plate.at_b == pytest.approx(np.hypot(104.8, 12.0))
    (down,) = [one for one in gusset.loads if one.name == "rider comes down on the seat"]
    (brace,) = [np.asarray(one.force) for one in down.forces if one.at == "tube b"]
    frame = build.frame("HC-109")
    way = build.points["seat gusset on upright"] - build.points["seat gusset on stay"]
    assert brace == pytest.approx(frame.turned_into(1690.0 * way / np.linalg.norm(way)), abs=1e-3)
    # The post went half a millimetre forward; the lever lies 5 degrees up from there.
    moved = build.part("HC-113").stop.radius - before.part("HC-113").stop.radius
    assert moved == pytest.approx(0.5 * np.cos(np.arctan2(10.0, 115.0)), abs=0.01)
    (top,) = [one for one in build.part("HC-103").loads if one.name == "topping out"]
    link = build.points["link on arm"] - build.points["link on swing arm"]
    own = build.frame("HC-103").turned_into(1200.0 * link / np.linalg.norm(link))
    assert np.asarray(top.forces[0].force) == pytest.approx(own, abs=1e-3)
    assert build.part("HC-104").peg.height == before.part("HC-104").peg.height - 1.0
    assert build.part("HC-115").foot == before.part("HC-115").foot - 1.0


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        ("hc-105-foot-bracket-right.yaml", "at: {point: pedal pivot}", "at: [62, 8]"),
        ("hc-103-torsion-arm.yaml", "length: {of: rear end, value: arm length}", "length: 184 mm"),
    ],
)  # fmt: skip
def test_what_is_typed_again_is_found(tmp_path, monkeypatch, file, old, new):
    for one in DEMO.parent.rglob("*.yaml"):
        (tmp_path / one.relative_to(DEMO.parent)).parent.mkdir(exist_ok=True)
        (tmp_path / one.relative_to(DEMO.parent)).write_text(one.read_text())
    text = (tmp_path / file).read_text()
    assert old in text
    (tmp_path / file).write_text(text.replace(old, new))
    monkeypatch.setattr("test_nothing_typed.DEMO", tmp_path / "build.yaml")
    with pytest.raises(AssertionError, match="is "):
        test_no_length_and_no_angle_of_a_part_is_one_that_its_build_knows()


def test_a_direction_that_is_typed_again_is_found(tmp_path, monkeypatch):
    form = "{toward: [link on swing arm, link on arm], size: 1.2 kN}"
    path = copied(tmp_path)
    file = path.parent / "hc-103-torsion-arm.yaml"
    assert form in file.read_text()
    file.write_text(file.read_text().replace(form, "[0.2115 kN, -1.1812 kN, 0 N]"))
    monkeypatch.setattr("test_nothing_typed.DEMO", path)
    with pytest.raises(AssertionError, match="is along a line"):
        test_no_load_of_a_part_has_the_direction_of_a_line_that_its_build_knows()
