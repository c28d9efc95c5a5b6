"""`oneoff watch`: each save makes the part again; what is wrong is said, and the last good part stays."""

import http.client
import json
import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from command import oneoff
from pages import read
from parts_shown import FORK

from parts.cli.watching import Watch, serving
from parts.report.page.serving import State

PARAMS = Path(__file__).parents[3] / "params"


@pytest.fixture
def watched(tmp_path):
    file = tmp_path / "fork.yaml"
    file.write_text(FORK)
    said = []
    return Watch(file, tmp_path / "out", said.append), said


def get(address, path="/", host=None):
    place = address.removeprefix("http://").rstrip("/")
    connection = http.client.HTTPConnection(place, timeout=10)
    connection.request("GET", path, headers={"Host": host or place})
    answer = connection.getresponse()
    return answer.status, answer.read()


def events(address):
    """The words that an open page hears."""
    place = address.removeprefix("http://").rstrip("/")
    connection = http.client.HTTPConnection(place, timeout=30)
    connection.request("GET", "/events")
    answer = connection.getresponse()
    while line := answer.readline():
        if line.startswith(b"data: "):
            yield json.loads(line[6:])


def test_a_good_save_is_shown_and_its_files_are_written(watched):
    watch, said = watched
    assert watch.make()
    page = read(watch.board.state.page)
    assert page.all("html")[0].attributes["data-version"] == "1"
    assert page.by_id("watch").attributes["role"] == "alert"
    assert (
        "watched" in page.all("header")[0].text
    )  # that the drawing and the pictures are left out is said
    assert not page.all("img")
    assert re.match(r"HC-150: [\d.]+ s, holds: \d+ ways of failing", said[0])
    own = watch.folder / "HC-150"
    assert {"HC-150.step", "picture.png", "index.html", "report.json"} <= {
        f.name for f in own.iterdir()
    }
    alone = read((own / "index.html").read_bytes())
    assert "data-version" not in alone.all("html")[0].attributes and alone.all("img")


WRONG = {
    "thicknes: 1/4 in": ("thickness: 1/4 in", "nearest is `thickness`"),
    "width: 2": ("width: 20", "is needed"),
    "family: [": ("family: clevis", "not YAML"),
}


def test_an_error_is_said_and_the_last_good_part_stays(watched):
    watch, said = watched
    watch.make()
    good = watch.board.state
    files = {f: f.read_bytes() for f in (watch.folder / "HC-150").iterdir()}
    for after, (before, says) in WRONG.items():
        watch.file.write_text(FORK.replace(before, after))
        assert not watch.make()
        state = watch.board.state
        assert (state.version, state.page) == (good.version, good.page)
        assert says in state.wrong and says in said[-1]
        assert {f: f.read_bytes() for f in (watch.folder / "HC-150").iterdir()} == files
    watch.file.write_text(FORK)
    assert watch.make() and watch.board.state.wrong == "" and watch.board.state.version == 2


def test_a_fault_of_the_library_ends_no_watch(watched, monkeypatch):
    watch, said = watched
    monkeypatch.setattr("parts.making.model.model", lambda part: 1 / 0)
    assert not watch.make()
    assert (
        "a fault of oneoff-parts itself" in said[0]
        and "ZeroDivisionError" in watch.board.state.wrong
    )


def test_an_open_page_hears_of_every_change(watched):
    watch, _ = watched
    with serving(watch.board) as address:
        heard = events(address)
        assert next(heard) == {"version": 0, "wrong": "", "note": ""}
        watch.make()
        word = next(heard)
        assert word["version"] == 1 and "follows fork.yaml" in word["note"]
        watch.file.write_text("family: [")
        watch.make()
        word = next(heard)
        assert word["version"] == 1 and "not YAML" in word["wrong"]
    with pytest.raises(StopIteration):
        next(heard)  # the end of the watch ends the line


def test_it_serves_the_part_alone_and_to_this_machine_alone(watched):
    watch, _ = watched
    (watch.folder.parent / "secret.txt").write_text("secret")
    with serving(watch.board) as address:
        assert get(address)[0] == 200  # before the first good part too
        assert get(address, "/HC-150.step")[0] == 404
        watch.make()
        status, content = get(address, "/HC-150.step")
        assert status == 200 and content == (watch.folder / "HC-150" / "HC-150.step").read_bytes()
        for path in ("/../../secret.txt", "/%2e%2e/%2e%2e/secret.txt", "/..%2f..%2fsecret.txt", "//etc/passwd",
                     "/.", "/..", "/nothing.txt"):  # fmt: skip
            assert get(address, path)[0] == 404, path
        # A foreign name that leads here: a page elsewhere must not read what is served.
        assert get(address, host="example.org")[0] == 403


def test_odd_addresses_and_links_out_of_the_folder_are_no_files_of_the_part(
    watched, tmp_path, capfd
):
    watch, _ = watched
    own = tmp_path / "HC-150"
    own.mkdir()
    (tmp_path / "secret.txt").write_text("secret")
    (own / "link.txt").symlink_to(tmp_path / "secret.txt")
    os.mkfifo(own / "pipe.txt")
    watch.board.put(State(1, b"", own))
    with serving(watch.board) as address:
        for path in ("/link.txt", "/pipe.txt", "/" + "a" * 5000, "/%00", "//[", "/a%ff"):
            assert get(address, path)[0] == 404, path
    assert "Traceback" not in capfd.readouterr().err


def test_saves_are_told_from_each_other_and_from_files_that_do_not_count(watched):
    watch, _ = watched
    last = watch.stamps()
    assert not watch.saved_since(last)
    (watch.file.parent / "other.yaml").write_text("a: 1")
    assert not watch.saved_since(last)
    replaced = watch.file.with_suffix(".new")
    replaced.write_text(FORK)
    os.replace(replaced, watch.file)  # as many editors save
    assert watch.saved_since(last)
    last = watch.stamps()
    watch.file.unlink()
    assert watch.saved_since(last)


def test_a_part_of_a_build_follows_the_files_beside_it(watched):
    watch, _ = watched
    watch.file.write_text(FORK + "build: build.yaml\n")
    watch.make()
    last = watch.stamps()
    (watch.file.parent / "build.yaml").write_text("build: x\n")
    assert watch.saved_since(last)


@pytest.mark.slow
def test_a_save_takes_less_than_a_second_of_work(tmp_path):
    """From reading to the page on a part of the demo: processor time, which a busy machine does not stretch."""
    for file in PARAMS.glob("*.yaml"):
        (tmp_path / file.name).write_bytes(file.read_bytes())
    watch = Watch(tmp_path / "hc-107-brake-rod-clevis.yaml", tmp_path / "out", lambda _: None)
    watch._show(0.0)  # loads what is loaded once
    took = []
    for _ in range(3):
        began = time.process_time()
        watch._show(0.0)
        took.append(time.process_time() - began)
    assert min(took) < 1.0


@pytest.mark.skipif(os.name != "posix", reason="signals of Unix")
def test_ctrl_c_ends_it_cleanly(watched):
    watch, _ = watched
    command = [
        sys.executable,
        "-m",
        "parts.cli.main",
        "watch",
        str(watch.file),
        "--out",
        str(watch.folder),
    ]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as run:
        assert re.match(r"open http://127.0.0.1:\d+/ in a browser", run.stdout.readline())
        assert run.stdout.readline().startswith("HC-150: ")
        run.send_signal(signal.SIGINT)
        _, err = run.communicate(timeout=30)
    assert (run.returncode, err) == (0, "")


def test_a_file_that_is_not_there_is_refused(tmp_path):
    run = oneoff("watch", tmp_path / "none.yaml")
    assert run.returncode == 2 and "there is no such file" in run.stderr
