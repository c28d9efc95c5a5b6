"""The command `lookup`: what it prints, in which units, and how it refuses."""

import json
import re
import subprocess
import sys

import pytest
from command import oneoff

from parts.report.lookup import KINDS, as_json, as_text, look_up
from parts.report.lookup.answer import UNITS, Answer, Entry, Grid, Group
from parts.standards.designation import UnknownDesignation


def run(*words: str) -> tuple[int, str, str]:
    ended = oneoff("lookup", *words)
    return ended.returncode, ended.stdout, ended.stderr


def test_words_need_no_quotes() -> None:
    apart = run("thread", "3/8-24", "UNF", "LH")
    assert apart == run("thread 3/8-24 UNF LH")
    assert apart[0] == 0 and apart[2] == ""


def test_text_holds_both_units() -> None:
    """3/8 in is 9.525 mm exactly."""
    _, out, _ = run("3/8-24")
    assert re.search(r"major diameter +9\.525 mm +0\.3750 in", out)
    assert "source:" in out


def test_json_is_one_document_and_nothing_else() -> None:
    code, out, err = run("--json", "6202")
    assert (code, err) == (0, "")
    document = json.loads(out)
    assert document["kind"] == "bearing" and document["sources"]
    assert out == as_json(look_up(["6202"]))


@pytest.mark.parametrize("wide", ["--json", ""])
def test_a_wrong_designation_ends_with_2(wide) -> None:
    code, out, err = run(*filter(None, [wide, "bearing", "6299"]))
    assert (code, out) == (2, "")
    assert err.count("\n") == 1 and "nearest: 629" in err


def test_nothing_lists_the_kinds() -> None:
    code, out, _ = run()
    assert code == 0
    names = [kind.name for kind in KINDS]
    assert [line.split("  ")[0].strip() for line in out.splitlines()] == names
    _, out, _ = run("--json")
    assert [kind["kind"] for kind in json.loads(out)["kinds"]] == names


def test_a_look_up_waits_for_nothing_heavy() -> None:
    """What costs most of a second to import stays out; so do numpy and pydantic where nothing is computed."""
    heavy = ("cadquery", "OCP", "vtk", "scipy", "shapely", "rich", "pydantic", "numpy", "yaml")
    code = (
        "import sys\n"
        "from parts.report.lookup import look_up\n"
        "look_up(['3/8-24 UNF'])\n"
        f"print([name for name in {heavy} if name in sys.modules])\n"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.name)
def test_every_unit_of_json_stands_in_its_key(kind) -> None:
    """A number without a unit in its key is a count or a ratio, and these are all named here."""
    endings = tuple(f"_{unit.key}" for unit in UNITS.values() if unit.key)
    pure = {"teeth", "poisson_s_ratio", "stress_ratio", "class"}
    document = json.loads(as_json(look_up([kind.name, kind.example])))
    for group in document.values():
        for row in group if isinstance(group, list) else [group]:
            for key, value in row.items() if isinstance(row, dict) else ():
                if isinstance(value, float | int) and not isinstance(value, bool):
                    assert key.endswith(endings) or key in pure, key


@pytest.mark.parametrize(
    ("unit", "value", "inch"),
    # Exact: 1 in = 25.4 mm, 1 lbf = 4.4482216152605 N, 1 ksi = 1000 lbf/in^2, 1 lb = 0.45359237 kg.
    [
        ("mm", 25.4, "1.0000 in"), ("mm2", 25.4**2, "1.0000 in²"), ("N", 4.4482216152605, "1 lbf"),
        ("MPa", 6.894757293168361, "1.0 ksi"), ("kg/m3", 27679.904710203, "1.0000 lb/in³"),
    ],
)  # fmt: skip
def test_inch_figures_beside_metric_ones(unit, value, inch) -> None:
    text = as_text(Answer("x", "y", (Group("g", (Entry("n", value, unit),)),)))
    assert inch in text


def test_what_is_not_known_is_named_and_null() -> None:
    answer = Answer(
        "x",
        "y",
        (
            Group("g", (Entry("nan", float("nan"), "MPa"), Entry("nothing", None, "mm"))),
            Group("h", (Entry("open", (1.0, None), "mm"), Entry("shut", (None, 2.0), "mm"))),
            Grid("t", (("a", "mm"), ("b", "")), ((float("inf"), True), (1.0, None))),
        ),
    )
    text, document = as_text(answer), json.loads(as_json(answer))
    assert document["g"] == {"nan_MPa": None, "nothing_mm": None}
    assert document["h"]["open_max_mm"] is None and document["h"]["shut_min_mm"] is None
    assert document["t"] == [{"a_mm": None, "b": True}, {"a_mm": 1.0, "b": None}]
    assert "1.000 or more mm" in text and "2.000 or less mm" in text
    assert text.count("none") == 4


def test_long_remarks_stay_within_the_width() -> None:
    long = "word " * 60
    answer = Answer(
        "kind",
        "name",
        (
            Group(
                "g",
                (Entry("n" * 50, 1.0, "mm", long), Entry("w", long), Entry("s", 1.0, "mm", long)),
                long,
            ),
            Grid("t", (("a", "mm"), ("b", "")), ((1.0, long),), long),
        ),
        (long,),
    )
    assert max(map(len, as_text(answer).splitlines())) <= 100


def test_a_rivet_nut_says_its_hole_and_the_sheet_that_it_grips() -> None:
    document = json.loads(as_json(look_up(["rivet", "nut", "M6"])))
    sizes = document["sizes"]
    assert sizes["hole_to_drill_mm"] == 9.0
    assert (sizes["sheet_that_it_grips_min_mm"], sizes["sheet_that_it_grips_max_mm"]) == (0.5, 3.0)
    with pytest.raises(UnknownDesignation, match="no such size"):
        look_up(["rivet nut M7"])
