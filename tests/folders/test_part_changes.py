"""What moved in one part: against its last make, a revision of git, and another file."""

import json
import shutil
import subprocess
from pathlib import Path
from xml.etree import ElementTree

import pytest
import yaml
from typer.testing import CliRunner

from parts.cli.commands import app
from parts.families import families

PARAMS = Path(__file__).parents[2] / "params"


def changes(*words):
    return CliRunner().invoke(app, ["changes", *map(str, words)])


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A part that was made and committed, and then moved."""
    own = tmp_path_factory.mktemp("moved")
    data = {**families()["clevis"].example, "outputs": ["report"], "edge_break": 0}
    (own / "part.yaml").write_text(yaml.safe_dump(data, sort_keys=False))
    run = CliRunner().invoke(app, ["make", str(own / "part.yaml"), "--out", str(own / "out")])
    assert run.exit_code == 0, run.output
    git = ["git", "-C", str(own), "-c", "user.name=a", "-c", "user.email=a@b"]
    subprocess.run([*git, "init", "-q"], check=True)
    subprocess.run([*git, "add", "part.yaml"], check=True)
    subprocess.run([*git, "commit", "-qm", "first"], check=True)
    shutil.copy(own / "part.yaml", own / "first.yaml")
    data["ears"] = {**data["ears"], "thickness": "7 mm"}
    (own / "part.yaml").write_text(yaml.safe_dump(data, sort_keys=False))
    return own


@pytest.mark.parametrize("against", ["", "HEAD", "first.yaml"])
def test_dimensions_mass_checks_and_outline_are_told(folder, against):
    how = (
        ["--against", folder / against if against.endswith("yaml") else against] if against else []
    )
    run = changes(folder / "part.yaml", *how, "--out", folder / "out", "--json")
    assert run.exit_code == 0, run.output
    rows = {one["what"]: (one["before"], one["after"]) for one in json.loads(run.output)["changes"]}
    assert rows["ears.thickness"] == ("6 mm", "7 mm")
    before, after = (float(one.split()[0]) for one in rows["mass"])
    assert after > before
    assert any(what.startswith("check, ear") for what in rows)
    assert "ears.width" not in rows and "check, shank thread strip, male" not in rows
    drawn = ElementTree.parse(folder / "out" / "HC-100-changes.svg")
    paths = [one for one in drawn.iter() if one.tag.endswith("path")]
    assert [bool(one.get("stroke-dasharray")) for one in paths] == [True, False] * 2
    assert paths[0].get("d") == paths[1].get("d")  # ears grow along z alone
    assert paths[2].get("d") != paths[3].get("d")


def test_nothing_moved_and_never_made_are_said(folder, tmp_path):
    same = changes(folder / "first.yaml", "--against", folder / "first.yaml", "--out", tmp_path)
    assert same.output == "Nothing moved.\n" and not list(tmp_path.iterdir())
    never = changes(folder / "part.yaml", "--out", tmp_path)
    assert "make it first, or name a revision or another file" in str(never.exception)


def test_a_part_of_a_build_is_compared_with_what_its_build_gives_it(tmp_path):
    own = tmp_path / "params"
    shutil.copytree(PARAMS, own)
    file = own / "hc-101-seat-strut-clevis.yaml"
    twin = own / "other.yaml"
    text = file.read_text()
    twin.write_text(text)
    file.write_text(text.replace("depth: 24 mm", "depth: 26 mm"))
    run = changes(file, "--against", PARAMS / file.name, "--out", tmp_path)
    assert run.exit_code == 0, run.exception
    assert "ears.depth: 24 mm -> 26 mm" in run.output and "mass: " in run.output
