"""Parts made by another process: byte for byte what is made here, and what is said of them too."""

import json

import pytest
import yaml
from command import oneoff

from parts.families import families
from parts.folders.part_files import make_part
from parts.folders.side_by_side import LEAST, ToMake, make_one
from parts.inputs.document import read_document
from parts.inputs.reading import read_parsed


def files_of(folder):
    return {
        str(one.relative_to(folder)): one.read_bytes() for one in folder.rglob("*") if one.is_file()
    }


def write(folder, name):
    file = folder / f"{name}.yaml"
    file.write_text(yaml.safe_dump({**families()["spacer"].example, "name": name}, sort_keys=False))
    return file


def test_what_comes_back_is_what_is_made_here(tmp_path):
    written = read_document(write(tmp_path, "S"))
    here = make_part(read_parsed(written, families()), tmp_path / "here", written=written)
    there = make_one(
        ToMake(written, written, tmp_path / "there", 0.05, 0.2, (), inputs="of a build")
    )
    assert files_of(tmp_path / "there") == files_of(tmp_path / "here")
    assert [one.name for one in there.files] == [one.name for one in here.files]
    assert there.ok == here.result.ok and there.record.mass == pytest.approx(here.mass)
    assert there.solids == here.solids


@pytest.mark.slow
def test_parts_side_by_side_are_as_alone_and_one_that_fails_takes_no_other(tmp_path, monkeypatch):
    files = [write(tmp_path, f"S{n}") for n in range(LEAST)]
    side = oneoff("make", *files, "--json", "--out", tmp_path / "side")
    monkeypatch.setattr("parts.running.pieces.cores", lambda: 1)
    alone = oneoff("make", *files, "--json", "--out", tmp_path / "alone")
    assert side.returncode == alone.returncode and side.stderr == alone.stderr == ""
    assert json.loads(side.stdout) == json.loads(alone.stdout)
    assert files_of(tmp_path / "side") == files_of(tmp_path / "alone")
