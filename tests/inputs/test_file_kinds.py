"""A file given where another belongs: one message that says what it is and what reads it."""

import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner

import parts
from parts.cli.commands import app
from parts.inputs.csv_file import csv_lines
from parts.inputs.problems import InputError
from parts.proof.gauges import judged, kept
from parts.study.made.as_made import as_made
from parts.vehicle.survey.survey import survey_of

PARAMS = Path("params")
PART, BUILD = PARAMS / "hc-104-foot-bracket-left.yaml", PARAMS / "build.yaml"
READINGS = PARAMS / "readings" / "rear-end.yaml"
RECORD = PARAMS / "made" / "HC-104-A.yaml"
TEST, PULLED = (PARAMS / "made" / f"HC-104-A-proof-load.{one}" for one in ("json", "csv"))
READ_BY = {
    PART: f"oneoff check {PART}",
    BUILD: f"oneoff check {BUILD}",
    READINGS: f"oneoff readings {READINGS}",
    RECORD: f"oneoff as-made {PART} {RECORD}",
    TEST: f"oneoff proof-load {PART} --test {TEST}",
    PULLED: f"--readings {PULLED}",
}


def refused(read, file):
    with pytest.raises(InputError) as caught:
        read(file)
    assert len(caught.value.problems) == 1
    said = str(caught.value)
    assert said.startswith(str(file))
    assert "family` is missing" not in said
    return said


@pytest.mark.parametrize("given", READ_BY, ids=lambda one: one.name)
def test_what_is_no_part_build_record_or_survey_says_what_reads_it(given):
    readers = {
        PART: parts.load,
        BUILD: parts.load_build,
        RECORD: lambda one: as_made(PART, one),
        READINGS: lambda one: survey_of(one.read_bytes(), str(one)),
        PULLED: lambda one: judged(kept(TEST), one),
    }
    for own, read in readers.items():
        if own == given or (own, given) == (RECORD, PULLED):
            continue
        assert READ_BY[given] in refused(read, given)


def test_readings_of_a_proof_load_are_no_sizes():
    assert "the table of a proof load's readings, not" in refused(
        lambda one: as_made(PART, one), PULLED
    )


def test_drawings_and_words_are_no_yaml(tmp_path):
    for name, says in {
        "engine.step": "its holes are listed by `oneoff readings",
        "engine.dxf": "this is a drawing",
        "list.csv": "this is a table, no YAML",
        "words.yaml": "begin with `family:` and `name:`",
    }.items():
        file = tmp_path / name
        file.write_text("some words\n")
        assert says in refused(parts.load, file)
    survey = tmp_path / "words.yaml"
    assert "begin with `survey:`" in refused(
        lambda one: survey_of(one.read_bytes(), str(one)), survey
    )


@pytest.mark.parametrize(
    "words",
    [
        ["as-made", RECORD], ["proof-load", BUILD], ["proof-load", RECORD], ["sure", READINGS], ["make", RECORD],
        ["check", RECORD], ["open", RECORD], ["size", RECORD, "--free", "plate.web"],
        ["sweep", BUILD, "--free", "plate.web=5 mm, 6 mm"],
    ],
    ids=lambda words: f"{words[0]} {words[1].stem}",
)  # fmt: skip
def test_every_command_says_it(words):
    done = CliRunner().invoke(app, [str(one) for one in words])
    assert isinstance(done.exception, InputError)
    assert READ_BY[words[1]] in str(done.exception)


def test_a_slip_writes_over_no_part(tmp_path):
    """A picture named as the part's file, and a blank named as a record that is filled in."""
    part, readings = tmp_path / "part.yaml", tmp_path / "readings.yaml"
    shutil.copy(PARAMS / "hc-101-seat-strut-clevis.yaml", part)
    shutil.copy(READINGS, readings)
    before = part.read_bytes()
    run = CliRunner().invoke
    for words in (
        ["readings", readings, "--picture", part],
        ["readings", readings, "--page", part],
    ):
        assert "name a file that ends in" in str(run(app, [str(one) for one in words]).exception)
    done = run(app, ["as-made", str(PART), "--blank", str(part)])
    assert "it is there already" in str(done.exception)
    assert part.read_bytes() == before


@pytest.mark.parametrize("between", [",", ";", "\t"], ids=["comma", "semicolon", "tab"])
@pytest.mark.parametrize("ends", ["\n", "\r\n"], ids=["one", "two"])
def test_a_spreadsheet_may_write_it_its_way(tmp_path, between, ends):
    file = tmp_path / "table.csv"
    number = '"1.5 mm"' if between == "," else "1,5 mm"
    rows = [
        between.join(one)
        for one in (["name", "size"], ["bolt, long" if between != "," else "bolt", number])
    ]
    file.write_bytes(("\ufeff" + ends.join(rows) + ends * 3).encode())
    heads, row = csv_lines(file)
    assert (heads, row[1]) == (["name", "size"], "1.5 mm")


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "the table is empty"),
        (b"\r\n\r\n", "the table is empty"),
        (b"dimension,measured\nears.width,22,95\n", ":2:1: this line has 3 cells, where the first has 2; "),
        ("no,name\n1,Ø8\n".encode("cp1252"), ":2:1: this is no CSV file in UTF-8 (byte 0xd8); save it as CSV in UTF-8"),
        ("no,name\n".encode("utf-16"), "in UTF-16; save it as CSV in UTF-8"),
        (b'size\n"1/2\n', "a quotation mark is opened and never closed; .*inches as `in`"),
    ],
    ids=["empty", "blank lines", "decimal comma", "of another alphabet", "wide", "inch mark"],
)  # fmt: skip
def test_a_spoilt_table_is_one_message(tmp_path, content, says):
    file = tmp_path / "table.csv"
    file.write_bytes(content)
    with pytest.raises(InputError, match=says.replace("(", r"\(").replace(")", r"\)")) as caught:
        csv_lines(file)
    assert len(caught.value.problems) == 1
    assert file.read_bytes() == content
