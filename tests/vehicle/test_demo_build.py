"""The demo build as a whole, made, moved and made again."""

import json
from pathlib import Path

import pytest

from parts.core.group import Group
from parts.families import families
from parts.folders.build import make_build
from parts.inputs.reading import read_parsed
from parts.vehicle.build import Build

DEMO = Path(__file__).parents[2] / "params"


@pytest.mark.slow
def test_the_seat_goes_up_and_what_hangs_on_it_follows(tmp_path):
    for file in DEMO.glob("*.yaml"):
        (tmp_path / file.name).write_text(file.read_text())
    path, out = tmp_path / "build.yaml", tmp_path / "out"
    first = make_build(Build(path), out)
    assert not first.failed and first.ok and len(first.made) == 16
    own = out / "hill climber"
    data = json.loads((own / "build.json").read_text())
    assert data["interference"] == [] and data["cannot_be_put_together"] == []
    assert all(one["ok"] for part in data["parts"] for one in part["balances"])
    assert len(data["weights"]) == 19  # three of the sixteen parts stand on both sides

    text = path.read_text()
    assert "seat mount: {at: [-300, 95, 700]" in text
    path.write_text(text.replace("[-300, 95, 700]", "[-300, 95, 715]"))
    second = make_build(Build(path), out)
    assert [one.result.part.name for one in second.made] == ["HC-101", "HC-102", "HC-109"]
    assert {one.part for one in second.changes} == {"HC-101", "HC-102", "HC-109", "hill climber"}
    said = (own / "changes.txt").read_text()
    assert "pin_to_pin.nominal: 329.771 mm -> 342.38 mm" in said and "mass: " in said

    third = make_build(Build(path), out)
    assert not third.made and not third.changes and third.files == (own / "changes.txt",)
    assert (own / "changes.txt").read_text() == "Nothing moved.\n"
    assert not make_build(Build(path), out).files


def test_a_part_read_first_without_its_loads_is_the_part_read_with_them_at_once():
    build = Build(DEMO / "build.yaml")
    taken_from = [name for name in build.names if build.bare(name) and build.loads(name)]
    assert len(taken_from) > 3
    for name in taken_from:
        part, bare = build.part(name), build.bare(name)
        stated = [
            one
            for key in build.written(name).data
            if isinstance(one := getattr(bare, key, None), Group)
        ]
        assert stated and all(any(one is own for _, own in part) for one in stated)
        assert part.model_dump() == read_parsed(build.stated(name), families()).model_dump()
