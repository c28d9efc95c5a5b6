"""The page of the whole folder."""

import json
import os

import pytest
from pages import read
from parts_shown import fork_shown

from parts.report.document import entries_bytes
from parts.report.page.index import Together, folder_page


@pytest.fixture
def folder(tmp_path):
    entry = fork_shown().entry
    for name, ok in (("HC-150", True), ("HC 151", False), ("HC-152", True)):
        own = tmp_path / name
        own.mkdir()
        (own / "report.json").write_bytes(entries_bytes([{**entry, "name": name, "ok": ok}]))
        (own / "index.html").write_bytes(b"")
    (tmp_path / "HC-150" / "picture.png").write_bytes(fork_shown().files["picture.png"])
    (tmp_path / "HC-152" / "report.json").write_text("{")
    return tmp_path


def test_it_lists_parts_with_picture_mass_and_governing_check(folder):
    page = read(folder_page(folder))
    rows = {row[0]: row for row in page.all("table")[0].rows()[1:]}
    governing = fork_shown().made.result.governing
    mass = f"{fork_shown().made.mass:.3f}"
    assert list(rows) == ["HC 151", "HC-150", "HC-152"]
    assert rows["HC-150"][5] == mass and rows["HC-150"][6].startswith(governing.name)
    assert (rows["HC-150"][-1], rows["HC 151"][-1]) == ("✓ holds", "✗ FALLS SHORT")
    assert "cannot be read" in rows["HC-152"][2]
    assert [a.attributes["href"] for a in page.all("a")] == [
        "#content",
        "HC%20151/index.html",
        "HC-150/index.html",
    ]
    assert [img.attributes["alt"] for img in page.all("img")] == ["HC-150, shaded picture"]
    assert "<script>alert(1)</script>" in rows["HC-150"][2]


def test_a_build_comes_first_with_its_numbers_and_its_mass(folder):
    whole = Together(
        "one off", "hill climber", {"HC-150": 2, "HC 151": 1, "HC-159": 1}, ["bought.csv"]
    )
    page = read(folder_page(folder, [whole]))
    first, second = page.all("section")[:2]
    assert page.all("h1")[0].text == "hill climber"
    assert page.all("header")[0].all("p")[0].text == "✗ FALLS SHORT: HC 151."
    assert [row[4] for row in first.all("table")[0].rows()] == ["number", "2", "1", "1"]
    assert "not made yet" in first.text and "Short: HC 151." in first.text
    assert f"4 made parts, {3 * round(fork_shown().entry['mass_kg'], 9):.3f} kg" in first.text
    assert first.all("table")[1].all("a")[0].attributes["href"] == "one%20off/bought.csv"
    assert [row[0] for row in second.all("table")[0].rows()[1:]] == ["HC-152"]


def test_a_report_of_another_kind_does_no_harm(folder):
    for odd in ("[]", '{"parts": [3]}', '{"parts": [{"name": "x"}]}', json.dumps({"parts": []})):
        (folder / "HC-152" / "report.json").write_text(odd)
        assert "cannot be read" in read(folder_page(folder)).text


def odd_neighbours(folder):
    """What other programs may leave beside the folders of parts."""
    deep, wrong, pipe, endless = (folder / name for name in ("deep", "wrong", "pipe", "endless"))
    for one in (deep, wrong, pipe, endless, folder / os.fsdecode(b"\xff\xfe")):
        one.mkdir()
    (deep / "report.json").write_text('{"parts": ' + "[" * 100_000)
    entry = {
        "title": 3,
        "family": [],
        "material": None,
        "mass_kg": "x",
        "governing": 7,
        "ok": "yes",
    }
    (wrong / "report.json").write_text(json.dumps({"parts": [entry]}))
    os.mkfifo(pipe / "report.json")
    (endless / "report.json").symlink_to("/dev/zero")
    (folder / os.fsdecode(b"\xff\xfe") / "report.json").write_text("{}")
    (folder / "HC-150" / "picture.png").unlink()
    (folder / "HC-150" / "picture.png").symlink_to("/dev/zero")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes here")
def test_odd_neighbours_neither_break_nor_hang_the_page(folder):
    odd_neighbours(folder)
    page = read(folder_page(folder))
    rows = {row[0]: row for row in page.all("table")[0].rows()[1:]}
    assert set(rows) == {"HC 151", "HC-150", "HC-152", "deep", "wrong"}
    assert "cannot be read" in rows["deep"][2] and "cannot be read" in rows["wrong"][2]
    assert rows["HC-150"][1] == "none"
