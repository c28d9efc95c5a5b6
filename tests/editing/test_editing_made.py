"""A finished clevis measured over HTTP, as its page does: judged as made, its record kept, and where it may not be."""

import csv
import re
import time

import pytest
from calling import WAIT, told
from test_editing import TEXT

from parts.editing.made import files_of
from parts.study.made.as_made import as_made


@pytest.fixture(scope="module")
def stated():
    return TEXT


@pytest.fixture(scope="module")
def sheet(handed):
    return told(handed[0], "sheet")


def row(sheet, name, measured):
    [one] = [one for one in sheet["sheets"][0]["rows"] if one["name"] == name]
    return {"sheet": 0, "number": one["number"], "name": name, "measured": measured}


def judged(work, caller, **asked):
    before = work.board.get("judged")
    assert caller.post("measured", asked) == (200, "")
    end = time.monotonic() + WAIT
    while (found := work.board.get("judged")) is before:
        assert time.monotonic() < end
        time.sleep(0.02)
    return found


def test_rows_are_numbered_and_have_the_limits_of_the_drawing(sheet):
    """ISO 2768-m: 0.2 mm over 6 up to 30."""
    [width] = [one for one in sheet["sheets"][0]["rows"] if one["name"] == "width of the ears"]
    assert (width["low"], width["high"]) == pytest.approx((22.8, 23.2))
    numbers = [one["number"] for one in sheet["sheets"][0]["rows"]]
    assert numbers == sorted(set(numbers))


def used_up(change):
    """How much of what was left below its limit a check that holds has lost [-]."""
    before, after = (one["required"] / one["factor"] for one in (change["drawn"], change["made"]))
    return (after - before) / (1.0 - before)


def test_a_thin_ear_is_judged_as_made_kept_and_written_over_only_where_asked(handed, sheet):
    """An ear of 6.05 mm for 6.35 mm leaves 6.05/6.35 of its bearing; a pin of 0.3745 in is read in inches."""
    work, caller = handed
    joint = next(one for one in sheet["joints"] if one["size"].startswith("NAS"))
    asked = {
        "rows": [row(sheet, "thickness of an ear", "6.05"), row(sheet, "width of the ears", "0.9055 in")],
        "fits": [{"joint": joint["joint"], "size": joint["size"], "measured": "0.3743 in"}],
        "record": {
            "who": "own shop", "when": "2026-11-14", "tools": ["caliper 0-150"], "within": "0.02 mm",
            "metal": [{"what": "Ti-6Al-4V bar", "heat": "T-1", "certificate": "20551"}],
            "torque": [{"of": "pin", "put_on": "20 N*m"}],
        },
    }  # fmt: skip
    made = work.folder / "made"
    kept = judged(work, caller, keep=True, **asked)
    found = kept["found"]
    moved = [one for one in found["changes"] if "bearing" in one["made"]["name"]]
    assert moved[0]["made"]["factor"] / moved[0]["drawn"]["factor"] == pytest.approx(
        6.05 / 6.35, rel=0.02
    )
    lost = [used_up(one) for one in found["changes"]]
    assert lost == sorted(lost, reverse=True) and lost[0] > 0.0
    assert [one["outside"] for one in found["sizes"] if one["dimension"] == "ears.thickness"] == [True]  # fmt: skip
    assert kept["kept"] == ["made/HC-150-A.yaml", "made/HC-150-A-sheet-1.csv"]
    same = as_made(work.file)
    entry = same.record.entry
    assert {one.dimension.path: one.measured for one in same.sizes} == pytest.approx(
        {"ears.thickness": 6.05, "ears.width": 22.9997}
    )
    assert (entry.who, entry.metal[0].heat, entry.torque[0].put_on) == ("own shop", "T-1", 20e3)
    assert entry.fits == {joint["joint"]: {joint["size"]: pytest.approx(0.3743 * 25.4, abs=1e-5)}}
    [again] = work.board.get("kept")["pieces"]
    assert again["record"] == {
        **asked["record"], "torque": [{"of": "pin", "put_on": "20 N*m"}], "notes": [],
        "metal": [{"of": "all", **asked["record"]["metal"][0]}],
    }  # fmt: skip
    assert [(one["sheet"], one["name"], one["measured"]) for one in again["rows"]] == [
        (0, "thickness of an ear", "6.05000"), (0, "width of the ears", "22.99970")
    ]  # fmt: skip
    tables = [files_of("HC-150", "A", one)["HC-150-A-sheet-1.csv"] for one in (again, asked)]
    assert tables[0] == tables[1]
    record = made / "HC-150-A.yaml"
    record.write_text(record.read_text() + "proof_load: {test: t.json, readings: r.csv}\n")
    status, said = caller.post("measured", {"keep": True, **asked})
    assert status == 409 and "is there already" in said
    asked["rows"] = [row(sheet, "width of the ears", "23.02")]
    judged(work, caller, keep=True, over=True, **asked)
    assert as_made(work.file).record.entry.proof_load.test == "t.json"
    with (made / "HC-150-A-sheet-1.csv").open() as file:
        assert [one["measured_mm"] for one in csv.DictReader(file)] == ["23.02000"]


@pytest.mark.parametrize(
    ("asked", "says"),
    [
        ({"piece": "../../out"}, "cannot name a folder"),
        ({"rows": [{"sheet": 0, "number": 1, "name": "ears", "measured": "wide"}]}, "ears: .*wide"),
        ({"rows": [{"number": 1}]}, "cannot be understood"),
        ({"rows": 5}, "cannot be understood"),
    ],
    ids=["path", "word", "no sheet", "no rows"],
)  # fmt: skip
def test_what_is_no_reading_is_refused(handed, sheet, asked, says):
    status, said = handed[1].post("measured", {"keep": True, **asked})
    assert status == 400 and re.search(says, said)


@pytest.mark.slow
def test_nothing_is_kept_from_elsewhere_through_a_link_or_of_a_file_not_written(
    handed, sheet, tmp_path
):
    work, caller = handed
    asked = {"keep": True, "piece": "7", "rows": [row(sheet, "width of the ears", "23")]}
    assert caller.post("measured", asked, **{"X-Token": "no"})[0] == 403
    assert caller.post("measured", asked, Origin="http://elsewhere")[0] == 403
    made = work.folder / "made"
    aside = work.folder / "aside"
    if made.exists():
        made.rename(aside)
    made.symlink_to(tmp_path)
    status, said = caller.post("measured", asked)
    assert status == 409 and "link" in said and not list(tmp_path.iterdir())
    made.unlink()
    caller.change("ears.width", "24 mm")
    status, said = caller.post("measured", asked)
    assert status == 409 and "save first" in said
    caller.post("undo")
    told(work, "sheet")
    wrong = judged(work, caller, **{**asked, "record": {"when": "yesterday"}})
    assert "when" in wrong["wrong"] and "/tmp" not in wrong["wrong"] and wrong["kept"] == []
    assert not made.exists()
