"""A build is read once for all of its parts, and again as soon as one of its files says something else."""

import os

import pytest
from builds import BUILD, write

from parts import load
from parts.inputs.problems import InputError
from parts.vehicle.build import Build
from parts.vehicle.file.loading import build_of


def test_parts_of_one_build_share_what_was_read(tmp_path, monkeypatch):
    path = write(tmp_path)
    read = []
    whole = Build.__init__
    monkeypatch.setattr(Build, "__init__", lambda self, *a: (read.append(a), whole(self, *a))[1])
    assert load(tmp_path / "a.yaml") is load(tmp_path / "a.yaml")
    load(tmp_path / "b.yaml")
    assert build_of(path) is build_of(path)
    assert len(read) == 1


def test_a_file_that_changed_is_read_again(tmp_path):
    path = write(tmp_path)
    before = load(tmp_path / "a.yaml")
    file = tmp_path / "a.yaml"
    times = file.stat()
    file.write_text(file.read_text().replace("thickness: 6 mm", "thickness: 7 mm"))
    # Content counts, not the time stamp: two saves may fall into one tick of the clock.
    os.utime(file, ns=(times.st_atime_ns, times.st_mtime_ns))
    after = load(file)
    assert (before.ears.thickness, after.ears.thickness) == (6.0, 7.0)
    path.write_text(BUILD.replace("build: small", "build: smaller"))
    assert build_of(path).name == "smaller"


def test_a_file_that_is_gone_or_broken_is_not_remembered(tmp_path):
    path = write(tmp_path)
    kept = build_of(path)
    (tmp_path / "b.yaml").rename(tmp_path / "c.yaml")
    with pytest.raises(InputError, match="there is no file"):
        build_of(path)
    (tmp_path / "c.yaml").rename(tmp_path / "b.yaml")
    assert build_of(path).names == kept.names


def test_the_same_name_in_another_folder_is_another_build(tmp_path, monkeypatch):
    for name in ("one", "other"):
        folder = tmp_path / name
        folder.mkdir()
        write(folder, BUILD.replace("build: small", f"build: {name}"))
    found = []
    for name in ("one", "other"):
        monkeypatch.chdir(tmp_path / name)
        found.append(build_of("build.yaml").name)
    assert found == ["one", "other"]


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes here")
def test_a_build_waits_for_no_pipe_and_reads_no_file_without_end(tmp_path):
    pipe = tmp_path / "pipe.yaml"
    os.mkfifo(pipe)
    with pytest.raises(InputError, match="not a regular file"):
        build_of(pipe)
    large = tmp_path / "large.yaml"
    with large.open("wb") as file:
        file.truncate(10**12)  # holes, that take no disk
    with pytest.raises(InputError, match="too large for a part"):
        build_of(large)
