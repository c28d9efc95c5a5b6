"""The checks of a build itself: they are told, they count, and they are what a hand calculation gives."""

import json
import re
from dataclasses import replace
from importlib.resources import files

import jsonschema
import numpy as np
import pytest
from builds import DEMO, copied, parts_as_checked, refused, with_rear_end, write
from command import oneoff

from parts.families import families
from parts.vehicle.build import Build
from parts.vehicle.checks import allowed_swings, check_build
from parts.vehicle.rear_end.suspension import response

SEVEN = re.compile(r"swing_needed: \{sum: .*")
PICK_UP, ARM_END = "joint at link on swing arm, swing", "joint at link on arm, swing"
SHEAR, LET_OFF = "torsion bar, shear at the surface", "torsion bar, let off over the travel"


def demo(folder, *changes, typed=False):
    """The demo build in a folder, texts of its file replaced; `typed` has the link's swing by hand."""
    path = copied(folder, *changes)
    link = folder / "hc-106-shock-link-turnbuckle.yaml"
    if typed:
        text, count = SEVEN.subn("swing_needed: 7 deg", link.read_text())
        assert count == 2
        link.write_text(text)
    return path


def by_name(found):
    return {one.name: one for one in found.checks}


def leant(y):
    """The link's pick-up moved aside, the arm left where it is."""
    return "link on swing arm: {at: [-258, -64, 386]", f"link on swing arm: {{at: [-258, {y}, 386]"


@pytest.mark.slow
def test_the_demo_holds_and_is_told_with_its_parts(tmp_path):
    with parts_as_checked():
        run = oneoff("check", "--json", *sorted(DEMO.parent.glob("*.yaml")))
    assert run.returncode == 0
    document = json.loads(run.stdout)
    schema = json.loads(files("parts.report").joinpath("report.schema.json").read_text())
    jsonschema.Draft202012Validator(schema).validate(document)
    parts = document["parts"]
    assert len(parts) == len([*DEMO.parent.glob("hc-*.yaml")]) >= 8
    assert {one["family"] for one in parts} <= {*families()}
    assert all(one["ok"] for one in parts)
    assert all(g["factor"] >= g["required"] for g in (one["governing"] for one in parts))
    (build,) = document["builds"]
    assert build["ok"]
    build["checks"] = [
        one
        for one in build["checks"]
        if "mount 1 through" not in one["name"]
        and one["mode"] not in ("place", "askew", "joint", "lean", "load path")
    ]
    assert {one["name"] for one in build["checks"]} == {SHEAR, LET_OFF, PICK_UP, ARM_END}
    assert set(build["checks"][0]) == set(document["parts"][0]["checks"][0])
    assert all(re.search(r"\d mm of travel, link ", one["load_case"]) for one in build["checks"])
    with parts_as_checked():
        run = oneoff("check", DEMO)
    own = run.stdout.partition("the build itself\n")[2]
    assert run.returncode == 0 and own.startswith("holds: factor ") and "let off" in own
    assert max(map(len, own.splitlines())) <= 100


@pytest.mark.slow
def test_a_joint_that_binds_is_status_1_and_named_with_its_swing_and_limit(tmp_path):
    path = demo(tmp_path, leant(-25), typed=True)
    with parts_as_checked():
        run, told = oneoff("check", path), oneoff("check", "--json", path)
    assert run.returncode == 1
    # Pins that lie crosswise: the link leans by 39 mm over its length, 132.5 mm at its shortest.
    lean = np.degrees(np.arcsin(39.0 / 132.5))
    said = " ".join(run.stdout.partition("the build itself")[2].split())
    for name in (PICK_UP, ARM_END):
        assert (
            f"{name}: {lean:.2f} deg at 0 mm of travel, link at its shortest, where 13.85 deg"
            in said
        )
    document = json.loads(told.stdout)
    (build,) = document["builds"]
    assert not build["ok"] and build["governing"]["mode"] == "swing"
    short = {one["name"] for one in build["checks"] if not one["ok"]}
    assert short == {PICK_UP, ARM_END}


@pytest.mark.parametrize("y", [-76.0, -59.0])
def test_the_swing_is_that_of_the_link_against_its_pins_by_hand(tmp_path, y):
    """Places by turning the arms by hand, and the link's length met by halving."""
    rear = Build(demo(tmp_path, leant(y), typed=True)).rear

    def about(axis, place, angle):
        x, z = place[0] - axis[0], place[2] - axis[1]
        return np.array([
            axis[0] + x * np.cos(angle) + z * np.sin(angle), place[1],
            axis[1] - x * np.sin(angle) + z * np.cos(angle),
        ])  # fmt: skip

    pick_up, arm_end, axle = ([-258, y, 386], [-262, -64, 251], [-486, 0, 320])
    length = np.linalg.norm(np.subtract(pick_up, arm_end))
    worst = 0.0
    for travel in np.linspace(0.0, 110.0, 23):
        swing = _halved(lambda a: about((0, 437), axle, a)[2] - 320 - travel, 0.0, 0.6)  # noqa: B023
        joint = about((0, 437), pick_up, swing)
        turn = _halved(
            lambda a: np.linalg.norm(joint - about((-80, 278), arm_end, a)) - length,  # noqa: B023
            -0.2, 1.2,
        )  # fmt: skip
        way = joint - about((-80, 278), arm_end, turn)
        worst = max(worst, np.degrees(np.arcsin(abs(way[1]) / np.linalg.norm(way))))
    for key in ("pick_up_swing", "arm_swing"):
        found = np.degrees(
            np.max(getattr(response(rear.end, np.linspace(0.0, 110.0, 23)).motion, key))
        )
        assert found == pytest.approx(worst, rel=1e-9)


def _halved(of, low, high):
    below = of(low) < 0.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if (of(middle) < 0.0) == below else (low, middle)
    return 0.5 * (low + high)


@pytest.mark.parametrize(
    ("change", "name"),
    [
        (("length: 405", "length: 205"), SHEAR),
        (("preload: 3.4 deg", "preload: 3 deg"), LET_OFF),
    ],
)
def test_a_bar_that_is_too_weak_falls_short(tmp_path, change, name):
    found = check_build(Build(demo(tmp_path, change)))
    assert not found.ok and [one.name for one in found.checks if not one.ok] == [name]
    assert found.governing.name == name


@pytest.mark.parametrize(("length", "status"), [(520, 0), (205, 1)])
def test_a_bar_that_is_too_weak_is_status_1(tmp_path, length, status):
    run = oneoff("check", write(tmp_path, with_rear_end(("length: 420", f"length: {length}"))))
    assert run.returncode == status
    own = run.stdout.partition("the build itself\n")[2]
    assert own.startswith("does not hold" if status else "holds: factor ") and SHEAR in own


def test_a_bar_holds_as_drawn_and_falls_short_where_the_link_can_be_turned_to(tmp_path):
    build = Build(demo(tmp_path, ("length: 405", "length: 220")))
    shear = by_name(check_build(build))[SHEAR]
    assert build.rear.shear.ok and "shortest" in shear.load_case and not shear.ok
    end = response(build.rear.end, 110.0, build.part("HC-106").pin_to_pin.minimum)
    off = build.rear.tolerance(110.0, "link at its shortest")
    assert shear.demand == pytest.approx(float(end.shear * (1.0 + off / end.torque)), rel=1e-12)
    assert 0.02 < off / end.torque < 0.06


def test_what_the_points_may_be_off_is_worked_by_hand(tmp_path):
    """The bar's line alone off by 0.5 mm: each coordinate moved by hand, the turns of the bar summed."""
    build = Build(demo(tmp_path))
    rear, linkage = build.rear, build.rear.end.linkage
    only = replace(rear, within={"bar": 0.5})
    torque = float(rear.at(110.0).torque)
    by_hand = 0.0
    for axis in range(3):
        place = np.array(linkage.bar, float)
        place[axis] += 0.5
        moved = rear.end._replace(linkage=replace(linkage, bar=place))
        by_hand += abs(float(response(moved, 110.0, float(linkage.drawn_length)).torque) - torque)
    assert by_hand > 0.0
    assert only.tolerance(110.0, "link as drawn") == pytest.approx(by_hand, rel=1e-9)


def test_parts_bear_the_worst_setting_of_the_link_and_of_the_points(tmp_path):
    build = Build(demo(tmp_path))
    bump = next(one for one in build.part("HC-103").loads if one.name == "rear wheel at full bump")
    torque = float(build.part("HC-103").torque(bump))
    shortest = response(build.rear.end, 110.0, build.part("HC-106").pin_to_pin.minimum)
    # The link's force may be off by more than the bar's torque: a joint moved aside takes of its lever too.
    shares = [
        build.rear.tolerance(110.0, "link at its shortest", of) / abs(float(getattr(shortest, of)))
        for of in ("torque", "link_force")
    ]
    assert 0.02 < shares[0] < shares[1] < 0.05
    assert torque == pytest.approx(
        float(shortest.torque) * (1.0 + shares[1]), rel=2e-3
    )  # 1e-6 N a component
    assert torque > 1.05 * float(build.rear.at(110.0).torque)


def test_the_link_takes_its_swing_from_the_build_and_its_own_rule_tells_of_it(tmp_path):
    build = Build(demo(tmp_path, leant(-60)))
    link = build.part("HC-106")
    lean = np.arcsin(4.0 / float(build.rear.end.linkage.drawn_length)) + np.radians(7.0)
    assert link.end_a.swing_needed == pytest.approx(lean, abs=1e-8)
    assert link.end_b.swing_needed == pytest.approx(lean, abs=1e-8)
    run = oneoff("check", demo(tmp_path, leant(-44)))
    assert run.returncode == 2
    assert "end_a.swing_needed" in run.stderr and "end_b.swing_needed" in run.stderr
    assert run.stderr.count("15.42 deg where at most 13.85 deg is needed") == 2


def test_the_narrowest_clevis_sets_what_a_joint_may_swing(tmp_path):
    build = Build(demo(tmp_path))
    own = allowed_swings(build, build.rear)
    assert {at: one.swing for at, one in own.items()} == {
        "link on swing arm": pytest.approx(build.part("HC-106").end_b.swing()),
        "link on arm": pytest.approx(build.part("HC-103").end.ears.throat.swing()),
    }
    # No spacers in the arm's fork: its ears stop the head sooner than the race would.
    arm = tmp_path / "hc-103-torsion-arm.yaml"
    text = arm.read_text()
    for field, value in (("spacer", "0.2 mm"), ("swing_needed", "1 deg")):
        form = f"{field}: {{of: HC-106, value: end_a.{field}}}"
        assert form in text
        text = text.replace(form, f"{field}: {value}")
    arm.write_text(text)
    tight = Build(tmp_path / "build.yaml")
    found = allowed_swings(tight, tight.rear)["link on arm"]
    assert found.swing < 0.9 * own["link on arm"].swing and found.by == "HC-103, end"


def test_what_no_part_limits_is_named_and_a_build_without_rear_end_says_so(tmp_path):
    found = check_build(Build(write(tmp_path, with_rear_end())))
    # Its bar is not preset, and none of its parts sits at a joint.
    assert [one.name for one in found.checks] == [SHEAR] and len(found.uncovered) == 3
    assert "swing of the joint at pick up" in found.uncovered[1]
    found = check_build(Build(write(tmp_path)))
    assert found.checks == () and found.ok and "no rear end" in found.uncovered[1]


def test_a_bar_of_no_spring_material_is_told_at_its_material(tmp_path):
    (problem,) = refused(write(tmp_path, with_rear_end(("51CrV4 spring +QT", "6061-T6"))))
    assert problem.field == "rear_end.bar.material" and "spring steel" in str(problem)


def test_the_range_of_the_link_is_held_against_the_linkage(tmp_path):
    longer = ("longest: 145", "longest: 400")
    (problem,) = refused(write(tmp_path, with_rear_end(longer)))
    assert problem.field == "rear_end.turnbuckle" and "link" in str(problem)


def test_a_link_that_takes_what_hangs_on_itself_is_a_circle(tmp_path):
    text = with_rear_end(("travel: 110", "travel: {of: A, value: shank.length}"))
    lengths = {"a.yaml": "{of: rear end, value: arm length}", "b.yaml": "30 mm"}
    (problem,) = refused(write(tmp_path, text, lengths))
    assert "-> rear end" in str(problem)


def test_making_a_build_counts_its_own_checks(tmp_path, monkeypatch):
    changes = (
        ("length: 420", "length: 200"),
        ("51CrV4 spring +QT", "51CrV4 spring +QT, preset: true"),
    )
    write(tmp_path, with_rear_end(*changes))
    monkeypatch.chdir(tmp_path)
    run = oneoff("make", "build.yaml")
    assert run.returncode == 1 and "A: holds, no loads" in run.stdout
    assert SHEAR in " ".join(run.stdout.partition("the build itself")[2].split())
    data = json.loads((tmp_path / "outputs" / "small" / "build.json").read_text())
    assert data["ok"] is False and data["governing"]["name"] in (SHEAR, LET_OFF)
    page = (tmp_path / "outputs" / "small" / "index.html").read_text()
    assert "Checks of the build itself" in page and "FALLS SHORT" in page
    run = oneoff("make", "build.yaml", "--json")
    (build,) = json.loads(run.stdout)["builds"]
    assert run.returncode == 1 and build["checks"] == data["checks"]
