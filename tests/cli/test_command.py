"""The `oneoff` command as a builder uses it: on files, by exit status and output, now and then in its own process."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
import yaml
from command import oneoff
from demo import FILES

from parts.cli import straight
from parts.families import families
from parts.report.schemas import schema_files
from parts.report.starter import starter

SCHEMAS = Path(__file__).parents[2] / "parts" / "inputs" / "schemas"


def alone(*words, **options):
    """The command in a process of its own."""
    command = [sys.executable, "-m", "parts.cli.main", *map(str, words)]
    return subprocess.run(command, **{"capture_output": True} | options)


def said(folder):
    """The bytes of every file of a folder."""
    return {p.relative_to(folder): p.read_bytes() for p in folder.rglob("*") if p.is_file()}


@pytest.fixture
def clevis(tmp_path):
    """A small valid clevis as YAML text, and the file it stands in."""
    path = tmp_path / "part.yaml"
    path.write_text(starter(families()["clevis"]))
    return path


def test_check_prints_what_governs_first_within_100_columns(clevis):
    run = oneoff("check", clevis)
    assert run.returncode == 0, run.stderr
    lines = run.stdout.splitlines()
    assert re.match(r"holds: \d+ ways of failing checked, \d+ left out \(", lines[1])
    assert max(map(len, lines)) <= 100
    assert "never ridden" in run.stdout and len(lines) < 30
    whole = oneoff("check", clevis, "--all").stdout
    assert "Not covered" in whole and "Cautions" in whole and len(whole.splitlines()) > 60
    assert max(map(len, whole.splitlines())) <= 100


def test_a_check_that_falls_short_is_status_1(clevis):
    text = clevis.read_text()
    heavier = text.replace("x: 5 kN", "x: 500 kN")
    assert heavier != text
    clevis.write_text(heavier)
    run = oneoff("check", clevis)
    assert run.returncode == 1
    assert "does not hold: " in run.stdout


def test_wrong_input_is_status_2_and_says_everything_at_once(clevis, tmp_path):
    text = clevis.read_text()
    clevis.write_text(
        text.replace("thickness:", "thicknes:", 1).replace(
            "family: clevis", "family: clevis\nnmae: x"
        )
    )
    run = oneoff("make", clevis, "--out", tmp_path / "out")
    assert run.returncode == 2
    assert "nearest is `thickness`" in run.stderr and "nmae" in run.stderr
    assert all(
        re.match(rf"{re.escape(str(clevis))}:\d+:\d+: ", line) for line in run.stderr.splitlines()
    )
    assert "Traceback" not in run.stderr and not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    "name", ["../../evil", "/etc/evil", "a/b", "..", "CON", ""], ids=lambda n: n or "empty"
)
def test_no_name_leaves_the_output_folder(clevis, tmp_path, name):
    clevis.write_text(
        re.sub(r"^name: \S+", f"name: {json.dumps(name)}", clevis.read_text(), flags=re.M)
    )
    run = oneoff("make", clevis, "--out", tmp_path / "deep" / "out")
    assert run.returncode == 2
    assert "name" in run.stderr and not (tmp_path / "deep").exists()


@pytest.mark.slow
def test_two_runs_give_the_same_bytes_and_an_error_in_one_file_leaves_them(clevis, tmp_path):
    for seed in ("1", "2"):
        env = {**os.environ, "PYTHONHASHSEED": seed}
        assert alone("make", clevis, "--out", tmp_path / seed, env=env).returncode == 0
    before = said(tmp_path / "1")
    assert before == said(tmp_path / "2")
    assert {p.suffix for p in before} >= {".step", ".stl", ".json", ".txt"}
    bad = tmp_path / "bad.yaml"
    bad.write_text("family: clevis\nname: [")
    assert oneoff("make", clevis, bad, "--out", tmp_path / "1").returncode == 2
    assert said(tmp_path / "1") == before


def test_a_disk_that_refuses_is_status_3(clevis, tmp_path):
    (tmp_path / "out").write_text("a file where the folder should be")
    run = oneoff("make", clevis, "--out", tmp_path / "out")
    assert run.returncode == 3
    assert "the disk refused" in run.stderr and "Traceback" not in run.stderr


def test_two_files_may_not_make_one_part(clevis, tmp_path):
    twin = tmp_path / "twin.yaml"
    twin.write_text(clevis.read_text())
    run = oneoff("check", clevis, twin)
    assert run.returncode == 2 and "own name" in run.stderr


@pytest.mark.parametrize("family", sorted(families()))
def test_new_writes_a_commented_part_that_holds(family, tmp_path):
    path = tmp_path / "new.yaml"
    assert oneoff("new", family, "--out", path).returncode == 0
    assert path.read_text().count("#") > 10
    run = oneoff("check", path)
    assert run.returncode == 0, run.stdout + run.stderr
    assert oneoff("new", family, "--out", path).returncode == 2  # it exists: nothing is lost


@pytest.mark.parametrize("family", sorted(families()))
def test_list_shows_every_dimension_within_100_columns(family):
    run = oneoff("list", family)
    assert run.returncode == 0
    assert max(map(len, run.stdout.splitlines())) <= 100
    for name in families()[family].model_fields:
        assert name in run.stdout


def test_every_choice_is_named_where_one_is_made():
    assert "one of: spline, square, hex, clamp" in oneoff("new", "torsion-bar-arm").stdout
    assert "hub.bore (square, hex).across_flats" in oneoff("list", "torsion-bar-arm").stdout


def test_list_as_json_describes_every_dimension():
    document = json.loads(oneoff("list", "--json").stdout)
    for family in document["families"]:
        assert family["load_points"]
        assert all(d["what"] for d in family["dimensions"]), [
            d for d in family["dimensions"] if not d["what"]
        ]


def test_the_schemas_that_are_checked_in_are_those_of_the_models():
    assert {p.name: p.read_bytes() for p in SCHEMAS.glob("*.json")} == schema_files()


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.stem)
def test_the_schema_accepts_the_demo(path):
    content = path.read_text()
    named = re.match(r"# yaml-language-server: \$schema=(\S+)", content)
    assert named, "the first line names the schema for editors"
    schema = json.loads((path.parent / named[1]).read_text())
    jsonschema.Draft202012Validator(schema).validate(yaml.safe_load(content))


def test_explain_shows_steps_and_source(clevis):
    run = oneoff("explain", clevis)
    assert run.returncode == 0 and "formula" in run.stdout and "source" in run.stdout
    run = oneoff("explain", clevis, "no such check")
    assert run.returncode == 2 and "Its checks are:\n  critical section, yield\n" in run.stderr
    said = oneoff("explain", clevis, "ear pin").stdout
    assert re.search(
        r"(?m)^ +(with +)?\w+ \[\S+\] = [\d.]+: [a-z]", said
    )  # each symbol says what it is


@pytest.mark.parametrize("spoken", [pytest.param("ascii", marks=pytest.mark.slow), "cp1252"])
def test_reports_are_utf_8_whatever_the_surroundings_speak(clevis, spoken):
    env = {**os.environ, "PYTHONIOENCODING": spoken}
    run = alone("explain", clevis, env=env, encoding="utf-8")
    assert run.returncode == 0 and "σ" in run.stdout and not run.stderr


@pytest.mark.parametrize("words", [["lookup"], ["check"]])
def test_a_pipe_that_is_closed_early_changes_no_exit_status(clevis, words):
    read, written = os.pipe()
    os.close(read)
    files = [clevis] if words == ["check"] else []
    run = alone(*words, *files, capture_output=False, stdout=written, stderr=subprocess.PIPE)
    os.close(written)
    assert (run.returncode, run.stderr) == (0, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full disk here")
def test_a_report_that_the_disk_has_no_room_for_is_status_3():
    with open("/dev/full", "wb") as full:
        run = alone("lookup", "6202", capture_output=False, stdout=full, stderr=subprocess.PIPE)
    assert run.returncode == 3 and b"No space left" in run.stderr


def test_the_checks_of_a_build_are_explained_too():
    run = oneoff("explain", FILES[0].parent / "build.yaml", "let off")
    assert run.returncode == 0
    assert "formula    Δ = θ_most - θ_least" in run.stdout and "18.55 / 18.18" in run.stdout
    run = oneoff("explain", FILES[0].parent / "build.yaml", "no such")
    said = " ".join(run.stderr.split())
    assert (
        run.returncode == 2
        and "no check of the build hill climber itself is called `no such`" in said
    )


def test_no_name_of_a_file_is_a_fault(clevis, tmp_path):
    loop, strange = tmp_path / "loop.yaml", tmp_path / os.fsdecode(b"b\xff.yaml")
    loop.symlink_to(loop)
    run = oneoff("check", loop)
    assert run.returncode == 2 and "loop.yaml: it cannot be read" in run.stderr
    strange.write_text(clevis.read_text())
    run = oneoff("check", "--json", strange)
    assert run.returncode == 0 and json.loads(run.stdout)["parts"][0]["file"].endswith("b?.yaml")


def test_a_family_needs_no_quotes():
    spoken, plain = oneoff("new", "foot-control bracket"), oneoff("new", "Foot-Control-Bracket")
    assert spoken.returncode == plain.returncode == 0
    assert spoken.stdout == plain.stdout
    apart = oneoff("new", "foot-control", "bracket"), oneoff("list", "foot-control", "bracket")
    assert [run.returncode for run in apart] == [0, 0] and apart[0].stdout == plain.stdout
    assert apart[1].stdout == oneoff("list", "foot-control bracket").stdout
    wrong = oneoff("new", "gusset")
    assert wrong.returncode == 2
    assert "did you mean 'gusset-plate'?" in wrong.stderr


def test_a_hundred_unknown_keys_are_told_in_a_few_lines(tmp_path):
    path = tmp_path / "part.yaml"
    keys = "".join(f"zzz{i}: 1\n" for i in range(90))
    path.write_text("family: clevis\nname: HC-110\n" + keys)
    run = oneoff("check", path)
    assert run.returncode == 2 and len(run.stderr) < 3000
    assert "87 more keys are none here: lines 6, 7, 8" in run.stderr


def test_a_message_holds_nothing_that_a_terminal_obeys(tmp_path):
    run = oneoff("check", tmp_path / "a\x1b[31mb.yaml")
    assert run.returncode == 2 and run.stderr.rstrip("\n").isprintable()


@pytest.mark.parametrize(
    "words",
    [["lookup", "M8"], ["lookup", "--json", "6202"], ["lookup", "M7.3"], ["check", "{clevis}", "--json"]],
    ids=" ".join,
)  # fmt: skip
def test_names_and_flags_alone_are_done_as_with_options_read(words, clevis, monkeypatch):
    words = [word.format(clevis=clevis) for word in words]
    short = oneoff(*words)
    monkeypatch.setattr(straight, "FLAGS", {})
    assert oneoff(*words) == short


def test_other_options_are_read_as_such():
    for words in (
        [],
        ["check"],
        ["lookup", "M8", "--help"],
        ["check", "a.yaml", "--jsn"],
        ["list"],
    ):
        assert straight.said_straight(words) is None
