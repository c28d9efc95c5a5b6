"""The hole gauge: its coupon, what is measured on it, and the printer's file."""

import numpy as np
import pytest
from numpy.testing import assert_allclose
from typer.testing import CliRunner

from parts.cli.commands import app
from parts.inputs.problems import InputError
from parts.making.print.gauge import (
    SIZES,
    THICK,
    GaugeError,
    coupon,
    gauge_text,
    measured,
    printer_text,
    store,
)
from parts.making.print.settings import read_printer


def test_the_coupon_has_every_hole_at_its_size():
    solid = coupon()
    assert solid.isValid() and len(solid.Solids()) == 1
    bores = [
        face._geomAdaptor().Cylinder().Radius() * 2.0
        for face in solid.Faces()
        if face.geomType() == "CYLINDER"
    ]
    assert_allclose(sorted(bores), SIZES)
    box = solid.BoundingBox()
    assert box.zlen == pytest.approx(THICK, abs=1e-5)
    letters = (
        box.xlen * box.ylen * THICK - sum(np.pi / 4 * d**2 * THICK for d in SIZES) - solid.Volume()
    )
    assert letters > 5.0
    assert all(f"{size:g}" in gauge_text() for size in SIZES)


def test_the_allowance_is_what_the_holes_lack_on_the_mean():
    found = measured("3.0=2.84, 5.0=4.86,8=7.85 ")
    assert found.allowance == pytest.approx((0.16 + 0.14 + 0.15) / 3)
    assert found.scatter == pytest.approx(0.01) and found.steady
    assert not measured("3=2.7, 10=9.99").steady
    assert measured("3=3.1, 5=5.1").allowance == pytest.approx(-0.1)  # a printer that bores wide


@pytest.mark.parametrize(
    "text, words",
    [
        ("3.0:2.84", "is no measurement"),
        ("3.0=2.84", "at least two holes"),
        ("3=2.8, 5=3.1", "off by more than 1.5 mm"),
        ("3=2.8, 3=2.9", "given twice"),
    ],
)
def test_what_cannot_be_measured(text, words):
    with pytest.raises(GaugeError, match=words):
        measured(text)


def test_the_file_keeps_what_else_it_says(tmp_path):
    path = tmp_path / "printer.yaml"
    path.write_text("# mine\nbed: [300 mm, 300 mm, 16 in]\nhole_allowance: 0.9 mm\nplastic: PETG\n")
    store(path, measured("3=2.8, 5=4.8"))
    text = path.read_text()
    assert (
        text.startswith("# mine\n")
        and "plastic: PETG" in text
        and text.count("hole_allowance") == 1
    )
    made = read_printer(path)
    assert made is not None
    assert made.hole_allowance == pytest.approx(0.2) and made.bed == (300.0, 300.0, 16 * 25.4)
    store(path, measured("3=2.9, 5=4.9"))
    assert read_printer(path).hole_allowance == pytest.approx(0.1)


def test_a_file_that_cannot_be_used_is_left_as_it_was(tmp_path):
    path = tmp_path / "printer.yaml"
    path.write_text("bad: 1 mm\n")
    with pytest.raises(InputError, match="bad"):
        store(path, measured("3=2.8, 5=4.8"))
    assert path.read_text() == "bad: 1 mm\n"
    assert "hole_allowance" in printer_text("", measured("3=2.8, 5=4.8"))


def test_no_file_is_no_printer(tmp_path):
    assert read_printer(tmp_path / "none.yaml") is None


def test_the_command_makes_the_coupon_and_stores_what_it_found(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    run = CliRunner()
    made = run.invoke(app, ["gauge"])
    assert made.exit_code == 0, made.output
    assert {p.name for p in (tmp_path / "outputs/gauge").iterdir()} == {
        "gauge.stl",
        "gauge.3mf",
        "gauge.txt",
    }
    made = run.invoke(app, ["gauge", "--measured", "3.0=2.84, 5.0=4.86"])
    assert made.exit_code == 0 and "0.150 mm" in made.output
    assert read_printer().hole_allowance == pytest.approx(0.15)
    assert run.invoke(app, ["gauge", "--measured", "nonsense"]).exit_code == 2


def test_the_printer_is_no_part_among_the_parts(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    run = CliRunner()
    for name in ("clevis", "gusset plate"):
        run.invoke(app, ["new", name, "--out", f"params/{name}.yaml"])
    run.invoke(app, ["gauge", "--measured", "3=2.8, 5=4.8"])
    files = sorted(str(file) for file in (tmp_path / "params").glob("*.yaml"))
    assert len(files) == 3
    assert run.invoke(app, ["check", *files]).exit_code == 0
    assert run.invoke(app, ["check", "params/printer.yaml"]).exit_code != 0
