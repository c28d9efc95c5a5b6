"""`oneoff new build`, `list build` and `schema build`."""

import json
import re

import pytest
from builds import moved
from command import oneoff

from parts.vehicle.build import Build
from parts.vehicle.file.forms import _FORMS


@pytest.mark.parametrize(
    ("kind", "part", "case"),
    [
        ("plain links", "clevis", "seat landing"),
        ("torsion bar", "clevis", "squat"),
        ("sidecar", "clevis", "turning left"),
        ("car corner", "clevis", "braking at 1.2 g"),
        ("brackets", "foot-control bracket", "standing on one peg at landing"),
    ],
)
def test_a_new_build_with_a_new_part_is_checked_at_once(tmp_path, kind, part, case):
    for what, file in (((part,), "first.yaml"), (("build", kind), "build.yaml")):
        assert oneoff("new", *what, "--out", tmp_path / file).returncode == 0
    run = oneoff("check", tmp_path / "build.yaml")
    assert run.returncode == 0, run.stdout + run.stderr
    build = Build(tmp_path / "build.yaml")
    assert any(case in one.name or case in one.note for one in build.cases)


def test_the_build_of_the_readme_grows_to_three_parts(tmp_path):
    new = {"build": "build", "first": "clevis", "lower": "clevis", "strut": "adjustable link"}
    for file, what in new.items():
        assert oneoff("new", what, "--out", tmp_path / f"{file}.yaml").returncode == 0
    distance = "{distance: [strut foot, seat mount]}"
    for file, changes in {
        "strut": (
            ("family:", "build: build.yaml\nfamily:"),
            ("minimum: 314 mm", f"minimum: {{less: [{distance}, 6 mm]}}"),
            ("nominal: 320 mm", f"nominal: {distance}"),
            ("maximum: 328 mm", f"maximum: {{sum: [{distance}, 6 mm]}}"),
        ),
        "lower": (("family:", "build: build.yaml\nfamily:"),),
        "build": (
            ("  seat strut: bought\n", ""),
            ("  strut foot: tab on the frame\n", ""),
            ("parts:\n", "parts:\n"
             "  - {file: strut.yaml, body: seat strut, sides: both, points: {end a: strut foot, end b: seat mount},\n"
             "     place: {origin: [strut foot, seat mount], x: [strut foot, seat mount], z: forward}}\n"
             "  - {file: lower.yaml, sides: both, points: {pin: strut foot},\n"
             "     place: {origin: strut foot, x: [strut foot, seat mount], z: forward}}\n"),
        ),
    }.items():  # fmt: skip
        for old, put in changes:
            moved(tmp_path / f"{file}.yaml", old, put)
    run = oneoff("check", tmp_path / "build.yaml")
    assert run.returncode == 1 and "own load borne by lower" in " ".join(run.stdout.split())
    for file in ("first", "strut", "lower"):
        path = tmp_path / f"{file}.yaml"
        path.write_text(re.sub(r"(?m)^loads:.*\n(?:[ #-].*\n)*", "", path.read_text()))
        assert "\nloads:" not in path.read_text()
    run = oneoff("check", tmp_path / "build.yaml")
    assert run.returncode == 0, run.stdout + run.stderr
    build = Build(tmp_path / "build.yaml")
    assert all(
        any(one.name == "seat landing" for one in build.part(name).loads) for name in build.names
    )


def test_the_list_of_a_build_names_every_key_and_every_form_with_an_example():
    said = oneoff("list", "build").stdout
    for key in (
        "hardpoints.NAME.within",
        "rear_end.bumps.ratio",
        "cases[].name",
        "cases[] (landing).height",
        "not_modelled",
    ):
        assert f"{key}: " in said
    assert all(f"{{{form}: " in said for form in _FORMS)
    words = " ".join(said.split())
    assert (
        "`rear_end:` swing arm, link, arm, bar; `vehicle:` wheel; `front_end:` fork, headstock corner"
        in words
    )
    assert max(map(len, said.splitlines())) <= 120


def test_the_schema_of_a_build_is_printed():
    assert "hardpoints" in json.loads(oneoff("schema", "build").stdout)["properties"]
