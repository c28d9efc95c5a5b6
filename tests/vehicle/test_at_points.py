"""Parts that only loads at stated points can reach are read without the rest of the build, and take the same loads."""

import pytest
from builds import DEMO, copied, moved
from command import oneoff

import parts
from parts.inputs.problems import InputError
from parts.vehicle.build import Build

APART = ("HC-101", "HC-102", "HC-104", "HC-105", "HC-107", "HC-109")


@pytest.fixture(scope="module")
def whole():
    build = Build(DEMO)
    _ = build.ends
    return build


def test_each_part_takes_the_same_loads_alone_as_with_all_of_the_build(whole):
    alone = Build(DEMO)
    for name in sorted(alone.names, key=lambda one: one not in APART):
        assert alone.loads(name) == whole.loads(name), name
        assert ("ends" in vars(alone)) == (name not in APART), name
    assert sum(map(len, map(whole.loads, APART))) >= 6


def test_what_is_wrong_with_another_load_is_told_by_the_build_and_not_by_such_a_part(tmp_path):
    build = copied(tmp_path, ("  tyre_rate: 180 ", "  # tyre_rate: 180 "))
    assert parts.load(tmp_path / "hc-107-brake-rod-clevis.yaml").loads
    with pytest.raises(InputError, match="tyre_rate"):
        parts.load(tmp_path / "hc-103-torsion-arm.yaml")
    run = oneoff("check", build)
    assert run.returncode == 2 and "tyre_rate" in run.stderr


@pytest.mark.parametrize(
    "old, new",
    [
        ("points: {pin: pedal lever eye}", "points: {pin: seat}"),
        ("brake rod: M6 rod of 4130", "tail: seat rail"),
        ("loaded_at: [brake pedal pad]", "loaded_at: [kick lever pad]"),
    ],
    ids=["its point sits elsewhere", "another load of the rod ends nowhere", "its body bears nothing"],
)  # fmt: skip
def test_a_load_that_such_a_part_lost_is_refused(tmp_path, old, new):
    moved(copied(tmp_path), old, new)
    with pytest.raises(InputError):
        parts.load(tmp_path / "hc-107-brake-rod-clevis.yaml")


def test_a_part_of_the_frame_where_the_engine_hangs_is_read_with_all_of_it(tmp_path, whole):
    moved(copied(tmp_path), "points: {peg: left peg,", 'points: {peg: "head steady",')
    build = Build(tmp_path / "build.yaml")
    names = {one["name"] for one in build.loads("HC-104")}
    assert "ends" in vars(build) and "acceleration" in names
    assert "acceleration" not in {one["name"] for one in whole.loads("HC-104")}
