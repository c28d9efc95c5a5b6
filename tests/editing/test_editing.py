"""A part changed over HTTP, as its page does: answers, the text that is written, undo, and who is let in."""

import http.client
import os
import re
import signal
import subprocess
import sys

import pytest
from calling import Caller, told
from command import oneoff

from parts.editing.serving import LARGEST, LINES, serving

TEXT = """\
# Off the mock-up, with a tape.
family: clevis
name: HC-150
units: {force: N}
material: Ti-6Al-4V annealed
edge_break: 0 mm

ears:
  thickness: 1/4 in         # what lies on the shelf
  width: 23 mm
  nose: bullet
  edge: 14 mm
  depth: 24 mm
  corner: 3 mm
  floor_thickness: 8 mm
  throat: {type: rod end, rod_end: 3/8-24 male}
  pin:
    bolt: NAS6306           # close tolerance
    hole: {type: reamed, fit: H7}

shank:
  type: male thread
  thread: 7/16-20 UNF
  length: 30 mm             # shoulder to tip
  engagement: 5/8 in
  mate: 4130 normalized
  neck: {diameter: 18 mm, length: 11 mm, flats: 16 mm}

loads:
  - name: landing
    forces: [{at: pin, force: {x: -2550, y: 150}}]
"""


@pytest.fixture(scope="module")
def stated():
    return TEXT


@pytest.fixture(scope="module")
def touched():
    """The version that the last test which asked for something left behind."""
    return {"version": None}


@pytest.fixture
def fresh(handed, touched):
    """The opened file as it was at first, on the disk and here; one that nobody touched is not worked out again."""
    work, caller = handed
    if work.version != touched["version"] or work.file.read_text() != TEXT:
        work.file.write_text(TEXT)
        assert caller.post("take") == (200, "")
    touched["version"] = work.version
    return work, caller


def test_it_is_read_and_checked(fresh):
    work, _ = fresh
    read = told(work, "read")
    fields = {one["path"]: one for one in read["fields"]}
    assert (read["name"], read["family"]) == ("HC-150", "clevis")
    thickness = fields["ears.thickness"]
    assert thickness["said"] == "1/4 in" and thickness["means"] == "6.35 mm (0.25 in)"
    assert (
        thickness["origin"] == "file" and "shank" in fields and fields["shank"]["kind"] == "option"
    )
    assert (
        "spigot" in fields["shank"]["choices"]
        and fields["loads[1].forces[1].force[1]"]["said"] == "-2550"
    )
    from parts import load

    result = load(work.file).check()
    checked = told(work, "checked")
    assert checked["holds"] is result.ok
    worst = result.governing
    assert checked["checks"][0]["name"] == worst.name
    assert checked["checks"][0]["factor"] == pytest.approx(worst.factor, rel=1e-8)
    sizes = told(work, "sizes")
    texts = [text for text, _ in sizes["lists"][sizes["of"]["ears.thickness"]]]
    assert "1/4 in" in texts and "3/8 in" in texts


@pytest.mark.parametrize(
    "path, typed, before, after",
    [
        ("ears.thickness", "3/8 in", "1/4 in         #", "3/8 in         #"),
        ("ears.width", "24", "width: 23 mm", "width: 24 mm"),
        ("shank.length", "1-1/4 in", "30 mm             #", "1-1/4 in          #"),
        ("ears.pin.bolt", "NAS6307", "NAS6306", "NAS6307"),
        ("shank.neck.length", "7/16", "length: 11 mm,", "length: 7/16 mm,"),
        ("loads[1].forces[1].force[1]", "-2600", "x: -2550", "x: -2600"),
        ("loads[1].forces[1].force[2]", "30 lbf", "y: 150", "y: 30 lbf"),
        ("edge_break", "", "edge_break: 0 mm\n", ""),
        ("quantity", "4", "material: Ti", "quantity: 4\nmaterial: Ti"),
    ],
)
def test_what_is_typed_is_all_that_changes_in_the_file(fresh, path, typed, before, after):
    work, caller = fresh
    told(work, "read")  # what kind of quantity a field holds is known from here
    assert caller.change(path, typed) == (200, "")
    assert work.file.read_text() == TEXT and work.unsaved
    assert TEXT.count(before) == 1
    if path != "quantity":
        assert work.text == TEXT.replace(before, after)
    assert caller.post("save") == (200, "") and not work.unsaved
    assert work.file.read_text() == work.text
    assert sorted(work.text.splitlines()) == sorted(TEXT.replace(before, after).splitlines())


def test_what_cannot_be_stands_at_its_field_and_the_last_good_part_stays(fresh):
    work, caller = fresh
    good = told(work, "read")
    caller.change("ears.edge", "4 mm")
    wrong = told(work, "problems")
    assert (
        wrong["problems"][0]["field"] == "ears.edge" and "tear out" in wrong["problems"][0]["wrong"]
    )
    assert wrong["written"]["ears.edge"] == "4 mm"
    assert work.board.get("read")["version"] == good["version"]
    caller.change("ears.width", "wide")
    assert {one["field"] for one in told(work, "problems")["problems"]} >= {"ears.width"}
    assert caller.post("undo")[0] == 200 and caller.post("undo")[0] == 200
    assert told(work, "problems")["problems"] == [] and work.text == TEXT


def test_undo_and_redo_and_the_moves_of_one_drag_are_one_step(fresh):
    work, caller = fresh
    for width in ("24 mm", "25 mm", "26 mm"):
        caller.change("ears.width", width, gesture="drag 1")
    caller.change("ears.depth", "25 mm")
    assert (
        caller.post("undo")[0] == 200
        and "width: 26 mm" in work.text
        and "depth: 24 mm" in work.text
    )
    assert caller.post("undo")[0] == 200 and work.text == TEXT
    assert caller.post("redo")[0] == 200 and caller.post("redo")[0] == 200
    assert "depth: 25 mm" in work.text
    status, said = caller.post("redo")
    assert status == 409 and "nothing more" in said


def test_an_option_comes_with_its_fields_and_leaves_none_behind(fresh):
    work, caller = fresh
    assert caller.post("change", {"edits": [{"path": "shank", "option": "spigot"}]}) == (200, "")
    assert told(work, "problems")["problems"] == []
    fields = {one["path"] for one in told(work, "read")["fields"]}
    assert "shank.tube" in fields and "shank.thread" not in fields
    assert (
        "thread: 7/16" not in work.text
        and "length: 30 mm             # shoulder to tip" in work.text
    )
    caller.post("undo")
    assert work.text == TEXT
    status, said = caller.post("change", {"edits": [{"path": "shank", "option": "velcro"}]})
    assert status == 409 and "none of the options" in said


def test_what_would_hold_is_offered_and_holds(fresh):
    work, caller = fresh
    caller.change("loads[1].forces[1].force[1]", "-40000")
    assert told(work, "checked")["holds"] is False
    told(work, "done")
    ways = told(work, "mended")["ways"]
    assert [one["mass"] for one in ways] == sorted(one["mass"] for one in ways)
    for one in ways[:1]:
        caller.change(one["path"], one["text"])
        assert told(work, "checked")["holds"] is True


def test_a_file_that_changed_on_the_disk_is_not_written_over_unasked(fresh):
    work, caller = fresh
    caller.change("ears.width", "24 mm")
    other = TEXT.replace("corner: 3 mm", "corner: 2 mm")
    work.file.write_text(other)
    status, said = caller.post("save")
    assert status == 409 and "on the disk" in said and work.file.read_text() == other
    assert work.board.get("disk")["said"].startswith("part.yaml was changed")
    assert caller.post("save", {"over": True}) == (200, "")
    assert work.file.read_text() == TEXT.replace("width: 23", "width: 24")


def test_a_save_of_another_program_is_followed_where_nothing_is_unsaved(fresh):
    work, _ = fresh
    work.look()
    work.file.write_text(TEXT.replace("width: 23 mm", "width: 24.5 mm"))
    work.look()
    assert "24.5 mm" in work.text and not work.unsaved
    fields = {one["path"]: one for one in told(work, "read")["fields"]}
    assert fields["ears.width"]["value"] == 24.5


def test_the_newest_change_alone_is_worked_out(fresh):
    work, caller = fresh
    told(work, "checked")
    for k in range(12):
        caller.change("ears.depth", f"{24 + k / 10} mm")
    depth = next(one for one in told(work, "read")["fields"] if one["path"] == "ears.depth")
    assert depth["value"] == pytest.approx(25.1)
    assert told(work, "done")["version"] == work.board.get("state")["version"]


def test_nothing_is_changed_from_elsewhere(fresh):
    work, caller = fresh
    asked = {"edits": [{"path": "ears.width", "value": "24 mm"}]}
    for other in (
        {"X-Token": "guessed"}, {"X-Token": None}, {"Origin": "http://example.org"}, {"Origin": None}, {"Cookie": None},
        {"Host": "example.org"}, {"Cookie": caller.cookie[:-2]},
    ):  # fmt: skip
        assert caller.post("change", asked, **other)[0] == 403, other
    assert caller.get("/")[0] == 403 and caller.get("/file/part.yaml/events")[0] == 403
    assert caller.get("/", Cookie=caller.cookie, Host="example.org")[0] == 403
    assert caller.get("/?key=guessed")[0] == 403
    assert work.text == TEXT
    assert caller.page()[0] == 200


def test_the_address_lets_in_once(fresh):
    _, caller = fresh
    with serving(caller.served.shelf) as served:
        key = served.door.key
        first = Caller(served)
        assert first.page()[0] == 200
        assert first.get(f"/?key={key}")[0] == 403  # used up
        assert (
            first.get(f"/?key={key}", Cookie=first.cookie)[0] == 303
        )  # but for who was let in: a page opened again


def test_no_path_leads_out_of_the_folder_of_the_part(fresh, tmp_path):
    work, caller = fresh
    told(work, "read")
    own = work.out / "HC-150"
    own.mkdir(parents=True, exist_ok=True)
    (own / "HC-150.step").write_text("solid")
    (work.out / "secret.txt").write_text("secret")
    (own / "link.txt").unlink(missing_ok=True)
    (own / "link.txt").symlink_to(work.out / "secret.txt")
    assert caller.page("/file/part.yaml/made/HC-150.step")[2] == b"solid"
    for path in (
        "../secret.txt",
        "%2e%2e/secret.txt",
        "..%2fsecret.txt",
        "/etc/passwd",
        ".",
        "..",
        "link.txt",
        "%00",
        "a" * 5000,
    ):
        assert caller.page(f"/file/part.yaml/made/{path}")[0] == 404, path


def test_a_part_is_begun_from_a_family_and_nothing_is_written_over(fresh):
    work, caller = fresh
    status, name = caller.post("new", {"family": "spacer", "name": "HC-151"})
    assert (status, name) == (200, "hc-151.yaml")
    shelf = caller.served.shelf
    assert "hc-151.yaml" in {one.name for one in shelf.filed()}
    from parts import load

    assert load(work.folder / name).name == "HC-151"
    assert "hc-151.yaml" in caller.page()[2].decode()
    assert "Sizes" in caller.page("/file/hc-151.yaml/")[2].decode()
    assert caller.page("/family/spacer")[2].startswith(b"\x89PNG")
    assert caller.page("/family/velcro")[0] == 404
    for family, number, says in (
        ("spacer", "HC-151", "there already"), ("velcro", "HC-152", "no family"),
        ("spacer", "../x", ""), ("spacer", "", "number first"),
    ):  # fmt: skip
        status, said = caller.post("new", {"family": family, "name": number})
        assert status == 409 and says in said, (family, number)
    assert sorted(one.name for one in work.folder.glob("*.yaml")) == ["hc-151.yaml", "part.yaml"]
    assert not (work.folder.parent / "x.yaml").exists()


def test_links_and_files_elsewhere_are_none_of_the_folder(fresh, tmp_path):
    work, caller = fresh
    (tmp_path / "other.yaml").write_text(TEXT)
    link = work.folder / "link.yaml"
    link.symlink_to(tmp_path / "other.yaml")
    try:
        for name in ("link.yaml", "..%2fother.yaml", "%2e%2e/other.yaml", "none.yaml"):
            assert caller.page(f"/file/{name}/events")[0] == 404, name
        assert "link.yaml" not in caller.page()[2].decode()
    finally:
        link.unlink()


def test_odd_requests_change_nothing(fresh):
    work, caller = fresh
    for act, asked in (
        ("change", {}), ("change", {"edits": [{}]}), ("change", {"edits": 3}), ("format", {}),
        ("change", {"edits": [{"path": "", "value": "1"}]}),
        ("change", {"edits": [{"path": "loads[8].name", "value": "x"}]}),
        ("change", {"edits": [{"path": "ears.at", "to": ["a", 1]}]}),
        ("change", {"edits": [{"path": "ears.width.deep", "value": "1"}]}),
    ):  # fmt: skip
        assert caller.post(act, asked)[0] in (400, 409), (act, asked)
    assert caller.change("title", "x" * LARGEST)[0] == 400
    assert work.text == TEXT


def test_slow_readers_do_not_pile_up(fresh):
    _, caller = fresh
    with serving(caller.served.shelf) as served:
        caller = Caller(served)
        lines = []
        for _ in range(LINES + 6):
            line = http.client.HTTPConnection(caller.place, timeout=5)
            line.request(
                "GET",
                "/file/part.yaml/events",
                headers={"Host": caller.place, "Cookie": caller.cookie},
            )
            lines.append(line)
        turned_away, kept = 0, []
        for line in lines:
            try:
                kept.append(line.getresponse())  # one that is let go closes its line
            except (http.client.HTTPException, OSError):
                turned_away += 1
        assert turned_away == 6 and len(kept) == LINES
        for line in lines:
            line.close()


@pytest.mark.skipif(os.name != "posix", reason="signals of Unix")
def test_ctrl_c_ends_it_cleanly(tmp_path):
    (tmp_path / "a.yaml").write_text(TEXT)
    # Whoever runs the tests in the background may leave Ctrl-C ignored.
    code = (
        "import signal\nfrom parts.cli.main import main\n"
        "signal.signal(signal.SIGINT, signal.default_int_handler)\nmain()"
    )
    run = subprocess.Popen(
        [sys.executable, "-c", code, "open", str(tmp_path / "a.yaml")],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )  # fmt: skip
    try:
        assert re.match(r"open http://127.0.0.1:\d+/\?key=\S+ in a browser", run.stdout.readline())
        run.send_signal(signal.SIGINT)
        _, err = run.communicate(timeout=60)
    finally:
        run.kill()
    assert (run.returncode, err) == (0, "")


def test_a_file_that_cannot_be_read_is_refused(tmp_path):
    run = oneoff("open", tmp_path / "none.yaml")
    assert run.returncode == 2 and "there is no such file" in run.stderr
    (tmp_path / "a.yaml").write_text("a: [")
    assert oneoff("open", tmp_path / "a.yaml").returncode == 2


@pytest.mark.slow
def test_it_is_made_as_it_is_saved_with_progress(fresh):
    work, caller = fresh
    caller.change("ears.width", "24 mm")
    status, said = caller.post("make", {"for": ["bench"]})
    assert status == 409 and "save first" in said
    caller.post("save")
    assert caller.post("make", {"for": ["bench"]}) == (200, "")
    assert caller.post("make")[0] == 409  # one at a time
    while not work.board.get("made").get("over"):
        work.board.after(10**9, 0.2)
    made = work.board.get("made")
    assert (
        made["status"] == 0
        and "HC-150.step" in made["files"]
        and "making HC-150 (1 of 1)" in made["lines"]
    )
    assert caller.page("/file/part.yaml/made/HC-150.step")[2].startswith(b"ISO-10303-21")
