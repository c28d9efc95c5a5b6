"""Files are written whole or not at all, and never outside their folder."""

import pytest

from parts.making import writing
from parts.making.writing import write_all, write_whole


def test_a_file_is_replaced_whole(tmp_path):
    target = tmp_path / "sub" / "a.txt"
    write_whole(target, b"one")
    write_whole(target, b"two")
    assert target.read_bytes() == b"two"
    assert [p.name for p in target.parent.iterdir()] == ["a.txt"]


def test_what_stood_there_stays_when_the_disk_refuses(tmp_path, monkeypatch):
    target = tmp_path / "a.txt"
    target.write_bytes(b"old")

    def refuse(*_):
        raise OSError("no space left on device")

    monkeypatch.setattr(writing.os, "replace", refuse)
    with pytest.raises(OSError, match="no space"):
        write_whole(target, b"new")
    assert target.read_bytes() == b"old"
    assert [p.name for p in tmp_path.iterdir()] == ["a.txt"]


def test_no_file_is_new_beside_old_ones_where_the_disk_is_full(tmp_path, monkeypatch):
    write_all(tmp_path, {"a.txt": b"old", "b.txt": b"old"})
    room = iter([True, False])

    def fsync(_):
        if not next(room):
            raise OSError("no space left on device")

    monkeypatch.setattr(writing.os, "fsync", fsync)
    with pytest.raises(OSError, match="no space"):
        write_all(tmp_path, {"a.txt": b"new", "b.txt": b"new"})
    assert {p.name: p.read_bytes() for p in tmp_path.iterdir()} == {
        "a.txt": b"old",
        "b.txt": b"old",
    }


@pytest.mark.parametrize("name", ["../out.txt", "/etc/out.txt", "a/b.txt", "..", ""])
def test_no_name_leaves_the_folder(tmp_path, name):
    with pytest.raises(ValueError, match="plain file name"):
        write_all(tmp_path / "part", {name: b"x"})
    assert not (tmp_path / "part").exists()


def test_a_folder_that_leads_elsewhere_is_refused(tmp_path):
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (tmp_path / "part").symlink_to(elsewhere)
    with pytest.raises(OSError, match="in the way"):
        write_all(tmp_path / "part", {"a.txt": b"x"})
    assert list(elsewhere.iterdir()) == []
