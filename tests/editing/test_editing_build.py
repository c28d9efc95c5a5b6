"""A part of a build, and a build itself, in hand: what was kept of the build gives what reading it anew gives."""

from pathlib import Path

import pytest

from parts import load
from parts.editing.build_answer import BuildReader
from parts.editing.reading import Reader
from parts.editing.typed import edits_of
from parts.inputs.edited import NotEdited, edited

PARAMS = Path(__file__).parents[2] / "params"


@pytest.fixture(scope="module")
def demo(tmp_path_factory):
    folder = tmp_path_factory.mktemp("demo")
    for file in PARAMS.rglob("*.yaml"):
        copy = folder / file.relative_to(PARAMS)
        copy.parent.mkdir(exist_ok=True)
        copy.write_bytes(file.read_bytes())
    return folder


@pytest.mark.parametrize(
    "name, before, after, kept",
    [
        # Peg and shift lever take from it, and give nothing back.
        ("hc-104-foot-bracket-left", "thickness: 24 ", "thickness: 25 ", True),
        ("hc-107-brake-rod-clevis", "length: 22 mm", "length: 24 mm", True),
        # So does HC-101.
        ("hc-102-subframe-link", "name: HC-102\n", "name: HC-102\nquantity: 2\n", True),
        # The rear end moves by its length, and takes nothing else of it.
        pytest.param(
            "hc-106-shock-link-turnbuckle",
            "edge_break: 0.5 mm",
            "edge_break: 0.6 mm",
            True,
            marks=pytest.mark.slow,
        ),
        ("hc-106-shock-link-turnbuckle", "maximum: 143 mm", "maximum: 142 mm", False),
    ],
)
def test_a_part_of_a_build_is_what_reading_it_anew_gives(demo, name, before, after, kept):
    file = demo / f"{name}.yaml"
    text = file.read_text()
    assert text.count(before) == 1
    changed = text.replace(before, after)
    reader = Reader(file)
    reader.warm()
    texts = {str(file): changed}
    assert (reader._kept(reader.document(texts), texts) is not None) is kept
    part = reader.part(texts)
    file.write_text(changed)
    try:
        anew = load(file)
    finally:
        file.write_text(text)
    assert part.model_dump() == anew.model_dump() and len(part.loads) >= 1
    # The build that was kept is as it was.
    assert reader.part({}).model_dump() == load(file).model_dump()


def test_a_place_that_the_build_gives_is_not_changed_in_the_file_of_the_part(demo):
    document = Reader(demo / "hc-104-foot-bracket-left.yaml").document({})
    for asked in ({"path": "peg.at", "to": [1, 2]}, {"path": "peg.at[1]", "value": "12 mm"}):
        with pytest.raises(NotEdited, match="the build gives `peg"):
            edits_of(asked, document)


def test_a_hardpoint_moves_the_parts_that_hang_on_it_and_no_other(demo):
    file = demo / "build.yaml"
    text = file.read_text()
    reader = BuildReader(file)
    next(reader.steps())
    path = "hardpoints.seat mount.at"
    document = reader.document({})
    changed = edited(text, edits_of({"path": path, "to": [-300, 107, 700]}, document))
    assert changed == text.replace(
        "seat mount: {at: [-300, 95, 700]", "seat mount: {at: [-300, 107, 700]"
    )
    stages = {}
    for told in reader.answers({str(file): changed}):
        stages[told["stage"]] = told
        if told["stage"] == "reformed" and all(
            not one["changed"] or one["holds"] is not None for one in told["parts"]
        ):
            break  # the solids take long
    assert stages["problems"]["problems"] == []
    assert {one["name"] for one in stages["reformed"]["parts"] if one["changed"]} == {
        *("HC-101", "HC-102", "HC-109"),
        *("HC-124", "HC-125", "HC-126"),  # the hinge takes what one strut alone does not
    }
    handle = next(one for one in stages["read"]["plan"]["handles"] if one["name"] == "seat mount")
    assert handle["full"] == [-300, 107, 700] and handle["path"] == path
    wrong = edited(text, edits_of({"path": f"{path}[1]", "value": "near"}, document))
    problems = next(reader.answers({str(file): wrong}))["problems"]
    assert problems and "near" in problems[0]["wrong"] + problems[0]["value"]
