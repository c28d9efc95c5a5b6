"""What is told to make a part hold does, and the size before it does not."""

import pytest
from typer.testing import CliRunner
from variants_of import written

import parts
from parts.cli.commands import app
from parts.study.remedy import remedies

THIN = {
    "thickness": "6 mm", "width": "24 mm", "depth": "22 mm", "floor_thickness": "8 mm",
    "throat": {"type": "blade", "thickness": "12 mm", "end": "14 mm"},
    "pin": {"bolt": "NAS6304"},
}  # fmt: skip
PULL = [{"name": "pull", "forces": [{"at": "pin", "force": {"x": "10 kN"}}]}]


@pytest.fixture(scope="module")
def file(tmp_path_factory):
    folder = tmp_path_factory.mktemp("thin")
    return written(folder, ears=THIN, loads=PULL, material="4130 normalized", form="bar")


@pytest.fixture(scope="module")
def found(file):
    return remedies(parts.load(file).check())


def test_the_next_bolt_that_holds_is_told(file, found):
    assert found and len(found) <= 3
    assert [one.mass for one in found] == sorted(one.mass for one in found)
    [bolt] = [one for one in found if one.path == "ears.pin.bolt"]
    assert bolt.was == "NAS6304" and bolt.text > "NAS6304"
    # Written into the file it holds; the size before it does not.
    for number, holds in ((int(bolt.text[-2:]), True), (int(bolt.text[-2:]) - 1, False)):
        text = file.read_text().replace("NAS6304", f"NAS63{number:02d}")
        again = file.with_name(f"{number}.yaml")
        again.write_text(text)
        assert parts.load(again).check().ok is holds


def test_what_holds_is_told_nothing(file):
    strong = parts.load(file).changed({"loads": []})
    assert remedies(strong.check()) == ()


def test_the_command_tells_it_below_the_verdict(file):
    run = CliRunner().invoke(app, ["check", str(file)])
    assert run.exit_code == 1
    assert "Any one of these would hold, the smallest first:" in run.output
    assert "- ears.pin.bolt: NAS63" in run.output and "(is NAS6304)" in run.output
