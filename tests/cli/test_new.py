"""Every option of every family starts from a valid file; parts are numbered as their folder is."""

import pytest
import yaml
from typer.testing import CliRunner

import parts
from parts.cli.commands import app
from parts.families import families
from parts.inputs.problems import InputError
from parts.inputs.reading import read_text
from parts.report.starter import options, starter

LONG = (
    "foot-control bracket",
    "adjustable link",
    "bent tube",
    "gusset plate",
    "foot lever",
    "mount plate",
    "torsion-bar arm",
)


@pytest.mark.parametrize(
    "name",
    [pytest.param(one, marks=[pytest.mark.slow] if one in LONG else []) for one in families()],
)
def test_every_option_starts_from_a_file_that_holds(name):
    family = families()[name]
    for option in options(family):
        part = read_text(starter(family, [option]), families(), option)
        governing = part.check().governing
        assert governing is None or governing.ok, f"{name} {option}: {governing.name}"


def test_options_are_those_of_the_families():
    found = {(name, one) for name, family in families().items() for one in options(family)}
    assert found >= {("clevis", "shank=spigot"), ("torsion-bar arm", "hub.bore=hex")}
    assert len(found) > 90


def new(*words):
    return CliRunner().invoke(app, ["new", *words])


def test_options_and_values_come_together(tmp_path):
    file = tmp_path / "strut.yaml"
    run = new("clevis", "--with", "shank=spigot", "--with", "throat.rod_end=5/16-24 male",
              "--with", "ears.pin.diameter=5/16 in", "--out", str(file))  # fmt: skip
    assert run.exit_code == 0, run.exception
    part = parts.load(file)
    assert part.shank.type == "spigot"
    assert part.ears.throat.rod_end.designation.startswith("5/16-24 male")
    assert "# " in file.read_text()


@pytest.mark.parametrize(
    ("family", "chosen", "gone"),
    [
        ("clevis", "ears.pin.bolt=AN6", "diameter"),
        ("clevis", "ears.pin.clevis_pin=ISO 2341 B 10", "material"),
        ("foot-control bracket", "peg.bolt=M12 10.9", "thread"),
    ],
)
def test_what_a_row_gives_goes_once_it_is_named(family, chosen, gone, tmp_path):
    more = ["--with", "throat.rod_end=M10 male"] if "ISO" in chosen else []
    run = new(family, "--with", chosen, *more, "--out", str(tmp_path / "a.yaml"))
    assert run.exit_code == 0, run.exception
    data = yaml.safe_load((tmp_path / "a.yaml").read_text())
    *around, last = chosen.partition("=")[0].split(".")
    for step in around:
        data = data[step]
    assert last in data and gone not in data


@pytest.mark.parametrize(
    ("chosen", "said"),
    [
        ("shank=spigott", "they are male thread, female thread, spigot, pad, foot"),
        ("ears.widht=20", "nearest is `ears.width`"),
        ("shank", "write it as in `shank=spigot`"),
        ("ears.width=2 mm", "ears.width: "),
        ("loads[0].name=push", "the first is [1]"),
    ],
)
def test_a_wrong_choice_is_one_message_and_no_file(tmp_path, chosen, said):
    run = new("clevis", "--with", chosen, "--out", str(tmp_path / "a.yaml"))
    assert isinstance(run.exception, InputError) and said in str(run.exception)
    assert not list(tmp_path.iterdir())


def test_a_part_is_numbered_after_those_of_its_folder(tmp_path):
    for name in ("KX-007", "KX-019", "other"):
        (tmp_path / f"{name}.yaml").write_text(f"family: clevis\nname: {name}   # so\n")
    assert new("clevis", "--out", str(tmp_path / "a.yaml")).exit_code == 0
    assert yaml.safe_load((tmp_path / "a.yaml").read_text())["name"] == "KX-020"
    empty = tmp_path / "empty" / "fork.yaml"
    empty.parent.mkdir()
    assert new("clevis", "--out", str(empty)).exit_code == 0
    assert yaml.safe_load(empty.read_text())["name"] == "fork"
