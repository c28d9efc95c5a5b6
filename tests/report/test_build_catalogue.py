"""`oneoff new build`, `list build` and `schema build`."""

import json

from command import oneoff

from parts.vehicle.file.forms import _FORMS


def test_a_new_build_with_a_new_part_is_checked_at_once(tmp_path):
    for what, file in (("clevis", "first.yaml"), ("build", "build.yaml")):
        assert oneoff("new", what, "--out", tmp_path / file).returncode == 0
    run = oneoff("check", tmp_path / "build.yaml")
    assert run.returncode == 0 and "seat landing" in run.stdout, run.stderr


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
    assert max(map(len, said.splitlines())) <= 120


def test_the_schema_of_a_build_is_printed():
    assert "hardpoints" in json.loads(oneoff("schema", "build").stdout)["properties"]
