"""A lever and the pivot of its bracket state one joint; what does not fit falls short."""

from pathlib import Path

import numpy as np
import pytest

from parts.vehicle.build import Build
from parts.vehicle.space.pivots import pivot_checks

DEMO = Path(__file__).parents[2] / "params"


@pytest.fixture(scope="module")
def levers():
    return {one.name: one for one in pivot_checks(Build(DEMO / "build.yaml"))}


def test_the_demos_levers_sit_on_their_pivots(levers):
    assert {name.split(",")[0] for name in levers} == {"HC-113 on HC-105", "HC-114 on HC-104"}
    assert all(one.ok for one in levers.values())
    # Half of two rings of 11 mm and the spacer of 4; the stub lifts the hub by its thrust bearing.
    assert levers["HC-113 on HC-105, room along the pivot"].demand == 13.0


@pytest.mark.parametrize(
    ("file", "old", "new", "name", "demand"),
    [
        ("hc-113-brake-pedal.yaml", "{of: HC-105, value: pedal.spacer}", "3 mm", "sizes of the pivot", 1.0),
        ("hc-113-brake-pedal.yaml", "{of: HC-105, value: pedal.bearing}", "6002-2RS", "sizes of the pivot", 3.0),
        ("hc-114-shift-lever.yaml", "{of: HC-104, value: shift.shoulder}", "13 mm", "sizes of the pivot", 1.0),
        ("hc-114-shift-lever.yaml", "length: 24 mm", "length: 30 mm", "room along the pivot", 15.0),
    ],
)  # fmt: skip
def test_another_size_falls_short(tmp_path, file, old, new, name, demand):
    for path in DEMO.rglob("*.yaml"):
        copy = tmp_path / path.relative_to(DEMO)
        copy.parent.mkdir(exist_ok=True)
        text = path.read_text()
        assert path.name != file or old in text
        copy.write_text(text.replace(old, new) if path.name == file else text)
    found = [
        one
        for one in pivot_checks(Build(tmp_path / "build.yaml"))
        if name in one.name and not one.ok
    ]
    assert [float(one.demand) for one in found] == pytest.approx([demand])


def test_a_bush_does_not_go_on_a_stub_for_bearings(tmp_path):
    for path in DEMO.rglob("*.yaml"):
        copy = tmp_path / path.relative_to(DEMO)
        copy.parent.mkdir(exist_ok=True)
        text = path.read_text()
        if path.name == "build.yaml":
            text = text.replace("shift: shift pivot}", "shift: pedal pivot}")
            text = text.replace("pivot: shift pivot, toe", "pivot: pedal pivot, toe")
        copy.write_text(text)
    found = {one.name: one for one in pivot_checks(Build(tmp_path / "build.yaml"))}
    wrong = found["HC-114 on HC-105, sizes of the pivot"]
    assert np.isinf(wrong.demand) and not wrong.ok
