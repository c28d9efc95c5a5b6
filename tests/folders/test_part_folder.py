"""The folder of a part is all of one make, whatever stood there before and whenever the run is killed."""

import os
import random
import signal
import subprocess
import sys
import time

import pytest

import parts
from parts.folders.part_folder import MADE, standing, write_part
from parts.making import writing
from parts.making.writing import replace_folder

WRITES = """
import sys
from pathlib import Path
from parts.making.writing import replace_folder
folder, k = Path(sys.argv[1]), int(sys.argv[2])
while True:
    k += 1
    replace_folder(folder, {f"{i}.bin": str(k).encode() * 20000 for i in range(6)}, ["mine.txt"])
"""


@pytest.fixture
def part():
    return parts.Clevis(**{**parts.Clevis.example, "outputs": ["report"]})


def names(folder):
    return sorted(one.name for one in folder.iterdir() if one.name != MADE)


def make(folder, part, files):
    return write_part(folder, dict.fromkeys(files, b"x"), standing(folder, part))


def test_a_file_of_another_purpose_stays_while_the_part_is_the_same(tmp_path, part):
    own = tmp_path / "HC-100"
    assert make(own, part, ["report.json", "HC-100-drawing.pdf"]) == ()
    assert make(own, part, ["report.json"]) == ()
    assert names(own) == ["HC-100-drawing.pdf", "report.json"]


def test_a_part_made_again_gives_the_same_bytes(tmp_path):
    """Regression: the page showed the pictures in another order, and listed itself, where they stood before."""
    part = parts.Clevis(**{**parts.Clevis.example, "outputs": ["picture", "page"]})
    own, found = tmp_path / "HC-100", []
    for _ in range(2):
        parts.make(part, tmp_path)
        found.append({one.name: one.read_bytes() for one in own.iterdir()})
    assert found[0] == found[1]
    assert len(found[0]) == 4


def test_it_goes_and_is_named_once_it_tells_of_another_part(tmp_path, part):
    own = tmp_path / "HC-100"
    make(own, part, ["report.json", "HC-100-drawing.pdf"])
    deeper = part.changed({"ears.width": "27 mm"})
    assert make(own, deeper, ["report.json"]) == ("HC-100-drawing.pdf",)
    assert names(own) == ["report.json"]


def test_a_proof_goes_with_every_make(tmp_path, part):
    own = tmp_path / "HC-100"
    make(own, part, ["report.json"])
    (own / "proof.json").write_bytes(b"old")
    assert make(own, part, ["report.json"]) == ("proof.json",)


def test_what_is_not_ours_stays(tmp_path, part):
    own = tmp_path / "HC-100"
    own.mkdir()
    (own / "notes").mkdir()
    (own / "notes" / "a.txt").write_text("of the builder")
    (own / os.fsdecode(b"\xff.txt")).write_text("too")
    (own / "HC-100.step").write_text("of a make that kept no note")
    assert make(own, part, ["report.json"]) == ("HC-100.step",)
    assert (own / "notes" / "a.txt").read_text() == "of the builder"
    assert len(names(own)) == 3


def test_a_folder_in_the_way_of_a_file_leaves_all_as_it_was(tmp_path, part):
    own = tmp_path / "HC-100"
    make(own, part, ["a.step"])
    (own / "report.json").mkdir()
    with pytest.raises(OSError, match="is in the way"):
        make(own, part, ["a.step", "report.json"])
    assert names(own) == ["a.step", "report.json"]
    assert names(tmp_path) == ["HC-100"]


@pytest.mark.parametrize("in_one_step", [True, False])
def test_a_folder_takes_the_place_of_another(tmp_path, monkeypatch, in_one_step):
    if not in_one_step:
        monkeypatch.setattr(writing, "_exchanged", lambda *_: False)
    own = tmp_path / "a"
    replace_folder(own, {"old.txt": b"1", "both.txt": b"1"})
    replace_folder(own, {"both.txt": b"2"})
    assert names(own) == ["both.txt"] and (own / "both.txt").read_bytes() == b"2"
    assert own.stat().st_mode & 0o777 == 0o755
    assert names(tmp_path) == ["a"]


def test_what_a_killed_run_set_aside_returns(tmp_path):
    gone = subprocess.Popen([sys.executable, "-c", ""])
    gone.wait()
    aside = tmp_path / f".a.aside-{gone.pid}-x" / "a"
    aside.mkdir(parents=True)
    (aside / "mine.txt").write_text("1")
    (tmp_path / f".a.new-{gone.pid}-y").mkdir()
    replace_folder(tmp_path / "a", {"b.txt": b"2"}, ["mine.txt"])
    assert names(tmp_path / "a") == ["b.txt", "mine.txt"]
    assert names(tmp_path) == ["a"]


def test_kills_at_random_moments_leave_one_whole_version(tmp_path):
    own, draw = tmp_path / "HC-100", random.Random(20)
    own.mkdir()
    (own / "mine.txt").write_text("of the builder")
    for k in range(12):
        run = subprocess.Popen([sys.executable, "-c", WRITES, own, str(1000 * k)])
        while not (own / "0.bin").exists() and run.poll() is None:
            time.sleep(0.002)
        time.sleep(draw.uniform(0.1, 0.25))
        run.send_signal(signal.SIGKILL)
        run.wait()
        found = {(own / f"{i}.bin").read_bytes() for i in range(6)}
        assert len(found) == 1 and len(names(own)) == 7
    replace_folder(own, {"a": b""})
    assert names(tmp_path) == ["HC-100"]
