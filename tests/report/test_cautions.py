"""What is to be watched stands on every file that a builder takes away; names are those of standards."""

import ast
from pathlib import Path

import ezdxf
import pytest
from command import oneoff

from parts.core.cautions import CAUTIONS, IN_SHORT
from parts.families import families
from parts.making.flat.dxf import LAYERS
from parts.making.step import step_bytes
from parts.report.bill import csv_bytes
from parts.report.starter import starter
from parts.standards.designation import data_files, read_table
from parts.standards.fasteners.fasteners import washer

HERE = Path(__file__).parents[2] / "parts"
BEARS_IT = (
    "making/flat/files.py",
    "making/process/table.py",
    "making/print/files.py",
    "making/step.py",
    "report/bill.py",
    "report/sized.py",
    "report/swept.py",
    "report/starter.py",
    "report/proof/text.py",
    "report/proof/document.py",
    "cli/explain.py",
)
"""What lays out nests and blanks, process sheets, 3MF, STEP, bills, sizes, sweeps, new files, proofs and sheets."""


def flat(text):
    return " ".join(text.replace("#", " ").split())


@pytest.mark.parametrize("file", BEARS_IT)
def test_what_lays_out_a_file_uses_the_caution(file):
    """Imported and used: a name that is only imported would stand once."""
    tree = ast.parse((HERE / file).read_text())
    assert any(isinstance(one, ast.Name) and one.id == "IN_SHORT" for one in ast.walk(tree))


def test_a_new_file_says_that_its_loads_are_an_example():
    said = flat(starter(families()["clevis"]))
    assert "These loads are an example: find yours." in said and IN_SHORT in said


def test_an_explained_check_and_a_bill_carry_it(tmp_path):
    file = tmp_path / "part.yaml"
    file.write_text(starter(families()["clevis"]))
    run = oneoff("explain", file)
    assert run.returncode == 0 and IN_SHORT in flat(run.stdout)
    assert IN_SHORT in csv_bytes([]).decode()


def test_a_step_file_carries_it_in_its_header():
    part = families()["spacer"].model_validate(dict(families()["spacer"].example))
    header = step_bytes(part.name, part.pieces).split(b"ENDSEC")[0].decode()
    assert flat(header.replace("\n", "")).count("qualified person") == 1


def test_the_law_is_named():
    assert any("licensed engineer or inspector where the law asks" in one for one in CAUTIONS)


def test_no_layer_of_a_blank_is_red_or_blue():
    """Some drivers of lasers cut red through and follow blue: greys of the colour index, each of its own."""
    colours = [colour for colour, _ in LAYERS.values()]
    assert len({*colours}) == len(colours)
    for colour in colours:
        red, green, blue = ezdxf.colors.aci2rgb(colour)
        assert red == green == blue


@pytest.mark.parametrize(
    ("thread", "form", "named"),
    [
        ("M8", "flat", "ISO 7089 M8"),
        ("3/8-24", "aircraft", "AN960-616"),
        ("10-32", "aircraft", "AN960-10"),
    ],
)
def test_a_washer_goes_by_its_standard(thread, form, named):
    """AN960: dash 10 for No. 10, sixteenths and 16 from 1/4 in on; from memory."""
    assert washer(thread, form).designation == named


def test_sources_name_no_column_and_no_file():
    for table in data_files(HERE / "standards"):
        for row in read_table(table):
            for name in ("partial_from", ".csv", ".blt"):
                assert name not in row.get("source", ""), (table, row["source"])


def test_a_turnbuckle_is_understood_by_either_name(tmp_path):
    file = tmp_path / "part.yaml"
    text = starter(families()["rod-end turnbuckle"])
    file.write_text(text.replace("family: heim-joint turnbuckle", "family: rod-end turnbuckle"))
    assert "rod-end" in file.read_text()
    assert oneoff("check", file).returncode == 0
    assert oneoff("list", "rod-end turnbuckle").returncode == 0
