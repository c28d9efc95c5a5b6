"""A build from its file to its outputs: what is made again, what moved, and one message for every slip."""

import json
import re
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
from builds import BUILD, DEMO, refused, with_rear_end, write
from command import oneoff

import parts
from parts.folders.build import make_build, stale
from parts.folders.changes import against_last, against_revision
from parts.folders.records import table
from parts.folders.standing import told
from parts.inputs.problems import InputError
from parts.making.kept import FILE, Kept
from parts.vehicle.build import Build
from parts.vehicle.file.loading import build_of


def moved(path, old, new):
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new, 1))
    return Build(path)


@pytest.fixture(scope="module")
def first(tmp_path_factory):
    """A small build and what was made of it, in coarse meshes."""
    folder = tmp_path_factory.mktemp("first")
    make_build(Build(write(folder)), folder / "out", stl_chord=0.5)
    return folder


@pytest.fixture
def made(first, tmp_path):
    """Its file and its outputs, for this test alone."""
    shutil.copytree(first, tmp_path, dirs_exist_ok=True)
    return tmp_path / "build.yaml", tmp_path / "out"


def test_only_what_hangs_on_the_point_is_made_again(tmp_path):
    path, out = write(tmp_path), tmp_path / "out"
    first = make_build(Build(path), out)
    assert [one.result.part.name for one in first.made] == ["A", "B"] and not first.failed
    assert {f.name for f in (out / "small").iterdir()} == {
        "small.step", "bought.csv", "made.csv", "stock.csv", "findings.txt", "build.json", "changes.txt",
        "state.json", "index.html", ".kept.zip",
    }  # fmt: skip
    kept = {f: f.stat().st_mtime_ns for f in out.rglob("*") if f.is_file()}

    again = make_build(Build(path), out)
    # changes.txt says that nothing moved: it is never that of a run before.
    assert not again.made and not again.changes
    assert [f.name for f in again.files] == ["changes.txt"]
    written = {f for f in kept if f.stat().st_mtime_ns != kept[f]}
    assert written <= {out / "small" / name for name in ("state.json", "changes.txt")}

    build = moved(path, "two: {at: [30, 0, 0]", "two: {at: [38, 0, 0]")
    ahead = against_last(build, out)
    second = make_build(build, out)
    assert [one.result.part.name for one in second.made] == ["A"]
    assert list(second.changes) == ahead
    assert {(one.part, one.what) for one in ahead} == {
        ("A", "shank.length"), ("A", "mass"), ("small", "hardpoint two")
    }  # fmt: skip
    (row,) = [one for one in ahead if one.what == "shank.length"]
    assert (row.before, row.after) == ("30 mm", "38 mm")
    assert not any(f.stat().st_mtime_ns != kept[f] for f in kept if f.parent.name == "B")
    assert "shank.length: 30 mm -> 38 mm" in (out / "small" / "changes.txt").read_text()
    page = (out / "small" / "index.html").read_text()
    assert (
        re.search("<td[^>]*>30 mm</td><td[^>]*>38 mm</td>", page)
        and 'href="../A/index.html"' in page
    )

    # Stock, bill, parts to make, findings and the files of each part are those of a build that was made all at once.
    fresh = tmp_path / "fresh"
    assert len(make_build(build, fresh).made) == 2
    for name in ("bought.csv", "made.csv", "stock.csv", "findings.txt", "small.step"):
        assert (out / "small" / name).read_bytes() == (fresh / "small" / name).read_bytes(), name
    for name in ("A", "B"):
        lists = [{f.name: f.read_bytes() for f in (folder / name).iterdir() if f.suffix in (".csv", ".step", ".json")}
                 for folder in (out, fresh)]  # fmt: skip
        assert lists[0] == lists[1]
    data = [json.loads((folder / "small" / "build.json").read_text()) for folder in (out, fresh)]
    assert data[0].pop("changes") != data[1].pop("changes")
    assert data[0] == data[1]


@pytest.mark.slow
def test_solids_that_are_kept_change_no_byte_of_what_is_made_fresh(tmp_path):
    path, out, anew = write(tmp_path), tmp_path / "out", tmp_path / "anew"
    make_build(Build(path), out)
    shutil.copytree(out, anew)
    build = moved(path, "two: {at: [30, 0, 0]", "two: {at: [38, 0, 0]")
    assert [one.result.part.name for one in make_build(build, out).made] == ["A"]
    all_of_it = make_build(Build(path), anew, fresh=True)
    assert [one.result.part.name for one in all_of_it.made] == ["A", "B"]
    files = [f.relative_to(out) for f in sorted(out.rglob("*")) if f.is_file()]
    assert files == [f.relative_to(anew) for f in sorted(anew.rglob("*")) if f.is_file()]
    assert [f for f in files if (out / f).read_bytes() != (anew / f).read_bytes()] == []


def test_what_is_damaged_or_hangs_on_something_else_is_worked_out_again(tmp_path):
    def worked(surroundings, on):
        store, done = Kept(tmp_path, surroundings), []
        found = store.value(lambda: done.append(on) or [1.0 / 3.0, float(on)], "sum", on)
        store.write()
        assert found == [1.0 / 3.0, float(on)]
        return len(done)

    assert [worked("one", 5) for _ in range(2)] == [1, 0]
    assert worked("one", 6) == 1 and worked("another", 6) == 1
    assert worked("one", 5) == 1  # what was not asked for went
    file = tmp_path / FILE
    for damaged in (file.read_bytes()[:-30], file.read_bytes().replace(b"0.33", b"0.34", 1), b""):
        file.write_bytes(damaged)
        assert [worked("one", 5) for _ in range(2)] == [1, 0]


def test_what_moved_in_the_build_itself_is_told_where_no_part_is_made_again(tmp_path):
    path, out = write(tmp_path, with_rear_end()), tmp_path / "out"
    make_build(Build(path), out)
    # The bar's preload is let off: no part of this build hangs on it.
    second = make_build(moved(path, "preload: 3.4 deg", "preload: 2.4 deg"), out)
    assert not second.made and not [one for one in second.changes if one.part != "small"]
    told = {one.what: (one.before, one.after) for one in second.changes}
    for what in ("sag with rider", "wheel rate at rest, with rider", "wheel force at full bump",
                 "rear wheel at full bump, by link on swing arm at pick up"):  # fmt: skip
        assert what in told, sorted(told)
    # Less wound, it sags more: by hand one degree of 18.39 at the bar is some 11 mm at the wheel here.
    before, after = (float(said.split()[0]) for said in told["sag with rider"])
    assert 5.0 < after - before < 20.0
    said = (out / "small" / "changes.txt").read_text()
    assert "sag with rider" in said and "check torsion bar, shear at the surface" in said
    assert not make_build(Build(path), out).changes


def test_what_is_gone_from_the_disk_is_made_again(made):
    path, out = made
    (out / "B" / "B.step").unlink()
    assert list(stale(Build(path), out, (0.5, 0.2))) == ["B"]
    (out / "small" / "state.json").write_text("{")
    assert list(stale(Build(path), out, (0.5, 0.2))) == ["A", "B"]


def test_other_outputs_are_other_parts(made):
    path, out = made
    assert list(stale(Build(path), out, (0.5, 0.2))) == []
    assert list(stale(Build(path), out, (0.05, 0.2))) == ["A", "B"]


def test_an_input_error_leaves_every_output_as_it_was(made):
    path, out = made
    before = {f: f.read_bytes() for f in out.rglob("*") if f.is_file()}
    build = moved(path, "one: {at: [0, 0, 0]", "one: {at: [29, 0, 0]")
    with pytest.raises(InputError):
        make_build(build, out)
    assert {f: f.read_bytes() for f in out.rglob("*") if f.is_file()} == before


def test_changes_against_a_revision(tmp_path):
    path = write(tmp_path)
    run = {"cwd": tmp_path, "check": True, "capture_output": True}
    subprocess.run(["git", "init", "-q"], **run)
    subprocess.run(["git", "add", "."], **run)
    who = ["-c", "user.name=builder", "-c", "user.email=builder@localhost"]
    subprocess.run(["git", *who, "commit", "-qm", "mock-up"], **run)
    build = moved(path, "offset: [0, 0, 32]", "offset: [0, 0, 35]")
    found = against_revision(build, "HEAD")
    assert [(one.part, one.what) for one in found if one.part == "B"] == [
        ("B", "shank.length"),
        ("B", "mass"),
    ]
    assert table(found).splitlines()[:2] == ["B", "  shank.length: 32 mm -> 35 mm"]
    for wrong in ("no-such-tag", "--all", "HEAD:x"):
        with pytest.raises(InputError, match=r"revision|git has none"):
            against_revision(build, wrong)


def test_a_part_is_read_through_its_build(tmp_path):
    write(tmp_path)
    assert parts.load(tmp_path / "a.yaml").shank.length == pytest.approx(30.0)
    (tmp_path / "c.yaml").write_text((tmp_path / "a.yaml").read_text())
    with pytest.raises(InputError, match="does not list this part"):
        parts.load(tmp_path / "c.yaml")
    (tmp_path / "c.yaml").write_text(
        (tmp_path / "a.yaml").read_text().replace("build.yaml", "other.yaml")
    )
    with pytest.raises(InputError, match="there is no build file"):
        parts.load(tmp_path / "c.yaml")


@pytest.mark.parametrize(
    ("old", "new", "field", "words"),
    [
        ("four: {from: three, offset: [0, 0, 32], within: 0.5}", "four: {from: thee, offset: [0, 0, 32]}",
         "hardpoints.four.from", "nearest is `three`"),
        ("three: {at: [0, 0, 100]}", "three: {from: four, offset: [0, 0, 1]}", "hardpoints.three.from",
         "three -> four -> three"),
        ("two: {at: [30, 0, 0], within: 2}", "two: {offset: [30, 0, 0]}", "hardpoints.two", "`at: [x, y, z]`"),
        ("two: {at: [30, 0, 0], within: 2}", "two: {at: [0, 0, 0]}", "shank.length", "one and two coincide"),
        ("two: {at: [30, 0, 0], within: 2}", "two: {at: [30, 0]}", "hardpoints.two.at", "2 values where 3"),
        ("x: forward, z: up", "x: forward", "parts[1].place", "give two of x, y and z"),
        ("x: forward, z: up", "x: forward, z: rearward", "parts[1].place", "along one line"),
        ("x: forward, z: up", "x: sidewards, z: up", "parts[1].place.x", "no direction"),
        ("origin: one", "origin: on", "parts[1].place", "nearest is `one`"),
        ("- file: b.yaml", "- file: bb.yaml", "parts[2].file", "there is no file"),
        ("build: small", "build: a", "build", "a part of it is called 'A' too"),
        ("units: mm", "units: mm\nfamily: clevis", "family", "this is the file of a part"),
        ("- file: b.yaml", "- file: a.yaml", "parts[2].file", "another part of the build is called"),
        ("z: up}", "z: up}\n    points: {pin: nowhere}", "parts[1].points.pin", "no hardpoint `nowhere`"),
        ("z: up}", "z: up}\n    body: tail", "parts[1].body", "no body `tail`"),
        ("units: mm", "units: mm\nhardpoint: {}", "hardpoint", "is no key here"),
        ("parts:", "cases:\n  - {type: seat, at: one}\nparts:", "cases[1].type", "states no `vehicle:`"),
        ("parts:", "cases:\n  - {type: stated, at: one, force: 3 N}\nparts:", "cases[1].name", "`name:`"),
        ("parts:", "links: {rod: {frame: one, body: two}}\nbodies: {lever: {hinge: two, link: rd, loaded_at: "
         "[one]}}\nparts:", "bodies.lever.link", "nearest is `rod`"),
        ("parts:", "links: {rod: {frame: one, body: two}}\nbodies: {lever: {hinge: two, link: rod, loaded_at: "
         "[aside]}}\ncases: [{type: stated, name: pull, at: aside, force: 3 N}]\nparts:", "cases[1]",
         "points at the hinge"),
    ],
)  # fmt: skip
def test_wrong_inputs(tmp_path, old, new, field, words):
    path = write(tmp_path, BUILD.replace(old, new, 1))
    problems = refused(path)
    told = [one for one in problems if one.field == field]
    assert len(told) == 1, [str(one) for one in problems]
    assert words in str(told[0])
    assert told[0].line > 0 and told[0].file.startswith(str(tmp_path))


def test_parts_that_take_from_each_other_in_a_circle(tmp_path):
    lengths = {
        "a.yaml": "{of: B, value: shank.length}",
        "b.yaml": "{half: {of: A, value: shank.length}}",
    }
    (problem,) = refused(write(tmp_path, lengths=lengths))
    assert "A -> B -> A" in str(problem)
    assert problem.file.endswith("a.yaml") and problem.field == "shank.length" and problem.line > 1


def test_the_rear_end_of_a_file_is_that_of_the_mechanics(tmp_path):
    from parts.standards.materials.materials import material
    from parts.vehicle.rear_end.linkage import Linkage
    from parts.vehicle.rear_end.suspension import Bar, RearEnd, response
    from parts.vehicle.rear_end.taken import values_of

    linkage = Linkage(
        pivot=(0, 0, 437), axle=(-486, 0, 320), pick_up=(-258, -64, 386), arm_end=(-262, -64, 251),
        bar=(-80, -64, 278), travel=110.0,
    )  # fmt: skip
    G = material("51CrV4 spring +QT", thickness_mm=18.5).G
    whole = response(
        RearEnd(linkage, Bar(18.5, 420.0, G), np.radians(3.4)), np.linspace(0.0, 110.0, 45)
    )
    rear = Build(write(tmp_path, with_rear_end())).rear
    np.testing.assert_allclose(rear.whole.link_force, whole.link_force, rtol=1e-12)
    np.testing.assert_allclose(rear.whole.wheel_rate, whole.wheel_rate, rtol=1e-12)
    # The arm's end turns about the bar by what the bar twists: the load square to it times its length.
    values = values_of(rear)
    torque = values["load square to the arm at rest"][0] * values["arm length"][0]
    still = rear.at(float(rear.rests.travel[1]))
    assert torque == pytest.approx(float(still.torque), rel=1e-12)


@pytest.mark.parametrize(
    ("old", "new", "field", "words"),
    [
        ("pick up: {at: [-258, -64, 386]}", "pick up: {at: [-258, -64, 600]}", "rear_end.turnbuckle",
         "longer than the 145.00 mm"),
        ("pick up: {at: [-258, -64, 386]}", "pick up: {at: [-258, -64, 372]}", "rear_end.turnbuckle",
         "shorter than the turnbuckle's shortest"),
        ("pick up: {at: [-258, -64, 386]}", "pick up: {at: [0, -64, 437]}", "rear_end", "coincide"),
        ("pick up: {at: [-258, -64, 386]}", "pick up: {at: [-262, -64, 251]}", "rear_end", "coincide"),
        ("arm end: {at: [-262, -64, 251]}", "arm end: {at: [-262, -64, 380]}", "rear_end", "link cannot reach"),
        ("travel: 110", "travel: 900", "rear_end", "too short to reach"),
        ("pick_up: pick up", "pick_up: pickup", "rear_end.pick_up", "nearest is `pick up`"),
        ("rear_unsprung: 16 kg", "rear_unsprung: 160 kg", "vehicle", "part of the machine's"),
        ("diameter: 18.5", "diameter: {of: A, value: shank.lenth}", "rear_end.bar.diameter.value",
         "nearest is `shank.length`"),
    ],
)  # fmt: skip
def test_a_rear_end_that_cannot_be(tmp_path, old, new, field, words):
    problems = refused(write(tmp_path, with_rear_end((old, new))))
    assert [one.field for one in problems] == [field], [str(one) for one in problems]
    assert words in str(problems[0]) and problems[0].line > 0


def test_a_link_shorter_than_its_minimum_is_told_where_its_part_says_so(tmp_path):
    for file in DEMO.parent.glob("*.yaml"):
        (tmp_path / file.name).write_text(file.read_text())
    build = moved(
        tmp_path / "build.yaml", "arm: {at: [-258, -64, 386]", "arm: {at: [-258, -64, 372]"
    )
    with pytest.raises(InputError) as caught:
        build.part("HC-106")
    (problem,) = [one for one in caught.value.problems if one.field == "pin_to_pin.nominal"]
    assert problem.file.endswith("hc-106-shock-link-turnbuckle.yaml") and "shortest" in str(problem)


def test_a_part_takes_from_the_rear_end_and_the_rear_end_from_a_part(tmp_path):
    text = with_rear_end(("diameter: 18.5", "diameter: {half: {of: B, value: ears.width}}"))
    lengths = {"a.yaml": "{of: rear end, value: bar diameter}", "b.yaml": "30 mm"}
    build = Build(write(tmp_path, text, lengths))
    assert build.references["A"] == ("rear end",) and "B" in build.references["rear end"]
    assert build.rear.entry.bar.diameter == pytest.approx(11.5)
    lengths["b.yaml"] = "{of: A, value: shank.length}"
    (problem,) = refused(write(tmp_path, text, lengths))
    assert "-> rear end" in str(problem) and problem.line > 1


def test_the_demo_build(tmp_path):
    build = build_of(DEMO)
    assert [*build.names] == sorted(one.stem[:6].upper() for one in DEMO.parent.glob("hc-*.yaml"))
    assert all(one.ok for case in build.cases for one in case.balances)
    assert max(v for n in build.names for v in _misfits(build, n)) < 0.2
    seat = digested(build)
    # The records of pieces that are made go along: a digest counts them.
    there = shutil.copytree(DEMO.parent, tmp_path / "params")
    higher = moved(
        there / "build.yaml",
        "seat mount: {at: [-300, 95, 700]",
        "seat mount: {at: [-300, 95, 715]",
    )
    other = digested(higher)
    # The strut, its clevis and the gusset below; and what holds the tail's hinge, by its loads.
    moved_on = {name for name in seat if seat[name] != other[name]}
    assert moved_on == {"HC-101", "HC-102", "HC-109", "HC-124", "HC-125", "HC-126"}
    # Strut foot to seat mount: 182 mm back and 275 mm up, before.
    grown = np.hypot(182.0, 290.0) - np.hypot(182.0, 275.0)
    change = higher.part("HC-102").pin_to_pin.nominal - build.part("HC-102").pin_to_pin.nominal
    assert change == pytest.approx(grown, abs=1e-6)


def _misfits(build, name):
    from parts.folders.build_data import misfits

    return misfits(build, name, build.part(name)).values()


def digested(build):
    from parts.folders.build import digests

    return digests(build)


def test_the_data_of_the_page_are_plain_and_whole():
    from parts.folders.build_data import build_page_data
    from parts.folders.records import record

    build = build_of(DEMO)
    made = {name: build.part(name) for name in build.names}
    kept = {name: record(build, name, made[name].check(), "") for name in ("HC-101", "HC-107")}
    data = build_page_data(build, {name: made[name] for name in kept}, kept)
    assert json.loads(json.dumps(data, allow_nan=False)) == data
    rear = data["rear_end"]
    assert {len(curve) for curve in rear["curves"].values()} == {len(rear["travel_mm"])}
    assert {"wheel_rate_N_per_mm", "bar_shear_MPa"} <= set(rear["curves"])
    assert rear["turnbuckle"] and rear["clocking"] and len(rear["at_rest"]) == 2
    assert all(one["ok"] for case in data["cases"] for one in case["balances"])
    assert all(one["ok"] for part in data["parts"] for one in part["balances"])
    assert all(factor["source"] for case in data["cases"] for factor in case["factors"])


def test_what_lies_off_its_hardpoint_is_told(tmp_path):
    from parts.folders.build_data import out_of_place

    text = BUILD.replace(
        "place: {origin: one, x: forward, z: up}",
        "place: {origin: one, x: forward, z: up}\n    points: {pin: two}", 1,
    )  # fmt: skip
    build = Build(write(tmp_path, text))
    made = {name: build.part(name) for name in build.names}
    # The pin is the origin; the hardpoint that it is to sit at lies 30 mm ahead, known to 2 mm.
    assert out_of_place(build, made) == [
        "A: its pin lies 30.0 mm off two, which was measured to 2.0 mm"
    ]


def test_tolerances_of_hardpoints_add_up(tmp_path):
    from parts.folders.build_data import tolerances

    build = Build(write(tmp_path))
    assert tolerances(build, "A") == {"shank.length": 3.0}
    assert tolerances(build, "B") == {"shank.length": 0.5}


def test_the_command_makes_a_build_and_none_of_its_parts_twice(tmp_path, monkeypatch):
    write(tmp_path)
    monkeypatch.chdir(tmp_path)
    files = sorted(file.name for file in tmp_path.glob("*.yaml"))

    run = oneoff("make", *files, "--json")
    assert run.returncode == 0
    assert [one["name"] for one in json.loads(run.stdout)["parts"]] == ["A", "B"]
    run = oneoff("changes", "build.yaml")
    assert (run.returncode, run.stdout) == (0, "Nothing moved.\n")
    moved(tmp_path / "build.yaml", "two: {at: [30, 0, 0]", "two: {at: [34, 0, 0]")
    run = oneoff("make", *files)
    assert run.returncode == 0 and "small: made A\n" in run.stdout
    assert "shank.length: 30 mm -> 34 mm" in run.stdout and "clear each other" not in run.stdout
    run = oneoff("check", "build.yaml", "--json")
    assert [one["name"] for one in json.loads(run.stdout)["parts"]] == ["A", "B"]
    _stands(tmp_path, files, monkeypatch)


def _stands(folder, files, monkeypatch):
    """A run that finds nothing changed says by digests alone what a whole one says; whatever it hangs on ends that."""
    words = [*files, "outputs"]
    outputs = folder / "outputs"

    def whole():
        with monkeypatch.context() as apart:
            apart.setattr("parts.cli.straight.stands", lambda _: None)
            return oneoff("make", *files)

    before = (outputs / "small/changes.txt").read_text()
    first = oneoff("make", *files)
    assert (outputs / "small/changes.txt").read_text() == "Nothing moved.\n" != before
    (outputs / "small/changes.txt").write_text(before)
    again = whole()
    assert "small: made nothing" in again.stdout and "changes.txt" in again.stdout
    assert (first.stdout, first.returncode) == (again.stdout, again.returncode)
    second, last = oneoff("make", *files), whole()
    assert second.stdout == last.stdout != first.stdout

    assert told(words, Path("outputs"))
    assert told(["build.yaml", "outputs"], Path("outputs")) is None
    (folder / "made").mkdir()
    own = next(file.name for file in (outputs / "A").iterdir() if file.suffix == ".step")
    for name in (
        "build.yaml", "a.yaml", "made/A-A.yaml", f"outputs/A/{own}", "outputs/B/report.json",
        "outputs/small/state.json", "outputs/index.html", "outputs/small/.stands.json", "params/printer.yaml",
    ):  # fmt: skip
        file = folder / name
        held = file.read_bytes() if file.exists() else None
        file.parent.mkdir(exist_ok=True)
        file.write_bytes((held or b"") + b"#")
        assert told(words, Path("outputs")) is None, name
        file.unlink()
        assert held is None or told(words, Path("outputs")) is None, name
        if held is not None:
            file.write_bytes(held)
        assert told(words, Path("outputs")), name


def test_a_part_that_names_another_build_is_refused_where_it_names_it(tmp_path):
    path = write(tmp_path)
    other = tmp_path / "other.yaml"
    other.write_text(path.read_text().replace("build: small", "build: other"))
    with pytest.raises(InputError) as caught:
        Build(other)
    (problem,) = caught.value.problems
    assert (problem.code, problem.field) == ("other_build", "build")
    assert problem.file.endswith("a.yaml") and problem.line > 0
    assert "write `build: other.yaml`" in problem.right
